//! Wire: what is on and what to look at first, which to take for a bend, and what is on the shelf.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, Query, State},
    response::{IntoResponse, Response},
};
use intake::{
    asked::Asked,
    limbs::wire::{self, CheckForm, WireForm},
    photo,
    version::starting_from,
};
use serde::Deserialize;
use state::work::Work;
use store::version::{Numbered, Record, Version};
use view::{
    limbs::wires::{BendAsked, WiresPage},
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again, again_or_stands, edit},
    asked,
    photos::{Parts, parts},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "wires.html")]
struct WiresTemplate {
    here: &'static str,
    version: Version,
    page: WiresPage,
    /// May its tree be wired or unwired today; nothing on the page of all wires.
    may: Vec<view::verdicts::Line>,
    hours: f64,
    asked_limb: u32,
    asked: [String; 6],
    /// Why a bend could not be reckoned.
    no_bend: String,
    /// How many wires need no look yet.
    later: usize,
    refused: Refused,
}

impl WiresTemplate {
    fn new(whole: &Whole, page: WiresPage, hours: f64, refused: Refused) -> WiresTemplate {
        WiresTemplate {
            here: "",
            version: whole.version.clone(),
            hours,
            asked_limb: 0,
            asked: Default::default(),
            no_bend: String::new(),
            later: page.rows.iter().filter(|row| row.verdict == LATER).count(),
            may: page
                .tree
                .as_ref()
                .and_then(|(key, _)| whole.tree(key))
                .map_or_else(Vec::new, |tree| view::verdicts::may(whole, tree, &[Work::Wire, Work::Unwire])),
            page,
            refused,
        }
    }
}

/// The verdict on a wire that needs no look yet.
const LATER: &str = "later";

/// What the address asks for.
#[derive(Debug, Default, Deserialize)]
pub struct Wish {
    #[serde(default)]
    hours: String,
    #[serde(default)]
    limb: String,
    #[serde(default)]
    radius: String,
    #[serde(default)]
    along: String,
    #[serde(default)]
    thick: String,
    #[serde(default)]
    metal: String,
    #[serde(default)]
    strands: String,
}

/// Hours at hand where nobody told.
const HOURS: f64 = 2.0;

/// Every wire that is on.
pub async fn all(State(app): Given, Query(wish): Query<Wish>) -> Told {
    let told = wish.hours.replace(',', ".").parse().ok();
    let hours = told.filter(|hours: &f64| (0.0..=24.0).contains(hours)).unwrap_or(HOURS);
    let whole = app.whole()?;
    let page = view::limbs::wires::page(&whole, None, hours);
    Answer::page(&WiresTemplate::new(&whole, page, hours, Refused::default()))
}

/// The wires of a tree, and which to take for a bend.
pub async fn of_tree(State(app): Given, Path(key): Path<String>, Query(wish): Query<Wish>) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let page = view::limbs::wires::page(&whole, Some(tree), HOURS);
    let mut told = WiresTemplate::new(&whole, page, HOURS, Refused::default());
    if !wish.limb.is_empty() {
        let asked = BendAsked {
            limb: &wish.limb,
            radius: &wish.radius,
            along: &wish.along,
            thick: &wish.thick,
            metal: &wish.metal,
            strands: &wish.strands,
        };
        match view::limbs::wires::bend(&whole, tree, asked) {
            Ok(bend) => told.page.bend = Some(bend),
            Err(why) => told.no_bend = why,
        }
    }
    told.asked_limb = wish.limb.parse().unwrap_or(0);
    told.asked = [wish.limb, wish.radius, wish.along, wish.thick, wish.metal, wish.strands];
    Answer::page(&told)
}

/// The page a form was typed on: a tree's wires, or all of them.
fn wires_page(app: &App, tree: Option<&str>, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = tree.map(|key| whole.tree(key).ok_or_else(|| Answer::missing("tree"))).transpose()?;
    let page = view::limbs::wires::page(&whole, tree, HOURS);
    Answer::page(&WiresTemplate::new(&whole, page, HOURS, refused))
}

/// Writes down a wire.
pub async fn put_on(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let against = asked::against(&app, &key, Work::Wire, fields.of("on"))?;
    let form = WireForm {
        tree: &key,
        limb: fields.of("limb"),
        on: fields.of("on"),
        metal: fields.of("metal"),
        gauge: fields.of("gauge"),
        strands: fields.of("strands"),
        thick: fields.of("thick"),
        bend: fields.of("bend"),
        photo: "",
        note: fields.of("note"),
        asked: Asked { against: against.as_deref(), despite: fields.of("despite") },
    };
    let (units, today) = (app.whole()?.units(), app.today()?);
    match app.change(|store| Ok(wire::put_on(store, form, units, today)))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/wires")).into_response()),
        Err(why) => again(why, "wire", fields, |refused| wires_page(&app, Some(&key), refused)),
    }
}

/// Writes down a look at a wire, with its photo, or that it came off; a look that is refused leaves no photo behind.
pub async fn check(State(app): Given, Path((key, id)): Path<(String, i64)>, given: Multipart) -> Taken {
    let Parts { mut fields, bytes } = parts(given).await?;
    fields.add("id", id.to_string());
    let (what, outcome) = match fields.of("what") {
        what @ ("seen" | "out") => (what, ""),
        outcome => ("off", outcome),
    };
    let is_off = (what == "off").then_some(Work::Unwire);
    let against = asked::against_word(&app, &key, is_off, fields.of("day"))?;
    let form = CheckForm {
        tree: &key,
        id,
        day: fields.of("day"),
        what,
        outcome,
        grown_in: fields.of("grown_in") == "yes",
        photo: "",
        note: fields.of("note"),
        asked: Asked { against: against.as_deref(), despite: fields.of("despite") },
    };
    let (is_all, today) = (fields.of("back") == "all", app.today()?);
    let told = match (!bytes.is_empty()).then(|| photo::opened(&bytes)).transpose() {
        Ok(opened) => app.change(|store| {
            let record = [Record::numbered(Numbered::Wire, id)];
            Ok(starting_from(store, record, fields.of("revision"), |store| {
                wire::check_with(store, form, opened.as_ref().map(photo::Sent::from), today)
            }))
        })?,
        Err(why) => Err(why),
    };
    match told {
        Ok(()) if is_all => Ok(Answer::See("/wires".into()).into_response()),
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/wires")).into_response()),
        Err(why) => {
            let stands = |whole: &Whole| Some(stands::wire(whole, whole.tree(&key)?, id));
            again_or_stands(&app, why, "check", fields, stands, |refused| {
                wires_page(&app, (!is_all).then_some(key.as_str()), refused)
            })
        }
    }
}

/// Writes down how much wire is on the shelf.
pub async fn shelf(State(app): Given, Typed(fields): Typed<Fields>) -> Taken {
    let units = app.whole()?.units();
    let [tree, metal, gauge, left] = ["tree", "metal", "gauge", "left"].map(|name| fields.of(name));
    let coil = wire::coil(metal, gauge, units);
    let records = coil.iter().map(|(record, _)| record.clone());
    match edit(&app, &fields, records, |store| wire::shelf(store, metal, gauge, left, units))? {
        Ok(()) if tree.is_empty() => Ok(Answer::See("/wires#shelf".into()).into_response()),
        Ok(()) => Ok(Answer::See(format!("/trees/{tree}/wires#shelf")).into_response()),
        Err(why) => {
            let (tree, metal) = (Some(tree.to_string()).filter(|key| !key.is_empty()), metal.to_string());
            let stands = |whole: &Whole| Some(stands::coil(whole, &metal, coil.as_ref().ok()?.1));
            let page = |refused| wires_page(&app, tree.as_deref(), refused);
            again_or_stands(&app, why, "shelf", fields, stands, page)
        }
    }
}
