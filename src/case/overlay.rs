//! A clinic's own words, laid over ours: any part of our keys, each text held to the form of ours.
//!
//! A text stays data. It may hold the slots that ours holds and emphasis between two asterisks, no more; what
//! the patient reads names no force and no degrees, and no stop sign is lost.

use serde_yaml::{Mapping, Value as Tree};
use unicode_normalization::UnicodeNormalization;

use super::fault::{Fault, Kind};
use super::fields::{Field, Notes, nearest};
use super::forms::{choice, refuse, unprintable};
use super::head::Language;
use super::node::{self, Entry, Node, Value};

/// Words that were laid over ours.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlay {
    /// Their language.
    pub language: Language,
    /// Ours, with theirs in place.
    pub tree: Tree,
}

/// Reads a words file and lays it over ours of its language.
///
/// # Errors
///
/// Every fault in the file, in file order.
///
/// # Panics
///
/// Where ours are no group of keys.
pub fn lay_over(
    bytes: &[u8],
    ours: impl Fn(Language) -> &'static Tree,
) -> Result<Overlay, Vec<Fault>> {
    let root = super::decode(bytes).and_then(node::parse).map_err(|fault| vec![fault])?;
    let Value::Group(entries) = &root.value else {
        return Err(vec![Fault { place: root.place, kind: Kind::NotWords }]);
    };
    let notes = Notes::default();
    let language = language(entries, &notes);
    let ours = ours(language);
    let wanted = ours.as_mapping().expect("our words are a group of keys");
    let theirs: Vec<&Entry> = entries.iter().filter(|it| it.key != LANGUAGE).collect();
    let tree = Laying { notes: &notes }.group("", wanted, &theirs);
    twice(entries, "", &notes);
    let (faults, _) = notes.into_parts();
    if faults.is_empty() { Ok(Overlay { language, tree }) } else { Err(faults) }
}

/// The key that says which language the words are of.
const LANGUAGE: &str = "language";

fn language(entries: &[Entry], notes: &Notes) -> Language {
    let given = entries.iter().find(|it| it.key == LANGUAGE);
    let read = given.and_then(|it| {
        let field = Field { path: LANGUAGE.into(), node: &it.node, notes };
        choice(Language::WORDS).read(&field)
    });
    read.unwrap_or_default()
}

/// Lists whose items are called for by their place: they keep their length.
const BY_PLACE: [&str; 9] = [
    "columns",
    "loop_columns",
    "week_columns",
    "gauge",
    "pairs",
    "months",
    "months_short",
    "week_days",
    "week_days_short",
];
/// Lists that may grow but not shrink.
const STOP_SIGNS: [&str; 2] = ["handout.stopping.at_once", "handout.stopping.after"];
/// More items than these no page holds.
const MOST_ITEMS: usize = 12;
/// What a patient reads; the labels alone may show degrees, where the therapist chooses them.
const PATIENTS: [&str; 7] = ["handout", "ruler", "checkbar", "frame", "pulls", "faces", "sides"];

fn twice(entries: &[Entry], path: &str, notes: &Notes) {
    for (index, entry) in entries.iter().enumerate() {
        let first = entries[..index].iter().find(|it| it.key == entry.key);
        if let Some(first) = first {
            let kind = Kind::Twice { key: joined(path, &entry.key), first_line: first.place.line };
            notes.fault(entry.place, kind);
        }
    }
}

fn joined(path: &str, key: &str) -> String {
    if path.is_empty() { key.into() } else { format!("{path}.{key}") }
}

/// Walks both trees at once.
struct Laying<'n> {
    notes: &'n Notes,
}

impl Laying<'_> {
    fn group(&self, path: &str, ours: &Mapping, theirs: &[&Entry]) -> Tree {
        let mut merged = ours.clone();
        for entry in theirs {
            let key = joined(path, &entry.key);
            let Some(own) = ours.get(&entry.key) else {
                self.unknown(entry, key, ours);
                continue;
            };
            if let Some(value) = self.value(&key, own, &entry.node) {
                merged.insert(entry.key.as_str().into(), value);
            }
        }
        Tree::Mapping(merged)
    }

    fn unknown(&self, entry: &Entry, key: String, ours: &Mapping) {
        let top = (key == entry.key).then_some(LANGUAGE);
        let known: Vec<&str> =
            top.into_iter().chain(ours.keys().filter_map(Tree::as_str)).collect();
        let suggestion = nearest(&entry.key, &known).map(str::to_owned);
        let known = known.into_iter().map(str::to_owned).collect();
        self.notes.fault(entry.place, Kind::UnknownWords { key, suggestion, known });
    }

    /// A value in the form of ours; nothing where it has a fault or is left empty.
    fn value(&self, path: &str, ours: &Tree, node: &Node) -> Option<Tree> {
        let field = Field { path: path.to_owned(), node, notes: self.notes };
        match (ours, &node.value) {
            (_, Value::Nothing) => None,
            (Tree::Mapping(ours), Value::Group(entries)) => {
                twice(entries, path, self.notes);
                Some(self.group(path, ours, &entries.iter().collect::<Vec<_>>()))
            }
            (Tree::Mapping(ours), _) => {
                let keys: Vec<&str> = ours.keys().filter_map(Tree::as_str).collect();
                field.wrong_shape(&format!("a group of keys: {}", keys.join(", ")))
            }
            (Tree::Sequence(ours), Value::List(items)) => self.list(&field, ours, items),
            (Tree::Sequence(_), _) => {
                field.wrong_shape("a list of texts, each on a line that starts with `- `")
            }
            (ours, _) => {
                let ours = ours.as_str().unwrap_or_default();
                let rule = Rule::of(path, &[ours], ours);
                let text = rule.text(&field)?;
                rule.holds_all(&field, &[&text]).map(|()| text.into())
            }
        }
    }

    fn list(&self, field: &Field<'_>, ours: &[Tree], items: &[Node]) -> Option<Tree> {
        let texts: Vec<&str> = ours.iter().filter_map(Tree::as_str).collect();
        let key = field.path.rsplit('.').next().unwrap_or_default();
        let (least, most) = if BY_PLACE.contains(&key) {
            (ours.len(), ours.len())
        } else if STOP_SIGNS.contains(&field.path.as_str()) {
            (ours.len(), MOST_ITEMS)
        } else {
            (1, MOST_ITEMS.max(ours.len()))
        };
        if !(least..=most).contains(&items.len()) {
            let wanted =
                if least == most { least.to_string() } else { format!("{least} to {most}") };
            let cure = if STOP_SIGNS.contains(&field.path.as_str()) {
                "a stop sign may be put in other words, and more may be added, but none is left out"
            } else {
                "add the texts that are missing, or take out what is too many"
            };
            let noun = if items.len() == 1 { "text" } else { "texts" };
            let read = format!("{} {noun}", items.len());
            return refuse(field, &read, &format!("a list of {wanted} texts"), cure);
        }
        let longest = texts.iter().copied().max_by_key(|it| it.chars().count()).unwrap_or_default();
        let rule = Rule::of(&field.path, &texts, longest);
        let mut read = Vec::new();
        for (index, node) in items.iter().enumerate() {
            let path = format!("{}[{}]", field.path, index + 1);
            read.push(rule.text(&Field { path, node, notes: self.notes }));
        }
        let read: Vec<String> = read.into_iter().collect::<Option<_>>()?;
        rule.holds_all(field, &read.iter().map(String::as_str).collect::<Vec<_>>())?;
        Some(Tree::Sequence(read.into_iter().map(Tree::from).collect()))
    }
}

/// What a text must be, after ours.
struct Rule<'o> {
    /// Slots that ours holds.
    slots: Vec<&'o str>,
    /// Most characters.
    longest: usize,
    is_patients: bool,
}

impl<'o> Rule<'o> {
    fn of(path: &str, ours: &[&'o str], longest: &str) -> Self {
        let mut slots: Vec<&str> = ours.iter().flat_map(|it| slots(it).0).collect();
        slots.sort_unstable();
        slots.dedup();
        let section = path.split('.').next().unwrap_or_default();
        Self {
            slots,
            // Twice ours and a little is what a page still holds.
            longest: 2 * longest.chars().count() + 40,
            is_patients: PATIENTS.contains(&section),
        }
    }

    /// One text that has no fault of its own.
    fn text(&self, field: &Field<'_>) -> Option<String> {
        let accepted = self.accepted();
        let read: String = field.scalar(&accepted)?.trim().nfc().collect();
        unprintable(field, &read)?;
        if read.is_empty() {
            return refuse(
                field,
                "",
                &accepted,
                "write the text, or take the key out: ours stands then",
            );
        }
        if read.chars().count() > self.longest {
            return refuse(field, &read, &accepted, "shorten it, so that it fits its place");
        }
        let (found, are_whole) = slots(&read);
        if let Some(strange) = found.iter().find(|it| !self.slots.contains(*it)) {
            let cure = match nearest(strange, &self.slots) {
                Some(meant) => format!("did you mean `{{{meant}}}`?"),
                None => format!("take `{{{strange}}}` out: nothing is filled in there"),
            };
            return refuse(field, &read, &accepted, &cure);
        }
        if !are_whole {
            return refuse(field, &read, &accepted, "take the brace out that stands alone");
        }
        if !read.matches('*').count().is_multiple_of(2) {
            return refuse(
                field,
                &read,
                &accepted,
                "close the asterisk that is open, or take it out",
            );
        }
        if let Some(told) = force_or_degrees(&read).filter(|_| self.is_patients) {
            let cure = format!(
                "take `{told}` out: marks, minutes and feeling tell a patient how far, never a force or an angle"
            );
            return refuse(field, &read, &accepted, &cure);
        }
        Some(read)
    }

    /// Whether all slots of ours stand in what was read; notes the first that does not.
    fn holds_all(&self, field: &Field<'_>, read: &[&str]) -> Option<()> {
        let found: Vec<&str> = read.iter().flat_map(|it| slots(it).0).collect();
        let Some(lost) = self.slots.iter().find(|it| !found.contains(*it)) else { return Some(()) };
        let cure = format!("write `{{{lost}}}` where that belongs");
        refuse(field, &read.join("; "), &self.accepted(), &cure)
    }

    fn accepted(&self) -> String {
        let most = self.longest;
        let named: Vec<String> = self.slots.iter().map(|it| format!("`{{{it}}}`")).collect();
        match named.as_slice() {
            [] => format!("a text of at most {most} characters, with no braces"),
            named => format!("a text of at most {most} characters, with {}", named.join(" and ")),
        }
    }
}

/// The names in braces, and whether every brace belongs to one.
fn slots(text: &str) -> (Vec<&str>, bool) {
    let mut names = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let Some((name, behind)) = after.split_once('}') else { return (names, false) };
        if before.contains('}') {
            return (names, false);
        }
        names.push(name);
        rest = behind;
    }
    (names, !rest.contains('}'))
}

/// Units of force, torque and pressure behind a number, and beginnings of words that speak of them or of an
/// angle, in any of our languages.
const UNITS: [&str; 21] = [
    "N", "kN", "kPa", "Pa", "mmHg", "Nm", "kgf", "lbf", "N·m", "g", "kg", "lb", "lbs", "oz", "psi",
    "deg", "gram", "grams", "gramos", "kilo", "kilos",
];
const TELLING: [&str; 14] = [
    "newton",
    "degree",
    "grado",
    "angle",
    "ángulo",
    "torque",
    "kilopascal",
    "pascal",
    "°",
    "º",
    "pound",
    "ounce",
    "libra",
    "kilogram",
];

/// The first word of a force or an angle.
fn force_or_degrees(text: &str) -> Option<&str> {
    let words: Vec<&str> = text
        .split_whitespace()
        .map(|it| it.trim_matches(&['.', ',', ';', ':', '(', ')', '*', '?', '!'][..]))
        .collect();
    words.iter().enumerate().find_map(|(index, word)| {
        let small = word.to_lowercase();
        let unit =
            word.trim_start_matches(|it: char| it.is_ascii_digit() || it == '.' || it == ',');
        let behind_number = unit.len() < word.len()
            || index > 0 && words[index - 1].ends_with(|it: char| it.is_ascii_digit() || it == '}');
        let tells =
            TELLING.iter().any(|it| small.starts_with(it) || unit.to_lowercase().starts_with(it));
        (tells || (behind_number && UNITS.contains(&unit))).then_some(*word)
    })
}
