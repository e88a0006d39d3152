//! What several pictures share: the limb in one piece or both, pieces beside it, the line slack or taut.

use super::arrow::arrow;
use super::line::Tab;
use super::pose::Pose;
use super::view::{ABOVE, Rim, UPRIGHT};
use super::{
    STILL, Wearing, cuff as hand_cuff, forearm_piece as piece, hand, limb, line, opposite, straps,
};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::sizes::STRAP;
use crate::case::Wrap;

/// Half the shaft of an arrow in a picture of the whole arm, and in one of the hand (mm on an adult, as all below).
pub(super) const ARROW: (f64, f64) = (5.0, 3.2);
/// How far names stand over and under what they name (mm).
pub(super) const ROWS: (f64, f64) = (26.0, 14.0);
/// How far the forearm piece is drawn behind and below its place while it is put on or taken off (mm).
const AWAY: Vector = at(-62.0, -62.0);
/// How far the cuff is drawn off the hand while it is put on, in hand breadths.
const ASIDE: f64 = 0.42;
/// How far a slack line leads toward the elbow, and so past the straps of a cuff that closes on the far side (mm).
const SLACK: (f64, f64) = (92.0, 128.0);
/// How much wider the cuff's open side is while it is put on.
const SPREAD: f64 = 1.2;
/// How far past the near strap a picture of the hand ends, and past the strip one of the tab (mm).
const CUT: (f64, f64) = (14.0, 22.0);

/// The elbow going into the forearm piece, or out of it: the forearm level, the upper arm upright.
pub(super) fn forearm_piece(w: &Wearing<'_>, is_on: bool) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.pose(w.loose, UPRIGHT);
    let by = AWAY * pose.growth();
    piece::paint_inside(&mut sheet, &pose, by);
    hand::paint_fingers(&mut sheet, &pose);
    limb::paint(&mut sheet, &pose, None);
    hand::paint_palm(&mut sheet, &pose);
    hand::paint_thumb(&mut sheet, &pose);
    limb::paint_upper_arm(&mut sheet, &pose);
    let shell = piece::paint(&mut sheet, &pose, by);
    for place in pose.side.sizes.forearm_straps {
        straps::paint_forearm_hung(&mut sheet, &pose, place, by);
    }
    let middle = shell.face;
    let (from, to) = (middle + by * 0.15, middle - by * 0.85);
    arrow(&mut sheet, &if is_on { [from, to] } else { [to, from] }, ARROW.0 * pose.growth());
    sheet
}

/// The whole limb in the forearm piece, straps and upper arm not yet painted.
pub(super) fn in_piece(sheet: &mut Sheet, pose: &Pose) {
    piece::paint_inside(sheet, pose, STILL);
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, None);
    hand::paint_palm(sheet, pose);
    hand::paint_thumb(sheet, pose);
    piece::paint(sheet, pose, STILL);
}

/// The cuff going round the hand from its closed side, or leaving it.
pub(super) fn cuff(w: &Wearing<'_>, is_on: bool) -> Sheet {
    let mut sheet = Sheet::default();
    let mut pose = w.pose(w.loose, ABOVE);
    pose.is_thumb_off = true;
    pose.opening *= SPREAD;
    let grown = pose.growth();
    let is_thumb = pose.side.sizes.wrap == Wrap::Thumb;
    let by = if is_thumb {
        hand::thumb_line(&pose)[2].0 - hand_cuff::thumb_hole(&pose)
    } else {
        pose.eye.thumb * (-ASIDE * pose.side.sizes.hand_breadth)
    };
    if let Some(other) = w.other() {
        opposite::paint_slack(&mut sheet, &pose, &other, by);
    }
    hand_cuff::paint_inside(&mut sheet, &pose, by);
    for place in hand_straps(&pose) {
        straps::paint_hand_spread(&mut sheet, &pose, place, by, by.y.abs());
    }
    let cut = hand_cut(&pose);
    hand::paint_fingers(&mut sheet, &pose);
    limb::paint(&mut sheet, &pose, Some(cut));
    hand::paint_palm(&mut sheet, &pose);
    hand::paint_thumb(&mut sheet, &pose);
    piece_end(&mut sheet, w, &pose, cut);
    let on = hand_cuff::paint(&mut sheet, &pose, by);
    if is_thumb {
        hand::paint_thumb_end(&mut sheet, &pose, 2);
    }
    if is_thumb {
        slack(&mut sheet, &pose, on.hole);
    } else {
        laid_out(&mut sheet, &pose, on.hole, 14.0);
    }
    let (from, to) = (hand_cuff::closed_edge(&pose, by), hand_cuff::free_edge(&pose, by));
    let out = (from - to).direction();
    let start = from + out * (16.0 * grown);
    let beside = at(12.0 * grown, 0.0);
    let end = to - out * (14.0 * grown);
    let mut way = [start, start.toward(end, 0.33) + beside, start.toward(end, 0.66) + beside, end];
    if !is_on {
        way.reverse();
    }
    arrow(&mut sheet, &way, ARROW.1 * grown);
    sheet
}

/// The line lying slack from the cuff's hole over the hand, the tab at its end.
pub(super) fn slack(sheet: &mut Sheet, pose: &Pose, hole: Vector) {
    // Clear of the forearm piece, so that it does not seem to be set.
    let grown = pose.growth();
    let over = pose.piece(pose.side.sizes.strip_start).rim(Rim::Crown).y + 22.0;
    // Past the straps, where they lie on this side.
    let long = if pose.side.sizes.wrap == Wrap::Thumb { SLACK.1 } else { SLACK.0 } * grown;
    let end = at(hole.x - long, (hole.y + 14.0 * grown).max(over));
    let rise = end.y - hole.y;
    let spot = |share: f64, y: f64| hole + at(-share * long, y * rise);
    line::paint_tab_aside(sheet, pose, end, false);
    line::paint_slack(sheet, &[hole, spot(0.09, 0.5), spot(0.39, 0.8), spot(0.7, 0.8), end]);
}

/// The line laid out past the cuff toward the fingers, the tab at its end; gives the tab and the line's middle.
///
/// `rise` says how far the tab lies above the hole (mm on an adult).
pub(super) fn laid_out(sheet: &mut Sheet, pose: &Pose, hole: Vector, rise: f64) -> (Tab, Vector) {
    let grown = pose.growth();
    let spot = |x: f64, y: f64| hole + at(x, rise * x / 60.0 + y) * grown;
    let end = spot(60.0, 0.0);
    let middle = spot(30.0, 8.0);
    let tab = line::paint_tab_aside(sheet, pose, end, true);
    line::paint_slack(sheet, &[hole, spot(14.0, 9.0), middle, spot(46.0, -4.0), end]);
    (tab, middle)
}

/// Where the cuff's straps lie: in the web of the thumb, and near the wrist.
pub(super) fn hand_straps(pose: &Pose) -> [f64; 2] {
    [pose.side.sizes.web_strap(), pose.side.sizes.wrist_strap()]
}

/// Where a picture of the hand ends.
pub(super) fn hand_cut(pose: &Pose) -> f64 {
    let sizes = &pose.side.sizes;
    let end = sizes.forearm_straps[0] - STRAP / 2.0 - CUT.0;
    end.clamp(sizes.elbow, sizes.piece_edge - 2.0 * CUT.0)
}

/// The forearm piece and its straps in a picture that ends at `cut`.
pub(super) fn piece_end(sheet: &mut Sheet, w: &Wearing<'_>, pose: &Pose, cut: f64) {
    piece::paint_end(sheet, pose, cut);
    for place in pose.side.sizes.forearm_straps {
        if place - STRAP / 2.0 > cut {
            straps::paint_forearm(sheet, pose, place, w.lane());
        }
    }
}

/// The hand in its cuff, its straps closed or, `is_half`, the one in the web half way over with its arrow.
pub(super) fn in_cuff(sheet: &mut Sheet, pose: &Pose, cut: f64, is_half: bool) -> hand_cuff::Cuff {
    hand_cuff::paint_inside(sheet, pose, STILL);
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, Some(cut));
    let on = hand_cuff::paint(sheet, pose, STILL);
    let [web, wrist] = hand_straps(pose);
    let is_by_thumb = pose.side.sizes.wrap == Wrap::LittleFinger;
    let is_far = pose.eye.pull > 0.0 && !is_by_thumb;
    let mut half = None;
    if !is_far {
        if is_half {
            half = Some(straps::paint_hand_half(sheet, pose, web));
        } else {
            straps::paint_hand(sheet, pose, web);
        }
    }
    if is_by_thumb {
        hand::paint_thumb(sheet, pose);
    } else {
        hand::paint_thumb_out(sheet, pose, hand_cuff::AT_THUMB);
    }
    if !is_far {
        straps::paint_hand(sheet, pose, wrist);
    }
    if let Some(strap) = half {
        arrow(sheet, &straps::closing_way(&strap), ARROW.1 * pose.growth());
    }
    on
}

/// The orthosis from the strip on, still without tab and line.
pub(super) fn worn(w: &Wearing<'_>, sheet: &mut Sheet, pose: &Pose) {
    let sizes = &pose.side.sizes;
    let cut = (sizes.strip_end - CUT.1).max(sizes.elbow);
    if let Some(other) = w.other() {
        opposite::paint_slack(sheet, pose, &other, STILL);
        opposite::paint_strip(sheet, pose, &other, cut);
    }
    in_cuff(sheet, pose, cut, false);
    piece_end(sheet, w, pose, cut);
    line::paint_strip(sheet, pose, STILL);
    for (index, mark) in w.marks.iter().enumerate() {
        let place = sizes.strip_start - mark.to_mm();
        let part = if index == 0 { Part::Today } else { Part::Mark };
        line::paint_mark(sheet, pose, place, part, STILL);
    }
}

/// The same with the tab at today's mark; gives where the mark ends.
pub(super) fn pulled(w: &Wearing<'_>, sheet: &mut Sheet, pose: &Pose) -> (Tab, Option<Vector>) {
    worn(w, sheet, pose);
    let tab = line::paint_tab(sheet, pose, w.hole(), STILL);
    line::paint_line(sheet, &w.course(), [pose.exit_hole(), tab.hole]);
    let place = |mark: &crate::units::Length| pose.side.sizes.strip_start - mark.to_mm();
    let today = w.marks.first().map(|mark| line::paint_front(sheet, pose, place(mark)));
    (tab, today)
}
