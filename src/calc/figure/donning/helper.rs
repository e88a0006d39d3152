//! The other hand's fingers: they press the tab down, or lift it by its edge.

use crate::calc::figure::curve::{Outline, finger};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;

/// Half a fingertip's breadth, and half the breadth where the picture ends (mm on an adult, as all below).
const HALF: (f64, f64) = (8.5, 10.0);
/// How long a finger is drawn.
const LONG: f64 = 58.0;
/// A nail seen aslant, from its root round its free edge: across and ahead, in half breadths of the tip.
const NAIL: [(f64, f64); 6] =
    [(0.1, -0.75), (0.62, -0.5), (0.66, 0.45), (0.05, 0.72), (-0.5, 0.45), (-0.5, -0.5)];

/// Paints a finger whose tip touches a place, coming from a direction; `nail` says on which side its nail is seen.
fn paint_finger(sheet: &mut Sheet, touch: Vector, from: Vector, nail: f64, grown: f64) {
    let from = from.direction();
    let (tip, half) = (touch + from * (HALF.0 * grown), HALF.0 * grown);
    let bent = tip + from * (LONG * 0.45 * grown);
    let root = tip + (from + from.left() * (nail * 0.18)).direction() * (LONG * grown);
    let line = [(root, HALF.1 * grown), (bent, HALF.1 * grown), (tip, half)];
    let outline = Outline::smooth(&finger(&line));
    sheet.paint(Part::Skin, outline.clone().close());
    sheet.paint(Part::Hand, outline);
    let spot = |(across, on): (f64, f64)| {
        tip + from.left() * ((across * 0.8 + 0.2) * nail * half) - from * (on * half)
    };
    let mut shape = NAIL.map(spot).to_vec();
    shape.push(shape[0]);
    sheet.paint(Part::Nail, Outline::smooth(&shape).close());
}

/// Paints a fingertip that presses down on a place.
pub(super) fn paint_press(sheet: &mut Sheet, touch: Vector, grown: f64) {
    paint_finger(sheet, touch, at(0.3, 1.0), -1.0, grown);
}

/// Paints the thumb under a lifted edge; the finger over it comes after what they hold.
pub(super) fn paint_under(sheet: &mut Sheet, edge: Vector, grown: f64) {
    paint_finger(sheet, edge + at(12.0, -5.0) * grown, at(-1.0, 0.12), -1.0, grown);
}

/// Paints the finger over a lifted edge.
pub(super) fn paint_over(sheet: &mut Sheet, edge: Vector, grown: f64) {
    paint_finger(sheet, edge + at(11.0, 4.0) * grown, at(-1.0, 0.95), -1.0, grown);
}
