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
    answer::{Answer, Fields, Refused, Typed, again},
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
    refused: Refused,
}

/// *Mix bench*.
pub async fn mixes(State(app): Given, Query(wish): Query<Wish>) -> Told {
    let asked = Asked { pot: &wish.pot, mixes: [&wish.one, &wish.other], tilt: &wish.tilt };
    bench(&app, asked, Refused::default())
}

/// *Mix bench*, with a form on it that was not taken.
fn bench(app: &App, asked: Asked<'_>, refused: Refused) -> Told {
    let page = view::mixes::mixes(&*app.whole()?, asked).ok_or_else(|| Answer::missing("pot or mix"))?;
    Answer::page(&MixesPage { here: "places", page, refused })
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

fn see(path: String) -> Result<Response, Answer> {
    Ok(Answer::See(path).into_response())
}

/// Adds a mix.
pub async fn add(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let (name, grain) = (fields.of("name"), [fields.of("low"), fields.of("high")]);
    match app.change(|store| Ok(bucket::add_mix(store, name, grain)))? {
        Ok(key) => see(format!("/mixes/{key}/bucket")),
        Err(why) => again(why, "mix", fields, |refused| bench(&app, Asked::default(), refused)),
    }
}

/// Writes down what stands in which pot.
pub async fn pot(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let [tree, pot, mix, day] = ["tree", "pot", "mix", "day"].map(|name| fields.of(name));
    let (form, today) = (PottedForm { tree, pot, mix, day }, app.today()?);
    match app.change(|store| Ok(bucket::pot(store, form, today)))? {
        Ok(_) => see(format!("/mixes?pot={pot}&one={mix}")),
        Err(why) => again(why, "potted", fields, |refused| bench(&app, Asked::default(), refused)),
    }
}

/// Writes down a crown.
pub async fn crown(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let [tree, day, length, width] = ["tree", "day", "length", "width"].map(|name| fields.of(name));
    let (units, today) = (view::mixes::units(&*app.whole()?), app.today()?);
    let form = CrownForm { tree, day, length, width };
    match app.change(|store| Ok(bucket::crown(store, form, units, today)))? {
        Ok(_) => see(format!("/trees/{tree}#water")),
        Err(why) => again(why, "crown", fields, |refused| bench(&app, Asked::default(), refused)),
    }
}
