//! Planning figures per taxon: cold needed, order of waking, limits; each with its standing.

use measure::sourced::{Sourced, Standing};

/// Chill figures carried over from the type of tree, not checked for the taxon.
const BY_TYPE: Standing = Standing::Estimate("planning figure of the tree's type, hours at or below 7 °C");
/// Chill figures set for the taxon by us.
const OURS: Standing = Standing::Estimate("planning figure for this taxon, hours at or below 7 °C");
/// Chill figures remembered.
const REMEMBERED: Standing = Standing::Unverified("hours at or below 7 °C, no work named");

/// What we plan with for one taxon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// The taxon's key.
    pub taxon: &'static str,
    /// Place in the order of waking when trees stand side by side: small wakes early. Our estimate.
    pub order: u8,
    /// Chilling hours planned for.
    pub cold: Sourced<f64>,
    /// Lowest air temperature planned for open leaves, °C. Our estimate.
    pub leaf_limit: f64,
    /// Lowest temperature planned for roots, °C. Our estimate.
    pub root_limit: f64,
    /// Whether long days are needed beside cold.
    pub long_days: bool,
}

impl Figures {
    /// The figures of a taxon.
    ///
    /// ```
    /// use dormancy::table::Figures;
    ///
    /// assert!(Figures::of("fagus-sylvatica").unwrap().long_days);
    /// assert!(Figures::of("quercus-imaginaria").is_none());
    /// ```
    pub fn of(taxon: &str) -> Option<&'static Figures> {
        FIGURES.iter().find(|figures| figures.taxon == taxon)
    }
}

const fn f(
    taxon: &'static str,
    order: u8,
    hours: f64,
    standing: Standing,
    leaf: f64,
    root: f64,
    long: bool,
) -> Figures {
    let cold = Sourced { value: hours, standing };
    Figures { taxon, order, cold, leaf_limit: leaf, root_limit: root, long_days: long }
}

/// One row per taxon of [`measure::taxon::TAXA`], in its order.
#[rustfmt::skip]
pub const FIGURES: &[Figures] = &[
    f("acer-palmatum", 48, 1000.0, REMEMBERED, 0.0, -5.0, false),
    f("acer-buergerianum", 12, 800.0, OURS, 0.0, -3.0, false),
    f("acer-ginnala", 10, 1000.0, OURS, 0.0, -10.0, false),
    f("acer-campestre", 46, 1000.0, BY_TYPE, 0.0, -7.0, false),
    f("acer-monspessulanum", 44, 600.0, OURS, 0.0, -4.0, false),
    f("acer-rubrum", 15, 600.0, OURS, 0.0, -8.0, false),
    f("acer-circinatum", 49, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("acer-pseudoplatanus", 35, 1000.0, BY_TYPE, 0.0, -8.0, false),
    f("ulmus-parvifolia", 50, 300.0, OURS, 0.0, -4.0, false),
    f("zelkova-serrata", 49, 900.0, OURS, 0.0, -5.0, false),
    f("ulmus-davidiana-japonica", 50, 800.0, BY_TYPE, 0.0, -7.0, false),
    f("ulmus-minor", 50, 800.0, BY_TYPE, 0.0, -7.0, false),
    f("ulmus-alata", 50, 600.0, OURS, 0.0, -5.0, false),
    f("ulmus-crassifolia", 50, 500.0, OURS, 0.0, -4.0, false),
    f("ulmus-pumila", 8, 800.0, BY_TYPE, 0.0, -10.0, false),
    f("celtis-sinensis", 62, 600.0, OURS, 0.0, -3.0, false),
    f("celtis-occidentalis", 62, 800.0, BY_TYPE, 0.0, -8.0, false),
    f("fagus-crenata", 80, 1200.0, OURS, 0.0, -5.0, true),
    f("fagus-sylvatica", 80, 1200.0, OURS, 0.0, -5.0, true),
    f("fagus-grandifolia", 82, 1200.0, BY_TYPE, 0.0, -5.0, false),
    f("carpinus-turczaninowii", 51, 900.0, OURS, 0.0, -5.0, false),
    f("carpinus-betulus", 50, 1200.0, OURS, 0.0, -7.0, false),
    f("carpinus-laxiflora", 50, 1200.0, BY_TYPE, 0.0, -5.0, false),
    f("carpinus-japonica", 50, 1200.0, BY_TYPE, 0.0, -5.0, false),
    f("carpinus-caroliniana", 52, 1200.0, BY_TYPE, 0.0, -8.0, false),
    f("quercus-robur", 66, 800.0, BY_TYPE, 0.0, -7.0, false),
    f("quercus-serrata", 60, 800.0, BY_TYPE, 0.0, -5.0, false),
    f("quercus-dentata", 68, 800.0, BY_TYPE, 0.0, -5.0, false),
    f("quercus-palustris", 66, 800.0, BY_TYPE, 0.0, -7.0, false),
    f("quercus-suber", 75, 150.0, BY_TYPE, -4.0, -2.0, false),
    f("quercus-ilex", 72, 150.0, BY_TYPE, -6.0, -3.0, false),
    f("quercus-agrifolia", 50, 150.0, BY_TYPE, -2.0, -2.0, false),
    f("larix-kaempferi", 4, 1000.0, BY_TYPE, -1.0, -8.0, false),
    f("larix-decidua", 5, 1000.0, BY_TYPE, -1.0, -8.0, false),
    f("larix-laricina", 5, 1000.0, BY_TYPE, -1.0, -12.0, false),
    f("pseudolarix-amabilis", 30, 1000.0, BY_TYPE, -1.0, -5.0, false),
    f("ginkgo-biloba", 55, 1000.0, BY_TYPE, -1.0, -3.0, false),
    f("metasequoia-glyptostroboides", 30, 1000.0, BY_TYPE, -1.0, -5.0, false),
    f("taxodium-distichum", 60, 1000.0, BY_TYPE, -1.0, -4.0, false),
    f("betula-pendula", 25, 1000.0, BY_TYPE, 0.0, -10.0, false),
    f("tilia-cordata", 50, 1000.0, BY_TYPE, 0.0, -8.0, false),
    f("liquidambar-styraciflua", 60, 1000.0, BY_TYPE, 0.0, -4.0, false),
    f("stewartia-monadelpha", 40, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("styrax-japonicus", 45, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("cornus-officinalis", 6, 700.0, BY_TYPE, 0.0, -4.0, false),
    f("cornus-mas", 6, 700.0, BY_TYPE, 0.0, -6.0, false),
    f("cornus-kousa", 45, 700.0, BY_TYPE, 0.0, -4.0, false),
    f("euonymus-alatus", 30, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("euonymus-sieboldianus", 32, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("ilex-serrata", 45, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("callicarpa-japonica", 55, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("diospyros-rhombifolia", 78, 700.0, BY_TYPE, 0.0, -1.0, false),
    f("wisteria-floribunda", 52, 700.0, BY_TYPE, 0.0, -4.0, false),
    f("forsythia", 8, 700.0, BY_TYPE, 0.0, -5.0, false),
    f("jasminum-nudiflorum", 5, 700.0, BY_TYPE, 0.0, -4.0, false),
    f("lagerstroemia-indica", 85, 300.0, BY_TYPE, 0.0, -1.0, false),
    f("punica-granatum", 76, 300.0, BY_TYPE, 0.0, 0.0, false),
    f("morus-alba", 72, 1000.0, BY_TYPE, 0.0, -4.0, false),
    f("ficus-carica", 60, 100.0, OURS, 0.0, -2.0, false),
    f("parthenocissus-tricuspidata", 40, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("berberis-thunbergii", 20, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("dasiphora-fruticosa", 20, 1000.0, BY_TYPE, 0.0, -15.0, false),
    f("cotoneaster-horizontalis", 30, 1000.0, BY_TYPE, 0.0, -4.0, false),
    f("enkianthus-perulatus", 40, 700.0, BY_TYPE, 0.0, -4.0, false),
    f("ligustrum-vulgare", 25, 500.0, OURS, 0.0, -6.0, false),
    f("ligustrum-ovalifolium", 28, 300.0, BY_TYPE, 0.0, -5.0, false),
    f("ligustrum-sinense", 30, 300.0, BY_TYPE, 0.0, -3.0, false),
    f("salix-babylonica", 12, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("prunus-mume", 3, 500.0, OURS, 0.0, -3.0, false),
    f("prunus-incisa", 14, 900.0, BY_TYPE, 0.0, -4.0, false),
    f("prunus-serrulata", 22, 900.0, BY_TYPE, 0.0, -4.0, false),
    f("prunus-persica", 15, 900.0, BY_TYPE, 0.0, -4.0, false),
    f("prunus-spinosa", 16, 900.0, BY_TYPE, 0.0, -7.0, false),
    f("prunus-cerasifera", 12, 900.0, BY_TYPE, 0.0, -6.0, false),
    f("malus-halliana", 28, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("malus-toringo", 28, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("malus-hybrids", 30, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("crataegus-monogyna", 18, 1000.0, BY_TYPE, 0.0, -7.0, false),
    f("crataegus-laevigata", 20, 1000.0, BY_TYPE, 0.0, -7.0, false),
    f("crataegus-cuneata", 24, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("chaenomeles-speciosa", 6, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("chaenomeles-japonica", 7, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("pseudocydonia-sinensis", 7, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("pyracantha", 30, 400.0, OURS, 0.0, -3.0, false),
    f("pyrus-calleryana", 20, 1000.0, BY_TYPE, 0.0, -5.0, false),
    f("rhododendron-indicum", 30, 600.0, BY_TYPE, -2.0, -3.0, false),
    f("rhododendron-kurume", 26, 600.0, BY_TYPE, -2.0, -4.0, false),
    f("juniperus-chinensis", 90, 400.0, BY_TYPE, -3.0, -8.0, false),
    f("juniperus-procumbens", 90, 400.0, BY_TYPE, -3.0, -8.0, false),
    f("juniperus-rigida", 90, 400.0, BY_TYPE, -3.0, -5.0, false),
    f("juniperus-communis", 90, 400.0, BY_TYPE, -3.0, -10.0, false),
    f("juniperus-scopulorum", 90, 400.0, BY_TYPE, -3.0, -12.0, false),
    f("juniperus-californica", 90, 400.0, BY_TYPE, -3.0, -3.0, false),
    f("juniperus-sabina", 90, 400.0, BY_TYPE, -3.0, -10.0, false),
    f("juniperus-virginiana", 90, 400.0, BY_TYPE, -3.0, -10.0, false),
    f("pinus-thunbergii", 18, 600.0, BY_TYPE, -3.0, -7.0, false),
    f("pinus-densiflora", 20, 600.0, BY_TYPE, -3.0, -7.0, false),
    f("pinus-halepensis", 20, 150.0, OURS, -3.0, -3.0, false),
    f("pinus-virginiana", 25, 600.0, BY_TYPE, -3.0, -7.0, false),
    f("pinus-parviflora", 34, 1000.0, BY_TYPE, -3.0, -9.0, false),
    f("pinus-sylvestris", 33, 1000.0, BY_TYPE, -3.0, -12.0, false),
    f("pinus-mugo", 34, 1000.0, BY_TYPE, -3.0, -12.0, false),
    f("pinus-ponderosa", 40, 1000.0, BY_TYPE, -3.0, -12.0, false),
    f("pinus-contorta", 34, 1000.0, BY_TYPE, -3.0, -12.0, false),
    f("pinus-strobus", 36, 1000.0, BY_TYPE, -3.0, -10.0, false),
    f("pinus-flexilis", 38, 1000.0, BY_TYPE, -3.0, -12.0, false),
    f("pinus-nigra", 32, 1000.0, BY_TYPE, -3.0, -10.0, false),
    f("pinus-koraiensis", 36, 1000.0, BY_TYPE, -3.0, -12.0, false),
    f("picea-jezoensis", 40, 1100.0, BY_TYPE, -2.0, -9.0, false),
    f("picea-abies", 46, 1100.0, BY_TYPE, -2.0, -12.0, false),
    f("picea-glauca", 44, 1100.0, BY_TYPE, -2.0, -14.0, false),
    f("picea-engelmannii", 44, 1100.0, BY_TYPE, -2.0, -12.0, false),
    f("picea-mariana", 44, 1300.0, OURS, -2.0, -14.0, false),
    f("tsuga-canadensis", 80, 1100.0, BY_TYPE, -2.0, -9.0, false),
    f("tsuga-mertensiana", 80, 1100.0, BY_TYPE, -2.0, -9.0, false),
    f("tsuga-diversifolia", 78, 1100.0, BY_TYPE, -2.0, -9.0, false),
    f("cedrus-libani", 52, 400.0, OURS, -2.0, -5.0, false),
    f("cedrus-deodara", 52, 300.0, OURS, -2.0, -3.0, false),
    f("pseudotsuga-menziesii", 48, 1100.0, BY_TYPE, -2.0, -9.0, false),
    f("abies-koreana", 50, 1100.0, BY_TYPE, -2.0, -9.0, false),
    f("taxus-baccata", 65, 600.0, BY_TYPE, -2.0, -3.0, false),
    f("taxus-cuspidata", 62, 600.0, BY_TYPE, -2.0, -3.0, false),
    f("chamaecyparis-obtusa", 65, 600.0, BY_TYPE, -2.0, -5.0, false),
    f("chamaecyparis-pisifera", 65, 600.0, BY_TYPE, -2.0, -5.0, false),
    f("chamaecyparis-thyoides", 70, 600.0, BY_TYPE, -2.0, -3.0, false),
    f("cryptomeria-japonica", 70, 600.0, BY_TYPE, -2.0, -4.0, false),
    f("thuja-occidentalis", 65, 600.0, BY_TYPE, -2.0, -10.0, false),
    f("platycladus-orientalis", 70, 600.0, BY_TYPE, -2.0, -5.0, false),
    f("sequoia-sempervirens", 50, 600.0, BY_TYPE, -2.0, -3.0, false),
    f("hesperocyparis-macrocarpa", 70, 600.0, BY_TYPE, -4.0, -2.0, false),
    f("podocarpus-macrophyllus", 60, 150.0, BY_TYPE, -3.0, 0.0, false),
    f("buxus-microphylla", 50, 150.0, BY_TYPE, -4.0, -2.0, false),
    f("buxus-sempervirens", 48, 150.0, BY_TYPE, -5.0, -2.0, false),
    f("buxus-harlandii", 60, 150.0, BY_TYPE, 0.0, 2.0, false),
    f("olea-europaea", 60, 100.0, OURS, -3.0, -1.0, false),
    f("ligustrum-japonicum", 60, 150.0, BY_TYPE, -2.0, -2.0, false),
    f("camellia-japonica", 60, 150.0, BY_TYPE, -6.0, -2.0, false),
    f("camellia-sasanqua", 60, 150.0, BY_TYPE, -2.0, -2.0, false),
    f("ilex-crenata", 60, 150.0, BY_TYPE, -5.0, -2.0, false),
    f("gardenia-jasminoides", 60, 150.0, BY_TYPE, 2.0, 3.0, false),
    f("myrtus-communis", 60, 150.0, BY_TYPE, -2.0, 0.0, false),
    f("lonicera-nitida", 60, 150.0, BY_TYPE, -2.0, -3.0, false),
    f("salvia-rosmarinus", 60, 150.0, BY_TYPE, -2.0, -1.0, false),
    f("nandina-domestica", 60, 150.0, BY_TYPE, -2.0, -3.0, false),
    f("eurya-emarginata", 60, 150.0, BY_TYPE, -2.0, 0.0, false),
    f("pistacia-lentiscus", 60, 150.0, BY_TYPE, -2.0, -1.0, false),
    f("sageretia-thea", 60, 150.0, BY_TYPE, 1.0, 3.0, false),
    f("ficus-microcarpa", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("ficus-benjamina", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("ficus-salicaria", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("ficus-rubiginosa", 99, 0.0, BY_TYPE, 2.0, 5.0, false),
    f("bougainvillea", 99, 0.0, BY_TYPE, 5.0, 6.0, false),
    f("ehretia-microphylla", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("serissa-japonica", 99, 0.0, BY_TYPE, 3.0, 5.0, false),
    f("heptapleurum-arboricola", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("conocarpus-erectus", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("terminalia-molinetii", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("murraya-paniculata", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("tamarindus-indica", 99, 0.0, BY_TYPE, 8.0, 12.0, false),
    f("chloroleucon-tortum", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("wrightia-religiosa", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("plinia-cauliflora", 99, 0.0, BY_TYPE, 2.0, 4.0, false),
    f("premna-serratifolia", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("pemphis-acidula", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("casuarina-equisetifolia", 99, 0.0, BY_TYPE, 2.0, 5.0, false),
    f("hibiscus-rosa-sinensis", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("operculicarya-decaryi", 99, 0.0, BY_TYPE, 10.0, 10.0, false),
    f("portulacaria-afra", 99, 0.0, BY_TYPE, 4.0, 6.0, false),
    f("crassula-ovata", 99, 0.0, BY_TYPE, 4.0, 6.0, false),
    f("adenium-obesum", 99, 0.0, BY_TYPE, 10.0, 12.0, false),
    f("euphorbia-milii", 99, 0.0, BY_TYPE, 4.0, 10.0, false),
];

#[cfg(test)]
mod tests {
    use super::*;
    use measure::taxon::TAXA;

    #[test]
    fn every_taxon_has_its_row_in_the_same_order() {
        let taxa: Vec<_> = TAXA.iter().map(|taxon| taxon.key).collect();
        let rows: Vec<_> = FIGURES.iter().map(|figures| figures.taxon).collect();
        assert_eq!(taxa, rows);
    }

    #[test]
    fn roots_and_leaves_never_bear_more_than_bare_wood_could() {
        assert!(FIGURES.iter().all(|figures| (-20.0..=15.0).contains(&figures.root_limit)));
        assert!(FIGURES.iter().all(|figures| figures.leaf_limit >= -10.0));
    }
}
