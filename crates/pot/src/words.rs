//! The words by which shapes, finishes, styles and the like are kept in files and told to people.

/// Gives an enum of plain variants `ALL`, `key`, `from_key` and `words`.
macro_rules! words {
    ($name:ty, $count:literal, { $($variant:ident => $key:literal, $words:literal;)+ }) => {
        impl $name {
            /// All, in the order of the trade.
            pub const ALL: [$name; $count] = [$(<$name>::$variant),+];

            /// The word used in files.
            pub fn key(self) -> &'static str {
                match self {
                    $(<$name>::$variant => $key,)+
                }
            }

            /// The one that goes by this word.
            pub fn from_key(key: &str) -> Option<$name> {
                <$name>::ALL.into_iter().find(|it| it.key() == key)
            }

            /// In plain words.
            pub fn words(self) -> &'static str {
                match self {
                    $(<$name>::$variant => $words,)+
                }
            }
        }
    };
}

use crate::{
    colour::score::Season,
    fit::{
        frame::{Feel, Finish, Fired, Shape},
        sitter::{Kind, Style},
    },
    repot::{insult::Strength, roots::Age},
    table::Component,
};

words!(Shape, 12, {
    Rectangle => "rectangle", "rectangle";
    SoftRectangle => "soft-rectangle", "rectangle with soft corners";
    Square => "square", "square";
    Oval => "oval", "oval";
    Round => "round", "round";
    Hexagon => "hexagon", "hexagon";
    Octagon => "octagon", "octagon";
    Mokko => "mokko", "mokko";
    Drum => "drum", "drum";
    Cascade => "cascade", "cascade";
    Slab => "slab", "slab";
    Primitive => "primitive", "free form";
});

words!(Finish, 3, {
    Unglazed => "unglazed", "unglazed";
    Matt => "matt", "matt glaze";
    Gloss => "gloss", "shiny glaze";
});

words!(Fired, 4, {
    High => "high", "fired high";
    Mid => "mid", "fired at middle heat";
    Low => "low", "fired low";
    Unknown => "unknown", "firing not known";
});

words!(Feel, 3, {
    Masculine => "masculine", "masculine";
    Between => "between", "between";
    Feminine => "feminine", "feminine";
});

words!(Style, 12, {
    FormalUpright => "formal-upright", "formal upright";
    InformalUpright => "informal-upright", "informal upright";
    Broom => "broom", "broom";
    Slanting => "slanting", "slanting";
    Windswept => "windswept", "windswept";
    SemiCascade => "semi-cascade", "semi-cascade";
    Cascade => "cascade", "cascade";
    Literati => "literati", "literati";
    Clump => "clump", "clump";
    Forest => "forest", "forest";
    Raft => "raft", "raft";
    OverRock => "over-rock", "over rock";
});

words!(Kind, 7, {
    Conifer => "conifer", "conifer";
    Evergreen => "evergreen", "broadleaf evergreen";
    Deciduous => "deciduous", "smooth deciduous";
    RoughDeciduous => "rough-deciduous", "rough old deciduous";
    Flowering => "flowering", "flowering";
    Fruiting => "fruiting", "fruiting";
    Tropical => "tropical", "tropical";
});

words!(Season, 5, {
    Bark => "bark", "bark";
    Leaf => "leaf", "leaf";
    Autumn => "autumn", "autumn leaf";
    Flower => "flower", "flower";
    Fruit => "fruit", "fruit";
});

words!(Age, 3, {
    Young => "young", "growing on";
    Middle => "middle", "refined";
    Old => "old", "old";
});

words!(Strength, 4, {
    Sick => "sick", "sick";
    Weak => "weak", "weak";
    Normal => "normal", "normal";
    Strong => "strong", "strong";
});

words!(Component, 8, {
    Akadama => "akadama", "akadama";
    Pumice => "pumice", "pumice";
    Lava => "lava", "lava";
    Kanuma => "kanuma", "kanuma";
    Bark => "bark", "bark";
    Grit => "grit", "grit";
    CalcinedClay => "calcined-clay", "calcined clay";
    Perlite => "perlite", "perlite";
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_leads_back_to_what_it_stands_for() {
        assert!(Shape::ALL.iter().all(|it| Shape::from_key(it.key()) == Some(*it)));
        assert!(Style::ALL.iter().all(|it| Style::from_key(it.key()) == Some(*it)));
        assert!(Component::ALL.iter().all(|it| Component::from_key(it.key()) == Some(*it)));
        assert_eq!(Shape::from_key("tray"), None);
    }
}
