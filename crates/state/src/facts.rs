//! What is known of one tree on a day, as far as a verdict asks.

use jiff::civil::Date;
use measure::{
    quantity::{Centimetre, Millimetre, Share},
    stage::Stage,
    taxon::Taxon,
    winter::Hemisphere,
};
use pot::repot::insult::{Past, Strength};
use season::{cooling::First, nights::Nights};

use crate::going::Going;

/// A span of dates: one chance in ten that it is earlier, the middle, one in ten that it is later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// One in ten is earlier.
    pub early: Date,
    /// As likely before as after.
    pub middle: Date,
    /// One in ten is later.
    pub late: Date,
}

/// What the forecast says of the buds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Buds {
    /// Chance of each stage today, in the order of [`Stage::ALL`].
    pub today: [f64; 9],
    /// When they are full, and the last day before green tips; none where the season does not bring it.
    pub window: Option<[Span; 2]>,
}

impl Buds {
    /// Chance that the buds have come to a stage or further.
    ///
    /// ```
    /// use measure::stage::Stage;
    /// use state::facts::Buds;
    ///
    /// let buds = Buds { today: [0.5, 0.2, 0.2, 0.1, 0.0, 0.0, 0.0, 0.0, 0.0], window: None };
    /// assert!((buds.at_least(Stage::Full) - 0.3).abs() < 1e-12);
    /// ```
    pub fn at_least(&self, stage: Stage) -> f64 {
        self.today[stage.rank()..].iter().sum()
    }

    /// Chance that they are full or just break: the days for root work.
    pub fn ready(&self) -> f64 {
        self.today[Stage::Full.rank()] + self.today[Stage::Breaking.rank()]
    }
}

/// Buds as last looked at this season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seen {
    /// When.
    pub day: Date,
    /// What.
    pub stage: Stage,
    /// From memory or a photo.
    pub is_doubtful: bool,
}

/// What the tree has in the way of leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Foliage {
    /// None.
    Bare,
    /// Coming out, and soft.
    Soft,
    /// Full grown and hardened, or evergreen.
    Full,
    /// Colouring or falling.
    Autumn,
}

/// When some place with room is mild and free of frost for the fortnight that cut roots need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Recovery {
    /// Now.
    Now,
    /// From this day on.
    From(Date),
    /// On no day of the season that is known.
    Never,
}

/// The last root cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootCut {
    /// When.
    pub day: Date,
    /// Share of the roots removed; nothing where it was slipped into a larger pot.
    pub share: Share,
}

/// Whether anything asks for a repot this season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plan {
    /// Signs ask for it, or the grower does.
    Wanted,
    /// Nobody recorded its last repot, so whether it is due is not known.
    Unknown,
    /// Too few signs ask for it: so many points.
    NotNeeded(u8),
    /// The grower said no.
    Declined,
    /// It was done this season.
    Done(Date),
}

/// What is known of one tree on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// What it is.
    pub taxon: &'static Taxon,
    /// The day.
    pub today: Date,
    /// Which half of the Earth.
    pub hemisphere: Hemisphere,
    /// The forecast of its buds; none without weather, or for a tree that keeps no rest.
    pub buds: Option<Buds>,
    /// The last look at its buds this season.
    pub seen: Option<Seen>,
    /// Its leaves.
    pub foliage: Foliage,
    /// How strong it counts.
    pub strength: Strength,
    /// When that was judged; none where nobody did and normal is assumed.
    pub judged: Option<Date>,
    /// Its stress log.
    pub past: Vec<Past>,
    /// Three seasons of work are behind it.
    pub rest_is_due: bool,
    /// Its last root cut.
    pub root_cut: Option<RootCut>,
    /// The day it was last fed, where that is on record.
    pub fed: Option<Date>,
    /// What a repot today would cut.
    pub planned_cut: Share,
    /// Whether a repot is wanted this season.
    pub plan: Plan,
    /// Where cut roots could heal.
    pub recovery: Recovery,
    /// A layer is on it since.
    pub layer: Option<Date>,
    /// Wires on it.
    pub wires: usize,
    /// The site's mean first frost of the coming autumn, where weather tells.
    pub first_frost: Option<Date>,
    /// The first night of the coming autumn that is too cool for a pine's second needles to grow on, where weather tells.
    pub first_cool: Option<First>,
    /// The first day of the coming autumn that is too cold for cut roots to heal, where weather tells.
    pub roots_stop: Option<First>,
    /// How warm the coming nights are where it stands.
    pub nights: Option<Nights>,
    /// How high it is, where somebody measured it.
    pub height: Option<Centimetre>,
    /// How long its needles shall be, where the grower said so.
    pub needles: Option<Millimetre>,
    /// The next day on which it is shown.
    pub shown: Option<Date>,
    /// Chill portions still short of its need; none where it is short of none.
    pub cold_short: Option<f64>,
    /// It stands in the dark.
    pub in_dark: bool,
    /// Where it is to be moved; none while no place is named.
    pub going: Option<Going>,
}

impl Facts {
    /// A sound tree of which nothing else is known.
    ///
    /// ```
    /// use jiff::civil::date;
    /// use measure::{taxon::Taxon, winter::Hemisphere};
    /// use state::facts::Facts;
    ///
    /// let facts = Facts::of(Taxon::of("acer-palmatum").unwrap(), date(2026, 3, 28), Hemisphere::North);
    /// assert!(facts.buds.is_none() && facts.past.is_empty());
    /// ```
    pub fn of(taxon: &'static Taxon, today: Date, hemisphere: Hemisphere) -> Facts {
        Facts {
            taxon,
            today,
            hemisphere,
            buds: None,
            seen: None,
            foliage: Foliage::Full,
            strength: Strength::Normal,
            judged: None,
            past: Vec::new(),
            rest_is_due: false,
            root_cut: None,
            fed: None,
            planned_cut: Share(0.3),
            plan: Plan::Wanted,
            recovery: Recovery::Now,
            layer: None,
            wires: 0,
            first_frost: None,
            first_cool: None,
            roots_stop: None,
            nights: None,
            height: None,
            needles: None,
            shown: None,
            cold_short: None,
            in_dark: false,
            going: None,
        }
    }

    /// Days since a date, below 0 before it.
    pub fn days_since(&self, day: Date) -> i32 {
        (self.today - day).get_days()
    }
}
