//! The words of the papers, one embedded file a language.
//!
//! A paper speaks the case's language where its words are there, else English; so one file of words serves
//! both a layout and the few sentences that the data border fills in itself.

use std::sync::OnceLock;

use jiff::civil::Date;
use serde_yaml::Value;
use typst::foundations::Bytes;

use super::Paper;
use super::world::layout;
use crate::case::{Fault, Language, lay_over};

/// The words of one language.
#[derive(Debug, Clone)]
pub(super) struct Words {
    language: Language,
    tree: Value,
    /// What the layout of each paper reads, in the order of [`PAPERS`].
    data: [OnceLock<Bytes>; PAPERS.len()],
}

/// The sections that are one paper's own, and the other's that its layout reads as well.
const PAPERS: [(&str, Option<&str>); 8] = [
    ("handout", None),
    ("card", None),
    ("summary", None),
    ("brief", Some("summary")),
    ("workings", Some("summary")),
    ("pattern", None),
    ("labels", None),
    ("measuring_sheet", None),
];

/// Our own words, by language.
static OURS: [OnceLock<Words>; Language::ALL.len()] =
    [const { OnceLock::new() }; Language::ALL.len()];

/// A clinic's own words, laid over ours of one language.
#[derive(Debug, Clone)]
pub struct OwnWords(Words);

impl OwnWords {
    /// Reads a words file: any part of our keys, with the clinic's texts.
    ///
    /// # Errors
    ///
    /// Every fault in the file, in file order.
    pub fn read(bytes: &[u8]) -> Result<Self, Vec<Fault>> {
        let read = lay_over(bytes, |language| &ours(language).tree)?;
        Ok(Self(Words::new(read.language, read.tree)))
    }

    /// Their language: they serve the cases of that language.
    #[must_use]
    pub fn language(&self) -> Language {
        self.0.language
    }
}

/// Our words of a language.
fn ours(language: Language) -> &'static Words {
    OURS[language as usize].get_or_init(|| Words::embedded(language))
}

impl Words {
    /// The words of a paper: in the wanted language where it has them, else in English; the clinic's own first.
    pub(super) fn of(paper: Paper, language: Language, own: &[OwnWords]) -> &Self {
        let of = |language| {
            let own = own.iter().map(|it| &it.0).find(|it| it.language == language);
            own.unwrap_or_else(|| ours(language))
        };
        let wanted = of(language);
        if wanted.tree.get(paper.name()).is_some() { wanted } else { of(Language::English) }
    }

    /// The words of what the clinic reads before any case has a language: English, the clinic's own first.
    pub(super) fn english(own: &[OwnWords]) -> &Self {
        let own = own.iter().map(|it| &it.0).find(|it| it.language == Language::English);
        own.unwrap_or_else(|| ours(Language::English))
    }

    fn embedded(language: Language) -> Self {
        let text = layout(&format!("words/{}.yaml", language.word()));
        let tree = serde_yaml::from_str(text).expect("the words are YAML, as the suite holds");
        Self::new(language, tree)
    }

    fn new(language: Language, tree: Value) -> Self {
        Self { language, tree, data: Default::default() }
    }

    /// What a paper's layout reads: what all share, and its own section.
    ///
    /// # Panics
    ///
    /// Where no paper has that section.
    pub(super) fn data(&self, section: &str) -> Bytes {
        let index = PAPERS.iter().position(|(own, _)| *own == section);
        let index = index.unwrap_or_else(|| panic!("no paper has the words of `{section}`"));
        let others = PAPERS.iter().map(|(own, _)| *own);
        let left_out: Vec<&str> =
            others.filter(|it| *it != section && PAPERS[index].1 != Some(it)).collect();
        let read = || {
            let mut tree = self.tree.clone();
            if let Value::Mapping(sections) = &mut tree {
                sections.retain(|key, _| !left_out.iter().any(|it| key == it));
            }
            Bytes::new(serde_json::to_vec(&tree).expect("words are texts and lists"))
        };
        self.data[index].get_or_init(read).clone()
    }

    /// Its language.
    pub(super) fn language(&self) -> Language {
        self.language
    }

    /// A text by its path.
    ///
    /// # Panics
    ///
    /// Where there is none; the suite compares the languages key by key.
    pub(super) fn text(&self, path: &str) -> &str {
        self.at(path).as_str().unwrap_or_else(|| panic!("`{path}` is no text"))
    }

    fn at(&self, path: &str) -> &Value {
        path.split('.').fold(&self.tree, |tree, key| &tree[key])
    }

    fn item(&self, path: &str, index: i8) -> &str {
        let item = &self.at(path)[index as usize];
        item.as_str().unwrap_or_else(|| panic!("`{path}` has no item {index}"))
    }

    /// A text by its path, its slots filled.
    pub(super) fn say(&self, path: &str, slots: &[(&str, &str)]) -> String {
        filled(self.text(path), slots)
    }

    /// `13 April 2026`.
    pub(super) fn day(&self, date: Date) -> String {
        self.date("dates.day", date)
    }

    /// `Monday 13 April 2026`.
    pub(super) fn long_day(&self, date: Date) -> String {
        self.date("dates.long_day", date)
    }

    /// `Mon 13 Apr`.
    pub(super) fn week_day(&self, date: Date) -> String {
        self.date("dates.week_day", date)
    }

    /// `Monday 13`.
    pub(super) fn log_day(&self, date: Date) -> String {
        self.date("dates.log_day", date)
    }

    /// `Mon 13`.
    pub(super) fn log_day_short(&self, date: Date) -> String {
        self.date("dates.log_day_short", date)
    }

    fn date(&self, form: &str, date: Date) -> String {
        let (month, week_day) = (date.month() - 1, date.weekday().to_monday_zero_offset());
        let slots = [
            ("day", date.day().to_string()),
            ("month", self.item("dates.months", month).to_owned()),
            ("month_short", self.item("dates.months_short", month).to_owned()),
            ("week_day", self.item("dates.week_days", week_day).to_owned()),
            ("week_day_short", self.item("dates.week_days_short", week_day).to_owned()),
            ("year", date.year().to_string()),
        ];
        let slots: Vec<(&str, &str)> =
            slots.iter().map(|(name, it)| (*name, it.as_str())).collect();
        self.say(form, &slots)
    }

    /// A printed number with the language's decimal sign.
    pub(super) fn number(&self, printed: &str) -> String {
        printed.replace('.', self.text("numbers.point"))
    }
}

/// A template with each `{slot}` filled once; values are never searched for slots again.
fn filled(template: &str, slots: &[(&str, &str)]) -> String {
    let mut out = String::new();
    let mut rest = template;
    while let Some((before, name, after)) = next_slot(rest) {
        let value = slots.iter().find(|(slot, _)| *slot == name);
        out.push_str(before);
        out.push_str(value.unwrap_or_else(|| panic!("no value for the slot {{{name}}}")).1);
        rest = after;
    }
    out + rest
}

/// What stands before the next slot, its name, and what stands behind it.
fn next_slot(text: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = text.split_once('{')?;
    let (name, after) = rest.split_once('}')?;
    Some((before, name, after))
}
