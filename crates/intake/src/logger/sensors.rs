//! A logger's file that names its sensors in a column: a text for each, with the lines of the others left blank.

use super::header;
use crate::weather::text::{cells, decode, lines};

/// Names of a column that tells which sensor a row is of.
const COLUMNS: [&str; 9] = [
    "sensor",
    "sensor name",
    "sensor id",
    "logger",
    "logger name",
    "probe",
    "device",
    "device name",
    "fühler",
];

/// The file by its sensors in the order of their names; under an empty name where no column names them. Lines keep their numbers.
///
/// ```
/// use intake::logger::by_sensor;
///
/// let file = "time,sensor,temp_c\n2026-01-01T00:00,door,1\n2026-01-01T00:00,wall,3\n";
/// let parts = by_sensor(file.as_bytes());
/// assert_eq!(parts.iter().map(|it| it.0.as_str()).collect::<Vec<_>>(), ["door", "wall"]);
/// assert_eq!(parts[1].1, "time,sensor,temp_c\n\n2026-01-01T00:00,wall,3\n");
/// assert_eq!(by_sensor(b"time,temp_c\n2026-01-01T00:00,1\n")[0].0, "");
/// ```
pub fn by_sensor(bytes: &[u8]) -> Vec<(String, String)> {
    let text = decode(bytes);
    let named: Vec<(usize, &str)> = lines(&text).collect();
    let column = header::find(&named).and_then(|sheet| {
        let (_, head) = named.iter().find(|(line, _)| *line == sheet.line)?;
        let at =
            cells(head, sheet.delimiter).iter().position(|it| COLUMNS.contains(&it.to_lowercase().as_str()));
        Some((sheet.line, sheet.delimiter, at?))
    });
    let Some((head, delimiter, at)) = column else { return vec![(String::new(), text)] };
    let of = |row: &str| cells(row, delimiter).get(at).cloned().unwrap_or_default();
    let mut names: Vec<String> =
        named.iter().filter(|(line, _)| *line > head).map(|(_, row)| of(row)).collect();
    names.sort_unstable();
    names.dedup();
    let part = |name: String| {
        let kept = (1..).zip(text.lines()).map(|(line, row)| match line > head && of(row) != name {
            true => "\n".to_string(),
            false => format!("{row}\n"),
        });
        let own = kept.collect();
        (name, own)
    };
    names.into_iter().map(part).collect()
}
