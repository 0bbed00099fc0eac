//! Findings that a kind of tree brings with it: its nights, its flowers, its candles, its second window, its feed.

use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Share},
    sourced::Standing,
};

use crate::verdict::Answer;

/// Something found because of the kind of tree it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ByKind {
    /// Its nights are warm enough for its roots.
    NightsWarm {
        /// Mean of the coming nights, one year in ten.
        cold: Celsius,
    },
    /// Its nights may not be warm enough.
    NightsUnsure {
        /// Mean of the coming nights: one year in ten, and the middle.
        cold: Celsius,
        /// The middle of years.
        middle: Celsius,
        /// What its roots want.
        wanted: Celsius,
    },
    /// Its nights are too cold for its roots.
    NightsCold {
        /// Mean of the coming nights, the middle of years.
        middle: Celsius,
        /// What its roots want.
        wanted: Celsius,
    },
    /// How warm its nights are is not known.
    NightsUnknown {
        /// What its roots want.
        wanted: Celsius,
    },
    /// Too few days warm enough for roots are left in its second window.
    FewWarmDays {
        /// Days left if it cools early.
        days: i32,
        /// Days that its roots need.
        needed: i32,
        /// The next day on which its first window begins.
        next: Option<Date>,
    },
    /// Its second window is for light work alone.
    LightWorkOnly {
        /// The most that is cut then.
        most: Share,
        /// The next day on which its first window begins.
        next: Option<Date>,
    },
    /// Repotted before it flowers it needs its flower buds taken off; in a year in which it shall flower, after the flowers.
    FlowersFirst {
        /// The usual months of bloom.
        bloom: [Date; 2],
    },
    /// It flowers now: after the flowers.
    InFlower {
        /// The last day of the usual months of bloom.
        until: Date,
    },
    /// Its flower buds are there: what is cut now does not flower.
    FlowerBuds {
        /// Months to the bloom that the cut costs.
        months: i32,
        /// The usual months of that bloom.
        bloom: [Date; 2],
    },
    /// Which year of the satsuki cycle it is in: 1 repot, 2 shaping, 3 flowers.
    AzaleaYear(u8),
    /// Its candles are cut later.
    CandlesEarly {
        /// First and last day, counted back from the site's first cool night.
        window: [Date; 2],
    },
    /// Its candles are cut now.
    CandlesNow {
        /// First and last day.
        window: [Date; 2],
        /// Days to the mean first cool night, and to an early one.
        left: [i32; 2],
    },
    /// Its days have passed, and there is still time for short needles.
    CandlesLate {
        /// First and last day.
        window: [Date; 2],
        /// Days to the mean first cool night, and to an early one.
        left: [i32; 2],
    },
    /// Too few days are left for new needles to harden.
    CandlesTooLate {
        /// Days to the mean first cool night, and to an early one.
        left: [i32; 2],
    },
    /// It is shown on a day, and its needles are to be hard by then.
    ForShow {
        /// The day of the show.
        shown: Date,
        /// First and last day for its candles, by the autumn and the show.
        window: [Date; 2],
    },
    /// Nobody said how long its needles shall be or measured its height, on which the day for its candles depends.
    HeightUnknown,
    /// A red pine is decandled every second year at most.
    EverySecondYear,
    /// Its candles were cut: no feed until new shoots have come.
    CandlesCut {
        /// Until when.
        until: Date,
    },
    /// It was fed, and the trade's shortest interval is over.
    LastFed {
        /// When.
        day: Date,
    },
    /// It was fed lately: salts add up.
    FedLately {
        /// When.
        day: Date,
        /// The soonest day on which the trade feeds again.
        until: Date,
    },
    /// It stands in a cold, dark store, where nothing is fed.
    NoFeedInStore,
    /// Strong feed until this day.
    FeedUntil {
        /// The last day, counted back from the site's mean first frost.
        day: Date,
    },
    /// Strong feed late makes soft growth for winter.
    LateFeed {
        /// The last day on which it was given, counted back from the mean first frost; none where the site's frosts are not known.
        since: Option<Date>,
    },
    /// A disease that enters fresh cuts at this time of the year, where it occurs.
    Disease(Disease),
    /// What else to know when such work is done on its kind.
    Note(&'static str),
}

/// Diseases that enter by fresh cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Disease {
    OakWilt,
    DutchElm,
}

impl ByKind {
    /// What it demands.
    pub fn answer(self) -> Answer {
        use ByKind as K;
        match self {
            K::NightsWarm { .. }
            | K::AzaleaYear(_)
            | K::CandlesNow { .. }
            | K::FeedUntil { .. }
            | K::LastFed { .. }
            | K::ForShow { .. }
            | K::Note(_) => Answer::Yes,
            K::NightsUnsure { .. }
            | K::NightsUnknown { .. }
            | K::FlowersFirst { .. }
            | K::InFlower { .. }
            | K::FlowerBuds { .. }
            | K::CandlesLate { .. }
            | K::HeightUnknown
            | K::EverySecondYear
            | K::LateFeed { .. }
            | K::Disease(_) => Answer::Caution,
            K::NightsCold { .. } | K::NoFeedInStore => Answer::NotNow { until: None },
            K::FewWarmDays { next, .. } | K::LightWorkOnly { next, .. } => Answer::NotNow { until: next },
            K::CandlesEarly { window } => Answer::NotNow { until: Some(window[0]) },
            K::CandlesCut { until } | K::FedLately { until, .. } => Answer::NotNow { until: Some(until) },
            K::CandlesTooLate { .. } => Answer::NotThisSeason,
        }
    }

    /// What it stands on.
    pub fn standing(self) -> Standing {
        use ByKind as K;
        match self {
            K::CandlesEarly { .. }
            | K::CandlesNow { .. }
            | K::CandlesLate { .. }
            | K::ForShow { .. }
            | K::CandlesTooLate { .. } => season::candles::STANDING,
            K::FlowersFirst { .. } | K::InFlower { .. } | K::FlowerBuds { .. } => season::flowers::STANDING,
            K::AzaleaYear(_) => {
                Standing::Published("a society's notes on satsuki azaleas, undated, pages read")
            }
            K::Disease(_) => Standing::Unverified("where it occurs; follow the local rule"),
            K::FeedUntil { .. } | K::LateFeed { .. } => Standing::Estimate(
                "sixty days before the mean first frost, from the trade's mid August for a frost in mid October",
            ),
            _ => Standing::Practice,
        }
    }
}
