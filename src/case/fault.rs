//! What can be wrong with a case file, and the sentence for it.
//!
//! A fault is data and a place; the sentence is written in one place below, and how a report
//! looks on a terminal is decided by the command line. Sentences are for a therapist.

use std::fmt;

/// Which of the files a case is read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// The case file itself.
    Case,
    /// The clinic's profile.
    Profile,
}

/// A place in a file, line and column counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The file.
    pub file: Source,
    /// Line.
    pub line: u64,
    /// Column, in characters.
    pub column: u32,
}

impl Place {
    /// The file's first character.
    pub const START: Self = Self::new(1, 1);

    /// A place in the case file.
    pub(super) const fn new(line: u64, column: u64) -> Self {
        // No file of a megabyte has a longer line.
        Self { file: Source::Case, line, column: column as u32 }
    }
}

/// Something wrong: the file cannot be used until it is mended.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Where.
    pub place: Place,
    /// What.
    pub kind: Kind,
}

/// Something odd: the file is used, and the reader is asked to look again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// Where.
    pub place: Place,
    /// The key it is about.
    pub key: String,
    /// What is odd and what to do, as sentences.
    pub text: String,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// The bytes are not UTF-8 text.
    NotText {
        /// What they are.
        message: String,
    },
    /// The bytes are a file of another kind.
    OtherFile {
        /// What they are.
        what: &'static str,
    },
    /// The text is not YAML, or uses a part of YAML that a case file does not need.
    NotYaml {
        /// The parser's word for it.
        message: String,
    },
    /// The file is empty or not a group of keys.
    NotACase,
    /// A words file that is empty or not a group of keys.
    NotWords,
    /// A clinic's profile that is empty or not a group of keys.
    NotAProfile,
    /// A key that must be there is not.
    Missing {
        /// The key's path.
        key: String,
        /// What may stand there.
        accepted: String,
    },
    /// A key that no case file has.
    Unknown {
        /// The key's path.
        key: String,
        /// The nearest known key.
        suggestion: Option<String>,
        /// All keys known there.
        known: Vec<&'static str>,
    },
    /// A key that no clinic's profile has.
    UnknownProfile {
        /// The key's path.
        key: String,
        /// The nearest known key.
        suggestion: Option<String>,
        /// All keys known there.
        known: Vec<&'static str>,
    },
    /// A key that no words file has.
    UnknownWords {
        /// The key's path.
        key: String,
        /// The nearest known key.
        suggestion: Option<String>,
        /// All keys known there.
        known: Vec<String>,
    },
    /// A key that stands twice in one group.
    Twice {
        /// The key's path.
        key: String,
        /// The line of its first appearance.
        first_line: u64,
    },
    /// A list where a value belongs, and the like.
    WrongShape {
        /// The key's path.
        key: String,
        /// What stands there.
        found: &'static str,
        /// What may stand there.
        accepted: String,
    },
    /// A value that is not what the key takes.
    NotAccepted {
        /// The key's path.
        key: String,
        /// The value read.
        read: String,
        /// What may stand there.
        accepted: String,
        /// How to mend it.
        cure: String,
    },
    /// A number with no unit.
    NoUnit {
        /// The key's path.
        key: String,
        /// The value read.
        read: String,
        /// The units taken, with an example each.
        accepted: String,
        /// The unit most written.
        unit: &'static str,
    },
    /// A quantity outside what can be.
    OutOfBounds {
        /// The key's path.
        key: String,
        /// The value read.
        read: String,
        /// The bounds, in words.
        bounds: String,
        /// What to measure again.
        cure: String,
    },
    /// A character that the printed fonts lack or that is not safe on paper.
    Unprintable {
        /// The key's path.
        key: String,
        /// The character's code point and, where it shows, itself.
        character: String,
    },
    /// Two values that cannot both be true.
    Conflict {
        /// The key to look at.
        key: String,
        /// The value read there.
        read: String,
        /// What is wrong between the two.
        why: String,
        /// How to mend it.
        cure: String,
    },
}

impl Kind {
    /// A short name for the kind, the same for all faults of the kind.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::NotText { .. } => "not-text",
            Self::OtherFile { .. } => "other-file",
            Self::NotYaml { .. } => "not-yaml",
            Self::NotACase => "not-a-case",
            Self::NotWords => "not-words",
            Self::NotAProfile => "not-a-profile",
            Self::Missing { .. } => "missing",
            Self::Unknown { .. } => "unknown-key",
            Self::UnknownProfile { .. } => "unknown-profile",
            Self::UnknownWords { .. } => "unknown-words",
            Self::Twice { .. } => "twice",
            Self::WrongShape { .. } => "wrong-shape",
            Self::NotAccepted { .. } => "not-accepted",
            Self::NoUnit { .. } => "no-unit",
            Self::OutOfBounds { .. } => "out-of-bounds",
            Self::Unprintable { .. } => "unprintable",
            Self::Conflict { .. } => "conflict",
        }
    }

    /// The key it is about; nothing where the whole file is at fault.
    #[must_use]
    pub fn key(&self) -> Option<&str> {
        match self {
            Self::NotText { .. }
            | Self::OtherFile { .. }
            | Self::NotYaml { .. }
            | Self::NotACase
            | Self::NotWords
            | Self::NotAProfile => None,
            Self::Missing { key, .. }
            | Self::Unknown { key, .. }
            | Self::UnknownProfile { key, .. }
            | Self::UnknownWords { key, .. }
            | Self::Twice { key, .. }
            | Self::WrongShape { key, .. }
            | Self::NotAccepted { key, .. }
            | Self::NoUnit { key, .. }
            | Self::OutOfBounds { key, .. }
            | Self::Unprintable { key, .. }
            | Self::Conflict { key, .. } => Some(key),
        }
    }

    /// What was read and why it will not do, one sentence without its full stop.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::NotText { message } => format!("the file is not plain text: {message}"),
            Self::OtherFile { what } => format!("the file is no text but {what}"),
            Self::NotYaml { message } => {
                format!("the file stops being readable here: {}", syntax(message).0)
            }
            Self::NotACase => "the file holds no case: it is empty or not a group of keys".into(),
            Self::NotWords => "the file holds no words: it is empty or not a group of keys".into(),
            Self::NotAProfile => {
                "the file holds no clinic's profile: it is empty or not a group of keys".into()
            }
            Self::Missing { key, .. } => format!("`{key}` is missing"),
            Self::Unknown { key, .. } => format!("{} is not a key of a case file", quoted(key)),
            Self::UnknownProfile { key, .. } => {
                format!("{} is not a key of a clinic's profile", quoted(key))
            }
            Self::UnknownWords { key, .. } => {
                format!("{} is not a key of a words file", quoted(key))
            }
            Self::Twice { key, first_line } => {
                format!("{} stands twice; the first is on line {first_line}", quoted(key))
            }
            Self::WrongShape { key, found, .. } => format!("`{key}` holds {found}"),
            Self::NotAccepted { key, read, .. } | Self::OutOfBounds { key, read, .. } => {
                format!("`{key}` reads {}", quoted(read))
            }
            Self::NoUnit { key, read, .. } => {
                format!("`{key}` reads {}, a number without a unit", quoted(read))
            }
            Self::Unprintable { key, character } => {
                format!("`{key}` holds the character {character}, which cannot be printed")
            }
            Self::Conflict { key, read, why, .. } => {
                format!("`{key}` reads {}, but {why}", quoted(read))
            }
        }
    }

    /// What may stand there, where that is worth saying.
    #[must_use]
    pub fn accepted(&self) -> Option<String> {
        match self {
            Self::Missing { accepted, .. }
            | Self::WrongShape { accepted, .. }
            | Self::NotAccepted { accepted, .. }
            | Self::NoUnit { accepted, .. } => Some(accepted.clone()),
            Self::OutOfBounds { bounds, .. } => Some(bounds.clone()),
            Self::Unknown { known, .. } | Self::UnknownProfile { known, .. } => {
                Some(known.join(", "))
            }
            Self::UnknownWords { known, .. } => Some(known.join(", ")),
            Self::NotText { .. }
            | Self::OtherFile { .. }
            | Self::NotYaml { .. }
            | Self::NotACase
            | Self::NotWords
            | Self::NotAProfile
            | Self::Twice { .. }
            | Self::Unprintable { .. }
            | Self::Conflict { .. } => None,
        }
    }

    /// How to mend it.
    #[must_use]
    pub fn cure(&self) -> String {
        match self {
            Self::NotText { .. } => "save it as plain text in UTF-8".into(),
            Self::OtherFile { .. } => "name the text file that is meant; it ends in `.yaml`".into(),
            Self::NotYaml { message } => syntax(message).1.into(),
            Self::NotACase => {
                "begin one with `tautline begin`, or start from a demo case: the keys `case`, `clinic`, `patient` and so on"
                    .into()
            }
            Self::NotWords => {
                "write a group of keys, such as `handout:`, with your own texts below it".into()
            }
            Self::NotAProfile => {
                "write a group of keys, such as `clinic:`, with the clinic's name and phone below it"
                    .into()
            }
            Self::Missing { key, .. } => format!("add `{key}`"),
            Self::Unknown { suggestion: Some(it), .. }
            | Self::UnknownProfile { suggestion: Some(it), .. }
            | Self::UnknownWords { suggestion: Some(it), .. } => format!("did you mean `{it}`?"),
            Self::UnknownProfile { .. } => {
                "take the key out; what differs from patient to patient stands in the case file"
                    .into()
            }
            Self::Unknown { .. } | Self::UnknownWords { .. } => {
                "take the key out, or look for a typing error in it".into()
            }
            Self::Twice { .. } => "keep one of the two and take the other out".into(),
            Self::WrongShape { .. } => "write it in that form".into(),
            Self::NoUnit { read, unit, .. } => {
                format!("write the unit behind the number: `{read} {unit}` if that is meant")
            }
            Self::NotAccepted { cure, .. }
            | Self::OutOfBounds { cure, .. }
            | Self::Conflict { cure, .. } => cure.clone(),
            Self::Unprintable { .. } => {
                "write it with letters, digits and common marks; take pictures and hidden signs out"
                    .into()
            }
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence())
    }
}

/// What the parser stumbles over, as its own word begins, in plain words, and what usually helps.
const SYNTAX: &[(&str, &str, &str)] = &[
    (
        "Documents",
        "a second document begins",
        "keep one case in a file; take out the line `---` and what follows it",
    ),
    ("Anchors", REFERENCE, REFERENCE_CURE),
    ("Aliases", REFERENCE, REFERENCE_CURE),
    ("budget", "it is larger or deeper than a case can be", "look for text pasted by mistake"),
    (
        "tabs",
        "a tab stands where spaces belong",
        "indent with spaces, two for each step inward; take the tab out",
    ),
    (
        "unclosed quote",
        "a quote opens and is never closed",
        "close the quote on the line where it opens",
    ),
    (
        "quoted",
        "a quote opens and is not closed on its line",
        "close the quote on this line or on the one above",
    ),
    (
        "unclosed bracket",
        "a bracket `[` or `{` opens and is never closed",
        "close it with `]` or `}` on the same line",
    ),
    (
        "simple key",
        "a key stands without its colon",
        "write a colon and a space behind the key, on this line or the one above",
    ),
    (
        "mapping values",
        "a colon stands where none belongs",
        "line keys of one group up in one column; put a text that holds a colon in quotes",
    ),
    (
        "indentation",
        "a line starts in the wrong column",
        "line keys of one group up in one column, inner keys two spaces further in; close every `{` on its line",
    ),
    ("tag", "a word that starts with `!` stands before a value", "take that word out"),
    ("merge", "the key `<<` stands there", "write the keys out; `<<` is not used in a case file"),
    (
        "null into string",
        "a key is missing before its colon",
        "write the key, or take the line out",
    ),
    ("must be quoted", "a key is a number", "write the key as a word"),
    (
        "unexpected character",
        "a sign that cannot be typed stands there",
        "delete it and type the text again",
    ),
    (
        "control character",
        "a sign that cannot be typed stands there",
        "delete it and type the text again",
    ),
];

const REFERENCE: &str = "a reference (`&` or `*`) stands where a value belongs";
const REFERENCE_CURE: &str = "write the value out; references are not used in a case file";

/// The words for a parser's message.
fn syntax(message: &str) -> (&'static str, &'static str) {
    let known = SYNTAX.iter().find(|(part, _, _)| message.contains(part));
    known.map_or(
        (
            "this line is not in the form of a case file",
            "look at this line and the one above: each is `key: value`, inner keys two spaces further in",
        ),
        |(_, words, cure)| (*words, *cure),
    )
}

/// A value as read, in quotes, cut where it is long.
pub(super) fn quoted(read: &str) -> String {
    const LONGEST: usize = 60;
    let visible: String = read.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if visible.is_empty() {
        "nothing".into()
    } else if visible.chars().count() <= LONGEST {
        format!("`{visible}`")
    } else {
        format!("`{}…`", visible.chars().take(LONGEST).collect::<String>())
    }
}
