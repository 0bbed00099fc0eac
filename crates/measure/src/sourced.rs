//! How far a number can be trusted: its standing travels with it to the page.

/// Where a number comes from; shown beside the number on every page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Taken from a publication that was read; the text says where to look.
    Published(&'static str),
    /// Common practice of the trade, no source.
    Practice,
    /// Remembered from a named work, not checked.
    Unverified(&'static str),
    /// Our own estimate, made for planning; the text says from what.
    Estimate(&'static str),
    /// Measured or learned from the grower's own records.
    Measured,
}

impl Standing {
    /// The standing in a few words for the reader.
    ///
    /// ```
    /// use measure::sourced::Standing;
    ///
    /// assert_eq!(Standing::Practice.words(), "common practice, no source");
    /// ```
    pub fn words(self) -> String {
        match self {
            Standing::Published(place) => format!("published: {place}"),
            Standing::Practice => "common practice, no source".into(),
            Standing::Unverified(place) => format!("remembered, not verified: {place}"),
            Standing::Estimate(basis) => format!("our estimate: {basis}"),
            Standing::Measured => "from your own records".into(),
        }
    }
}

/// A value together with its standing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The value itself.
    pub value: T,
    /// How far to trust it.
    pub standing: Standing,
}
