//! Single values by their path, for checks that look across keys.
//!
//! They are read from what the walk noted, not from the finished case, so that one fault does not
//! hide another. A key that has a fault of its own is not known.

use jiff::civil::Date;

use super::fields::Notes;
use super::quantity::{number, quantity};
use crate::units::{Angle, Force, Length, Pressure};

/// More items than any list of a case file can hold within the reader's budget.
const MOST_ITEMS: usize = 20_000;

impl Notes {
    /// A length, if it stands in the file and is free of faults.
    pub(super) fn length(&self, key: &str) -> Option<Length> {
        quantity(&self.sound(key)?).ok()
    }

    /// A force.
    pub(super) fn force(&self, key: &str) -> Option<Force> {
        quantity(&self.sound(key)?).ok()
    }

    /// A pressure.
    pub(super) fn pressure(&self, key: &str) -> Option<Pressure> {
        quantity(&self.sound(key)?).ok()
    }

    /// An angle.
    pub(super) fn angle(&self, key: &str) -> Option<Angle> {
        number(self.sound(key)?.trim_end_matches('°')).map(Angle::degrees)
    }

    /// A day.
    pub(super) fn date(&self, key: &str) -> Option<Date> {
        self.sound(key)?.parse().ok()
    }

    /// A whole number.
    pub(super) fn whole(&self, key: &str) -> Option<u32> {
        self.sound(key)?.parse().ok()
    }

    /// A word.
    pub(super) fn word(&self, key: &str) -> Option<String> {
        self.sound(key)
    }

    /// The paths of a list's items, first to last.
    pub(super) fn items(&self, key: &str) -> Vec<String> {
        let path = |index: usize| format!("{key}[{index}]");
        (1..=MOST_ITEMS).map(path).take_while(|path| self.has(path)).collect()
    }
}
