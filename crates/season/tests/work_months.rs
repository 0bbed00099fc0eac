//! The months of work beside the reference set's rows by type of tree.
//!
//! `trade/type_defaults.csv`, `trade/species.csv`: no authority, its rows are common practice. The check only holds our months to what the set says.

mod vector;

use measure::taxon::{Kind, TAXA, Taxon};
use season::work_months::{Defoliation, Months, RootCue, WorkMonths};
use vector::{counted, not_ours, table};

const KINDS: [(&str, Kind); 19] = [
    ("DH", Kind::HardyDeciduous),
    ("DM", Kind::Maple),
    ("DE", Kind::Elm),
    ("SD", Kind::SemiDeciduous),
    ("DB", Kind::BeechHornbeam),
    ("DO", Kind::Oak),
    ("DL", Kind::LarchGinkgo),
    ("FP", Kind::StoneFruit),
    ("FM", Kind::AppleFamily),
    ("FA", Kind::Azalea),
    ("FO", Kind::FloweringDeciduous),
    ("CJ", Kind::Juniper),
    ("P2", Kind::TwoFlushPine),
    ("P1", Kind::OneFlushPine),
    ("CS", Kind::SpruceHemlock),
    ("CY", Kind::YewCypress),
    ("BE", Kind::BroadleafEvergreen),
    ("TR", Kind::Tropical),
    ("SU", Kind::Succulent),
];

/// Months in which a cell of the set says yes: "5-7;11-2" and words after a colon.
fn months(cell: &str) -> [bool; 12] {
    let mut told = [false; 12];
    for span in cell.split(';').map(str::trim).filter(|span| !span.is_empty()) {
        let span = span.split([':', ' ']).next().unwrap();
        let (from, to) = span.split_once('-').unwrap_or((span, span));
        let Ok([from, to]) = [from, to]
            .map(str::parse::<usize>)
            .into_iter()
            .collect::<Result<Vec<_>, _>>()
            .map(|it| [it[0], it[1]])
        else {
            continue;
        };
        let mut month = from;
        loop {
            told[month - 1] = true;
            if month == to {
                break;
            }
            month = month % 12 + 1;
        }
    }
    told
}

fn ours(it: Months) -> [bool; 12] {
    let mut told = [false; 12];
    for (at, month) in told.iter_mut().enumerate() {
        let day = jiff::civil::date(2026, at as i8 + 1, 15);
        *month = it.hold(day, measure::winter::Hemisphere::North);
    }
    told
}

#[test]
fn the_months_are_those_of_the_set() {
    let Some(rows) = table("trade/type_defaults.csv") else { return };
    let mut count = 0;
    for row in &rows {
        let Some((_, kind)) = KINDS.iter().find(|(type_, _)| *type_ == row["type"]) else {
            panic!("a type we do not know: {}", row["type"])
        };
        let own = WorkMonths::of_kind(*kind);
        let name = &row["type"];
        for (cell, it) in [
            ("repot_months_n", own.root),
            ("avoid_prune_months_n", own.no_prune),
            ("trim_months_n", own.trim),
            ("defol_months_n", own.defoliate),
            ("wire_months_n", own.wire),
        ] {
            assert_eq!(ours(it), months(&row[cell]), "{name} {cell} {}", row[cell]);
            count += 1;
        }
        // After flowering has no month of its own in the set: ours are late spring.
        if row["hard_prune_months_n"] != "AFTERFLOWER" {
            assert_eq!(ours(own.hard_prune), months(&row["hard_prune_months_n"]), "{name}");
            count += 1;
        }
        let how = match row["defoliation"].as_str() {
            "none" => Defoliation::Never,
            "partial" => Defoliation::Partial,
            "full" => Defoliation::Full,
            other => panic!("{other}"),
        };
        assert_eq!(own.defoliation, how, "{name}");
        let cue = match row["repot_cue"].as_str() {
            "JUN" | "PINE" => RootCue::Tips,
            "EVG" => RootCue::Evergreen,
            "WARM" | "WARM-DRY" => RootCue::WarmNights,
            "POSTFLOWER-B2" => RootCue::BudsAfterFlower,
            // Azaleas and spruces keep their leaves: of theirs the months are told.
            _ if matches!(kind, Kind::Azalea) => RootCue::Evergreen,
            _ if matches!(kind, Kind::SpruceHemlock) => RootCue::Tips,
            _ => RootCue::Buds,
        };
        assert_eq!(own.root_cue, cue, "{name}");
        count += 2;
    }
    counted("trade/type_defaults.csv", rows.len(), 19);
    assert!(count >= 5 * rows.len());
}

/// Quinces: the set prefers autumn for one and spring for the other; ours has spring by the buds and autumn as the second window for both.
fn is_quince(taxon: &Taxon) -> bool {
    taxon.genus() == "Chaenomeles"
}

#[test]
fn the_months_of_each_taxon_are_those_of_the_set() {
    let Some(rows) = table("trade/species.csv") else { return };
    let mut seen = 0;
    for row in &rows {
        let Some(taxon) = Taxon::of(&row["id"]) else {
            not_ours(&row["id"]);
            continue;
        };
        let (own, name) = (WorkMonths::of(taxon), taxon.key);
        if is_quince(taxon) {
            let told = months(&row["repot_months_n"]);
            let both: Vec<bool> =
                ours(own.root).iter().zip(ours(own.root_also)).map(|(a, b)| *a || b).collect();
            assert_eq!(both, told, "{name}");
        } else {
            assert_eq!(ours(own.root), months(&row["repot_months_n"]), "{name} roots");
        }
        if row["hard_prune_months_n"] != "AFTERFLOWER" {
            assert_eq!(ours(own.hard_prune), months(&row["hard_prune_months_n"]), "{name} hard");
        }
        assert_eq!(ours(own.no_prune), months(&row["avoid_prune_months_n"]), "{name} avoid");
        assert_eq!(ours(own.trim), months(&row["trim_months_n"]), "{name} trim");
        assert_eq!(ours(own.defoliate), months(&row["defol_months_n"]), "{name} leaves");
        assert_eq!(ours(own.wire), months(&row["wire_months_n"]), "{name} wire");
        let how = match row["defoliation"].as_str() {
            "none" => Defoliation::Never,
            "partial" => Defoliation::Partial,
            _ => Defoliation::Full,
        };
        assert_eq!(own.defoliation, how, "{name}");
        let after = row["repot_cue"] == "POSTFLOWER-B2";
        assert_eq!(own.root_cue == RootCue::BudsAfterFlower, after, "{name}");
        assert!(![own.root_why, own.hard_why, own.trim_why, own.wire_why].contains(&""), "{name}");
        seen += 1;
    }
    counted("trade/species.csv", seen, TAXA.len());
}
