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

/// How large the handout is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PrintSize {
    /// 12 pt and more.
    #[default]
    Standard,
    /// 18 pt and more white.
    Large,
}

/// When the handout ends in the teach-back, which the therapist ticks and signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TeachBack {
    /// Whenever the handout is printed.
    #[default]
    Always,
    /// In the clinic's copy, which is printed with the other papers; not where the handout is printed alone.
    ClinicCopy,
    /// Never.
    Never,
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
    /// How large the handout is printed.
    pub print_size: PrintSize,
    /// When the handout ends in the teach-back.
    pub teach_back: TeachBack,
    /// The day of the next visit: the log runs up to it.
    pub next_visit: Option<Date>,
}

words! {
    Language: "en" = English, "es" = Spanish;
    PrintSize: "standard" = Standard, "large" = Large;
    TeachBack: "always" = Always, "clinic_copy" = ClinicCopy, "never" = Never;
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
        let print_size = f.may("print_size", choice(PrintSize::WORDS));
        let teach_back = f.may("teach_back", choice(TeachBack::WORDS));
        let next_visit = f.may("next_visit", date());
        Some(Head {
            id: id?,
            prepared: prepared?,
            language: language.unwrap_or_default(),
            print_size: print_size.unwrap_or_default(),
            teach_back: teach_back.unwrap_or_default(),
            next_visit,
        })
    })
}
