//! Makes the files in `demo/`: an invented collection with invented weather, from a seed.
//!
//! Run with `cargo run --release -p budswell --example make_demo`. The buds follow a truth of another form
//! that the product does not see (`buds.rs`): each tree has a pace of its own, each year shifts it, and each look errs.

mod bench;
mod buds;
mod pots;
mod rounds;
mod standing;
mod wares;

use std::{collections::BTreeMap, fmt::Write, fs, path::Path};

use climate::{
    record::{HourMean, StationDay},
    shelter::ShelterModel,
    synth::{self, SynthClimate},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::{
    quantity::{Celsius, Degrees, Hours},
    shelter::Shelter,
    stage::Stage,
    taxon::Taxon,
    winter::Winter,
};
use season::{
    air::{self, Spot},
    ground::{Ground, HORIZON, Roof, Stay, ground},
};

const SPOT: Spot = Spot { latitude: Degrees(47.3), longitude: Degrees(9.1) };
const FIRST: Date = date(2004, 9, 1);
const LAST: Date = date(2026, 11, 24);
const SEED: u64 = 20_260_308;

/// Name, taxon, how sure, here since, and where it winters: b bench, n wall, f frame, r room, s south sill,
/// k kitchen sill.
const TREES: [(&str, &str, &str, &str, char); 42] = [
    ("Old trident", "acer-buergerianum", "sure", "2011-04-02", 'r'),
    ("Trident on rock", "acer-buergerianum", "sure", "2018-05-12", 'f'),
    ("Slender trident", "acer-buergerianum", "sure", "2021-03-20", 'r'),
    ("Red lantern", "acer-palmatum", "sure", "2009-10-17", 'r'),
    ("Mountain maple", "acer-palmatum", "sure", "2014-04-26", 'f'),
    ("Broom maple", "acer-palmatum", "likely", "2019-09-07", 'f'),
    ("Clump of five", "acer-palmatum", "sure", "2016-03-12", 'r'),
    ("Field maple", "acer-campestre", "sure", "2020-11-08", 'b'),
    ("Winter quince", "chaenomeles-speciosa", "sure", "2017-02-25", 'f'),
    ("Low quince", "chaenomeles-japonica", "sure", "2019-03-02", 'f'),
    ("First plum", "prunus-mume", "sure", "2013-01-19", 'r'),
    ("Second plum", "prunus-mume", "likely", "2022-02-05", 'r'),
    ("Hedge thorn", "crataegus-monogyna", "sure", "2012-03-31", 'b'),
    ("Leaning thorn", "crataegus-monogyna", "sure", "2018-03-24", 'b'),
    ("Larch forest", "larix-kaempferi", "sure", "2015-03-14", 'b'),
    ("Lone larch", "larix-decidua", "sure", "2010-10-10", 'b'),
    ("Larch twins", "larix-kaempferi", "sure", "2020-03-28", 'b'),
    ("Grey beech", "fagus-sylvatica", "sure", "2008-04-12", 'f'),
    ("Sleeping beech", "fagus-sylvatica", "sure", "2017-04-29", 'r'),
    ("White beech", "fagus-crenata", "sure", "2014-10-04", 'f'),
    ("Garden hornbeam", "carpinus-betulus", "sure", "2013-03-30", 'b'),
    ("Hornbeam grove", "carpinus-betulus", "sure", "2019-04-06", 'f'),
    ("Far hornbeam", "carpinus-laxiflora", "likely", "2021-09-25", 'f'),
    ("Broom elm", "zelkova-serrata", "sure", "2012-05-05", 'f'),
    ("Small zelkova", "zelkova-serrata", "sure", "2020-04-18", 'r'),
    ("Market elm", "ulmus-parvifolia", "guess", "2022-06-11", 's'),
    ("Stone elm", "ulmus-parvifolia", "sure", "2016-05-21", 'f'),
    ("Hedge elm", "ulmus-minor", "likely", "2018-11-03", 'b'),
    ("River birch", "betula-pendula", "likely", "2019-10-12", 'b'),
    ("Little lime", "tilia-cordata", "sure", "2017-11-11", 'b'),
    ("Oak from seed", "quercus-robur", "sure", "2006-10-01", 'b'),
    ("Crab apple", "malus-halliana", "sure", "2014-03-22", 'f'),
    ("Cherry of May", "prunus-incisa", "sure", "2018-03-10", 'f'),
    ("Blackthorn", "prunus-spinosa", "sure", "2020-03-07", 'b'),
    ("Ginkgo", "ginkgo-biloba", "sure", "2011-05-14", 'r'),
    ("Black pine", "pinus-thunbergii", "sure", "2009-05-30", 'n'),
    ("Scots pine", "pinus-sylvestris", "sure", "2013-09-28", 'n'),
    ("Juniper cascade", "juniperus-chinensis", "sure", "2012-08-18", 'n'),
    ("Yew", "taxus-baccata", "sure", "2015-09-19", 'n'),
    ("Box", "buxus-sempervirens", "sure", "2018-08-25", 'n'),
    ("Olive", "olea-europaea", "sure", "2019-06-15", 'k'),
    ("Fig of the window", "ficus-microcarpa", "sure", "2021-01-16", 'k'),
];

const PLACES: [(&str, Shelter); 6] = [
    ("Long bench", Shelter::OpenBench),
    ("North wall", Shelter::ShadedBench),
    ("Cold frame", Shelter::ColdFrame),
    ("Cold room", Shelter::ColdRoom),
    ("South sill", Shelter::CoolSill),
    ("Kitchen sill", Shelter::WarmSill),
];

/// The truth of the places that carry a logger.
const TRUTH: [(usize, ShelterModel); 3] = [
    (2, ShelterModel { lag: Hours(3.0), offset: 0.9, share: 0.9, sun: 0.7 }),
    (3, ShelterModel { lag: Hours(34.0), offset: 2.2, share: 0.38, sun: 0.1 }),
    (4, ShelterModel { lag: Hours(20.0), offset: 9.3, share: 0.28, sun: 1.6 }),
];

/// A small generator of our own for the demo's errors: the same files on every machine.
pub struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.next()).sum::<f64>() - 6.0
    }
}

fn main() -> std::io::Result<()> {
    let out = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    fs::create_dir_all(&out)?;
    let keep = |name: &str, text: &str| fs::write(out.join(name), text);
    keep(
        "site.csv",
        "name,latitude,longitude,elevation,zone,units\nTerrace above the lake,47.3,9.1,560,Europe/Zurich,metric\n",
    )?;
    keep(
        "places.csv",
        "name,shelter,facing,lamp_umol,lamp_hours,capacity\n\
         Long bench,open-bench,,,,60\nNorth wall,shaded-bench,,,,12\nCold frame,cold-frame,,,,18\n\
         Cold room,cold-room,,35,9,16\nSouth sill,cool-sill,south,,,6\nKitchen sill,warm-sill,east,,,4\n",
    )?;

    let length = (LAST - FIRST).get_days() as usize + 1;
    let climate = SynthClimate::temperate(SPOT.latitude, Celsius(9.2), 9.4);
    let hours = synth::hours(&climate, FIRST, length, SEED);
    let station: Vec<StationDay> = synth::daily(&hours)
        .iter()
        .enumerate()
        .map(|(at, day)| StationDay {
            date: FIRST + (at as i64).days(),
            low: Some(tenth(day.low.0)),
            high: Some(tenth(day.high.0)),
            rain: None,
        })
        .collect();
    // Late frost and heat stand in the files and not in the buds' truth, so that the years before them stay as they are.
    let mut shown = station.clone();
    let mut wet = false;
    let mut rains = Dice(SEED + 77);
    for day in &mut shown {
        let extra = weathered(day.date);
        let (low, high) = day.extremes().expect("made with both");
        (day.low, day.high) = (Some(tenth(low + extra[0])), Some(tenth(high + extra[1])));
        let fallen = if extra[1] > 0.0 { 0.0 } else { rounds::rain(&mut rains, wet) };
        wet = fallen > 0.0;
        day.rain = Some(fallen);
    }
    let mut text = String::from("date,tmin,tmax,rain\n");
    for day in &shown {
        let rain = day.rain.unwrap_or(0.0);
        let (low, high) = day.extremes().expect("made with both");
        writeln!(text, "{},{low:.1},{high:.1},{rain:.1}", day.date).expect("a string takes all");
    }
    keep("station.csv", &text)?;

    let truth = true_airs(&hours);
    let felt: Vec<f64> = hours
        .iter()
        .enumerate()
        .map(|(at, hour)| {
            let extra = weathered(FIRST + (at as i64 / 24).days());
            hour + if (5..20).contains(&(at % 24)) { extra[1] } else { extra[0] }
        })
        .collect();
    let logged = true_airs(&felt);
    for (name, at, style) in [
        ("logger_cold_frame.csv", 0, Style::Semicolon),
        ("logger_cold_room.csv", 1, Style::Fahrenheit),
        ("logger_south_sill.csv", 2, Style::Plain),
    ] {
        keep(name, &logger(&logged[at].1, style))?;
    }
    let record = Record::of(&station, &truth);
    let (mut moves, mut looks, mut works) = (
        String::from("tree,place,day\n"),
        String::from("tree,day,stage,sureness,note\n"),
        String::from("tree,day,kind,roots,note\n"),
    );
    let mut dice = Dice(SEED);
    let mut trees = String::from("name,taxon,confidence,candidates,since,worth,note\n");
    let mut lives = Vec::new();
    let mut taxon_pace: BTreeMap<&str, f64> = BTreeMap::new();
    for (name, taxon, sure, since, winters) in TREES {
        writeln!(trees, "{name},{taxon},{sure},{},{since},{},", may_be(name), worth(name))
            .expect("a string takes all");
        let of_taxon = *taxon_pace.entry(taxon).or_insert_with(|| 0.18 * dice.normal());
        let pace = of_taxon + 0.06 * dice.normal();
        lives.push(record.live(name, taxon, winters, pace, &mut dice, [&mut moves, &mut looks, &mut works]));
    }
    for (name, day, cut, note, _) in rounds::REPOTTED {
        writeln!(works, "{name},{day},repot,{cut:.2},{note}").expect("a string takes all");
    }
    for (name, day, cut, note, _) in bench::EARLIER {
        writeln!(works, "{name},{day},repot,{cut},{note}").expect("a string takes all");
    }
    let pots = pots::sheets(TREES.iter().map(|(name, ..)| *name));
    keep("pots.csv", &pots.pots)?;
    keep("mixes.csv", &pots.mixes)?;
    keep("potted.csv", &pots.potted)?;
    keep("crowns.csv", &pots.crowns)?;
    keep("trees.csv", &trees)?;
    keep("shifts.ics", &rounds::calendar())?;
    keep("water.csv", &record.water(&shown, &pots, &lives))?;
    keep("moves.csv", &moves)?;
    keep("looks.csv", &looks)?;
    keep("work.csv", &works)?;
    keep("wares.csv", &wares::sheet())?;
    keep("repots.csv", &bench::repots(&works))?;
    for (name, text) in standing::sheets() {
        keep(name, &text)?;
    }
    bench::SHEETS.iter().try_for_each(|(name, text)| keep(name, text))
}

/// What was added to a day's low and high: three nights of late frost in April 2026, a week of heat in July 2026.
fn weathered(day: Date) -> [f64; 2] {
    if (date(2026, 4, 22)..=date(2026, 4, 24)).contains(&day) {
        [-3.0, -1.5]
    } else if (date(2026, 7, 11)..=date(2026, 7, 18)).contains(&day) {
        [4.5, 8.0]
    } else {
        [0.0, 0.0]
    }
}

/// What a tree may be besides its name.
fn may_be(name: &str) -> &'static str {
    if name == "Market elm" { "zelkova-serrata; ulmus-minor" } else { "" }
}

/// What a tree's drying out would cost: a few are for show, the young are in training.
fn worth(name: &str) -> &'static str {
    match name {
        "Old trident" | "Red lantern" | "Grey beech" | "Black pine" | "Larch forest" | "Broom elm" => "show",
        "Slender trident" | "Low quince" | "Second plum" | "Small zelkova" | "Market elm" | "Blackthorn" => {
            "training"
        }
        _ => "standing",
    }
}

fn tenth(celsius: f64) -> f64 {
    (celsius * 10.0).round() / 10.0
}

/// What the loggers' places really were, hour by hour on the solar clock.
fn true_airs(outside: &[f64]) -> Vec<(usize, Vec<f64>)> {
    let air = air::Air {
        first: FIRST,
        hours: outside.to_vec(),
        origin: vec![air::Origin::Measured; outside.len()],
    };
    let sun = air::sun_on(SPOT, &air);
    let mut airs: Vec<_> = TRUTH.iter().map(|(place, model)| (*place, model.series(outside, &sun))).collect();
    // The cold room's door stood ajar for fourteen hours in the night to 6 January 2026.
    let night = (date(2026, 1, 5) - FIRST).get_days() as usize * 24 + 18;
    airs[1].1[night..night + 14].iter_mut().for_each(|hour| *hour = 9.0);
    airs
}

#[derive(Clone, Copy)]
enum Style {
    Semicolon,
    Fahrenheit,
    Plain,
}

/// A logger's file: two winters by the hour, each file in a hand of its own, with a gap and a doubled download.
fn logger(hours: &[f64], style: Style) -> String {
    let mut dice = Dice(SEED + style as u64);
    let mut text = match style {
        Style::Semicolon => String::from("\u{feff}Zeit;Temperatur (°C)\n"),
        Style::Fahrenheit => String::from("Date Time,Temp (°F)\n"),
        Style::Plain => String::from("time,temp_c\n"),
    };
    for (from, to) in [(date(2024, 11, 10), date(2025, 5, 10)), (date(2025, 11, 10), date(2026, 5, 10))] {
        let start = (from - FIRST).get_days() as i64 * 24;
        let end = (to - FIRST).get_days() as i64 * 24;
        for at in start..end {
            if (start + 900..start + 914).contains(&at) {
                continue;
            }
            let celsius = hours[at as usize] + 0.15 * dice.normal();
            // Solar hours to UTC: 9.1° east is 36 minutes and 24 seconds.
            let utc = FIRST.at(0, 0, 0, 0) + at.hours() - 36.minutes();
            let offset = jiff::tz::TimeZone::get("Europe/Zurich").expect("bundled");
            let moment = jiff::tz::TimeZone::UTC.to_timestamp(utc).expect("in range");
            let wall = offset.to_datetime(moment);
            let line = match style {
                Style::Semicolon => format!(
                    "{};{}\n",
                    wall.strftime("%d.%m.%Y %H:%M"),
                    format!("{celsius:.1}").replace('.', ",")
                ),
                Style::Fahrenheit => {
                    format!("{},{:.1}\n", wall.strftime("%Y-%m-%d %H:%M"), celsius * 1.8 + 32.0)
                }
                Style::Plain => format!("{}Z,{celsius:.2}\n", utc.strftime("%Y-%m-%dT%H:%M")),
            };
            text.push_str(&line);
            if at % 4000 == 17 {
                text.push_str(&line);
            }
        }
    }
    text
}

/// The truth of all places over three winters.
struct Record {
    grounds: Vec<Ground>,
    airs: Vec<air::PlaceAir>,
    outside: air::Air,
}

/// Where a tree stood, by the ranks of the places, and when its leaves came in the last spring.
struct Life {
    moves: Vec<(Date, usize)>,
    spring: [Option<i32>; 4],
}

impl Record {
    fn of(station: &[StationDay], truth: &[(usize, Vec<f64>)]) -> Record {
        let outside = air::outside(SPOT, station, &[], &[], LAST, &[]).expect("sound").expect("not empty");
        let sun = air::sun_on(SPOT, &outside);
        let airs: Vec<air::PlaceAir> = PLACES
            .iter()
            .enumerate()
            .map(|(rank, (_, shelter))| {
                let logged: Vec<HourMean> = truth
                    .iter()
                    .find(|(place, _)| *place == rank)
                    .map_or_else(Vec::new, |(_, hours)| as_hours(hours));
                air::place(SPOT, &outside, &sun, *shelter, &logged)
            })
            .collect();
        let roofs: Vec<(&air::Air, Roof)> = airs
            .iter()
            .zip(PLACES)
            .map(|(air, (_, shelter))| (&air.air, Roof { shelter, lamp: None, known: true }))
            .chain([(&outside, Roof { shelter: Shelter::OpenBench, lamp: None, known: true })])
            .collect();
        let grounds = [2024, 2025, 2026]
            .map(|year| ground(SPOT.latitude, &roofs, date(year, 7, 24)).expect("a ground"));
        let grounds = grounds.into();
        Record { grounds, airs, outside }
    }

    /// The watering log of trees that lived so.
    fn water(&self, station: &[StationDay], sheets: &pots::Sheets, lives: &[Life]) -> String {
        let pots = intake::sheet::potting::pots(&sheets.pots).whole().expect("sound pots");
        let mixes = intake::sheet::potting::mixes(&sheets.mixes).whole().expect("sound mixes");
        let potted = intake::sheet::potting::potted(&sheets.potted).whole().expect("sound rows");
        let crowns = intake::sheet::potting::crowns(&sheets.crowns).whole().expect("sound crowns");
        let drinkers: Vec<rounds::Drinker<'_>> = TREES
            .iter()
            .zip(lives)
            .map(|((name, taxon, ..), life)| {
                let key = collection::key::from_name(name);
                let row = potted.iter().find(|row| row.tree == key).expect("in a pot");
                rounds::Drinker {
                    name,
                    taxon,
                    pot: pots.iter().find(|pot| pot.key == row.pot).expect("a pot"),
                    mix: mixes.iter().find(|mix| mix.key == row.mix).expect("a mix"),
                    crown: crowns.iter().rev().find(|crown| crown.tree == key).expect("a crown"),
                    moves: &life.moves,
                    spring: life.spring,
                }
            })
            .collect();
        let spots: Vec<season::watering::thirst::Spot<'_>> = self
            .airs
            .iter()
            .zip(PLACES)
            .map(|(place, (_, shelter))| season::watering::thirst::Spot { shelter, air: &place.air })
            .collect();
        let site = ([SPOT.latitude, SPOT.longitude], measure::quantity::Metre(560.0));
        rounds::log(station, &self.outside, &spots, &drinkers, site, &mut Dice(SEED + 78))
    }

    /// Three winters of one tree: where it stood, when its buds were looked at, when it was repotted.
    fn live(
        &self,
        name: &str,
        taxon: &str,
        winters: char,
        pace: f64,
        dice: &mut Dice,
        out: [&mut String; 3],
    ) -> Life {
        let mut life = Life { moves: Vec::new(), spring: [None; 4] };
        let [moves, looks, works] = out;
        let rests = Taxon::of(taxon).is_some_and(|taxon| taxon.kind.rests());
        let store = "bnfrsk".find(winters).expect("a known letter");
        let summer = if matches!(winters, 'n' | 'k') { store } else { 0 };
        let mut stood = |day: Date, place: usize| {
            writeln!(moves, "{name},{},{day}", PLACES[place].0).expect("a string takes all");
            life.moves.push((day, place));
        };
        stood(date(2023, 5, 20), summer);
        let mut spring = [None; 4];
        for ground in &self.grounds {
            let winter = ground.winter;
            let year = winter.spring_year;
            let in_on = winter.day_number(date(year - 1, 11, 8)) + (dice.next() * 16.0) as i32;
            let mut stays = vec![Stay { from: Winter::FIRST_DAY, place: summer }];
            if store != summer {
                stays.push(Stay { from: in_on, place: store });
                stood(winter.date(in_on), store);
            }
            if name == "Sleeping beech" && year == 2026 {
                let day = winter.day_number(date(2026, 3, 2));
                stays.push(Stay { from: day, place: 5 });
                stood(date(2026, 3, 2), 5);
            }
            let mut days = Vec::new();
            ground.course_days(&stays, 0, &mut days);
            let passed = buds::passed(name, taxon, winter, pace, store, &days);
            if rests {
                self.watch(name, winter, &passed, dice, looks);
            }
            spring = [passed[0], passed[2], passed[4], passed.last().copied().flatten()];
            let out_on = passed[3].unwrap_or(120).clamp(45, 125);
            if store != summer {
                stood(winter.date(out_on), summer);
            }
            for (_, day, cut) in
                buds::SPRINGS.iter().filter(|it| it.0 == name && it.1.starts_with(&year.to_string()))
            {
                writeln!(works, "{name},{day},repot,0.{cut},").expect("a string takes all");
            }
        }
        life.spring = spring;
        life
    }

    /// Looks on free days, oftener as buds move.
    fn watch(&self, name: &str, winter: Winter, passed: &[Option<i32>], dice: &mut Dice, looks: &mut String) {
        let mut day = 20 + (dice.next() * 24.0) as i32;
        let careful = dice.next();
        while day <= 150.min(HORIZON) {
            let rank = passed.iter().filter(|at| at.is_some_and(|at| at <= day)).count();
            let slip = if dice.next() < 0.04 { 1 } else { 0 };
            let rank = rank.saturating_sub(slip);
            let stage = Stage::ALL[rank];
            let sure = match dice.next() {
                x if x < 0.45 => "sure",
                x if x < 0.9 => "fair",
                _ => "doubtful",
            };
            writeln!(looks, "{name},{},{:02},{sure},", winter.date(day), stage.code())
                .expect("a string takes all");
            if stage >= Stage::Unfolded {
                break;
            }
            let wait = if stage == Stage::Dormant { 17.0 } else { 7.0 };
            day += (wait * (0.6 + 0.8 * dice.next() + 0.6 * careful)) as i32;
        }
    }
}

fn as_hours(solar: &[f64]) -> Vec<HourMean> {
    let start = i64::from((FIRST - date(1970, 1, 1)).get_days()) * 86_400 - (SPOT.longitude.0 * 240.0) as i64;
    solar
        .iter()
        .enumerate()
        .map(|(at, &temperature)| HourMean { at: start + at as i64 * 3600, temperature, filled: false })
        .collect()
}
