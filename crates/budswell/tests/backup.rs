//! Backups from the outside: made while a server serves, put back by page and by command, and a server that ends on SIGTERM.

use std::{
    fs,
    io::{BufRead, BufReader, Read, Write},
    net::TcpStream,
    path::Path,
    process::{Child, Command, Output, Stdio},
    thread,
    time::{Duration, Instant},
};

const FILE: &str = "budswell.db";

struct Server {
    child: Child,
    address: String,
    printed: BufReader<std::process::ChildStdout>,
}

impl Server {
    fn start(data: &Path) -> Server {
        let mut child =
            budswell(&["serve", "--port", "0", "--data"], data).stdout(Stdio::piped()).spawn().unwrap();
        let mut printed = BufReader::new(child.stdout.take().unwrap());
        let mut line = String::new();
        let address = loop {
            line.clear();
            assert!(printed.read_line(&mut line).unwrap() > 0, "{:?}", child.wait());
            if let Some((address, _)) = line.strip_prefix("open http://").and_then(|it| it.split_once('/')) {
                break address.to_string();
            }
        };
        Server { child, address, printed }
    }

    /// Status and body of an answer.
    fn ask(&self, first: &str, body: &str) -> (u16, Vec<u8>) {
        let mut line = TcpStream::connect(&self.address).unwrap();
        let head = format!(
            "{first} HTTP/1.1\r\nHost: {}\r\nContent-Type: application/x-www-form-urlencoded\r\nConnection: close\r\n\
             Content-Length: {}\r\n\r\n{body}",
            self.address,
            body.len()
        );
        line.write_all(head.as_bytes()).unwrap();
        let mut answer = Vec::new();
        line.read_to_end(&mut answer).unwrap();
        let end = answer.windows(4).position(|it| it == b"\r\n\r\n").unwrap() + 4;
        let status = String::from_utf8_lossy(&answer[9..12]).parse().unwrap();
        (status, answer.split_off(end))
    }

    fn page(&self, first: &str, status: u16) -> String {
        let (got, body) = self.ask(first, "");
        let page = String::from_utf8_lossy(&body).into_owned();
        assert_eq!(got, status, "{first}: {page}");
        page
    }

    fn add_places(&self, numbers: std::ops::Range<usize>) {
        for number in numbers {
            let form =
                format!("name=Place+{number}&shelter=cold-frame&facing=&lamp_flux=&lamp_hours=&capacity=");
            assert_eq!(self.ask("POST /places", &form).0, 303);
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn budswell(arguments: &[&str], path: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_budswell"));
    command.args(arguments).arg(path);
    command
}

/// What `check` prints of a file, and whether it is content.
fn check(path: &Path) -> (bool, String) {
    told(budswell(&["check", "--data"], path).output().unwrap())
}

fn told(output: Output) -> (bool, String) {
    let words = [output.stdout, output.stderr].concat();
    (output.status.success(), String::from_utf8_lossy(&words).into_owned())
}

fn copy_alone(data: &Path, to: &Path) -> (bool, String) {
    fs::copy(data.join(FILE), to).unwrap();
    check(to)
}

fn log_bytes(data: &Path) -> u64 {
    fs::metadata(data.join(format!("{FILE}-wal"))).map_or(0, |log| log.len())
}

#[test]
fn a_lone_copy_lacks_nothing_after_quiet_seconds_and_after_sigterm_and_is_told_apart_before() {
    let folder = tempfile::tempdir().unwrap();
    let (data, alone) = (folder.path().join("data"), folder.path().join("alone.db"));
    let mut server = Server::start(&data);
    server.add_places(0..70);
    let (content, words) = copy_alone(&data, &alone);
    assert!(!content && words.contains("without its log") && !words.contains("sound"), "{words}");

    let begun = Instant::now();
    while log_bytes(&data) > 0 {
        assert!(begun.elapsed() < Duration::from_secs(120), "the log is never folded in");
        thread::sleep(Duration::from_millis(100));
    }
    let (content, words) = copy_alone(&data, &alone);
    assert!(content && words.contains("sound") && words.contains("70 acts"), "{words}");
    server.add_places(70..73);
    let (content, words) = copy_alone(&data, &alone);
    assert!(!content && words.contains("without its log"), "{words}");
    let (content, words) = check(&data);
    assert!(content && words.contains("73 acts"), "while it serves: {words}");

    assert!(Command::new("kill").arg("-TERM").arg(server.child.id().to_string()).status().unwrap().success());
    assert!(server.child.wait().unwrap().success(), "SIGTERM is no clean end");
    let mut printed = String::new();
    server.printed.read_to_string(&mut printed).unwrap();
    assert!(printed.contains("everything is in the one file"), "{printed}");
    assert_eq!(log_bytes(&data), 0);
    let (content, words) = copy_alone(&data, &alone);
    assert!(content && words.contains("73 acts"), "{words}");
    let day: Vec<_> = fs::read_dir(data.join("backups")).unwrap().map(|it| it.unwrap().path()).collect();
    assert_eq!(day.len(), 1, "the day's backup: {day:?}");
    assert!(check(&day[0]).0);
}

#[test]
fn a_backup_is_made_and_put_back_by_page_and_by_command() {
    let folder = tempfile::tempdir().unwrap();
    let (data, other) = (folder.path().join("data"), folder.path().join("other"));
    let file = folder.path().join("backup.db");
    let server = Server::start(&data);
    server.add_places(0..4);
    let make = |to: &Path| told(budswell(&["backup", "--to"], to).arg("--data").arg(&data).output().unwrap());
    let (done, words) = make(&file);
    assert!(done && words.contains("4 acts") && words.contains("checked"), "{words}");
    let (done, words) = make(&file);
    assert!(!done && words.contains("choose another name"), "{words}");
    let (done, words) = make(&folder.path().join("nowhere/on/a/stick"));
    assert!(!done && words.contains("nowhere"), "{words}");

    assert_eq!(server.ask("POST /backup", "").0, 303);
    let page = server.page("GET /backup", 200);
    let (_, rest) = page.split_once("href=\"/backup/budswell-").unwrap();
    let name = format!("budswell-{}", rest.split_once('"').unwrap().0);
    let (status, bytes) = server.ask(&format!("GET /backup/{name}"), "");
    assert_eq!((status, bytes), (200, fs::read(data.join("backups").join(&name)).unwrap()));
    for strange in ["..%2Fbudswell.db", "budswell.db", "x"] {
        server.page(&format!("GET /backup/{strange}"), 404);
        server.page(&format!("POST /backup/{strange}/restore"), 404);
    }
    server.add_places(4..9);
    let ask = server.page(&format!("GET /backup/{name}/restore"), 200);
    assert!(ask.contains("5 changes") && ask.contains("added the place place-8"), "{ask}");
    assert!(server.page("GET /places", 200).contains("Place 8"));
    let done = server.page(&format!("POST /backup/{name}/restore"), 200);
    assert!(done.contains("before-restore"), "{done}");
    let places = server.page("GET /places", 200);
    assert!(places.contains("Place 3") && !places.contains("Place 8"), "an old page is shown");
    let (content, words) = check(&data);
    assert!(content && words.contains("4 places, 5 acts"), "{words}");

    let restore =
        |to: &Path| told(budswell(&["restore", "--from"], &file).arg("--data").arg(to).output().unwrap());
    let (done, words) = restore(&data);
    assert!(!done && words.contains("open in another Budswell"), "{words}");
    let (done, words) = told(budswell(&["serve", "--port", "0", "--data"], &data).output().unwrap());
    assert!(!done && words.contains("open in another Budswell"), "{words}");
    let (done, words) = restore(&other);
    assert!(done && words.contains("4 acts"), "{words}");
    assert!(check(&other).1.contains("sound; 0 trees, 4 places, 4 acts"));
    let (done, words) = restore(&other);
    assert!(done && words.contains("budswell.db.replaced-"), "{words}");
    fs::write(&file, "").unwrap();
    let (done, words) = restore(&other);
    assert!(!done && words.contains("the file is empty (0 bytes)"), "{words}");
    assert!(check(&other).0);
    drop(server);
    let (content, words) = check(&data);
    assert!(content && words.contains("5 acts"), "after a kill: {words}");
}

#[test]
fn a_backup_that_cannot_be_made_is_told_and_stops_no_act() {
    let folder = tempfile::tempdir().unwrap();
    let server = Server::start(folder.path());
    fs::write(folder.path().join("backups"), "a file where the folder should be").unwrap();
    assert_eq!(server.ask("POST /backup", "").0, 409);
    server.add_places(0..2);
    assert!(server.page("GET /backup", 409).contains("backups"));
    let (content, words) = check(folder.path());
    assert!(content && words.contains("2 acts"), "{words}");
    fs::remove_file(folder.path().join("backups")).unwrap();
    assert!(server.page("GET /backup", 200).contains("The last backup failed"));
    assert_eq!(server.ask("POST /backup", "").0, 303);
    assert!(!server.page("GET /backup", 200).contains("The last backup failed"));
}
