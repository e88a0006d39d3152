//! The crimp: both ends through the sleeve until the marks meet, then the sleeve pressed twice.

use super::bench::{WIDE, arrow, band, block, names};
use super::curve::{Outline, ellipse};
use super::drawing::{Anchor, Part};
use super::plane::{Vector, at};
use super::sheet::Sheet;

/// Where the sleeve begins and ends (mm).
const SLEEVE: (f64, f64) = (17.0, 33.0);
/// Half the sleeve's height and half the width of its mouth (mm).
const MOUTH: Vector = at(1.3, 4.4);
/// Half the distance of the two strands in it (mm).
const APART: f64 = 1.9;
/// Where the pen's marks meet: at one end of the sleeve (mm).
const MEET: f64 = 14.0;
/// Where the sleeve is pressed, and half its height there (mm).
const PRESSED: ([f64; 2], f64) = ([21.4, 28.2], 2.9);
/// Half as long as a pressed place is (mm).
const JAW: f64 = 1.3;
/// How far from the middle names stand (mm).
const ROW: f64 = 13.5;

/// Both ends through the sleeve, from opposite sides, until the marks meet at it.
pub(super) fn sleeve() -> Sheet {
    let mut sheet = Sheet::default();
    paint_far_side(&mut sheet);
    sheet.paint(Part::Sleeve, tube(&[]));
    paint_near_side(&mut sheet);
    marks(&mut sheet);
    arrow(&mut sheet, at(37.0, 8.6), at(47.0, 8.6));
    arrow(&mut sheet, at(13.0, -8.6), at(3.0, -8.6));
    let over = [(Part::Mark, -5.0, at(MEET, APART + 0.8)), (Part::Sleeve, 0.0, at(26.0, 3.0))];
    names(&mut sheet, ROW, Anchor::Above, &over);
    names(&mut sheet, -ROW, Anchor::Below, &[(Part::Line, 0.0, at(42.0, -APART))]);
    sheet
}

/// The sleeve pressed in two places, the tails left standing.
pub(super) fn squeeze() -> Sheet {
    let mut sheet = Sheet::default();
    paint_far_side(&mut sheet);
    let (places, low) = PRESSED;
    sheet.paint(Part::Sleeve, tube(&places));
    for place in places {
        let half = at(JAW, low + 0.1);
        sheet.paint(Part::Squeezed, block(at(place, 0.0) - half, at(place, 0.0) + half));
        for side in [-1.0, 1.0] {
            arrow(&mut sheet, at(place, side * 10.5), at(place, side * 4.4));
        }
    }
    paint_near_side(&mut sheet);
    marks(&mut sheet);
    // How long each tail is: two arrows from its middle.
    let (mouth, end) = (SLEEVE.1 + MOUTH.x, tail().last().map_or(WIDE, |it| it.x));
    for sign in [1.0, -1.0] {
        let middle = f64::midpoint(mouth, end);
        for to in [mouth, end] {
            arrow(&mut sheet, turned(at(middle, 9.4), sign), turned(at(to, 9.4), sign));
        }
    }
    let tail = tail()[2];
    let over = [(Part::Sleeve, -8.0, at(18.4, 3.0)), (Part::Tail, 0.0, tail)];
    names(&mut sheet, ROW, Anchor::Above, &over);
    let pressed = at(places[1] + 0.5, -2.0);
    let under = [(Part::Tail, 0.0, turned(tail, -1.0)), (Part::Squeezed, 7.0, pressed)];
    names(&mut sheet, -ROW, Anchor::Below, &under);
    sheet
}

/// The pen's marks on both strands.
fn marks(sheet: &mut Sheet) {
    for side in [-APART, APART] {
        band(sheet, at(MEET, side));
    }
}

/// A point, or for the other strand the point half a turn about the panel's middle from it.
fn turned(point: Vector, sign: f64) -> Vector {
    let middle = at(WIDE / 2.0, 0.0);
    middle + (point - middle) * sign
}

/// The free end of the strand that leaves the sleeve on the right.
fn tail() -> [Vector; 4] {
    [at(SLEEVE.1, APART), at(36.5, APART), at(40.5, 3.8), at(46.0, 6.4)]
}

/// What is seen on the left, where the strands lie behind the sleeve's near end: the strand that
/// enters there, and the tail of the other.
fn paint_far_side(sheet: &mut Sheet) {
    sheet.paint(Part::Line, Outline::straight(&[at(0.0, APART), at(SLEEVE.1, APART)]));
    sheet.paint(Part::Tail, Outline::smooth(&tail().map(|it| turned(it, -1.0))));
}

/// What is seen on the right: the sleeve's mouth, and out of it the strands.
fn paint_near_side(sheet: &mut Sheet) {
    sheet.paint(Part::Hole, ellipse(at(SLEEVE.1, 0.0), MOUTH));
    sheet.paint(Part::Line, Outline::straight(&[at(SLEEVE.1, -APART), at(WIDE, -APART)]));
    sheet.paint(Part::Tail, Outline::smooth(&tail()));
}

/// The sleeve from the side, round at its far end, with waists where it is pressed.
fn tube(waists: &[f64]) -> Outline {
    let (left, right) = SLEEVE;
    let (full, low) = (MOUTH.y, PRESSED.1);
    let edge = |sign: f64| {
        let mut points = vec![at(left, full * sign)];
        for &place in waists {
            points.push(at(place - 2.0 * JAW, full * sign));
            points.extend([-JAW, JAW].map(|step| at(place + step, low * sign)));
            points.push(at(place + 2.0 * JAW, full * sign));
        }
        points.push(at(right, full * sign));
        points
    };
    let upper = edge(1.0);
    let mut lower = edge(-1.0);
    lower.reverse();
    let mut outline = Outline::straight(&upper);
    outline.line(&lower);
    outline.bend(at(left - MOUTH.x, -full), at(left - MOUTH.x, 0.0));
    outline.bend(at(left - MOUTH.x, full), at(left, full));
    outline.close()
}
