//! Layers on their way to roots and a life of their own, and wounds on their way to close.

use collection::layer::{Layer, Way, Wound};
use form::{
    layer::{self, AFTERCARE, Progress, Reason, Roots, Verdict},
    thickness::Likely,
    timing::{self, Job, Timing, When},
    wound::{Closes, Walls, closing, walls},
};
use measure::{
    quantity::{Millimetre, Weeks, Years},
    winter::{Hemisphere, Winter},
};
use season::limbs::frost::{first_frost, warm_weeks};
use state::work::Work;

use super::{
    grows::{self, course, growing},
    seen, thick,
};
use crate::{
    shape::Shape,
    verdicts,
    whole::{TreeWhole, Whole},
    words,
};

/// A layer on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct LayerRow {
    /// Its number.
    pub id: i64,
    /// How, and on which limb.
    pub title: String,
    /// When it was begun and what was seen.
    pub words: String,
    /// "cut it off", "cut it off and shelter it", "wait", "wait for spring", "look again first", "cut the ring again" or "on its own".
    pub verdict: &'static str,
    /// Why.
    pub why: Vec<String>,
    /// Whether it may be cut off without a reason of the grower's own.
    pub ready: bool,
    /// Whether it is cut off.
    pub apart: bool,
    /// The new tree's key and name.
    pub child: Option<(String, String)>,
    /// What to do now that it is cut off.
    pub after: Vec<String>,
}

/// A wound on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct WoundRow {
    /// Its number.
    pub id: i64,
    /// Where, how wide, since when.
    pub title: String,
    /// Whether it is covered.
    pub sealed: bool,
    /// Whether it has closed.
    pub closed: bool,
    /// When it may close.
    pub words: String,
    /// Whether it needs a thought.
    pub strong: bool,
}

/// A kind of work on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct TimingRow {
    /// What it is called.
    pub title: String,
    /// The verdict of today; none for work that has none.
    pub may: Option<verdicts::Line>,
    /// What it does to this kind of tree, with the verdict before it.
    pub words: String,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct LayersPage {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// The parent's key and name, where this tree is a layer's child.
    pub parent: Option<(String, String, String)>,
    /// How layers of its kind root.
    pub kind: Vec<String>,
    /// The layers.
    pub layers: Vec<LayerRow>,
    /// The wounds.
    pub wounds: Vec<WoundRow>,
    /// What to be careful of with its kind.
    pub cautions: Option<crate::cautions::Cautions>,
    /// What each kind of work does to this kind of tree, and whether it may be done today.
    pub timing: Vec<TimingRow>,
    /// Limbs to choose from.
    pub limbs: Vec<(u32, String)>,
    /// Ways to choose from.
    pub ways: Vec<(&'static str, &'static str)>,
    /// States of roots to choose from.
    pub roots: Vec<(&'static str, &'static str)>,
    /// Places to choose from.
    pub places: Vec<(String, String)>,
    /// Today, for forms.
    pub today: String,
}

/// The page of a tree.
pub fn layers(whole: &Whole, tree: &TreeWhole) -> LayersPage {
    let shape = &tree.shape;
    LayersPage {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        parent: parent(whole, tree),
        kind: kind(whole, tree),
        layers: shape.layers.iter().rev().map(|(id, layer)| layer_row(whole, tree, *id, layer)).collect(),
        wounds: wounds(whole, tree),
        cautions: crate::cautions::of(whole, tree),
        timing: timings(whole, tree),
        limbs: shape
            .alive(whole.today)
            .filter(|limb| limb.bearer.is_some())
            .map(|limb| (limb.number, limb.name.clone()))
            .collect(),
        ways: Way::ALL.map(|way| (way.key(), way.words())).to_vec(),
        roots: Roots::ALL.map(|roots| (roots.key(), roots.words())).to_vec(),
        places: whole
            .places
            .iter()
            .map(|place| (place.place.key.clone(), place.place.name.clone()))
            .collect(),
        today: whole.today.to_string(),
    }
}

/// What is known of each kind of work on its kind of tree, with the verdict of today.
fn timings(whole: &Whole, tree: &TreeWhole) -> Vec<TimingRow> {
    let told = |row: &Timing| {
        let line = |work| verdicts::line(verdicts::on(whole, tree, work), whole.today, whole.units());
        let may = work(row.job).map(line);
        let verdict = may.as_ref().map(|line| {
            let why = line.why.first().map_or(String::new(), |why| format!(": {why}"));
            format!("Today: {}{why}", line.answer)
        });
        let seen = match row.when {
            When::Seen(words) => words,
            When::Verdict(_) => "",
        };
        let words = [seen, row.does, row.caution].into_iter().filter(|words| !words.is_empty());
        let sentences: Vec<String> = verdict.iter().map(String::as_str).chain(words).map(sentence).collect();
        let words = format!("{} ({})", sentences.join(" "), row.standing.words());
        TimingRow { title: row.work.to_string(), may, words }
    };
    timing::rows_for(tree.tree.taxon).map(told).collect()
}

/// The kind of work that has a verdict.
fn work(job: Job) -> Option<Work> {
    Some(match job {
        Job::HardPrune => Work::HardPrune,
        Job::Trim => Work::Trim,
        Job::Pinch => Work::Pinch,
        Job::Defoliate => Work::Defoliate,
        Job::Decandle => Work::Decandle,
        Job::Wire => Work::Wire,
        Job::Unwire => Work::Unwire,
        Job::Other => return None,
    })
}

/// Words as a sentence.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map_or_else(String::new, |letter| letter.to_uppercase().collect());
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

/// Whose layer a tree is: the parent's key and name, and the lean it shall have at its first repot.
pub fn parent(whole: &Whole, tree: &TreeWhole) -> Option<(String, String, String)> {
    whole.trees.iter().find_map(|parent| {
        let own = |(_, layer): &&(i64, Layer)| layer.child.as_ref() == Some(&tree.tree.key);
        let (_, layer) = parent.shape.layers.iter().find(own)?;
        let lean = layer.lean.map_or_else(String::new, |lean| {
            format!("shall lean {:.0}° when it is first repotted, next spring at the soonest", lean.0)
        });
        Some((parent.tree.key.clone(), parent.tree.name.clone(), lean))
    })
}

fn kind(whole: &Whole, tree: &TreeWhole) -> Vec<String> {
    let Some(row) = layer::Layer::of(tree.tree.taxon) else {
        return vec!["How layers of this kind root is not in our tables.".into()];
    };
    let ready = row.ready.map_or_else(
        || "mostly fails, or takes more than a year".to_string(),
        |[low, high]| {
            let longer = if row.may_take_longer { ", or a second season" } else { "" };
            format!("ready after {low} to {high} weeks{longer}")
        },
    );
    let months = match grows::hemisphere(whole) {
        Hemisphere::North => "",
        Hemisphere::South => " by the months of the north, half a year on here",
    };
    // A row named for one species of the genus is lent to its other species.
    let taxon = tree.tree.taxon;
    let lent = row.group.starts_with(taxon.genus()) && !taxon.name.starts_with(row.group);
    let lent =
        lent.then(|| format!("Of {} itself nothing is in our tables; {} stands in", taxon.common, row.group));
    let told = vec![
        format!("{}: begun {}{months}, {ready}; {}", row.group, row.start, row.note),
        format!("Ring of bark {} times as wide as the limb is thick, scraped to the wood", row.ring),
        format!("The parent: {}", row.parent),
        row.standing.words(),
    ];
    lent.into_iter().chain(told).collect()
}

/// Weeks of warmth left before leaf fall or the first frost of the site: if frost comes early, and in the middle of autumns.
fn warm_left(whole: &Whole, tree: &TreeWhole) -> [Weeks; 2] {
    let frost = first_frost(&whole.station, grows::hemisphere(whole), whole.today);
    warm_weeks(&grows::calendar(whole, tree), frost, whole.today)
}

/// A look at the roots that is older than this does not tell how they are today, days; our estimate.
const OLD_LOOK: i32 = 28;

/// Whether the roots were last looked at too long ago to go by.
fn is_old(whole: &Whole, layer: &Layer) -> bool {
    layer.seen.is_some_and(|seen| (whole.today - seen).get_days() > OLD_LOOK)
}

/// What the separation test says of a layer.
fn judged(whole: &Whole, tree: &TreeWhole, layer: &Layer) -> Option<(Verdict, Vec<Reason>)> {
    let row = layer::Layer::of(tree.tree.taxon)?;
    let weeks = Weeks(f64::from((whole.today - layer.day).get_days()) / 7.0);
    let roots = layer.roots.unwrap_or(Roots::None);
    // A frost that comes early in one autumn of ten shall not find a young tree without roots.
    let [early, _] = warm_left(whole, tree);
    Some(row.judge(Progress { weeks, warm_left: early, roots }))
}

/// What speaks against cutting a layer off today; none when the test says yes.
pub fn wait(whole: &Whole, tree: &TreeWhole, id: i64) -> Option<String> {
    let (_, layer) = tree.shape.layers.iter().find(|(number, _)| *number == id)?;
    let told = judged(whole, tree, layer);
    match told {
        Some((Verdict::Separate | Verdict::SeparateAndShelter, _)) if is_old(whole, layer) => {
            Some(format!("the roots were last looked at more than {OLD_LOOK} days ago"))
        }
        Some((Verdict::Separate | Verdict::SeparateAndShelter, _)) => None,
        Some((_, reasons)) => Some(reasons.iter().map(reason).collect::<Vec<_>>().join("; ")),
        None => Some(layer.roots.map_or("roots were not looked for", Roots::words).into()),
    }
}

fn reason(it: &Reason) -> String {
    match it {
        Reason::Roots(roots) => format!("seen: {}", roots.words()),
        Reason::Young { soonest } => {
            format!("younger than the {soonest} weeks at which such layers are first ready")
        }
        Reason::SeasonShort { left } => {
            format!(
                "{:.0} weeks are left before leaf fall or frost; six are wanted (common practice)",
                left.0
            )
        }
        Reason::OnlyCallus => "callus alone after six weeks: the ring is bridged".into(),
    }
}

fn layer_row(whole: &Whole, tree: &TreeWhole, id: i64, it: &Layer) -> LayerRow {
    let today = whole.today;
    let apart = it.apart.is_some_and(|day| day <= today);
    let told = judged(whole, tree, it);
    let verdict = match (apart, &told) {
        (true, _) => "on its own",
        (_, Some((Verdict::Separate | Verdict::SeparateAndShelter, _))) if is_old(whole, it) => {
            "look again first"
        }
        (_, Some((Verdict::Separate, _))) => "cut it off",
        (_, Some((Verdict::SeparateAndShelter, _))) => "cut it off and shelter it",
        (_, Some((Verdict::WaitForSpring, _))) => "wait for spring",
        (_, Some((Verdict::CutAgain, _))) => "cut the ring again",
        _ => "wait",
    };
    let seen = it.seen.map_or_else(
        || "roots not looked for yet".to_string(),
        |seen| format!("{} on {}", it.roots.map_or("nothing noted", Roots::words), words::day(seen, today)),
    );
    let weeks = f64::from((today - it.day).get_days()) / 7.0;
    let mut why: Vec<String> = told.iter().flat_map(|(_, reasons)| reasons.iter().map(reason)).collect();
    if !apart {
        let [early, middle] = warm_left(whole, tree);
        why.push(match middle.0 {
            none if none <= 0.0 => "no warm weeks are left this season".into(),
            _ => format!(
                "{:.0} weeks of warmth are left if frost comes early, {:.0} in half of the autumns",
                early.0, middle.0
            ),
        });
    }
    let child = it.child.as_ref().and_then(|key| whole.tree(key));
    if !it.note.is_empty() {
        why.push(it.note.clone());
    }
    LayerRow {
        id,
        title: format!("{} on {}", it.way.words(), tree.shape.name_of(it.limb)),
        words: format!("begun {}, {weeks:.0} weeks ago; {seen}", words::day(it.day, today)),
        verdict,
        ready: !is_old(whole, it)
            && matches!(told, Some((Verdict::Separate | Verdict::SeparateAndShelter, _))),
        why: if apart { Vec::new() } else { why },
        apart,
        child: child.map(|child| (child.tree.key.clone(), child.tree.name.clone())),
        after: if apart { after(whole, it) } else { Vec::new() },
    }
}

/// What is not done to a young tree until when, and the care of its first weeks.
fn after(whole: &Whole, it: &Layer) -> Vec<String> {
    let Some(apart) = it.apart else { return Vec::new() };
    let spring = Winter::holding(apart, grows::hemisphere(whole));
    // The spring it is in may still come, or be past.
    let year = spring.spring_year + i16::from(spring.day_number(apart) >= 0);
    let mut told = vec![format!("No pruning until it is repotted in the spring of {year}; common practice:")];
    if (whole.today - apart).get_days() < 400 {
        told.extend(AFTERCARE.iter().map(ToString::to_string));
    }
    told
}

fn wounds(whole: &Whole, tree: &TreeWhole) -> Vec<WoundRow> {
    let shape = &tree.shape;
    let seen = seen(whole, tree).ok();
    let grows = seen.and_then(|seen| growing(whole, tree, seen));
    shape
        .wounds
        .iter()
        .rev()
        .map(|(id, wound)| {
            let growth = grows.as_ref().and_then(|grows| {
                let base = seen?.base(wound.limb)?;
                let ring = grows.ring(wound.limb, &|limb| course(whole, shape, limb)).ok()??;
                Some(ring.map(|ring| Millimetre(form::thickness::thicker(base, ring).0 - base.0)))
            });
            wound_row(whole, tree, shape, *id, wound, growth)
        })
        .collect()
}

fn wound_row(
    whole: &Whole,
    tree: &TreeWhole,
    shape: &Shape,
    id: i64,
    it: &Wound,
    growth: Option<Likely<Millimetre>>,
) -> WoundRow {
    let (units, today) = (whole.units(), whole.today);
    let closed = it.closed.filter(|day| *day <= today);
    let told = growth.and_then(|growth| closing(it.wide, growth).ok());
    let years =
        |years: Option<Years>| years.map_or_else(|| "never".to_string(), |years| format!("{:.1}", years.0));
    let mut words = match (closed, &told) {
        (Some(day), _) => format!("closed {}", words::day(day, today)),
        (None, Some(told)) => {
            let verdict = match told.closes {
                Closes::BeforeDecay => "likely before decay sets in",
                Closes::Perhaps => "before decay only if it grows well",
                Closes::AfterDecay => "decay likely comes first: let the tree run, or carve it on purpose",
            };
            format!(
                "{} years to close ({} to {}) at this tree's growth there: {verdict}",
                years(told.years.middle),
                years(told.years.low),
                years(told.years.high)
            )
        }
        (None, None) => {
            "how fast the wood thickens there is not known, so nobody can tell when it closes".into()
        }
    };
    if closed.is_none() && !it.sealed {
        words += "; not covered yet";
    }
    if closed.is_none() && walls(tree.tree.taxon).value == Walls::Weak {
        words += "; this kind walls decay off badly (remembered)";
    }
    WoundRow {
        id,
        title: format!(
            "{} wide on {}, {}{}",
            thick(units, it.wide),
            shape.name_of(it.limb),
            words::day(it.day, today),
            if it.note.is_empty() { String::new() } else { format!(": {}", it.note) }
        ),
        sealed: it.sealed,
        closed: closed.is_some(),
        strong: closed.is_none()
            && (told.is_some_and(|told| told.closes == Closes::AfterDecay) || !it.sealed),
        words,
    }
}
