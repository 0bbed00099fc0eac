//! *Feed and spray*: what stands in the address is reckoned and shown; nothing is kept.

use std::{collections::HashMap, sync::Arc};

use askama::Template;
use axum::extract::{Query, State};
use measure::quantity::Units;
use view::feed::{Feed, Typed};

use crate::web::{App, answer::Answer};

#[derive(Template)]
#[template(path = "feed.html")]
struct FeedPage {
    here: &'static str,
    page: Feed,
    imperial: bool,
}

/// The page; in the site's units until the address names others.
pub async fn feed(
    State(app): State<Arc<App>>,
    Query(fields): Query<HashMap<String, String>>,
) -> Result<Answer, Answer> {
    let site = app.whole()?.site.as_ref().map_or(Units::Metric, |site| site.units);
    let units = fields.get("units").and_then(|key| Units::from_key(key)).unwrap_or(site);
    let typed = Typed::of(units, |name| fields.get(name).cloned().unwrap_or_default());
    Answer::page(&FeedPage { here: "", page: view::feed::page(typed), imperial: units == Units::Imperial })
}
