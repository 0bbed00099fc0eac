//! A line that cannot be taken, with its value and the reason.

use std::fmt;

/// A line that was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Line in the file, from 1; 0 where the file gives none.
    pub line: usize,
    /// What stood there.
    pub value: String,
    /// Why it was refused.
    pub why: String,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line > 0 {
            write!(f, "line {}: ", self.line)?;
        }
        if !self.value.is_empty() {
            write!(f, "“{}” ", self.value)?;
        }
        f.write_str(&self.why)
    }
}
