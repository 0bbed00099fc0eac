//! Short names used in files and addresses, made from what the grower typed.

/// Turns a name into lower-case words joined by hyphens; letters and digits of every script are kept.
///
/// A name of signs alone has none, so it gets a number made from its signs: the same for the same signs, and another for others. A name
/// of blanks has no key.
///
/// ```
/// use collection::key::from_name;
///
/// assert_eq!(from_name("Old Trident, No. 2"), "old-trident-no-2");
/// assert_eq!(from_name("老松"), "老松");
/// assert_eq!(from_name("☆☆"), "sign-344d31a5");
/// assert_eq!(from_name("  "), "");
/// ```
pub fn from_name(name: &str) -> String {
    let mut key = String::with_capacity(name.len());
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
            key.push(letter);
        } else if !key.is_empty() && !key.ends_with('-') {
            key.push('-');
        }
    }
    let signs = name.trim();
    match key.trim_end_matches('-') {
        "" if signs.is_empty() => String::new(),
        "" => format!("sign-{:08x}", fnv_1a(signs.as_bytes())),
        key => key.to_string(),
    }
}

/// The number of some bytes by the hash FNV-1a of 32 bits (Fowler, Noll and Vo; offset 2166136261, prime 16777619).
fn fnv_1a(bytes: &[u8]) -> u32 {
    bytes.iter().fold(2_166_136_261, |hash, byte| (hash ^ u32::from(*byte)).wrapping_mul(16_777_619))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: draft-eastlake-fnv, test vectors of FNV-1a of 32 bits for "", "a" and "foobar".
    #[test]
    fn the_number_of_signs_is_that_of_the_published_hash() {
        assert_eq!([fnv_1a(b""), fnv_1a(b"a"), fnv_1a(b"foobar")], [0x811c_9dc5, 0xe40c_292c, 0xbf9c_f968]);
    }

    #[test]
    fn names_of_signs_have_keys_that_lead_back_to_themselves() {
        let keys = ["☆☆", "☆", "---", "!!!", "·"].map(from_name);
        for (at, key) in keys.iter().enumerate() {
            assert_eq!(&from_name(key), key);
            assert!(key.len() == 13 && !keys[..at].contains(key), "{key}");
        }
    }
}
