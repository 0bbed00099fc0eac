//! A taxon's way from cold to green: the warmth it needs, how a lack of cold slows it, and the course of one season.

use crate::{dynamic::DynamicState, forecast::Course, quick};

/// How a taxon wakes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wake {
    /// Warmth to the first broken buds at full cold and 12 hours of light, degree-days.
    pub need: f64,
    /// What each 10 chill portions short of [`FULL_COLD`] slow it by, logarithm.
    pub slope: f64,
    /// What 4 hours of light beyond 12 quicken it by, logarithm.
    pub light: f64,
    /// When warmth begins to count under the sky.
    pub release: Release,
}

/// What ends the rest of a tree under the sky.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Release {
    /// The turn of the year: half released on day 37, whatever the cold.
    Day,
    /// So many chill portions: kinds that wake in the cold of midwinter.
    Cold(f64),
    /// Whichever comes first.
    Either(f64),
}

/// Where a bud gets its light, and with it how surely warmth counts before the release.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Lit {
    /// The sky, or the cover of an unheated house.
    #[default]
    Sky,
    /// A window of a room.
    Window,
    /// A lamp.
    Lamp,
    /// None.
    Dark,
}

/// One day as a bud feels it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BudDay {
    /// Mean temperature, °C.
    pub mean: f64,
    /// Warmth received that day, degree-days: see [`warmth`].
    pub heat: f64,
    /// Chill portions finished that day.
    pub portions: f64,
    /// Hours of light, sky or lamp.
    pub light: f64,
    /// Where the light comes from.
    pub lit: Lit,
}

/// Portions from which more cold quickens no bud.
pub const FULL_COLD: f64 = 115.0;

/// Day number on which half of the warmth under the sky counts.
pub const RELEASE_DAY: f64 = 37.0;

/// Days over which the release comes, as the scale of a logistic curve.
const RELEASE_DAYS: f64 = 3.0;

/// Portions over which a release by cold comes, as the scale of a logistic curve.
const RELEASE_PORTIONS: f64 = 2.0;

/// First day number on which warmth in a room may count: before it leaves are falling.
pub const ENTRY: i32 = -45;

/// Day number before which looks at open leaves belong to the summer before.
pub const START: i32 = -15;

/// Portions that the best day of cold gives.
const BEST_DAY: f64 = 0.86;

/// Portions a day that a tree is credited with in a warm room: so little that chambers bear it (0.40 in log in place of 0.39), and enough
/// that no kind opens later for having come in earlier.
const MADE_UP: f64 = 0.25;

/// Daily means from which a room counts as warm, and the scale of a logistic curve about it, °C; our choice: no chamber was colder than 8.
const ROOM: [f64; 2] = [8.0, 1.0];

/// Shortest and longest days between which light counts, hours.
const LIGHT_HOURS: [f64; 2] = [8.0, 16.0];

/// Base of warmth where a bud has light, and in the dark, °C.
pub const BASE: [f64; 2] = [0.0, 5.0];

/// Width of the bend at the base, K.
pub const BEND: f64 = 2.0;

/// How the start of warmth is read where the data leave it open.
///
/// Under the sky no warmth before about 6 February moved a bud, in the ground or in an unheated house; cuttings under a lamp moved
/// from the first day of steady warmth. Nobody has tried a tree in a pot behind a window, or one brought under a lamp in
/// December.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Reading {
    /// Warmth counts from the release under the sky, wherever the tree stands.
    Sky,
    /// Warmth in a room counts from the day of entry.
    Entry,
}

/// Weight of the reading under the sky where the other tells earlier days; our estimate, for want of a trial.
pub const SKY: [(Lit, f64); 2] = [(Lit::Lamp, 0.35), (Lit::Window, 0.65)];

/// Warmth of one hour at `air`, degree-days.
///
/// ```text
/// h = w · ln(1 + exp((T − b)/w)) / 24
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | T | `air` | temperature of the hour | °C |
/// | b | `base` | base: 0 in light, 5 in the dark | °C |
/// | w | [`BEND`] | width of the bend | K |
///
/// **Holds** at every temperature; not a number gives 0.
/// **Error** within 0.1 degree-days a day of the sharp form over 1 °C from 4 °C on.
/// **Source** form: own, the smooth bend in place of max(T − 1, 0). Base 0 °C: 462 pairs of steady temperatures (`truth.md` section 3);
/// 5 °C in the dark: one experiment, doubtful.
/// **Checked** `tests/waking.rs`: the sharp form on the reference's own course.
///
/// # Example
///
/// ```
/// let at = |air| 24.0 * dormancy::wake::warmth(air, 0.0);
/// assert_eq!(format!("{:.2} {:.2} {:.2}", at(-4.0), at(1.0), at(12.0)), "0.25 1.95 12.00");
/// ```
pub fn warmth(air: f64, base: f64) -> f64 {
    if air.is_nan() {
        return 0.0;
    }
    let over = (air - base) / BEND;
    BEND * (over.max(0.0) + (-over.abs()).exp().ln_1p()) / 24.0
}

impl BudDay {
    /// One day from its hours; the half-made portion is carried on in `cold`. Hours that are not a number count for nothing.
    ///
    /// Reads a table of hundredths of a degree: warmth within 1e-4 degree-days a day, portions within 3 in 1,000.
    pub fn of_hours(hours: &[f64], light: f64, lit: Lit, cold: &mut DynamicState) -> BudDay {
        let table = quick::table();
        let (mut total, mut heat, mut portions) = (0.0, 0.0, 0.0);
        for &air in hours {
            total += air;
            let row = table.row(air);
            heat += if lit == Lit::Dark { row.dark } else { row.lit };
            portions += cold.step_quick(row);
        }
        BudDay { mean: total / hours.len() as f64, heat, portions, light, lit }
    }

    /// The same day, warmer by so many K; its portions stay.
    pub fn warmer(self, by: f64) -> BudDay {
        if by == 0.0 || self.mean.is_nan() {
            return self;
        }
        let base = BASE[usize::from(self.lit == Lit::Dark)];
        let gain = 24.0 * (warmth(self.mean + by, base) - warmth(self.mean, base));
        BudDay { mean: self.mean + by, heat: (self.heat + gain).max(0.0), ..self }
    }
}

/// What a lack of cold leaves of the warmth, from 0 to 1.
///
/// ```text
/// κ = exp(−s/10 · max(0, 115 − C))
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | C | `portions` | chill portions received | – |
/// | s | `slope` | slowing by 10 portions short | log |
///
/// **Holds** from 20 portions on; below it is carried on.
/// **Error** of a treatment inside study and species 0.34 in log (`VALIDATION.md`).
/// **Source** `truth.md` section 4; 1,476 rows of chambers.
/// **Checked** `tests/waking.rs`.
///
/// ```
/// assert_eq!(dormancy::wake::kappa(0.085, 115.0), 1.0);
/// ```
pub fn kappa(slope: f64, portions: f64) -> f64 {
    (-slope / 10.0 * (FULL_COLD - portions).max(0.0)).exp()
}

/// What the light makes of the warmth: exp(k · (L − 12) / 4), L held between 8 and 16 hours.
///
/// ```
/// assert_eq!(dormancy::wake::lambda(0.31, 12.0), 1.0);
/// ```
pub fn lambda(light: f64, hours: f64) -> f64 {
    let [least, most] = LIGHT_HOURS;
    (light * (hours.clamp(least, most) - 12.0) / 4.0).exp()
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

impl Release {
    /// Share of the warmth under the sky that counts on a day with so many portions received.
    pub fn share(self, day: i32, portions: f64) -> f64 {
        let by_day = logistic((f64::from(day) - RELEASE_DAY) / RELEASE_DAYS);
        let by_cold = |need: f64| logistic((portions - need) / RELEASE_PORTIONS);
        match self {
            Release::Day => by_day,
            Release::Cold(need) => by_cold(need),
            Release::Either(need) => 1.0 - (1.0 - by_day) * (1.0 - by_cold(need)),
        }
    }

    /// Portions that the release asks for; none where the calendar releases.
    pub fn portions(self) -> Option<f64> {
        match self {
            Release::Day => None,
            Release::Cold(need) | Release::Either(need) => Some(need),
        }
    }
}

/// The course of one season for one taxon, from the first day given.
///
/// ```text
/// progress(d) = Σ ρ · κ(C) · λ(L) · h / need
/// ρ  share released: of the sky, 1/(1 + exp(−(d − 37)/3)) or 1/(1 + exp(−(C − C₀)/2)); 1 in a room under the reading of entry, from day −45
/// C  portions so far; in a room a day short of 0.86 is counted as 0.86 while warmth waits there, so that earlier warmth costs no bud time
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | h | `BudDay::heat` | warmth of the day | degree-day |
/// | κ, λ | [`kappa`], [`lambda`] | slowing by a lack of cold, pull of the light | – |
/// | need | `Wake::need` | warmth to first broken buds | degree-day |
///
/// **Holds** for air, rooms and frames alike; a day without a reading adds nothing.
/// **Error** 4 to 5 days on wild trees in years left out of the fit; unknown for root-pruned trees in pots.
/// **Source** `truth.md` section 4, start by release and bend at the base our own.
/// **Checked** `tests/waking.rs`: Harvard Forest, Munich, chambers and Korea, by the shipped needs.
///
/// # Example
///
/// ```
/// use dormancy::wake::{BudDay, Reading, Release, Wake, course};
///
/// let wake = Wake { need: 49.0, slope: 0.0, light: 0.0, release: Release::Day };
/// let warm = [BudDay { mean: 10.0, heat: 10.0, ..BudDay::default() }; 10];
/// assert_eq!(course(&wake, Reading::Sky, 80, &warm).day_reaching(1.0), Some(84));
/// ```
pub fn course(wake: &Wake, reading: Reading, first_day: i32, days: &[BudDay]) -> Course {
    let mut sum = Sum::default();
    let progress =
        days.iter().zip(first_day..).map(|(day, number)| sum.add(wake, reading, number, day)).collect();
    Course { first_day, progress }
}

/// The running sums of a course.
#[derive(Clone, Copy, Debug, Default)]
struct Sum {
    portions: f64,
    progress: f64,
}

impl Sum {
    fn add(&mut self, wake: &Wake, reading: Reading, number: i32, day: &BudDay) -> f64 {
        let in_room = matches!(day.lit, Lit::Window | Lit::Lamp);
        let room = if in_room && number >= ENTRY { logistic((day.mean - ROOM[0]) / ROOM[1]) } else { 0.0 };
        let waits = match reading {
            Reading::Sky => 1.0 - wake.release.share(number, self.portions),
            Reading::Entry => 0.0,
        };
        let credit = MADE_UP.max(waits * BEST_DAY);
        self.portions += day.portions + room * (credit - day.portions).max(0.0);
        let under_sky = wake.release.share(number, self.portions);
        let released = if reading == Reading::Entry { under_sky.max(room) } else { under_sky };
        if released > 1e-4 && day.heat > 0.0 {
            self.progress +=
                released * kappa(wake.slope, self.portions) * lambda(wake.light, day.light) * day.heat
                    / wake.need;
        }
        self.progress
    }
}

/// The day on which half of the warmth under the sky counts; none where that cold never comes.
pub fn released(release: Release, first_day: i32, days: &[BudDay]) -> Option<i32> {
    let mut portions = 0.0;
    days.iter().zip(first_day..).find_map(|(day, number)| {
        portions += day.portions;
        (release.share(number, portions) >= 0.5).then_some(number)
    })
}

/// Weight of the reading under the sky for a tree that stood so: 1 where no room was warm before the release.
pub fn sky_weight(first_day: i32, days: &[BudDay]) -> f64 {
    let before =
        days.iter().zip(first_day..).filter(|(_, number)| (ENTRY..=RELEASE_DAY as i32 + 9).contains(number));
    let mut warm = before
        .filter(|(day, _)| day.heat >= 3.0)
        .map(|(day, _)| day.lit)
        .filter(|lit| SKY.iter().any(|it| it.0 == *lit));
    let Some(first) = warm.next() else { return 1.0 };
    let lit = if warm.any(|lit| lit == Lit::Lamp) { Lit::Lamp } else { first };
    SKY.iter().find(|it| it.0 == lit).map_or(1.0, |it| it.1)
}
