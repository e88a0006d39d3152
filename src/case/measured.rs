//! What is taken down at the patient's arm, and what a file that need not be whole yet holds of it as it was
//! written: for a paper that is filled in by hand.

use std::collections::BTreeMap;

use super::Walked;
use super::begun::{Question, question, questions};
use super::fault::{Fault, Kind, Remark, Source};
use super::guide::{self, below};
use super::node::{Node, Value};
use super::profile::{FromProfile, Profile};
use super::shape::{Key, Shape};

/// The days that `begin` asks ranges for: one.
const DAY: &str = "motion[1]";
/// The warm-up test: cold, then warm, each toward both sides; `begin` does not ask for it.
const WARM_UP: [&str; 4] = [
    "preconditioning.flexion.cold",
    "preconditioning.extension.cold",
    "preconditioning.flexion.warm",
    "preconditioning.extension.warm",
];
/// Force gauge readings, one toward each side; `begin` does not ask for them either.
const READINGS: [&str; 2] = ["torque[1]", "torque[2]"];
/// The last measure of the limb, which seldom is taken.
const AXIS: &str = "limb.axis_past_crease";

/// Every measured value, in the order of the file: what `begin` asks for, the warm-up test, a force gauge reading toward each
/// side, and the axis. What it is and what holds without it are the words of the questions.
#[must_use]
pub fn measured() -> Vec<Question> {
    let asked = questions();
    let of = |group: &str| {
        let is_in = |it: &&Question| it.path.starts_with(group) && is_measure(&it.key.shape);
        asked.iter().filter(is_in).cloned().collect::<Vec<_>>()
    };
    let mut all = of(DAY);
    all.extend(WARM_UP.iter().filter_map(|it| question(it)));
    all.extend(gauge());
    all.extend(of("limb."));
    all.extend(question(AXIS));
    all
}

/// Whether a key takes what an instrument shows.
fn is_measure(shape: &Shape) -> bool {
    matches!(shape, Shape::Angle { .. } | Shape::Quantity { .. })
}

/// The numbers of the force gauge readings.
fn gauge() -> Vec<Question> {
    let keys = super::outline().into_iter().find(|it| it.name == "torque");
    let Some(Key { shape: Shape::List { item, .. }, .. }) = keys else { return Vec::new() };
    let Shape::Group(keys) = *item else { return Vec::new() };
    let keys = keys.iter().filter(|it| is_measure(&it.shape));
    let numbers = keys.flat_map(|key| {
        READINGS.iter().filter_map(|reading| {
            let path = below(reading, key.name);
            let row = guide::row(&path)?;
            let within = vec![("torque".to_owned(), false)];
            Some(Question { path, key: key.clone(), row, within })
        })
    });
    numbers.collect()
}

/// The least that a profile can be laid under.
const NO_CASE: &[u8] = b"case:\n";

/// What a file that need not be whole yet holds.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Partial {
    /// Its values, those of the clinic's profile among them.
    pub written: Written,
    /// What is odd, in file order.
    pub remarks: Vec<Remark>,
    /// What the clinic's profile gave, where there is one.
    pub profile: Option<FromProfile>,
}

/// How a list with nothing in it is kept.
const NOTHING: &str = "[]";

/// Values of a case file by their keys' paths, as they were written; the newest ranges as those of the first day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Written(BTreeMap<String, String>);

impl Written {
    /// Reads a case file that need not be whole and names no clinic's profile, and says what is odd in it.
    ///
    /// # Errors
    ///
    /// As [`Written::read_with`].
    pub fn read(bytes: &[u8]) -> Result<(Self, Vec<Remark>), Vec<Fault>> {
        let no_folder = &mut super::no_folder;
        Self::read_with(bytes, Profile::Named(no_folder)).map(|it| (it.written, it.remarks))
    }

    /// Reads a case file that need not be whole, with the clinic's profile laid under it.
    ///
    /// # Errors
    ///
    /// Every fault in both files but for what is missing; without `case.id` that one, since it names the paper.
    pub fn read_with(bytes: &[u8], profile: Profile<'_>) -> Result<Partial, Vec<Fault>> {
        let is_nameless =
            |it: &Fault| it.kind.key().is_some_and(|it| it == "case.id" || it == "case");
        Self::joined(bytes, profile, is_nameless)
    }

    /// What the clinic's profile alone gives, for a sheet of no case.
    ///
    /// # Errors
    ///
    /// Every fault in the profile but for what is missing.
    pub fn of_profile(profile: &[u8]) -> Result<Partial, Vec<Fault>> {
        Self::joined(NO_CASE, Profile::Given(profile), |_| false)
    }

    fn joined(
        bytes: &[u8],
        profile: Profile<'_>,
        is_missed: impl Fn(&Fault) -> bool,
    ) -> Result<Partial, Vec<Fault>> {
        let root = super::tree(bytes, Source::Case).map_err(|it| vec![it])?;
        let Walked { case: _, root, faults, remarks, gave } = super::walked(root, profile);
        let is_open = |it: &Fault| matches!(it.kind, Kind::Missing { .. }) && !is_missed(it);
        let faults: Vec<Fault> = faults.into_iter().filter(|it| !is_open(it)).collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut written = Self::default();
        written.gather(&root, "");
        Ok(Partial { written, remarks, profile: gave })
    }

    /// Whether a list is there and has nothing in it.
    #[must_use]
    pub fn is_empty_list(&self, path: &str) -> bool {
        self.at(path) == Some(NOTHING)
    }

    /// The value of a key; nothing where the file leaves it open.
    #[must_use]
    pub fn at(&self, path: &str) -> Option<&str> {
        self.0.get(path).map(String::as_str)
    }

    /// The values of a list, and of what stands deeper in it.
    pub fn below<'w>(&'w self, path: &'w str) -> impl Iterator<Item = (&'w str, &'w str)> {
        self.0.iter().filter_map(move |(key, value)| {
            let rest = key.strip_prefix(path)?;
            rest.starts_with(['[', '.']).then_some((rest, value.as_str()))
        })
    }

    /// The values of a node at a path, each by its own path.
    pub(super) fn of(node: &Node, path: &str) -> BTreeMap<String, String> {
        let mut written = Self::default();
        written.gather(node, path);
        written.0
    }

    fn gather(&mut self, node: &Node, path: &str) {
        match &node.value {
            Value::Nothing => {}
            Value::Scalar(text) => {
                self.0.insert(path.to_owned(), text.trim().to_owned());
            }
            // The newest day stands last; earlier ones were taken down on another sheet.
            Value::List(items) if path == "motion" => {
                if let Some(last) = items.last() {
                    self.gather(last, DAY);
                }
            }
            // A reading stands on the side that the gauge pulled toward, the newest last.
            Value::List(items) if path == "torque" => {
                for item in items {
                    let place = usize::from(pulls_back(item));
                    self.gather(item, READINGS[place]);
                }
            }
            Value::List(items) if items.is_empty() => {
                self.0.insert(path.to_owned(), NOTHING.to_owned());
            }
            Value::List(items) => {
                for (index, item) in items.iter().enumerate() {
                    self.gather(item, &format!("{path}[{}]", index + 1));
                }
            }
            Value::Group(entries) => {
                for entry in entries {
                    self.gather(&entry.node, &below(path, &entry.key));
                }
            }
        }
    }
}

/// Whether a reading was taken toward the back of the hand.
fn pulls_back(reading: &Node) -> bool {
    let Value::Group(entries) = &reading.value else { return false };
    entries.iter().any(|it| {
        it.key == "pull" && matches!(&it.node.value, Value::Scalar(word) if word == "extension")
    })
}
