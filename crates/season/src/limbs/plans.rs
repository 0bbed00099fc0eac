//! What a plan will do: the tree grown on under what is meant, beside another plan, over many seeds.

use collection::{
    intention::{Cut, Intention, Wish},
    limb::{Caliper, Limb},
};
use form::{
    growth::{Act, Forecast, Order, Plan, Plant, Question, When, forecast, habit::Habit},
    thickness::{Vigour, ring_between},
};
use jiff::civil::Date;
use measure::{
    quantity::Millimetre,
    sourced::{Sourced, Standing},
    taxon::Taxon,
};

use super::{
    calendar::Calendar,
    raise::{Seen, at_base},
    thick::Growing,
};

/// Plants grown for each answer.
pub const PLANTS: u32 = 20;

/// The first seed; the same question has the same answer.
const SEED: u64 = 1;

/// Nodes left where a wish to keep short does not tell, common practice.
const NODES: u32 = 2;

/// What is left of a limb that is shortened where nothing tells, our estimate.
const LEFT: f64 = 0.6;

/// Shoots left at a node when a cluster is thinned, common practice.
const SHOOTS: u32 = 2;

/// A tree that can be grown on.
#[derive(Clone, Debug)]
pub struct Ahead {
    plant: Plant,
    /// How its kind grows, with what its own cuts have taught.
    pub habit: Sourced<Habit>,
    /// Buds that broke behind counted cuts, and buds there were.
    pub counted: [u32; 2],
    /// Its vigour.
    pub vigour: Vigour,
    /// Wood from a leaf that makes its first season's rings those of the ring model.
    wood: f64,
    /// Each limb's base as it was traced.
    bases: Vec<(u32, Millimetre)>,
}

impl Ahead {
    /// A tree at rest, as it was traced.
    pub fn new(seen: &Seen, growing: &Growing<'_>, taxon: &Taxon, cuts: &[&Cut]) -> Ahead {
        let counted = cuts
            .iter()
            .filter_map(|cut| cut.broke)
            .fold([0, 0], |sum, [broke, buds]| [sum[0] + u32::from(broke), sum[1] + u32::from(buds)]);
        let usual = Habit::of(taxon);
        let habit = if counted[1] > 0 {
            Sourced { value: usual.value.learned(counted[0], counted[1]), standing: Standing::Measured }
        } else {
            usual
        };
        let tips: Vec<(u32, u32)> =
            growing.own_tips().map(|(limb, tips)| (limb, tips.round() as u32)).collect();
        let skeleton = &seen.raised.skeleton;
        let base = |axis: form::skeleton::Axis| (axis.id, skeleton.segments()[axis.segments[0]].base);
        let mut ahead = Ahead {
            plant: Plant::from_skeleton(skeleton, &tips, &habit.value),
            habit,
            counted,
            vigour: growing.vigour,
            wood: growing.vigour.value,
            bases: skeleton.axes().into_iter().map(base).collect(),
        };
        ahead.wood *= ahead.scale(growing);
        ahead
    }

    /// The rings that the ring model lays on the limbs in a season over those that the growth model lays.
    fn scale(&self, growing: &Growing<'_>) -> f64 {
        let grown = self.after(&Plan::let_run(), 1);
        let rings = grown.limbs.iter().filter_map(|row| {
            let (_, base) = self.bases.iter().find(|(limb, _)| *limb == row.limb)?;
            let grown = ring_between(*base, row.thickness.middle).0;
            let usual = growing.usual(row.limb)? * growing.vigour.value;
            (grown > 0.0).then_some([usual, grown])
        });
        let [usual, grown] = rings.fold([0.0, 0.0], |sum, ring| [sum[0] + ring[0], sum[1] + ring[1]]);
        if grown > 0.0 { usual / grown } else { 1.0 }
    }

    /// The tree after so many seasons under a plan.
    pub fn after(&self, plan: &Plan, seasons: u32) -> Forecast {
        let mut grown = forecast(&Question {
            start: &self.plant,
            plan,
            habit: self.habit.value,
            vigour: self.vigour,
            wood: self.wood,
            seasons,
            seed: SEED,
            plants: PLANTS,
        });
        // The model's first piece begins a little above the base that was measured: its growth is laid on the base.
        for row in &mut grown.limbs {
            let base = self.bases.iter().find(|(limb, _)| *limb == row.limb).map(|(_, base)| *base);
            if let (Some(base), Some(start)) = (base, self.plant.thickness(row.limb)) {
                row.thickness = row.thickness.map(|grown| match grown.0 {
                    gone if gone <= 0.0 => grown,
                    grown => Millimetre((base.0.powi(2) + grown.powi(2) - start.0.powi(2)).max(0.0).sqrt()),
                });
            }
        }
        grown
    }
}

/// The plan that follows from what is meant on a day; limbs without a wish of their own follow what bears them, and the rest grow.
pub fn meant<'a>(limbs: &[&Limb], calendar: &Calendar, meant: impl Fn(u32) -> Option<&'a Intention>) -> Plan {
    let order = |limb: &&Limb| {
        let it = meant(limb.number)?;
        let (act, when) = act(it, calendar)?;
        // What is done once is done to the limb that was meant, not to each that it bears.
        let once = matches!(act, Act::Remove | Act::Shorten { .. });
        (!once || it.limb == limb.number).then_some(Order { limb: limb.number, act, when })
    };
    Plan { orders: limbs.iter().filter_map(order).collect() }
}

/// What a wish is to the model, and when; none where it only lets grow.
fn act(it: &Intention, calendar: &Calendar) -> Option<(Act, When)> {
    let nodes = it.nodes.map_or(NODES, u32::from);
    let once = if it.by.is_some_and(|by| !calendar.is_early(by)) { When::Summer } else { When::Dormant };
    Some(match it.wish {
        Wish::LetRun => (Act::Run, When::Dormant),
        Wish::KeepShort => (Act::KeepShort { nodes }, When::Summer),
        Wish::Shorten => (Act::Shorten { keep: LEFT }, once),
        Wish::Remove => (Act::Remove, once),
        Wish::Thin => (Act::Thin { shoots: SHOOTS }, When::Summer),
        Wish::Wire | Wish::Guy | Wish::LeaveAlone => return None,
    })
}

/// The same plan with some limbs treated otherwise: one and what follows it, the first of them the one that is meant.
pub fn with(plan: &Plan, limbs: &[u32], wish: Wish, nodes: Option<u8>) -> Plan {
    let mut orders: Vec<Order> =
        plan.orders.iter().copied().filter(|order| !limbs.contains(&order.limb)).collect();
    let nodes = nodes.map_or(NODES, u32::from);
    let told = match wish {
        Wish::LetRun => Some((Act::Run, When::Dormant)),
        Wish::KeepShort => Some((Act::KeepShort { nodes }, When::Summer)),
        Wish::Shorten => Some((Act::Shorten { keep: LEFT }, When::Dormant)),
        Wish::Remove => Some((Act::Remove, When::Dormant)),
        Wish::Thin => Some((Act::Thin { shoots: SHOOTS }, When::Summer)),
        Wish::Wire | Wish::Guy | Wish::LeaveAlone => None,
    };
    let once = matches!(wish, Wish::Shorten | Wish::Remove);
    let named = if once { &limbs[..limbs.len().min(1)] } else { limbs };
    orders.extend(named.iter().filter_map(|&limb| told.map(|(act, when)| Order { limb, act, when })));
    Plan { orders }
}

/// Every limb treated the same, the trunk's own shoots among them.
pub fn all(limbs: &[&Limb], wish: Wish) -> Plan {
    let numbers: Vec<u32> = limbs.iter().map(|limb| limb.number).collect();
    with(&Plan::let_run(), &numbers, wish, None)
}

/// How a way of telling would have done beside "same as last time".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackTest {
    /// On how many.
    pub cases: usize,
    /// Our mean error.
    pub ours: f64,
    /// The mean error of "same as last time".
    pub naive: f64,
}

impl BackTest {
    fn of(errors: &[[f64; 2]]) -> Option<BackTest> {
        let cases = errors.len();
        let mean = |at: usize| errors.iter().map(|error| error[at]).sum::<f64>() / cases as f64;
        (cases > 0).then(|| BackTest { cases, ours: mean(0), naive: mean(1) })
    }
}

/// Share of buds behind each cut that broke, told from all counts before it, and by the last count on the same limb; mean absolute error.
pub fn buds_back_test(cuts: &[&Cut], taxon: &Taxon) -> Option<BackTest> {
    let mut errors = Vec::new();
    for (at, cut) in cuts.iter().enumerate() {
        let Some([broke, buds]) = cut.broke.filter(|[_, buds]| *buds > 0) else { continue };
        let before: Vec<[u8; 2]> =
            cuts[..at].iter().filter(|it| it.day < cut.day).filter_map(|it| it.broke).collect();
        let same =
            cuts[..at].iter().rev().find(|it| it.limb == cut.limb && it.day < cut.day && it.broke.is_some());
        let Some([last, of]) = same.and_then(|it| it.broke).filter(|[_, of]| *of > 0) else { continue };
        let sum = |place: usize| before.iter().map(|it| u32::from(it[place])).sum::<u32>();
        let told = Habit::of(taxon).value.learned(sum(0), sum(1)).breaking.nearest;
        let seen = f64::from(broke) / f64::from(buds);
        errors.push([(told - seen).abs(), (f64::from(last) / f64::from(of) - seen).abs()]);
    }
    BackTest::of(&errors)
}

/// Rings of the last year told with the vigour of the year before, and as "same ring as last year"; mean of |ln(told/measured)|.
pub fn rings_back_test(
    growing: &Growing<'_>,
    limbs: &[&Limb],
    calipers: &[&Caliper],
    calendar: &Calendar,
) -> Option<BackTest> {
    let years: Vec<[f64; 3]> = limbs
        .iter()
        .filter_map(|limb| {
            let readings = at_base(calipers, limb.number);
            let [.., first, second, third] = readings.as_slice() else { return None };
            let yearly = |from: &(Date, Millimetre), to: &(Date, Millimetre)| {
                let rings = calendar.rings(from.0, to.0);
                (rings > 0.5).then(|| ring_between(from.1, to.1).0 / rings).filter(|ring| *ring > 0.0)
            };
            Some([yearly(first, second)?, yearly(second, third)?, growing.usual(limb.number)?])
        })
        .collect();
    let ratios: Vec<f64> = years.iter().map(|[before, _, usual]| before / usual).collect();
    let vigour = Vigour::learn(&ratios).value;
    let errors: Vec<[f64; 2]> = years
        .iter()
        .map(|[before, last, usual]| [(usual * vigour / last).ln().abs(), (before / last).ln().abs()])
        .collect();
    BackTest::of(&errors)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::leaves::Leaves;
    use collection::intention::CutKind;
    use jiff::civil::date;
    use measure::winter::Hemisphere;

    fn cut(limb: u32, year: i16, broke: [u8; 2]) -> Cut {
        Cut {
            tree: "maple".into(),
            limb,
            day: date(year, 6, 1),
            kind: CutKind::Trim,
            nodes: Some(2),
            broke: Some(broke),
            despite: String::new(),
            note: String::new(),
        }
    }

    #[test]
    fn a_count_is_told_from_those_before_it_and_never_from_itself() {
        let taxon = Taxon::of("acer-palmatum").unwrap();
        let cuts = [cut(1, 2024, [2, 10]), cut(1, 2025, [9, 10])];
        let told = buds_back_test(&cuts.iter().collect::<Vec<_>>(), taxon).unwrap();
        assert_eq!(told.cases, 1);
        assert!((told.naive - 0.7).abs() < 1e-12 && told.ours > 0.0, "{told:?}");
        assert_eq!(buds_back_test(&cuts[..1].iter().collect::<Vec<_>>(), taxon), None);
    }

    #[test]
    fn what_is_done_once_is_done_to_the_limb_that_was_meant() {
        let limb = |number, bearer| Limb {
            tree: "maple".into(),
            number,
            bearer,
            name: String::new(),
            clock: None,
            tips: None,
            since: date(2024, 1, 1),
            gone: None,
        };
        let (trunk, first, second) = (limb(0, None), limb(1, Some(0)), limb(2, Some(1)));
        let remove = Intention {
            tree: "maple".into(),
            limb: 1,
            season: 2026,
            wish: Wish::Remove,
            until: None,
            nodes: None,
            by: Some(date(2026, 6, 20)),
            which: String::new(),
            why: String::new(),
            made: date(2026, 3, 1),
            ended: None,
            end: String::new(),
        };
        let leaves = Leaves::of(Taxon::of("acer-palmatum").unwrap(), None);
        let calendar = Calendar { leaves, hemisphere: Hemisphere::North };
        let plan = meant(&[&trunk, &first, &second], &calendar, |limb| (limb > 0).then_some(&remove));
        assert_eq!(plan.orders, [Order { limb: 1, act: Act::Remove, when: When::Summer }]);
        let other = with(&plan, &[1, 2], Wish::KeepShort, Some(3));
        let short = |limb| Order { limb, act: Act::KeepShort { nodes: 3 }, when: When::Summer };
        assert_eq!(other.orders, [short(1), short(2)]);
        assert_eq!(with(&plan, &[1, 2], Wish::Remove, None).orders.len(), 1);
        assert_eq!(all(&[&trunk, &first, &second], Wish::KeepShort).orders.len(), 3);
    }
}
