//! What can be wrong with a tree that is drawn, read or bent.

use measure::range::OutOfRange;

/// Why something is not a tree, or not a figure of one.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// A figure lies outside the span in which it means something.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// There is nothing to look at.
    #[error("the tree has no segment")]
    Empty,
    /// A segment carries an impossible figure.
    #[error("segment {segment}: {quantity} is {got}")]
    Figure {
        /// Which segment, counted from 0.
        segment: usize,
        /// What is wrong, with its unit and what is wanted.
        quantity: &'static str,
        /// The value given.
        got: f64,
    },
    /// A segment does not hang where it says.
    #[error("segment {segment}: {fault}")]
    Hanging {
        /// Which segment, counted from 0.
        segment: usize,
        /// What is wrong.
        fault: &'static str,
    },
    /// A line of a tree file cannot be read.
    #[error("line {line}: {fault}: \"{got}\"")]
    Line {
        /// Which line, counted from 1.
        line: usize,
        /// What is wrong.
        fault: &'static str,
        /// The text that is wrong.
        got: String,
    },
    /// A traced limb cannot be taken.
    #[error("limb {limb}: {fault}")]
    Limb {
        /// The number of the limb.
        limb: u32,
        /// What is wrong.
        fault: &'static str,
    },
    /// Two lists that belong together differ in length.
    #[error("{quantity}: {got} given, {wanted} wanted")]
    Count {
        /// What is counted.
        quantity: &'static str,
        /// How many were given.
        got: usize,
        /// How many are wanted.
        wanted: usize,
    },
}
