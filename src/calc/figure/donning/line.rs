//! Line, strip, marks and tab of the donning sequence.

use super::pose::{Pose, spread};
use super::view::{Rim, Section, patch};
use crate::calc::figure::curve::{Outline, ellipse, rounded};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::sizes::PILE;

/// The tab folded double over its pad, drawn a little thicker than it is (mm).
const TAB: f64 = 2.6;
/// The pad under the tab (mm).
const PAD: f64 = 1.6;
/// Half the tab's nose in tab widths, and its length past the hole (mm).
const NOSE: (f64, f64) = (0.32, 6.0);
/// Half a hole (mm).
const HOLE: f64 = 2.2;
/// How a lifted tab stands: its front over the hole (mm), its pad's run toward the elbow and its rise, in pads.
const LIFT: (f64, f64, f64) = (6.0, 0.72, 0.70);
/// The least of its breadth that a tab shows that lies flat beside the limb.
const FLAT: f64 = 0.6;
/// How far a mark reaches past the strip (mm).
const PAST: f64 = 7.0;

/// The strip's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strip {
    /// On it, clear of the tab's travel.
    pub(super) free: Vector,
}

/// The tab's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tab {
    /// Its hole.
    pub(super) hole: Vector,
    /// The middle of its pad.
    pub(super) pad: Vector,
}

/// Paints the strip on the forearm piece.
pub(super) fn paint_strip(sheet: &mut Sheet, pose: &Pose, by: Vector) -> Strip {
    let sizes = &pose.side.sizes;
    let run: Vec<Section> = spread(sizes.strip_end, sizes.strip_start, 2)
        .map(|place| pose.piece(place).moved(by).grown(PILE))
        .collect();
    let turn = run[1].turn_of_width(sizes.strip_width / 2.0);
    let upper = if -turn > run[1].turn(Rim::Crown) { Rim::Turn(-turn) } else { Rim::Crown };
    sheet.paint(Part::Strip, patch(&run, upper, Rim::Turn(turn)));
    Strip { free: run[0].spot(turn * 0.5).toward(run[2].spot(turn * 0.5), 0.12) }
}

/// Paints a mark across the strip's near half and past its edge; `place` from the crease.
pub(super) fn paint_mark(
    sheet: &mut Sheet,
    pose: &Pose,
    place: f64,
    part: Part,
    by: Vector,
) -> Vector {
    let sizes = &pose.side.sizes;
    let section = pose.piece(place).moved(by).grown(PILE);
    let edge = section.turn_of_width(sizes.strip_width / 2.0);
    let near = section.turn_of_width(sizes.tab_width / 2.0);
    let outer = section.turn_of_width(sizes.strip_width / 2.0 + PAST);
    let from = if part == Part::Today { near } else { f64::midpoint(near, edge) };
    sheet.paint(part, Outline::smooth(&section.arc(from, outer)));
    section.spot(outer)
}

/// Paints today's mark along the front edge of the tab's wide part, down to the strip and past it.
pub(super) fn paint_front(sheet: &mut Sheet, pose: &Pose, place: f64) -> Vector {
    let sizes = &pose.side.sizes;
    let on = |over: f64| pose.piece(place).grown(PILE + over);
    let (top, low) = (on(PAD + TAB), on(0.0));
    let turn = tab_turn(pose, place - sizes.pad_length);
    let mut way = vec![top.spot(-turn), top.spot(0.0), top.spot(turn)];
    let outer = low.turn_of_width(sizes.strip_width / 2.0 + PAST);
    way.extend(low.arc(turn, outer));
    sheet.paint(Part::Today, Outline::straight(&way));
    low.spot(outer)
}

/// Where the tab's sides lie on the strip, by the place of its pad's back end (degrees).
fn tab_turn(pose: &Pose, back: f64) -> f64 {
    let half = pose.side.sizes.tab_width / 2.0;
    pose.piece(back).grown(PILE + PAD).turn_of_width(half)
}

/// Paints the tab lying on the strip with its hole at a place from the crease.
pub(super) fn paint_tab(sheet: &mut Sheet, pose: &Pose, hole: f64, by: Vector) -> Tab {
    let sizes = &pose.side.sizes;
    let front = hole - sizes.hole_to_pad;
    let back = front - sizes.pad_length;
    let on = |place: f64, over: f64| pose.piece(place).moved(by).grown(PILE + over);
    let turn = tab_turn(pose, back);
    let pad: Vec<Section> = [back, front].map(|it| on(it, PAD + TAB)).into();
    // The thickness of pad and tab shows below their near edge.
    let foot = |it: f64| on(it, 0.0).spot(turn);
    let side = Outline::straight(&[pad[0].spot(turn), pad[1].spot(turn), foot(front), foot(back)]);
    let nose = sizes.tab_width * NOSE.0;
    let height = sizes.strip_height + TAB / 2.0;
    let spot = |place: f64, out: f64| pose.of_forearm(place, height, out) + by;
    let tip = hole + NOSE.1;
    let bridge = [
        pad[1].spot(-turn),
        spot(hole - 2.0, -nose),
        spot(tip, -nose),
        spot(tip, nose),
        spot(hole - 2.0, nose),
        pad[1].spot(turn),
    ];
    sheet.paint(Part::Tab, Outline::straight(&bridge).close());
    sheet.paint(Part::Pad, side.close());
    sheet.paint(Part::Tab, patch(&pad, Rim::Turn(-turn), Rim::Turn(turn)));
    Tab {
        hole: pose.of_forearm(hole, sizes.strip_height, 0.0) + by,
        pad: pad[0].spot(0.0).toward(pad[1].spot(0.0), 0.5),
    }
}

/// The end of the pad of a tab that is held up.
pub(super) fn lifted_edge(pose: &Pose, hole: Vector) -> Vector {
    let sizes = &pose.side.sizes;
    let front = hole + at(-sizes.hole_to_pad, LIFT.0);
    front + at(-sizes.pad_length * LIFT.1, sizes.pad_length * LIFT.2)
}

/// Paints the tab held up from the strip by the end of its pad, its hole at a place on the page.
pub(super) fn paint_tab_up(sheet: &mut Sheet, pose: &Pose, hole: Vector) -> Tab {
    let sizes = &pose.side.sizes;
    let out = |share: f64| pose.eye.thumb * (sizes.tab_width / 2.0 * share);
    let front = hole + at(-sizes.hole_to_pad, LIFT.0);
    let back = lifted_edge(pose, hole);
    let nose = NOSE.0 * 2.0;
    let tip = hole + at(NOSE.1, 0.0);
    let bridge = [
        front - out(1.0),
        hole - out(nose),
        tip - out(nose),
        tip + out(nose),
        hole + out(nose),
        front + out(1.0),
    ];
    sheet.paint(Part::Tab, Outline::straight(&bridge).close());
    let pad = [front - out(1.0), back - out(1.0), back + out(1.0), front + out(1.0)];
    sheet.paint(Part::Tab, Outline::straight(&pad).close());
    Tab { hole, pad: front.toward(back, 0.5) }
}

/// Paints a tab that lies flat beside the limb, its hole at a place on the page, its pad toward the elbow or, `ahead`,
/// away from it.
pub(super) fn paint_tab_aside(sheet: &mut Sheet, pose: &Pose, hole: Vector, ahead: bool) -> Tab {
    let sizes = &pose.side.sizes;
    let half = sizes.tab_width / 2.0 * pose.eye.thumb.y.abs().max(FLAT);
    let nose = half * NOSE.0 * 2.0;
    let (front, back) = (sizes.hole_to_pad, sizes.hole_to_pad + sizes.pad_length);
    let spot = |on: f64, y: f64| hole + at(if ahead { on } else { -on }, y);
    let tab = [
        spot(back, -half),
        spot(front, -half),
        spot(front - 4.0, -nose),
        spot(-NOSE.1, -nose),
        spot(-NOSE.1, nose),
        spot(front - 4.0, nose),
        spot(front, half),
        spot(back, half),
    ];
    sheet.paint(Part::Tab, rounded(&tab, 2.0));
    Tab { hole, pad: spot(f64::midpoint(front, back), 0.0) }
}

/// Paints the taut line through its corners, and the holes at its ends.
pub(super) fn paint_line(sheet: &mut Sheet, course: &[Vector], holes: [Vector; 2]) {
    if course.len() > 1 {
        sheet.paint(Part::Line, Outline::straight(course));
    }
    paint_holes(sheet, holes);
}

/// Paints a slack line, and the holes at its ends.
pub(super) fn paint_slack(sheet: &mut Sheet, way: &[Vector]) {
    sheet.paint(Part::Line, Outline::smooth(way));
    paint_holes(sheet, [way[0], way[way.len() - 1]]);
}

fn paint_holes(sheet: &mut Sheet, holes: [Vector; 2]) {
    for hole in holes {
        sheet.paint(Part::Hole, ellipse(hole, at(HOLE, HOLE)));
    }
}
