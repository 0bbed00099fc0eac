//! On which line of a calendar an event gives its name.

use std::collections::HashMap;

/// The first line of each name.
#[derive(Debug)]
pub struct Lines(HashMap<String, usize>);

impl Lines {
    /// The lines of a file; a name that goes on in the next line (RFC 5545, section 3.1) is put together.
    pub fn of(text: &str) -> Lines {
        let mut first = HashMap::new();
        let mut lines = text.lines().enumerate().peekable();
        while let Some((at, line)) = lines.next() {
            let Some(head) = line.get(..3).filter(|head| head.eq_ignore_ascii_case("uid")) else { continue };
            let rest = &line[head.len()..];
            if !rest.starts_with([':', ';']) {
                continue;
            }
            let mut uid = rest.split_once(':').map_or("", |(_, uid)| uid).to_string();
            while let Some((_, more)) = lines.next_if(|(_, line)| line.starts_with([' ', '\t'])) {
                uid.push_str(&more[1..]);
            }
            first.entry(plain(uid.trim())).or_insert(at + 1);
        }
        Lines(first)
    }

    /// The line on which a name stands first; 0 where it stands on none.
    pub fn of_uid(&self, uid: &str) -> usize {
        self.0.get(uid.trim()).copied().unwrap_or(0)
    }
}

/// A text without the strokes that part it from the signs around it.
fn plain(text: &str) -> String {
    text.replace("\\,", ",").replace("\\;", ";").replace("\\\\", "\\")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_stands_on_its_first_line_however_it_is_written() {
        let text = "BEGIN:VEVENT\r\nUID:a\\,b\r\nuid;x=1:long-\r\n er\r\nUIDX:a\r\nUID:a\\,b\r\n";
        let lines = Lines::of(text);
        assert_eq!(["a,b", "long-er", "a", ""].map(|uid| lines.of_uid(uid)), [2, 3, 0, 0]);
    }
}
