//! Where the words stand in the side view: three over it, four under it.

use super::drawing::{Anchor, Part};
use super::plane::{Vector, along, at};
use super::sheet::Sheet;
use super::side::Side;
use super::side_limb;
use super::sizes::PILE;
use crate::units::math;

/// Room between the middles of neighbouring words (mm).
const APART: f64 = 92.0;
/// Where the line is named, as a share of its length from the cuff.
const LINE_SHARE: f64 = 0.6;
/// How far words lean away from a hand raised square (mm).
const AWAY: f64 = 55.0;
/// Height over the strip at which the tab is pointed at (mm).
const ON_TAB: f64 = 4.0;
/// Words whose lines differ by less stand on one line (mm).
const SAME_LINE: f64 = 24.0;
/// Least free strip that a leader can point at (mm).
const LEAST_FREE: f64 = 6.0;
/// Least leader (mm).
const LEADER: f64 = 14.0;

/// A part, where its leader ends, and where along the row its words would like to stand.
type Wish = (Part, Vector, f64);

/// Names the parts.
pub(super) fn note(sheet: &mut Sheet, side: &Side, line: &[Vector], tab_hole: f64) {
    let trace = sheet.trace();
    row(sheet, &trace, &over(side, line, tab_hole), 1.0);
    row(sheet, &trace, &under(side), -1.0);
}

/// What is named over the drawing, from the fingers to the elbow.
fn over(side: &Side, line: &[Vector], tab_hole: f64) -> [Wish; 3] {
    let sizes = &side.sizes;
    let front = sizes.tab_hole(tab_hole) - sizes.hole_to_pad;
    let back = front - sizes.pad_length;
    // The free part behind the tab, or the strip's end face where the tab leaves none.
    let strip = if back - sizes.strip_end > LEAST_FREE {
        sizes.on_forearm(f64::midpoint(back, sizes.strip_end), sizes.strip_height)
    } else {
        sizes.on_forearm(sizes.strip_end, sizes.strip_height - PILE / 2.0)
    };
    let tab = sizes.on_forearm(f64::midpoint(front, back), sizes.strip_height + ON_TAB);
    let pull = if line.is_empty() { side.exit_hole() } else { along(line, LINE_SHARE) };
    let lean = AWAY * raised(side);
    [(Part::Line, pull, pull.x - lean), (Part::Tab, tab, tab.x), (Part::Strip, strip, strip.x)]
}

/// What is named under the drawing, from the fingers to the elbow.
fn under(side: &Side) -> [Wish; 4] {
    let sizes = &side.sizes;
    let place = sizes.free_cuff();
    let cuff = side.on_hand(place, -sizes.half_hand(place) - sizes.thickness);
    let crease = side_limb::crease_end(side, -1.0);
    let [near, far] = sizes.forearm_straps;
    let face = -sizes.half_forearm - sizes.thickness;
    let piece = sizes.on_forearm(f64::midpoint(near, far), face);
    let band = sizes.on_forearm(far, face);
    [
        (Part::Cuff, cuff, cuff.x + AWAY * raised(side)),
        (Part::Crease, crease, crease.x),
        (Part::ForearmPiece, piece, piece.x),
        (Part::Strap, band, band.x),
    ]
}

/// How steeply the hand is raised toward the pull: 0 straight or bent away, 1 square.
fn raised(side: &Side) -> f64 {
    math::sin_cos(side.wrist.to_radians()).0.max(0.0)
}

/// Sets labels from the fingers toward the elbow, over (`sign` +1) or under (−1) what is drawn,
/// each at its wished place or as far from its neighbour as its words need. All but the first,
/// which may belong to a raised hand, stand on one line.
fn row(sheet: &mut Sheet, trace: &[Vector], wanted: &[Wish], sign: f64) {
    let anchor = if sign > 0.0 { Anchor::Above } else { Anchor::Below };
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
    let rest = places.iter().skip(1).fold(f64::MIN, |most, place| most.max(place.y));
    for (index, (&(part, to, _), place)) in wanted.iter().zip(&places).enumerate() {
        let level = index > 0 || (place.y - rest).abs() < SAME_LINE;
        let y = if level { place.y.max(rest) } else { place.y };
        sheet.note(part, at(place.x, y * sign), to, anchor);
    }
}
