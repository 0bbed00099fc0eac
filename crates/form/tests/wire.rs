//! Gauges, coils, bending, guys, set, bite and wounds.
//!
//! `wire.json`, by the reference set's own script of the same mechanics (bending met by quadrature there); gauges after ASTM B258.
//! The tables are those of the reference set and the trade list. Nine digits of the ten stored.

mod vector;

use form::{
    thickness::Likely,
    wire::{
        bend::{Beam, Section, Wired, coiled, wire_needed},
        bite::{Bite, WEEKS},
        gauge::{self, TABLE},
        guy::Guy,
        helix::{Helix, Tapering, weight},
        metal::Metal,
        set,
    },
    wood::{WOODS, Wood},
};
use measure::{
    quantity::{Degrees, Megapascal, Millimetre, Share, SquareMillimetre},
    sourced::Standing,
};
use serde_json::Value;
use vector::{Tally, cell, counted, json, nine, not_ours, number, rows, table};

fn mm(row: &Value, name: &str) -> Millimetre {
    Millimetre(number(row, name))
}

fn stress(row: &Value, name: &str) -> Megapascal {
    Megapascal(number(row, name))
}

fn all(tally: &mut Tally, row: &Value, pairs: &[(f64, &str)]) {
    for (ours, name) in pairs {
        tally.agrees(*ours, number(row, name), nine(number(row, name)));
    }
}

#[test]
fn gauges_and_sections() {
    let Some(file) = json("form/wire.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["awg"]) {
        let ours = gauge::american(number(row, "awg") as i32).unwrap();
        all(&mut tally, row, &[(ours.0, "d_mm"), (ours.0 / 25.4, "d_in")]);
    }
    for row in rows(&file["section"]) {
        let section = Section {
            wire: mm(row, "d_mm"),
            flow: stress(row, "sigma_y_MPa"),
            modulus: stress(row, "E_MPa"),
        };
        all(
            &mut tally,
            row,
            &[
                (section.first_yield().0, "M_yield_Nmm"),
                (section.plastic().0, "M_plastic_Nmm"),
                (section.plastic().0 / section.first_yield().0, "shape_factor"),
                (section.stiffness(), "EI_Nmm2"),
                (section.twist().0, "T_plastic_Nmm"),
            ],
        );
    }
    for row in rows(&file["helix_factors"]) {
        let ours = coiled(Degrees(number(row, "beta_deg")));
        all(
            &mut tally,
            row,
            &[(ours.stiffness, "stiffness_factor"), (ours.plastic, "plastic_factor_first_section")],
        );
    }
    tally.tell("form/wire.json: gauges, sections, coiled", 72);
}

#[test]
fn coils_and_their_weight() {
    let Some(file) = json("form/wire.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["helix"]) {
        let helix = Helix {
            branch: mm(row, "branch_mm"),
            wire: mm(row, "wire_mm"),
            along: mm(row, "axial_mm"),
            angle: Degrees(number(row, "beta_deg")),
        };
        let coil = helix.coil().unwrap();
        // The angle itself is stored to ten digits, which the tangent magnifies a little.
        for (ours, name) in [
            (coil.turns, "turns"),
            (coil.pitch.0, "pitch_mm"),
            (coil.length.0, "wire_length_mm"),
            (coil.factor, "length_factor"),
        ] {
            tally.agrees(ours, number(row, name), 3.0 * nine(number(row, name)));
        }
    }
    for row in rows(&file["taper"]) {
        let tapering = Tapering {
            base: mm(row, "D_base"),
            tip: mm(row, "D_tip"),
            wire: mm(row, "wire_mm"),
            along: mm(row, "axial_mm"),
            pitch: mm(row, "pitch_mm"),
        };
        all(
            &mut tally,
            row,
            &[(tapering.length().0, "wire_length_mm"), (tapering.along.0 / tapering.pitch.0, "turns")],
        );
    }
    for row in rows(&file["mass"]) {
        let metal = if number(row, "density_kg_m3") < 5000.0 { Metal::Aluminium } else { Metal::Copper };
        all(&mut tally, row, &[(weight(mm(row, "wire_mm"), mm(row, "length_mm"), metal).0, "mass_g")]);
    }
    for row in rows(&file["coil_strain"]) {
        let helix = Helix {
            branch: mm(row, "branch_mm"),
            wire: mm(row, "wire_mm"),
            along: Millimetre(100.0),
            angle: Degrees(number(row, "beta_deg")),
        };
        all(&mut tally, row, &[(helix.strain().0, "wire_outer_strain")]);
    }
    tally.tell("form/wire.json: coils", 32);
}

fn wired(row: &Value) -> Wired {
    let flow = stress(row, "flow_stress_MPa");
    let modulus = Megapascal(row["E_wire_MPa"].as_f64().unwrap_or(68_000.0));
    let wire = Millimetre(row["wire_mm"].as_f64().unwrap_or(1.0));
    let strength = Megapascal(row["MOR_MPa"].as_f64().unwrap_or(50.0));
    Wired {
        beam: Beam { branch: mm(row, "branch_mm"), modulus: stress(row, "E_MPa"), strength },
        section: Section { wire, flow, modulus },
        strands: number(row, "wires") as u32,
        angle: Degrees(number(row, "beta_deg")),
    }
}

#[test]
fn bends_and_what_stays_of_them() {
    let Some(file) = json("form/wire.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["bend"]) {
        let wired = wired(row);
        let radius = mm(row, "bend_radius_mm");
        let release = wired.release(radius);
        all(
            &mut tally,
            row,
            &[
                (wired.beam.strain(radius).0, "outer_fibre_strain"),
                (wired.beam.springs_back_below().0, "nominal_elastic_limit_strain"),
                (wired.beam.stiffness(), "EI_branch_Nmm2"),
                (release.branch.0, "M_branch_Nmm"),
                (release.wires.0, "M_wire_capacity_Nmm"),
                (release.hold, "hold_index_W"),
                (release.holds.0, "curvature_the_wire_can_hold_per_mm"),
                (wired.wire_stiffness(), "EI_wire_Nmm2"),
                (release.curvature.0, "curvature_after_release_per_mm"),
                (release.stays.0, "held_fraction"),
            ],
        );
        assert_eq!(Some(release.wire_yields), row["reverse_yield"].as_bool());
    }
    for row in rows(&file["ratio"]) {
        let wired = wired(row);
        let needed = wire_needed(&wired, Share(number(row, "elastic_strain")));
        all(&mut tally, row, &[(needed.0, "wire_mm_needed"), (needed.0 / wired.beam.branch.0, "ratio")]);
    }
    tally.tell("form/wire.json: bends", 72);
}

#[test]
fn guys_and_sets() {
    let Some(file) = json("form/wire.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["guy"]) {
        let guy = Guy {
            branch: mm(row, "branch_mm"),
            modulus: stress(row, "E_MPa"),
            arm: mm(row, "arm_mm"),
            moved: mm(row, "deflection_mm"),
            angle: Degrees(number(row, "guy_angle_deg")),
            strap: mm(row, "strap_width_mm"),
        };
        let pull = guy.pull().unwrap();
        all(
            &mut tally,
            row,
            &[
                (pull.force.0, "normal_force_N"),
                (pull.tension.0, "guy_tension_N"),
                (pull.strain.0, "base_strain"),
                (pull.pressure.0, "bark_pressure_MPa"),
                (pull.force.0 * guy.arm.0, "base_moment_Nmm"),
            ],
        );
    }
    for row in rows(&file["set"]) {
        let lasting = Share(number(row, "plastic_fraction"));
        let ours = set::set(mm(row, "D0"), mm(row, "D1"), lasting).unwrap();
        all(&mut tally, row, &[(ours.0, "set_fraction")]);
    }
    for row in rows(&file["set_needed"]) {
        let [lasting, target] = ["plastic_fraction", "target"].map(|name| Share(number(row, name)));
        let ours = set::needed(mm(row, "D0"), target, lasting).unwrap();
        all(&mut tally, row, &[(ours.0, "D1_needed")]);
    }
    tally.tell("form/wire.json: guys and sets", 17);
}

#[test]
fn wires_that_bite_and_wires_that_do_not() {
    let mut tally = Tally::default();
    let Some(file) = json("form/wire.json") else { return };
    for row in rows(&file["bite"]) {
        let ring = number(row, "ring_area_season_mm2");
        let bite = Bite {
            branch: mm(row, "D0_mm"),
            ring: Likely { low: 0.8 * ring, middle: ring, high: 1.25 * ring }.map(SquareMillimetre),
            gap: mm(row, "gap_mm"),
            threshold: mm(row, "threshold_mm"),
            on: Share(0.0),
        };
        let when = bite.when().unwrap();
        for (ours, name) in [(when.contact, "s_contact"), (when.off, "s_threshold")] {
            assert_eq!(ours.middle.is_some(), row[name].is_number(), "{name} of {row}");
            if let Some(ours) = ours.middle {
                tally.agrees(ours.0, number(row, name), 2e-10);
            }
            // Faster growth bites earlier.
            if let (Some(early), Some(late)) = (ours.low, ours.middle) {
                assert!(early.0 < late.0);
            }
        }
        tally.agrees(when.at_leaf_fall.middle.0, number(row, "bite_end_of_season_mm"), 1e-9);
    }
    tally.tell("form/wire.json: bites", 9);
}

fn standing_of(status: &str, standing: Standing) -> bool {
    match standing {
        Standing::Published(_) => status.starts_with("verified"),
        Standing::Unverified(_) => status.starts_with("from memory"),
        _ => false,
    }
}

#[test]
fn tables_are_those_of_the_reference_set() {
    let (mut woods, mut gauges, mut weeks) = (0, 0, 0);
    for row in &table("form/wood.csv").unwrap_or_default() {
        let same = |ours: &&Wood| (ours.name, ours.latin) == (&*row["common_name"], &*row["latin_name"]);
        let Some(ours) = WOODS.iter().find(same) else {
            not_ours(&row["common_name"]);
            continue;
        };
        woods += 1;
        assert_eq!(ours.gravity, row["green_specific_gravity"].parse::<f64>().unwrap());
        assert_eq!(ours.strength.0, row["green_MOR_MPa"].parse::<f64>().unwrap());
        assert!((ours.modulus.0 - 1000.0 * row["green_MOE_GPa"].parse::<f64>().unwrap()).abs() < 1e-9);
        assert!(standing_of(&row["green_row_status"], ours.standing), "{}", ours.name);
    }
    let stands = table("form/wood_proxy.csv").unwrap_or_default();
    for row in &stands {
        let first = row["grown_species"].split(',').next().unwrap().replace(" (all)", "");
        let stand = form::wood::for_name(&first);
        assert_eq!(stand.wood.name, row["table_row_used"], "{first}");
        let in_table = WOODS.iter().any(|wood| wood.latin == first);
        assert_eq!(stand.own, in_table || row["status"] == "same species", "{first}");
    }
    for row in &table("trade/wire_gauge.csv").unwrap_or_default() {
        let stored = ["branch_mm", "aluminium_mm", "copper_mm"].map(|name| row[name].parse::<f64>().unwrap());
        let Some(ours) = TABLE.iter().find(|ours| ours.branch.0 == stored[0]) else {
            not_ours(&row["branch_mm"]);
            continue;
        };
        gauges += 1;
        assert_eq!([ours.branch.0, ours.aluminium.0, ours.copper.0], stored);
        assert_eq!(ours.note, row["note"]);
    }
    let span = |text: &str| {
        let (low, high) = text.split([' ']).next().unwrap().split_once('-').unwrap();
        [low.parse::<u16>().unwrap(), high.parse::<u16>().unwrap()]
    };
    for row in &table("trade/wire_bite.csv").unwrap_or_default() {
        let Some(ours) = WEEKS.iter().find(|ours| ours.group == row["group"]) else {
            not_ours(&row["group"]);
            continue;
        };
        weeks += 1;
        assert_eq!(ours.first_check, row["spring_first_check_d"].parse::<u16>().unwrap());
        assert_eq!(ours.recheck, row["recheck_d"].parse::<u16>().unwrap());
        assert_eq!(ours.spring, span(&row["spring_bite_weeks"]));
        assert_eq!(ours.summer, span(&row["summer_bite_weeks"]));
        assert_eq!(ours.autumn, span(&row["autumn_bite_weeks"]));
        assert_eq!(ours.sets, span(&row["sets_in_weeks"]));
        assert_eq!(
            ours.winter,
            (row["winter_bite_weeks"] != "none").then(|| span(&row["winter_bite_weeks"]))
        );
    }
    // A file that another folder lacks has been named.
    for (name, seen, own) in [
        ("form/wood.csv", woods, WOODS.len()),
        ("form/wood_proxy.csv", stands.len(), 19),
        ("trade/wire_gauge.csv", gauges, TABLE.len()),
        ("trade/wire_bite.csv", weeks, WEEKS.len()),
    ] {
        if table(name).is_some() {
            counted(name, seen, own);
        }
    }
}

/// `wire_metals.csv`: one row a database read by the set, the others from memory or chosen; ours are those of the two metals of the trade.
#[test]
fn metals_are_those_of_the_reference_set() {
    let Some(file) = table("form/wire_metals.csv") else { return };
    let mut tally = Tally::default();
    for row in &file {
        let metal = match row["metal"].split_whitespace().next() {
            Some("aluminium") => Metal::Aluminium,
            Some("copper") => Metal::Copper,
            _ => {
                not_ours(&row["metal"]);
                continue;
            }
        };
        // Alloy 1100 is another; only its coiled wire is ours.
        if row["metal"].contains(" 1100") {
            continue;
        }
        tally.agrees(1000.0 * metal.density().value.0, cell(row, "density_kg_m3"), 1e-9);
        tally.agrees(metal.modulus().value.0 / 1000.0, cell(row, "modulus_GPa"), 1e-9);
        if let Some((span, _)) = row["yield_MPa"].split_once(" (flow stress)") {
            let (low, high) = span.split_once('-').unwrap();
            let flow = metal.flow().value;
            tally.agrees(flow.low.0, low.parse().unwrap(), 0.0);
            tally.agrees(flow.high.0, high.parse().unwrap(), 0.0);
        }
    }
    tally.tell("form/wire_metals.csv", 12);
}
