//! What to heed when feeding, reading salts and spraying; none of it is a dose.

use measure::sourced::{Sourced, Standing};

/// A sentence to heed, with its standing.
pub type Caution = Sourced<&'static str>;

const fn practice(value: &'static str) -> Caution {
    Sourced { value, standing: Standing::Practice }
}

/// Beside every feed.
pub const FEEDING: [Caution; 6] = [
    practice(
        "How strong and how often, the label of the product says; these are volumes, not advice to feed",
    ),
    practice(
        "Never feed a dry root ball, a dormant tree, a sick one, one without roots, or one repotted in the last 3 to 6 weeks",
    ),
    practice("Nitrogen is stopped about 6 weeks before the tree must be going to rest"),
    practice("Mineral mixes let feed run through; hard water lifts the pH of akadama and kanuma mixes"),
    practice(
        "A stock may ask for more than dissolves: the bag tells what does; keep two stocks apart where the bag says so",
    ),
    practice("Keep feed and stock, named and closed, from children and pets"),
];

/// Beside every reading of salts.
pub const SALTS: [Caution; 5] = [
    practice("Write down EC, not ppm: the same water reads 500 or 700 by the meter"),
    Sourced {
        value: "Pour-through: water to capacity, wait 30 to 120 minutes, add enough to catch 50 ml",
        standing: Standing::Published("extension pages on pour-through testing"),
    },
    Sourced {
        value: "Net of the water, about 0.5 dS/m was found with controlled release and 1.0 with liquid feed",
        standing: Standing::Published("extension pages on pour-through testing, nursery crops"),
    },
    Sourced {
        value: "Above about 2 dS/m pots are flushed with plain water",
        standing: Standing::Unverified("advice on pour-through, source not noted"),
    },
    practice("A meter that was not set to a known solution tells nothing"),
];

/// Beside every spray.
pub const SPRAYING: [Caution; 8] = [
    Sourced {
        value: "The label of the product in hand is the legal limit, for what, how much, how often and where; local law and a licensed practitioner come before this page",
        standing: Standing::Published("text of a pesticide label in the US register, 2013, excerpt read"),
    },
    practice(
        "This page multiplies the figure you read from the label; it knows no product and suggests no dose",
    ),
    practice("Mix only what today needs, measure with a syringe or a scale, never with a household spoon"),
    practice(
        "Wear what the label asks for; test one branch first; let nothing drift to edible pots, water or neighbours",
    ),
    practice("Keep children and pets away until the spray is dry and the label's re-entry time is over"),
    Sourced {
        value: "Oil or sulphur: not in heat over 27 to 30 °C (80 to 86 °F), nor within 2 to 4 weeks of each other",
        standing: Standing::Unverified("advice on oil and sulphur sprays, source not noted"),
    },
    Sourced {
        value: "Lime sulphur burns eyes and skin and gives off poisonous gas with acids; some of it may not be used at home",
        standing: Standing::Published("lime sulphur label in the US register, 2013, excerpt read"),
    },
    practice(
        "Write down product, active, dose, date, place, re-entry and handling interval, and how the rest was disposed of",
    ),
];
