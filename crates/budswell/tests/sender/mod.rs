//! A home logger for tests: a line to the server kept open, batches posted over it, each answer awaited.

use std::{
    fmt::Write as _,
    io::{self, BufRead, BufReader, Read, Write},
    net::TcpStream,
    path::Path,
    process::{Command, Stdio},
    time::Duration,
};

/// What the server said.
#[derive(Debug)]
pub struct Answer {
    /// The status.
    pub status: u16,
    /// The head, in lower case.
    pub head: String,
    /// The body.
    pub body: String,
}

/// A logger with its line open.
pub struct Sender {
    line: BufReader<TcpStream>,
    head: String,
}

impl Sender {
    /// Opens a line; `headers` go with every batch, each ended by `\r\n`.
    pub fn open(address: &str, headers: &str) -> io::Result<Sender> {
        let line = TcpStream::connect(address)?;
        line.set_nodelay(true)?;
        line.set_read_timeout(Some(Duration::from_secs(20)))?;
        let head = format!("POST /api/readings HTTP/1.1\r\n{headers}Content-Type: application/json\r\n");
        Ok(Sender { line: BufReader::new(line), head })
    }

    /// Opens a line to where the server is, with a token.
    pub fn with_token(address: &str, token: &str) -> io::Result<Sender> {
        Sender::open(address, &format!("Host: {address}\r\nAuthorization: Bearer {token}\r\n"))
    }

    /// Posts a body and waits for the answer; an error when the line breaks before it is whole.
    pub fn post(&mut self, body: &str) -> io::Result<Answer> {
        let request = format!("{}Content-Length: {}\r\n\r\n{body}", self.head, body.len());
        self.line.get_mut().write_all(request.as_bytes())?;
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            if self.line.read_line(&mut head)? == 0 {
                return Err(io::ErrorKind::UnexpectedEof.into());
            }
        }
        let head = head.to_lowercase();
        let length = head.lines().find_map(|line| line.strip_prefix("content-length: ")).unwrap_or("0");
        let mut body = vec![0; length.parse().expect("a length")];
        self.line.read_exact(&mut body)?;
        let status = head[9..12].parse().expect("a status");
        Ok(Answer { status, head, body: String::from_utf8(body).expect("text") })
    }
}

/// A batch of temperatures of a place: moments and °C.
pub fn batch(place: &str, rows: impl IntoIterator<Item = (i64, f64)>) -> String {
    let mut text = String::from("{\"readings\":[");
    for (number, (at, value)) in rows.into_iter().enumerate() {
        let comma = if number == 0 { "" } else { "," };
        write!(text, r#"{comma}{{"place":"{place}","kind":"temperature","at":{at},"value":{value}}}"#)
            .expect("a string takes all");
    }
    text + "]}"
}

/// Runs `budswell` and gives what it printed; it must end well.
pub fn budswell(arguments: &[&str]) -> String {
    let run = Command::new(env!("CARGO_BIN_EXE_budswell"))
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .expect("budswell starts");
    assert!(run.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&run.stderr));
    String::from_utf8(run.stdout).expect("text")
}

/// A collection in this folder with the demo's site, places and trees, and a token for one sensor.
pub fn collection(data: &Path) -> String {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let data = data.to_str().expect("a plain name");
    for kind in ["site", "places", "trees"] {
        let file = demo.join(format!("{kind}.csv"));
        budswell(&["import", "--kind", kind, "--data", data, file.to_str().expect("a plain name")]);
    }
    budswell(&["token", "--data", data, "--name", "Greenhouse logger"]).trim().to_string()
}
