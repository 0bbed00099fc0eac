//! The demo's watering log and shifts: two hidden years of an invented grower who waters at rounds, sometimes late, and weighs a few pots.

use std::fmt::Write;

use climate::record::StationDay;
use collection::{
    drink::RoundTimes,
    potting::{Crown, Mix, Pot},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
    tz::TimeZone,
};
use measure::{quantity::Share, taxon::Taxon, winter::Winter};
use season::{
    air::Air,
    leaves::Leaves,
    watering::{
        after_cut::Cut,
        log::TreeWater,
        pots::{MixFacts, PotFacts},
        thirst::{Spot, Thirst},
    },
};

use crate::Dice;

/// First and last day of the log.
const FROM: Date = date(2025, 11, 15);
const TO: Date = date(2026, 11, 24);

/// Trees that are put on the scale.
const WEIGHED: [&str; 8] = [
    "Old trident",
    "Trident on rock",
    "Slender trident",
    "First plum",
    "Low quince",
    "Broom elm",
    "Small zelkova",
    "Sleeping beech",
];

/// Trees that were repotted in the spring of 2026 and weighed each morning after it: the day, the share of roots cut, and what is drawn
/// of what the rule leaves; the trident, cut with its leaves out and then met by frost, sulks.
pub const REPOTTED: [(&str, Date, f64, &str, f64); 2] = [
    ("Trident on rock", date(2026, 4, 2), 0.55, "leaves were out already", 0.4),
    ("Broom elm", date(2026, 4, 2), 0.40, "", 1.0),
];

/// Days after a repot in which such a tree is weighed.
const FOLLOWED: f64 = 50.0;

/// Trees with dice of their own, so that what befalls them leaves the others' logs as they are.
const APART: [&str; 3] = ["Old trident", "Trident on rock", "Broom elm"];

/// The common dice after a tree that stands apart: as they lay when it still threw them too.
const THROWN: [(&str, u64); 2] =
    [("Slender trident", 5_097_840_049_125_059_410), ("Small zelkova", 16_083_987_301_840_344_317)];

/// Shares of the store left at which the grower waters: most at half, some late.
const WATERS_AT: f64 = 0.55;

/// One tree of the demo as the log needs it.
pub struct Drinker<'a> {
    pub name: &'a str,
    pub taxon: &'a str,
    pub pot: &'a Pot,
    pub mix: &'a Mix,
    pub crown: &'a Crown,
    /// Where it stood from each day on.
    pub moves: &'a [(Date, usize)],
    /// Day its buds really swelled, broke, unfolded and were full grown in the spring of 2026.
    pub spring: [Option<i32>; 4],
}

/// Rain of a day in millimetres: two days in five are wet, in runs.
pub fn rain(dice: &mut Dice, wet_before: bool) -> f64 {
    let chance = if wet_before { 0.58 } else { 0.28 };
    if dice.next() > chance {
        return 0.0;
    }
    let amount = -6.5 * (1.0 - dice.next()).ln();
    (amount * 10.0).round() / 10.0
}

/// The log of all trees, by time.
pub fn log(
    station: &[StationDay],
    outside: &Air,
    places: &[Spot<'_>],
    trees: &[Drinker<'_>],
    site: ([measure::quantity::Degrees; 2], measure::quantity::Metre),
    dice: &mut Dice,
) -> String {
    let zone = TimeZone::get("Europe/Zurich").expect("bundled");
    let thirst = Thirst::of(site.0, site.1, outside, places, station, TO).expect("a site on Earth");
    let winter = Winter { spring_year: 2026, hemisphere: measure::winter::Hemisphere::North };
    let mut lines: Vec<(i64, String)> = Vec::new();
    for (rank, tree) in (1..).zip(trees) {
        if let Some((_, lay)) = THROWN.iter().find(|(name, _)| *name == tree.name) {
            *dice = Dice(*lay);
        }
        let mut own = Dice(crate::SEED + 1000 * rank);
        let dice = if APART.contains(&tree.name) { &mut own } else { &mut *dice };
        let truth = 0.5 * (0.28 * dice.normal()).exp();
        live(tree, truth, &thirst, &zone, winter, dice, &mut lines);
    }
    lines.sort();
    let mut text = String::from("tree,at,deed,weight,remark\n");
    for (_, line) in lines {
        text.push_str(&line);
    }
    text
}

fn live(
    tree: &Drinker<'_>,
    truth: f64,
    thirst: &Thirst,
    zone: &TimeZone,
    winter: Winter,
    dice: &mut Dice,
    lines: &mut Vec<(i64, String)>,
) {
    let facts = PotFacts::of(Some(tree.pot), Some(&MixFacts::of(tree.mix)), Some(tree.crown)).expect("a pot");
    let taxon = Taxon::of(tree.taxon).expect("a taxon");
    let hour = |day: Date| thirst.hour(midnight(day, zone));
    let repot = REPOTTED.iter().find(|(name, ..)| *name == tree.name);
    let own = TreeWater {
        facts,
        leaves: Leaves::of(taxon, None).in_spring(tree.spring),
        stays: tree.moves.iter().map(|&(day, place)| (hour(day), place)).collect(),
        drinks: Vec::new(),
        repotted: Vec::new(),
        cuts: repot
            .iter()
            .filter_map(|(_, day, cut, ..)| Cut::recorded(hour(*day), Share(*cut)).ok())
            .collect(),
        first_day: winter.day_number(thirst.first),
    };
    let holds = own.facts.store.holds().0;
    let full = 1000.0 * (own.facts.soil.0 * 1.1 + 2.2 * own.facts.soil.0.sqrt());
    let weighed = WEIGHED.contains(&tree.name);
    let (mut left, mut last, mut filled) = (1.0_f64, hour(FROM), None::<f64>);
    let mut next_look = 0.0;
    let mut day = FROM;
    while day <= TO {
        for (rank, time) in [RoundTimes::USUAL.morning, RoundTimes::USUAL.evening].into_iter().enumerate() {
            let local = day.to_datetime(time) + ((dice.next() * 25.0) as i64).minutes();
            let at =
                zone.to_ambiguous_zoned_datetime(local).compatible().expect("a time").timestamp().as_second();
            let now = thirst.hour(at);
            let span = (now - last) / 24.0;
            let since = own.cuts.first().map_or(-1.0, |cut| cut.days(last));
            let sulks =
                repot.map_or(1.0, |(.., sulks)| if since >= 0.0 { sulks_yet(*sulks, since) } else { 1.0 });
            let drawn = own.ruled(thirst, last, now).0 * truth * sulks * (0.12 * dice.normal()).exp();
            let wet = (left + own.rained(thirst, last, now).0 / holds).min(1.0);
            let demand = measure::quantity::LitresPerDay(drawn / span.max(1e-6));
            left = own.facts.store.after(Share(wet), demand, measure::quantity::Days(span)).0.0;
            last = now;
            if away(day, rank) {
                continue;
            }
            let just_repotted = repot.is_some_and(|(_, repot, ..)| *repot == day && rank == 0);
            let followed = (0.0..FOLLOWED).contains(&since) && rank == 0;
            let bare = drawn / span.max(1e-6) < 0.06 * holds;
            let due = left < WATERS_AT || (bare && left < 0.62);
            let looks = bare && now > next_look && dice.next() < 0.5;
            let local = local.strftime("%Y-%m-%dT%H:%M");
            let looks = followed || (bare && looks);
            if weighed && filled.is_some() && !due && looks && !just_repotted {
                let scale = full - 1000.0 * holds * (1.0 - left) + 4.0 * dice.normal();
                lines.push((at, format!("{},{local},weighed,{scale:.0} g,\n", tree.name)));
                next_look = now + 84.0 + 48.0 * dice.next();
            } else if due || filled.is_none() || just_repotted {
                let remark = match left {
                    left if left < 0.3 => "dry",
                    left if left < 0.66 => "right",
                    _ => "wet",
                };
                let told = if dice.next() < 0.4 && filled.is_some() { remark } else { "" };
                let mut line = String::new();
                let is_after = (0.0..FOLLOWED).contains(&since);
                if just_repotted || is_after || weighed && dice.next() < 0.6 {
                    let scale = full + 4.0 * dice.normal();
                    writeln!(line, "{},{local},weighed-full,{scale:.0} g,{told}", tree.name)
                        .expect("a string");
                } else {
                    writeln!(line, "{},{local},watered,,{told}", tree.name).expect("a string");
                }
                lines.push((at, line));
                left = 1.0;
                filled = Some(now);
                next_look = now + 84.0;
            } else if looks && dice.next() < 0.15 {
                lines.push((at, format!("{},{local},left,,\n", tree.name)));
                next_look = now + 120.0;
            }
        }
        day = day.tomorrow().expect("not the end of time");
    }
}

/// What a sulking tree draws of what the rule leaves it: all of it again after fourteen weeks, from the seventh on by degrees.
fn sulks_yet(sulks: f64, days: f64) -> f64 {
    sulks + (1.0 - sulks) * ((days - 49.0) / 49.0).clamp(0.0, 1.0)
}

fn midnight(day: Date, zone: &TimeZone) -> i64 {
    let at = zone.to_ambiguous_zoned_datetime(day.at(0, 0, 0, 0)).compatible();
    at.expect("a midnight").timestamp().as_second()
}

/// Whether a shift or the holiday covers a round: evenings of shift days, and ten days of August.
fn away(day: Date, rank: usize) -> bool {
    let holiday = (date(2026, 8, 8)..date(2026, 8, 12)).contains(&day);
    holiday || (rank == 1 && is_shift(day))
}

/// Long shifts: Monday, Tuesday and Friday of every second week, Wednesday and Thursday of the others.
fn is_shift(day: Date) -> bool {
    let week = (day - date(2025, 11, 10)).get_days().div_euclid(7);
    let weekday = day.weekday().to_monday_one_offset();
    if week % 2 == 0 { matches!(weekday, 1 | 2 | 5) } else { matches!(weekday, 3 | 4) }
}

/// The shifts as a calendar: long ones on the days they fall, four days of August away.
pub fn calendar() -> String {
    let mut text = String::from("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//invented//shifts//EN\r\n");
    let mut event = |uid: &str, start: &str, end: &str, rule: &str, words: &str| {
        text.push_str(&format!(
            "BEGIN:VEVENT\r\nUID:{uid}\r\nDTSTAMP:20251101T080000Z\r\nDTSTART{start}\r\nDTEND{end}\r\n{rule}SUMMARY:{words}\r\nEND:VEVENT\r\n"
        ));
    };
    for (at, (first, days)) in [("20251110", "MO,TU,FR"), ("20251119", "WE,TH")].into_iter().enumerate() {
        let rule = format!("RRULE:FREQ=WEEKLY;INTERVAL=2;BYDAY={days};UNTIL=20261231T000000Z\r\n");
        event(
            &format!("4c0d7b1e-0000-4000-8000-00000000000{at}"),
            &format!(";TZID=Europe/Zurich:{first}T070000"),
            &format!(";TZID=Europe/Zurich:{first}T203000"),
            &rule,
            "Long shift",
        );
    }
    event(
        "4c0d7b1e-0000-4000-8000-000000000009",
        ";VALUE=DATE:20260808",
        ";VALUE=DATE:20260812",
        "",
        "At the sea",
    );
    text.push_str("END:VCALENDAR\r\n");
    text
}
