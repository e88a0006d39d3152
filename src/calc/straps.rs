//! Where the straps lie: two on the hand, two on the forearm.
//!
//! Places are middles, from the wrist crease: those of the hand distally, those of the forearm
//! toward the elbow. All proportions are common practice, no source.

use crate::case::{Case, Pull, STRAP_WIDTH};
use crate::units::Length;

/// The share of a short cuff's length that each of its two straps may take.
const CUFF_SHARE: f64 = 0.32;
/// What the thumb's root and the tongues' own edges take of the way from the cuff's edge to the web.
const THUMB_ROOM: Length = Length::mm(25.0);
/// No strap of the hand is made narrower (common practice, no source).
const NARROWEST: Length = Length::mm(12.0);
/// Least room between strap and edge, and between two straps of the cuff.
const ROOM: Length = Length::mm(6.0);
/// How far the tab's folded end stands past its hole (common practice, no source).
pub const PAST_HOLE: Length = Length::mm(6.0);
/// The web between thumb and index finger, in hand lengths from the crease; an estimate.
pub const WEB: f64 = 0.43;

/// The two straps that close the cuff.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CuffStraps {
    /// Width of each.
    pub width: Length,
    /// Middle of the one at the snuffbox.
    pub wrist: Length,
    /// Middle of the one through the web of the thumb.
    pub web: Length,
}

/// The straps of a cuff: the one at its edge near the wrist, and the one whose near edge lies in the
/// web of the thumb, as far as the cuff reaches. A short cuff or a small
/// hand has narrower straps, so that the thumb's root stays free.
#[must_use]
pub fn cuff_straps(hand_length: Length, edge: Length, end: Length) -> CuffStraps {
    let beside_thumb = (hand_length * WEB - edge - THUMB_ROOM).max(NARROWEST);
    let width = STRAP_WIDTH.min((end - edge) * CUFF_SHARE).min(beside_thumb).max(Length::ZERO);
    let wrist = edge + width / 2.0 + ROOM / 2.0;
    let web = (hand_length * WEB + width / 2.0)
        .min(end - width / 2.0 - ROOM)
        .max(wrist + width + ROOM)
        .min(end - width / 2.0);
    CuffStraps { width, wrist, web }
}

/// The straps of a case's forearm piece: as the case says or, where it says nothing, clear of the strips
/// of all its pulls.
#[must_use]
pub fn orthosis_straps(case: &Case) -> [Length; 2] {
    let pulls = &case.orthosis.pulls;
    let most = |of: fn(&Pull) -> Length| pulls.iter().map(of).fold(Length::ZERO, Length::max);
    let least = |of: fn(&Pull) -> Length| pulls.iter().map(of).reduce(Length::min);
    case.orthosis.cut.forearm_straps.unwrap_or_else(|| {
        forearm_straps(
            most(|it| it.forearm_piece.edge_from_crease),
            least(|it| it.strip.start_from_crease).unwrap_or_default(),
            most(|it| it.strip.start_from_crease + it.strip.length),
            case.limb.forearm_length,
        )
    })
}

/// The straps of the forearm piece: one between its edge and the strip, one between the strip and the
/// elbow.
#[must_use]
pub fn forearm_straps(
    piece_edge: Length,
    strip_start: Length,
    strip_end: Length,
    elbow: Length,
) -> [Length; 2] {
    let half = STRAP_WIDTH / 2.0 + ROOM / 2.0;
    let near = ((piece_edge + strip_start) / 2.0).max(piece_edge + half);
    let far = ((strip_end + elbow) / 2.0).max(near + half * 2.0);
    let far = far.min(elbow - STRAP_WIDTH / 2.0);
    [near, far]
}
