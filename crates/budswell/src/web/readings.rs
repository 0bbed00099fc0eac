//! What sensors post: a token at the door, a batch in, and what became of each reading out.
//!
//! A sensor is known by `Authorization: Bearer TOKEN` alone. No cookie opens this door, and a browser sends that header to
//! no other site's address unasked, so a page from elsewhere cannot use it; the guard turns such pages away besides.

use std::sync::Arc;

use axum::{
    Json,
    body::{Body, Bytes},
    extract::{FromRequestParts, Request, State},
    http::{HeaderMap, StatusCode, header, request::Parts},
    response::{IntoResponse, Response},
};
use intake::{
    readings::{BatchError, Receipt, keep, read},
    token,
};
use serde_json::json;
use tokio::task::spawn_blocking;

use crate::web::{
    App,
    lanes::{Stopped, whole_body},
    readers::hold,
};

/// Most bytes of a batch of readings.
const LARGEST_BATCH: usize = 1024 * 1024;

/// The name of a sensor that showed its token.
#[derive(Debug)]
pub struct Known(String);

/// A clear no, for a machine to read.
#[derive(Debug)]
pub struct No(StatusCode, String);

impl IntoResponse for No {
    fn into_response(self) -> Response {
        let No(status, why) = self;
        let mut response = (status, Json(json!({ "error": why }))).into_response();
        let set = match status {
            StatusCode::UNAUTHORIZED => Some((header::WWW_AUTHENTICATE, "Bearer")),
            StatusCode::SERVICE_UNAVAILABLE => Some((header::RETRY_AFTER, "5")),
            _ => None,
        };
        if let Some((name, value)) = set {
            response.headers_mut().insert(name, header::HeaderValue::from_static(value));
        }
        response
    }
}

fn stranger() -> No {
    No(
        StatusCode::UNAUTHORIZED,
        "send Authorization: Bearer TOKEN, with a token made by budswell token".into(),
    )
}

fn store(why: &store::error::Error) -> No {
    use store::error::Error;
    match why {
        Error::Unknown { .. } => stranger(),
        Error::DiskFull => No(StatusCode::INSUFFICIENT_STORAGE, why.to_string()),
        _ => No(StatusCode::SERVICE_UNAVAILABLE, format!("nothing was taken, send it again: {why}")),
    }
}

fn broken() -> No {
    No(StatusCode::INTERNAL_SERVER_ERROR, "something broke; nothing of this batch was taken".into())
}

/// The token a request shows.
fn shown(headers: &HeaderMap) -> Option<&str> {
    let (scheme, token) = headers.get(header::AUTHORIZATION)?.to_str().ok()?.split_once(' ')?;
    scheme.eq_ignore_ascii_case("bearer").then(|| token.trim())
}

impl FromRequestParts<Arc<App>> for Known {
    type Rejection = No;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<App>) -> Result<Known, No> {
        let token = shown(&parts.headers).ok_or_else(stranger)?;
        let door = hold(&app.door);
        let holder = token::holder(&door, token).map_err(|why| store(&why))?;
        holder.map(Known).ok_or_else(stranger)
    }
}

/// Takes a batch; the answer is given when what it counts as taken is written.
pub async fn readings(
    State(app): State<Arc<App>>,
    Known(sender): Known,
    request: Request,
) -> Result<Response, No> {
    let body = batch(request.into_body()).await?;
    let place = app.lanes.for_readings().await.ok_or_else(busy)?;
    let written = move || {
        let _place = place;
        written(&app, &sender, &body)
    };
    spawn_blocking(written).await.unwrap_or_else(|_| Err(broken()))
}

/// The body of a batch.
async fn batch(body: Body) -> Result<Bytes, No> {
    whole_body(body, LARGEST_BATCH).await.map_err(|why| match why {
        Stopped::TooLarge(most) => No(
            StatusCode::PAYLOAD_TOO_LARGE,
            format!("a batch has at most {most} bytes; send fewer readings at a time"),
        ),
        Stopped::BrokenOff => No(StatusCode::BAD_REQUEST, "the batch broke off; send it again".into()),
    })
}

fn busy() -> No {
    No(StatusCode::SERVICE_UNAVAILABLE, "too many batches at once; nothing was taken, send it again".into())
}

fn written(app: &App, sender: &str, body: &[u8]) -> Result<Response, No> {
    let batch = read(body, app.clock().as_second()).map_err(no)?;
    let receipt = keep(&mut hold(&app.store), sender, batch).map_err(no)?;
    Ok(Json(told(&receipt)).into_response())
}

fn no(why: BatchError) -> No {
    match why {
        BatchError::Unreadable(_) => No(StatusCode::BAD_REQUEST, why.to_string()),
        BatchError::TooMany(_) => No(StatusCode::PAYLOAD_TOO_LARGE, why.to_string()),
        BatchError::Store(why) => store(&why),
    }
}

fn told(receipt: &Receipt) -> serde_json::Value {
    let refused: Vec<_> = receipt
        .refused
        .iter()
        .map(|it| json!({ "index": it.index, "value": it.value, "why": it.why }))
        .collect();
    json!({ "taken": receipt.taken, "known": receipt.known, "refused": refused })
}
