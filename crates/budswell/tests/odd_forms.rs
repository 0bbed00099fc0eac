//! Odd requests at every route, by a seed: nothing breaks, what is refused writes nothing, and what was typed never comes back as a tag.
//!
//! `BUDSWELL_ODD_REQUESTS=N` sends N of them, `BUDSWELL_ODD_SEED=N` others.

mod odd;

#[path = "../../view/tests/demo/mod.rs"]
mod demo;

use std::{collections::BTreeMap, env, ops::Range};

use odd::{
    House, Reply,
    ground::{self, Ground},
    request::{MARK, Sent},
    routes::{Route, routes},
};

/// The seed where none is told.
const SEED: u64 = 20_260_308;

/// Requests where no number is told.
const REQUESTS: u64 = 1500;

/// Requests that one collection gets; the next ones go to a fresh one.
const ROUND: u64 = 3000;

/// Words of a library, which no page says.
const FOREIGN: [&str; 8] = [
    "constraint failed",
    "datatype mismatch",
    "panicked",
    "is not in the required range of",
    "overflowed",
    "no such column",
    "database is locked",
    "invalid digit found",
];

fn told(name: &str, otherwise: u64) -> u64 {
    env::var(name).map_or(otherwise, |word| word.parse().expect("a whole number"))
}

/// What is wrong with a reply, if anything.
fn wrong(route: &Route, sent: &Sent, reply: &Reply, wrote: bool) -> Option<String> {
    let main = reply.body.find("<main").unwrap_or(0);
    let said = || reply.body[main..].chars().take(400).collect::<String>();
    if reply.status >= 500 && reply.status != 503 {
        return Some(format!("{}: {}", reply.status, said()));
    }
    if reply.status >= 400 && wrote {
        return Some(format!("refused with {}, and yet something was written", reply.status));
    }
    if route.method == "get" && wrote {
        return Some("a page that was only asked for wrote something".into());
    }
    if reply.is_html && reply.body.contains(MARK) {
        return Some("what was typed came back as a tag".into());
    }
    if (300..400).contains(&reply.status)
        && (!reply.location.starts_with('/') || reply.location.starts_with("//"))
    {
        return Some(format!("it leads away, to {}", reply.location));
    }
    let foreign = FOREIGN.iter().find(|words| reply.body.contains(*words) && !sent.shown.contains(*words));
    foreign
        .filter(|_| reply.is_html)
        .map(|words| format!("{}: a library's words, “{words}”: {}", reply.status, said()))
}

/// Keeps a bad day of the cold room, and what its logger showed in ice water.
fn bad_day(store: &mut store::store::Store) {
    use collection::incident::{Cause, Incident, Said};
    use intake::incident::{AnswerForm, IceForm, answer, ice_check};
    use measure::quantity::{Celsius, Units};
    let (place, one, day) = ("cold-room", [String::new()], jiff::civil::date(2026, 1, 8));
    let form = IceForm { place, sensor: "", day: "2025-11-03", shown: "0" };
    ice_check(store, form, &one, Units::Metric, day).unwrap();
    let kept = Incident {
        place: place.into(),
        cause: Cause::Warm,
        said: Said::Happened,
        sensor: None,
        span: [1_767_630_216, 1_767_680_616],
        hours: 14,
        lowest: Celsius(2.0),
        highest: Celsius(9.3),
        expected: Some(Celsius(2.6)),
        day,
        trees: Vec::new(),
    };
    let form = AnswerForm { place, since: "1767630216", until: "1767680616", said: "happened", sensor: "" };
    assert!(answer(store, form, Some(kept), &one).unwrap());
}

/// What a run found.
#[derive(Default)]
struct Found {
    tally: BTreeMap<Route, BTreeMap<u16, usize>>,
    faults: Vec<String>,
    writes: usize,
    compared: usize,
    forms: usize,
}

impl Found {
    fn fault(&mut self, case: u64, sent: &Sent, why: &str) {
        self.faults.push(format!("case {case}: {why}\n{}", sent.shown));
    }

    /// Sends some cases to a fresh collection.
    fn run(&mut self, seed: u64, cases: Range<u64>) {
        let mut house = House::open(|store| {
            demo::take_in(store, |_, text| text);
            demo::take_in_limbs(store, |_, text| text);
            bad_day(store);
        });
        let ground = Ground::look_over(&mut house);
        assert_eq!(
            ground.without_forms(),
            Vec::<&str>::new(),
            "routes that no form of the demo's pages reaches"
        );
        self.forms = ground.forms.values().map(Vec::len).sum();
        let mut changes = house.reader.changes().unwrap();
        let mut contents = house.contents();
        for case in cases {
            if case % 200 == 0 {
                ground::photo_of_a_pot(&mut house); // Odd requests delete it.
                changes = house.reader.changes().unwrap();
                contents = house.contents();
            }
            let (route, sent) = ground.request(seed, case, &house.address);
            let reply = match house.send(&sent.bytes) {
                Ok(reply) => reply,
                Err(why) => {
                    self.fault(case, &sent, &why);
                    continue;
                }
            };
            *self.tally.entry(route.clone()).or_default().entry(reply.status).or_default() += 1;
            let now = house.reader.changes().unwrap();
            if let Some(why) = wrong(&route, &sent, &reply, now != changes) {
                self.fault(case, &sent, &why);
            }
            // The number of acts tells that something was written; now and then all of it is compared.
            if now != changes {
                self.writes += 1;
                changes = now;
                contents.clear();
            } else if case % 40 == 0 {
                let stands = house.contents();
                if !contents.is_empty() && stands != contents {
                    self.fault(case, &sent, "something was written without an act, here or shortly before");
                }
                self.compared += 1;
                contents = stands;
            }
            if (300..400).contains(&reply.status) && case % 4 == 0 {
                let shown = house.get(&reply.location).map(|page| page.status);
                if !matches!(shown, Ok(200 | 404)) {
                    self.fault(case, &sent, &format!("{} then shows {shown:?}", reply.location));
                }
            }
        }
        self.afterwards(&mut house, &ground);
    }

    /// The server lives, every page still shows, and the file is sound.
    fn afterwards(&mut self, house: &mut House, ground: &Ground) {
        for page in ground.pages.iter().step_by(3) {
            let shown = house.get(page).map(|reply| (reply.status, reply.body.contains(MARK)));
            if !matches!(shown, Ok((200 | 404, false))) {
                self.faults.push(format!("at the end {page} shows {shown:?}"));
            }
        }
        self.faults.extend(house.reader.faults().unwrap());
        self.faults.extend(house.ails());
    }
}

#[test]
fn odd_requests_break_nothing_and_a_refusal_writes_nothing() {
    let (seed, requests) = (told("BUDSWELL_ODD_SEED", SEED), told("BUDSWELL_ODD_REQUESTS", REQUESTS));
    println!("seed {seed}, {requests} requests");
    let mut found = Found::default();
    for first in (0..requests).step_by(ROUND as usize) {
        found.run(seed, first..requests.min(first + ROUND));
    }
    let mut codes: BTreeMap<u16, usize> = BTreeMap::new();
    found.tally.values().flatten().for_each(|(code, count)| *codes.entry(*code).or_default() += count);
    println!(
        "{} forms and {} routes; replies {codes:?}; {} writes; {} times all of the collection was compared",
        found.forms,
        found.tally.len(),
        found.writes,
        found.compared
    );
    let taken =
        |codes: &BTreeMap<u16, usize>| codes.keys().any(|it| *it < 400 || matches!(it, 401 | 409 | 422));
    let posts = routes().into_iter().filter(|route| route.method == "post");
    // What stands here has no backup to restore, so that form is answered 404; `backup.rs` restores one.
    let posts = posts.filter(|route| route.path != "/backup/{name}/restore");
    let never = posts.filter(|route| !found.tally.get(route).is_some_and(taken));
    let never: Vec<String> =
        never.map(|route| format!("{}: {:?}", route.path, found.tally.get(&route))).collect();
    assert!(
        found.writes > 0 && found.compared > 0 && codes.contains_key(&422),
        "nothing was taken, or nothing refused"
    );
    assert!(found.faults.is_empty(), "{} faults\n{}", found.faults.len(), found.faults.join("\n\n"));
    assert!(requests < 1000 || never.is_empty(), "forms that were never read: {never:#?}");
}
