//! The one printer of the commands: signs that a terminal would obey, or that turn or hide text, are printed as their numbers.

use std::{
    fmt::{self, Write as _},
    io::{self, Write},
};

/// A text in which no hidden sign is left: each stands as its number, as `\u001b`; line feeds and tabs stay.
pub fn shown(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '\n' | '\t' => shown.push(sign),
            sign if intake::text::is_hidden(sign) => {
                // No error: a string takes all it is given.
                let _ = write!(shown, "\\u{:04x}", u32::from(sign));
            }
            sign => shown.push(sign),
        }
    }
    shown
}

/// Prints to the standard output; a reader that closes early, as `head` does, is no fault.
pub fn out(words: fmt::Arguments<'_>) {
    match io::stdout().lock().write_all(shown(&words.to_string()).as_bytes()) {
        Err(why) if why.kind() != io::ErrorKind::BrokenPipe => err(format_args!("cannot print: {why}\n")),
        _ => {}
    }
}

/// Prints to the standard error.
pub fn err(words: fmt::Arguments<'_>) {
    let _ = io::stderr().lock().write_all(shown(&words.to_string()).as_bytes());
}

/// A line of an answer.
macro_rules! say {
    ($($words:tt)*) => {
        $crate::cli::say::out(format_args!("{}\n", format_args!($($words)*)))
    };
}

/// A line of a refusal.
macro_rules! refuse {
    ($($words:tt)*) => {
        $crate::cli::say::err(format_args!("{}\n", format_args!($($words)*)))
    };
}

pub(crate) use {refuse, say};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_that_a_terminal_obeys_are_shown_as_their_numbers() {
        assert_eq!(
            shown("\u{1b}]0;x\u{7}\u{202e}ab\u{9b}2J\r"),
            "\\u001b]0;x\\u0007\\u202eab\\u009b2J\\u000d"
        );
        assert_eq!(shown("Größe\t老松\nم\u{200c}خ"), "Größe\t老松\nم\u{200c}خ");
    }
}
