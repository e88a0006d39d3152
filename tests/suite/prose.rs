//! The running text of a paper as a person reads it, and what formulas of readability count in it.

use std::collections::BTreeMap;

use crate::syllables::{english, spanish};
use crate::tree::{Element, Kid, Place};

/// Elements that stand within a line (ISO 32000-1, table 338).
pub const INLINE: [&str; 5] = ["Span", "Strong", "Em", "Link", "Code"];

/// What stands in a block of running text.
#[derive(Debug, PartialEq, Eq)]
enum Block {
    /// A heading: it ends the sentence before it.
    Break,
    /// A paragraph.
    Plain(String),
    /// An item of a list.
    Item(String),
}

/// The sentences of the running text in reading order: paragraphs and steps, not headings, tables, figures
/// and the numbers of steps.
///
/// A sentence ends at its mark and nowhere else: the items of a list that have no mark of their own make one
/// sentence with the words that lead to them, which reads harder than they do. Only a heading ends a sentence
/// as well. A label with a colon that no list follows, as before a line to write on, is no sentence.
pub fn sentences(roots: &[Element], said: &BTreeMap<Place, String>) -> Vec<String> {
    let mut blocks = Vec::new();
    for root in roots {
        gather(root, said, false, &mut blocks);
    }
    let mut sentences = Vec::new();
    let mut open = String::new();
    for (it, block) in blocks.iter().enumerate() {
        let (Block::Plain(text) | Block::Item(text)) = block else {
            sentences.extend(closed(&mut open));
            continue;
        };
        let is_item = matches!(block, Block::Item(_));
        let leads = matches!(blocks.get(it + 1), Some(Block::Item(_)));
        if !is_item {
            sentences.extend(closed(&mut open));
        }
        for word in text.split_whitespace() {
            open += if open.is_empty() { "" } else { " " };
            open += word;
            if ends(word) {
                sentences.extend(closed(&mut open));
            }
        }
        if !is_item && !leads && open.ends_with(':') {
            open.clear();
        }
    }
    sentences.extend(closed(&mut open));
    sentences
}

/// A sentence with its mark, if there are words in it.
fn closed(open: &mut String) -> Option<String> {
    let text = std::mem::take(open);
    let has_words = text.chars().any(char::is_alphabetic);
    has_words.then(|| if ends(&text) { text } else { format!("{text}.") })
}

/// Whether a sentence ends with a word.
fn ends(word: &str) -> bool {
    word.trim_end_matches(['"', '”', '’', ')', '»']).ends_with(['.', '!', '?'])
}

fn gather(it: &Element, said: &BTreeMap<Place, String>, in_list: bool, blocks: &mut Vec<Block>) {
    match it.kind.as_str() {
        "Table" | "Figure" | "Formula" | "Caption" | "Lbl" => return,
        _ if it.level().is_some() => {
            blocks.push(Block::Break);
            return;
        }
        _ => {}
    }
    let in_list = in_list || it.kind == "LI";
    let mut run = String::new();
    let close = |run: &mut String, blocks: &mut Vec<Block>| {
        let text = std::mem::take(run).split_whitespace().collect::<Vec<_>>().join(" ");
        if !text.is_empty() {
            blocks.push(if in_list { Block::Item(text) } else { Block::Plain(text) });
        }
    };
    for kid in &it.kids {
        match kid {
            Kid::Marked(place) => run += said.get(place).map_or("", String::as_str),
            Kid::Element(it) if INLINE.contains(&it.kind.as_str()) => {
                let strings = it.places().into_iter().filter_map(|it| said.get(&it));
                strings.for_each(|it| run += it);
            }
            Kid::Element(it) => {
                close(&mut run, blocks);
                gather(it, said, in_list, blocks);
            }
        }
    }
    close(&mut run, blocks);
}

/// What is counted in a text.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    pub sentences: usize,
    pub words: usize,
    pub syllables: usize,
    /// Words of three syllables or more.
    pub long_words: usize,
}

impl Counts {
    pub fn of(sentences: &[String], language: &str) -> Self {
        let mut counts = Self { sentences: sentences.len(), ..Self::default() };
        for word in sentences.iter().flat_map(|it| words(it)) {
            let syllables = syllables(&word, language);
            counts.words += 1;
            counts.syllables += syllables;
            counts.long_words += usize::from(syllables >= 3);
        }
        counts
    }

    fn words_a_sentence(self) -> f64 {
        self.words as f64 / self.sentences as f64
    }

    fn syllables_a_word(self) -> f64 {
        self.syllables as f64 / self.words as f64
    }

    /// Words a sentence, on average.
    pub fn length(self) -> f64 {
        self.words_a_sentence()
    }

    /// Flesch-Kincaid grade level: Kincaid, Fishburne, Rogers and Chissom, Derivation of new readability
    /// formulas for Navy enlisted personnel, Research Branch Report 8-75, 1975.
    pub fn flesch_kincaid(self) -> f64 {
        0.39 * self.words_a_sentence() + 11.8 * self.syllables_a_word() - 15.59
    }

    /// SMOG grade: `McLaughlin`, SMOG grading, a new readability formula, Journal of Reading 12 (1969), 639-646,
    /// in its regression form for any count of sentences.
    pub fn smog(self) -> f64 {
        3.1291 + 1.0430 * (self.long_words as f64 * 30.0 / self.sentences as f64).sqrt()
    }

    /// Ease of reading of Spanish, 70 to 80 fairly easy: Fernández Huerta, Medidas sencillas de lecturabilidad,
    /// Consigna 214 (1959), 29-32, with the constants as corrected later (from memory).
    pub fn fernandez_huerta(self) -> f64 {
        206.84 - 60.0 * self.syllables_a_word() - 1.02 * self.words_a_sentence()
    }
}

/// The words of a sentence: what stands between spaces and holds a letter or a digit.
fn words(sentence: &str) -> Vec<String> {
    let bare = |it: &str| it.trim_matches(|it: char| !it.is_alphanumeric()).to_owned();
    sentence.split_whitespace().map(bare).filter(|it| !it.is_empty()).collect()
}

/// A number has a syllable for each digit: it is read faster than it is said.
fn syllables(word: &str, language: &str) -> usize {
    let digits = word.chars().filter(char::is_ascii_digit).count();
    match language {
        _ if digits > 0 => digits,
        "es" => spanish(word),
        _ => english(word),
    }
}

#[test]
fn sentences_end_at_marks_and_headings() {
    let said: BTreeMap<Place, String> = [
        (1, "Your wrist"),
        (2, "Rest. Do you feel "),
        (3, "pain? Then "),
        (4, "stop"),
        (5, "Keep it away from:"),
        (6, "a car"),
        (7, "a stove"),
        (8, "My next visit:"),
        (9, "12"),
    ]
    .map(|(id, text)| ((0, id), text.to_owned()))
    .into();
    let element = |kind: &str, kids: Vec<Kid>| {
        let (alt, language, attributes) = (None, None, BTreeMap::new());
        Element { kind: kind.into(), alt, language, attributes, kids }
    };
    let marked = |kind: &str, ids: &[i64]| {
        Kid::Element(element(kind, ids.iter().map(|id| Kid::Marked((0, *id))).collect()))
    };
    let item =
        |id: i64| Kid::Element(element("LI", vec![marked("Lbl", &[9]), marked("LBody", &[id])]));
    let root = element(
        "Document",
        vec![
            marked("H1", &[1]),
            marked("P", &[2, 3, 4]),
            marked("H2", &[1]),
            marked("P", &[5]),
            Kid::Element(element("L", vec![item(6), item(7)])),
            marked("P", &[8]),
            marked("Table", &[1]),
        ],
    );
    let found = sentences(&[root], &said);
    assert_eq!(
        found,
        ["Rest.", "Do you feel pain?", "Then stop.", "Keep it away from: a car a stove."]
    );
}
