//! The rules of the trade: their spans and verdicts, and the worked tree read by them.
//!
//! `proportions.json` of the reference set (no authority stands behind most rules; each carries its standing).

mod vector;

use std::collections::BTreeSet;

use form::{
    reading::{Beside, Finding, Pot, read},
    rules::{RULES, RuleId},
};
use measure::{quantity::Millimetre, sourced::Standing};
use vector::{counted, json, not_ours, number, rows, words, worked_tree};

#[test]
fn rules_and_verdicts_are_those_of_the_reference_set() {
    let Some(file) = json("form/proportions.json") else { return };
    let (mut rules, mut verdicts) = (0, 0);
    for row in rows(&file["rules"]) {
        let Some(rule) = RULES.iter().find(|rule| rule.key == words(row, "id")) else {
            not_ours(words(row, "id"));
            continue;
        };
        rules += 1;
        let span =
            [number(row, "target"), row["range"][0].as_f64().unwrap(), row["range"][1].as_f64().unwrap()];
        assert_eq!([rule.target, rule.low, rule.high], span, "{}", rule.key);
        let practice = row["status"].as_str().unwrap().starts_with("common practice");
        assert_eq!(practice, !matches!(rule.standing, Standing::Estimate(_)), "{}", rule.key);
    }
    for test in rows(&file["tests"]) {
        let Some(rule) = RuleId::of(words(test, "rule")).map(RuleId::rule) else {
            not_ours(words(test, "rule"));
            continue;
        };
        verdicts += 1;
        assert_eq!(rule.keeps(number(test, "value")), test["verdict"] == "inside", "{test}");
    }
    counted("form/proportions.json: rules", rules, 15);
    counted("form/proportions.json: verdicts", verdicts, 9);
}

fn worked(beside: &Beside) -> Vec<Finding> {
    read(&worked_tree().0, beside)
}

fn one(told: &[Finding], rule: RuleId) -> &Finding {
    told.iter().find(|finding| finding.rule == rule).unwrap_or_else(|| panic!("{rule:?}"))
}

#[test]
fn the_worked_tree_is_read_limb_by_limb() {
    let (tree, names) = worked_tree();
    let pot = Pot { length: Millimetre(150.0), depth: Millimetre(27.0), round: false, cascade: false };
    let told = worked(&Beside { flare: Some(Millimetre(87.5)), pot: Some(pot), off: BTreeSet::new() });
    let axis = |name: &str| tree.segments()[names.iter().position(|own| own == name).unwrap()].axis;
    // Two of the reference set's own test values: pot depth 27/42 and flare 87.5/42.
    let depth = one(&told, RuleId::PotDepth);
    assert!((depth.value - 0.642_857).abs() < 1e-6 && !depth.keeps);
    assert!((one(&told, RuleId::NebariSpread).value - 2.083_333).abs() < 1e-6);
    // One third: p1a, 14 on 36, and the lowest primary is p1a.
    let ratio =
        told.iter().find(|finding| finding.rule == RuleId::BranchToTrunk && finding.limbs == [axis("p1a")]);
    assert!((ratio.unwrap().value - 14.0 / 36.0).abs() < 1e-12);
    assert_eq!(one(&told, RuleId::FirstBranch).limbs, [axis("p1a")]);
    // Every branching point of the reference set is a finding.
    assert_eq!(told.iter().filter(|finding| finding.rule == RuleId::BranchingPoint).count(), 8);
    let crowded = one(&told, RuleId::CrowdedNode);
    assert!((crowded.value - 0.985_867_768_6).abs() < 1e-9 && crowded.keeps);
    assert!(told.iter().all(|finding| finding.rule != RuleId::ReverseTaper));
}

#[test]
fn a_rule_that_is_off_is_not_read() {
    let off: BTreeSet<RuleId> = [RuleId::BranchingPoint, RuleId::Golden].into();
    let told = worked(&Beside { off: off.clone(), ..Beside::default() });
    assert!(!told.is_empty() && told.iter().all(|finding| !off.contains(&finding.rule)));
    assert_eq!(
        worked(&Beside::default()).iter().filter(|finding| !off.contains(&finding.rule)).count(),
        told.len()
    );
}

#[test]
fn a_bulge_is_pointed_at() {
    let (tree, names) = worked_tree();
    let at = names.iter().position(|own| own == "t3").unwrap();
    let mut segments = tree.segments().to_vec();
    segments[at].base = Millimetre(30.0);
    let bulged = form::skeleton::Skeleton::new(segments).unwrap();
    let told = read(&bulged, &Beside::default());
    let bulge = one(&told, RuleId::ReverseTaper);
    assert_eq!((bulge.segment, bulge.keeps), (Some(at), false));
}
