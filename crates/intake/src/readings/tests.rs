//! Claims about batches.

use proptest::{collection::vec, prelude::*};
use serde_json::{Value, json};
use store::reader::Reader;

use super::*;
use crate::{
    import::{Kind, Options, import},
    logger, token,
};

/// 2026-07-14T06:00:00Z.
const NOW: i64 = 1_784_008_800;

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    let places = b"name,shelter\nCold frame,cold-frame\nBench,open-bench\n";
    import(&mut store, &Kind::Places, "p", places, &Options::default()).unwrap();
    import(&mut store, &Kind::Trees, "t", b"name,taxon\nOld Maple,acer-palmatum\n", &Options::default())
        .unwrap();
    token::make(&mut store, "hut", NOW).unwrap();
    store
}

fn take(store: &mut Store, body: &[u8]) -> Result<Receipt, BatchError> {
    keep(store, "hut", read(body, NOW)?)
}

fn send(store: &mut Store, rows: &[Value]) -> Receipt {
    take(store, json!({ "readings": rows }).to_string().as_bytes()).unwrap()
}

fn warm(at: i64, value: f64) -> Value {
    json!({"place": "cold-frame", "kind": "temperature", "at": at, "value": value})
}

/// How many readings of either place and of the tree are kept.
fn kept(reader: &Reader) -> usize {
    let air = |place| reader.air_readings(place, 0, i64::MAX).unwrap().len();
    air("cold-frame") + air("bench") + reader.weights("old-maple").unwrap().len()
}

#[test]
fn every_unit_and_way_of_telling_the_time_is_understood() {
    let mut store = stocked();
    let told = send(
        &mut store,
        &[
            json!({"place": "cold-frame", "kind": "temperature", "at": "2026-07-14T05:40:00Z", "value": 3.1}),
            json!({"place": "Cold frame", "kind": "temperature", "at": "2026-07-14T07:41:00+02:00", "value": 50, "unit": "°F"}),
            json!({"place": "bench", "kind": "humidity", "at": 1_784_000_000.9, "value": 81, "unit": "%", "battery": 3}),
            json!({"tree": "Old Maple", "kind": "weight", "at": NOW - 9, "value": 1.84, "unit": "kg"}),
            json!({"tree": "old-maple", "kind": "weight", "at": NOW - 8, "value": 4.06, "unit": "lb"}),
        ],
    );
    assert_eq!(told, Receipt { taken: 5, ..Receipt::default() });
    let reader = store.reader().unwrap();
    let frame = reader.air_readings("cold-frame", 0, NOW).unwrap();
    let seen: Vec<(i64, f64)> = frame.iter().map(|it| (it.at, it.measured.value())).collect();
    assert_eq!(seen, [(NOW - 1200, 3.1), (NOW - 1140, 10.0)]);
    assert_eq!(reader.air_readings("bench", 0, NOW).unwrap()[0].at, 1_784_000_000);
    let weights = reader.weights("old-maple").unwrap();
    assert!(
        (weights[0].1.0 - 1840.0).abs() < 1e-9 && (weights[1].1.0 - 1841.585).abs() < 1e-3,
        "{weights:?}"
    );
}

#[test]
fn each_row_that_cannot_be_is_named_and_the_others_are_taken() {
    let mut store = stocked();
    let bad = [
        (json!(7), "is not a reading"),
        (json!({"place": "attic", "kind": "temperature", "at": NOW, "value": 3}), "no place"),
        (json!({"tree": "cold-frame", "kind": "weight", "at": NOW, "value": 3, "unit": "kg"}), "no tree"),
        (json!({"tree": "old-maple", "kind": "temperature", "at": NOW, "value": 3}), "needs a place"),
        (json!({"place": "bench", "kind": "rain", "at": NOW, "value": 3}), "no kind"),
        (json!({"place": "bench", "kind": "temperature", "at": NOW, "value": "3"}), "not a number"),
        (json!({"place": "bench", "kind": "temperature", "at": NOW, "value": 60.1}), "no air"),
        (json!({"place": "bench", "kind": "temperature", "at": NOW, "value": -127, "unit": "C"}), "no air"),
        (json!({"place": "bench", "kind": "temperature", "at": NOW, "value": 3, "unit": "K"}), "use C or F"),
        (json!({"place": "bench", "kind": "humidity", "at": NOW, "value": 100.5}), "0 to 100"),
        (json!({"tree": "old-maple", "kind": "weight", "at": NOW, "value": 900}), "needs its unit"),
        (
            json!({"tree": "old-maple", "kind": "weight", "at": NOW, "value": 0, "unit": "g"}),
            "weighs that little",
        ),
        (json!({"tree": "old-maple", "kind": "weight", "at": NOW, "value": 1e9, "unit": "kg"}), "that heavy"),
        (json!({"place": "bench", "kind": "temperature", "value": 3}), "needs its time"),
        (warm(NOW + 601, 3.0), "has not come"),
        (warm(NOW * 1000, 3.0), "has not come"),
        (warm(946_684_799, 3.0), "before 2000"),
        (
            json!({"place": "bench", "kind": "temperature", "at": "2026-07-14T05:40:00", "value": 3}),
            "which clock",
        ),
        (json!({"place": "bench", "kind": "temperature", "at": "yesterday", "value": 3}), "not a time"),
    ];
    let mut rows: Vec<Value> = bad.iter().map(|(row, _)| row.clone()).collect();
    rows.insert(3, warm(NOW + 600, 4.0));
    rows.push(warm(946_684_800, 5.0));
    let told = send(&mut store, &rows);
    assert_eq!((told.taken, told.known, told.refused.len()), (2, 0, bad.len()));
    for ((position, refused), (row, why)) in told.refused.iter().enumerate().zip(&bad) {
        assert!(refused.why.contains(why), "{row}: {refused:?}");
        assert_eq!(refused.index, position + usize::from(position >= 3));
    }
}

#[test]
fn another_figure_for_the_same_second_is_reported_and_what_stood_is_kept() {
    let mut store = stocked();
    send(&mut store, &[warm(NOW, 3.1)]);
    let told = send(&mut store, &[warm(NOW, 3.1), warm(NOW, 3.4)]);
    assert_eq!((told.taken, told.known, told.refused.len()), (0, 1, 1));
    assert_eq!((told.refused[0].index, told.refused[0].value.as_str()), (1, "3.4 °C"));
    assert!(told.refused[0].why.starts_with("3.1 °C stands"), "{}", told.refused[0].why);
    assert_eq!(store.reader().unwrap().air_readings("cold-frame", 0, i64::MAX).unwrap().len(), 1);
}

#[test]
fn a_batch_is_no_longer_than_allowed() {
    let mut store = stocked();
    let rows: Vec<Value> = (0..=MOST as i64).map(|second| warm(NOW - second, 3.0)).collect();
    let body = json!({ "readings": rows }).to_string();
    assert!(matches!(take(&mut store, body.as_bytes()), Err(BatchError::TooMany(5_001))));
    assert_eq!(kept(&store.reader().unwrap()), 0);
    assert_eq!(send(&mut store, &rows[..MOST]).taken, MOST);
}

fn odd() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        "\\PC{0,12}".prop_map(Value::from),
        vec(any::<u8>(), 0..3).prop_map(Value::from),
        Just(json!({"a": [1]})),
    ]
}

fn cell(name: &'static str) -> BoxedStrategy<Value> {
    let usual: BoxedStrategy<Value> = match name {
        "place" => {
            prop_oneof![Just("Cold frame"), Just("bench"), Just("attic")].prop_map(Value::from).boxed()
        }
        "tree" => prop_oneof![Just("Old Maple"), Just("nobody")].prop_map(Value::from).boxed(),
        "kind" => {
            prop_oneof![Just("temperature"), Just("humidity"), Just("weight")].prop_map(Value::from).boxed()
        }
        "at" => prop_oneof![
            (NOW - 5..NOW + 5).prop_map(Value::from),
            Just("2026-07-14T06:00:01Z".into()),
            Just("2026-07-14T06:00:01.7+00:00".into())
        ]
        .boxed(),
        "value" => {
            prop_oneof![(-2..3_i64).prop_map(Value::from), (-70.0..130.0).prop_map(Value::from)].boxed()
        }
        _ => prop_oneof![
            Just(Value::Null),
            prop_oneof![Just("C"), Just("g"), Just("lb")].prop_map(Value::from)
        ]
        .boxed(),
    };
    prop_oneof![12 => usual, 1 => odd()].boxed()
}

fn any_row() -> impl Strategy<Value = Value> {
    let cells = ["place", "tree", "kind", "at", "value", "unit"].map(cell).to_vec();
    let row = cells.prop_map(|cells| {
        let names = ["place", "tree", "kind", "at", "value", "unit"];
        Value::Object(names.into_iter().map(String::from).zip(cells).collect())
    });
    prop_oneof![15 => row, 1 => odd()]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    #[test]
    fn every_row_of_a_batch_is_counted_once_and_the_same_batch_again_adds_nothing(rows in vec(any_row(), 0..20)) {
        let mut store = stocked();
        let reader = store.reader().unwrap();
        let first = send(&mut store, &rows);
        prop_assert_eq!(first.taken + first.known + first.refused.len(), rows.len());
        prop_assert_eq!(kept(&reader), first.taken);
        let again = send(&mut store, &rows);
        prop_assert_eq!((again.taken, again.known), (0, first.taken + first.known));
        prop_assert_eq!(again.refused, first.refused);
        prop_assert_eq!(kept(&reader), first.taken);
        prop_assert!(reader.faults().unwrap().is_empty());
    }

    #[test]
    fn a_broken_body_never_panics_and_nothing_half_is_taken(
        rows in vec(any_row(), 0..6), at: prop::sample::Index, byte: u8, cut: bool,
    ) {
        let mut body = json!({ "readings": rows }).to_string().into_bytes();
        let at = at.index(body.len());
        if cut { body.truncate(at) } else { body[at] = byte }
        let mut store = stocked();
        let reader = store.reader().unwrap();
        let before = reader.changes().unwrap();
        match take(&mut store, &body) {
            Ok(receipt) => prop_assert_eq!(kept(&reader), receipt.taken),
            Err(_) => {
                prop_assert_eq!(kept(&reader), 0);
                prop_assert_eq!(reader.changes().unwrap(), before);
            }
        }
    }

    #[test]
    fn in_any_order_and_in_any_batches_the_hours_come_out_as_from_a_file(
        told in prop::collection::btree_map(NOW - 40_000..NOW, -20.0..40.0_f64, 1..60),
        order in Just(()).prop_perturb(|(), mut chance| chance.next_u64()),
        size in 1..9_usize,
    ) {
        let readings: Vec<logger::Reading> = told
            .iter()
            .map(|(&at, &temperature)| logger::Reading { at, temperature, humidity: None })
            .collect();
        let mut rows: Vec<Value> = told.iter().map(|(&at, &value)| warm(at, value)).collect();
        rows.sort_by_key(|row| row["at"].as_i64().unwrap().wrapping_mul(order as i64 | 1));
        let mut store = stocked();
        for batch in rows.chunks(size) {
            prop_assert_eq!(send(&mut store, batch).taken, batch.len());
        }
        let (ours, file) = (store.reader().unwrap().logged_hours("cold-frame").unwrap(), logger::hourly(&readings));
        prop_assert_eq!(ours.len(), file.len());
        for (ours, file) in ours.iter().zip(&file) {
            prop_assert_eq!((ours.at, ours.filled), (file.at, file.filled));
            prop_assert!((ours.temperature - file.temperature).abs() < 1e-9);
        }
    }
}
