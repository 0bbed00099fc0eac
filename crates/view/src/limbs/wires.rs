//! Wire: which wires to look at first, when each must come off, which wire to take for a bend, and what is on the shelf.

mod bend;

use std::cmp::Reverse;

use collection::{intention::Wish, wire::Wire};
use form::{
    wire::{Ask, answer, bite::Bark, metal::Metal},
    wood,
};
use jiff::civil::Date;
use measure::quantity::{Degrees, Gram, Millimetre, Units};
use season::limbs::wires::{self, Clock, MINUTES, Stand, Told, Wired};

use super::{
    grows::{self, course, growing},
    long, seen, thick,
};
use crate::{
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

pub use bend::{Bend, BendAsked, bend};

/// A wire on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct WireRow {
    /// Its number.
    pub id: i64,
    /// The tree's key.
    pub tree: String,
    /// The tree's name.
    pub name: String,
    /// The limb's name.
    pub limb: String,
    /// What was put on and when.
    pub words: String,
    /// "take it off", "look now", "look", "later" or "still in the wood".
    pub verdict: &'static str,
    /// For the class of the tag.
    pub strong: bool,
    /// When to look next, and how late that is.
    pub look: String,
    /// When it may bite and when it must be off, in one sentence.
    pub bites: String,
    /// What that sentence stands on.
    pub basis: String,
    /// Anything noted.
    pub note: String,
    /// A piece of it grew in and is still there.
    pub grown_in: bool,
    /// Whether it is to be looked at today.
    pub due: bool,
    order: (bool, Stand, Reverse<Date>, i32),
}

/// Every wire that is on, the one to look at first on top.
#[derive(Clone, Debug, PartialEq)]
pub struct WiresPage {
    /// The tree it is for; none for all trees.
    pub tree: Option<(String, String)>,
    /// The wires.
    pub rows: Vec<WireRow>,
    /// What to be careful of with the tree’s kind, on its page.
    pub cautions: Option<crate::cautions::Cautions>,
    /// How many are to be looked at today.
    pub due: usize,
    /// How many can be seen in the time told, and what is left.
    pub time: String,
    /// Wires that are off, the latest first.
    pub past: Vec<String>,
    /// The wire on the shelf.
    pub shelf: Vec<(String, String)>,
    /// Wire that what is meant asks for, by gauge: needed, on the shelf, and for which limbs.
    pub needed: Vec<Needed>,
    /// Limbs to choose from, on a tree's page.
    pub limbs: Vec<(u32, String)>,
    /// Photos to choose from, on a tree's page.
    pub photos: Vec<(String, String)>,
    /// What a bend was asked about, on a tree's page.
    pub bend: Option<Bend>,
    /// Today, for forms.
    pub today: String,
}

/// Wire of one gauge that what is meant asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Needed {
    /// The gauge.
    pub gauge: String,
    /// How much is needed, and how much is on the shelf.
    pub words: String,
    /// Whether the shelf falls short.
    pub short: bool,
    /// For which limbs.
    pub limbs: String,
}

impl WiresPage {
    /// The wires as plain text.
    pub fn text(&self) -> String {
        let mut text = format!("{}\n", self.time);
        for row in &self.rows {
            text += &format!("\n{}, {}: {}\n  {}\n", row.name, row.limb, row.verdict, row.words);
            for line in [&row.look, &row.bites, &row.basis, &row.note] {
                if !line.is_empty() {
                    text += &format!("  {line}\n");
                }
            }
        }
        text
    }
}

/// Wires of all trees, or of one.
pub fn page(whole: &Whole, tree: Option<&TreeWhole>, hours: f64) -> WiresPage {
    let trees: Vec<&TreeWhole> = match tree {
        Some(tree) => vec![tree],
        None => whole.trees.iter().filter(|tree| !tree.shape.wires.is_empty()).collect(),
    };
    let mut rows: Vec<WireRow> = trees.iter().flat_map(|tree| on(whole, tree)).collect();
    rows.sort_by(|a, b| b.order.cmp(&a.order).then_with(|| (&a.name, &a.limb).cmp(&(&b.name, &b.limb))));
    let due = rows.iter().filter(|row| row.due).count();
    let units = whole.units();
    WiresPage {
        tree: tree.map(|tree| (tree.tree.key.clone(), tree.tree.name.clone())),
        cautions: tree.and_then(|tree| crate::cautions::of(whole, tree)),
        due,
        time: time(&rows, due, hours),
        rows,
        past: trees.iter().flat_map(|tree| past(&tree.shape, &tree.tree.name, units, whole.today)).collect(),
        needed: needed(whole, &trees_with_wishes(whole, tree)),
        shelf: whole.coils.iter().map(|coil| shelf(coil.metal, coil.gauge, coil.left, units)).collect(),
        limbs: tree.map_or_else(Vec::new, |tree| {
            tree.shape.alive(whole.today).map(|limb| (limb.number, limb.name.clone())).collect()
        }),
        photos: tree.map_or_else(Vec::new, |tree| {
            let photos = tree.shape.photos.iter().rev();
            photos.map(|photo| (photo.key.clone(), words::day(photo.day, whole.today))).collect()
        }),
        bend: None,
        today: whole.today.to_string(),
    }
}

/// How many looks fit into the hours told.
fn time(rows: &[WireRow], due: usize, hours: f64) -> String {
    if due == 0 {
        return "No wire is to be looked at today.".into();
    }
    let mut trees: Vec<&str> = Vec::new();
    for row in rows.iter().filter(|row| row.due) {
        if !trees.contains(&row.tree.as_str()) {
            trees.push(&row.tree);
        }
    }
    let fit = ((hours * 60.0) / MINUTES).floor() as usize;
    let needed = (trees.len() as f64 * MINUTES).ceil();
    let all = words::count(trees.len(), "tree", "trees");
    if fit >= trees.len() {
        return format!(
            "{} on {all}: about {needed:.0} minutes to look at them all (our estimate, {MINUTES:.0} minutes a tree; taking wire off is longer).",
            words::count(due, "wire is to be looked at", "wires are to be looked at")
        );
    }
    let left = words::count(trees.len() - fit, "tree", "trees");
    format!("{hours} hours are enough for the first {fit} of {all}; {left} stay at risk until the next look.")
}

fn shelf(metal: Metal, gauge: Millimetre, left: Gram, units: Units) -> (String, String) {
    let metre = form::wire::helix::weight(gauge, Millimetre(1000.0), metal);
    let metres = left.0 / metre.0;
    let length = match units {
        Units::Metric => format!("{metres:.0} m"),
        Units::Imperial => format!("{:.0} ft", metres / 0.3048),
    };
    (
        format!("{} {}", metal.key(), gauge_words(units, gauge)),
        format!("{}, about {length}", units.weight(left)),
    )
}

fn trees_with_wishes<'a>(whole: &'a Whole, tree: Option<&'a TreeWhole>) -> Vec<&'a TreeWhole> {
    tree.map_or_else(|| whole.trees.iter().collect(), |tree| vec![tree])
}

/// The aluminium that open wishes to wire ask for, by the trade's rule, with a shelf that may fall short.
fn needed(whole: &Whole, trees: &[&TreeWhole]) -> Vec<Needed> {
    let mut rows: Vec<(Millimetre, f64, Vec<String>)> = Vec::new();
    for tree in trees {
        let open = tree.shape.intentions.iter().map(|(_, it)| it);
        for it in open.filter(|it| it.wish == Wish::Wire && it.holds(whole.today)) {
            let Some((gauge, length)) = rule(whole, tree, it.limb) else { continue };
            let name = format!("{}, {}", tree.tree.name, tree.shape.name_of(it.limb));
            match rows.iter_mut().find(|row| (row.0.0 - gauge.0).abs() < 0.01) {
                Some(row) => {
                    row.1 += length.0;
                    row.2.push(name);
                }
                None => rows.push((gauge, length.0, vec![name])),
            }
        }
    }
    rows.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    let units = whole.units();
    rows.into_iter()
        .map(|(gauge, length, limbs)| {
            let coil = whole
                .coils
                .iter()
                .find(|coil| coil.metal == Metal::Aluminium && (coil.gauge.0 - gauge.0).abs() < 0.01);
            let metre = form::wire::helix::weight(gauge, Millimetre(1000.0), Metal::Aluminium).0;
            let left = coil.map_or(0.0, |coil| coil.left.0 / metre * 1000.0);
            let words = format!(
                "{} needed, {} on the shelf",
                long(units, Millimetre(length)),
                long(units, Millimetre(left))
            );
            Needed {
                gauge: format!("aluminium {}", gauge_words(units, gauge)),
                words,
                short: left < length,
                limbs: limbs.join("; "),
            }
        })
        .collect()
}

/// The gauge and the length that the trade's rule gives for a whole limb.
fn rule(whole: &Whole, tree: &TreeWhole, limb: u32) -> Option<(Millimetre, Millimetre)> {
    let seen = seen(whole, tree).ok()?;
    let branch = seen.base(limb)?;
    let told = answer(&Ask {
        branch,
        along: seen.length(limb)?,
        // The radius changes neither gauge nor length by the rule.
        radius: Millimetre(20.0 * branch.0),
        wood: wood::for_taxon(tree.tree.taxon).wood,
        young: true,
        metal: Metal::Aluminium,
        strands: 1,
        angle: COILED,
        anchor: tree.shape.bearer(limb).and_then(|bearer| seen.base(bearer)),
    })
    .ok()?;
    Some((told.take.unwrap_or(told.by_table.value.aluminium), told.length))
}

/// The angle at which wire is coiled where nobody says otherwise: the middle of the trade's 45 to 55 (common practice, no source).
const COILED: Degrees = Degrees(50.0);

/// A gauge as it is sold.
fn gauge_words(units: Units, gauge: Millimetre) -> String {
    match units {
        Units::Metric => format!("{} mm", (gauge.0 * 100.0).round() / 100.0),
        Units::Imperial => format!("{:.3} in", gauge.0 / 25.4),
    }
}

/// The wires that are on a tree.
pub fn on(whole: &Whole, tree: &TreeWhole) -> Vec<WireRow> {
    let shape = &tree.shape;
    let mut rows = Vec::new();
    if shape.wires.iter().all(|(_, wire)| !wire.is_on(whole.today)) {
        return rows;
    }
    let seen = seen(whole, tree).ok();
    let grows = seen.and_then(|seen| growing(whole, tree, seen));
    let calendar = grows::calendar(whole, tree);
    let marked = wires::marked(shape.wires.iter().map(|(_, it)| it), &calendar, whole.today);
    for (id, wire) in shape.wires.iter().filter(|(_, wire)| wire.is_on(whole.today)) {
        let ring = grows
            .as_ref()
            .and_then(|grows| grows.ring(wire.limb, &|limb| course(whole, shape, limb)).ok().flatten());
        let base = seen.and_then(|seen| seen.base(wire.limb));
        let it = Wired { wire, taxon: tree.tree.taxon, calendar: &calendar, ring, thick: base, marked };
        if let Ok(told) = wires::tell(&it, whole.today) {
            rows.push(row(whole, tree, *id, wire, &told));
        }
    }
    rows
}

fn row(whole: &Whole, tree: &TreeWhole, id: i64, wire: &Wire, told: &Told) -> WireRow {
    let (units, today) = (whole.units(), whole.today);
    let embedded = wire.off.is_some_and(|off| off <= today);
    let is_due = !embedded && (told.late >= 0 || told.stand >= Stand::Touches);
    let verdict = match (embedded, told.stand, told.late) {
        (true, ..) => "still in the wood",
        (_, Stand::Overdue, _) => "take it off",
        (_, Stand::Touches, _) => "look now",
        (.., late) if late >= 0 => "look",
        _ => "later",
    };
    let strands = if wire.strands > 1 { format!("{} strands of ", wire.strands) } else { String::new() };
    let thick = wire.thick.map_or_else(String::new, |mm| format!(" on {}", thick(units, mm)));
    WireRow {
        id,
        tree: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        limb: tree.shape.name_of(wire.limb),
        words: format!(
            "{strands}{} {}{thick}, since {}",
            wire.metal.key(),
            gauge_words(units, wire.gauge),
            words::day(wire.on, today)
        ),
        verdict,
        strong: matches!(verdict, "take it off" | "look now"),
        look: if embedded { String::new() } else { look(told, wire, today) },
        bites: if embedded { String::new() } else { bites(told, today) },
        basis: if embedded { String::new() } else { basis(told, tree) },
        note: wire.note.clone(),
        grown_in: wire.grown_in,
        due: is_due,
        order: if embedded {
            (false, Stand::Free, Reverse(Date::MAX), i32::MIN)
        } else {
            (is_due, told.stand, Reverse(told.bites.map_or(Date::MAX, |bites| bites.from)), told.late)
        },
    }
}

fn look(told: &Told, wire: &Wire, today: Date) -> String {
    let seen = wire.seen.map_or_else(
        || "Not looked at yet".to_string(),
        |seen| format!("Last looked at {}", words::day(seen, today)),
    );
    match told.late {
        late if late > 0 => {
            format!(
                "{seen}; a look was due {}, {} ago",
                words::day(told.next_look, today),
                words::count(late, "day", "days")
            )
        }
        0 => format!("{seen}; a look is due today"),
        _ => format!("{seen}; next look {}", words::day(told.next_look, today)),
    }
}

/// When a wire may bite and when it must be off, by the sooner clock.
fn bites(told: &Told, today: Date) -> String {
    let Some(it) = told.bites else {
        return "When it may bite is in no table: look at it with the others.".into();
    };
    let from = match it.from {
        from if from <= today => format!("It may bite by now, since {}", words::day(from, today)),
        from => format!("It may bite from {}", words::day(from, today)),
    };
    match it.by {
        Some(by) if by <= today => format!("{from}; it should have been off by {}.", words::day(by, today)),
        Some(by) => format!("{from}; off by {}.", words::day(by, today)),
        None => format!("{from}; it need not come off this season or the next if it has room."),
    }
}

/// What that sentence stands on.
fn basis(told: &Told, tree: &TreeWhole) -> String {
    let clock = match told.bites.map(|it| it.clock) {
        Some(Clock::Rings) => {
            let bark = match Bark::of(tree.tree.taxon) {
                Bark::Smooth => "smooth bark marks at a quarter of a millimetre",
                Bark::Rough => "rough bark takes half a millimetre",
            };
            format!("Counted by its rings, sooner here than the trade's weeks; {bark} (our estimate)")
        }
        Some(Clock::Weeks) if told.contact.is_some() => {
            "Counted by the trade's weeks of growth, sooner here than its rings (common practice)".into()
        }
        _ => "Counted by the trade's weeks of growth (common practice); its own rings were never measured a year apart".into(),
    };
    let own = told.learned.map_or_else(String::new, |weeks| {
        format!("; a wire marked this tree after {weeks:.0} weeks of growth, so it is looked at sooner")
    });
    format!("{clock}{own}.")
}

fn past(shape: &Shape, name: &str, units: Units, today: Date) -> Vec<String> {
    let off = shape.wires.iter().rev().map(|(_, wire)| wire);
    off.filter_map(|wire| {
        let off = wire.off.filter(|off| *off <= today)?;
        let outcome = wire.outcome.map_or("nobody told what came of it", collection::wire::Outcome::words);
        let (from, to) = (words::day(wire.on, today), words::day(off, today));
        let limb = shape.name_of(wire.limb);
        Some(format!(
            "{name}, {limb}: {} {}, {from} to {to}, {outcome}",
            wire.metal.key(),
            gauge_words(units, wire.gauge)
        ))
    })
    .collect()
}
