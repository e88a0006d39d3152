//! The tag tree of every paper: what a screen reader is given, and in which order.

use std::collections::{BTreeMap, BTreeSet};

use serde_yaml::Value;
use tautline::case::normalised;
use tautline::sheets::Paper;

use crate::ink::{Ink, Item, Mark, pages};
use crate::papers::Printed;
use crate::pdf::Pdf;
use crate::prose::INLINE;
use crate::quads::{Point, hull};
use crate::readability::language;
use crate::tree::{Element, Kid, Place, said, tree};

/// Elements that hold others and no content of their own (ISO 32000-1, tables 333, 336 and 337).
const HOLDERS: [&str; 10] =
    ["Document", "Part", "Sect", "Div", "L", "LI", "Table", "THead", "TBody", "TR"];
/// Elements that hold content.
const BLOCKS: [&str; 11] =
    ["H1", "H2", "H3", "H4", "P", "Lbl", "LBody", "TH", "TD", "Figure", "Caption"];

/// A paper's only root, its pages, and what each piece of marked content says.
struct Tagged<'a> {
    printed: &'a Printed,
    root: Element,
    pages: &'a [Ink],
    said: BTreeMap<Place, String>,
}

fn papers() -> Vec<Tagged<'static>> {
    let tagged = |(printed, pages): &'static (&'static Printed, Vec<Ink>)| {
        let mut roots = tree(&Pdf::read(&printed.bytes));
        assert_eq!(roots.len(), 1, "{}: one root", printed.name);
        Tagged { printed, root: roots.remove(0), pages, said: said(pages) }
    };
    pages().iter().map(tagged).collect()
}

/// Every mark that a page's content carries.
fn marks(pages: &[Ink]) -> BTreeSet<Place> {
    let mut found = BTreeSet::new();
    for (index, page) in pages.iter().enumerate() {
        for item in &page.items {
            let (Item::Text(crate::ink::Text { mark, .. })
            | Item::Path(crate::ink::Path { mark, .. })) = item;
            if let Mark::Tagged(id) = mark {
                found.insert((index, *id));
            }
        }
    }
    found
}

/// All that is marked stands in the tree once, and nothing stands there that no page has. Header, footer, rules
/// and bands are artifacts; no other text is.
fn lost_and_found(paper: &Tagged) -> Vec<String> {
    let places = paper.root.places();
    let in_tree: BTreeSet<Place> = places.iter().copied().collect();
    let marks = marks(paper.pages);
    let mut faults = Vec::new();
    if in_tree.len() < places.len() {
        faults.push("read twice".to_owned());
    }
    for place in marks.symmetric_difference(&in_tree) {
        faults.push(format!("{place:?} in page or tree alone: {:?}", paper.said.get(place)));
    }
    for text in paper.pages.iter().flat_map(Ink::texts).filter(|it| it.mark == Mark::Mute) {
        faults.push(format!("never read: `{}`", text.string));
    }
    faults
}

#[test]
fn all_content_is_read_once_and_artifacts_are_not() {
    for paper in papers() {
        assert_eq!(paper.root.kind, "Document", "{}", paper.printed.name);
        let frames: Vec<String> = paper
            .pages
            .iter()
            .map(|it| {
                it.texts().filter(|it| it.mark == Mark::Frame).map(|it| &*it.string).collect()
            })
            .collect();
        // Header and footer stand on every page and in no tree.
        assert!(frames.iter().all(|it| it.contains(&paper.printed.case.head.id)), "{frames:?}");
        assert_eq!(lost_and_found(&paper), [""; 0], "{}", paper.printed.name);
    }
}

/// What is wrong with the nesting of elements, as ISO 32000-1, 14.8.4 and ISO 14289-1, 7.2 to 7.7 have it.
fn misnested(paper: &Tagged) -> Vec<String> {
    let mut faults = Vec::new();
    for element in paper.root.all() {
        let (kind, text) = (element.kind.as_str(), element.text(&paper.said));
        let below: Vec<&str> = element.elements().map(|it| it.kind.as_str()).collect();
        let is_right = match kind {
            "L" => !below.is_empty() && below.iter().all(|it| *it == "LI" || *it == "Caption"),
            "LI" => below == ["Lbl", "LBody"],
            "Table" => below.iter().all(|it| ["THead", "TBody", "TR", "Caption"].contains(it)),
            "THead" | "TBody" => !below.is_empty() && below.iter().all(|it| *it == "TR"),
            "TR" => !below.is_empty() && below.iter().all(|it| *it == "TH" || *it == "TD"),
            "TH" => element.attributes.get("Scope").is_some_and(|it| it == "Column" || it == "Row"),
            "Figure" => {
                let alt = element.alt.as_deref().unwrap_or_default();
                !alt.trim().is_empty() && element.all()[1..].iter().all(|it| it.kind != "Figure")
            }
            // The label of an item to tick is a drawn box.
            "Lbl" => below.iter().all(|it| INLINE.contains(it)),
            "P" | "H1" | "H2" | "H3" | "H4" => {
                !text.is_empty() && below.iter().all(|it| INLINE.contains(it))
            }
            _ => HOLDERS.contains(&kind) || BLOCKS.contains(&kind) || INLINE.contains(&kind),
        };
        let is_bare = |it: &Kid| matches!(it, Kid::Marked(_));
        if !is_right || HOLDERS.contains(&kind) && element.kids.iter().any(is_bare) {
            faults.push(format!("{kind} of {below:?} {:?}: `{text}`", element.attributes));
        }
        if let Some(language) = &element.language {
            faults.push(format!("{kind} speaks {language}: `{text}`"));
        }
    }
    faults
}

#[test]
fn elements_are_nested_as_the_standard_has_it() {
    for paper in papers() {
        assert_eq!(misnested(&paper), [""; 0], "{}", paper.printed.name);
    }
}

/// What stands in the flow outside any paragraph, heading, cell or item: a screen reader runs it together with
/// its neighbours.
fn loose(paper: &Tagged) -> Vec<String> {
    let holders = paper.root.all().into_iter().filter(|it| HOLDERS.contains(&it.kind.as_str()));
    let below = holders.flat_map(Element::elements);
    let inline = below.filter(|it| INLINE.contains(&it.kind.as_str()));
    inline.map(|it| it.text(&paper.said)).collect()
}

#[test]
fn every_line_of_a_handout_stands_in_a_block() {
    for paper in papers().iter().filter(|it| it.printed.paper == Paper::Handout) {
        assert_eq!(loose(paper), [""; 0], "{}", paper.printed.name);
    }
}

/// The numbers of a numbered list, or nothing.
fn numbers_of(list: &Element, said: &BTreeMap<Place, String>) -> Vec<u32> {
    let is_numbered = list.attributes.get("ListNumbering").is_some_and(|it| it == "Decimal");
    let labels = list.elements().filter(|_| is_numbered).flat_map(Element::elements);
    let labels = labels.filter(|it| it.kind == "Lbl").map(|it| it.text(said));
    labels.map(|it| it.trim_end_matches('.').parse().expect("a number")).collect()
}

/// Steps are numbered one by one; a list goes on where one before it ended, or starts with 1.
#[test]
fn steps_rise_one_by_one() {
    let mut lists = 0;
    for paper in papers() {
        let mut last = 0;
        for list in paper.root.all().into_iter().filter(|it| it.kind == "L") {
            for (it, number) in numbers_of(list, &paper.said).into_iter().enumerate() {
                let starts_anew = it == 0 && number == 1;
                assert!(starts_anew || number == last + 1, "{}: {number}", paper.printed.name);
                last = number;
                lists += usize::from(it == 0);
            }
        }
    }
    assert!(lists > 50, "{lists} numbered lists");
}

/// Headings that nothing follows but a heading as high, or nothing at all.
fn empty_headings(paper: &Tagged) -> Vec<String> {
    let all = paper.root.all();
    let blocks: Vec<&&Element> = all
        .iter()
        .filter(|it| it.level().is_some() || BLOCKS.contains(&it.kind.as_str()))
        .collect();
    let mut faults = Vec::new();
    for (it, heading) in blocks.iter().enumerate().filter(|it| it.1.level().is_some()) {
        let next = blocks.get(it + 1);
        let is_empty =
            next.is_none_or(|it| it.level().is_some_and(|it| it <= heading.level().unwrap()));
        if is_empty {
            faults.push(heading.text(&paper.said));
        }
    }
    faults
}

#[test]
fn every_heading_has_content() {
    for paper in papers() {
        assert_eq!(empty_headings(&paper), [""; 0], "{}", paper.printed.name);
    }
}

/// Where the eye would have to jump back: to an earlier page, or up and not to the right, as no one reads. Words
/// inside a figure lie where their parts lie.
fn jumps(paper: &Tagged) -> Vec<String> {
    let boxes = boxes(paper.pages);
    let figures = paper.root.all().into_iter().filter(|it| it.kind == "Figure");
    let drawn: BTreeSet<Place> = figures.flat_map(Element::places).collect();
    let places = paper.root.places().into_iter().filter(|it| !drawn.contains(it));
    let order: Vec<(Place, (Point, Point))> =
        places.filter_map(|it| Some((it, *boxes.get(&it)?))).collect();
    let jumps_back = |at: &(Place, (Point, Point)), next: &(Place, (Point, Point))| {
        let ((page, _), (least, most)) = at;
        let ((next_page, _), (next_least, _)) = next;
        // A tenth of a millimetre, since a capital may stand higher than the letter before it.
        next_page < page
            || next_page == page && next_least.1 > most.1 - 0.1 && next_least.0 < least.0
    };
    let back = order.windows(2).filter(|it| jumps_back(&it[0], &it[1]));
    back.map(|it| format!("{:?} to {:?}", paper.said.get(&it[0].0), paper.said.get(&it[1].0)))
        .collect()
}

#[test]
fn reading_order_is_that_of_a_person() {
    for paper in papers() {
        assert_eq!(jumps(&paper), [""; 0], "{}", paper.printed.name);
    }
}

/// The catalog names the language that the case asks for, English where it asks for none.
#[test]
fn papers_say_their_language() {
    for paper in papers() {
        let case: Value = serde_yaml::from_str(&normalised(&paper.printed.case)).unwrap();
        let wanted = case["case"]["language"].as_str().unwrap_or("en");
        let said = language(&Pdf::read(&paper.printed.bytes));
        // Papers whose words a language lacks stay in English.
        let is_patients = paper.printed.paper == Paper::Handout;
        assert!(said == wanted || !is_patients && said == "en", "{}: {said}", paper.printed.name);
    }
}

/// Each of these must be found in the first handout, which has none of them.
#[test]
fn damage_is_found() {
    type Faults = fn(&Tagged) -> Vec<String>;
    type Damage = fn(&mut Element);
    let cases: [(&str, Faults, Damage); 9] = [
        ("content left out", lost_and_found, |it| {
            it.kids.remove(1);
        }),
        ("content read twice", lost_and_found, |it| it.kids.push(it.kids[1].clone())),
        ("a figure without words", misnested, |it| kind(it, "Figure").alt = None),
        ("a header cell without scope", misnested, |it| kind(it, "TH").attributes.clear()),
        ("an item without its number", misnested, |it| {
            kind(it, "LI").kids.remove(0);
        }),
        ("an unknown kind", misnested, |it| kind(it, "P").kind = "Text".into()),
        ("another language", misnested, |it| kind(it, "P").language = Some("de".into())),
        ("a heading at the end", empty_headings, |it| it.kids.push(it.kids[0].clone())),
        ("the end first", jumps, |it| it.kids.rotate_right(1)),
    ];
    let mut papers = papers();
    let paper = papers.iter_mut().find(|it| it.printed.paper == Paper::Handout).unwrap();
    let whole = paper.root.clone();
    for (what, faults, damage) in cases {
        assert_eq!(faults(paper), [""; 0], "{what}");
        damage(&mut paper.root);
        assert!(!faults(paper).is_empty(), "{what} passes");
        paper.root = whole.clone();
    }
    // A line of text that is taken out of its paragraph.
    let span = kind(&mut paper.root, "Strong").clone();
    paper.root.kids.push(Kid::Element(span));
    assert!(!loose(paper).is_empty());
}

/// The first element of a kind, in reading order.
fn kind<'a>(root: &'a mut Element, wanted: &str) -> &'a mut Element {
    fn first<'a>(it: &'a mut Element, wanted: &str) -> Option<&'a mut Element> {
        if it.kind == wanted {
            return Some(it);
        }
        it.kids.iter_mut().find_map(|kid| match kid {
            Kid::Element(it) => first(it, wanted),
            Kid::Marked(_) => None,
        })
    }
    first(root, wanted).unwrap_or_else(|| panic!("a {wanted}"))
}

/// Where each piece of marked content lies.
fn boxes(pages: &[Ink]) -> BTreeMap<Place, (Point, Point)> {
    let mut points: BTreeMap<Place, Vec<Point>> = BTreeMap::new();
    for (index, page) in pages.iter().enumerate() {
        for text in page.texts() {
            if let Mark::Tagged(id) = text.mark {
                points.entry((index, id)).or_default().extend(text.glyphs.iter().flatten());
            }
        }
    }
    points.into_iter().filter(|it| !it.1.is_empty()).map(|(place, it)| (place, hull(it))).collect()
}
