//! Everything known of one tree that a pot or a repot asks about.

use collection::{
    event::Work,
    layer::Layer,
    potting::{Crown, Mix, Pot},
    repot::{Meant, PotLook, Repot, Toll},
    standing::{Grown, Stature, Tint, Vigour},
    tree::Tree,
    ware::Ware,
    wire::Wire,
};
use jiff::civil::Date;
use measure::shelter::Shelter;
use pot::{fit::sitter::Winter, repot::roots::RootWork};

/// What a tree stands in.
#[derive(Clone, Copy, Debug)]
pub struct StandsIn<'a> {
    /// The pot.
    pub pot: &'a Pot,
    /// What else is known of it.
    pub ware: &'a Ware,
    /// The mix.
    pub mix: &'a Mix,
    /// Since.
    pub since: Date,
}

/// Everything known of one tree. What lies ahead of the day asked about is left out of account.
#[derive(Clone, Debug)]
pub struct Record<'a> {
    /// The tree.
    pub tree: &'a Tree,
    /// How it is grown.
    pub grown: Option<&'a Grown>,
    /// How large it was.
    pub statures: &'a [Stature],
    /// Its crown as last measured.
    pub crown: Option<&'a Crown>,
    /// Its colours.
    pub tints: &'a [Tint],
    /// How strong it was judged.
    pub vigours: &'a [Vigour],
    /// What was seen in its pot.
    pub pot_looks: &'a [PotLook],
    /// Its repots.
    pub repots: &'a [Repot],
    /// Other work; the store hands it with numbers, so it is gathered one by one.
    pub works: Vec<&'a Work>,
    /// What it had to bear besides.
    pub tolls: Vec<&'a Toll>,
    /// Its wires.
    pub wires: Vec<&'a Wire>,
    /// Layers on it, and the one it came from itself.
    pub layers: Vec<&'a Layer>,
    /// What is meant for it this season.
    pub meant: Option<&'a Meant>,
    /// What it stands in; none where no pot is written down.
    pub stands_in: Option<StandsIn<'a>>,
    /// Each day on which it was put into a pot, and whether that was a training pot or box.
    pub pottings: Vec<(Date, bool)>,
    /// The likely days of its window: when its buds are full, and the last before green tips; none where nobody knows.
    pub window: Option<(Date, Date)>,
    /// Where it spends the winter, where that is known.
    pub winter: Option<Winter>,
    /// Left alone for long shifts, or on a hot site.
    pub thirsty: bool,
    /// Its leaves are out: the season's window for root work is over.
    pub missed: bool,
    /// What bars root work for all of this season, by the verdict and in words; none where nothing does.
    pub barred: Option<String>,
}

impl<'a> Record<'a> {
    /// A tree of which nothing else is known.
    pub fn of(tree: &'a Tree) -> Record<'a> {
        Record {
            tree,
            grown: None,
            statures: &[],
            crown: None,
            tints: &[],
            vigours: &[],
            pot_looks: &[],
            repots: &[],
            works: Vec::new(),
            tolls: Vec::new(),
            wires: Vec::new(),
            layers: Vec::new(),
            meant: None,
            stands_in: None,
            pottings: Vec::new(),
            window: None,
            winter: None,
            thirsty: false,
            missed: false,
            barred: None,
        }
    }

    /// How large it was when last measured.
    pub fn stature(&self) -> Option<&'a Stature> {
        self.statures.iter().max_by_key(|stature| stature.day)
    }

    /// Its last repot up to a day.
    pub fn last_repot(&self, today: Date) -> Option<&'a Repot> {
        self.repots.iter().filter(|repot| repot.day <= today).max_by_key(|repot| repot.day)
    }

    /// The root work of its taxon.
    pub fn work(&self) -> &'static RootWork {
        RootWork::of(self.tree.taxon.key).expect("a row stands for every taxon of the house")
    }

    /// Whether it is grown on rather than shown: as the grower said, else whether it stands in a training pot.
    pub fn is_growing_on(&self) -> bool {
        match self.meant {
            Some(meant) => !meant.show,
            None => self.stands_in.is_some_and(|it| it.ware.training),
        }
    }
}

/// What a winter in a place is to a wall of clay.
///
/// ```
/// use measure::shelter::Shelter;
/// use pot::fit::sitter::Winter;
///
/// assert_eq!(season::repot::record::winter_in(Shelter::ColdFrame), Winter::Sheltered);
/// ```
pub fn winter_in(shelter: Shelter) -> Winter {
    match shelter {
        Shelter::OpenBench | Shelter::ShadedBench => Winter::Open,
        Shelter::ColdFrame | Shelter::ColdRoom | Shelter::ColdGlasshouse => Winter::Sheltered,
        Shelter::CoolSill | Shelter::WarmSill => Winter::FrostFree,
    }
}

/// Days from one day to another; less than 0 when that came before.
pub(super) fn days(from: Date, to: Date) -> i32 {
    (to - from).get_days()
}

#[cfg(test)]
pub(crate) mod tests {
    use collection::{drink::Worth, potting::Wall, tree::NameConfidence};
    use jiff::civil::date;
    use measure::{
        quantity::{Centimetre, Millimetre, Share},
        taxon::{TAXA, Taxon},
    };
    use pot::{fit::frame::Fired, outline::Outline, vessel::Vessel};

    use super::*;

    pub(crate) const TODAY: Date = date(2027, 2, 10);

    pub(crate) fn tree(key: &str, taxon: &str) -> Tree {
        Tree {
            key: key.into(),
            name: key.into(),
            taxon: Taxon::of(taxon).unwrap(),
            candidates: Vec::new(),
            name_confidence: NameConfidence::Sure,
            since: None,
            worth: Worth::Standing,
            note: String::new(),
            revision: 1,
        }
    }

    /// An oval tray with holes, fired high, of these outer measures.
    pub(crate) fn tray(key: &str, [length, width, height]: [f64; 3]) -> (Pot, Ware) {
        let [length, width] = [length, width].map(Centimetre);
        let top = Outline::Oval { length, width };
        let [height, feet, floor, wall, lip, gap] = [height, 0.8, 0.6, 0.6, 0.0, 0.4].map(Centimetre);
        let vessel =
            Vessel { top, middle: None, bottom: top, height, feet, floor, wall, lip, gap, measured: None };
        let pot = Pot { key: key.into(), name: key.into(), vessel, wall: Wall::Glazed };
        let ware = Ware {
            drain_holes: Some(3),
            hole: Some(Millimetre(12.0)),
            tie_holes: Some(4),
            fired: Fired::High,
            ..Ware::unknown(&pot)
        };
        (pot, ware)
    }

    pub(crate) fn mix() -> Mix {
        Mix { key: "own".into(), name: "Own".into(), grain: [2.0, 5.0].map(Millimetre), tested: None }
    }

    pub(crate) fn stature(tree: &str, height: f64, trunk: f64) -> Stature {
        let [height, trunk] = [height, trunk].map(Centimetre);
        Stature { tree: tree.into(), day: date(2026, 10, 1), height, trunk }
    }

    pub(crate) fn repot(day: Date, cut: f64) -> Repot {
        Repot {
            tree: "maple".into(),
            day,
            pot: "oval".into(),
            mix: "own".into(),
            cut: Share(cut),
            bare: false,
            found: String::new(),
            proud: None,
            clock: None,
            lean: None,
            pad: None,
            photo: None,
            took: None,
            note: String::new(),
        }
    }

    #[test]
    fn every_taxon_has_its_root_work() {
        assert!(TAXA.iter().all(|taxon| RootWork::of(taxon.key).is_some()));
    }

    #[test]
    fn a_repot_that_lies_ahead_is_left_out() {
        let own = tree("old-maple", "acer-palmatum");
        assert!(Record::of(&own).last_repot(TODAY).is_none() && Record::of(&own).stature().is_none());
        assert!(!Record::of(&own).is_growing_on());
    }
}
