//! The wear log: boxes that a hand finds, fields that are told to who cannot see them, headings, large type; and the
//! steps and prompts around it.

use std::collections::BTreeMap;

use tautline::case::{Language, PageSize, PrintSize};
use tautline::sheets::{self, Paper};

use crate::boxes::papers;
use crate::ink::{Ink, Mark, Text, pages};
use crate::papers::{Printed, all};
use crate::pdf::{Pdf, Stroke};
use crate::tree::{Element, Kid, Place, said, tree};

/// Boxes to tick as (left, right, height above the page's foot), by rows: squares of at least 7 mm.
fn boxes(strokes: &[Stroke]) -> Vec<(f64, f64, f64)> {
    // A rectangle closes with a line of no length.
    let is_box =
        |it: &&Stroke| (it.width_pt - 0.7).abs() < 1e-3 && it.is_horizontal() && it.length() > 0.1;
    let mut found: Vec<(f64, f64, f64)> = strokes
        .iter()
        .filter(is_box)
        .map(|it| (it.from.0.min(it.to.0), it.from.0.max(it.to.0), it.from.1))
        .collect();
    found.sort_by(|one, other| (one.2, one.0).partial_cmp(&(other.2, other.0)).unwrap());
    found
}

/// 7 mm and 1.5 mm apart: what a hand that shakes still finds (common practice, no source).
#[test]
fn boxes_are_large_and_apart() {
    let mut seen = 0;
    for (printed, _) in papers().filter(|(it, _)| it.paper == Paper::Handout) {
        let pdf = Pdf::read(&printed.bytes);
        for index in 0..pdf.page_count() {
            let sides = boxes(&pdf.strokes(index));
            for (left, right, _) in &sides {
                assert!(right - left > 7.0 - 0.01, "{}: {} mm", printed.name, right - left);
            }
            for pair in sides.windows(2).filter(|it| (it[0].2 - it[1].2).abs() < 0.01) {
                let gap = pair[1].0 - pair[0].1;
                assert!(gap > 1.5 - 0.01, "{}: {gap} mm apart", printed.name);
            }
            seen += sides.len();
        }
    }
    assert!(seen > 5000, "{seen} sides of boxes");
}

/// The tables that hold fields to fill in: those whose rows have headings.
fn logs(root: &Element) -> Vec<&Element> {
    let is_row = |it: &&Element| it.attributes.get("Scope").is_some_and(|it| it == "Row");
    let tables = root.all().into_iter().filter(|it| it.kind == "Table");
    tables.filter(|it| it.all().iter().any(is_row)).collect()
}

/// Each row of a log is headed by its day; each field says what belongs there, and no cell is mute.
fn faults_of_log(log: &Element, said: &BTreeMap<Place, String>) -> Vec<String> {
    let mut faults = Vec::new();
    let rows: Vec<&Element> = log.all().into_iter().filter(|it| it.kind == "TR").collect();
    for row in &rows[1..] {
        let cells: Vec<&Element> = row.elements().collect();
        let day = cells[0].text(said);
        let is_head =
            cells[0].kind == "TH" && cells[0].attributes.get("Scope").is_some_and(|it| it == "Row");
        if !is_head || day.is_empty() {
            faults.push(format!("`{day}` heads no row"));
        }
        for cell in &cells[1..] {
            let alt = |it: &&Element| it.alt.as_deref().is_some_and(|it| it.chars().count() > 20);
            if cell.text(said).is_empty() && !cell.all().iter().any(alt) {
                faults.push(format!("`{day}`: a mute cell"));
            }
        }
    }
    faults
}

#[test]
fn the_log_is_told_to_who_cannot_see_it() {
    let papers: Vec<&(&Printed, Vec<Ink>)> =
        pages().iter().filter(|it| it.0.paper == Paper::Handout).collect();
    for (printed, inks) in &papers {
        let root = tree(&Pdf::read(&printed.bytes)).remove(0);
        let said = said(inks);
        let logs = logs(&root);
        assert!(!logs.is_empty(), "{}: no log", printed.name);
        for log in &logs {
            assert_eq!(faults_of_log(log, &said), [""; 0], "{}", printed.name);
        }
    }
    // What the rule must find: a day that is no heading, a field without words.
    let (printed, inks) = papers[0];
    let root = tree(&Pdf::read(&printed.bytes)).remove(0);
    let mut log = logs(&root)[0].clone();
    strip(&mut log);
    assert!(faults_of_log(&log, &said(inks)).len() > 14);
}

/// Takes headings of rows and words of figures away.
fn strip(it: &mut Element) {
    it.alt = None;
    if it.attributes.get("Scope").is_some_and(|it| it == "Row") {
        it.kind = "TD".into();
    }
    for kid in &mut it.kids {
        if let Kid::Element(it) = kid {
            strip(it);
        }
    }
}

/// On a page of its own the log is a question of the paper, under the schedule a part of one.
#[test]
fn the_log_is_headed_by_where_it_stands() {
    let mut seen = [0, 0];
    for (printed, inks) in papers().filter(|(it, _)| it.paper == Paper::Handout) {
        let root = tree(&Pdf::read(&printed.bytes)).remove(0);
        let said = said(inks);
        let name = match printed.case.head.language {
            Language::English => "My wear log",
            Language::Spanish => "Mi registro de uso",
        };
        let headings = root.all().into_iter().filter(|it| it.level().is_some());
        let own: Vec<&Element> = headings.filter(|it| it.text(&said) == name).collect();
        assert_eq!(own.len(), 1, "{}", printed.name);
        let is_first = own[0].places()[0].0 == 0;
        assert_eq!(own[0].level(), Some(if is_first { 3 } else { 2 }), "{}", printed.name);
        seen[usize::from(is_first)] += 1;
    }
    assert!(seen.iter().all(|it| *it > 5), "{seen:?}");
}

/// In large print the log is set in 16 pt at least, and the nine steps of a session stand on one page.
#[test]
fn large_print_keeps_log_and_steps_readable() {
    let mut seen = 0;
    for (printed, inks) in papers().filter(|(it, _)| it.paper == Paper::Handout) {
        if printed.case.head.print_size != PrintSize::Large {
            continue;
        }
        let root = tree(&Pdf::read(&printed.bytes)).remove(0);
        let places: Vec<Place> = logs(&root).iter().flat_map(|it| it.places()).collect();
        for (index, page) in inks.iter().enumerate() {
            let in_log = |it: &&Text| match it.mark {
                Mark::Tagged(id) => places.contains(&(index, id)),
                _ => false,
            };
            for text in page.texts().filter(in_log) {
                assert!(text.size_pt > 16.0 - 0.01, "{}: `{}`", printed.name, text.string);
                seen += 1;
            }
        }
        for list in root.all().into_iter().filter(|it| it.kind == "L") {
            let is_numbered =
                list.attributes.get("ListNumbering").is_some_and(|it| it == "Decimal");
            let pages: Vec<usize> = list.places().iter().map(|it| it.0).collect();
            let is_whole = pages.first() == pages.last();
            assert!(!is_numbered || is_whole, "{}: steps over {pages:?}", printed.name);
        }
    }
    assert!(seen > 500, "{seen} texts");
}

/// The teach-back's prompts are a list of three, each with its box and a line for initials.
#[test]
fn the_teach_back_is_a_list() {
    let printed = all().iter().find(|it| it.paper == Paper::Handout).unwrap();
    let edition = sheets::Edition { teach_back: true, ..PageSize::A4.into() };
    let bytes = sheets::typeset(&[Paper::Handout], &printed.case, &printed.plan, edition);
    let bytes = bytes.unwrap().remove(0);
    let root = tree(&Pdf::read(&bytes)).remove(0);
    let lists: Vec<&Element> = root.all().into_iter().filter(|it| it.kind == "L").collect();
    assert_eq!(lists.last().unwrap().elements().count(), 3);
}
