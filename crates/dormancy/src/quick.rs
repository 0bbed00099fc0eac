//! What an hour of air is worth to a bud, read off a table of hundredths of a degree.

use std::sync::LazyLock;

use crate::{
    dynamic,
    wake::{BASE, warmth},
};

const COLDEST: f64 = -40.0;
const WARMEST: f64 = 55.0;
const STEPS: f64 = 100.0;

/// One temperature: see [`crate::dynamic::DynamicState::step`] and [`warmth`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// Where the half-made portion tends to.
    pub(crate) tends: f64,
    /// What an hour leaves of the way there.
    pub(crate) left: f64,
    /// Share of a half-made portion of one or more that is finished.
    pub(crate) finished: f64,
    /// Warmth in light, degree-days.
    pub(crate) lit: f64,
    /// Warmth in the dark, degree-days.
    pub(crate) dark: f64,
}

pub(crate) struct Table(Vec<Row>);

impl Table {
    /// The row of an hour; one that is not a number is worth nothing and changes nothing.
    pub(crate) fn row(&self, air: f64) -> &Row {
        const NOTHING: Row = Row { tends: 0.0, left: 1.0, finished: 0.0, lit: 0.0, dark: 0.0 };
        if air.is_nan() {
            return &NOTHING;
        }
        let at = ((air.clamp(COLDEST, WARMEST) - COLDEST) * STEPS + 0.5) as usize;
        self.0.get(at).unwrap_or(&NOTHING)
    }
}

/// The table, made once.
pub(crate) fn table() -> &'static Table {
    static TABLE: LazyLock<Table> = LazyLock::new(|| {
        let rows = ((WARMEST - COLDEST) * STEPS) as usize + 1;
        let of = |at: usize| {
            let air = COLDEST + at as f64 / STEPS;
            let [tends, left, finished] = dynamic::rates(air + 273.0);
            Row { tends, left, finished, lit: warmth(air, BASE[0]), dark: warmth(air, BASE[1]) }
        };
        Table((0..rows).map(of).collect())
    });
    &TABLE
}
