//! `measuring-sheet`: the paper that is taken to the patient's arm, empty or filled in as far as a file is.

use std::path::{Path, PathBuf};
use std::sync::Once;

use super::args::MeasuringSheet;
use super::input;
use super::outcome::Outcome;
use super::packet::{self, Sheet};
use super::report;
use super::say::say;
use super::told::Told;
use crate::case::{PageSize, Written};
use crate::sheets::{Draft, MEASURING_SHEET, OwnWords};

pub(super) fn measuring_sheet(wanted: &MeasuringSheet) -> Outcome {
    let own = match input::own_words(&wanted.words) {
        Ok(own) => own,
        Err(outcome) => return outcome,
    };
    let mut told = Told::default();
    let written = match &wanted.case {
        Some(path) => read(&mut told, path),
        None => Ok(Written::default()),
    };
    let done = written.map(|written| put(wanted, &written, &own));
    told.say();
    match done {
        Ok(Ok(place)) => say(&format!("{}\n", place.display())),
        Ok(Err(why)) => {
            report::say_failure(&why);
            Outcome::Unwritten
        }
        Err(outcome) => outcome,
    }
}

/// Reads a file that need not be whole yet.
fn read(told: &mut Told, path: &Path) -> Result<Written, Outcome> {
    let bytes = input::bytes(told, path)?;
    match Written::read(&bytes) {
        Ok((written, remarks)) => {
            report::remarks(told, path, &remarks);
            Ok(written)
        }
        Err(faults) => {
            report::faults(told, path, &faults);
            Err(Outcome::Faults)
        }
    }
}

/// Typesets the sheet and puts it in its place.
fn put(wanted: &MeasuringSheet, written: &Written, own: &[OwnWords]) -> Result<PathBuf, String> {
    let size =
        if written.at("clinic.page") == Some("a4") { PageSize::A4 } else { PageSize::Letter };
    let page = wanted.page.map_or(size, PageSize::from);
    let pdf = Draft::measuring_sheet(written, page, own).typeset().map_err(|fault| {
        format!("the sheet could not be typeset, which is a fault of tautline: {fault}")
    })?;
    let name = match written.at("case.id") {
        Some(id) => format!("{id}-{MEASURING_SHEET}.pdf"),
        None => format!("{MEASURING_SHEET}.pdf"),
    };
    let place = wanted.out.join(name);
    packet::open(&wanted.out, &Once::new())?;
    packet::put(vec![Sheet { pdf, place: place.clone() }], &wanted.out, wanted.replace)?;
    Ok(place)
}
