//! Batches of readings from a home logger: each row is checked, the good ones are kept whole, the others are named.

mod row;

use collection::reading::{Measured, Reading};
use serde_json::Value;
use store::{
    error::Error,
    reading::Outcome,
    store::{Act, Store},
};

/// Most readings in one batch.
pub const MOST: usize = 5_000;

/// Why nothing of a batch was taken.
#[derive(Debug, thiserror::Error)]
pub enum BatchError {
    /// It is no batch.
    #[error("this is no batch of readings: {0}")]
    Unreadable(String),
    /// It holds too many readings.
    #[error("{0} readings are too many for one batch; send at most {MOST} at a time")]
    TooMany(usize),
    /// The store did not do it.
    #[error(transparent)]
    Store(#[from] Error),
}

/// A reading that was not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Its place in the batch, from 0.
    pub index: usize,
    /// What stood there.
    pub value: String,
    /// Why it was not taken.
    pub why: String,
}

/// What became of a batch; every reading of it is counted once.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Receipt {
    /// New, and now kept.
    pub taken: usize,
    /// The very same were kept already.
    pub known: usize,
    /// Not taken, by their place in the batch.
    pub refused: Vec<Refused>,
}

/// A batch looked through, ready to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// When it came, seconds since 1970.
    now: i64,
    /// Readings that can be, with their place in the batch.
    readings: Vec<Reading>,
    places: Vec<usize>,
    refused: Vec<Refused>,
}

/// Looks a batch through that came `now`, seconds since 1970, without writing anything.
///
/// # Errors
///
/// [`BatchError`] when it is no batch or too long.
pub fn read(body: &[u8], now: i64) -> Result<Batch, BatchError> {
    let rows = rows(body)?;
    let (readings, places) = (Vec::with_capacity(rows.len()), Vec::with_capacity(rows.len()));
    let mut batch = Batch { now, readings, places, refused: Vec::new() };
    for (index, value) in rows.iter().enumerate() {
        match row::read(value, now) {
            Ok(reading) => {
                batch.readings.push(reading);
                batch.places.push(index);
            }
            Err((value, why)) => batch.refused.push(Refused { index, value, why }),
        }
    }
    Ok(batch)
}

/// Keeps a sensor's batch; when this returns `Ok`, what it counts as taken is written, and no kill loses it.
///
/// A batch may come twice, late, or in any order: a reading is known by its place or tree, its kind and its second,
/// and one that stands is never changed.
///
/// # Errors
///
/// [`BatchError::Store`]; then nothing of it was taken.
///
/// # Example
///
/// ```
/// use intake::{import::{Kind, Options, import}, readings::{keep, read}, token};
///
/// let mut store = store::store::Store::in_memory()?;
/// import(&mut store, &Kind::Places, "places.csv", b"name,shelter\nShed,cold-frame\n", &Options::default()).unwrap();
/// token::make(&mut store, "hut", 1_784_000_000).unwrap();
/// let body = br#"{"readings": [{"place": "shed", "kind": "temperature", "at": 1784000000, "value": 3.1}]}"#;
/// let batch = read(body, 1_784_000_000)?;
/// let first = keep(&mut store, "hut", batch.clone())?;
/// let again = keep(&mut store, "hut", batch)?;
/// assert_eq!((first.taken, again.taken, again.known), (1, 0, 1));
/// # Ok::<(), intake::readings::BatchError>(())
/// ```
pub fn keep(store: &mut Store, sender: &str, batch: Batch) -> Result<Receipt, BatchError> {
    let Batch { now, readings, places, refused } = batch;
    let act = Act::Readings(sender.into());
    let outcomes = store.transact(&act, |change| change.add_readings(sender, now, &readings))?;
    let mut receipt = Receipt { refused, ..Receipt::default() };
    for ((index, reading), outcome) in places.into_iter().zip(&readings).zip(outcomes) {
        match outcome {
            Outcome::Added => receipt.taken += 1,
            Outcome::Known => receipt.known += 1,
            Outcome::Differs(stands) => receipt.refused.push(differs(index, reading, stands)),
            Outcome::Nowhere => receipt.refused.push(nowhere(index, reading)),
        }
    }
    receipt.refused.sort_by_key(|refused| refused.index);
    Ok(receipt)
}

/// The rows of a batch, not looked at yet.
fn rows(body: &[u8]) -> Result<Vec<Value>, BatchError> {
    let batch: Value =
        serde_json::from_slice(body).map_err(|why| BatchError::Unreadable(format!("not JSON ({why})")))?;
    let Value::Object(mut batch) = batch else {
        return Err(BatchError::Unreadable("it should look like {\"readings\": [...]}".into()));
    };
    match batch.remove("readings") {
        Some(Value::Array(rows)) if rows.len() > MOST => Err(BatchError::TooMany(rows.len())),
        Some(Value::Array(rows)) => Ok(rows),
        _ => Err(BatchError::Unreadable("it has no list called “readings”".into())),
    }
}

fn differs(index: usize, sent: &Reading, stands: Measured) -> Refused {
    let shown = |it: Measured| format!("{} {}", it.value(), it.unit());
    let why = format!("{} stands for this second already and was kept", shown(stands));
    Refused { index, value: shown(sent.measured), why }
}

fn nowhere(index: usize, sent: &Reading) -> Refused {
    let what = if matches!(sent.measured, Measured::Weight(_)) { "tree" } else { "place" };
    let why = format!("no {what} in the collection has this name");
    Refused { index, value: sent.thing.clone(), why }
}

#[cfg(test)]
mod tests;
