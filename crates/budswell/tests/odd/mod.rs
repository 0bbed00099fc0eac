//! A served collection that odd requests are thrown at: the server, a line to it, and the collection's file read beside it.

pub mod chance;
pub mod forms;
pub mod ground;
pub mod request;
pub mod routes;

use std::{
    fs::{self, File},
    io::{BufRead, BufReader, Read, Write},
    net::TcpStream,
    path::PathBuf,
    process::{Child, ChildStdout, Command, Stdio},
    time::Duration,
};

use store::{reader::Reader, store::Store};

/// The day the pages stand on.
pub const TODAY: &str = "2026-06-20";

/// The demo's pages, on a collection of their own in a file.
pub struct House {
    child: Child,
    _printed: BufReader<ChildStdout>,
    errors: PathBuf,
    /// The same file, read beside the server.
    pub reader: Reader,
    /// Host and port.
    pub address: String,
    line: Option<BufReader<TcpStream>>,
    _folder: tempfile::TempDir,
}

/// What came back.
#[derive(Debug)]
pub struct Reply {
    pub status: u16,
    pub location: String,
    pub is_html: bool,
    pub body: String,
}

impl House {
    pub fn open(fill: impl FnOnce(&mut Store)) -> House {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().join("trees");
        let mut store = Store::open(&data).unwrap();
        fill(&mut store);
        let reader = store.reader().unwrap();
        drop(store);
        let errors = folder.path().join("errors.txt");
        let mut child = Command::new(env!("CARGO_BIN_EXE_budswell"))
            .args(["serve", "--today", TODAY, "--port", "0", "--data"])
            .arg(&data)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(File::create(&errors).unwrap())
            .spawn()
            .expect("budswell starts");
        let mut printed = BufReader::new(child.stdout.take().unwrap());
        let address = loop {
            let mut text = String::new();
            assert!(printed.read_line(&mut text).unwrap() > 0, "budswell ended before it said where it is");
            if let Some((address, _)) = text.strip_prefix("open http://").and_then(|it| it.split_once('/')) {
                break address.to_string();
            }
        };
        House { child, _printed: printed, errors, reader, address, line: None, _folder: folder }
    }

    /// What the server printed of faults, and whether it still runs.
    pub fn ails(&mut self) -> Option<String> {
        let errors = fs::read_to_string(&self.errors).unwrap();
        match self.child.try_wait().unwrap() {
            Some(end) => Some(format!("the server ended, {end}: {errors}")),
            None => errors.contains("panicked").then_some(errors),
        }
    }

    /// Sends a request and reads the reply; a line that was closed meanwhile is opened again once.
    pub fn send(&mut self, bytes: &[u8]) -> Result<Reply, String> {
        let kept = self.line.take();
        if let Some(line) = kept
            && let Ok(reply) = self.over(line, bytes)
        {
            return Ok(reply);
        }
        let stream = TcpStream::connect(&self.address).map_err(|why| why.to_string())?;
        stream.set_nodelay(true).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        self.over(BufReader::new(stream), bytes)
    }

    fn over(&mut self, mut line: BufReader<TcpStream>, bytes: &[u8]) -> Result<Reply, String> {
        let broken = |why: std::io::Error| format!("no reply: {why}");
        // What is refused early is answered before all of it was read.
        let _ = line.get_mut().write_all(bytes);
        let mut head = Vec::new();
        loop {
            let mut text = String::new();
            match line.read_line(&mut text).map_err(broken)? {
                0 => return Err("no reply: the line was closed".into()),
                _ if text == "\r\n" => break,
                _ => head.push(text.trim_end().to_string()),
            }
        }
        let header = |name: &str| {
            let lines = head.iter().filter_map(|line| line.split_once(": "));
            lines.filter(|(key, _)| key.eq_ignore_ascii_case(name)).map(|(_, value)| value.to_string()).next()
        };
        let status = head[0].split(' ').nth(1).and_then(|code| code.parse().ok()).ok_or("no status")?;
        let length: usize = header("content-length").and_then(|it| it.parse().ok()).unwrap_or(0);
        assert!(header("transfer-encoding").is_none(), "replies have a length");
        let mut body = vec![0; length];
        line.read_exact(&mut body).map_err(broken)?;
        let is_html = header("content-type").is_some_and(|kind| kind.starts_with("text/html"));
        if header("connection").is_none_or(|it| it != "close") {
            self.line = Some(line);
        }
        let location = header("location").unwrap_or_default();
        Ok(Reply { status, location, is_html, body: String::from_utf8_lossy(&body).into_owned() })
    }

    /// Asks for a page.
    pub fn get(&mut self, address: &str) -> Result<Reply, String> {
        let (path, _) = address.split_once('#').unwrap_or((address, ""));
        let text = format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.address);
        self.send(text.as_bytes())
    }

    /// Everything the collection holds that a form may change, as text.
    pub fn contents(&self) -> String {
        let it = &self.reader;
        let grower =
            (it.site(), it.places(), it.trees(), it.moves(), it.looks(), it.works(), it.drinks(), it.aways());
        let potting = (it.pots(), it.mixes(), it.potted(), it.crowns(), it.wares(), it.stock(), it.blends());
        let limbs =
            (it.limbs(), it.traces(), it.calipers(), it.fronts(), it.aims(), it.intentions(), it.brushes());
        let treated =
            (it.cuts(), it.wires(), it.coils(), it.layers(), it.wounds(), it.photos(), it.rules_off());
        let shelf =
            (it.grown(), it.statures(), it.tints(), it.vigours(), it.pot_looks(), it.meant(), it.repots());
        let said = (it.tolls(), it.reservations(), it.likings(), it.pot_photos(), it.pot_rules_off());
        let rest = (it.round_times(), it.files(), it.senders(), it.station_days().map(|days| days.len()));
        format!("{grower:?}\n{potting:?}\n{limbs:?}\n{treated:?}\n{shelf:?}\n{said:?}\n{rest:?}")
    }
}

impl Drop for House {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
