//! The page *Today*: who to look at, whose window opens, what opens in the dark, and why.

use std::collections::{HashMap, HashSet};

use season::repot::year::Goes;
use state::work::Work;

use crate::{
    incidents::Recent,
    leaf::Asked,
    limbs::presses::{Presses, presses},
    verdicts::{self, Tag},
    waking::{Row, Untold, Waking, waking},
    whole::{TreeWhole, Whole},
};

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct Today {
    /// Today in words.
    pub date: String,
    /// The same for forms.
    pub iso: String,
    /// How far the weather is known.
    pub weather: String,
    /// Stored trees at full buds or further: first of all.
    pub in_store: Vec<Row>,
    /// Root work now.
    pub repot: Vec<Row>,
    /// Only a look tells whether the window is open.
    pub look_first: Vec<Row>,
    /// Buds ready, place not.
    pub wait: Vec<Row>,
    /// The window opens within a fortnight.
    pub ready: Vec<Row>,
    /// Looks that bring most, at most five.
    pub looks: Vec<Row>,
    /// Trees whose leaves are asked about, those most in doubt first.
    pub leaves: Vec<Asked>,
    /// Trees in leaf or past their window.
    pub late: usize,
    /// Trees that nothing asks to repot this year, or that cannot take it now.
    pub not_this_year: usize,
    /// Trees still far off.
    pub asleep: usize,
    /// Trees without an answer.
    pub untold: Vec<Untold>,
    /// Places where last night may have passed some tree's own line.
    pub frost: Vec<String>,
    /// Bad days of the last fortnight that nobody answered yet.
    pub incidents: Vec<Recent>,
    /// Wires, wishes and layers that press.
    pub limbs: Presses,
    /// Trees whose window is open, but which stay this year: nothing asks for a repot, or something speaks against it.
    pub stay: Vec<Row>,
    /// What the bench says of the trees whose window is open or opens soon, by their names in addresses: whether they are due, and the pot.
    pub bench: Vec<Bench>,
    /// Trees under aftercare: key, name, what to do.
    pub care: Vec<(String, String, String)>,
    /// What must be ordered, where that presses.
    pub order: String,
    /// True where nothing is set up yet.
    pub empty: bool,
}

/// What the bench says of a tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bench {
    /// Its name in addresses.
    pub key: String,
    /// Whether it is due, and which pot is planned.
    pub words: String,
    /// It stays this year, and that is known.
    pub stays: bool,
}

/// Most looks to ask for at once.
const MOST_LOOKS: usize = 5;

/// The page for a day.
pub fn today(whole: &Whole) -> Today {
    let Waking { rows, untold, weather, .. } = waking(whole);
    let tags: HashMap<&str, Tag> =
        whole.trees.iter().map(|tree| (tree.tree.key.as_str(), verdicts::roots(whole, tree))).collect();
    let tag = |row: &Row| tags.get(row.key.as_str()).copied().unwrap_or(Tag::NotNow);
    let of = |wanted: fn(Tag) -> bool| -> Vec<Row> {
        rows.iter().filter(|row| wanted(tag(row)) && !row.opening_in_store).cloned().collect()
    };
    let mut looks: Vec<Row> = rows.iter().filter(|row| row.look.is_some()).cloned().collect();
    looks.sort_by_key(|row| std::cmp::Reverse(row.look.as_ref().map_or(0, |look| look.days)));
    looks.truncate(MOST_LOOKS);
    let mut repot = of(Tag::is_now);
    repot.sort_by(|a, b| last_day(a).cmp(last_day(b)));
    let open: HashSet<&str> = whole
        .trees
        .iter()
        .filter(|tree| stands_open(whole, tree))
        .map(|tree| tree.tree.key.as_str())
        .collect();
    let stay = of(|tag| matches!(tag, Tag::NotThisYear | Tag::NotNow));
    let mut stay: Vec<Row> = stay.into_iter().filter(|row| open.contains(row.key.as_str())).collect();
    stay.sort_by(|a, b| last_day(a).cmp(last_day(b)));
    let count = |wanted: fn(Tag) -> bool| rows.iter().filter(|row| wanted(tag(row))).count();
    Today {
        date: date_words(whole),
        iso: whole.today.to_string(),
        weather,
        in_store: rows.iter().filter(|row| row.opening_in_store).cloned().collect(),
        repot,
        stay,
        look_first: of(|tag| tag == Tag::LookFirst),
        wait: of(|tag| tag == Tag::Wait),
        ready: of(|tag| tag == Tag::GetReady),
        looks,
        leaves: crate::leaf::asked(whole),
        late: count(|tag| tag == Tag::TooLate),
        not_this_year: count(|tag| matches!(tag, Tag::NotThisYear | Tag::NotNow)),
        asleep: count(|tag| tag == Tag::NotYet),
        untold,
        frost: crate::tonight::last_night(whole),
        incidents: crate::incidents::recent(whole),
        limbs: presses(whole),
        bench: bench(whole),
        care: crate::repots::care::today(whole),
        order: crate::repots::goods::presses(whole),
        empty: whole.site.is_none() || whole.trees.is_empty(),
    }
}

/// Of each tree whose window is open or opens soon: whether it is due, and which pot is planned.
fn bench(whole: &Whole) -> Vec<Bench> {
    let thirsty = crate::repots::case::is_left_alone(whole);
    let near = |tree: &TreeWhole| {
        let tag = verdicts::roots(whole, tree);
        tag.is_now() || matches!(tag, Tag::LookFirst | Tag::GetReady) || stands_open(whole, tree)
    };
    let said = |tree: &TreeWhole| {
        let case = crate::repots::case::case(whole, tree, thirsty).ok()?;
        let key = tree.tree.key.clone();
        Some(match &case.goes {
            Goes::Yes { .. } => {
                let pot = crate::pots::shared::of_tree(whole, &key).map(|it| format!("into {}", it.words));
                let pot = pot.or_else(|| crate::pots::shared::not_planned(whole, &key));
                let pot = pot.unwrap_or_else(|| "no pot can be told".into());
                let planned = crate::repots::case::planned(&case.cut);
                let most = crate::repots::case::at_most(case.cut.today.limit);
                let words = format!("due, {pot}; {planned} of the roots, at most {most}");
                Bench { key, words, stays: false }
            }
            // Where nobody wrote down the last repot, that few signs ask for one says little.
            Goes::No(_) if case.due.due.years_unknown => Bench {
                key,
                words: "nobody wrote down its last repot, so whether it is due is not known".into(),
                stays: false,
            },
            Goes::No(why) => {
                let why = crate::repots::case::whys(why, whole.today);
                Bench { key, words: format!("stays this year: {why}"), stays: true }
            }
        })
    };
    whole.trees.iter().filter(|tree| near(tree)).filter_map(said).collect()
}

/// Whether the window may be open today, as its buds tell.
fn stands_open(whole: &Whole, tree: &TreeWhole) -> bool {
    crate::why::is_open(verdicts::on(whole, tree, Work::Repot))
}

/// The last good day of a row, for sorting: what closes first comes first.
fn last_day(row: &Row) -> &str {
    row.closes.as_ref().map_or("9999", |days| &days.iso)
}

fn date_words(whole: &Whole) -> String {
    let weekday = match whole.today.weekday() {
        jiff::civil::Weekday::Monday => "Monday",
        jiff::civil::Weekday::Tuesday => "Tuesday",
        jiff::civil::Weekday::Wednesday => "Wednesday",
        jiff::civil::Weekday::Thursday => "Thursday",
        jiff::civil::Weekday::Friday => "Friday",
        jiff::civil::Weekday::Saturday => "Saturday",
        jiff::civil::Weekday::Sunday => "Sunday",
    };
    format!("{weekday}, {} {}", crate::words::day(whole.today, whole.today), whole.today.year())
}

impl Today {
    /// What the bench says of a tree; empty where its window is far.
    pub fn bench(&self, key: &str) -> &str {
        self.bench.iter().find(|it| it.key == key).map_or("", |it| it.words.as_str())
    }

    /// The page as plain text for the terminal.
    pub fn text(&self) -> String {
        let mut text = format!("{}: {}\n", self.date, self.weather);
        let mut part = |title: &str, rows: &[Row], line: &dyn Fn(&Row) -> String| {
            if !rows.is_empty() {
                text.push_str(&format!("\n{title}\n"));
                for row in rows {
                    text.push_str(&format!("  {} ({}, {}): {}\n", row.name, row.taxon, row.place, line(row)));
                }
            }
        };
        part("Opening in store, move or hold colder", &self.in_store, &|row| {
            format!("{}, {}", row.stage, row.why)
        });
        part("Look before you decide", &self.look_first, &|row| row.why.clone());
        let said = |row: &Row| {
            let words = self.bench(&row.key);
            if words.is_empty() { String::new() } else { format!("; {words}") }
        };
        part("Repot", &self.repot, &|row| format!("{}; {}{}", row.stage, row.why, said(row)));
        part("Could be repotted, but stays", &self.stay, &|row| format!("{}{}", row.why, said(row)));
        part("Buds move, but wait", &self.wait, &|row| row.why.clone());
        part("Window opens within a fortnight", &self.ready, &|row| {
            let days = row.opens.clone().unwrap_or_default();
            format!("buds full about {} ({} to {})", days.middle, days.early, days.late)
        });
        part("Look at these buds", &self.looks, &|row| {
            row.look.as_ref().map_or_else(String::new, |look| look.words.clone())
        });
        if self.limbs.wires > 0 {
            text.push_str(&format!("\nWires to look at: {}\n", self.limbs.wires));
        }
        let limbs = [&self.limbs.first, &self.limbs.wishes, &self.limbs.layers];
        for (_, name, words) in limbs.into_iter().flatten() {
            text.push_str(&format!("  {name}, {words}\n"));
        }
        for it in &self.limbs.cuts {
            text.push_str(&format!("  {}, cut not covered: {}\n", it.name, it.words));
        }
        for it in &self.limbs.overdue {
            text.push_str(&format!("  {}, still meant? {}\n", it.name, it.words));
        }
        for it in &self.incidents {
            text.push_str(&format!("\n{}: {}\n", it.place[1], it.incident.words));
            for tree in it.first() {
                text.push_str(&format!("  {}: {}; {}\n", tree.name, tree.words, tree.look));
            }
        }
        for line in &self.frost {
            text.push_str(&format!("\n{line}\n"));
        }
        text.push_str(&format!(
            "\n{} not full for a fortnight or more, {} not this year, {} too late this year, {} without a winter rest or an answer\n",
            self.asleep,
            self.not_this_year,
            self.late,
            self.untold.len()
        ));
        text
    }
}
