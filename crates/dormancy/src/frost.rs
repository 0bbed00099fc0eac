//! How cold and how hot a tree may be: above the soil by stage and taxon, at the root, each line with its standing.

mod table;

use measure::{
    quantity::Celsius,
    sourced::{Sourced, Standing},
    stage::Stage,
    taxon::{Kind, TAXA, Taxon},
};

pub use table::{Crop, FLOWER_BUDS, FlowerBud};

use crate::table::Figures;

/// What of the tree a line protects.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Leaf buds and what comes out of them.
    Buds,
    /// Flower buds, by a fruit tree of kin.
    FlowerBuds(FlowerBudName),
    /// Open leaves.
    Leaves,
    /// The soft new growth of a conifer or an azalea.
    NewGrowth,
    /// Roots as they are.
    Roots,
    /// Roots cut since last August.
    CutRoots,
    /// Roots of a tree that has woken.
    WokenRoots,
}

/// A flower bud's stage in the words of the crop that stands for the tree.
pub type FlowerBudName = (Crop, &'static str);

/// The lowest temperature that a part is planned to bear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The part.
    pub part: Part,
    /// The line with its standing.
    pub line: Sourced<Celsius>,
}

/// What decides a tree's lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// What it is.
    pub taxon: &'static Taxon,
    /// True where the name is a guess: then the tenderest of its kind sets the lines.
    pub is_guess: bool,
    /// Its bud stage; none for a tree that keeps no rest.
    pub stage: Option<Stage>,
    /// Whether its roots were cut since last August.
    pub is_cut: bool,
}

const OURS: Standing = Standing::Estimate("default by bud stage for trees without figures of their own");
const PLANNED: Standing = Standing::Estimate("planning figure of the taxon or its type");
const GUESSED: Standing =
    Standing::Estimate("the name is a guess, so the tenderest of its kind sets the line");
const BY_TABLE: Standing = Standing::Published(
    "Michigan State and Washington State extension table, one flower bud in ten killed in half an hour; for other than the \
     crop itself by kinship",
);
const RAISED: Standing = Standing::Estimate(
    "planning figure, five degrees warmer for roots cut within the year; common practice, no source",
);

/// Leaf buds of bare trees by stage, °C (reference set, section 8; our own defaults). Bare wood has no line: in winter it bears
/// −20 °C and lower, and the roots decide.
const LADDER: [(Stage, f64); 8] = [
    (Stage::Swelling, -10.0),
    (Stage::Full, -7.0),
    (Stage::Breaking, -5.0),
    (Stage::GreenTip, -3.0),
    (Stage::Separating, -3.0),
    (Stage::Unfolded, -2.0),
    (Stage::SeveralUnfolded, -2.0),
    (Stage::Grown, -2.0),
];

/// What cut roots are planned to be warmer by, K.
const CUT: f64 = 5.0;

impl Facts {
    /// The line above the soil; none for bare wood at rest, which bears any frost that its roots bear.
    ///
    /// The warmer of leaf and flower buds is given. Open leaves take the taxon's planning figure where it is warmer.
    ///
    /// **Holds** for planning. **Error** not known; trees in one garden differ by some 2 K. **Source** each line's standing.
    /// **Checked** `tests/frost.rs` for the flower buds; nothing yet for the rest.
    ///
    /// ```
    /// use dormancy::frost::Facts;
    /// use measure::{stage::Stage, taxon::Taxon};
    ///
    /// let maple = Taxon::of("acer-palmatum").unwrap();
    /// let at = |stage| Facts { taxon: maple, is_guess: false, stage: Some(stage), is_cut: false }.above();
    /// assert_eq!(at(Stage::Swelling).unwrap().line.value.0, -10.0);
    /// assert_eq!(at(Stage::Unfolded).unwrap().line.value.0, 0.0);
    /// assert!(at(Stage::Dormant).is_none());
    /// ```
    pub fn above(&self) -> Option<Limit> {
        self.tenderest(above)
    }

    /// The line for the root ball.
    ///
    /// Roots cut within the year are planned five degrees warmer, not above 0 °C for hardy trees; a tree past swelling should not
    /// freeze through. A taxon without figures takes 0 °C.
    ///
    /// **Holds** for planning. **Error** published kill temperatures of one taxon differ by up to 10 K. **Source** each line's standing.
    /// **Checked** nothing yet.
    ///
    /// ```
    /// use dormancy::frost::{Facts, Part};
    /// use measure::{stage::Stage, taxon::Taxon};
    ///
    /// let larch = Taxon::of("larix-decidua").unwrap();
    /// let asleep = Facts { taxon: larch, is_guess: false, stage: Some(Stage::Dormant), is_cut: false };
    /// let cut = Facts { is_cut: true, ..asleep };
    /// assert_eq!([asleep, cut].map(|tree| tree.roots().line.value.0), [-8.0, -3.0]);
    /// assert_eq!(Facts { stage: Some(Stage::Breaking), ..asleep }.roots().part, Part::WokenRoots);
    /// ```
    pub fn roots(&self) -> Limit {
        let line = Sourced { value: Celsius(0.0), standing: PLANNED };
        self.tenderest(|of| Some(roots(of))).unwrap_or(Limit { part: Part::Roots, line })
    }

    fn tenderest(&self, of: impl Fn(&Facts) -> Option<Limit>) -> Option<Limit> {
        if !self.is_guess {
            return of(self);
        }
        let kin = TAXA.iter().filter(|taxon| taxon.kind == self.taxon.kind);
        let limits = kin.filter_map(|taxon| of(&Facts { taxon, is_guess: false, ..*self }));
        let warmest = limits.max_by(|a, b| a.line.value.0.total_cmp(&b.line.value.0))?;
        Some(Limit { line: Sourced { standing: GUESSED, ..warmest.line }, ..warmest })
    }
}

fn above(tree: &Facts) -> Option<Limit> {
    let leaf = Figures::of(tree.taxon.key).map(|figures| figures.leaf_limit);
    let planned =
        |part, celsius| Limit { part, line: Sourced { value: Celsius(celsius), standing: PLANNED } };
    let is_soft = tree.stage.is_some_and(|stage| stage >= Stage::Breaking);
    if matches!(tree.taxon.kind, Kind::Tropical | Kind::Succulent | Kind::BroadleafEvergreen) {
        return leaf.map(|leaf| planned(Part::Leaves, leaf));
    }
    if !tree.taxon.kind.is_bare_in_winter() && tree.taxon.kind != Kind::SemiDeciduous {
        return leaf.filter(|_| is_soft).map(|leaf| planned(Part::NewGrowth, leaf));
    }
    let stage = tree.stage?;
    let (_, celsius) = LADDER.into_iter().rfind(|(from, _)| *from <= stage)?;
    let part = if stage >= Stage::Unfolded { Part::Leaves } else { Part::Buds };
    let by_stage = match leaf.filter(|&leaf| part == Part::Leaves && leaf > celsius) {
        Some(leaf) => planned(part, leaf),
        None => Limit { part, line: Sourced { value: Celsius(celsius), standing: OURS } },
    };
    let flowers = flowers(tree.taxon, stage).filter(|bud| bud.line.value > by_stage.line.value);
    Some(flowers.unwrap_or(by_stage))
}

/// The tenderest flower bud that may stand on a tree at this stage of its leaf buds.
fn flowers(taxon: &Taxon, stage: Stage) -> Option<Limit> {
    let crop = Crop::standing_for(taxon.key)?;
    let rows = FLOWER_BUDS.iter().filter(|bud| bud.crop == crop && bud.stage <= stage);
    let bud = rows.max_by(|a, b| a.tenth.0.total_cmp(&b.tenth.0))?;
    let line = Sourced { value: bud.tenth.celsius(), standing: BY_TABLE };
    Some(Limit { part: Part::FlowerBuds((crop, bud.words)), line })
}

fn roots(tree: &Facts) -> Limit {
    let planned = Figures::of(tree.taxon.key).map_or(0.0, |figures| figures.root_limit);
    let is_woken = tree.taxon.kind.rests() && tree.stage.is_some_and(|stage| stage >= Stage::Full);
    let cut = (planned + CUT).min(planned.max(0.0));
    let (part, celsius, standing) = if is_woken && planned < 0.0 {
        (Part::WokenRoots, 0.0, Standing::Practice)
    } else if tree.is_cut && cut > planned {
        (Part::CutRoots, cut, RAISED)
    } else {
        (Part::Roots, planned, PLANNED)
    };
    Limit { part, line: Sourced { value: Celsius(celsius), standing } }
}

/// Root balls above this are hurt.
pub const ROOT_HEAT: Sourced<Celsius> = Sourced {
    value: Celsius(38.0),
    standing: Standing::Published(
        "Witcher, Pickens and Blythe 2020, Horticulturae 6(2) 22, abstract: 38 °C and 46 °C as lines",
    ),
};

/// Air above which a tree of this kind is shaded.
///
/// ```
/// use dormancy::frost::shade_above;
/// use measure::taxon::Kind;
///
/// assert_eq!(shade_above(Kind::Maple).value.0, 30.0);
/// ```
pub fn shade_above(kind: Kind) -> Sourced<Celsius> {
    let celsius = match kind {
        Kind::BeechHornbeam => 28.0,
        Kind::Maple | Kind::Azalea | Kind::SpruceHemlock => 30.0,
        Kind::LarchGinkgo | Kind::YewCypress => 32.0,
        Kind::HardyDeciduous | Kind::Elm | Kind::StoneFruit | Kind::AppleFamily => 34.0,
        Kind::FloweringDeciduous | Kind::OneFlushPine => 34.0,
        Kind::Oak => 35.0,
        Kind::SemiDeciduous | Kind::BroadleafEvergreen => 36.0,
        Kind::Juniper => 38.0,
        Kind::TwoFlushPine | Kind::Tropical => 40.0,
        Kind::Succulent => 42.0,
    };
    Sourced { value: Celsius(celsius), standing: Standing::Estimate("planning figure of the tree's type") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts(key: &str, stage: Stage) -> Facts {
        Facts { taxon: Taxon::of(key).unwrap(), is_guess: false, stage: Some(stage), is_cut: false }
    }

    #[test]
    fn no_tree_grows_hardier_as_its_buds_open() {
        for taxon in TAXA {
            let lines: Vec<f64> = Stage::ALL
                .into_iter()
                .map(|stage| facts(taxon.key, stage).above().map_or(-99.0, |limit| limit.line.value.0))
                .collect();
            assert!(lines.is_sorted(), "{}: {lines:?}", taxon.key);
        }
    }

    #[test]
    fn an_apricot_in_flower_is_held_by_its_flowers() {
        let limit = facts("prunus-mume", Stage::GreenTip).above().unwrap();
        assert!(matches!(limit.part, Part::Buds), "{limit:?}");
        let limit = facts("prunus-mume", Stage::Swelling).above().unwrap();
        assert_eq!(limit.part, Part::FlowerBuds((Crop::Apricot, "swollen bud")));
        assert!((limit.line.value.0 + 9.44).abs() < 0.01);
    }

    #[test]
    fn a_guessed_name_is_never_taken_for_the_hardier_one() {
        for taxon in TAXA {
            for stage in Stage::ALL {
                let sure = facts(taxon.key, stage);
                let guess = Facts { is_guess: true, ..sure };
                assert!(guess.roots().line.value >= sure.roots().line.value, "{}", taxon.key);
                let above = |facts: Facts| facts.above().map_or(-99.0, |limit| limit.line.value.0);
                assert!(above(guess) >= above(sure), "{}", taxon.key);
            }
        }
    }

    #[test]
    fn cut_roots_are_raised_and_never_above_what_the_figures_hold_or_freezing() {
        for taxon in TAXA {
            let sound = facts(taxon.key, Stage::Dormant);
            let cut = Facts { is_cut: true, ..sound }.roots().line.value.0;
            let planned = sound.roots().line.value.0;
            assert!(cut >= planned && cut <= planned.max(0.0), "{}: {cut} {planned}", taxon.key);
            assert!(planned >= 0.0 || cut > planned, "{}", taxon.key);
        }
    }

    #[test]
    fn a_fig_needs_warmth_at_any_stage() {
        let fig = Facts { stage: None, ..facts("ficus-benjamina", Stage::Dormant) };
        assert_eq!((fig.above().unwrap().line.value.0, fig.roots().line.value.0), (10.0, 12.0));
    }
}
