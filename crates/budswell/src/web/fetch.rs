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

/// What is held and what would be sent.
pub fn told(whole: &Whole) -> Told {
    let held = match whole.fetched {
        Some(at) => {
            format!("The forecast held here was fetched {} ago.", age(Timestamp::now().as_second() - at))
        }
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
    let now = Timestamp::now();
    let question = {
        let reader = app.reader.lock().map_err(|_| Answer::broken())?;
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
        let site = self.reader.lock().map_err(|_| Answer::broken())?.site().map_err(Answer::store)?;
        let zone = site.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
        Ok(self.today.filter(|&today| today != zone.to_datetime(now).date()))
    }
}
