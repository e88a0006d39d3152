//! What several pictures share: the limb in one piece or both, pieces beside it, the line slack or taut.

use super::arrow::arrow;
use super::line::Tab;
use super::pose::Pose;
use super::view::{DEPTH, Rim};
use super::{STILL, Wearing, cuff as hand_cuff, forearm_piece as piece, hand, limb, line, straps};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::sizes::STRAP;
use crate::case::Wrap;

/// Half the shaft of an arrow in a picture of the whole arm, and in one of the hand (mm on an adult, as all below).
pub(super) const ARROW: (f64, f64) = (4.2, 2.8);
/// How far names stand over and under what they name (mm).
pub(super) const ROWS: (f64, f64) = (26.0, 14.0);
/// How far the forearm piece is drawn from its place while it is put on or taken off (mm).
const AWAY: f64 = 92.0;
/// How far the cuff is drawn from the hand while it is put on: away from the eye, or toward it (mm).
const ASIDE: (f64, f64) = (-105.0, 150.0);
/// Where the cuff's arrow runs: its share of the cuff's length, and of the way from the hand its ends.
const WAY: (f64, f64, f64) = (0.72, 0.92, 0.12);
/// How far past the near strap a picture of the hand ends, and past the strip one of the tab (mm).
const CUT: (f64, f64) = (14.0, 22.0);

/// The elbow going into the forearm piece, or out of it.
pub(super) fn forearm_piece(w: &Wearing<'_>, is_on: bool) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.loose();
    let grown = pose.growth();
    let by = at(-AWAY * grown, 0.0);
    piece::paint_inside(&mut sheet, &pose, by);
    hand::paint_fingers(&mut sheet, &pose);
    let arm = limb::paint(&mut sheet, &pose, None);
    hand::paint_thumb(&mut sheet, &pose);
    let shell = piece::paint(&mut sheet, &pose, by);
    for place in pose.side.sizes.forearm_straps {
        straps::paint_forearm_open(&mut sheet, &pose, place, w.lane(), by);
    }
    line::paint_strip(&mut sheet, &pose, by);
    piece::paint_spread(&mut sheet, &pose);
    limb::paint_upper_arm(&mut sheet, &pose);
    let high = pose.piece(pose.side.sizes.elbow).rim(Rim::Crown).y + 24.0 * grown;
    let (from, to) = (shell.back.x + 20.0 * grown, arm.elbow.x + 70.0 * grown);
    let (from, to) = (at(from, high), at(to, high));
    arrow(&mut sheet, &if is_on { [from, to] } else { [to, from] }, ARROW.0 * grown);
    sheet
}

/// The whole limb in the forearm piece, straps and upper arm not yet painted.
pub(super) fn in_piece(sheet: &mut Sheet, pose: &Pose) {
    piece::paint_inside(sheet, pose, STILL);
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, None);
    hand::paint_thumb(sheet, pose);
    piece::paint(sheet, pose, STILL);
}

/// The cuff coming round the hand from its closed side, or leaving it.
pub(super) fn cuff(w: &Wearing<'_>, is_on: bool) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.loose();
    let comes_from_behind = pose.side.sizes.wrap == Wrap::LittleFinger;
    let grown = pose.growth();
    let by = DEPTH * (grown * if comes_from_behind { ASIDE.0 } else { ASIDE.1 });
    if comes_from_behind {
        cuff_with_line(&mut sheet, &pose, by);
    }
    hand_close_up(&mut sheet, w, &pose);
    if !comes_from_behind {
        cuff_with_line(&mut sheet, &pose, by);
    }
    let sizes = &pose.side.sizes;
    let place = sizes.cuff_edge + (sizes.cuff_end - sizes.cuff_edge) * WAY.0;
    let middle = pose.cuff(place).centre;
    let (far, near) = (middle + by * WAY.1, middle + by * WAY.2);
    arrow(&mut sheet, &if is_on { [far, near] } else { [near, far] }, ARROW.1 * grown);
    sheet
}

/// The cuff beside the hand with its slack line.
fn cuff_with_line(sheet: &mut Sheet, pose: &Pose, by: Vector) {
    hand_cuff::paint_inside(sheet, pose, by);
    let on = hand_cuff::paint(sheet, pose, by);
    if hand_cuff::is_open_here(pose) {
        slack(sheet, pose, on.hole);
    } else {
        dangling(sheet, pose, on.hole);
    }
}

/// The line lying slack from the cuff's hole over the hand, the tab at its end.
pub(super) fn slack(sheet: &mut Sheet, pose: &Pose, hole: Vector) {
    // Clear of the forearm piece, so that it does not seem to be set.
    let grown = pose.growth();
    let over = pose.piece(pose.side.sizes.strip_start).rim(Rim::Crown).y + 22.0;
    let end = at(hole.x - 92.0 * grown, (hole.y + 34.0 * grown).max(over));
    let spot = |x: f64, y: f64| hole + at(x, y) * grown;
    line::paint_tab_aside(sheet, pose, end);
    line::paint_slack(sheet, &[hole, spot(-8.0, 17.0), spot(-36.0, 26.0), spot(-64.0, 26.0), end]);
}

/// The line hanging from the cuff's hole down before the cuff, the tab at its end; gives the tab and the bend.
pub(super) fn dangling(sheet: &mut Sheet, pose: &Pose, hole: Vector) -> (Tab, Vector) {
    let sizes = &pose.side.sizes;
    let grown = pose.growth();
    let spot = |x: f64, y: f64| hole + at(x, y) * grown;
    let end = at(hole.x + sizes.cuff_edge - sizes.hole + 10.0, spot(0.0, -84.0).y);
    let bend = spot(12.0, -54.0);
    let tab = line::paint_tab_aside(sheet, pose, end);
    line::paint_slack(sheet, &[hole, spot(12.0, -24.0), bend, spot(-22.0, -79.0), end]);
    (tab, bend)
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

/// The bare hand, the forearm's piece and strap where they end.
fn hand_close_up(sheet: &mut Sheet, w: &Wearing<'_>, pose: &Pose) {
    let cut = hand_cut(pose);
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, Some(cut));
    hand::paint_palm(sheet, pose);
    hand::paint_thumb(sheet, pose);
    piece_end(sheet, w, pose, cut);
}

/// The forearm piece and its straps in a picture that ends at `cut`.
pub(super) fn piece_end(sheet: &mut Sheet, w: &Wearing<'_>, pose: &Pose, cut: f64) {
    piece::paint_end(sheet, pose, cut);
    for place in pose.side.sizes.forearm_straps {
        if place - STRAP / 2.0 > cut {
            straps::paint_forearm(sheet, pose, place, w.lane(), STILL);
        }
    }
}

/// The hand in its closed cuff.
pub(super) fn in_cuff(
    sheet: &mut Sheet,
    pose: &Pose,
    cut: f64,
    has_arrows: bool,
) -> hand_cuff::Cuff {
    hand_cuff::paint_inside(sheet, pose, STILL);
    if pose.thumb < 0.0 {
        hand::paint_thumb(sheet, pose);
    }
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, Some(cut));
    let on = hand_cuff::paint(sheet, pose, STILL);
    let [web, wrist] = hand_straps(pose);
    let close = |sheet: &mut Sheet, place: f64| {
        let strap = straps::paint_hand(sheet, pose, place, STILL);
        if has_arrows {
            arrow(sheet, &straps::closing_way(&strap), ARROW.1 * pose.growth());
        }
    };
    if hand_cuff::is_open_here(pose) {
        close(sheet, web);
        if pose.thumb > 0.0 {
            hand::paint_thumb(sheet, pose);
        }
        close(sheet, wrist);
    } else if pose.thumb > 0.0 {
        hand::paint_thumb(sheet, pose);
    }
    on
}

/// The orthosis from the strip on, still without tab and line; gives where today's mark ends.
pub(super) fn worn(w: &Wearing<'_>, sheet: &mut Sheet, pose: &Pose) -> Option<Vector> {
    let sizes = &pose.side.sizes;
    let cut = (sizes.strip_end - CUT.1).max(sizes.elbow);
    in_cuff(sheet, pose, cut, false);
    piece_end(sheet, w, pose, cut);
    line::paint_strip(sheet, pose, STILL);
    let mut today = None;
    for (index, mark) in w.marks.iter().enumerate() {
        let place = sizes.strip_start - mark.to_mm();
        let part = if index == 0 { Part::Today } else { Part::Mark };
        let end = line::paint_mark(sheet, pose, place, part, STILL);
        today = today.or(Some(end));
    }
    today
}

/// The same with the tab at today's mark.
pub(super) fn pulled(w: &Wearing<'_>, sheet: &mut Sheet, pose: &Pose) -> (Tab, Option<Vector>) {
    let today = worn(w, sheet, pose);
    let tab = line::paint_tab(sheet, pose, w.hole(), STILL);
    line::paint_line(sheet, &w.course(), [pose.side.exit_hole(), tab.hole]);
    (tab, today)
}
