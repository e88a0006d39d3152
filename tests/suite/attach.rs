//! The whole record inside the summary: only on request, and the same record.

use lopdf::{Dictionary, Document, Object};
use tautline::case::{PageSize, normalised, read};
use tautline::sheets::{self, Paper};

use crate::papers::all;
use crate::pdf::Pdf;

/// Files attached to a document: name and bytes (ISO 32000-1, 7.11.4 and 7.7.4).
fn attached(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let document = Document::load_mem(bytes).unwrap();
    let specs = document.objects.values().filter_map(|it| it.as_dict().ok());
    let is_file = |it: &&Dictionary| {
        it.get(b"Type").and_then(Object::as_name).ok() == Some(b"Filespec") && it.has(b"EF")
    };
    specs
        .filter(is_file)
        .map(|spec| {
            let name = lopdf::decode_text_string(spec.get(b"UF").unwrap()).unwrap();
            let files = document.dereference(spec.get(b"EF").unwrap()).unwrap().1;
            let file = files.as_dict().unwrap().get(b"F").unwrap();
            let stream = document.dereference(file).unwrap().1.as_stream().unwrap();
            let content = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
            (name, content)
        })
        .collect()
}

#[test]
fn the_record_is_attached_on_request() {
    for printed in all().iter().filter(|it| it.paper == Paper::Summary && it.name.ends_with("a4")) {
        let bytes = sheets::with_record(&printed.case, &printed.plan, PageSize::A4).unwrap();
        let files = attached(&bytes);
        let [(name, content)] = &files[..] else { panic!("{}: {files:?}", printed.name) };
        assert_eq!(name, &format!("{}.yaml", printed.case.head.id));
        assert_eq!(content, normalised(&printed.case).as_bytes());
        // It reads back as the same record; units were turned into millimetres and newtons.
        assert!(normalised(&read(content).unwrap().case).as_bytes() == content, "{name}");
        let pdf = Pdf::read(&bytes);
        assert!(pdf.metadata().contains("<pdfaid:part>3</pdfaid:part>"), "{}", pdf.metadata());
        assert!(pdf.text().contains("full record"), "{}", printed.name);
        let again = sheets::with_record(&printed.case, &printed.plan, PageSize::A4).unwrap();
        assert!(bytes == again, "{}: other bytes", printed.name);
    }
}

#[test]
fn nothing_is_attached_unasked() {
    for printed in all() {
        assert!(attached(&printed.bytes).is_empty(), "{}", printed.name);
        let part = Pdf::read(&printed.bytes).metadata();
        assert!(part.contains("<pdfaid:part>2</pdfaid:part>"), "{}", printed.name);
    }
}
