//! Where the words stand in the face view: a column on either side of the limb.

use super::drawing::{Anchor, Part};
use super::face::Face;
use super::face_arm::half_breadth;
use super::face_device::{half_piece, mark_end, strand};
use super::plane::{Vector, along, at};
use super::sheet::Sheet;
use super::spread::apart;

/// Room between neighbouring lines of words (mm).
const LINE_STEP: f64 = 38.0;
/// Room between the limb and the words (mm).
const MARGIN: f64 = 16.0;

/// How far inside a part's edge its leader ends (mm).
const INSIDE: f64 = 2.0;
/// Where between its ends a strand may be named, as shares of it.
const STRAND: (f64, f64) = (0.1, 0.9);

/// Names the parts.
pub(super) fn note(sheet: &mut Sheet, face: &Face) {
    let sizes = &face.sizes;
    let hand = sizes.hand_breadth / 2.0 + sizes.thickness;
    let reach = half_breadth(face, sizes.elbow).max(hand) + MARGIN;
    column(sheet, little_side(face), -reach, Anchor::Left);
    column(sheet, thumb_side(face), reach, Anchor::Right);
}

/// What is named beside the little finger.
fn little_side(face: &Face) -> Vec<(Part, Vector)> {
    let sizes = &face.sizes;
    let cuff = f64::midpoint(sizes.cuff_edge, sizes.cuff_end);
    let pad = f64::midpoint(face.pad_front(), face.pad_back());
    let strip = sizes.free_strip(face.tab_hole);
    let piece = half_piece(face, sizes.elbow);
    vec![
        (Part::Cuff, at(INSIDE - sizes.hand_breadth / 2.0, cuff)),
        (Part::Line, along(&strand(face, -1.0), line_share(face))),
        (Part::Tab, at(INSIDE - sizes.tab_width / 2.0, pad)),
        (Part::Strip, at(INSIDE - sizes.strip_width / 2.0, strip)),
        (Part::ForearmPiece, at(INSIDE - piece, sizes.elbow)),
    ]
}

/// What is named beside the thumb; the mark nearest the wrist stands for all.
fn thumb_side(face: &Face) -> Vec<(Part, Vector)> {
    let sizes = &face.sizes;
    let near = sizes.forearm_straps[0];
    let first = face.marks.iter().copied().reduce(f64::max);
    let mut parts = vec![
        (Part::Crease, at(sizes.wrist_breadth / 2.0, 0.0)),
        (Part::Strap, at(half_breadth(face, near), near)),
    ];
    parts.extend(first.map(|mark| (Part::Mark, mark_end(face, mark))));
    parts
}

/// The share of a strand, from the cuff, at which it is named: between crease and cuff.
fn line_share(face: &Face) -> f64 {
    let run = face.sizes.hole - face.tab_hole;
    let place = face.sizes.cuff_edge / 2.0;
    if run > 0.0 { ((face.sizes.hole - place) / run).clamp(STRAND.0, STRAND.1) } else { 0.5 }
}

/// Sets labels at one side from the fingers down, each level with its part or as near as its
/// neighbours' words allow.
fn column(sheet: &mut Sheet, mut wanted: Vec<(Part, Vector)>, x: f64, anchor: Anchor) {
    wanted.sort_by(|a, b| b.1.y.total_cmp(&a.1.y));
    let down: Vec<f64> = wanted.iter().map(|(_, to)| -to.y).collect();
    for ((part, to), y) in wanted.iter().zip(apart(&down, LINE_STEP)) {
        sheet.note(*part, at(x, -y), *to, anchor);
    }
}
