//! What happens beside the pages: the log is folded in after quiet seconds, and a backup is made once a day.

use std::{
    path::Path,
    sync::{Arc, Condvar, Mutex, PoisonError},
    thread::{self, JoinHandle},
    time::{Duration, Instant},
};

use jiff::civil::{Date, DateTime};
use store::{
    copies::{Copies, Copy, Occasion},
    error::Error,
    fold::Folder,
    read_only::ReadOnly,
};

use crate::{cli::backup::now, web::App};

/// Without an act for this long, the log is folded in and the day's backup is made.
const QUIET: Duration = Duration::from_secs(5);

/// How often to look.
const STEP: Duration = Duration::from_secs(1);

/// How long to wait after a backup that failed.
const AGAIN: Duration = Duration::from_secs(1800);

/// What the pages are told of backups, and the word to stop.
#[derive(Debug, Default)]
pub struct Keeper {
    failed: Mutex<Option<String>>,
    stopped: Mutex<bool>,
    wake: Condvar,
}

/// Backups made here wait for each other.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

impl Keeper {
    /// Why the last backup could not be made; nothing when it was.
    pub fn failed(&self) -> Option<String> {
        self.failed.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Makes a backup and thins out the old ones.
    pub fn back_up(&self, data: &Path, at: DateTime) -> Result<Copy, Error> {
        let _one = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
        let copies = Copies::of_collection(data);
        let made = ReadOnly::open(data).and_then(|read| {
            let copy = copies.add(&read, at, &Occasion::Day)?;
            copies.thin_out()?;
            Ok(copy)
        });
        *self.failed.lock().unwrap_or_else(PoisonError::into_inner) =
            made.as_ref().err().map(ToString::to_string);
        made
    }

    /// Ends the work beside the pages.
    pub fn stop(&self) {
        *self.stopped.lock().unwrap_or_else(PoisonError::into_inner) = true;
        self.wake.notify_all();
    }

    /// Waits for a step; false when it is time to stop.
    fn goes_on(&self) -> bool {
        let stopped = self.stopped.lock().unwrap_or_else(PoisonError::into_inner);
        let (stopped, _) =
            self.wake.wait_timeout_while(stopped, STEP, |it| !*it).unwrap_or_else(PoisonError::into_inner);
        !*stopped
    }
}

/// Starts the work beside the pages; none for a collection that lives in memory.
pub fn start(app: &Arc<App>) -> anyhow::Result<Option<JoinHandle<()>>> {
    let Some(data) = app.data.clone() else { return Ok(None) };
    let folder = app.store.lock().map_err(|_| anyhow::anyhow!("the store broke"))?.folder()?;
    let Some(folder) = folder else { return Ok(None) };
    let app = Arc::clone(app);
    let run = move || {
        let mut watch = Watch::new(&data, folder);
        while app.keeper.goes_on() {
            watch.step(&app, &data);
        }
    };
    Ok(Some(thread::Builder::new().name("keeper".into()).spawn(run)?))
}

/// What the work beside the pages remembers from one look to the next.
struct Watch {
    folder: Folder,
    /// Bytes of the log and when they last changed.
    log: (u64, Instant),
    folded: bool,
    /// The day of the last backup.
    day: Option<Date>,
    /// When to try a backup again that failed.
    again: Option<Instant>,
}

impl Watch {
    fn new(data: &Path, folder: Folder) -> Watch {
        let last = Copies::of_collection(data).list().ok();
        let day = last.and_then(|list| list.iter().find(|it| it.occasion.is_empty()).map(|it| it.at.date()));
        Watch { log: (folder.log_stamp(), Instant::now()), folder, folded: false, day, again: None }
    }

    fn step(&mut self, app: &App, data: &Path) {
        let stamp = self.folder.log_stamp();
        if stamp != self.log.0 {
            self.log = (stamp, Instant::now());
            self.folded = false;
        }
        if self.log.1.elapsed() < QUIET {
            return;
        }
        if !self.folded {
            self.folded = self.fold(app);
            self.log.0 = self.folder.log_stamp();
        }
        let today = now().date();
        if self.day != Some(today) && self.again.is_none_or(|again| again <= Instant::now()) {
            self.back_up(app, data, today);
        }
    }

    /// Moves the log into the file without holding the writer up; what is then left is little.
    fn fold(&self, app: &App) -> bool {
        let moved = self.folder.fold().unwrap_or(false);
        moved && app.store.lock().is_ok_and(|mut store| store.fold().unwrap_or(false))
    }

    fn back_up(&mut self, app: &App, data: &Path, today: Date) {
        match app.keeper.back_up(data, now()) {
            Ok(copy) => {
                println!("The day's backup is made and checked: {}", copy.path.display());
                (self.day, self.again) = (Some(today), None);
            }
            Err(why) => {
                eprintln!("The day's backup could not be made: {why}");
                self.again = Some(Instant::now() + AGAIN);
            }
        }
    }
}
