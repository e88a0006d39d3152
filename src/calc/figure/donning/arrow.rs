//! The arrow of a picture: which way something is moved.

use crate::calc::figure::curve::{Outline, arc};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at, heading};
use crate::calc::figure::sheet::Sheet;
use crate::units::{Angle, math};

/// Half the shaft's width, half the head's, and the head's length, in arrow sizes.
const SHAPE: (f64, f64, f64) = (1.0, 2.7, 4.6);
/// Steps along a swing.
const STEPS: u8 = 10;

/// Draws an arrow along points to the last of them; `size` is half its shaft's width (mm).
pub(super) fn arrow(sheet: &mut Sheet, way: &[Vector], size: f64) {
    sheet.paint(Part::Motion, shape(way, size, false));
}

/// Draws an arrow with a head at each end round `pivot`, `off` (mm) outside of a tip at rest and where it moves.
pub(super) fn swing(sheet: &mut Sheet, pivot: Vector, tips: [Vector; 2], off: f64, size: f64) {
    let turn =
        |it: Vector| Angle::radians(math::atan2(it.y - pivot.y, it.x - pivot.x)).to_degrees();
    let (from, to) = (turn(tips[0]), turn(tips[1]));
    // The short way round.
    let sweep = (to - from + 540.0).rem_euclid(360.0) - 180.0;
    let radius = (tips[0] - pivot).size().max((tips[1] - pivot).size()) + off;
    let turns: Vec<f64> =
        (0..=STEPS).map(|step| from + sweep * f64::from(step) / f64::from(STEPS)).collect();
    sheet.paint(Part::Motion, shape(&arc(pivot, at(radius, radius), &turns), size, true));
}

fn shape(way: &[Vector], size: f64, is_both: bool) -> Outline {
    let (shaft, head, long) = (SHAPE.0 * size, SHAPE.1 * size, SHAPE.2 * size);
    let (first, last) = (way[0], way[way.len() - 1]);
    // The shaft ends where a head begins.
    let is_shaft =
        |it: &&Vector| (last - **it).size() > long && (!is_both || (first - **it).size() > long);
    let mut course: Vec<Vector> = way.iter().filter(is_shaft).copied().collect();
    if course.is_empty() {
        course.push(first.toward(last, 0.5));
    }
    let neck = |tip: Vector, inner: Vector| tip + (inner - tip).direction() * long;
    let end = neck(last, course[course.len() - 1]);
    let start = neck(first, course[0]);
    if is_both {
        course.insert(0, start);
    }
    course.push(end);
    let flank = |sign: f64| -> Vec<Vector> {
        (0..course.len())
            .map(|it| course[it] + heading(&course, it).left() * (shaft * sign))
            .collect()
    };
    let barbs = |tip: Vector, neck: Vector| {
        let ahead = (tip - neck).direction();
        [neck + ahead.left() * head, tip, neck - ahead.left() * head]
    };
    let mut outline = Outline::smooth(&flank(1.0));
    outline.line(&barbs(last, end));
    let mut back = flank(-1.0);
    back.reverse();
    outline.run(&back);
    if is_both {
        outline.line(&barbs(first, start));
    }
    outline.close()
}
