//! Wire and fronts and layers: pages, and what is written down there.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, Query, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use intake::{
    limbs::{
        front::{self, FrontForm},
        layer::{self, ApartForm, LayerForm},
        wire::{self, CheckForm, WireForm},
    },
    photo::{self, PhotoForm},
};
use serde::Deserialize;
use serde_json::json;
use view::limbs::{
    front::FrontPage,
    layers::LayersPage,
    wires::{BendAsked, WiresPage},
};

use crate::web::{
    App,
    answer::{Answer, Fields, Typed},
    photos::parts,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "front.html")]
struct FrontTemplate {
    here: &'static str,
    page: FrontPage,
    shape: String,
}

/// A tree in the round.
pub async fn round(State(app): Given, Path(key): Path<String>) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let page = view::limbs::front::front(&whole, tree);
    let marks: Vec<_> = page
        .marks
        .iter()
        .map(|(limb, at)| json!({ "limb": limb, "word": limb.to_string(), "at": at }))
        .collect();
    let shape =
        json!({ "wood": page.wood, "marks": marks, "high": page.high, "wide": page.wide }).to_string();
    Answer::page(&FrontTemplate { here: "", page, shape: shape.replace('<', "\\u003c") })
}

/// Keeps today's front or a candidate.
pub async fn keep_front(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let form = FrontForm {
        tree: &key,
        rank: fields.of("rank"),
        clock: fields.of("clock"),
        sideways: fields.of("sideways"),
        forward: fields.of("forward"),
        why: fields.of("why"),
    };
    app.change(|store| front::front(store, form).map_err(|why| Answer::form(why, form.why.to_string())))?;
    Ok(Answer::See(format!("/trees/{key}/front#kept")))
}

/// Drops a candidate.
pub async fn drop_front(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    app.change(|store| {
        front::drop_front(store, &key, fields.of("rank")).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/front")))
}

#[derive(Template)]
#[template(path = "wires.html")]
struct WiresTemplate {
    here: &'static str,
    page: WiresPage,
    hours: f64,
    asked_limb: u32,
    asked: [String; 6],
    refused: String,
}

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
    let whole = app.whole()?;
    let told = wish.hours.replace(',', ".").parse().ok();
    let hours = told.filter(|hours: &f64| (0.0..=24.0).contains(hours)).unwrap_or(HOURS);
    let page = view::limbs::wires::page(&whole, None, hours);
    Answer::page(&WiresTemplate {
        here: "",
        page,
        hours,
        asked_limb: 0,
        asked: Default::default(),
        refused: String::new(),
    })
}

/// The wires of a tree, and which to take for a bend.
pub async fn of_tree(State(app): Given, Path(key): Path<String>, Query(wish): Query<Wish>) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let mut page = view::limbs::wires::page(&whole, Some(tree), HOURS);
    let mut refused = String::new();
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
            Ok(bend) => page.bend = Some(bend),
            Err(why) => refused = why,
        }
    }
    let asked = [wish.limb, wish.radius, wish.along, wish.thick, wish.metal, wish.strands];
    Answer::page(&WiresTemplate {
        here: "",
        page,
        hours: HOURS,
        asked_limb: asked[0].parse().unwrap_or(0),
        asked,
        refused,
    })
}

/// Writes down a wire.
pub async fn put_on(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
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
    };
    let (units, today) = (app.whole()?.units(), app.today()?);
    app.change(|store| {
        wire::put_on(store, form, units, today).map_err(|why| Answer::form(why, form.note.to_string()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/wires")))
}

/// Writes down a look at a wire, with its photo, or that it came off.
pub async fn check(State(app): Given, Path((key, id)): Path<(String, i64)>, given: Multipart) -> Told {
    let fields = parts(given).await?;
    let today = app.today()?;
    let kept = match fields.bytes.as_slice() {
        [] => String::new(),
        bytes => {
            let form = PhotoForm {
                tree: &key,
                day: fields.of("day"),
                subject: "part",
                note: "wire",
                ..PhotoForm::default()
            };
            app.change(|store| {
                photo::keep(store, form, bytes, today).map_err(|why| Answer::form(why, String::new()))
            })?
            .key
        }
    };
    let (what, outcome) = match fields.of("what") {
        what @ ("seen" | "out") => (what, ""),
        outcome => ("off", outcome),
    };
    let form = CheckForm {
        tree: &key,
        id,
        day: fields.of("day"),
        what,
        outcome,
        grown_in: fields.of("grown_in") == "yes",
        photo: &kept,
        note: fields.of("note"),
    };
    app.change(|store| {
        wire::check(store, form, today).map_err(|why| Answer::form(why, form.note.to_string()))
    })?;
    Ok(Answer::See(if fields.of("back") == "all" { "/wires".into() } else { format!("/trees/{key}/wires") }))
}

/// Writes down how much wire is on the shelf.
pub async fn shelf(State(app): Given, Typed(fields): Typed<Fields>) -> Told {
    let units = app.whole()?.units();
    let left = fields.of("left");
    app.change(|store| {
        wire::shelf(store, fields.of("metal"), fields.of("gauge"), left, units)
            .map_err(|why| Answer::form(why, left.to_string()))
    })?;
    Ok(Answer::See("/wires#shelf".into()))
}

#[derive(Template)]
#[template(path = "layers.html")]
struct LayersTemplate {
    here: &'static str,
    page: LayersPage,
    refused: Option<String>,
}

/// Layers and wounds of a tree.
pub async fn layers(State(app): Given, Path(key): Path<String>) -> Told {
    layers_page(&app, &key, None)
}

fn layers_page(app: &App, key: &str, refused: Option<String>) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    Answer::page(&LayersTemplate { here: "", page: view::limbs::layers::layers(&whole, tree), refused })
}

/// Writes down a layer begun.
pub async fn begin(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let form = LayerForm {
        tree: &key,
        limb: fields.of("limb"),
        way: fields.of("way"),
        day: fields.of("day"),
        note: fields.of("note"),
    };
    let today = app.today()?;
    app.change(|store| {
        layer::begin(store, form, today).map_err(|why| Answer::form(why, form.note.to_string()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/layers")))
}

/// Writes down a look at a layer's roots.
pub async fn look(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Told {
    let (day, roots, today) = (fields.of("day"), fields.of("roots"), app.today()?);
    app.change(|store| {
        layer::look(store, [&key, day, roots], id, today).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/layers#layer-{id}")))
}

/// Cuts a layer off its parent; where the test says wait, only with a reason.
pub async fn apart(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let wait = view::limbs::layers::wait(&whole, tree, id);
    let form = ApartForm {
        tree: &key,
        id,
        day: fields.of("day"),
        name: fields.of("name"),
        place: fields.of("place"),
        lean: fields.of("lean"),
        despite: fields.of("despite"),
    };
    let today = app.today()?;
    match app.change(|store| Ok(layer::apart(store, form, wait.as_deref(), today)))? {
        Ok(child) => Ok(Answer::See(format!("/trees/{child}")).into_response()),
        Err(why) => {
            let page = layers_page(&app, &key, Some(why.to_string()))?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}

/// Writes down that a wound was covered or has closed.
pub async fn wound(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Told {
    let today = app.today()?;
    app.change(|store| {
        layer::wound(store, &key, id, fields.of("what"), fields.of("day"), today)
            .map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/layers")))
}
