//! What speaks against a plan: each finding from the words of a case file that bring it up.

use tautline::calc::precautions::Level;
use tautline::calc::{self, Plan};

use crate::demo;

const BASE: &str = "quarry-bend-left-flexion";

/// The plan of the base case with some of its text replaced.
#[track_caller]
fn plan(changes: &[(&str, &str)]) -> Plan {
    calc::plan(&demo::read(&demo::edited(BASE, changes)))
}

/// Holds that the changes, and nothing before them, bring up a finding of this weight.
#[track_caller]
fn finds(changes: &[(&str, &str)], id: &str, level: Level) {
    let before = demo::plan(BASE);
    assert!(!before.findings.iter().any(|it| it.id == id && it.level == level), "{id} anyhow");
    let plan = plan(changes);
    let found = plan.findings.iter().find(|it| it.id == id);
    let found = found.unwrap_or_else(|| panic!("no `{id}` in {:#?}", plan.findings));
    assert_eq!(found.level, level);
    assert!(!found.text.is_empty() && !found.action.is_empty() && !found.title.is_empty());
    assert_eq!(plan.is_withheld(), level == Level::Stop, "{id}");
}

const CLEARED: &str = "cleared_for_stretch: { by: Dr. P. Anand, date: 2026-04-08 }";

#[test]
fn history_that_stops() {
    use Level::Stop;
    finds(&[("bone: healed ", "bone: unstable ")], "bone-unstable", Stop);
    finds(&[("bone: healed ", "bone: healing "), (CLEARED, "")], "bone-not-cleared", Stop);
    finds(&[("end_feel: firm", "end_feel: hard")], "end-feel-hard", Stop);
    finds(&[("skin: intact", "skin: open")], "skin-open", Stop);
    finds(&[("sensation: normal", "sensation: absent")], "sensation-absent", Stop);
    finds(&[("swelling: mild", "swelling: marked")], "swelling-marked", Stop);
    finds(&[("rest_pain: 1", "rest_pain: 8")], "rest-pain-high", Stop);
    finds(&[("conditions: []", "conditions: [infection]")], "infection", Stop);
    let pain = [("conditions: []", "conditions: [complex_regional_pain]")];
    finds(&pain, "complex-regional-pain", Stop);
    finds(&[("injury: 2026-01-12", "injury: 2026-03-10")], "too-early", Stop);
}

#[test]
fn history_that_asks_for_care() {
    use Level::{Caution, Note};
    let with = |condition: &str| format!("conditions: [{condition}]");
    finds(&[("bone: healed ", "bone: healing ")], "bone-healing", Caution);
    finds(&[("sensation: normal", "sensation: reduced")], "sensation-reduced", Caution);
    finds(&[("skin: intact", "skin: fragile")], "skin-fragile", Caution);
    finds(&[("rest_pain: 1", "rest_pain: 4")], "rest-pain", Caution);
    finds(&[("injury: 2026-01-12", "injury: 2026-02-20")], "early", Caution);
    finds(&[("age: 57", "age: 15")], "growing", Caution);
    for (word, id) in [
        ("diabetes", "diabetes"),
        ("blood_thinners", "blood-thinners"),
        ("osteoporosis", "osteoporosis"),
        ("inflammatory_arthritis", "inflammatory-arthritis"),
        ("heterotopic_ossification", "heterotopic-ossification"),
        ("nerve_compression", "median-nerve-flexion"),
        ("other: gout", "other-condition"),
    ] {
        finds(&[("conditions: []", &with(word))], id, Caution);
    }
    finds(&[("end_feel: firm", "end_feel: soft")], "end-feel-soft", Note);
}

/// Keir PJ et al. Hum Factors 2007;49(1):88-99: 75 % of healthy wrists stay below 30 mmHg up to
/// 48.6° of flexion and 32.7° of extension.
#[test]
fn median_nerve_is_watched_past_the_published_angles() {
    let watched = |goal: &str| {
        let plan = plan(&[("goal: 60", goal)]);
        plan.findings.iter().any(|it| it.id == "median-nerve-flexion")
    };
    assert!(!watched("goal: 48.5"));
    assert!(watched("goal: 48.7"));
    let text = demo::edited("saltmarsh-right-extension", &[("goal: 32", "goal: 33")]);
    let plan = calc::plan(&demo::read(&text));
    assert!(plan.findings.iter().any(|it| it.id == "median-nerve-extension"));
    let plan = demo::plan("saltmarsh-right-extension");
    assert!(!plan.findings.iter().any(|it| it.id == "median-nerve-extension"));
}

/// One surgeon's protocols (eatonhand.com/thr/thr074, e-hand.com/thr/thr066): a flexor repair may be
/// stretched passively from week 5, an extensor repair by splint from week 6, both freely from 12.
#[test]
fn a_repaired_tendon_gates_the_pull_that_strains_it() {
    let repair = |tendon: &str, day: &str| {
        format!("conditions: [ {{ tendon_repair: {{ tendon: {tendon}, date: {day} }} }} ]")
    };
    let base = "conditions: []";
    // Flexion pulls an extensor tendon taut. Prepared 2026-04-13.
    finds(&[(base, &repair("extensor", "2026-03-16"))], "tendon-too-early-extensor", Level::Stop);
    finds(&[(base, &repair("extensor", "2026-03-01"))], "tendon-repair-extensor", Level::Caution);
    finds(&[(base, &repair("flexor", "2026-03-25"))], "tendon-repair-flexor", Level::Caution);
    let long_ago = plan(&[(base, &repair("extensor", "2026-01-15"))]);
    assert!(!long_ago.findings.iter().any(|it| it.id.starts_with("tendon")));
}

#[test]
fn a_goal_that_no_loop_reaches_stops_and_says_why() {
    let changes = [("length: 90 mm, width", "length: 46 mm, width"), ("goal: 60", "goal: 90")];
    finds(&changes, "goal-not-reached-flexion", Level::Stop);
    let plan = plan(&changes);
    let found = plan.findings.iter().find(|it| it.id == "goal-not-reached-flexion").unwrap();
    assert!(found.text.contains("90°") && found.text.contains("room"), "{}", found.text);
    assert!(found.action.contains("strip"), "{}", found.action);
}

#[test]
fn an_override_with_who_when_and_why_lets_the_papers_through() {
    let answer = "overrides:\n  - finding: end-feel-hard\n    by: Dr. P. Anand\n    \
                  date: 2026-04-10\n    why: Films show no block\nlimb:";
    let plan = plan(&[("end_feel: firm", "end_feel: hard"), ("\nlimb:", &format!("\n{answer}"))]);
    let found = plan.findings.iter().find(|it| it.id == "end-feel-hard").unwrap();
    assert_eq!(found.level, Level::Stop, "an override does not change the weight");
    assert_eq!(found.answer.as_ref().map(|it| it.by.as_str()), Some("Dr. P. Anand"));
    assert!(!plan.is_withheld());
}

#[test]
fn an_override_of_nothing_is_pointed_out() {
    let answer = "overrides:\n  - finding: end-feel-heard\n    by: Dr. P. Anand\n    \
                  date: 2026-04-10\n    why: Films show no block\nlimb:";
    let plan = plan(&[("end_feel: firm", "end_feel: hard"), ("\nlimb:", &format!("\n{answer}"))]);
    assert!(plan.is_withheld(), "a misspelt override lets nothing through");
    assert!(plan.findings.iter().any(|it| it.id == "override-idle"));
}

/// The weightiest stand first, and every finding says what it rests on.
#[test]
fn findings_are_ordered_and_grounded() {
    for path in demo::files() {
        let plan = calc::plan(&demo::read(&std::fs::read_to_string(path).unwrap()));
        assert!(plan.findings.is_sorted_by_key(|it| it.level));
        assert!(plan.findings.iter().all(|it| !it.ground.words().is_empty()));
        assert!(!plan.findings.is_empty());
    }
}
