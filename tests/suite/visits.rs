//! Visits and loops as made: every key read and written again, and the newest of each kind used.

use jiff::civil::date;
use tautline::calc;
use tautline::case::{self, Case, Direction, Pain, Scores, SkinSeen, Worn};
use tautline::units::{Angle, Length};

use crate::demo;

const BASE: &str = "quarry-bend-left-flexion";

/// The base case printed later, with visits (and what else stands at the file's left edge) added to it.
#[track_caller]
pub fn with(visits: &str, more: &[(&str, &str)]) -> Case {
    demo::read(&text(visits, more))
}

/// Its text. The base course starts on 13 April 2026, for six weeks.
#[track_caller]
pub fn text(visits: &str, more: &[(&str, &str)]) -> String {
    let visits = format!("\n{visits}\nlimb:");
    let usual = [
        ("prepared: 2026-04-13", "prepared: 2026-05-18"),
        ("\nwear:\n", "\nwear:\n  from: 2026-04-13\n"),
        ("\nlimb:", visits.as_str()),
    ];
    demo::edited(BASE, &[&usual, more].concat())
}

/// Every key of a visit, none at what is taken when it is left out.
const EVERY_KEY: &str = "\
visits:
  - date: 2026-04-20
    passive: { flexion: 28.5, extension: 54 }
    active: { flexion: -3, extension: 50 }
    other_side: { flexion: 71 }
    torque: [ { pull: flexion, angle: 28, force: 10.5 N, lever: 9 cm } ]
    pain: { rest: 2, worn: 0 }
    skin: red_long
    sensation: reduced
    swelling: mild
    end_feel: soft
    worn: { sessions: 17, minutes: 505 }
    marks: { extension: 0, flexion: 1 }
    tab:
      - { pull: flexion, angle: 28.5, place: 0.7 cm }
      - { pull: extension, angle: -4, place: 0 mm }
    scores: { dash: 40.8, quick_dash: 0, prwe: 61.5 }
    changes: [ second loop made, \"strap: new\" ]
    remark: Wears it \"# at table\"
  - date: 2026-05-04
plateau: { weeks: 3, degrees: 4.5 }";

/// Every key of a loop as made.
const EVERY_BUILT: (&str, &str) = (
    "tail: 40 mm }",
    "tail: 40 mm }
      built:
        - { loop: 1, from: 2026-04-13, flat: 19.7 cm }
        - { loop: 3, from: 2026-04-20, flat: 181 mm, hole_from_crease: 134 mm, hole_height: 19 mm,
            cuff_edge_height: 21 mm, piece_edge_height: 24 mm, strip_start_from_crease: 56 mm, strip_height: 35.5 mm }",
);

#[test]
fn every_key_is_read() {
    let case = with(EVERY_KEY, &[EVERY_BUILT]);
    let [first, second] = &case.visits[..] else { panic!("two visits") };
    assert_eq!(first.date(), date(2026, 4, 20));
    let degrees = |of: f64| Some(Angle::degrees(of));
    let toward =
        |it: case::Range| [Direction::Flexion, Direction::Extension].map(|way| it.toward(way));
    assert_eq!(toward(first.motion.passive), [degrees(28.5), degrees(54.0)]);
    assert_eq!(toward(first.motion.active), [degrees(-3.0), degrees(50.0)]);
    assert_eq!(toward(first.motion.other_side), [degrees(71.0), None]);
    assert_eq!(first.torque.len(), 1);
    assert!((first.torque[0].torque().to_newton_metres() - 0.945).abs() < 1e-9);
    assert_eq!(first.pain, Pain { rest: Some(2), worn: Some(0) });
    assert_eq!(first.skin, Some(SkinSeen::RedLong));
    assert_eq!(first.worn, Some(Worn { sessions: 17, minutes: 505 }));
    let marks: Vec<(Direction, u32)> = first.marks.iter().map(|it| (it.pull, it.mark)).collect();
    assert_eq!(marks, [(Direction::Flexion, 1), (Direction::Extension, 0)]);
    let tab: Vec<(Direction, Option<Angle>, Length)> =
        first.tab.iter().map(|it| (it.pull, Some(it.angle), it.place)).collect();
    let (seen, at_end) = (Length::mm(7.0), Length::ZERO);
    assert_eq!(
        tab,
        [(Direction::Flexion, degrees(28.5), seen), (Direction::Extension, degrees(-4.0), at_end)]
    );
    assert_eq!(first.scores, Scores { dash: Some(40.8), quick_dash: Some(0.0), prwe: Some(61.5) });
    assert_eq!(first.changes, ["second loop made", "strap: new"]);
    assert_eq!(first.remark.as_deref(), Some("Wears it \"# at table\""));
    assert_eq!(second.date(), date(2026, 5, 4));
    assert!(!second.has_ranges() && second.skin.is_none() && second.worn.is_none());
    let rule = case.plateau.unwrap();
    assert_eq!((rule.weeks, rule.degrees), (3, Angle::degrees(4.5)));
}

#[test]
fn every_key_of_a_loop_as_made_is_read() {
    let case = with(EVERY_KEY, &[EVERY_BUILT]);
    let pull = &case.orthosis.pulls[0];
    let [first, second] = &pull.built[..] else { panic!("two loops") };
    assert_eq!((first.number, first.from), (1, date(2026, 4, 13)));
    assert_eq!(first.flat, Length::mm(197.0));
    assert_eq!(first.hole_from_crease, None);
    assert_eq!((second.number, second.from), (3, date(2026, 4, 20)));
    assert_eq!(second.flat, Length::mm(181.0));
    let found = [
        second.hole_from_crease,
        second.hole_height,
        second.cuff_edge_height,
        second.piece_edge_height,
        second.strip_start_from_crease,
        second.strip_height,
    ];
    assert_eq!(found, [134.0, 19.0, 21.0, 24.0, 56.0, 35.5].map(|it| Some(Length::mm(it))));
    assert_eq!(pull.in_use(), Some(second));
}

/// The writer leaves nothing out and its file reads back as the same visits.
#[test]
fn visits_survive_the_normalised_file() {
    let case = with(EVERY_KEY, &[EVERY_BUILT]);
    let text = case::normalised(&case);
    let again = demo::read(&text);
    assert_eq!(case::normalised(&again), text);
    assert_eq!(again.visits, case.visits);
    assert_eq!(again.plateau, case.plateau);
    assert_eq!(again.orthosis, case.orthosis);
}

/// Each word for the skin is read and written as it stands.
#[test]
fn each_word_for_the_skin_survives() {
    for (word, skin) in [
        ("clear", SkinSeen::Clear),
        ("red_briefly", SkinSeen::RedBriefly),
        ("red_long", SkinSeen::RedLong),
        ("broken", SkinSeen::Broken),
    ] {
        let case = with(&format!("visits: [ {{ date: 2026-04-20, skin: {word} }} ]"), &[]);
        assert_eq!(case.visits[0].skin, Some(skin));
        assert_eq!(skin.word(), word);
        assert_eq!(demo::read(&case::normalised(&case)).visits, case.visits);
    }
}

/// Today is the newest day with a range, and a gauge reading of a later day comes before an earlier one's.
#[test]
fn the_newest_of_each_kind_is_used() {
    let visits = "\
visits:
  - date: 2026-04-20
    passive: { flexion: 29 }
    torque: [ { pull: flexion, angle: 29, force: 8 N, lever: 100 mm }, { pull: flexion, angle: 24, force: 3 N, lever: 100 mm } ]
    pain: { rest: 3 }
  - date: 2026-04-27
    passive: { flexion: 33, extension: 58 }
    torque: [ { pull: extension, angle: 58, force: 20 N, lever: 100 mm } ]
  - date: 2026-05-04
    pain: { worn: 6 }
  - date: 2026-05-11
    passive: { extension: 56 }";
    let case = with(visits, &[]);
    let plan = calc::plan(&case);
    let pull = &plan.pulls[0];
    assert_eq!(case.today().date, date(2026, 5, 11));
    assert_eq!(pull.start, Angle::degrees(33.0));
    assert_eq!(case.passive(Direction::Extension), Some(Angle::degrees(56.0)));
    assert_eq!(case.rest_pain(), 3);
    // Both readings of 20 April and none of March: 0.8 N·m from 29 degrees on, 0.3 at 24 and before.
    let torque = |angle: f64| pull.torque.at(Angle::degrees(angle)).unwrap().to_newton_metres();
    assert!((torque(33.0) - 0.8).abs() < 1e-9);
    assert!((torque(26.5) - 0.55).abs() < 1e-9);
    assert!((torque(20.0) - 0.3).abs() < 1e-9);
    let loads: Vec<f64> = pull.loads().map(|it| it.torque.to_newton_metres()).collect();
    assert!(!loads.is_empty() && loads.iter().all(|it| (it - 0.8).abs() < 1e-9), "{loads:?}");
    assert_eq!(pull.marks().next().map(|it| it.angle), Some(Angle::degrees(33.0)));
}

/// A visit on which no range was taken changes no mark.
#[test]
fn a_visit_without_ranges_leaves_the_marks() {
    let without = calc::plan(&with("visits: []", &[]));
    let seen = "visits: [ { date: 2026-04-20, pain: { rest: 1 }, skin: clear } ]";
    let with_one = calc::plan(&with(seen, &[]));
    assert_eq!(without.pulls, with_one.pulls);
    assert!(without.course.is_none() && with_one.course.is_some());
}

/// A goal that a visit reaches or passes is no fault: the file still reads, and is printed.
#[test]
fn a_goal_that_is_reached_is_no_fault() {
    for reached in ["60", "60.5", "71"] {
        let visits =
            format!("visits: [ {{ date: 2026-05-11, passive: {{ flexion: {reached} }} }} ]");
        for built in [&[][..], &[EVERY_BUILT][..]] {
            let plan = calc::plan(&with(&visits, built));
            let pull = &plan.pulls[0];
            assert_eq!(pull.goal, Angle::degrees(60.0));
            assert!(pull.start >= pull.goal && !plan.is_withheld(), "{:#?}", plan.findings);
            assert_eq!(pull.shortfall, None, "{reached}");
            let marks: Vec<(usize, Angle)> = pull.marks().map(|it| (it.number, it.angle)).collect();
            assert_eq!(marks, [(0, pull.goal)], "one mark, and none past the goal");
        }
    }
}
