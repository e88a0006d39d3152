//! A typeset document as PDF: PDF/UA-1 and PDF/A-2a together, the same bytes each time, printed at
//! true size.

use std::fmt;

use lopdf::{Dictionary, Document, Object, StringFormat};
use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::Smart;
use typst::syntax::DiagSpan;
use typst::{World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use super::Stamp;
use super::world::{CaseWorld, datetime};

/// A fault in a layout, not in a case: it is ours to mend.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayoutFault(String);

impl fmt::Display for LayoutFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for LayoutFault {}

/// Typesets a world and exports it.
///
/// A warning counts as a fault: the layouts are ours, and an unknown font or a lost label is one.
pub(super) fn typeset(
    world: &CaseWorld,
    ident: &str,
    stamp: &Stamp,
) -> Result<Vec<u8>, LayoutFault> {
    let Warned { output, warnings } = typst::compile::<PagedDocument>(world);
    let document = output.map_err(|faults| report(world, &faults))?;
    if !warnings.is_empty() {
        return Err(report(world, &warnings));
    }
    let bytes = typst_pdf::pdf(&document, &options(world, ident)?)
        .map_err(|faults| report(world, &faults))?;
    finished(&bytes, stamp).map_err(|error| LayoutFault(format!("last pass: {error}")))
}

/// PDF/A-2 takes no attachment; with one the file is PDF/A-3 (ISO 19005-3).
fn options(world: &CaseWorld, ident: &str) -> Result<PdfOptions, LayoutFault> {
    let archive = if world.has_record() { PdfStandard::A_3a } else { PdfStandard::A_2a };
    let standards = PdfStandards::new(&[PdfStandard::Ua_1, archive])
        .map_err(|fault| LayoutFault(fault.message().to_string()))?;
    Ok(PdfOptions {
        ident: Smart::Custom(ident.to_owned()),
        creator: Smart::Custom(Some(concat!("tautline ", env!("CARGO_PKG_VERSION")).into())),
        timestamp: Some(Timestamp::new_utc(datetime(world.day()))),
        standards,
        ..PdfOptions::default()
    })
}

/// The file as it is kept: viewers asked not to shrink it, the stamp in its identifier.
fn finished(bytes: &[u8], stamp: &Stamp) -> lopdf::Result<Vec<u8>> {
    let mut document = Document::load_mem(bytes)?;
    print_at_true_size(&mut document)?;
    put_stamp(&mut document, stamp)?;
    let mut out = Vec::with_capacity(bytes.len());
    document.save_to(&mut out)?;
    Ok(out)
}

/// Asks viewers not to shrink the page in print.
///
/// Viewers scale a page to 96 or 97 % unless told not to, which would falsify every mark; the
/// typesetter cannot say so itself. ISO 32000-1:2008, table 150: `/PrintScaling /None`.
fn print_at_true_size(document: &mut Document) -> lopdf::Result<()> {
    let catalog = document.catalog()?;
    let mut preferences = match catalog.get(b"ViewerPreferences") {
        Ok(given) => document.dereference(given)?.1.as_dict()?.clone(),
        Err(_) => Dictionary::new(),
    };
    preferences.set("PrintScaling", Object::Name(b"None".to_vec()));
    document.catalog_mut()?.set("ViewerPreferences", preferences);
    Ok(())
}

/// Puts the stamp where the file says what it was made from: the second half of its identifier, the first staying
/// the same from print to print (ISO 32000-1:2008, 14.4).
fn put_stamp(document: &mut Document, stamp: &Stamp) -> lopdf::Result<()> {
    let mut halves = document.trailer.get(b"ID")?.as_array()?.clone();
    halves.truncate(1);
    halves.push(Object::String(stamp.text().as_bytes().to_vec(), StringFormat::Literal));
    document.trailer.set("ID", halves);
    Ok(())
}

/// Every diagnostic as `layouts/file.typ:line:column: sentence`.
fn report(world: &CaseWorld, faults: &[SourceDiagnostic]) -> LayoutFault {
    let line = |fault: &SourceDiagnostic| {
        let hints: String = fault.hints.iter().map(|hint| format!("; {}", hint.v)).collect();
        format!("{}{}{hints}", place(world, fault.span), fault.message)
    };
    let lines: Vec<String> = faults.iter().map(line).collect();
    LayoutFault(lines.join("\n"))
}

fn place(world: &CaseWorld, span: DiagSpan) -> String {
    let found = || {
        let id = span.id()?;
        let source = world.source(id).ok()?;
        let (line, column) = source.lines().byte_to_line_column(world.range(span)?.start)?;
        Some(format!("{}:{}:{}: ", id.vpath().get_without_slash(), line + 1, column + 1))
    };
    found().unwrap_or_default()
}
