//! A tree of the grower's as one that wants a pot: its size, its roots after the cut, its colours, and what had to be taken for granted.

use collection::money::Money;
use jiff::civil::Date;
use measure::{
    quantity::{Centimetre, Litre, Share},
    range::within,
    sourced::{Sourced, Standing},
    taxon::Kind as Taxon,
};
use pot::{
    colour::{
        score::{Season, Target},
        swatch::Swatch,
    },
    fit::{
        frame::Size,
        sitter::{Kind, RootPad, Sitter, Style, Winter},
    },
    repot::materials::RAKED,
    table::SizeClass,
};

use super::{
    frame::{Framed, frame},
    record::{Record, days},
};

/// What of a tree is taken for granted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Assumed {
    /// No crown was measured: it is taken for as wide as the tree is tall.
    Spread,
    /// Nobody said how it is grown: informal upright is taken.
    Style,
    /// Some of its colours are the usual ones of its kind.
    Colours,
    /// The roots are reckoned from the pot it stands in.
    Roots,
    /// Nobody said where it spends the winter: the hardest is taken that its kind bears.
    Winter,
}

impl Assumed {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Assumed::Spread => "no crown was measured; it is taken for as wide as the tree is tall",
            Assumed::Style => "nobody said how it is grown; informal upright is taken",
            Assumed::Colours => "some of its colours are the usual ones of its kind",
            Assumed::Roots => "its roots are reckoned from the pot it stands in",
            Assumed::Winter => "nobody said where it spends the winter; a hard place is taken",
        }
    }
}

/// Why no pot can be looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    /// Its height was never measured.
    Height,
    /// Its trunk was never measured.
    Trunk,
    /// Neither pot nor roots are written down.
    Roots,
    /// The measures of its pot are not those of a pot.
    PotMeasures,
}

impl Missing {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Missing::Height => "its height was never measured",
            Missing::Trunk => "its trunk was never measured",
            Missing::Roots => "neither the pot it stands in nor the size of its roots is written down",
            Missing::PotMeasures => "the measures of the pot it stands in leave no room",
        }
    }
}

/// Where the figures of the roots come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Roots {
    /// Reckoned from the pot of this key, in which it stands.
    FromPot(String),
    /// Measured at the repot of this day.
    Measured(Date),
}

/// A tree that wants a pot.
#[derive(Clone, Debug, PartialEq)]
pub struct Sat {
    /// The tree as the rules see it; its price is of the currency of [`Sat::asked`].
    pub sitter: Sitter,
    /// Its size.
    pub size: SizeClass,
    /// What is asked for tree and pot, where it is for sale.
    pub asked: Option<Money>,
    /// Where the roots come from.
    pub roots: Roots,
    /// What was taken for granted.
    pub assumed: Vec<Assumed>,
}

impl Sat {
    /// Whether the roots were reckoned from the pot of this key.
    pub fn comes_from(&self, pot: &str) -> bool {
        matches!(&self.roots, Roots::FromPot(own) if own == pot)
    }
}

/// Days for which roots measured at a repot still hold.
const FRESH: i32 = 180;

/// Share of the height that the crown takes: the first branch stands at about a third (common practice, no source).
pub const CROWN: Sourced<Share> = Sourced { value: Share(2.0 / 3.0), standing: Standing::Practice };

/// What [`pad`] stands on.
pub const PAD: Standing = Standing::Estimate(
    "roots fill their pot, are cut, and raked on every side alike; measure them at the bench",
);

/// The tree as one that wants a pot, so much of its roots cut.
///
/// Height and trunk are never guessed. Where the tree is shown in one season only, the accents of the others do not count.
///
/// # Errors
///
/// What is missing, all of it.
///
/// # Example
///
/// ```
/// use collection::{drink::Worth, tree::{NameConfidence, Tree}};
/// use jiff::civil::date;
/// use measure::{quantity::Share, taxon::Taxon};
/// use season::repot::{record::Record, sitter::{Missing, sitter}};
///
/// let tree = Tree {
///     key: "old-maple".into(),
///     name: "Old maple".into(),
///     taxon: Taxon::of("acer-palmatum").unwrap(),
///     candidates: Vec::new(),
///     name_confidence: NameConfidence::Sure,
///     since: None,
///     worth: Worth::Standing,
///     note: String::new(),
///     revision: 1,
/// };
/// let told = sitter(&Record::of(&tree), Share(0.35), date(2027, 2, 1));
/// assert_eq!(told, Err(vec![Missing::Height, Missing::Trunk, Missing::Roots]));
/// ```
pub fn sitter(record: &Record<'_>, cut: Share, today: Date) -> Result<Sat, Vec<Missing>> {
    let mut missing = Vec::new();
    let stature = record.stature();
    if stature.is_none() {
        missing.extend([Missing::Height, Missing::Trunk]);
    }
    let (roots, from) = match roots(record, cut, today) {
        Ok(told) => told,
        Err(why) => {
            missing.push(why);
            return Err(missing);
        }
    };
    let Some(stature) = stature else { return Err(missing) };
    let grown = record.grown;
    let kind = grown.and_then(|it| it.kind).unwrap_or_else(|| kind(record.tree.taxon.kind));
    let mut assumed = Vec::new();
    let mut taken = |is_absent: bool, what: Assumed| {
        if is_absent {
            assumed.push(what);
        }
    };
    taken(record.crown.is_none(), Assumed::Spread);
    let style = grown.and_then(|it| it.style);
    taken(style.is_none(), Assumed::Style);
    let (colours, usual) = colours(record, kind);
    taken(usual, Assumed::Colours);
    taken(matches!(from, Roots::FromPot(_)), Assumed::Roots);
    taken(record.winter.is_none(), Assumed::Winter);
    let hardest = if record.tree.taxon.kind.rests() { Winter::Open } else { Winter::FrostFree };
    let asked = grown.and_then(|it| it.asked);
    let sitter = Sitter {
        height: stature.height,
        spread: record.crown.map_or(stature.height, |crown| crown.length),
        trunk: stature.trunk,
        roots,
        crown: record.crown.map(|it| crown_room(it.length, it.width, stature.height)),
        thirsty: record.thirsty,
        style: style.unwrap_or(Style::InformalUpright),
        kind,
        feel: grown.and_then(|it| it.feel),
        colours,
        price: asked.map(|money| money.coins),
        winter: record.winter.unwrap_or(hardest),
    };
    Ok(Sat { size: sitter.size(), sitter, asked, roots: from, assumed })
}

/// The roots after the cut: as measured at a repot this season, else reckoned from the pot.
fn roots(record: &Record<'_>, cut: Share, today: Date) -> Result<(RootPad, Roots), Missing> {
    let fresh = record.last_repot(today).filter(|repot| days(repot.day, today) <= FRESH);
    if let Some((repot, [length, width, depth])) = fresh.and_then(|repot| Some((repot, repot.pad?))) {
        return Ok((RootPad { length, width, depth, volume: None }, Roots::Measured(repot.day)));
    }
    let stands_in = record.stands_in.ok_or(Missing::Roots)?;
    let framed = frame(stands_in.pot, stands_in.ware).map_err(|_| Missing::PotMeasures)?;
    let pad = pad(&framed, cut).ok_or(Missing::PotMeasures)?;
    Ok((pad, Roots::FromPot(stands_in.pot.key.clone())))
}

/// The roots of a tree that filled its pot, after so much of them was cut.
///
/// ```text
/// k = (1 − cut)·0.85,   V = k·V_pot,   (l − x)·(w − x)·(d − x/4) = k·l·w·d
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | k | | share of the room that the roots still fill | 1 |
/// | 0.85 | [`RAKED`] | left after raking | 1 |
/// | V, l − x, w − x, d − x/4 | returned | room, length, width and depth of the roots | L, cm |
/// | V_pot, l, w, d | [`Framed::frame`] | soil and inside of the pot | L, cm |
/// | x | | cut away along and across, half at each end; a quarter of it below | cm |
///
/// The quarter is the share in which the trade leaves room: 4 cm beside the roots, 1 cm below.
///
/// **Holds** where roots fill the pot and are cut all round alike. **Error** unknown; a wide flat pad is left where mostly the bottom
/// is cut. **Source** ours, on the planning rule for kept roots. **Checked** worked by hand below. None where the cut is none.
pub fn pad(pot: &Framed, cut: Share) -> Option<RootPad> {
    let cut = within("share of the roots cut", cut.0, 0.0, 0.9).ok()?;
    let left = (1.0 - cut) * RAKED.value;
    let Size { length: Centimetre(l), width: Centimetre(w), depth: Centimetre(d) } = pot.frame.inner;
    let room = |x: f64| (l - x) * (w - x) * (d - x / 4.0);
    let (mut least, mut most) = (0.0, l.min(w).min(4.0 * d));
    for _ in 0..HALVINGS {
        let x = f64::midpoint(least, most);
        if room(x) > left * room(0.0) { least = x } else { most = x }
    }
    let x = f64::midpoint(least, most);
    Some(RootPad {
        length: Centimetre(l - x),
        width: Centimetre(w - x),
        depth: Centimetre(d - x / 4.0),
        volume: Some(Litre(pot.frame.soil.0 * left)),
    })
}

/// Halvings of the span in which what is cut away lies: to the last digit.
const HALVINGS: u32 = 52;

/// The room that a crown takes: half an egg standing on its lowest branch.
///
/// ```text
/// V = π/6·l·w·⅔H/1000
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | l, w | `length`, `width` | the crown across | cm |
/// | H | `height` | height of the tree | cm |
/// | ⅔ | [`CROWN`] | share of the height that the crown takes | 1 |
///
/// **Holds** for upright trees. **Error** unknown, large for literati and cascades. **Source** solid geometry; the first branch at
/// a third is common practice. **Checked** worked by hand below.
pub fn crown_room(length: Centimetre, width: Centimetre, height: Centimetre) -> Litre {
    Litre(std::f64::consts::PI / 6.0 * length.0 * width.0 * CROWN.value.0 * height.0 / 1000.0)
}

/// What kind of tree a taxon is as the choice of a pot sees it, until the grower says better.
pub fn kind(of: Taxon) -> Kind {
    match of {
        Taxon::HardyDeciduous | Taxon::Maple | Taxon::Elm | Taxon::SemiDeciduous | Taxon::BeechHornbeam => {
            Kind::Deciduous
        }
        Taxon::Oak | Taxon::LarchGinkgo => Kind::RoughDeciduous,
        Taxon::StoneFruit | Taxon::Azalea | Taxon::FloweringDeciduous => Kind::Flowering,
        Taxon::AppleFamily => Kind::Fruiting,
        Taxon::Juniper
        | Taxon::TwoFlushPine
        | Taxon::OneFlushPine
        | Taxon::SpruceHemlock
        | Taxon::YewCypress => Kind::Conifer,
        Taxon::BroadleafEvergreen => Kind::Evergreen,
        Taxon::Tropical | Taxon::Succulent => Kind::Tropical,
    }
}

/// The usual colours of a kind of tree, by the names of their swatches (ordinary choices; common practice, no source).
fn usual(kind: Kind) -> &'static [(Season, &'static str)] {
    use Season::{Autumn, Bark, Flower, Leaf};
    match kind {
        Kind::Conifer => &[(Bark, "bark_dark_brown"), (Leaf, "leaf_dark_conifer")],
        Kind::Evergreen | Kind::Tropical => &[(Bark, "bark_grey_brown"), (Leaf, "leaf_summer")],
        Kind::Deciduous => &[(Bark, "bark_pale_grey"), (Leaf, "leaf_summer"), (Autumn, "autumn_red")],
        Kind::RoughDeciduous => {
            &[(Bark, "bark_grey_brown"), (Leaf, "leaf_summer"), (Autumn, "autumn_yellow")]
        }
        Kind::Flowering => &[(Bark, "bark_grey_brown"), (Leaf, "leaf_summer"), (Flower, "flower_pink")],
        Kind::Fruiting => &[(Bark, "bark_grey_brown"), (Leaf, "leaf_summer"), (Flower, "flower_white")],
    }
}

/// Its colours, and whether any of them is a usual one.
pub(super) fn colours(record: &Record<'_>, kind: Kind) -> (Vec<Target>, bool) {
    let shown = record.grown.and_then(|it| it.shown);
    let counts = |season: Season| match shown {
        Some(shown) => matches!(season, Season::Bark | Season::Leaf) || season == shown,
        None => true,
    };
    let own = record.tints.iter().map(|tint| Target { season: tint.season, colour: tint.colour });
    let mut colours: Vec<Target> = own.filter(|target| counts(target.season)).collect();
    let told = colours.len();
    for &(season, key) in usual(kind) {
        let is_told = colours.iter().any(|target| target.season == season);
        if let Some(swatch) = Swatch::of(key).filter(|_| !is_told && counts(season)) {
            colours.push(Target { season, colour: swatch.lab });
        }
    }
    let usual = colours.len() > told;
    colours.sort_by_key(|target| target.season);
    (colours, usual)
}

#[cfg(test)]
mod tests {
    use collection::{
        potting::Crown,
        standing::{Grown, Tint},
    };
    use jiff::civil::date;
    use pot::colour::space::Lab;

    use super::*;
    use crate::repot::record::{
        StandsIn,
        tests::{TODAY, mix, repot, stature, tray, tree},
    };

    const CUT: Share = Share(0.35);

    fn told(record: &Record<'_>) -> Sat {
        sitter(record, CUT, TODAY).unwrap()
    }

    #[test]
    fn roots_are_cut_all_round_and_keep_the_planned_room() {
        let (pot, ware) = tray("oval", [30.0, 22.0, 7.0]);
        let framed = frame(&pot, &ware).unwrap();
        let pad = pad(&framed, CUT).unwrap();
        let by_hand = 0.65 * 0.85;
        assert!((pad.filled().0 - by_hand * framed.frame.soil.0).abs() < 1e-12);
        let sides = pad.length.0 * pad.width.0 * pad.depth.0;
        let inner = framed.frame.inner;
        assert!((sides / (inner.length.0 * inner.width.0 * inner.depth.0) - by_hand).abs() < 1e-9);
        let [beside, below] = [inner.length.0 - pad.length.0, inner.depth.0 - pad.depth.0];
        assert!((beside - (inner.width.0 - pad.width.0)).abs() < 1e-9 && (beside - 4.0 * below).abs() < 1e-9);
        assert_eq!(super::pad(&framed, Share(1.2)), None);
    }

    #[test]
    fn the_crown_is_half_an_egg_on_two_thirds_of_the_height() {
        let [length, width, height] = [30.0, 20.0, 30.0].map(Centimetre);
        let by_hand = 2.0 / 3.0 * std::f64::consts::PI * 15.0 * 10.0 * 20.0 / 1000.0;
        assert!((crown_room(length, width, height).0 - by_hand).abs() < 1e-12);
    }

    #[test]
    fn height_and_trunk_are_never_guessed_and_what_is_guessed_is_said() {
        let own = tree("maple", "acer-palmatum");
        let ((pot, ware), mix) = (tray("oval", [30.0, 22.0, 7.0]), mix());
        let stands_in = Some(StandsIn { pot: &pot, ware: &ware, mix: &mix, since: date(2025, 3, 1) });
        let bare = Record { stands_in, ..Record::of(&own) };
        assert_eq!(sitter(&bare, CUT, TODAY), Err(vec![Missing::Height, Missing::Trunk]));
        let statures = [stature("maple", 32.0, 5.0)];
        let sat = told(&Record { statures: &statures, ..bare.clone() });
        assert_eq!(
            sat.assumed,
            [Assumed::Spread, Assumed::Style, Assumed::Colours, Assumed::Roots, Assumed::Winter]
        );
        assert_eq!(
            (sat.sitter.spread, sat.sitter.crown, sat.sitter.winter),
            (Centimetre(32.0), None, Winter::Open)
        );
        let [length, width] = [36.0, 30.0].map(Centimetre);
        let crown = Crown { tree: "maple".into(), day: TODAY, length, width };
        let sat = told(&Record { statures: &statures, crown: Some(&crown), ..bare });
        assert!(sat.sitter.crown.is_some() && !sat.assumed.contains(&Assumed::Spread));
    }

    #[test]
    fn roots_measured_at_this_seasons_repot_come_before_any_guess() {
        let own = tree("maple", "acer-palmatum");
        let statures = [stature("maple", 32.0, 5.0)];
        let pad = Some([18.0, 12.0, 4.0].map(Centimetre));
        let repot = |day| collection::repot::Repot { pad, ..repot(day, CUT.0) };
        let (fresh, old) = ([repot(date(2027, 2, 1))], [repot(date(2025, 3, 1))]);
        let record = Record { statures: &statures, repots: &fresh, ..Record::of(&own) };
        let sat = told(&record);
        assert_eq!((sat.sitter.roots.length.0, sat.roots), (18.0, Roots::Measured(date(2027, 2, 1))));
        let record = Record { repots: &old, ..record };
        assert_eq!(sitter(&record, CUT, TODAY), Err(vec![Missing::Roots]));
    }

    #[test]
    fn a_tree_shown_in_flower_is_not_judged_by_its_autumn() {
        let own = tree("maple", "acer-palmatum");
        let tint = |season| Tint {
            tree: "maple".into(),
            season,
            colour: Lab { l: 50.0, a: 20.0, b: 10.0 },
            measured: true,
        };
        let tints = [tint(Season::Bark), tint(Season::Flower)];
        let grown = |shown| Grown { shown, ..Grown::default() };
        let seasons = |grown: &Grown| {
            let record = Record { tints: &tints, grown: Some(grown), ..Record::of(&own) };
            let (colours, usual) = colours(&record, Kind::Deciduous);
            (colours.iter().map(|target| target.season).collect::<Vec<_>>(), usual)
        };
        let all = vec![Season::Bark, Season::Leaf, Season::Autumn, Season::Flower];
        assert_eq!(seasons(&grown(None)), (all, true));
        assert_eq!(
            seasons(&grown(Some(Season::Flower))),
            (vec![Season::Bark, Season::Leaf, Season::Flower], true)
        );
    }

    #[test]
    fn every_usual_colour_is_a_swatch_of_the_house() {
        for kind in Kind::ALL {
            assert!(usual(kind).iter().all(|(_, key)| Swatch::of(key).is_some()), "{kind:?}");
        }
    }
}
