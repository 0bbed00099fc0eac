//! Why a verdict is what it is: one value per finding, with its figures, what it demands and what it stands on.

mod by_kind;

use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Share},
    sourced::Standing,
    stage::Stage,
};
use pot::repot::insult::Strength;

pub use self::by_kind::{ByKind, Disease};
use crate::{facts::Span, verdict::Answer};

/// Something found for or against a piece of work today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// Nothing speaks against it.
    Nothing,
    /// Its months are now.
    InSeason {
        /// Their last day.
        until: Option<Date>,
        /// Why they are.
        why: &'static str,
    },
    /// Full buds were seen within the week, or are as good as certain.
    BudsReady {
        /// Chance that they are full or just break.
        chance: f64,
        /// The look that saw them.
        seen: Option<Date>,
    },
    /// A look saw green: the window is over.
    GreenSeen {
        /// When.
        day: Date,
        /// What.
        stage: Stage,
    },
    /// Green tips are out, as good as certain.
    WindowPast {
        /// Chance.
        chance: f64,
    },
    /// The window may be open, or over, or neither yet.
    WindowUnsure {
        /// Chance that buds are full or just break.
        ready: f64,
        /// Chance that green tips are out.
        past: f64,
    },
    /// Buds are not full yet.
    BudsNotFull {
        /// When they are.
        opens: Span,
    },
    /// Nothing tells of its buds.
    BudsUnknown,
    /// The season does not bring its buds so far in most years.
    NoWindow,
    /// No place is mild and free of frost for cut roots.
    NoMildPlace {
        /// The first day on which one is; none this season.
        from: Option<Date>,
    },
    /// Not in these months.
    OutOfSeason {
        /// The next day on which its months begin.
        next: Option<Date>,
        /// Why then.
        why: &'static str,
    },
    /// By the day on which all else has passed it is out of its months.
    ThenInSeason {
        /// That day.
        day: Date,
        /// The next day on which its months begin.
        next: Date,
        /// Why then.
        why: &'static str,
    },
    /// A second window, on a condition.
    SecondWindow {
        /// The condition.
        condition: &'static str,
    },
    /// It is not worked like that at all.
    NotThisKind,
    /// It is weak or sick.
    NotStrongEnough(Strength),
    /// Nobody judged its strength; normal is assumed.
    StrengthAssumed,
    /// Only a strong tree takes it, and nobody judged its strength.
    JudgeFirst,
    /// More than is left of the year's points.
    OverBudget {
        /// What it costs.
        costs: f64,
        /// What is left, not below 0.
        left: f64,
        /// When enough is free again, if nothing is added.
        free: Option<Date>,
    },
    /// The year's one major is spent.
    MajorSpent {
        /// When it is a year old.
        free: Date,
    },
    /// Too soon after the last major.
    TooSoon {
        /// Until when.
        until: Date,
    },
    /// Three seasons of work are behind it.
    RestDue {
        /// First day of the next season.
        until: Date,
    },
    /// A layer is on it.
    LayerOn {
        /// Since.
        since: Date,
    },
    /// Its roots were cut this season: its leaves feed the new ones.
    RootsCut {
        /// When.
        day: Date,
        /// How much.
        share: Share,
        /// Until when it is left alone.
        until: Date,
    },
    /// Its roots were cut some weeks ago: go easy.
    RootsSettling {
        /// When.
        day: Date,
        /// Until when.
        until: Date,
    },
    /// No feed after a root cut.
    NoFeed {
        /// When roots were cut.
        day: Date,
        /// Until when.
        until: Date,
    },
    /// Half-strength feed only, and only if new growth hardens.
    HalfFeed {
        /// Until when.
        until: Date,
    },
    /// Whether a repot is due is not known.
    DueUnknown,
    /// Too few signs ask for a repot.
    NotNeeded {
        /// Points of signs.
        points: u8,
    },
    /// The grower said no.
    Declined,
    /// It was repotted this season.
    Done {
        /// When.
        day: Date,
    },
    /// It bleeds while its sap rises.
    Bleeds,
    /// It has no leaves to take, or none to be fed.
    NoLeaves,
    /// Its leaves are still soft.
    LeavesSoft,
    /// Too few warm weeks are left for a second set of leaves.
    ShortSeason {
        /// Days to the mean first frost.
        days: i32,
    },
    /// How long the season lasts is not known.
    SeasonUnknown,
    /// Buds rub off while they swell.
    BudsRubOff,
    /// It carries no wire.
    NoWire,
    /// Light feed only.
    LightFeedOnly,
    /// It has not had its cold.
    ColdShort {
        /// Chill portions short.
        portions: f64,
    },
    /// It wakes in the dark.
    WakesInDark,
    /// Bought or moved out of warmth in leaf: by steps.
    BySteps,
    /// Its kind brings this with it.
    ByKind(ByKind),
    /// The air of the place it goes to may pass its line.
    FrostThere {
        /// The lowest air.
        low: Celsius,
        /// Its day, where it was read or is forecast.
        on: Option<Date>,
        /// The line.
        line: Celsius,
        /// It is colder yet where the tree stands.
        is_better: bool,
    },
    /// Its pot may get colder there than its roots are planned to survive.
    BallFrostThere {
        /// The coldest ball.
        ball: Celsius,
        /// The line.
        line: Celsius,
        /// It is colder yet where the tree stands.
        is_better: bool,
    },
    /// No weather tells how cold the place gets.
    PlaceUnknown,
    /// The place is dark, and the tree is awake.
    DarkThere,
    /// The place is dark and cold, and the buds are full: it holds them a little, no more.
    HoldsInDark,
    /// Too little light there for leaves.
    DimThere {
        /// mol/m² a day.
        light: f64,
    },
    /// A heated room for a hardy tree that rests, or has not had its cold.
    HeatedRoom,
    /// Its cold is met: the warmth there wakes it.
    WarmthWakes,
    /// It may get hotter there than it stands without shade.
    HeatThere {
        /// The highest air.
        high: Celsius,
        /// The air above which it is shaded.
        line: Celsius,
    },
    /// The place is full.
    NoRoomThere,
}

const SAFE: Standing =
    Standing::Estimate("our rule: doubt says look first, 80 % says yes, 90 % says too late");

impl Reason {
    /// What it demands.
    pub fn answer(self) -> Answer {
        use Reason as R;
        match self {
            R::Nothing | R::InSeason { .. } | R::BudsReady { .. } | R::WakesInDark => Answer::Yes,
            R::ByKind(it) => it.answer(),
            R::SecondWindow { .. }
            | R::StrengthAssumed
            | R::RootsSettling { .. }
            | R::HalfFeed { .. }
            | R::BudsRubOff
            | R::LightFeedOnly
            | R::ColdShort { .. }
            | R::SeasonUnknown
            | R::DueUnknown
            | R::BySteps
            | R::DimThere { .. }
            | R::HoldsInDark
            | R::HeatThere { .. }
            | R::WarmthWakes
            | R::NoRoomThere
            | R::FrostThere { is_better: true, .. }
            | R::BallFrostThere { is_better: true, .. } => Answer::Caution,
            R::PlaceUnknown | R::WindowUnsure { .. } | R::BudsUnknown | R::JudgeFirst => Answer::LookFirst,
            R::BudsNotFull { opens } => Answer::NotNow { until: Some(opens.early) },
            R::ThenInSeason { next, .. } => Answer::NotNow { until: Some(next) },
            R::NoMildPlace { from: next } | R::OutOfSeason { next, .. } => Answer::NotNow { until: next },
            R::OverBudget { free, .. } => Answer::NotNow { until: free },
            R::MajorSpent { free } => Answer::NotNow { until: Some(free) },
            R::TooSoon { until }
            | R::RestDue { until }
            | R::RootsCut { until, .. }
            | R::NoFeed { until, .. } => Answer::NotNow { until: Some(until) },
            R::FrostThere { .. }
            | R::BallFrostThere { .. }
            | R::DarkThere
            | R::HeatedRoom
            | R::LayerOn { .. }
            | R::Bleeds
            | R::NoLeaves
            | R::LeavesSoft
            | R::NoWire
            | R::NoWindow => Answer::NotNow { until: None },
            R::GreenSeen { .. }
            | R::WindowPast { .. }
            | R::NotThisKind
            | R::NotNeeded { .. }
            | R::Declined
            | R::Done { .. }
            | R::NotStrongEnough(_)
            | R::ShortSeason { .. } => Answer::NotThisSeason,
        }
    }

    /// Whether it only says that no repot is asked for, and nothing of the tree's state.
    pub fn is_plan(self) -> bool {
        matches!(self, Reason::NotNeeded { .. } | Reason::Declined | Reason::Done { .. })
    }

    /// What it stands on.
    pub fn standing(self) -> Standing {
        use Reason as R;
        match self {
            R::GreenSeen { .. } | R::LayerOn { .. } | R::NoWire | R::Declined | R::Done { .. } => {
                Standing::Measured
            }
            R::BudsReady { .. } | R::WindowPast { .. } | R::WindowUnsure { .. } | R::BudsNotFull { .. } => {
                SAFE
            }
            R::ByKind(it) => it.standing(),
            R::OverBudget { .. } | R::MajorSpent { .. } | R::TooSoon { .. } => pot::repot::insult::STANDING,
            _ => Standing::Practice,
        }
    }
}
