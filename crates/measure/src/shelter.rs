//! Kinds of place a container tree may stand in.

/// What shelters a place; decides its default climate until a logger says better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Shelter {
    /// A bench or shelf under open sky.
    OpenBench,
    /// Outdoors, shaded or against a wall.
    ShadedBench,
    /// A glazed or covered box on the ground, unheated.
    ColdFrame,
    /// A dark or weakly lit unheated room or shed.
    ColdRoom,
    /// An unheated glasshouse or tunnel.
    ColdGlasshouse,
    /// A window sill in an unheated or barely heated room.
    CoolSill,
    /// A window sill in a lived-in room.
    WarmSill,
}

impl Shelter {
    /// All kinds, from the most open to the warmest.
    pub const ALL: [Shelter; 7] = [
        Shelter::OpenBench,
        Shelter::ShadedBench,
        Shelter::ColdFrame,
        Shelter::ColdRoom,
        Shelter::ColdGlasshouse,
        Shelter::CoolSill,
        Shelter::WarmSill,
    ];

    /// The word used in files and addresses.
    pub fn key(self) -> &'static str {
        match self {
            Shelter::OpenBench => "open-bench",
            Shelter::ShadedBench => "shaded-bench",
            Shelter::ColdFrame => "cold-frame",
            Shelter::ColdRoom => "cold-room",
            Shelter::ColdGlasshouse => "cold-glasshouse",
            Shelter::CoolSill => "cool-sill",
            Shelter::WarmSill => "warm-sill",
        }
    }

    /// The kind that goes by this word.
    pub fn from_key(key: &str) -> Option<Shelter> {
        Shelter::ALL.into_iter().find(|shelter| shelter.key() == key)
    }

    /// The kind in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Shelter::OpenBench => "open bench",
            Shelter::ShadedBench => "shaded or walled bench",
            Shelter::ColdFrame => "cold frame",
            Shelter::ColdRoom => "cold room or shed",
            Shelter::ColdGlasshouse => "unheated glasshouse",
            Shelter::CoolSill => "sill, cool room",
            Shelter::WarmSill => "sill, warm room",
        }
    }

    /// Whether the place stands under the sky's own day length and frost.
    pub fn is_outdoors(self) -> bool {
        matches!(self, Shelter::OpenBench | Shelter::ShadedBench)
    }

    /// Whether air there stays above freezing through a normal night indoors (common practice, no source).
    pub fn is_frost_free(self) -> bool {
        matches!(self, Shelter::CoolSill | Shelter::WarmSill)
    }
}
