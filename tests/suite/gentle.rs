//! Who must go gently, and what every paper then says; what is told while the stretch is eased.

use jiff::civil::date;
use tautline::calc;
use tautline::calc::precautions::Level;
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

/// Pain rose on the day a longer step begins: the step of the day before is kept, and nothing is added.
#[test]
fn minutes_do_not_rise_while_the_stretch_is_eased() {
    let case = demo::case("bell-foundry-spanish-large");
    let plan = calc::plan(&case);
    let today = case.head.prepared;
    assert!(plan.eases());
    let on = |day| plan.wear.steps.iter().find(|it| it.from <= day && day <= it.to).unwrap();
    let (before, now) = (on(today.yesterday().unwrap()), on(today));
    assert!(now.daily_minutes() > before.daily_minutes(), "the case shows it");
    let told = plan.wear_from(today);
    let last = told.steps.last().unwrap();
    assert_eq!((last.minutes, last.times), (before.minutes, before.times));
    assert_eq!(last.to, plan.wear.steps.last().unwrap().to);
    let held = format!("{} minutes {} times a day and adds none", before.minutes, before.times);
    for paper in [Paper::Summary, Paper::Brief] {
        let (printed, text) = shown(&demo::text("bell-foundry-spanish-large"), paper);
        says(&printed, &text, &held);
    }
    // A course that moves on keeps its steps.
    let going = demo::plan("orchard-lane-new-loop");
    assert_eq!(going.wear_from(today), going.wear);
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
