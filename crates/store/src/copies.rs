//! The folder of backups: dated copies, and which of them are kept.

use std::{
    fmt, fs,
    path::{Path, PathBuf},
    time::{Duration, SystemTime},
};

use jiff::{
    ToSpan,
    civil::{Date, DateTime},
};

use crate::{
    copy::{Unfinished, finish, write_copy},
    error::Error,
    read_only::ReadOnly,
};

/// Name of the folder of backups in the collection's folder.
pub const FOLDER: &str = "backups";

/// Days, weeks and months whose last copy is kept, and how many of the latest copies whenever they were made.
const DAYS: usize = 7;
const WEEKS: usize = 4;
const MONTHS: usize = 12;
const LATEST: usize = 3;

const FORM: &str = "%Y-%m-%d-%H%M%S";
const FORM_LENGTH: usize = 17;

/// After this long a copy that was never finished is deleted.
const ABANDONED: Duration = Duration::from_secs(86_400);

/// Why a copy was made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Occasion {
    /// The day's copy, or one that was asked for; these are thinned out as they grow old.
    Day,
    /// Before another copy took its place; kept until the grower deletes it.
    BeforeRestore,
    /// Before the file went to this layout; kept until the grower deletes it.
    BeforeLayout(i64),
}

impl fmt::Display for Occasion {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Occasion::Day => Ok(()),
            Occasion::BeforeRestore => write!(out, "-before-restore"),
            Occasion::BeforeLayout(layout) => write!(out, "-before-layout-{layout}"),
        }
    }
}

/// A backup in its folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Copy {
    /// Its name in the folder.
    pub name: String,
    /// Where it is.
    pub path: PathBuf,
    /// When it was made, by the clock of the machine.
    pub at: DateTime,
    /// What its name says after the moment; empty for the day's copies.
    pub occasion: String,
    /// Its size.
    pub bytes: u64,
}

/// A folder of backups.
#[derive(Clone, Debug)]
pub struct Copies {
    folder: PathBuf,
}

impl Copies {
    /// The backups of a collection, in the folder beside its file.
    pub fn of_collection(data: &Path) -> Copies {
        Copies { folder: data.join(FOLDER) }
    }

    /// The backups in another folder.
    pub fn in_folder(folder: &Path) -> Copies {
        Copies { folder: folder.to_path_buf() }
    }

    /// Where they are.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Every finished copy, newest first; none while the folder is not there.
    ///
    /// # Errors
    ///
    /// [`Error::File`] when the folder cannot be read.
    pub fn list(&self) -> Result<Vec<Copy>, Error> {
        if !self.folder.exists() {
            return Ok(Vec::new());
        }
        let failed = |why| Error::File { path: self.folder.clone(), why };
        let mut found = Vec::new();
        for entry in fs::read_dir(&self.folder).map_err(failed)? {
            let entry = entry.map_err(failed)?;
            let Ok(name) = entry.file_name().into_string() else { continue };
            let (Some((at, occasion)), Ok(meta)) = (moment(&name), entry.metadata()) else { continue };
            if meta.is_file() {
                found.push(Copy { at, occasion, path: entry.path(), bytes: meta.len(), name });
            }
        }
        found.sort_by(|a, b| (b.at, &b.name).cmp(&(a.at, &a.name)));
        Ok(found)
    }

    /// The copy of this name.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when the folder holds no finished copy of that name.
    pub fn find(&self, name: &str) -> Result<Copy, Error> {
        let found = self.list()?.into_iter().find(|copy| copy.name == name);
        found.ok_or_else(|| Error::Unknown { what: "backup", key: name.to_string() })
    }

    /// Makes a copy, looks it over and gives it its name; an unsound one is not left behind.
    ///
    /// Before a restore or a migration even an unsound state is worth keeping: then its name says so.
    ///
    /// # Errors
    ///
    /// [`Error::Faulty`] when the copy is not sound, [`Error::DiskFull`], [`Error::File`] when the folder cannot be written.
    pub fn add(&self, from: &ReadOnly, at: DateTime, occasion: &Occasion) -> Result<Copy, Error> {
        if !self.folder.exists() {
            fs::create_dir(&self.folder).map_err(|why| Error::File { path: self.folder.clone(), why })?;
        }
        let part =
            self.folder.join(format!("{}.part{}", name(at, &occasion.to_string()), std::process::id()));
        let unfinished = Unfinished(&part);
        let faults = write_copy(from, &part)?;
        let mut told = occasion.to_string();
        if !faults.is_empty() {
            if *occasion == Occasion::Day {
                return Err(Error::Faulty { path: self.folder.clone(), faults });
            }
            told.push_str("-with-faults");
        }
        let (name, at) = self.free(at, &told);
        let path = self.folder.join(&name);
        finish(unfinished, &path)?;
        let bytes = fs::metadata(&path).map_or(0, |meta| meta.len());
        Ok(Copy { name, path, at, occasion: told.trim_start_matches('-').to_string(), bytes })
    }

    /// A name that is not taken, a second later for each that is.
    fn free(&self, mut at: DateTime, occasion: &str) -> (String, DateTime) {
        while self.folder.join(name(at, occasion)).exists() {
            at = at.saturating_add(1.second());
        }
        (name(at, occasion), at)
    }

    /// Deletes the day's copies that need not be kept any longer, and copies that were never finished; returns the names of
    /// the finished ones.
    ///
    /// # Errors
    ///
    /// [`Error::File`] when one cannot be deleted.
    pub fn thin_out(&self) -> Result<Vec<String>, Error> {
        self.drop_abandoned();
        let mut copies = self.list()?;
        copies.retain(|copy| copy.occasion.is_empty());
        let keep = kept(&copies.iter().map(|copy| copy.at).collect::<Vec<_>>());
        let mut dropped = Vec::new();
        for (copy, _) in copies.into_iter().zip(keep).filter(|(_, keep)| !keep) {
            fs::remove_file(&copy.path).map_err(|why| Error::File { path: copy.path, why })?;
            dropped.push(copy.name);
        }
        Ok(dropped)
    }

    fn drop_abandoned(&self) {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        for entry in entries {
            let name = entry.file_name().to_string_lossy().into_owned();
            let changed = entry.metadata().and_then(|meta| meta.modified());
            let old =
                changed.is_ok_and(|at| SystemTime::now().duration_since(at).is_ok_and(|age| age > ABANDONED));
            if old && name.starts_with("budswell-") && name.contains(".db.part") {
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}

fn name(at: DateTime, occasion: &str) -> String {
    format!("budswell-{}{occasion}.db", at.strftime(FORM))
}

/// The moment and the occasion that a name tells, if it is a copy's.
fn moment(name: &str) -> Option<(DateTime, String)> {
    let told = name.strip_prefix("budswell-")?.strip_suffix(".db")?;
    let (at, occasion) = (told.get(..FORM_LENGTH)?, told.get(FORM_LENGTH..)?);
    let occasion = if occasion.is_empty() { "" } else { occasion.strip_prefix('-')? };
    Some((DateTime::strptime(FORM, at).ok()?, occasion.to_string()))
}

/// Which copies are kept, for moments from the newest to the oldest: the latest three; and of each of the last seven days, four
/// weeks and twelve months that have one, the last.
fn kept(moments: &[DateTime]) -> Vec<bool> {
    let mut keep: Vec<bool> = (0..moments.len()).map(|at| at < LATEST).collect();
    let week = |day: Date| day.saturating_sub(i64::from(day.weekday().to_monday_zero_offset()).days());
    let spans: [(usize, &dyn Fn(Date) -> Date); 3] =
        [(DAYS, &|day| day), (WEEKS, &week), (MONTHS, &|day| day.first_of_month())];
    for (most, span) in spans {
        let mut seen = Vec::new();
        for (at, moment) in moments.iter().enumerate() {
            let span = span(moment.date());
            if seen.len() < most && !seen.contains(&span) {
                seen.push(span);
                keep[at] = true;
            }
        }
    }
    keep
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_name_tells_moment_and_occasion_and_nothing_else_is_a_copy() {
        let at = date(2026, 11, 30).at(21, 5, 2, 0);
        assert_eq!(name(at, ""), "budswell-2026-11-30-210502.db");
        for (occasion, told) in [
            (Occasion::Day, ""),
            (Occasion::BeforeRestore, "before-restore"),
            (Occasion::BeforeLayout(8), "before-layout-8"),
        ] {
            assert_eq!(moment(&name(at, &occasion.to_string())), Some((at, told.to_string())));
        }
        for strange in [
            "budswell.db",
            "budswell-2026-11-30-210502.db.part77",
            "budswell-2026-13-30-210502.db",
            "budswell-2026-11-30-210502.db-journal",
            "budswell-2026-11-30-210502x.db",
            "budswell-é026-11-30-21050.db",
        ] {
            assert_eq!(moment(strange), None, "{strange}");
        }
    }

    #[test]
    fn a_year_and_a_half_of_daily_copies_leaves_days_weeks_and_months() {
        let newest = date(2026, 11, 30).at(20, 0, 0, 0);
        let moments: Vec<DateTime> = (0..540).map(|day| newest - i64::from(day).days()).collect();
        let keep = kept(&moments);
        let left: Vec<String> = moments
            .iter()
            .zip(&keep)
            .filter(|(_, keep)| **keep)
            .map(|(at, _)| at.date().to_string())
            .collect();
        let expected = [
            // seven days
            "2026-11-30",
            "2026-11-29",
            "2026-11-28",
            "2026-11-27",
            "2026-11-26",
            "2026-11-25",
            "2026-11-24",
            // four weeks end with Sundays, the first of them is in the days above
            "2026-11-22",
            "2026-11-15",
            // twelve months
            "2026-10-31",
            "2026-09-30",
            "2026-08-31",
            "2026-07-31",
            "2026-06-30",
            "2026-05-31",
            "2026-04-30",
            "2026-03-31",
            "2026-02-28",
            "2026-01-31",
            "2025-12-31",
        ];
        assert_eq!(left, expected);
    }

    #[test]
    fn the_latest_three_are_kept_whenever_they_were_made() {
        let at = |second: i8| date(2026, 11, 30).at(20, 0, second, 0);
        assert_eq!(kept(&[at(5), at(4), at(3), at(2), at(1)]), [true, true, true, false, false]);
        assert_eq!(kept(&[]), [false; 0]);
    }
}
