//! The repot itself beside the reference set's tables and its worked example.
//!
//! No authority: the rows are common practice, remembered or made for planning, and these checks only hold ours to what the set
//! says. The worked example (a kifu rectangle of 30 x 22 x 6 cm) is printed to two decimals.

mod vector;

use measure::quantity::{Centimetre, Days, Litre, Millimetre, Share};
use pot::{
    fit::frame::Size,
    repot::{
        ROOT_WORK,
        due::{FROM, SHARES, Sign},
        insult::{BUDGETS, Insult, Objection, Part, Past, Strength, objections},
        materials::{
            FILLED, MESH_EDGE, RAKED, SETTLED, STAPLE, TWIST, bags, mesh, mix, rough_soil, sieve_loss, ties,
        },
        roots::{Age, Bare, RootWork, today},
    },
    table::{Component, Recipe, SizeClass},
};
use vector::{Row, Tally, counted, not_ours, table};

/// The row of a table that has `is` in the column `key`.
fn found<'a>(rows: &'a [Row], key: &str, is: &str) -> Option<&'a Row> {
    rows.iter().find(|row| row[key] == is)
}

/// Every number in a text, in its order.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    parts.filter_map(|part| part.trim_matches('.').parse().ok()).collect()
}

#[test]
fn the_worked_example_comes_out_as_printed() {
    let inner = Size { length: Centimetre(30.0), width: Centimetre(22.0), depth: Centimetre(6.0) };
    let mut tally = Tally::default();
    let soil = rough_soil(inner, true);
    tally.agrees(soil.0, 3.17, 0.005);
    tally.agrees(soil.0 * 0.65 * RAKED.value, 1.75, 0.005);
    let needed = mix(soil, soil, Share(0.35)).unwrap();
    tally.agrees(needed.0, 1.63, 0.005);
    let bags = bags(Recipe::of("MX-DEC").unwrap(), needed);
    tally.agrees(bags[0].in_mix.0, 0.815, 0.0005);
    for (buy, printed) in bags.iter().zip([1.02, 0.48, 0.48]) {
        tally.agrees(buy.from_bag.0, printed, 0.005);
    }
    let wire = ties(inner, SizeClass::Kifu);
    tally.agrees(wire.each.0, 91.0, 0.5);
    assert_eq!((wire.pieces, wire.thick), ([2, 2], [Millimetre(2.0); 2]));
    let maple = today(RootWork::of("acer-palmatum").unwrap(), Age::Middle, Strength::Normal, &[]).unwrap();
    assert_eq!([maple.typical.0, maple.most.0], [0.35, 0.60]);
    tally.tell("the worked example, as printed", 8);
}

#[test]
fn rules_of_the_bench_are_those_of_the_set() {
    let Some(rules) = table("trade/consumables.csv") else { return };
    let mut seen = 0;
    for row in &rules {
        let said = numbers(&row["formula_or_amount"]);
        match row["item"].as_str() {
            "pot volume rectangle" => assert_eq!(said[0], FILLED.value[0]),
            "pot volume oval" | "pot volume round" => assert_eq!(said[0], FILLED.value[1]),
            "mix needed (repot)" => assert_eq!(said[0], SETTLED.value),
            "kept root mass volume" => assert_eq!(said.last(), Some(&RAKED.value)),
            "drainage mesh" => assert_eq!(said, [MESH_EDGE.value.0]),
            "mesh staple wire" => assert_eq!(said, STAPLE.value.map(|length| length.0)),
            "tie-down wire" => assert_eq!(said.last(), Some(&TWIST.value.0)),
            _ => continue,
        }
        seen += 1;
    }
    counted("trade/consumables.csv: rules", seen, 8);
    assert_eq!(mesh(Millimetre(12.0)), Millimetre(37.0));
    assert_eq!(mix(Litre(9.0), Litre(1.0), Share(0.0)), Ok(Litre(0.0)), "kept roots fill the pot");
}

#[test]
fn sieves_take_what_the_set_remembers() {
    let named = [
        ("akadama hard", Component::Akadama),
        ("pumice", Component::Pumice),
        ("lava or scoria", Component::Lava),
        ("kanuma", Component::Kanuma),
        ("fir or pine bark", Component::Bark),
        ("granite grit", Component::Grit),
        ("calcined clay", Component::CalcinedClay),
    ];
    let Some(rows) = table("trade/material_props.csv") else { return };
    let mut seen = 0;
    for (name, component) in named {
        let Some(row) = found(&rows, "material", name) else { continue };
        let loss = sieve_loss(component).unwrap().value.0;
        assert_eq!(row["sieve_loss_pct"].parse(), Ok(100.0 * loss), "{name}");
        seen += 1;
    }
    counted("trade/material_props.csv: sieves", seen, named.len());
    assert_eq!(sieve_loss(Component::Perlite), None);
}

#[test]
fn signs_have_the_points_of_the_set() {
    let Some(rows) = table("trade/repot_need.csv") else { return };
    let signs = [
        ("N1", Sign::DrainsSlowly),
        ("N2", Sign::TwiceADay),
        ("N3", Sign::Rocks),
        ("N5", Sign::RootsSeen),
        ("N6", Sign::Crumbled),
        ("N7", Sign::Show),
        ("N8", Sign::Falling),
    ];
    let mut seen = 0;
    for row in &rows {
        if let Some((id, sign)) = signs.iter().find(|(id, _)| row["id"] == *id) {
            assert_eq!(row["points"].parse(), Ok(sign.points()), "{id}");
        } else if row["id"] == "N4" {
            let years = numbers(&row["sign"]);
            assert_eq!([years[0], years[2], years[4]], SHARES.value);
            assert_eq!([years[1], years[3], years[5]], [1.0, 2.0, f64::from(Sign::Years.points())]);
        } else if row["id"] == "N9" {
            let from = numbers(&row["sign"]);
            assert_eq!([from[1], from[0]], FROM.value.map(f64::from));
        } else {
            not_ours(&row["id"]);
            continue;
        }
        seen += 1;
    }
    counted("trade/repot_need.csv: signs", seen, 9);
}

#[test]
fn root_work_of_every_taxon_is_that_of_the_set() {
    let Some(rows) = table("trade/species.csv") else { return };
    let mut seen = 0;
    for row in &rows {
        let Some(ours) = ROOT_WORK.iter().find(|ours| ours.key == row["id"]) else {
            not_ours(&row["id"]);
            continue;
        };
        seen += 1;
        assert!(measure::taxon::Taxon::of(ours.key).is_some());
        for (column, ours) in [
            ("interval_young_y", ours.interval[0]),
            ("interval_mid_y", ours.interval[1]),
            ("interval_old_y", ours.interval[2]),
            ("root_cut_typ_pct", ours.typical),
            ("root_cut_max_pct", ours.most),
        ] {
            assert_eq!(row[column].parse(), Ok(ours), "{} {column}", row["id"]);
        }
        let bare = match row["bare_root"].as_str() {
            "yes" => Bare::Yes,
            "partial" => Bare::Partial,
            "no" => Bare::No,
            other => panic!("{other}"),
        };
        assert_eq!(bare, ours.bare, "{}", row["id"]);
    }
    counted("trade/species.csv: root work", seen, ROOT_WORK.len());
}

#[test]
fn insults_cost_what_the_set_says() {
    let Some(rows) = table("trade/insult_ledger.csv") else { return };
    let one = Share(1.0);
    // The job, the insult at the first number of its formula, and where in the formula that number stands.
    let plain = [
        ("repot_full", Insult::RepotFull { cut: Share(0.5), bare: false }, 0, 0.5),
        ("repot_light", Insult::RepotLight { cut: Share(0.1) }, 0, 0.1),
        ("slip_pot", Insult::SlipPot, 0, 1.0),
        ("hard_prune", Insult::HardPrune(one), 0, 1.0),
        ("trim", Insult::Trim(one), 0, 1.0),
        ("pinch", Insult::Pinch, 0, 1.0),
        ("defoliate_full", Insult::DefoliateFull, 0, 1.0),
        ("defoliate_partial", Insult::DefoliatePartial(one), 0, 1.0),
        ("decandle", Insult::Decandle, 0, 1.0),
        ("wire_structural", Insult::WireStructural(10), 0, 1.0),
        ("wire_structural", Insult::WireStructural(99), 3, 1.0),
        ("wire_detail", Insult::WireDetail, 0, 1.0),
        ("heavy_bend", Insult::HeavyBend(2), 0, 2.0),
        ("carve", Insult::Carve { live_edge: false }, 0, 1.0),
        ("carve", Insult::Carve { live_edge: true }, 1, 1.0),
        ("air_layer_on", Insult::LayerOn, 0, 1.0),
        ("air_layer_sever", Insult::LayerOffNew, 0, 1.0),
        ("air_layer_sever", Insult::LayerOffParent, 1, 1.0),
        ("collect", Insult::Collect, 0, 1.0),
        ("repair_graft", Insult::RepairGraft, 0, 1.0),
        ("pest_outbreak", Insult::Pest(Share(0.0)), 0, 1.0),
        ("pest_outbreak", Insult::Pest(one), 1, 1.0),
        ("drought_event", Insult::Drought { crisp: false }, 0, 1.0),
        ("drought_event", Insult::Drought { crisp: true }, 1, 1.0),
        ("frost_event", Insult::Frost { roots: false }, 0, 1.0),
        ("frost_event", Insult::Frost { roots: true }, 1, 1.0),
        ("show_absence", Insult::Show(3), 0, 3.0),
    ];
    let mut tally = Tally::default();
    for (job, insult, at, times) in plain {
        let Some(row) = found(&rows, "job", job) else { continue };
        tally.agrees(insult.points().unwrap(), times * numbers(&row["points_formula"])[at], 1e-12);
        let part = match row["insult_kind"].as_str() {
            "root" => Part::Root,
            "branch" => Part::Branch,
            "foliage" => Part::Foliage,
            _ => Part::None,
        };
        assert_eq!(insult.part(), part, "{job}");
        match row["major_if"].as_str() {
            "never" => assert!(!insult.is_major().unwrap(), "{job}"),
            "always" => assert!(insult.is_major().unwrap(), "{job}"),
            _ => {}
        }
    }
    tally.tell("trade/insult_ledger.csv: insults", 27);
    let bare = Insult::RepotFull { cut: Share(0.0), bare: true }.points().unwrap();
    if let Some(row) = found(&rows, "job", "repot_full") {
        assert_eq!(Some(&bare), numbers(&row["points_formula"]).last());
    }
    assert!(Insult::RepotFull { cut: Share(0.71), bare: false }.points().is_err());
}

#[test]
fn budgets_and_worked_sums_are_those_of_the_set() {
    let rows = table("trade/insult_budget.csv").unwrap_or_default();
    let mut seen = 0;
    for (name, ours) in ["SICK", "WEAK", "NORMAL", "STRONG"].into_iter().zip(&BUDGETS) {
        let Some(row) = found(&rows, "vigour", name) else { continue };
        seen += 1;
        assert_eq!(row["points_per_rolling_12_months"].parse(), Ok(ours.points));
        assert_eq!(numbers(&row["majors_per_rolling_12_months"])[0], f64::from(ours.majors));
        assert_eq!(row["gap_between_majors_weeks"].parse().ok(), ours.gap.map(|gap| gap.0));
    }
    if !rows.is_empty() {
        counted("trade/insult_budget.csv: budgets", seen, BUDGETS.len());
    }
    // The sums worked in the set's text, printed to two decimals.
    let repot = |cut| Insult::RepotFull { cut: Share(cut), bare: false };
    let mut tally = Tally::default();
    tally.agrees(repot(0.35).points().unwrap(), 0.53, 0.005_001);
    tally.agrees(repot(0.60).points().unwrap(), 0.90, 0.005);
    tally.agrees(repot(0.20).points().unwrap(), 0.30, 0.005);
    assert!(repot(0.35).is_major().unwrap() && !repot(0.20).is_major().unwrap());
    let book = [Past { insult: repot(0.35), ago: Days(60.0) }];
    let told = objections(Insult::DefoliatePartial(Share(0.5)), Strength::Normal, &book).unwrap();
    let [Objection::OverBudget { costs, left }] = told[..] else { panic!("{told:?}") };
    tally.agrees(costs, 0.30, 0.005);
    tally.agrees(left, 0.27, 0.005_001);
    assert!(!objections(repot(0.60), Strength::Normal, &[]).unwrap().is_empty());
    assert!(objections(repot(0.60), Strength::Strong, &[]).unwrap().is_empty());
    tally.tell("the worked sums, as printed", 5);
}
