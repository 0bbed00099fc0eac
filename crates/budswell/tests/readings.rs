//! Readings over the line: who may send, what is answered, and that a kill loses nothing that was acknowledged.

use std::{
    collections::BTreeMap,
    io::{Read, Write},
    net::TcpStream,
    path::Path,
    thread,
    time::{Duration, Instant},
};

use jiff::Timestamp;
use serde_json::{Value, json};
use store::{reader::Reader, store::Store};

mod sender;
mod served;

use sender::{Sender, batch, budswell, collection};
use served::Served;

const PLACE: &str = "cold-frame";

fn serve(data: &Path) -> Served {
    Served::start(["serve", "--data", data.to_str().unwrap(), "--today", "2026-03-08"])
}

/// A moment in the past, at the start of an hour.
fn past() -> i64 {
    (Timestamp::now().as_second() / 3600 - 2000) * 3600
}

fn kept(reader: &Reader) -> BTreeMap<i64, f64> {
    let all = reader.air_readings(PLACE, 0, i64::MAX).unwrap();
    all.into_iter().map(|it| (it.at, it.measured.value())).collect()
}

#[test]
fn only_a_sensor_with_its_token_may_send() {
    let folder = tempfile::tempdir().unwrap();
    let token = collection(folder.path());
    let house = serve(folder.path());
    let at = house.address();
    let body = batch(PLACE, [(past(), 3.1)]);
    let (host, bearer) = (format!("Host: {at}\r\n"), format!("Authorization: Bearer {token}\r\n"));
    let post = |headers: &str| Sender::open(at, headers).unwrap().post(&body).unwrap();

    let other = if token.starts_with('0') { "1" } else { "0" };
    let wrong = format!("Authorization: Bearer {other}{}\r\n", &token[1..]);
    for nobody in [
        String::new(),
        wrong,
        "Authorization: Bearer \r\n".into(),
        format!("Authorization: Basic {token}\r\n"),
        format!("Authorization: {token}\r\n"),
        format!("Cookie: token={token}; Authorization=Bearer {token}\r\n"),
    ] {
        let answer = post(&format!("{host}{nobody}"));
        assert_eq!(answer.status, 401, "{nobody}");
        assert!(answer.head.contains("www-authenticate: bearer"), "{nobody}");
    }
    for foreign in [
        format!("Host: trees.example\r\n{bearer}"),
        format!("{host}{bearer}Origin: https://trees.example\r\n"),
        format!("{host}{bearer}Origin: null\r\n"),
        format!("{host}{bearer}Sec-Fetch-Site: cross-site\r\n"),
    ] {
        assert_eq!(post(&foreign).status, 403, "{foreign}");
    }
    let reader = Store::open(folder.path()).unwrap().reader().unwrap();
    assert!(kept(&reader).is_empty(), "a stranger wrote");

    let answer = post(&format!("{host}{bearer}"));
    let told: Value = serde_json::from_str(&answer.body).unwrap();
    assert_eq!((answer.status, told), (200, json!({"taken": 1, "known": 0, "refused": []})));
    assert!(!answer.head.contains("access-control"), "a page from elsewhere is let in");
    assert_eq!(kept(&reader).len(), 1);

    let data = folder.path().to_str().unwrap();
    let listed = budswell(&["token", "--data", data, "--list"]);
    assert!(listed.starts_with("Greenhouse logger: made ") && listed.contains("last sent"), "{listed}");
    assert!(!listed.contains(&token));
    budswell(&["token", "--data", data, "--revoke", "Greenhouse logger"]);
    assert_eq!(post(&format!("{host}{bearer}")).status, 401, "a revoked token still opens");
}

#[test]
fn what_was_not_taken_is_named_and_what_is_no_batch_gets_a_clear_no() {
    let folder = tempfile::tempdir().unwrap();
    let token = collection(folder.path());
    let house = serve(folder.path());
    let mut line = Sender::with_token(house.address(), &token).unwrap();
    let at = past();
    let rows = json!({"readings": [
        {"place": "cold-frame", "kind": "temperature", "at": at, "value": 37.4, "unit": "F"},
        {"place": "attic", "kind": "temperature", "at": at, "value": 3},
        {"place": "cold-frame", "kind": "temperature", "at": at, "value": 99},
        {"tree": "old-trident", "kind": "weight", "at": at, "value": 1842, "unit": "g"},
        {"tree": "old-trident", "kind": "weight", "at": at, "value": 1.9, "unit": "kg"},
    ]});
    let answer = line.post(&rows.to_string()).unwrap();
    let told: Value = serde_json::from_str(&answer.body).unwrap();
    assert_eq!((answer.status, &told["taken"], &told["known"]), (200, &json!(2), &json!(0)));
    let refused: Vec<(u64, &str)> = told["refused"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| (it["index"].as_u64().unwrap(), it["value"].as_str().unwrap()))
        .collect();
    assert_eq!(refused, [(1, "attic"), (2, "99"), (4, "1900 g")]);
    assert!(told["refused"][2]["why"].as_str().unwrap().contains("1842 g stands"), "{told}");

    for (body, status, why) in [
        (String::new(), 400, "not JSON"),
        ("{\"readings\":[{\"place\":".into(), 400, "not JSON"),
        ("[]".into(), 400, "readings"),
        ("{\"readings\":{}}".into(), 400, "no list"),
        ("[".repeat(100_000), 400, "not JSON"),
        (batch(PLACE, (0..5_001).map(|second| (at + second, 3.0))), 413, "5000"),
    ] {
        let answer = line.post(&body).unwrap();
        assert_eq!(answer.status, status, "{}", answer.body);
        assert!(answer.body.starts_with("{\"error\":") && answer.body.contains(why), "{}", answer.body);
    }
    let most = batch(PLACE, (0..5_000).map(|second| (at + second, 3.0)));
    assert_eq!(line.post(&most).unwrap().status, 200, "the longest batch allowed");

    let mut line = TcpStream::connect(house.address()).unwrap();
    let head = format!("POST /api/readings HTTP/1.1\r\nHost: {0}\r\nConnection: close\r\n", house.address());
    let large = format!("{head}Authorization: Bearer {token}\r\nContent-Length: 1048577\r\n\r\n");
    line.write_all(large.as_bytes()).unwrap();
    line.write_all(" ".repeat(1_048_577).as_bytes()).unwrap();
    let mut answer = String::new();
    line.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 413") && answer.contains("1048576 bytes"), "{answer}");
}

#[test]
fn late_and_doubled_batches_make_the_hours_of_the_place_and_the_pages_see_them() {
    let folder = tempfile::tempdir().unwrap();
    let token = collection(folder.path());
    let house = serve(folder.path());
    let mut line = Sender::with_token(house.address(), &token).unwrap();
    let first = past();
    let rows: Vec<(i64, f64)> = (0..240).map(|step| (first + step * 60, step as f64 / 60.0)).collect();
    let mut batches: Vec<&[(i64, f64)]> = rows.chunks(7).collect();
    batches.reverse();
    for rows in batches {
        for expected in ["\"taken\":7", "\"known\":7"] {
            let answer = line.post(&batch(PLACE, rows.iter().copied())).unwrap();
            assert!(rows.len() < 7 || answer.body.contains(expected), "{}", answer.body);
        }
    }
    let reader = Store::open(folder.path()).unwrap().reader().unwrap();
    let hours = reader.logged_hours(PLACE).unwrap();
    assert_eq!(hours.len(), 4);
    for (number, hour) in hours.iter().enumerate() {
        assert_eq!((hour.at, hour.filled), (first + number as i64 * 3600, false));
        assert!((hour.temperature - (number as f64 + 59.0 / 120.0)).abs() < 1e-9, "{hour:?}");
    }
    let site = served_page(house.address(), "/site");
    assert!(site.contains("the sensor Greenhouse logger sent readings"), "{site}");
    assert_eq!(site.matches("sent readings</span>").count(), 1, "the log is flooded");
}

fn served_page(address: &str, path: &str) -> String {
    let mut line = TcpStream::connect(address).unwrap();
    write!(line, "GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").unwrap();
    let mut page = String::new();
    line.read_to_string(&mut page).unwrap();
    page
}

/// The reading of a sensor's row; what a row holds follows from its number.
fn row(sensor: i64, number: i64) -> (i64, f64) {
    (1_700_000_000 + sensor * 200_000 + number, (number * 7 % 500) as f64 / 10.0 - 20.0)
}

/// Sends rows from `next` on, in batches of many sizes, until the line breaks; gives how far was acknowledged.
fn send_until_broken(address: &str, token: &str, sensor: i64, mut next: i64) -> i64 {
    let Ok(mut line) = Sender::with_token(address, token) else { return next };
    loop {
        let size = [1, 10, 3, 100, 1][next as usize % 5];
        let body = batch(PLACE, (next..next + size).map(|number| row(sensor, number)));
        let Ok(answer) = line.post(&body) else { return next };
        let told: Value = serde_json::from_str(&answer.body).unwrap();
        let counted = told["taken"].as_i64().unwrap_or(0) + told["known"].as_i64().unwrap_or(0);
        assert_eq!((answer.status, counted), (200, size), "{}", answer.body);
        next += size;
    }
}

#[test]
fn a_kill_loses_no_reading_that_was_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path();
    let token = collection(data);
    let (mut next, begun, mut up) = ([0_i64; 3], Instant::now(), Duration::ZERO);
    let kills = [0, 3, 10, 40, 75, 150, 300, 500, 700, 900].map(Duration::from_millis);
    for delay in kills {
        let house = serve(data);
        let (address, started) = (house.address().to_string(), Instant::now());
        let senders: Vec<_> = (0..3)
            .map(|sensor| {
                let (address, token, from) = (address.clone(), token.clone(), next[sensor as usize]);
                thread::spawn(move || send_until_broken(&address, &token, sensor, from))
            })
            .collect();
        thread::sleep(delay);
        drop(house); // the drop is a SIGKILL
        up += started.elapsed();
        let reached: Vec<i64> = senders.into_iter().map(|sender| sender.join().unwrap()).collect();

        let reader = Store::open(data).unwrap().reader().unwrap();
        assert!(reader.faults().unwrap().is_empty(), "killed after {delay:?}");
        let kept = kept(&reader);
        for (sensor, &reached) in reached.iter().enumerate() {
            let lost = (0..reached).map(|number| row(sensor as i64, number));
            let lost = lost.filter(|(at, value)| kept.get(at) != Some(value)).count();
            assert_eq!(lost, 0, "of {reached} of sensor {sensor}, killed after {delay:?}");
            next[sensor] = reached;
        }
        let over = kept.len() as i64 - next.iter().sum::<i64>();
        assert!(over <= 3 * 100, "{over} kept that nobody was told of");
        hours_follow_from(&reader, &kept);
    }
    let sent: i64 = next.iter().sum();
    let rate = sent as f64 / up.as_secs_f64();
    println!(
        "{sent} acknowledged over {} kills, {rate:.0} a second, {:?} in all",
        kills.len(),
        begun.elapsed()
    );
    assert!(sent > 500, "the server was hardly writing when it was killed: {sent}");
}

/// The hourly means kept beside the readings are those of the readings.
fn hours_follow_from(reader: &Reader, kept: &BTreeMap<i64, f64>) {
    let mut sums: BTreeMap<i64, (f64, f64)> = BTreeMap::new();
    for (at, value) in kept {
        let sum = sums.entry(at.div_euclid(3600) * 3600).or_default();
        *sum = (sum.0 + value, sum.1 + 1.0);
    }
    let hours = reader.logged_hours(PLACE).unwrap();
    let measured: Vec<_> = hours.iter().filter(|hour| !hour.filled).collect();
    assert_eq!(measured.len(), sums.len());
    for (hour, (at, (sum, count))) in measured.iter().zip(sums) {
        assert!(hour.at == at && (hour.temperature - sum / count).abs() < 1e-9, "{hour:?}");
    }
}
