//! What sensors post: a token at the door, a batch in, and what became of each reading out.
//!
//! A sensor is known by `Authorization: Bearer TOKEN` alone. No cookie opens this door, and a browser sends that header to
//! no other site's address unasked, so a page from elsewhere cannot use it; the guard turns such pages away besides.

use std::sync::Arc;

use axum::{
    Json,
    body::Bytes,
    extract::{FromRequestParts, State, rejection::BytesRejection},
    http::{HeaderMap, StatusCode, header, request::Parts},
    response::{IntoResponse, Response},
};
use intake::{
    readings::{BatchError, Receipt, keep, read},
    token,
};
use jiff::Timestamp;
use serde_json::json;

use crate::web::{App, LARGEST_BATCH};

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
        let door = app.door.lock().map_err(|_| broken())?;
        let holder = token::holder(&door, token).map_err(|why| store(&why))?;
        holder.map(Known).ok_or_else(stranger)
    }
}

/// Takes a batch; the answer is given when what it counts as taken is written.
pub async fn readings(
    State(app): State<Arc<App>>,
    Known(sender): Known,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, No> {
    let body = body.map_err(|why| match why.status() {
        StatusCode::PAYLOAD_TOO_LARGE => No(
            why.status(),
            format!("a batch has at most {LARGEST_BATCH} bytes; send fewer readings at a time"),
        ),
        status => No(status, "the batch broke off; send it again".into()),
    })?;
    let batch = read(&body, Timestamp::now().as_second()).map_err(no)?;
    let mut store = app.store.lock().map_err(|_| broken())?;
    Ok(Json(told(&keep(&mut store, &sender, batch).map_err(no)?)).into_response())
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
