//! What a kind of tree brings with it, in the grower's words.

use jiff::civil::Date;
use measure::quantity::{Celsius, Units};
use season::cooling::{COOL_NIGHT, TOO_COLD_FOR_ROOTS};
use state::reason::{ByKind, Disease};

use crate::words::{self, count};

/// A night's temperature, to the degree.
fn degrees(units: Units, it: Celsius) -> String {
    match units {
        Units::Metric => format!("{:.0} °C", it.0),
        Units::Imperial => format!("{:.0} °F", it.0 * 1.8 + 32.0),
    }
}

/// A month by its name.
fn month(day: Date) -> String {
    day.strftime("%B").to_string()
}

/// The usual months of bloom: no model of ours and no table at hand tells the day on which a tree flowers.
fn usual_bloom([first, last]: [Date; 2]) -> String {
    format!("usual months {} to {}; no flower date of your tree is known", month(first), month(last))
}

/// A finding in words.
pub(super) fn words(it: ByKind, today: Date, units: Units) -> String {
    let warmth = |it: Celsius| degrees(units, it);
    let of = |day: Date| words::day(day, today);
    let days = |number: i32| count(number, "day", "days");
    let left = |[middle, early]: [i32; 2]| {
        format!(
            "{} to the mean first night below {}, {} if it comes early",
            days(middle),
            warmth(COOL_NIGHT),
            days(early)
        )
    };
    match it {
        ByKind::NightsWarm { cold } => format!("its nights stay about {} or warmer over the fortnight", warmth(cold)),
        ByKind::NightsUnsure { cold, middle, wanted } => format!(
            "its roots want nights of {}: the coming fortnight's are about {}, in a cold year {}",
            warmth(wanted),
            warmth(middle),
            warmth(cold)
        ),
        ByKind::NightsCold { middle, wanted } => {
            format!("its roots want nights of {}; the coming fortnight's are about {}", warmth(wanted), warmth(middle))
        }
        ByKind::NightsUnknown { wanted } => {
            format!("only while nights stay above {}; how warm its nights are is not known", warmth(wanted))
        }
        ByKind::FewWarmDays { days: left, needed, .. } if left <= 0 => format!(
            "it is too cold by now for cut roots to heal before winter; they need {} above {}",
            days(needed),
            warmth(TOO_COLD_FOR_ROOTS)
        ),
        ByKind::FewWarmDays { days: left, needed, .. } => format!(
            "cut roots need {} above {} before winter, and an early autumn leaves {left}",
            days(needed),
            warmth(TOO_COLD_FOR_ROOTS)
        ),
        ByKind::LightWorkOnly { most, .. } => {
            format!("this second window is for light work: no more than {:.0} % of its roots", most.0 * 100.0)
        }
        ByKind::FlowersFirst { bloom } => format!(
            "its flower buds are set: repotted now they come off; in a year in which it shall flower, repot right after the flowers ({})",
            usual_bloom(bloom)
        ),
        ByKind::InFlower { until } => {
            format!("it may flower now, in its usual months to the end of {}: after the flowers", month(until))
        }
        ByKind::FlowerBuds { months, bloom } => format!(
            "its flower buds are there: a shoot cut now loses its bloom, about {} away ({})",
            count(months, "month", "months"),
            usual_bloom(bloom)
        ),
        ByKind::NoFeedInStore => "it stands in a cold store: nothing is fed there".into(),
        ByKind::LastFed { day } => format!("last fed on {}", of(day)),
        ByKind::FedLately { day, until } => {
            format!("it was fed on {}: not again before {}, for salts add up", of(day), of(until))
        }
        ByKind::AzaleaYear(1) => "the year of its repot in the three-year cycle: flower buds off, top left alone".into(),
        ByKind::AzaleaYear(2) => "the shaping year of its three-year cycle".into(),
        ByKind::AzaleaYear(_) => {
            "a flower year of its three-year cycle: thin the buds by a third to a half, and take flowers off once four in five are open".into()
        }
        ByKind::CandlesEarly { window: [first, last] } => {
            format!("cut its candles {} to {}, counted back from your autumn", of(first), of(last))
        }
        ByKind::CandlesNow { window: [first, last], left: span } => format!(
            "cut its candles now ({} to {}): {}; stop feeding at the cut",
            of(first),
            of(last),
            left(span)
        ),
        ByKind::CandlesLate { window: [first, last], left: span } => format!(
            "late for the needles it shall have ({} to {}): {}. Cut now, they will be short for it; cut only its strongest candles, or leave it this year and have longer needles",
            of(first),
            of(last),
            left(span)
        ),
        ByKind::CandlesTooLate { left: span } => {
            format!("too late: {}, and new needles want 80 days to harden", left(span))
        }
        ByKind::ForShow { shown, window: [first, last] } => format!(
            "it is shown on {}: for needles that are out and hard by then, cut {} to {}",
            of(shown),
            of(first),
            of(last)
        ),
        ByKind::HeightUnknown => {
            "nobody said how long its needles shall be or measured its height, on which the day depends: a middle size is assumed"
                .into()
        }
        ByKind::EverySecondYear => "softer than a black pine: every second year at most, or lightly".into(),
        ByKind::CandlesCut { until } => format!("its candles were cut: no feed before {}, when new shoots are out", of(until)),
        ByKind::FeedUntil { day } => format!("strong feed until {}, by your mean first frost", of(day)),
        ByKind::LateFeed { since: Some(day) } => {
            format!("no strong nitrogen since {}, by your mean first frost: soft growth winters badly", of(day))
        }
        ByKind::LateFeed { since: None } => {
            "no strong nitrogen now: soft growth winters badly (when frost comes here is not known)".into()
        }
        ByKind::Disease(Disease::OakWilt) => {
            "where oak wilt occurs no oak is cut from spring to midsummer: ask locally".into()
        }
        ByKind::Disease(Disease::DutchElm) => {
            "where Dutch elm disease occurs fresh wounds draw its beetles from spring to midsummer: ask locally".into()
        }
        ByKind::Note(words) => words.into(),
    }
}
