//! Layers and wounds of a tree, and what is written down of them.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, State},
    response::{IntoResponse, Response},
};
use intake::{
    asked::Asked,
    limbs::layer::{self, ApartForm, LayerForm},
    record::FormError,
};
use state::work::Work;
use store::version::{Numbered, Record, Version};
use view::{limbs::layers::LayersPage, stands, whole::Whole};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again, again_or_stands, edit},
    asked,
    limbs::or_today,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "layers.html")]
struct LayersTemplate {
    here: &'static str,
    version: Version,
    page: LayersPage,
    may: Vec<view::verdicts::Line>,
    refused: Refused,
}

/// Layers and wounds of a tree.
pub async fn layers(State(app): Given, Path(key): Path<String>) -> Told {
    layers_page(&app, &key, Refused::default())
}

fn layers_page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let (page, version) = (view::limbs::layers::layers(&whole, tree), whole.version.clone());
    let may = view::verdicts::may(&whole, tree, &[Work::Layer, Work::HardPrune]);
    Answer::page(&LayersTemplate { here: "", version, page, may, refused })
}

/// Writes down a layer begun.
pub async fn begin(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let against = asked::against(&app, &key, Work::Layer, fields.of("day"))?;
    let form = LayerForm {
        tree: &key,
        limb: fields.of("limb"),
        way: fields.of("way"),
        day: fields.of("day"),
        note: fields.of("note"),
        asked: Asked { against: against.as_deref(), despite: fields.of("despite") },
    };
    let today = app.today()?;
    match app.change(|store| Ok(layer::begin(store, form, today)))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/layers")).into_response()),
        Err(why) => again(why, "begin", fields, |refused| layers_page(&app, &key, refused)),
    }
}

/// The answer to a form about a layer or a wound that was not taken.
fn overtaken(app: &App, why: FormError, (form, key, id): (&'static str, &str, i64), fields: Fields) -> Taken {
    let stands = |whole: &Whole| {
        let tree = whole.tree(key)?;
        Some(if form == "wound" { stands::wound(whole, tree, id) } else { stands::layer(whole, tree, id) })
    };
    again_or_stands(app, why, form, fields, stands, |refused| layers_page(app, key, refused))
}

/// Writes down a look at a layer's roots.
pub async fn look(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("id", id.to_string());
    let (day, roots, today) = (fields.of("day"), fields.of("roots"), app.today()?);
    let record = Record::numbered(Numbered::Layer, id);
    match edit(&app, &fields, [record], |store| layer::look(store, [&key, day, roots], id, today))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/layers#layer-{id}")).into_response()),
        Err(why) => overtaken(&app, why, ("look", &key, id), fields),
    }
}

/// Cuts a layer off its parent; where the test says wait, only with a reason.
pub async fn apart(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("id", id.to_string());
    let wait = asked::against_apart(&app, &key, id, fields.of("day"))?;
    let form = ApartForm {
        tree: &key,
        id,
        day: fields.of("day"),
        name: fields.of("name"),
        place: fields.of("place"),
        lean: fields.of("lean"),
        asked: Asked { against: wait.as_deref(), despite: fields.of("despite") },
    };
    let today = app.today()?;
    let record = Record::numbered(Numbered::Layer, id);
    match edit(&app, &fields, [record], |store| layer::apart(store, form, today))? {
        Ok(child) => Ok(Answer::See(format!("/trees/{child}")).into_response()),
        Err(why) => overtaken(&app, why, ("apart", &key, id), fields),
    }
}

/// Writes down that a wound was covered or has closed.
pub async fn wound(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("wound", id.to_string());
    let (what, day, today) = (fields.of("what"), fields.of("day"), app.today()?);
    let record = Record::numbered(Numbered::Wound, id);
    match edit(&app, &fields, [record], |store| layer::wound(store, &key, id, what, day, today))? {
        Ok(()) => Ok(or_today(&fields, Answer::See(format!("/trees/{key}/layers"))).into_response()),
        Err(why) => overtaken(&app, why, ("wound", &key, id), fields),
    }
}
