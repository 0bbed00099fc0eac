//! Days of stations put together into winters without a gap, and sightings put beside them.

use std::collections::{BTreeMap, BTreeSet};

use dormancy::model::Season;
use jiff::{ToSpan, civil::Date};
use measure::winter::{Hemisphere, Winter};

/// A station with the daily means it gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Station {
    /// Its name; matched without regard to case.
    pub name: String,
    /// Where it lies.
    pub hemisphere: Hemisphere,
    /// Daily means, °C.
    pub means: BTreeMap<Date, f64>,
}

/// A phase seen in one spring, or a row that does not tell its day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sighting {
    /// The station's name; matched without regard to case.
    pub station: String,
    /// Year of the spring.
    pub year: i16,
    /// Day of that year, 1 being 1 January.
    pub day_of_year: Option<i16>,
}

/// A spring that could not be used.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LeftOut {
    /// Where.
    pub station: String,
    /// Year of the spring.
    pub year: i16,
    /// Why.
    pub why: String,
}

/// A day that was absent alone and was given the mean of its neighbours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filled {
    /// Where.
    pub station: String,
    /// Which day.
    pub date: Date,
}

/// A winter and spring of one station, without a gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Spring {
    /// Where.
    pub station: String,
    /// When.
    pub winter: Winter,
    /// Daily means from day −60, °C.
    mean: Vec<f64>,
}

/// First day a spring must have: 1 November in the north.
const FIRST: i32 = -60;

/// Last day a spring must have: 30 May, or 29 May of a leap year, in the north.
const LAST: i32 = 150;

/// Last day a spring is followed to where its days run on: the end of June in the north.
const LATEST: i32 = 181;

const NO_DAY: &str = "the daily file holds no day of it";

/// The springs of all stations.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    springs: BTreeMap<(String, i16), Spring>,
    stations: BTreeMap<String, String>,
    /// Springs that lack days.
    pub left_out: Vec<LeftOut>,
    /// Days that were filled.
    pub filled: Vec<Filled>,
}

impl Spring {
    /// The days as a model takes them.
    pub fn season(&self) -> Season<'_> {
        Season { first_day: FIRST, mean: &self.mean, day_length: None }
    }

    fn left_out(&self, why: &str) -> LeftOut {
        LeftOut { station: self.station.clone(), year: self.winter.spring_year, why: why.to_string() }
    }

    fn last_day(&self) -> i32 {
        FIRST + self.mean.len() as i32 - 1
    }
}

impl Record {
    /// Every spring of which the stations hold a day, whole or left out; only years that `is_asked` are looked at.
    pub fn gather(stations: &[Station], is_asked: impl Fn(i16) -> bool) -> Record {
        let mut record = Record::default();
        for station in stations {
            let filled = fill_alone(&station.means);
            let key = station.name.to_lowercase();
            record.stations.insert(key.clone(), station.name.clone());
            let winters: BTreeSet<i16> =
                station.means.keys().filter_map(|date| spring_of(*date, station)).collect();
            for year in winters.into_iter().filter(|year| is_asked(*year)) {
                let winter = Winter { spring_year: year, hemisphere: station.hemisphere };
                let mean_on =
                    |day| station.means.get(&winter.date(day)).or_else(|| filled.get(&winter.date(day)));
                match whole(winter, |day| mean_on(day).copied()) {
                    Ok(mean) => {
                        let spring = Spring { station: station.name.clone(), winter, mean };
                        let days = winter.date(FIRST)..=winter.date(spring.last_day());
                        let own = filled.keys().filter(|date| days.contains(date));
                        let own = own.map(|date| Filled { station: station.name.clone(), date: *date });
                        record.filled.extend(own);
                        record.springs.insert((key.clone(), year), spring);
                    }
                    Err(why) => record.left_out.push(LeftOut { station: station.name.clone(), year, why }),
                }
            }
        }
        record
    }

    /// The springs that are whole, by station and year.
    pub fn springs(&self) -> impl Iterator<Item = &Spring> {
        self.springs.values()
    }

    /// Springs with the day number on which the phase was seen, and those of the sightings that cannot be used.
    pub fn dated(&self, sightings: &[Sighting]) -> (Vec<(&Spring, i32)>, Vec<LeftOut>) {
        let (mut dated, mut left_out) = (Vec::new(), Vec::new());
        for sighting in sightings {
            match self.one_dated(sighting) {
                Ok(spring) => dated.push(spring),
                Err(why) => left_out.push(LeftOut {
                    station: self.shown(&sighting.station).unwrap_or(&sighting.station).to_string(),
                    year: sighting.year,
                    why,
                }),
            }
        }
        left_out.extend(self.left_out.iter().cloned());
        left_out.sort();
        left_out.dedup();
        (dated, left_out)
    }

    /// Whole springs of which the sightings have no row.
    pub fn unseen(&self, sightings: &[Sighting]) -> Vec<LeftOut> {
        let seen: BTreeSet<(String, i16)> =
            sightings.iter().map(|sighting| (sighting.station.to_lowercase(), sighting.year)).collect();
        let unseen = self.springs.iter().filter(|(key, _)| !seen.contains(key));
        unseen.map(|(_, spring)| spring.left_out("the observations have no row for it")).collect()
    }

    /// Years asked for of which a station holds no day at all.
    pub fn lacking(&self, years: impl Iterator<Item = i16> + Clone) -> Vec<LeftOut> {
        let known = |name: &str, year| {
            self.springs.contains_key(&(name.to_lowercase(), year))
                || self.left_out.iter().any(|out| out.station == name && out.year == year)
        };
        let asked = self.stations.values().flat_map(|name| years.clone().map(move |year| (name, year)));
        asked
            .filter(|(name, year)| !known(name, *year))
            .map(|(name, year)| LeftOut { station: name.clone(), year, why: NO_DAY.to_string() })
            .collect()
    }

    fn shown(&self, station: &str) -> Option<&str> {
        self.stations.get(&station.to_lowercase()).map(String::as_str)
    }

    fn one_dated(&self, sighting: &Sighting) -> Result<(&Spring, i32), String> {
        let name = self.shown(&sighting.station).ok_or("no daily file was given for this station")?;
        let Some(spring) = self.springs.get(&(name.to_lowercase(), sighting.year)) else {
            let lacking = self.left_out.iter().find(|out| out.station == name && out.year == sighting.year);
            return Err(lacking.map_or(NO_DAY.to_string(), |out| out.why.clone()));
        };
        let day_of_year = sighting.day_of_year.ok_or("the day of the phase is empty")?;
        let date = Date::constant(sighting.year, 1, 1) + i32::from(day_of_year - 1).days();
        let day = spring.winter.day_number(date);
        if (FIRST..=spring.last_day()).contains(&day) {
            Ok((spring, day))
        } else {
            let (from, to) = (spring.winter.date(FIRST), spring.winter.date(spring.last_day()));
            Err(format!("the day of the phase, {date}, lies outside the days used, {from} to {to}"))
        }
    }
}

/// Days that are absent between two that are given, as the mean of these.
fn fill_alone(means: &BTreeMap<Date, f64>) -> BTreeMap<Date, f64> {
    let next = means.iter().skip(1);
    means
        .iter()
        .zip(next)
        .filter_map(|((before, cold), (after, warm))| {
            let absent = before.tomorrow().ok()?;
            (absent.tomorrow().ok()? == *after).then(|| (absent, f64::midpoint(*cold, *warm)))
        })
        .collect()
}

/// Year of the spring that needs a date; none for days of summer and early autumn.
fn spring_of(date: Date, station: &Station) -> Option<i16> {
    let winter = Winter::holding(date, station.hemisphere);
    (FIRST..=LAST).contains(&winter.day_number(date)).then_some(winter.spring_year)
}

/// The days of a winter as far as they run on, or which of those needed are absent.
fn whole(winter: Winter, mean_on: impl Fn(i32) -> Option<f64>) -> Result<Vec<f64>, String> {
    let absent: Vec<i32> = (FIRST..=LAST).filter(|day| mean_on(*day).is_none()).collect();
    let Some(first) = absent.first() else {
        return Ok((FIRST..=LATEST).map_while(mean_on).collect());
    };
    let (from, to) = (winter.date(FIRST), winter.date(LAST));
    let (count, first) = (absent.len(), winter.date(*first));
    Err(format!("of its days from {from} to {to}, {count} have no mean, the first {first}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn station(hemisphere: Hemisphere, absent: &[Date]) -> Station {
        let mut means = BTreeMap::new();
        let mut day = date(1999, 4, 1);
        while day < date(2001, 7, 1) {
            means.insert(day, f64::from(day.day()));
            day = day.tomorrow().expect("not the last of all days");
        }
        means.retain(|day, _| !absent.contains(day));
        Station { name: "Seoul".to_string(), hemisphere, means }
    }

    fn saw(station: &str, year: i16, day_of_year: Option<i16>) -> Sighting {
        Sighting { station: station.to_string(), year, day_of_year }
    }

    #[test]
    fn a_day_absent_alone_is_filled_and_two_leave_their_spring_out() {
        let absent = [date(1999, 12, 31), date(2001, 1, 3), date(2001, 1, 4)];
        let record = Record::gather(&[station(Hemisphere::North, &absent)], |_| true);
        let whole: Vec<i16> = record.springs().map(|spring| spring.winter.spring_year).collect();
        assert_eq!(whole, [2000]);
        assert_eq!(record.filled, [Filled { station: "Seoul".to_string(), date: absent[0] }]);
        assert_eq!(record.springs().next().expect("2000").mean[60], 15.5);
        let said: Vec<(i16, &str)> = record.left_out.iter().map(|out| (out.year, out.why.as_str())).collect();
        assert_eq!(said[0].0, 1999);
        let why = "of its days from 2000-11-01 to 2001-05-30, 2 have no mean, the first 2001-01-03";
        assert_eq!(said[1], (2001, why));
    }

    #[test]
    fn every_sighting_is_dated_or_left_out_with_a_reason() {
        let record = Record::gather(&[station(Hemisphere::North, &[])], |_| true);
        let sightings = [
            saw("SEOUL", 2000, Some(61)),
            saw("seoul", 2001, None),
            saw("Busan", 2000, Some(90)),
            saw("Seoul", 1999, Some(90)),
        ];
        let (dated, left_out) = record.dated(&sightings);
        assert_eq!(dated.iter().map(|(_, day)| *day).collect::<Vec<_>>(), [61]);
        let said: Vec<&str> = left_out.iter().map(|out| out.why.as_str()).collect();
        assert_eq!(said.len(), 3);
        assert_eq!(said[0], "no daily file was given for this station");
        assert!(said[1].contains("151 have no mean"), "{said:?}");
        assert_eq!(said[2], "the day of the phase is empty");
    }

    #[test]
    fn a_southern_spring_is_counted_from_july() {
        let record = Record::gather(&[station(Hemisphere::South, &[])], |_| true);
        let (dated, _) = record.dated(&[saw("seoul", 1999, Some(244)), saw("seoul", 2000, Some(244))]);
        let numbered: Vec<i32> = dated.iter().map(|(_, day)| *day).collect();
        assert_eq!(numbered, [63, 62]);
    }
}
