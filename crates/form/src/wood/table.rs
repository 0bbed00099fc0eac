//! The table of green woods: weight, strength and stiffness by tree, and which row stands for a grown taxon.

use measure::{quantity::Megapascal, sourced::Standing};

use super::Wood;

const HANDBOOK: Standing = Standing::Published("USDA Wood Handbook FPL-GTR-190, Table 5-3a, page as printed");
const HANDBOOK_COPY: Standing = Standing::Published("USDA Wood Handbook, green row, copy of the table");
const SHEET: Standing = Standing::Published("USDA Forest Products Laboratory tech sheet");
const ASTM: Standing = Standing::Published("ASTM D2555 averages of clear wood");
const CENTER: Standing =
    Standing::Published("hardwood information sheet, range that agrees with the Wood Handbook");
const REMEMBERED: Standing = Standing::Unverified("USDA Wood Handbook FPL-GTR-190, Table 5-3a, green row");

const fn w(
    name: &'static str,
    latin: &'static str,
    gravity: f64,
    strength: f64,
    stiffness: f64,
    standing: Standing,
) -> Wood {
    Wood {
        name,
        latin,
        gravity,
        strength: Megapascal(strength),
        modulus: Megapascal(stiffness * 1000.0),
        standing,
    }
}

/// The woods, green.
#[rustfmt::skip]
pub const WOODS: &[Wood] = &[
    w("Elm, American", "Ulmus americana", 0.46, 50.0, 7.7, SHEET),
    w("Elm, rock", "Ulmus thomasii", 0.57, 66.0, 8.2, REMEMBERED),
    w("Elm, slippery", "Ulmus rubra", 0.48, 55.0, 8.5, REMEMBERED),
    w("Elm, winged", "Ulmus alata", 0.6, 63.4, 8.3, SHEET),
    w("Hackberry", "Celtis occidentalis", 0.49, 45.0, 6.6, REMEMBERED),
    w("Maple, sugar", "Acer saccharum", 0.56, 65.0, 10.7, HANDBOOK_COPY),
    w("Maple, black", "Acer nigrum", 0.52, 54.0, 9.2, REMEMBERED),
    w("Maple, red", "Acer rubrum", 0.49, 53.0, 9.6, REMEMBERED),
    w("Maple, silver", "Acer saccharinum", 0.44, 40.0, 6.5, REMEMBERED),
    w("Maple, bigleaf", "Acer macrophyllum", 0.44, 51.0, 7.6, REMEMBERED),
    w("Beech, American", "Fagus grandifolia", 0.56, 59.0, 9.5, REMEMBERED),
    w("Hophornbeam, eastern", "Ostrya virginiana", 0.63, 58.6, 7.9, SHEET),
    w("Birch, paper", "Betula papyrifera", 0.48, 44.0, 8.1, CENTER),
    w("Birch, yellow", "Betula alleghaniensis", 0.55, 57.0, 10.3, REMEMBERED),
    w("Birch, sweet", "Betula lenta", 0.6, 65.0, 11.4, REMEMBERED),
    w("Oak, white", "Quercus alba", 0.6, 57.0, 8.6, REMEMBERED),
    w("Oak, northern red", "Quercus rubra", 0.56, 57.0, 9.3, REMEMBERED),
    w("Cherry, black", "Prunus serotina", 0.47, 55.0, 9.0, REMEMBERED),
    w("Ash, white", "Fraxinus americana", 0.55, 66.0, 9.9, REMEMBERED),
    w("Walnut, black", "Juglans nigra", 0.51, 66.0, 9.8, REMEMBERED),
    w("Sweetgum", "Liquidambar styraciflua", 0.46, 49.0, 8.3, REMEMBERED),
    w("Redcedar, eastern", "Juniperus virginiana", 0.44, 48.0, 4.5, REMEMBERED),
    w("White-cedar, northern", "Thuja occidentalis", 0.29, 29.0, 4.4, HANDBOOK_COPY),
    w("Cedar, Port-Orford", "Chamaecyparis lawsoniana", 0.39, 45.0, 9.0, ASTM),
    w("Cedar, yellow", "Cupressus nootkatensis", 0.42, 44.0, 7.9, REMEMBERED),
    w("Baldcypress", "Taxodium distichum", 0.42, 46.0, 8.1, ASTM),
    w("Redwood, old-growth", "Sequoia sempervirens", 0.38, 52.0, 8.1, HANDBOOK),
    w("Hemlock, eastern", "Tsuga canadensis", 0.38, 44.0, 7.4, ASTM),
    w("Hemlock, western", "Tsuga heterophylla", 0.42, 46.0, 9.0, ASTM),
    w("Hemlock, mountain", "Tsuga mertensiana", 0.42, 43.0, 7.2, REMEMBERED),
    w("Larch, western", "Larix occidentalis", 0.48, 53.0, 10.1, REMEMBERED),
    w("Tamarack", "Larix laricina", 0.49, 50.0, 8.5, REMEMBERED),
    w("Pine, eastern white", "Pinus strobus", 0.34, 34.0, 6.8, REMEMBERED),
    w("Pine, red", "Pinus resinosa", 0.41, 40.0, 8.8, HANDBOOK),
    w("Pine, ponderosa", "Pinus ponderosa", 0.38, 35.0, 6.9, HANDBOOK),
    w("Pine, Virginia", "Pinus virginiana", 0.45, 50.0, 8.4, HANDBOOK),
    w("Pine, shortleaf", "Pinus echinata", 0.47, 51.0, 9.6, HANDBOOK),
    w("Pine, sugar", "Pinus lambertiana", 0.34, 34.0, 7.1, HANDBOOK),
    w("Pine, western white", "Pinus monticola", 0.36, 32.0, 8.2, HANDBOOK),
    w("Pine, lodgepole", "Pinus contorta", 0.38, 38.0, 7.4, ASTM),
    w("Spruce, white", "Picea glauca", 0.33, 34.0, 7.9, REMEMBERED),
    w("Spruce, red", "Picea rubens", 0.37, 41.0, 9.2, REMEMBERED),
    w("Spruce, black", "Picea mariana", 0.38, 42.0, 9.5, REMEMBERED),
    w("Spruce, Engelmann", "Picea engelmannii", 0.33, 32.0, 7.1, REMEMBERED),
];

/// Which wood stands for a grown genus or species: the start of its botanical name, the row, and whether it is the same species.
/// The longest start that fits counts.
#[rustfmt::skip]
pub const STANDS_FOR: &[(&str, &str, bool)] = &[
    ("Ulmus parvifolia", "Elm, winged", false),
    ("Ulmus minor", "Elm, winged", false),
    ("Ulmus glabra", "Elm, winged", false),
    ("Zelkova", "Elm, winged", false),
    ("Ulmus davidiana", "Elm, American", false),
    ("Ulmus americana", "Elm, American", false),
    ("Ulmus pumila", "Elm, American", false),
    ("Celtis sinensis", "Hackberry", false),
    ("Acer palmatum", "Maple, red", false),
    ("Acer buergerianum", "Maple, red", false),
    ("Acer campestre", "Maple, red", false),
    ("Acer saccharum", "Maple, sugar", false),
    ("Acer monspessulanum", "Maple, sugar", false),
    ("Acer ginnala", "Maple, sugar", false),
    ("Acer tataricum", "Maple, sugar", false),
    ("Fagus crenata", "Beech, American", false),
    ("Fagus sylvatica", "Beech, American", false),
    ("Carpinus", "Hophornbeam, eastern", false),
    ("Betula pendula", "Birch, paper", false),
    ("Betula pubescens", "Birch, paper", false),
    ("Quercus robur", "Oak, white", false),
    ("Quercus petraea", "Oak, white", false),
    ("Quercus serrata", "Oak, white", false),
    ("Prunus mume", "Cherry, black", false),
    ("Prunus serrulata", "Cherry, black", false),
    ("Malus", "Cherry, black", false),
    ("Crataegus", "Cherry, black", false),
    ("Pyrus", "Cherry, black", false),
    ("Liquidambar", "Sweetgum", false),
    ("Juniperus chinensis", "Redcedar, eastern", false),
    ("Juniperus procumbens", "Redcedar, eastern", false),
    ("Juniperus communis", "Redcedar, eastern", false),
    ("Juniperus rigida", "Redcedar, eastern", false),
    ("Chamaecyparis obtusa", "Cedar, Port-Orford", false),
    ("Chamaecyparis pisifera", "Cedar, Port-Orford", false),
    ("Taxodium", "Baldcypress", true),
    ("Tsuga", "Hemlock, eastern", false),
    ("Larix kaempferi", "Tamarack", false),
    ("Larix decidua", "Tamarack", false),
    ("Pinus thunbergii", "Pine, red", false),
    ("Pinus densiflora", "Pine, red", false),
    ("Pinus sylvestris", "Pine, red", false),
    ("Pinus mugo", "Pine, red", false),
    ("Pinus nigra", "Pine, red", false),
    ("Pinus parviflora", "Pine, eastern white", false),
    ("Pinus pentaphylla", "Pine, eastern white", false),
    ("Picea abies", "Spruce, white", false),
    ("Picea glehnii", "Spruce, white", false),
    ("Picea jezoensis", "Spruce, white", false),
    ("Ulmus", "Elm, American", false),
    ("Celtis", "Hackberry", false),
    ("Acer", "Maple, red", false),
    ("Fagus", "Beech, American", false),
    ("Betula", "Birch, paper", false),
    ("Quercus", "Oak, white", false),
    ("Prunus", "Cherry, black", false),
    ("Juniperus", "Redcedar, eastern", false),
    ("Chamaecyparis", "Cedar, Port-Orford", false),
    ("Larix", "Tamarack", false),
    ("Pinus", "Pine, red", false),
    ("Picea", "Spruce, white", false),
    ("Thuja", "White-cedar, northern", false),
];
