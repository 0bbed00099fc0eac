//! When a growing branch reaches its wire, and when the wire must come off.

use std::f64::consts::PI;

use measure::{
    quantity::{Millimetre, Share, SquareMillimetre},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
    taxon::{Kind, Taxon},
};

use crate::{
    root::crossing,
    thickness::{Likely, laid},
};

/// How bark takes a wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bark {
    /// Maples, beeches, hornbeams and the like: it marks at once.
    Smooth,
    /// It hides a mark.
    Rough,
}

impl Bark {
    /// The bark of a taxon: smooth for those known to mark, rough otherwise.
    pub fn of(taxon: &Taxon) -> Bark {
        match taxon.genus() {
            "Acer" | "Fagus" | "Carpinus" | "Stewartia" | "Betula" | "Prunus" | "Ficus" => Bark::Smooth,
            _ => Bark::Rough,
        }
    }

    /// How far a wire may press in before it comes off.
    pub fn threshold(self) -> Sourced<Millimetre> {
        let value = Millimetre(if self == Bark::Smooth { 0.25 } else { 0.5 });
        Sourced {
            value,
            standing: Standing::Estimate(
                "0.2 to 0.3 mm on smooth bark, 0.5 mm on rough; learn it from marks",
            ),
        }
    }
}

/// A wire on a growing branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bite {
    /// Thickness when wired.
    pub branch: Millimetre,
    /// The ring of the season, with its span.
    pub ring: Likely<SquareMillimetre>,
    /// Room between wire and bark, as wired: 0 to 0.3 mm.
    pub gap: Millimetre,
    /// How far the wire may press in.
    pub threshold: Millimetre,
    /// The moment of the season at which it went on; 0 where it went on before bud break.
    pub on: Share,
}

/// When, as a share of the season from bud break to leaf fall; none where it does not come this season. The low end is early: a
/// season of fast growth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct When {
    /// The bark touches the wire.
    pub contact: Likely<Option<Share>>,
    /// The wire must be off.
    pub off: Likely<Option<Share>>,
    /// How far the wire presses in at leaf fall if it stays on.
    pub at_leaf_fall: Likely<Millimetre>,
}

impl Bite {
    /// When the branch reaches its wire, and when the wire must be off.
    ///
    /// ```text
    /// δr(s) = (√(D0² + 4·ΔA·C(s)/π) − D0)/2;   contact at δr = g, off at δr = g + t
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | D0, ΔA | `branch`, `ring` | thickness, ring of the season | mm, mm² |
    /// | C | [`laid`] | share of the ring laid by s | 1 |
    /// | g, t | `gap`, `threshold` | room, bite allowed | mm |
    /// | s | returned | share of the season | 1 |
    ///
    /// **Holds** for a wire put on before bud break, and for one put on later with C(s) − C(`on`) in place of C(s). **Error** that of the ring, which is large until learned. **Source** ours, on the
    /// ring model. **Checked** `tests/wire.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is none.
    pub fn when(&self) -> Result<When, OutOfRange> {
        within("thickness when wired, mm", self.branch.0, 0.1, 1e3)?;
        within("moment of the season", self.on.0, 0.0, 1.0)?;
        let gap = within("room under the wire, mm", self.gap.0, 0.0, 5.0)?;
        let off = gap + within("bite allowed, mm", self.threshold.0, 0.0, 5.0)?;
        for ring in [self.ring.low, self.ring.middle, self.ring.high] {
            within("ring of the season, mm²", ring.0, 0.0, 1e6)?;
        }
        let reach = |depth: f64| {
            let early = |ring: SquareMillimetre| self.moment(ring, depth);
            Likely { low: early(self.ring.high), middle: early(self.ring.middle), high: early(self.ring.low) }
        };
        let at_leaf_fall = self.ring.map(|ring| Millimetre((self.outward(ring, 1.0) - gap).max(0.0)));
        Ok(When { contact: reach(gap), off: reach(off), at_leaf_fall })
    }

    /// How far the bark has moved outward by a moment, mm.
    fn outward(&self, ring: SquareMillimetre, moment: f64) -> f64 {
        let d = self.branch.0;
        let laid = laid(Share(moment)).0 - laid(self.on).0;
        ((d * d + 4.0 * ring.0 * laid.max(0.0) / PI).sqrt() - d) / 2.0
    }

    fn moment(&self, ring: SquareMillimetre, depth: f64) -> Option<Share> {
        crossing(self.on.0, 1.0, |s| self.outward(ring, s) - depth).map(Share)
    }
}

/// The trade's weeks: when wire bites and when a bend sets, by kind of tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weeks {
    /// The group in the table.
    pub group: &'static str,
    /// Days to the first check in spring.
    pub first_check: u16,
    /// Weeks until it may bite, wired in spring.
    pub spring: [u16; 2],
    /// The same in summer.
    pub summer: [u16; 2],
    /// The same in autumn.
    pub autumn: [u16; 2],
    /// The same in winter; none where it does not grow.
    pub winter: Option<[u16; 2]>,
    /// Weeks until a bend sets.
    pub sets: [u16; 2],
    /// Days from check to check.
    pub recheck: u16,
    /// A word of the trade.
    pub note: &'static str,
}

#[allow(clippy::too_many_arguments, reason = "a row of a table")]
const fn w(
    group: &'static str,
    first_check: u16,
    spring: [u16; 2],
    summer: [u16; 2],
    autumn: [u16; 2],
    winter: Option<[u16; 2]>,
    sets: [u16; 2],
    recheck: u16,
    note: &'static str,
) -> Weeks {
    Weeks { group, first_check, spring, summer, autumn, winter, sets, recheck, note }
}

/// The trade's weeks. Common practice and estimates; of the rows only the fast kinds stand on pages of the trade that were read.
#[rustfmt::skip]
pub const WEEKS: [Weeks; 14] = [
    w("willow, poplar, metasequoia", 7, [2, 4], [3, 5], [4, 6], None, [3, 6], 5, "fastest"),
    w("elm, trident, zelkova, mulberry", 10, [3, 6], [4, 8], [4, 6], None, [4, 8], 7, "young shoots 2 weeks"),
    w("Japanese maple", 14, [4, 8], [6, 10], [5, 8], None, [6, 12], 7, "thin bark marks"),
    w("Prunus, Malus, quince, hawthorn", 14, [4, 8], [6, 10], [5, 8], None, [6, 12], 7, "brittle after lignifying"),
    w("beech, hornbeam, stewartia", 21, [5, 9], [6, 12], [6, 10], None, [8, 16], 10, ""),
    w("oak, celtis", 21, [6, 10], [8, 12], [6, 10], None, [10, 20], 14, ""),
    w("larch, ginkgo", 28, [6, 12], [6, 10], [8, 12], None, [8, 20], 14, "June swell"),
    w("azalea", 21, [6, 10], [6, 10], [8, 12], None, [10, 26], 14, "snaps: bend in stages"),
    w("ficus, bougainvillea, tropical", 14, [4, 8], [3, 6], [5, 8], Some([6, 12]), [4, 10], 7, ""),
    w("boxwood, olive, privet", 21, [6, 12], [6, 12], [8, 12], None, [10, 26], 14, ""),
    w("juniper", 60, [20, 50], [20, 50], [20, 50], None, [26, 52], 30, "check new extension zones and crotches"),
    w("two-flush pine", 60, [16, 40], [12, 30], [8, 20], None, [26, 52], 30, "bites in autumn"),
    w("single-flush pine, spruce", 90, [26, 60], [26, 60], [16, 40], None, [39, 90], 30, ""),
    w("yew, cypress, cryptomeria", 45, [16, 40], [16, 40], [16, 40], None, [20, 52], 30, ""),
];

/// The trade's weeks for a taxon; none for kinds that are not in the table.
pub fn weeks_for(taxon: &Taxon) -> Option<Sourced<Weeks>> {
    let row = match (taxon.genus(), taxon.kind) {
        ("Salix" | "Populus" | "Metasequoia", _) => 0,
        ("Zelkova" | "Ulmus" | "Morus", _) => 1,
        ("Acer", _) if taxon.key == "acer-buergerianum" => 1,
        ("Acer", _) => 2,
        (_, Kind::StoneFruit | Kind::AppleFamily) => 3,
        ("Stewartia", _) | (_, Kind::BeechHornbeam) => 4,
        ("Celtis", _) | (_, Kind::Oak) => 5,
        (_, Kind::LarchGinkgo) => 6,
        (_, Kind::Azalea) => 7,
        (_, Kind::Tropical) => 8,
        ("Buxus" | "Olea" | "Ligustrum", _) => 9,
        (_, Kind::Juniper) => 10,
        (_, Kind::TwoFlushPine) => 11,
        (_, Kind::OneFlushPine | Kind::SpruceHemlock) => 12,
        (_, Kind::YewCypress) => 13,
        _ => return None,
    };
    let standing = if row == 1 {
        Standing::Practice
    } else {
        Standing::Estimate("set beside the kinds that the trade tells")
    };
    Some(Sourced { value: WEEKS[row], standing })
}
