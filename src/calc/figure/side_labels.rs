//! Where the words stand in the side view: three over it, four under it.

use super::drawing::{Anchor, Part};
use super::plane::{Vector, along, at};
use super::sheet::Sheet;
use super::side::Side;
use super::sizes::PILE;
use crate::units::math;

/// Room between the middles of neighbouring words [mm].
const APART: f64 = 92.0;
/// Words whose lines differ by less stand on one line [mm].
const SAME_LINE: f64 = 24.0;
/// Least free strip that a leader can point at [mm].
const LEAST_FREE: f64 = 6.0;
/// Least leader [mm].
const LEADER: f64 = 14.0;

/// Names the parts.
pub(super) fn note(sheet: &mut Sheet, side: &Side, line: &[Vector], tab_hole: f64) {
    let trace = sheet.trace();
    let (sin, _) = math::sin_cos(side.wrist.to_radians());
    let sizes = &side.sizes;
    let hole = sizes.tab_hole(tab_hole);
    let pad = hole - sizes.hole_to_pad - sizes.pad_length / 2.0;
    // The free part behind the tab, or the strip's end face where the tab leaves none.
    let behind = hole - sizes.hole_to_pad - sizes.pad_length;
    let strip = if behind - sizes.strip_end > LEAST_FREE {
        sizes.on_forearm(f64::midpoint(behind, sizes.strip_end), sizes.strip_height)
    } else {
        sizes.on_forearm(sizes.strip_end, sizes.strip_height - PILE / 2.0)
    };
    let tab = sizes.on_forearm(pad, sizes.strip_height + 4.0);
    let pull = along(line, 0.6);
    let top = [
        (Part::Line, pull, pull.x - 60.0 * sin.max(0.0)),
        (Part::Tab, tab, tab.x),
        (Part::Strip, strip, strip.x),
    ];
    row(sheet, &trace, &top, 1.0);
    let back = |place: f64| -sizes.half_hand(place) - sizes.thickness;
    let middle = sizes.cuff_edge + (sizes.cuff_end - sizes.cuff_edge) * 0.55;
    let cuff = side.on_hand(middle, back(middle));
    let [near, far] = sizes.forearm_straps();
    let crease = sizes.on_forearm(0.0, -sizes.half_wrist);
    let band = sizes.on_forearm(far, -sizes.half_forearm);
    let sheet_middle = -sizes.half_forearm - sizes.thickness / 2.0;
    let piece = sizes.on_forearm(f64::midpoint(near, far), sheet_middle);
    let bottom = [
        (Part::Cuff, cuff, cuff.x + 40.0 * sin.max(0.0)),
        (Part::Crease, crease, crease.x),
        (Part::ForearmPiece, piece, piece.x),
        (Part::Strap, band, band.x),
    ];
    row(sheet, &trace, &bottom, -1.0);
}

/// Sets labels from the fingers toward the elbow, over (`sign` +1) or under (−1) what is drawn,
/// each at its wished place or as far from its neighbour as its words need. All but the first,
/// which may belong to a raised hand, stand on one line.
fn row(sheet: &mut Sheet, trace: &[Vector], wanted: &[(Part, Vector, f64)], sign: f64) {
    let anchor = if sign > 0.0 {
        Anchor::Above
    } else {
        Anchor::Below
    };
    let mut limit = f64::MAX;
    let mut places = Vec::with_capacity(wanted.len());
    for &(_, to, wish) in wanted {
        let x = wish.min(limit);
        limit = x - APART;
        let clear = trace
            .iter()
            .filter(|point| (point.x - x).abs() <= APART / 2.0)
            .fold(to.y * sign, |most, point| most.max(point.y * sign));
        places.push(at(x, clear + LEADER));
    }
    let rest = places
        .iter()
        .skip(1)
        .fold(f64::MIN, |most, place| most.max(place.y));
    for (&(part, to, _), place) in wanted.iter().zip(&places) {
        let near = (place.y - rest).abs() < SAME_LINE;
        let y = if near || place.y < rest {
            place.y.max(rest)
        } else {
            place.y
        };
        sheet.note(part, at(place.x, y * sign), to, anchor);
    }
}
