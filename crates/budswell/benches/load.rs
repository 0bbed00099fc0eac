//! How long pages and sensors wait while three photos of 48 million pixels and a calendar of 2 MB come in at once.
//!
//! `cargo bench -p budswell --bench load` prints the figures; `BUDSWELL=path/to/another/budswell` measures another build.

use std::{
    env,
    fmt::Write as _,
    fs,
    io::{Cursor, Read, Write},
    net::TcpStream,
    path::{Path, PathBuf},
    process::Command,
    sync::atomic::{AtomicBool, AtomicI64, Ordering},
    thread,
    time::{Duration, Instant},
};

use image::{ImageFormat, RgbImage};
use jiff::Timestamp;

#[path = "../tests/sender/mod.rs"]
#[allow(dead_code, reason = "the tests use the rest of it")]
mod sender;
#[path = "../tests/served/mod.rs"]
#[allow(dead_code, reason = "the tests use the rest of it")]
mod served;

use sender::{Sender, batch};
use served::Served;

/// Sheets of the demo that make pages with something on them.
const SHEETS: [(&str, &str); 12] = [
    ("site", "site.csv"),
    ("places", "places.csv"),
    ("trees", "trees.csv"),
    ("pots", "pots.csv"),
    ("mixes", "mixes.csv"),
    ("potted", "potted.csv"),
    ("crowns", "crowns.csv"),
    ("moves", "moves.csv"),
    ("looks", "looks.csv"),
    ("work", "work.csv"),
    ("water", "water.csv"),
    ("weather", "station.csv"),
];

/// Pages that are asked for, in turn.
const PAGES: [&str; 6] = ["/", "/round", "/waking", "/trees/old-trident", "/places", "/assets/style.css"];

/// Between two readings of the one sensor; a house with sixty sensors that send once a minute.
const SENDS: Duration = Duration::from_secs(1);

/// How long the quiet is measured, and how long after the uploads.
const QUIET: Duration = Duration::from_secs(10);

fn run(budswell: &Path, arguments: &[&str]) -> String {
    let run = Command::new(budswell).args(arguments).output().expect("budswell starts");
    assert!(run.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&run.stderr));
    String::from_utf8(run.stdout).expect("text")
}

/// A photo of 48 million pixels, of leaves and sky as far as a coder is concerned.
fn photo(seed: u32) -> Vec<u8> {
    let picture = RgbImage::from_fn(8000, 6000, |x, y| {
        let noise =
            (x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503) ^ seed).wrapping_mul(2_246_822_519) >> 27;
        image::Rgb([(x / 32) as u8, ((y / 24) as u8).wrapping_add(noise as u8), (128 + noise) as u8])
    });
    let mut bytes = Vec::new();
    picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Jpeg).expect("a coder");
    bytes
}

/// A calendar of about 2 MB: 14,000 shifts.
fn calendar() -> Vec<u8> {
    let mut text = String::from("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//t//t//EN\r\n");
    for number in 0..14_000 {
        let (year, month, day) = (1990 + number / 336, 1 + number / 28 % 12, 1 + number % 28);
        let day = format!("{year}{month:02}{day:02}");
        write!(
            text,
            "BEGIN:VEVENT\r\nUID:{number}@shifts\r\nDTSTAMP:20260101T000000Z\r\nDTSTART:{day}T070000\r\nDTEND:{day}T190000\r\nSUMMARY:Shift\r\nEND:VEVENT\r\n"
        )
        .expect("a string takes all");
    }
    (text + "END:VCALENDAR\r\n").into_bytes()
}

/// Sends a form of many parts; the status.
fn post(at: &str, path: &str, fields: &[(&str, &str)], file: (&str, &str, &[u8])) -> u16 {
    let mut body = Vec::new();
    for (name, value) in fields {
        let part = format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
        body.extend(part.bytes());
    }
    let (name, called, bytes) = file;
    body.extend(
        format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"; filename=\"{called}\"\r\n\r\n")
            .bytes(),
    );
    body.extend(bytes);
    body.extend(b"\r\n--edge--\r\n");
    let head = format!(
        "POST {path} HTTP/1.1\r\nHost: {at}\r\nContent-Type: multipart/form-data; boundary=edge\r\nConnection: close\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    let mut line = TcpStream::connect(at).expect("a line");
    line.write_all(head.as_bytes()).and_then(|()| line.write_all(&body)).expect("it is taken");
    let mut answer = Vec::new();
    line.read_to_end(&mut answer).expect("an answer");
    String::from_utf8_lossy(&answer[9..12]).parse().expect("a status")
}

/// Asks for a page and waits for the whole of it.
fn page(at: &str, path: &str) -> Duration {
    let begun = Instant::now();
    let mut line = TcpStream::connect(at).expect("a line");
    let head = format!("GET {path} HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n");
    line.write_all(head.as_bytes()).expect("it is taken");
    let mut answer = Vec::new();
    line.read_to_end(&mut answer).expect("an answer");
    assert!(answer.starts_with(b"HTTP/1.1 200"), "{path}: {}", String::from_utf8_lossy(&answer[..80]));
    begun.elapsed()
}

/// Waits of one kind, and what is told of them.
fn told(what: &str, mut waits: Vec<Duration>) {
    waits.sort_unstable();
    let at = |share: f64| waits[((waits.len() - 1) as f64 * share) as usize].as_secs_f64() * 1000.0;
    println!(
        "{what:<28} {:>5} asked, p50 {:>7.1} ms, p99 {:>7.1} ms, max {:>7.1} ms",
        waits.len(),
        at(0.5),
        at(0.99),
        at(1.0)
    );
}

/// Pages and readings until told to stop.
fn measured(when: &str, at: &str, token: &str, until: impl FnOnce() + Send) {
    static SENT: AtomicI64 = AtomicI64::new(0);
    let first = Timestamp::now().as_second() - 30 * 86_400;
    let over = AtomicBool::new(false);
    let (pages, readings) = thread::scope(|scope| {
        let pages = scope.spawn(|| {
            let mut waits = Vec::new();
            for path in PAGES.iter().cycle().take_while(|_| !over.load(Ordering::Relaxed)) {
                waits.push(page(at, path));
                thread::sleep(Duration::from_millis(50));
            }
            waits
        });
        let readings = scope.spawn(|| {
            let mut line = Sender::with_token(at, token).expect("a line");
            let mut waits = Vec::new();
            while !over.load(Ordering::Relaxed) {
                let moment = first + SENT.fetch_add(60, Ordering::Relaxed);
                let begun = Instant::now();
                let answer = line.post(&batch("cold-frame", [(moment, 4.0)])).expect("an answer");
                assert_eq!(answer.status, 200, "{}", answer.body);
                waits.push(begun.elapsed());
                thread::sleep(SENDS);
            }
            waits
        });
        until();
        over.store(true, Ordering::Relaxed);
        (pages.join().expect("pages"), readings.join().expect("readings"))
    });
    told(&format!("{when}: pages"), pages);
    told(&format!("{when}: readings"), readings);
}

fn main() {
    let budswell =
        env::var_os("BUDSWELL").map_or_else(|| env!("CARGO_BIN_EXE_budswell").into(), PathBuf::from);
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().to_str().expect("a plain name");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    for (kind, file) in SHEETS {
        let file = demo.join(file);
        run(&budswell, &["import", "--kind", kind, "--data", data, file.to_str().expect("a plain name")]);
    }
    let token = run(&budswell, &["token", "--data", data, "--name", "logger"]).trim().to_string();
    let photos: Vec<Vec<u8>> = (1..=3).map(photo).collect();
    let calendar = calendar();
    fs::write(folder.path().join("shifts.ics"), &calendar).expect("room");
    println!(
        "{}, photos of {} MB, a calendar of {:.1} MB",
        budswell.display(),
        photos.iter().map(|it| (it.len() / 1024 / 1024).to_string()).collect::<Vec<_>>().join(", "),
        calendar.len() as f64 / 1024.0 / 1024.0
    );
    let house = Served::start_of(&budswell, ["serve", "--data", data, "--today", "2026-03-28"]);
    let at = house.address();
    for path in PAGES {
        page(at, path);
    }
    measured("quiet", at, &token, || thread::sleep(QUIET));
    measured("under load", at, &token, || {
        let begun = Instant::now();
        let since =
            |what: &str, status| println!("  {what}: {status} after {:.1} s", begun.elapsed().as_secs_f64());
        thread::scope(|scope| {
            for photo in &photos {
                let fields = [("day", "2026-03-01"), ("back", "")];
                scope.spawn(move || {
                    since("photo", post(at, "/trees/old-trident/photos", &fields, ("photo", "p.jpg", photo)));
                });
            }
            scope.spawn(|| {
                let file = ("file", "shifts.ics", calendar.as_slice());
                since("calendar", post(at, "/bring", &[("kind", "away"), ("place", "")], file));
            });
        });
        thread::sleep(Duration::from_secs(1));
    });
}
