//! The tab at the bench: hook material, its end folded double and punched through both layers.

use super::bench::{WIDE, block, names};
use super::curve::{Outline, arc, ellipse};
use super::drawing::{Anchor, Part};
use super::plane::{Vector, at};
use super::sheet::Sheet;

/// Where the hook material begins, where it is folded, and where the folded end then lies (mm).
const START: f64 = 0.0;
const FOLD: f64 = 15.0;
const TURNED: f64 = 2.0 * FOLD - START;
/// The hole through both layers (mm).
const HOLE: (f64, f64) = (21.0, 2.0);
/// Half the width of the hook material (mm).
const HALF: f64 = 4.4;
/// The middles of the three views, from above: flat, folded, and folded from the side (mm).
const VIEWS: [f64; 3] = [0.0, -13.0, -23.4];
/// One layer seen from the side and the slit between two, thicker than they are (mm).
const LAYER: f64 = 1.7;
const SLIT: f64 = 0.7;
/// How far apart hooks are drawn, and how long (mm).
const HOOKS: (f64, f64) = (2.4, 1.4);

/// Flat with its fold, folded with its hole, and the same from the side.
pub(super) fn tab() -> Sheet {
    let mut sheet = Sheet::default();
    flat(&mut sheet, VIEWS[0]);
    folded(&mut sheet, VIEWS[1]);
    from_the_side(&mut sheet, VIEWS[2]);
    let over = [(Part::Fold, -8.0, at(FOLD, -3.0)), (Part::Hooks, 0.0, at(38.0, 3.6))];
    names(&mut sheet, 11.5, Anchor::Above, &over);
    let side = VIEWS[2];
    let under = [
        (Part::Tab, -2.0, at(17.6, side - LAYER)),
        (Part::Hole, 0.0, at(HOLE.0, side - 1.2)),
        (Part::Pad, 0.0, at(42.0, side - LAYER)),
    ];
    names(&mut sheet, -29.5, Anchor::Below, &under);
    sheet
}

/// Hooks up, the fold to come, and which way the end is turned.
fn flat(sheet: &mut Sheet, middle: f64) {
    sheet.paint(Part::Hooks, block(at(START, middle - HALF), at(WIDE, middle + HALF)));
    field_of_hooks(sheet, START, middle);
    let past = HALF + 1.6;
    sheet.paint(Part::Fold, Outline::straight(&[at(FOLD, middle - past), at(FOLD, middle + past)]));
    let turns: Vec<f64> = (0..=14_u8).map(|step| 165.0 - 10.0 * f64::from(step)).collect();
    let way = arc(at(FOLD, middle + HALF + 0.4), at(8.5, 4.4), &turns);
    sheet.paint(Part::Arrow, Outline::straight(&way));
}

/// The end lies on the hooks: two layers dark, the hole through both, the hooks free beyond.
fn folded(sheet: &mut Sheet, middle: f64) {
    sheet.paint(Part::Hooks, block(at(FOLD, middle - HALF), at(WIDE, middle + HALF)));
    field_of_hooks(sheet, TURNED, middle);
    sheet.paint(Part::Tab, block(at(FOLD, middle - HALF), at(TURNED, middle + HALF)));
    sheet.paint(Part::Hole, ellipse(at(HOLE.0, middle), at(HOLE.1, HOLE.1)));
}

/// The layer below runs on to the hooks, the end lies back over it, the hole goes through both.
fn from_the_side(sheet: &mut Sheet, middle: f64) {
    let (inner, outer) = (SLIT / 2.0, SLIT / 2.0 + LAYER);
    let spot = |x: f64, y: f64| at(x, middle + y);
    let root = FOLD + outer;
    let mut end = Outline::straight(&[spot(WIDE, -outer), spot(root, -outer)]);
    end.bend(spot(FOLD, -outer), spot(FOLD, 0.0));
    end.bend(spot(FOLD, outer), spot(root, outer));
    end.line(&[spot(TURNED, outer), spot(TURNED, inner), spot(root, inner)]);
    end.line(&[spot(root, -inner), spot(WIDE, -inner)]);
    sheet.paint(Part::Tab, end.close());
    let hole = (HOLE.0 - HOLE.1, HOLE.0 + HOLE.1);
    sheet.paint(Part::Hole, block(spot(hole.0, -outer), spot(hole.1, outer)));
    for x in places(TURNED) {
        hook(sheet, spot(x, -inner));
    }
}

/// Hooks seen from above, in rows.
fn field_of_hooks(sheet: &mut Sheet, from: f64, middle: f64) {
    for row in [-2.6, -0.6, 1.4] {
        for x in places(from) {
            hook(sheet, at(x, middle + row));
        }
    }
}

/// Where hooks stand from a place to the end of the material.
fn places(from: f64) -> impl Iterator<Item = f64> {
    (1..=40_u8)
        .map(move |count| from + f64::from(count) * HOOKS.0)
        .take_while(|it| *it < WIDE - 1.0)
}

/// One hook: a short stem, bent at its end.
fn hook(sheet: &mut Sheet, foot: Vector) {
    let top = foot + at(0.0, HOOKS.1);
    sheet
        .paint(Part::Pad, Outline::straight(&[foot, top, top + at(0.7, 0.0), top + at(0.7, -0.6)]));
}
