//! The rows of work by month, one for each kind of tree; common practice of the trade, in the months of the north.

use measure::taxon::Kind;

use super::{
    Defoliation::{Full, Never, Partial},
    Months,
    RootCue::{self, Buds, BudsAfterFlower, Evergreen, Tips, WarmNights},
    WorkMonths,
};

const NONE: Months = Months(&[]);

const fn row(kind: Kind, root_cue: RootCue, root: &'static [[i8; 2]]) -> WorkMonths {
    WorkMonths {
        kind,
        root_cue,
        root: Months(root),
        root_also: NONE,
        root_if: "",
        hard_prune: NONE,
        no_prune: NONE,
        trim: NONE,
        defoliation: Never,
        defoliate: NONE,
        wire: NONE,
        root_why: "",
        hard_why: "",
        trim_why: "",
        wire_why: "",
    }
}

impl WorkMonths {
    const fn also(mut self, months: &'static [[i8; 2]], condition: &'static str) -> WorkMonths {
        self.root_also = Months(months);
        self.root_if = condition;
        self
    }

    const fn pruned(mut self, hard: &'static [[i8; 2]], not: &'static [[i8; 2]]) -> WorkMonths {
        self.hard_prune = Months(hard);
        self.no_prune = Months(not);
        self
    }

    const fn trimmed(mut self, months: &'static [[i8; 2]]) -> WorkMonths {
        self.trim = Months(months);
        self
    }

    const fn defoliated(mut self, how: super::Defoliation, months: &'static [[i8; 2]]) -> WorkMonths {
        self.defoliation = how;
        self.defoliate = Months(months);
        self
    }

    const fn wired(mut self, months: &'static [[i8; 2]]) -> WorkMonths {
        self.wire = Months(months);
        self
    }
}

const MILD: &str = "light work only, and only in a mild climate";

/// One row per kind.
#[rustfmt::skip]
pub(super) const ROWS: [WorkMonths; 19] = [
    row(Kind::HardyDeciduous, Buds, &[[3, 4]])
        .pruned(&[[2, 3], [6, 6]], &[[9, 10]]).trimmed(&[[5, 8]]).defoliated(Partial, &[[6, 6]]).wired(&[[5, 7], [11, 12]]),
    row(Kind::Maple, Buds, &[[3, 4]]).also(&[[9, 9]], MILD)
        .pruned(&[[6, 6], [11, 12]], &[[2, 4]]).trimmed(&[[5, 8]]).defoliated(Partial, &[[6, 6]]).wired(&[[5, 7], [11, 12]]),
    row(Kind::Elm, Buds, &[[3, 4]])
        .pruned(&[[2, 3], [6, 7]], &[[9, 10]]).trimmed(&[[5, 9]]).defoliated(Full, &[[6, 6]]).wired(&[[5, 8], [11, 2]]),
    row(Kind::SemiDeciduous, Buds, &[[3, 5]]).also(&[[8, 8]], "light work only, where autumn is long")
        .pruned(&[[2, 3], [6, 7]], &[[10, 12]]).trimmed(&[[4, 9]]).defoliated(Full, &[[6, 7]]).wired(&[[5, 9]]),
    row(Kind::BeechHornbeam, Buds, &[[4, 4]])
        .pruned(&[[11, 12], [6, 6]], &[[3, 4]]).trimmed(&[[5, 7]]).defoliated(Partial, &[[6, 6]]).wired(&[[6, 7], [11, 2]]),
    row(Kind::Oak, Buds, &[[4, 4]])
        .pruned(&[[2, 2], [6, 6]], &[[4, 5]]).trimmed(&[[6, 8]]).defoliated(Partial, &[[6, 6]]).wired(&[[6, 8], [11, 2]]),
    row(Kind::LarchGinkgo, Buds, &[[3, 3]])
        .pruned(&[[2, 3], [9, 10]], &[[4, 5]]).trimmed(&[[6, 9]]).wired(&[[2, 2], [6, 7], [10, 11]]),
    row(Kind::StoneFruit, BudsAfterFlower, &[[3, 4]]).also(&[[10, 11]], "only where its roots stay free of frost")
        .pruned(&[[4, 5], [6, 6]], &[[11, 2]]).trimmed(&[[5, 6]]).defoliated(Partial, &[[6, 6]]).wired(&[[5, 7]]),
    row(Kind::AppleFamily, Buds, &[[3, 3]]).also(&[[9, 10]], "quince and some crab apples")
        .pruned(&[[2, 3], [5, 6]], &[[8, 9]]).trimmed(&[[6, 7]]).defoliated(Partial, &[[6, 6]]).wired(&[[5, 7], [11, 2]]),
    row(Kind::Azalea, Evergreen, &[[3, 4]]).also(&[[5, 6]], "right after its flowers are taken off")
        .pruned(&[[5, 6]], &[[8, 2]]).trimmed(&[[5, 7], [10, 10]]).wired(&[[10, 2], [6, 7]]),
    row(Kind::FloweringDeciduous, Buds, &[[3, 4]]).also(&[[5, 6]], "right after its flowers, for one that flowers early")
        .pruned(&[[5, 6]], &[[8, 2]]).trimmed(&[[6, 7]]).wired(&[[5, 7], [11, 2]]),
    row(Kind::Juniper, Tips, &[[3, 5]]).also(&[[9, 9]], "early, where its roots keep eight warm weeks")
        .pruned(&[[2, 3], [7, 9]], &[[11, 1]]).trimmed(&[[5, 9]]).wired(&[[9, 3]]),
    row(Kind::TwoFlushPine, Tips, &[[3, 4]]).also(&[[9, 9]], MILD)
        .pruned(&[[10, 2]], &[[4, 5]]).trimmed(&[[6, 7], [10, 12]]).wired(&[[10, 2]]),
    row(Kind::OneFlushPine, Tips, &[[3, 4]]).also(&[[8, 9]], "light work only, after its needles harden")
        .pruned(&[[9, 2]], &[[4, 6]]).trimmed(&[[5, 5], [8, 11]]).wired(&[[9, 2]]),
    row(Kind::SpruceHemlock, Tips, &[[4, 4]]).also(&[[9, 9]], MILD)
        .pruned(&[[9, 2]], &[[4, 5]]).trimmed(&[[5, 5], [8, 9]]).wired(&[[10, 3]]),
    row(Kind::YewCypress, Evergreen, &[[4, 5]]).also(&[[8, 9]], MILD)
        .pruned(&[[3, 4], [8, 9]], &[[11, 1]]).trimmed(&[[6, 9]]).wired(&[[9, 3]]),
    row(Kind::BroadleafEvergreen, Evergreen, &[[4, 5]]).also(&[[6, 8]], "with warmth, for those that love heat")
        .pruned(&[[4, 6]], &[[9, 1]]).trimmed(&[[5, 9]]).defoliated(Partial, &[[6, 6]]).wired(&[[5, 9]]),
    row(Kind::Tropical, WarmNights, &[[6, 7]]).also(&[[5, 8]], "while nights stay warm")
        .pruned(&[[5, 8]], &[[11, 2]]).trimmed(&[[3, 10]]).defoliated(Full, &[[6, 7]]).wired(&[[4, 9]]),
    row(Kind::Succulent, WarmNights, &[[5, 7]]).also(&[[4, 8]], "in warmth; then dry for some days before water")
        .pruned(&[[5, 8]], &[[11, 2]]).trimmed(&[[4, 9]]).wired(&[[5, 8]]),
];
