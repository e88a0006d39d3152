//! A flat piece: its outline, what is marked on it, and its dimensions.

use super::outline::{Extent, Outline, Spot};
use crate::case::Direction;
use crate::units::{Area, Length};

/// Which piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// The piece round the elbow.
    ForearmPiece,
    /// The hand cuff.
    Cuff,
}

impl Kind {
    /// Its name in data and words.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::ForearmPiece => "forearm_piece",
            Self::Cuff => "cuff",
        }
    }
}

/// A piece as it is cut from the sheet, its outer face up, for the patient's own side.
///
/// Page sense: x along the piece's long side, y down. The forearm piece begins at x = 0 with its
/// palm end, its middle line at y = 0. The cuff has the line where it folds round the hand at x = 0 and its finger
/// end at y = 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Which.
    pub kind: Kind,
    /// The pulls that it serves.
    pub pulls: Vec<Direction>,
    /// What the scissors follow.
    pub outline: Outline,
    /// An opening that is cut out too: the thumb's.
    pub opening: Option<Outline>,
    /// What is marked on it, in painting order.
    pub details: Vec<Detail>,
    /// Holes for the line.
    pub holes: Vec<Hole>,
    /// Straps that close it.
    pub straps: Vec<Strap>,
    /// Whether the edge draws back for the thumb's root, or the thumb has an opening.
    pub clears_thumb: bool,
    /// What lies under each strip.
    pub beds: Vec<Bed>,
    /// Dimensions that a drawing shows.
    pub dimensions: Vec<Dimension>,
    /// Its width at places along it, for the words beside the drawing.
    pub widths: Vec<Width>,
}

/// Something marked on a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Detail {
    /// What it is.
    pub mark: Mark,
    /// Where it is; a line where it is not closed.
    pub outline: Outline,
}

/// What a detail is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Where the piece bends: a line.
    Fold,
    /// The middle of a face: a line.
    Midline,
    /// The free lane of line and tab.
    Lane,
    /// The strip of loop.
    Strip,
    /// A strap across a face that carries no strip.
    Strap,
    /// A short dot of hook under a strap's end.
    Dot,
    /// Where a strap's end is fixed on a tongue.
    Tongue,
    /// Along the piece, an arrow.
    Grain,
}

/// A hole punched for the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Its middle.
    pub at: Spot,
    /// On which face.
    pub face: Direction,
    /// From the wrist crease, along the hand.
    pub from_crease: Length,
    /// Its diameter.
    pub diameter: Length,
    /// From its middle to the nearest edge; negative where it lies off the piece.
    pub to_edge: Length,
}

/// A strap as it is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strap {
    /// Which.
    pub place: StrapPlace,
    /// Its middle, from the wrist crease.
    pub from_crease: Length,
    /// How many.
    pub quantity: u8,
    /// Width.
    pub width: Length,
    /// Length, as cut.
    pub length: Length,
    /// The dots under its ends, how many in all and how wide; none on tongues.
    pub dots: Option<Dots>,
}

/// The dots of hook that hold a strap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dots {
    /// How many.
    pub quantity: u8,
    /// Across the piece, beside the lane: the least of them.
    pub breadth: Length,
}

/// Which strap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StrapPlace {
    /// On the forearm, near the wrist.
    NearWrist,
    /// On the forearm, near the elbow.
    NearElbow,
    /// On the hand, at the snuffbox or opposite to it.
    HandWrist,
    /// On the hand, through the web of the thumb or opposite to it.
    HandWeb,
}

/// A dimension line between two places, set off from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dimension {
    /// From.
    pub from: Spot,
    /// To.
    pub to: Spot,
}

/// The piece under a pull's strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// Whose strip.
    pub pull: Direction,
    /// The piece's width where it is narrowest there.
    pub narrowest: Length,
}

/// A width of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Width {
    /// From the wrist crease.
    pub from_crease: Length,
    /// Across the piece there.
    pub width: Length,
    /// The limb's girth there.
    pub girth: Length,
}

impl Piece {
    /// Length along the long side, and across it.
    #[must_use]
    pub fn extent(&self) -> Extent {
        self.outline.extent()
    }

    /// The sheet it uses: what its outline encloses, less its opening.
    #[must_use]
    pub fn area(&self) -> Area {
        let opening = self.opening.as_ref().map_or(Area::ZERO, Outline::area);
        self.outline.area() - opening
    }

    /// The same piece for the other side of the body: its mirror image. The forearm piece is its own, as
    /// both its edges are alike.
    pub(super) fn turned(self) -> Self {
        let flip = |outline: &Outline| outline.mirrored();
        let spot = |it: Spot| Spot { x: -it.x, y: it.y };
        Self {
            outline: flip(&self.outline),
            opening: self.opening.as_ref().map(flip),
            details: self
                .details
                .iter()
                .map(|it| Detail { mark: it.mark, outline: flip(&it.outline) })
                .collect(),
            holes: self.holes.iter().map(|it| Hole { at: spot(it.at), ..*it }).collect(),
            dimensions: self
                .dimensions
                .iter()
                .map(|it| Dimension { from: spot(it.from), to: spot(it.to) })
                .collect(),
            ..self
        }
    }
}
