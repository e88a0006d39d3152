//! The sizes that the drawings need, from a case and the geometry of one pull.

use super::figure::Build;
use super::geometry::Measure;
use super::pull::PullPlan;
use super::straps::orthosis_straps;
use crate::case::{Case, Pull};
use crate::units::Length;

/// Breadth of a wrist beside its depth, where no circumference was measured (an estimate, for
/// drawings only).
const WRIST_SHAPE: f64 = 1.35;

/// The sizes of one pull's drawing. Depths that were not measured are taken back from the heights
/// that were given instead.
#[must_use]
pub fn build(case: &Case, pull: &Pull, plan: &PullPlan) -> Build {
    let limb = &case.limb;
    let sheet = case.orthosis.sheet.thickness;
    let at = |measure| plan.geometry.length(measure);
    let depth =
        |given: Option<Length>, height: Measure| given.unwrap_or((at(height) - sheet) * 2.0);
    let wrist_depth = depth(limb.wrist_depth, Measure::PieceEdgeHeight);
    Build {
        hand_length: limb.hand_length,
        hand_breadth: limb.hand_breadth,
        hand_depth: depth(limb.hand_depth, Measure::HoleHeight),
        palm_depth: depth(limb.palm_depth, Measure::CuffEdgeHeight),
        wrist_depth,
        wrist_breadth: wrist_breadth(limb.wrist_circumference, wrist_depth),
        forearm_depth: depth(limb.forearm_depth, Measure::StripHeight),
        forearm_breadth: limb.forearm_breadth,
        forearm_length: limb.forearm_length,
        thickness: sheet,
        axis_past_crease: at(Measure::AxisPastCrease),
        hole_from_crease: at(Measure::HoleFromCrease),
        hole_height: at(Measure::HoleHeight),
        cuff_edge_from_crease: at(Measure::CuffEdgeFromCrease),
        cuff_edge_height: at(Measure::CuffEdgeHeight),
        cuff_end_from_crease: plan.geometry.cuff_end,
        piece_edge_from_crease: at(Measure::PieceEdgeFromCrease),
        piece_edge_height: at(Measure::PieceEdgeHeight),
        strip_start_from_crease: at(Measure::StripStartFromCrease),
        strip_length: pull.strip.length,
        strip_width: pull.strip.width,
        strip_height: at(Measure::StripHeight),
        tab_hole_to_pad: pull.tab.hole_to_pad,
        tab_pad_length: pull.tab.pad_length,
        tab_width: pull.tab.width,
        forearm_straps: orthosis_straps(case),
        wrap: case.orthosis.cut.wrap,
        gap: case.orthosis.cut.gap,
        opening: case.orthosis.cut.opening,
    }
}

/// Breadth of a round-cornered section from its girth C and depth d: C ≈ π (b + d) / 2 for an
/// ellipse, so b = 2 C/π − d; kept between the depth and twice the depth.
fn wrist_breadth(girth: Option<Length>, depth: Length) -> Length {
    let breadth = match girth {
        Some(girth) => girth * (2.0 / std::f64::consts::PI) - depth,
        None => depth * WRIST_SHAPE,
    };
    breadth.max(depth).min(depth * 2.0)
}
