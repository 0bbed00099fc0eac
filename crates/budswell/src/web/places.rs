//! A place's page: its bad days with the grower's answer, and its sensors with their checks in ice water.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, State},
    response::{IntoResponse, Response},
};
use intake::incident::{self, AnswerForm, IceForm};
use store::version::{Numbered, Record, Version};
use view::{places::PlacePage, whole::Whole};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again, again_or_clash, edit},
    limbs::or_today,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "place.html")]
struct PlaceTemplate {
    here: &'static str,
    version: Version,
    page: PlacePage,
    refused: Refused,
}

/// A place.
pub async fn place(State(app): Given, Path(key): Path<String>) -> Told {
    page(&app, &key, Refused::default())
}

fn page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let page = view::places::place(&whole, key).ok_or_else(|| Answer::missing("place"))?;
    Answer::page(&PlaceTemplate { here: "places", version: whole.version.clone(), page, refused })
}

/// The names of a place's sensors.
fn sensors(whole: &Whole, key: &str) -> Result<Vec<String>, Answer> {
    let place = whole.places.iter().find(|it| it.place.key == key);
    place.map(|it| it.sensors.names()).ok_or_else(|| Answer::missing("place"))
}

/// Keeps a bad day, or that the logger alone was wrong.
pub async fn answer(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let whole = app.whole()?;
    let names = sensors(&whole, &key)?;
    let [since, until, said, sensor] = ["since", "until", "said", "sensor"].map(|name| fields.of(name));
    let form = AnswerForm { place: &key, since, until, said, sensor };
    let found = form.span().ok().and_then(|span| view::incidents::record(&whole, &key, span));
    match app.change(|store| Ok(incident::answer(store, form, found, &names)))? {
        Ok(_) => Ok(or_today(&fields, Answer::See(format!("/places/{key}#kept"))).into_response()),
        Err(why) => again(why, "incident", fields, |refused| page(&app, &key, refused)),
    }
}

/// Undoes an answer.
pub async fn undo(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Taken {
    let record = Record::numbered(Numbered::Incident, id);
    match edit(&app, &fields, [record], |store| incident::undo(store, &key, id))? {
        Ok(()) => Ok(Answer::See(format!("/places/{key}#odd")).into_response()),
        Err(why) => again_or_clash(&app, why, "undo", fields, |refused| page(&app, &key, refused)),
    }
}

/// Saves what a sensor showed in ice water.
pub async fn ice(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let whole = app.whole()?;
    let (names, today, units) = (sensors(&whole, &key)?, app.today()?, whole.units());
    let [sensor, day, shown] = ["sensor", "day", "shown"].map(|name| fields.of(name));
    let form = IceForm { place: &key, sensor, day, shown };
    match app.change(|store| Ok(incident::ice_check(store, form, &names, units, today)))? {
        Ok(_) => Ok(Answer::See(format!("/places/{key}#sensors")).into_response()),
        Err(why) => again(why, "ice", fields, |refused| page(&app, &key, refused)),
    }
}

/// Undoes a check in ice water.
pub async fn undo_ice(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Taken {
    let record = Record::numbered(Numbered::IceCheck, id);
    match edit(&app, &fields, [record], |store| incident::undo_check(store, &key, id))? {
        Ok(()) => Ok(Answer::See(format!("/places/{key}#sensors")).into_response()),
        Err(why) => again_or_clash(&app, why, "undo", fields, |refused| page(&app, &key, refused)),
    }
}
