//! The case itself: its number, its day, and how the patient's papers are to be printed.

use jiff::civil::Date;

use super::fields::{Form, group};
use super::forms::{case_id, choice, date};

/// The language of the patient's papers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// Spanish.
    Spanish,
}

/// The case itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Head {
    /// The clinic's case number; part of the file names.
    pub id: String,
    /// The day the papers are for; printed on every page.
    pub prepared: Date,
    /// The language of the patient's papers.
    pub language: Language,
    /// The day of the next visit: the log runs up to it.
    pub next_visit: Option<Date>,
}

/// Gives each value its word in a case file.
macro_rules! words {
    ($($name:ident: $($word:literal = $variant:ident),*;)*) => {
        $(impl $name {
            pub(super) const WORDS: &'static [(&'static str, Self)] =
                &[$(($word, Self::$variant)),*];

            /// Its word in a case file.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)*
                }
            }
        })*
    };
}

words! {
    Language: "en" = English, "es" = Spanish;
}

impl Language {
    /// All languages.
    pub const ALL: [Self; 2] = [Self::English, Self::Spanish];
}

pub(super) fn head() -> Form<Head> {
    group(|f| {
        let id = f.need("id", case_id());
        let prepared = f.need("prepared", date());
        let language = f.may("language", choice(Language::WORDS));
        let next_visit = f.may("next_visit", date());
        Some(Head {
            id: id?,
            prepared: prepared?,
            language: language.unwrap_or_default(),
            next_visit,
        })
    })
}
