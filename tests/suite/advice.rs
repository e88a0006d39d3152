//! What holds a course up though each reading looks well: what is lost the other way, what falls slowly, what was worn.

use jiff::civil::date;
use tautline::calc;
use tautline::calc::advice::{Next, Reason, Stretch};
use tautline::calc::course::Score;
use tautline::calc::progress::Class;
use tautline::case::Direction;
use tautline::units::Angle;

use crate::course::{advice, visit};
use crate::demo;

/// A week's loss of extension under a pull into flexion: 2.77 · 5° = 13.85°.
#[test]
fn range_lost_the_other_way_eases_off() {
    let both = |extension: &str| {
        format!(
            "visits:\n  - {{ date: 2026-04-20, passive: {{ flexion: 29, extension: 60 }} }}\n  \
             - {{ date: 2026-04-27, passive: {{ flexion: 30, extension: {extension} }}, skin: clear, pain: {{ rest: 1 }} }}"
        )
    };
    assert_eq!(advice(&both("46.2"), &[]).next, Next::MoveOn);
    let told = advice(&both("46.1"), &[]);
    assert_eq!(told.next, Next::EaseOff);
    let [Reason::OtherWayLost { direction: Direction::Extension, by, .. }] = told.reasons[..]
    else {
        panic!("{:?}", told.reasons)
    };
    assert!((by - Angle::degrees(13.9)).abs() < Angle::degrees(1e-9));
}

#[test]
fn active_range_lost_asks_the_doctor() {
    let active = |newest: &str| {
        format!(
            "visits:\n  - {{ date: 2026-04-20, passive: {{ flexion: 45 }}, active: {{ flexion: 40 }} }}\n  \
             - {{ date: 2026-04-27, passive: {{ flexion: 45 }}, active: {{ flexion: {newest} }}, skin: clear, pain: {{ rest: 1 }} }}"
        )
    };
    assert_eq!(advice(&active("26.2"), &[]).next, Next::MoveOn);
    let told = advice(&active("26.1"), &[]);
    assert_eq!(told.next, Next::AskDoctor);
    assert!(matches!(told.reasons[..], [Reason::ActiveLost { .. }]), "{told:?}");
}

/// PRWE 14, DASH 10 points: Sorensen AA et al. J Hand Surg Am 2013;38:641-9.
#[test]
fn a_score_worse_by_an_important_change_asks_the_doctor() {
    let scored = |first: &str, newest: &str| {
        format!(
            "visits:\n  - {{ date: 2026-04-20, scores: {{ {first} }} }}\n  \
             - {{ date: 2026-04-27, passive: {{ flexion: 29 }}, skin: clear, pain: {{ rest: 1 }}, scores: {{ {newest} }} }}"
        )
    };
    assert_eq!(advice(&scored("prwe: 30", "prwe: 43.9"), &[]).next, Next::MoveOn);
    let told = advice(&scored("prwe: 30", "prwe: 44"), &[]);
    assert_eq!(told.next, Next::AskDoctor);
    assert_eq!(told.reasons, [Reason::ScoreWorse { score: Score::Prwe, by: 14.0 }]);
    assert_eq!(advice(&scored("dash: 30", "dash: 40"), &[]).next, Next::AskDoctor);
    assert_eq!(advice(&scored("dash: 40", "dash: 30"), &[]).next, Next::MoveOn);
}

/// Flat from 20 April to 4 May; what was worn over that span decides, not the last days of it. Planned by hand: 120 + 4 ·
/// 100 + 2 · 120 = 760 minutes in the first week, 7 · 120 = 840 in the second.
#[test]
fn a_plateau_asks_the_doctor_unless_little_was_worn_over_its_span() {
    let visits = |first: u32, second: u32| {
        format!(
            "visits:\n  - {{ date: 2026-04-20, passive: {{ flexion: 29 }} }}\n  \
             - {{ date: 2026-04-27, worn: {{ sessions: 9, minutes: {first} }} }}\n  \
             - {{ date: 2026-05-04, passive: {{ flexion: 30 }}, skin: clear, pain: {{ rest: 1 }}, worn: {{ sessions: 9, minutes: {second} }} }}\n\
             plateau: {{ weeks: 2, degrees: 5 }}"
        )
    };
    let told = advice(&visits(700, 300), &[]);
    assert_eq!(told.next, Next::AskDoctor);
    let [Reason::Plateau { by, from, to }] = told.reasons[..] else { panic!("{told:?}") };
    assert!((by - Angle::degrees(1.0)).abs() < Angle::degrees(1e-9));
    assert_eq!((from, to), (date(2026, 4, 20), date(2026, 5, 4)));
    // Half of 1600 minutes is 800: below it the dose comes before the doctor.
    assert_eq!(advice(&visits(300, 500), &[]).next, Next::AskDoctor);
    let told = advice(&visits(299, 500), &[]);
    assert_eq!(told.next, Next::Hold);
    assert!(matches!(told.reasons[..], [Reason::Plateau { .. }]), "{told:?}");
}

/// Each reading lies within measuring error of the best, 13.85°; the line through all of them does not. By hand: Σ(t − t̄)²
/// over five weekly visits is 10, half the interval 1.96 · 5 / √10 = 3.10 degrees a week.
#[test]
fn a_range_that_falls_steadily_asks_the_doctor() {
    let falls = |step: f64| {
        let visit = |week: i32| {
            let day = date(2026, 4, 20).checked_add(jiff::Span::new().weeks(week)).unwrap();
            let keys = if week == 4 { ", skin: clear, pain: { rest: 1 }" } else { "" };
            let range = 40.0 - step * f64::from(week);
            format!("  - {{ date: {day}, passive: {{ flexion: {range} }}{keys} }}\n")
        };
        format!("visits:\n{}", (0..5).map(visit).collect::<String>())
    };
    let told = advice(&falls(3.3), &[]);
    assert_eq!(told.next, Next::AskDoctor);
    let [Reason::Falling { slope, interval }] = told.reasons[..] else { panic!("{told:?}") };
    assert!((slope.to_degrees_per_week() + 3.3).abs() < 1e-9);
    let half = 1.959_964 * 5.0 / 10.0_f64.sqrt();
    assert!((interval.high.to_degrees_per_week() - (half - 3.3)).abs() < 1e-6);
    assert_eq!(advice(&falls(3.0), &[]).next, Next::MoveOn);
    assert_eq!(advice(&falls(-3.3), &[]).next, Next::MoveOn);
}

/// 720 minutes are planned for the first week: a tenth more is much, and still below the daily limit of 840.
#[test]
fn more_worn_than_planned_holds() {
    let worn = |minutes: u32| {
        visit(&format!("passive: {{ flexion: 29 }}, worn: {{ sessions: 21, minutes: {minutes} }}"))
    };
    assert_eq!(advice(&worn(792), &[]).next, Next::MoveOn);
    let told = advice(&worn(793), &[]);
    assert_eq!(
        (told.next, told.reasons),
        (Next::Hold, vec![Reason::WornOver { share: 793.0 / 720.0 }])
    );
    let told = advice(&worn(841), &[]);
    assert!(told.reasons.contains(&Reason::TooMuchWorn), "{told:?}");
}

/// What asks for the doctor is not dropped because something else asks for a gentler stretch.
#[test]
fn what_asks_for_the_doctor_stands_beside_a_gentler_stretch() {
    let visits = "visits:\n  - { date: 2026-04-20, scores: { prwe: 30 } }\n  \
                  - { date: 2026-04-27, passive: { flexion: 29 }, skin: red_long, pain: { rest: 1 }, scores: { prwe: 50 } }";
    let told = advice(visits, &[]);
    assert_eq!((told.next, told.reasons), (Next::EaseOff, vec![Reason::RednessStays]));
    assert_eq!(told.ask, [Reason::ScoreWorse { score: Score::Prwe, by: 20.0 }]);
}

/// A score that was better in between is worse than its best.
#[test]
fn scores_are_held_against_their_best() {
    let visits = "visits:\n  - { date: 2026-04-20, scores: { prwe: 58 } }\n  - { date: 2026-04-27, scores: { prwe: 20 } }\n  \
                  - { date: 2026-05-04, passive: { flexion: 29 }, skin: clear, pain: { rest: 1 }, scores: { prwe: 50 } }";
    let told = advice(visits, &[]);
    assert_eq!(
        (told.next, told.reasons),
        (Next::AskDoctor, vec![Reason::ScoreWorse { score: Score::Prwe, by: 30.0 }])
    );
}

/// With two pulls the way that one wins may be paid by the other: neither goes on.
#[test]
fn range_lost_by_one_pull_eases_the_other() {
    let visits = "visits: [ { date: 2026-06-22, passive: { flexion: 40, extension: 10 }, skin: clear, pain: { rest: 1 } } ]\nlimb:";
    let changes = [("prepared: 2026-06-15", "prepared: 2026-06-22"), ("limb:", visits)];
    let answer =
        "  - { finding: range-lost-extension, by: Dr. S. Quist, date: 2026-06-22, why: misread }\n";
    let plan = calc::plan(&demo::read(&(demo::edited("kiln-both-ways", &changes) + answer)));
    let flexion = &plan.course.unwrap().advice[0];
    assert!(
        flexion
            .reasons
            .iter()
            .any(|it| matches!(it, Reason::OtherWayLost { direction: Direction::Extension, .. })),
        "{flexion:?}"
    );
    assert_eq!(flexion.next, Next::EaseOff);
}

/// 5, 10, 15 and 20 degrees for static progressive, dynamic, static and exercise alone (Flowers KR. J Hand Ther
/// 2002;15:158-162, as secondary pages give it); the midpoints are ours.
#[test]
fn a_warm_up_test_that_points_elsewhere_is_told() {
    let gained = |warm: &str| {
        let test = format!("flexion: {{ cold: 25, warm: {warm} }}");
        let told = advice(
            &visit("passive: { flexion: 29 }"),
            &[("flexion: { cold: 22, warm: 25 }", &test)],
        );
        assert_eq!(told.next, Next::MoveOn);
        told.yet
    };
    assert_eq!(gained("32"), []);
    for (warm, class) in [("33", Class::Dynamic), ("40", Class::Static), ("47", Class::Exercise)] {
        let yet = gained(warm);
        assert!(matches!(yet[..], [Reason::WarmUp { nearest, .. }] if nearest == class), "{yet:?}");
    }
}

/// Who may go past today's mark, who stays, and who goes gentler.
#[test]
fn the_stretch_follows_what_is_suggested() {
    for (next, stretch) in [
        (Next::MoveOn, Stretch::On),
        (Next::NewLoop, Stretch::On),
        (Next::Hold, Stretch::Stay),
        (Next::AskDoctor, Stretch::Stay),
        (Next::GoalReached, Stretch::Stay),
        (Next::OtherDirection, Stretch::Stay),
        (Next::DoctorsWord, Stretch::Ease),
        (Next::EaseOff, Stretch::Ease),
        (Next::ReferBack, Stretch::Ease),
    ] {
        assert_eq!(next.stretch(), stretch, "{next:?}");
    }
}
