//! An edit as a form posts it: with the version of the collection that its page was drawn from.

use store::{
    store::Store,
    version::{Record, Version},
};

use crate::record::FormError;

/// Runs an edit of records whose form names the version that it started from; where one of them has changed since, nothing is written.
///
/// # Errors
///
/// [`FormError::NoVersion`] when none is named, [`store::error::Error::ChangedMeanwhile`] when a record has changed, or what the edit returns.
pub fn starting_from<T, E: From<FormError>>(
    store: &mut Store,
    records: impl IntoIterator<Item = Record>,
    typed: &str,
    edit: impl FnOnce(&mut Store) -> Result<T, E>,
) -> Result<T, E> {
    let from = Version::read(typed).ok_or_else(no_version)?;
    let told: Result<Result<T, E>, FormError> =
        store.starting_from(from, records.into_iter().collect(), |store| Ok(edit(store)));
    told?
}

fn no_version() -> FormError {
    FormError::NoVersion
}

/// The version of a record that counts its own edits.
pub(crate) fn counted(typed: &str) -> Result<u32, FormError> {
    typed.trim().parse().map_err(|_| no_version())
}
