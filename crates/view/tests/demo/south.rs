//! The demo half the world south, half a year on.

use jiff::{ToSpan, civil::Date};
use store::store::Store;

use super::demo_with;

/// Half the world south, with every day of every sheet half a year and a day earlier.
pub fn south() -> Store {
    demo_with(southern)
}

/// A sheet of the demo half the world south; one that is changed to nothing is left out.
pub fn southern(name: &str, text: String) -> String {
    match name {
        "site.csv" => text.replace("47.3,9.1", "-37.0,145.0").replace("Europe/Zurich", "Australia/Melbourne"),
        name if name.starts_with("logger") => String::new(),
        "shifts.ics" => moved(&text.replace("Europe/Zurich", "Australia/Melbourne"), true),
        "meant.csv" | "reservations.csv" => {
            let seasons = [2028, 2027, 2026, 2025].iter().rev();
            let text = seasons
                .fold(text, |text, year| text.replace(&format!(",{year},"), &format!(",{},", year - 1)));
            moved(&text, false)
        }
        _ => moved(&text, false),
    }
}

/// Days from the demo's year to the southern one.
pub const SOUTHWARD: i64 = -182;

/// Every date in a text moved; in calendars also the short form.
fn moved(text: &str, short: bool) -> String {
    let bytes = text.as_bytes();
    let (mut told, mut at) = (String::new(), 0);
    while at < text.len() {
        let form = if short { "........" } else { "....-..-.." };
        let piece = text.get(at..at + form.len());
        let is_edge = at == 0 || !bytes[at - 1].is_ascii_digit();
        let day = piece.filter(|_| is_edge).and_then(|piece| {
            let dashed = match short {
                true if piece.starts_with("20") && piece.bytes().all(|it| it.is_ascii_digit()) => {
                    format!("{}-{}-{}", &piece[..4], &piece[4..6], &piece[6..])
                }
                true => return None,
                false => piece.to_string(),
            };
            dashed.parse::<Date>().ok()
        });
        match day {
            Some(day) => {
                let day = (day + SOUTHWARD.days()).to_string();
                told += &if short { day.replace('-', "") } else { day };
                at += form.len();
            }
            None => {
                let next = text[at..].chars().next().unwrap();
                told.push(next);
                at += next.len_utf8();
            }
        }
    }
    told
}
