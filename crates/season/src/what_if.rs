//! What a move would change: portions of cold short, light, days of frost care after waking, and the way back.

use climate::light::daily_light;
use collection::place::{Facing, Lamp, Place};
use measure::{
    quantity::{Celsius, Degrees},
    shelter::Shelter,
    sourced::{Sourced, Standing},
    stage::Stage,
    winter::Winter,
};

use crate::{
    ground::{Ground, HORIZON, Stay},
    window::{NoRest, Outlook, Told, TreeFacts},
};

/// What a place gives in light, for the reader.
#[derive(Clone, Debug, PartialEq)]
pub struct Light {
    /// mol of photons per m² and day, where a figure can be given.
    pub daily: Option<Sourced<f64>>,
    /// In words.
    pub words: String,
}

/// Whether a tree can still go back to the cold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WayBack {
    /// Until it swells, on about this day number.
    Until(Option<i32>),
    /// Swollen or full: only to hold it, and only a little.
    ToHold,
    /// Green shows: the cold store would do harm.
    Closed,
}

/// A move tried out, beside leaving the tree.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIf {
    /// Where it stands.
    pub leave: Told,
    /// After the move.
    pub go: Told,
    /// Chill portions short on the day of the move.
    pub cold_short: f64,
    /// Light at the new place.
    pub light: Light,
    /// Days from green tips to the last frost outside that passes the line of its young leaves, in the middle course; none where green
    /// tips are not reached or no frost hurts them.
    pub frost_care: Option<i32>,
    /// The way back from the new place on the day of the move.
    pub way_back: WayBack,
}

/// Tries out a move; `young_leaves` is the tree's own line once its leaves are out.
///
/// # Errors
///
/// [`NoRest`] for tropicals and succulents.
pub fn what_if(
    outlook: &mut Outlook<'_>,
    tree: &TreeFacts<'_>,
    then: Stay,
    latitude: Degrees,
    to: &Place,
    open_air: usize,
    young_leaves: Option<Celsius>,
) -> Result<WhatIf, NoRest> {
    let leave = outlook.tell(tree)?;
    let go = outlook.tell_if(tree, then)?;
    let ground = outlook.ground;
    let green = go.forecast.of(Stage::GreenTip).map(|spread| spread.middle);
    let (stays, need) = (crate::window::stays(ground.winter, &tree.moves), leave.cold_need);
    let cold_short = (need - cold_by(ground, &stays, then.from)).max(0.0);
    Ok(WhatIf {
        cold_short,
        light: light(latitude, to, ground.winter.date(then.from).day_of_year()),
        frost_care: green
            .zip(young_leaves)
            .map(|(green, line)| (last_frost(ground, open_air, line) - green).max(0)),
        way_back: way_back(&leave, &go, then.from),
        leave,
        go,
    })
}

/// Chill portions by a day in the middle of the courses.
fn cold_by(ground: &Ground, stays: &[Stay], day: i32) -> f64 {
    let mut days = Vec::new();
    let mut sums: Vec<f64> = (0..ground.courses())
        .map(|year| {
            ground.course_days(stays, year, &mut days);
            days.iter().take((day - Winter::FIRST_DAY).max(0) as usize).map(|day| day.portions).sum()
        })
        .collect();
    sums.sort_by(f64::total_cmp);
    sums.get(sums.len() / 2).copied().unwrap_or(0.0)
}

/// The last day number with frost below a tree's line for open leaves, in the middle course.
fn last_frost(ground: &Ground, place: usize, Celsius(limit): Celsius) -> i32 {
    let place = &ground.places[place];
    let mut lasts: Vec<i32> = place
        .past
        .iter()
        .map(|winter| {
            (Winter::FIRST_DAY..=HORIZON)
                .rev()
                .find(|&day| winter.days[(day - Winter::FIRST_DAY) as usize].low < limit)
                .unwrap_or(Winter::FIRST_DAY)
        })
        .collect();
    lasts.sort_unstable();
    lasts.get(lasts.len() / 2).copied().unwrap_or(Winter::FIRST_DAY)
}

fn way_back(leave: &Told, go: &Told, on: i32) -> WayBack {
    let passed = |told: &Told, stage| told.forecast.of(stage).is_some_and(|spread| spread.middle <= on);
    if passed(leave, Stage::Breaking) {
        WayBack::Closed
    } else if passed(leave, Stage::Swelling) {
        WayBack::ToHold
    } else {
        WayBack::Until(go.forecast.of(Stage::Swelling).map(|spread| spread.middle))
    }
}

/// Clear-sky energy on an upright pane at 47.4° N, MJ/m² on 15 January, 21 March and 21 June.
const PANE: [(Facing, [f64; 3]); 4] = [
    (Facing::South, [15.3, 19.3, 12.5]),
    (Facing::East, [4.4, 11.4, 17.2]),
    (Facing::West, [4.4, 11.4, 17.2]),
    (Facing::North, [1.2, 3.0, 7.7]),
];

const PANE_STANDING: Standing = Standing::Estimate(
    "clear-sky energy on the pane at 47.4° N (computed with pvlib 0.16.1) × 2.06 mol/MJ × 0.78 for double glazing; \
     clouds halve it, and a metre into the room leaves a third",
);

/// The light a place gives on a day of the year.
pub fn light(latitude: Degrees, place: &Place, day_of_year: i16) -> Light {
    if let Some(lamp) = place.lamp {
        return lamp_light(lamp);
    }
    match (place.shelter, place.facing) {
        (Shelter::CoolSill | Shelter::WarmSill, Some(facing)) => pane_light(latitude, facing, day_of_year),
        (Shelter::CoolSill | Shelter::WarmSill, None) => {
            Light { daily: None, words: "window light; say which way it looks to get a figure".into() }
        }
        (Shelter::ColdRoom, _) => Light {
            daily: None,
            words: "none: enough for a bare tree asleep in the cold, not for one that wakes".into(),
        },
        (Shelter::ColdFrame | Shelter::ColdGlasshouse, _) => {
            Light { daily: None, words: "daylight through the cover".into() }
        }
        (Shelter::ShadedBench, _) => Light { daily: None, words: "daylight in shade".into() },
        (Shelter::OpenBench, _) => Light { daily: None, words: "full daylight".into() },
    }
}

/// Daily light below which a woken tree grows long and thin, mol/m² (common practice).
pub const DIM: f64 = 10.0;

/// Daily light that is good for a woken tree, mol/m² (common practice).
pub const GOOD: [f64; 2] = [15.0, 25.0];

fn scale() -> String {
    let [least, most] = GOOD;
    format!("{DIM} is thin, {least} to {most} is good; common practice, no source")
}

fn lamp_light(lamp: Lamp) -> Light {
    let daily = daily_light(lamp.flux, lamp.hours).0;
    let verdict = if daily < DIM { "too little once leaves open" } else { "enough once leaves open" };
    let words = format!("lamp {daily:.1} mol/m² a day: {verdict} ({})", scale());
    Light { daily: Some(Sourced { value: daily, standing: Standing::Measured }), words }
}

fn pane_light(latitude: Degrees, looks: Facing, day_of_year: i16) -> Light {
    // The table is for the north; below the equator the sunny side is the north.
    let facing = match looks {
        Facing::North if latitude.0 < 0.0 => Facing::South,
        Facing::South if latitude.0 < 0.0 => Facing::North,
        same => same,
    };
    let day = if latitude.0 < 0.0 { (i32::from(day_of_year) + 182) % 365 } else { day_of_year.into() };
    let day = f64::from(if day > 172 { 344 - day } else { day }).clamp(-10.0, 172.0);
    let energy = PANE.iter().find(|(way, _)| *way == facing).map_or([0.0; 3], |(_, energy)| *energy);
    let [winter, spring, summer] = energy;
    let energy = if day < 80.0 {
        winter + (spring - winter) * ((day - 15.0) / 65.0).max(0.0)
    } else {
        spring + (summer - spring) * (day - 80.0) / 92.0
    };
    let daily = energy * 2.06 * 0.78;
    Light {
        daily: Some(Sourced { value: daily, standing: PANE_STANDING }),
        words: format!(
            "{} pane: up to about {daily:.0} mol/m² on a clear day (figure for 47° latitude), half under cloud, a third one \
             metre in: {} ({})",
            looks.key(),
            pane_verdict(daily),
            scale()
        ),
    }
}

/// What the light of a pane means for a tree in leaf, clouds counted.
fn pane_verdict(clear: f64) -> &'static str {
    if clear < DIM {
        "too little once leaves open"
    } else if clear / 2.0 < DIM {
        "at the pane enough once leaves open while skies are clear, thin under cloud"
    } else {
        "at the pane enough once leaves open"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pane_says_whether_its_light_carries_leaves() {
        let words = |facing, day| pane_light(Degrees(47.4), facing, day).words;
        assert!(words(Facing::North, 15).contains("too little"));
        assert!(words(Facing::East, 80).contains("while skies are clear"));
        assert!(words(Facing::South, 80).contains("at the pane enough once leaves open ("));
        assert_eq!(
            pane_light(Degrees(-33.0), Facing::North, 15 + 183).words.replace("north", "south"),
            words(Facing::South, 15)
        );
    }
}
