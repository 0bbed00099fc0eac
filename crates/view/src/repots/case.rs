//! A tree's case for a repot, put together from the records: whether it is due, how much root may go, and whether it goes this season.

use jiff::civil::Date;
use measure::{
    range::OutOfRange,
    winter::{Hemisphere, Winter as Season},
};
use pot::{
    fit::sitter::Winter,
    repot::{
        insult::{Insult, Objection},
        roots::{Bare, Reason},
    },
};
use season::repot::{
    cut::{self, CutToday},
    due::{self, Told},
    left_alone::left_alone,
    record::{Record, StandsIn, winter_in},
    wintered::wintered,
    year::{self, Goes, Why},
};

use state::{verdict::Answer, work::Work};

use crate::{
    verdicts::{self, Tag},
    whole::{TreeWhole, Whole},
    words,
};

/// The half of the Earth that the site lies on; the north while there is no site.
pub fn hemisphere(whole: &Whole) -> Hemisphere {
    whole.site.as_ref().map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude))
}

/// The year in which the season's repots fall.
pub fn season(whole: &Whole) -> i16 {
    year::season_of(whole.today, hemisphere(whole))
}

/// Whether pots are left alone for long about now.
pub fn is_left_alone(whole: &Whole) -> bool {
    left_alone(&whole.aways, crate::water::moment(whole.today.at(12, 0, 0, 0), &jiff::tz::TimeZone::UTC))
}

/// Where the tree spent the middle of its last winter, as a pot's wall minds it.
fn winter(whole: &Whole, tree: &TreeWhole) -> Option<Winter> {
    let stay = wintered(&tree.moves, whole.today, hemisphere(whole))?;
    Some(winter_in(whole.places[tree.moves[stay].1].place.shelter))
}

/// Everything known of a tree that a pot or a repot asks, with what the verdict on root work bars for the season.
pub fn record<'a>(whole: &'a Whole, tree: &'a TreeWhole, thirsty: bool) -> Record<'a> {
    Record { barred: barred(whole, tree), ..unjudged(whole, tree, thirsty) }
}

/// What bars root work for the rest of its window, or of the season where it goes by months; none where it may still be done.
pub(crate) fn barred(whole: &Whole, tree: &TreeWhole) -> Option<String> {
    let verdict = verdicts::on(whole, tree, Work::Repot);
    let season = Season::holding(whole.today, hemisphere(whole));
    let next = Season { spring_year: season.spring_year + 1, ..season }.first_date();
    let last = match (&tree.told, &whole.ground) {
        (Ok(told), Ok(ground)) if crate::why::is_by_buds(verdict) => {
            told.forecast.window().map(|window| ground.winter.date(window.closes.late))
        }
        _ => None,
    };
    let is_out = match verdict.answer {
        Answer::NotThisSeason => true,
        Answer::NotNow { until: Some(day) } => last.is_some_and(|last| last < day) || next <= day,
        Answer::NotNow { until: None } => true,
        Answer::Yes | Answer::Caution | Answer::LookFirst => false,
    };
    is_out.then(|| crate::why::reasons(whole, verdict))
}

/// Everything known of a tree that the verdict itself asks.
fn unjudged<'a>(whole: &'a Whole, tree: &'a TreeWhole, thirsty: bool) -> Record<'a> {
    let standing = &tree.standing;
    let season = season(whole);
    let key = &tree.tree.key;
    let born =
        whole.trees.iter().flat_map(|it| &it.shape.layers).filter(|(_, it)| it.child.as_ref() == Some(key));
    let meant = standing.meant.iter().filter(|it| it.season >= season).min_by_key(|it| it.season);
    Record {
        tree: &tree.tree,
        grown: standing.grown.as_ref(),
        statures: &standing.statures,
        crown: tree.crown.as_ref(),
        tints: &standing.tints,
        vigours: &standing.vigours,
        pot_looks: &standing.looks,
        repots: &standing.repots,
        works: tree.works.iter().map(|(_, it)| it).collect(),
        tolls: standing.tolls.iter().map(|(_, it)| it).collect(),
        wires: tree.shape.wires.iter().map(|(_, it)| it).collect(),
        layers: tree.shape.layers.iter().chain(born).map(|(_, it)| it).collect(),
        meant: meant.filter(|it| it.season == season),
        stands_in: tree.potted.last().map(|&(since, pot, mix)| StandsIn {
            pot: &whole.pots[pot],
            ware: &whole.shelf.wares[pot],
            mix: &whole.mixes[mix],
            since,
        }),
        pottings: tree.potted.iter().map(|&(day, pot, _)| (day, whole.shelf.wares[pot].training)).collect(),
        window: window(whole, tree),
        winter: winter(whole, tree),
        thirsty,
        missed: tree.missed,
        barred: None,
    }
}

/// When a cut of roots may be aimed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Today.
    Today,
    /// Once its buds are full and a place is mild.
    Later,
    /// Not while something else bars it: the verdict says what.
    None,
}

/// Whether a cut of roots may be aimed for today, later, or not: by the verdict alone.
pub fn aim(whole: &Whole, tree: &TreeWhole) -> Aim {
    let verdict = verdicts::on(whole, tree, Work::Repot);
    match verdicts::tag(verdict, whole.today) {
        Tag::Repot | Tag::WithCare | Tag::LookFirst => Aim::Today,
        Tag::GetReady | Tag::NotYet | Tag::Wait => Aim::Later,
        Tag::NotNow | Tag::TooLate | Tag::NotThisYear => Aim::None,
    }
}

/// What stands in place of an aim where the verdict is no.
pub(crate) fn none(whole: &Whole, tree: &TreeWhole) -> &'static str {
    let is_plan = verdicts::on(whole, tree, Work::Repot).main().all(|it| it.is_plan());
    if is_plan { "none: no repot is planned" } else { "cut no root" }
}

/// A tree's case.
#[derive(Clone, Debug)]
pub struct Case<'a> {
    /// Everything known.
    pub record: Record<'a>,
    /// Whether it is due.
    pub due: Told,
    /// How much root may go.
    pub cut: CutToday,
    /// Whether it goes this season.
    pub goes: Goes,
}

/// A tree's case.
///
/// # Errors
///
/// [`OutOfRange`] when a record holds something that cannot be.
pub fn case<'a>(whole: &'a Whole, tree: &'a TreeWhole, thirsty: bool) -> Result<Case<'a>, OutOfRange> {
    of_record(record(whole, tree, thirsty), whole)
}

/// A tree's case before the verdict: what the verdict's facts are gathered from.
///
/// # Errors
///
/// [`OutOfRange`] when a record holds something that cannot be.
pub(crate) fn before<'a>(
    whole: &'a Whole,
    tree: &'a TreeWhole,
    thirsty: bool,
) -> Result<Case<'a>, OutOfRange> {
    of_record(unjudged(whole, tree, thirsty), whole)
}

fn of_record<'a>(record: Record<'a>, whole: &Whole) -> Result<Case<'a>, OutOfRange> {
    let hemisphere = hemisphere(whole);
    let due = due::due(&record, whole.today)?;
    let cut = cut::today(&record, whole.today, hemisphere)?;
    let goes = year::goes(&record, &due, &cut, whole.today, hemisphere);
    Ok(Case { record, due, cut, goes })
}

/// The likely days of a tree's window: when buds are full, and the last before green tips.
pub fn window(whole: &Whole, tree: &TreeWhole) -> Option<(Date, Date)> {
    let winter = whole.ground.as_ref().ok()?.winter;
    let window = tree.told.as_ref().ok()?.forecast.window()?;
    Some((winter.date(window.opens.middle), winter.date(window.closes.middle)))
}

/// A share of the roots in words.
pub(crate) fn share(it: measure::quantity::Share) -> String {
    format!("{:.0} %", it.0 * 100.0)
}

/// A limit in words: whole per cent, never more than it is.
pub(crate) fn at_most(it: measure::quantity::Share) -> String {
    format!("{:.0} %", (it.0 * 100.0 + 1e-9).floor())
}

/// What is planned in words: as the grower said, else whole per cent, never more than it is, so that it does not seem to pass the limit.
pub(crate) fn planned(cut: &CutToday) -> String {
    if cut.is_said { share(cut.planned) } else { at_most(cut.planned) }
}

/// Whether a reason limits today's cut. Where a rest is due, points that would allow more do not.
pub(crate) fn bites(it: &Reason, cut: &CutToday) -> bool {
    let most = Insult::RepotFull { cut: cut.today.limit, bare: false }.points();
    match it {
        Reason::PointsLeft(left) if cut.rest.is_due => most.is_ok_and(|most| most + 1e-9 >= *left),
        other => other.is_limit(),
    }
}

/// Why today's cut is not the usual one.
pub(crate) fn reason(it: &Reason) -> String {
    match it {
        Reason::OldTree => "an old tree that is repotted seldom loses little".into(),
        Reason::PointsLeft(points) => format!("{points:.2} points are left of the year's"),
        Reason::NoMajorToday => "no major today, so only a small cut".into(),
        Reason::Sick => "sick: rescue only".into(),
        Reason::NeverBare => "its roots are never bared; take one half at a time".into(),
        Reason::BareInPart => "its roots may be bared in part only".into(),
    }
}

/// Why a tree goes this season, or does not.
pub(crate) fn why(it: &Why, today: Date) -> String {
    match it {
        Why::Done(day) => format!("it was repotted on {}", words::day(*day, today)),
        other => other.words(),
    }
}

/// Several reasons in one line.
pub(crate) fn whys(all: &[Why], today: Date) -> String {
    all.iter().map(|it| why(it, today)).collect::<Vec<_>>().join("; ")
}

/// What speaks against a cut.
pub(crate) fn objection(it: &Objection, today: Date) -> String {
    match it {
        Objection::OverBudget { costs, left } => {
            format!("it costs {costs:.2} points and {:.2} are left of the year's", left.max(0.0))
        }
        Objection::NoMajors(strength) => format!("no major on a {} tree", strength.words()),
        Objection::MajorsSpent => "the year's one major is spent".into(),
        Objection::TooSoon { wait } => {
            let until = today.saturating_add(jiff::Span::new().days(wait.0.ceil() as i64));
            format!("too soon after the last major; from {} on", words::day(until, today))
        }
    }
}

/// Whether roots may be bared, in words.
pub(crate) fn bare(it: Bare) -> &'static str {
    match it {
        Bare::Yes => "may be washed or shaken bare",
        Bare::Partial => "bare in part only",
        Bare::No => "never bare",
    }
}

/// An insult in words.
pub(crate) fn insult(it: Insult) -> String {
    match it {
        Insult::RepotFull { cut, bare } => {
            format!("repotted, {} of the roots cut{}", share(cut), if bare { ", bared" } else { "" })
        }
        Insult::RepotLight { cut } => format!("repotted lightly, {} of the roots cut", share(cut)),
        Insult::SlipPot => "slipped into a larger pot".into(),
        Insult::WireDetail => "fine twigs wired".into(),
        Insult::LayerOn => "a layer set".into(),
        Insult::LayerOffParent => "a layer taken off".into(),
        Insult::LayerOffNew => "cut off its parent".into(),
        Insult::Collect => "collected".into(),
        Insult::HardPrune(part) => format!("pruned hard, {}", share(part)),
        Insult::Trim(part) => format!("trimmed, {}", share(part)),
        Insult::Pinch => "pinched".into(),
        Insult::DefoliateFull => "every leaf taken".into(),
        Insult::DefoliatePartial(part) => format!("leaves taken, {}", share(part)),
        Insult::Decandle => "candles taken".into(),
        Insult::WireStructural(count) => words::count(count, "branch wired", "branches wired"),
        Insult::HeavyBend(count) => words::count(count, "limb bent hard", "limbs bent hard"),
        Insult::Carve { live_edge } => {
            if live_edge { "carved into live wood" } else { "dead wood carved" }.into()
        }
        Insult::RepairGraft => "grafted".into(),
        Insult::Pest(part) => format!("pest, {} of the leaf lost", share(part)),
        Insult::Drought { crisp } => if crisp { "dried until leaves went crisp" } else { "wilted" }.into(),
        Insult::Frost { roots } => {
            if roots { "roots thought hurt by frost" } else { "leaf lost to frost" }.into()
        }
        Insult::Show(weeks) => words::count(weeks, "week indoors at a show", "weeks indoors at a show"),
    }
}

/// A sign that a repot is due, in words.
pub(crate) fn sign(it: pot::repot::due::Sign) -> &'static str {
    use pot::repot::due::Sign;
    match it {
        Sign::DrainsSlowly => "the last water takes more than half a minute to drain",
        Sign::TwiceADay => "wants water twice a day in mild weather",
        Sign::Rocks => "has lifted itself, or rocks",
        Sign::Years => "years since the last repot",
        Sign::RootsSeen => "roots at the holes or round the surface",
        Sign::Crumbled => "the top has crumbled to mud",
        Sign::Show => "stands in a training pot and is meant for a show pot",
        Sign::Falling => "vigour falling for two seasons, and no pest",
    }
}

/// The most of its roots that a tree should lose today; none where a record cannot be read.
pub fn limit(whole: &Whole, tree: &TreeWhole) -> Option<measure::quantity::Share> {
    case(whole, tree, is_left_alone(whole)).ok().map(|it| it.cut.today.limit)
}
