//! Forms that write: each is handed to intake and sends the reader on.

use std::sync::Arc;

use axum::extract::{Path, State};
use intake::record::{self, DiaryLine, LookForm, PlaceForm, SiteForm, TreeForm};
use serde::Deserialize;

use crate::web::{
    App,
    answer::{Answer, Fields, Typed},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

/// A bud look.
#[derive(Deserialize)]
pub struct Look {
    day: String,
    stage: String,
    sureness: String,
    #[serde(default)]
    note: String,
}

/// Writes down a bud look.
pub async fn look(State(app): Given, Path(key): Path<String>, Typed(form): Typed<Look>) -> Told {
    let typed = form.note.clone();
    let form = LookForm {
        tree: &key,
        day: &form.day,
        stage: &form.stage,
        sureness: &form.sureness,
        note: &form.note,
    };
    let today = app.today()?;
    app.change(|store| record::look(store, form, today).map_err(|why| Answer::form(why, typed)))?;
    Ok(Answer::See(format!("/trees/{key}#forecast")))
}

/// A line of the diary to take back.
#[derive(Deserialize)]
pub struct Line {
    kind: String,
    id: String,
}

impl Line {
    fn read(&self) -> Option<DiaryLine> {
        Some(match self.kind.as_str() {
            "look" => DiaryLine::Look(self.id.parse().ok()?),
            "work" => DiaryLine::Work(self.id.parse().ok()?),
            "move" => DiaryLine::Move(self.id.parse().ok()?),
            _ => return None,
        })
    }
}

/// Takes back a line of the diary.
pub async fn take_back(State(app): Given, Path(key): Path<String>, Typed(line): Typed<Line>) -> Told {
    let line = line.read().ok_or_else(|| Answer::missing("line"))?;
    app.change(|store| record::take_back(store, &key, line).map_err(|why| Answer::form(why, String::new())))?;
    Ok(Answer::See(format!("/trees/{key}#diary")))
}

/// Work done.
#[derive(Deserialize)]
pub struct Work {
    day: String,
    kind: String,
    #[serde(default)]
    note: String,
}

/// Writes down work.
pub async fn work(State(app): Given, Path(key): Path<String>, Typed(form): Typed<Work>) -> Told {
    let today = app.today()?;
    app.change(|store| {
        record::work(store, &key, &form.day, &form.kind, &form.note, today)
            .map_err(|why| Answer::form(why, form.note.clone()))
    })?;
    Ok(Answer::See(format!("/trees/{key}#diary")))
}

/// Trees to move; the form repeats `tree`.
pub async fn moves(State(app): Given, Typed(form): Typed<Fields>) -> Told {
    let (trees, place, day) = (form.all("tree"), form.of("place"), form.of("day"));
    let today = app.today()?;
    app.change(|store| {
        record::moves(store, &trees, place, day, today).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(match trees.as_slice() {
        [tree] => format!("/trees/{tree}"),
        _ => "/waking".into(),
    }))
}

/// A tree's record.
#[derive(Deserialize)]
pub struct Tree {
    name: String,
    taxon: String,
    #[serde(default)]
    confidence: String,
    #[serde(default)]
    worth: String,
    #[serde(default)]
    since: String,
    #[serde(default)]
    note: String,
    #[serde(default)]
    revision: String,
    #[serde(default)]
    place: String,
    #[serde(default)]
    day: String,
}

impl Tree {
    fn form<'a>(&'a self, key: &'a str) -> TreeForm<'a> {
        TreeForm {
            key,
            name: &self.name,
            taxon: &self.taxon,
            confidence: &self.confidence,
            worth: &self.worth,
            since: &self.since,
            note: &self.note,
            revision: &self.revision,
        }
    }

    fn typed(&self) -> String {
        format!("{}\n{}\n{}", self.name, self.taxon, self.note)
    }
}

/// Changes a tree's record.
pub async fn edit_tree(State(app): Given, Path(key): Path<String>, Typed(tree): Typed<Tree>) -> Told {
    let today = app.today()?;
    app.change(|store| {
        record::edit_tree(store, tree.form(&key), today).map_err(|why| Answer::form(why, tree.typed()))
    })?;
    Ok(Answer::See(format!("/trees/{key}")))
}

/// Adds a tree.
pub async fn add_tree(State(app): Given, Typed(tree): Typed<Tree>) -> Told {
    let today = app.today()?;
    app.change(|store| {
        record::add_tree(store, tree.form(""), &tree.place, &tree.day, today)
            .map_err(|why| Answer::form(why, tree.typed()))
    })?;
    Ok(Answer::See("/start#trees".into()))
}

/// A place.
#[derive(Deserialize)]
pub struct Place {
    name: String,
    shelter: String,
    #[serde(default)]
    facing: String,
    #[serde(default)]
    lamp_flux: String,
    #[serde(default)]
    lamp_hours: String,
    #[serde(default)]
    capacity: String,
    #[serde(default)]
    back: String,
}

/// Adds a place.
pub async fn add_place(State(app): Given, Typed(place): Typed<Place>) -> Told {
    let form = PlaceForm {
        name: &place.name,
        shelter: &place.shelter,
        facing: &place.facing,
        lamp_flux: &place.lamp_flux,
        lamp_hours: &place.lamp_hours,
        capacity: &place.capacity,
    };
    app.change(|store| record::add_place(store, form).map_err(|why| Answer::form(why, place.name.clone())))?;
    Ok(Answer::See(if place.back == "start" { "/start#places".into() } else { "/places".into() }))
}

/// The site.
#[derive(Deserialize)]
pub struct Site {
    name: String,
    latitude: String,
    longitude: String,
    elevation: String,
    zone: String,
    units: String,
    #[serde(default)]
    back: String,
}

/// Sets the site and the units.
pub async fn site(State(app): Given, Typed(site): Typed<Site>) -> Told {
    let form = SiteForm {
        name: &site.name,
        latitude: &site.latitude,
        longitude: &site.longitude,
        elevation: &site.elevation,
        zone: &site.zone,
        units: &site.units,
    };
    app.change(|store| record::site(store, form).map_err(|why| Answer::form(why, site.name.clone())))?;
    Ok(Answer::See(if site.back == "start" { "/start#places".into() } else { "/site".into() }))
}
