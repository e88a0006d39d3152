//! Walking the tree: each key asked for once, every fault noted, nothing thrown away.
//!
//! A [`Form`] says what a key takes and reads it; [`Fields`] asks the keys of one group and, at
//! the end, names those that nobody asked for.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::fault::{Fault, Kind, Place, Remark};
use super::node::{Entry, Node, Value};
use super::shape::{Key, Shape};

/// Faults and remarks gathered so far, and where each key stands.
#[derive(Debug, Default)]
pub(super) struct Notes {
    faults: RefCell<Vec<Fault>>,
    remarks: RefCell<Vec<Remark>>,
    places: RefCell<BTreeMap<String, (Place, String)>>,
}

impl Notes {
    /// Notes a fault.
    pub(super) fn fault(&self, place: Place, kind: Kind) {
        self.faults.borrow_mut().push(Fault { place, kind });
    }

    /// Notes that the value of `key` cannot be true beside another.
    pub(super) fn conflict(&self, key: &str, why: impl Into<String>, cure: impl Into<String>) {
        let (place, read) = self.at(key);
        let kind = Kind::Conflict { key: key.into(), read, why: why.into(), cure: cure.into() };
        self.fault(place, kind);
    }

    /// Notes that the value of `key` is odd.
    pub(super) fn remark(&self, key: &str, text: impl Into<String>) {
        let place = self.at(key).0;
        self.remarks.borrow_mut().push(Remark { place, key: key.into(), text: text.into() });
    }

    /// How many faults were noted.
    pub(super) fn count(&self) -> usize {
        self.faults.borrow().len()
    }

    /// Whether a key stands in the file.
    pub(super) fn has(&self, key: &str) -> bool {
        self.places.borrow().contains_key(key)
    }

    /// The text of a scalar that has no fault.
    pub(super) fn sound(&self, key: &str) -> Option<String> {
        let places = self.places.borrow();
        let (place, read) = places.get(key)?;
        // A conflict leaves the value readable, so that it does not hide another one.
        let spoils =
            |fault: &Fault| fault.place == *place && !matches!(fault.kind, Kind::Conflict { .. });
        let faulty = self.faults.borrow().iter().any(spoils);
        (!faulty && !read.is_empty()).then(|| read.trim().to_owned())
    }

    /// Faults and remarks in file order.
    pub(super) fn into_parts(self) -> (Vec<Fault>, Vec<Remark>) {
        let mut faults = self.faults.into_inner();
        faults.sort_by_key(|fault| fault.place);
        let mut remarks = self.remarks.into_inner();
        remarks.sort_by_key(|remark| remark.place);
        (faults, remarks)
    }

    /// Whether this very fault was noted already.
    pub(super) fn noted(&self, kind: &Kind) -> bool {
        self.faults.borrow().iter().any(|fault| fault.kind == *kind)
    }

    /// Where a key stands, or the nearest group that would hold it.
    pub(super) fn place(&self, key: &str) -> Place {
        self.at(key).0
    }

    /// Where a key stands and what it reads; a parent's place for a key that is not there.
    fn at(&self, key: &str) -> (Place, String) {
        let places = self.places.borrow();
        let mut path = key;
        loop {
            if let Some((place, read)) = places.get(path) {
                let read = if path == key { read.clone() } else { "nothing".into() };
                return (*place, read);
            }
            match path.rfind(['.', '[']) {
                Some(end) => path = &path[..end],
                None => return (Place::START, "nothing".into()),
            }
        }
    }
}

/// A value about to be read.
pub(super) struct Field<'a> {
    /// The key's path.
    pub path: String,
    /// What stands there.
    pub node: &'a Node,
    /// Where faults go.
    pub notes: &'a Notes,
}

impl Field<'_> {
    /// Notes a fault at this value.
    pub(super) fn fault(&self, kind: Kind) {
        self.notes.fault(self.node.place, kind);
    }

    /// The scalar that stands here, or a fault saying what was wanted.
    pub(super) fn scalar(&self, accepted: &str) -> Option<&str> {
        match &self.node.value {
            Value::Scalar(text) => Some(text),
            _ => self.wrong_shape(accepted),
        }
    }

    /// Whether a list with nothing in it stands here.
    pub(super) fn is_empty_list(&self) -> bool {
        matches!(&self.node.value, Value::List(items) if items.is_empty())
    }

    /// Notes that something of another shape stands here.
    pub(super) fn wrong_shape<T>(&self, accepted: &str) -> Option<T> {
        let found = match self.node.value {
            Value::Nothing => "nothing",
            Value::Scalar(_) => "a single value",
            Value::List(_) => "a list",
            Value::Group(_) => "a group of keys",
        };
        let kind = Kind::WrongShape { key: self.path.clone(), found, accepted: accepted.into() };
        self.fault(kind);
        None
    }
}

type Read<T> = Box<dyn Fn(&Field<'_>) -> Option<T>>;
/// A shape is told only when it is asked for: reading a file needs none.
type Tell = Box<dyn Fn() -> Shape>;

/// What a key takes, and how it is read.
pub(super) struct Form<T> {
    accepted: String,
    shape: Tell,
    read: Read<T>,
}

impl<T> Form<T> {
    /// A form that takes what `accepted` says, of the shape that `shape` tells, and is read by `read`.
    pub(super) fn new(
        accepted: impl Into<String>,
        shape: impl Fn() -> Shape + 'static,
        read: impl Fn(&Field<'_>) -> Option<T> + 'static,
    ) -> Self {
        Self { accepted: accepted.into(), shape: Box::new(shape), read: Box::new(read) }
    }

    /// What the form takes, as data.
    pub(super) fn shape(&self) -> Shape {
        (self.shape)()
    }

    /// Reads a value.
    pub(super) fn read(&self, field: &Field<'_>) -> Option<T> {
        (self.read)(field)
    }
}

/// A group of keys, read by `read`, which must ask for each key it knows.
pub(super) fn group<T: 'static>(read: fn(&mut Fields<'_>) -> Option<T>) -> Form<T> {
    let accepted = "a group of keys, each on its own line, two spaces further in";
    let shape = move || Shape::Group(Fields::tell(read));
    Form::new(accepted, shape, move |field| match &field.node.value {
        Value::Group(entries) => Fields::read(field, entries, read),
        _ => field.wrong_shape(accepted),
    })
}

/// A list whose items have one form; an item with a fault is left out (its fault is noted).
pub(super) fn list<T: 'static>(item: Form<T>) -> Form<Vec<T>> {
    let item = Rc::new(item);
    let told = Rc::clone(&item);
    let shape = move || Shape::list(told.shape());
    let accepted = format!("a list, each item on a line that starts with `- `: {}", item.accepted);
    let wanted = accepted.clone();
    Form::new(accepted, shape, move |field| {
        let Value::List(nodes) = &field.node.value else {
            return field.wrong_shape(&wanted);
        };
        let items = nodes.iter().enumerate().filter_map(|(index, node)| {
            let path = format!("{}[{}]", field.path, index + 1);
            read_at(&path, node, node.place, field.notes, &item)
        });
        Some(items.collect())
    })
}

/// A list that must hold something.
pub(super) fn filled_list<T: 'static>(accepted: &'static str, item: Form<T>) -> Form<Vec<T>> {
    let list = Rc::new(list(item));
    let told = Rc::clone(&list);
    Form::new(
        accepted,
        move || told.shape().of_items(1, None),
        move |field| {
            if field.is_empty_list() {
                field.fault(Kind::WrongShape {
                    key: field.path.clone(),
                    found: "an empty list",
                    accepted: accepted.into(),
                });
                return None;
            }
            list.read(field)
        },
    )
}

/// One group of keys on its way to becoming a value.
pub(super) struct Fields<'a> {
    path: String,
    place: Place,
    entries: &'a [Entry],
    asked: Vec<&'static str>,
    /// The keys asked for, where nothing is read and the group only tells what it takes.
    told: Option<Vec<Key>>,
    notes: &'a Notes,
}

impl<'a> Fields<'a> {
    /// Reads the whole file's group.
    pub(super) fn root<T>(
        node: &'a Node,
        notes: &'a Notes,
        read: fn(&mut Fields<'_>) -> Option<T>,
    ) -> Option<T> {
        let field = Field { path: String::new(), node, notes };
        if let Value::Group(entries) = &node.value {
            return Self::read(&field, entries, read);
        }
        field.fault(Kind::NotACase);
        None
    }

    fn read<T>(
        field: &Field<'a>,
        entries: &'a [Entry],
        read: fn(&mut Fields<'_>) -> Option<T>,
    ) -> Option<T> {
        let mut fields = Fields {
            path: field.path.clone(),
            place: field.node.place,
            entries,
            asked: Vec::new(),
            told: None,
            notes: field.notes,
        };
        let value = read(&mut fields);
        fields.finish();
        value
    }

    /// The keys that a group takes, in the order in which it asks for them: each key is asked for before any
    /// is given up, so a group that finds none still asks for all.
    pub(super) fn tell<T>(read: fn(&mut Fields<'_>) -> Option<T>) -> Vec<Key> {
        let notes = Notes::default();
        let mut fields = Fields {
            path: String::new(),
            place: Place::START,
            entries: &[],
            asked: Vec::new(),
            told: Some(Vec::new()),
            notes: &notes,
        };
        let _ = read(&mut fields);
        fields.told.unwrap_or_default()
    }

    /// Tells of a key instead of reading it, where that is wanted.
    fn only_tells<T>(&mut self, name: &'static str, required: bool, form: &Form<T>) -> bool {
        let Some(told) = &mut self.told else { return false };
        told.push(Key { name, required, accepted: form.accepted.clone(), shape: form.shape() });
        true
    }

    /// The value of a key that must be there.
    pub(super) fn need<T>(&mut self, key: &'static str, form: Form<T>) -> Option<T> {
        if self.only_tells(key, true, &form) {
            return None;
        }
        let Some(entry) = self.entry(key) else {
            self.missing(key, form.accepted);
            return None;
        };
        read_at(&self.path_of(key), &entry.node, entry.place, self.notes, &form)
    }

    /// The value of a key that must be there once the clinic's profile is laid under the case: the file itself may
    /// leave it out.
    pub(super) fn need_at_last<T>(&mut self, key: &'static str, form: Form<T>) -> Option<T> {
        if self.only_tells(key, false, &form) {
            return None;
        }
        self.need(key, form)
    }

    /// The value of a key that may be left out.
    pub(super) fn may<T>(&mut self, key: &'static str, form: Form<T>) -> Option<T> {
        if self.only_tells(key, false, &form) {
            return None;
        }
        let entry = self.entry(key)?;
        read_at(&self.path_of(key), &entry.node, entry.place, self.notes, &form)
    }

    /// Notes that a key is missing, for keys of which one or the other must be there.
    pub(super) fn missing(&self, key: &str, accepted: impl Into<String>) {
        let place = self.given(key).map_or(self.place, |entry| entry.place);
        let kind = Kind::Missing { key: self.path_of(key), accepted: accepted.into() };
        self.notes.fault(place, kind);
    }

    /// The entry of a key, if it has a value; marks the key as known.
    fn entry(&mut self, key: &'static str) -> Option<&'a Entry> {
        self.asked.push(key);
        self.given(key).filter(|entry| !matches!(entry.node.value, Value::Nothing))
    }

    fn given(&self, key: &str) -> Option<&'a Entry> {
        self.entries.iter().find(|entry| entry.key == key)
    }

    /// What was noted of the whole file so far.
    pub(super) fn notes(&self) -> &'a Notes {
        self.notes
    }

    fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.into() } else { format!("{}.{key}", self.path) }
    }

    /// Notes keys that stand twice and keys nobody asked for.
    fn finish(self) {
        for (index, entry) in self.entries.iter().enumerate() {
            let key = self.path_of(&entry.key);
            let first = self.entries[..index].iter().find(|it| it.key == entry.key);
            if let Some(first) = first {
                let first_line = first.place.line;
                self.notes.fault(entry.place, Kind::Twice { key, first_line });
            } else if !self.asked.contains(&entry.key.as_str()) {
                let suggestion = nearest(&entry.key, &self.asked).map(str::to_owned);
                let known = self.asked.clone();
                self.notes.fault(entry.place, Kind::Unknown { key, suggestion, known });
            }
        }
    }
}

fn read_at<T>(path: &str, node: &Node, place: Place, notes: &Notes, form: &Form<T>) -> Option<T> {
    let (place, read) = match &node.value {
        Value::Scalar(text) => (node.place, text.clone()),
        _ => (place, String::new()),
    };
    notes.places.borrow_mut().insert(path.to_owned(), (place, read));
    form.read(&Field { path: path.to_owned(), node, notes })
}

/// The known word nearest to a written one, if near enough to be a typing error.
pub(super) fn nearest<'k>(written: &str, known: &[&'k str]) -> Option<&'k str> {
    let written = written.to_lowercase();
    // The first letters of one word only are that word.
    let begun: Vec<&&str> = known.iter().filter(|word| word.starts_with(&written)).collect();
    if let [only] = begun[..]
        && !written.is_empty()
    {
        return Some(only);
    }
    known
        .iter()
        .map(|&word| (strsim::damerau_levenshtein(&written, word), word))
        .filter(|&(distance, word)| distance <= word.chars().count().div_ceil(3))
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, word)| word)
}
