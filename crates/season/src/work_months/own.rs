//! Taxa whose months differ from those of their kind, as the trade's list of species has them; common practice, in the months of the north.

use measure::taxon::Taxon;

use super::{
    Defoliation::{Full, Never, Partial},
    Months,
    RootCue::BudsAfterFlower,
    WorkMonths,
};

/// The row of a kind with what differs for a taxon.
#[rustfmt::skip]
pub(super) fn with_own(taxon: &Taxon, row: WorkMonths) -> WorkMonths {
    let root = |months: &'static [[i8; 2]]| WorkMonths { root: Months(months), ..row };
    let hard = |months: &'static [[i8; 2]]| WorkMonths { hard_prune: Months(months), ..row };
    match taxon.key {
        "acer-buergerianum" => WorkMonths { defoliation: Full, ..row },
        "ulmus-parvifolia" | "carpinus-turczaninowii" | "carpinus-betulus" | "carpinus-laxiflora" | "carpinus-japonica"
        | "carpinus-caroliniana" | "ginkgo-biloba" => root(&[[3, 4]]),
        "quercus-suber" | "olea-europaea" => root(&[[4, 6]]),
        "quercus-agrifolia" => root(&[[2, 4]]),
        "taxodium-distichum" => WorkMonths { defoliation: Full, defoliate: Months(&[[6, 6]]), ..root(&[[3, 5]]) },
        "betula-pendula" => WorkMonths { no_prune: Months(&[[1, 4]]), ..hard(&[[6, 7]]) },
        "styrax-japonicus" => hard(&[[6, 6]]),
        "callicarpa-japonica" => hard(&[[2, 3]]),
        "cornus-officinalis" | "cornus-mas" => after_flower(root(&[[3, 3]]), &[[3, 4]]),
        "cornus-kousa" => hard(&[[6, 7]]),
        "forsythia" => after_flower(row, &[[4, 5]]),
        "jasminum-nudiflorum" => hard(&[[3, 4]]),
        "diospyros-rhombifolia" => WorkMonths { hard_prune: Months(&[[3, 3]]), ..root(&[[4, 4]]) },
        "wisteria-floribunda" => WorkMonths {
            trim: Months(&[[7, 7], [11, 11]]),
            trim_why: "long whips to two to five leaves in midsummer, to short spurs after leaf fall: the fat blunt buds are flower",
            root_why: "as its buds swell, or after its flowers",
            ..after_flower(root(&[[3, 3], [6, 6]]), &[[5, 6]])
        },
        "lagerstroemia-indica" => WorkMonths { defoliation: Never, defoliate: Months(&[]), hard_prune: Months(&[[3, 4]]), ..root(&[[4, 5]]) },
        "punica-granatum" => WorkMonths { hard_prune: Months(&[[3, 3]]), ..root(&[[4, 5]]) },
        "chaenomeles-speciosa" | "chaenomeles-japonica" => WorkMonths {
            root_also: Months(&[[9, 10]]),
            root_if: "preferred for quince: fewer galls on cut roots (growers name crown gall or root nematodes) and its spring flowers kept",
            ..row
        },
        "juniperus-rigida" => root(&[[4, 5]]),
        "juniperus-communis" => WorkMonths { root_why: "its roots move late and heal slowly: in warmth only", ..root(&[[5, 7]]) },
        "juniperus-californica" => root(&[[3, 6]]),
        "pinus-mugo" => WorkMonths { root_why: "before its candles run, or in midsummer once its needles have hardened", ..root(&[[4, 4], [7, 8]]) },
        "tsuga-canadensis" | "tsuga-mertensiana" => root(&[[4, 5]]),
        "podocarpus-macrophyllus" | "eurya-emarginata" | "pistacia-lentiscus" => root(&[[5, 6]]),
        "camellia-japonica" => WorkMonths { hard_prune: Months(&[[4, 5]]), hard_why: "right after its flowers", ..root(&[[3, 4]]) },
        "camellia-sasanqua" => WorkMonths { hard_prune: Months(&[[2, 3]]), ..root(&[[3, 4]]) },
        "conocarpus-erectus" => root(&[[6, 8]]),
        "operculicarya-decaryi" => WorkMonths { defoliation: Partial, ..row },
        _ => row,
    }
}

/// Roots and wood are cut after its flowers.
fn after_flower(row: WorkMonths, hard: &'static [[i8; 2]]) -> WorkMonths {
    WorkMonths { root_cue: BudsAfterFlower, hard_prune: Months(hard), ..row }
}
