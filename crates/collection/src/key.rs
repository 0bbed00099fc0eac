//! Short names used in files and addresses, made from what the grower typed.

/// Turns a name into lower-case words joined by hyphens.
///
/// ```
/// assert_eq!(collection::key::from_name("Old Trident, No. 2"), "old-trident-no-2");
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
    key.trim_end_matches('-').to_string()
}
