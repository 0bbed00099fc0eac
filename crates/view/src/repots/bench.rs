//! Everything on one screen before the tree is lifted, and the log of the repot after it.

use pot::repot::due::Verdict;
use season::repot::{
    frame::is_at_hand,
    year::{Goes, Why},
};

pub use super::done::Done;
use super::{
    angle::{self, AngleLine},
    case::{self, Aim, Case, case},
    done::done,
};
use crate::{
    limbs,
    pots::{
        preview::{self, Preview},
        shared,
    },
    water,
    whole::{TreeWhole, Whole},
    words,
};

/// A line of the tree's book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookRow {
    /// When.
    pub day: String,
    /// What.
    pub words: String,
    /// What it cost.
    pub points: String,
    /// Where it comes from, and whether the share was taken for granted.
    pub from: String,
    /// The number of the toll, which can be taken back.
    pub toll: Option<i64>,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct RepotBench {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// Botanical name and place.
    pub what: String,
    /// What to be careful of with its kind.
    pub cautions: Option<crate::cautions::Cautions>,
    /// The year of the season.
    pub season: i16,
    /// Why nothing can be told.
    pub untold: Option<String>,
    /// Whether it goes this season, and why.
    pub goes: bool,
    /// Why it goes or does not.
    pub why: String,
    /// When it was repotted, if it was this season.
    pub done: Option<String>,
    /// What speaks against it all the same.
    pub against: Vec<String>,
    /// Whether it is due: the signs with their points.
    pub due: String,
    /// Leave, watch or plan.
    pub verdict: &'static str,
    /// When it was last repotted, and the usual years between.
    pub last: String,
    /// What the window says: advice.
    pub advice: &'static str,
    /// Why, with the days.
    pub ready: String,
    /// Roots: usual, most, today's aim, today's limit.
    pub cut: Vec<(&'static str, String)>,
    /// Today's limit in words; empty where nothing is told.
    pub limit: String,
    /// What is planned, in words; empty where nothing is told.
    pub planned: String,
    /// Why today differs.
    pub reasons: Vec<String>,
    /// What speaks against the planned cut.
    pub objections: Vec<String>,
    /// How strong it counts.
    pub strength: String,
    /// The tree's book.
    pub book: Vec<BookRow>,
    /// Points spent and left.
    pub points: String,
    /// When it last rested.
    pub rest: String,
    /// Its repots so far, the last first.
    pub past: Vec<Done>,
    /// The front's photo with the angle line.
    pub angle: Option<AngleLine>,
    /// The front that was agreed on.
    pub front: Option<String>,
    /// The pot it goes into by plan or word: words and key.
    pub pot: String,
    /// Its key.
    pub pot_key: Option<String>,
    /// How well it suits, and what costs the most.
    pub fit: String,
    /// The tree in that pot.
    pub preview: Option<Preview>,
    /// Wet weight and who lifts it.
    pub weight: String,
    /// What that pot does with the mix.
    pub water: String,
    /// What to mix, and from which bags.
    pub mix: Vec<(String, String)>,
    /// Wires, mesh.
    pub wires: Vec<(String, String)>,
    /// What the mix and wires stand on, and what is short.
    pub goods_notes: Vec<String>,
    /// Care dates, if it is done today.
    pub care: Vec<CareRow>,
    /// From which day the care counts, in words.
    pub care_from: String,
    /// Where it stands while its cut roots are fresh; empty where nothing is known.
    pub stand: String,
    /// Pots to choose from in the log: key, name, chosen.
    pub pots: Vec<(String, String, bool)>,
    /// Mixes to choose from: key, name, chosen.
    pub mixes: Vec<(String, String, bool)>,
    /// Hours of the clock.
    pub hours: Vec<(u8, String)>,
    /// Where the forms start from.
    pub known: Vec<(&'static str, String)>,
    /// What is not known.
    pub caveats: Vec<String>,
    /// Unit of lengths.
    pub unit: &'static str,
    /// Today, for forms.
    pub today: String,
}

/// A line of the care to come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CareRow {
    /// From when to when.
    pub days: String,
    /// What to do.
    pub words: String,
    /// When to stop.
    pub stop: String,
    /// It is on today.
    pub is_now: bool,
    /// It is over.
    pub is_past: bool,
}

/// The page of a tree.
pub fn bench(whole: &Whole, tree: &TreeWhole) -> RepotBench {
    let mut page = blank(whole, tree);
    let thirsty = case::is_left_alone(whole);
    let told = match case(whole, tree, thirsty) {
        Ok(told) => told,
        Err(why) => {
            page.untold = Some(why.to_string());
            return page;
        }
    };
    say_due(whole, &told, &mut page);
    say_cut(whole, tree, &told, &mut page);
    say_pot(whole, tree, &mut page);
    super::goods::say(whole, tree, &told, &mut page);
    super::care::say(whole, tree, &told, &mut page);
    page
}

fn blank(whole: &Whole, tree: &TreeWhole) -> RepotBench {
    let place = tree.place.map_or("place not recorded", |rank| whole.places[rank].place.name.as_str());
    let season = case::season(whole);
    let meant = tree.standing.meant.iter().find(|it| it.season == season);
    let mix = meant.and_then(|it| it.mix.as_ref());
    RepotBench {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        what: format!("{}, {place}", tree.tree.taxon.name),
        cautions: crate::cautions::of(whole, tree),
        season,
        untold: None,
        goes: false,
        why: String::new(),
        done: None,
        against: Vec::new(),
        due: String::new(),
        verdict: "",
        last: String::new(),
        advice: crate::verdicts::roots(whole, tree).words(),
        ready: super::ready(whole, tree),
        cut: Vec::new(),
        limit: String::new(),
        planned: String::new(),
        reasons: Vec::new(),
        objections: Vec::new(),
        strength: String::new(),
        book: Vec::new(),
        points: String::new(),
        rest: String::new(),
        past: tree.standing.repots.iter().rev().map(|it| done(whole, it)).collect(),
        angle: angle::line(whole, tree),
        front: limbs::front::agreed(&tree.shape),
        pot: String::new(),
        pot_key: None,
        fit: String::new(),
        preview: None,
        weight: String::new(),
        water: String::new(),
        mix: Vec::new(),
        wires: Vec::new(),
        goods_notes: Vec::new(),
        care: Vec::new(),
        care_from: String::new(),
        stand: String::new(),
        pots: Vec::new(),
        mixes: whole.mixes.iter().map(|it| (it.key.clone(), it.name.clone(), mix == Some(&it.key))).collect(),
        hours: crate::photos::hours(),
        known: vec![
            ("meant", meant.map_or("", |it| if it.repot { "yes" } else { "no" }).into()),
            (
                "meant_cut",
                meant.and_then(|it| it.cut).map_or(String::new(), |it| format!("{:.0}", it.0 * 100.0)),
            ),
            ("meant_mix", meant.and_then(|it| it.mix.clone()).unwrap_or_default()),
            ("meant_show", if meant.is_some_and(|it| it.show) { "yes".into() } else { String::new() }),
            ("meant_why", meant.map_or(String::new(), |it| it.why.clone())),
        ],
        caveats: Vec::new(),
        unit: crate::pots::unit(whole.units()),
        today: whole.today.to_string(),
    }
}

fn say_due(whole: &Whole, told: &Case<'_>, page: &mut RepotBench) {
    (page.goes, page.why) = match &told.goes {
        Goes::Yes { why, against } => {
            page.against = against.iter().map(|it| case::why(it, whole.today)).collect();
            (true, case::why(why, whole.today))
        }
        Goes::No(why) => {
            page.done = why.iter().find_map(|it| match it {
                Why::Done(day) => Some(words::day(*day, whole.today)),
                _ => None,
            });
            (false, case::whys(why, whole.today))
        }
    };
    page.due = super::due_words(told);
    page.verdict = match told.due.due.verdict {
        Verdict::Plan => "plan it",
        Verdict::Watch => "watch it",
        Verdict::Leave => "leave it",
    };
    let years = told.due.due.interval.0;
    let every = format!(
        "counted as {}, so usually every {}",
        told.due.age.words(),
        words::count(years, "year", "years")
    );
    page.last = match told.due.last {
        Some((day, from)) => format!("{}, {}; {every}", words::day(day, whole.today), from.words()),
        None => format!("nobody wrote it down; {every}"),
    };
    if told.due.age_assumed {
        page.caveats.push("nobody said how old it counts for repotting; refined is taken".into());
    }
    if told.due.size_assumed {
        page.caveats.push("nobody measured its height; a middling size is taken".into());
    }
}

fn say_cut(whole: &Whole, tree: &TreeWhole, told: &Case<'_>, page: &mut RepotBench) {
    let today = &told.cut.today;
    page.cut = vec![
        ("Usual for its kind", case::share(today.typical)),
        ("The most for its kind", case::share(today.most)),
        ("Roots", case::bare(today.bare).into()),
    ];
    let aim = || case::planned(&told.cut) + if told.cut.is_said { ", as you said" } else { "" };
    let names = match case::aim(whole, tree) {
        Aim::Today => Some(["Aim for today", "The most today"]),
        Aim::Later => Some(["Aim, once it may be done", "The most, once it may be done"]),
        Aim::None => None,
    };
    match names {
        Some([first, second]) => {
            page.cut.insert(2, (first, aim()));
            page.cut.insert(3, (second, case::at_most(today.limit)));
            page.limit = case::at_most(today.limit);
            page.planned = case::planned(&told.cut);
        }
        None => page.cut.insert(2, ("Today", case::none(whole, tree).into())),
    }
    page.reasons = today.reasons.iter().filter(|it| case::bites(it, &told.cut)).map(case::reason).collect();
    if told.cut.rest.is_due {
        page.reasons.push("three seasons of work lie behind it: so little that this one stays a rest".into());
    }
    if told.cut.is_over {
        page.objections.push(format!(
            "{} is more than the {} that it should lose today",
            case::share(told.cut.planned),
            case::at_most(today.limit)
        ));
    }
    let objections = told.cut.objections.iter().map(|it| case::objection(it, whole.today));
    page.objections.extend(objections);
    let judged = told.cut.judged;
    page.strength = match judged.day {
        Some(day) if judged.is_old => {
            format!(
                "{}, judged on {}: more than a year ago, judge it again",
                judged.strength.words(),
                words::day(day, whole.today)
            )
        }
        Some(day) => format!("{}, judged on {}", judged.strength.words(), words::day(day, whole.today)),
        None => "normal is taken; nobody judged it".into(),
    };
    page.points = format!(
        "{:.2} points spent in twelve months, {:.2} left of {:.2} for a {} tree",
        told.cut.spent + 0.0,
        told.cut.left.max(0.0) + 0.0,
        judged.strength.budget().points,
        judged.strength.words()
    );
    page.rest = match told.cut.rest.since {
        Some(1) => "it rested last season".into(),
        Some(seasons) => format!("it last rested {seasons} seasons ago"),
        None => "no season of rest is known of".into(),
    };
    let toll = |entry: &season::repot::book::Entry| {
        let own = tree.standing.tolls.iter().find(|(_, it)| it.day == entry.day && it.what == entry.insult);
        own.map(|(id, _)| *id)
    };
    page.book = told
        .cut
        .book
        .iter()
        .rev()
        .map(|entry| BookRow {
            day: words::day(entry.day, whole.today),
            words: case::insult(entry.insult),
            points: format!("{:.2}", entry.points),
            from: format!(
                "{}{}",
                entry.from.words(),
                if entry.assumed_share {
                    "; how much was not written down, a usual share is taken"
                } else {
                    ""
                }
            ),
            toll: toll(entry),
        })
        .collect();
}

fn say_pot(whole: &Whole, tree: &TreeWhole, page: &mut RepotBench) {
    let season = page.season;
    let key = &tree.tree.key;
    let word =
        whole.shelf.reservations.iter().find(|it| it.season == season && &it.tree == key && it.said.holds());
    let plan = shared::of_tree(whole, key);
    let (pot, words) = match (word, plan) {
        (_, Some(plan)) => {
            let pot = match plan.into {
                shared::Into::Pot(pot) => Some(pot),
                shared::Into::Training => None,
            };
            (pot, plan.words)
        }
        (Some(word), None) => (Some(word.pot.clone()), format!("{} it", word.said.words())),
        (None, None) => (None, shared::not_planned(whole, key).unwrap_or_else(|| "none is planned".into())),
    };
    page.pot = words;
    let own = water::stands_in(tree).map(|(pot, _)| pot);
    let rank = pot.as_ref().and_then(|key| crate::pots::rank_of(whole, key));
    let mix = crate::pots::opened::mix_for(whole, tree);
    if let Some(rank) = rank {
        let front = tree.shape.fronts.iter().find(|it| it.rank == 0);
        let (pot, ware) = (&whole.pots[rank], &whole.shelf.wares[rank]);
        page.preview =
            Some(preview::preview(whole, tree, (pot, ware), mix.map(|mix| &whole.mixes[mix]), front));
        page.weight = crate::pots::opened::weight(whole, tree, pot, mix);
        page.water = mix.map_or_else(String::new, |mix| crate::pots::opened::held(whole, pot, mix));
        page.fit = crate::pots::opened::fit_words(whole, tree, rank);
    }
    page.pot_key = pot;
    page.pots = (0..whole.pots.len())
        .filter(|&at| {
            let ware = &whole.shelf.wares[at];
            let inside = crate::pots::inside(whole, at).count();
            (Some(at) == own && is_at_hand(ware, true))
                || (ware.whereabouts == collection::ware::Whereabouts::Shelf
                    && inside < usize::from(ware.count))
        })
        .map(|at| (whole.pots[at].key.clone(), whole.pots[at].name.clone(), rank == Some(at)))
        .collect();
}

impl RepotBench {
    /// What a form starts from in a field.
    pub fn of(&self, name: &str) -> &str {
        self.known.iter().find(|(field, _)| *field == name).map_or("", |(_, value)| value)
    }

    /// The page as plain text.
    pub fn text(&self) -> String {
        let mut text = format!("{} ({})\n", self.name, self.what);
        if let Some(why) = &self.untold {
            return text + &format!("nothing told: {why}\n");
        }
        text += &format!(
            "{}: {}\ndue: {}\nlast: {}\nready: {}; {}\n",
            self.verdict, self.why, self.due, self.last, self.advice, self.ready
        );
        for (what, words) in &self.cut {
            text += &format!("{what}: {words}\n");
        }
        for line in self.reasons.iter().chain(&self.objections) {
            text += &format!("  {line}\n");
        }
        text += &format!("strength: {}\n{}; {}\n", self.strength, self.points, self.rest);
        if let Some(last) = self.past.first() {
            let parts = [&last.words, &last.depth, &last.front].map(String::as_str);
            let told: Vec<&str> = parts.into_iter().filter(|it| !it.is_empty()).collect();
            text += &format!("last time ({}): {}\n", last.day, told.join("; "));
        }
        let fit = if self.fit.is_empty() { String::new() } else { format!("; {}", self.fit) };
        text += &format!("pot: {}{fit}\n", self.pot);
        for (what, words) in self.mix.iter().chain(&self.wires) {
            text += &format!("{what}: {words}\n");
        }
        for row in &self.care {
            text += &format!("{}: {}\n", row.days, row.words);
        }
        text
    }
}
