//! How the tab is set at a mark: with the front edge of its wide part there, and not with its tip.

use super::Build;
use super::bench::{Panel, block};
use super::curve::{Outline, ellipse, rounded};
use super::drawing::{Anchor, Part};
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::sizes::Sizes;

/// Half the tab's nose in tab widths, and its length past the hole (mm).
const NOSE: (f64, f64) = (0.32, 6.0);
/// Half a hole (mm).
const HOLE: f64 = 2.2;
/// How far the tab's corners are rounded off (mm).
const SOFT: f64 = 2.0;
/// The strip beside the tab, past its tip and past its pad (mm).
const BESIDE: f64 = 3.0;
const AHEAD: f64 = 9.0;
const BEHIND: f64 = 5.0;
/// How far a mark reaches past the strip (mm).
const PAST: f64 = 3.0;
/// The signs over half the tab's width: half the cross, and the check's corners.
const CROSS: f64 = 0.72;
const CHECK: [Vector; 3] = [at(-0.62, 0.02), at(-0.16, -0.48), at(0.72, 0.6)];

/// The tab set right and set wrong at one mark, seen from above, the hand to the left as on the ruler.
///
/// Both show the same length of strip with the mark at the same place. Labels name their places: `Today` the mark's end,
/// `Hand` and `Arm` the strip's ends, `Tab` the front edge of the wide part, `Hole` the tip.
#[must_use]
pub fn tab_settings(build: &Build) -> [Panel; 2] {
    let sizes = Sizes::of(build);
    let ahead = sizes.hole_to_pad + NOSE.1;
    [
        Panel { key: "right", figure: setting(&sizes, 0.0, check(&sizes)).set(false) },
        Panel { key: "wrong", figure: setting(&sizes, ahead, cross(&sizes)).set(false) },
    ]
}

/// A strip with its mark at 0 and the tab on it, the front edge of its wide part at a place toward the elbow.
fn setting(sizes: &Sizes, front: f64, signs: impl Fn(Vector) -> Vec<Outline>) -> Sheet {
    let mut sheet = Sheet::default();
    let ahead = sizes.hole_to_pad + NOSE.1;
    let half = sizes.tab_width / 2.0;
    let edge = (sizes.strip_width / 2.0).clamp(half, half + BESIDE);
    let (hand, elbow) = (-ahead - AHEAD, ahead + sizes.pad_length + BEHIND);
    let hole = at(front - sizes.hole_to_pad, 0.0);
    sheet.paint(Part::Strip, block(at(hand, -edge), at(elbow, edge)));
    sheet.paint(Part::Line, Outline::straight(&[at(hand, 0.0), hole]));
    let (tip, nose) = (hole.x - NOSE.1, sizes.tab_width * NOSE.0);
    let bridge = [
        at(front + SOFT, half),
        at(front, half),
        at(hole.x + HOLE, nose),
        at(tip, nose),
        at(tip, -nose),
        at(hole.x + HOLE, -nose),
        at(front, -half),
        at(front + SOFT, -half),
    ];
    sheet.paint(Part::Pad, rounded(&bridge, SOFT));
    let back = front + sizes.pad_length;
    sheet.paint(Part::Tab, block(at(front, -half), at(back, half)));
    sheet.paint(Part::Line, Outline::straight(&[at(tip, 0.0), hole]));
    sheet.paint(Part::Hole, ellipse(hole, at(HOLE, HOLE)));
    let reach = edge + PAST;
    sheet.paint(Part::Today, Outline::straight(&[at(0.0, reach), at(0.0, -reach)]));
    for sign in signs(at(f64::midpoint(front, back), 0.0)) {
        sheet.paint(Part::Sign, sign);
    }
    let top = at(0.0, reach);
    sheet.note(Part::Today, top, top, Anchor::Above);
    sheet.note(Part::Hand, at(hand, reach), at(hand, 0.0), Anchor::Above);
    sheet.note(Part::Arm, at(elbow, reach), at(elbow, 0.0), Anchor::Above);
    sheet.note(Part::Tab, at(front, -reach), at(front, -half), Anchor::Below);
    sheet.note(Part::Hole, at(tip, -reach), at(tip, 0.0), Anchor::Below);
    sheet
}

/// What half a sign is measured by: it stays on the wide part.
fn sign(sizes: &Sizes) -> f64 {
    sizes.tab_width.min(sizes.pad_length) / 2.0
}

/// A check sign about a place.
fn check(sizes: &Sizes) -> impl Fn(Vector) -> Vec<Outline> {
    let half = sign(sizes);
    move |middle| vec![Outline::straight(&CHECK.map(|it| middle + it * half))]
}

/// Two lines that cross about a place.
fn cross(sizes: &Sizes) -> impl Fn(Vector) -> Vec<Outline> {
    let half = sign(sizes) * CROSS;
    move |middle| {
        [at(half, half), at(half, -half)]
            .map(|it| Outline::straight(&[middle - it, middle + it]))
            .into()
    }
}
