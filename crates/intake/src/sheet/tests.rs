//! Claims of sheets: what is read, and which line is refused for which value.

use super::*;

/// Lines and values that were refused.
fn named<T: std::fmt::Debug>(read: Read<T>) -> Vec<(usize, String)> {
    read.whole().unwrap_err().into_iter().map(|it| (it.line, it.value)).collect()
}

/// Why the first line was refused.
fn why<T: std::fmt::Debug>(read: Read<T>) -> String {
    read.whole().unwrap_err().remove(0).why
}

#[test]
fn every_bad_line_is_named_and_nothing_is_read() {
    let text = "tree,day,stage\nA,2026-03-08,03\nB,8 March,03\nC,2026-03-08,04\n";
    assert_eq!(named(looks(text)), [(3, "8 March".into()), (4, "04".into())]);
}

#[test]
fn a_missing_column_is_named() {
    assert!(why(works("tree,day\nA,2026-03-08\n")).contains("no column kind"));
}

#[test]
fn half_a_lamp_is_refused() {
    assert!(places("name,shelter,lamp_umol\nShelf,cold-room,40\n").whole().is_err());
}

#[test]
fn semicolons_and_tabs_are_read_with_a_decimal_comma_and_said() {
    let sheet = "name;latitude;longitude;elevation;zone\nHügel;47,421;8,5;450;Europe/Zurich\n";
    for text in [sheet.to_string(), sheet.replace(';', "\t"), format!("sep=;\r\n{sheet}")] {
        let read = sites(&text);
        assert_eq!(read.notes.len(), 1, "{text}");
        let site = read.whole().unwrap().remove(0);
        assert_eq!((site.name.as_str(), site.latitude.0, site.longitude.0), ("Hügel", 47.421, 8.5));
    }
    let told = sites(&format!("sep=;\n{}", sheet.replace("450", "hoch")));
    assert_eq!(named(told), [(3, "hoch".into())]);
}

#[test]
fn a_figure_that_can_be_read_two_ways_is_asked_about() {
    let sheet =
        |height: &str| format!("name;latitude;longitude;elevation;zone\nA;47,4;8,5;{height};Europe/Zurich\n");
    let said = why(sites(&sheet("1.240")));
    assert_eq!(said, "elevation may be 1240 or 1,240; write one of them");
    assert_eq!(sites(&sheet("1.25")).whole().unwrap()[0].elevation.0, 1.25);
    let comma = "name,latitude,longitude,elevation,zone\nA,47.4,8.5,\"1,24\",Europe/Zurich\n";
    assert_eq!(why(sites(comma)), "elevation has a comma; write a point, as 1.24");
}

#[test]
fn a_misspelt_column_is_asked_about_and_a_foreign_one_is_noted() {
    let slip = places("name,shelter,capcity\nA,open-bench,3\n");
    assert_eq!(why(slip), "is no column; did you mean capacity?");
    assert_eq!(why(looks("tree,date,stage\nA,2026-03-08,03\n")), "is no column; did you mean day?");
    let read = trees("name,taxon,place,shoe size\nA,acer-palmatum,Bench,42\n");
    assert_eq!(
        read.notes,
        [
            "the column place is not used; a sheet of another kind has it (moves)",
            "the column shoe_size is not used"
        ]
    );
    assert_eq!(read.whole().unwrap().len(), 1);
    assert_eq!(why(trees("name,taxon,Name\nA,acer-palmatum,B\n")), "the column name stands twice");
}

#[test]
fn a_unit_in_the_header_is_followed_or_refused() {
    let pots = |header: &str| potting::pots(&format!("name,outline,{header},height\nA,round,20,8\n")).whole();
    assert!(pots("Length (cm)").is_ok() && pots("length_cm").is_ok());
    let refused = pots("length (in)").unwrap_err().remove(0);
    assert_eq!((refused.line, refused.value.as_str()), (1, "length (in)"));
    assert_eq!(refused.why, "length is in cm here; turn its cells into cm");
}

#[test]
fn a_row_with_too_many_or_too_few_cells_is_named() {
    let text =
        "tree,day,kind\nA,2026-03-08,trim\nB,2026-03-08,trim,3,4\nC,2026-03-08\nD,2026-03-08,trim,,\n,,\n";
    assert_eq!(named(works(text)), [(3, "3".into()), (4, "C".into())]);
}

#[test]
fn a_number_with_a_fraction_is_refused_and_never_cut() {
    let text = "name,shelter,capacity\nA,open-bench,2\nB,open-bench,2.7\nC,open-bench,3.0\n";
    assert_eq!(named(places(text)), [(3, "2.7".into())]);
    let wire = "tree,limb,on,metal,gauge,strands\nA,1,2026-05-01,copper,2,0\nA,1.5,2026-05-01,copper,2,1\n";
    assert_eq!(named(limbs::read(limbs::LimbSheet::Wires, wire)), [(2, "0".into()), (3, "1.5".into())]);
}

#[test]
fn a_day_ahead_and_an_absurd_one_are_refused_with_their_line() {
    let text = "tree,place,day\nA,B,2026-03-09\nA,B,2026-03-10\nA,B,1026-03-09\nA,B,9999-12-31\n";
    let today = "2026-03-09".parse().ok();
    let read = rows(text, &table::MOVES, today).take(moved);
    assert_eq!(named(read), [(3, "2026-03-10".into()), (4, "1026-03-09".into()), (5, "9999-12-31".into())]);
    let wish =
        "tree,limb,season,wish,by,made\nA,1,2036,remove,2030-06-01,2026-03-09\nA,1,2037,remove,,2026-03-09\n";
    let read = limbs::read_on(limbs::LimbSheet::Intentions, wish, today);
    assert_eq!(named(read), [(3, "2037".into())]);
}

#[test]
fn text_has_the_length_of_the_forms_and_no_hidden_signs() {
    let tree = |name: &str, note: &str| {
        trees(&format!("name,taxon,note\n\"{name}\",acer-palmatum,\"{note}\"\n")).whole()
    };
    assert_eq!(tree("A", &"ü".repeat(2000)).unwrap()[0].note.chars().count(), 2000);
    let long = tree("A", &"ü".repeat(2001)).unwrap_err().remove(0);
    assert_eq!(long.why, "note is 2001 letters long; 2000 are the most");
    assert_eq!(long.value.chars().count(), 80);
    assert!(tree(&"a".repeat(81), "").is_err());
    assert_eq!(tree("A", "two\nlines\tand a tab").unwrap()[0].note, "two\nlines\tand a tab");
    for sign in ['\u{1b}', '\u{7}', '\u{9b}', '\u{202e}', '\u{2066}', '\u{200f}', '\u{fffd}'] {
        assert!(tree(&format!("Old{sign}maple"), "").is_err(), "{sign:?}");
        assert!(tree("A", &format!("Old{sign}maple")).is_err(), "{sign:?}");
    }
    assert!(tree("two\nlines", "").is_err() && tree("a\ttab", "").is_err());
    assert!(tree("می\u{200c}خواهم", "").is_ok());
}

#[test]
fn a_name_of_signs_alone_has_a_key_of_its_own() {
    let key =
        |name: &str| trees(&format!("name,taxon\n{name},acer-palmatum\n")).whole().unwrap().remove(0).key;
    assert_eq!((key("老松").as_str(), key("Old Maple").as_str()), ("老松", "old-maple"));
    assert!(key("☆☆").starts_with("sign-") && key("☆☆") != key("☆") && key("---") != key("!!!"));
}

#[test]
fn an_example_of_every_kind_is_read_without_a_refusal_or_note() {
    for format in table::all() {
        let read = rows(format.example, format, "2026-11-01".parse().ok());
        assert!(
            read.readable && read.rows.len() > 1 || ["site", "scales"].contains(&format.key),
            "{}",
            format.key
        );
        assert_eq!((read.refused, read.notes), (vec![], vec![]), "{}", format.key);
        for column in format.columns {
            let shown = read.rows.iter().any(|(_, row)| !row.cell(column.name).is_empty());
            assert!(shown, "the example of {} shows no {}", format.key, column.name);
        }
    }
}

#[test]
fn help_names_every_column_and_what_it_takes() {
    let help = table::of("places").unwrap().help();
    let lines: Vec<&str> = help.lines().collect();
    assert_eq!(lines[0], "places: places where trees stand");
    assert_eq!(lines[1], "  * name           name, up to 80 letters");
    assert_eq!(lines[6], "    capacity       whole number, 0 to 10000");
}
