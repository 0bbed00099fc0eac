//! A logger in a place of a made collection: what the place would read by itself, with hours changed where a test wants it.

use climate::shelter::ShelterModel;
use intake::import::{Kind, Options, import};
use jiff::{
    ToSpan,
    civil::{Date, DateTime},
};
use measure::quantity::{Degrees, Hours};
use season::air::{Spot, sun_on};
use store::store::Store;

use super::{Side, on};

/// A cellar: slow, and warmer than the outside in winter.
pub const CELLAR: ShelterModel = ShelterModel { lag: Hours(30.0), offset: 3.5, share: 0.3, sun: 0.0 };

/// Where a side is.
pub fn spot(side: Side) -> Spot {
    match side {
        Side::North => Spot { latitude: Degrees(47.4), longitude: Degrees(8.5) },
        Side::South => Spot { latitude: Degrees(-37.0), longitude: Degrees(174.8) },
    }
}

/// A logger's file over some days of the north: the hours of the solar clock by the north's calendar, changed on the way, by UTC.
pub fn file(
    store: &Store,
    side: Side,
    model: ShelterModel,
    [from, to]: [Date; 2],
    change: impl Fn(DateTime, f64) -> f64,
) -> String {
    let whole = on(store, side.day(to));
    let outside = whole.outside.as_ref().unwrap();
    let read = model.series(&outside.hours, &sun_on(spot(side), outside));
    let mut text = String::from("time,temp_c\n");
    for (rank, read) in read.iter().enumerate() {
        let day = outside.first + (rank as i64 / 24).days();
        let north = if side == Side::North { day } else { day - 6.months() };
        if !(from..=to).contains(&north) || day > whole.today {
            continue;
        }
        let hour = north.at((rank % 24) as i8, 0, 0, 0);
        let at = jiff::Timestamp::from_second(outside.moment(spot(side), rank)).unwrap();
        text.push_str(&format!("{at},{:.2}\n", change(hour, *read)));
    }
    text
}

/// Takes a logger's file in, of a sensor of this name.
pub fn hang(store: &mut Store, place: &str, sensor: &str, text: &str) {
    let kind = Kind::from_key("logger", place).unwrap().of_sensor(sensor);
    import(store, &kind, "logger.csv", text.as_bytes(), &Options::default())
        .unwrap_or_else(|why| panic!("{place}, {sensor}: {why:?}"));
}
