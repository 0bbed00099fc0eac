//! Why each kind is worked in its months, in a few words; common practice of the trade.

use measure::taxon::Kind;

/// Why roots, hard wood, shoots and wire have these months.
pub(super) struct Whys {
    pub(super) root: &'static str,
    pub(super) hard: &'static str,
    pub(super) trim: &'static str,
    pub(super) wire: &'static str,
}

const BUDS: &str = "full buds, no leaf yet for cut roots to feed";
const TIPS: &str = "before its candles run, as its roots begin to move";
const DORMANT: &str = "before buds swell, or once leaves have hardened";
const HARDENED: &str = "once its shoots have hardened";
const BARE: &str = "while it is bare, or while shoots are supple";
const COOL: &str = "while its sap is low";

/// The reasons of a kind.
#[rustfmt::skip]
pub(super) fn of(kind: Kind) -> Whys {
    let whys = |root, hard, trim, wire| Whys { root, hard, trim, wire };
    match kind {
        Kind::HardyDeciduous | Kind::Elm | Kind::Oak => whys(BUDS, DORMANT, HARDENED, BARE),
        Kind::SemiDeciduous => whys(BUDS, DORMANT, HARDENED, "while shoots are supple"),
        Kind::Maple | Kind::BeechHornbeam => whys(BUDS, "it bleeds in late winter: after leaf fall, or in early summer", HARDENED, BARE),
        Kind::LarchGinkgo => whys("at the first green tip, before any brush opens", "before its buds move, or as it colours", HARDENED, "supple before it moves and after its June swell"),
        Kind::StoneFruit => whys("right after its flowers, leaf buds still shut", "after its flowers and in dry early summer: winter wounds let canker and silver leaf in", "once, before its flower buds form", "brittle once it is woody"),
        Kind::AppleFamily => whys(BUDS, "before it moves, or in early summer, not once its flower buds are set", "once, before its flower buds form", BARE),
        Kind::Azalea => whys("as it starts to grow, this spring's flower buds taken off", "right after its flowers, before midsummer", "after its flowers, before next year's buds form; in autumn light thinning only", "it snaps: bend in steps, while it is cool or soft"),
        Kind::FloweringDeciduous => whys(BUDS, "right after its flowers", "before its flower buds form", BARE),
        Kind::Juniper => whys("as root tips turn white and foliage brightens, in settled mild weather", "its vigour is in its tips: while cool and free of hard frost, or in late summer", "running tips only, while it grows", COOL),
        Kind::TwoFlushPine => whys(TIPS, COOL, "candles once in early summer, shoots and old needles in autumn", COOL),
        Kind::OneFlushPine => whys(TIPS, COOL, "long candles before needles open, shoots after midsummer, old needles in autumn", COOL),
        Kind::SpruceHemlock => whys("as its buds swell and first colour, before they open", COOL, "soft tips as the caps fall, and again in late summer", COOL),
        Kind::YewCypress => whys("just before its first growth, once nights are well above freezing", "before it grows, or in late summer", "while it grows", COOL),
        Kind::BroadleafEvergreen => whys("just before its first flush, in warmth", "in warm growth, so that it buds back before winter", "while it grows", "while shoots are supple"),
        Kind::Tropical => whys("roots grow in warm nights only", "in warm growth", "while it grows", "while it grows"),
        Kind::Succulent => whys("in warm growth; then dry for five to ten days before water", "in warm growth", "while it grows", "while it grows; brittle kinds are not wired"),
    }
}
