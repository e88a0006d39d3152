//! What the papers are as PDF: streams, tags, no names, the same bytes, true size in print.

use lopdf::{Dictionary, Document, Object, text_string};
use tautline::case::PageSize;
use tautline::sheets::{self, Paper};

use crate::papers::{all, is_done};
use crate::pdf::Pdf;

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

/// What checkers do not see: every table has header cells all along its first row and none below but the first
/// of each row, where rows have headings, and every figure speaks. All papers but the labels, which are cut up, have a table; all but the short form, whose
/// one page has room for words and numbers alone, have a figure.
#[test]
fn tables_have_headers_and_figures_have_words() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let (mut tables, mut figures) = (0, 0);
        for (kind, element) in pdf.tags() {
            match kind.as_str() {
                "Table" => {
                    tables += 1;
                    let rows = rows(&pdf, element);
                    assert!(has_one_header(&rows), "{}: {rows:?}", printed.name);
                }
                "Figure" => {
                    figures += 1;
                    let alt = pdf.get(element, "Alt").and_then(|it| it.as_str().ok());
                    assert!(alt.is_some_and(|it| it.len() > 20), "{}: figure", printed.name);
                }
                _ => {}
            }
        }
        // Without its measures no piece is drawn: then the pattern is a page of words.
        // So is the card where no loop is due.
        let is_words = printed.paper == Paper::Pattern && printed.plan.pattern.pieces.is_empty()
            || printed.paper == Paper::Card && is_done(printed);
        assert!(
            is_words
                || (tables >= 1 || printed.paper == Paper::Labels)
                    && (figures >= 1 || printed.paper == Paper::Brief),
            "{}: {tables} tables, {figures} figures",
            printed.name
        );
    }
}

/// The kinds of a table's cells, row by row: `Table`, then `THead` and `TBody` where there are
/// any, then `TR`
/// (ISO 32000-1, table 337).
fn rows(pdf: &Pdf, table: &Dictionary) -> Vec<Vec<String>> {
    let kind = |it: &Dictionary| {
        let name = pdf.get(it, "S").and_then(|it| it.as_name().ok()).unwrap();
        String::from_utf8_lossy(name).into_owned()
    };
    let mut rows = Vec::new();
    for part in pdf.children(table) {
        match kind(part).as_str() {
            "TR" => rows.push(part),
            "THead" | "TBody" | "TFoot" => {
                let below = pdf.children(part);
                assert!(below.iter().all(|it| kind(it) == "TR"), "rows alone in {}", kind(part));
                rows.extend(below);
            }
            other => assert_eq!(other, "Caption"),
        }
    }
    rows.into_iter().map(|row| pdf.children(row).into_iter().map(kind).collect()).collect()
}

/// Whether all cells of the first row are headers and below it none, or in each row the first.
fn has_one_header(rows: &[Vec<String>]) -> bool {
    let all = |row: &[String], kind: &str| !row.is_empty() && row.iter().all(|it| it == kind);
    match rows {
        [head, body @ ..] => {
            let is_headed = |row: &Vec<String>| row.len() > 1 && row[0] == "TH";
            let rest = usize::from(body.iter().all(is_headed));
            all(head, "TH") && !body.is_empty() && body.iter().all(|it| all(&it[rest..], "TD"))
        }
        [] => false,
    }
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
        let language = crate::words::language(printed).word();
        assert_eq!(pdf.get(catalog, "Lang").unwrap().as_str().unwrap(), language.as_bytes());
        let wishes = pdf.get(catalog, "ViewerPreferences").unwrap().as_dict().unwrap();
        assert_eq!(pdf.get(wishes, "PrintScaling"), Some(&Object::Name(b"None".to_vec())));
        assert_eq!(pdf.get(wishes, "DisplayDocTitle"), Some(&Object::Boolean(true)));
        for index in 0..pdf.page_count() {
            assert!(!pdf.page(index).has(b"UserUnit"), "{}: a scaled unit", printed.name);
        }
    }
}

/// Words of a name that are long enough not to turn up by chance in packed bytes.
fn telling_words(name: &str) -> Vec<&str> {
    let words = name.split(|it: char| !it.is_ascii_alphabetic());
    let words: Vec<&str> = words.filter(|it| it.len() >= 4).collect();
    assert!(!words.is_empty(), "`{name}` has a word to look for");
    words
}

/// Where a word stands outside page text: in the file's bytes, an object's text, or the metadata.
fn leaks(bytes: &[u8], word: &str) -> Vec<&'static str> {
    let pdf = Pdf::read(bytes);
    let narrow = word.as_bytes().to_vec();
    let wide: Vec<u8> = word.encode_utf16().flat_map(u16::to_be_bytes).collect();
    // A string may stand as it is or in hexadecimal digits.
    let hex = |it: &[u8]| it.iter().map(|byte| format!("{byte:02X}")).collect::<String>();
    let forms = [hex(&narrow).into_bytes(), hex(&wide).into_bytes(), narrow, wide];
    let raw = |what: &Vec<u8>| bytes.windows(what.len()).any(|it| it.eq_ignore_ascii_case(what));
    let found = [
        ("bytes", forms.iter().any(raw)),
        ("strings", pdf.strings().iter().any(|it| it.contains(word))),
        ("metadata", pdf.metadata().contains(word)),
    ];
    found.into_iter().filter_map(|(place, is_there)| is_there.then_some(place)).collect()
}

/// The document's own data (Info, outline, alternatives, XMP) names the case, never the patient.
#[test]
fn document_data_holds_no_patient_name() {
    for printed in all() {
        for word in telling_words(&printed.case.patient.name) {
            let found = leaks(&printed.bytes, word);
            assert!(found.is_empty(), "{}: `{word}` in {found:?}", printed.name);
            assert!(Pdf::read(&printed.bytes).text().contains(word), "pages name the patient");
        }
        let pdf = Pdf::read(&printed.bytes);
        let id = &printed.case.head.id;
        assert!(pdf.metadata().contains(id), "{}: metadata", printed.name);
        assert!(pdf.strings().iter().any(|it| it.contains(id)), "{}: strings", printed.name);
    }
}

/// The search finds a name that was put into the title, in plain letters or as UTF-16.
#[test]
fn the_search_for_names_finds_them() {
    for title in ["Handout for Halloran", "Handout for Halloran, Teodora Ilić's"] {
        let mut document = Document::load_mem(&all()[0].bytes).unwrap();
        let info = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
        let info = document.get_object_mut(info).unwrap().as_dict_mut().unwrap();
        info.set("Title", text_string(title));
        let mut bytes = Vec::new();
        document.save_to(&mut bytes).unwrap();
        assert_eq!(leaks(&bytes, "Halloran"), ["bytes", "strings"], "{title}");
    }
}

#[test]
fn the_same_case_gives_the_same_bytes() {
    for printed in all().iter().filter(|it| it.name.ends_with("a4")) {
        let again = sheets::typeset(&[printed.paper], &printed.case, &printed.plan, PageSize::A4);
        assert!(again.unwrap()[0] == printed.bytes, "{} differs", printed.name);
    }
}
