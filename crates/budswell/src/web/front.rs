//! A tree in the round, and the fronts that are kept.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, State},
    response::{IntoResponse, Response},
};
use intake::limbs::front::{self, FrontForm};
use serde_json::json;
use store::version::{Record, Version};
use view::{limbs::front::FrontPage, stands, whole::Whole};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again_or_stands, edit},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "front.html")]
struct FrontTemplate {
    here: &'static str,
    version: Version,
    page: FrontPage,
    shape: String,
    refused: Refused,
}

/// A tree in the round.
pub async fn round(State(app): Given, Path(key): Path<String>) -> Told {
    front_page(&app, &key, Refused::default())
}

fn front_page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let page = view::limbs::front::front(&whole, tree);
    let marks: Vec<_> = page
        .marks
        .iter()
        .map(|(limb, at)| json!({ "limb": limb, "word": limb.to_string(), "at": at }))
        .collect();
    let shape =
        json!({ "wood": page.wood, "marks": marks, "high": page.high, "wide": page.wide }).to_string();
    let version = whole.version.clone();
    Answer::page(&FrontTemplate { here: "", version, page, shape: shape.replace('<', "\\u003c"), refused })
}

/// Keeps today's front or a candidate.
pub async fn keep_front(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let form = FrontForm {
        tree: &key,
        rank: fields.of("rank"),
        clock: fields.of("clock"),
        sideways: fields.of("sideways"),
        forward: fields.of("forward"),
        why: fields.of("why"),
    };
    let rank = fields.of("rank").to_string();
    match edit(&app, &fields, [Record::front(&key, &rank)], |store| front::front(store, form))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/front#kept")).into_response()),
        Err(why) => {
            let stands = |whole: &Whole| Some(stands::front(whole.tree(&key)?, &rank));
            again_or_stands(&app, why, "front", fields, stands, |refused| front_page(&app, &key, refused))
        }
    }
}

/// Drops a candidate.
pub async fn drop_front(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let rank = fields.of("rank");
    edit(&app, &fields, [Record::front(&key, rank)], |store| front::drop_front(store, &key, rank))?
        .map_err(|why| Answer::form(why, String::new()))?;
    Ok(Answer::See(format!("/trees/{key}/front")))
}
