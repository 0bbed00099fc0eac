//! The pages on localhost: routes, and the guard at the door.

#[macro_use]
mod table;

mod answer;
mod asked;
mod backup;
mod bench;
mod both;
mod clock;
mod feed;
mod fetch;
mod front;
mod guard;
mod import;
mod keeper;
mod lanes;
mod layers;
mod limbs;
mod line;
mod mixes;
mod pairs;
mod photos;
mod places;
mod plans;
mod pots;
mod read;
mod readers;
mod readings;
mod repots;
mod round;
mod stop;
mod tonight;
mod wires;
mod write;

use std::{
    collections::HashMap,
    net::{Ipv4Addr, SocketAddr},
    path::{Path, PathBuf},
    sync::{
        Arc, Mutex,
        atomic::{AtomicI64, AtomicU64, Ordering},
    },
};

use axum::{
    Router,
    extract::DefaultBodyLimit,
    middleware,
    routing::{get, post},
};
use intake::{
    fetch::Service,
    import::{Kind, Options},
};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::{reader::Reader, store::Store};
use view::{
    round::RoundPage,
    tonight::afternoon,
    whole::{Whole, whole},
};

use crate::web::{
    answer::Answer,
    lanes::Lanes,
    readers::{Lent, Readers, hold},
};

/// Uploads waiting for a yes; the oldest go first when more come.
const MOST_WAITING: usize = 8;

/// An uploaded file that was previewed and waits for a yes.
#[derive(Clone, Debug)]
pub struct Waiting {
    kind: Kind,
    name: String,
    bytes: Vec<u8>,
    /// Whether its rows may change records that differ.
    update: bool,
}

/// What the pages share.
#[derive(Debug)]
pub struct App {
    store: Mutex<Store>,
    readers: Readers,
    lanes: Lanes,
    /// Looks tokens up, so that a sensor need not wait for a page that is being made.
    door: Mutex<Reader>,
    service: Service,
    today: Option<Date>,
    /// What says what time it is.
    clock: fn() -> Timestamp,
    /// Second of the newest line before which the clock may stand, by the grower's word.
    trusted: AtomicI64,
    known: Mutex<Option<Arc<Whole>>>,
    /// Held by the one request that works the collection out, while the others wait for what it finds.
    working: Mutex<()>,
    waiting: Mutex<(u64, HashMap<u64, Waiting>)>,
    /// What an act came to, until its page has said it.
    sayings: Mutex<HashMap<u64, String>>,
    hands: AtomicU64,
    /// The folder of the collection; none for one in memory.
    data: Option<PathBuf>,
    keeper: keeper::Keeper,
    round: Mutex<Option<Walked>>,
}

/// A round worked out, with the state of the collection and the five minutes it is for.
type Walked = (i64, Date, i64, Arc<RoundPage>);

/// Seconds for which the sums of a round may stand on Today.
const STANDS: i64 = 300;

impl App {
    /// Pages over a collection, on a fixed day or on each day as it comes; the service is asked only on a click.
    pub fn new(store: Store, service: Service, today: Option<Date>) -> anyhow::Result<App> {
        Ok(App {
            data: store.home().map(Path::to_path_buf),
            keeper: keeper::Keeper::default(),
            readers: Readers::new(&store)?,
            door: Mutex::new(store.reader()?),
            store: Mutex::new(store),
            lanes: Lanes::default(),
            service,
            today,
            clock: Timestamp::now,
            trusted: AtomicI64::new(i64::MIN),
            known: Mutex::new(None),
            working: Mutex::new(()),
            waiting: Mutex::new((0, HashMap::new())),
            sayings: Mutex::new(HashMap::new()),
            round: Mutex::new(None),
            hands: AtomicU64::new(jiff::Timestamp::now().as_millisecond().unsigned_abs()),
        })
    }

    /// What time it is.
    fn clock(&self) -> Timestamp {
        (self.clock)()
    }

    /// A handle that only reads, for as long as it is held.
    fn reader(&self) -> Lent<'_> {
        self.readers.lend()
    }

    /// The collection today; worked out again only when an act, a reading or the day has changed it, and by one request at a time.
    fn whole(&self) -> Result<Arc<Whole>, Answer> {
        let reader = self.reader();
        let (changes, today) = (reader.changes().map_err(Answer::store)?, self.today_by(&reader)?);
        if let Some(known) = self.known(changes, today) {
            return Ok(known);
        }
        let _working = hold(&self.working);
        // What another request worked out meanwhile holds all that had happened when this one came.
        if let Some(known) = self.known(changes, today) {
            return Ok(known);
        }
        let fresh = Arc::new(whole(&reader, today).map_err(Answer::store)?);
        *hold(&self.known) = Some(Arc::clone(&fresh));
        Ok(fresh)
    }

    /// The collection on a day that has come; today's where it is that.
    fn whole_on(&self, day: Date) -> Result<Arc<Whole>, Answer> {
        let today = self.whole()?;
        if today.today == day {
            return Ok(today);
        }
        whole(&self.reader(), day).map(Arc::new).map_err(Answer::store)
    }

    /// What was worked out, if it is of this day and holds so many changes or more.
    fn known(&self, changes: i64, today: Date) -> Option<Arc<Whole>> {
        let known = hold(&self.known);
        known.as_ref().filter(|known| known.changes >= changes && known.today == today).map(Arc::clone)
    }

    /// Today at the site, or the day the pages were told to stand on.
    fn today(&self) -> Result<Date, Answer> {
        self.today_by(&self.reader())
    }

    fn today_by(&self, reader: &Reader) -> Result<Date, Answer> {
        if let Some(today) = self.today {
            return Ok(today);
        }
        let site = reader.site().map_err(Answer::store)?;
        let zone = site.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
        Ok(zone.to_datetime(self.clock()).date())
    }

    /// How a file is read: by the clock, so that no day of it may lie ahead.
    fn options(&self) -> Result<Options, Answer> {
        // The demo's files tell of days past the one it stands on.
        let now = if self.stands_still() { None } else { Some(self.clock().as_second()) };
        Ok(Options { now, ..Options::default() })
    }

    /// Now; on a fixed day its afternoon.
    fn now(&self, whole: &Whole) -> Timestamp {
        if self.today.is_some() { afternoon(whole) } else { self.clock() }
    }

    /// The moment of the round, seconds since 1970: now; on a fixed day its morning round.
    fn round_now(&self, whole: &Whole) -> i64 {
        match whole.water().filter(|_| self.stands_still()) {
            Some(water) => view::water::moment(whole.today.to_datetime(whole.rounds.morning), &water.zone),
            None => self.clock().as_second(),
        }
    }

    /// Whether the pages stand on a day of their own, so that the clock says nothing.
    fn stands_still(&self) -> bool {
        self.today.is_some()
    }

    /// The round as Today sums it up: worked out again when anything changed, or after five minutes.
    fn round(&self, whole: &Whole, now: i64) -> Result<Option<Arc<RoundPage>>, Answer> {
        let spell = now.div_euclid(STANDS);
        let mut known = hold(&self.round);
        if let Some((changes, today, at, page)) = known.as_ref()
            && (*changes, *today, *at) == (whole.changes, whole.today, spell)
        {
            return Ok(Some(Arc::clone(page)));
        }
        let page = view::round::round(whole, now).map(Arc::new);
        *known = page.as_ref().map(|page| (whole.changes, whole.today, spell, Arc::clone(page)));
        Ok(page)
    }

    /// A number for a page, so that two telephones on one round are told apart.
    fn hand(&self) -> u64 {
        self.hands.fetch_add(1, Ordering::Relaxed)
    }

    /// Runs a change on the one writer.
    fn change<T>(&self, change: impl FnOnce(&mut Store) -> Result<T, Answer>) -> Result<T, Answer> {
        let mut store = hold(&self.store);
        change(&mut store)
    }

    /// Keeps what an act came to until its page says it; gives the number to ask for it by.
    fn say(&self, words: String) -> Result<u64, Answer> {
        let number = self.hand();
        let mut sayings = hold(&self.sayings);
        if sayings.len() >= MOST_WAITING {
            sayings.clear();
        }
        sayings.insert(number, words);
        Ok(number)
    }

    /// What an act came to; empty when it was said or never was.
    fn said(&self, number: u64) -> Result<String, Answer> {
        Ok(hold(&self.sayings).remove(&number).unwrap_or_default())
    }

    /// Keeps an upload until the grower says yes; gives the number to say it with.
    fn keep(&self, upload: Waiting) -> Result<u64, Answer> {
        let mut waiting = hold(&self.waiting);
        waiting.0 += 1;
        let number = waiting.0;
        waiting.1.insert(number, upload);
        waiting.1.retain(|&key, _| key + MOST_WAITING as u64 > number);
        Ok(number)
    }

    fn kept(&self, number: u64) -> Result<Option<Waiting>, Answer> {
        Ok(hold(&self.waiting).1.get(&number).cloned())
    }
}

macro_rules! router {
    ($($method:ident $path:literal $kind:ident $handler:path;)*) => {
        Router::new()$(.route($path, $method($handler)))*
    };
}

/// Every route of the house.
pub fn routes(app: Arc<App>) -> Router {
    for_routes!(router)
        .fallback(read::nothing)
        .layer(DefaultBodyLimit::disable())
        .layer(middleware::from_fn_with_state(Arc::clone(&app), clock::ask))
        .layer(middleware::from_fn_with_state(Arc::clone(&app), lanes::run))
        .layer(middleware::from_fn(guard::guard))
        .with_state(app)
}

/// Serves until stopped, on loopback alone.
pub fn serve(app: App, port: u16) -> anyhow::Result<()> {
    let runtime =
        tokio::runtime::Builder::new_multi_thread().max_blocking_threads(64).enable_all().build()?;
    runtime.block_on(async {
        let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
        let listener = tokio::net::TcpListener::bind(address).await.map_err(|why| {
            anyhow::anyhow!("cannot listen on {address}: {why}; another --port may be free")
        })?;
        println!("\nopen http://{}/ (Ctrl-C stops)", listener.local_addr()?);
        let app = Arc::new(app);
        let keeper = keeper::start(&app)?;
        line::answer(listener, routes(Arc::clone(&app)), stop::asked()).await;
        stop::end(&app, keeper)
    })
}
