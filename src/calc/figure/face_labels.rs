//! Where the words stand in the face view: a column on either side of the limb.

use super::drawing::{Anchor, Part};
use super::face::Face;
use super::face_limb::half_breadth;
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::spread::apart;

/// Room between neighbouring lines of words [mm].
const LINE_STEP: f64 = 38.0;
/// Room between the limb and the words [mm].
const MARGIN: f64 = 16.0;

/// Names the parts.
pub(super) fn note(sheet: &mut Sheet, face: &Face) {
    let sizes = &face.sizes;
    let full = half_breadth(face, sizes.elbow);
    let half_strip = sizes.strip_width / 2.0;
    let cuff = at(
        -sizes.hand_breadth / 2.0,
        f64::midpoint(sizes.cuff_edge, sizes.cuff_end),
    );
    let strand = face.hole().toward(face.exit_holes()[0], line_share(face));
    let tab = at(
        -sizes.tab_width / 2.0 + 2.0,
        face.pad_front() - sizes.pad_length * 0.5,
    );
    let strip = at(-half_strip + 2.0, sizes.free_strip(face.tab_hole));
    let piece = at(-half_breadth(face, sizes.elbow) * 0.8, sizes.elbow);
    let left = vec![
        (Part::Cuff, cuff),
        (Part::Line, strand),
        (Part::Tab, tab),
        (Part::Strip, strip),
        (Part::ForearmPiece, piece),
    ];
    let reach = full.max(sizes.hand_breadth / 2.0 + sizes.thickness) + MARGIN;
    column(sheet, left, -reach, Anchor::Left);
    let near = sizes.forearm_straps()[0];
    let mut right = vec![
        (Part::Crease, at(sizes.wrist_breadth / 2.0, 0.0)),
        (Part::Strap, at(half_breadth(face, near), near)),
    ];
    if let Some(&mark) = face.marks.first() {
        right.push((Part::Mark, at(half_strip + 4.0, mark)));
    }
    column(sheet, right, reach, Anchor::Right);
}

/// The share of a strand, from the tab, at which it is named: between crease and cuff.
fn line_share(face: &Face) -> f64 {
    let run = face.sizes.hole - face.tab_hole;
    let place = face.sizes.cuff_edge / 2.0;
    if run > 0.0 {
        ((place - face.tab_hole) / run).clamp(0.1, 0.9)
    } else {
        0.5
    }
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
