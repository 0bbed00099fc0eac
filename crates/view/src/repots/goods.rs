//! Soil, mesh and wire for the season's repots: of one tree at the bench, and summed over the plan with the day to order by.

use collection::{potting::Mix, stock::Item};
use measure::quantity::{Litre, Millimetre, Units};
use pot::{repot::materials::sieve_loss, table::Component};
use season::repot::goods::{
    Assumed, Goods, HOLE, Into, Made,
    order::{Line, SOON, SPARE},
};

use super::{
    bench::RepotBench,
    case::{self, Case},
    needs::{Season, goods, into, likely, season, used},
};
use crate::{
    pots::volume,
    whole::{TreeWhole, Whole},
    words,
};

/// A line of the order list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderRow {
    /// The item's key.
    pub key: String,
    /// What.
    pub what: String,
    /// What the plan uses up.
    pub needed: String,
    /// What stands in the shed, and when it was counted.
    pub left: String,
    /// What is short, with the bags to buy; empty where it lasts.
    pub short: String,
    /// Order by then.
    pub order_by: String,
    /// That day has passed.
    pub is_late: bool,
    /// What it holds up.
    pub blocks: String,
    /// Between which sieves each part of it is needed.
    pub grains: String,
    /// It runs out soon, and nobody wrote down how long it takes to come.
    pub presses: bool,
    /// Where the form starts from: left, pack, delivery.
    pub typed: [String; 3],
}

/// What one tree uses up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobRow {
    /// The tree's key.
    pub tree: String,
    /// The tree's name.
    pub name: String,
    /// When.
    pub day: String,
    /// What it goes into.
    pub into: String,
    /// The mix and its litres.
    pub mix: String,
    /// Litres by component.
    pub parts: String,
    /// Wires and mesh.
    pub wires: String,
}

/// The page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SoilPage {
    /// The year of the season.
    pub season: i16,
    /// The order list.
    pub lines: Vec<OrderRow>,
    /// How many of them are short.
    pub short: usize,
    /// What must be ordered first, in a sentence.
    pub first: String,
    /// What runs out soon, though nobody counted it or wrote down how long it takes to come.
    pub uncounted: String,
    /// Tree by tree, in the order of their days.
    pub jobs: Vec<JobRow>,
    /// Trees of which nothing can be told: name and why.
    pub untold: Vec<(String, String)>,
    /// What the sums take for granted.
    pub caveats: Vec<String>,
    /// Items to count that the plan does not ask for: key and words.
    pub items: Vec<(String, String)>,
    /// The mixes with what they are made of: key, name, parts in words, parts by component.
    pub mixes: Vec<MixRow>,
    /// Today, for forms.
    pub today: String,
}

/// A mix and what it is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MixRow {
    /// Its key.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// What it is made of.
    pub words: String,
    /// Component, words, parts as typed.
    pub parts: Vec<(&'static str, &'static str, String)>,
}

/// An item in words.
pub(crate) fn item(it: Item, units: Units) -> String {
    match it {
        Item::Soil(component) => component.words().to_string(),
        Item::Mesh => "mesh".into(),
        Item::Tie(gauge) => format!("tie wire, {}", gauges([gauge; 2], units)),
    }
}

/// An amount of an item in words.
pub(crate) fn amount(it: Item, many: f64, units: Units) -> String {
    match (it, units) {
        (Item::Soil(_), units) => volume(units, Litre(many)),
        (Item::Mesh, Units::Metric) => format!("{many:.0} cm²"),
        (Item::Mesh, Units::Imperial) => format!("{:.0} sq in", many / 6.4516),
        (Item::Tie(_), Units::Metric) => format!("{:.2} m", many / 100.0),
        (Item::Tie(_), Units::Imperial) => format!("{:.2} ft", many / 30.48),
    }
}

/// A thickness of wire in words; the figure alone with one unit behind both where it is a span.
fn gauges([thin, thick]: [Millimetre; 2], units: Units) -> String {
    let of = |it: Millimetre| match units {
        Units::Metric => format!("{}", it.0),
        Units::Imperial => format!("{:.2}", it.0 / 25.4),
    };
    let unit = if units == Units::Metric { "mm" } else { "in" };
    if thin == thick {
        format!("{} {unit}", of(thin))
    } else {
        format!("{} to {} {unit}", of(thin), of(thick))
    }
}

/// What was taken for granted, in the reader's units.
fn assumed(it: Assumed, units: Units) -> String {
    match (it, units) {
        (Assumed::Holes, Units::Imperial) => "nobody counted the holes; one for every 6 in is taken".into(),
        (Assumed::HoleWidth, Units::Imperial) => {
            format!("nobody measured the holes; {:.2} in is taken", HOLE.value.0 / 25.4)
        }
        (it, _) => it.words().into(),
    }
}

fn mix_words(whole: &Whole, told: &Goods) -> String {
    let of = |key: &str| {
        whole.mixes.iter().find(|mix| mix.key == key).map_or(key.to_string(), |mix| mix.name.clone())
    };
    let made = match &told.made {
        Made::Usual(recipe) => format!("mix for {}", recipe.purpose),
        Made::Own(key) => of(key),
        Made::Unknown(key) => format!("{}, of which nobody wrote down the parts", of(key)),
    };
    format!(
        "{} of {made}, grains {} to {} mm",
        volume(whole.units(), told.mix),
        told.grains.low.0,
        told.grains.high.0
    )
}

/// What to mix and cut for a tree at the bench.
pub(crate) fn say(whole: &Whole, tree: &TreeWhole, told: &Case<'_>, page: &mut RepotBench) {
    let units = whole.units();
    let goods = match goods(whole, tree, &told.record, told.cut.planned, 0) {
        Ok(goods) => goods,
        Err(why) => {
            page.goods_notes.push(why);
            return;
        }
    };
    page.mix.push(("Mix".into(), mix_words(whole, &goods)));
    for buy in &goods.parts {
        let loss = sieve_loss(buy.component).map_or(String::new(), |loss| {
            format!(
                ", {} out of the bag ({} goes through the sieve)",
                volume(units, buy.from_bag),
                case::share(loss.value)
            )
        });
        page.mix.push((buy.component.words().into(), format!("{}{loss}", volume(units, buy.in_mix))));
    }
    let ties = &goods.ties;
    let [few, many] = ties.pieces;
    let pieces = if few == many { few.to_string() } else { format!("{few} to {many}") };
    let each = match units {
        Units::Metric => format!("{:.0} cm", ties.each.0),
        Units::Imperial => format!("{:.0} in", ties.each.0 / 2.54),
    };
    page.wires.push(("Tie wires".into(), format!("{pieces} of {each}, {}", gauges(ties.thick, units))));
    let side = match units {
        Units::Metric => format!("{:.0} mm", goods.mesh.1.0),
        Units::Imperial => format!("{:.1} in", goods.mesh.1.0 / 25.4),
    };
    let many = words::count(goods.mesh.0, "piece", "pieces");
    page.wires.push(("Mesh".into(), format!("{many} of {side} square")));
    page.goods_notes.extend(goods.assumed.iter().map(|it| assumed(*it, units)));
    let short: Vec<String> = season(whole)
        .lines
        .iter()
        .filter(|line| {
            line.short > 0.0 && line.blocks.iter().any(|&at| whole.trees[at].tree.key == tree.tree.key)
        })
        .map(|line| item(line.item, units))
        .collect();
    if !short.is_empty() {
        page.goods_notes.push(format!("the shed runs short of {} before this tree", short.join(", ")));
    }
}

/// What must be ordered within a fortnight, in a sentence; empty where nothing presses.
pub(crate) fn presses(whole: &Whole) -> String {
    let near = |line: &Line| {
        line.presses || line.order_by.is_some_and(|day| (day - whole.today).get_days() <= SOON.value)
    };
    let lines = &season(whole).lines;
    let mut due: Vec<&Line> = lines.iter().filter(|line| near(line)).collect();
    due.sort_by_key(|line| line.order_by);
    let words = |line: &&Line| {
        let what = item(line.item, whole.units());
        match line.order_by {
            Some(day) if line.is_late => {
                format!("{what} today, {} was the day", words::day(day, whole.today))
            }
            Some(day) => format!("{what} by {}", words::day(day, whole.today)),
            None => format!("{what}: count it, or order it today"),
        }
    };
    due.iter().map(words).collect::<Vec<_>>().join("; ")
}

/// The page of the season.
pub fn soil(whole: &Whole) -> SoilPage {
    let units = whole.units();
    let Season { jobs, lines, .. } = season(whole);
    let listed = |it: Item| lines.iter().any(|line| line.item == it);
    let counted = whole.shelf.stock.iter().map(|it| it.item).filter(|it| !listed(*it));
    let others = Component::ALL.into_iter().map(Item::Soil).filter(|it| !listed(*it));
    let mut items: Vec<(String, String)> = Vec::new();
    for it in counted.chain(others).chain([Item::Mesh].into_iter().filter(|it| !listed(*it))) {
        if !items.iter().any(|(key, _)| *key == it.key()) {
            items.push((it.key(), item(it, units)));
        }
    }
    let mut caveats: Vec<String> = Vec::new();
    for goods in jobs.iter().filter_map(|(_, it)| it.as_ref().ok()) {
        for it in &goods.assumed {
            let words = assumed(*it, units);
            if !caveats.contains(&words) {
                caveats.push(words);
            }
        }
    }
    caveats.extend(jobs.iter().filter(|it| it.1.is_ok()).filter_map(|(at, _)| undated(whole, *at)));
    caveats.push("what the sieve takes is remembered, not measured: weigh your own bags".into());
    caveats.push(
        "what logged repots used since the count is reckoned, not weighed; other use is not known of".into(),
    );
    let rows: Vec<OrderRow> = lines.iter().map(|line| order(whole, line)).collect();
    let uncounted: Vec<String> =
        lines.iter().filter(|line| line.presses).map(|line| item(line.item, units)).collect();
    let soonest = lines.iter().filter_map(|line| Some((line.order_by?, line))).min_by_key(|it| it.0);
    SoilPage {
        season: case::season(whole),
        short: lines.iter().filter(|line| line.short > 0.0).count(),
        uncounted: uncounted.join(", "),
        first: soonest.map_or_else(String::new, |(day, line)| {
            let day_words = words::day(day, whole.today);
            let late = if line.is_late { ", which has passed" } else { "" };
            format!("{} first: by {day_words}{late}", item(line.item, units))
        }),
        lines: rows,
        jobs: by_day(whole, jobs).into_iter().map(|(at, goods)| job(whole, at, goods)).collect(),
        untold: jobs
            .iter()
            .filter_map(|(at, it)| Some((whole.trees[*at].tree.name.clone(), it.as_ref().err()?.clone())))
            .collect(),
        caveats,
        items,
        mixes: whole.mixes.iter().map(|mix| mix_row(whole, mix)).collect(),
        today: whole.today.to_string(),
    }
}

fn order(whole: &Whole, line: &Line) -> OrderRow {
    let units = whole.units();
    let many = |it: f64| amount(line.item, it, units);
    let stock = whole.shelf.stock.iter().find(|it| it.item == line.item);
    let number = |it: f64| format!("{}", (it * 100.0).round() / 100.0);
    OrderRow {
        key: line.item.key(),
        what: item(line.item, units),
        needed: many(line.needed),
        left: match stock {
            Some(stock) => {
                let (used, day) = (used(whole, stock), words::day(stock.day, whole.today));
                if used > 0.0 {
                    let [left, counted, used] = [line.left, stock.left, used].map(many);
                    format!("{left}; {counted} counted {day}, about {used} used since")
                } else {
                    format!("{}, counted {day}", many(line.left))
                }
            }
            None => "not counted; none is taken to be there".into(),
        },
        short: match (line.short > 0.0, line.packs) {
            (false, _) => String::new(),
            (true, Some(packs)) => {
                let pack = stock.and_then(|it| it.pack).unwrap_or(0.0);
                format!("{} short: buy {} of {}", many(line.short), packs, many(pack))
            }
            (true, None) => format!("{} short", many(line.short)),
        },
        order_by: match (line.order_by, line.delivery_unknown) {
            (Some(day), _) if line.is_late => format!(
                "today: {} was the day; it comes about {}, and {} until then",
                words::day(day, whole.today),
                line.arrives.map_or(String::new(), |day| words::day(day, whole.today)),
                match line.waits.as_slice() {
                    [] => "nobody waits".into(),
                    [one] => format!("{} waits", whole.trees[*one].tree.name),
                    all => format!("{} wait", names(whole, all)),
                }
            ),
            (Some(day), _) => format!(
                "by {}: {} on the way and {} to spare",
                words::day(day, whole.today),
                words::count(stock.and_then(|it| it.delivery).unwrap_or(0), "day", "days"),
                SPARE.value
            ),
            (None, true) => "nobody wrote down how long it takes to come: count it, or order it today".into(),
            (None, false) => String::new(),
        },
        is_late: line.is_late,
        presses: line.presses,
        grains: grains(whole, line.item),
        blocks: match line.blocks.as_slice() {
            [] => String::new(),
            all => {
                let on = line
                    .short_on
                    .map_or(String::new(), |day| format!(" from {}", words::day(day, whole.today)));
                format!("{}{on}", names(whole, all))
            }
        },
        typed: [
            stock.map_or(String::new(), |it| number(it.left)),
            stock.and_then(|it| it.pack).map_or(String::new(), number),
            stock.and_then(|it| it.delivery).map_or(String::new(), |it| it.to_string()),
        ],
    }
}

/// Trees by their names.
fn names(whole: &Whole, ranks: &[usize]) -> String {
    ranks.iter().map(|&at| whole.trees[at].tree.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Between which sieves each part of a component is needed.
fn grains(whole: &Whole, of: Item) -> String {
    let Item::Soil(component) = of else { return String::new() };
    let told = season(whole).by_grains.iter().filter(|(it, ..)| *it == component);
    let words = told.map(|(_, grains, litres)| {
        format!("{} in grains {} to {} mm", volume(whole.units(), *litres), grains.low.0, grains.high.0)
    });
    words.collect::<Vec<_>>().join(", ")
}

/// That nobody knows when a tree will be lifted, and the day it is put at; none where a window tells.
fn undated(whole: &Whole, at: usize) -> Option<String> {
    let tree = &whole.trees[at];
    let likely = likely(whole, tree);
    let day = words::day(likely.day, whole.today);
    let why = if likely.day > whole.today {
        "the last good day that is known of any tree this season"
    } else {
        "today, for no window lies ahead"
    };
    (!likely.is_known)
        .then(|| format!("when {} is lifted is not known; it is put at {day}, {why}", tree.tree.name))
}

/// What a tree goes into, in words; where no pot could be looked for, that its own is taken, and why.
fn into_words(whole: &Whole, tree: &TreeWhole) -> String {
    let name = match into(whole, tree) {
        Into::Pot(pot, _) => pot.name.clone(),
        Into::Training(named) => named.map_or("a training pot".into(), |(pot, _)| pot.name.clone()),
    };
    match crate::pots::shared::not_planned(whole, &tree.tree.key) {
        Some(why) => format!("{name} for now; {why}"),
        None => name,
    }
}

/// The trees with what they use up, in the order of their days; those of one day as the sums take them, by their numbers.
fn by_day<'a>(whole: &Whole, jobs: &'a [(usize, Result<Goods, String>)]) -> Vec<(usize, &'a Goods)> {
    let mut told: Vec<(usize, &Goods)> =
        jobs.iter().filter_map(|(at, it)| Some((*at, it.as_ref().ok()?))).collect();
    told.sort_by_key(|&(at, _)| (likely(whole, &whole.trees[at]).day, at));
    told
}

fn job(whole: &Whole, at: usize, told: &Goods) -> JobRow {
    let tree = &whole.trees[at];
    let units = whole.units();
    let parts: Vec<String> = told
        .parts
        .iter()
        .map(|buy| format!("{} {}", volume(units, buy.from_bag), buy.component.words()))
        .collect();
    let wires: Vec<String> = told
        .needs
        .iter()
        .filter(|need| !matches!(need.item, Item::Soil(_)))
        .map(|need| format!("{} {}", amount(need.item, need.amount, units), item(need.item, units)))
        .collect();
    JobRow {
        tree: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        day: words::day(likely(whole, tree).day, whole.today),
        into: into_words(whole, tree),
        mix: mix_words(whole, told),
        parts: parts.join(", "),
        wires: wires.join(", "),
    }
}

fn mix_row(whole: &Whole, mix: &Mix) -> MixRow {
    let blend = whole.shelf.blends.iter().find(|it| it.mix == mix.key);
    let parts = |component: Component| {
        blend.and_then(|it| it.parts.iter().find(|(own, _)| *own == component)).map(|(_, parts)| *parts)
    };
    let told: Vec<String> =
        Component::ALL.into_iter().filter_map(|it| Some(format!("{} {}", parts(it)?, it.words()))).collect();
    MixRow {
        key: mix.key.clone(),
        name: mix.name.clone(),
        words: if told.is_empty() { "nobody wrote down its parts".into() } else { told.join(", ") },
        parts: Component::ALL
            .into_iter()
            .map(|it| (it.key(), it.words(), parts(it).map_or(String::new(), |parts| parts.to_string())))
            .collect(),
    }
}

impl SoilPage {
    /// The page as plain text.
    pub fn text(&self) -> String {
        let mut text = format!("Soil and wire for {}\n", self.season);
        for line in &self.lines {
            text += &format!("\n{}: {} needed; in the shed {}\n", line.what, line.needed, line.left);
            for part in [&line.grains, &line.short, &line.order_by, &line.blocks] {
                if !part.is_empty() {
                    text += &format!("  {part}\n");
                }
            }
        }
        for job in &self.jobs {
            text += &format!(
                "\n{} ({}, into {}): {}\n  {}\n  {}\n",
                job.name, job.day, job.into, job.mix, job.parts, job.wires
            );
        }
        for (name, why) in &self.untold {
            text += &format!("{name}: {why}\n");
        }
        text
    }
}
