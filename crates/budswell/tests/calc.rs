//! The command line as a grower meets it: files in, JSON or a named line out.

use std::fs;

use assert_cmd::Command;

fn budswell() -> Command {
    Command::cargo_bin("budswell").unwrap()
}

fn json_of(command: &mut Command) -> serde_json::Value {
    let done = command.assert().success();
    serde_json::from_slice(&done.get_output().stdout).unwrap()
}

/// A file of the reference set as the science rooms keep it.
fn vector(room: &str, path: &str) -> String {
    format!("{}/../{room}/tests/vectors/{path}", env!("CARGO_MANIFEST_DIR"))
}

fn amount(answer: &serde_json::Value, model: &str) -> f64 {
    let rows = answer["cold"].as_array().unwrap();
    rows.iter().find(|row| row["model"] == model).unwrap()["amount"].as_f64().unwrap()
}

/// chillR 0.77 on the same file, as stored in `seattle_hourly_expected.json`.
#[test]
fn hours_in_fahrenheit_give_the_sums_of_the_reference_program() {
    let file = vector("dormancy", "dormancy/data/seattle_hourly_normals_f_jan_mar.csv");
    let answer = json_of(budswell().args(["calc", "chill", &file]));
    assert_eq!(answer["hours"], 2160);
    assert_eq!(amount(&answer, "chill-hours"), 1522.0);
    assert_eq!(amount(&answer, "utah"), 2036.5);
    assert!((amount(&answer, "dynamic") - 71.0672543305).abs() < 5e-11);
}

/// The consistent variant of `hourly_from_daily_sums.json`.
#[test]
fn daily_extremes_give_the_sums_of_the_reference_series() {
    let file = vector("dormancy", "dormancy/data/seattle_daily_2012_2014.csv");
    let args = ["--latitude", "47.45", "--from", "2012-11-01", "--to", "2013-03-31"];
    let answer = json_of(budswell().args(["calc", "chill", &file]).args(args));
    assert_eq!(answer["hours"], 151 * 24);
    assert_eq!(amount(&answer, "chill-hours"), 2040.0);
    assert_eq!(amount(&answer, "utah"), 2664.0);
    assert!((amount(&answer, "dynamic") - 111.8405615).abs() < 5e-8);
}

#[test]
fn day_length_is_given_by_three_formulas() {
    let answer =
        json_of(budswell().args(["calc", "daylength", "--latitude", "51.5", "--date", "2023-04-15"]));
    let hours = answer["rows"][0]["hours"].as_f64().unwrap();
    assert!((hours - 13.801455).abs() < 5e-7, "{hours}");
    assert_eq!(answer["rows"].as_array().unwrap().len(), 3);
}

#[test]
fn southern_latitudes_are_taken() {
    let answer = json_of(budswell().args(["calc", "daylength", "--latitude", "-35", "--date", "2026-06-21"]));
    assert!(answer["rows"][0]["hours"].as_f64().unwrap() < 10.5);
}

#[test]
fn a_bad_line_is_named_with_its_value() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("frame.csv");
    fs::write(&file, "temp_c\n3.1\nthe door was ajar\n").unwrap();
    let done = budswell().args(["calc", "chill"]).arg(&file).assert().failure();
    let said = String::from_utf8_lossy(&done.get_output().stderr).to_string();
    assert!(said.contains('3') && said.contains("the door was ajar"), "{said}");
}

/// Twelve invented years of a cool place, as a grower's file.
fn invented_years(folder: &std::path::Path) -> std::path::PathBuf {
    let mut text = String::from("date,tmin,tmax\n");
    let mut day: jiff::civil::Date = "2014-01-01".parse().unwrap();
    for at in 0..365 * 12 {
        let at = f64::from(at);
        let mean = 9.0 - 9.5 * ((at - 18.0) * std::f64::consts::TAU / 365.25).cos() + 2.5 * (at / 9.0).sin();
        text += &format!("{day},{:.1},{:.1}\n", mean - 4.0, mean + 4.0);
        day = day.tomorrow().unwrap();
    }
    let file = folder.join("station.csv");
    fs::write(&file, text).unwrap();
    file
}

#[test]
fn the_window_comes_with_its_spread_its_reason_and_its_doubts_and_a_look_changes_it() {
    let folder = tempfile::tempdir().unwrap();
    let file = invented_years(folder.path());
    let looks = folder.path().join("looks.csv");
    fs::write(&looks, "tree,day,stage,sureness\nOld Maple,2025-03-20,03,sure\n").unwrap();
    let ask = |more: &[&str]| {
        let args = ["--latitude", "47.4", "--taxon", "Japanese maple", "--today", "2025-03-20"];
        json_of(budswell().args(["calc", "window"]).arg(&file).args(args).args(more))
    };
    let before = ask(&[]);
    let after = ask(&["--looks", looks.to_str().unwrap(), "--tree", "old maple"]);
    let closes =
        |answer: &serde_json::Value| answer["window"]["closes"]["middle"].as_str().unwrap().to_string();
    assert!(closes(&after) < closes(&before), "{after:#}");
    assert_eq!(after["stage_today"], "03 full, still shut");
    assert!(
        before["caveats"]
            .as_array()
            .unwrap()
            .iter()
            .any(|words| words.as_str().unwrap().contains("no bud look"))
    );
    assert!(before["cold"]["received_h"].as_f64().unwrap() > 100.0);
}

#[test]
fn a_taxon_we_do_not_know_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let file = invented_years(folder.path());
    let args = ["--latitude", "47.4", "--taxon", "apple pie", "--today", "2025-03-20"];
    let done = budswell().args(["calc", "window"]).arg(&file).args(args).assert().failure();
    assert!(String::from_utf8_lossy(&done.get_output().stderr).contains("apple pie"));
}
