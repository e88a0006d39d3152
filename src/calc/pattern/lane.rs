//! The lane that line and tab need over the forearm piece, and the dots of hook beside it.

use crate::calc::straps::PAST_HOLE;
use crate::case::Pull;
use crate::units::Length;

/// Free on both sides of the line where only the line runs (common practice, no source).
const BESIDE_LINE: Length = Length::mm(10.0);
/// Free on both sides of the tab (common practice, no source).
const BESIDE_TAB: Length = Length::mm(4.0);

/// The lane of one pull: how much of the piece's breadth stays free, by distance from the crease.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lane {
    /// The piece's edge near the wrist.
    pub start: Length,
    /// Where the tab's folded end can stand at the nearest.
    pub tab: Length,
    /// The strip's end near the wrist.
    pub strip: Length,
    /// The strip's end near the elbow: nothing moves beyond.
    pub end: Length,
    /// Free where only the line runs.
    pub line_wide: Length,
    /// Free where the tab's folded end can stand.
    pub tab_wide: Length,
    /// Free over the strip.
    pub strip_wide: Length,
}

impl Lane {
    /// Over its full travel the tab stands anywhere on the strip: its hole hangs before the strip's end at
    /// the first mark.
    #[must_use]
    pub fn of(pull: &Pull) -> Self {
        let strip = pull.strip.start_from_crease;
        let start = pull.forearm_piece.edge_from_crease;
        let tab_wide = pull.tab.width + BESIDE_TAB * 2.0;
        Self {
            start,
            tab: (strip - pull.tab.hole_to_pad - PAST_HOLE).max(start),
            strip,
            end: strip + pull.strip.length,
            line_wide: BESIDE_LINE * 2.0,
            tab_wide,
            strip_wide: pull.strip.width.max(tab_wide),
        }
    }

    /// The widest that it gets between two places.
    pub(super) fn width(&self, from: Length, to: Length) -> Length {
        let zones = [
            (self.start, self.tab, self.line_wide),
            (self.tab, self.strip, self.tab_wide),
            (self.strip, self.end, self.strip_wide),
        ];
        zones
            .into_iter()
            .filter(|(start, end, _)| from < *end && *start < to)
            .map(|(_, _, width)| width)
            .fold(Length::ZERO, Length::max)
    }

    /// Its corners on one side of the middle line: (distance from the crease, half its width).
    pub(super) fn steps(&self) -> [(Length, Length); 6] {
        let [line, tab, strip] =
            [self.line_wide, self.tab_wide, self.strip_wide].map(|it| it / 2.0);
        [
            (self.start, line),
            (self.tab, line),
            (self.tab, tab),
            (self.strip, tab),
            (self.strip, strip),
            (self.end, strip),
        ]
    }
}
