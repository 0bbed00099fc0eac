//! A move is work with a verdict: harm at the place it goes to comes first, both ends of the window are told, and into the sun it goes
//! by steps (A09, A34).

mod halves;

use halves::{Half, of, place};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use state::{
    reason::Reason,
    verdict::{Answer, Verdict},
};
use view::{
    trial::{Shifts, Try, trials},
    verdicts::{against_move, moving, steps},
    whole::Whole,
};

const DAY: Date = date(2026, 3, 28);

const TREES: &str = "name,taxon,confidence,since,worth,note\nMaple,acer-palmatum,sure,,,\nLarch,larix-decidua,sure,,,\n\
                     Juniper,juniperus-chinensis,sure,,,\nFig,ficus-microcarpa,sure,,,\n";

const MOVES: &str = "tree,place,day\nMaple,Pane,2025-11-20\nLarch,Bench,2025-03-01\nJuniper,Bench,2025-03-01\nFig,Sill,2025-03-01\n";

const LOOKS: &str = "tree,day,stage,sureness,note\nMaple,2026-03-26,11,sure,\nLarch,2026-03-26,03,sure,\n";

/// Nine nights of a glasshouse whose heater failed: by day as outside, to six below at four in the morning.
fn failing() -> String {
    let mut text = String::from("time,temperature_c\n");
    for days in 0..9 {
        let day = date(2026, 3, 19).saturating_add(i64::from(days).days());
        for hour in 0..24_i32 {
            let off = (hour - 4).abs().min(24 - (hour - 4).abs());
            text += &format!("{day}T{hour:02}:00,{:.1}\n", -6.0 + 1.2 * f64::from(off));
        }
    }
    text
}

/// Eleven weeks of a store that keeps five degrees.
fn cold() -> String {
    let mut text = String::from("time,temperature_c\n");
    for hour in 0..77 * 24_i32 {
        let day = date(2026, 1, 10).saturating_add(i64::from(hour / 24).days());
        text += &format!("{day}T{:02}:00,{:.1}\n", hour % 24, 4.6 + 0.1 * f64::from(hour % 5));
    }
    text
}

fn sheets(house: &str) -> Vec<(&'static str, &str)> {
    vec![("trees", TREES), ("moves", MOVES), ("looks", LOOKS), ("logger:house", house)]
}

fn verdict(whole: &Whole, tree: &str, to: &str) -> Verdict {
    moving(whole, of(whole, tree), place(whole, to), whole.today)
}

#[test]
fn a_maple_in_leaf_is_told_of_the_frost_in_the_house_before_anything_else() {
    let house = failing();
    for half in Half::BOTH {
        let whole = half.on(&half.store(&sheets(&house)), DAY);
        let told = verdict(&whole, "maple", "house");
        let Reason::FrostThere { low, on, line, is_better } = told.because() else {
            panic!("{half:?} {told:?}")
        };
        assert!(low.0 <= -5.0 && line.0 >= -3.0 && !is_better, "{half:?}: {low:?} {line:?}");
        assert!(on.is_none_or(|day| (whole.today - day).get_days().abs() <= 14), "{half:?} {on:?}");
        assert_eq!(told.answer, Answer::NotNow { until: None }, "{half:?}");
        assert!(
            against_move(&whole, of(&whole, "maple"), "house").is_some(),
            "{half:?}: the form does not ask"
        );
        let attempt = Try { place: "house", day: whole.today };
        let tried = trials(&whole, &["maple"], attempt).unwrap().told.remove(0).2;
        assert_eq!((tried.verdict, tried.may.sign), (told, "no"), "{half:?}: what-if says another thing");
    }
}

#[test]
fn a_larch_held_in_the_cold_gains_days_at_the_close_and_the_page_says_so() {
    let (house, store) = (failing(), cold());
    for half in Half::BOTH {
        let mut sheets = sheets(&house);
        sheets.push(("logger:store", &store));
        let whole = half.on(&half.store(&sheets), DAY);
        let attempt = Try { place: "store", day: whole.today };
        let tried = trials(&whole, &["larch"], attempt).unwrap().told.remove(0).2;
        let Shifts::Ends { opens, closes } = tried.shifts else { panic!("{half:?} {:?}", tried.shifts) };
        assert!(closes >= 3 && closes > opens, "{half:?}: {opens} {closes}");
        assert!(tried.shift.contains("longer") && tried.shift.contains("closes"), "{half:?} {}", tried.shift);
        assert_eq!(tried.verdict.answer, Answer::Caution, "{half:?} {:?}", tried.verdict);
        assert!(tried.verdict.reasons.contains(&Reason::HoldsInDark), "{half:?} {:?}", tried.verdict);
    }
}

#[test]
fn a_hardy_tree_at_rest_goes_to_no_heated_room_and_one_awake_to_no_dark_one() {
    let house = failing();
    for half in Half::BOTH {
        let store = half.store(&sheets(&house));
        let whole = half.on(&store, DAY);
        assert_eq!(verdict(&whole, "juniper", "sill").because(), Reason::HeatedRoom, "{half:?}");
        assert_eq!(verdict(&whole, "maple", "store").answer, Answer::NotNow { until: None }, "{half:?}");
        assert!(verdict(&whole, "maple", "store").reasons.contains(&Reason::DarkThere), "{half:?}");
        // A fig never rests: warm and lit is where it lives, and the bench in spring is too cold for it.
        let out = verdict(&whole, "fig", "bench");
        assert!(
            matches!(out.because(), Reason::FrostThere { .. } | Reason::BallFrostThere { .. }),
            "{half:?} {out:?}"
        );
        let winter = half.on(&store, date(2025, 12, 10));
        let early = verdict(&winter, "larch", "sill");
        assert_eq!(early.because(), Reason::HeatedRoom, "{half:?}: its cold is not met, {early:?}");
    }
}

/// A34: out of store or a dim room into the sun by steps, each with its day and place.
#[test]
fn a34_out_of_weak_light_into_the_sun_goes_by_steps() {
    let house = failing();
    for half in Half::BOTH {
        let whole = half.on(&half.store(&sheets(&house)), date(2026, 5, 24));
        let fig = of(&whole, "fig");
        let plan = steps(&whole, fig, place(&whole, "bench"), whole.today);
        let days: Vec<i32> = plan.iter().map(|step| (step.from - whole.today).get_days()).collect();
        assert_eq!(days, [0, 5, 10], "{half:?}");
        let places: Vec<Option<&str>> = plan.iter().map(|step| step.place.as_deref()).collect();
        assert_eq!(places, [Some("Wall"), Some("Bench"), Some("Bench")], "{half:?}");
        assert!(
            steps(&whole, of(&whole, "larch"), place(&whole, "bench"), whole.today).is_empty(),
            "{half:?}"
        );
    }
}
