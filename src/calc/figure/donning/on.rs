//! The pictures of putting on.

use super::arrow::{arrow, swing};
use super::scenes::{self, ARROW, ROWS, hand_straps as places, laid_out};
use super::view::{ABOVE, ACROSS, BESIDE, Rim};
use super::{STILL, Wearing, cuff, forearm_piece, hand, helper, limb, line, opposite, straps};
use crate::calc::figure::drawing::{Anchor, Part};
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::{Sheet, WORDS_WIDE};
use crate::calc::figure::spread::apart;
use crate::case::Wrap;
use crate::units::Angle;

/// How far off the tips that move their arrows stand (mm on an adult).
const SWING: f64 = 17.0;
/// How much further fingertips bend that move.
const BENT: Angle = Angle::degrees(50.0);
/// How far the cuff lies from the forearm piece when both are set out, beside what lies between them anyway (mm).
const APART: f64 = 58.0;

/// Both pieces beside each other, all straps open.
pub(super) fn set_out(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let other = w.other();
    // From beside, where both faces have a strip.
    let pose = w.pose(Angle::ZERO, if other.is_some() { BESIDE } else { ABOVE });
    let mut band = None;
    for place in pose.side.sizes.forearm_straps {
        band = Some(straps::paint_forearm_spread(&mut sheet, &pose, place, STILL));
    }
    forearm_piece::paint_inside(&mut sheet, &pose, STILL);
    let piece = forearm_piece::paint(&mut sheet, &pose, STILL);
    let strip = line::paint_strip(&mut sheet, &pose, STILL);
    let by = at(APART, 0.0);
    let mut second = None;
    if let Some(other) = &other {
        second = opposite::paint_strip(&mut sheet, &pose, other, f64::NEG_INFINITY);
        laid_out(&mut sheet, &pose, opposite::exit_hole(&pose, other) + by, -24.0);
    }
    for place in places(&pose) {
        straps::paint_hand_spread(&mut sheet, &pose, place, by, 0.0);
    }
    cuff::paint_inside(&mut sheet, &pose, by);
    let on = cuff::paint(&mut sheet, &pose, by);
    let (hung, slack) =
        laid_out(&mut sheet, &pose, on.hole, if other.is_some() { 24.0 } else { -12.0 });
    let ends = |of: fn(f64, f64) -> f64| sheet.trace().iter().map(|it| it.y).fold(0.0, of);
    let (over, under) = (ends(f64::max) + ROWS.1, ends(f64::min) - ROWS.1);
    let above =
        [(Part::ForearmPiece, piece.face), (Part::Strip, strip.free), (Part::Cuff, on.face)];
    names(&mut sheet, &above, over, Anchor::Above);
    let mut below = vec![(Part::Line, slack), (Part::Tab, hung.pad)];
    if let Some(strap) = band {
        below.insert(0, (Part::Strap, strap.loose));
    }
    if let Some(strip) = second {
        below.insert(1, (Part::Strip, strip));
    }
    names(&mut sheet, &below, under, Anchor::Below);
    sheet
}

/// Names parts in a row, from the elbow toward the fingers, each as near to its part as its neighbours allow.
fn names(sheet: &mut Sheet, parts: &[(Part, Vector)], row: f64, anchor: Anchor) {
    let wanted: Vec<f64> = parts.iter().map(|it| it.1.x).collect();
    for (&(part, to), x) in parts.iter().zip(apart(&wanted, WORDS_WIDE)) {
        sheet.note(part, at(x, row), to, anchor);
    }
}

/// The forearm's straps: one closed, one on its way.
pub(super) fn forearm_straps(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.pose(w.loose, ABOVE);
    scenes::in_piece(&mut sheet, &pose);
    let [near, far] = pose.side.sizes.forearm_straps;
    straps::paint_forearm(&mut sheet, &pose, far, w.lane());
    let open = straps::paint_forearm_half(&mut sheet, &pose, near, w.lane());
    line::paint_strip(&mut sheet, &pose, STILL);
    limb::paint_upper_arm(&mut sheet, &pose);
    arrow(&mut sheet, &straps::closing_way(&open), ARROW.0 * pose.growth());
    sheet
}

/// The hand's straps across the cuff's open side.
pub(super) fn hand_straps(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let eye = if w.build.wrap == Wrap::LittleFinger { ABOVE } else { ACROSS };
    let mut pose = w.pose(w.loose, eye);
    pose.is_thumb_off = true;
    let cut = scenes::hand_cut(&pose);
    if let Some(other) = w.other() {
        opposite::paint_slack(&mut sheet, &pose, &other, STILL);
    }
    let on = scenes::in_cuff(&mut sheet, &pose, cut, true);
    scenes::piece_end(&mut sheet, w, &pose, cut);
    scenes::slack(&mut sheet, &pose, on.hole);
    sheet
}

/// The tab being set.
pub(super) fn tab(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    let grown = pose.growth();
    let (tab, today) = scenes::pulled(w, &mut sheet, &pose);
    helper::paint_press(&mut sheet, tab.pad + at(-2.0, 3.0) * grown, grown);
    let from = tab.pad + at(-54.0, 18.0) * grown;
    arrow(&mut sheet, &[from, from - at(66.0 * grown, 0.0)], ARROW.1 * 1.2 * grown);
    // On the far side of the finger from the line.
    let back = tab.pad - at(pose.side.sizes.pad_length * 0.4, 0.0);
    sheet.note(Part::Tab, tab.pad + at(-72.0, 44.0 * grown), back, Anchor::Above);
    if let Some(today) = today {
        let low = pose.piece(pose.side.sizes.strip_start).rim(Rim::Foot).y - ROWS.1;
        sheet.note(Part::Today, at(today.x, low), today, Anchor::Below);
    }
    sheet
}

/// Fingers and thumb moving.
pub(super) fn check(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    scenes::pulled(w, &mut sheet, &pose);
    hand::paint_moved(&mut sheet, &pose, BENT);
    let grown = pose.growth();
    for [root, rest, moved] in hand::motions(&pose, BENT) {
        swing(&mut sheet, root, [rest, moved], SWING * grown, ARROW.1 * 0.75 * grown);
    }
    sheet
}
