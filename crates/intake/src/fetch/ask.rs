//! One question to the service: the kept reply if it is fresh, else the line with patience and repeats.

use backon::{BlockingRetryable, ExponentialBuilder};
use serde_json::Value;
use ureq::Agent;

use super::{FetchError, Service, cache};
use crate::forecast_reply::{self, ForecastReply};

/// A kept reply younger than this is not asked for again, seconds.
const FRESH: i64 = 3600;

/// Most bytes of a reply; a year of hours takes a twentieth of it.
const LARGEST: u64 = 4 * 1024 * 1024;

/// Times a question is asked again when the service is busy or slow.
const REPEATS: usize = 2;

/// What is asked for, and the name that its reply is kept under.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    pub name: String,
    pub address: String,
}

/// Where a reply came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum How {
    /// The service, just now.
    Asked,
    /// The kept reply, because it is younger than an hour.
    Fresh,
    /// The kept reply, because the service could not be reached; and what the line said.
    Offline(String),
}

/// A reply with its time.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Got {
    pub reply: ForecastReply,
    pub at: i64,
    pub how: How,
    pub notes: Vec<String>,
}

/// Why no reply came.
enum Miss {
    /// The service answered, but with this.
    Status(u16, Vec<u8>),
    /// The line broke.
    Line(ureq::Error),
}

impl Miss {
    /// Whether asking again may help.
    fn passes(&self) -> bool {
        match self {
            Miss::Status(status, _) => *status == 429 || *status >= 500,
            Miss::Line(why) => matches!(why, ureq::Error::Timeout(_)),
        }
    }
}

pub(super) fn ask(service: &Service, wanted: &Wanted, now: i64) -> Result<Got, FetchError> {
    let kept = cache::read(&service.cache, &wanted.name);
    let of_kept = |kept: cache::Kept, how| Got { reply: kept.reply, at: kept.at, how, notes: Vec::new() };
    let kept = match kept {
        Some(kept) if kept.address == wanted.address && (0..FRESH).contains(&(now - kept.at)) => {
            return Ok(of_kept(kept, How::Fresh));
        }
        other => other,
    };
    match get(service, &wanted.address) {
        Ok(bytes) => taken(service, wanted, now, &bytes),
        Err(Miss::Status(status, bytes)) => {
            let reason = reason(&bytes).unwrap_or_else(|| "no reason given".into());
            Err(FetchError::Refused { status, reason })
        }
        Err(Miss::Line(ureq::Error::BodyExceedsLimit(_))) => {
            Err(FetchError::NotUnderstood("it is larger than any forecast".into()))
        }
        Err(Miss::Line(why)) => match kept {
            Some(kept) => Ok(of_kept(kept, How::Offline(why.to_string()))),
            None => Err(FetchError::Offline { why: why.to_string(), held: None }),
        },
    }
}

/// Reads a reply, and keeps it once it was understood.
fn taken(service: &Service, wanted: &Wanted, now: i64, bytes: &[u8]) -> Result<Got, FetchError> {
    if let Some(reason) = reason(bytes) {
        return Err(FetchError::Refused { status: 200, reason });
    }
    let reply = forecast_reply::read(bytes).map_err(|refusal| {
        let value =
            if refusal.value.is_empty() { String::new() } else { format!("“{}” ", refusal.value) };
        FetchError::NotUnderstood(format!("{value}{}", refusal.why))
    })?;
    let mut notes: Vec<String> = reply.notes.iter().map(|note| note.to_string()).collect();
    if let Err(why) = cache::keep(&service.cache, wanted, now, bytes) {
        notes.push(format!("the reply could not be kept in {}: {why}", service.cache.display()));
    }
    Ok(Got { reply, at: now, how: How::Asked, notes })
}

/// The reason in an error reply.
fn reason(bytes: &[u8]) -> Option<String> {
    let reply: Value = serde_json::from_slice(bytes).ok()?;
    (reply["error"] == Value::Bool(true))
        .then(|| reply["reason"].as_str().unwrap_or("no reason given").to_string())
}

fn get(service: &Service, address: &str) -> Result<Vec<u8>, Miss> {
    let agent = agent(service, address);
    let repeats =
        ExponentialBuilder::default().with_min_delay(service.pause).with_factor(2.0).with_max_times(REPEATS);
    (|| once(&agent, address)).retry(repeats).when(Miss::passes).call()
}

/// Follows no way to another host, since the grower was told which one hears of the place.
fn agent(service: &Service, address: &str) -> Agent {
    let mut config = Agent::config_builder()
        .timeout_global(Some(service.patience))
        .http_status_as_error(false)
        .max_redirects(0)
        .max_redirects_will_error(false)
        .user_agent(concat!("budswell/", env!("CARGO_PKG_VERSION")));
    if address.starts_with("http://127.0.0.1") {
        config = config.proxy(None);
    }
    config.build().new_agent()
}

fn once(agent: &Agent, address: &str) -> Result<Vec<u8>, Miss> {
    let mut response = agent.get(address).call().map_err(Miss::Line)?;
    let status = response.status();
    let bytes = response.body_mut().with_config().limit(LARGEST).read_to_vec().map_err(Miss::Line)?;
    if status.is_success() { Ok(bytes) } else { Err(Miss::Status(status.as_u16(), bytes)) }
}
