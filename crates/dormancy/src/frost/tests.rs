//! Claims about the lines: none grows hardier as buds open or after a cut, and a guess is never taken for the hardier name.

use super::*;

fn facts(key: &str, stage: Stage) -> Facts {
    let taxon = Taxon::of(key).unwrap();
    Facts { taxon, candidates: Candidates::None, stage: Some(stage), roots: RootAge::Old }
}

fn line(limit: Option<Limit>) -> f64 {
    limit.map_or(-99.0, |limit| limit.line.value.0)
}

#[test]
fn no_tree_grows_hardier_as_its_buds_open() {
    for taxon in TAXA {
        let lines = Stage::ALL.map(|stage| line(facts(taxon.key, stage).above()));
        assert!(lines.is_sorted(), "{}: {lines:?}", taxon.key);
        let lines = Stage::ALL.map(|stage| line(facts(taxon.key, stage).flowers()));
        assert!(lines.is_sorted(), "{}: {lines:?}", taxon.key);
    }
}

#[test]
fn an_apricot_is_asked_about_its_flowers_beside_its_leaf_buds() {
    let tree = facts("prunus-mume", Stage::Swelling);
    assert_eq!(tree.above().unwrap().part, Part::Buds);
    let limit = tree.flowers().unwrap();
    assert_eq!(limit.part, Part::FlowerBuds((Crop::Apricot, "swollen bud")));
    assert!((limit.line.value.0 + 9.44).abs() < 0.01);
    assert_eq!(facts("acer-palmatum", Stage::GreenTip).flowers(), None);
}

#[test]
fn open_leaves_go_by_their_stage_and_are_watched_from_the_warmer_figure_of_the_taxon() {
    for (key, watch) in [("acer-palmatum", 0.0), ("larix-kaempferi", -1.0), ("fagus-sylvatica", 0.0)] {
        let leafy = facts(key, Stage::Grown);
        assert_eq!((line(leafy.above()), leafy.watch()), (-2.0, Some(Celsius(watch))), "{key}");
        assert_eq!(facts(key, Stage::GreenTip).watch(), None);
    }
}

#[test]
fn a_guessed_name_is_never_taken_for_the_hardier_one() {
    for taxon in TAXA {
        for stage in Stage::ALL {
            let sure = facts(taxon.key, stage);
            for candidates in [Candidates::Kind, Candidates::of(Taxon::of("ulmus-parvifolia"))] {
                let guess = Facts { candidates, ..sure };
                assert!(guess.roots().line.value >= sure.roots().line.value, "{}", taxon.key);
                assert!(line(guess.above()) >= line(sure.above()), "{}", taxon.key);
            }
        }
    }
}

#[test]
fn a_guess_between_two_names_takes_the_tenderer_of_those_two_and_not_of_its_kind() {
    let elm = facts("ulmus-minor", Stage::Dormant);
    let among = |keys: &[&str]| {
        let candidates = Candidates::of(keys.iter().map(|key| Taxon::of(key).unwrap()));
        Facts { candidates, ..elm }.roots().line.value.0
    };
    assert_eq!(elm.roots().line.value.0, -7.0);
    assert_eq!(among(&["zelkova-serrata"]), -5.0);
    assert_eq!(among(&["zelkova-serrata", "ulmus-parvifolia"]), -4.0);
    assert_eq!(Facts { candidates: Candidates::Kind, ..elm }.roots().line.value.0, -3.0);
    assert_eq!(among(&["ficus-microcarpa"]), 12.0, "another kind counts as well");
}

#[test]
fn a_cut_root_is_never_as_hardy_as_an_old_one_and_comes_back_by_steps() {
    for taxon in TAXA {
        for stage in [Stage::Dormant, Stage::Full] {
            let of = |roots| Facts { roots, ..facts(taxon.key, stage) }.roots().line.value.0;
            let steps = [RootAge::Old, RootAge::FirstWinter, RootAge::Settling, RootAge::Fresh].map(of);
            assert!(steps.is_sorted(), "{}: {steps:?}", taxon.key);
            assert!(steps[3] >= 1.0, "{}: a fresh cut may freeze: {steps:?}", taxon.key);
            if stage == Stage::Dormant {
                assert!(steps[1] > steps[0], "{}: {steps:?}", taxon.key);
            }
        }
    }
}

#[test]
fn a_fig_needs_warmth_at_any_stage() {
    let fig = Facts { stage: None, ..facts("ficus-benjamina", Stage::Dormant) };
    assert_eq!((line(fig.above()), fig.roots().line.value.0), (10.0, 12.0));
}

#[test]
fn the_stage_to_protect_follows_the_spread_and_never_falls_behind_what_was_seen() {
    let sure = |rank: usize| std::array::from_fn(|at| f64::from(u8::from(at == rank)));
    for (rank, stage) in Stage::ALL.into_iter().enumerate() {
        assert_eq!(stage_to_protect(&sure(rank), None), stage);
        for seen in Stage::ALL {
            assert_eq!(stage_to_protect(&sure(rank), Some(seen)), stage.max(seen));
        }
    }
    let spread = [0.55, 0.2, 0.16, 0.06, 0.03, 0.0, 0.0, 0.0, 0.0];
    assert_eq!(stage_to_protect(&spread, None), Stage::Full, "9 in 100 are no one in ten");
}
