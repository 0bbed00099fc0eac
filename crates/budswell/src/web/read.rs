//! Pages that only read.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, Query, State},
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use collection::{place::Facing, reading::Sender};
use jiff::{Timestamp, civil::Date};
use measure::{shelter::Shelter, taxon::TAXA};
use serde::Deserialize;
use store::version::Version;
use view::{
    places::PlaceCard,
    round::RoundPage,
    today::Today,
    tonight::Brief,
    tree::TreePage,
    trial::{Trials, Try},
    waking::Waking,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Refused},
    fetch::{self, Told as Forecast},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "today.html")]
struct TodayPage {
    here: &'static str,
    page: Today,
    version: String,
    iso: String,
    round: Option<Arc<RoundPage>>,
    night: Option<Brief>,
    no_backup: Option<String>,
}

/// *Today*.
pub async fn today(State(app): Given) -> Told {
    let whole = app.whole()?;
    if whole.site.is_none() || whole.trees.is_empty() {
        return Ok(Answer::See("/start".into()));
    }
    let has_log = whole.trees.iter().any(|tree| !tree.drinks.is_empty() || !tree.potted.is_empty());
    let now = app.round_now(&whole);
    let round = if has_log { app.round(&whole, now)? } else { None };
    Answer::page(&TodayPage {
        here: "today",
        page: view::today::today(&whole),
        version: whole.version.to_string(),
        iso: whole.today.to_string(),
        round,
        night: view::tonight::brief(&whole, app.now(&whole)),
        no_backup: app.keeper.failed(),
    })
}

#[derive(Template)]
#[template(path = "waking.html")]
struct WakingPage {
    here: &'static str,
    page: Waking,
    places: Vec<(String, String)>,
    today: String,
}

fn place_names(whole: &Whole) -> Vec<(String, String)> {
    whole.places.iter().map(|place| (place.place.key.clone(), place.place.name.clone())).collect()
}

/// *Waking*.
pub async fn waking(State(app): Given) -> Told {
    let whole = app.whole()?;
    Answer::page(&WakingPage {
        here: "waking",
        page: view::waking::waking(&whole),
        places: place_names(&whole),
        today: whole.today.to_string(),
    })
}

/// A move to try, as the address tells it.
#[derive(Debug, Default, Deserialize)]
pub struct Attempt {
    #[serde(default)]
    pub(super) place: String,
    #[serde(default)]
    pub(super) day: String,
}

impl Attempt {
    fn read(&self, whole: &Whole) -> Result<Option<Try<'_>>, Answer> {
        if self.place.is_empty() {
            return Ok(None);
        }
        if !whole.places.iter().any(|place| place.place.key == self.place) {
            return Err(Answer::missing("place"));
        }
        let day: Date = self.day.parse().map_err(|_| {
            let why = format!("day: “{}” is not a date written as 2026-03-08", self.day);
            Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", why)
        })?;
        let Some((first, last)) = view::trial::trial_days(whole) else { return Ok(None) };
        if !(first..=last).contains(&day) {
            let why = format!("a move can be tried from {first} to {last}, the season the forecast knows");
            return Err(Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", why));
        }
        Ok(Some(Try { place: &self.place, day }))
    }
}

#[derive(Template)]
#[template(path = "tree.html")]
struct TreeTemplate {
    here: &'static str,
    version: Version,
    page: TreePage,
    choices: Vec<(u8, &'static str, &'static str)>,
    works: Vec<(&'static str, &'static str)>,
    worths: Vec<(&'static str, &'static str)>,
    hand: String,
    refused: Refused,
}

/// A tree.
pub async fn tree(State(app): Given, Path(key): Path<String>, Query(attempt): Query<Attempt>) -> Told {
    tree_page(&app, &key, Some(&attempt), Refused::default())
}

/// A tree's page, with a form on it that was not taken.
pub(super) fn tree_page(app: &App, key: &str, attempt: Option<&Attempt>, refused: Refused) -> Told {
    let whole = app.whole()?;
    let attempt = attempt.map(|attempt| attempt.read(&whole)).transpose()?.flatten();
    let page = view::tree::tree(&whole, key, attempt, app.round_now(&whole))
        .ok_or_else(|| Answer::missing("tree"))?;
    let works = collection::event::WorkKind::ALL.map(|kind| (kind.key(), kind.words())).to_vec();
    let worths = collection::drink::Worth::ALL.map(|worth| (worth.key(), worth.words())).to_vec();
    Answer::page(&TreeTemplate {
        here: "",
        version: whole.version.clone(),
        choices: view::tree::choices(page.ladder),
        page,
        works,
        worths,
        hand: app.hand().to_string(),
        refused,
    })
}

#[derive(Template)]
#[template(path = "what_if.html")]
struct WhatIfPage {
    here: &'static str,
    version: Version,
    trials: Trials,
    today: String,
    refused: Refused,
}

/// A move tried on a selection; the address repeats `tree=`.
pub async fn what_if(State(app): Given, Query(pairs): Query<Vec<(String, String)>>) -> Told {
    let of = |name: &str| pairs.iter().find(|(key, _)| key == name).map_or("", |(_, value)| value.as_str());
    let attempt = Attempt { place: of("place").into(), day: of("day").into() };
    let keys: Vec<&str> =
        pairs.iter().filter(|(name, _)| name == "tree").map(|(_, key)| key.as_str()).collect();
    what_if_page(&app, attempt, &keys, Refused::default())
}

/// A move tried on a selection, with a form on it that was not taken.
pub(super) fn what_if_page(app: &App, attempt: Attempt, keys: &[&str], refused: Refused) -> Told {
    let whole = app.whole()?;
    let attempt = attempt.read(&whole)?.ok_or_else(|| Answer::missing("place"))?;
    let trials = view::trial::trials(&whole, keys, attempt).ok_or_else(|| {
        Answer::no(
            StatusCode::CONFLICT,
            "No weather yet",
            "Without a weather record nothing can be tried.".into(),
        )
    })?;
    Answer::page(&WhatIfPage {
        here: "waking",
        version: whole.version.clone(),
        trials,
        today: whole.today.to_string(),
        refused,
    })
}

#[derive(Template)]
#[template(path = "places.html")]
struct PlacesPage {
    here: &'static str,
    cards: Vec<PlaceCard>,
    shelters: Vec<(&'static str, &'static str)>,
    facings: Vec<&'static str>,
    refused: Refused,
}

fn shelters() -> Vec<(&'static str, &'static str)> {
    Shelter::ALL.map(|shelter| (shelter.key(), shelter.words())).to_vec()
}

/// *Places*.
pub async fn places(State(app): Given) -> Told {
    places_page(&app, Refused::default())
}

/// *Places*, with a form on it that was not taken.
pub(super) fn places_page(app: &App, refused: Refused) -> Told {
    Answer::page(&PlacesPage {
        here: "places",
        cards: view::places::places(&*app.whole()?),
        shelters: shelters(),
        facings: Facing::ALL.map(Facing::key).to_vec(),
        refused,
    })
}

/// A site's form.
#[derive(Default)]
struct SiteFields {
    name: String,
    latitude: String,
    longitude: String,
    elevation: String,
    zone: String,
    imperial: bool,
}

fn site_fields(whole: &Whole) -> SiteFields {
    whole.site.as_ref().map_or_else(SiteFields::default, |site| SiteFields {
        name: site.name.clone(),
        latitude: site.latitude.0.to_string(),
        longitude: site.longitude.0.to_string(),
        elevation: site.units.height(site.elevation),
        zone: site.zone.clone(),
        imperial: site.units == measure::quantity::Units::Imperial,
    })
}

#[derive(Template)]
#[template(path = "site.html")]
struct SitePage {
    here: &'static str,
    version: Version,
    site: SiteFields,
    forecast: Forecast,
    senders: Vec<(String, String)>,
    acts: Vec<(String, String)>,
    refused: Refused,
}

/// A moment as the log writes it.
fn moment(at: i64) -> String {
    Timestamp::from_second(at).map_or_else(|_| String::new(), |at| at.to_string())
}

/// The site, the units, and the latest of the log.
pub async fn site(State(app): Given) -> Told {
    site_page(&app, Refused::default())
}

/// The site's page, with a form on it that was not taken.
pub(super) fn site_page(app: &App, refused: Refused) -> Told {
    let whole = app.whole()?;
    let reader = app.reader();
    let acts = reader.latest_acts(12).map_err(Answer::store)?;
    let acts = acts.into_iter().map(|act| (act.at, act.words)).collect();
    let senders = reader.senders().map_err(Answer::store)?;
    let sent = |it: &Sender| it.last_sent.map_or_else(|| "nothing yet".into(), moment);
    let senders = senders.iter().map(|it| (sent(it), it.name.clone())).collect();
    let (site, forecast) = (site_fields(&whole), fetch::told(&whole, app.now(&whole)));
    Answer::page(&SitePage {
        here: "site",
        version: whole.version.clone(),
        site,
        forecast,
        senders,
        acts,
        refused,
    })
}

#[derive(Template)]
#[template(path = "start.html")]
struct StartPage {
    here: &'static str,
    version: Version,
    site: SiteFields,
    has_site: bool,
    places: Vec<(String, String)>,
    trees: usize,
    has_weather: bool,
    shelters: Vec<(&'static str, &'static str)>,
    facings: Vec<&'static str>,
    taxa: Vec<(&'static str, &'static str)>,
    today: String,
    refused: Refused,
}

/// The first visit: where, which places, first trees, first weather.
pub async fn start(State(app): Given) -> Told {
    start_page(&app, Refused::default())
}

/// The first visit, with a form on it that was not taken.
pub(super) fn start_page(app: &App, refused: Refused) -> Told {
    let whole = app.whole()?;
    Answer::page(&StartPage {
        here: "",
        version: whole.version.clone(),
        has_site: whole.site.is_some(),
        site: site_fields(&whole),
        places: place_names(&whole),
        trees: whole.trees.len(),
        has_weather: whole.outside.as_ref().is_some_and(|air| air.measured_to().is_some()),
        shelters: shelters(),
        facings: Facing::ALL.map(Facing::key).to_vec(),
        taxa: TAXA.iter().map(|taxon| (taxon.name, taxon.common)).collect(),
        today: whole.today.to_string(),
        refused,
    })
}

/// Style and modules, carried in the binary.
pub async fn asset(Path(name): Path<String>) -> Response {
    let (kind, text) = match name.as_str() {
        "style.css" => ("text/css; charset=utf-8", include_str!("../../assets/style.css")),
        "choose.js" => ("text/javascript; charset=utf-8", include_str!("../../assets/choose.js")),
        "kept.js" => ("text/javascript; charset=utf-8", include_str!("../../assets/kept.js")),
        "glaze.js" => ("text/javascript; charset=utf-8", include_str!("../../assets/glaze.js")),
        "trace.js" => ("text/javascript; charset=utf-8", include_str!("../../assets/trace.js")),
        "brush.js" => ("text/javascript; charset=utf-8", include_str!("../../assets/brush.js")),
        "turn.js" => ("text/javascript; charset=utf-8", include_str!("../../assets/turn.js")),
        "mark.svg" => ("image/svg+xml", include_str!("../../assets/mark.svg")),
        _ => return Answer::missing("file").into_response(),
    };
    ([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-cache")], text).into_response()
}

/// No such page.
pub async fn nothing() -> Answer {
    Answer::missing("page")
}
