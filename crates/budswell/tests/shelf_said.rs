//! `budswell repots`, `pots` and `soil` say what the pages say, on one collection and one day.

#[path = "../../view/tests/demo/mod.rs"]
mod demo;
mod served;

use std::{
    io::{Read, Write},
    net::TcpStream,
    path::Path,
};

use assert_cmd::Command;
use served::Served;
use store::store::Store;

/// The day of the demo.
const TODAY: &str = "2026-03-28";

/// The demo's shelf, kept in a folder.
fn kept(data: &Path) {
    demo::take_in(&mut Store::open(data).unwrap(), |_, text| text);
}

/// A page as it can be read: without its tags, a space for each run of blanks.
fn page(served: &Served, path: &str) -> String {
    let mut line = TcpStream::connect(served.address()).unwrap();
    write!(line, "GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", served.address()).unwrap();
    let mut html = String::new();
    line.read_to_string(&mut html).unwrap();
    assert!(html.starts_with("HTTP/1.1 200"), "{path}: {html}");
    let (_, main) = html.split_once("<main").unwrap();
    let mut text = String::new();
    for part in main.split('<') {
        text.push(' ');
        text.push_str(part.split_once('>').map_or(part, |(_, words)| words));
    }
    let text = text.replace("&#39;", "'").replace("&#34;", "\"").replace("&amp;", "&");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The rows of a printed answer: each starts after an empty line, and its first line ends before a bracket or colon.
fn rows(printed: &str) -> Vec<Vec<&str>> {
    let blocks = printed.split("\n\n").skip(1);
    blocks.map(|block| block.lines().map(str::trim).filter(|line| !line.is_empty()).collect()).collect()
}

/// That the page tells these words, one after the other.
#[track_caller]
fn tells(page: &str, words: &[&str]) {
    let mut rest = page;
    for word in words {
        let Some(at) = rest.find(word) else { panic!("“{word}” is not where it should be in: {rest}") };
        rest = &rest[at + word.len()..];
    }
}

/// What a command prints of the collection on the day.
fn say(what: &[&str], data: &Path) -> String {
    let [command, more @ ..] = what else { panic!("a command") };
    let mut run = Command::cargo_bin("budswell").unwrap();
    run.arg(command).arg("--data").arg(data).args(["--today", TODAY]).args(more);
    String::from_utf8(run.assert().success().get_output().stdout.clone()).unwrap()
}

#[test]
fn what_is_printed_is_what_the_pages_say() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("trees");
    kept(&data);
    let serve = ["serve", "--data", data.to_str().unwrap(), "--today", TODAY];
    let served = Served::start(serve);

    let printed = say(&["repots"], &data);
    let told = page(&served, "/repots");
    let go = rows(&printed);
    assert!(go.len() >= 12, "{printed}");
    let count = format!("{} go", go.iter().filter(|row| row.len() > 1).count());
    assert!(told.contains(&count) && printed.starts_with("Repots of 2026: "), "{count}: {told}");
    for row in go.iter().filter(|row| row.len() > 1) {
        let (name, _) = row[0].split_once(" (").unwrap();
        let due = row[1].strip_prefix("due: ").unwrap();
        let (advice, ready) = row[2].strip_prefix("ready: ").unwrap().split_once("; ").unwrap();
        let cut = row[3].strip_prefix("cut: ").unwrap();
        tells(&told, &[name, advice, "Due", due, "Ready", ready, "Roots", cut]);
    }

    let printed = say(&["pots"], &data);
    let told = page(&served, "/pots/share");
    let trees: Vec<Vec<&str>> =
        rows(&printed).into_iter().filter(|row| row[0].contains(" into ") && row[0].ends_with(')')).collect();
    assert!(told.contains(&format!("{} trees, one place each", trees.len())), "{} in {told}", trees.len());
    for row in &trees {
        let (name, rest) = row[0].split_once(" into ").unwrap();
        let (into, _) = rest.split_once(" (").unwrap();
        tells(&told, &[name, into, row[1]]);
    }
    let (_, steps) = printed.split_once("At the bench, in this order\n").unwrap();
    let steps: Vec<String> = steps
        .lines()
        .filter_map(|line| Some(line.trim().split_once(". ")?.1.replacen(": ", " ", 1)))
        .collect();
    assert!(steps.len() >= trees.len(), "{steps:?}");
    let (_, listed) = told.split_once("Every step").unwrap();
    tells(listed, &steps.iter().map(String::as_str).collect::<Vec<_>>());

    let printed = say(&["soil"], &data);
    let told = page(&served, "/soil");
    let lines: Vec<_> = rows(&printed).into_iter().filter(|row| row[0].contains(" needed; ")).collect();
    assert!(lines.len() >= 6, "{printed}");
    for row in &lines {
        let (what, rest) = row[0].split_once(": ").unwrap();
        let (needed, left) = rest.split_once(" needed; in the shed ").unwrap();
        let grains = usize::from(row.get(1).is_some_and(|line| line.contains(" in grains ")));
        let [first, last] = [&row[1..=grains], &row[1 + grains..]];
        tells(&told, &[&[what, "Needed", needed], first, &["In the shed", left], last].concat());
    }
    assert!(lines.iter().any(|row| row.len() > 1), "nothing runs short: {printed}");
}

#[test]
fn one_tree_s_bench_is_printed_as_its_page_says() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("trees");
    kept(&data);
    let served = Served::start(["serve", "--data", data.to_str().unwrap(), "--today", TODAY]);
    let printed = say(&["repots", "lone-larch"], &data);
    let told = page(&served, "/trees/lone-larch/repot");
    let line = |start: &str| {
        let found = printed.lines().find_map(|line| line.strip_prefix(start));
        found.unwrap_or_else(|| panic!("no “{start}” in {printed}"))
    };
    tells(&told, &["Repot Lone larch", line("Aim for today: "), "Strength:", line("strength: ")]);
    tells(&told, &["Pot", line("pot: ").split("; it fits").next().unwrap(), "Mix and wire", line("Mix: ")]);
    tells(&told, &["Tie wires", line("Tie wires: "), "Mesh", line("Mesh: "), "Care, if it is done today"]);
    assert!(line("Aim for today: ").contains('%'), "{printed}");
}
