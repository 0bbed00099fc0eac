//! Forms that write: each is handed to intake and sends the reader on, or back to the form with all that was typed.

use std::sync::Arc;

use axum::{
    extract::{Path, State},
    response::{IntoResponse, Response},
};
use intake::{
    asked::Asked,
    looks::{self, LeafForm, LookForm},
    record::{self, DiaryLine, FormError, PlaceForm, SiteForm, TreeForm, WorkForm},
    version::starting_from,
};
use jiff::civil::Date;
use serde::Deserialize;
use store::version::{Daily, Numbered, Record};
use view::{stands, whole::Whole};

use crate::web::{
    App,
    answer::{Answer, Fields, Typed, again, again_or_clash, again_or_stands, edit},
    asked,
    read::{Attempt, places_page, site_page, start_page, tree_page, what_if_page},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Back = Result<Response, Answer>;

fn see(path: String) -> Back {
    Ok(Answer::See(path).into_response())
}

/// Writes down a bud look.
pub async fn look(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Back {
    let names = ["day", "stage", "sureness", "note", "despite"];
    let [day, stage, sureness, note, despite] = names.map(|name| fields.of(name));
    let (form, today) = (LookForm { tree: &key, day, stage, sureness, note, despite }, app.today()?);
    match app.change(|store| Ok(looks::look(store, form, today)))? {
        Ok(_) => see(format!("/trees/{key}#forecast")),
        Err(why) => again(why, "look", fields, |refused| tree_page(&app, &key, None, refused)),
    }
}

/// Pages with the question whether a tree is still in leaf, by the word in their forms, and the way back to it.
const LEAVES_ASKED: [(&str, &str); 3] =
    [("today", "/#leaves"), ("waking", "/waking"), ("round", "/round#leaves")];

/// Saves a look at leaves, and goes back to the page on which it was asked for; a question about it is put on the tree's page.
pub async fn leaves(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Back {
    let names = ["day", "leaf", "sureness", "note", "despite"];
    let [day, leaf, sureness, note, despite] = names.map(|name| fields.of(name));
    let sureness = if sureness.is_empty() { "sure" } else { sureness };
    let (form, today) = (LeafForm { tree: &key, day, leaf, sureness, note, despite }, app.today()?);
    match app.change(|store| Ok(looks::leaves(store, form, today)))? {
        Ok(_) => see(match LEAVES_ASKED.iter().find(|(from, _)| *from == fields.of("back")) {
            Some((_, to)) => (*to).into(),
            None => format!("/trees/{key}#forecast"),
        }),
        Err(why) => again(why, "leaf", fields, |refused| tree_page(&app, &key, None, refused)),
    }
}

/// A line of the diary to take back.
#[derive(Deserialize)]
pub struct Line {
    kind: String,
    id: String,
    #[serde(default)]
    revision: String,
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
    let (line, revision) = (line.read().ok_or_else(|| Answer::missing("line"))?, line.revision);
    let record = match line {
        DiaryLine::Look(id) => Record::numbered(Numbered::Look, id),
        DiaryLine::Work(id) => Record::numbered(Numbered::Work, id),
        DiaryLine::Move(day) => Record::daily(Daily::Move, &key, day),
    };
    app.change(|store| {
        starting_from(store, [record], &revision, |store| record::take_back(store, &key, line))
            .map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(format!("/trees/{key}#diary")))
}

/// Writes down work.
pub async fn work(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Back {
    let [day, kind, roots] = ["day", "kind", "roots"].map(|name| fields.of(name));
    let [note, despite] = ["note", "despite"].map(|name| fields.of(name));
    let against = asked::against_word(&app, &key, asked::work_of(kind), day)?;
    let asked = Asked { against: against.as_deref(), despite };
    let (form, today) = (WorkForm { tree: &key, day, kind, roots, note, asked }, app.today()?);
    match app.change(|store| Ok(record::work(store, form, today)))? {
        Ok(()) => see(format!("/trees/{key}#diary")),
        Err(why) => again(why, "work", fields, |refused| tree_page(&app, &key, None, refused)),
    }
}

/// Trees to move; the form repeats `tree`.
pub async fn moves(State(app): Given, Typed(fields): Typed<Fields>) -> Back {
    let (trees, place, day) = (fields.all("tree"), fields.of("place"), fields.of("day"));
    let today = app.today()?;
    let on = day.trim().parse().unwrap_or(today);
    let records: Vec<Record> = trees.iter().map(|tree| Record::daily(Daily::Move, tree, on)).collect();
    let against = asked::against_moves(&app, &trees, place, day)?;
    let asked = Asked { against: against.as_deref(), despite: fields.of("despite") };
    let done =
        edit(&app, &fields, records, |store| record::moves(store, &trees, [place, day], asked, today))?;
    match (done, trees.as_slice()) {
        (Ok(_), [tree]) => see(format!("/trees/{tree}")),
        (Ok(_), _) => see("/waking".into()),
        (Err(why), _) => not_moved(&app, why, (&trees, on), fields),
    }
}

/// A move's no: on the page of the tree, or of the selection that was tried.
fn not_moved(app: &App, why: FormError, (trees, on): (&[String], Date), fields: Fields) -> Back {
    match (why, trees) {
        (why, [tree]) => {
            let stands = |whole: &Whole| Some(stands::moved(whole, whole.tree(tree)?, on));
            let page = |refused| tree_page(app, tree, None, refused);
            again_or_stands(app, why, "move", fields, stands, page)
        }
        (why @ FormError::Asked { .. }, _) => {
            let attempt = Attempt { place: fields.of("place").into(), day: fields.of("day").into() };
            let keys: Vec<&str> = trees.iter().map(String::as_str).collect();
            again(why, "move", fields, |refused| what_if_page(app, attempt, &keys, refused))
        }
        (why, _) => Err(Answer::form(why, fields.shown())),
    }
}

fn tree_form<'a>(fields: &'a Fields, key: &'a str) -> TreeForm<'a> {
    TreeForm {
        key,
        name: fields.of("name"),
        taxon: fields.of("taxon"),
        confidence: fields.of("confidence"),
        candidates: fields.of("candidates"),
        worth: fields.of("worth"),
        since: fields.of("since"),
        note: fields.of("note"),
        revision: fields.of("revision"),
    }
}

/// Changes a tree's record.
pub async fn edit_tree(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Back {
    let (form, today) = (tree_form(&fields, &key), app.today()?);
    match app.change(|store| Ok(record::edit_tree(store, form, today)))? {
        Ok(()) => see(format!("/trees/{key}")),
        Err(why) => again_or_clash(&app, why, "edit", fields, |refused| tree_page(&app, &key, None, refused)),
    }
}

/// Adds a tree.
pub async fn add_tree(State(app): Given, Typed(fields): Typed<Fields>) -> Back {
    let (form, today) = (tree_form(&fields, ""), app.today()?);
    let (place, day) = (fields.of("place"), fields.of("day"));
    match app.change(|store| Ok(record::add_tree(store, form, place, day, today)))? {
        Ok(_) => see("/start#trees".into()),
        Err(why) => again(why, "tree", fields, |refused| start_page(&app, refused)),
    }
}

/// Adds a place.
pub async fn add_place(State(app): Given, Typed(fields): Typed<Fields>) -> Back {
    let form = PlaceForm {
        name: fields.of("name"),
        shelter: fields.of("shelter"),
        facing: fields.of("facing"),
        lamp_flux: fields.of("lamp_flux"),
        lamp_hours: fields.of("lamp_hours"),
        capacity: fields.of("capacity"),
    };
    let starts = fields.of("back") == "start";
    match app.change(|store| Ok(record::add_place(store, form)))? {
        Ok(_) => see(if starts { "/start#places".into() } else { "/places".into() }),
        Err(why) if starts => again(why, "place", fields, |refused| start_page(&app, refused)),
        Err(why) => again(why, "place", fields, |refused| places_page(&app, refused)),
    }
}

/// Sets the site and the units.
pub async fn site(State(app): Given, Typed(fields): Typed<Fields>) -> Back {
    let form = SiteForm {
        name: fields.of("name"),
        latitude: fields.of("latitude"),
        longitude: fields.of("longitude"),
        elevation: fields.of("elevation"),
        zone: fields.of("zone"),
        units: fields.of("units"),
    };
    let starts = fields.of("back") == "start";
    match edit(&app, &fields, [Record::site()], |store| record::site(store, form))? {
        Ok(()) => see(if starts { "/start#places".into() } else { "/site".into() }),
        Err(why) if starts => again_or_clash(&app, why, "site", fields, |refused| start_page(&app, refused)),
        Err(why) => again_or_clash(&app, why, "site", fields, |refused| site_page(&app, refused)),
    }
}
