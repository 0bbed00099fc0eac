//! Day length at 120 place-dates of 2023, all three formulas.
//!
//! `daylength_expected.csv`: own scripts of the reference set; its last column is SPA by pvlib 0.16.1, an outside
//! program, which Spencer and Forsythe must meet within 4.5 minutes. Tolerance on the formulas is half the last
//! digit stored.

mod vector;

use climate::light::{DayLength, day_length};
use measure::quantity::Degrees;
use vector::{counted, text};

#[test]
fn three_formulas_and_spa() {
    let Some(file) = text("dormancy/daylength_expected.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let (mut rows, mut gaps, mut minutes) = (0, [0.0_f64; 3], [0.0_f64; 2]);
    for row in reader.records() {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let day: u16 = row[3].parse().unwrap();
        for (at, method) in
            [DayLength::Spencer, DayLength::Forsythe, DayLength::Fao56].into_iter().enumerate()
        {
            let ours = day_length(method, Degrees(number(0)), day).unwrap().0;
            let gap = (ours - number(4 + at)).abs();
            gaps[at] = gaps[at].max(gap);
            assert!(gap <= 5e-7 + 1e-12, "{method:?} {row:?} ours {ours}");
            if at < 2 {
                minutes[at] = minutes[at].max((ours - number(7)).abs() * 60.0);
            }
        }
        rows += 1;
    }
    println!("{rows} rows, largest gaps {gaps:?} h, against SPA {minutes:?} min");
    counted("dormancy/daylength_expected.csv: place-dates", rows, 120);
    assert!(minutes.iter().all(|&gap| gap <= 4.55), "{minutes:?}");
}
