//! The demo cases in the variants that their papers may take: other languages and print sizes, the other side,
//! the longest names.

use std::sync::LazyLock;

use tautline::calc;
use tautline::case::PageSize;
use tautline::sheets::{self, Paper};

use crate::brief::with_long_names;
use crate::demo;
use crate::ink::{Ink, read};
use crate::papers::Printed;

/// A demo case's text with a key put into its head; an own one there gives way.
fn with_head(text: &str, key: &str, value: &str) -> String {
    let own = format!("  {key}:");
    let rest: Vec<&str> = text.lines().filter(|it| !it.starts_with(&own)).collect();
    let text = rest.join("\n") + "\n";
    assert!(text.contains("\ncase:\n") || text.starts_with("case:\n"), "a case has a head");
    text.replacen("case:\n", &format!("case:\n{own} {value}\n"), 1)
}

/// The same limb on the other side.
fn other_side(text: &str) -> String {
    let swap = |line: &str| match line {
        "  side: left" => "  side: right".to_owned(),
        "  side: right" => "  side: left".to_owned(),
        other => other.to_owned(),
    };
    let swapped = text.lines().map(swap).collect::<Vec<_>>().join("\n") + "\n";
    assert_ne!(swapped, text, "a case has a side");
    swapped
}

/// Every demo case in every variant, with the papers that it changes.
fn texts() -> Vec<(String, String, &'static [Paper])> {
    const PATIENTS: &[Paper] = &[Paper::Handout];
    const SPOKEN: &[Paper] = &[Paper::Handout, Paper::Labels];
    let mut found = Vec::new();
    for path in demo::files() {
        let text = std::fs::read_to_string(&path).unwrap();
        let id = demo::read(&text).head.id;
        let large = with_head(&text, "print_size", "large");
        let other =
            with_head(&text, "language", if text.contains("language: es") { "en" } else { "es" });
        let large_other = with_head(&other, "print_size", "large");
        let short = with_head(&text, "teach_back", "never");
        let mut add =
            |what: &str, text: String, papers| found.push((format!("{id} {what}"), text, papers));
        add("large", large, PATIENTS);
        add("other language", other, SPOKEN);
        add("other language large", large_other, PATIENTS);
        add("patient's copy", short, PATIENTS);
        add("other side", other_side(&text), PATIENTS);
        // All papers where there is a pull each way, two pulls, two loops; for the others they say nothing new.
        let all = ["QB-2207", "SM-0418", "KY-118", "FF-31"].contains(&id.as_str());
        let names = with_long_names(&other_side(&text));
        add("other side, longest names", names, if all { &Paper::ALL } else { PATIENTS });
    }
    found
}

/// Every variant's papers with what their pages paint; on Letter the one half of them and on A4 the other, since
/// the demo cases themselves stand on both.
pub fn variants() -> &'static [(Printed, Vec<Ink>)] {
    static ALL: LazyLock<Vec<(Printed, Vec<Ink>)>> = LazyLock::new(|| {
        let all = texts().into_iter().enumerate();
        all.flat_map(|(it, (name, text, papers))| typeset(&name, &text, papers, it % 2 == 0))
            .collect()
    });
    &ALL
}

fn typeset(name: &str, text: &str, papers: &[Paper], on_letter: bool) -> Vec<(Printed, Vec<Ink>)> {
    let case = demo::read(text);
    let plan = calc::plan(&case);
    let (page, size) = if on_letter { (PageSize::Letter, "letter") } else { (PageSize::A4, "a4") };
    let set = sheets::typeset(papers, &case, &plan, page);
    let set = set.unwrap_or_else(|fault| panic!("{name} {size}: {fault}"));
    let printed = papers.iter().zip(set).map(|(paper, bytes)| {
        let pages = read(&bytes);
        let name = format!("{name} {} {size}", paper.name());
        (Printed { name, paper: *paper, case: case.clone(), plan: plan.clone(), bytes }, pages)
    });
    printed.collect()
}
