//! What may be done inside one transaction.

use rusqlite::Transaction;

use crate::sums::Tally;

/// An open transaction; every method adds to it, and it stands or falls whole.
#[derive(Debug)]
pub struct Change<'a> {
    pub(crate) tx: &'a Transaction<'a>,
    pub(crate) tally: &'a Tally,
}
