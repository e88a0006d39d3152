//! What the papers say: every paper of every demo case, on both page sizes.

use std::sync::LazyLock;

use tautline::calc::{self, Plan};
use tautline::case::{Case, PageSize};
use tautline::sheets::{self, Paper};

use crate::demo;
use crate::pdf::Pdf;

/// One typeset paper.
pub struct Printed {
    pub name: String,
    pub paper: Paper,
    pub case: Case,
    pub plan: Plan,
    pub bytes: Vec<u8>,
}

/// Every paper of every demo case on both page sizes, those that a stop withholds included: they
/// too must be right once somebody overrides the stop.
pub fn all() -> &'static [Printed] {
    static ALL: LazyLock<Vec<Printed>> = LazyLock::new(typeset_all);
    &ALL
}

fn typeset_all() -> Vec<Printed> {
    let mut all = Vec::new();
    for path in demo::files() {
        let case = demo::read(&std::fs::read_to_string(&path).unwrap());
        let plan = calc::plan(&case);
        for (page, size) in [(PageSize::Letter, "letter"), (PageSize::A4, "a4")] {
            let set = sheets::typeset(&Paper::ALL, &case, &plan, page)
                .unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
            for (paper, bytes) in Paper::ALL.into_iter().zip(set) {
                let name = format!("{} {} {size}", case.head.id, paper.name());
                all.push(Printed { name, paper, case: case.clone(), plan: plan.clone(), bytes });
            }
        }
    }
    all
}

/// Text with all space taken out, since a line may break anywhere.
pub fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

#[track_caller]
fn says(printed: &Printed, text: &str, wanted: &str) {
    assert!(text.contains(&squeezed(wanted)), "{}: no `{wanted}` in {text}", printed.name);
}

#[test]
fn every_page_carries_the_frame() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let count = pdf.page_count();
        for index in 0..count {
            let text = squeezed(&pdf.page_text(index));
            let case = &printed.case;
            says(printed, &text, &case.head.id);
            says(printed, &text, &case.patient.name);
            says(printed, &text, &case.clinic.name);
            says(printed, &text, &case.clinic.phone);
            says(printed, &text, &format!("Page {} of {count}", index + 1));
            let side = format!("{:?}", case.patient.side).to_lowercase();
            assert!(text.to_lowercase().contains(&side), "{}: side", printed.name);
            says(printed, &text, &case.head.prepared.year().to_string());
        }
    }
}

#[test]
fn handouts_say_when_where_and_whom_to_call() {
    for printed in all().iter().filter(|it| it.paper == Paper::Handout) {
        let pdf = Pdf::read(&printed.bytes);
        let text = squeezed(&pdf.text());
        for question in [
            "What is this for?",
            "When do I wear it?",
            "How do I put it on",
            "How far do I pull",
            "When do I stop and call?",
            "How do I look after it?",
        ] {
            says(printed, &text, question);
        }
        for sign in ["numbness", "swelling", "20 minutes", "2 hours", "blister"] {
            says(printed, &text, sign);
        }
        for step in &printed.plan.wear.steps {
            says(printed, &text, &step.minutes.to_string());
        }
        for mark in printed.plan.pulls.iter().flat_map(calc::PullPlan::marks) {
            says(printed, &text, &format!("{:.0}", mark.place.to_mm()));
        }
        says(printed, &text, "today");
        says(printed, &text, "50 mm");
    }
}

/// The patient's paper shows no force and promises no degrees.
#[test]
fn handouts_show_no_force_and_no_degrees() {
    for printed in all().iter().filter(|it| it.paper == Paper::Handout) {
        let text = Pdf::read(&printed.bytes).text();
        {
            let banned = '°';
            assert!(!text.contains(banned), "{}: {banned}", printed.name);
        }
        let lower = text.to_lowercase();
        for banned in ["newton", "degree", "kpa", "mmhg", " torque", "n·m", "tension"] {
            assert!(!lower.contains(banned), "{}: {banned}", printed.name);
        }
        let goals = printed.plan.pulls.iter().map(|it| format!("{:.0}°", it.goal.to_degrees()));
        assert!(goals.into_iter().all(|goal| !text.contains(&goal)), "{}", printed.name);
    }
}

#[test]
fn cards_say_what_to_cut_and_where() {
    for printed in all().iter().filter(|it| it.paper == Paper::Card) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        for (pull, reckoned) in printed.case.orthosis.pulls.iter().zip(&printed.plan.pulls) {
            for made in &reckoned.loops {
                for length in [made.cut, made.flat, made.closed] {
                    says(printed, &text, &format!("{:.0} mm", length.to_mm()));
                }
                for mark in &made.marks {
                    says(printed, &text, &format!("{:.1}", mark.place.to_mm()));
                }
            }
            let hole = pull.cuff.hole_from_crease.to_mm();
            says(printed, &text, &format!("{hole} mm past the crease"));
            let strip = pull.strip.start_from_crease.to_mm();
            says(printed, &text, &format!("{strip} mm before the crease"));
        }
        for words in ["stockinette", "90°", "fold", "cool", "60 °C"] {
            assert!(
                text.to_lowercase().contains(&squeezed(words).to_lowercase()),
                "{}: {words}",
                printed.name
            );
        }
    }
}

#[test]
fn summaries_say_what_was_reckoned_and_on_what_it_rests() {
    for printed in all().iter().filter(|it| it.paper == Paper::Summary) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        says(printed, &text, &printed.case.referral.diagnosis);
        says(printed, &text, &printed.case.referral.by);
        for finding in &printed.plan.findings {
            says(printed, &text, finding.title);
            if let Some(answer) = &finding.answer {
                says(printed, &text, &answer.why);
            }
        }
        for pull in &printed.plan.pulls {
            for mark in pull.marks() {
                says(printed, &text, &format!("{:.1}", mark.line.moment_arm().to_mm()));
                if let Some(load) = pull.load(mark) {
                    says(printed, &text, &format!("{:.1}", load.tension.to_newtons()));
                }
            }
        }
        // Both the hopeful series and the sober trials stand there.
        says(printed, &text, "McGrath");
        says(printed, &text, "Harvey");
        assert!(!text.to_lowercase().contains("medicalnecessity"), "{}", printed.name);
    }
}

/// Where a stop withholds the papers, the summary says so before anything else.
#[test]
fn a_withheld_summary_opens_with_the_stop() {
    for printed in all().iter().filter(|it| it.paper == Paper::Summary && it.plan.is_withheld()) {
        let first = squeezed(&Pdf::read(&printed.bytes).page_text(0));
        let stop = first.find(&squeezed("Hard end feel")).expect("the stop on page 1");
        let referral = first.find("Referral").unwrap_or(usize::MAX);
        assert!(stop < referral, "{}: {first}", printed.name);
        assert!(first.to_lowercase().contains("withheld"), "{}", printed.name);
    }
}
