//! Nothing that a terminal would obey, and no sign that turns or hides text, is printed raw, whatever stands in a collection or a file.

use assert_cmd::Command;
use intake::import::{Kind, Options, import};
use measure::taxon::Taxon;
use store::store::{Act, Store};

/// Sets the window's title, rings, clears, and turns what follows.
const ODD: &str = "Old\u{1b}]0;x\u{7}\u{1b}[2J \u{202e}elpaM\u{2066}\u{9b}31m";

/// A collection from before names were looked at: one tree with a name that a terminal would obey.
fn collection(folder: &std::path::Path) {
    let mut store = Store::open(folder).unwrap();
    let options = Options { now: Some(1_774_700_000), ..Options::default() };
    for (kind, sheet) in [
        ("site", "name,latitude,longitude,elevation,zone\nHome,47.4,8.5,400,Europe/Zurich\n"),
        ("places", "name,shelter\nBench,open-bench\n"),
        ("trees", "name,taxon\nOld Maple,acer-palmatum\n"),
        ("moves", "tree,place,day\nOld Maple,Bench,2025-11-01\n"),
    ] {
        let kind = Kind::from_key(kind, "").unwrap();
        import(&mut store, &kind, "sheet.csv", sheet.as_bytes(), &options).unwrap();
    }
    let stood = store.reader().unwrap().trees().unwrap().remove(0);
    let odd = collection::tree::Tree {
        key: "odd".into(),
        name: ODD.into(),
        taxon: Taxon::of("ulmus-parvifolia").unwrap(),
        note: ODD.into(),
        ..stood
    };
    store.transact(&Act::AddTree(ODD.into()), |change| change.add_tree(&odd)).unwrap();
}

fn is_raw(sign: char) -> bool {
    (sign.is_control() && !matches!(sign, '\n' | '\t'))
        || matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[test]
fn no_command_prints_a_sign_that_a_terminal_obeys() {
    let folder = tempfile::tempdir().unwrap();
    collection(folder.path());
    let sheet = folder.path().join("odd.csv");
    std::fs::write(&sheet, format!("name,taxon\n{ODD},acer-palmatum\nBirch,{ODD}\n")).unwrap();
    let mut named = 0;
    for words in [
        "check",
        "round",
        "repots",
        "repots odd",
        "pots",
        "soil",
        "wires",
        "tonight",
        "may odd",
        "bench odd",
        "import --kind trees",
        "import --kind trees --preview",
    ] {
        let mut words = words.split(' ');
        let mut command = Command::cargo_bin("budswell").unwrap();
        command.arg(words.next().unwrap()).arg("--data").arg(folder.path()).args(words.clone());
        if words.clone().any(|word| word == "--kind") {
            command.arg(&sheet);
        }
        let output = command.output().unwrap();
        for printed in [&output.stdout, &output.stderr] {
            let printed = String::from_utf8(printed.clone()).expect("text");
            assert!(!printed.chars().any(is_raw), "{command:?}: {printed:?}");
            named += usize::from(printed.contains("\\u001b"));
        }
    }
    assert!(named >= 3, "only {named} commands printed the odd name at all");
}
