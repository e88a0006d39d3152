//! What a key takes, as data: told by the forms that read it, so that schema, blank file and questions ask
//! for what the reader accepts.

use super::quantity::Written;

/// A key of a group.
#[derive(Debug, Clone, PartialEq)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// Whether it must be there.
    pub required: bool,
    /// What it takes, in the reader's words.
    pub accepted: String,
    /// What it takes.
    pub shape: Shape,
}

/// What stands at a key.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// One line of text.
    Text {
        /// The most characters.
        longest: usize,
    },
    /// Text of a fixed form.
    Formed {
        /// The form, as a regular expression; the reader may hold more.
        pattern: &'static str,
    },
    /// A calendar day.
    Day,
    /// A whole number.
    Whole {
        /// Least.
        min: u32,
        /// Most.
        max: u32,
    },
    /// A plain number.
    Number {
        /// Least.
        min: f64,
        /// Most.
        max: f64,
    },
    /// A share with its percent sign.
    Percent,
    /// Degrees.
    Angle {
        /// Least.
        min: f64,
        /// Most.
        max: f64,
        /// How to measure it.
        hint: &'static str,
    },
    /// A number with its unit.
    Quantity {
        /// The bounds in each unit taken.
        spans: Vec<Span>,
        /// The bounds in words.
        bounds: String,
        /// How to measure it.
        hint: &'static str,
    },
    /// One word of a few.
    Word(Vec<&'static str>),
    /// A list.
    List {
        /// What each item is.
        item: Box<Shape>,
        /// The fewest items.
        least: usize,
        /// The most items.
        most: Option<usize>,
    },
    /// A group of keys.
    Group(Vec<Key>),
    /// One of these.
    Either(Vec<Shape>),
}

/// Bounds of a quantity in one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The unit.
    pub unit: &'static str,
    /// Least.
    pub min: f64,
    /// Most.
    pub max: f64,
}

impl Span {
    /// The bounds in each unit that the quantity is written in.
    pub(super) fn of<Q: Written>(ends: [Q; 2]) -> Vec<Self> {
        let span = |unit: &&'static str| {
            let one = Q::of(1.0, unit)?;
            Some(Self { unit, min: ends[0] / one, max: ends[1] / one })
        };
        Q::UNITS.iter().filter_map(span).collect()
    }
}

impl Shape {
    /// A list of any length.
    pub(super) fn list(item: Self) -> Self {
        Self::List { item: Box::new(item), least: 0, most: None }
    }

    /// The group of keys that may stand in place of another file's name; any other shape as it is.
    #[must_use]
    pub fn written_out(&self) -> &Self {
        match self {
            Self::Either(shapes) => match &shapes[..] {
                [Self::Formed { .. }, group @ Self::Group(_)] => group,
                _ => self,
            },
            shape => shape,
        }
    }

    /// The same list with bounds on how many items it holds.
    pub(super) fn of_items(self, least: usize, most: Option<usize>) -> Self {
        match self {
            Self::List { item, .. } => Self::List { item, least, most },
            other => other,
        }
    }
}
