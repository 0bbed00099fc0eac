//! Every page on a telephone and on a desk, light and dark: nothing in the way of anyone, nothing from elsewhere.

use std::{env, fs, path::Path};

use serde_json::{Value, json};

use crate::{
    acts::bring,
    repots::send_card,
    served::Served,
    window::{DESK, PHONE, Window, unwanted},
};

/// How a page is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Looks {
    /// The window.
    pub size: (u32, u32),
    /// Whether the grower prefers it dark.
    pub dark: bool,
}

const ALL_LOOKS: [Looks; 4] = [
    Looks { size: PHONE, dark: false },
    Looks { size: PHONE, dark: true },
    Looks { size: DESK, dark: false },
    Looks { size: DESK, dark: true },
];

/// Every page that an address leads to.
const PAGES: [&str; 39] = [
    "/round",
    "/round/card",
    "/",
    "/tonight",
    "/waking",
    "/trees/old-trident",
    "/trees/old-trident?place=kitchen-sill&day=2026-03-08",
    "/what-if?tree=old-trident&tree=ginkgo&place=kitchen-sill&day=2026-03-08",
    "/feed",
    "/feed?ppm=100&nitrogen=six&reading=700&meter=ppm700&label=2.5&label-in=ml-per-l&spray=1.5",
    "/places",
    "/places/cold-frame",
    "/pots",
    "/pots?words=weir&from=20&to=long&colour=pot_celadon&free=2026-05-01",
    "/pots/new",
    "/pots/celadon-oval-46-cm",
    "/pots/training-box-36-cm",
    "/pots/share?shape=soft-rectangle&length=40&width=30&height=9&finish=unglazed&swatch=pot_unglazed_brown",
    "/trees/lone-larch/pots",
    "/trees/red-lantern/repot",
    "/trees/mountain-maple/pots",
    "/repots",
    "/soil",
    "/mixes",
    "/mixes?pot=brown-rectangle-30-cm&tilt=15",
    "/mixes/fine-mix/bucket",
    "/trees/old-trident/limbs",
    "/trees/ginkgo/limbs",
    "/trees/old-trident/bench",
    "/trees/old-trident/front",
    "/trees/old-trident/wires?limb=2&radius=90&strands=2",
    "/trees/crab-apple/layers",
    "/wires?hours=0.5",
    "/photos/old-trident-2025-12-14/trace",
    "/photos/old-trident-2025-12-14/outline",
    "/trees/old-trident/plans?plan=one&limb=2&wish=keep-short",
    "/bring",
    "/site",
    "/start",
];

/// Pages that show something of their own on another day.
const ON_DAYS: [(&str, &str); 8] = [
    ("2026-04-28", "/trees/trident-on-rock"),
    ("2026-04-28", "/round"),
    ("2026-04-22", "/tonight"),
    ("2026-05-24", "/wires"),
    ("2026-04-28", "/trees/trident-on-rock/repot"),
    ("2026-04-28", "/repots"),
    ("2026-05-24", "/"),
    ("2026-08-12", "/trees/field-maple/layers"),
];

fn axe() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tools/node_modules/axe-core/axe.min.js");
    fs::read_to_string(&path).unwrap_or_else(|why| {
        panic!("{}: {why}; run: npm ci --prefix tools", path.display());
    })
}

/// Everything hidden behind a summary is laid open, so that it is judged too.
const OPEN_ALL: &str = "document.querySelectorAll('details').forEach(it => { it.open = true })";

const RUN_AXE: &str = "const done = arguments[arguments.length - 1];
    axe.run(document, { resultTypes: ['violations'] }).then(
        told => done(told.violations.map(it => [it.impact, it.id, it.nodes.map(node =>
            node.target.join(' ') + ': ' + [...node.any, ...node.all, ...node.none].map(why => why.message).join('; '))])),
        why => done([['critical', 'axe broke', [String(why)]]]))";

/// The numbers in the strips, which axe does not read: each with its contrast to the block it stands on, if too faint.
const FAINT_NUMBERS: &str = "const light = colour => {
        const parts = colour.match(/[0-9.]+/g).slice(0, 3).map(it => it / 255);
        const [r, g, b] = parts.map(it => it <= 0.04045 ? it / 12.92 : ((it + 0.055) / 1.055) ** 2.4);
        return 0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05;
    };
    const fill = it => light(getComputedStyle(it).fill);
    const told = [...document.querySelectorAll('.stage-word')].map(word => {
        const pair = [fill(word), fill(word.previousElementSibling)];
        return [word.textContent, Math.max(...pair) / Math.min(...pair)];
    });
    return [...new Set(told.filter(it => it[1] < 4.5).map(it => it[0] + ' at ' + it[1].toFixed(2)))].sort()";

/// What stands in someone's way on the page that is open, gravely.
pub fn judge(window: &Window, name: &str, looks: &[Looks]) -> Vec<String> {
    window.ask(OPEN_ALL);
    window.ask(&axe());
    let mut found = Vec::new();
    for look in looks {
        window.resize(look.size);
        window.prefer_dark(look.dark);
        let is_dark = window.ask("return matchMedia('(prefers-color-scheme: dark)').matches");
        assert_eq!(is_dark, look.dark, "{name} does not hear what its grower prefers");
        let scheme = if look.dark { "dark" } else { "light" };
        let faint = window.ask(FAINT_NUMBERS);
        if faint != json!([]) {
            found.push(format!("{name}, {} px, {scheme}: faint numbers in a strip: {faint}", look.size.0));
        }
        for violation in window.ask_and_wait(RUN_AXE).as_array().expect("axe answers") {
            let impact = violation[0].as_str().unwrap_or("");
            if matches!(impact, "serious" | "critical") {
                let nodes: Vec<&str> =
                    violation[2].as_array().unwrap().iter().filter_map(Value::as_str).collect();
                found.push(format!(
                    "{name}, {} px, {scheme}: {impact} {}, {} places\n    {}",
                    look.size.0,
                    violation[1].as_str().unwrap_or(""),
                    nodes.len(),
                    nodes.iter().take(6).copied().collect::<Vec<_>>().join("\n    ")
                ));
            }
        }
    }
    window.prefer_dark(false);
    found
}

/// What reaches past the right edge of a telephone, and anything asked for from elsewhere.
fn strays(window: &Window, name: &str) -> Vec<String> {
    let mut found = Vec::new();
    window.resize(PHONE);
    window.ask(OPEN_ALL);
    let wide = window.ask(
        "return document.documentElement.scrollWidth <= document.documentElement.clientWidth ? '' : document.documentElement.scrollWidth + ' px: ' +
            [...document.querySelectorAll('main *')].filter(it => it.getBoundingClientRect().right > innerWidth + 1
                && !it.closest('.scroll')).slice(0, 4).map(it => it.outerHTML.slice(0, 90)).join(' | ')",
    );
    if wide != "" {
        found.push(format!("{name} scrolls sideways on a telephone, {wide}"));
    }
    let asked = window.requests();
    assert!(asked.iter().any(|address| address.ends_with("/assets/style.css")), "{name} asked for {asked:?}");
    let own = format!("{}/", window.home());
    let foreign = asked.iter().filter(|address| !address.starts_with(&own) && !address.starts_with("data:"));
    found.extend(foreign.map(|address| format!("{name} asks for {address}")));
    found
}

#[test]
fn the_judge_sees_what_is_wrong() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/site");
    window.ask(
        "const main = document.querySelector('main');
        const [pale, wide] = [document.createElement('p'), document.createElement('input')];
        pale.innerText = 'hardly to be read';
        pale.style.color = '#999';
        pale.style.background = 'gray';
        wide.style.minWidth = '60rem';
        main.append(pale, wide);",
    );
    window.ask("return fetch('http://192.0.2.1/').catch(() => null)");
    let found = judge(&window, "spoiled", &ALL_LOOKS).join("\n");
    for (rule, looks) in [("serious color-contrast", 4), ("critical label", 4)] {
        assert_eq!(found.matches(rule).count(), looks, "{rule}: {found}");
    }
    let strays = strays(&window, "spoiled").join("\n");
    assert!(strays.contains("scrolls sideways"), "{strays}");
    assert!(!window.errors().is_empty(), "a call to elsewhere went unseen");
}

#[test]
fn every_page_serves_everyone_and_asks_nobody_else() {
    if unwanted() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("bad.csv");
    fs::write(&file, "date,tmin,tmax\n2026-03-01,1,9\n2026-03-02,cold,9\n").unwrap();
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let look_over = |name: &str| [strays(&window, name), judge(&window, name, &ALL_LOOKS)].concat();
    let mut found = Vec::new();
    for page in PAGES {
        window.go(page);
        found.extend(look_over(page));
    }
    send_card(&window);
    found.extend(look_over("the colour of a pot"));
    window.go("/pots/dark-rectangle-44-cm");
    found.extend(look_over("a pot with a photo"));
    bring(&window, "weather", "", &file);
    assert!(window.text("section.alarm").contains("bad.csv, line 3"));
    found.extend(look_over("a preview with a refused line"));
    window.press("Take the rest, leave these lines out");
    found.extend(look_over("a file taken in"));
    found.extend(window.errors());
    window.go("/trees/nobody");
    found.extend(look_over("no such tree"));
    window.go("/trees/lone-larch/repot");
    window.fill("#log input[name=cut]", "60");
    window.press("It is repotted");
    assert!(window.text("#refused").contains("Say why"), "{}", window.text("#refused"));
    found.extend(look_over("a repot that is asked about"));
    assert!(found.is_empty(), "{} findings\n{}", found.len(), found.join("\n"));
}

#[test]
fn the_pages_of_spring_serve_everyone_too() {
    if unwanted() {
        return;
    }
    let mut found = Vec::new();
    for (day, page) in ON_DAYS {
        let demo = Served::start(["demo", "--today", day]);
        let window = Window::open(demo.address(), PHONE);
        window.go(page);
        found.extend(strays(&window, page));
        found.extend(judge(&window, page, &ALL_LOOKS));
        found.extend(window.errors());
    }
    assert!(found.is_empty(), "{} findings\n{}", found.len(), found.join("\n"));
}

#[test]
fn pictures_are_taken_when_asked_for() {
    let asked = env::var("BUDSWELL_SCREENS").is_ok_and(|value| value == "1");
    if !asked || unwanted() {
        return;
    }
    let room = tempfile::tempdir().unwrap();
    let empty = Served::start(["serve", "--data", room.path().to_str().unwrap(), "--today", "2026-03-08"]);
    let window = Window::open(empty.address(), PHONE);
    window.go("/");
    keep(&window, "start", &[false]);
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let pages = [
        ("today", "/"),
        ("waking", "/waking"),
        ("tree", "/trees/old-trident"),
        ("pots", "/pots"),
        ("pot", "/pots/celadon-oval-54-cm"),
        ("share", "/pots/share"),
        ("pairs", "/trees/stone-elm/pots"),
        ("repot", "/trees/stone-elm/repot"),
        ("repots", "/repots"),
        ("soil", "/soil"),
        ("mixes", "/mixes"),
        ("feed", "/feed"),
        ("what-if", "/what-if?tree=larch-forest&tree=ginkgo&place=south-sill&day=2026-04-04"),
        ("places", "/places"),
        ("place", "/places/cold-frame"),
        ("files", "/bring"),
        ("site", "/site"),
        ("limbs", "/trees/old-trident/limbs"),
        ("bench", "/trees/red-lantern/bench"),
        ("front", "/trees/old-trident/front"),
        ("plans", "/trees/old-trident/plans?plan=run"),
        ("bend", "/trees/stone-elm/wires?limb=5&radius=200"),
        ("trace", "/photos/old-trident-2025-12-14/trace"),
        ("outline", "/photos/old-trident-2025-12-14/outline"),
    ];
    for (name, page) in pages {
        window.go(page);
        keep(&window, name, if name == "today" { &[false, true] } else { &[false] });
    }
    for (name, day) in [("round", "2026-07-16"), ("tonight", "2026-04-22")] {
        let demo = Served::start(["demo", "--today", day]);
        let window = Window::open(demo.address(), PHONE);
        window.go(&format!("/{name}"));
        keep(&window, name, &[false]);
    }
    for (name, day, page) in
        [("wires", "2026-05-24", "/wires"), ("layers", "2026-08-12", "/trees/field-maple/layers")]
    {
        let demo = Served::start(["demo", "--today", day]);
        let window = Window::open(demo.address(), PHONE);
        window.go(page);
        keep(&window, name, &[false]);
    }
    let demo = Served::start(["demo", "--today", "2026-04-28"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/trees/trident-on-rock#after-cut");
    keep(&window, "after-cut", &[false]);
    let file = room.path().join("cold-frame.csv");
    fs::write(&file, "date,tmin,tmax\n2026-03-01,1,9\n2026-03-02,cold,9\n2026-03-03,2,8\n").unwrap();
    bring(&window, "weather", "", &file);
    keep(&window, "preview", &[false]);
}

/// Keeps pictures of the page that is open, on a telephone and on a desk.
fn keep(window: &Window, name: &str, schemes: &[bool]) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/screens");
    fs::create_dir_all(&folder).unwrap();
    for size in [PHONE, DESK] {
        for &dark in schemes {
            window.resize(size);
            window.prefer_dark(dark);
            window.ask("document.getElementById(location.hash.slice(1))?.scrollIntoView()");
            let picture = window.picture();
            let ending = if dark { "-dark" } else { "" };
            let path = folder.join(format!("{name}-{}{ending}.png", size.0));
            assert!(picture.len() < 250_000, "{} is {} bytes", path.display(), picture.len());
            fs::write(path, picture).unwrap();
        }
    }
    window.prefer_dark(false);
}
