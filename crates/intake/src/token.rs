//! Tokens by which sensors are known: made at chance, shown once, and kept only as a hash.

use sha2::{Digest, Sha256};
use store::{
    error::Error,
    reader::Reader,
    store::{Act, Store},
};

/// Most letters of a sensor's name.
const LONGEST: usize = 80;

/// Bytes of chance in a token.
const BYTES: usize = 32;

/// Why no token was made.
#[derive(Debug, thiserror::Error)]
pub enum TokenError {
    /// The name cannot be one.
    #[error("a sensor's name has 1 to {LONGEST} letters on one line")]
    Name,
    /// A sensor of that name may send already.
    #[error("a sensor called “{0}” has a token already; revoke that first, or choose another name")]
    Taken(String),
    /// The machine gives no chance.
    #[error("this machine gives no random bytes: {0}")]
    NoChance(getrandom::Error),
    /// The store did not do it.
    #[error(transparent)]
    Store(#[from] Error),
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn hash(token: &str) -> String {
    hex(&Sha256::digest(token.as_bytes()))
}

/// Makes a token for a sensor; this is the only time it is told.
///
/// # Errors
///
/// [`TokenError`]; then no token was made.
///
/// # Example
///
/// ```
/// use intake::token;
///
/// let mut store = store::store::Store::in_memory()?;
/// let secret = token::make(&mut store, "Greenhouse logger", 1_784_000_000)?;
/// let name = token::holder(&store.reader()?, &secret)?;
/// assert_eq!(name.as_deref(), Some("Greenhouse logger"));
/// # Ok::<(), token::TokenError>(())
/// ```
pub fn make(store: &mut Store, name: &str, now: i64) -> Result<String, TokenError> {
    let name = name.trim();
    if name.is_empty() || name.chars().count() > LONGEST || name.chars().any(char::is_control) {
        return Err(TokenError::Name);
    }
    let mut chance = [0; BYTES];
    getrandom::fill(&mut chance).map_err(TokenError::NoChance)?;
    let token = hex(&chance);
    let hash = hash(&token);
    match store.transact(&Act::GiveToken(name.into()), |change| change.add_token(name, &hash, now))? {
        true => Ok(token),
        false => Err(TokenError::Taken(name.into())),
    }
}

/// Takes a sensor's token away; what it sent stays.
///
/// # Errors
///
/// [`Error::Unknown`] when there is none of that name.
pub fn revoke(store: &mut Store, name: &str) -> Result<(), Error> {
    let name = name.trim();
    store.transact(&Act::TakeToken(name.into()), |change| change.remove_token(name))
}

/// The name of the sensor that holds this token, if it is one of ours.
///
/// The hash is looked up as any key is. How long that takes may betray something about the hashes kept, but nobody can
/// choose the hash of a guess, and from a hash there is no way back to 32 bytes of chance; so no comparison in equal
/// time is needed.
///
/// # Errors
///
/// [`Error`] from the store.
pub fn holder(reader: &Reader, token: &str) -> Result<Option<String>, Error> {
    reader.holder(&hash(token))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_tokens_differ_and_only_their_hashes_are_kept() {
        let mut store = Store::in_memory().unwrap();
        let (one, two) = (make(&mut store, "one", 0).unwrap(), make(&mut store, "two", 0).unwrap());
        assert!(one != two && one.len() == 2 * BYTES);
        let reader = store.reader().unwrap();
        assert_eq!(holder(&reader, &two).unwrap().as_deref(), Some("two"));
        assert_eq!(reader.holder(&two).unwrap(), None, "the token itself is kept");
        assert_eq!(holder(&reader, &hash(&two)).unwrap(), None, "the hash opens the door");
        assert_eq!(holder(&reader, "").unwrap(), None);
    }

    #[test]
    fn a_name_is_given_once_and_again_after_it_was_revoked() {
        let mut store = Store::in_memory().unwrap();
        let old = make(&mut store, "hut", 0).unwrap();
        assert!(matches!(make(&mut store, " hut ", 0), Err(TokenError::Taken(_))));
        assert!(matches!(make(&mut store, " ", 0), Err(TokenError::Name)));
        assert!(matches!(make(&mut store, "a\nb", 0), Err(TokenError::Name)));
        revoke(&mut store, "hut").unwrap();
        assert!(matches!(revoke(&mut store, "hut"), Err(Error::Unknown { .. })));
        assert_eq!(holder(&store.reader().unwrap(), &old).unwrap(), None);
        make(&mut store, "hut", 0).unwrap();
    }
}
