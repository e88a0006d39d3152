//! Who must go gently, and what every paper then says; what is told while the stretch is eased.

use jiff::civil::{Date, date};
use tautline::calc::dose::wear_plan;
use tautline::calc::precautions::Level;
use tautline::calc::{self, Plan};
use tautline::case::PageSize;
use tautline::sheets::{self, Paper};

use crate::demo;
use crate::papers::{Printed, says, squeezed};
use crate::pdf::Pdf;

const BASE: &str = "quarry-bend-left-flexion";

/// Changes to the base case after which its wearer must go gently (the findings ask for it themselves; common
/// practice, no source).
const GENTLE: [(&str, &str); 7] = [
    ("conditions: []", "conditions: [blood_thinners]"),
    ("conditions: []", "conditions: [osteoporosis]"),
    ("conditions: []", "conditions: [nerve_compression]"),
    ("skin: intact", "skin: fragile"),
    ("sensation: normal", "sensation: reduced"),
    ("rest_pain: 1", "rest_pain: 4"),
    ("injury: 2026-01-12", "injury: 2026-02-20"),
];

/// One paper of a case, and its words.
fn shown(text: &str, paper: Paper) -> (Printed, String) {
    let case = demo::read(text);
    let plan = calc::plan(&case);
    let bytes = sheets::typeset(&[paper], &case, &plan, PageSize::Letter).unwrap().remove(0);
    let words = squeezed(&Pdf::read(&bytes).text());
    (Printed { name: paper.name().to_owned(), paper, case, plan, bytes }, words)
}

#[test]
fn papers_agree_on_how_firm_the_stretch_is() {
    let words = |is_gentle: bool| {
        if is_gentle {
            [
                (Paper::Handout, "A light stretch is right", "A firm stretch is right"),
                (Paper::Card, "the stretch is light, with no pain", "the stretch is firm"),
                (Paper::Brief, "to a light stretch without pain", "to a firm stretch"),
            ]
        } else {
            [
                (Paper::Handout, "A firm stretch is right", "A light stretch is right"),
                (Paper::Card, "the stretch is firm", "the stretch is light"),
                (Paper::Brief, "to a firm stretch without sharp pain", "to a light stretch"),
            ]
        }
    };
    let base = demo::text(BASE);
    let cases = GENTLE.map(|change| (demo::edited(BASE, &[change]), true));
    for (text, is_gentle) in cases.into_iter().chain([(base, false)]) {
        for (paper, said, unsaid) in words(is_gentle) {
            let (printed, text) = shown(&text, paper);
            says(&printed, &text, said);
            assert!(!text.contains(&squeezed(unsaid)), "{paper:?}: {unsaid}");
        }
    }
}

/// A finding that tells the clinician to go gently tells the patient too.
#[test]
fn what_asks_for_a_gentle_stretch_is_gentle() {
    let mut asking = 0;
    for change in GENTLE {
        let plan = calc::plan(&demo::read(&demo::edited(BASE, &[change])));
        assert!(plan.is_gentle(plan.pulls[0].direction), "{change:?}");
        for finding in plan.findings.iter().filter(|it| it.level != Level::Note) {
            let action = finding.action.to_lowercase();
            if action.contains("gentl") {
                assert!(finding.is_gentle, "{}", finding.id);
                asking += 1;
            }
        }
    }
    assert!(asking >= 4);
    let plan = demo::plan(BASE);
    assert!(!plan.is_gentle(plan.pulls[0].direction));
}

/// The case at whose newest visit, the day on which a longer step would begin, pain rose.
const EASED: &str = "bell-foundry-spanish-large";

/// The same case, later: with more visits, and papers for the last of them.
fn later(visits: &[(&str, &str)]) -> Plan {
    let (last, _) = visits.last().expect("a visit");
    let all: String = visits
        .iter()
        .map(|(day, found)| {
            format!("  - date: {day}\n    passive: {{ flexion: 53, extension: 28 }}\n{found}")
        })
        .collect();
    let text = demo::text(EASED)
        .replace("  prepared: 2026-03-16\n", &format!("  prepared: {last}\n"))
        .replace("\nlimb:\n", &format!("\n{all}limb:\n"));
    calc::plan(&demo::read(&text))
}

const SORE: &str = "    pain: { rest: 2, worn: 5 }\n    skin: clear\n";
const WELL: &str =
    "    pain: { rest: 1, worn: 1 }\n    skin: clear\n    worn: { sessions: 42, minutes: 1260 }\n";

/// Minutes and times on a day.
fn session(plan: &Plan, day: Date) -> (u32, u32) {
    let step =
        plan.wear.steps.iter().find(|it| it.from <= day && day <= it.to).expect("a day of wear");
    (step.minutes, step.times)
}

/// The step of the day before is kept from the first visit that eases, over each that eases again, to the end.
#[test]
fn minutes_do_not_rise_while_the_stretch_is_eased() {
    let plan = demo::plan(EASED);
    assert!(plan.eases());
    // 20 minutes from 2 March, ten more each 7 days: a third step would begin on 16 March.
    assert_eq!(session(&plan, date(2026, 3, 15)), (30, 3));
    assert_eq!(session(&plan, date(2026, 3, 16)), (30, 3));
    assert_eq!(session(&plan, date(2026, 4, 12)), (30, 3));
    assert_eq!(plan.wear.steps.last().unwrap().to, date(2026, 4, 12));
    let again = later(&[("2026-03-30", SORE)]);
    assert!(again.eases());
    assert_eq!(session(&again, date(2026, 3, 30)), (30, 3));
    assert_eq!(session(&again, date(2026, 4, 12)), (30, 3));
    for paper in [Paper::Summary, Paper::Brief] {
        let (printed, text) = shown(&demo::text(EASED), paper);
        says(&printed, &text, "30 minutes 3 times a day and adds none");
    }
}

/// Growing goes on from the step that was kept, not from where it would have been; and the dose is held against
/// what the patient was told.
#[test]
fn minutes_grow_on_from_where_they_were_kept() {
    let plan = later(&[("2026-03-30", WELL)]);
    assert!(!plan.eases());
    assert_eq!(session(&plan, date(2026, 3, 29)), (30, 3));
    assert_eq!(session(&plan, date(2026, 3, 30)), (40, 3));
    assert_eq!(session(&plan, date(2026, 4, 6)), (50, 2));
    // 14 days of 3 × 30 minutes were told and worn.
    let dose = plan.course.as_ref().unwrap().doses.last().unwrap();
    assert_eq!((dose.planned, dose.worn), (1260, Some(1260)));
    // A course that never eases keeps its steps.
    let going = demo::case("orchard-lane-new-loop");
    let kept = calc::plan(&going).wear;
    assert_eq!(kept, wear_plan(&going.wear, kept.steps[0].from, &[]));
}

/// Skin that broke anew needs a decision anew.
#[test]
fn an_old_decision_answers_no_later_finding() {
    let broken = |decided: &str| {
        let text = demo::text(EASED).replace("    skin: red_briefly\n", "    skin: broken\n");
        let decision = format!(
            "overrides:\n  - finding: skin-broken\n    by: Dr. S. Quist\n    date: {decided}\n    why: A graze beside the pieces\n"
        );
        calc::plan(&demo::read(&(text + &decision)))
    };
    let stop =
        |plan: &Plan| plan.findings.iter().find(|it| it.id == "skin-broken").cloned().unwrap();
    let old = broken("2026-03-15");
    assert!(old.is_withheld());
    assert!(stop(&old).action.contains("older than the visit that showed this"));
    let new = broken("2026-03-16");
    assert!(!new.is_withheld());
    assert!(stop(&new).answer.is_some());
}

/// Who goes on against a stop goes gently, whatever the stop.
#[test]
fn an_answered_stop_is_gentle() {
    let text = demo::text(BASE).replace("bone: healed ", "bone: unstable ");
    let decision = "overrides:\n  - finding: bone-unstable\n    by: Dr. S. Quist\n    date: 2026-04-13\n    why: Plated since\n";
    let (printed, shown) = shown(&(text + decision), Paper::Handout);
    says(&printed, &shown, "A light stretch is right");
    says(&printed, &shown, "Go gently. A light stretch is enough.");
}

/// Wear that begins later than the papers' day is told with its own first day.
#[test]
fn the_first_day_is_the_first_of_the_wear() {
    let text = demo::text(BASE).replace("  weeks: 6\n", "  weeks: 6\n  from: 2026-04-15\n");
    let (printed, shown) = shown(&text, Paper::Handout);
    says(&printed, &shown, "Start on Wednesday 15 April 2026");
}

#[test]
fn a_visit_after_the_last_day_of_wear_is_told() {
    let late = |next: &str| {
        let head = format!("case:\n  next_visit: {next}\n");
        let case = demo::read(&demo::text(BASE).replacen("case:\n", &head, 1));
        calc::plan(&case).findings.iter().any(|it| it.id == "visit-late")
    };
    let plan = demo::plan(BASE);
    assert_eq!(plan.wear.steps.last().unwrap().to, date(2026, 5, 24));
    assert!(late("2026-05-25"));
    assert!(!late("2026-05-24"));
}

/// Thin skin leaves no choice about the sleeve.
#[test]
fn thin_skin_always_gets_the_sleeve() {
    let thin = demo::edited(BASE, &[("skin: intact", "skin: fragile")]);
    for (text, is_thin) in [(demo::text(BASE), false), (thin, true)] {
        let (printed, text) = shown(&text, Paper::Handout);
        says(&printed, &text, "Pull on the thin sleeve");
        assert_eq!(!text.contains(&squeezed("if you have one")), is_thin);
    }
}

/// Skin and pain stop the wearing on every first page, also where there is no row to move to.
#[test]
fn skin_and_pain_stop_the_wearing_with_one_row_too() {
    for name in [BASE, "ropewalk-plateau"] {
        let (printed, text) = shown(&demo::text(name), Paper::Handout);
        says(&printed, &text, "Skin not clear, or more pain? Do not wear it. Call us.");
    }
}
