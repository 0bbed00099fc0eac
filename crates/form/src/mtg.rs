//! Multiscale tree graphs: the open text form in which measured trees are passed on (Godin and Caraglio 1998, remembered).
//!
//! We write three scales, plant (P), axis (A) and segment (S), with the features len_mm, d_base_mm, d_tip_mm, azimuth and
//! inclin. We read any classes, as long as the finest scale carries those five.

mod entity;
mod read;
mod write;

pub use read::read;
pub use write::write;

/// The features of a segment, in the order in which they are written.
const FEATURES: [&str; 5] = ["len_mm", "d_base_mm", "d_tip_mm", "azimuth", "inclin"];

/// More entities than this are refused: no grower's tree has them.
const MOST: usize = 200_000;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{error::Error, skeleton::Edge};

    /// The head of a file whose rows have three columns of entities.
    const HEAD: &str = "CODE:\tFORM-A\nCLASSES:\nSYMBOL\tSCALE\tDECOMPOSITION\tINDEXATION\tDEFINITION\n\
        $\t0\tFREE\tFREE\tIMPLICIT\nP\t1\tFREE\tFREE\tEXPLICIT\nA\t2\tFREE\tFREE\tEXPLICIT\nS\t3\tFREE\tFREE\tEXPLICIT\n\
        DESCRIPTION:\nLEFT\tRIGHT\tRELTYPE\tMAX\nS\tS\t+\t?\n\
        FEATURES:\nNAME\tTYPE\nlen_mm\tREAL\nd_base_mm\tREAL\nd_tip_mm\tREAL\nazimuth\tREAL\ninclin\tREAL\n\
        MTG:\nENTITY-CODE\t\t\tlen_mm\td_base_mm\td_tip_mm\tazimuth\tinclin\n";

    fn rows(rows: &str) -> Result<crate::skeleton::Skeleton, Error> {
        read(&format!("{HEAD}{rows}"))
    }

    #[test]
    fn chained_and_abbreviated_entities_are_read() {
        let tree = rows(
            "/P1/A1/S1\t\t\t50\t20\t18\t0\t90\n^<<S4\t\t\t30\t18\t10\t0\t80\n\t+A2/S1\t\t20\t4\t2\t90\t10\n",
        )
        .unwrap();
        let segments = tree.segments();
        assert_eq!(segments.len(), 5);
        assert_eq!(segments[3].length.0, 30.0);
        assert_eq!((segments[4].bearer, segments[4].edge, segments[4].axis), (Some(3), Edge::Branches, 2));
    }

    #[test]
    fn branches_may_be_abbreviated_too() {
        let tree = rows("/P1/A1/S1++S3\t\t\t50\t20\t18\t0\t90\n").unwrap();
        assert_eq!(tree.segments().iter().map(|s| s.axis).collect::<Vec<_>>(), [1, 2, 3]);
        assert_eq!(tree.segments()[2].bearer, Some(1));
    }

    #[test]
    fn what_cannot_be_read_is_named_with_its_line() {
        let first = HEAD.lines().count() + 1;
        for (text, wrong, line) in [
            ("/P1/A1/S1\t\t\t50\tthick\t18\t0\t90\n", "thick", first),
            ("/P1/A1/S1\t\t\t50\t\t18\t0\t90\n", "d_base_mm", first),
            ("/P1/A1/X1\t\t\t50\t20\t18\t0\t90\n", "X1", first),
            ("/P1/A1/S1\t\t\t50\t20\t18\t0\t90\n\t\t<S2\t20\t4\t2\t90\t10\n", "<S2", first + 1),
            ("/P1/A1/S1<<S900000000\t\t\t50\t20\t18\t0\t90\n", "S900000000", first),
            ("/P1/A1/S1\t\t\t-50\t20\t18\t0\t90\n", "-50", first),
            ("/P1/A1/S1\t\t\t50\t20\t18\t0\t90\n^?S2\t\t\t20\t4\t2\t90\t10\n", "?S2", first + 1),
        ] {
            match rows(text) {
                Err(Error::Line { line: told, got, .. }) => {
                    assert_eq!((told, got.as_str()), (line, wrong), "{text}")
                }
                other => panic!("{text}: {other:?}"),
            }
        }
        assert!(matches!(read(""), Err(Error::Line { line: 1, .. })));
        assert!(matches!(read("CODE:\tFORM-Z"), Err(Error::Line { line: 1, .. })));
    }
}
