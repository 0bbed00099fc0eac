//! Bad days of places and checks of sensors as answered and typed: checked, then saved as one act each.

use collection::incident::{IceCheck, Incident, Said};
use jiff::civil::Date;
use measure::quantity::{Celsius, Fahrenheit, Units};
use store::store::{Act, Store};

use crate::{
    limits::NAME,
    record::{FormError, bad, day, line, number},
};

/// The grower's answer about odd hours of a place.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct AnswerForm<'a> {
    pub place: &'a str,
    /// The stretch, as the page showed it: seconds since 1970.
    pub since: &'a str,
    pub until: &'a str,
    /// `happened`, or `logger` where that alone was wrong.
    pub said: &'a str,
    /// The sensor that was wrong; every one of the place where empty.
    pub sensor: &'a str,
}

impl AnswerForm<'_> {
    /// Its stretch.
    ///
    /// # Errors
    ///
    /// [`FormError`] where it is none.
    pub fn span(&self) -> Result<[i64; 2], FormError> {
        let read = |field, typed: &str| {
            typed.trim().parse::<i64>().map_err(|_| bad(field, typed, "is not a moment of that page"))
        };
        Ok([read("since", self.since)?, read("until", self.until)?])
    }
}

/// Keeps a bad day, or that the logger alone was wrong; `found` is what its page shows of that stretch, none where there is none, and
/// `sensors` are the names of those of the place.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn answer(
    store: &mut Store,
    form: AnswerForm<'_>,
    found: Option<Incident>,
    sensors: &[String],
) -> Result<bool, FormError> {
    form.span()?;
    let said = Said::from_key(form.said).ok_or_else(|| bad("answer", form.said, "is no answer we know"))?;
    let Some(found) = found else {
        return Err(bad("stretch", form.since, "is not on the page any more; look at it again"));
    };
    let sensor = match (said, form.sensor) {
        (Said::Happened, "") | (Said::Logger, "") => None,
        (Said::Happened, name) => return Err(bad("sensor", name, "does not go with what happened")),
        (Said::Logger, name) if sensors.iter().any(|it| it == name) => Some(name.to_string()),
        (Said::Logger, name) => return Err(bad("sensor", name, "is no sensor of this place")),
    };
    let trees = if said == Said::Happened { found.trees } else { Vec::new() };
    let kept = Incident { said, sensor, trees, ..found };
    Ok(store.transact(&Act::Incident(kept.place.clone()), |change| change.add_incident(&kept))?)
}

/// Undoes an answer by its number.
///
/// # Errors
///
/// [`FormError`] when there is none of that number in that place.
pub fn undo(store: &mut Store, place: &str, id: i64) -> Result<(), FormError> {
    let stands = store.reader()?.incidents()?.into_iter().any(|(own, it)| own == id && it.place == place);
    if !stands {
        return Err(bad("bad day", &id.to_string(), "is not kept of this place"));
    }
    Ok(store.transact(&Act::Incident(place.into()), |change| change.remove_incident(id))?)
}

/// A check in ice water as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct IceForm<'a> {
    pub place: &'a str,
    pub sensor: &'a str,
    pub day: &'a str,
    /// What it showed, in the site's unit.
    pub shown: &'a str,
}

/// Furthest that a sensor may be off in ice water, K: what is further off is broken, or the water was not ice water.
const FURTHEST: f64 = 5.0;

/// Saves what a sensor showed in ice water; `sensors` are the names of those of the place. True where it is new or different.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
///
/// ```
/// use intake::incident::{IceForm, ice_check};
/// use jiff::civil::date;
/// use measure::quantity::Units;
///
/// let mut store = store::store::Store::in_memory()?;
/// let form = IceForm { place: "shed", sensor: "wall", day: "2026-11-03", shown: "7" };
/// let told = ice_check(&mut store, form, &["wall".into()], Units::Metric, date(2026, 11, 4));
/// assert!(told.is_err(), "seven degrees off is no sensor");
/// # Ok::<(), store::error::Error>(())
/// ```
pub fn ice_check(
    store: &mut Store,
    form: IceForm<'_>,
    sensors: &[String],
    units: Units,
    today: Date,
) -> Result<bool, FormError> {
    if !sensors.iter().any(|it| it == form.sensor) {
        return Err(bad("sensor", form.sensor, "is no sensor of this place"));
    }
    let typed = form.shown.trim().replace(',', ".").replace('\u{2212}', "-");
    let shown = match units {
        Units::Metric => number("shown", &typed, -FURTHEST, FURTHEST)?,
        Units::Imperial => {
            let [low, high] = [-FURTHEST, FURTHEST].map(|it| Celsius(it).fahrenheit().0);
            Fahrenheit(number("shown", &typed, low, high)?).celsius().0
        }
    };
    let check = IceCheck {
        place: form.place.to_string(),
        sensor: line("sensor", form.sensor, NAME)?,
        day: day(form.day, today)?,
        shown: Celsius(shown),
    };
    Ok(store.transact(&Act::IceCheck(check.place.clone()), |change| change.set_ice_check(&check))?)
}

/// Undoes a check in ice water by its number.
///
/// # Errors
///
/// [`FormError`] when there is none of that number in that place.
pub fn undo_check(store: &mut Store, place: &str, id: i64) -> Result<(), FormError> {
    let stands = store.reader()?.ice_checks()?.into_iter().any(|(own, it)| own == id && it.place == place);
    if !stands {
        return Err(bad("ice-water check", &id.to_string(), "is not kept of this place"));
    }
    Ok(store.transact(&Act::IceCheck(place.into()), |change| change.remove_ice_check(id))?)
}
