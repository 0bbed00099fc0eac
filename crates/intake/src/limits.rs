//! The least and the most of what may be told: one truth for forms and for sheets.

/// Letters of a name.
pub(crate) const NAME: usize = 80;

/// Letters of a maker, a mark, a kiln, an origin, a seller, a spot, or a time zone.
pub(crate) const SHORT: usize = 120;

/// Letters of the time a pot was made in.
pub(crate) const ERA: usize = 200;

/// Letters of a pot's condition.
pub(crate) const CONDITION: usize = 300;

/// Letters of a why, of what was found, or of a note in a log of pots and repots.
pub(crate) const LONG: usize = 400;

/// Letters of any other note.
pub(crate) const NOTE: usize = 2000;

/// Letters of a line on a photo as a sheet writes it.
pub(crate) const POINTS: usize = 40_000;

/// Nothing that still stands was written down before this year.
pub(crate) const FIRST_YEAR: i16 = 1900;

/// No day past this year is right.
pub(crate) const LAST_YEAR: i16 = 2200;

/// Years past today that a plan may reach.
pub(crate) const YEARS_AHEAD: i16 = 10;

/// Degrees of latitude.
pub(crate) const LATITUDE: [f64; 2] = [-90.0, 90.0];

/// Degrees of longitude.
pub(crate) const LONGITUDE: [f64; 2] = [-180.0, 180.0];

/// Height of a site above the sea, m.
pub(crate) const ELEVATION: [f64; 2] = [-430.0, 6000.0];

/// Light of a lamp, µmol/m²/s.
pub(crate) const LAMP: [f64; 2] = [0.0, 3000.0];

/// Hours of a lamp in a day.
pub(crate) const LAMP_HOURS: [f64; 2] = [0.0, 24.0];

/// Trees that a place has room for.
pub(crate) const CAPACITY: [u32; 2] = [0, 10_000];

/// A pot from rim to rim, cm.
pub(crate) const POT_ACROSS: [f64; 2] = [1.0, 300.0];

/// A pot's height, cm.
pub(crate) const POT_HEIGHT: [f64; 2] = [0.5, 200.0];

/// Thickness of a pot's wall and floor, cm.
pub(crate) const POT_WALL: [f64; 2] = [0.0, 10.0];

/// Feet, lip, and what stays free under the rim, cm.
pub(crate) const POT_EDGE: [f64; 2] = [0.0, 50.0];

/// Radius of a pot's corners in cm.
pub(crate) const CORNER: [f64; 2] = [0.0, 100.0];

/// How square a rounded outline is: the exponent of its curve.
pub(crate) const EXPONENT: [f64; 2] = [1.0, 50.0];

/// Water that a pot takes, L.
pub(crate) const POT_WATER: [f64; 2] = [0.001, 500.0];

/// Holes of one kind in a pot.
pub(crate) const HOLES: [u32; 2] = [0, 60];

/// Width of a hole, mm.
pub(crate) const HOLE: [f64; 2] = [1.0, 200.0];

/// Strong features of a pot.
pub(crate) const FEATURES: [u32; 2] = [0, 20];

/// Training pots that one record stands for.
pub(crate) const POT_COUNT: [u32; 2] = [1, 1000];

/// Lightness of a colour.
pub(crate) const LIGHTNESS: [f64; 2] = [0.0, 100.0];

/// Green to red, and blue to yellow, of a colour.
pub(crate) const HUE: [f64; 2] = [-130.0, 130.0];

/// Width of a grain, mm.
pub(crate) const GRAIN: [f64; 2] = [0.05, 50.0];

/// Height of the fill in a bucket test, cm.
pub(crate) const BUCKET_HEIGHT: [f64; 2] = [0.5, 1000.0];

/// Volume of the vessel for a bucket test, L; a guard of this house.
pub(crate) const BUCKET_VOLUME: [f64; 2] = [0.05, 100.0];

/// A crown across, cm.
pub(crate) const CROWN: [f64; 2] = [0.5, 1000.0];

/// A tree's height, cm.
pub(crate) const TREE_HEIGHT: [f64; 2] = [1.0, 500.0];

/// A trunk's thickness, cm.
pub(crate) const TRUNK_THICK: [f64; 2] = [0.1, 150.0];

/// A trunk's thickness that is aimed at, mm.
pub(crate) const AIM_TRUNK: [f64; 2] = [1.0, 2000.0];

/// A height that is aimed at, mm.
pub(crate) const AIM_HEIGHT: [f64; 2] = [10.0, 5000.0];

/// A length of needles that is aimed at, mm.
pub(crate) const NEEDLES: [f64; 2] = [3.0, 150.0];

/// A limb's thickness, mm.
pub(crate) const LIMB_THICK: [f64; 2] = [0.2, 2000.0];

/// How far along a limb, mm.
pub(crate) const ALONG: [f64; 2] = [0.0, 20_000.0];

/// Thickness up to which a limb shall grow, mm.
pub(crate) const UNTIL: [f64; 2] = [0.5, 2000.0];

/// A wound across, mm.
pub(crate) const WOUND: [f64; 2] = [0.5, 500.0];

/// A wire's thickness, mm.
pub(crate) const GAUGE: [f64; 2] = [0.3, 12.0];

/// A limb's thickness where it is wired, mm.
pub(crate) const WIRED_THICK: [f64; 2] = [0.5, 500.0];

/// Radius of a bend, mm.
pub(crate) const BEND: [f64; 2] = [2.0, 5000.0];

/// Strands of a wire.
pub(crate) const STRANDS: [u32; 2] = [1, 4];

/// Nodes that a wish leaves.
pub(crate) const WISH_NODES: [u32; 2] = [0, 40];

/// Nodes and buds at a cut.
pub(crate) const NODES: [u32; 2] = [0, 200];

/// Tilt of a front, degrees.
pub(crate) const TILT: [f64; 2] = [-60.0, 60.0];

/// Lean of a layer, degrees.
pub(crate) const LEAN: [f64; 2] = [-90.0, 90.0];

/// Hours of a clock.
pub(crate) const CLOCK: [u32; 2] = [1, 12];

/// Today's front and its two candidates.
pub(crate) const RANK: [u32; 2] = [0, 2];

/// Share of the roots above which no record is taken.
pub(crate) const ROOTS_CUT: [f64; 2] = [0.0, 0.7];

/// Share of a bucket's water that its grains hold.
pub(crate) const INSIDE: [f64; 2] = [0.0, 0.9];

/// How far the root flare stands above the rim, mm.
pub(crate) const PROUD: [f64; 2] = [-200.0, 200.0];

/// Length, width and depth of the roots, cm.
pub(crate) const PAD: [f64; 2] = [0.5, 300.0];

/// Minutes at the bench.
pub(crate) const MINUTES: [f64; 2] = [0.0, 1440.0];

/// Seconds that water took to drain.
pub(crate) const DRAINED: [f64; 2] = [0.0, 7200.0];

/// What a stress is counted by: branches, limbs or weeks, or a share.
pub(crate) const TOLL: [f64; 2] = [0.0, 500.0];

/// Whole numbers of branches, limbs or weeks.
pub(crate) const TOLL_COUNT: [f64; 2] = [1.0, 500.0];

/// What is left of an item in the shed, in its own unit.
pub(crate) const LEFT: [f64; 2] = [0.0, 1e6];

/// A pack of an item, in its own unit.
pub(crate) const PACK: [f64; 2] = [0.001, 1e6];

/// Days from an order to the door.
pub(crate) const DELIVERY: [u32; 2] = [0, 730];

/// Parts of a component in a mix.
pub(crate) const PARTS: [f64; 2] = [0.01, 1000.0];

/// The heaviest that anyone puts on a scale, g; a guard of this house.
pub(crate) const HEAVIEST: f64 = 300_000.0;

/// A row of pixels on a photo.
pub(crate) const PIXEL: [f64; 2] = [0.0, 1e6];
