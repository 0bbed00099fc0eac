//! The frosts that kill flower buds, against the reference set's copy of the extension table (Michigan State, Washington State), read in
//! whole degrees Fahrenheit; and our Celsius against its second writing, to half its last digit.

use std::{env, fs, path::PathBuf};

use dormancy::frost::FLOWER_BUDS;
use measure::quantity::Fahrenheit;

#[test]
fn every_row_of_the_table_is_ours() {
    let own = || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors"));
    let root = env::var_os("BUDSWELL_VECTORS").map_or_else(own, PathBuf::from);
    let text = fs::read_to_string(root.join("dormancy/frost_critical.csv")).expect("the vectors are there");
    let (mut rows, mut celsius) = (0, 0);
    let mut largest = 0.0_f64;
    for row in csv::Reader::from_reader(text.as_bytes()).records() {
        let row = row.unwrap();
        let bud = FLOWER_BUDS.get(rows).expect("no row more than ours");
        assert_eq!((bud.crop.words(), bud.words), (&row[0], &row[1]));
        for (ours, at) in [(Some(bud.tenth), 3), (bud.most, 4)] {
            let printed = (!row[at].is_empty()).then(|| Fahrenheit(row[at].parse().unwrap()));
            assert_eq!(ours, printed, "{} {}", &row[0], &row[1]);
            if let Some(ours) = ours {
                let gap = (ours.celsius().0 - row[at + 2].parse::<f64>().unwrap()).abs();
                (celsius, largest) = (celsius + 1, largest.max(gap));
                assert!(gap <= 0.005 + 1e-9, "{} {}: gap {gap}", &row[0], &row[1]);
            }
        }
        rows += 1;
    }
    println!("{rows} rows, {celsius} in Celsius, largest gap {largest:.4} °C");
    assert_eq!(rows, FLOWER_BUDS.len());
    assert!(rows >= 49);
}
