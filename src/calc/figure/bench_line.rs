//! The line at the bench: folded over its gauge, and threaded through cuff and tab.

use super::bench::{WIDE, arrow, band, block, names};
use super::curve::{Outline, ellipse, rounded};
use super::drawing::{Anchor, Part};
use super::plane::{Vector, at};
use super::sheet::Sheet;

/// Where the gauge's end lines stand (mm).
const ENDS: (f64, f64) = (0.0, 36.0);
/// Half the distance of two strands side by side (mm).
const APART: f64 = 2.4;
/// Heights of the strands of a line that is folded once more (mm from the middle).
const STRANDS: [f64; 2] = [1.3, 4.8];
/// Half the lane of a gauge that takes four strands (mm).
const FOLDED_LANE: f64 = 6.4;
/// Half the gauge's lane, and half of its end lines (mm).
const LANE: (f64, f64) = (4.6, 9.5);
/// Where names stand over and under these panels (mm from their middle).
const ROWS: (f64, f64) = (13.5, -13.5);

/// The line folded in half over one end line of the gauge, both strands marked at the other.
pub(super) fn gauge() -> Sheet {
    on_gauge(doubled(), LANE.0, [-APART, APART], -APART)
}

/// The same on a gauge half as long: the doubled line goes round the other end line and back, both strands marked
/// where it comes back to the first.
pub(super) fn gauge_folded() -> Sheet {
    on_gauge(doubled_twice(), FOLDED_LANE, STRANDS, -STRANDS[1])
}

/// A line on the gauge, its strands marked at the end line on the right.
fn on_gauge(line: Outline, half: f64, strands: [f64; 2], lowest: f64) -> Sheet {
    let mut sheet = Sheet::default();
    sheet.paint(Part::Gauge, block(at(ENDS.0, -half), at(ENDS.1, half)));
    for end in [ENDS.0, ENDS.1] {
        sheet.paint(Part::Gauge, Outline::straight(&[at(end, -LANE.1), at(end, LANE.1)]));
    }
    sheet.paint(Part::Line, line);
    for side in strands {
        band(&mut sheet, at(ENDS.1, side));
    }
    let upper = strands[0].max(strands[1]);
    let over =
        [(Part::Gauge, 0.0, at(18.0, half - 0.6)), (Part::Mark, 4.0, at(ENDS.1, upper + 0.6))];
    names(&mut sheet, ROWS.0, Anchor::Above, &over);
    names(&mut sheet, ROWS.1, Anchor::Below, &[(Part::Line, 0.0, at(18.0, lowest))]);
    sheet
}

/// The line folded in half: the fold on the first end line, the ends loose past the second.
fn doubled() -> Outline {
    let fold = ENDS.0 + APART;
    let mut line = Outline::smooth(&[at(WIDE, 4.6), at(45.0, 3.2), at(ENDS.1, APART)]);
    line.line(&[at(fold, APART)]);
    line.bend(at(ENDS.0, APART), at(ENDS.0, 0.0));
    line.bend(at(ENDS.0, -APART), at(fold, -APART));
    line.line(&[at(ENDS.1, -APART)]);
    line.run(&[at(ENDS.1, -APART), at(45.0, -3.2), at(WIDE, -4.6)]);
    line
}

/// The line folded in half at the end line on the right, then once more round the one on the left: four strands, the ends
/// loose past the right.
fn doubled_twice() -> Outline {
    let [inner, outer] = STRANDS;
    let mut line = Outline::smooth(&[at(WIDE, 6.8), at(45.0, 5.6), at(ENDS.1, outer)]);
    // Round the left end line, the outer strand over it and the inner beside it.
    let turn = |line: &mut Outline, height: f64, end: f64| {
        line.line(&[at(end + height, height)]);
        line.bend(at(end, height), at(end, 0.0));
        line.bend(at(end, -height), at(end + height, -height));
    };
    turn(&mut line, outer, ENDS.0);
    // The fold in the middle of the line, on the right end line.
    let (middle, half) = (f64::midpoint(inner, outer), (outer - inner) / 2.0);
    line.line(&[at(ENDS.1 - half, -outer)]);
    line.bend(at(ENDS.1, -outer), at(ENDS.1, -middle));
    line.bend(at(ENDS.1, -inner), at(ENDS.1 - half, -inner));
    // Back the same way.
    line.line(&[at(ENDS.0 + outer, -inner)]);
    line.bend(at(ENDS.0 + outer - inner, -inner), at(ENDS.0 + outer - inner, 0.0));
    line.bend(at(ENDS.0 + outer - inner, inner), at(ENDS.0 + outer, inner));
    line.line(&[at(ENDS.1, inner)]);
    line.run(&[at(ENDS.1, inner), at(45.0, inner), at(WIDE, inner - 0.6)]);
    line
}

/// The hole in the cuff, and the tab's.
const HOLES: (Vector, Vector) = (at(10.0, 0.0), at(36.4, 0.0));
/// Radius of the holes (mm).
const HOLE: f64 = 1.9;
/// The height of the strands between the pieces over and under the middle (mm).
const STRAND: f64 = 3.4;

/// The line through the holes of cuff and tab, its ends coming together.
///
/// Behind the pieces it is hidden, so that it is seen to pass through them.
pub(super) fn thread() -> Sheet {
    let mut sheet = Sheet::default();
    let (cuff, tab) = HOLES;
    let ends = [
        (at(16.0, -2.4), at(18.6, -STRAND), at(22.6, -4.4)),
        (at(33.0, -2.0), at(30.4, -STRAND), at(26.4, -4.4)),
    ];
    for ((edge, mark, end), hole) in ends.iter().zip([cuff, tab]) {
        sheet.paint(Part::Line, Outline::smooth(&[hole, *edge, *mark, *end]));
    }
    sheet.paint(
        Part::Cuff,
        rounded(&[at(0.0, -9.5), at(0.0, 9.5), at(15.0, 9.5), at(15.0, -9.5)], 3.0),
    );
    paint_tab(&mut sheet);
    for hole in [cuff, tab] {
        sheet.paint(Part::Hole, ellipse(hole, at(HOLE, HOLE)));
    }
    let upper = [cuff, at(15.5, 2.6), at(21.0, STRAND), at(28.0, STRAND), at(33.0, 2.2), tab];
    sheet.paint(Part::Line, Outline::smooth(&upper));
    for (_, mark, _) in ends {
        band(&mut sheet, mark);
    }
    arrow(&mut sheet, at(16.0, -7.6), at(23.4, -7.6));
    arrow(&mut sheet, at(33.0, -7.6), at(25.6, -7.6));
    let over = [
        (Part::Cuff, 3.0, at(4.0, 6.0)),
        (Part::Line, 0.0, at(24.5, STRAND)),
        (Part::Tab, 0.0, at(45.0, 4.0)),
    ];
    names(&mut sheet, ROWS.0, Anchor::Above, &over);
    let under =
        [(Part::Hole, 0.0, cuff - at(0.0, HOLE)), (Part::Mark, 5.0, at(30.4, -STRAND - 0.8))];
    names(&mut sheet, ROWS.1, Anchor::Below, &under);
    sheet
}

/// The tab from above, its nose with the hole toward the cuff.
fn paint_tab(sheet: &mut Sheet) {
    let (nose, front, half) = (33.0, 39.6, 3.4);
    let tab = [at(nose, -half), at(nose, half), at(front, half), at(front, -half)];
    sheet.paint(Part::Pad, block(at(front - 0.4, -6.0), at(WIDE, 6.0)));
    sheet.paint(Part::Tab, rounded(&tab, 1.0));
}
