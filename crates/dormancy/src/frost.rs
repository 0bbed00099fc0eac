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
    /// Leaves of a tree that keeps them all year.
    Evergreen,
    /// The soft new growth of a conifer or an azalea.
    NewGrowth,
    /// Roots as they are.
    Roots,
    /// Roots cut some time ago.
    CutRoots(RootAge),
    /// Roots of a tree that has woken.
    WokenRoots,
}

/// A flower bud's stage in the words of the crop that stands for the tree.
pub type FlowerBudName = (Crop, &'static str);

/// The lowest temperature that a part is planned to survive: a planning line, warmer than what is known to kill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The part.
    pub part: Part,
    /// The line with its standing.
    pub line: Sourced<Celsius>,
}

/// How long ago roots were cut, as far as frost asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RootAge {
    /// Not cut, or grown over since.
    Old,
    /// Cut before the end of the first winter after it.
    FirstWinter,
    /// Cut some months ago.
    Settling,
    /// Cut within the weeks of aftercare.
    Fresh,
}

/// Most other names that a guessed one may stand for.
pub const MOST_CANDIDATES: usize = 5;

/// What the tree may be besides its name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Candidates {
    /// Nothing else.
    None,
    /// One of these.
    Of([Option<&'static Taxon>; MOST_CANDIDATES]),
    /// Anything of its kind: a guess, and nobody said between which names.
    Kind,
}

impl Candidates {
    /// One of these; those past the most are left out.
    ///
    /// ```
    /// use dormancy::frost::Candidates;
    ///
    /// assert_eq!(Candidates::of([]), Candidates::None);
    /// ```
    pub fn of(taxa: impl IntoIterator<Item = &'static Taxon>) -> Candidates {
        let mut found = [None; MOST_CANDIDATES];
        for (slot, taxon) in found.iter_mut().zip(taxa) {
            *slot = Some(taxon);
        }
        if found[0].is_none() { Candidates::None } else { Candidates::Of(found) }
    }
}

/// What decides a tree's lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// What it is.
    pub taxon: &'static Taxon,
    /// What it may be as well: the tenderest of all sets the lines.
    pub candidates: Candidates,
    /// The stage to protect, as [`stage_to_protect`] gives it; none for a tree that keeps no rest.
    pub stage: Option<Stage>,
    /// How long ago its roots were cut.
    pub roots: RootAge,
}

/// A stage counts from this chance on that the buds have come so far.
const COUNTS: f64 = 0.10;

/// The stage whose lines are kept: the tenderer of the stage seen and the furthest that the buds have reached by one chance in ten.
///
/// Chances stand in the order of [`Stage::ALL`]. Hardiness lost in spring does not come back, so a stage seen counts however long ago.
///
/// ```
/// use dormancy::frost::stage_to_protect;
/// use measure::stage::Stage;
///
/// let told = [0.2, 0.5, 0.15, 0.1, 0.05, 0.0, 0.0, 0.0, 0.0];
/// assert_eq!(stage_to_protect(&told, None), Stage::Breaking);
/// assert_eq!(stage_to_protect(&told, Some(Stage::Unfolded)), Stage::Unfolded);
/// assert_eq!(stage_to_protect(&told, Some(Stage::Dormant)), Stage::Breaking);
/// ```
pub fn stage_to_protect(chances: &[f64; 9], seen: Option<Stage>) -> Stage {
    let reached = |stage: &Stage| chances[stage.rank()..].iter().sum::<f64>() >= COUNTS - 1e-9;
    let told = Stage::ALL.into_iter().rfind(reached).unwrap_or(Stage::Dormant);
    seen.map_or(told, |seen| seen.max(told))
}

const OURS: Standing = Standing::Estimate("default by bud stage for trees without figures of their own");
const OPEN_LEAVES: Standing = Standing::Estimate(
    "default by stage for open leaves; half the leaves of forest trees just out died at -3.5 to -8.3 °C (Vitasse et al. 2014)",
);
const PLANNED: Standing = Standing::Estimate("planning figure of the taxon or its type");
const GUESSED: Standing =
    Standing::Estimate("the name is a guess, so the tenderest of what it may be sets the line");
const BY_TABLE: Standing = Standing::Published(
    "Michigan State and Washington State extension table, one flower bud in ten killed in half an hour; for other than the \
     crop itself by kinship",
);
const FRESH: Standing = Standing::Practice;
const RAISED: Standing = Standing::Estimate(
    "planning figure, five degrees warmer for cut roots until the summer after their first winter; common practice, no source",
);

/// Leaf buds of bare trees by stage, °C (reference set, section 8; our own defaults). Bare wood has no line: in winter it survives
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

/// The least that a pot of freshly cut roots is kept at, °C: freezing and the one degree at which an alarm sounds.
const ABOVE_FREEZING: f64 = 1.0;

impl Facts {
    /// The line above the soil; none for bare wood at rest, which survives any frost that its roots survive.
    ///
    /// Flower buds have a line of their own. Open leaves of bare-in-winter trees go by their stage: the warmer figure of the taxon is
    /// [`Facts::watch`].
    ///
    /// **Holds** for planning. **Error** not known; trees in one garden differ by some 2 K. **Source** each line's standing.
    /// **Checked** nothing yet.
    ///
    /// ```
    /// use dormancy::frost::{Candidates, Facts, RootAge};
    /// use measure::{stage::Stage, taxon::Taxon};
    ///
    /// let taxon = Taxon::of("acer-palmatum").unwrap();
    /// let of = |stage| Facts { taxon, candidates: Candidates::None, stage: Some(stage), roots: RootAge::Old };
    /// let at = |stage| of(stage).above();
    /// assert_eq!(at(Stage::Swelling).unwrap().line.value.0, -10.0);
    /// assert_eq!(at(Stage::Unfolded).unwrap().line.value.0, -2.0);
    /// assert!(at(Stage::Dormant).is_none());
    /// assert_eq!(of(Stage::Unfolded).watch().unwrap().0, 0.0);
    /// ```
    pub fn above(&self) -> Option<Limit> {
        self.tenderest(above)
    }

    /// The line of the flower buds that may stand on the tree; none where no crop stands for it.
    ///
    /// **Holds** for half an hour of frost. **Error** kinship with the crop, not known. **Source** each line's standing.
    /// **Checked** `tests/frost.rs`.
    pub fn flowers(&self) -> Option<Limit> {
        self.tenderest(|facts| flowers(facts.taxon, facts.stage?))
    }

    /// Air at which open leaves ask for a look: the taxon's own figure, warmer than the line where leaves begin to die.
    pub fn watch(&self) -> Option<Celsius> {
        let above = self.above().filter(|limit| limit.part == Part::Leaves)?;
        let figure = self.all().filter_map(|facts| Figures::of(facts.taxon.key)).map(|it| it.leaf_limit);
        figure.max_by(f64::total_cmp).map(|leaf| Celsius(leaf.max(above.line.value.0)))
    }

    /// The line for the root ball.
    ///
    /// ```text
    /// fresh        max(planned + 5, 1)      the pot stays above freezing
    /// settling     max(planned + 5, 0)      it must not freeze through
    /// first winter planned + 5              never as hardy as old roots
    /// woken        max of the above and 0
    /// ```
    ///
    /// A taxon without figures is planned to 0 °C.
    ///
    /// **Holds** for planning. **Error** published kill temperatures of one taxon differ by up to 10 K. **Source** each line's standing.
    /// **Checked** nothing yet.
    ///
    /// ```
    /// use dormancy::frost::{Candidates, Facts, Part, RootAge};
    /// use measure::{stage::Stage, taxon::Taxon};
    ///
    /// let taxon = Taxon::of("larix-decidua").unwrap();
    /// let asleep = Facts { taxon, candidates: Candidates::None, stage: Some(Stage::Dormant), roots: RootAge::Old };
    /// let line = |roots| Facts { roots, ..asleep }.roots().line.value.0;
    /// assert_eq!(line(RootAge::Old), -8.0);
    /// assert_eq!([RootAge::FirstWinter, RootAge::Settling, RootAge::Fresh].map(line), [-3.0, 0.0, 1.0]);
    /// assert_eq!(Facts { stage: Some(Stage::Breaking), ..asleep }.roots().part, Part::WokenRoots);
    /// ```
    pub fn roots(&self) -> Limit {
        let line = Sourced { value: Celsius(0.0), standing: PLANNED };
        self.tenderest(|of| Some(roots(of))).unwrap_or(Limit { part: Part::Roots, line })
    }

    /// The tree as each thing it may be, its own name first.
    fn all(&self) -> impl Iterator<Item = Facts> + '_ {
        let other = TAXA.iter().filter(|taxon| match self.candidates {
            Candidates::None => false,
            Candidates::Of(taxa) => taxa.iter().flatten().any(|it| it.key == taxon.key),
            Candidates::Kind => taxon.kind == self.taxon.kind,
        });
        let of = |taxon| Facts { taxon, candidates: Candidates::None, ..*self };
        std::iter::once(of(self.taxon)).chain(other.map(of))
    }

    fn tenderest(&self, of: impl Fn(&Facts) -> Option<Limit>) -> Option<Limit> {
        if self.candidates == Candidates::None {
            return of(self);
        }
        let limits = self.all().filter_map(|facts| of(&facts));
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
        return leaf.map(|leaf| planned(Part::Evergreen, leaf));
    }
    if !tree.taxon.kind.is_bare_in_winter() && tree.taxon.kind != Kind::SemiDeciduous {
        return leaf.filter(|_| is_soft).map(|leaf| planned(Part::NewGrowth, leaf));
    }
    let stage = tree.stage?;
    let (_, celsius) = LADDER.into_iter().rfind(|(from, _)| *from <= stage)?;
    let is_open = stage >= Stage::Unfolded;
    let (part, standing) = if is_open { (Part::Leaves, OPEN_LEAVES) } else { (Part::Buds, OURS) };
    Some(Limit { part, line: Sourced { value: Celsius(celsius), standing } })
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
    let (cut, standing) = match tree.roots {
        RootAge::Old => (planned, PLANNED),
        RootAge::FirstWinter => (planned + CUT, RAISED),
        RootAge::Settling => ((planned + CUT).max(0.0), RAISED),
        RootAge::Fresh => ((planned + CUT).max(ABOVE_FREEZING), FRESH),
    };
    let (part, celsius, standing) = if is_woken && cut < 0.0 {
        (Part::WokenRoots, 0.0, Standing::Practice)
    } else if tree.roots > RootAge::Old {
        (Part::CutRoots(tree.roots), cut, standing)
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
mod tests;
