//! What must hold of every pot and every mix, tried on hundreds made up by chance.

use measure::quantity::{Centimetre, PerCentimetre, Share, SquareCentimetre};
use pot::{
    column::Column,
    outline::Outline,
    retention::{Curve, Retention},
    vessel::Vessel,
};
use proptest::prelude::*;

prop_compose! {
    fn a_mix()(
        inside in 0.0..0.4_f64,
        between in 0.1..0.5_f64,
        dry in 0.0..0.9_f64,
        log_alpha in -4.0..1.5_f64,
        n in 1.1..8.0_f64,
    ) -> Retention {
        let residual = Share(between * dry);
        let alpha = PerCentimetre(log_alpha.exp());
        Retention::new(Curve { inside: Share(inside), residual, between: Share(between), alpha, n, m: None }).unwrap()
    }
}

fn outline(kind: u8, length: f64, width: f64) -> Outline {
    let (across, length, width) =
        (Centimetre(length), Centimetre(length.max(width)), Centimetre(length.min(width)));
    match kind {
        0 => Outline::Rectangle { length, width },
        1 => Outline::RoundedRectangle { length, width, corner: Centimetre(width.0 / 5.0) },
        2 => Outline::Oval { length, width },
        3 => Outline::Stadium { length, width },
        4 => Outline::Round { diameter: across },
        5 => Outline::Hexagon { flats: across },
        6 => Outline::Octagon { flats: across },
        _ => Outline::Superellipse { length, width, exponent: 2.0 + width.0 / 10.0 },
    }
}

prop_compose! {
    fn a_vessel()(
        kind in 0..8_u8,
        length in 8.0..60.0_f64,
        width in 8.0..60.0_f64,
        taper in 0.6..1.2_f64,
        height in 4.0..40.0_f64,
        wall in 0.2..2.0_f64,
        lip in 0.0..0.4_f64,
    ) -> Vessel {
        Vessel {
            top: outline(kind, length, width),
            middle: None,
            bottom: outline(kind, length * taper, width * taper),
            height: Centimetre(height),
            feet: Centimetre(1.0),
            floor: Centimetre(wall),
            wall: Centimetre(wall),
            lip: Centimetre(lip),
            gap: Centimetre(0.5),
            measured: None,
        }
    }
}

proptest! {
    #[test]
    fn a_pot_holds_no_less_than_dry_and_no_more_than_flooded(
        mix in a_mix(), height in 1.0..40.0_f64, areas in prop::array::uniform2(20.0..900.0_f64),
    ) {
        let middle = SquareCentimetre((areas[0].sqrt() + areas[1].sqrt()).powi(2) / 4.0);
        let [bottom, top] = areas.map(SquareCentimetre);
        let soil = Column::through(Centimetre(height), bottom, middle, top).unwrap();
        let held = mix.capacity(&soil);
        prop_assert!(held.capacity.0 >= mix.least().0 - 1e-9 && held.capacity.0 <= mix.porosity().0 + 1e-9);
        prop_assert!((held.capacity.0 + held.air.0 - mix.porosity().0).abs() < 1e-12);
        prop_assert!((held.water.0 - held.capacity.0 * soil.volume().0).abs() < 1e-12);
        // No layer is wetter than the hole or drier than the surface.
        prop_assert!(held.capacity.0 >= mix.water_at(Centimetre(height)).0 - 1e-9);
    }

    #[test]
    fn a_deeper_pot_holds_less_by_volume(mix in a_mix(), height in 1.0..30.0_f64, deeper in 1.05..2.0_f64) {
        let area = SquareCentimetre(100.0);
        let held = |height| mix.capacity(&Column::straight(Centimetre(height), area).unwrap());
        prop_assert!(held(height * deeper).capacity.0 <= held(height).capacity.0 + 1e-9);
        prop_assert!(held(height * deeper).water.0 > held(height).water.0);
    }

    #[test]
    fn a_coarse_bottom_layer_leaves_the_rest_wetter(mix in a_mix(), height in 4.0..30.0_f64, layer in 0.1..0.7_f64) {
        let soil = Column::straight(Centimetre(height), SquareCentimetre(100.0)).unwrap();
        let rest = soil.above(Centimetre(height * layer)).unwrap();
        prop_assert!(mix.capacity(&rest).capacity.0 >= mix.capacity(&soil).capacity.0 - 1e-9);
    }

    #[test]
    fn the_inside_is_smaller_than_the_outside(pot in a_vessel()) {
        let inside = pot.inner_volume().unwrap().0;
        let soil = pot.soil().unwrap();
        prop_assert!(pot.clay().unwrap().0 > 0.0);
        prop_assert!(soil.volume().0 < inside && inside > 0.0);
        prop_assert!(pot.surface().unwrap().0 < pot.top.area().unwrap().0.max(pot.bottom.area().unwrap().0));
        let thicker = Vessel { wall: Centimetre(pot.wall.0 + 0.1), ..pot };
        prop_assert!(thicker.inner_volume().unwrap().0 < inside);
    }

    #[test]
    fn an_outline_fills_more_than_a_diamond_and_no_more_than_its_box(
        kind in 0..8_u8, length in 8.0..60.0_f64, width in 8.0..60.0_f64,
    ) {
        let whole = match kind {
            4..=6 => length * length * if kind == 5 { 2.0 / 3.0_f64.sqrt() } else { 1.0 },
            _ => length * width,
        };
        let area = outline(kind, length, width).area().unwrap().0;
        prop_assert!(area > 0.5 * whole && area <= whole * (1.0 + 1e-12), "{area} of {whole}");
    }
}
