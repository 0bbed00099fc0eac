//! The record that the needs are fitted to, read from `data/`: chambers, Harvard Forest, Munich and Korea. Sources: `data/README.md`.

#![allow(dead_code, reason = "each test reads a part")]

use std::{collections::HashMap, error::Error, path::PathBuf, str::FromStr};

use climate::{
    hours::{Extremes, from_extremes},
    light::{DayLength, day_length},
};
use dormancy::{
    dynamic::DynamicState,
    wake::{BudDay, Lit, Reading, Release, Wake, course, warmth},
};
use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Degrees},
    winter::{Hemisphere, Winter},
};

pub type Fallible<T> = Result<T, Box<dyn Error>>;

/// Number of the first day, and the days from it on.
pub type Days = (i32, std::rc::Rc<Vec<BudDay>>);

/// Where a row comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Set {
    Chamber,
    Harvard,
    Munich,
    Korea,
}

/// One dated opening with the days before it.
#[derive(Clone, Debug)]
pub struct Case {
    pub set: Set,
    /// Study, station or treatment.
    pub group: String,
    pub genus: String,
    pub species: String,
    pub year: i16,
    pub first_day: i32,
    pub days: std::rc::Rc<Vec<BudDay>>,
    /// Day number of the opening; days since entry in a chamber, counted from day 1.
    pub day: f64,
    /// Portions at the entry, chambers alone.
    pub portions: f64,
    /// Its own share in the fit.
    pub weight: f64,
}

impl Case {
    pub fn name(&self) -> String {
        format!("{} {}", self.genus, self.species)
    }

    pub fn reading(&self) -> Reading {
        if self.set == Set::Chamber { Reading::Entry } else { Reading::Sky }
    }

    /// Logarithm of the heat at the opening for these constants.
    pub fn log_heat(&self, slope: f64, light: f64, release: Release) -> f64 {
        let course =
            course(&Wake { need: 1.0, slope, light, release }, self.reading(), self.first_day, &self.days);
        at(&course.progress, self.day - f64::from(self.first_day)).max(1e-3).ln()
    }

    /// Day told by these constants.
    pub fn told(&self, wake: &Wake) -> f64 {
        let course = course(wake, self.reading(), self.first_day, &self.days);
        course.day_reaching(1.0).map_or(f64::from(self.first_day) + self.days.len() as f64, f64::from)
    }

    /// Mean air of December to February, °C.
    pub fn winter_mean(&self) -> f64 {
        let days = self.days.iter().zip(self.first_day..).filter(|(_, day)| (-30..=59).contains(day));
        let (sum, count) = days.fold((0.0, 0.0), |(sum, count), (day, _)| (sum + day.mean, count + 1.0));
        sum / count
    }
}

/// A running sum read between two days: `x` days after the first value's day, at whose end that value stands.
fn at(sums: &[f64], x: f64) -> f64 {
    let low = x.floor().clamp(0.0, sums.len() as f64 - 1.0) as usize;
    let next = sums.get(low + 1).copied().unwrap_or(sums[low]);
    sums[low] + (next - sums[low]) * (x - x.floor()).clamp(0.0, 1.0)
}

pub fn file(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data").join(name)
}

pub fn rows(name: &str) -> Fallible<Vec<HashMap<String, String>>> {
    let mut reader = csv::Reader::from_path(file(name))?;
    let rows: Vec<HashMap<String, String>> = reader.deserialize().collect::<Result<_, _>>()?;
    if rows.is_empty() { Err(format!("{name} holds no row").into()) } else { Ok(rows) }
}

pub fn number<T: FromStr>(row: &HashMap<String, String>, column: &str) -> Option<T> {
    row.get(column).and_then(|text| text.parse().ok())
}

/// Portions below which a row's own estimate of its cold is not to be trusted.
pub const LEAST_PORTIONS: f64 = 20.0;

/// Treatment means of chambers: forcing experiments and cuttings.
pub fn chambers() -> Fallible<Vec<Case>> {
    let mut cases = Vec::new();
    for row in rows("forcing_treatments.csv")? {
        let steady = row["force_basis"] == "exp" && row["species"] != "sp" && !row["species"].is_empty();
        let month = row["sampled"].split('-').nth(1).unwrap_or("");
        let late = ["Mar", "Apr", "May", "Jun", "Jul", "Aug"].contains(&month);
        let (Some(portions), Some(days)) = (number(&row, "chill_portions"), number::<f64>(&row, "days"))
        else {
            continue;
        };
        let Some(mean) = number::<f64>(&row, "force_mean_c") else { continue };
        if !steady || late || days < 3.0 || portions < LEAST_PORTIONS {
            continue;
        }
        let light: f64 = number(&row, "light_h").unwrap_or(12.0);
        let (day, night) =
            (number(&row, "force_day_c").unwrap_or(mean), number(&row, "force_night_c").unwrap_or(mean));
        cases.push(chamber(&row, [day, night, mean], light, portions, days, 1.0));
    }
    for row in rows("cuttings_means.csv")? {
        let get = |column| number::<f64>(&row, column);
        let (Some(portions), Some(days), Some(mean), Some(light), Some(opened)) =
            (get("portions"), get("break_days"), get("force_mean_c"), get("light_h"), get("opened"))
        else {
            continue;
        };
        if days >= 3.0 && portions >= LEAST_PORTIONS {
            cases.push(chamber(&row, [mean, mean, mean], light, portions, days, (opened / 4.0).min(1.0)));
        }
    }
    Ok(cases)
}

fn chamber(
    row: &HashMap<String, String>,
    [day, night, mean]: [f64; 3],
    light: f64,
    portions: f64,
    days: f64,
    weight: f64,
) -> Case {
    let warm = light.min(24.0) / 24.0;
    let heat = 24.0 * (warm * warmth(day, 0.0) + (1.0 - warm) * warmth(night, 0.0));
    let before = BudDay { mean: 0.0, portions, light, ..BudDay::default() };
    let in_it = BudDay { mean, heat, portions: 0.0, light, lit: Lit::Lamp };
    let days_in = vec![in_it; (days.ceil() as usize * 3).max(30)];
    let group = row["study"].clone();
    Case {
        set: Set::Chamber,
        group,
        genus: row["genus"].clone(),
        species: row["species"].clone(),
        year: 0,
        first_day: 0,
        days: [vec![before], days_in].concat().into(),
        day: days,
        portions,
        weight,
    }
}

/// The days of a winter out of its hours, from its first day in the record.
fn days_of(latitude: f64, first: Date, hours: &[f64], before: f64) -> Fallible<Vec<BudDay>> {
    let mut cold = DynamicState::default();
    let mut date = first;
    let mut days = Vec::with_capacity(hours.len() / 24);
    for of_day in hours.chunks_exact(24) {
        let light = day_length(DayLength::Spencer, Degrees(latitude), date.day_of_year().unsigned_abs())?.0;
        days.push(BudDay::of_hours(of_day, light, Lit::Sky, &mut cold));
        date = date.tomorrow()?;
    }
    if let Some(first) = days.first_mut() {
        first.portions += before;
    }
    Ok(days)
}

pub struct Tree {
    pub tree: String,
    pub species: String,
    pub year: i16,
    /// Day numbers: slightly, moderately, very swollen, broken; the middle of the looks between which it happened.
    pub stages: [Option<f64>; 4],
    pub leaf75: Option<f64>,
}

/// Harvard Forest, trees in the ground.
pub fn harvard_trees() -> Fallible<Vec<Tree>> {
    let stages = ["slight", "moderate", "very", "break"];
    let of = |row: &HashMap<String, String>, stage: &str| {
        let (seen, before) = (number::<f64>(row, stage)?, number::<f64>(row, &format!("{stage}_before"))?);
        Some(f64::midpoint(seen, before))
    };
    rows("harvard_ground.csv")?
        .iter()
        .map(|row| {
            Ok(Tree {
                tree: row["tree"].clone(),
                species: row["species"].clone(),
                year: row["year"].parse()?,
                stages: stages.map(|stage| of(row, stage)),
                leaf75: number(row, "leaf75"),
            })
        })
        .collect()
}

/// Hours of one season: number of their first day, portions received before it, °C.
pub struct Hours {
    pub latitude: f64,
    pub first_day: i32,
    pub first: Date,
    pub before: f64,
    pub hours: Vec<f64>,
}

impl Hours {
    fn days(&self) -> Fallible<Days> {
        Ok((self.first_day, days_of(self.latitude, self.first, &self.hours, self.before)?.into()))
    }
}

/// Days of the Harvard springs, by year.
pub fn harvard_days() -> Fallible<HashMap<i16, Days>> {
    harvard_hours()?.into_iter().map(|(year, hours)| Ok((year, hours.days()?))).collect()
}

/// Hours of the Harvard springs, by year: from 27 October with 16 portions where the record begins there.
pub fn harvard_hours() -> Fallible<HashMap<i16, Hours>> {
    let mut by_day: HashMap<Date, (f64, Extremes)> = HashMap::new();
    for row in rows("harvard_daily.csv")? {
        let get = |column| number::<f64>(&row, column);
        let (Some(mean), Some(high), Some(low)) = (get("mean"), get("max"), get("min")) else { continue };
        by_day.insert(row["date"].parse()?, (mean, Extremes { low: Celsius(low), high: Celsius(high) }));
    }
    let mut of_years = HashMap::new();
    for year in 1990..=2015 {
        let winter = Winter { spring_year: year, hemisphere: Hemisphere::North };
        let first = (Winter::FIRST_DAY..).map(|day| winter.date(day)).find(|date| by_day.contains_key(date));
        let Some(first) = first.filter(|date| winter.day_number(*date) <= -60) else { continue };
        let mut known = Vec::new();
        let mut date = first;
        while let Some(day) = by_day.get(&date).filter(|_| date <= winter.date(205)) {
            known.push(*day);
            date = date.tomorrow()?;
        }
        let extremes: Vec<Extremes> = known.iter().map(|(_, extremes)| *extremes).collect();
        let mut hours = from_extremes(Degrees(42.53), first, &extremes)?;
        for ((mean, _), of_day) in known.iter().zip(hours.chunks_exact_mut(24)) {
            let shift = mean - of_day.iter().sum::<f64>() / 24.0;
            of_day.iter_mut().for_each(|hour| *hour += shift);
        }
        let first_day = winter.day_number(first);
        let before = if first_day > -100 { 16.0 } else { 0.0 };
        of_years.insert(year, Hours { latitude: 42.53, first_day, first, before, hours });
    }
    Ok(of_years)
}

/// Mean day of bud break by species and year at Harvard Forest, 1990 to 2001.
pub fn harvard() -> Fallible<Vec<Case>> {
    let (days, mut sums) = (harvard_days()?, HashMap::<(String, i16), (f64, f64)>::new());
    for tree in harvard_trees()? {
        if let Some(day) = tree.stages[3] {
            let sum = sums.entry((tree.species, tree.year)).or_default();
            *sum = (sum.0 + day, sum.1 + 1.0);
        }
    }
    let mut cases = Vec::new();
    for ((name, year), (sum, count)) in sums {
        let Some((first_day, days)) = days.get(&year) else { continue };
        let (genus, species) = name.split_once(' ').ok_or("two words")?;
        cases.push(Case {
            set: Set::Harvard,
            group: "Harvard Forest".into(),
            genus: genus.into(),
            species: species.into(),
            year,
            first_day: *first_day,
            days: days.clone(),
            day: sum / count,
            portions: 0.0,
            weight: 1.0,
        });
    }
    cases.sort_by_key(|it| (it.name(), it.year));
    Ok(cases)
}

/// Day of bud break of every single tree at Harvard Forest: the middle of the two looks between which it broke.
pub fn harvard_singly() -> Fallible<Vec<Case>> {
    let days = harvard_days()?;
    let mut cases = Vec::new();
    for tree in harvard_trees()? {
        let (Some(day), Some((first_day, days))) = (tree.stages[3], days.get(&tree.year)) else { continue };
        let (genus, species) = tree.species.split_once(' ').ok_or("two words")?;
        cases.push(Case {
            set: Set::Harvard,
            group: tree.tree,
            genus: genus.into(),
            species: species.into(),
            year: tree.year,
            first_day: *first_day,
            days: days.clone(),
            day,
            portions: 0.0,
            weight: 1.0,
        });
    }
    Ok(cases)
}

/// Days of the Munich saplings of 2018 by treatment.
pub fn munich_days() -> Fallible<HashMap<&'static str, Days>> {
    munich_hours()?.into_iter().map(|(treatment, hours)| Ok((treatment, hours.days()?))).collect()
}

/// Hours of the Munich saplings of 2018 by treatment.
pub fn munich_hours() -> Fallible<HashMap<&'static str, Hours>> {
    let winter = Winter { spring_year: 2018, hemisphere: Hemisphere::North };
    let first = winter.first_date();
    let mut air: HashMap<&'static str, Vec<f64>> = HashMap::new();
    for row in rows("potted_munich_hourly.csv")? {
        let date: Date = row["time"].split('T').next().unwrap_or("").parse()?;
        let day = winter.day_number(date);
        if date < first || day > 181 {
            continue;
        }
        // Where the house's logger failed, the air outside stands in, and the other way about.
        let (inside, outside) = (number::<f64>(&row, "inside_c"), number::<f64>(&row, "outside_c"));
        let Some((inside, outside)) = inside.or(outside).zip(outside.or(inside)) else {
            return Err("Munich lacks an hour".into());
        };
        let autumn = date < Date::constant(2018, 1, 1);
        let spring = !autumn && date < Date::constant(2018, 5, 16);
        for (treatment, is_in) in [("control", false), ("autumn", autumn), ("spring", spring)] {
            air.entry(treatment).or_default().push(if is_in { inside } else { outside });
        }
    }
    let of = |(treatment, hours)| {
        (treatment, Hours { latitude: 48.16, first_day: Winter::FIRST_DAY, first, before: 0.0, hours })
    };
    Ok(air.into_iter().map(of).collect())
}

/// Mean day of leaf-out by species and treatment, Munich 2018.
pub fn munich() -> Fallible<Vec<Case>> {
    let days = munich_days()?;
    let mut sums = HashMap::<(String, String), (f64, f64)>::new();
    for row in rows("potted_munich.csv")?.iter().filter(|row| row["year"] == "2018") {
        let Some(day) = number::<f64>(row, "leaf_out_doy") else { continue };
        let sum = sums.entry((row["species"].clone(), row["treatment"].clone())).or_default();
        *sum = (sum.0 + day, sum.1 + 1.0);
    }
    let mut cases = Vec::new();
    for ((name, treatment), (sum, count)) in sums {
        let Some((first_day, days)) = days.get(treatment.as_str()) else { continue };
        let (genus, species) = name.split_once(' ').ok_or("two words")?;
        cases.push(Case {
            set: Set::Munich,
            group: treatment,
            genus: genus.into(),
            species: species.into(),
            year: 2018,
            first_day: *first_day,
            days: days.clone(),
            day: sum / count,
            portions: 0.0,
            weight: 1.0,
        });
    }
    cases.sort_by_key(|it| (it.name(), it.group.clone()));
    Ok(cases)
}

/// Latitudes of the ten stations, degrees north (open gazetteers; remembered).
pub const STATIONS: [(&str, f64); 10] = [
    ("Andong", 36.57),
    ("Chuncheon", 37.9),
    ("Gosan", 33.29),
    ("Jeonju", 35.82),
    ("Mokpo", 34.82),
    ("Namwon", 35.41),
    ("Sokcho", 38.25),
    ("Uljin", 36.99),
    ("Wonju", 37.34),
    ("Yeosu", 34.74),
];

/// Botanical names of the five Korean kinds as they stand in the record.
pub const KINDS: [(&str, &str, &str); 5] = [
    ("forsythia", "Forsythia", "koreana"),
    ("prunus-persica", "Prunus", "persica"),
    ("pyrus-calleryana", "Pyrus", "calleryana"),
    ("prunus-serrulata", "Prunus", "serrulata"),
    ("prunus-mume", "Prunus", "mume"),
];

/// Bud burst at ten Korean stations.
pub fn korea() -> Fallible<Vec<Case>> {
    let mut by_day: HashMap<(String, Date), Extremes> = HashMap::new();
    for row in rows("korea_daily.csv")? {
        let (Some(low), Some(high)) = (number::<f64>(&row, "tmin_x10"), number::<f64>(&row, "tmax_x10"))
        else {
            continue;
        };
        let text = &row["date"];
        let date = Date::new(text[..4].parse()?, text[4..6].parse()?, text[6..].parse()?)?;
        let extremes = Extremes { low: Celsius(low.min(high) / 10.0), high: Celsius(high.max(low) / 10.0) };
        by_day.insert((row["station"].clone(), date), extremes);
    }
    let mut winters: HashMap<(String, i16), std::rc::Rc<Vec<BudDay>>> = HashMap::new();
    let mut cases = Vec::new();
    for row in rows("korea_budburst.csv")? {
        let (station, year) = (row["station"].clone(), row["year"].parse::<i16>()?);
        let Some((_, latitude)) = STATIONS.iter().find(|it| it.0 == station) else {
            return Err(station.into());
        };
        let Some((_, genus, species)) = KINDS.iter().find(|it| it.0 == row["species"]) else { continue };
        let key = (station.clone(), year);
        let days = match winters.get(&key) {
            Some(days) => days.clone(),
            None => {
                let winter = Winter { spring_year: year, hemisphere: Hemisphere::North };
                let mut last = None;
                let extremes: Vec<Extremes> = (Winter::FIRST_DAY..=180)
                    .filter_map(|day| {
                        last = by_day.get(&(station.clone(), winter.date(day))).copied().or(last);
                        last
                    })
                    .collect();
                let hours = from_extremes(Degrees(*latitude), winter.first_date(), &extremes)?;
                let days: std::rc::Rc<Vec<BudDay>> =
                    days_of(*latitude, winter.first_date(), &hours, 0.0)?.into();
                winters.insert(key, days.clone());
                days
            }
        };
        cases.push(Case {
            set: Set::Korea,
            group: station,
            genus: (*genus).into(),
            species: (*species).into(),
            year,
            first_day: Winter::FIRST_DAY,
            days,
            day: row["budburst_doy"].parse()?,
            portions: 0.0,
            weight: 1.0,
        });
    }
    Ok(cases)
}

/// Everything, as the fit takes it.
pub fn everything() -> Fallible<Vec<Case>> {
    Ok([chambers()?, harvard()?, munich()?, korea()?].concat())
}
