//! Layers and wounds of a tree, and what is written down of them.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, State},
    response::{IntoResponse, Response},
};
use intake::limbs::layer::{self, ApartForm, LayerForm};
use view::limbs::layers::LayersPage;

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "layers.html")]
struct LayersTemplate {
    here: &'static str,
    page: LayersPage,
    refused: Refused,
}

/// Layers and wounds of a tree.
pub async fn layers(State(app): Given, Path(key): Path<String>) -> Told {
    layers_page(&app, &key, Refused::default())
}

fn layers_page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    Answer::page(&LayersTemplate { here: "", page: view::limbs::layers::layers(&whole, tree), refused })
}

/// Writes down a layer begun.
pub async fn begin(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let form = LayerForm {
        tree: &key,
        limb: fields.of("limb"),
        way: fields.of("way"),
        day: fields.of("day"),
        note: fields.of("note"),
    };
    let today = app.today()?;
    match app.change(|store| Ok(layer::begin(store, form, today)))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/layers")).into_response()),
        Err(why) => again(why, "begin", fields, |refused| layers_page(&app, &key, refused)),
    }
}

/// Writes down a look at a layer's roots.
pub async fn look(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("id", id.to_string());
    let (day, roots, today) = (fields.of("day"), fields.of("roots"), app.today()?);
    match app.change(|store| Ok(layer::look(store, [&key, day, roots], id, today)))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/layers#layer-{id}")).into_response()),
        Err(why) => again(why, "look", fields, |refused| layers_page(&app, &key, refused)),
    }
}

/// Cuts a layer off its parent; where the test says wait, only with a reason.
pub async fn apart(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("id", id.to_string());
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
        Err(why) => again(why, "apart", fields, |refused| layers_page(&app, &key, refused)),
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
