//! When things go wrong: a kill in the middle of an import, a page from elsewhere, a file that is none.

use std::{
    fs,
    io::{Read, Write},
    net::{Shutdown, TcpStream},
    path::Path,
    process::{Child, Command, Stdio},
    time::{Duration, Instant},
};

use jiff::{ToSpan, civil::date};
use store::store::Store;

mod served;

use served::Served;

/// A station's file of this many days from 1800 on, each night as cold as said.
fn weather(days: usize, low: f64) -> String {
    let first = date(1800, 1, 1);
    let mut text = String::from("date,tmin,tmax\n");
    for day in 0..days {
        let day = first.checked_add((day as i64).days()).unwrap();
        text.push_str(&format!("{day},{low},20\n"));
    }
    text
}

fn import(data: &Path, kind: &str, file: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_budswell"))
        .args(["import", "--kind", kind, "--data"])
        .args([data, file])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("budswell starts")
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
    }
}

/// Days of the station, the lows that occur, files kept, acts noted.
fn state(data: &Path) -> (usize, Vec<String>, usize, i64) {
    let reader = Store::open(data).unwrap().reader().unwrap();
    let days = reader.station_days().unwrap();
    let mut lows: Vec<String> = days.iter().map(|day| format!("{:?}", day.low.unwrap())).collect();
    lows.sort();
    lows.dedup();
    (days.len(), lows, reader.files().unwrap().len(), reader.last_act().unwrap())
}

#[test]
fn a_kill_in_the_middle_of_an_import_leaves_the_old_or_the_new() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let (few, many, base) = (root.join("few.csv"), root.join("many.csv"), root.join("base"));
    fs::write(&few, weather(1_000, 1.5)).unwrap();
    fs::write(&many, weather(80_000, 2.5)).unwrap();
    let site = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/site.csv");
    assert!(import(&base, "site", &site).wait().unwrap().success());
    assert!(import(&base, "weather", &few).wait().unwrap().success());
    let whole = root.join("whole");
    copy(&base, &whole);
    let begun = Instant::now();
    assert!(import(&whole, "weather", &many).wait().unwrap().success());
    let full = begun.elapsed();
    let (old, new) = (state(&base), state(&whole));
    assert_eq!((old.0, new.0), (1_000, 80_000));

    let fixed = [5, 10, 20, 50, 100, 200].map(Duration::from_millis);
    let shares = (1..=10).map(|step| full.mul_f64(0.1 * f64::from(step)));
    let timed = fixed.into_iter().chain(shares).map(|delay| (false, delay));
    let written = [0, 1, 2, 5, 10, 20].map(|after| (true, Duration::from_millis(after)));
    let (mut hit, mut left_old, mut written_on) = (0, 0, 0);
    for (number, (once_it_writes, delay)) in timed.chain(written).enumerate() {
        let data = root.join(format!("try-{number}"));
        copy(&base, &data);
        let log = data.join("budswell.db-wal");
        let writes = || fs::metadata(&log).is_ok_and(|it| it.len() > 0);
        let mut child = import(&data, "weather", &many);
        while once_it_writes && !writes() && child.try_wait().unwrap().is_none() {
            std::thread::yield_now();
        }
        std::thread::sleep(delay);
        let running = child.try_wait().unwrap().is_none();
        child.kill().unwrap();
        child.wait().unwrap();
        hit += usize::from(running);
        written_on += usize::from(running && writes());

        let check = Command::new(env!("CARGO_BIN_EXE_budswell"))
            .args(["check", "--data"])
            .arg(&data)
            .output()
            .unwrap();
        let told = String::from_utf8_lossy(&check.stdout).into_owned();
        assert!(check.status.success() && told.contains("sound"), "killed after {delay:?}: {told}");
        let now = state(&data);
        assert!(now == old || now == new, "killed after {delay:?}: neither old nor new: {now:?}");
        left_old += usize::from(now == old);
        fs::remove_dir_all(data).unwrap();
    }
    println!("{hit} kills hit a running import of {full:?}, {written_on} of them while it was writing");
    assert!(hit > 0 && left_old > 0, "{hit} hit, {left_old} left the old state");
    assert!(written_on > 0, "no kill came while the file was being written");
}

/// What the server says to these bytes, to the end; with `hang_up` nothing more will come from us.
fn say(address: &str, bytes: &[u8], hang_up: bool) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    stream.write_all(bytes).unwrap();
    if hang_up {
        stream.shutdown(Shutdown::Write).unwrap();
    }
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// A request with these header lines and this body, closed after the answer.
fn request(address: &str, first: &str, headers: &str, body: &str) -> String {
    let length = body.len();
    let head = format!("{first} HTTP/1.1\r\n{headers}Connection: close\r\nContent-Length: {length}\r\n\r\n");
    say(address, format!("{head}{body}").as_bytes(), false)
}

fn status(answer: &str) -> u16 {
    answer
        .split(' ')
        .nth(1)
        .and_then(|code| code.parse().ok())
        .unwrap_or_else(|| panic!("no answer: {answer}"))
}

#[test]
fn a_name_from_elsewhere_is_turned_away() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let port = at.rsplit_once(':').unwrap().1;
    for host in ["trees.example", "localhost.trees.example", "127.0.0.1.trees.example", "192.168.1.7"] {
        for path in ["/", "/assets/style.css", "/nowhere"] {
            let answer = request(at, &format!("GET {path}"), &format!("Host: {host}:{port}\r\n"), "");
            assert_eq!(status(&answer), 403, "{host}{path}");
            assert!(!answer.contains("trident"), "{host}{path} was told of the trees");
        }
    }
    assert_eq!(status(&request(at, "GET /", &format!("Host: localhost:{port}\r\n"), "")), 200);
}

#[test]
fn a_page_from_elsewhere_cannot_write() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let own = format!("Host: {at}\r\nContent-Type: application/x-www-form-urlencoded\r\n");
    let look = "day=2026-03-28&stage=9&sureness=sure";
    let post = |more: &str| {
        let headers = format!("{own}{more}");
        status(&request(at, "POST /trees/old-trident/look", &headers, look))
    };
    let diary = || {
        let page = request(at, "GET /trees/old-trident", &format!("Host: {at}\r\n"), "");
        page.split_once("id=\"diary\"").expect("a diary").1.to_string()
    };
    let before = diary();
    for foreign in [
        "Origin: https://trees.example\r\n",
        "Origin: null\r\n",
        "Origin: http://127.0.0.1:1\r\n",
        "Sec-Fetch-Site: cross-site\r\n",
        "Sec-Fetch-Site: same-site\r\n",
    ] {
        assert_eq!(post(foreign), 403, "{foreign}");
    }
    assert_eq!(diary(), before, "something was written");
    assert_eq!(post(&format!("Origin: http://{at}\r\nSec-Fetch-Site: same-origin\r\n")), 303);
    assert_ne!(diary(), before);
}

#[test]
fn every_page_forbids_what_is_not_its_own() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    for path in [
        "/",
        "/waking",
        "/what-if?tree=old-trident&place=kitchen-sill&day=2026-03-08",
        "/trees/old-trident",
        "/places",
        "/places/cold-frame",
        "/bring",
        "/backup",
        "/start",
        "/site",
        "/assets/style.css",
        "/assets/choose.js",
        "/nowhere",
        "/trees/nobody",
    ] {
        let answer = request(at, &format!("GET {path}"), &format!("Host: {at}\r\n"), "");
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        let head = head.to_lowercase();
        let policy = head.lines().find(|line| line.starts_with("content-security-policy: "));
        let policy = policy.unwrap_or_else(|| panic!("{path} has no policy"));
        assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"), "{path}: {policy}");
        assert!(policy.contains("frame-ancestors 'none'") && policy.contains("form-action 'self'"), "{path}");
        assert!(head.contains("x-content-type-options: nosniff"), "{path}");
        // A link the reader may follow is not a request; everything a page loads or sends to must be ours.
        for foreign in [
            "src=\"http",
            "action=\"http",
            "<link rel=\"stylesheet\" href=\"http",
            " style=\"",
            " onclick=",
            "<script>",
        ] {
            assert!(!body.contains(foreign), "{path} holds {foreign}");
        }
    }
}

#[test]
fn nobody_but_this_machine_can_knock() {
    let demo = Served::start(["demo"]);
    let (host, port) = demo.address().rsplit_once(':').unwrap();
    assert_eq!(host, "127.0.0.1");
    for other in ["127.0.0.2", "[::1]"] {
        assert!(TcpStream::connect(format!("{other}:{port}")).is_err(), "it listens on {other} too");
    }
    let port: u16 = port.parse().unwrap();
    let mut listening = Vec::new();
    for table in ["/proc/net/tcp", "/proc/net/tcp6"] {
        let text = fs::read_to_string(table).unwrap_or_default();
        for line in text.lines().skip(1) {
            let words: Vec<&str> = line.split_whitespace().collect();
            if words[3] == "0A" && words[1].ends_with(&format!(":{port:04X}")) {
                listening.push(words[1].to_string());
            }
        }
    }
    if cfg!(target_os = "linux") {
        assert_eq!(listening, [format!("0100007F:{port:04X}")]);
    }
}

/// A form with a file, as a browser sends it; `end` closes it.
fn form(kind: &str, name: &str, file: &str, end: &str) -> String {
    format!(
        "--cut\r\nContent-Disposition: form-data; name=\"kind\"\r\n\r\n{kind}\r\n\
         --cut\r\nContent-Disposition: form-data; name=\"place\"\r\n\r\n\r\n\
         --cut\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\
         Content-Type: text/csv\r\n\r\n{file}{end}"
    )
}

#[test]
fn an_upload_that_is_none_gets_a_clear_answer_and_writes_nothing() {
    const END: &str = "\r\n--cut--\r\n";
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("trees");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    for kind in ["site", "places", "trees"] {
        assert!(import(&data, kind, &demo.join(format!("{kind}.csv"))).wait().unwrap().success());
    }
    let before = state(&data);
    let house = Served::start(["serve", "--data", data.to_str().unwrap(), "--today", "2026-03-08"]);
    let at = house.address();
    let head = format!("Host: {at}\r\nContent-Type: multipart/form-data; boundary=cut\r\n");
    let bring = |body: &str| request(at, "POST /bring", &head, body);
    let good = "date,tmin,tmax\n2026-03-01,1,9\n2026-03-02,2,9\n";

    let empty = bring(&form("weather", "empty.csv", "", END));
    assert_eq!(status(&empty), 422);
    assert!(empty.contains("the file is empty"), "{empty}");

    let no_kind = bring(&form("pictures", "a.csv", good, END));
    assert_eq!(status(&no_kind), 422);
    assert!(no_kind.contains("no kind of file is called “pictures”"), "{no_kind}");

    let wrong_kind = bring(&form("looks", "station.csv", good, END));
    assert_eq!(status(&wrong_kind), 200);
    assert!(wrong_kind.contains("Nothing has been written"), "{wrong_kind}");
    assert!(!wrong_kind.contains(">Take it in<"), "{wrong_kind}");

    let no_text = bring(&form("weather", "picture.jpg", "\u{1}\u{2}JFIF\u{0}\u{3}", END));
    assert!(no_text.contains("Nothing has been written"), "{no_text}");
    assert!(!no_text.contains(">Take it in<"), "{no_text}");

    let cut_file = bring(&form("weather", "cut.csv", &good[..good.len() - 8], END));
    assert!(cut_file.contains("cut.csv, line 3"), "{cut_file}");
    assert!(cut_file.contains("Nothing has been written"), "{cut_file}");

    let cut_form = bring(&form("weather", "station.csv", good, ""));
    assert_eq!(status(&cut_form), 400);
    assert!(cut_form.contains("The upload broke off"), "{cut_form}");

    let body = form("weather", "station.csv", good, END);
    let (length, half) = (body.len(), &body[..body.len() - 30]);
    let hung_up =
        format!("POST /bring HTTP/1.1\r\n{head}Connection: close\r\nContent-Length: {length}\r\n\r\n{half}");
    let hung_up = say(at, hung_up.as_bytes(), true);
    assert!(hung_up.is_empty() || status(&hung_up) == 400, "{hung_up}");

    let never_shown = request(
        at,
        "POST /bring/yes",
        &format!("Host: {at}\r\nContent-Type: application/x-www-form-urlencoded\r\n"),
        "number=999",
    );
    assert_eq!(status(&never_shown), 410);
    assert!(never_shown.contains("bring the file again"), "{never_shown}");

    assert_eq!(state(&data), before, "something was written");
    assert_eq!(status(&request(at, "GET /", &format!("Host: {at}\r\n"), "")), 200, "it still answers");
}
