//! Densities, water and air of materials, as published, as measured by others, and as remembered.

use measure::{
    quantity::{Centimetre, KilogramPerLitre, Share},
    sourced::Standing,
};

/// From the lowest to the highest value; both the same where one value was given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between<T> {
    /// The lowest.
    pub low: T,
    /// The highest.
    pub high: T,
}

/// One row of measurements of a material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// What it is called.
    pub name: &'static str,
    /// Size of its grains, or grade.
    pub grade: &'static str,
    /// Weight of a litre, dry.
    pub density: Option<Between<KilogramPerLitre>>,
    /// Water held after draining, share.
    pub water: Option<Between<Share>>,
    /// Air after draining, share.
    pub air: Option<Between<Share>>,
    /// All pores, share.
    pub porosity: Option<Between<Share>>,
    /// Depth at which water and air were measured.
    pub depth: Option<Centimetre>,
    /// How far to trust the row.
    pub standing: Standing,
}

impl Material {
    /// The rows of a material, most trusted first.
    ///
    /// ```
    /// use pot::table::Material;
    ///
    /// assert_eq!(Material::rows("perlite").count(), 3);
    /// assert!(Material::rows("akadama").next().unwrap().standing.words().starts_with("remembered"));
    /// ```
    pub fn rows(name: &str) -> impl Iterator<Item = &'static Material> {
        MATERIALS.iter().filter(move |material| material.name == name)
    }
}

const AGRONOMY: Standing = Standing::Published(
    "Int. J. Agronomy 2012, art. 978528, Table 1, read in the reference set; height of the core remembered",
);
const SOCIETY: Standing = Standing::Published(
    "measured by a plant society, page on growing media read in the reference set; depth of the cup not stated",
);
const OVEN_DRY: Standing = Standing::Published(
    "measured by a plant society from oven dry, page on growing media read in the reference set; depth of the cup not stated",
);
const POORLY_WETTED: Standing = Standing::Published(
    "measured by a plant society on a poorly wetted sample, page on growing media read in the reference set",
);
const ACTA: Standing = Standing::Published("Acta Hort. 779 (2008), abstract read in the reference set");
const KOREAN: Standing = Standing::Published(
    "Korean J. Soil Sci. Fert. 54(3):276 (2021), introduction, read in the reference set",
);
const REMEMBERED: Standing = Standing::Unverified("common range, no work named; weigh your own");

type Range = Option<(f64, f64)>;

const fn one(value: f64) -> Range {
    Some((value, value))
}

const fn span(low: f64, high: f64) -> Range {
    Some((low, high))
}

const fn share(range: Range) -> Option<Between<Share>> {
    match range {
        Some((low, high)) => Some(Between { low: Share(low), high: Share(high) }),
        None => None,
    }
}

const fn m(
    name: &'static str,
    grade: &'static str,
    [density, water, air, porosity]: [Range; 4],
    depth: Option<Centimetre>,
    standing: Standing,
) -> Material {
    let density = match density {
        Some((low, high)) => Some(Between { low: KilogramPerLitre(low), high: KilogramPerLitre(high) }),
        None => None,
    };
    let (water, air, porosity) = (share(water), share(air), share(porosity));
    Material { name, grade, density, water, air, porosity, depth, standing }
}

/// Published rows first, then those of a plant society and of abstracts, then the remembered ranges.
#[rustfmt::skip]
pub const MATERIALS: &[Material] = &[
    m("pine bark", "nursery grade", [one(0.18), one(0.48), one(0.31), one(0.79)], Some(Centimetre(7.6)), AGRONOMY),
    m("sphagnum peat", "nursery grade", [one(0.11), one(0.87), one(0.11), one(0.98)], Some(Centimetre(7.6)), AGRONOMY),
    m("clean chip residual wood", "0.48 cm screen", [one(0.22), one(0.57), one(0.28), one(0.85)], Some(Centimetre(7.6)), AGRONOMY),
    m("clean chip residual wood", "0.95 cm screen", [one(0.19), one(0.42), one(0.48), one(0.9)], Some(Centimetre(7.6)), AGRONOMY),
    m("orchid bark", "seedling size", [one(0.21), one(0.15), one(0.64), one(0.79)], None, SOCIETY),
    m("coir fibre", "> 6 mm", [one(0.13), one(0.2), one(0.63), one(0.83)], None, SOCIETY),
    m("coir fines", "< 6 mm", [one(0.16), one(0.72), one(0.07), one(0.79)], None, SOCIETY),
    m("compost", "aged sieved fines", [one(0.27), one(0.74), one(0.12), one(0.86)], None, SOCIETY),
    m("granite grit", "chick grit", [one(1.34), one(0.13), one(0.28), one(0.41)], None, SOCIETY),
    m("gravel", "6-12 mm", [one(1.39), one(0.1), one(0.34), one(0.44)], None, OVEN_DRY),
    m("foamed glass aggregate", "-", [one(0.27), one(0.11), one(0.4), one(0.51)], None, SOCIETY),
    m("moler/diatomite or clay cat litter A", "-", [one(0.55), one(0.43), one(0.23), one(0.66)], None, SOCIETY),
    m("clay cat litter B", "-", [one(0.69), one(0.37), one(0.16), one(0.53)], None, SOCIETY),
    m("lava rock", "crushed gravel", [one(0.81), one(0.15), one(0.52), one(0.67)], None, SOCIETY),
    m("peat", "bagged slightly moist", [one(0.16), one(0.4), one(0.35), one(0.75)], None, POORLY_WETTED),
    m("volcanic scoria", "2-3.36 mm", [None, None, None, one(0.675)], None, ACTA),
    m("pumice", "0.25-0.5 mm", [None, None, None, one(0.722)], None, ACTA),
    m("perlite", "1-2 mm", [None, None, None, one(0.85)], None, ACTA),
    m("zeolite", "0.25-0.5 mm", [None, None, None, one(0.702)], None, ACTA),
    m("sphagnum peat", "1-2 mm", [None, None, None, one(0.942)], None, ACTA),
    m("perlite", "expanded", [span(0.03, 0.15), None, None, None], None, KOREAN),
    m("akadama", "hard 3-6 mm", [span(0.6, 0.75), span(0.3, 0.42), span(0.25, 0.38), span(0.65, 0.72)], Some(Centimetre(10.0)), REMEMBERED),
    m("kanuma", "3-6 mm", [span(0.3, 0.45), span(0.35, 0.5), span(0.28, 0.4), span(0.75, 0.83)], Some(Centimetre(10.0)), REMEMBERED),
    m("pumice", "3-6 mm", [span(0.45, 0.7), span(0.22, 0.35), span(0.32, 0.45), span(0.62, 0.75)], Some(Centimetre(10.0)), REMEMBERED),
    m("lava/scoria", "3-6 mm", [span(0.7, 1.0), span(0.14, 0.24), span(0.38, 0.5), span(0.55, 0.68)], Some(Centimetre(10.0)), REMEMBERED),
    m("calcined clay", "1-4 mm", [span(0.55, 0.65), span(0.36, 0.45), span(0.25, 0.35), span(0.66, 0.74)], Some(Centimetre(10.0)), REMEMBERED),
    m("perlite", "2-5 mm", [span(0.08, 0.14), span(0.25, 0.4), span(0.35, 0.5), span(0.7, 0.85)], Some(Centimetre(10.0)), REMEMBERED),
    m("sphagnum moss long fibre", "-", [span(0.03, 0.06), span(0.55, 0.8), span(0.15, 0.35), span(0.93, 0.97)], Some(Centimetre(10.0)), REMEMBERED),
];
