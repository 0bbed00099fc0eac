//! Checks of the lanes: who waits, who is sent away, what a panic and a slow sender come to.

use std::{
    convert::Infallible,
    pin::Pin,
    task::{Context, Poll},
};

use axum::{Router, body::HttpBody, middleware, routing::get};
use hyper::body::Frame;
use intake::fetch::Service;
use store::store::Store;
use tokio::time::{Sleep, sleep};
use tower::ServiceExt;

use super::*;

fn app() -> Arc<App> {
    let store = Store::in_memory().unwrap();
    Arc::new(App::new(store, Service::open_meteo(std::env::temp_dir()), None).unwrap())
}

/// A body of single bytes, one after each wait, without end.
struct Drip(Duration, Pin<Box<Sleep>>);

impl Drip {
    fn every(seconds: u64) -> Body {
        let wait = Duration::from_secs(seconds);
        Body::new(Drip(wait, Box::pin(sleep(wait))))
    }
}

impl HttpBody for Drip {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        let wait = self.0;
        self.1.as_mut().poll(context).map(|()| {
            self.1 = Box::pin(sleep(wait));
            Some(Ok(Frame::data(Bytes::from_static(b"x"))))
        })
    }
}

#[tokio::test(start_paused = true)]
async fn a_body_that_stands_still_or_drips_has_broken_off() {
    assert_eq!(whole_body(Drip::every(11), 1000).await, Err(Stopped::BrokenOff));
    let begun = tokio::time::Instant::now();
    assert_eq!(whole_body(Drip::every(9), LARGEST_FORM).await, Err(Stopped::BrokenOff));
    let took = begun.elapsed().as_secs();
    assert!((20..=60).contains(&took), "given up after {took} s");
    assert_eq!(whole_body(Drip::every(1), 5).await, Err(Stopped::TooLarge(5)));
}

#[tokio::test]
async fn a_body_is_taken_up_to_its_most() {
    let body = |size: usize| Body::from(vec![7_u8; size]);
    assert_eq!(whole_body(body(10), 10).await.unwrap().len(), 10);
    assert_eq!(whole_body(body(11), 10).await, Err(Stopped::TooLarge(10)));
}

#[tokio::test]
async fn a_lane_takes_some_lets_some_wait_and_sends_the_rest_away() {
    let lane = Arc::new(Lane::new(1, 1));
    let first = lane.place().await.unwrap();
    let waits = tokio::spawn({
        let lane = Arc::clone(&lane);
        async move { lane.place().await.is_some() }
    });
    while lane.waiting.load(Ordering::Relaxed) == 0 {
        tokio::task::yield_now().await;
    }
    assert!(lane.place().await.is_none(), "a third is let in");
    drop(first);
    assert!(waits.await.unwrap());
    assert_eq!(lane.waiting.load(Ordering::Relaxed), 0);
    assert!(lane.place().await.is_some());
}

#[tokio::test]
async fn one_that_waits_and_gives_up_leaves_its_turn() {
    let lane = Lane::new(1, 1);
    let _first = lane.place().await.unwrap();
    assert!(timeout(Duration::from_millis(5), lane.place()).await.is_err());
    assert_eq!(lane.waiting.load(Ordering::Relaxed), 0);
}

#[tokio::test]
async fn who_is_sent_away_is_told_when_to_come_again() {
    let response = Busy::Later.into_response();
    assert_eq!(response.status(), StatusCode::SERVICE_UNAVAILABLE);
    assert_eq!(response.headers()["retry-after"], "5");
}

fn ask(path: &str) -> Request {
    Request::builder().uri(path).body(Body::empty()).unwrap()
}

#[tokio::test]
async fn a_panic_is_one_answer_and_the_next_is_as_ever() {
    async fn breaks(State(app): State<Arc<App>>) -> Response {
        let broken: Result<(), Answer> = app.change(|_| panic!("a fault of ours"));
        broken.into_response()
    }
    async fn works(State(app): State<Arc<App>>) -> Response {
        let trees = app.change(|store| {
            store.reader().and_then(|reader| reader.trees()).map(|it| it.len()).map_err(Answer::store)
        });
        trees.map(|count| count.to_string()).into_response()
    }
    let app = app();
    let router = Router::new()
        .route("/breaks", get(breaks))
        .route("/works", get(works))
        .layer(middleware::from_fn_with_state(Arc::clone(&app), run))
        .with_state(Arc::clone(&app));
    for _ in 0..3 {
        let broken = router.clone().oneshot(ask("/breaks")).await.unwrap();
        assert_eq!(broken.status(), StatusCode::INTERNAL_SERVER_ERROR);
        let page = broken.into_body().collect().await.unwrap().to_bytes();
        assert!(String::from_utf8_lossy(&page).contains("<h1>"), "not one of our pages");
        let works = router.clone().oneshot(ask("/works")).await.unwrap();
        assert_eq!(works.status(), StatusCode::OK);
    }
    assert!(app.whole().is_ok());
}

#[tokio::test]
async fn a_long_handler_does_not_hold_the_thread_that_listens() {
    // The test runs on one thread: if the handler ran on it, the second request could not end before the first.
    async fn long(State(app): State<Arc<App>>) -> &'static str {
        while app.trusted.load(Ordering::Relaxed) != 1 {
            std::thread::sleep(Duration::from_millis(1));
        }
        "done"
    }
    async fn short(State(app): State<Arc<App>>) -> &'static str {
        app.trusted.store(1, Ordering::Relaxed);
        "done"
    }
    let app = app();
    let router = Router::new()
        .route("/long", get(long))
        .route("/short", get(short))
        .layer(middleware::from_fn_with_state(Arc::clone(&app), run))
        .with_state(app);
    let long = tokio::spawn(router.clone().oneshot(ask("/long")));
    tokio::task::yield_now().await;
    assert_eq!(router.oneshot(ask("/short")).await.unwrap().status(), StatusCode::OK);
    assert_eq!(long.await.unwrap().unwrap().status(), StatusCode::OK);
}
