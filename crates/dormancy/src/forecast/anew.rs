//! A tree that a look found where no likely pace has it: told from the look on, with a wide spread.

use super::{
    Course, Pace, Spread,
    grid::{passing, weighed},
    running,
};

/// Spread of the heat or cold still needed after a look that no likely pace explains, logarithm; our estimate.
const WIDE: f64 = 0.5;

/// Least days from the early to the late date of a stage told from such a look; our choice.
const LEAST_SPAN: i32 = 6;

/// Places within the stage seen that are tried, as shares of the way through it.
const WITHIN: [f64; 5] = [0.1, 0.3, 0.5, 0.7, 0.9];

/// The season from a look on.
///
/// ```text
/// passing day of stage s = first d with progress(d) − progress(look) ≥ (share(s) − u) · exp(v),   v ~ t₄(0, 0.5), u within the stage seen
/// ```
pub(crate) struct Anew {
    /// What each course adds after the look.
    added: Vec<Course>,
    paces: Vec<f64>,
    weights: Vec<f64>,
    /// Where in the stage seen it may stand.
    stands: [f64; 5],
}

impl Anew {
    /// From a look on a day at a stage that begins and ends at these shares.
    pub(crate) fn from(courses: &[Course], day: i32, [begins, ends]: [f64; 2]) -> Anew {
        let added = courses
            .iter()
            .map(|course| {
                let then = course.on(day);
                let progress = course.progress.iter().map(|it| (it - then).max(0.0)).collect();
                Course { first_day: course.first_day, progress }
            })
            .collect();
        let (paces, weights, _) = weighed(Pace { mean: 0.0, sd: WIDE }, &[], |_: &(), _| 1.0);
        Anew { added, paces, weights, stands: WITHIN.map(|part| begins + (ends - begins) * part) }
    }

    /// When a later stage is passed, and the share of courses that never do.
    pub(crate) fn passing(&self, share: f64) -> (Option<Spread>, f64) {
        let scaled: Vec<Course> = self
            .stands
            .iter()
            .flat_map(|stands| {
                let gap = (share - stands).max(1e-6);
                self.added.iter().map(move |course| Course {
                    first_day: course.first_day,
                    progress: course.progress.iter().map(|it| it / gap).collect(),
                })
            })
            .collect();
        let (spread, missed) = passing(&scaled, 1.0, &self.paces, &running(&self.weights));
        (spread.map(|it| Spread { late: it.late.max(it.early + LEAST_SPAN), ..it }), missed)
    }

    /// Chance that a later stage is passed by a day that all courses know alike.
    pub(crate) fn passed(&self, share: f64, day: i32) -> f64 {
        let added = self.added.first().map_or(0.0, |course| course.on(day));
        let of = |stands: &f64| -> f64 {
            let gap = (share - stands).max(1e-6);
            let quick = self.paces.iter().zip(&self.weights).filter(|(pace, _)| added >= gap * pace.exp());
            quick.map(|(_, weight)| weight).sum()
        };
        self.stands.iter().map(of).sum::<f64>() / self.stands.len() as f64
    }
}
