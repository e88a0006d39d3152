//! Papers against an independent checker of PDF/UA-1 and PDF/A-2a, and the checker against damage.

use lopdf::{Dictionary, Document, Object};
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};
use tautline::case::PageSize;
use tautline::sheets::{self, Paper};

use crate::papers::all;

/// The checker takes a stream whose last byte is a carriage return for one byte too long, since a
/// line feed follows it; `structure` holds the rule to the letter.
const LENGTHS: &[&str] = &["ISO 19005-2:2011:6.1.7.1:1", "ISO 19005-3:2012:6.1.7.1:1"];

/// The rules that a PDF breaks.
pub fn broken(bytes: &[u8], profile: ValidationProfile) -> Vec<String> {
    let options = ValidationOptions::default().profile(profile);
    let report = validate_pdf_bytes(bytes, &options).unwrap();
    let rules = report.failures.iter().map(|it| it.rule_id.clone());
    rules.filter(|rule| !LENGTHS.contains(&rule.as_str())).collect()
}

/// PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2).
#[test]
fn papers_conform_to_ua_1_and_a_2a() {
    for printed in all() {
        for profile in [ValidationProfile::PdfUa1, ValidationProfile::PdfA2a] {
            let rules = broken(&printed.bytes, profile);
            assert!(rules.is_empty(), "{} {profile:?}: {rules:?}", printed.name);
        }
    }
}

/// With the record attached: PDF/UA-1 and PDF/A-3a (ISO 19005-3).
#[test]
fn a_summary_with_its_record_conforms_to_a_3a() {
    for printed in all().iter().filter(|it| it.paper == Paper::Summary && it.name.ends_with("a4")) {
        let bytes = sheets::with_record(&printed.case, &printed.plan, PageSize::A4).unwrap();
        for profile in [ValidationProfile::PdfUa1, ValidationProfile::PdfA3a] {
            let rules = broken(&bytes, profile);
            assert!(rules.is_empty(), "{} {profile:?}: {rules:?}", printed.name);
        }
    }
}

/// The first paper, saved once more with some damage.
fn damaged(damage: impl Fn(&mut Document)) -> Vec<u8> {
    let mut document = Document::load_mem(&all()[0].bytes).unwrap();
    damage(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn without(key: &'static [u8]) -> impl Fn(&mut Document) {
    move |document| {
        let removed = document.catalog_mut().unwrap().remove(key);
        assert!(removed.is_some(), "the catalog has {}", String::from_utf8_lossy(key));
    }
}

/// The structure elements of one kind.
fn elements<'a>(document: &'a mut Document, kind: &[u8]) -> Vec<&'a mut Dictionary> {
    let objects = document.objects.values_mut();
    let dictionaries = objects.filter_map(|it| it.as_dict_mut().ok());
    let of_kind = |it: &Dictionary| it.get(b"S").and_then(Object::as_name).ok() == Some(kind);
    let found: Vec<&mut Dictionary> = dictionaries.filter(|it| of_kind(it)).collect();
    assert!(!found.is_empty(), "{} in the tags", String::from_utf8_lossy(kind));
    found
}

/// A checker that lets damage pass proves nothing: each of these must be refused.
#[test]
fn the_checker_refuses_damaged_papers() {
    use ValidationProfile::{PdfA2a, PdfUa1};
    let whole = damaged(|_| {});
    for profile in [PdfUa1, PdfA2a] {
        assert_eq!(broken(&whole, profile), [""; 0], "saving again does no damage");
    }
    let speechless = damaged(|document| {
        for figure in elements(document, b"Figure") {
            figure.remove(b"Alt");
        }
    });
    let nameless = damaged(|document| {
        let wishes = document.catalog_mut().unwrap().get_mut(b"ViewerPreferences").unwrap();
        wishes.as_dict_mut().unwrap().set("DisplayDocTitle", false);
    });
    for (what, bytes, profile) in [
        ("a figure without words", speechless, PdfUa1),
        ("no title shown", nameless, PdfUa1),
        ("no language", damaged(without(b"Lang")), PdfUa1),
        ("no tag tree", damaged(without(b"StructTreeRoot")), PdfUa1),
        ("not said to be tagged", damaged(without(b"MarkInfo")), PdfUa1),
        ("no metadata", damaged(without(b"Metadata")), PdfUa1),
        ("no tag tree", damaged(without(b"StructTreeRoot")), PdfA2a),
        ("no metadata", damaged(without(b"Metadata")), PdfA2a),
    ] {
        assert!(!broken(&bytes, profile).is_empty(), "{what} passes as {profile:?}");
    }
}
