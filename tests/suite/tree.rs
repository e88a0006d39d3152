//! The tag tree of a paper with the text that each of its elements marks (ISO 32000-1, 14.7).

use std::collections::BTreeMap;

use lopdf::{Dictionary, Object, ObjectId, decode_text_string};

use crate::ink::{Ink, Mark};
use crate::pdf::Pdf;

/// A place of marked content: the page's index, the number on it.
pub type Place = (usize, i64);

/// A structure element.
#[derive(Debug, Clone)]
pub struct Element {
    pub kind: String,
    pub alt: Option<String>,
    pub language: Option<String>,
    /// Its attributes by name, as names: `Scope`, `ListNumbering`.
    pub attributes: BTreeMap<String, String>,
    pub kids: Vec<Kid>,
}

/// What an element holds.
#[derive(Debug, Clone)]
pub enum Kid {
    Element(Element),
    Marked(Place),
}

/// The tree's root elements.
pub fn tree(pdf: &Pdf) -> Vec<Element> {
    let root = pdf.get(pdf.catalog(), "StructTreeRoot").unwrap().as_dict().unwrap();
    let roots = kids(pdf, root, None).into_iter().map(|it| match it {
        Kid::Element(it) => it,
        Kid::Marked(place) => panic!("marked content {place:?} outside any element"),
    });
    roots.collect()
}

fn page_of(pdf: &Pdf, dictionary: &Dictionary) -> Option<usize> {
    let id: ObjectId = dictionary.get(b"Pg").ok()?.as_reference().ok()?;
    pdf.page_ids().iter().position(|it| *it == id)
}

fn kids(pdf: &Pdf, of: &Dictionary, page: Option<usize>) -> Vec<Kid> {
    let page = page_of(pdf, of).or(page);
    let all: Vec<&Object> = match pdf.get(of, "K") {
        Some(Object::Array(all)) => all.iter().map(|it| pdf.resolve(it)).collect(),
        Some(one) => vec![one],
        None => Vec::new(),
    };
    let kid = |it: &Object| match it {
        Object::Integer(id) => Kid::Marked((page.expect("marked content has a page"), *id)),
        Object::Dictionary(it) if it.has(b"MCID") => {
            let page = page_of(pdf, it).or(page).expect("marked content has a page");
            Kid::Marked((page, pdf.get(it, "MCID").unwrap().as_i64().unwrap()))
        }
        Object::Dictionary(it) => Kid::Element(element(pdf, it, page)),
        other => panic!("{other:?} in the tag tree"),
    };
    all.into_iter().map(kid).collect()
}

fn element(pdf: &Pdf, it: &Dictionary, page: Option<usize>) -> Element {
    let text = |key: &str| decode_text_string(pdf.get(it, key)?).ok();
    let kind = pdf.get(it, "S").unwrap_or_else(|| panic!("{it:?} has no kind"));
    let mut attributes = BTreeMap::new();
    let owners: Vec<&Object> = match pdf.get(it, "A") {
        Some(Object::Array(all)) => all.iter().map(|it| pdf.resolve(it)).collect(),
        Some(one) => vec![one],
        None => Vec::new(),
    };
    for owner in owners.into_iter().filter_map(|it| it.as_dict().ok()) {
        for (key, value) in owner {
            if let Ok(name) = pdf.resolve(value).as_name() {
                let lossy = |it: &[u8]| String::from_utf8_lossy(it).into_owned();
                attributes.insert(lossy(key), lossy(name));
            }
        }
    }
    Element {
        kind: String::from_utf8_lossy(kind.as_name().unwrap()).into_owned(),
        alt: text("Alt"),
        language: text("Lang"),
        attributes,
        kids: kids(pdf, it, page),
    }
}

impl Element {
    pub fn elements(&self) -> impl Iterator<Item = &Self> {
        self.kids.iter().filter_map(|it| match it {
            Kid::Element(it) => Some(it),
            Kid::Marked(_) => None,
        })
    }

    /// Itself and all below, in reading order.
    pub fn all(&self) -> Vec<&Self> {
        let mut found = vec![self];
        found.extend(self.elements().flat_map(Self::all));
        found
    }

    /// All content marked in it and below, in reading order.
    pub fn places(&self) -> Vec<Place> {
        let below = |it: &Kid| match it {
            Kid::Element(it) => it.places(),
            Kid::Marked(place) => vec![*place],
        };
        self.kids.iter().flat_map(below).collect()
    }

    /// What it says.
    pub fn text(&self, said: &BTreeMap<Place, String>) -> String {
        let strings = self.places().into_iter().filter_map(|it| said.get(&it));
        let all: String = strings.map(String::as_str).collect();
        all.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The level of a heading.
    pub fn level(&self) -> Option<u32> {
        self.kind.strip_prefix('H')?.parse().ok()
    }
}

/// The text of all marked content.
pub fn said(pages: &[Ink]) -> BTreeMap<Place, String> {
    let mut said: BTreeMap<Place, String> = BTreeMap::new();
    for (index, page) in pages.iter().enumerate() {
        for text in page.texts() {
            if let Mark::Tagged(id) = text.mark {
                *said.entry((index, id)).or_default() += &text.string;
            }
        }
    }
    said
}
