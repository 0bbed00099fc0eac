//! The round: read with one thumb, written down with one tap.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Query, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use intake::{
    asked::{Asked, sure},
    fed,
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
    asked,
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
    /// Who may be fed today.
    fed: Vec<view::verdicts::Fed>,
    /// Who was fed today.
    done: Vec<view::verdicts::FedToday>,
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

/// The moment that a round is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    Now,
    Morning,
    Evening,
    /// By the clock of the site.
    Local(DateTime),
}

impl At {
    fn read(typed: &str) -> Result<At, Answer> {
        Ok(match typed {
            "" => At::Now,
            "morning" => At::Morning,
            "evening" => At::Evening,
            local => At::Local(local.parse().map_err(|_| {
                let shown: String = local.chars().filter(|it| !it.is_control()).take(40).collect();
                let why =
                    format!("“{shown}” is not a moment; write it as 2026-03-28T19:00, or choose a round.");
                Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not saved", format!("Not saved: {why}"))
            })?),
        })
    }

    /// As it stands in an address.
    fn word(self) -> String {
        match self {
            At::Now => String::new(),
            At::Morning => "morning".into(),
            At::Evening => "evening".into(),
            At::Local(local) => local.to_string(),
        }
    }

    /// Seconds since 1970; now where the site has no clock yet.
    fn moment(self, app: &App, whole: &Whole) -> i64 {
        let of = |local: DateTime| {
            // Where the calendar ends, the clock of a place may have no moment for a local time.
            whole.water().map(|water| match local.year() {
                ..=0 => Timestamp::MIN.as_second(),
                9999.. => Timestamp::MAX.as_second(),
                _ => view::water::moment(local, &water.zone),
            })
        };
        let named = match self {
            At::Now => None,
            At::Morning => of(whole.today.to_datetime(whole.rounds.morning)),
            At::Evening => of(whole.today.to_datetime(whole.rounds.evening)),
            At::Local(local) => of(local),
        };
        named.unwrap_or_else(|| app.round_now(whole))
    }

    /// The moment if it has been, else now: nothing is written down of what is to come. On a fixed day all of that day has been.
    fn been(self, app: &App, whole: &Whole) -> i64 {
        let last = if app.stands_still() { view::water::last_moment(whole) } else { app.clock().as_second() };
        self.moment(app, whole).min(last)
    }

    /// The page of the round it is for.
    fn page(self) -> String {
        match self.word() {
            word if word.is_empty() => "/round".into(),
            word => format!("/round?at={word}"),
        }
    }
}

/// The moment of a round that can be shown; one that weather and forecast do not reach is said so.
fn shown(at: At, app: &App, whole: &Whole) -> Result<i64, Answer> {
    let now = at.moment(app, whole);
    match view::round::reach(whole) {
        Some((from, to)) if !(from..=to).contains(&now) => {
            let [from, to] = [from, to].map(|at| view::round::day_of(whole, at));
            let why = format!("The forecast does not reach there: a round can be shown from {from} to {to}.");
            Err(Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "No round for then", why))
        }
        _ => Ok(now),
    }
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
    let at = At::read(&at)?;
    let now = shown(at, app, &whole)?;
    let Some(page) = view::round::round(&whole, now) else { return Ok(nothing()) };
    Answer::page(&RoundTemplate {
        here: "round",
        version: whole.version.clone(),
        at: at.word(),
        hand: app.hand().to_string(),
        aways: view::round::aways(&whole, now),
        morning: whole.rounds.morning.strftime("%H:%M").to_string(),
        evening: whole.rounds.evening.strftime("%H:%M").to_string(),
        fed: view::verdicts::feed(&whole),
        done: view::verdicts::fed_today(&whole),
        page,
        refused,
    })
}

/// A card for whoever waters meanwhile.
pub async fn card(State(app): Given, Query(when): Query<When>) -> Told {
    let whole = app.whole()?;
    let now = shown(At::read(&when.at)?, &app, &whole)?;
    match view::round::round(&whole, now) {
        Some(page) => Answer::page(&CardTemplate { here: "round", page }),
        None => Ok(nothing()),
    }
}

/// Writes down what was done: one tap (`one` holds tree, deed and remark, parted by "/"), or a sweep over every `tree`.
pub async fn walk(State(app): Given, Typed(form): Typed<Fields>) -> Told {
    let at = At::read(form.of("at"))?;
    let done = at.been(&app, &*app.whole()?);
    let mut one = form.of("one").split('/');
    let mut part = || one.next().unwrap_or("");
    let single = RoundLine { tree: part(), deed: part(), remark: part(), ..RoundLine::default() };
    let trees = form.all("tree");
    let swept = trees.iter().map(|tree| RoundLine { tree, deed: "watered", ..RoundLine::default() });
    let lines: Vec<RoundLine<'_>> = if form.of("one").is_empty() { swept.collect() } else { vec![single] };
    app.change(|store| {
        round::walk(store, &lines, done, form.of("hand")).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(at.page()))
}

/// Writes down a weight.
pub async fn weigh(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let whole = app.whole()?;
    let done = At::read(fields.of("at"))?.been(&app, &whole);
    let tree = fields.of("tree").to_string();
    let [deed, weight] = ["deed", "weight"].map(|name| fields.of(name));
    let line = RoundLine { tree: &tree, deed, weight, ..RoundLine::default() };
    let against = asked::weight(&whole, &line, done);
    let line = RoundLine { sure: against.is_some(), ..line };
    let asked = sure("weight", line.weight, against.as_deref(), fields.of("sure"));
    let hand = fields.of("hand");
    match app.change(|store| Ok(asked.and_then(|()| round::walk(store, &[line], done, hand))))? {
        Ok(_) => Ok(Answer::See(format!("/trees/{tree}#water")).into_response()),
        Err(why) => again(why, "weigh", fields, |refused| tree_page(&app, &tree, None, refused)),
    }
}

/// Takes lines back, each an `id`.
pub async fn take_back(State(app): Given, Typed(form): Typed<Fields>) -> Told {
    let at = At::read(form.of("at"))?;
    let ids = form.all("id").iter().map(|id| id.parse()).collect::<Result<Vec<i64>, _>>();
    let ids = ids.map_err(|_| Answer::missing("line"))?;
    let lines = ids.iter().map(|id| Record::numbered(Numbered::Drink, *id));
    edit(&app, &form, lines, |store| round::take_back(store, &ids))?
        .map_err(|why| Answer::form(why, String::new()))?;
    Ok(Answer::See(at.page()))
}

/// Saves that trees were fed; the form repeats `tree`.
pub async fn fed(State(app): Given, Typed(fields): Typed<Fields>) -> Result<Response, Answer> {
    let (trees, day) = (fields.all("tree"), fields.of("day"));
    let against = asked::against_feed(&app, &trees, day)?;
    let asked = Asked { against: against.as_deref(), despite: fields.of("despite") };
    let today = app.today()?;
    match app.change(|store| Ok(fed::fed(store, &trees, day, asked, today)))? {
        Ok(()) => Ok(Answer::See("/round#feed".into()).into_response()),
        Err(why) => again(why, "fed", fields, |refused| round_page(&app, String::new(), refused)),
    }
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

#[cfg(test)]
mod tests;
