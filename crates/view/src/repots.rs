//! The season's repots: which tree is due, which is ready, how much root may go, and into which pot.

pub mod angle;
pub mod bench;
pub mod care;
pub mod case;
mod done;
pub mod goods;
pub(crate) mod needs;

use collection::ware::Whereabouts;
use pot::repot::due::Verdict;
use season::repot::year::{Goes, Why};
use state::work::Work;

use crate::{
    pots::shared::{self, Into},
    verdicts::Tag,
    whole::{TreeWhole, Whole},
    words,
};
use case::{Aim, Case, case};

/// A tree in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RepotRow {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Botanical name and place.
    pub what: String,
    /// Whether it goes this season.
    pub goes: bool,
    /// Worth watching, though it does not go.
    pub watch: bool,
    /// It is due or was meant to go, but its window is over.
    pub late: bool,
    /// Why it goes or does not.
    pub why: String,
    /// It goes, or stays, by the grower's word.
    pub by_word: bool,
    /// What speaks against it all the same.
    pub against: Vec<String>,
    /// Points of the signs, with the signs.
    pub due: String,
    /// The verdict on root work today, as a tag.
    pub advice: &'static str,
    /// Why, with the days.
    pub ready: String,
    /// How much root: what is planned and the most.
    pub cut: String,
    /// Into which pot, and from which day it is free.
    pub pot: String,
    /// The pot's key, where it is one of the shelf.
    pub pot_key: Option<String>,
    /// The planned cut is more than today's limit.
    pub is_over: bool,
}

/// The list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RepotsPage {
    /// The year of the season.
    pub season: i16,
    /// Trees that go, by the day their window opens.
    pub go: Vec<RepotRow>,
    /// Trees to watch.
    pub watch: Vec<RepotRow>,
    /// Trees that are due or were meant to go, but whose window is over.
    pub late: Vec<RepotRow>,
    /// Trees to leave.
    pub leave: Vec<RepotRow>,
    /// Trees of which nothing can be told, and why.
    pub untold: Vec<(String, String, String)>,
    /// Trees under aftercare today: key, name, what to do.
    pub care: Vec<(String, String, String)>,
}

/// The list on a day.
pub fn repots(whole: &Whole) -> RepotsPage {
    let thirsty = case::is_left_alone(whole);
    let mut page = RepotsPage {
        season: case::season(whole),
        go: Vec::new(),
        watch: Vec::new(),
        late: Vec::new(),
        leave: Vec::new(),
        untold: Vec::new(),
        care: care::today(whole),
    };
    let mut rows: Vec<(jiff::civil::Date, RepotRow)> = Vec::new();
    for tree in &whole.trees {
        match case(whole, tree, thirsty) {
            Ok(case) => {
                let opens = case::window(whole, tree).map_or(jiff::civil::Date::MAX, |(opens, _)| opens);
                rows.push((opens, row(whole, tree, &case)));
            }
            Err(why) => page.untold.push((tree.tree.key.clone(), tree.tree.name.clone(), why.to_string())),
        }
    }
    rows.sort_by(|a, b| (a.0, &a.1.name).cmp(&(b.0, &b.1.name)));
    for (_, row) in rows {
        if row.goes {
            page.go.push(row);
        } else if row.late {
            page.late.push(row);
        } else if row.watch {
            page.watch.push(row);
        } else {
            page.leave.push(row);
        }
    }
    page
}

/// The points of the signs, each with its words.
pub(crate) fn due_words(case: &Case<'_>) -> String {
    let due = &case.due.due;
    let signs: Vec<String> =
        due.signs.iter().map(|(sign, points)| format!("{} ({points})", case::sign(*sign))).collect();
    let points = words::count(due.points, "point", "points");
    let unknown = if due.years_unknown { "; nobody wrote down its last repot" } else { "" };
    let broke = case.record.stands_in.is_some_and(|it| it.ware.whereabouts == Whereabouts::Broken);
    let broken = if broke { "; the pot that it stands in is broken" } else { "" };
    if signs.is_empty() {
        format!("no sign asks for it{unknown}{broken}")
    } else {
        format!("{points}: {}{unknown}{broken}", signs.join("; "))
    }
}

fn row(whole: &Whole, tree: &TreeWhole, case: &Case<'_>) -> RepotRow {
    let place = tree.place.map_or("place not recorded", |rank| whole.places[rank].place.name.as_str());
    let (goes, why, against) = match &case.goes {
        Goes::Yes { why, against } => {
            (true, case::why(why, whole.today), against.iter().map(|it| case::why(it, whole.today)).collect())
        }
        Goes::No(why) => (false, case::whys(why, whole.today), Vec::new()),
    };
    let today = &case.cut.today;
    let told = shared::of_tree(whole, &tree.tree.key);
    RepotRow {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        what: format!("{}, {place}", tree.tree.taxon.name),
        goes,
        by_word: matches!(&case.goes, Goes::Yes { why: Why::Word(_), .. }),
        late: matches!(&case.goes, Goes::No(why) if why.contains(&Why::Missed))
            && (case.due.due.verdict == Verdict::Plan || case.record.meant.is_some_and(|it| it.repot)),
        watch: !goes && case.due.due.verdict >= Verdict::Watch,
        why,
        against,
        due: due_words(case),
        advice: match crate::verdicts::roots(whole, tree) {
            tag if tag.is_now() && goes && told.as_ref().is_some_and(|it| it.is_late) => "no pot in time",
            tag => tag.words(),
        },
        ready: ready(whole, tree),
        cut: match case::aim(whole, tree) {
            Aim::Today => {
                format!("{} planned, at most {} today", case::planned(&case.cut), case::at_most(today.limit))
            }
            Aim::Later => format!("{} planned, once it may be done", case::planned(&case.cut)),
            Aim::None => case::none(whole, tree).into(),
        },
        is_over: case.cut.is_over,
        pot: match &told {
            Some(it) => it.words.clone(),
            None if goes => shared::not_planned(whole, &tree.tree.key).unwrap_or_default(),
            None => String::new(),
        },
        pot_key: told.and_then(|it| match it.into {
            Into::Pot(key) => Some(key),
            Into::Training => None,
        }),
    }
}

/// Why the window says so, with its days; the last good day too where the reason does not tell it.
pub(crate) fn ready(whole: &Whole, tree: &TreeWhole) -> String {
    let (told, ground) = match (&tree.told, &whole.ground) {
        (Ok(told), Ok(ground)) => (told, ground),
        (Err(why), _) | (_, Err(why)) => return format!("no window told: {why}"),
    };
    let why = crate::why::why(whole, tree, told, ground.winter);
    let verdict = crate::verdicts::on(whole, tree, Work::Repot);
    let Some(window) = told.forecast.window().filter(|_| crate::why::is_by_buds(verdict)) else { return why };
    let [opens, closes] = [window.opens, window.closes].map(|it| words::days(ground.winter, it, whole.today));
    match crate::verdicts::tag(verdict, whole.today) {
        Tag::NotYet => {
            format!("{why}; last good day about {} ({} to {})", closes.middle, closes.early, closes.late)
        }
        Tag::NotThisYear | Tag::NotNow | Tag::Wait if !why.contains("last good day") && !tree.missed => {
            format!("{why}; buds full about {}, last good day about {}", opens.middle, closes.middle)
        }
        _ => why,
    }
}

impl RepotsPage {
    /// The list as plain text.
    pub fn text(&self) -> String {
        let mut text =
            format!("Repots of {}: {} go, {} to watch\n", self.season, self.go.len(), self.watch.len());
        for row in &self.go {
            text += &format!(
                "\n{} ({}): {}\n  due: {}\n  ready: {}; {}\n  cut: {}\n",
                row.name, row.what, row.why, row.due, row.advice, row.ready, row.cut
            );
            if !row.pot.is_empty() {
                text += &format!("  pot: {}\n", row.pot);
            }
            for line in &row.against {
                text += &format!("  against it: {line}\n");
            }
        }
        for (_, name, what) in &self.care {
            text += &format!("\n{name}: {what}\n");
        }
        text
    }
}
