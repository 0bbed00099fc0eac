//! Days, stages, caveats and advice in the reader's words.

use std::fmt::Display;

use dormancy::{
    chill::ChillModel,
    forecast::{Caveat, Spread},
};
use jiff::civil::Date;
use measure::{stage::Stage, winter::Winter};
use season::{advice::Firmness, ground::HORIZON};

/// A date as "14 Mar"; with the year where it is not the reader's.
pub fn day(date: Date, today: Date) -> String {
    short(date, (date - today).get_days().abs() < FAR)
}

/// Dates further off than this carry their year, days.
const FAR: i32 = 200;

fn short(date: Date, near: bool) -> String {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let month = MONTHS[date.month() as usize - 1];
    if near { format!("{} {month}", date.day()) } else { format!("{} {month} {}", date.day(), date.year()) }
}

/// Three dates in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Days {
    /// One in ten is earlier.
    pub early: String,
    /// The middle.
    pub middle: String,
    /// One in ten is later.
    pub late: String,
    /// The middle as a date for machines.
    pub iso: String,
}

/// A spread in words.
pub fn days(winter: Winter, spread: Spread, today: Date) -> Days {
    // The middle decides for all three whether they carry their year.
    let near = (winter.date(spread.middle) - today).get_days().abs() < FAR;
    let of = |number| short(winter.date(number), near);
    let late = of(spread.late);
    Days {
        early: of(spread.early),
        middle: of(spread.middle),
        late: if spread.late >= HORIZON { format!("{late} or later") } else { late },
        iso: winter.date(spread.middle).to_string(),
    }
}

/// What weakens a forecast, for the reader.
pub fn caveat(caveat: Caveat) -> String {
    match caveat {
        Caveat::FewYears(years) => {
            match years {
                0 => "no measured past year follows: the usual weather stands in, run warmer and colder, and its spread is a guess"
                    .into(),
                years => format!(
                    "only {} could follow, each run warmer and colder too; ten or more carry the spread themselves",
                    count(years, "measured past year", "measured past years")
                ),
            }
        }
        Caveat::NoLook => "no bud look this winter; one look would narrow this".into(),
        Caveat::MayNotHappen(share) => {
            format!("in {:.0} % of the courses green tips are not reached this season", share * 100.0)
        }
        Caveat::LooksContradict => {
            "a look says that buds went back; the later looks were believed, take the wrong one back".into()
        }
        Caveat::BehindLook(seen) => format!(
            "the last look saw {}, further on than the weather and the other looks tell; look again before you decide",
            stage(seen)
        ),
        Caveat::LooksSurprise => {
            "the looks do not fit the weather here, so the last look was believed; check the tree's place and name"
                .into()
        }
    }
}

/// How firm a window is.
pub fn firmness(firmness: Firmness) -> &'static str {
    match firmness {
        Firmness::Firm => "firm",
        Firmness::Fair => "fair",
        Firmness::Loose => "loose",
    }
}

/// A cold model's amount with its unit.
pub fn amount(model: ChillModel, amount: f64) -> String {
    let digits = usize::from(matches!(model, ChillModel::Dynamic));
    format!("{amount:.digits$} {}", model.unit()).replace('-', "−")
}

/// Stage code and words, as "03 full, still shut".
pub fn stage(stage: Stage) -> String {
    stage.to_string()
}

/// A share as a whole percentage that never claims certainty.
pub fn percent(share: f64) -> String {
    match (share * 100.0).round() as i32 {
        ..=0 => "under 1 %".into(),
        100.. => "over 99 %".into(),
        percent => format!("{percent} %"),
    }
}

/// "1 day", "3 days".
pub fn count(number: impl Display, one: &str, many: &str) -> String {
    let number = number.to_string();
    let noun = if number == "1" { one } else { many };
    format!("{number} {noun}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn far_dates_carry_their_year() {
        assert_eq!(day(date(2026, 3, 14), date(2026, 2, 1)), "14 Mar");
        assert_eq!(day(date(2024, 3, 14), date(2026, 2, 1)), "14 Mar 2024");
    }

    #[test]
    fn no_chance_is_called_certain() {
        assert_eq!(percent(1.0), "over 99 %");
        assert_eq!(percent(0.0), "under 1 %");
    }
}
