//! The case file as written: a tree of keys and values, each with its place.
//!
//! Reading stops here only when the text is not YAML; what the keys mean is decided above.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_saphyr::options::{MergeKeyPolicy, NonFiniteFloatPolicy};
use serde_saphyr::{DuplicateKeyPolicy, Spanned};

use super::fault::{Fault, Kind, Place, Source};

/// A value with its place.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub place: Place,
    pub value: Value,
}

/// What stands at a place.
#[derive(Debug, Clone)]
pub(super) enum Value {
    /// The key has no value.
    Nothing,
    /// A word, number or sentence, with outer quotes taken off.
    Scalar(String),
    /// A list.
    List(Vec<Node>),
    /// A group of keys, in file order; a key may stand twice.
    Group(Vec<Entry>),
}

/// One key of a group.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub key: String,
    pub place: Place,
    pub node: Node,
}

impl Node {
    /// The same, standing in another file.
    pub(super) fn in_file(mut self, file: Source) -> Self {
        self.place.file = file;
        self.value = match self.value {
            Value::List(items) => {
                Value::List(items.into_iter().map(|it| it.in_file(file)).collect())
            }
            Value::Group(entries) => Value::Group(
                entries
                    .into_iter()
                    .map(|it| Entry {
                        key: it.key,
                        place: Place { file, ..it.place },
                        node: it.node.in_file(file),
                    })
                    .collect(),
            ),
            other => other,
        };
        self
    }
}

/// Reads YAML text into a tree, or says where it stops being YAML.
pub(super) fn parse(text: &str) -> Result<Node, Fault> {
    let options = serde_saphyr::options! {
        strict_booleans: true,
        no_schema: true,
        strict_indentation: true,
        reject_unsupported_tags: true,
        leading_zero_numbers_as_strings: true,
        underscored_numbers_as_strings: true,
        non_finite_float_policy: NonFiniteFloatPolicy::PassThrough,
        merge_keys: MergeKeyPolicy::Error,
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        // A snippet would print the lines round the fault: another patient value in a terminal.
        with_snippet: false,
        budget: serde_saphyr::budget! {
            max_nodes: 20_000, max_events: 100_000, max_aliases: 0, max_anchors: 0, max_depth: 16,
            max_documents: 1, max_total_scalar_bytes: 262_144,
        },
    };
    serde_saphyr::from_str_with_options::<Spanned<Loose>>(text, options)
        .map(|root| place(root, text))
        .map_err(|error| tab_before(text, syntax_fault(&error)))
}

/// The tab that a line begins with where the parser stumbles: it tells of the line above, or of a key without its colon.
fn tab_before(text: &str, fault: Fault) -> Fault {
    if matches!(&fault.kind, Kind::NotYaml { message } if message.contains(TAB)) {
        return fault;
    }
    let is_near = |at: u64| at == fault.place.line || at == fault.place.line + 1;
    let tab = (1..).zip(text.lines()).filter(|(at, _)| is_near(*at)).find_map(|(at, line)| {
        let lead = &line[..line.len() - line.trim_start().len()];
        Some(Place::new(at, lead.chars().position(|it| it == '\t')? as u64 + 1))
    });
    match tab {
        Some(place) => Fault { place, kind: Kind::NotYaml { message: TAB.into() } },
        None => fault,
    }
}

/// The parser's word for a tab.
const TAB: &str = "tabs";

fn syntax_fault(error: &serde_saphyr::Error) -> Fault {
    let place = error.location().map_or(Place::START, |at| Place::new(at.line(), at.column()));
    let sentence = error.without_snippet().to_string();
    let message = sentence.split(" at line ").next().unwrap_or_default().to_owned();
    Fault { place, kind: Kind::NotYaml { message } }
}

/// A value before its place is known.
enum Loose {
    Nothing,
    Text(String),
    /// A number or truth word; its text is taken from the file as it stands.
    Literal,
    List(Vec<Spanned<Loose>>),
    Group(Vec<(Spanned<String>, Spanned<Loose>)>),
}

fn place(loose: Spanned<Loose>, text: &str) -> Node {
    let at = loose.referenced;
    let value = match loose.value {
        Loose::Nothing => Value::Nothing,
        Loose::Text(words) => Value::Scalar(words),
        Loose::Literal => Value::Scalar(slice(text, at).to_owned()),
        Loose::List(items) => {
            Value::List(items.into_iter().map(|item| place(item, text)).collect())
        }
        Loose::Group(entries) => Value::Group(
            entries
                .into_iter()
                .map(|(key, node)| Entry {
                    place: Place::new(key.referenced.line(), key.referenced.column()),
                    key: key.value,
                    node: place(node, text),
                })
                .collect(),
        ),
    };
    Node { place: Place::new(at.line(), at.column()), value }
}

/// The file's own text of a scalar.
fn slice(text: &str, at: serde_saphyr::Location) -> &str {
    let span = at.span();
    let range = span.byte_offset().zip(span.byte_len()).and_then(|(start, len)| {
        Some(usize::try_from(start).ok()?..usize::try_from(start + len).ok()?)
    });
    range.and_then(|range| text.get(range)).unwrap_or_default()
}

impl<'de> Deserialize<'de> for Loose {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LooseVisitor)
    }
}

struct LooseVisitor;

impl<'de> Visitor<'de> for LooseVisitor {
    type Value = Loose;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value, a list or a group of keys")
    }

    fn visit_unit<E>(self) -> Result<Loose, E> {
        Ok(Loose::Nothing)
    }

    fn visit_none<E>(self) -> Result<Loose, E> {
        Ok(Loose::Nothing)
    }

    fn visit_str<E>(self, text: &str) -> Result<Loose, E> {
        Ok(Loose::Text(text.to_owned()))
    }

    fn visit_bool<E>(self, _: bool) -> Result<Loose, E> {
        Ok(Loose::Literal)
    }

    fn visit_i64<E>(self, _: i64) -> Result<Loose, E> {
        Ok(Loose::Literal)
    }

    fn visit_u64<E>(self, _: u64) -> Result<Loose, E> {
        Ok(Loose::Literal)
    }

    fn visit_i128<E>(self, _: i128) -> Result<Loose, E> {
        Ok(Loose::Literal)
    }

    fn visit_u128<E>(self, _: u128) -> Result<Loose, E> {
        Ok(Loose::Literal)
    }

    fn visit_f64<E>(self, _: f64) -> Result<Loose, E> {
        Ok(Loose::Literal)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Loose, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Loose::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Loose, A::Error> {
        let mut group = Vec::new();
        while let Some(entry) = entries.next_entry()? {
            group.push(entry);
        }
        Ok(Loose::Group(group))
    }
}
