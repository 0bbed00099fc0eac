//! A shelf to be shared out, as a file of trees, pots and who may have which.

use std::collections::BTreeMap;

use season::shelf::assign::{Choice, MOST, Shelf, Tree};
use serde_json::Value;

use crate::refusal::Refusal;

/// A shelf to be shared out, with the numbers that its file gives to trees and pots.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instance {
    /// The number of each tree.
    pub trees: Vec<i64>,
    /// The number of each pot.
    pub pots: Vec<i64>,
    /// Trees, pots and choices by their places in the lists.
    pub shelf: Shelf,
}

/// Reads a shelf written as JSON in the layout `budswell-assign-1`: `trees` with `id`, `pot` and `training_score`, `pots` with
/// `id`, `options` of tree, pot and score, `cycle_penalty` and `temp_containers`. Other keys are passed over.
///
/// # Errors
///
/// Every key whose value cannot be taken, with the value; then nothing is read.
///
/// # Example
///
/// ```
/// use intake::instance::read;
///
/// let text = r#"{ "trees": [{ "id": 7, "pot": 3, "training_score": 10 }], "pots": [{ "id": 3 }],
///     "options": [[7, 3, 90]], "cycle_penalty": 25, "temp_containers": 1 }"#;
/// assert_eq!(read(text).unwrap().shelf.choices[0].points, 90);
/// let wrong = read(&text.replace("[7, 3, 90]", "[7, 4, 90]")).unwrap_err();
/// assert_eq!(wrong[0].to_string(), "“4” at options[0][1]: no pot has this id");
/// ```
pub fn read(text: &str) -> Result<Instance, Vec<Refusal>> {
    let whole: Value = serde_json::from_str(text).map_err(|why| {
        let why = format!("the file is no JSON: {why}");
        vec![Refusal { line: 0, value: String::new(), why }]
    })?;
    let mut told = Told { refused: Vec::new() };
    if let Some(format) = whole.get("format").filter(|format| *format != "budswell-assign-1") {
        told.refuse("format", format, "only “budswell-assign-1” is read");
    }
    let pots = told.pots(&whole);
    let trees = told.trees(&whole, &pots);
    let (ids, trees): (Vec<i64>, Vec<Tree>) = trees.into_iter().unzip();
    let choices = told.choices(&whole, &ids, &pots);
    let ring_price = told.whole_number(whole.get("cycle_penalty"), "cycle_penalty", 0).unwrap_or(0);
    let boxes = told.whole_number(whole.get("temp_containers"), "temp_containers", 0).unwrap_or(0);
    if !told.refused.is_empty() {
        return Err(told.refused);
    }
    let boxes = usize::try_from(boxes).unwrap_or(0);
    let shelf = Shelf { trees, pots: pots.len(), choices, ring_price, boxes };
    Ok(Instance { trees: ids, pots, shelf })
}

struct Told {
    refused: Vec<Refusal>,
}

impl Told {
    fn refuse(&mut self, key: &str, value: &Value, why: &str) {
        let value = match value.to_string() {
            long if long.chars().count() > 80 => long.chars().take(80).chain(['…']).collect(),
            short => short,
        };
        self.refused.push(Refusal { line: 0, value, why: format!("at {key}: {why}") });
    }

    fn absent(&mut self, key: &str) {
        self.refused.push(Refusal { line: 0, value: String::new(), why: format!("{key} is absent") });
    }

    fn list<'a>(&mut self, whole: &'a Value, key: &str) -> &'a [Value] {
        match whole.get(key) {
            Some(Value::Array(list)) => return list,
            Some(other) => self.refuse(key, other, "a list is needed"),
            None => self.absent(key),
        }
        &[]
    }

    /// A whole number from `low` to [`MOST`].
    fn whole_number(&mut self, value: Option<&Value>, key: &str, low: i64) -> Option<i64> {
        let Some(value) = value else {
            self.absent(key);
            return None;
        };
        let number = value.as_i64().filter(|number| (low..=MOST).contains(number));
        if number.is_none() {
            self.refuse(key, value, &format!("a whole number from {low} to {MOST} is needed"));
        }
        number
    }

    /// The number that is `id` of a row; every row has its own.
    fn id(&mut self, row: &Value, key: &str, seen: &mut BTreeMap<i64, usize>, at: usize) -> Option<i64> {
        let key = format!("{key}[{at}].id");
        let id = self.whole_number(row.get("id"), &key, -MOST)?;
        if let Some(first) = seen.insert(id, at) {
            self.refuse(&key, &Value::from(id), &format!("row {first} has this id already"));
        }
        Some(id)
    }

    fn pots(&mut self, whole: &Value) -> Vec<i64> {
        let (rows, mut seen) = (self.list(whole, "pots"), BTreeMap::new());
        rows.iter().enumerate().filter_map(|(at, row)| self.id(row, "pots", &mut seen, at)).collect()
    }

    fn trees(&mut self, whole: &Value, pots: &[i64]) -> Vec<(i64, Tree)> {
        let places = places(pots.iter().copied());
        let (rows, mut seen, mut inside) = (self.list(whole, "trees"), BTreeMap::new(), BTreeMap::new());
        let mut trees = Vec::new();
        for (at, row) in rows.iter().enumerate() {
            let Some(id) = self.id(row, "trees", &mut seen, at) else { continue };
            let key = format!("trees[{at}].pot");
            let pot = row.get("pot").filter(|pot| !pot.is_null());
            let pot = pot.and_then(|pot| self.named(pot, &key, &places, "pot"));
            if let Some(first) = pot.and_then(|pot| inside.insert(pot, id)) {
                self.refuse(&key, &row["pot"], &format!("tree {first} stands in this pot already"));
            }
            let training = row.get("training_score").filter(|points| !points.is_null());
            let key = format!("trees[{at}].training_score");
            let training = training.and_then(|points| self.whole_number(Some(points), &key, -MOST));
            trees.push((id, Tree { stands_in: pot, training }));
        }
        trees
    }

    fn choices(&mut self, whole: &Value, trees: &[i64], pots: &[i64]) -> Vec<Choice> {
        let (trees, pots) = (places(trees.iter().copied()), places(pots.iter().copied()));
        let known =
            |id: &Value, places: &BTreeMap<i64, usize>| id.as_i64().and_then(|id| places.get(&id).copied());
        let rows = self.list(whole, "options");
        let (mut choices, mut from) = (Vec::with_capacity(rows.len()), Vec::with_capacity(rows.len()));
        for (at, row) in rows.iter().enumerate() {
            let Some([tree, pot, points]) = row.as_array().and_then(|row| row.first_chunk::<3>()) else {
                self.refuse(&format!("options[{at}]"), row, "tree, pot and score are needed");
                continue;
            };
            let score = points.as_i64().filter(|points| (-MOST..=MOST).contains(points));
            if let (Some(tree), Some(pot), Some(points)) = (known(tree, &trees), known(pot, &pots), score) {
                choices.push(Choice { tree, pot, points });
                from.push(at);
                continue;
            }
            let key = |part: usize| format!("options[{at}][{part}]");
            self.named(tree, &key(0), &trees, "tree");
            self.named(pot, &key(1), &pots, "pot");
            self.whole_number(Some(points), &key(2), -MOST);
        }
        self.each_once(rows, &choices, &from);
        choices
    }

    /// Refuses each row that says again what a row before it said; `from` is the row of each choice.
    fn each_once(&mut self, rows: &[Value], choices: &[Choice], from: &[usize]) {
        let pair = |at: &usize| (choices[*at].tree, choices[*at].pot);
        let mut order: Vec<usize> = (0..choices.len()).collect();
        if order.is_sorted_by(|one, next| pair(one) < pair(next)) {
            return;
        }
        order.sort_by_key(pair);
        for same in order.chunk_by(|one, next| pair(one) == pair(next)) {
            for &again in &same[1..] {
                let (at, first) = (from[again], from[same[0]]);
                self.refuse(
                    &format!("options[{at}]"),
                    &rows[at],
                    &format!("options[{first}] says this already"),
                );
            }
        }
    }

    fn named(&mut self, id: &Value, key: &str, places: &BTreeMap<i64, usize>, what: &str) -> Option<usize> {
        let place = id.as_i64().and_then(|id| places.get(&id).copied());
        if place.is_none() {
            self.refuse(key, id, &format!("no {what} has this id"));
        }
        place
    }
}

fn places(ids: impl Iterator<Item = i64>) -> BTreeMap<i64, usize> {
    ids.enumerate().map(|(at, id)| (id, at)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = r#"{ "format": "budswell-assign-1",
        "trees": [{ "id": 1, "pot": 5, "training_score": 4 }, { "id": 2, "pot": null }],
        "pots": [{ "id": 5 }, { "id": 6 }],
        "options": [[1, 5, 30], [2, 5, 40], [2, 6, 7]], "cycle_penalty": 25, "temp_containers": 1 }"#;

    #[track_caller]
    fn refused(from: &str, to: &str, words: &str) {
        assert!(GOOD.contains(from), "{from}");
        let told = read(&GOOD.replace(from, to)).unwrap_err();
        let told: Vec<String> = told.iter().map(Refusal::to_string).collect();
        assert_eq!(told, [words]);
    }

    #[test]
    fn a_tree_in_the_ground_and_one_that_no_training_pot_fits_are_read() {
        let told = read(GOOD).unwrap();
        assert_eq!(told.shelf.trees[0], Tree { stands_in: Some(0), training: Some(4) });
        assert_eq!(told.shelf.trees[1], Tree { stands_in: None, training: None });
    }

    #[test]
    fn what_is_wrong_is_named_by_its_key_and_value() {
        let number = "a whole number from -1000000000 to 1000000000 is needed";
        refused("\"pot\": 5", "\"pot\": 9", "“9” at trees[0].pot: no pot has this id");
        refused("\"pot\": null", "\"pot\": 5", "“5” at trees[1].pot: tree 1 stands in this pot already");
        refused("[2, 6, 7]", "[2, 6, 7.5]", &format!("“7.5” at options[2][2]: {number}"));
        refused("[2, 6, 7]", "[2, 6]", "“[2,6]” at options[2]: tree, pot and score are needed");
        refused("[2, 6, 7]", "[3, 6, 7]", "“3” at options[2][0]: no tree has this id");
        refused("[2, 6, 7]", "[2, 5, 7]", "“[2,5,7]” at options[2]: options[1] says this already");
        refused(
            "{ \"id\": 6 }",
            "{ \"id\": 5 }, { \"id\": 6 }",
            "“5” at pots[1].id: row 0 has this id already",
        );
        refused(
            "\"training_score\": 4",
            "\"training_score\": \"4\"",
            &format!("“\"4\"” at trees[0].training_score: {number}"),
        );
        refused(", \"temp_containers\": 1", "", "temp_containers is absent");
        let from_0 = "a whole number from 0 to 1000000000 is needed";
        refused(": 25", ": -1", &format!("“-1” at cycle_penalty: {from_0}"));
        refused(
            "assign-1",
            "assign-2",
            "“\"budswell-assign-2\"” at format: only “budswell-assign-1” is read",
        );
    }

    #[test]
    fn what_is_no_json_and_what_lacks_its_lists_is_refused() {
        assert!(read("trees").unwrap_err()[0].why.starts_with("the file is no JSON"));
        let told = read("{}").unwrap_err();
        let told: Vec<&str> = told.iter().map(|refusal| refusal.why.as_str()).collect();
        let keys = ["pots", "trees", "options", "cycle_penalty", "temp_containers"];
        assert_eq!(told, keys.map(|key| format!("{key} is absent")));
    }
}
