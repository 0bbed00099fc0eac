//! Bud stages from closed to first leaves grown, numbered as in BBCH 00 to 19.

use std::fmt;

/// A bud stage; the number is the BBCH code.
///
/// Codes: Meier (2001) BBCH Monograph, 2nd ed.; Hack et al. (1992). The words are ours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Stage {
    /// Bud closed and hard.
    Dormant = 0,
    /// Bud visibly fatter.
    Swelling = 1,
    /// Bud at full size and still shut: the best moment to cut roots.
    Full = 3,
    /// First green tip at the apex.
    Breaking = 7,
    /// Green tips clear of the scales.
    GreenTip = 9,
    /// Leaf tips stand apart.
    Separating = 10,
    /// First blades flat.
    Unfolded = 11,
    /// Several blades flat.
    SeveralUnfolded = 15,
    /// First leaves at final size.
    Grown = 19,
}

impl Stage {
    /// All stages in order.
    pub const ALL: [Stage; 9] = [
        Stage::Dormant,
        Stage::Swelling,
        Stage::Full,
        Stage::Breaking,
        Stage::GreenTip,
        Stage::Separating,
        Stage::Unfolded,
        Stage::SeveralUnfolded,
        Stage::Grown,
    ];

    /// The BBCH code.
    pub fn code(self) -> u8 {
        self as u8
    }

    /// Place in [`Stage::ALL`], from 0.
    pub fn rank(self) -> usize {
        match self {
            Stage::Dormant => 0,
            Stage::Swelling => 1,
            Stage::Full => 2,
            Stage::Breaking => 3,
            Stage::GreenTip => 4,
            Stage::Separating => 5,
            Stage::Unfolded => 6,
            Stage::SeveralUnfolded => 7,
            Stage::Grown => 8,
        }
    }

    /// The stage with this BBCH code, if we know it.
    ///
    /// ```
    /// use measure::stage::Stage;
    ///
    /// assert_eq!(Stage::from_code(3), Some(Stage::Full));
    /// assert_eq!(Stage::from_code(4), None);
    /// ```
    pub fn from_code(code: u8) -> Option<Stage> {
        Stage::ALL.into_iter().find(|stage| stage.code() == code)
    }

    /// The next stage, or none after the last.
    pub fn next(self) -> Option<Stage> {
        Stage::ALL.get(self.rank() + 1).copied()
    }

    /// The stage in two or three words.
    pub fn words(self) -> &'static str {
        match self {
            Stage::Dormant => "closed and hard",
            Stage::Swelling => "swelling",
            Stage::Full => "full, still shut",
            Stage::Breaking => "first green showing",
            Stage::GreenTip => "green tips out",
            Stage::Separating => "leaves parting",
            Stage::Unfolded => "first leaves flat",
            Stage::SeveralUnfolded => "more leaves flat",
            Stage::Grown => "first leaves grown",
        }
    }

    /// What to look for on the bud.
    pub fn signs(self) -> &'static str {
        match self {
            Stage::Dormant => "bud small, hard, wrapped in dark scales",
            Stage::Swelling => "bud fatter; paler edges between the scales",
            Stage::Full => {
                "bud as big as it gets; pale or green line between the scales, nothing sticking out"
            }
            Stage::Breaking => "a green point just showing at the top of the bud",
            Stage::GreenTip => "green tips clear of the scales",
            Stage::Separating => "leaf tips stand apart, blades not yet flat",
            Stage::Unfolded => "the first blades are flat, others still folded",
            Stage::SeveralUnfolded => "more blades flat, none at full size",
            Stage::Grown => "the first leaves have reached their size",
        }
    }
}

impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02} {}", self.code(), self.words())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_follow_the_order_of_the_list() {
        for (rank, stage) in Stage::ALL.into_iter().enumerate() {
            assert_eq!(stage.rank(), rank);
            assert_eq!(Stage::from_code(stage.code()), Some(stage));
        }
    }
}
