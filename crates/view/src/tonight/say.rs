//! A night's answers in the reader's words.

use collection::{drink::Worth, tree::NameConfidence};
use dormancy::frost::{Candidates, Part, RootAge};
use jiff::{
    Timestamp, ToSpan,
    civil::{Date, Weekday},
};
use measure::{
    quantity::{Kilogram, Units},
    shelter::Shelter,
};
use season::{
    air::Basis,
    roots::LITRES,
    tonight::{
        ball::Freeze,
        judge::{Judged, LOST_BEYOND, Threat, worth_carrying},
        place::{ENOUGH, PlaceNight},
        share_out::{Protection, Told, Verdict, WRONG},
    },
};

use super::{Figures, Page, Row, gather::Gathered, named};
use crate::{
    verdicts,
    whole::Whole,
    words::{count, percent},
};

/// The day of the week.
pub fn weekday(date: Date) -> &'static str {
    match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

/// The night as "Monday, 20 Apr into 21 Apr".
pub fn date(page: &Page<'_>) -> String {
    let evening = page.night.evening;
    let morning = evening + 1.days();
    format!("{}, {} into {}", weekday(evening), named(evening, page.whole), named(morning, page.whole))
}

/// A moment by the clock of the site.
pub fn clock(page: &Page<'_>, at: Timestamp) -> String {
    let local = page.zone.to_datetime(at);
    format!("{:02}:{:02}", local.hour(), local.minute())
}

/// What nights on record say of a place.
pub fn learned(units: Units, night: &PlaceNight) -> String {
    let Some(learned) = night.learned else {
        return format!("no night on record here: {}", night.own_spread.standing.words());
    };
    let nights = count(learned.nights, "night", "nights");
    if !learned.is_applied() {
        return format!(
            "{nights} of logger and station together; from {ENOUGH} on the difference is applied"
        );
    }
    let over = learned.over_station;
    let how = if over < 0.0 { "colder" } else { "warmer" };
    format!("on {nights} of record {} {how} at night than the station; applied", units.difference(over.abs()))
}

/// Whether a tree may stay where it is carried, by the verdict on that move.
fn beyond(whole: &Whole, it: &Gathered<'_>, to: usize) -> String {
    let verdict = verdicts::moving(whole, it.tree, to, whole.today);
    let line = verdicts::line(&verdict, whole.today, whole.units());
    let why = line.why.first().filter(|_| line.sign != "yes");
    let why = why.map_or_else(String::new, |why| format!(" ({why})"));
    format!("to stay there after the night: {}{why}", line.answer)
}

/// A tree's row.
pub fn row(page: &Page<'_>, it: &Gathered<'_>, told: &Told) -> Row {
    let places = &page.whole.places;
    let named = |rank: usize| (places[rank].place.name.clone(), places[rank].place.key.clone());
    let carry = told.carry;
    let lift = carry.and_then(|carry| carry.lift);
    let weight = it.night.load.weight.map(|weight| weight.value);
    let judged = &told.judged;
    Row {
        key: it.tree.tree.key.clone(),
        name: it.tree.tree.name.clone(),
        taxon: it.tree.tree.taxon.common,
        place: named(it.place),
        to: carry.map(|carry| named(carry.to)),
        only_tonight: carry
            .filter(|carry| carry.only_tonight)
            .map(|carry| only_tonight(places[carry.to].place.shelter)),
        beyond: carry.map(|carry| beyond(page.whole, it, carry.to)),
        turn: carry.map_or(0, |carry| carry.turn),
        weight: weight
            .map_or("weight not known".into(), |weight| format!("about {}", page.units.load(weight))),
        for_two: lift.is_some_and(|lift| lift.wants_help()),
        index: lift.map_or(String::new(), |lift| match lift.index {
            Some(index) => format!("lifting index {index:.1}"),
            None => "not to be lifted so by one".into(),
        }),
        still: carry.filter(|carry| !carry.is_spared).map(|carry| {
            format!(
                "less cold there, but its line may still be passed ({}): cover it there too",
                percent(carry.chance.0)
            )
        }),
        protect: match told.verdict {
            Verdict::Protect(how) => protect(how),
            _ => "",
        },
        why: why(page.units, judged),
        roots: roots(page.units, judged),
        caveats: caveats(page, it),
        figures: Figures {
            low: judged.above.or(judged.flowers).map_or(f64::NAN, |threat| threat.low.0),
            above_line: judged.above.map(|threat| threat.limit.line.value.0),
            hours_below: judged.above.map_or(0, |threat| threat.hours),
            root_low: judged.wet.coldest.0,
            root_low_dry: judged.dry.coldest.0,
            root_line: judged.roots.limit.line.value.0,
            frozen_through: judged.wet.through.map(|hours| hours.0),
            frozen_through_dry: judged.dry.through.map(|hours| hours.0),
            chance: judged.chance().0,
            chance_there: carry.map(|carry| carry.chance.0),
            at_stake: judged.at_stake(it.night.worth),
            weight: weight.map(|weight| weight.0),
            index: lift.and_then(|lift| lift.index),
        },
    }
}

/// How a tree without a place gets through the night.
pub fn protect(how: Protection) -> &'static str {
    match how {
        Protection::HeatedRoom => {
            "nothing laid over it is enough, so take it into any heated room, for the night at least"
        }
        Protection::FrostFreeRoom => {
            "its pot must not freeze, which no cover is sure to keep: stand it on cold nights in any room, shed or garage that stays above \
             freezing; a hardy tree needs no warmth"
        }
        Protection::PotAndCrown => {
            "on the ground against a wall, pot to pot, bark or leaves packed round the pots, and fleece over the crowns before dusk"
        }
        Protection::PackThePot => {
            "on the ground against a wall, pot to pot, with bark, leaves or sacking packed round and over the pots"
        }
        Protection::CoverTheCrown => "against a wall, with fleece over the crown before dusk",
    }
}

/// From which chance on a tree is carried, and who comes first.
pub fn rule() -> String {
    let [training, standing, show] = Worth::ALL.map(|worth| {
        let part = |part| percent(worth_carrying(worth, part).0.min(1.0));
        format!("{} for roots and {} for leaves", part(Part::Roots), part(Part::Leaves))
    });
    format!(
        "a tree is carried when the chance of passing a planning line is above {standing}; {show} with show trees, {training} with those \
         in training. Passing a planning line is not yet harm: the lines are set warmer than what is known to kill. Room goes where most \
         is kept: by worth, by how surely and how far a line is passed ({:.0} degrees beyond it count as lost), roots and evergreen \
         leaves before open leaves before flower buds. A hardy tree at rest is never sent to a heated room, and one \
         in leaf only where no cooler place with room spares it. All this is our estimate",
        LOST_BEYOND.value
    )
}

/// Which place counts as nearest.
pub fn order(page: &Page<'_>) -> String {
    let names: Vec<&str> = page.whole.places.iter().map(|it| it.place.name.as_str()).collect();
    format!(
        "among places that spare a tree alike, the nearest is the one fewest places further along your round, which goes in the order in which the \
         places were written down: {}. A heavy lift makes any way longer by its lifting index, and a place that is right for the night \
         only counts as {WRONG:.0} places more (our estimates)",
        names.join(", ")
    )
}

/// What all carries come to.
pub fn carried(page: &Page<'_>, movers: &[Row]) -> String {
    let weight: f64 = movers.iter().filter_map(|row| row.figures.weight).sum();
    let unknown = movers.iter().filter(|row| row.figures.weight.is_none()).count();
    let for_two = movers.iter().filter(|row| row.for_two).count();
    let two = if for_two > 0 { format!(", {for_two} of them by two people") } else { String::new() };
    let besides = if unknown > 0 { format!(" and {unknown} of unknown weight") } else { String::new() };
    format!("in all about {}{besides}{two}", page.units.load(Kilogram(weight)))
}

fn only_tonight(shelter: Shelter) -> &'static str {
    if shelter == Shelter::ColdRoom {
        "for the night only: it is awake, and wants light in the morning"
    } else {
        "for the night only: warmth would wake it"
    }
}

/// What the line protects.
fn part(part: Part) -> String {
    match part {
        Part::Buds => "buds at this stage".into(),
        Part::FlowerBuds((crop, stage)) => format!("flower buds, as {} at {stage}", crop.words()),
        Part::Leaves => "open leaves".into(),
        Part::Evergreen => "its leaves".into(),
        Part::NewGrowth => "soft new growth".into(),
        Part::Roots => "roots".into(),
        Part::CutRoots(RootAge::Fresh) => "roots freshly cut, the pot stays above freezing".into(),
        Part::CutRoots(RootAge::Settling) => "roots cut some months ago".into(),
        Part::CutRoots(_) => "roots cut before their first winter".into(),
        Part::WokenRoots => "woken roots".into(),
    }
}

fn threat(units: Units, it: &Threat) -> String {
    if it.limit.part == Part::WokenRoots {
        return format!(
            "woken roots should not freeze through ({}): the ball goes to {}, chance {}",
            it.limit.line.standing.words(),
            units.temperature(it.low),
            percent(it.chance.0)
        );
    }
    format!(
        "{}: planning line {}, {} expected, {} below, chance of passing the line {}",
        part(it.limit.part),
        units.temperature(it.limit.line.value),
        units.temperature(it.low),
        count(it.hours, "hour", "hours"),
        percent(it.chance.0)
    )
}

/// The line that decides.
fn why(units: Units, judged: &Judged) -> String {
    if judged.above.is_none() && judged.threats().all(|it| it.chance.0 < 0.01) {
        return "at rest, above the soil it survives this and more".into();
    }
    threat(units, judged.deciding())
}

/// What the root ball does, watered and dry.
fn roots(units: Units, judged: &Judged) -> String {
    format!("root ball watered: {}; let dry: {}", ball(units, &judged.wet), ball(units, &judged.dry))
}

fn ball(units: Units, it: &Freeze) -> String {
    let coldest = units.temperature(it.coldest);
    match (it.through, it.to_zero) {
        (Some(hours), _) if hours.0 <= 1.0 => format!("frozen through, {coldest} at its coldest"),
        (Some(hours), _) => format!(
            "frozen through in {}, {coldest} at its coldest",
            count(format!("{:.0}", hours.0), "hour", "hours")
        ),
        (None, Some(_)) => format!("begins to freeze, {} ice by morning", percent(it.ice.0)),
        (None, None) => format!("{coldest} at its coldest, no ice"),
    }
}

fn caveats(page: &Page<'_>, it: &Gathered<'_>) -> Vec<String> {
    let mut caveats = Vec::new();
    if !it.has_pot {
        caveats.push(format!(
            "pot not recorded: calculated as one of {LITRES} litres; a smaller one freezes sooner, and the weight is not known"
        ));
    } else if !it.has_crown {
        caveats.push("crown not measured: its weight is guessed from the soil".into());
    }
    if let Candidates::Of(_) = it.night.facts.candidates {
        let names: Vec<&str> = it.tree.tree.candidates.iter().map(|taxon| taxon.common).collect();
        caveats.push(format!(
            "its name is not sure: the tenderest of {} and {} sets the lines",
            it.tree.tree.taxon.common,
            names.join(", ")
        ));
    } else if it.tree.tree.name_confidence == NameConfidence::Guess {
        caveats.push(
            "its name is a guess: the tenderest of its kind sets the lines until you say between which names"
                .into(),
        );
    }
    let air = page.whole.places[it.place].air.as_ref();
    if air.is_some_and(|air| !matches!(air.basis, Basis::Fitted(_)) && air.logged == 0) {
        caveats.push("no logger where it stands".into());
    }
    caveats
}
