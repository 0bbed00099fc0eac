//! The verdicts of the room below for every tree: the facts gathered for it, and the answer as pages tag and word it.

mod by_kind;
mod feed;
mod going;
mod say;

use collection::{
    event::WorkKind,
    intention::{Cut, CutKind},
};
use jiff::civil::Date;
use measure::{quantity::Share, shelter::Shelter, stage::Stage, winter::Winter};
use pot::repot::insult::Insult;
use season::{
    nights::nights,
    repot::{
        book::pasts,
        year::{Goes, Why},
    },
};
use state::{
    facts::{Buds, Facts, Foliage, Plan, Recovery, RootCut, Seen, Span},
    reason::Reason,
    verdict::{Answer, Verdict, verdict},
    work::Work,
};
use water::leaf::LeafState;

use crate::{
    limbs::grows,
    repots::case::{self, Case},
    whole::{TreeWhole, Whole},
};

pub use feed::{Fed, FedToday, fed_today, feed};
pub use going::{Step, moving, steps};
pub use say::{Line, line, lines, points, reason, work};

/// The verdict on root work as one short tag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tag {
    /// Now.
    Repot,
    /// Now, with care.
    WithCare,
    /// Only a look tells.
    LookFirst,
    /// Within a fortnight.
    GetReady,
    /// Buds are not full yet.
    NotYet,
    /// Buds may be ready, no place is.
    Wait,
    /// Something else bars it for a time.
    NotNow,
    /// Its leaves are out.
    TooLate,
    /// Nothing asks for it, or the tree cannot take it.
    NotThisYear,
}

impl Tag {
    /// In two or three words.
    pub fn words(self) -> &'static str {
        match self {
            Tag::Repot => "repot",
            Tag::WithCare => "repot with care",
            Tag::LookFirst => "look first",
            Tag::GetReady => "get ready",
            Tag::NotYet => "not yet",
            Tag::Wait => "wait",
            Tag::NotNow => "not now",
            Tag::TooLate => "too late this year",
            Tag::NotThisYear => "not this year",
        }
    }

    /// Whether root work may be done today.
    pub fn is_now(self) -> bool {
        matches!(self, Tag::Repot | Tag::WithCare)
    }
}

/// A window further off than this asks for nothing yet, days.
const FORTNIGHT: i32 = 14;

/// The tag of a verdict on root work.
pub fn tag(verdict: &Verdict, today: Date) -> Tag {
    match verdict.answer {
        Answer::Yes => Tag::Repot,
        Answer::Caution => Tag::WithCare,
        Answer::LookFirst => Tag::LookFirst,
        Answer::NotNow { .. } => barred(verdict, today),
        Answer::NotThisSeason => {
            let is_over = |it: &Reason| matches!(it, Reason::GreenSeen { .. } | Reason::WindowPast { .. });
            let is_late = verdict.reasons.iter().any(is_over) && !verdict.main().any(Reason::is_plan);
            if is_late { Tag::TooLate } else { Tag::NotThisYear }
        }
    }
}

/// The tag of one that must wait.
fn barred(verdict: &Verdict, today: Date) -> Tag {
    let opens = verdict.main().find_map(|it| match it {
        Reason::BudsNotFull { opens } => Some(opens),
        _ => None,
    });
    let is_window = |it: Reason| matches!(it, Reason::BudsNotFull { .. } | Reason::NoMildPlace { .. });
    let is_cold = verdict.main().any(|it| matches!(it, Reason::NoMildPlace { .. }));
    let is_near = |opens: &Span| (opens.early - today).get_days() <= FORTNIGHT;
    match opens {
        _ if !verdict.main().all(is_window) => Tag::NotNow,
        Some(opens) if is_cold && is_near(&opens) => Tag::Wait,
        Some(opens) if (opens.middle - today).get_days() <= FORTNIGHT => Tag::GetReady,
        Some(_) => Tag::NotYet,
        None => Tag::Wait,
    }
}

/// Every verdict for a tree, worked out once while nothing changes.
pub fn of<'a>(whole: &Whole, tree: &'a TreeWhole) -> &'a [Verdict] {
    tree.verdicts.get_or_init(|| {
        let facts = facts(whole, tree);
        Work::ALL.map(|work| verdict(work, &facts)).into()
    })
}

/// The verdicts on some kinds of work as lines, for the pages that speak of them; work that is never done to its kind is left out.
pub fn may(whole: &Whole, tree: &TreeWhole, works: &[Work]) -> Vec<Line> {
    let told = works.iter().map(|work| on(whole, tree, *work));
    let told = told.filter(|it| !it.main().any(|reason| reason == Reason::NotThisKind));
    told.map(|it| line(it, whole.today, whole.units())).collect()
}

/// The verdict on one kind of work.
pub fn on<'a>(whole: &Whole, tree: &'a TreeWhole, work: Work) -> &'a Verdict {
    &of(whole, tree)[work as usize]
}

/// What speaks against work that is to be recorded: none where nothing bars it. That nothing asks for a repot harms no tree, and is not
/// asked about.
pub fn against(whole: &Whole, tree: &TreeWhole, work: Work) -> Option<String> {
    told_against(whole, on(whole, tree, work))
}

fn told_against(whole: &Whole, verdict: &Verdict) -> Option<String> {
    let weighs = |it: &Reason| it.answer().is_against() && !matches!(it, Reason::NotNeeded { .. });
    let found: Vec<Reason> = verdict.reasons.iter().copied().filter(weighs).collect();
    if !verdict.answer.is_against() || found.is_empty() {
        return None;
    }
    let mut told: Vec<String> = Vec::new();
    let points = verdict.budget.filter(|_| found.iter().any(is_second)).map(|it| points(&it, whole.today));
    for words in found.iter().map(|it| reason(*it, whole.today, whole.units())).chain(points) {
        if !told.contains(&words) {
            told.push(words);
        }
    }
    Some(told.join("; "))
}

/// Whether a finding is of work that the tree has behind it, so that its points are told beside it.
fn is_second(it: &Reason) -> bool {
    matches!(
        it,
        Reason::OverBudget { .. }
            | Reason::MajorSpent { .. }
            | Reason::TooSoon { .. }
            | Reason::RestDue { .. }
            | Reason::RootsCut { .. }
            | Reason::NotStrongEnough(_)
    )
}

/// What speaks against moving a tree to a place: none where nothing bars it, or the place is not one.
pub fn against_move(whole: &Whole, tree: &TreeWhole, place: &str) -> Option<String> {
    let rank = whole.places.iter().position(|it| it.place.key == place)?;
    let is_there = tree.place == Some(rank);
    told_against(whole, &going::moving(whole, tree, rank, whole.today)).filter(|_| !is_there)
}

/// Whether work of a day that goes against the verdict was given its reason with another limb of the same tree and day.
pub fn is_answered(tree: &TreeWhole, work: Work, day: Date) -> bool {
    let shape = &tree.shape;
    let cut = |it: &Cut| it.day == day && !it.despite.is_empty() && work_of_cut(it.kind) == work;
    match work {
        Work::Wire => shape.wires.iter().any(|(_, it)| it.on == day && it.note.contains("though asked: ")),
        Work::HardPrune | Work::Trim | Work::Pinch => shape.cuts.iter().any(|(_, it)| cut(it)),
        _ => false,
    }
}

/// The kind of work that a cut on a limb is.
pub fn work_of_cut(kind: CutKind) -> Work {
    match kind {
        CutKind::Pinch => Work::Pinch,
        CutKind::Trim | CutKind::Thin => Work::Trim,
        CutKind::Shorten | CutKind::Remove => Work::HardPrune,
    }
}

/// The tag of the verdict on root work.
pub fn roots(whole: &Whole, tree: &TreeWhole) -> Tag {
    tag(on(whole, tree, Work::Repot), whole.today)
}

/// What the buds alone tell: enough to say whether the season's window is over.
pub(crate) fn bud_facts(whole: &Whole, tree: &TreeWhole) -> Facts {
    let hemisphere = case::hemisphere(whole);
    let mut facts = Facts::of(tree.tree.taxon, whole.today, hemisphere);
    let winter = Winter::holding(whole.today, hemisphere);
    if let Ok(told) = &tree.told {
        let span = |it: dormancy::forecast::Spread| Span {
            early: winter.date(it.early),
            middle: winter.date(it.middle),
            late: winter.date(it.late),
        };
        let window = told.forecast.window().map(|window| [span(window.opens), span(window.closes)]);
        facts.buds = Some(Buds { today: told.forecast.today, window });
        facts.cold_short = (told.cold_short > 0.0).then_some(told.cold_short);
    }
    let last = tree.looks.iter().rev().find(|(_, look)| is_of_spring(winter, look.day, look.stage));
    facts.seen = last.map(|(_, look)| Seen {
        day: look.day,
        stage: look.stage,
        is_doubtful: look.sureness == collection::event::Sureness::Doubtful,
    });
    facts
}

/// Whether a look at buds is of this winter's waking: not of the growth before it.
pub(crate) fn is_of_spring(winter: Winter, day: Date, stage: Stage) -> bool {
    let number = winter.day_number(day);
    number >= Winter::FIRST_DAY && (stage == Stage::Dormant || number >= dormancy::wake::START)
}

/// Everything a verdict asks.
fn facts(whole: &Whole, tree: &TreeWhole) -> Facts {
    let mut facts = bud_facts(whole, tree);
    let winter = Winter::holding(whole.today, facts.hemisphere);
    facts.foliage = match grows::leaves(tree).on(winter.day_number(whole.today)) {
        LeafState::Leafless | LeafState::Swollen => Foliage::Bare,
        LeafState::Opening | LeafState::HalfSize => Foliage::Soft,
        LeafState::Mature | LeafState::WinterGreen | LeafState::FrozenGreen => Foliage::Full,
        LeafState::Autumn => Foliage::Autumn,
    };
    facts.recovery = match tree.recovery {
        Some(day) if day <= winter.day_number(whole.today) => Recovery::Now,
        Some(day) => Recovery::From(winter.date(day)),
        None if whole.ground.is_ok() => Recovery::Never,
        // Without weather nobody knows, and the buds say "look first" all the same.
        None => Recovery::Now,
    };
    let fed = tree.works.iter().filter(|(_, it)| it.kind == WorkKind::Fed && it.day <= whole.today);
    facts.fed = fed.map(|(_, it)| it.day).max();
    facts.wires = tree.shape.wires.iter().filter(|(_, wire)| wire.off.is_none()).count();
    let autumn = whole.autumn();
    (facts.first_frost, facts.first_cool, facts.roots_stop) = (autumn.frost, autumn.cool, autumn.roots_stop);
    facts.height = tree.standing.statures.last().map(|it| it.height);
    let aim = tree.shape.aim.as_ref();
    facts.needles = aim.and_then(|aim| aim.needles);
    facts.shown = aim.and_then(|aim| aim.shown).filter(|day| *day >= whole.today);
    facts.nights = match (&whole.ground, tree.place) {
        (Ok(ground), Some(place)) => nights(ground, place),
        _ => None,
    };
    facts.in_dark = tree.place.is_some_and(|rank| whole.places[rank].place.shelter == Shelter::ColdRoom);
    let layers = tree.shape.layers.iter().map(|(_, it)| it);
    facts.layer = layers.filter(|it| it.apart.is_none_or(|day| whole.today < day)).map(|it| it.day).min();
    if let Ok(case) = case::before(whole, tree, case::is_left_alone(whole)) {
        with_case(&mut facts, &case);
    }
    facts
}

/// A cut so small is none that anyone lifts a tree for.
const WORTH_LIFTING: Share = Share(0.10);

fn with_case(facts: &mut Facts, case: &Case<'_>) {
    let cut = &case.cut;
    facts.strength = cut.judged.strength;
    facts.judged = cut.judged.day.filter(|_| !cut.judged.is_old);
    facts.past = pasts(&cut.book, facts.today);
    facts.rest_is_due = cut.rest.is_due;
    facts.root_cut = cut.book.iter().rev().find_map(|entry| match entry.insult {
        Insult::RepotFull { cut, .. } | Insult::RepotLight { cut } if entry.day <= facts.today => {
            Some(RootCut { day: entry.day, share: cut })
        }
        _ => None,
    });
    // Where the log leaves too little to be cut, the usual cut is judged, so that the reason is told.
    let is_enough = cut.is_said || cut.planned >= WORTH_LIFTING;
    facts.planned_cut = if is_enough { cut.planned } else { cut.today.typical };
    facts.plan = plan(case);
}

fn plan(case: &Case<'_>) -> Plan {
    let Goes::No(whys) = &case.goes else { return Plan::Wanted };
    for why in whys {
        match why {
            Why::Done(day) => return Plan::Done(*day),
            Why::Word(_) => return Plan::Declined,
            Why::FewSigns(_) if case.due.due.years_unknown => return Plan::Unknown,
            Why::FewSigns(points) => return Plan::NotNeeded(*points),
            _ => {}
        }
    }
    // What bars it is judged by the rules of the room below.
    Plan::Wanted
}
