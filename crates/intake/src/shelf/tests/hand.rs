//! Claims of what hands type: units of all kinds, unchanged forms, shares, long texts, names of pages, and questions about a pot that does
//! not fit.

use collection::potting::Pot;
use measure::quantity::Litre;
use proptest::prelude::*;

use super::{
    bench::{REPOT, log, no},
    *,
};

const MISFIT: &str = "the roots need 2.1 L and it holds 1.4 L";

#[test]
fn a_pot_that_cannot_hold_the_tree_is_asked_about_before_a_promise_and_the_reason_is_kept() {
    let mut store = stocked();
    let before = store.reader().unwrap().changes().unwrap();
    for said in ["promised", "kept-for"] {
        let asked = reserve(&mut store, ReserveForm { said, ..promise("elm", "1") }, Some(MISFIT), TODAY);
        let ask = Ask::Unfit(MISFIT.into());
        assert!(matches!(&asked, Err(ReserveError::Asked(it)) if *it == ask), "{asked:?}");
        assert!(ask.to_string().contains(MISFIT));
    }
    assert_eq!(store.reader().unwrap().changes().unwrap(), before);
    let why = ReserveForm { why: "for the show", despite: "I cut more", ..promise("elm", "1") };
    let kept = reserve(&mut store, why, Some(MISFIT), TODAY).unwrap();
    assert_eq!(kept.why, "for the show; though asked: I cut more");
    let again = ReserveForm { why: &kept.why, despite: "I cut more", ..promise("elm", "2") };
    assert_eq!(reserve(&mut store, again, Some(MISFIT), TODAY).unwrap().why, kept.why);
    let second = ReserveForm { said: "second", ..promise("elm", "3") };
    assert_eq!(reserve(&mut store, second, Some(MISFIT), TODAY).unwrap().why, "");
    let idle = ReserveForm { despite: "no matter", ..promise("elm", "4") };
    assert_eq!(say(&mut store, idle).unwrap().why, "", "nobody asked");
    let wrong = reserve(&mut store, promise("oak", "5"), Some(MISFIT), TODAY);
    assert!(matches!(wrong, Err(ReserveError::Form(FormError::Field { field: "tree", .. }))));
}

#[test]
fn all_that_speaks_against_a_repot_is_asked_together() {
    let mut store = stocked();
    let against = Against { limit: Some(Share(0.4)), unfit: Some(MISFIT), verdict: None };
    let put = |store: &mut Store, form: RepotForm<'_>| {
        super::super::repot(store, &form, None, against, Units::Metric, TODAY)
    };
    let asked = put(&mut store, REPOT);
    assert!(matches!(&asked, Err(RepotError::Asked(Ask::Unfit(why))) if why == MISFIT), "{asked:?}");
    say(&mut store, ReserveForm { pot: "grey-tray", ..promise("elm", "1") }).unwrap();
    let deep = RepotForm { cut: "45", ..REPOT };
    let Err(RepotError::Asked(ask)) = put(&mut store, deep) else { panic!() };
    let words = ask.to_string();
    assert!(["45 %", MISFIT, "held for Elm"].iter().all(|it| words.contains(it)), "{words}");
    assert!(store.reader().unwrap().repots().unwrap().is_empty());
    let told = put(&mut store, RepotForm { despite: "rot", ..deep }).unwrap();
    assert_eq!(told.repot.note, "though asked: rot");
}

#[test]
fn a_share_below_one_per_cent_is_hardly_meant() {
    let mut store = stocked();
    let pest = TollForm { tree: "maple", what: "pest", ..TollForm::default() };
    for amount in ["0.5", "0,5", "0.5 %", ".99"] {
        let (name, _, why) = field(toll(&mut store, TollForm { amount, ..pest }, TODAY));
        assert!(name == "amount" && why.contains("type 50 for half"), "{amount}: {why}");
    }
    assert!(no(log(&mut store, RepotForm { cut: "0.35", ..REPOT }, None)).1.contains("hardly meant"));
    for amount in ["0", "1", "50 %"] {
        toll(&mut store, TollForm { amount, ..pest }, TODAY).unwrap();
    }
    toll(&mut store, TollForm { what: "wire", amount: "1", ..pest }, TODAY).unwrap();
    let sheet = b"tree,day,what,amount\nMaple,2026-03-02,pest,0.5\n";
    import(
        &mut store,
        &Kind::Shelf(crate::sheet::shelf::ShelfSheet::Tolls),
        "t.csv",
        sheet,
        &crate::import::Options::default(),
    )
    .unwrap();
    let tolls = store.reader().unwrap().tolls().unwrap();
    let key = |at: usize| collection::toll::key(tolls[at].1.what);
    assert_eq!((tolls.len(), key(0)), (5, Some(("pest", Some(0.5)))));
}

#[test]
fn a_pot_is_not_called_like_a_page_of_the_shelf() {
    let mut store = stocked();
    for name in ["New", "share", "RULES", " Photos. "] {
        let (field, _, why) = field(add_pot(&mut store, &PotForm { name, ..OVAL }, Units::Metric, TODAY));
        assert!(field == "name" && why.contains("page of the shelf"), "{name}: {why}");
    }
    assert_eq!(add(&mut store, PotForm { name: "New oval", ..OVAL }), "new-oval");
    edit_pot(&mut store, "new-oval", "1", &PotForm { name: "New", ..OVAL }, Units::Metric, TODAY).unwrap();
}

#[test]
fn a_text_that_is_too_long_is_named_with_its_letters_and_one_at_the_most_is_taken() {
    let mut store = stocked();
    let long = "ö".repeat(2001);
    let cut = |letters: usize| &long[..2 * letters];
    let pots = |letters: usize| {
        let it = cut(letters);
        [
            (80, "name", PotForm { name: it, ..OVAL }),
            (120, "maker", PotForm { name: "a", maker: it, ..OVAL }),
            (120, "mark", PotForm { name: "b", mark: it, ..OVAL }),
            (120, "kiln", PotForm { name: "c", kiln: it, ..OVAL }),
            (120, "origin", PotForm { name: "d", origin: it, ..OVAL }),
            (120, "seller", PotForm { name: "e", seller: it, ..OVAL }),
            (120, "spot", PotForm { name: "f", spot: it, ..OVAL }),
            (200, "era", PotForm { name: "g", era: it, ..OVAL }),
            (300, "condition", PotForm { name: "h", condition: it, ..OVAL }),
            (2000, "note", PotForm { name: "i", note: it, ..OVAL }),
        ]
    };
    for at in 0..10 {
        let (most, name, _) = pots(1)[at];
        let (told, _, why) = field(add_pot(&mut store, &pots(most + 1)[at].2, Units::Metric, TODAY));
        assert!(told == name && why.contains(&most.to_string()), "{told}: {why}");
        add_pot(&mut store, &pots(most)[at].2, Units::Metric, TODAY).unwrap();
    }
    let (most, over) = (cut(400), cut(401));
    let over_long = |told: (&str, String), name: &str| {
        assert!(told.0 == name && told.1.contains("401 letters"), "{told:?}");
    };
    for (name, form) in [
        ("found", RepotForm { found: over, ..REPOT }),
        ("note", RepotForm { note: over, ..REPOT }),
        ("despite", RepotForm { cut: "60", despite: over, ..REPOT }),
    ] {
        over_long(no(log(&mut store, form, None)), name);
    }
    log(&mut store, RepotForm { found: most, note: most, ..REPOT }, None).unwrap();
    let short = |told: Result<(), FormError>, name| {
        let (field, _, why) = field(told);
        over_long((field, why), name);
    };
    let tree = "maple";
    short(say(&mut store, ReserveForm { why: over, ..promise("elm", "1") }).map(drop), "why");
    let vigorous = VigourForm { tree, strength: "strong", why: over, ..VigourForm::default() };
    short(vigour(&mut store, vigorous, TODAY), "why");
    let mean = MeantForm { tree, season: "2026", repot: "no", why: over, ..MeantForm::default() };
    short(meant(&mut store, mean, TODAY), "why");
    short(pot_look(&mut store, PotLookForm { tree, note: over, ..PotLookForm::default() }, TODAY), "note");
    short(
        toll(&mut store, TollForm { tree, what: "graft", note: over, ..TollForm::default() }, TODAY),
        "note",
    );
    let form =
        WhereaboutsForm { pot: "grey-tray", whereabouts: "shelf", spot: cut(121), into: "", revision: "1" };
    assert!(field(whereabouts(&mut store, form, TODAY)).2.contains("121 letters"));
}

#[test]
fn a_look_at_a_pot_in_which_nothing_was_seen_is_refused() {
    let mut store = stocked();
    let nothing = PotLookForm { tree: "maple", note: "  ", ..PotLookForm::default() };
    assert_eq!(field(pot_look(&mut store, nothing, TODAY)).0, "seen");
    assert!(store.reader().unwrap().pot_looks().unwrap().is_empty());
    for some in [
        PotLookForm { drained: "0", ..nothing },
        PotLookForm { twice_a_day: true, ..nothing },
        PotLookForm { falling: true, ..nothing },
        PotLookForm { note: "moss", ..nothing },
    ] {
        pot_look(&mut store, some, TODAY).unwrap();
    }
}

#[test]
fn frames_of_card_and_pot_that_lie_over_each_other_are_refused() {
    let mut store = stocked();
    let lit = picture(|x, _| if x < 120 { [118, 118, 118] } else { [140, 184, 163] });
    let photo = pot_photo(&mut store, "celadon-oval", &lit, "", "2026-03-01", TODAY).unwrap();
    let form = GlazeForm {
        photo: &photo.key,
        card: ["10", "10", "100", "200"],
        pot: ["109", "209", "200", "80"],
        reflectance: "",
        revision: "1",
    };
    let over = read_glaze(&mut store, form);
    let is_named = |why: &str| why.contains("over the frame of the grey card");
    assert!(
        matches!(&over, Err(GlazeError::Form(FormError::Field { field: "pot", why, .. })) if is_named(why)),
        "{over:?}"
    );
    assert_eq!(ware(&store, "celadon-oval").revision, 1);
    // Edge to edge is no overlap.
    read_glaze(&mut store, GlazeForm { pot: ["110", "110", "200", "80"], ..form }).unwrap();
}

#[test]
fn what_cannot_be_is_told_in_the_units_typed_and_in_digits_a_hand_types() {
    let mut store = stocked();
    let mut why = |form: PotForm<'_>, units| {
        field(add_pot(&mut store, &PotForm { name: "Newcomer", ..form }, units, TODAY)).2
    };
    assert_eq!(why(PotForm { hole: "300", ..OVAL }, Units::Metric), "is not a number from 1 to 200 mm");
    assert_eq!(
        why(PotForm { hole: "9\"", ..OVAL }, Units::Metric),
        "is not a number from 0.03938 to 7.874 in"
    );
    let small = PotForm { measured: "1 L", ..OVAL };
    let told = why(small, Units::Metric);
    assert!(
        told.contains("measured volume of the pot is 1, but must be from ") && told.ends_with(" L"),
        "{told}"
    );
    let low = PotForm { length: "12", width: "9", bottom_length: "11", height: "2.75", floor: "2", ..OVAL };
    let told = why(low, Units::Imperial);
    assert!(told.ends_with(" in"), "{told}");
    for told in [why(small, Units::Metric), why(small, Units::Imperial), why(low, Units::Imperial)] {
        let longest = told.split(' ').filter(|it| it.parse::<f64>().is_ok()).map(str::len).max().unwrap();
        assert!(longest <= 8, "{told}");
    }
    let roots = RepotForm { pad_length: "7.3 in", pad_width: "6\"", pad_depth: "", ..REPOT };
    let roots = log(&mut store, roots, None).unwrap_err().to_string();
    assert!(roots.contains("“7.3 in × 6\"”"), "{roots}");
}

#[test]
fn a_log_takes_lengths_with_their_unit_whatever_the_reader_measures_in() {
    for units in [Units::Metric, Units::Imperial] {
        let mut store = stocked();
        let form = RepotForm {
            proud: "-4 mm",
            pad_length: "7.5 in",
            pad_width: "150mm",
            pad_depth: "4 cm",
            ..REPOT
        };
        let told = super::super::repot(&mut store, &form, None, Against::default(), units, TODAY).unwrap();
        assert_eq!(told.repot.proud, Some(Millimetre(-4.0)));
        assert_eq!(told.repot.pad, Some([19.05, 15.0, 4.0].map(Centimetre)));
        let size = StatureForm { tree: "maple", day: "2026-03-01", height: "17.3 in", trunk: "6.12 cm" };
        stature(&mut store, size, units, TODAY).unwrap();
        let shown = StatureForm { day: "", height: "43.9 cm", trunk: "2.4\"", ..size };
        stature(&mut store, shown, units, TODAY).unwrap();
        let sizes = store.reader().unwrap().statures().unwrap();
        assert_eq!([sizes[0].height, sizes[0].trunk], [sizes[1].height, sizes[1].trunk]);
        let grown = StatureForm { trunk: "6.3 cm", ..shown };
        stature(&mut store, grown, units, TODAY).unwrap();
        assert_eq!(store.reader().unwrap().statures().unwrap()[1].trunk, Centimetre(6.3));
    }
}

/// How a page may show a length: in which unit, and with how many digits after the point; every digit where none is told.
fn shown(cm: f64, unit: &str, digits: Option<usize>) -> String {
    let figure = match unit {
        "mm" => cm * 10.0,
        "in" => cm / 2.54,
        _ => cm,
    };
    match digits {
        None => format!("{figure} {unit}"),
        Some(digits) => format!("{figure:.digits$} {unit}"),
    }
}

fn pot_and_ware(store: &Store) -> (Pot, Ware) {
    let reader = store.reader().unwrap();
    let pot = reader.pots().unwrap().into_iter().find(|pot| pot.key == "celadon-oval").unwrap();
    (pot, ware(store, "celadon-oval"))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_form_sent_back_as_it_was_shown_changes_no_measure(
        sides in (20.0..60.0_f64, 0.6..1.0_f64, 0.8..1.0_f64, 6.0..14.0_f64),
        thin in prop::array::uniform5(0.3..0.9_f64),
        rest in (0.4..30.0_f64, 200.0..9000.0_f64, 2.0..6.0_f64),
        shape in prop::sample::select(vec![("oval", "oval"), ("soft-rectangle", "rounded-rectangle"), ("mokko", "superellipse")]),
        has_middle: bool,
        unit in prop::sample::select(vec!["mm", "cm", "in"]),
        digits in prop::sample::select(vec![Some(1), Some(2), Some(3), None]),
        imperial: bool,
    ) {
        let mut store = stocked();
        let (length, slim, taper, height) = sides;
        let [feet, floor, thick, lip, gap] = thin;
        let (hole, empty, round) = rest;
        let exact = |cm: f64| format!("{cm} cm");
        let measures = [length, length * slim, length * taper, length * slim * taper, height, feet, floor, thick, lip, gap];
        let [l, w, bl, bw, h, fe, fl, th, li, ga] = measures.map(exact);
        let (middle, bare, weight) = (exact(length * 0.95), format!("{round}"), format!("{empty} g"));
        let (hole, corner) = (format!("{} mm", hole + 1.0), if shape.0 == "mokko" { bare } else { exact(round) });
        let first = PotForm {
            shape: shape.0, outline: "", length: &l, width: &w, bottom_length: &bl, bottom_width: &bw, height: &h, feet: &fe,
            floor: &fl, thick: &th, lip: &li, gap: &ga, hole: &hole, corner: &corner, empty: &weight,
            middle_length: if has_middle { &middle } else { "" }, middle_width: "", measured: "", ..OVAL
        };
        let units = if imperial { Units::Imperial } else { Units::Metric };
        edit_pot(&mut store, "celadon-oval", "1", &first, units, TODAY).unwrap();
        let (pot, _) = pot_and_ware(&store);
        let inside = pot.vessel.inner_volume().unwrap().0 * 0.987_654_321;
        let volume = format!("{inside} L");
        edit_pot(&mut store, "celadon-oval", "2", &PotForm { measured: &volume, ..first }, units, TODAY).unwrap();
        let stands = pot_and_ware(&store);
        let vessel = stands.0.vessel;
        prop_assert_eq!(vessel.measured, Some(Litre(inside)));
        prop_assert_eq!(vessel.top.key().1, [Centimetre(length), Centimetre(length * slim)]);

        let show = |cm: Centimetre| shown(cm.0, unit, digits);
        let (word, top, rounded) = vessel.top.key();
        let bottom = vessel.bottom.key().1;
        let [l, w] = top.map(show);
        let [bl, bw] = bottom.map(show);
        let [h, fe, fl, th, li, ga] = [vessel.height, vessel.feet, vessel.floor, vessel.wall, vessel.lip, vessel.gap].map(show);
        let middle = vessel.middle.map(|ring| ring.key().1.map(show));
        let [ml, mw] = middle.unwrap_or_default();
        let corner = match (word, rounded) {
            ("superellipse", Some(round)) => format!("{round:.1}"),
            (_, Some(round)) => show(Centimetre(round)),
            (_, None) => String::new(),
        };
        let hole = show(Centimetre(stands.1.hole.unwrap().0 / 10.0));
        let grams = stands.1.empty.unwrap().0;
        let weight = if imperial { format!("{:.1} lb", grams / 453.592_37) } else { format!("{:.1} kg", grams / 1000.0) };
        let volume = if imperial { format!("{:.1} qt", inside / 0.946_352_946) } else { format!("{inside:.2} L") };
        let back = PotForm {
            shape: shape.0, outline: word, length: &l, width: &w, bottom_length: &bl, bottom_width: &bw, height: &h, feet: &fe,
            floor: &fl, thick: &th, lip: &li, gap: &ga, hole: &hole, corner: &corner, empty: &weight, measured: &volume,
            middle_length: &ml, middle_width: &mw, ..OVAL
        };
        edit_pot(&mut store, "celadon-oval", "3", &back, units, TODAY).unwrap();
        let (pot, ware) = pot_and_ware(&store);
        prop_assert_eq!(&pot, &stands.0);
        prop_assert_eq!(ware, Ware { revision: 4, ..stands.1 });

        // A change in the last digit shown is a change.
        let wider = shown(top[0].0 + 0.51, unit, Some(1));
        edit_pot(&mut store, "celadon-oval", "4", &PotForm { length: &wider, ..back }, units, TODAY).unwrap();
        prop_assert_ne!(pot_and_ware(&store).0, pot);
    }
}
