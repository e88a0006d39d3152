//! Findings from the course, each just before and just behind its limit.

use tautline::calc;
use tautline::calc::Plan;
use tautline::calc::advice::{Next, Reason};
use tautline::calc::precautions::{Finding, Level};
use tautline::calc::trend::trend;
use tautline::units::Angle;

use crate::demo;
use crate::visits::with;

fn plan(visits: &str, more: &[(&str, &str)]) -> Plan {
    calc::plan(&with(visits, more))
}

fn find<'a>(plan: &'a Plan, id: &str) -> Option<&'a Finding> {
    plan.findings.iter().find(|it| it.id == id)
}

/// Holds that the first course does not bring a finding up and that the second does, at this weight.
#[track_caller]
fn turns(id: &str, level: Level, before: &Plan, behind: &Plan) {
    assert!(find(before, id).is_none(), "{id} too early");
    let found = find(behind, id).unwrap_or_else(|| panic!("no {id}: {:#?}", behind.findings));
    assert_eq!(found.level, level, "{id}");
    assert!(!found.text.is_empty() && !found.action.is_empty(), "{id}");
    assert_eq!(behind.is_withheld(), level == Level::Stop, "{id}");
}

fn seen(keys: &str) -> Plan {
    plan(&format!("visits: [ {{ date: 2026-04-20, {keys} }} ]"), &[])
}

/// 2.77 · 5° = 13.85° below the best of 25° and 40°.
#[test]
fn range_lost_stops() {
    let two = |newest: &str| {
        plan(
            &format!(
                "visits: [ {{ date: 2026-04-20, passive: {{ flexion: 40 }} }}, \
                 {{ date: 2026-04-27, passive: {{ flexion: {newest} }} }} ]"
            ),
            &[],
        )
    };
    turns("range-lost-flexion", Level::Stop, &two("26.2"), &two("26.1"));
}

#[test]
fn skin_stops_or_asks_for_care() {
    turns("skin-broken", Level::Stop, &seen("skin: red_long"), &seen("skin: broken"));
    turns("redness-stays", Level::Caution, &seen("skin: red_briefly"), &seen("skin: red_long"));
}

/// Pain at rest is weighed when it was last asked, not before the first stretch.
#[test]
fn pain_at_rest_is_the_newest() {
    turns("rest-pain", Level::Caution, &seen("pain: { rest: 3 }"), &seen("pain: { rest: 4 }"));
    turns("rest-pain-high", Level::Stop, &seen("pain: { rest: 5 }"), &seen("pain: { rest: 6 }"));
    let sore = [("rest_pain: 1", "rest_pain: 8")];
    let better = plan("visits: [ { date: 2026-04-20, pain: { rest: 1 } } ]", &sore);
    assert!(find(&better, "rest-pain-high").is_none());
    let not_asked = plan("visits: [ { date: 2026-04-20, pain: { worn: 1 } } ]", &sore);
    assert!(find(&not_asked, "rest-pain-high").is_some());
}

#[test]
fn a_plateau_is_the_files_own_rule() {
    let course = |last_day: &str, last: &str, rule: &str| {
        plan(
            &format!(
                "visits:\n  - {{ date: 2026-04-20, passive: {{ flexion: 35 }} }}\n  \
                 - {{ date: 2026-05-04, passive: {{ flexion: 42 }} }}\n  \
                 - {{ date: {last_day}, passive: {{ flexion: {last} }} }}\n{rule}"
            ),
            &[],
        )
    };
    let rule = "plateau: { weeks: 4, degrees: 5 }";
    let id = "plateau-flexion";
    let met = course("2026-05-18", "40", rule);
    turns(id, Level::Note, &course("2026-05-18", "40.1", rule), &met);
    // A range that falls grows no more either.
    assert!(find(&course("2026-05-18", "29.9", rule), id).is_some());
    // 27 days are not four weeks: the change is then taken from 13 April, 25 to 40 degrees.
    turns(id, Level::Note, &course("2026-05-17", "40", rule), &met);
    turns(id, Level::Note, &course("2026-05-18", "40", ""), &met);
    let text = &find(&met, id).unwrap().text;
    for told in ["20 Apr 2026", "18 May 2026", "5°", "4 weeks"] {
        assert!(text.contains(told), "{told}: {text}");
    }
    // Who is at the goal stands still on purpose.
    let done = "visits:\n  - { date: 2026-04-20, passive: { flexion: 60 } }\n  \
                - { date: 2026-05-18, passive: { flexion: 60 } }\nplateau: { weeks: 4, degrees: 5 }";
    assert!(find(&plan(done, &[]), id).is_none());
    assert!(find(&plan(&done.replace("60", "59.9"), &[]), id).is_some());
}

#[test]
fn a_goal_reached_is_noted() {
    let id = "goal-reached-flexion";
    let (before, behind) = (seen("passive: { flexion: 59.9 }"), seen("passive: { flexion: 60 }"));
    turns(id, Level::Note, &before, &behind);
}

/// Six weeks from 13 April end on 24 May.
#[test]
fn papers_after_the_last_day_of_wear_are_withheld() {
    let printed = |day: &str| {
        let prepared = format!("prepared: {day}");
        let on = [("prepared: 2026-05-18", prepared.as_str())];
        plan("visits: [ { date: 2026-04-20, skin: clear } ]", &on)
    };
    turns("wear-over", Level::Stop, &printed("2026-05-24"), &printed("2026-05-25"));
}

const LONG_LOOP: (&str, &str) = (
    "tail: 40 mm }",
    "tail: 40 mm }\n      built: [ { loop: 1, from: 2026-04-13, flat: 217 mm } ]",
);

#[test]
fn a_new_loop_is_due_five_degrees_before_the_end() {
    let at = |flexion: f64| {
        let visits =
            format!("visits: [ {{ date: 2026-04-20, passive: {{ flexion: {flexion} }} }} ]");
        plan(&visits, &[LONG_LOOP])
    };
    let end = at(30.0).pulls[0].in_use.unwrap().to.to_degrees();
    turns("new-loop-flexion", Level::Note, &at(end - 5.01), &at(end - 4.99));
    // A loop that no longer reaches today's range at all is due for another as well.
    assert!(find(&at(end + 1.0), "new-loop-flexion").is_some());
}

/// A loop that rests past today's range is not worn on, and the plan has a longer one; a loop that is slack
/// everywhere was measured wrongly.
#[test]
fn a_loop_must_fit_todays_range() {
    let at = |flexion: f64| {
        let visits =
            format!("visits: [ {{ date: 2026-04-20, passive: {{ flexion: {flexion} }} }} ]");
        plan(&visits, &[LONG_LOOP])
    };
    let rest = at(30.0).pulls[0].in_use.unwrap().from.to_degrees();
    let (before, behind) = (at(rest + 0.01), at(rest - 0.01));
    turns("loop-too-short-flexion", Level::Stop, &before, &behind);
    let longer = &behind.pulls[0].loops[0];
    assert!(!longer.is_in_use && longer.number == 2 && longer.marks[0].number == 0);
    assert!(longer.line > before.pulls[0].loops[0].line);
    let flat = |it: &str| {
        let built =
            format!("tail: 40 mm }}\n      built: [ {{ loop: 1, from: 2026-04-13, flat: {it} }} ]");
        plan("visits: [ { date: 2026-04-20 } ]", &[("tail: 40 mm }", &built)])
    };
    turns("loop-slack-flexion", Level::Stop, &flat("217 mm"), &flat("900 mm"));
}

/// One tab reading that would move today's mark by more than a step stops the papers; one that makes the pull
/// easier does not.
#[test]
fn a_tab_that_moves_the_marks_is_proved_first() {
    let tab = |place: f64| {
        let seen = format!(
            "passive: {{ flexion: 30 }}, tab: [ {{ pull: flexion, angle: 30, place: {place:.4} mm }} ]"
        );
        plan(&format!("visits: [ {{ date: 2026-04-20, {seen} }} ]"), &[LONG_LOOP])
    };
    let by_length =
        plan("visits: [ { date: 2026-04-20, passive: { flexion: 30 } } ]", &[LONG_LOOP]);
    let mark = &by_length.pulls[0].loops[0].marks[0];
    let (place, step) = (mark.place.to_mm(), mark.per_degree.to_mm() * 5.0);
    let is_moved = |at: f64| find(&tab(at), "marks-moved-flexion").is_some();
    // The step is told by the slope at the moved mark, which is a little steeper.
    assert!(!is_moved(place) && !is_moved(place + 0.9 * step) && is_moved(place + 1.3 * step));
    assert!(!is_moved(place - 1.3 * step));
    let stopped = tab(place + 1.3 * step);
    assert!(stopped.is_withheld());
}

/// The whole loop's length given for the half that is wanted: the tab tells otherwise.
#[test]
fn a_length_that_the_tab_denies_is_measured_again() {
    let flat = |flat: f64| {
        let built = format!(
            "tail: 40 mm }}\n      built: [ {{ loop: 1, from: 2026-04-13, flat: {flat} mm }} ]"
        );
        let visits = "visits: [ { date: 2026-04-20, passive: { flexion: 30 }, \
                      tab: [ { pull: flexion, angle: 30, place: 8.4 mm } ] } ]";
        plan(visits, &[("tail: 40 mm }", &built)])
    };
    let is_doubted = |it: &Plan| find(it, "flat-disagrees-flexion").is_some();
    assert!(!is_doubted(&flat(195.9)) && is_doubted(&flat(2.0 * 195.9)));
}

/// Past the angle that waits for the doctor's word there is no mark to give out.
#[test]
fn a_range_past_the_hold_asks_the_doctor() {
    let at = |flexion: f64| {
        let visits =
            format!("visits: [ {{ date: 2026-04-20, passive: {{ flexion: {flexion} }} }} ]");
        plan(&visits, &[("goal: 60", "goal: 60\n      hold: 40")])
    };
    turns("past-hold-flexion", Level::Stop, &at(40.0), &at(40.1));
}

/// A week at 120 minutes a day is 840.
#[test]
fn a_log_over_the_daily_limit_asks_for_care() {
    let worn = |minutes: u32| seen(&format!("worn: {{ sessions: 21, minutes: {minutes} }}"));
    turns("worn-too-much", Level::Caution, &worn(840), &worn(841));
}

/// Two standard deviations of the plan's own spread, either way.
#[test]
fn a_tab_off_the_plan_is_measured_again() {
    let built = [(
        "tail: 40 mm }",
        "tail: 40 mm }\n      built: [ { loop: 1, from: 2026-04-13, flat: 196 mm } ]",
    )];
    let tab = |place: f64| {
        let seen = format!("tab: [ {{ pull: flexion, angle: 45, place: {place:.6} mm }} ]");
        plan(&format!("visits: [ {{ date: 2026-04-20, {seen} }} ]"), &built)
    };
    let planned = plan("visits: [ { date: 2026-04-20 } ]", &built);
    let fit = planned.pulls[0].as_built.as_ref().unwrap();
    let foreseen = fit.place_at(Angle::degrees(45.0)).to_mm();
    let on_plan = tab(foreseen);
    let point = &on_plan.pulls[0].as_built.as_ref().unwrap().points[0];
    assert!(point.off_plan.to_mm().abs() < 1e-5);
    let limit = 2.0 * point.planned_spread.to_mm();
    assert!(limit > 5.0, "{limit}");
    for side in [1.0, -1.0] {
        let (before, behind) =
            (tab(foreseen + side * (limit - 0.01)), tab(foreseen + side * (limit + 0.01)));
        // The tab so far off sets a loop that may not fit the wrist: other findings come along.
        assert!(find(&before, "measure-again-flexion").is_none());
        let found = find(&behind, "measure-again-flexion").expect("a tab off the plan");
        assert_eq!(found.level, Level::Caution);
    }
    let off = tab(foreseen + limit + 1.0);
    let found = find(&off, "measure-again-flexion").unwrap();
    assert!(found.text.contains(&format!("{:.1} mm", limit + 1.0)), "{}", found.text);
    assert!(found.action.starts_with("Take again: the "), "{}", found.action);
}

/// A visit like the one before it adds nothing to what was found before.
#[test]
fn a_good_course_brings_nothing_up() {
    let ids = |plan: &Plan| plan.findings.iter().map(|it| it.id.clone()).collect::<Vec<_>>();
    let good = "passive: { flexion: 25 }, skin: clear, pain: { rest: 1, worn: 2 }, \
                worn: { sessions: 20, minutes: 700 }, scores: { dash: 30 }";
    // But that the loop that is worn is not on file.
    let mut found = ids(&seen(good));
    found.retain(|it| it != "loop-not-on-file");
    assert_eq!(found, ids(&plan("visits: []", &[])));
}

/// Visits say that a loop is worn; without its length no mark is sure to fit it.
#[test]
fn a_worn_loop_that_is_not_on_file_is_asked_for() {
    let visits = "visits: [ { date: 2026-04-20, passive: { flexion: 30 } } ]";
    turns("loop-not-on-file", Level::Caution, &plan(visits, &[LONG_LOOP]), &plan(visits, &[]));
    assert!(find(&plan("visits: []", &[]), "loop-not-on-file").is_none());
}

/// What a visit finds of sensation, swelling and end feel counts from then on.
#[test]
fn the_newest_sensation_swelling_and_end_feel_count() {
    let seen = |keys: &str, later: &str| {
        plan(
            &format!("visits: [ {{ date: 2026-04-20, {keys} }}, {{ date: 2026-04-27, {later} }} ]"),
            &[],
        )
    };
    for (bad, good, id, level) in [
        ("sensation: absent", "sensation: normal", "sensation-absent", Level::Stop),
        ("sensation: reduced", "sensation: normal", "sensation-reduced", Level::Caution),
        ("swelling: marked", "swelling: none", "swelling-marked", Level::Stop),
        ("end_feel: hard", "end_feel: firm", "end-feel-hard", Level::Stop),
    ] {
        turns(id, level, &seen(bad, good), &seen(good, bad));
        // What a later visit did not look at stays as it was.
        assert!(find(&seen(bad, "remark: in a hurry"), id).is_some(), "{id}");
    }
}

/// What is suggested for the base case's one pull.
fn advised(plan: &Plan) -> (Next, Vec<Reason>) {
    let advice = &plan.course.as_ref().unwrap().advice[0];
    (advice.next, advice.reasons.clone())
}

/// Each stop asks for what mends it, by its own name; only what is the doctor's goes back to the doctor.
#[test]
fn a_stop_is_named_with_what_mends_it() {
    let visit = |more: &str| {
        format!("visits: [ {{ date: 2026-04-20, skin: clear, pain: {{ rest: 1 }}, {more} }} ]")
    };
    let at =
        |flexion: f64| plan(&visit(&format!("passive: {{ flexion: {flexion} }}")), &[LONG_LOOP]);
    // A shorter loop rests within reach of what the wrist had.
    let flat = LONG_LOOP.1.replace("217 mm", "172 mm");
    let shorter = |flexion: f64| {
        let visit = visit(&format!("passive: {{ flexion: {flexion} }}"));
        plan(&visit, &[(LONG_LOOP.0, flat.as_str())])
    };
    let rest = shorter(59.0).pulls[0].in_use.unwrap().from.to_degrees();
    let (next, reasons) = advised(&shorter(rest - 1.0));
    assert_eq!(next, Next::LongerLoop, "{reasons:?}");
    assert!(matches!(reasons[..], [Reason::LoopTooShort { .. }, ..]), "{reasons:?}");
    let over = [("prepared: 2026-05-18", "prepared: 2026-05-25")];
    let told = advised(&plan(&visit("passive: { flexion: 29 }"), &over));
    assert_eq!(told, (Next::SetCourse, vec![Reason::Stop { title: "Wear plan over" }]));
    let mark = at(30.0).pulls[0].loops[0].marks[0].clone();
    let place = (mark.place + mark.per_degree * 6.5).to_mm();
    let moved = plan(
        &visit(&format!(
            "passive: {{ flexion: 30 }}, tab: [ {{ pull: flexion, angle: 30, place: {place:.3} mm }} ]"
        )),
        &[LONG_LOOP],
    );
    assert_eq!(advised(&moved), (Next::MeasureAgain, vec![Reason::Stop { title: "Marks moved" }]));
    let past =
        plan(&visit("passive: { flexion: 45 }"), &[("goal: 60", "goal: 60\n      hold: 40")]);
    assert_eq!(advised(&past).0, Next::DoctorsWord);
    // A stop of the history has no cure in the clinic.
    let hard = plan(&visit("passive: { flexion: 29 }"), &[("end_feel: firm", "end_feel: hard")]);
    let (next, reasons) = advised(&hard);
    assert_eq!(next, Next::ReferBack);
    assert!(matches!(reasons[..], [Reason::Stop { .. }]), "{reasons:?}");
}

/// A stop that the doctor answered no longer decides, and stays in sight.
#[test]
fn an_answered_stop_is_told_beside_what_is_suggested() {
    let answer = "overrides:\n  - { finding: skin-broken, by: Dr. P. Anand, date: 2026-04-21, why: A graze from gardening }";
    let visits = format!(
        "visits: [ {{ date: 2026-04-20, passive: {{ flexion: 29 }}, skin: broken, pain: {{ rest: 1 }} }} ]\n{answer}"
    );
    let plan = plan(&visits, &[]);
    let advice = &plan.course.as_ref().unwrap().advice[0];
    assert_eq!((advice.next, &advice.reasons[..]), (Next::EaseOff, &[Reason::SkinBroken][..]));
    assert_eq!(advice.yet, [Reason::Answered { title: "Skin broken" }]);
}

/// The need is looked at before the last day of wear, 24 May.
#[test]
fn a_recheck_after_the_last_day_of_wear_is_noted() {
    let on = |day: &str| {
        let recheck = format!("\n  recheck: {day}\n  diagnosis:");
        plan("visits: [ { date: 2026-04-20 } ]", &[("\n  diagnosis:", &recheck)])
    };
    turns("recheck-late", Level::Note, &on("2026-05-24"), &on("2026-05-25"));
}

/// A stop of the course gives way to a decision that is on file, as every other stop does.
#[test]
fn a_stop_of_the_course_can_be_answered() {
    let answer = "overrides:\n  - { finding: skin-broken, by: Dr. P. Anand, date: 2026-04-21, why: A graze from gardening }";
    let visits = format!("visits: [ {{ date: 2026-04-20, skin: broken }} ]\n{answer}");
    let plan = plan(&visits, &[]);
    assert!(find(&plan, "skin-broken").unwrap().answer.is_some());
    assert!(!plan.is_withheld());
}

/// What the three demo courses are there to show.
#[test]
fn the_demos_show_their_course() {
    let stops = |plan: &Plan| {
        let stops = plan.findings.iter().filter(|it| it.level == Level::Stop);
        stops.map(|it| it.id.clone()).collect::<Vec<_>>()
    };
    let case = demo::case("orchard-lane-new-loop");
    let rising = calc::plan(&case);
    let points = rising.pulls[0].points(&case);
    assert_eq!(points.len(), 7, "the fit and six visits");
    let slope = trend(&points).unwrap().slope.to_degrees_per_week();
    assert!((2.5..4.0).contains(&slope), "{slope}° a week");
    assert!(!rising.is_withheld());
    assert_eq!(rising.pulls[0].in_use.map(|it| it.number), Some(2));
    assert!(rising.findings.iter().all(|it| !it.id.starts_with("measure-again")));
    let level = demo::plan("ropewalk-plateau");
    assert!(find(&level, "plateau-extension").is_some() && !level.is_withheld());
    let stopped = demo::plan("chalk-pit-stopped");
    assert_eq!(
        stops(&stopped),
        ["rest-pain-high", "skin-broken", "range-lost-flexion", "loop-too-short-flexion"]
    );
    assert!(stopped.is_withheld());
}
