//! `budswell calc assign` on the five proven instances, and on files that are wrong.

use std::{collections::BTreeMap, fs};

use assert_cmd::Command;
use serde_json::Value;

fn budswell() -> Command {
    Command::cargo_bin("budswell").unwrap()
}

fn instance(name: &str) -> String {
    // Another folder's instances are solved by the season's own check.
    format!("{}/../season/tests/vectors/decisions/assignment/{name}.json", env!("CARGO_MANIFEST_DIR"))
}

/// Carries the printed steps out by hand on the printed instance: the value, if no step meets a pot that is taken.
fn by_hand(told: &Value, steps: &Value) -> i64 {
    let list = |name: &str| told[name].as_array().unwrap();
    let mut inside: BTreeMap<i64, i64> = BTreeMap::new();
    let mut training = BTreeMap::new();
    for tree in list("trees") {
        let id = tree["id"].as_i64().unwrap();
        training.insert(id, tree["training_score"].as_i64().unwrap());
        if let Some(pot) = tree["pot"].as_i64() {
            inside.insert(pot, id);
        }
    }
    let (mut value, mut potted) = (0, 0);
    for step in steps.as_array().unwrap() {
        let tree = step["tree"].as_i64().unwrap();
        // A tree parked or potted has left its old pot; where it was potted is not lost, for none is moved twice.
        if let Some(pot) = list("trees").iter().find(|row| row["id"] == tree).unwrap()["pot"].as_i64()
            && inside.get(&pot) == Some(&tree)
        {
            inside.remove(&pot);
        }
        if step["do"] == "park" {
            value -= told["cycle_penalty"].as_i64().unwrap();
            continue;
        }
        potted += 1;
        if let Some(pot) = step["into"].as_i64() {
            assert_eq!(inside.insert(pot, tree), None, "{step}");
            let option = list("options").iter().find(|row| row[0] == tree && row[1] == pot);
            value += option.unwrap_or_else(|| panic!("{step} is no option"))[2].as_i64().unwrap();
        } else {
            value += training[&tree];
        }
    }
    assert_eq!(potted, list("trees").len());
    value
}

/// Proven by scipy, OR-Tools and HiGHS in the reference set.
#[test]
fn five_instances_are_shared_out_as_proven() {
    for name in ["P1", "P2", "P3", "P4", "P5"] {
        let file = instance(name);
        let told: Value = serde_json::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
        let done = budswell().args(["calc", "assign", &file]).assert().success();
        let answer: Value = serde_json::from_slice(&done.get_output().stdout).unwrap();
        assert_eq!(answer["value"], told["expected"]["optimum_B"], "{name}");
        assert_eq!(answer["value_if_swaps_were_free"], told["expected"]["optimum_A_no_cycle_cost"], "{name}");
        assert_eq!(answer["proven"], true, "{name}");
        assert_eq!(Some(by_hand(&told, &answer["steps"])), answer["value"].as_i64(), "{name}");
        let seconds = answer["seconds"].as_f64().unwrap();
        assert!(seconds > 0.0 && seconds < 60.0, "{name}: {seconds} s");
    }
}

#[test]
fn a_wrong_key_is_named_with_its_value_and_its_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shelf.json");
    let text = fs::read_to_string(instance("P1")).unwrap().replacen("[0,3,180]", "[0,99,180]", 1);
    assert!(text.contains("[0,99,180]"), "the instance is written as expected");
    fs::write(&file, text).unwrap();
    let refused = budswell().args(["calc", "assign"]).arg(&file).assert().failure();
    let words = String::from_utf8_lossy(&refused.get_output().stderr).into_owned();
    assert!(
        words.contains("shelf.json was not read")
            && words.contains("“99” at options[0][1]: no pot has this id"),
        "{words}"
    );
    let absent = folder.path().join("none.json");
    let refused = budswell().args(["calc", "assign"]).arg(&absent).assert().failure();
    assert!(String::from_utf8_lossy(&refused.get_output().stderr).contains("none.json"));
}

#[test]
fn trees_that_cannot_all_be_placed_are_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shelf.json");
    let text = r#"{ "trees": [{ "id": 1, "pot": 1 }, { "id": 2, "pot": 2 }], "pots": [{ "id": 1 }, { "id": 2 }],
        "options": [[1, 2, 5], [2, 1, 5]], "cycle_penalty": 0, "temp_containers": 0 }"#;
    fs::write(&file, text).unwrap();
    let refused = budswell().args(["calc", "assign"]).arg(&file).assert().failure();
    let words = String::from_utf8_lossy(&refused.get_output().stderr).into_owned();
    assert!(words.contains("cannot all be given a place with 0 temporary boxes"), "{words}");
    fs::write(&file, text.replace("\"temp_containers\": 0", "\"temp_containers\": 1")).unwrap();
    budswell().args(["calc", "assign"]).arg(&file).assert().success();
}
