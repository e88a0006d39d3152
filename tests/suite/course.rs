//! The course: dose beside plan, scores, and what is suggested, each just before and just behind its limit.

use jiff::civil::{Date, date};
use tautline::calc;
use tautline::calc::advice::{Advice, Course, Look, Looked, Next, Reason, WornOf};
use tautline::calc::course::Score;
use tautline::case::{Direction, SkinSeen};
use tautline::units::Angle;

use crate::demo;
use crate::visits::with;

#[track_caller]
fn course(visits: &str, more: &[(&str, &str)]) -> Course {
    calc::plan(&with(visits, more)).course.expect("a course")
}

/// The advice for the base case's one pull.
#[track_caller]
pub fn advice(visits: &str, more: &[(&str, &str)]) -> Advice {
    let course = course(visits, more);
    let [only] = &course.advice[..] else { panic!("one pull, {:?}", course.advice) };
    assert_eq!(only.pull, Direction::Flexion);
    only.clone()
}

/// One visit a week after the base course starts.
pub fn visit(keys: &str) -> String {
    format!("visits: [ {{ {} }} ]", looked_at(&format!("date: 2026-04-20, {keys}")))
}

/// Skin clear and pain 1 at rest, where the keys say nothing of them.
fn looked_at(keys: &str) -> String {
    let mut keys = keys.to_owned();
    for (key, value) in [("skin:", "skin: clear"), ("pain:", "pain: { rest: 1 }")] {
        if !keys.contains(key) {
            keys.push_str(&format!(", {value}"));
        }
    }
    keys
}

/// Nothing holds the course up; `unseen` is the way that was not measured.
fn clear(unseen: Option<Direction>) -> Vec<Reason> {
    vec![Reason::Looked(Looked { skin: SkinSeen::Clear, pain: 1, worn: WornOf::NoLog, unseen })]
}

/// By hand: from 13 April four days of 3 × 30, four of 3 × 40, four of 2 × 50, then 2 × 60 to 24 May, six
/// weeks in all. The day of a visit counts to the time after it.
#[test]
fn planned_minutes_are_reckoned_from_the_wear_plan() {
    let visits = "\
visits:
  - date: 2026-04-20
    worn: { sessions: 20, minutes: 640 }
  - date: 2026-04-27
  - date: 2026-04-28
    worn: { sessions: 0, minutes: 0 }
  - date: 2026-06-01
    worn: { sessions: 50, minutes: 3000 }
  - date: 2026-06-15
    worn: { sessions: 3, minutes: 180 }";
    let late = [("prepared: 2026-05-18", "prepared: 2026-06-29")];
    let doses = course(visits, &late).doses;
    let planned: Vec<(Date, Date, u32)> =
        doses.iter().map(|it| (it.from, it.to, it.planned)).collect();
    let days = [
        date(2026, 4, 13),
        date(2026, 4, 20),
        date(2026, 4, 27),
        date(2026, 4, 28),
        date(2026, 6, 1),
        date(2026, 6, 15),
    ];
    let by_hand = [
        4 * 90 + 3 * 120,        // 13 to 19 April
        120 + 4 * 100 + 2 * 120, // 20 to 26 April
        120,                     // 27 April
        (3 + 24) * 120,          // 28 April to 24 May, then nothing
        0,                       // after the course
    ];
    let expected: Vec<(Date, Date, u32)> =
        (0..5).map(|it| (days[it], days[it + 1], by_hand[it])).collect();
    assert_eq!(planned, expected);
    let worn: Vec<Option<(u32, u32)>> = doses.iter().map(|it| it.sessions.zip(it.worn)).collect();
    assert_eq!(worn, [Some((20, 640)), None, Some((0, 0)), Some((50, 3000)), Some((3, 180))]);
    // Wear ran on past 24 May: from then on nothing was planned beside it.
    let past: Vec<bool> = doses.iter().map(|it| it.is_past_plan).collect();
    assert_eq!(past, [false, false, false, true, true]);
    let adherence: Vec<Option<f64>> = doses.iter().map(calc::course::Dose::adherence).collect();
    let share = 640.0 / 720.0;
    assert_eq!(adherence, [Some(share), None, Some(0.0), None, None]);
}

#[test]
fn every_planned_minute_lies_between_two_visits() {
    for name in ["orchard-lane-new-loop", "ropewalk-plateau", "chalk-pit-stopped"] {
        let plan = demo::plan(name);
        let course = plan.course.unwrap();
        assert!(course.doses.windows(2).all(|pair| pair[0].to == pair[1].from), "{name}");
        let (first, last) = (course.doses[0].from, course.doses.last().unwrap().to);
        let planned: u32 = course.doses.iter().map(|it| it.planned).sum();
        assert_eq!(planned, plan.wear.minutes_between(first, last), "{name}");
    }
}

#[test]
fn scores_change_from_the_first_to_the_newest() {
    let visits = "\
visits:
  - { date: 2026-04-20, scores: { prwe: 60, dash: 41 } }
  - { date: 2026-04-27 }
  - { date: 2026-05-04, scores: { prwe: 63.5 } }
  - { date: 2026-05-11, scores: { prwe: 45.5, quick_dash: 20 } }";
    let course = course(visits, &[]);
    let told: Vec<(Score, usize, f64)> =
        course.scores.iter().map(|it| (it.score, it.totals.len(), it.change())).collect();
    assert_eq!(told, [(Score::Dash, 1, 0.0), (Score::QuickDash, 1, 0.0), (Score::Prwe, 3, -14.5)]);
    assert_eq!(course.scores[2].totals[1], (date(2026, 5, 4), 63.5));
    // Sorensen AA et al. J Hand Surg Am 2013;38:641-9.
    for (score, points) in [(Score::Dash, 10.0), (Score::QuickDash, 14.0), (Score::Prwe, 14.0)] {
        assert!((score.important() - points).abs() < f64::EPSILON, "{score:?}");
    }
}

#[test]
fn going_on_names_what_was_looked_at() {
    let told = advice(
        &visit(
            "passive: { flexion: 29 }, skin: red_briefly, pain: { rest: 1, worn: 3 }, worn: { sessions: 20, minutes: 648 }",
        ),
        &[],
    );
    assert_eq!(told.next, Next::MoveOn);
    let looked = Looked {
        skin: SkinSeen::RedBriefly,
        pain: 3,
        worn: WornOf::Share(648.0 / 720.0),
        unseen: Some(Direction::Extension),
    };
    assert_eq!(told.reasons, [Reason::Looked(looked)]);
    assert_eq!(told.yet, []);
}

/// What was not looked at speaks for nothing; what was asked at an earlier visit does not stand in.
#[test]
fn going_on_needs_range_skin_and_pain_of_the_newest_visit() {
    let whole = "passive: { flexion: 29 }, skin: clear, pain: { worn: 2 }";
    for (without, look) in [
        ("passive: { flexion: 29 }, ", Look::Range),
        ("skin: clear, ", Look::Skin),
        (", pain: { worn: 2 }", Look::Pain),
    ] {
        let visits = format!(
            "visits: [ {{ date: 2026-04-20, {whole} }}, {{ date: 2026-04-27, {} }} ]",
            whole.replace(without, "")
        );
        let told = advice(&visits, &[]);
        assert_eq!((told.next, told.reasons), (Next::Hold, vec![Reason::NotTaken(vec![look])]));
    }
    let bare = "visits: [ { date: 2026-04-20, remark: no time to measure } ]";
    let all = Reason::NotTaken(vec![Look::Range, Look::Skin, Look::Pain]);
    let told = advice(bare, &[]);
    assert_eq!((told.next, told.reasons), (Next::Hold, vec![all]));
}

/// 2.77 · 5° = 13.85° from the best, whenever that was.
#[test]
fn range_lost_refers_back() {
    let after = |newest: &str| {
        format!(
            "visits:\n  - {{ date: 2026-04-20, passive: {{ flexion: 40 }} }}\n  \
             - {{ date: 2026-04-27, passive: {{ flexion: 33 }} }}\n  \
             - {{ date: 2026-05-04, passive: {{ flexion: {newest} }}, skin: clear, pain: {{ rest: 1 }} }}"
        )
    };
    assert_eq!(advice(&after("26.2"), &[]).next, Next::MoveOn);
    let told = advice(&after("26.1"), &[]);
    assert_eq!(told.next, Next::ReferBack);
    let [Reason::RangeLost { by, error }] = told.reasons[..] else { panic!("{:?}", told.reasons) };
    assert!((by - Angle::degrees(13.9)).abs() < Angle::degrees(1e-9));
    assert!((error - Angle::degrees(13.85)).abs() < Angle::degrees(1e-9));
    // A surer goniometer tells a smaller loss: 2.77 · 2° = 5.54°.
    let surer = [("\nwear:\n", "\nmeasuring_error: { goniometer: 2 }\nwear:\n")];
    assert_eq!(advice(&after("34.5"), &surer).next, Next::MoveOn);
    assert_eq!(advice(&after("34.4"), &surer).next, Next::ReferBack);
    // Range lost the other way speaks of the other way alone.
    let other = "passive: { flexion: 29, extension: 20 }";
    let told = advice(&visit(other), &[]);
    assert!(told.reasons.iter().all(|it| !matches!(it, Reason::RangeLost { .. })), "{told:?}");
}

#[test]
fn skin_refers_back_or_eases_off() {
    for (word, next, reason) in [
        ("clear", Next::MoveOn, clear(Some(Direction::Extension)).remove(0)),
        ("red_long", Next::EaseOff, Reason::RednessStays),
        ("broken", Next::ReferBack, Reason::SkinBroken),
    ] {
        let told = advice(&visit(&format!("passive: {{ flexion: 29 }}, skin: {word}")), &[]);
        assert_eq!((told.next, told.reasons), (next, vec![reason]), "{word}");
    }
    let healed = "visits: [ { date: 2026-04-20, skin: broken }, { date: 2026-04-27, passive: { flexion: 29 }, skin: clear, pain: { rest: 1 } } ]";
    assert_eq!(advice(healed, &[]).next, Next::MoveOn);
}

#[test]
fn pain_that_rose_by_two_points_eases_off() {
    let two = |first: &str, second: &str| {
        format!(
            "visits: [ {{ date: 2026-04-20, pain: {{ {first} }} }}, {{ date: 2026-04-22 }}, \
             {{ date: 2026-04-27, passive: {{ flexion: 29 }}, skin: clear, pain: {{ {second} }} }} ]"
        )
    };
    for kind in ["rest", "worn"] {
        let pain = |of: u32| format!("{kind}: {of}");
        assert_eq!(advice(&two(&pain(2), &pain(2)), &[]).next, Next::MoveOn, "{kind}");
        assert_eq!(advice(&two(&pain(5), &pain(1)), &[]).next, Next::MoveOn, "{kind}");
        let told = advice(&two(&pain(2), &pain(4)), &[]);
        assert_eq!(told.next, Next::EaseOff, "{kind}");
        // At rest the history's 1 is the least.
        let least = if kind == "rest" { 1 } else { 2 };
        assert!(told.reasons.contains(&Reason::PainRose { from: least, to: 4 }), "{kind}");
    }
    // Rest and wear are two questions: one is not compared with the other.
    assert_eq!(advice(&two("rest: 1", "worn: 4"), &[]).next, Next::MoveOn);
    // A slow rise counts from the least told, before the first fit too: the base case has 1.
    assert_eq!(
        advice(&two("rest: 2", "rest: 3"), &[]).reasons,
        [Reason::PainRose { from: 1, to: 3 }]
    );
    // High pain eases off by itself.
    let high = |pain: &str| advice(&two(pain, pain), &[]).next;
    assert_eq!((high("worn: 4"), high("worn: 5")), (Next::MoveOn, Next::EaseOff));
}

/// Half of the 720 minutes planned for the first week is 360.
#[test]
fn little_worn_holds() {
    let worn = |minutes: u32| {
        visit(&format!("passive: {{ flexion: 29 }}, worn: {{ sessions: 12, minutes: {minutes} }}"))
    };
    assert_eq!(advice(&worn(360), &[]).next, Next::MoveOn);
    let told = advice(&worn(359), &[]);
    assert_eq!(told.next, Next::Hold);
    assert_eq!(told.reasons, [Reason::LittleWorn { share: 359.0 / 720.0 }]);
    // A later visit without a log says nothing of wear.
    let no_log = "visits: [ { date: 2026-04-20, worn: { sessions: 1, minutes: 30 } }, { date: 2026-04-27, passive: { flexion: 29 }, skin: clear, pain: { rest: 1 } } ]";
    assert_eq!(advice(no_log, &[]).next, Next::MoveOn);
}

/// A loop 21 mm longer than planned runs out short of the goal; a new one is due 5° before its end.
#[test]
fn a_loop_at_its_end_asks_for_a_new_one() {
    let built = [(
        "tail: 40 mm }",
        "tail: 40 mm }\n      built: [ { loop: 1, from: 2026-04-13, flat: 217 mm } ]",
    )];
    let at = |flexion: f64| visit(&format!("passive: {{ flexion: {flexion} }}"));
    let end = calc::plan(&with(&at(30.0), &built)).pulls[0].in_use.unwrap().to;
    assert!(end > Angle::degrees(45.0) && end < Angle::degrees(59.0), "{end:?}");
    let before = end.to_degrees() - 5.01;
    assert_eq!(advice(&at(before), &built).next, Next::MoveOn);
    let behind = end.to_degrees() - 4.99;
    let told = advice(&at(behind), &built);
    assert_eq!(told.next, Next::NewLoop);
    let [Reason::LoopEnds { at: today, to }] = told.reasons[..] else { panic!("{told:?}") };
    assert!((today - Angle::degrees(behind)).abs() < Angle::degrees(1e-9));
    assert!((to - end).abs() < Angle::degrees(1e-9));
    // A goal within the loop's reach needs no new one, however near its end.
    let goal = format!("goal: {}", end.to_degrees() - 0.01);
    let near = [built[0], ("goal: 60", goal.as_str())];
    assert_eq!(advice(&at(behind), &near).next, Next::MoveOn);
    // Nor does a plan without a loop in use.
    assert_eq!(advice(&at(behind), &[]).next, Next::MoveOn);
}

#[test]
fn a_goal_reached_is_told() {
    assert_eq!(advice(&visit("passive: { flexion: 59.9 }"), &[]).next, Next::MoveOn);
    for reached in ["60", "64"] {
        let told = advice(&visit(&format!("passive: {{ flexion: {reached} }}")), &[]);
        assert_eq!((told.next, told.reasons), (Next::GoalReached, vec![Reason::AtGoal]));
    }
}

/// With two pulls the one that is done points to the other, until that is done too.
#[test]
fn one_way_done_points_to_the_other() {
    let seen = |flexion: u32, extension: u32| {
        let visits = format!(
            "visits: [ {{ date: 2026-06-29, passive: {{ flexion: {flexion}, extension: {extension} }}, skin: clear, pain: {{ rest: 1 }} }} ]\nlimb:"
        );
        let changes =
            [("prepared: 2026-06-15", "prepared: 2026-06-29"), ("limb:", visits.as_str())];
        let plan = calc::plan(&demo::read(&demo::edited("kiln-both-ways", &changes)));
        let told = plan.course.unwrap().advice;
        [0, 1].map(|it| (told[it].pull, told[it].next, told[it].reasons.clone()))
    };
    let (flexion_way, extension_way) = (Direction::Flexion, Direction::Extension);
    let [flexion, extension] = seen(60, 30);
    assert_eq!(
        flexion,
        (flexion_way, Next::OtherDirection, vec![Reason::AtGoal, Reason::OtherIsFurther])
    );
    assert_eq!(extension, (extension_way, Next::MoveOn, clear(None)));
    for (way, told) in [flexion_way, extension_way].into_iter().zip(seen(60, 50)) {
        assert_eq!(told, (way, Next::GoalReached, vec![Reason::AtGoal]));
    }
}

/// The gravest comes first, with all that speaks for it and nothing of the rest.
#[test]
fn the_gravest_is_suggested() {
    let all = "\
visits:
  - { date: 2026-04-20, passive: { flexion: 44 }, pain: { rest: 0 } }
  - { date: 2026-04-27, passive: { flexion: 30 }, pain: { rest: 3 }, skin: SKIN, worn: { sessions: 1, minutes: 30 } }";
    let told = advice(&all.replace("SKIN", "broken"), &[]);
    assert_eq!(told.next, Next::ReferBack);
    assert!(matches!(told.reasons[..], [Reason::SkinBroken, Reason::RangeLost { .. }]), "{told:?}");
    let told = advice(&all.replace("SKIN", "red_long").replace("44", "31"), &[]);
    assert_eq!(told.next, Next::EaseOff);
    assert_eq!(told.reasons, [Reason::RednessStays, Reason::PainRose { from: 0, to: 3 }]);
    let told = advice(
        &all.replace("SKIN", "clear").replace("44", "31").replace("rest: 3", "rest: 1"),
        &[],
    );
    assert_eq!(told.next, Next::Hold);
}
