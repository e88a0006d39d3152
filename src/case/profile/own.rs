//! The profile read by itself: its keys, and what the case never holds.

use std::rc::Rc;

use unicode_normalization::UnicodeNormalization;

use super::{ENDING, yaml_file};
use crate::case::fault::{Fault, Kind};
use crate::case::fields::{Fields, Form, filled_list, group};
use crate::case::forms::{NAME, choice, text};
use crate::case::head::{Language, PrintSize, TeachBack};
use crate::case::node::Value;
use crate::case::person::{PHONE, page};
use crate::case::shape::Shape;
use crate::case::{limits, measures, pattern, pictures};

/// The list that a case chooses from.
pub(super) const THERAPISTS: &str = "clinic.therapists";

/// Where a key of the profile stands in a case.
pub(super) enum Home {
    /// At the same place.
    Top,
    /// At the same place, in a group that the case itself must begin.
    Begun,
    /// In a group of the case, which the case itself must begin.
    Within(&'static str),
}

/// Where a key of the profile stands in a case, if it does.
pub(super) fn home(key: &str) -> Option<Home> {
    Some(match key {
        "clinic" | "measuring_error" | "limits" | "stock" => Home::Top,
        "orthosis" => Home::Begun,
        "language" | "print_size" | "teach_back" => Home::Within("case"),
        _ => return None,
    })
}

/// What only the profile has.
#[derive(Debug, Default)]
pub(in crate::case) struct Own {
    pub(super) therapists: Vec<String>,
    pub(super) words: Vec<String>,
}

/// Asks for every key of a profile; what the case takes is read again with the case.
pub(in crate::case) fn whole_profile(f: &mut Fields<'_>) -> Own {
    let therapists = f.may("clinic", clinic());
    let _ = f.may("language", choice(Language::WORDS));
    let _ = f.may("print_size", choice(PrintSize::WORDS));
    let _ = f.may("teach_back", choice(TeachBack::WORDS));
    let words = f.may("words", words());
    let _ = f.may("orthosis", group(|f| f.may("sheet", pattern::sheet()).map(drop)));
    let _ = f.may("measuring_error", measures::measuring_error());
    let _ = f.may("limits", limits::limits());
    let _ = f.may("stock", limits::stock());
    Own { therapists: therapists.unwrap_or_default(), words: words.unwrap_or_default() }
}

fn clinic() -> Form<Vec<String>> {
    group(|f| {
        let _ = f.may("name", text(NAME));
        let _ = f.may("phone", text(PHONE));
        let _ = f.may("therapist", text(NAME));
        let therapists =
            filled_list("a list of names, each on a line that starts with `- `", text(NAME));
        let therapists = f.may("therapists", therapists);
        let _ = f.may("page", page());
        let _ = f.may("logo", pictures::file());
        Some(therapists.unwrap_or_default())
    })
}

/// One words file, or one for each language.
fn words() -> Form<Vec<String>> {
    const ONE: &str = "the name of a words file beside the profile or in a folder below it";
    const ACCEPTED: &str = "the name of a words file beside the profile or in a folder below it, or a list of such names";
    let file = || {
        let shape = || Shape::Formed { pattern: ENDING };
        Form::new(ONE, shape, |field| yaml_file(field, ONE, false))
    };
    let many = Rc::new(filled_list(ACCEPTED, file()));
    let (told, one) = (Rc::clone(&many), file());
    let shape = move || Shape::Either(vec![file().shape(), told.shape()]);
    Form::new(ACCEPTED, shape, move |field| match field.node.value {
        Value::List(_) => many.read(field),
        Value::Scalar(_) => one.read(field).map(|it| vec![it]),
        _ => field.wrong_shape(ACCEPTED),
    })
}

/// A fault of the profile in its own words; none where the case may give what is missing.
pub(super) fn in_profile(fault: Fault) -> Option<Fault> {
    let Fault { place, kind } = fault;
    let kind = match kind {
        Kind::Missing { key, .. } if !key.contains('[') => return None,
        Kind::Unknown { key, suggestion, known } => Kind::UnknownProfile { key, suggestion, known },
        other => other,
    };
    Some(Fault { place, kind })
}

/// The therapist of a list that a name means: the whole of it, or what stands before the first comma.
pub(super) fn meant<'l>(name: &str, listed: &'l [String]) -> Option<&'l str> {
    let whole = listed.iter().find(|it| plain(it) == plain(name));
    let mut by_name = listed.iter().filter(|it| bare(it) == plain(name));
    // Two of one name must be told apart by what stands behind it.
    let only = by_name.next().filter(|_| by_name.next().is_none());
    whole.or(only).map(String::as_str)
}

/// A name without the letters behind it, in small letters.
pub(super) fn bare(name: &str) -> String {
    plain(name.split(',').next().unwrap_or_default())
}

/// In small letters, composed (NFC), with one space between words.
fn plain(name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().collect();
    words.join(" ").to_lowercase().nfc().collect()
}
