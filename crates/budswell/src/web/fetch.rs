//! The forecast, fetched when the grower says so and never by itself.

use std::sync::Arc;

use axum::{extract::State, http::StatusCode};
use intake::fetch::{FetchError, Question, age};
use jiff::{Timestamp, tz::TimeZone};
use view::whole::Whole;

use crate::web::{App, answer::Answer};

/// The forecast as the Site page tells of it.
pub struct Told {
    /// What is held, in a sentence.
    pub held: String,
    /// The place as it would go out; empty until the site is set.
    pub place: String,
}

/// What is held at a moment, and what would be sent.
pub fn told(whole: &Whole, now: Timestamp) -> Told {
    let held = match whole.fetched {
        Some(at) => format!("The forecast held here was fetched {} ago.", age(now.as_second() - at)),
        None => "No forecast was fetched yet.".into(),
    };
    let place = whole.site.as_ref().map_or_else(String::new, |site| {
        format!("{:.2}° north, {:.2}° east", site.latitude.0, site.longitude.0)
    });
    Told { held, place }
}

fn no(why: FetchError) -> Answer {
    match why {
        FetchError::Store(why) => Answer::store(why),
        FetchError::NoSite => Answer::no(StatusCode::CONFLICT, "No forecast", why.to_string()),
        why => Answer::no(StatusCode::BAD_GATEWAY, "No forecast", why.to_string()),
    }
}

/// Fetches the forecast; nothing is locked while the line is slow.
pub async fn fetch(State(app): State<Arc<App>>) -> Result<Answer, Answer> {
    let now = app.clock();
    let question = {
        let reader = app.reader();
        Question::of(&reader, now.as_second()).map_err(no)?
    };
    if let Some(day) = app.stands_elsewhere(now)? {
        let why =
            format!("These pages stand on {day}; a forecast tells only of the days from the real today.");
        return Err(Answer::no(StatusCode::CONFLICT, "No forecast", why));
    }
    let service = app.service.clone();
    let asked = tokio::task::spawn_blocking(move || question.ask(&service, now.as_second())).await;
    let reply = asked.map_err(|_| Answer::broken())?.map_err(no)?;
    app.change(|store| reply.keep(store, now.as_second()).map_err(no))?;
    Ok(Answer::See("/site#forecast".into()))
}

impl App {
    /// The fixed day, where it is not the real one.
    fn stands_elsewhere(&self, now: Timestamp) -> Result<Option<jiff::civil::Date>, Answer> {
        let site = self.reader().site().map_err(Answer::store)?;
        let zone = site.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
        Ok(self.today.filter(|&today| today != zone.to_datetime(now).date()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use intake::{
        fetch::Service,
        import::{Kind, Options},
    };
    use std::{
        io::{Read, Write},
        net::TcpListener,
        path::Path,
    };
    use store::store::Store;

    fn app(base: &str, folder: &Path, today: Option<jiff::civil::Date>) -> Arc<App> {
        let mut store = Store::in_memory().unwrap();
        let site = b"name,latitude,longitude,elevation,zone,units\nHome,47.4,8.5,450,Europe/Zurich,metric\n";
        intake::import::import(&mut store, &Kind::Site, "site.csv", site, &Options::default()).unwrap();
        let service = Service { forecast: base.into(), ..Service::open_meteo(folder.into()) };
        Arc::new(App::new(store, service, today).unwrap())
    }

    fn click(app: &Arc<App>) -> Result<Answer, Answer> {
        let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
        runtime.block_on(fetch(State(Arc::clone(app))))
    }

    /// A server that answers once, with an hour from now.
    fn server() -> String {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let base = format!("http://{}", listener.local_addr().unwrap());
        std::thread::spawn(move || {
            let (mut stream, _) = listener.accept().unwrap();
            let _ = stream.read(&mut [0; 4096]);
            let hour = (Timestamp::now().as_second() / 3600 + 1) * 3600;
            let body = format!(
                r#"{{"latitude": 47.4, "longitude": 8.5, "hourly": {{"time": [{hour}], "temperature_2m": [3.5]}}}}"#
            );
            let head = format!("HTTP/1.1 200 OK\r\nContent-Length: {}\r\nConnection: close", body.len());
            let _ = write!(stream, "{head}\r\n\r\n{body}");
        });
        base
    }

    #[test]
    fn a_click_brings_the_forecast_and_the_page_tells_its_age() {
        let folder = tempfile::tempdir().unwrap();
        let app = app(&server(), folder.path(), None);
        assert_eq!(told(&app.whole().unwrap(), Timestamp::now()).held, "No forecast was fetched yet.");
        assert!(matches!(click(&app), Ok(Answer::See(path)) if path == "/site#forecast"));
        let told = told(&app.whole().unwrap(), Timestamp::now());
        assert_eq!(told.held, "The forecast held here was fetched less than a minute ago.");
        assert_eq!(told.place, "47.40° north, 8.50° east");
    }

    #[test]
    fn a_click_on_another_day_than_today_asks_nobody() {
        let folder = tempfile::tempdir().unwrap();
        let app = app("http://127.0.0.1:1", folder.path(), Some(jiff::civil::date(2001, 3, 8)));
        let Err(Answer::No { status, why, .. }) = click(&app) else { panic!("it was fetched") };
        assert_eq!(status, StatusCode::CONFLICT);
        assert!(why.contains("2001-03-08"), "{why}");
    }

    #[test]
    fn a_click_without_a_line_says_so() {
        let folder = tempfile::tempdir().unwrap();
        let app = app("http://127.0.0.1:1", folder.path(), None);
        let Err(Answer::No { status, why, .. }) = click(&app) else { panic!("it was fetched") };
        assert_eq!(status, StatusCode::BAD_GATEWAY);
        assert!(why.contains("cannot be reached") && why.contains("no forecast is held"), "{why}");
    }
}
