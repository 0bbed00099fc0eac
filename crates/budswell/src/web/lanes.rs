//! Lanes: requests are worked on off the threads that listen, a few of each kind at a time, so that heavy ones hold up nobody else.

use std::{
    sync::{
        Arc,
        atomic::{AtomicUsize, Ordering},
    },
    time::Duration,
};

use axum::{
    body::{Body, Bytes, HttpBody},
    extract::{MatchedPath, Request, State},
    http::{HeaderValue, Method, StatusCode, header},
    middleware::Next,
    response::{IntoResponse, Response},
};
use http_body_util::BodyExt;
use tokio::{
    runtime::Handle,
    sync::{OwnedSemaphorePermit, Semaphore},
    task::spawn_blocking,
    time::timeout,
};

use crate::web::{
    App,
    answer::Answer,
    table::{Kind, ROUTES},
};

/// Most bytes of an upload.
const LARGEST_UPLOAD: usize = 64 * 1024 * 1024;

/// Most bytes of a form without a file; a painted outline is the longest.
const LARGEST_FORM: usize = 2 * 1024 * 1024;

/// Most bytes that uploads may hold in memory together.
const LARGEST_TOGETHER: usize = 4 * LARGEST_UPLOAD;

/// A body that does not move for so long has broken off.
const STILL: Duration = Duration::from_secs(10);

/// What a body may take, before each of its bytes is counted.
const GRACE: Duration = Duration::from_secs(20);

/// Bytes in a second that a body must come to, beyond the grace.
const SLOWEST: usize = 64 * 1024;

/// Requests of some kinds, worked on a few at a time; the others wait, up to a number.
#[derive(Debug)]
struct Lane {
    places: Arc<Semaphore>,
    waiting: AtomicUsize,
    most_waiting: usize,
}

impl Lane {
    fn new(places: usize, most_waiting: usize) -> Lane {
        Lane { places: Arc::new(Semaphore::new(places)), waiting: AtomicUsize::new(0), most_waiting }
    }

    /// A place in the lane; none when too many wait for one.
    async fn place(&self) -> Option<OwnedSemaphorePermit> {
        /// Counts one that waits, however its waiting ends.
        struct Waits<'a>(&'a AtomicUsize);
        impl Drop for Waits<'_> {
            fn drop(&mut self) {
                self.0.fetch_sub(1, Ordering::Relaxed);
            }
        }
        if let Ok(place) = Arc::clone(&self.places).try_acquire_owned() {
            return Some(place);
        }
        if self.waiting.fetch_add(1, Ordering::Relaxed) >= self.most_waiting {
            self.waiting.fetch_sub(1, Ordering::Relaxed);
            return None;
        }
        let _waits = Waits(&self.waiting);
        Arc::clone(&self.places).acquire_owned().await.ok()
    }
}

/// The lanes of the house.
#[derive(Debug)]
pub struct Lanes {
    pages: Lane,
    pictures: Lane,
    forms: Lane,
    /// One at a time: a photo opened or a file read takes a core for itself, and the other is for everybody else.
    heavy: Lane,
    far: Lane,
    readings: Lane,
    /// Room for the bodies of uploads, in KiB.
    room: Arc<Semaphore>,
}

impl Default for Lanes {
    fn default() -> Lanes {
        Lanes {
            pages: Lane::new(4, 64),
            pictures: Lane::new(1, 8),
            forms: Lane::new(4, 32),
            heavy: Lane::new(1, 8),
            far: Lane::new(1, 2),
            readings: Lane::new(4, 64),
            room: Arc::new(Semaphore::new(LARGEST_TOGETHER / 1024)),
        }
    }
}

impl Lanes {
    fn of(&self, kind: Kind) -> &Lane {
        match kind {
            Kind::Page => &self.pages,
            Kind::Picture => &self.pictures,
            Kind::Form => &self.forms,
            Kind::Work | Kind::Parts => &self.heavy,
            Kind::Far => &self.far,
            Kind::Readings => &self.readings,
        }
    }

    /// A place to take a batch of readings in; none when too many wait.
    pub async fn for_readings(&self) -> Option<OwnedSemaphorePermit> {
        self.of(Kind::Readings).place().await
    }

    /// The request with its whole body, once there is a place for it, and what it holds while it is worked on: its place, and the room
    /// of its body.
    async fn prepared(&self, kind: Kind, request: Request) -> Result<(Request, Held), Busy> {
        let most = if kind == Kind::Parts { LARGEST_UPLOAD } else { LARGEST_FORM };
        let (parts, body) = request.into_parts();
        let size = body.size_hint().exact().map_or(most, |size| usize::try_from(size).unwrap_or(usize::MAX));
        let room = if size <= LARGEST_FORM { 0 } else { size.min(most) / 1024 };
        let room = Arc::clone(&self.room).try_acquire_many_owned(room as u32).map_err(|_| Busy::Later)?;
        let bytes = whole_body(body, most).await?;
        let place = self.of(kind).place().await.ok_or(Busy::Later)?;
        Ok((Request::from_parts(parts, Body::from(bytes)), [place, room]))
    }
}

/// An answer that the router or an extractor made in a library's words, said in ours; any other as it is.
fn in_our_words(response: Response) -> Response {
    let is_page = |kind: &HeaderValue| kind.as_bytes().starts_with(b"text/html");
    let status = response.status();
    if !status.is_client_error() || response.headers().get(header::CONTENT_TYPE).is_some_and(is_page) {
        return response;
    }
    let (title, why) = match status {
        StatusCode::METHOD_NOT_ALLOWED => ("Not here", "Nothing can be sent to this address in this way."),
        StatusCode::NOT_FOUND => ("Not in the collection", "There is nothing at this address."),
        StatusCode::UNSUPPORTED_MEDIA_TYPE => ("Not saved", "Not saved: it was not sent as a form."),
        _ => ("Not understood", "The address or a field of it cannot be read. Nothing was saved."),
    };
    let (parts, _) = response.into_parts();
    let mut ours = Answer::no(status, title, why.into()).into_response();
    ours.headers_mut().extend(parts.headers.get(header::ALLOW).map(|allow| (header::ALLOW, allow.clone())));
    ours
}

type Held = [OwnedSemaphorePermit; 2];

/// Runs what a handler does on a thread that may wait, in its lane, with its body already here; a handler that panics is answered in
/// words. A request that its sender gives up on is still worked on to its end. A batch of readings goes its own way: its token comes first.
pub async fn run(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    let kind = kind_of(&request);
    if kind == Kind::Readings {
        return next.run(request).await;
    }
    match app.lanes.prepared(kind, request).await {
        Err(no) => no.into_response(),
        Ok((request, held)) => {
            let line = Handle::current();
            let run = move || {
                let _held = held;
                line.block_on(next.run(request))
            };
            in_our_words(spawn_blocking(run).await.unwrap_or_else(|_| Answer::broken().into_response()))
        }
    }
}

/// What the route of a request is, by the table; a page where there is none.
pub fn kind_of(request: &Request) -> Kind {
    let Some(path) = request.extensions().get::<MatchedPath>() else { return Kind::Page };
    let method = if request.method() == Method::POST { "post" } else { "get" };
    let route = ROUTES.iter().find(|route| route.method == method && route.path == path.as_str());
    route.map_or(Kind::Page, |route| route.kind)
}

/// Why a request is not worked on.
#[derive(Debug)]
enum Busy {
    /// Too many others wait.
    Later,
    No(Answer),
}

impl IntoResponse for Busy {
    fn into_response(self) -> Response {
        match self {
            Busy::No(answer) => answer.into_response(),
            Busy::Later => {
                let why = "Too much is being worked on at once. Nothing was saved; wait a few seconds and send it again.";
                let answer = Answer::no(StatusCode::SERVICE_UNAVAILABLE, "Busy just now", why.into());
                let mut response = answer.into_response();
                response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from_static("5"));
                response
            }
        }
    }
}

/// Why a body did not come whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stopped {
    /// It has more bytes than it may have.
    TooLarge(usize),
    /// It stood still, came slower than a telephone sends, or its line broke.
    BrokenOff,
}

impl From<Stopped> for Busy {
    fn from(why: Stopped) -> Busy {
        Busy::No(match why {
            Stopped::TooLarge(most) => {
                let why = format!(
                    "Not saved: it is larger than the {} MB that can be sent at once.",
                    most / 1024 / 1024
                );
                Answer::no(StatusCode::PAYLOAD_TOO_LARGE, "Too large", why)
            }
            Stopped::BrokenOff => {
                let why = "Not saved: the upload stopped before it was complete. Send it again.";
                Answer::no(StatusCode::BAD_REQUEST, "The upload broke off", why.into())
            }
        })
    }
}

/// Reads on and keeps nothing, up to four times a most: a sender that is still sending when its line is closed never reads why.
async fn thrown_away(body: &mut Body, most: usize) {
    let mut left = most.saturating_mul(4);
    while left > 0 {
        let Some(Ok(frame)) = body.frame().await else { return };
        left = left.saturating_sub(frame.data_ref().map_or(1, |more| more.len().max(1)));
    }
}

/// Reads a body of no more bytes than a most, in a time that its size allows.
pub async fn whole_body(mut body: Body, most: usize) -> Result<Bytes, Stopped> {
    let told = body.size_hint().exact().and_then(|size| usize::try_from(size).ok());
    if told.is_some_and(|size| size > most) {
        let _ = timeout(STILL, thrown_away(&mut body, most)).await;
        return Err(Stopped::TooLarge(most));
    }
    let mut bytes = Vec::with_capacity(told.unwrap_or(0));
    let gathered = async {
        while let Some(frame) = timeout(STILL, body.frame()).await.map_err(|_| Stopped::BrokenOff)? {
            let frame = frame.map_err(|_| Stopped::BrokenOff)?;
            let more = frame.data_ref().map_or(&[][..], |more| more);
            if bytes.len() + more.len() > most {
                return Err(Stopped::TooLarge(most));
            }
            bytes.extend_from_slice(more);
        }
        Ok(())
    };
    let time = GRACE + Duration::from_secs((told.unwrap_or(most) / SLOWEST) as u64);
    timeout(time, gathered).await.map_err(|_| Stopped::BrokenOff)??;
    Ok(bytes.into())
}

#[cfg(test)]
mod tests;
