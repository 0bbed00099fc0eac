//! The bud stages beside the reference set's list of BBCH codes 00 to 19, and the repotting window between them.
//!
//! `bbch_00_19.csv`: codes after Meier 2001 (BBCH Monograph, 2nd ed.) and Hack et al. 1992, as the set read them; which stages are
//! good for a repot is common practice without a source. Codes and verdicts are equal; the words are each side's own.

mod vector;

use dormancy::ladder::Rungs;
use measure::stage::Stage;
use vector::{counted, not_ours, text};

#[test]
fn codes_are_the_lists_and_the_window_runs_from_the_best_to_the_last_good_days() {
    let Some(file) = text("dormancy/bbch_00_19.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let rungs = Rungs::new(270.0, 0.5, 0.73, 0.2);
    let (mut seen, mut before) = (0, None);
    for row in reader.records() {
        let row = row.unwrap();
        let Some(stage) = Stage::from_code(row[0].parse().unwrap()) else {
            not_ours(&format!("BBCH {}", &row[0]));
            continue;
        };
        let late = ["closing", "closed"].iter().any(|word| row[3].starts_with(word));
        assert_eq!(late, stage > Stage::Breaking, "{row:?}");
        assert_eq!(row[3].starts_with("best"), stage == Stage::Full, "{row:?}");
        assert_eq!(row[3].starts_with("last good"), stage == Stage::Breaking, "{row:?}");
        // Each takes more heat than the one before it in the list.
        assert!(before < Some(rungs.edge(stage)), "{stage}");
        before = Some(rungs.edge(stage));
        seen += 1;
    }
    counted("dormancy/bbch_00_19.csv: stages", seen, Stage::ALL.len());
}
