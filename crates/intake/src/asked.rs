//! What speaks against a record: asked about first, and the grower's reason kept beside it, or answered by "yes, that is so".

use crate::{
    limits::{LONG, NOTE},
    record::{FormError, bad, text},
};

/// What speaks against something that is to be saved, and why it was done all the same. The default asks nothing.
///
/// ```
/// use intake::asked::Asked;
///
/// let free = Asked::default();
/// assert_eq!(free.note("trim", "by hand".into()).unwrap(), "by hand");
/// let against = Asked { against: Some("it is weak"), despite: "" };
/// assert!(against.note("trim", String::new()).is_err());
/// let said = Asked { despite: "a branch broke", ..against };
/// assert_eq!(said.note("trim", String::new()).unwrap(), "though asked: a branch broke");
/// ```
#[derive(Clone, Copy, Debug, Default)]
pub struct Asked<'a> {
    /// What speaks against it on its day; none where nothing does.
    pub against: Option<&'a str>,
    /// Why it was done all the same.
    pub despite: &'a str,
}

impl Asked<'_> {
    /// The note to keep: with the reason beside it where something speaks against the record.
    ///
    /// # Errors
    ///
    /// [`FormError::Asked`] about this while no reason is given; another for a reason that is too long.
    pub fn note(self, about: &str, note: String) -> Result<String, FormError> {
        let Some(why) = self.against else { return Ok(note) };
        if self.despite.trim().is_empty() {
            return Err(FormError::Asked { about: about.into(), why: why.into() });
        }
        with_reason(&note, self.despite)
    }

    /// The reason alone; empty where nothing speaks against the record.
    ///
    /// # Errors
    ///
    /// As [`Asked::note`].
    pub fn reason(self, about: &str) -> Result<String, FormError> {
        self.note(about, String::new())?;
        if self.against.is_some() { text("despite", self.despite, LONG) } else { Ok(String::new()) }
    }
}

/// A text with the reason beside it for which something was done though it was asked about.
pub(crate) fn with_reason(note: &str, reason: &str) -> Result<String, FormError> {
    let reason = format!("though asked: {}", text("despite", reason, LONG)?);
    let kept = match note {
        "" => reason,
        note if note.ends_with(&reason) => note.to_string(),
        note => format!("{note}; {reason}"),
    };
    text("note", &kept, NOTE)
}

/// The answer that saves what was asked about.
pub const SURE: &str = "yes";

/// Asks about what was typed, `against` saying why, until it comes again with [`SURE`].
///
/// # Errors
///
/// [`FormError`] with the question.
///
/// ```
/// use intake::asked::{SURE, sure};
///
/// let why = Some("more than when it was full");
/// assert!(sure("weight", "30 kg", why, "").is_err());
/// assert!(sure("weight", "30 kg", why, SURE).is_ok() && sure("weight", "30 kg", None, "").is_ok());
/// ```
pub fn sure(field: &'static str, typed: &str, against: Option<&str>, said: &str) -> Result<(), FormError> {
    match against {
        Some(why) if said != SURE => Err(bad(field, typed, format!("{why}. Is that so?"))),
        _ => Ok(()),
    }
}
