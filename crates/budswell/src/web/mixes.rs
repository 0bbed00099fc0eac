//! The mix bench and the bucket test: pages, and what is written down there.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, Query, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use intake::{
    bucket::{self, BucketError, BucketForm, CrownForm, PottedForm},
    record::FormError,
};
use serde::Deserialize;
use store::{
    error::Error,
    version::{Daily, Record, Version},
};
use view::{
    mixes::{Asked, Bench, BucketPage},
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, MEANWHILE, Refused, Typed, again, again_or_stands, edit},
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
    version: Version,
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
    let whole = app.whole()?;
    let page = view::mixes::mixes(&whole, asked).ok_or_else(|| Answer::missing("pot or mix"))?;
    Answer::page(&MixesPage { here: "places", version: whole.version.clone(), page, refused })
}

#[derive(Template)]
#[template(path = "bucket.html")]
struct BucketTemplate<'a> {
    here: &'static str,
    version: String,
    page: BucketPage,
    typed: BucketForm<'a>,
    refused: String,
}

/// A mix's page with its bucket test.
pub async fn bucket(State(app): Given, Path(key): Path<String>) -> Told {
    form(&app, &key, BucketForm::default(), String::new(), None)
}

/// The same with weighings that were not taken; `version` is what they go on from, if not from what stands now.
fn form(app: &App, key: &str, typed: BucketForm<'_>, refused: String, version: Option<&str>) -> Told {
    let whole = app.whole()?;
    let page = view::mixes::bucket(&whole, key).ok_or_else(|| Answer::missing("mix"))?;
    let version = version.map_or_else(|| whole.version.to_string(), str::to_string);
    Answer::page(&BucketTemplate { here: "places", version, page, typed, refused })
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
    let (old, unfit) = (Some(fields.of("revision")), StatusCode::UNPROCESSABLE_ENTITY);
    let done = edit(&app, &fields, [Record::mix(&key)], |store| bucket::test(store, &key, typed, units))?;
    let (status, refused, version) = match done {
        Ok(_) => return Ok(Answer::See(format!("/mixes/{key}/bucket#numbers")).into_response()),
        Err(BucketError::Weighings(why)) => (unfit, view::mixes::refusal(&why, units), old),
        Err(BucketError::Form(FormError::Store(Error::ChangedMeanwhile { .. } | Error::OtherHistory))) => {
            (StatusCode::CONFLICT, overtaken(&app, &key, &fields)?, None)
        }
        Err(BucketError::Form(why @ FormError::NoVersion)) => (unfit, why.to_string(), None),
        Err(BucketError::Form(why)) => (unfit, why.to_string(), old),
    };
    Ok((status, form(&app, &key, typed, refused, version)?).into_response())
}

/// What is saved of a test by now, and what was typed, where another hand was faster.
fn overtaken(app: &App, key: &str, fields: &Fields) -> Result<String, Answer> {
    let now = stands::bucket(&*app.whole()?, key);
    let [dry, flooded, drained] = ["dry", "flooded", "drained"].map(|name| fields.of(name));
    Ok(format!(
        "{MEANWHILE}. Saved now: {now}. Yours: dry {dry}, flooded {flooded}, drained {drained}. Save again to put yours in its place"
    ))
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
    let on = day.trim().parse().unwrap_or(today);
    let record = Record::daily(Daily::Potted, tree, on);
    match edit(&app, &fields, [record], |store| bucket::pot(store, form, today))? {
        Ok(_) => see(format!("/mixes?pot={pot}&one={mix}")),
        Err(why) => {
            let tree = tree.to_string();
            let stands = |whole: &Whole| Some(stands::potted(whole, whole.tree(&tree)?, on));
            let page = |refused| bench(&app, Asked::default(), refused);
            again_or_stands(&app, why, "potted", fields, stands, page)
        }
    }
}

/// Writes down a crown.
pub async fn crown(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let [tree, day, length, width] = ["tree", "day", "length", "width"].map(|name| fields.of(name));
    let (units, today) = (view::mixes::units(&*app.whole()?), app.today()?);
    let form = CrownForm { tree, day, length, width };
    let record = Record::daily(Daily::Crown, tree, day.trim().parse().unwrap_or(today));
    match edit(&app, &fields, [record], |store| bucket::crown(store, form, units, today))? {
        Ok(_) => see(format!("/trees/{tree}#water")),
        Err(why) => {
            let tree = tree.to_string();
            let stands = |whole: &Whole| Some(stands::crown(whole, whole.tree(&tree)?));
            let page = |refused| bench(&app, Asked::default(), refused);
            again_or_stands(&app, why, "crown", fields, stands, page)
        }
    }
}
