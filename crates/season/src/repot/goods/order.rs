//! The order list: what the plan uses up, less what stands in the shed, with the day by which it must be ordered and whom it holds up.

use collection::stock::{Item, Stock};
use jiff::{ToSpan, civil::Date};
use measure::sourced::{Sourced, Standing};

use super::Need;
use crate::repot::record::days;

/// A line of the order list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What.
    pub item: Item,
    /// All that the plan uses up, in the item's unit.
    pub needed: f64,
    /// What stands in the shed.
    pub left: f64,
    /// Nobody counted it: none is taken to be there.
    pub is_uncounted: bool,
    /// What is short.
    pub short: f64,
    /// Bags or coils to buy, where their size is known.
    pub packs: Option<u32>,
    /// The first day on which any of it is used.
    pub first_day: Date,
    /// The day on which it runs out; none where it lasts.
    pub short_on: Option<Date>,
    /// Order by this day; none where it lasts, or nobody knows how long it takes to come.
    pub order_by: Option<Date>,
    /// That day has passed.
    pub is_late: bool,
    /// It runs out, and nobody wrote down how long it takes to come.
    pub delivery_unknown: bool,
    /// It runs out within [`SOON`], and nobody wrote down how long it takes to come.
    pub presses: bool,
    /// Trees that would find too little, in the order of their days.
    pub blocks: Vec<usize>,
    /// The day on which it comes if it is ordered today; none where it lasts, or nobody knows how long it takes.
    pub arrives: Option<Date>,
    /// Those of [`Line::blocks`] whose day lies before that: they wait for it.
    pub waits: Vec<usize>,
}

/// Days to spare between the delivery and the bench.
pub const SPARE: Sourced<u16> = Sourced { value: 2, standing: Standing::Practice };

/// Days ahead in which running out presses.
pub const SOON: Sourced<i32> = Sourced {
    value: 14,
    standing: Standing::Estimate("a choice of ours: a fortnight, as long as most orders take"),
};

/// The order list of a plan.
///
/// ```text
/// short = max(Σ needs − left, 0),   order by = day it runs out − delivery − 2 d
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | needs | `needs` | of one item, day by day | the item's |
/// | left | `stock` | in the shed | the item's |
/// | delivery | [`Stock::delivery`] | order to door | d |
///
/// Needs of one day are met in the order of the trees' numbers. What was counted is taken to be all still there: the count says
/// when it was made. **Holds** for a plan. **Error** that of the needs. **Source** plain sums; days to spare common practice, no
/// source. **Checked** by property tests below: the list equals the sum of the plan.
pub fn sum(needs: &[Need], stock: &[Stock], today: Date) -> Vec<Line> {
    let mut items: Vec<Item> = Vec::new();
    for need in needs {
        if !items.contains(&need.item) {
            items.push(need.item);
        }
    }
    items.sort_by_key(|item| rank(*item));
    items.into_iter().filter_map(|item| line(item, needs, stock, today)).collect()
}

/// Soil, then mesh, then wire by its gauge.
fn rank(item: Item) -> (u8, u32) {
    match item {
        Item::Soil(component) => (0, component as u32),
        Item::Mesh => (1, 0),
        Item::Tie(gauge) => (2, (gauge.0 * 1000.0) as u32),
    }
}

/// Shorter than this is a rounding of sums.
const HAIR: f64 = 1e-9;

fn line(item: Item, needs: &[Need], stock: &[Stock], today: Date) -> Option<Line> {
    let mut own: Vec<&Need> = needs.iter().filter(|need| need.item == item).collect();
    own.sort_by_key(|need| (need.day, need.tree));
    let first_day = own.first()?.day;
    let counted = stock.iter().find(|it| it.item == item);
    let left = counted.map_or(0.0, |it| it.left.max(0.0));
    let (mut needed, mut short_on, mut blocks, mut waits) = (0.0, None, Vec::new(), Vec::new());
    let delivery = counted.and_then(|it| it.delivery);
    let comes = delivery.map(|delivery| today + i64::from(delivery).days());
    for need in own {
        needed += need.amount;
        if needed > left + HAIR {
            short_on.get_or_insert(need.day);
            if !blocks.contains(&need.tree) {
                blocks.push(need.tree);
            }
            if comes.is_some_and(|day| need.day < day) && !waits.contains(&need.tree) {
                waits.push(need.tree);
            }
        }
    }
    let short = if short_on.is_some() { needed - left } else { 0.0 };
    let pack = counted.and_then(|it| it.pack).filter(|pack| *pack > 0.0);
    let order_by = short_on
        .zip(delivery)
        .map(|(day, delivery)| day - (i64::from(delivery) + i64::from(SPARE.value)).days());
    Some(Line {
        item,
        needed,
        left,
        is_uncounted: counted.is_none(),
        short,
        packs: pack.filter(|_| short > 0.0).map(|pack| ((short - HAIR) / pack).ceil() as u32),
        first_day,
        short_on,
        is_late: order_by.is_some_and(|day| day < today),
        delivery_unknown: short_on.is_some() && delivery.is_none(),
        presses: delivery.is_none() && short_on.is_some_and(|day| days(today, day) <= SOON.value),
        arrives: comes.filter(|_| short_on.is_some()),
        order_by,
        blocks,
        waits,
    })
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use measure::quantity::Millimetre;
    use pot::table::Component;
    use proptest::prelude::*;

    use super::*;

    const TODAY: Date = date(2027, 2, 10);
    const AKADAMA: Item = Item::Soil(Component::Akadama);

    fn need(tree: usize, amount: f64, day: Date) -> Need {
        Need { tree, item: AKADAMA, amount, day }
    }

    fn stock(left: f64, delivery: Option<u16>) -> Stock {
        Stock { item: AKADAMA, left, pack: Some(14.0), delivery, day: TODAY }
    }

    #[test]
    fn the_day_it_runs_out_sets_the_day_to_order() {
        let needs = [
            need(2, 4.0, date(2027, 3, 20)),
            need(0, 5.0, date(2027, 3, 8)),
            need(1, 4.0, date(2027, 3, 20)),
        ];
        let told = &sum(&needs, &[stock(10.0, Some(10))], TODAY)[0];
        assert_eq!((told.needed, told.short, told.packs), (13.0, 3.0, Some(1)));
        assert_eq!((told.short_on, told.order_by), (Some(date(2027, 3, 20)), Some(date(2027, 3, 8))));
        assert_eq!((&told.blocks[..], told.is_late), (&[2][..], false), "tree 1 is served first");
        let late = &sum(&needs, &[stock(4.0, Some(30))], TODAY)[0];
        assert_eq!((late.order_by, late.is_late), (Some(date(2027, 2, 4)), true));
        assert_eq!(late.blocks, [0, 1, 2]);
    }

    #[test]
    fn without_a_time_of_delivery_no_day_is_made_up() {
        let needs = [need(0, 5.0, date(2027, 3, 8))];
        let told = &sum(&needs, &[stock(1.0, None)], TODAY)[0];
        assert!(told.order_by.is_none() && told.delivery_unknown && !told.is_late);
        let told = &sum(&needs, &[], TODAY)[0];
        assert!(told.is_uncounted && told.short == 5.0 && told.packs.is_none() && told.delivery_unknown);
        let told = &sum(&needs, &[stock(5.0, None)], TODAY)[0];
        assert!(told.short_on.is_none() && told.blocks.is_empty() && !told.delivery_unknown);
    }

    #[test]
    fn a_late_order_names_the_day_it_comes_and_the_trees_that_wait_for_it() {
        let needs = [(0, 12), (1, 20), (2, 28)].map(|(tree, day)| need(tree, 4.0, date(2027, 2, day)));
        let told = &sum(&needs, &[stock(4.0, Some(12))], TODAY)[0];
        assert_eq!((told.arrives, told.is_late), (Some(date(2027, 2, 22)), true));
        assert_eq!((&told.blocks[..], &told.waits[..]), (&[1, 2][..], &[1][..]));
        let told = &sum(&needs, &[stock(40.0, Some(12))], TODAY)[0];
        assert!(told.arrives.is_none() && told.waits.is_empty() && !told.presses);
    }

    #[test]
    fn what_runs_out_within_a_fortnight_presses_where_nobody_knows_how_long_it_takes() {
        let presses =
            |day: Date, delivery| sum(&[need(0, 5.0, day)], &[stock(1.0, delivery)], TODAY)[0].presses;
        assert!(presses(date(2027, 2, 24), None) && !presses(date(2027, 2, 25), None));
        assert!(!presses(date(2027, 2, 24), Some(3)));
    }

    fn item(at: u8) -> Item {
        match at {
            0 => AKADAMA,
            1 => Item::Soil(Component::Lava),
            2 => Item::Mesh,
            _ => Item::Tie(Millimetre(2.0)),
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(256) })]

        #[test]
        fn the_list_is_the_sum_of_the_plan_less_the_shed(
            rows in prop::collection::vec((0..4_u8, 0..30_usize, 0.0..9.0_f64, 0..60_i64), 0..60),
            shed in prop::collection::vec(prop::option::of(0.0..60.0_f64), 4),
        ) {
            let needs: Vec<Need> = rows
                .iter()
                .map(|&(at, tree, amount, day)| Need { tree, item: item(at), amount, day: TODAY + day.days() })
                .collect();
            let stock: Vec<Stock> = shed
                .iter()
                .enumerate()
                .filter_map(|(at, left)| {
                    let (item, left) = (item(at as u8), (*left)?);
                    Some(Stock { item, left, pack: Some(5.0), delivery: Some(7), day: TODAY })
                })
                .collect();
            let told = sum(&needs, &stock, TODAY);
            for at in 0..4_u8 {
                let planned: f64 = rows.iter().filter(|row| row.0 == at).map(|row| row.2).sum();
                let Some(line) = told.iter().find(|line| line.item == item(at)) else {
                    prop_assert!(rows.iter().all(|row| row.0 != at));
                    continue;
                };
                let left = shed[usize::from(at)].unwrap_or(0.0);
                prop_assert!((line.needed - planned).abs() < 1e-9);
                prop_assert!((line.short - (planned - left).max(0.0)).abs() < 1e-8);
                prop_assert_eq!(line.short_on.is_some(), !line.blocks.is_empty());
                // On the day before it runs out everything was still there.
                let before: f64 = needs
                    .iter()
                    .filter(|need| need.item == line.item && line.short_on.is_none_or(|day| need.day < day))
                    .map(|need| need.amount)
                    .sum();
                prop_assert!(before <= left + 1e-8);
                if let Some(packs) = line.packs {
                    let bought = f64::from(packs) * 5.0;
                    prop_assert!(line.short <= bought + 1e-8 && bought - 5.0 < line.short + 1e-8);
                }
            }
        }
    }
}
