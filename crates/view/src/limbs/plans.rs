//! What the plan will do: the tree after this season and after three, under what is meant and under another plan, with their spread.

use collection::{
    intention::{Cut, Wish},
    limb::{Caliper, Limb},
};
use form::{
    growth::{Forecast, LimbForecast},
    thickness::Likely,
};
use measure::quantity::{Degrees, Millimetre, Units};
use season::limbs::plans::{self, Ahead, BackTest, PLANTS};

use super::{
    draw::{Drawn, beside},
    grows::{calendar, followers, growing, learned},
    seen, thick, wish,
};
use crate::{
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

/// The other plan, as asked for.
#[derive(Clone, Copy, Debug, Default)]
pub struct Other<'a> {
    /// `run`, `short`, or `one` for a single limb treated otherwise; empty lets everything run.
    pub plan: &'a str,
    /// The limb.
    pub limb: &'a str,
    /// What for.
    pub wish: &'a str,
    /// To so many nodes.
    pub nodes: &'a str,
}

/// A picture with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Its title.
    pub title: String,
    /// The tree.
    pub drawn: Drawn,
}

/// A limb under both plans.
#[derive(Clone, Debug, PartialEq)]
pub struct LimbLine {
    /// Its number.
    pub number: u32,
    /// Its name.
    pub name: String,
    /// Its base today.
    pub today: String,
    /// Under what is meant: what that is, and its base after one and after three seasons.
    pub meant: String,
    /// Base after three seasons, both plans.
    pub thick: [String; 2],
    /// Tips after three seasons, both plans.
    pub tips: [String; 2],
    /// Whether it weakens, both plans.
    pub weakens: [String; 2],
    /// Whether the plans part on it.
    pub parts: bool,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct PlansPage {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// On what this rests, or what is missing.
    pub rests: String,
    /// Today and both plans after one and three seasons.
    pub pictures: Vec<Picture>,
    /// Two more seeds of each plan after three seasons.
    pub spread: Vec<Picture>,
    /// What the other plan is.
    pub other: String,
    /// The limbs.
    pub limbs: Vec<LimbLine>,
    /// Limbs to choose from.
    pub choices: Vec<(u32, String)>,
    /// Wishes to choose from.
    pub wishes: Vec<(&'static str, &'static str)>,
    /// Cuts whose buds were not counted yet: number and words.
    pub uncounted: Vec<(i64, String)>,
    /// What was learned, and what is not known.
    pub caveats: Vec<String>,
}

/// Cuts younger than this do not ask for their buds yet, days.
const ANSWERS: i32 = 21;

/// The page of a tree.
pub fn plans(whole: &Whole, tree: &TreeWhole, other: Other<'_>) -> PlansPage {
    let shape = &tree.shape;
    let mut page = PlansPage {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        rests: String::new(),
        pictures: Vec::new(),
        spread: Vec::new(),
        other: String::new(),
        limbs: Vec::new(),
        choices: shape.alive(whole.today).map(|limb| (limb.number, limb.name.clone())).collect(),
        wishes: Wish::ALL.map(|wish| (wish.key(), wish.words())).to_vec(),
        uncounted: uncounted(whole, tree),
        caveats: Vec::new(),
    };
    let seen = match seen(whole, tree) {
        Ok(seen) => seen,
        Err(why) => {
            page.rests = why.to_string();
            return page;
        }
    };
    let Some(growing) = growing(whole, tree, seen) else { return page };
    page.rests =
        format!("from the tree at rest, as traced on the photo of {}", words::day(seen.day, whole.today));
    let alive: Vec<&Limb> = shape.alive(whole.today).collect();
    let cuts: Vec<&Cut> = shape.cuts.iter().map(|(_, it)| it).collect();
    let ahead = Ahead::new(seen, &growing, tree.tree.taxon, &cuts);
    let meant = plans::meant(&alive, &calendar(whole, tree), |limb| shape.meant(limb, whole.today));
    let (words, instead) = instead(whole, shape, &alive, &meant, other);
    page.other = words;
    let [a, b] = [&meant, &instead].map(|plan| [ahead.after(plan, 1), ahead.after(plan, 3)]);
    draw(&mut page, &seen.raised.skeleton, &a, &b);
    page.limbs = lines(whole, tree, &alive, &a[1], &b[1]);
    page.caveats = caveats(whole, tree, &ahead, &growing, &alive, &cuts);
    page
}

/// The other plan and what it is called.
fn instead(
    whole: &Whole,
    shape: &Shape,
    alive: &[&Limb],
    meant: &form::growth::Plan,
    other: Other<'_>,
) -> (String, form::growth::Plan) {
    let limb = alive.iter().find(|limb| limb.number.to_string() == other.limb);
    match (other.plan, limb, Wish::from_key(other.wish)) {
        ("one", Some(limb), Some(wish)) => {
            let nodes = other.nodes.trim().parse().ok();
            (
                format!("as meant, but {}: {}", limb.name, wish.words()),
                plans::with(meant, &followers(whole, shape, limb.number), wish, nodes),
            )
        }
        ("short", ..) => ("every branch kept short to two nodes".into(), plans::all(alive, Wish::KeepShort)),
        _ => ("everything let run".into(), form::growth::Plan::let_run()),
    }
}

fn draw(page: &mut PlansPage, today: &form::skeleton::Skeleton, a: &[Forecast; 2], b: &[Forecast; 2]) {
    let named = |title: &str| format!("{}, {title}", page.name);
    let first = |it: &Forecast| it.pictures.first().cloned();
    let stood = [
        (Some(today.clone()), "today"),
        (first(&a[0]), "as meant, after this season"),
        (first(&b[0]), "the other plan, after this season"),
        (first(&a[1]), "as meant, after three seasons"),
        (first(&b[1]), "the other plan, after three seasons"),
    ];
    let more =
        |it: &Forecast, title: &'static str| -> Vec<(Option<form::skeleton::Skeleton>, &'static str)> {
            it.pictures.iter().skip(1).map(|picture| (Some(picture.clone()), title)).collect()
        };
    let rest = [
        more(&a[1], "as meant, after three seasons, another seed"),
        more(&b[1], "the other plan, after three seasons, another seed"),
    ]
    .concat();
    let all: Vec<(form::skeleton::Skeleton, &str)> =
        stood.into_iter().chain(rest).filter_map(|(tree, title)| Some((tree?, title))).collect();
    let views: Vec<_> = all.iter().map(|(tree, title)| (tree, Degrees(0.0), named(title))).collect();
    let mut drawn: Vec<Picture> = beside(&views)
        .into_iter()
        .zip(&all)
        .map(|(drawn, (_, title))| Picture { title: (*title).to_string(), drawn })
        .collect();
    page.spread = drawn.split_off(drawn.len().min(5));
    page.pictures = drawn;
}

fn lines(whole: &Whole, tree: &TreeWhole, alive: &[&Limb], a: &Forecast, b: &Forecast) -> Vec<LimbLine> {
    let (shape, units) = (&tree.shape, whole.units());
    let of = |it: &Forecast, limb: u32| it.limbs.iter().find(|row| row.limb == limb).copied();
    let Ok(seen) = seen(whole, tree) else { return Vec::new() };
    alive
        .iter()
        .filter_map(|limb| {
            let (one, other) = (of(a, limb.number)?, of(b, limb.number)?);
            let base = seen.base(limb.number)?;
            let apart = (one.thickness.middle.0 - other.thickness.middle.0).abs() > 0.05 * base.0
                || (one.tips.middle - other.tips.middle).abs()
                    > 0.25 * one.tips.middle.max(other.tips.middle);
            Some(LimbLine {
                number: limb.number,
                name: limb.name.clone(),
                today: thick(units, base),
                meant: shape.meant(limb.number, whole.today).map_or_else(
                    || "left to grow".into(),
                    |it| {
                        if it.limb == limb.number {
                            wish(it, units)
                        } else {
                            format!("as {}", shape.name_of(it.limb))
                        }
                    },
                ),
                thick: [one, other].map(|row| span(units, row)),
                tips: [one, other].map(|row| count(row.tips)),
                weakens: [one, other].map(weakens),
                parts: apart,
            })
        })
        .collect()
}

fn span(units: Units, row: LimbForecast) -> String {
    if row.thickness.high.0 <= 0.0 {
        return "gone".into();
    }
    super::grows::span(units, row.thickness.map(|mm| Millimetre(mm.0.max(0.0))))
}

fn count(tips: Likely<f64>) -> String {
    format!("{:.0} ({:.0} to {:.0})", tips.middle, tips.low, tips.high)
}

fn weakens(row: LimbForecast) -> String {
    match row.weakens.0 {
        _ if row.thickness.high.0 <= 0.0 => String::new(),
        share if share > 0.5 => "likely weakens".into(),
        share if share > 0.2 => "may weaken".into(),
        _ => String::new(),
    }
}

fn uncounted(whole: &Whole, tree: &TreeWhole) -> Vec<(i64, String)> {
    let open = tree.shape.cuts.iter().rev().filter(|(_, cut)| {
        cut.broke.is_none()
            && cut.kind != collection::intention::CutKind::Remove
            && (whole.today - cut.day).get_days() >= ANSWERS
    });
    open.map(|(id, cut)| {
        let day = words::day(cut.day, whole.today);
        (*id, format!("{} {}, {day}", tree.shape.name_of(cut.limb), cut.kind.words()))
    })
    .take(6)
    .collect()
}

fn caveats(
    whole: &Whole,
    tree: &TreeWhole,
    ahead: &Ahead,
    growing: &season::limbs::thick::Growing<'_>,
    alive: &[&Limb],
    cuts: &[&Cut],
) -> Vec<String> {
    let readings: Vec<&Caliper> = tree.shape.calipers.iter().map(|(_, it)| it).collect();
    let told = |test: Option<BackTest>, what: &str, needs: &str| match test {
        None => format!("{what}: no back-test yet, it takes {needs}"),
        Some(it) if it.ours < it.naive => format!(
            "{what}: on {} the model was off by {:.2}, “same as last time” by {:.2}",
            words::count(it.cases, "case", "cases"),
            it.ours,
            it.naive
        ),
        Some(it) => format!(
            "{what}: on {} the model was off by {:.2} and “same as last time” by {:.2}: it is not better than memory on this tree",
            words::count(it.cases, "case", "cases"),
            it.ours,
            it.naive
        ),
    };
    let [broke, buds] = ahead.counted;
    vec![
        format!(
            "The growth model was never tried on bonsai. Its constants are planning figures; read differences between the plans, not sizes. {PLANTS} seeds each; spans hold eight in ten."
        ),
        "Branches without a wish are left to grow; only what was traced and counted is grown on.".into(),
        learned(growing),
        if buds > 0 {
            format!(
                "Behind its own cuts {broke} of {buds} buds broke; with what is usual that makes {:.0} in 100 for the nearest bud.",
                ahead.habit.value.breaking.nearest * 100.0
            )
        } else {
            format!(
                "How many buds break behind a cut is a planning figure ({:.0} in 100 for the nearest, {}): count them below.",
                ahead.habit.value.breaking.nearest * 100.0,
                ahead.habit.standing.words()
            )
        },
        told(
            plans::buds_back_test(cuts, tree.tree.taxon),
            "Share of buds that break",
            "two counts on one branch",
        ),
        told(
            plans::rings_back_test(growing, alive, &readings, &calendar(whole, tree)),
            "Rings",
            "three autumns of diameters on a branch",
        ),
    ]
}
