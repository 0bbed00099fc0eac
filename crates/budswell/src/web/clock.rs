//! The clock: what the pages take for now, and what is asked when it stands before the newest line of the log.

use std::sync::{Arc, atomic::Ordering};

use askama::Template;
use axum::{
    Form,
    body::{Body, to_bytes},
    extract::{FromRequest, Request, State},
    http::{StatusCode, header},
    middleware::Next,
    response::{IntoResponse, Response},
};
use jiff::Timestamp;

use crate::web::{
    App,
    answer::{Answer, Fields, Typed},
    lanes::kind_of,
    table::Kind,
};

/// Seconds by which the clock may stand before the newest line: two machines on one collection differ by so much.
const APART: i64 = 600;

/// Lines of the log that are looked at for the newest moment.
const LINES: u32 = 50;

/// The field by which the grower says that a form is to be saved all the same; its value is the newest moment that was shown.
const DESPITE: &str = "despite_clock";

/// The address at which the clock is taken as it is.
const TRUST: &str = "/clock";

/// A clock that stands before the newest line of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Behind {
    now: Timestamp,
    newest: Timestamp,
}

impl Behind {
    fn words(self) -> String {
        let [now, newest] = [self.now, self.newest].map(|at| at.strftime("%Y-%m-%d %H:%M UTC").to_string());
        format!("The clock of this machine says {now}, but the newest entry here is of {newest}.")
    }
}

impl App {
    /// Whether the clock stands before the newest line of the log, and was not said to be right.
    fn behind(&self) -> Result<Option<Behind>, Answer> {
        if self.stands_still() {
            return Ok(None);
        }
        let lines = self.reader().latest_acts(LINES).map_err(Answer::store)?;
        let newest = lines.iter().filter_map(|line| line.at.parse::<Timestamp>().ok()).max();
        let now = self.clock();
        let is_behind = |newest: &Timestamp| {
            newest.as_second() > now.as_second().saturating_add(APART)
                && newest.as_second() > self.trusted.load(Ordering::Relaxed)
        };
        Ok(newest.filter(is_behind).map(|newest| Behind { now, newest }))
    }
}

/// Says on every page that the clock stands behind, and asks before anything is saved by it.
pub async fn ask(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    let behind = match app.behind() {
        Ok(Some(behind)) if request.uri().path() != TRUST => behind,
        Ok(_) => return next.run(request).await,
        Err(no) => return no.into_response(),
    };
    match kind_of(&request) {
        Kind::Readings => next.run(request).await,
        Kind::Page | Kind::Picture => said(next.run(request).await, behind).await,
        kind => match despite(request, behind, kind).await {
            Ok(request) => said(next.run(request).await, behind).await,
            Err(asked) => asked,
        },
    }
}

/// A page with a line on top; anything else as it is.
async fn said(response: Response, behind: Behind) -> Response {
    let is_page = response
        .headers()
        .get(header::CONTENT_TYPE)
        .is_some_and(|kind| kind.as_bytes().starts_with(b"text/html"));
    if !is_page {
        return response;
    }
    let (mut parts, body) = response.into_parts();
    let Ok(bytes) = to_bytes(body, usize::MAX).await else { return Answer::broken().into_response() };
    let page = String::from_utf8_lossy(&bytes);
    let line = format!(
        "<p class=\"hint alarm\" role=\"status\">{} Set the clock right; until then you are asked before anything is saved.</p>",
        behind.words()
    );
    parts.headers.remove(header::CONTENT_LENGTH);
    Response::from_parts(parts, Body::from(page.replacen("<h1", &format!("{line}<h1"), 1)))
}

#[derive(Template)]
#[template(path = "clock.html")]
struct ClockTemplate {
    here: &'static str,
    words: String,
    /// Where the form goes again; empty where a file came with it, which only its own page can send.
    action: String,
    fields: Vec<(String, String)>,
    newest: i64,
}

/// The request as it was before it was asked about, if the grower said to save all the same; else the question.
async fn despite(request: Request, behind: Behind, kind: Kind) -> Result<Request, Response> {
    let newest = behind.newest.as_second();
    let (parts, body) = request.into_parts();
    let bytes = to_bytes(body, usize::MAX).await.map_err(|_| Answer::broken().into_response())?;
    let said = format!("{DESPITE}={newest}");
    let is_form = matches!(kind, Kind::Form | Kind::Work);
    if let Some(rest) = bytes.strip_suffix(said.as_bytes()).filter(|_| is_form) {
        let rest = rest.strip_suffix(b"&").unwrap_or(rest).to_vec();
        let mut request = Request::from_parts(parts, Body::from(rest));
        request.headers_mut().remove(header::CONTENT_LENGTH);
        return Ok(request);
    }
    let action = if is_form { parts.uri.path().to_string() } else { String::new() };
    let fields = match Form::<Fields>::from_request(Request::from_parts(parts, Body::from(bytes)), &()).await
    {
        Ok(Form(fields)) if is_form => fields.into_pairs(),
        _ => Vec::new(),
    };
    let fields = fields.into_iter().filter(|(name, _)| name != DESPITE).collect();
    let page = ClockTemplate { here: "", words: behind.words(), action, fields, newest };
    Err(match Answer::page(&page) {
        Ok(page) => (StatusCode::CONFLICT, page).into_response(),
        Err(no) => no.into_response(),
    })
}

/// Takes the clock as it is from now on, until a newer line than the one shown stands in the log.
pub async fn trust(State(app): State<Arc<App>>, Typed(fields): Typed<Fields>) -> Result<Answer, Answer> {
    let newest = fields.of("newest").parse().map_err(|_| {
        Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not saved", "Not saved: no entry was named.".into())
    })?;
    app.trusted.store(newest, Ordering::Relaxed);
    Ok(Answer::See("/".into()))
}

#[cfg(test)]
mod tests;
