//! The flow of vigour: light gathered from the buds down, shared out from the foot up.

/// No metamer: what the first one hangs on.
pub const NONE: u32 = u32::MAX;

/// A tree as rows: one metamer each, bearers before what they bear. At the end of each stands a main place, which a metamer that
/// follows or a bud fills, and side places.
#[derive(Clone, Copy, Debug)]
pub struct Rows<'a> {
    /// What each metamer hangs on.
    pub bearer: &'a [u32],
    /// Whether it fills the main place of its bearer.
    pub follows: &'a [bool],
    /// Light of the bud in the main place; 0 for none.
    pub main_bud: &'a [f64],
    /// Light of the buds in the side places together.
    pub side_buds: &'a [f64],
}

/// What flows through each metamer.
#[derive(Clone, Debug, Default)]
pub struct Flow {
    /// Light gathered in the main place.
    pub main: Vec<f64>,
    /// Light gathered in the side places.
    pub side: Vec<f64>,
    /// Vigour that comes up through the metamer.
    pub vigour: Vec<f64>,
    /// Vigour that goes to its main place.
    pub to_main: Vec<f64>,
    /// Vigour that goes to its side places.
    pub to_side: Vec<f64>,
}

/// How vigour is shared out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sharing {
    /// Above 0.5 favours the leader, below it the sides (λ).
    pub apical: f64,
    /// Vigour for each unit of light (α).
    pub strength: f64,
    /// Share of the roots' vigour that is carried over from before a cut (ρ).
    pub reserve: f64,
    /// The light gathered before the cut; none where nothing was cut.
    pub before: Option<f64>,
}

impl Flow {
    /// Light gathered in a metamer.
    pub fn light(&self, at: usize) -> f64 {
        self.main[at] + self.side[at]
    }

    /// Gathers light down the tree and shares vigour out up it.
    ///
    /// ```text
    /// v_base = α·[(1 − ρ)·Q + ρ·Q_before];   v_m = v·λ·Q_m/(λ·Q_m + (1 − λ)·Q_l),   v_l = v − v_m
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | Q, Q_m, Q_l | [`Flow::light`], `main`, `side` | light gathered, in the main place, in the side places | 1 |
    /// | v, v_m, v_l | `vigour`, `to_main`, `to_side` | vigour | base lengths |
    /// | λ, α, ρ | [`Sharing`] | apical control, strength, carried over | 1 |
    ///
    /// Side places share by light. **Holds** for λ between 0 and 1, both left out. **Error** the sum over the buds is that at the
    /// foot to 1e-9. **Source** Borchert and Honda 1984 as extended by Palubicki et al. 2009 (read in an implementation); ρ is ours.
    /// **Checked** `tests/growth.rs`.
    pub fn run(&mut self, rows: Rows, sharing: Sharing) {
        let count = rows.bearer.len();
        self.main.clear();
        self.main.extend_from_slice(rows.main_bud);
        self.side.clear();
        self.side.extend_from_slice(rows.side_buds);
        for row in [&mut self.vigour, &mut self.to_main, &mut self.to_side] {
            row.clear();
            row.resize(count, 0.0);
        }
        for at in (1..count).rev() {
            let (light, bearer) = (self.main[at] + self.side[at], rows.bearer[at] as usize);
            if rows.follows[at] { self.main[bearer] += light } else { self.side[bearer] += light }
        }
        if count == 0 {
            return;
        }
        let now = self.light(0);
        let before = sharing.before.unwrap_or(now);
        self.vigour[0] = sharing.strength * ((1.0 - sharing.reserve) * now + sharing.reserve * before);
        for at in 0..count {
            if at > 0 {
                let bearer = rows.bearer[at] as usize;
                self.vigour[at] = if rows.follows[at] {
                    self.to_main[bearer]
                } else if self.side[bearer] > 0.0 {
                    self.to_side[bearer] * (self.main[at] + self.side[at]) / self.side[bearer]
                } else {
                    0.0
                };
            }
            let (main, side) = (sharing.apical * self.main[at], (1.0 - sharing.apical) * self.side[at]);
            let all = main + side;
            self.to_main[at] = if all > 0.0 { self.vigour[at] * main / all } else { 0.0 };
            self.to_side[at] = if all > 0.0 { self.vigour[at] - self.to_main[at] } else { 0.0 };
        }
    }
}

/// How many metamers a bud makes of its vigour, and how long each is in base lengths.
///
/// ```
/// use form::growth::flux::shoot;
///
/// assert_eq!(shoot(2.75), (2, 1.375));
/// assert_eq!(shoot(0.9), (0, 0.0));
/// ```
pub fn shoot(vigour: f64) -> (u32, f64) {
    let count = (vigour + 1e-9).floor().max(0.0) as u32;
    (count, if count > 0 { vigour / f64::from(count) } else { 0.0 })
}
