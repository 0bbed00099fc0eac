//! The taxa we know by name, with the kind of tree each one is.

pub use crate::taxa::TAXA;

/// What kind of tree a taxon is in the trade; decides defaults where the taxon has no figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Kind {
    HardyDeciduous,
    Maple,
    Elm,
    SemiDeciduous,
    BeechHornbeam,
    Oak,
    LarchGinkgo,
    StoneFruit,
    AppleFamily,
    Azalea,
    FloweringDeciduous,
    Juniper,
    TwoFlushPine,
    OneFlushPine,
    SpruceHemlock,
    YewCypress,
    BroadleafEvergreen,
    Tropical,
    Succulent,
}

impl Kind {
    /// The kind in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Kind::HardyDeciduous => "hardy deciduous",
            Kind::Maple => "maple",
            Kind::Elm => "elm family",
            Kind::SemiDeciduous => "semi-deciduous",
            Kind::BeechHornbeam => "beech and hornbeam",
            Kind::Oak => "deciduous oak",
            Kind::LarchGinkgo => "deciduous conifer or ginkgo",
            Kind::StoneFruit => "flowering stone fruit",
            Kind::AppleFamily => "apple family",
            Kind::Azalea => "azalea",
            Kind::FloweringDeciduous => "flowering deciduous",
            Kind::Juniper => "juniper",
            Kind::TwoFlushPine => "two-flush pine",
            Kind::OneFlushPine => "one-flush pine",
            Kind::SpruceHemlock => "spruce, hemlock or cedar",
            Kind::YewCypress => "yew or cypress",
            Kind::BroadleafEvergreen => "broadleaf evergreen",
            Kind::Tropical => "tropical",
            Kind::Succulent => "succulent",
        }
    }

    /// Whether the kind has a winter rest that cold ends.
    pub fn rests(self) -> bool {
        !matches!(self, Kind::Tropical | Kind::Succulent)
    }

    /// Whether a leafless tree of this kind needs no light in store.
    pub fn is_bare_in_winter(self) -> bool {
        use Kind::*;
        matches!(
            self,
            HardyDeciduous
                | Maple
                | Elm
                | BeechHornbeam
                | Oak
                | LarchGinkgo
                | StoneFruit
                | AppleFamily
                | FloweringDeciduous
        )
    }
}

/// A taxon: the name in files, the kind, the botanical and the everyday name.
///
/// Botanical names are remembered, not verified against a names dataset.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taxon {
    /// Name in files and addresses, as `acer-palmatum`.
    pub key: &'static str,
    /// Kind of tree.
    pub kind: Kind,
    /// Botanical name without authors.
    pub name: &'static str,
    /// Everyday name.
    pub common: &'static str,
}

impl Taxon {
    /// The taxon that goes by this key.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    ///
    /// assert_eq!(Taxon::of("acer-palmatum").unwrap().name, "Acer palmatum");
    /// ```
    pub fn of(key: &str) -> Option<&'static Taxon> {
        TAXA.iter().find(|taxon| taxon.key == key)
    }

    /// The genus: the first word of the botanical name.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    ///
    /// assert_eq!(Taxon::of("acer-palmatum").unwrap().genus(), "Acer");
    /// ```
    pub fn genus(&self) -> &'static str {
        self.name.split(' ').next().unwrap_or(self.name)
    }

    /// The taxa whose botanical or everyday name holds these words.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    ///
    /// assert!(Taxon::near("oak").count() > 1);
    /// assert_eq!(Taxon::near("").count(), 0);
    /// ```
    pub fn near(words: &str) -> impl Iterator<Item = &'static Taxon> {
        let words = words.trim().to_lowercase();
        TAXA.iter().filter(move |taxon| {
            !words.is_empty()
                && [taxon.name, taxon.common].iter().any(|name| name.to_lowercase().contains(&words))
        })
    }

    /// The taxon a person means: by key, botanical or everyday name, without regard to case.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    ///
    /// assert_eq!(Taxon::meant("Japanese Maple").unwrap().key, "acer-palmatum");
    /// assert!(Taxon::meant("apple pie").is_none());
    /// ```
    pub fn meant(words: &str) -> Option<&'static Taxon> {
        let words = words.trim();
        TAXA.iter().find(|taxon| {
            [taxon.key, taxon.name, taxon.common].iter().any(|name| name.eq_ignore_ascii_case(words))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_unique() {
        let mut keys: Vec<_> = TAXA.iter().map(|taxon| taxon.key).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), TAXA.len());
        assert_eq!(TAXA.len(), 171);
    }
}
