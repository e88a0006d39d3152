//! How long the patient's paper is, how full its pages are, and how large its type.

use std::collections::BTreeSet;

use tautline::case::PrintSize;
use tautline::sheets::Paper;

use crate::boxes::papers;
use crate::ink::{Ink, Mark};
use crate::papers::Printed;
use crate::pdf::Pdf;
use crate::tree::{Element, Place, tree};

/// The patient's papers, in every variant.
fn handouts() -> impl Iterator<Item = (&'static Printed, &'static [Ink])> {
    papers().filter(|(it, _)| it.paper == Paper::Handout)
}

fn is_large(printed: &Printed) -> bool {
    printed.case.head.print_size == PrintSize::Large
}

#[test]
fn handouts_keep_their_length() {
    let mut count = 0;
    let mut long = Vec::new();
    for (printed, pages) in handouts() {
        let most = if is_large(printed) { 7 } else { 4 };
        if pages.len() > most {
            long.push(format!("{}: {} pages", printed.name, pages.len()));
        }
        count += 1;
    }
    assert_eq!(long, [""; 0]);
    assert!(count >= 60, "every demo case, page size and variant: {count}");
}

/// The share of the room between the margins down to which a page is filled; the margins as in `boxes`.
fn filled(page: &Ink) -> f64 {
    let (top, bottom) = (page.size.1 - 23.5, 21.5);
    let body = page.items.iter().filter(|it| it.mark() != Mark::Frame).map(|it| it.area().0.1);
    (top - body.fold(top, f64::min)) / (top - bottom)
}

#[test]
fn pages_are_a_third_full_at_least() {
    for (printed, pages) in handouts() {
        let before_last = &pages[..pages.len() - 1];
        let thin: Vec<f64> = before_last.iter().map(filled).filter(|it| *it < 1.0 / 3.0).collect();
        assert!(thin.is_empty(), "{}: {thin:.2?}", printed.name);
    }
}

/// A page that holds a title alone is nearly empty; one with all of a handout's first page is not.
#[test]
fn an_empty_page_is_found() {
    let (_, pages) = handouts().next().unwrap();
    let mut page = pages[0].clone();
    assert!(filled(&page) > 0.5);
    let top = page.size.1;
    page.items.retain(|it| it.area().0.1 > top - 45.0);
    assert!(!page.items.is_empty() && filled(&page) < 0.2, "{}", filled(&page));
}

/// Headings whose next words stand on another page than they do.
fn widows(root: &Element) -> Vec<Place> {
    let all = root.places();
    let headings = root.all().into_iter().filter(|it| it.level().is_some());
    let ends = headings.filter_map(|it| it.places().last().copied());
    let is_widow = |end: &Place| {
        let at = all.iter().position(|it| it == end);
        at.and_then(|at| all.get(at + 1)).is_none_or(|next| next.0 != end.0)
    };
    ends.filter(is_widow).collect()
}

#[test]
fn no_heading_ends_a_page() {
    for (printed, _) in papers() {
        let root = tree(&Pdf::read(&printed.bytes)).remove(0);
        assert_eq!(widows(&root), [], "{}", printed.name);
    }
}

/// A heading is a widow when what follows it moves to the next page.
#[test]
fn a_widowed_heading_is_found() {
    let (printed, _) = handouts().next().unwrap();
    let mut root = tree(&Pdf::read(&printed.bytes)).remove(0);
    root.kids.truncate(1);
    assert_eq!(widows(&root).len(), 1, "the title alone");
}

/// What stands in tables and figures.
fn set_small(root: &Element) -> BTreeSet<Place> {
    let all = root.all().into_iter();
    let small = all.filter(|it| ["Table", "Figure"].contains(&it.kind.as_str()));
    small.flat_map(Element::places).collect()
}

/// Running text in large print is 18 pt; tables, drawings, header and footer 14 pt. Elsewhere nothing that a patient
/// reads is below 12 pt.
#[test]
fn handouts_are_set_in_large_type() {
    let mut faults = BTreeSet::new();
    for (printed, pages) in handouts() {
        let small = set_small(&tree(&Pdf::read(&printed.bytes)).remove(0));
        for (index, page) in pages.iter().enumerate() {
            for text in page.texts() {
                let is_small = match text.mark {
                    Mark::Tagged(id) => small.contains(&(index, id)),
                    _ => true,
                };
                let least = match (is_large(printed), is_small) {
                    (true, false) => 18.0,
                    (true, true) => 14.0,
                    (false, _) => 12.0,
                };
                if text.size_pt < least - 0.01 {
                    faults.insert(format!(
                        "{}: `{}` {:.1} pt",
                        printed.name, text.string, text.size_pt
                    ));
                }
            }
        }
    }
    let first: Vec<_> = faults.iter().take(40).collect();
    assert!(faults.is_empty(), "{} faults: {first:#?}", faults.len());
}
