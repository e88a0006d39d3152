//! The clinic's profile: what is the same for every patient, in a file of its own, laid under the case.
//!
//! Both files become one tree before it is read, so that the same forms and the same checks across keys hold for
//! both; each value keeps the place where it stands. The profile is also read by itself: a fault in a value that the
//! case overrides is a fault all the same.

mod own;

use super::fault::{Fault, Kind, Place, Source, quoted};
use super::fields::{Field, Fields, Form, Notes, nearest};
use super::forms::{refuse, unprintable};
use super::node::{Entry, Node, Value};
use super::shape::Shape;

use own::Home;
pub(super) use own::whole_profile;

/// The longest path, in characters.
const LONGEST_PATH: usize = 200;
/// What a YAML file's name ends in, as a pattern.
const ENDING: &str = r"\.([yY][aA]?[mM][lL])\s*$";
/// What names a profile.
const ACCEPTED: &str = "the name of a YAML file beside the case file, in a folder below it or in the folder above, such as \
                        `../our-clinic.yaml`";

/// Where the clinic's profile comes from.
pub enum Profile<'p> {
    /// These bytes, whatever the case names.
    Given(&'p [u8]),
    /// What the case names: the bytes of the file of that name, or why they cannot be had, as a cure.
    Named(&'p mut dyn FnMut(&str) -> Result<Vec<u8>, String>),
}

/// What a clinic's profile gave to a case.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FromProfile {
    /// Keys of the case whose values stand in the profile; lists by the key of the whole.
    pub keys: Vec<String>,
    /// The clinic's own words, files beside the profile or in a folder below it.
    pub words: Vec<String>,
    /// Those who treat, of whom a case names one.
    pub therapists: Vec<String>,
}

impl FromProfile {
    /// Whether the value of a key stands in the profile.
    #[must_use]
    pub fn gave(&self, key: &str) -> bool {
        self.keys.iter().any(|it| it == key)
    }
}

/// The clinic's profile that a case file names, whatever else is in it.
#[must_use]
pub fn named_profile(bytes: &[u8]) -> Option<String> {
    let root = super::tree(bytes, Source::Case).ok()?;
    let Value::Group(entries) = &root.value else { return None };
    let named = naming(entries)?;
    file().read(&Field { path: String::new(), node: named.node, notes: &Notes::default() })
}

/// The words files that a clinic's profile names, whatever else is in it.
#[must_use]
pub fn named_words(bytes: &[u8]) -> Vec<String> {
    let Ok(root) = super::tree(bytes, Source::Profile) else { return Vec::new() };
    let own = Fields::root(&root, &Notes::default(), |f| Some(whole_profile(f)));
    own.map_or_else(Vec::new, |it| it.words)
}

/// The name of a profile: beside the case file, below its folder or in the folder above it.
pub(super) fn file() -> Form<String> {
    let shape = || Shape::Formed { pattern: ENDING };
    Form::new(ACCEPTED, shape, |field| yaml_file(field, ACCEPTED, true))
}

/// A YAML file's way from the folder of the file that names it.
fn yaml_file(field: &Field<'_>, accepted: &str, may_lie_above: bool) -> Option<String> {
    let read = field.scalar(accepted)?.trim();
    unprintable(field, read)?;
    let below = if may_lie_above { read.strip_prefix("../").unwrap_or(read) } else { read };
    let parts = || below.split('/');
    let small = read.to_lowercase();
    let cure = if read.starts_with('/') || read.contains(':') || read.starts_with('~') {
        "write the way from the folder of this file"
    } else if read.contains('\\') {
        "part folders by `/`"
    } else if parts().any(|it| it == "..") {
        if may_lie_above { "put it at most one folder up" } else { "there is no way up" }
    } else if !matches!(small.rsplit_once('.'), Some((_, "yaml" | "yml"))) {
        "write the whole name of a file that ends in `.yaml`"
    } else if parts().any(|it| it.is_empty() || it == "." || it.trim() != it) {
        "write folder and file names with one `/` between them"
    } else if read.chars().count() > LONGEST_PATH {
        "give it a shorter name"
    } else {
        return Some(read.to_owned());
    };
    refuse(field, read, accepted, cure)
}

/// A case with the profile under it.
pub(super) struct Joined {
    /// The tree of both.
    pub root: Node,
    /// What the profile gave, where there is one.
    pub gave: Option<FromProfile>,
    faults: Vec<Fault>,
    /// Keys that are missing because of a fault told already.
    excused: Vec<&'static str>,
}

impl Joined {
    /// All faults: those of the tree, and those of the profile by itself; each value's once.
    pub(super) fn with_its_own(&self, of_tree: Vec<Fault>) -> Vec<Fault> {
        let is_new = |fault: &Fault| {
            let is_excused = |key: &str| {
                self.excused.iter().any(|it| {
                    key.strip_prefix(it)
                        .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
                })
            };
            let is_known = |it: &Fault| {
                it.place == fault.place
                    && (it.kind == fault.kind || it.place.file == Source::Profile)
            };
            let is_missing = matches!(fault.kind, Kind::Missing { .. });
            let is_consequence = is_missing && fault.kind.key().is_some_and(is_excused);
            !is_consequence && !self.faults.iter().any(is_known)
        };
        let mut all: Vec<Fault> = of_tree.into_iter().filter(is_new).collect();
        all.extend(self.faults.iter().cloned());
        all.sort_by_key(|fault| fault.place);
        all
    }

    /// The faults of the profile by itself.
    pub(super) fn of_profile(&self) -> Vec<Fault> {
        let own = self.faults.iter().filter(|it| it.place.file == Source::Profile);
        own.cloned().collect()
    }

    fn lose(&mut self, fault: Option<Fault>) {
        self.faults.extend(fault);
        self.excused = vec!["clinic", "orthosis.sheet"];
    }
}

/// The key that names a profile, and what stands there.
struct Naming<'n> {
    key: &'static str,
    node: &'n Node,
}

fn naming(entries: &[Entry]) -> Option<Naming<'_>> {
    let clinic = entries.iter().find(|it| it.key == "clinic")?;
    match &clinic.node.value {
        Value::Scalar(_) => Some(Naming { key: "clinic", node: &clinic.node }),
        Value::Group(keys) => {
            let named = keys.iter().find(|it| it.key == "profile")?;
            let is_given = !matches!(named.node.value, Value::Nothing);
            is_given.then_some(Naming { key: "clinic.profile", node: &named.node })
        }
        _ => None,
    }
}

/// Lays the clinic's profile under a case.
pub(super) fn join(mut root: Node, profile: Profile<'_>) -> Joined {
    let mut joined = Joined {
        root: Node { place: root.place, value: Value::Nothing },
        gave: None,
        faults: Vec::new(),
        excused: Vec::new(),
    };
    if let Value::Group(entries) = &mut root.value {
        let bytes = bytes(entries, profile, &mut joined);
        if let Some(clinic) = entries.iter_mut().find(|it| it.key == "clinic")
            && matches!(clinic.node.value, Value::Scalar(_))
        {
            clinic.node.value = Value::Group(Vec::new());
        }
        if let Some(bytes) = bytes {
            match super::tree(&bytes, Source::Profile) {
                Ok(under) => lay(entries, &under, &mut joined),
                Err(fault) => joined.lose(Some(fault)),
            }
        }
    }
    joined.root = root;
    joined
}

/// The profile's bytes, if there is a profile; a case that names one which cannot be had is at fault.
fn bytes(entries: &[Entry], profile: Profile<'_>, joined: &mut Joined) -> Option<Vec<u8>> {
    let notes = Notes::default();
    let named = naming(entries);
    let name = named.as_ref().map(|named| {
        let field = Field { path: named.key.into(), node: named.node, notes: &notes };
        (file().read(&field), named)
    });
    // A name in the group is read again with the group; a name alone is read here only.
    let bad = notes.into_parts().0.pop();
    match (name, profile) {
        (Some((None, _)), _) => {
            joined.lose(bad);
            None
        }
        (_, Profile::Given(bytes)) => Some(bytes.to_owned()),
        (None, Profile::Named(_)) => None,
        (Some((Some(read), named)), Profile::Named(fetch)) => match fetch(&read) {
            Ok(bytes) => Some(bytes),
            Err(cure) => {
                let key = named.key.to_owned();
                let accepted = ACCEPTED.to_owned();
                let kind = Kind::NotAccepted { key, read, accepted, cure };
                joined.lose(Some(Fault { place: named.node.place, kind }));
                None
            }
        },
    }
}

/// Lays a profile's tree under the case's entries.
fn lay(over: &mut Vec<Entry>, under: &Node, joined: &mut Joined) {
    let Value::Group(entries) = &under.value else {
        return joined.lose(Some(Fault { place: under.place, kind: Kind::NotAProfile }));
    };
    let notes = Notes::default();
    let own = Fields::root(under, &notes, |f| Some(whole_profile(f))).unwrap_or_default();
    joined.faults.extend(notes.into_parts().0.into_iter().filter_map(own::in_profile));
    // What cannot be chosen from a list with a fault is not missed.
    let is_of_list = |it: &Fault| it.kind.key().is_some_and(|it| it.starts_with(own::THERAPISTS));
    if joined.faults.iter().any(is_of_list) {
        joined.excused.push("clinic.therapist");
    }
    let mut gave = FromProfile {
        words: own.words,
        therapists: own.therapists.clone(),
        ..FromProfile::default()
    };
    for entry in first_of_each(entries) {
        let whole = std::slice::from_ref(entry);
        match (own::home(&entry.key), &entry.node.value) {
            (Some(Home::Top), _) => merge(over, whole, "", &mut gave.keys),
            (Some(Home::Within(group)), _) => {
                lay_within(over, group, whole, &mut gave.keys);
            }
            (Some(Home::Begun), Value::Group(inner)) => {
                lay_within(over, &entry.key, inner, &mut gave.keys);
            }
            _ => {}
        }
    }
    choose_therapist(over, &own.therapists, joined, &mut gave);
    joined.gave = Some(gave);
}

/// Lays keys into a group of the case; where the case has no such group, that is what is missing.
fn lay_within(over: &mut [Entry], group: &str, under: &[Entry], keys: &mut Vec<String>) {
    let home = over.iter_mut().find(|it| it.key == group);
    if let Some(Entry { node: Node { value: Value::Group(home), .. }, .. }) = home {
        merge(home, under, group, keys);
    }
}

/// Entries whose key did not stand before: a second one is a fault of its own.
fn first_of_each(entries: &[Entry]) -> impl Iterator<Item = &Entry> {
    entries.iter().enumerate().filter_map(|(at, entry)| {
        (!entries[..at].iter().any(|it| it.key == entry.key)).then_some(entry)
    })
}

/// Puts in what the case leaves out, group by group, and notes what that is; the case's lists stay whole.
fn merge(over: &mut Vec<Entry>, under: &[Entry], path: &str, keys: &mut Vec<String>) {
    for entry in first_of_each(under) {
        let path = super::guide::below(path, &entry.key);
        if path == own::THERAPISTS || matches!(entry.node.value, Value::Nothing) {
            continue;
        }
        let at = over.iter().position(|it| it.key == entry.key);
        match (at.map(|at| &mut over[at].node.value), &entry.node.value) {
            (Some(Value::Group(own)), Value::Group(inner)) => merge(own, inner, &path, keys),
            (None | Some(Value::Nothing), Value::Group(inner)) => {
                let mut group = Vec::new();
                merge(&mut group, inner, &path, keys);
                put(over, at, entry, Value::Group(group));
            }
            (None | Some(Value::Nothing), value) => {
                put(over, at, entry, value.clone());
                keys.push(path);
            }
            _ => {}
        }
    }
}

fn put(over: &mut Vec<Entry>, at: Option<usize>, entry: &Entry, value: Value) {
    let node = Node { place: entry.node.place, value };
    match at {
        Some(at) => over[at].node = node,
        None => over.push(Entry { key: entry.key.clone(), place: entry.place, node }),
    }
}

/// Where the profile lists the therapists: the one the case names, by name alone or with the letters behind it, or the
/// only one.
fn choose_therapist(
    over: &mut [Entry],
    listed: &[String],
    joined: &mut Joined,
    gave: &mut FromProfile,
) {
    let Some(clinic) = over.iter_mut().find(|it| it.key == "clinic") else { return };
    let Entry { place, node: Node { value: Value::Group(keys), .. }, .. } = clinic else { return };
    if listed.is_empty() {
        return;
    }
    let key = "clinic.therapist";
    let all = listed.iter().map(|it| format!("`{it}`")).collect::<Vec<_>>().join(", ");
    let accepted = format!("one of the clinic's therapists, by name: {all}");
    let is_given = |it: &Entry| it.key == "therapist" && !matches!(it.node.value, Value::Nothing);
    match (keys.iter().position(is_given), listed) {
        (Some(at), _) => {
            let Node { place, value: Value::Scalar(read) } = &mut keys[at].node else { return };
            match own::meant(read, listed) {
                Some(whole) => whole.clone_into(read),
                None => joined.faults.push(strange(key, *place, read, accepted, listed)),
            }
        }
        (None, [only]) => {
            let node = Node { place: *place, value: Value::Scalar(only.clone()) };
            keys.retain(|it| it.key != "therapist");
            keys.push(Entry { key: "therapist".into(), place: *place, node });
            gave.keys.push(key.into());
        }
        (None, _) => {
            let kind = Kind::Missing { key: key.into(), accepted };
            joined.faults.push(Fault { place: *place, kind });
            joined.excused.push(key);
        }
    }
}

fn strange(key: &str, place: Place, read: &str, accepted: String, listed: &[String]) -> Fault {
    let names: Vec<String> = listed.iter().map(|it| own::bare(it)).collect();
    let known: Vec<&str> = names.iter().map(String::as_str).collect();
    let cure = match nearest(&own::bare(read), &known).and_then(|it| own::meant(it, listed)) {
        Some(it) => format!("did you mean {}?", quoted(it)),
        None => "write one of these, or add the name to `clinic.therapists` in the profile".into(),
    };
    let kind = Kind::NotAccepted { key: key.into(), read: read.trim().to_owned(), accepted, cure };
    Fault { place, kind }
}
