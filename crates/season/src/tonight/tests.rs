//! Claims about the night's own rules, on made-up air.

use climate::{record::StationDay, root::Rootball};
use collection::{
    drink::Worth,
    potting::{BucketTest, Crown, Mix, Pot, Wall},
};
use dormancy::frost::{Candidates, Facts, Part, RootAge};
use jiff::{ToSpan, civil::date, tz::TimeZone};
use measure::{
    quantity::{Celsius, Centimetre, Degrees, Gram, KilogramPerLitre, Litre, Millimetre, Share},
    shelter::Shelter,
    stage::Stage,
    taxon::Taxon,
    winter::Hemisphere,
};

use super::{
    ball::Evening,
    carry::{Load, Recorded},
    judge::{TreeNight, judge},
    place::PlaceNight,
    share_out::{Protection, Space, Verdict, share_out},
    sky::{Known, Night, Sky, sky},
};
use crate::{
    air::{Air, Origin, Spot, outside, place},
    bench::filled,
    watering::pots::MixFacts,
};
use pot::{outline::Outline, vessel::Vessel};

const SPOT: Spot = Spot { latitude: Degrees(47.4), longitude: Degrees(0.0) };

/// An afternoon and the night after it.
fn night() -> Night {
    Night::coming("2026-04-20T15:00:00Z".parse().unwrap(), &TimeZone::UTC)
}

/// Outside air that is mild until six in the evening and then steady till noon.
fn steady(celsius: f64) -> Air {
    let first = date(2026, 4, 10);
    let hours =
        (0..24 * 12).map(|hour| if hour >= 24 * 10 + 18 { celsius } else { 4.0 }).collect::<Vec<f64>>();
    let origin = vec![Origin::Forecast; hours.len()];
    Air { first, hours, origin }
}

fn bench(celsius: f64, shelter: Shelter) -> PlaceNight {
    let air = steady(celsius);
    let sky = sky(SPOT, &air, &night()).unwrap();
    let sun = vec![0.0; air.hours.len()];
    PlaceNight::of(&sky, &place(SPOT, &air, &sun, shelter, &[]), shelter)
}

fn tree(key: &str, stage: Stage, worth: Worth) -> TreeNight {
    let taxon = Taxon::of(key).unwrap();
    let facts = Facts { taxon, candidates: Candidates::None, stage: Some(stage), roots: RootAge::Old };
    TreeNight { facts, worth, load: Load::unrecorded().unwrap() }
}

#[test]
fn a_ball_in_steady_frost_freezes_when_the_closed_form_says() {
    let place = bench(-5.0, Shelter::OpenBench);
    let wet = Rootball::typical(2.7).unwrap().value;
    let dry = wet.filled(KilogramPerLitre(0.7), Share(0.15)).unwrap();
    for ball in [wet, dry] {
        let told = Evening::of(&ball, &place).night(Celsius(0.0));
        let zero = ball.hours_to_freezing(Celsius(4.0), Celsius(-5.0)).unwrap().0;
        let through = zero + ball.freezing_plateau(Celsius(-5.0)).unwrap().0;
        // Three hours of mild afternoon come first; the ball is looked at once an hour.
        let gap = told.through.unwrap().0 - 3.0 - through;
        assert!((0.0..1.0).contains(&gap), "{told:?}, closed form {through}");
        assert!(told.to_zero.unwrap().0 <= 4.0 + 1e-9 && told.coldest.0 < -0.5, "{told:?}");
    }
}

#[test]
fn a_colder_night_never_makes_passing_a_line_less_likely() {
    let maple = tree("acer-palmatum", Stage::GreenTip, Worth::Standing);
    let chances: Vec<f64> = (-8..6)
        .rev()
        .map(|celsius| judge(&maple, &bench(f64::from(celsius), Shelter::OpenBench)).chance().0)
        .collect();
    assert!(chances.is_sorted() && chances[0] < 0.01 && chances[13] > 0.95, "{chances:?}");
    let judged = judge(&maple, &bench(-3.0, Shelter::OpenBench));
    let half = judged.above.unwrap().chance.0;
    assert!((half - 0.5).abs() < 1e-6, "at the line the chance is even: {half}");
}

#[test]
fn the_last_space_goes_to_the_show_tree_and_the_other_is_covered() {
    let (out, inside) = (bench(-4.0, Shelter::OpenBench), bench(-4.0, Shelter::WarmSill));
    let spaces = [
        Space { night: &out, shelter: Shelter::OpenBench, free: None },
        Space { night: &inside, shelter: Shelter::WarmSill, free: Some(1) },
    ];
    let leafy = |worth| (tree("acer-palmatum", Stage::Unfolded, worth), 0);
    let told = share_out(&[leafy(Worth::Training), leafy(Worth::Show), leafy(Worth::Standing)], &spaces);
    assert_eq!(told[1].verdict, Verdict::Move, "{told:?}");
    assert!(told[1].carry.is_some_and(|carry| carry.to == 1 && carry.turn == 1), "{told:?}");
    let (pot, both) = [Protection::PackThePot, Protection::PotAndCrown].map(Verdict::Protect).into();
    assert_eq!((told[0].verdict, told[2].verdict), (pot, both));
    let asleep = share_out(&[(tree("larix-decidua", Stage::Dormant, Worth::Standing), 0)], &spaces);
    assert!(matches!(asleep[0].verdict, Verdict::Stay | Verdict::Watch), "bare wood bears it: {asleep:?}");
}

#[test]
fn a_tree_awake_goes_into_the_dark_for_the_night_only() {
    let (out, room) = (bench(-4.0, Shelter::OpenBench), bench(-4.0, Shelter::ColdRoom));
    assert!(room.low.0 > 2.0, "{:?}", room.low);
    let spaces = [
        Space { night: &out, shelter: Shelter::OpenBench, free: None },
        Space { night: &room, shelter: Shelter::ColdRoom, free: Some(9) },
    ];
    let told = share_out(&[(tree("acer-palmatum", Stage::Unfolded, Worth::Standing), 0)], &spaces);
    assert_eq!(told[0].verdict, Verdict::Move);
    assert!(told[0].carry.is_some_and(|carry| carry.only_tonight), "{told:?}");
}

#[test]
fn a_carried_pot_weighs_what_the_bench_says_of_pot_and_soil() {
    let [length, width] = [30.0, 22.0].map(Centimetre);
    let top = Outline::Rectangle { length, width };
    let [height, feet, floor, thick, lip, gap] = [7.0, 1.0, 0.8, 0.8, 0.0, 0.5].map(Centimetre);
    let vessel =
        Vessel { top, middle: None, bottom: top, height, feet, floor, wall: thick, lip, gap, measured: None };
    let pot = Pot { key: "tray".into(), name: "Tray".into(), vessel, wall: Wall::Glazed };
    let test = BucketTest {
        height: Centimetre(12.0),
        volume: Litre(2.0),
        dry: Gram(1180.0),
        flooded: Gram(2480.0),
        drained: Gram(1900.0),
        inside: Some(Share(0.22)),
    };
    let crown =
        Crown { tree: "t".into(), day: date(2026, 1, 1), length: Centimetre(0.0), width: Centimetre(0.0) };
    for tested in [None, Some(test)] {
        let mix = Mix { key: "m".into(), name: "M".into(), grain: [3.0, 6.0].map(Millimetre), tested };
        let recorded = Recorded { pot: &pot, mix: &mix, held: &MixFacts::of(&mix), crown: Some(&crown) };
        let bench = filled(&pot, &mix, Degrees(0.0)).unwrap();
        let carried = Load::of(&recorded).unwrap().weight.unwrap().value;
        assert!((carried.0 - bench.drained.0).abs() < 1e-9, "{carried:?}, bench {bench:?}");
    }
}

#[test]
fn the_nearest_place_is_the_next_along_the_round_and_not_the_most_open() {
    let nights = [Shelter::OpenBench, Shelter::CoolSill, Shelter::ColdFrame].map(|it| bench(-4.0, it));
    let space = |rank: usize, shelter| Space { night: &nights[rank], shelter, free: Some(9) };
    let frame = bench(8.0, Shelter::ColdFrame);
    let spaces = [
        space(0, Shelter::OpenBench),
        space(1, Shelter::CoolSill),
        Space { night: &frame, shelter: Shelter::ColdFrame, free: Some(9) },
    ];
    let leafy = tree("acer-palmatum", Stage::Unfolded, Worth::Standing);
    let to = |spaces: &[Space<'_>]| share_out(&[(leafy, 0)], spaces)[0].carry.map(|carry| carry.to);
    assert_eq!(to(&spaces), Some(1));
    let [bench, sill, frame] = spaces;
    assert_eq!(to(&[bench, frame, sill]), Some(1), "the frame stands next to the bench now");
}

/// Ten years of lows that rise and fall, the last day being the one before the night's morning.
fn years() -> Sky {
    let first = date(2016, 1, 1);
    let count = (date(2026, 4, 20) - first).get_days();
    let days: Vec<StationDay> = (0..=count)
        .map(|at| {
            let low = if at % 2 == 0 { 1.0 } else { 5.0 };
            StationDay::of_extremes(first + at.days(), low, 12.0)
        })
        .collect();
    let air = outside(SPOT, &days, &[], &[], date(2026, 4, 20), &[]).unwrap().unwrap();
    sky(SPOT, &air, &night()).unwrap()
}

#[test]
fn the_usual_night_is_the_mean_of_its_date_and_as_unsure_as_its_years() {
    let sky = years();
    assert_eq!(sky.known, Known::Usual { years: 10 });
    assert!((sky.spread.value - 2.0).abs() < 0.1, "{:?}", sky.spread);
    let low = sky.air.hours[sky.night.clone()].iter().copied().fold(f64::INFINITY, f64::min);
    assert!((low - 3.0).abs() < 0.4, "{low}");
    assert_eq!(sky.night.len(), 19);
}

#[test]
fn the_small_hours_belong_to_the_night_that_runs() {
    let at = |text: &str| Night::coming(text.parse().unwrap(), &TimeZone::UTC);
    let (evening, small) = (at("2026-04-20T22:30:00Z"), at("2026-04-21T03:30:00Z"));
    assert_eq!((evening.to, evening.evening), (small.to, small.evening));
    assert!(small.from > evening.from);
    assert_eq!(at("2026-04-20T11:00:00Z").from, night().from);
}

#[test]
fn a_tree_repotted_ten_days_ago_is_in_more_danger_than_its_neighbour() {
    let maple = tree("acer-palmatum", Stage::Swelling, Worth::Standing);
    let fresh = maple.repotted(date(2026, 4, 10), Share(0.35), date(2026, 4, 20), Hemisphere::North);
    let place = bench(-8.0, Shelter::OpenBench);
    let [sound, cut] = [maple, fresh].map(|it| judge(&it, &place));
    assert!(cut.chance() > sound.chance(), "{cut:?} {sound:?}");
    assert_eq!(
        (sound.above.unwrap().limit.line.value.0, cut.above.unwrap().limit.line.value.0),
        (-10.0, -7.0)
    );
}

#[test]
fn roots_cut_in_spring_are_kept_warmer_through_the_first_winter_only() {
    let larch = tree("larix-decidua", Stage::Dormant, Worth::Standing);
    let line = |today| {
        let tree = larch.repotted(date(2026, 3, 20), Share(0.3), today, Hemisphere::North);
        judge(&tree, &bench(-2.0, Shelter::OpenBench)).roots.limit.line.value.0
    };
    assert_eq!([line(date(2027, 1, 10)), line(date(2028, 1, 10))], [-3.0, -8.0]);
}

#[test]
fn the_expected_depth_is_the_sum_over_the_quantiles() {
    let place = bench(-3.0, Shelter::OpenBench);
    for line in [-9.0, -4.0, -2.0, 1.0, 8.0] {
        let told = place.expected_below(Celsius(line), 5.0);
        let depth = |shift: f64| (line - place.low.0 - shift).clamp(0.0, 5.0);
        let sum: f64 = place.shifts().into_iter().map(depth).sum::<f64>() / 10.0;
        assert!((told - sum).abs() < 0.06, "{line}: {told} by the formula, {sum} by ten quantiles");
    }
}

/// A bench, a frame that goes to −7 °C, and one warm sill with room for one.
fn frosty<T>(look: impl FnOnce(&[Space<'_>]) -> T) -> T {
    let nights =
        [bench(-11.0, Shelter::OpenBench), bench(-7.0, Shelter::OpenBench), bench(-11.0, Shelter::WarmSill)];
    look(&[
        Space { night: &nights[0], shelter: Shelter::OpenBench, free: None },
        Space { night: &nights[1], shelter: Shelter::ColdFrame, free: Some(9) },
        Space { night: &nights[2], shelter: Shelter::WarmSill, free: Some(1) },
    ])
}

#[test]
fn the_warm_sill_is_the_figs_and_no_hardy_tree_at_rest_goes_there() {
    let juniper = tree("juniperus-chinensis", Stage::Dormant, Worth::Show);
    let elm = tree("ulmus-minor", Stage::Dormant, Worth::Show);
    let fig = tree("ficus-microcarpa", Stage::Dormant, Worth::Training);
    let told = frosty(|spaces| share_out(&[(juniper, 0), (elm, 0), (fig, 0)], spaces));
    let to = |rank: usize| told[rank].carry.map(|carry| carry.to);
    assert_eq!(to(2), Some(2), "{told:?}");
    assert!(to(0) != Some(2) && to(1) != Some(2), "{told:?}");
    // Alone, with the sill free, the hardy ones still do not go there.
    let told = frosty(|spaces| share_out(&[(juniper, 0), (elm, 0)], spaces));
    assert!(told.iter().all(|told| told.carry.is_none_or(|carry| carry.to == 1)), "{told:?}");
}

#[test]
fn a_second_fig_is_told_to_find_a_heated_room_and_not_sent_to_a_frame_in_frost() {
    let fig = |worth| (tree("ficus-microcarpa", Stage::Dormant, worth), 0);
    let told = frosty(|spaces| share_out(&[fig(Worth::Standing), fig(Worth::Show)], spaces));
    assert_eq!(told[1].carry.map(|carry| carry.to), Some(2), "the show tree takes the sill: {told:?}");
    assert_eq!(told[0].verdict, Verdict::Protect(Protection::HeatedRoom));
}

#[test]
fn of_two_alike_the_tenderer_goes_in_and_flowers_come_after_roots() {
    let (out, inside) = (bench(-6.0, Shelter::OpenBench), bench(6.0, Shelter::ColdFrame));
    let spaces = [
        Space { night: &out, shelter: Shelter::OpenBench, free: None },
        Space { night: &inside, shelter: Shelter::ColdFrame, free: Some(1) },
    ];
    let hornbeam = tree("carpinus-betulus", Stage::Dormant, Worth::Standing);
    let fresh = hornbeam.repotted(date(2026, 4, 10), Share(0.35), date(2026, 4, 20), Hemisphere::North);
    let crab = tree("malus-halliana", Stage::Swelling, Worth::Standing);
    let told = share_out(&[(crab, 0), (hornbeam, 0), (fresh, 0)], &spaces);
    assert_eq!(told[2].judged.roots.limit.part, Part::CutRoots(RootAge::Fresh));
    assert_eq!(
        told.iter().map(|it| it.carry.is_some()).collect::<Vec<_>>(),
        [false, false, true],
        "{told:?}"
    );
}

#[test]
fn a_heavy_forest_in_leaf_stays_out_at_a_degree_above_freezing() {
    let forest = tree("larix-kaempferi", Stage::Unfolded, Worth::Show);
    let judged = judge(&forest, &bench(1.2, Shelter::OpenBench));
    assert!(!judged.is_endangered(Worth::Show), "{judged:?}");
    let judged = judge(&forest, &bench(-1.5, Shelter::OpenBench));
    assert!(judged.is_endangered(Worth::Show), "{judged:?}");
}

#[test]
fn a_hardy_tree_in_leaf_goes_to_the_frame_and_leaves_the_warm_sill_free() {
    let nights =
        [bench(-5.0, Shelter::OpenBench), bench(1.0, Shelter::OpenBench), bench(-5.0, Shelter::WarmSill)];
    let spaces = [
        Space { night: &nights[0], shelter: Shelter::OpenBench, free: None },
        Space { night: &nights[1], shelter: Shelter::ColdFrame, free: Some(1) },
        Space { night: &nights[2], shelter: Shelter::WarmSill, free: Some(1) },
    ];
    let forest = tree("larix-kaempferi", Stage::Unfolded, Worth::Show);
    let told = share_out(&[(forest, 0)], &spaces);
    assert_eq!(told[0].carry.map(|carry| carry.to), Some(1), "{told:?}");
}
