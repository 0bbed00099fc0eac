//! *Tonight* as a page and as feeds that a calendar or a house computer polls.

mod feed;

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::State,
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use view::tonight::{Tonight, tonight};

use crate::web::{App, answer::Answer};

type Given = State<Arc<App>>;

#[derive(Template)]
#[template(path = "tonight.html")]
struct TonightPage {
    here: &'static str,
    page: Tonight,
}

/// The coming night as of now; on a fixed day as of its afternoon.
fn told(app: &App) -> Result<Tonight, Answer> {
    let whole = app.whole()?;
    tonight(&whole, app.now(&whole))
        .map_err(|why| Answer::no(StatusCode::CONFLICT, "No night to tell", why.to_string()))
}

/// The page.
pub async fn page(State(app): Given) -> Result<Answer, Answer> {
    Answer::page(&TonightPage { here: "places", page: told(&app)? })
}

/// The feed for programs.
pub async fn json(State(app): Given) -> Result<Response, Answer> {
    let body = feed::json(&told(&app)?).to_string();
    Ok(([(header::CONTENT_TYPE, "application/json"), (header::CACHE_CONTROL, "no-cache")], body)
        .into_response())
}

/// The feed for calendars.
pub async fn calendar(State(app): Given) -> Result<Response, Answer> {
    let body = feed::calendar(&told(&app)?, app.clock());
    let kind = "text/calendar; charset=utf-8";
    Ok(([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-cache")], body).into_response())
}
