//! The pictures of putting on.

use super::arrow::{arrow, swing};
use super::scenes::{self, ARROW, ROWS, dangling, hand_straps as places};
use super::view::Rim;
use super::{STILL, Wearing, cuff, forearm_piece, hand, limb, line, straps};
use crate::calc::figure::drawing::{Anchor, Part};
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::{Sheet, WORDS_WIDE};
use crate::calc::figure::spread::apart;
use crate::case::Wrap;
use crate::units::Angle;

/// How far fingers and thumb swing when they are moved, to each side, and how far off the middle of their tips the arrow
/// stands (mm on an adult); the most they swing (degrees).
const SWING: (f64, f64, f64) = (25.0, 19.0, 40.0);
/// How far the cuff lies from the forearm piece when both are set out, beside what lies between them anyway (mm).
const APART: f64 = 58.0;

/// Both pieces beside each other, all straps open.
pub(super) fn set_out(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.pose(Angle::ZERO, 1.0);
    forearm_piece::paint_inside(&mut sheet, &pose, STILL);
    let piece = forearm_piece::paint(&mut sheet, &pose, STILL);
    let mut band = None;
    for place in pose.side.sizes.forearm_straps {
        band = Some(straps::paint_forearm_open(&mut sheet, &pose, place, w.lane(), STILL));
    }
    let strip = line::paint_strip(&mut sheet, &pose, STILL);
    let by = at(APART, 0.0);
    cuff::paint_inside(&mut sheet, &pose, by);
    let on = cuff::paint(&mut sheet, &pose, by);
    for place in places(&pose) {
        straps::paint_hand_open(&mut sheet, &pose, place, by);
    }
    let (hung, slack) = dangling(&mut sheet, &pose, on.hole);
    let over = piece.face.y.max(strip.free.y) + ROWS.0;
    let above =
        [(Part::ForearmPiece, piece.face), (Part::Strip, strip.free), (Part::Cuff, on.face)];
    names(&mut sheet, &above, over, Anchor::Above);
    let mut below = vec![(Part::Tab, hung.pad), (Part::Line, slack)];
    if let Some(strap) = band {
        below.insert(0, (Part::Strap, strap.loose));
    }
    names(&mut sheet, &below, hung.pad.y - ROWS.1, Anchor::Below);
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
    let pose = w.loose();
    scenes::in_piece(&mut sheet, &pose);
    let [near, far] = pose.side.sizes.forearm_straps;
    straps::paint_forearm(&mut sheet, &pose, far, w.lane(), STILL);
    let open = straps::paint_forearm_open(&mut sheet, &pose, near, w.lane(), STILL);
    line::paint_strip(&mut sheet, &pose, STILL);
    limb::paint_upper_arm(&mut sheet, &pose);
    arrow(&mut sheet, &straps::closing_way(&open), ARROW.0 * pose.growth());
    sheet
}

/// The hand's straps across the cuff's open side.
pub(super) fn hand_straps(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let thumb = if w.build.wrap == Wrap::LittleFinger { 1.0 } else { -1.0 };
    let pose = w.pose(w.loose, thumb);
    let cut = scenes::hand_cut(&pose);
    let on = scenes::in_cuff(&mut sheet, &pose, cut, true);
    scenes::piece_end(&mut sheet, w, &pose, cut);
    scenes::slack(&mut sheet, &pose, on.hole);
    sheet
}

/// The tab being set.
pub(super) fn tab(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    let (tab, today) = scenes::pulled(w, &mut sheet, &pose);
    let from = tab.pad + at(-10.0, 20.0);
    arrow(&mut sheet, &[from, from - at(62.0 * pose.growth(), 0.0)], ARROW.1 * pose.growth());
    sheet.note(Part::Tab, tab.pad + at(8.0, 30.0), tab.pad + at(8.0, 0.0), Anchor::Above);
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
    let thumb = hand::thumb_line(&pose);
    let digits = [hand::near_finger(&pose), [thumb[1].0, thumb[thumb.len() - 1].0]];
    let grown = pose.growth();
    for [root, tip] in digits {
        let off = (tip - root).direction() * (SWING.1 * grown);
        let radius = (tip + off - root).size().max(1e-9);
        let half = Angle::radians(SWING.0 * grown / radius).to_degrees().min(SWING.2);
        swing(&mut sheet, root, tip + off, half, ARROW.1 * 0.8 * grown);
    }
    sheet
}
