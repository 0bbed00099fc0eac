//! The frosts that kill flower buds, against the reference set's copy of the extension table (Michigan State, Washington State), read in
//! whole degrees Fahrenheit; and our Celsius against its second writing, to half its last digit.

mod vector;

use dormancy::frost::FLOWER_BUDS;
use measure::quantity::Fahrenheit;
use vector::{counted, not_ours, text};

#[test]
fn every_row_of_the_table_is_ours() {
    let Some(text) = text("dormancy/frost_critical.csv") else { return };
    let (mut rows, mut celsius) = (0, 0);
    let mut largest = 0.0_f64;
    for row in csv::Reader::from_reader(text.as_bytes()).records() {
        let row = row.unwrap();
        let of = FLOWER_BUDS.iter().find(|bud| (bud.crop.words(), bud.words) == (&row[0], &row[1]));
        let Some(bud) = of else {
            not_ours(&format!("{} {}", &row[0], &row[1]));
            continue;
        };
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
    println!("{celsius} in Celsius, largest gap {largest:.4} °C");
    counted("dormancy/frost_critical.csv: rows", rows, FLOWER_BUDS.len());
}
