//! A running Budswell for tests: started on a free port, its address read from what it prints, ended on drop.

use std::{
    ffi::OsStr,
    io::{BufRead, BufReader},
    path::Path,
    process::{Child, ChildStdout, Command, Stdio},
};

/// A `budswell` that serves pages until dropped.
pub struct Served {
    child: Child,
    /// Held so that the server always has somewhere to print to.
    _printed: BufReader<ChildStdout>,
    address: String,
}

impl Served {
    /// Starts `budswell ARGUMENTS --port 0` and waits until it says where it is.
    pub fn start<A: AsRef<OsStr>>(arguments: impl IntoIterator<Item = A>) -> Served {
        Served::start_of(env!("CARGO_BIN_EXE_budswell").as_ref(), arguments)
    }

    /// The same of a `budswell` that was built elsewhere.
    pub fn start_of<A: AsRef<OsStr>>(budswell: &Path, arguments: impl IntoIterator<Item = A>) -> Served {
        let mut child = Command::new(budswell)
            .args(arguments)
            .args(["--port", "0"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .expect("budswell starts");
        let mut printed = BufReader::new(child.stdout.take().expect("its output is ours"));
        let mut line = String::new();
        let address = loop {
            line.clear();
            if printed.read_line(&mut line).expect("it prints text") == 0 {
                panic!("budswell ended before it said where it is: {:?}", child.wait());
            }
            if let Some((address, _)) =
                line.strip_prefix("open http://").and_then(|rest| rest.split_once('/'))
            {
                break address.to_string();
            }
        };
        Served { child, _printed: printed, address }
    }

    /// Host and port, as `127.0.0.1:4730`.
    pub fn address(&self) -> &str {
        &self.address
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
