//! What the plan will do, and the counts that teach it.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, Query, State},
    response::{IntoResponse, Response},
};
use intake::limbs::plan;
use serde::Deserialize;
use state::work::Work;
use store::version::{Numbered, Record, Version};
use view::{
    limbs::plans::{Other, PlansPage},
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again_or_stands, edit},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

/// The other plan that the address asks for.
#[derive(Debug, Default, Deserialize)]
pub struct Wish {
    #[serde(default)]
    plan: String,
    #[serde(default)]
    limb: String,
    #[serde(default)]
    wish: String,
    #[serde(default)]
    nodes: String,
}

#[derive(Template)]
#[template(path = "plans.html")]
struct PlansTemplate {
    here: &'static str,
    version: Version,
    page: PlansPage,
    /// May it be cut today.
    may: Vec<view::verdicts::Line>,
    asked: Wish,
    asked_limb: u32,
    refused: Refused,
}

/// What the plan will do.
pub async fn plans(State(app): Given, Path(key): Path<String>, Query(asked): Query<Wish>) -> Told {
    plans_page(&app, &key, asked, Refused::default())
}

fn plans_page(app: &App, key: &str, asked: Wish, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let other = Other { plan: &asked.plan, limb: &asked.limb, wish: &asked.wish, nodes: &asked.nodes };
    let page = view::limbs::plans::plans(&whole, tree, other);
    let asked_limb = asked.limb.parse().unwrap_or(0);
    Answer::page(&PlansTemplate {
        here: "",
        version: whole.version.clone(),
        page,
        may: view::verdicts::may(&whole, tree, &[Work::HardPrune, Work::Trim, Work::Pinch]),
        asked,
        asked_limb,
        refused,
    })
}

/// Writes down how many buds broke behind a cut.
pub async fn count(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Result<Response, Answer> {
    fields.add("id", id.to_string());
    let (broke, of) = (fields.of("broke"), fields.of("of"));
    let record = Record::numbered(Numbered::Cut, id);
    match edit(&app, &fields, [record], |store| plan::count_buds(store, &key, id, broke, of))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/plans")).into_response()),
        Err(why) => {
            let stands = |whole: &Whole| Some(stands::count(whole.tree(&key)?, id));
            let page = |refused| plans_page(&app, &key, Wish::default(), refused);
            again_or_stands(&app, why, "count", fields, stands, page)
        }
    }
}
