//! The bench's drawings: how a loop is gauged, threaded and crimped, and how its tab is folded.
//!
//! Schematic: no size of a case is in them, so that each is read at a glance at about 50 mm width.
//! All but the last are drawn 50 mm wide, so that they stand side by side at one scale.

use super::bench_crimp::{sleeve, squeeze};
use super::bench_line::{gauge, gauge_folded, thread};
use super::bench_tab::tab;
use super::curve::Outline;
use super::drawing::{Anchor, Drawing, Part};
use super::plane::{Vector, at};
use super::sheet::Sheet;

/// How wide a panel's shapes are (mm).
pub(super) const WIDE: f64 = 50.0;
/// Half the length of a pen's mark along the line, and half its breadth across it (mm).
const BAND: Vector = at(0.7, 1.4);

/// One drawing of a sequence.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its name in drawing data and words files.
    pub key: &'static str,
    /// What it shows.
    pub figure: Drawing,
}

/// How a loop is made, in the order of the bench, and last how its tab is made.
///
/// - `gauge`: the line folded in half over one end line, both strands marked at the other.
/// - `gauge_folded`: the same on a gauge of half the length, the doubled line once more round the other end line and back.
/// - `thread`: the line through the holes of cuff and tab, its ends coming together.
/// - `sleeve`: both ends through the crimp sleeve from opposite sides until the marks meet at it.
/// - `squeeze`: the sleeve pressed in two places, the tails left standing.
/// - `tab`: the end of the hook material folded double and punched through both layers.
#[must_use]
pub fn crimp_sequence() -> Vec<Panel> {
    [
        ("gauge", gauge()),
        ("gauge_folded", gauge_folded()),
        ("thread", thread()),
        ("sleeve", sleeve()),
        ("squeeze", squeeze()),
        ("tab", tab()),
    ]
    .map(|(key, sheet)| Panel { key, figure: sheet.set(false) })
    .into()
}

/// Two corners of an upright rectangle, in drawing points.
pub(super) fn block(low: Vector, high: Vector) -> Outline {
    Outline::straight(&[low, at(high.x, low.y), high, at(low.x, high.y)]).close()
}

/// A pen's mark on a strand that runs across the panel.
pub(super) fn band(sheet: &mut Sheet, centre: Vector) {
    sheet.paint(Part::Mark, block(centre - BAND, centre + BAND));
}

/// A straight arrow.
pub(super) fn arrow(sheet: &mut Sheet, from: Vector, to: Vector) {
    sheet.paint(Part::Arrow, Outline::straight(&[from, to]));
}

/// Names parts in a row over the panel or under it, from the left: (part, how far its name stands
/// to the right of where its leader ends, that end).
pub(super) fn names(sheet: &mut Sheet, row: f64, anchor: Anchor, parts: &[(Part, f64, Vector)]) {
    for &(part, aside, to) in parts {
        sheet.note(part, at(to.x + aside, row), to, anchor);
    }
}
