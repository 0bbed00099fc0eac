//! Whether one person should lift a pot: the revised NIOSH lifting equation, for planning only.

use measure::{
    quantity::{Centimetre, Degrees, Kilogram},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

/// Said beside every answer of this file.
pub const PLANNING_ONLY: &str = "For planning only. It holds for two hands, a firm stand and a load that does not shift: not for \
    stairs, mud or one hand. Follow the lifting rules of your work or health authority.";

/// How well the hands hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grip {
    /// Handles or cut-outs.
    Good,
    /// A lip to get the fingers under.
    Fair,
    /// Wet glaze without a lip.
    Poor,
}

/// How long the lifting goes on, at most one lift in five minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spell {
    /// Up to one hour.
    Hour,
    /// Up to two hours.
    TwoHours,
    /// Up to eight hours.
    Day,
}

/// One lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// What is lifted.
    pub load: Kilogram,
    /// From the ankles to the hands, level.
    pub reach: Centimetre,
    /// Height of the hands where the lift starts.
    pub start: Centimetre,
    /// How far up or down it goes.
    pub travel: Centimetre,
    /// How far the body turns.
    pub twist: Degrees,
    /// How well the hands hold.
    pub grip: Grip,
    /// How long the lifting goes on.
    pub spell: Spell,
}

/// What each circumstance leaves of the most one should lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Multipliers {
    /// For the reach, HM.
    pub reach: Sourced<f64>,
    /// For the height of the hands, VM.
    pub height: Sourced<f64>,
    /// For the way up or down, DM.
    pub travel: Sourced<f64>,
    /// For the turn, AM.
    pub twist: Sourced<f64>,
    /// For how long it goes on, FM.
    pub spell: Sourced<f64>,
    /// For the hold, CM.
    pub grip: Sourced<f64>,
}

/// What the equation says of a lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judgement {
    /// The most to lift so, RWL.
    pub limit: Kilogram,
    /// Load over limit, LI; none where nothing should be lifted so at all.
    pub index: Option<f64>,
    /// What led there.
    pub multipliers: Multipliers,
}

impl Judgement {
    /// Whether to get a second person, or a trolley: the load is above the limit.
    pub fn wants_help(&self) -> bool {
        self.index.is_none_or(|index| index > 1.0)
    }
}

/// The most to lift under the best of circumstances.
const BEST: f64 = 23.0;

/// Read by the reference set.
const READ: Standing =
    Standing::Published("Waters et al. 1994, NIOSH 94-110, page read in the reference set");
/// Remembered by the reference set.
const REMEMBERED: Standing = Standing::Unverified("Waters et al. 1994, NIOSH 94-110");

impl Lift {
    /// The most to lift so, and how the load compares.
    ///
    /// ```text
    /// RWL = 23·HM·VM·DM·AM·FM·CM,   LI = load/RWL
    /// HM = 25/H (H ≤ 25: 1; > 63: 0)        VM = 1 − 0.003·|V − 75| (V > 175: 0)
    /// DM = 0.82 + 4.5/D (D < 25: 1; > 175: 0)   AM = 1 − 0.0032·A (A > 135: 0)
    /// FM = 1, 0.95, 0.85 (one, two, eight hours)   CM = 1; 0.95 (V < 75) or 1; 0.9 (good, fair, poor)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | RWL, LI | `limit`, `index` returned | recommended weight limit, lifting index | kg, 1 |
    /// | H, V, D | `reach`, `start`, `travel` | hands from ankles, height of hands, way up or down | cm |
    /// | A | `twist` | turn of the body | ° |
    /// | FM, CM | `spell`, `grip` | for how long, and the hold | 1 |
    ///
    /// **Holds** for a lift in five minutes or fewer, two hands, a load that does not shift, firm ground. Take the worse of start
    /// and end. **Error** the metric form gives up to 4 % less than the printed example in pounds (15.7 for 16.3 lb).
    /// **Source** Waters et al. 1994, NIOSH 94-110; AM, FM and CM remembered. **Checked** `tests/lift.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is not that of a lift.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, Degrees, Kilogram};
    /// use pot::lift::{Grip, Lift, Spell};
    ///
    /// let from_the_ground = Lift {
    ///     load: Kilogram(12.0),
    ///     reach: Centimetre(40.0),
    ///     start: Centimetre(10.0),
    ///     travel: Centimetre(70.0),
    ///     twist: Degrees(0.0),
    ///     grip: Grip::Fair,
    ///     spell: Spell::Hour,
    /// };
    /// let judged = from_the_ground.judge()?;
    /// assert_eq!(format!("{:.1} kg", judged.limit.0), "9.7 kg");
    /// assert!(judged.wants_help());
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn judge(&self) -> Result<Judgement, OutOfRange> {
        let load = within("weight to lift, kg", self.load.0, 0.0, 10_000.0)?;
        let multipliers = self.multipliers()?;
        let Multipliers { reach, height, travel, twist, spell, grip } = multipliers;
        let limit = BEST * reach.value * height.value * travel.value * twist.value * spell.value * grip.value;
        let index = (limit > 0.0).then_some(load / limit);
        Ok(Judgement { limit: Kilogram(limit), index, multipliers })
    }

    fn multipliers(&self) -> Result<Multipliers, OutOfRange> {
        let reach = within("reach of the hands, cm", self.reach.0, 0.0, 200.0)?;
        let start = within("height of the hands, cm", self.start.0, 0.0, 300.0)?;
        let travel = within("way of the lift, cm", self.travel.0, 0.0, 300.0)?;
        let twist = within("turn of the body, °", self.twist.0, 0.0, 180.0)?;
        let up_to = |most: f64, got: f64, value: f64| if got > most { 0.0 } else { value };
        let read = |value| Sourced { value, standing: READ };
        let remembered = |value| Sourced { value, standing: REMEMBERED };
        Ok(Multipliers {
            reach: read(up_to(63.0, reach, 25.0 / reach.max(25.0))),
            height: read(up_to(175.0, start, 1.0 - 0.003 * (start - 75.0).abs())),
            travel: read(up_to(175.0, travel, if travel < 25.0 { 1.0 } else { 0.82 + 4.5 / travel })),
            twist: remembered(up_to(135.0, twist, 1.0 - 0.0032 * twist)),
            spell: remembered(match self.spell {
                Spell::Hour => 1.0,
                Spell::TwoHours => 0.95,
                Spell::Day => 0.85,
            }),
            grip: remembered(match self.grip {
                Grip::Fair if start < 75.0 => 0.95,
                Grip::Good | Grip::Fair => 1.0,
                Grip::Poor => 0.9,
            }),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ideal() -> Lift {
        let [reach, start, travel] = [25.0, 75.0, 25.0].map(Centimetre);
        let (grip, spell) = (Grip::Good, Spell::Hour);
        Lift { load: Kilogram(23.0), reach, start, travel, twist: Degrees(0.0), grip, spell }
    }

    #[test]
    fn one_person_lifts_up_to_the_limit_and_no_more() {
        assert!(!ideal().judge().unwrap().wants_help());
        assert!(Lift { load: Kilogram(23.5), ..ideal() }.judge().unwrap().wants_help());
    }

    #[test]
    fn nothing_is_lifted_at_arms_length_overhead_or_behind_the_back() {
        for lift in [
            Lift { reach: Centimetre(64.0), ..ideal() },
            Lift { start: Centimetre(176.0), ..ideal() },
            Lift { travel: Centimetre(176.0), ..ideal() },
            Lift { twist: Degrees(136.0), ..ideal() },
        ] {
            let judged = Lift { load: Kilogram(0.1), ..lift }.judge().unwrap();
            assert!(
                judged.limit == Kilogram(0.0) && judged.index.is_none() && judged.wants_help(),
                "{judged:?}"
            );
        }
    }
}
