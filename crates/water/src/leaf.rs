//! How much of its summer water a tree draws, by the state of its leaves and where it stands.

use measure::sourced::{Sourced, Standing};

/// The state of a tree's leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeafState {
    /// Dormant and without leaves.
    Leafless,
    /// Buds swollen.
    Swollen,
    /// Leaves coming out.
    Opening,
    /// Leaves of half their size.
    HalfSize,
    /// Leaves full grown.
    Mature,
    /// Colouring in autumn.
    Autumn,
    /// An evergreen in winter, not frozen.
    WinterGreen,
    /// An evergreen whose root ball is frozen.
    FrozenGreen,
}

/// Share of the summer use, and the span it is believed to lie in where anyone has said one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeafShare {
    /// Most likely share, 1 for full grown leaves.
    pub likely: f64,
    /// Lowest and highest.
    pub span: Option<(f64, f64)>,
}

/// Leaf states between which a learned coefficient may be carried over; each class keeps its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeafClass {
    /// Without leaves or in bud.
    Bare,
    /// Leaves growing.
    Growing,
    /// Leaves full grown, or colouring.
    Full,
    /// An evergreen's winter.
    Winter,
}

impl LeafState {
    /// Every state.
    pub const ALL: [LeafState; 8] = [
        LeafState::Leafless,
        LeafState::Swollen,
        LeafState::Opening,
        LeafState::HalfSize,
        LeafState::Mature,
        LeafState::Autumn,
        LeafState::WinterGreen,
        LeafState::FrozenGreen,
    ];

    /// The share of summer use to start from, before a weighing says better.
    ///
    /// ```
    /// use measure::sourced::Standing;
    /// use water::leaf::LeafState;
    ///
    /// let bare = LeafState::Leafless.share();
    /// assert_eq!((bare.value.likely, bare.value.span), (0.03, Some((0.01, 0.08))));
    /// assert_eq!(bare.standing, Standing::Practice);
    /// ```
    pub fn share(self) -> Sourced<LeafShare> {
        let (likely, span) = match self {
            LeafState::Leafless => (0.03, Some((0.01, 0.08))),
            LeafState::Swollen => (0.06, None),
            LeafState::Opening => (0.15, None),
            LeafState::HalfSize => (0.4, None),
            LeafState::Mature => (1.0, None),
            LeafState::Autumn => (0.5, None),
            LeafState::WinterGreen => (0.3, None),
            LeafState::FrozenGreen => (0.0, None),
        };
        Sourced { value: LeafShare { likely, span }, standing: Standing::Practice }
    }

    /// The class whose learned coefficient applies.
    pub fn class(self) -> LeafClass {
        match self {
            LeafState::Leafless | LeafState::Swollen => LeafClass::Bare,
            LeafState::Opening | LeafState::HalfSize => LeafClass::Growing,
            LeafState::Mature | LeafState::Autumn => LeafClass::Full,
            LeafState::WinterGreen | LeafState::FrozenGreen => LeafClass::Winter,
        }
    }
}

/// Where a pot stands, as sun and wind reach it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Exposure {
    /// Indoors or in a cold room.
    Indoors,
    /// In the shade.
    Shade,
    /// Outdoors, out of the wind.
    Sheltered,
    /// On an open bench.
    OpenBench,
    /// At a hot wall or in the wind.
    HotWall,
}

impl Exposure {
    /// What the demand of open grass is multiplied with.
    ///
    /// ```
    /// use water::leaf::Exposure;
    ///
    /// assert_eq!(Exposure::OpenBench.factor().value, 1.2);
    /// ```
    pub fn factor(self) -> Sourced<f64> {
        let value = match self {
            Exposure::Indoors => 0.3,
            Exposure::Shade => 0.6,
            Exposure::Sheltered => 1.0,
            Exposure::OpenBench => 1.2,
            Exposure::HotWall => 1.4,
        };
        Sourced { value, standing: Standing::Practice }
    }
}
