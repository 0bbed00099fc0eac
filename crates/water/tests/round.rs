//! The round of many pots against the same pots taken one hour at a time by the books.
//!
//! Both are ours: the books (`balance`) are checked against the reference set, the round against the books.

use measure::quantity::{Days, Hours, Litre, LitresPerDay, Millimetre, Share, SquareMetre};
use rand_pcg::{
    Pcg64Mcg,
    rand_core::{Rng, SeedableRng},
};
use water::{
    balance::{Stretch, rain_into, through},
    dry_down::Pot,
    round::{Departures, Outcome, RoundPot, Start, Weather, chance_dry, round},
};

const STEPS: usize = 24 * 14;

/// First hour too dry and hours too dry, by the books.
fn by_the_books(
    pot: &Pot,
    start: &Start,
    demand: &[Millimetre],
    rain: &[Millimetre],
    pace: f64,
) -> (Option<f64>, f64) {
    let (mut left, mut first, mut dry) = (start.left, None, 0.0);
    for (hour, (demand, rain)) in demand.iter().zip(rain).enumerate() {
        let asked = LitresPerDay(demand.0 * start.per_millimetre.0 * pace * 24.0);
        let stretch = Stretch {
            watering: None,
            rain: rain_into(start.surface, *rain),
            demand: asked,
            span: Days(1.0 / 24.0),
        };
        let books = through(pot, left, &stretch).unwrap();
        let filled = Share(books.filled.0 / pot.holds().0);
        let until = pot.time_to(filled, asked, start.limit).map_or(f64::INFINITY, |days| days.0 * 24.0);
        if until < 1.0 {
            dry += 1.0 - until;
            first = first.or(Some(hour as f64 + until));
        }
        left = Share(books.left(pot).0.min(1.0));
    }
    (first, dry)
}

#[test]
fn a_round_agrees_with_the_books_hour_by_hour() {
    let mut dice = Pcg64Mcg::seed_from_u64(7);
    let mut draw =
        |low: f64, high: f64| low + (high - low) * (dice.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
    let members = 5;
    let mut weather = |wet: f64| -> Vec<(Millimetre, Millimetre)> {
        let mut hour = |at: usize| {
            let sun = ((at % 24) as f64 - 6.0).clamp(0.0, 12.0) / 12.0;
            let demand = if sun > 0.0 { 0.8 * sun * (1.0 - sun) * 4.0 * draw(0.3, 1.0) } else { 0.0 };
            let rain = if draw(0.0, 1.0) < wet { draw(0.0, 3.0) } else { 0.0 };
            (Millimetre(demand), Millimetre(rain))
        };
        (0..STEPS).map(&mut hour).collect()
    };
    let made: Vec<_> = [0.0, 0.01, 0.05, 0.1, 0.3]
        .map(&mut weather)
        .into_iter()
        .map(|hours| {
            let (demand, rain): (Vec<_>, Vec<_>) = hours.into_iter().unzip();
            (demand, rain)
        })
        .collect();
    let weathers: Vec<Weather> = made.iter().map(|(demand, rain)| Weather { demand, rain }).collect();
    let mut pots = Vec::new();
    for _ in 0..60 {
        let pot = Pot::new(Litre(draw(0.05, 4.0)), Share(draw(0.2, 0.6))).unwrap();
        let start = Start {
            left: Share(draw(0.1, 1.0)),
            per_millimetre: Litre(draw(0.0, 0.25)),
            surface: SquareMetre(draw(0.0, 0.1)),
            limit: Share(draw(0.05, 0.7)),
            spread: draw(0.0, 0.4),
            since: Hours(0.0),
        };
        pots.push((pot, start));
    }
    let on_the_bench: Vec<RoundPot> =
        pots.iter().map(|(pot, start)| RoundPot::new(pot, start).unwrap()).collect();
    let mut outcomes = vec![Outcome::default(); pots.len() * members];
    let departures = Departures::new(members);
    round(&on_the_bench, &weathers, Hours(1.0), &departures, &mut outcomes).unwrap();
    // Middles of five equal slices of the normal distribution, from printed tables.
    let z = [-1.281_551_565_545, -0.524_400_512_708, 0.0, 0.524_400_512_708, 1.281_551_565_545];
    let (mut largest, mut dried) = (0.0_f64, 0);
    for (at, (pot, start)) in pots.iter().enumerate() {
        for (member, (demand, rain)) in made.iter().enumerate() {
            let pace = (start.spread * z[(at + member) % members]).exp();
            let (first, dry) = by_the_books(pot, start, demand, rain, pace);
            let ours = outcomes[at * members + member];
            assert_eq!(
                ours.first.is_some(),
                first.is_some(),
                "pot {at} weather {member}: {ours:?} {first:?}"
            );
            let gap = ours.first.zip(first).map_or(0.0, |(ours, first)| (ours.0 - first).abs());
            largest = largest.max(gap).max((ours.dry.0 - dry).abs());
            dried += usize::from(first.is_some());
        }
        let row = &outcomes[at * members..(at + 1) * members];
        let counted = row.iter().filter(|outcome| outcome.first.is_some_and(|first| first.0 < 100.0)).count();
        assert_eq!(chance_dry(row, Hours(100.0)).0, counted as f64 / members as f64);
    }
    println!("{} pot-weathers, {dried} dried, largest gap {largest:.1e} h", outcomes.len());
    assert!(largest < 1e-6 && dried > 50 && dried < outcomes.len());
}

#[test]
fn a_pot_that_dried_and_was_rained_on_before_now_is_not_dry() {
    let pot = Pot::new(Litre(1.0), Share(0.4)).unwrap();
    let start = |since| Start {
        left: Share(1.0),
        per_millimetre: Litre(0.2),
        surface: SquareMetre(0.05),
        limit: Share(0.4),
        spread: 0.0,
        since: Hours(since),
    };
    let demand = [Millimetre(0.25); 48];
    let mut rain = [Millimetre(0.0); 48];
    rain[20] = Millimetre(100.0);
    let weather = [Weather { demand: &demand, rain: &rain }];
    let first = |since| {
        let mut outcome = [Outcome::default()];
        let pots = [RoundPot::new(&pot, &start(since)).unwrap()];
        round(&pots, &weather, Hours(1.0), &Departures::new(1), &mut outcome).unwrap();
        outcome[0].first.unwrap().0
    };
    assert!((first(0.0) - 12.0).abs() < 1e-9, "{}", first(0.0));
    assert!((first(16.0) - 16.0).abs() < 1e-9, "{}", first(16.0));
    assert!((first(24.0) - 32.0).abs() < 1e-9, "{}", first(24.0));
}
