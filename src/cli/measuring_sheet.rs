//! `measuring-sheet`: the paper that is taken to the patient's arm, empty or filled in as far as a file is.

use std::path::{Path, PathBuf};
use std::sync::Once;

use super::args::MeasuringSheet;
use super::clinic::{self, Desk};
use super::input::{self, typed};
use super::outcome::Outcome;
use super::packet::{self, Sheet};
use super::pictures;
use super::report;
use super::say::say;
use super::told::Told;
use crate::case::{Language, PageSize, Partial, Written};
use crate::sheets::{Draft, MEASURING_SHEET, OwnWords, Pictures};

/// What the sheet is made from.
struct Taken {
    written: Written,
    words: Vec<OwnWords>,
    pictures: Pictures,
}

pub(super) fn measuring_sheet(wanted: &MeasuringSheet) -> Outcome {
    let ready = || Ok((input::own_words(&wanted.words)?, Desk::said(wanted.clinic.as_deref())?));
    let (own, desk) = match ready() {
        Ok(ready) => ready,
        Err(outcome) => return outcome,
    };
    let mut told = Told::default();
    let taken = taken(&mut told, &desk, wanted, &own);
    told.say();
    match taken.map(|taken| put(wanted, &taken)) {
        Ok(Ok(place)) => say(&format!("{}\n", place.display())),
        Ok(Err(why)) => {
            report::say_failure(&why);
            Outcome::Unwritten
        }
        Err(outcome) => outcome,
    }
}

/// Reads a file that need not be whole yet, and the clinic's profile under it or alone.
fn taken(
    told: &mut Told,
    desk: &Desk,
    wanted: &MeasuringSheet,
    own: &[OwnWords],
) -> Result<Taken, Outcome> {
    let (read, profile) = match (&wanted.case, desk.given()) {
        (Some(path), _) => {
            let bytes = input::case_bytes(told, path)?;
            desk.under(path, |profile| Written::read_with(&bytes, profile))
        }
        (None, Some((path, bytes))) => (Written::of_profile(bytes), Some(path.to_owned())),
        (None, None) => (Ok(Partial::default()), None),
    };
    // Without a case every place is the profile's.
    let path = wanted.case.as_deref().or(profile.as_deref()).unwrap_or(Path::new(""));
    let files = desk.files(path, profile.as_deref());
    let Partial { written, remarks, profile: gave } = read.map_err(|faults| {
        let case = wanted.case.as_deref().map_or_else(String::new, |it| format!(" {}", typed(it)));
        let next = format!("tautline measuring-sheet{case}{}", desk.flag());
        report::faults_before(told, files, &faults, &next);
        Outcome::Faults
    })?;
    report::remarks(told, files, &remarks);
    let from = profile.as_deref().unwrap_or(path);
    let of_profile = clinic::words(told, from, gave.as_ref())?;
    if !own.is_empty() && own.iter().all(|it| it.language() != Language::English) {
        let why =
            "the sheet is for the clinic and in English; no words file given is, so ours are used";
        report::failure(told, why);
    }
    let beside = clinic::logo_beside(path, profile.as_deref(), gave.as_ref());
    let pictures = pictures::logo(told, path, beside, written.at("clinic.logo"));
    let pictures = pictures.ok_or(Outcome::Unwritten)?;
    Ok(Taken { written, words: clinic::with_given(own, &of_profile), pictures })
}

/// Typesets the sheet and puts it in its place.
fn put(wanted: &MeasuringSheet, taken: &Taken) -> Result<PathBuf, String> {
    let Taken { written, words, pictures } = taken;
    let size =
        if written.at("clinic.page") == Some("a4") { PageSize::A4 } else { PageSize::Letter };
    let page = wanted.page.map_or(size, PageSize::from);
    let pdf =
        Draft::measuring_sheet(written, page, words, pictures).typeset().map_err(|fault| {
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
