//! Girths along a limb: measured at some places, straight between them, level beyond the last.

use crate::units::Length;

/// Girths by their distance from the wrist crease, rising.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Girths(Vec<(Length, Length)>);

impl Girths {
    /// From (place, girth) pairs in any order; at least one.
    pub(super) fn new(mut knots: Vec<(Length, Length)>) -> Self {
        knots.sort_by(|one, other| one.0.total_cmp(&other.0));
        Self(knots)
    }

    /// The girth at a place. Each measured girth counts with a weight that is never negative: a bigger
    /// girth never gives a smaller one elsewhere.
    pub(super) fn at(&self, place: Length) -> Length {
        let mut before = self.0[0];
        for &knot in &self.0 {
            if place <= knot.0 {
                let run = knot.0 - before.0;
                let share = if run > Length::ZERO { (place - before.0) / run } else { 1.0 };
                return before.1 + (knot.1 - before.1) * share;
            }
            before = knot;
        }
        before.1
    }

    /// The places between two others where a girth was measured.
    pub(super) fn places(&self, from: Length, to: Length) -> impl Iterator<Item = Length> {
        self.0.iter().map(|it| it.0).filter(move |it| from < *it && *it < to)
    }

    /// The widest of all.
    pub(super) fn widest(&self) -> Length {
        self.0.iter().map(|it| it.1).fold(Length::ZERO, Length::max)
    }
}
