//! The command line as a grower meets it: files in, JSON or a named line out.

use std::{env, fs};

use assert_cmd::Command;
use serde_json::Value;

fn budswell() -> Command {
    Command::cargo_bin("budswell").unwrap()
}

fn json_of(command: &mut Command) -> Value {
    let done = command.assert().success();
    serde_json::from_slice(&done.get_output().stdout).unwrap()
}

/// A file of the reference set as the science room keeps it; another folder's figures are compared there, by the library.
fn vector(name: &str) -> String {
    format!("{}/../dormancy/tests/vectors/dormancy/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn climate_vector(name: &str) -> String {
    format!("{}/../climate/tests/vectors/dormancy/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn expected(name: &str) -> Value {
    serde_json::from_str(&fs::read_to_string(vector(name)).unwrap()).unwrap()
}

/// Our sums beside the reference's, under the keys it gives them; portions to half of the last digit it stores.
#[track_caller]
fn cold_agrees(answer: &Value, reference: &Value, keys: [&str; 3], half_digit: f64) {
    let rows = answer["cold"].as_array().unwrap();
    for (model, key, tolerance) in
        [("chill-hours", keys[0], 0.0), ("utah", keys[1], 0.0), ("dynamic", keys[2], half_digit)]
    {
        let ours = rows.iter().find(|row| row["model"] == model).unwrap()["amount"].as_f64().unwrap();
        let gap = (ours - reference[key].as_f64().unwrap()).abs();
        assert!(gap <= tolerance, "{model}: ours {ours}, expected {}", reference[key]);
    }
}

/// chillR 0.77 on the same file.
#[test]
fn hours_in_fahrenheit_give_the_sums_of_the_reference_program() {
    let reference = expected("seattle_hourly_expected.json");
    let answer = json_of(budswell().args(["calc", "chill", &vector(reference["file"].as_str().unwrap())]));
    assert_eq!(answer["hours"], reference["hours"]);
    cold_agrees(&answer, &reference, ["chill_hours_0_7p2C", "utah_C", "dynamic_portions"], 5e-11);
}

/// Independent scripts of the reference set on the consistent curve.
#[test]
fn daily_extremes_give_the_sums_of_the_reference_series() {
    let reference = &expected("hourly_from_daily_sums.json")["sums"]["consistent_variant"];
    let file = vector("data/seattle_daily_2012_2014.csv");
    let args = ["--latitude", "47.45", "--from", "2012-11-01", "--to", "2013-03-31"];
    let answer = json_of(budswell().args(["calc", "chill", &file]).args(args));
    assert_eq!(answer["hours"], 151 * 24);
    cold_agrees(&answer, reference, ["chill_hours_0_7p2C", "utah_C", "dynamic_portions"], 5e-8);
}

/// Independent scripts of the reference set; the files lack single days, which are filled and named.
#[test]
fn korean_winters_with_an_absent_day_give_the_sums_of_the_reference_scripts() {
    let reference = expected("kma_expected.json");
    let (mut winters, mut filled) = (0, 0);
    for case in reference["sums"].as_array().unwrap().iter().filter(|case| case["year"].as_i64() < Some(2003))
    {
        let (station, year) = (case["station"].as_str().unwrap(), case["year"].as_i64().unwrap());
        let file = vector(&format!("data/kma_{}_daily.csv", station.to_lowercase()));
        let latitude = reference["latitude"][station].to_string();
        let (from, to) = (format!("{}-11-01", year - 1), format!("{year}-04-30"));
        let args = ["--latitude", &latitude, "--from", &from, "--to", &to];
        let answer = json_of(budswell().args(["calc", "chill", &file]).args(args));
        assert_eq!(answer["hours"], case["hours"], "{station} {year}");
        cold_agrees(&answer, &case["consistent"], ["ch", "utah", "cp"], 5e-7);
        filled += answer["days_filled"].as_array().unwrap().len();
        winters += 1;
    }
    assert_eq!((winters, filled), (12, 4), "31 December 1997 and 2001 are absent at both stations");
}

#[test]
fn no_sum_runs_across_a_gap() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("station.csv");
    fs::write(&file, "date,tmin,tmax\n2026-01-01,0,5\n2026-01-02,0,5\n2026-01-09,1,6\n").unwrap();
    let answer = json_of(budswell().args(["calc", "chill", "--latitude", "47"]).arg(&file));
    let stretches = answer["stretches"].as_array().unwrap();
    let spans: Vec<_> =
        stretches.iter().map(|told| (told["from"].as_str(), told["hours"].as_i64())).collect();
    assert_eq!(spans, [(Some("2026-01-01"), Some(48)), (Some("2026-01-09"), Some(24))]);
}

/// Independent scripts of the reference set, and SPA by pvlib 0.16.1 where the formulas stand beside it.
#[test]
fn day_length_is_given_by_three_formulas() {
    let mut reader = csv::Reader::from_path(climate_vector("daylength_expected.csv")).unwrap();
    let mut told = 0;
    for row in reader.records().map(Result::unwrap).step_by(15) {
        let args = ["--latitude", &row[0], "--date", &row[2]];
        let answer = json_of(budswell().args(["calc", "daylength"]).args(args));
        for (at, ours) in answer["rows"].as_array().unwrap().iter().enumerate() {
            let gap = (ours["hours"].as_f64().unwrap() - row[4 + at].parse::<f64>().unwrap()).abs();
            assert!(gap <= 5e-7, "{ours} beside {row:?}");
            told += 1;
        }
    }
    assert!(told >= 24, "only {told} figures");
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
    let closes = |answer: &Value| answer["window"]["closes"]["middle"].as_str().unwrap().to_string();
    assert!(closes(&after) < closes(&before), "{after:#}");
    assert_eq!(after["stage_today"], "03 full, still shut");
    assert!(
        before["caveats"]
            .as_array()
            .unwrap()
            .iter()
            .any(|words| words.as_str().unwrap().contains("no bud look"))
    );
    assert!(before["cold"]["received_portions"].as_f64().unwrap() > 10.0);
}

#[test]
fn a_taxon_we_do_not_know_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let file = invented_years(folder.path());
    let args = ["--latitude", "47.4", "--taxon", "apple pie", "--today", "2025-03-20"];
    let done = budswell().args(["calc", "window"]).arg(&file).args(args).assert().failure();
    assert!(String::from_utf8_lossy(&done.get_output().stderr).contains("apple pie"));
}

#[test]
fn a_feed_is_told_with_its_standing_and_a_bad_field_by_name() {
    let bag = ["calc", "feed", "--ppm", "150", "--nitrogen", "20", "--ratio", "200", "--units", "imperial"];
    let answer = json_of(budswell().args(bag));
    let stock =
        answer["feed"]["figures"].as_array().unwrap().iter().find(|figure| figure["key"] == "stock").unwrap();
    assert!((stock["amount"].as_f64().unwrap() - 20.029).abs() < 5e-4, "{stock}");
    assert!(stock["standing"].as_str().unwrap().starts_with("published"), "{stock}");
    assert!(answer.get("spray").is_none(), "no spray was asked: {answer}");
    let refused = budswell().args(["calc", "feed", "--label", "two", "--spray", "1"]).assert().failure();
    let words = String::from_utf8_lossy(&refused.get_output().stderr).into_owned();
    assert!(words.contains("Figure on the label: “two” is not a number"), "{words}");
}

#[test]
fn a_pot_with_a_mix_is_told_from_two_sheets() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_string()
    };
    let pots = sheet(
        "pots.csv",
        "name,outline,length,width,height,feet,floor,thick,gap\nTray,rectangle,30,22,7,1,0.8,0.8,0.5\n",
    );
    let mixes = sheet(
        "mixes.csv",
        "name,grain_low,grain_high,height,volume,dry,flooded,drained,inside\nPine,3,6,12,2,1240,2440,1790,0.18\nGrit,2,4,,,,,,\n",
    );
    let args = ["calc", "mix", "--pots", &pots, "--mixes", &mixes];
    let told = json_of(budswell().args(args));
    let rows = told["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 2);
    let figure = |row: usize, name: &str| rows[row][name].as_f64().unwrap();
    assert!(
        (figure(0, "capacity") + figure(0, "air") - 0.60).abs() < 1e-9,
        "flooded less dry is 0.60 of the volume"
    );
    assert!((figure(0, "water_l") - figure(0, "capacity") * figure(0, "soil_l")).abs() < 1e-9);
    assert!(figure(0, "capacity") > 0.275, "a tray of 4.7 cm holds more than the bucket of 12");
    let profile = rows[0]["profile_from_floor"].as_array().unwrap();
    assert!(profile[0]["water"].as_f64() > profile[profile.len() - 1]["water"].as_f64());
    assert!(rows[1]["standing"].as_str().unwrap().starts_with("our estimate"));
    let tipped = json_of(budswell().args(args).args(["--mix", "Pine", "--tilt", "15"]));
    assert!(tipped["rows"][0]["water_l"].as_f64().unwrap() < figure(0, "water_l"));
    budswell().args(args).args(["--mix", "Other"]).assert().failure();
}

/// The record that the needs are fitted to.
fn record(name: &str) -> String {
    format!("{}/../dormancy/data/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// Days of the year of first broken buds, by id, out of the command's CSV.
fn broken(text: &str) -> std::collections::BTreeMap<String, [f64; 3]> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let day = |text: &str| f64::from(text.parse::<jiff::civil::Date>().unwrap().day_of_year());
    let rows = reader.records().map(Result::unwrap).filter(|row| &row[3] == "7");
    rows.map(|row| (row[0].to_string(), [day(&row[4]), day(&row[5]), day(&row[6])])).collect()
}

/// Oaks at Munich in 2018 opened on day 110.7 outside and on day 97.1 in the unheated house (Zohner et al. 2021).
#[test]
fn trees_of_a_file_are_told_by_the_shipped_needs_and_again_after_looks() {
    let folder = tempfile::tempdir().unwrap();
    let (cases, looks) = (folder.path().join("cases.csv"), folder.path().join("looks.csv"));
    let air = record("potted_munich_hourly.csv");
    let text = format!(
        "id,taxon,latitude,weather,winter,moves\n\
         out,Quercus robur,48.16,{air}#outside_c,2018,\n\
         in,Quercus robur,48.16,{air}#outside_c,2018,2018-01-01 {air}#inside_c sky\n\
         beech,Fagus sylvatica,48.16,{air}#outside_c,2018,\n"
    );
    fs::write(&cases, text).unwrap();
    fs::write(&looks, "tree,day,stage,sureness\nout,2018-04-08,7,sure\n").unwrap();
    let ask = |more: &[&str]| {
        let done = budswell().args(["calc", "waking"]).arg(&cases).args(more).assert().success();
        broken(&String::from_utf8(done.get_output().stdout.clone()).unwrap())
    };
    let plain = ask(&[]);
    for (id, seen) in [("out", 110.7), ("in", 97.1), ("beech", 117.2)] {
        let [early, middle, late] = plain[id];
        assert!(
            (middle - seen).abs() <= 3.0 && early < seen && seen < late,
            "{id}: {:?}, seen {seen}",
            plain[id]
        );
    }
    let taught = ask(&["--learn", looks.to_str().unwrap()]);
    let sooner = |id: &str| plain[id][1] - taught[id][1];
    assert!(sooner("out") > sooner("in") && sooner("in") > sooner("beech"), "{plain:?} {taught:?}");
    assert!(sooner("in") >= 1.0 && sooner("beech") >= 0.0, "{plain:?} {taught:?}");
}

#[test]
fn a_case_that_cannot_be_told_is_named_by_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let cases = folder.path().join("cases.csv");
    let air = record("potted_munich_hourly.csv");
    for (row, words) in [
        (format!("a,apple pie,48,{air}#outside_c,2018"), "apple pie"),
        (format!("a,Quercus robur,148,{air}#outside_c,2018"), "148"),
        (format!("a,Quercus robur,48,{air}#attic,2018"), "attic"),
        (format!("a,Quercus robur,48,{air}#outside_c,1998"), "0 days"),
        (format!("a,ficus-microcarpa,48,{air}#outside_c,2018"), "no winter rest"),
        ("a,Quercus robur,48,nowhere.csv,2018".into(), "nowhere.csv"),
    ] {
        fs::write(&cases, format!("id,taxon,latitude,weather,winter\n{row}\n")).unwrap();
        let done = budswell().args(["calc", "waking"]).arg(&cases).assert().failure();
        let said = String::from_utf8_lossy(&done.get_output().stderr).into_owned();
        assert!(said.contains(words) && said.contains("line "), "{row}: {said}");
    }
}
