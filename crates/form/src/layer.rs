//! Air layers: when roots may be looked for, and whether it is time to separate.

mod table;

use measure::{
    quantity::{Millimetre, Weeks},
    sourced::{Sourced, Standing},
    taxon::{Kind, Taxon},
};

pub use table::{LAYERS, ROOTINGS};

/// How layers of a kind of tree root.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// The kind.
    pub group: &'static str,
    /// When it is put on, in the north.
    pub start: &'static str,
    /// Weeks until it may be ready; none where it mostly fails.
    pub ready: Option<[u16; 2]>,
    /// Whether it may sit into a second season.
    pub may_take_longer: bool,
    /// Warm weeks it needs at least; none where they do not decide.
    pub warm_weeks: Option<u16>,
    /// Width of the ring over the thickness of the branch.
    pub ring: f64,
    /// How well it does.
    pub note: &'static str,
    /// What the parent tree must be spared.
    pub parent: &'static str,
    /// How far to trust the row.
    pub standing: Standing,
}

/// What was seen of rooting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub struct Rooting {
    pub species: &'static str,
    pub method: &'static str,
    pub season: &'static str,
    pub treatment: &'static str,
    pub time: &'static str,
    pub success: &'static str,
    pub standing: Standing,
}

/// How full of roots the ball is, as it is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Roots {
    /// Nothing yet.
    None,
    /// Callus only.
    Callus,
    /// A few white roots.
    Few,
    /// White roots on most sides, not branched.
    White,
    /// Roots on most sides that have branched and turn tan.
    Branched,
}

impl Roots {
    /// All, from nothing to branched.
    pub const ALL: [Roots; 5] = [Roots::None, Roots::Callus, Roots::Few, Roots::White, Roots::Branched];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Roots::None => "none",
            Roots::Callus => "callus",
            Roots::Few => "few",
            Roots::White => "white",
            Roots::Branched => "branched",
        }
    }

    /// What goes by this word.
    pub fn from_key(key: &str) -> Option<Roots> {
        Roots::ALL.into_iter().find(|roots| roots.key() == key)
    }

    /// What is seen, in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Roots::None => "nothing yet",
            Roots::Callus => "callus only",
            Roots::Few => "a few white roots",
            Roots::White => "white roots on most sides",
            Roots::Branched => "roots on most sides, branched and turning tan",
        }
    }
}

/// A layer as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Weeks since it was put on.
    pub weeks: Weeks,
    /// Weeks left until leaf fall or the first frost, whichever comes first.
    pub warm_left: Weeks,
    /// How full of roots it is.
    pub roots: Roots,
}

/// Whether to separate a layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Separate it.
    Separate,
    /// Separate it and keep it from frost: the season is short.
    SeparateAndShelter,
    /// Wait: not enough roots.
    Wait,
    /// Leave it on until spring.
    WaitForSpring,
    /// Cut the ring again: it has been bridged.
    CutAgain,
}

/// Why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// The roots, as they were seen.
    Roots(Roots),
    /// It is younger than the soonest that such layers root.
    Young {
        /// Weeks at which the first are ready.
        soonest: u16,
    },
    /// Less than six weeks are left before leaf fall or frost.
    SeasonShort {
        /// Weeks left.
        left: Weeks,
    },
    /// Callus alone after six weeks.
    OnlyCallus,
}

/// Weeks that a separated layer needs before leaf fall or frost.
pub const WEEKS_BEFORE_FROST: Sourced<Weeks> = Sourced { value: Weeks(6.0), standing: Standing::Practice };

impl Layer {
    /// The row for a taxon; none for kinds that are not in the table.
    ///
    /// ```
    /// use form::layer::Layer;
    /// use measure::taxon::Taxon;
    ///
    /// let maple = Layer::of(Taxon::of("acer-palmatum").unwrap()).unwrap();
    /// assert_eq!(maple.ready, Some([8, 14]));
    /// ```
    pub fn of(taxon: &Taxon) -> Option<&'static Layer> {
        let group = match (taxon.genus(), taxon.kind) {
            ("Acer", _) if taxon.key == "acer-buergerianum" => "Acer buergerianum",
            ("Acer", _) => "Acer palmatum",
            ("Ulmus" | "Zelkova", _) => "elm, zelkova",
            ("Carpinus", _) => "hornbeam",
            ("Fagus", _) => "beech",
            (_, Kind::StoneFruit | Kind::AppleFamily) => "Prunus, apple family",
            (_, Kind::Azalea) => "azalea",
            (_, Kind::Juniper) => "juniper",
            ("Pinus", _) => "pine",
            ("Larix" | "Pseudolarix", _) => "larch",
            ("Ficus", Kind::Tropical) => "ficus",
            ("Olea", _) => "olive",
            _ => return None,
        };
        LAYERS.iter().find(|row| row.group == group)
    }

    /// How wide a ring of bark to take off.
    pub fn ring_width(&self, branch: Millimetre) -> Millimetre {
        Millimetre(self.ring * branch.0)
    }

    /// Whether to separate a layer, and why. Roots decide, never the calendar alone.
    pub fn judge(&self, layer: Progress) -> (Verdict, Vec<Reason>) {
        let mut reasons = vec![Reason::Roots(layer.roots)];
        let soonest = self.ready.map(|[soonest, _]| soonest);
        if let Some(soonest) = soonest.filter(|&soonest| layer.weeks.0 < f64::from(soonest)) {
            reasons.push(Reason::Young { soonest });
        }
        let short = layer.warm_left.0 < WEEKS_BEFORE_FROST.value.0;
        if short {
            reasons.push(Reason::SeasonShort { left: layer.warm_left });
        }
        let verdict = match layer.roots {
            Roots::Branched if short => Verdict::SeparateAndShelter,
            Roots::Branched => Verdict::Separate,
            Roots::Callus if layer.weeks.0 >= 6.0 => {
                reasons.push(Reason::OnlyCallus);
                Verdict::CutAgain
            }
            _ if short => Verdict::WaitForSpring,
            _ => Verdict::Wait,
        };
        (verdict, reasons)
    }
}

/// What the trade does after separating. Common practice.
pub const AFTERCARE: [&str; 7] = [
    "Do not tease the moss out of the roots.",
    "Take a deep pot and fasten the tree in it.",
    "Keep it in shade and mist it for two to three weeks.",
    "Cut away about a third of the leaf.",
    "Do not feed for four weeks.",
    "Keep it free of frost in its first winter.",
    "Leave the roots alone for a year; bare the moss out when it is first repotted.",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_decide_and_a_short_season_shelters_or_waits() {
        let maple = Layer::of(Taxon::of("acer-palmatum").unwrap()).unwrap();
        let judge = |weeks, left, roots| {
            maple.judge(Progress { weeks: Weeks(weeks), warm_left: Weeks(left), roots }).0
        };
        assert_eq!(judge(10.0, 12.0, Roots::Branched), Verdict::Separate);
        assert_eq!(judge(20.0, 3.0, Roots::Branched), Verdict::SeparateAndShelter);
        assert_eq!(judge(10.0, 12.0, Roots::White), Verdict::Wait);
        assert_eq!(judge(20.0, 3.0, Roots::Few), Verdict::WaitForSpring);
        assert_eq!(judge(7.0, 12.0, Roots::Callus), Verdict::CutAgain);
        assert_eq!(judge(4.0, 12.0, Roots::Callus), Verdict::Wait);
    }
}
