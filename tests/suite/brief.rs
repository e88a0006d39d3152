//! The short form: one page, the clinic's words as they stand, and what a payer's reviewer asks for.

use tautline::calc::precautions::Level;
use tautline::sheets::Paper;

use crate::demo;
use crate::papers::{Printed, all, says, squeezed, typeset};
use crate::pdf::Pdf;

fn briefs(papers: &[Printed]) -> impl Iterator<Item = &Printed> {
    papers.iter().filter(|it| it.paper == Paper::Brief)
}

fn is_one_page(printed: &Printed) {
    assert_eq!(Pdf::read(&printed.bytes).page_count(), 1, "{}", printed.name);
}

const LONG: &str =
    "Maximiliana-Theodora Wolkenstein-Fitzgerald von und zu Niederachern am See 12345";

/// A demo case with the longest names that a case file takes.
pub fn with_long_names(text: &str) -> String {
    assert_eq!(LONG.chars().count(), 80);
    let mut section = "";
    let mut lines = Vec::new();
    for line in text.lines() {
        if !line.starts_with([' ', '#']) {
            section = line.trim_end_matches(':');
        }
        let is_name = match section {
            "clinic" => line.starts_with("  name:") || line.starts_with("  therapist:"),
            "patient" => line.starts_with("  name:"),
            "referral" => line.starts_with("  by:"),
            _ => false,
        };
        let key = line.split(':').next().unwrap_or_default();
        lines.push(if is_name { format!("{key}: {LONG}") } else { line.to_owned() });
    }
    lines.join("\n") + "\n"
}

#[test]
fn every_demo_keeps_to_one_page() {
    briefs(all()).for_each(is_one_page);
    assert!(briefs(all()).count() >= 16, "every demo case on both page sizes");
}

#[test]
fn every_demo_with_the_longest_names_keeps_to_one_page() {
    for path in demo::files() {
        let text = with_long_names(&std::fs::read_to_string(&path).unwrap());
        assert_eq!(text.matches(LONG).count(), 4, "{}", path.display());
        briefs(&typeset(&path.display().to_string(), &text)).for_each(is_one_page);
    }
}

/// More was tried and lost than the page tells: three of each stand there, the rest is counted.
#[test]
fn a_crowded_case_keeps_to_one_page_and_counts_what_it_leaves_out() {
    let long = |head: &str| format!("{head} {}", "wrist ".repeat(18).trim());
    let tried = |it: usize| {
        format!("    - {{ what: {}, result: {} }}\n", long(&format!("Try {it}")), long("No gain"))
    };
    let tried: String = (1..=6).map(tried).collect();
    let function: String =
        (1..=5).map(|it| format!("    - {}\n", long(&format!("Not {it}")))).collect();
    let keys = format!("works_with: right\nreferral:\n  tried:\n{tried}  function:\n{function}");
    let text = demo::edited(
        "quarry-bend-left-flexion",
        &[("works_with: right\nreferral:\n", keys.as_str())],
    );
    for printed in briefs(&typeset("crowded", &text)) {
        is_one_page(printed);
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        says(printed, &text, "Try 3");
        says(printed, &text, "Not 3");
        assert!(!text.contains("Try4") && !text.contains("Not4"), "{}", printed.name);
        says(printed, &text, "3 more of what was tried, 2 more of the function lost");
    }
}

#[test]
fn it_says_what_was_found_tried_lost_and_planned() {
    for printed in briefs(all()) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        let referral = &printed.case.referral;
        says(printed, &text, &referral.by);
        says(printed, &text, &referral.diagnosis);
        referral.code.iter().for_each(|it| says(printed, &text, it));
        for it in &referral.tried {
            says(printed, &text, &format!("{} {}", it.what, it.result));
        }
        referral.function.iter().for_each(|it| says(printed, &text, it));
        let recheck = referral.recheck.map(|on| on.strftime("Re-check on %-d %B %Y").to_string());
        assert_eq!(text.contains(&squeezed("Re-check on")), recheck.is_some(), "{}", printed.name);
        if let Some(words) = recheck {
            says(printed, &text, &words);
        }
        for standing in &printed.plan.standings {
            let first = standing.first.1.to_degrees().round().to_string().replace('-', "\u{2212}");
            says(printed, &text, &format!("Passive {} {first}°", standing.direction.word()));
        }
        for finding in &printed.plan.findings {
            let is_told = finding.level != Level::Note;
            // Stops that nobody answered stand by their title in the notice on top.
            let line = if finding.withholds() {
                finding.title.to_owned()
            } else {
                format!("{:?}: {}", finding.level, finding.title)
            };
            assert_eq!(text.contains(&squeezed(&line)), is_told, "{}: {line}", printed.name);
            if let Some(answer) = finding.answer.as_ref().filter(|_| is_told) {
                says(printed, &text, &answer.why);
            }
        }
        for words in ["numbness, colour, swelling", "McGrath", "Harvey", "Signature"] {
            says(printed, &text, words);
        }
        let small = text.to_lowercase();
        assert!(
            !small.contains("certif") && !small.contains("medicalnecessity"),
            "{}",
            printed.name
        );
    }
}

/// A stop does not withhold it; it opens with the stop, before the referral.
#[test]
fn a_stop_stands_on_top() {
    let mut stopped = 0;
    for printed in briefs(all()).filter(|it| it.plan.is_withheld()) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        let (before, _) = text.split_once("Referral").expect("the referral");
        says(printed, before, "are withheld");
        let titles = printed.plan.findings.iter().filter(|it| it.withholds());
        titles.for_each(|it| says(printed, before, it.title));
        stopped += 1;
    }
    assert!(stopped >= 4 && !Paper::Brief.is_withheld_by_a_stop());
}
