//! The flat pieces that the bench cuts: outlines, marks, straps, and how they lie on the sheet.
//!
//! Reckoned from the limb's measures alone, so that a pattern stands before the first loop is made.
//! A pattern is a start: the paper is held to the limb before the sheet is cut, and the warm piece is
//! trimmed on the patient.

mod cuff;
mod estimate;
mod forearm;
mod girths;
mod lane;
mod nest;
mod outline;
mod piece;

pub use estimate::{Basis, Lack, Measure, StandIn};
pub use lane::Lane;
pub use nest::{Lie, SheetUse};
pub use outline::{Extent, Outline, Spot};
pub use piece::{Bed, Detail, Dimension, Dots, Hole, Kind, Mark, Piece, Strap, StrapPlace, Width};

use crate::case::{Case, Direction, Pull};
use crate::units::Length;
use estimate::Reckoner;

/// The pattern of a case.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// The pieces that could be drawn, the forearm piece first.
    pub pieces: Vec<Piece>,
    /// Those that could not, and why.
    pub refused: Vec<Refusal>,
    /// Measures that were not taken, and what stands in for them.
    pub stand_ins: Vec<StandIn>,
    /// How the pieces lie on the clinic's sheet.
    pub sheet: SheetUse,
}

/// A piece that is not drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// Which.
    pub kind: Kind,
    /// The pulls that it would serve.
    pub pulls: Vec<Direction>,
    /// What is missing, at least one.
    pub lacks: Vec<Lack>,
}

/// Draws the pieces of a case. Pulls that ask for the same piece share it.
#[must_use]
pub fn pattern(case: &Case) -> Pattern {
    let mut pieces = Vec::new();
    let mut refused = Vec::new();
    let mut stand_ins = Vec::new();
    let mut file =
        |kind: Kind, pulls: &[&Pull], drawn: Result<Piece, Vec<Lack>>, used: Reckoner<'_>| {
            match drawn {
                Ok(piece) => {
                    pieces.push(piece);
                    // What stands in for a piece that is not drawn stands for nothing.
                    let new = used.stand_ins.into_iter().filter(|it| !stand_ins.contains(it));
                    let new: Vec<StandIn> = new.collect();
                    stand_ins.extend(new);
                }
                Err(lacks) => {
                    let pulls = pulls.iter().map(|it| it.direction).collect();
                    refused.push(Refusal { kind, pulls, lacks });
                }
            }
        };
    let edge = |it: &Pull| it.forearm_piece.edge_from_crease;
    for pulls in alike(case, |one, other| is_same(edge(one), edge(other))) {
        let mut reckoner = Reckoner::new(case);
        let drawn = forearm::forearm_piece(case, &pulls, &mut reckoner);
        file(Kind::ForearmPiece, &pulls, drawn, reckoner);
    }
    let has_same_edges = |one: &Pull, other: &Pull| {
        is_same(one.cuff.edge_from_crease, other.cuff.edge_from_crease)
            && is_same(one.cuff.end_from_crease, other.cuff.end_from_crease)
    };
    for pulls in alike(case, has_same_edges) {
        let mut reckoner = Reckoner::new(case);
        let drawn = cuff::cuff(case, &pulls, &mut reckoner);
        file(Kind::Cuff, &pulls, drawn, reckoner);
    }
    let sheet = nest::nest(case.orthosis.sheet, &pieces);
    Pattern { pieces, refused, stand_ins, sheet }
}

/// Whether two lengths are one, however they were written.
fn is_same(one: Length, other: Length) -> bool {
    (one - other).abs() < Length::mm(0.05)
}

/// The pulls in groups that share a piece, in file order.
fn alike(case: &Case, is_alike: impl Fn(&Pull, &Pull) -> bool) -> Vec<Vec<&Pull>> {
    let mut groups: Vec<Vec<&Pull>> = Vec::new();
    for pull in &case.orthosis.pulls {
        match groups.iter_mut().find(|group| is_alike(group[0], pull)) {
            Some(group) => group.push(pull),
            None => groups.push(vec![pull]),
        }
    }
    groups
}
