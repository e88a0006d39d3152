//! What the papers are as PDF: standards, tags, the same bytes, true size in print.

use lopdf::Object;
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};
use tautline::case::PageSize;
use tautline::sheets;

use crate::papers::all;
use crate::pdf::Pdf;

/// PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2) by an independent checker.
#[test]
fn papers_conform_to_ua_1_and_a_2a() {
    for printed in all() {
        for profile in [ValidationProfile::PdfUa1, ValidationProfile::PdfA2a] {
            let options = ValidationOptions::default().profile(profile);
            let report = validate_pdf_bytes(&printed.bytes, &options).unwrap();
            let rules: Vec<_> = report
                .failures
                .iter()
                .map(|it| &it.rule_id)
                .filter(|rule| **rule != LENGTHS)
                .collect();
            assert!(rules.is_empty(), "{} {profile:?}: {rules:?}", printed.name);
        }
    }
}

/// The checker takes a stream whose last byte is a carriage return for one byte too long, since a
/// line feed follows it; the rule is held to the letter in `streams_are_as_long_as_they_say`.
const LENGTHS: &str = "ISO 19005-2:2011:6.1.7.1:1";

/// ISO 19005-2, 6.1.7.1: /Length is the number of bytes between the line end after `stream` and the
/// line end before `endstream`.
#[test]
fn streams_are_as_long_as_they_say() {
    for printed in all() {
        let bytes = &printed.bytes;
        let find = |what: &[u8], from: usize| {
            bytes[from..].windows(what.len()).position(|it| it == what).map(|at| from + at)
        };
        let (mut at, mut streams) = (0, 0);
        while let Some(keyword) = find(b">>\nstream\n", at).or_else(|| find(b">>stream\n", at)) {
            let start = find(b"stream\n", keyword).unwrap() + b"stream\n".len();
            let head = bytes[..keyword].windows(8).rposition(|it| it == b"/Length ").unwrap() + 8;
            let digits: String = bytes[head..]
                .iter()
                .take_while(|it| it.is_ascii_digit())
                .map(|&it| char::from(it))
                .collect();
            let end = start + digits.parse::<usize>().unwrap();
            assert!(bytes[end..].starts_with(b"\nendstream"), "{} at {start}", printed.name);
            streams += 1;
            at = end;
        }
        assert!(streams > 5, "{}: {streams} streams", printed.name);
    }
}

/// What checkers do not see: every table has header cells in its first row and every figure speaks.
#[test]
fn tables_have_headers_and_figures_have_words() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let (mut tables, mut figures) = (0, 0);
        for (kind, element) in pdf.tags() {
            match kind.as_str() {
                "Table" => {
                    tables += 1;
                    assert!(has_header(&pdf, element), "{}: a table without header", printed.name);
                }
                "Figure" => {
                    figures += 1;
                    let alt = pdf.get(element, "Alt").and_then(|it| it.as_str().ok());
                    assert!(alt.is_some_and(|it| it.len() > 20), "{}: figure", printed.name);
                }
                _ => {}
            }
        }
        assert!(
            tables >= 1 && figures >= 1,
            "{}: {tables} tables, {figures} figures",
            printed.name
        );
    }
}

fn has_header(pdf: &Pdf, table: &lopdf::Dictionary) -> bool {
    let mut cells = Vec::new();
    let mut below = vec![table];
    while let Some(element) = below.pop() {
        let kind = pdf.get(element, "S").and_then(|it| it.as_name().ok());
        if kind == Some(b"TH") {
            cells.push(element);
        }
        below.extend(pdf.children(element));
    }
    !cells.is_empty()
}

/// One level-1 heading first, and no level skipped going down.
#[test]
fn headings_step_down_one_by_one() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let levels: Vec<u32> = pdf
            .tags()
            .iter()
            .filter_map(|(kind, _)| kind.strip_prefix('H')?.parse().ok())
            .collect();
        assert_eq!(levels.first(), Some(&1), "{}", printed.name);
        assert_eq!(levels.iter().filter(|&&it| it == 1).count(), 1, "{}", printed.name);
        assert!(levels.windows(2).all(|it| it[1] <= it[0] + 1), "{}: {levels:?}", printed.name);
    }
}

#[test]
fn viewers_are_told_the_language_title_and_not_to_scale() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let catalog = pdf.catalog();
        assert_eq!(pdf.get(catalog, "Lang").unwrap().as_str().unwrap(), b"en");
        let wishes = pdf.get(catalog, "ViewerPreferences").unwrap().as_dict().unwrap();
        assert_eq!(pdf.get(wishes, "PrintScaling"), Some(&Object::Name(b"None".to_vec())));
        assert_eq!(pdf.get(wishes, "DisplayDocTitle"), Some(&Object::Boolean(true)));
        for index in 0..pdf.page_count() {
            assert!(!pdf.page(index).has(b"UserUnit"), "{}: a scaled unit", printed.name);
        }
    }
}

/// The document's own data names the case, never the patient.
#[test]
fn document_data_holds_no_patient_name() {
    for printed in all() {
        let name = &printed.case.patient.name;
        let ascii: String = name.chars().filter(char::is_ascii).collect();
        let raw = String::from_utf8_lossy(&printed.bytes);
        // Page text is compressed; what stands in the clear is metadata.
        assert!(!raw.contains(name.as_str()) && !raw.contains(&ascii), "{}", printed.name);
    }
}

#[test]
fn the_same_case_gives_the_same_bytes() {
    for printed in all().iter().filter(|it| it.name.ends_with("a4")) {
        let again = sheets::typeset(&[printed.paper], &printed.case, &printed.plan, PageSize::A4);
        assert!(again.unwrap()[0] == printed.bytes, "{} differs", printed.name);
    }
}
