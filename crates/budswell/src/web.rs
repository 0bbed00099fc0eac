//! The pages on localhost: routes, and the guard at the door.

mod answer;
mod bench;
mod both;
mod feed;
mod fetch;
mod front;
mod guard;
mod import;
mod layers;
mod limbs;
mod mixes;
mod pairs;
mod photos;
mod plans;
mod pots;
mod read;
mod readings;
mod repots;
mod round;
mod tonight;
mod wires;
mod write;

use std::{
    collections::HashMap,
    net::{Ipv4Addr, SocketAddr},
    sync::{
        Arc, Mutex,
        atomic::{AtomicU64, Ordering},
    },
};

use axum::{
    Router,
    extract::DefaultBodyLimit,
    middleware,
    routing::{get, post},
};
use intake::{fetch::Service, import::Kind};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::{reader::Reader, store::Store};
use view::{
    round::RoundPage,
    tonight::afternoon,
    whole::{Whole, whole},
};

use crate::web::answer::Answer;

/// Most bytes of an upload.
const LARGEST_UPLOAD: usize = 64 * 1024 * 1024;

/// Most bytes of a batch of readings.
const LARGEST_BATCH: usize = 1024 * 1024;

/// Uploads waiting for a yes; the oldest go first when more come.
const MOST_WAITING: usize = 8;

/// An uploaded file that was previewed and waits for a yes.
#[derive(Clone, Debug)]
pub struct Waiting {
    kind: Kind,
    name: String,
    bytes: Vec<u8>,
}

/// What the pages share.
#[derive(Debug)]
pub struct App {
    store: Mutex<Store>,
    reader: Mutex<Reader>,
    /// Looks tokens up, so that a sensor need not wait for a page that is being made.
    door: Mutex<Reader>,
    service: Service,
    today: Option<Date>,
    known: Mutex<Option<Arc<Whole>>>,
    waiting: Mutex<(u64, HashMap<u64, Waiting>)>,
    /// What an act came to, until its page has said it.
    sayings: Mutex<HashMap<u64, String>>,
    hands: AtomicU64,
    round: Mutex<Option<Walked>>,
}

/// A round worked out, with the state of the collection and the five minutes it is for.
type Walked = (i64, Date, i64, Arc<RoundPage>);

/// Seconds for which the sums of a round may stand on Today.
const STANDS: i64 = 300;

impl App {
    /// Pages over a collection, on a fixed day or on each day as it comes; the service is asked only on a click.
    pub fn new(store: Store, service: Service, today: Option<Date>) -> anyhow::Result<App> {
        let (reader, door) = (Mutex::new(store.reader()?), Mutex::new(store.reader()?));
        Ok(App {
            store: Mutex::new(store),
            reader,
            door,
            service,
            today,
            known: Mutex::new(None),
            waiting: Mutex::new((0, HashMap::new())),
            sayings: Mutex::new(HashMap::new()),
            round: Mutex::new(None),
            hands: AtomicU64::new(jiff::Timestamp::now().as_millisecond().unsigned_abs()),
        })
    }

    /// The collection today; worked out again only when an act, a reading or the day has changed it.
    fn whole(&self) -> Result<Arc<Whole>, Answer> {
        let reader = self.reader.lock().map_err(|_| Answer::broken())?;
        let changes = reader.changes().map_err(Answer::store)?;
        let mut known = self.known.lock().map_err(|_| Answer::broken())?;
        let today = self.today_by(&reader)?;
        if let Some(known) = known.as_ref().filter(|known| known.changes == changes && known.today == today) {
            return Ok(Arc::clone(known));
        }
        let fresh = Arc::new(whole(&reader, today).map_err(Answer::store)?);
        *known = Some(Arc::clone(&fresh));
        Ok(fresh)
    }

    /// Today at the site, or the day the pages were told to stand on.
    fn today(&self) -> Result<Date, Answer> {
        self.today_by(&*self.reader.lock().map_err(|_| Answer::broken())?)
    }

    fn today_by(&self, reader: &Reader) -> Result<Date, Answer> {
        if let Some(today) = self.today {
            return Ok(today);
        }
        let site = reader.site().map_err(Answer::store)?;
        let zone = site.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
        Ok(zone.to_datetime(Timestamp::now()).date())
    }

    /// Now; on a fixed day its afternoon.
    fn now(&self, whole: &Whole) -> Timestamp {
        if self.today.is_some() { afternoon(whole) } else { Timestamp::now() }
    }

    /// Whether the pages stand on a day of their own, so that the clock says nothing.
    fn stands_still(&self) -> bool {
        self.today.is_some()
    }

    /// The round as Today sums it up: worked out again when anything changed, or after five minutes.
    fn round(&self, whole: &Whole, now: i64) -> Result<Option<Arc<RoundPage>>, Answer> {
        let spell = now.div_euclid(STANDS);
        let mut known = self.round.lock().map_err(|_| Answer::broken())?;
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
        let mut store = self.store.lock().map_err(|_| Answer::broken())?;
        change(&mut store)
    }

    /// Keeps what an act came to until its page says it; gives the number to ask for it by.
    fn say(&self, words: String) -> Result<u64, Answer> {
        let number = self.hand();
        let mut sayings = self.sayings.lock().map_err(|_| Answer::broken())?;
        if sayings.len() >= MOST_WAITING {
            sayings.clear();
        }
        sayings.insert(number, words);
        Ok(number)
    }

    /// What an act came to; empty when it was said or never was.
    fn said(&self, number: u64) -> Result<String, Answer> {
        Ok(self.sayings.lock().map_err(|_| Answer::broken())?.remove(&number).unwrap_or_default())
    }

    /// Keeps an upload until the grower says yes; gives the number to say it with.
    fn keep(&self, upload: Waiting) -> Result<u64, Answer> {
        let mut waiting = self.waiting.lock().map_err(|_| Answer::broken())?;
        waiting.0 += 1;
        let number = waiting.0;
        waiting.1.insert(number, upload);
        waiting.1.retain(|&key, _| key + MOST_WAITING as u64 > number);
        Ok(number)
    }

    fn kept(&self, number: u64) -> Result<Option<Waiting>, Answer> {
        Ok(self.waiting.lock().map_err(|_| Answer::broken())?.1.get(&number).cloned())
    }
}

/// Every route of the house.
pub fn routes(app: Arc<App>) -> Router {
    Router::new()
        .route("/", get(read::today))
        .route("/tonight", get(tonight::page))
        .route("/tonight.json", get(tonight::json))
        .route("/tonight.ics", get(tonight::calendar))
        .route("/waking", get(read::waking))
        .route("/round", get(round::round).post(round::walk))
        .route("/round/card", get(round::card))
        .route("/round/weigh", post(round::weigh))
        .route("/round/take-back", post(round::take_back))
        .route("/round/away", post(round::away))
        .route("/round/come-back", post(round::come_back))
        .route("/round/times", post(round::times))
        .route("/feed", get(feed::feed))
        .route("/what-if", get(read::what_if))
        .route("/trees/{key}", get(read::tree))
        .route("/trees/{key}/edit", post(write::edit_tree))
        .route("/trees/{key}/look", post(write::look))
        .route("/trees/{key}/work", post(write::work))
        .route("/trees/{key}/limbs", get(limbs::page))
        .route("/trees/{key}/limbs/{limb}", post(limbs::record))
        .route("/trees/{key}/tree.mtg", get(limbs::graph).post(limbs::take_graph))
        .route("/trees/{key}/intentions", post(limbs::intend))
        .route("/trees/{key}/intentions/{id}/end", post(limbs::end))
        .route("/trees/{key}/calipers", post(limbs::caliper))
        .route("/trees/{key}/written/{what}/{id}/back", post(limbs::drop_line))
        .route("/trees/{key}/rules", post(limbs::rule))
        .route("/trees/{key}/bench", get(bench::bench))
        .route("/trees/{key}/cuts", post(bench::cut))
        .route("/trees/{key}/cuts/{id}/count", post(plans::count))
        .route("/trees/{key}/plans", get(plans::plans))
        .route("/trees/{key}/front", get(front::round).post(front::keep_front))
        .route("/trees/{key}/front/drop", post(front::drop_front))
        .route("/pots", get(pots::pots).post(pots::add))
        .route("/pots/new", get(pots::new))
        .route("/pots/share", get(pairs::share))
        .route("/pots/rules", post(pairs::rule))
        .route("/pots/photos/{key}/drop", post(pots::drop_photo))
        .route("/pots/photos/{key}/colour", get(pots::mark_glaze).post(pots::read_glaze))
        .route("/pots/photos/{key}/{size}", get(pots::picture))
        .route("/pots/{key}", get(pots::pot).post(pots::edit))
        .route("/pots/{key}/photos", post(pots::send_photo))
        .route("/pots/{key}/where", post(pots::whereabouts))
        .route("/pots/{key}/strike", post(pots::strike))
        .route("/pots/{key}/reserve", post(pairs::reserve))
        .route("/pots/{key}/unreserve", post(pairs::unreserve))
        .route("/repots", get(repots::repots))
        .route("/soil", get(repots::soil))
        .route("/soil/stock", post(repots::stock))
        .route("/soil/blend", post(repots::blend))
        .route("/trees/{key}/pots", get(pairs::of_tree))
        .route("/trees/{key}/liking", post(pairs::like))
        .route("/trees/{key}/stature", post(pairs::stature))
        .route("/trees/{key}/grown", post(pairs::grown))
        .route("/trees/{key}/tint", post(pairs::tint))
        .route("/trees/{key}/repot", get(repots::bench).post(repots::log))
        .route("/trees/{key}/repot/meant", post(repots::mean))
        .route("/trees/{key}/repot/seen", post(repots::look))
        .route("/trees/{key}/repot/vigour", post(repots::vigour))
        .route("/trees/{key}/repot/toll", post(repots::toll))
        .route("/trees/{key}/repot/{what}/{which}/back", post(repots::take_back))
        .route("/wires", get(wires::all))
        .route("/wires/shelf", post(wires::shelf))
        .route("/trees/{key}/wires", get(wires::of_tree).post(wires::put_on))
        .route("/trees/{key}/wires/{id}", post(wires::check))
        .route("/trees/{key}/layers", get(layers::layers).post(layers::begin))
        .route("/trees/{key}/layers/{id}/look", post(layers::look))
        .route("/trees/{key}/layers/{id}/apart", post(layers::apart))
        .route("/trees/{key}/wounds/{id}", post(layers::wound))
        .route("/trees/{key}/photos", post(photos::send))
        .route("/photos/{key}/trace", get(photos::trace).post(photos::keep_trace))
        .route("/photos/{key}/outline", get(photos::outline).post(photos::paint))
        .route("/photos/{key}/overlay", get(photos::overlay))
        .route("/photos/{key}/drop", post(photos::drop_photo))
        .route("/photos/{key}/{size}", get(photos::picture))
        .route("/trees", post(write::add_tree))
        .route("/trees/{key}/take-back", post(write::take_back))
        .route("/moves", post(write::moves))
        .route("/places", get(read::places).post(write::add_place))
        .route("/places/{key}", get(read::place))
        .route("/mixes", get(mixes::mixes).post(mixes::add))
        .route("/mixes/potted", post(mixes::pot))
        .route("/mixes/crown", post(mixes::crown))
        .route("/mixes/{key}/bucket", get(mixes::bucket).post(mixes::weigh))
        .route("/bring", get(import::form).post(import::preview))
        .route("/bring/yes", post(import::confirm))
        .route("/start", get(read::start))
        .route("/site", get(read::site).post(write::site))
        .route("/fetch", post(fetch::fetch))
        .route("/api/readings", post(readings::readings).layer(DefaultBodyLimit::max(LARGEST_BATCH)))
        .route("/assets/{name}", get(read::asset))
        .fallback(read::nothing)
        .layer(DefaultBodyLimit::max(LARGEST_UPLOAD))
        .layer(middleware::from_fn(guard::guard))
        .with_state(app)
}

/// Serves until stopped, on loopback alone.
pub fn serve(app: App, port: u16) -> anyhow::Result<()> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(async {
        let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
        let listener = tokio::net::TcpListener::bind(address).await.map_err(|why| {
            anyhow::anyhow!("cannot listen on {address}: {why}; another --port may be free")
        })?;
        println!("\nopen http://{}/ (Ctrl-C stops)", listener.local_addr()?);
        let stop = async { tokio::signal::ctrl_c().await.unwrap_or(()) };
        axum::serve(listener, routes(Arc::new(app))).with_graceful_shutdown(stop).await?;
        Ok(())
    })
}
