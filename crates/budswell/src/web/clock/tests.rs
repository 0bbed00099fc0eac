//! Checks of the clock: a page says that it stands behind, a form is asked about, and saved on a yes.

use axum::http::Method;
use http_body_util::BodyExt;
use intake::{
    fetch::Service,
    import::{Kind as FileKind, Options, import},
};
use store::store::Store;
use tower::ServiceExt;

use super::*;
use crate::web::routes;

fn at_2001() -> Timestamp {
    "2001-03-08T10:00:00Z".parse().unwrap()
}

/// A collection with one line in its log, of the real now.
fn app(clock: fn() -> Timestamp) -> Arc<App> {
    let mut store = Store::in_memory().unwrap();
    let places = b"name,shelter\nFrame,cold-frame\n";
    import(&mut store, &FileKind::Places, "places.csv", places, &Options::default()).unwrap();
    let service = Service::open_meteo(std::env::temp_dir());
    Arc::new(App { clock, ..App::new(store, service, None).unwrap() })
}

async fn send(app: &Arc<App>, method: Method, path: &str, body: &str) -> (StatusCode, String) {
    let request = Request::builder()
        .method(method)
        .uri(path)
        .header("host", "localhost")
        .header("content-type", "application/x-www-form-urlencoded")
        .body(Body::from(body.to_string()))
        .unwrap();
    let response = routes(Arc::clone(app)).oneshot(request).await.unwrap();
    let status = response.status();
    let bytes = response.into_body().collect().await.unwrap().to_bytes();
    (status, String::from_utf8_lossy(&bytes).into_owned())
}

fn places(app: &App) -> usize {
    app.reader().places().unwrap().len()
}

const PLACE: &str = "name=Porch+%26+steps&shelter=cool-sill&back=";

#[tokio::test]
async fn a_clock_that_was_set_back_is_said_and_asked_about() {
    let app = app(at_2001);
    let (status, page) = send(&app, Method::GET, "/places", "").await;
    assert!(
        status == StatusCode::OK
            && page.contains("role=\"status\">The clock of this machine says 2001-03-08 10:00 UTC")
    );

    let (status, page) = send(&app, Method::POST, "/places", PLACE).await;
    assert_eq!((status, places(&app)), (StatusCode::CONFLICT, 1));
    assert!(
        page.contains("action=\"/places\"") && page.contains("name=\"name\" value=\"Porch &#38; steps\""),
        "{page}"
    );

    let newest = app.behind().unwrap().unwrap().newest.as_second();
    let (status, _) =
        send(&app, Method::POST, "/places", &format!("{PLACE}&despite_clock={}", newest - 1)).await;
    assert_eq!((status, places(&app)), (StatusCode::CONFLICT, 1), "another moment than was shown");
    let (status, _) = send(&app, Method::POST, "/places", &format!("{PLACE}&despite_clock={newest}")).await;
    assert_eq!((status, places(&app)), (StatusCode::SEE_OTHER, 2));
}

#[tokio::test]
async fn a_clock_that_the_grower_trusts_is_not_asked_about_again() {
    let app = app(at_2001);
    let newest = app.behind().unwrap().unwrap().newest.as_second();
    let (status, _) = send(&app, Method::POST, "/clock", &format!("newest={newest}")).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (_, page) = send(&app, Method::GET, "/places", "").await;
    assert!(!page.contains("The clock of this machine"));
    let (status, _) = send(&app, Method::POST, "/places", PLACE).await;
    assert_eq!((status, places(&app)), (StatusCode::SEE_OTHER, 2));
}

#[tokio::test]
async fn a_clock_that_goes_on_is_never_asked_about() {
    let app = app(Timestamp::now);
    assert_eq!(app.behind().unwrap(), None);
    let (status, _) = send(&app, Method::POST, "/places", PLACE).await;
    assert_eq!((status, places(&app)), (StatusCode::SEE_OTHER, 2));
}
