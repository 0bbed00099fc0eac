//! Six lifts by the revised NIOSH equation.
//!
//! `niosh_lifting.csv`: metric form by the reference set's own script; two of its rows are the circumstances of the manual's
//! first example. Tolerance is half the last digit stored.

mod vector;

use measure::quantity::{Centimetre, Degrees, Kilogram};
use pot::lift::{Grip, Lift, Spell};
use vector::{counted, text};

#[test]
fn lifts_of_the_manual_and_of_the_bench() {
    let Some(file) = text("water/niosh_lifting.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let (mut count, mut largest) = (0, 0.0_f64);
    for row in reader.records() {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let spell = match &row[11] {
            "1.0" => Spell::Hour,
            "0.95" => Spell::TwoHours,
            "0.85" => Spell::Day,
            other => panic!("no spell leaves {other}"),
        };
        let grip = match &row[6] {
            "good" => Grip::Good,
            "fair" => Grip::Fair,
            "poor" => Grip::Poor,
            other => panic!("no grip {other}"),
        };
        let lift = Lift {
            load: Kilogram(number(1)),
            reach: Centimetre(number(2)),
            start: Centimetre(number(3)),
            travel: Centimetre(number(4)),
            twist: Degrees(number(5)),
            grip,
            spell,
        };
        let judged = lift.judge().unwrap();
        let by = judged.multipliers;
        let ours = [
            (7, by.reach.value, 5e-6),
            (8, by.height.value, 5e-6),
            (9, by.travel.value, 5e-6),
            (10, by.twist.value, 5e-6),
            (12, by.grip.value, 5e-6),
            (13, judged.limit.0, 5e-6),
            // The file divides by its rounded limit.
            (14, judged.index.unwrap(), 5e-5 + number(14) * 5e-6 / number(13)),
        ];
        for (at, ours, half) in ours {
            let gap = (ours - number(at)).abs();
            (count, largest) = (count + 1, largest.max(gap / half));
            assert!(gap <= half * 1.0001, "{} column {at}: ours {ours}, expected {}", &row[0], &row[at]);
        }
        assert_eq!(judged.wants_help(), number(14) > 1.0, "{}", &row[0]);
    }
    println!("largest gap {largest:.2} of half a digit");
    counted("water/niosh_lifting.csv: figures", count, 42);
}
