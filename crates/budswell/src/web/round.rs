//! The round: read with one thumb, written down with one tap.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Query, State},
    response::{IntoResponse, Response},
};
use intake::{
    round::{self, AwayForm, RoundLine},
    version::starting_from,
};
use jiff::{Timestamp, civil::DateTime};
use serde::Deserialize;
use store::version::{Numbered, Record, Version};
use view::{round::RoundPage, whole::Whole};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again, again_or_clash, edit},
    read::tree_page,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

/// Which moment the round is for.
#[derive(Deserialize, Default)]
pub struct When {
    #[serde(default)]
    at: String,
}

#[derive(Template)]
#[template(path = "round.html")]
struct RoundTemplate {
    here: &'static str,
    version: Version,
    page: RoundPage,
    at: String,
    hand: String,
    aways: Vec<(String, String, i64)>,
    morning: String,
    evening: String,
    refused: Refused,
}

#[derive(Template)]
#[template(path = "card.html")]
struct CardTemplate {
    here: &'static str,
    page: RoundPage,
}

/// The moment asked for: "morning", "evening", a local time, or now.
pub(super) fn moment(app: &App, whole: &Whole, at: &str) -> i64 {
    let of = |local: DateTime| whole.water().map(|water| view::water::moment(local, &water.zone));
    let named = match at {
        "morning" => of(whole.today.to_datetime(whole.rounds.morning)),
        "evening" => of(whole.today.to_datetime(whole.rounds.evening)),
        typed => typed.parse().ok().and_then(of),
    };
    named
        .or_else(|| app.stands_still().then(|| of(whole.today.to_datetime(whole.rounds.morning))).flatten())
        .unwrap_or_else(|| Timestamp::now().as_second())
}

fn nothing() -> Answer {
    Answer::See("/start".into())
}

/// *Round*.
pub async fn round(State(app): Given, Query(when): Query<When>) -> Told {
    round_page(&app, when.at, Refused::default())
}

/// The round, with a form on it that was not taken.
fn round_page(app: &App, at: String, refused: Refused) -> Told {
    let whole = app.whole()?;
    let now = moment(app, &whole, &at);
    let Some(page) = view::round::round(&whole, now) else { return Ok(nothing()) };
    Answer::page(&RoundTemplate {
        here: "round",
        version: whole.version.clone(),
        at,
        hand: app.hand().to_string(),
        aways: view::round::aways(&whole, now),
        morning: whole.rounds.morning.strftime("%H:%M").to_string(),
        evening: whole.rounds.evening.strftime("%H:%M").to_string(),
        page,
        refused,
    })
}

/// A card for whoever waters meanwhile.
pub async fn card(State(app): Given, Query(when): Query<When>) -> Told {
    let whole = app.whole()?;
    let now = moment(&app, &whole, &when.at);
    match view::round::round(&whole, now) {
        Some(page) => Answer::page(&CardTemplate { here: "round", page }),
        None => Ok(nothing()),
    }
}

/// Writes down what was done: one tap (`one` holds tree, deed and remark, parted by "/"), or a sweep over every `tree`.
pub async fn walk(State(app): Given, Typed(form): Typed<Fields>) -> Told {
    let whole = app.whole()?;
    let now = moment(&app, &whole, form.of("at"));
    let mut one = form.of("one").split('/');
    let mut part = || one.next().unwrap_or("");
    let single = RoundLine { tree: part(), deed: part(), remark: part(), weight: "" };
    let trees = form.all("tree");
    let swept = trees.iter().map(|tree| RoundLine { tree, deed: "watered", ..RoundLine::default() });
    let lines: Vec<RoundLine<'_>> = if form.of("one").is_empty() { swept.collect() } else { vec![single] };
    app.change(|store| {
        round::walk(store, &lines, now, form.of("hand")).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(back(form.of("at"))))
}

fn back(at: &str) -> String {
    if at.is_empty() { "/round".into() } else { format!("/round?at={at}") }
}

/// Writes down a weight.
pub async fn weigh(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let whole = app.whole()?;
    let now = moment(&app, &whole, fields.of("at"));
    let tree = fields.of("tree").to_string();
    let line = RoundLine { tree: &tree, deed: fields.of("deed"), weight: fields.of("weight"), remark: "" };
    match app.change(|store| Ok(round::walk(store, &[line], now, fields.of("hand"))))? {
        Ok(_) => Ok(Answer::See(format!("/trees/{tree}#water")).into_response()),
        Err(why) => again(why, "weigh", fields, |refused| tree_page(&app, &tree, None, refused)),
    }
}

/// Takes lines back, each an `id`.
pub async fn take_back(State(app): Given, Typed(form): Typed<Fields>) -> Told {
    let ids: Vec<i64> = form.all("id").iter().filter_map(|id| id.parse().ok()).collect();
    let lines = ids.iter().map(|id| Record::numbered(Numbered::Drink, *id));
    edit(&app, &form, lines, |store| round::take_back(store, &ids))?
        .map_err(|why| Answer::form(why, String::new()))?;
    Ok(Answer::See(back(form.of("at"))))
}

/// Writes down shifts or an absence; `weekday` may stand more than once.
pub async fn away(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let weekdays = fields.all("weekday");
    let form = AwayForm {
        words: fields.of("words"),
        first: fields.of("first"),
        last: fields.of("last"),
        weekdays: &weekdays,
        leaves: fields.of("leaves"),
        back: fields.of("back"),
    };
    match app.change(|store| Ok(round::away(store, form)))? {
        Ok(_) => Ok(Answer::See("/round#away".into()).into_response()),
        Err(why) => again(why, "away", fields, |refused| round_page(&app, String::new(), refused)),
    }
}

/// An absence to take back.
#[derive(Deserialize)]
pub struct ComeBack {
    uid: String,
    from: String,
    #[serde(default)]
    revision: String,
}

/// Takes an absence back.
pub async fn come_back(State(app): Given, Typed(form): Typed<ComeBack>) -> Told {
    app.change(|store| {
        let record = [Record::away(&form.uid, &form.from)];
        starting_from(store, record, &form.revision, |store| round::come_back(store, &form.uid, &form.from))
            .map_err(|why| Answer::form(why, form.uid.clone()))
    })?;
    Ok(Answer::See("/round#away".into()))
}

/// Sets the times of the rounds.
pub async fn times(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let (morning, evening) = (fields.of("morning"), fields.of("evening"));
    match edit(&app, &fields, [Record::rounds()], |store| round::times(store, morning, evening))? {
        Ok(()) => Ok(Answer::See("/round#away".into()).into_response()),
        Err(why) => {
            again_or_clash(&app, why, "times", fields, |refused| round_page(&app, String::new(), refused))
        }
    }
}
