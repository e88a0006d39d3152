//! The clinician's summary and its workings: what they say, and how many pages they take.

use tautline::calc::PullPlan;
use tautline::calc::loops::Mark;
use tautline::sheets::Paper;

use crate::demo;
use crate::papers::{Printed, all, find, in_degrees, row, says, squeezed, typeset, words_of};
use crate::pdf::Pdf;

/// The most pages of the summary.
const MOST_PAGES: usize = 4;

fn summaries(papers: &[Printed]) -> impl Iterator<Item = &Printed> {
    papers.iter().filter(|it| it.paper == Paper::Summary)
}

fn keeps_to_its_pages(printed: &Printed) {
    let pages = Pdf::read(&printed.bytes).page_count();
    assert!(pages <= MOST_PAGES, "{}: {pages} pages", printed.name);
}

#[test]
fn every_demo_keeps_to_four_pages() {
    summaries(all()).for_each(keeps_to_its_pages);
    assert!(summaries(all()).count() >= 16, "every demo case on both page sizes");
}

/// Two pulls, six visits that recorded everything, and the clinic's words at each.
fn crowded_course() -> String {
    let visit = |at: usize| {
        let (bend, raise) = (32 + 3 * at, 28 + 2 * at);
        let day = ["06-22", "06-29", "07-06", "07-13", "07-20", "07-27"][at];
        let (dash, quick, prwe) = (50 - at, 52 - 3 * at, 58 - 3 * at);
        let remark = if at % 2 == 1 {
            "    remark: Wears it at the kitchen table, arm on a cushion, and reads the log aloud\n"
        } else {
            ""
        };
        format!(
            "  - date: 2026-{day}\n\
             \x20   passive: {{ flexion: {bend}, extension: {raise} }}\n\
             \x20   active: {{ flexion: {}, extension: {} }}\n\
             \x20   other_side: {{ flexion: 78, extension: 70 }}\n\
             \x20   pain: {{ rest: 1, worn: 2 }}\n\
             \x20   skin: clear\n\
             \x20   worn: {{ sessions: 12, minutes: 640 }}\n\
             \x20   marks: {{ flexion: {at}, extension: {at} }}\n\
             \x20   tab:\n\
             \x20     - {{ pull: flexion, angle: {bend}, place: {} mm }}\n\
             \x20     - {{ pull: extension, angle: {raise}, place: {} mm }}\n\
             \x20   scores: {{ dash: {dash}, quick_dash: {quick}, prwe: {prwe} }}\n\
             \x20   changes:\n\
             \x20     - edge of the cuff flared and padded\n{remark}",
            bend - 5,
            raise - 5,
            5 + 4 * at,
            4 + 3 * at,
        )
    };
    let visits: String = (0..6).map(visit).collect();
    let text = demo::edited(
        "kiln-both-ways",
        &[
            ("prepared: 2026-06-15", "prepared: 2026-07-27"),
            (
                "\nlimb:\n",
                &format!("\nvisits:\n{visits}plateau: {{ weeks: 4, degrees: 5 }}\nlimb:\n"),
            ),
            ("\nwear:\n", "\nwear:\n  from: 2026-06-15\n"),
            ("  weeks: 4", "  weeks: 8"),
            (
                "works_with: left\nreferral:\n",
                "works_with: left\nreferral:\n  tried:\n    - { what: Own \
              stretching for six weeks, result: Nothing gained }\n    - { what: Night splint, result: Slid \
              off }\n  function:\n    - Throw a pot\n    - Carry a bucket of clay\n",
            ),
        ],
    );
    let (mut out, mut flats) = (String::new(), ["182 mm", "185 mm"].into_iter());
    for line in text.lines() {
        out += &format!("{line}\n");
        if line.contains("cuff_path") {
            let flat = flats.next().expect("two pulls");
            out +=
                &format!("      built:\n        - {{ loop: 1, from: 2026-06-15, flat: {flat} }}\n");
        }
    }
    out
}

#[test]
fn a_crowded_course_keeps_to_four_pages() {
    let papers = typeset("crowded course", &crowded_course());
    let plan = &papers[0].plan;
    assert_eq!((plan.pulls.len(), papers[0].case.visits.len()), (2, 6));
    assert!(!plan.is_withheld(), "{:?}", plan.findings);
    summaries(&papers).for_each(keeps_to_its_pages);
}

#[test]
fn summaries_say_what_was_found_and_on_what_it_rests() {
    for printed in summaries(all()) {
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
            mechanics_hold(printed, &text, pull);
        }
        // Both the hopeful series and the sober trials stand there.
        says(printed, &text, "McGrath");
        says(printed, &text, "Harvey");
        assert!(!text.to_lowercase().contains("medicalnecessity"), "{}", printed.name);
    }
}

/// `1.0 to 2.0`; the same number once.
fn ends(near: &str, far: &str) -> String {
    if near == far { near.to_owned() } else { format!("{near} to {far}") }
}

/// The paragraph names moment arm and pull at the first and the last mark.
fn mechanics_hold(printed: &Printed, text: &str, pull: &PullPlan) {
    let Some((first, last)) = pull.marks().next().zip(pull.marks().last()) else { return };
    let arm = |it: &Mark| format!("{:.1}", it.line.moment_arm().to_mm());
    says(printed, text, &format!("moment arm of {} mm", ends(&arm(first), &arm(last))));
    if let Some((near, far)) = pull.load(first).zip(pull.load(last)) {
        let newtons = |it: f64| format!("{it:.1}");
        let pull = ends(&newtons(near.tension.to_newtons()), &newtons(far.tension.to_newtons()));
        let joint = ends(&newtons(near.joint.to_newtons()), &newtons(far.joint.to_newtons()));
        says(printed, text, &format!("The pull is {pull} N and presses the joint with {joint} N"));
    }
}

#[test]
fn workings_hold_every_mark_with_its_loads() {
    for printed in all().iter().filter(|it| it.paper == Paper::Workings) {
        let words = words_of(&Pdf::read(&printed.bytes).text());
        for pull in &printed.plan.pulls {
            for mark in pull.marks() {
                let (place, arm) = (mark.place.to_mm(), mark.line.moment_arm().to_mm());
                let wanted =
                    row(&format!("{} {} {place:.1} {arm:.1}", mark.number, in_degrees(mark)));
                let at = find(&words, &wanted, 0);
                let at = at.unwrap_or_else(|| panic!("{}: no {wanted:?}", printed.name));
                if let Some(load) = pull.load(mark) {
                    // Pull angle and two shares stand between: `13.5° 23 % 97 %`.
                    let loads = (load.torque.to_newton_metres(), load.tension.to_newtons());
                    let wanted = row(&format!("* * % * % {:.2} {:.1}", loads.0, loads.1));
                    assert_eq!(find(&words, &wanted, at), Some(at + 4), "{}", printed.name);
                }
            }
        }
    }
}

/// The therapist's rule on a plateau is held against the ways that are pulled, and no other.
#[test]
fn a_plateau_is_told_for_the_way_that_is_pulled() {
    let mut told = 0;
    for printed in summaries(all()).filter(|it| it.case.plateau.is_some()) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        let count = text.matches(&squeezed("plateau by this file's rule")).count();
        assert_eq!(count, printed.plan.pulls.len(), "{}", printed.name);
        told += 1;
    }
    assert!(told >= 4, "two courses on both page sizes");
}

/// A range that rose and fell is held against its best, though first and newest lie within the error.
#[test]
fn a_range_lost_since_its_best_is_told() {
    let mut told = 0;
    for printed in summaries(all()).filter(|it| it.case.head.id == "CP-309") {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        says(printed, &text, "lost 16° since its best, 36° on 5 Oct 2026");
        told += 1;
    }
    assert_eq!(told, 2);
}

/// Tried, lost and re-check stand where they are recorded, and leave no trace where they are not.
#[test]
fn summaries_say_what_was_tried_only_where_it_is_recorded() {
    for printed in all().iter().filter(|it| it.paper == Paper::Summary) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        let referral = &printed.case.referral;
        for words in referral.tried.iter().flat_map(|it| [&it.what, &it.result]) {
            // In the table, and in the reason for a custom piece.
            assert_eq!(text.matches(&squeezed(words)).count(), 2, "{}: {words}", printed.name);
        }
        referral.function.iter().for_each(|it| says(printed, &text, it));
        if let Some(on) = referral.recheck {
            says(printed, &text, &on.strftime("Re-check on %-d %B %Y").to_string());
        }
        for (words, is_recorded) in [
            ("Tried before", !referral.tried.is_empty()),
            ("Function lost", !referral.function.is_empty()),
            ("Re-check on", referral.recheck.is_some()),
        ] {
            assert_eq!(text.contains(&squeezed(words)), is_recorded, "{}: {words}", printed.name);
        }
    }
    assert!(all().iter().any(|it| it.case.referral.recheck.is_some()));
    assert!(all().iter().any(|it| it.case.referral.tried.is_empty()));
}

/// Where a stop withholds the papers, the summary says so before anything else.
#[test]
fn a_withheld_summary_opens_with_the_stop() {
    for printed in all().iter().filter(|it| it.paper == Paper::Summary && it.plan.is_withheld()) {
        let first = squeezed(&Pdf::read(&printed.bytes).page_text(0));
        let referral = first.find("Referral").unwrap_or(usize::MAX);
        for finding in printed.plan.findings.iter().filter(|it| it.withholds()) {
            let stop = first.find(&squeezed(finding.title));
            assert!(stop.is_some_and(|it| it < referral), "{}: {first}", printed.name);
        }
        assert!(first.to_lowercase().contains("withheld"), "{}", printed.name);
    }
}
