//! Wire: which wires to look at first, when each must come off, which wire to take for a bend, and what is on the shelf.

use collection::{intention::Wish, limb::Limb, wire::Wire};
use form::{
    thickness::Likely,
    wire::{Answer, Ask, Danger, answer, bite::Bark, metal::Metal},
    wood,
};
use jiff::civil::Date;
use measure::quantity::{Degrees, Gram, Millimetre, Units};
use season::limbs::{
    raise::Seen,
    wires::{self, MINUTES, Stand, Told, Wired},
};

use super::{
    grows::{self, course, growing},
    long, seen, thick,
};
use crate::{
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

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
    /// By the trade's weeks.
    pub trade: String,
    /// By the rings.
    pub rings: String,
    /// Anything noted.
    pub note: String,
    /// A piece of it grew in and is still there.
    pub grown_in: bool,
    order: (Stand, i32),
}

/// Every wire that is on, the one to look at first on top.
#[derive(Clone, Debug, PartialEq)]
pub struct WiresPage {
    /// The tree it is for; none for all trees.
    pub tree: Option<(String, String)>,
    /// The wires.
    pub rows: Vec<WireRow>,
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

/// What a bend asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Bend {
    /// The limb.
    pub limb: String,
    /// What is told, line by line.
    pub lines: Vec<String>,
    /// What is not known.
    pub caveats: Vec<String>,
    /// Whether the bend is dangerous.
    pub alarm: bool,
}

/// A bend as asked for.
#[derive(Clone, Copy, Debug, Default)]
pub struct BendAsked<'a> {
    /// Which limb.
    pub limb: &'a str,
    /// The radius, as typed.
    pub radius: &'a str,
    /// How far along the limb, as typed; empty for its whole line.
    pub along: &'a str,
    /// Its thickness, as typed; empty to take what is known.
    pub thick: &'a str,
    /// The metal.
    pub metal: &'a str,
    /// How many strands.
    pub strands: &'a str,
}

impl WiresPage {
    /// The wires as plain text.
    pub fn text(&self) -> String {
        let mut text = format!("{}\n", self.time);
        for row in &self.rows {
            text += &format!("\n{}, {}: {}\n  {}\n", row.name, row.limb, row.verdict, row.words);
            for line in [&row.look, &row.rings, &row.trade, &row.note] {
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
    let due = rows.iter().filter(|row| row.order.1 >= 0 || row.order.0 >= Stand::Touches).count();
    let units = whole.units();
    WiresPage {
        tree: tree.map(|tree| (tree.tree.key.clone(), tree.tree.name.clone())),
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
    for row in rows.iter().take(due) {
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
    let branch = base(seen, limb)?;
    let told = answer(&Ask {
        branch,
        along: length(seen, limb)?,
        // The radius changes neither gauge nor length by the rule.
        radius: Millimetre(20.0 * branch.0),
        wood: wood::for_taxon(tree.tree.taxon).wood,
        young: true,
        metal: Metal::Aluminium,
        strands: 1,
        angle: COILED,
        anchor: tree.shape.bearer(limb).and_then(|bearer| base(seen, bearer)),
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
    let leaves = grows::leaves(tree);
    let hemisphere = grows::hemisphere(whole);
    let marked = wires::marked(shape.wires.iter().map(|(_, it)| it), &leaves, hemisphere);
    for (id, wire) in shape.wires.iter().filter(|(_, wire)| wire.is_on(whole.today)) {
        let ring = grows
            .as_ref()
            .and_then(|grows| grows.ring(wire.limb, &|limb| course(whole, shape, limb)).ok().flatten());
        let base = seen.and_then(|seen| base(seen, wire.limb));
        let it = Wired { wire, taxon: tree.tree.taxon, leaves: &leaves, ring, thick: base, marked };
        if let Ok(told) = wires::tell(&it, hemisphere, whole.today) {
            rows.push(row(whole, tree, *id, wire, &told));
        }
    }
    rows
}

fn base(seen: &Seen, limb: u32) -> Option<Millimetre> {
    let axis = seen.raised.skeleton.axis(limb)?;
    Some(seen.raised.skeleton.segments()[axis.segments[0]].base)
}

fn row(whole: &Whole, tree: &TreeWhole, id: i64, wire: &Wire, told: &Told) -> WireRow {
    let (units, today) = (whole.units(), whole.today);
    let embedded = wire.off.is_some_and(|off| off <= today);
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
        trade: told.trade.filter(|_| !embedded).map_or_else(String::new, |[low, high]| {
            let own = told.learned.map_or_else(String::new, |weeks| {
                format!(
                    "; a wire marked this tree after {weeks:.0} weeks of growth, so it is looked at sooner"
                )
            });
            format!(
                "By the trade's weeks it may bite from {} on, and has by {} (common practice){own}.",
                words::day(low, today),
                words::day(high, today)
            )
        }),
        rings: if embedded { String::new() } else { rings(told, tree, today) },
        note: wire.note.clone(),
        grown_in: wire.grown_in,
        order: if embedded { (Stand::Free, i32::MIN) } else { (told.stand, told.late) },
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

fn rings(told: &Told, tree: &TreeWhole, today: Date) -> String {
    let Some((contact, off)) = told.contact.zip(told.off) else {
        return "Not traced, or never measured a year apart: by the trade's weeks alone.".into();
    };
    let bark = match Bark::of(tree.tree.taxon) {
        Bark::Smooth => "smooth bark marks at a quarter of a millimetre",
        Bark::Rough => "rough bark takes half a millimetre",
    };
    let day = |day: Option<Date>| day.map_or_else(|| "later".to_string(), |day| words::day(day, today));
    let spread = |days: Likely<Option<Date>>, comes: &str, not: &str| match (days.middle, days.low) {
        (Some(_), _) => format!("{comes} {} ({} to {})", day(days.middle), day(days.low), day(days.high)),
        (None, Some(_)) => format!("{not} this season or the next, {} at the soonest", day(days.low)),
        (None, None) => format!("{not} this season or the next"),
    };
    format!(
        "By its rings {} and {}; {bark} (our estimate).",
        spread(contact, "the bark touches", "the bark does not touch"),
        spread(off, "the wire must be off by", "it need not come off")
    )
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

/// What a bend asks for: gauge by rule and by mechanics, strain, length and weight, and a guy instead.
///
/// # Errors
///
/// What cannot be taken, for the reader.
pub fn bend(whole: &Whole, tree: &TreeWhole, asked: BendAsked<'_>) -> Result<Bend, String> {
    let (shape, units) = (&tree.shape, whole.units());
    let limb: &Limb = asked
        .limb
        .parse()
        .ok()
        .and_then(|number| shape.limb(number))
        .ok_or_else(|| "choose a limb".to_string())?;
    let seen = seen(whole, tree).ok();
    let mut caveats = Vec::new();
    let known = seen.and_then(|seen| base(seen, limb.number));
    let branch = typed(asked.thick, units)
        .transpose()?
        .or(known)
        .ok_or_else(|| format!("nobody measured {}: type how thick it is", limb.name))?;
    if asked.thick.trim().is_empty() {
        caveats.push(format!("its thickness, {}, is that on the Branches page", thick(units, branch)));
    }
    let line = seen.and_then(|seen| length(seen, limb.number));
    let along = typed(asked.along, units).transpose()?.or(line).unwrap_or(Millimetre(15.0 * branch.0));
    let radius =
        typed(asked.radius, units).transpose()?.ok_or_else(|| "type the radius of the bend".to_string())?;
    let stand = wood::for_taxon(tree.tree.taxon);
    let ask = Ask {
        branch,
        along,
        radius,
        wood: stand.wood,
        young: true,
        metal: Metal::from_key(asked.metal).unwrap_or(Metal::Aluminium),
        strands: asked.strands.parse().unwrap_or(1),
        angle: COILED,
        anchor: limb.bearer.and_then(|bearer| seen.and_then(|seen| base(seen, bearer))),
    };
    let told = answer(&ask).map_err(|why| why.to_string())?;
    if !stand.own {
        caveats.push(format!("no figures of its own wood were found: {} stands in", stand.wood.name));
    }
    caveats.push(format!("wood: {}", stand.wood.standing.words()));
    caveats.push("mechanics leaves out that living wood gives and creeps: use it to compare wires, and start from the rule".into());
    let alarm = matches!(told.danger, Danger::Wrapped | Danger::Cracks);
    Ok(Bend { limb: limb.name.clone(), lines: lines(&ask, &told, units), caveats, alarm })
}

fn length(seen: &Seen, limb: u32) -> Option<Millimetre> {
    let axis = seen.raised.skeleton.axis(limb)?;
    Some(Millimetre(axis.segments.iter().map(|&at| seen.raised.skeleton.segments()[at].length.0).sum()))
}

/// A length in millimetres or inches; none where nothing was typed.
fn typed(text: &str, units: Units) -> Option<Result<Millimetre, String>> {
    let lower = text.trim().to_lowercase();
    if lower.is_empty() {
        return None;
    }
    let bare = if units == Units::Imperial { 25.4 } else { 1.0 };
    let (figure, scale) = [("mm", 1.0), ("cm", 10.0), ("in", 25.4)]
        .into_iter()
        .find_map(|(unit, scale)| Some((lower.strip_suffix(unit)?, scale)))
        .unwrap_or((&lower, bare));
    let figure = figure.trim().replace(',', ".").parse::<f64>().ok().filter(|it| *it > 0.0 && it.is_finite());
    Some(figure.map(|it| Millimetre(it * scale)).ok_or_else(|| format!("“{text}” is not a length")))
}

fn lines(ask: &Ask, told: &Answer, units: Units) -> Vec<String> {
    let metal = ask.metal.key();
    let by_rule = match ask.metal {
        Metal::Aluminium => told.by_table.value.aluminium,
        Metal::Copper => told.by_table.value.copper,
    };
    let strands = if ask.strands > 1 { format!("{} strands of ", ask.strands) } else { String::new() };
    let take = told.take.map_or_else(
        || "no single wire sold is thick enough: take two strands, or a guy".to_string(),
        |gauge| format!("take {strands}{metal} {}", gauge_words(units, gauge)),
    );
    let percent = |it: f64| format!("{:.1} %", it * 100.0);
    let danger = match told.danger {
        Danger::Fine => "fine on wood that is not of this year",
        Danger::InSteps => "bend in steps over days and support the outside",
        Danger::Wrapped => "wrap it with raffia or tape, take two wires or a guy; notch only with experience",
        Danger::Cracks => {
            "expect cracks unless the shoot is of this year: a wider bend, or a guy over a season or two"
        }
    };
    vec![
        format!(
            "{take}. By the rule of the trade {metal} {} ({})",
            gauge_words(units, by_rule),
            told.by_table.standing.words()
        ),
        format!(
            "By mechanics {} ({} to {}), across the stiffness of the wood and how much of the bend is springy (our estimate)",
            gauge_words(units, told.by_mechanics.middle),
            gauge_words(units, told.by_mechanics.low),
            gauge_words(units, told.by_mechanics.high)
        ),
        format!(
            "Strain of the outside {}: {danger} (limits are our estimate). Stop at the first sound",
            percent(told.strain.0)
        ),
        format!(
            "Wire to cut: {} in all, {}, coiled at 50° with an anchor of one and a half turns; the third more of the rule would be too short",
            long(units, told.length),
            units.weight(told.weight)
        ),
        guy(told),
        "Cut ends of wire spring: protect your eyes".into(),
    ]
}

/// More pull than this is not for a guy on a pot, our estimate, N.
const MOST_PULL: f64 = 150.0;

fn guy(told: &Answer) -> String {
    let (pull, pressure) = (told.guy.tension.0, told.guy.pressure.0);
    if pull > MOST_PULL {
        return "A guy instead would have to pull harder than a pot and the bark can bear: bend less, over more seasons".into();
    }
    let limit = form::wire::guy::BARK_BEARS.value.0;
    let pad = if pressure > limit { ": more than bark should bear, pad it with a wider strap" } else { "" };
    format!(
        "A guy instead: pull about {pull:.0} N ({:.1} kg) at the end of the bend; it presses {pressure:.2} MPa on a strap as wide as the limb{pad} (our estimate)",
        pull / 9.806_65
    )
}
