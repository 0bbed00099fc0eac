//! The mix bench and the bucket test: pages, and what is written down there.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, Query, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use intake::bucket::{self, BucketError, BucketForm, CrownForm, PottedForm};
use serde::Deserialize;
use view::mixes::{Asked, Bench, BucketPage};

use crate::web::{
    App,
    answer::{Answer, Fields, Typed},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

/// What the address asks for.
#[derive(Debug, Default, Deserialize)]
pub struct Wish {
    #[serde(default)]
    pot: String,
    #[serde(default)]
    one: String,
    #[serde(default)]
    other: String,
    #[serde(default)]
    tilt: String,
}

#[derive(Template)]
#[template(path = "mixes.html")]
struct MixesPage {
    here: &'static str,
    page: Bench,
}

/// *Mix bench*.
pub async fn mixes(State(app): Given, Query(wish): Query<Wish>) -> Told {
    let asked = Asked { pot: &wish.pot, mixes: [&wish.one, &wish.other], tilt: &wish.tilt };
    let page = view::mixes::mixes(&*app.whole()?, asked).ok_or_else(|| Answer::missing("pot or mix"))?;
    Answer::page(&MixesPage { here: "places", page })
}

#[derive(Template)]
#[template(path = "bucket.html")]
struct BucketTemplate<'a> {
    here: &'static str,
    page: BucketPage,
    typed: BucketForm<'a>,
    refused: String,
}

/// A mix's page with its bucket test.
pub async fn bucket(State(app): Given, Path(key): Path<String>) -> Told {
    form(&app, &key, BucketForm::default(), String::new())
}

fn form(app: &App, key: &str, typed: BucketForm<'_>, refused: String) -> Told {
    let page = view::mixes::bucket(&*app.whole()?, key).ok_or_else(|| Answer::missing("mix"))?;
    Answer::page(&BucketTemplate { here: "places", page, typed, refused })
}

/// Takes a bucket test; one that cannot be is shown again with the reason, and nothing that was typed is lost.
pub async fn weigh(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let typed = BucketForm {
        height: fields.of("height"),
        volume: fields.of("volume"),
        vessel: fields.of("vessel"),
        dry: fields.of("dry"),
        flooded: fields.of("flooded"),
        drained: fields.of("drained"),
        grains_dry: fields.of("grains_dry"),
        grains_wet: fields.of("grains_wet"),
    };
    let units = view::mixes::units(&*app.whole()?);
    let refused = match app.change(|store| Ok(bucket::test(store, &key, typed, units)))? {
        Ok(_) => return Ok(Answer::See(format!("/mixes/{key}/bucket#numbers")).into_response()),
        Err(BucketError::Weighings(why)) => view::mixes::refusal(&why, units),
        Err(BucketError::Form(why)) => why.to_string(),
    };
    Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&app, &key, typed, refused)?).into_response())
}

/// Adds a mix.
pub async fn add(State(app): Given, Typed(fields): Typed<Fields>) -> Told {
    let (name, grain) = (fields.of("name"), [fields.of("low"), fields.of("high")]);
    let key = app.change(|store| {
        bucket::add_mix(store, name, grain).map_err(|why| Answer::form(why, name.to_string()))
    })?;
    Ok(Answer::See(format!("/mixes/{key}/bucket")))
}

/// Writes down what stands in which pot.
pub async fn pot(State(app): Given, Typed(fields): Typed<Fields>) -> Told {
    let [tree, pot, mix, day] = ["tree", "pot", "mix", "day"].map(|name| fields.of(name));
    let (form, today) = (PottedForm { tree, pot, mix, day }, app.today()?);
    app.change(|store| bucket::pot(store, form, today).map_err(|why| Answer::form(why, String::new())))?;
    Ok(Answer::See(format!("/mixes?pot={pot}&one={mix}")))
}

/// Writes down a crown.
pub async fn crown(State(app): Given, Typed(fields): Typed<Fields>) -> Told {
    let [tree, day, length, width] = ["tree", "day", "length", "width"].map(|name| fields.of(name));
    let (units, today) = (view::mixes::units(&*app.whole()?), app.today()?);
    let form = CrownForm { tree, day, length, width };
    app.change(|store| {
        bucket::crown(store, form, units, today).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(format!("/trees/{tree}#water")))
}
