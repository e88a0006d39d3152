//! Sizes of the made parts that a file may leave out: what is usual, and which were left out.
//!
//! All are common practice, no source. They are proposals to be held against the limb, not measures of it, so their error
//! is that of making them to plan; only the line used up in the cuff is an estimate with a spread of its own.

use super::cross::missing;
use super::fields::Notes;
use super::measures::Limb;
use super::orthosis::{Cuff, ForearmPiece, Line, Pull, Strip, Tab};
use crate::units::Length;

/// The cuff's far edge, in lengths of the hand: about level with the middle finger joints.
const CUFF_END: f64 = 0.77;
/// From the hole to the cuff's far edge.
const HOLE_FROM_END: Length = Length::mm(8.0);
/// Usual width of the strip.
const STRIP_WIDTH: Length = Length::mm(50.0);
/// One standard deviation of the line used up in a cuff that was not threaded yet.
pub const CUFF_PATH_SPREAD: Length = Length::mm(10.0);

/// A size that a pull may leave out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Size {
    /// D: crease to the cuff's hole.
    Hole,
    /// E: crease to the cuff's near edge.
    CuffEdge,
    /// Z: crease to the cuff's far edge.
    CuffEnd,
    /// c: crease to the forearm piece's near edge.
    PieceEdge,
    /// S: crease to the strip's near end.
    StripStart,
    /// W: the strip's length.
    StripLength,
    /// The tab's width.
    TabWidth,
    /// p: the pad's length.
    PadLength,
    /// q: the tab's hole to its pad.
    HoleToPad,
    /// The line's diameter.
    LineDiameter,
    /// w: the line used up in the cuff and the tab's fold.
    CuffPath,
    /// t: the line left at each end.
    Tail,
}

impl Size {
    /// All of them, in the order of the file.
    pub const ALL: [Self; 12] = [
        Self::Hole,
        Self::CuffEdge,
        Self::CuffEnd,
        Self::PieceEdge,
        Self::StripStart,
        Self::StripLength,
        Self::TabWidth,
        Self::PadLength,
        Self::HoleToPad,
        Self::LineDiameter,
        Self::CuffPath,
        Self::Tail,
    ];

    /// The key within a pull.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Hole => "cuff.hole_from_crease",
            Self::CuffEdge => "cuff.edge_from_crease",
            Self::CuffEnd => "cuff.end_from_crease",
            Self::PieceEdge => "forearm_piece.edge_from_crease",
            Self::StripStart => "strip.start_from_crease",
            Self::StripLength => "strip.length",
            Self::TabWidth => "tab.width",
            Self::PadLength => "tab.pad_length",
            Self::HoleToPad => "tab.hole_to_pad",
            Self::LineDiameter => "line.diameter",
            Self::CuffPath => "line.cuff_path",
            Self::Tail => "line.tail",
        }
    }

    /// What is usual on a hand of this length.
    #[must_use]
    pub fn usual(self, hand: Length) -> Length {
        let cuff_end = Length::mm((hand.to_mm() * CUFF_END).round());
        match self {
            Self::CuffEnd => cuff_end,
            Self::Hole => cuff_end - HOLE_FROM_END,
            Self::CuffEdge => Length::mm(20.0),
            Self::PieceEdge | Self::HoleToPad => Length::mm(12.0),
            Self::StripStart => Length::mm(55.0),
            Self::StripLength => Length::mm(90.0),
            Self::TabWidth => Length::mm(25.0),
            Self::PadLength => Length::mm(30.0),
            Self::LineDiameter => Length::mm(0.9),
            Self::CuffPath => Length::mm(60.0),
            Self::Tail => Length::mm(40.0),
        }
    }
}

/// A size of a pull as the file gives it, or as it is usual; nothing where it has a fault, or hangs on one that has.
pub(super) fn length(notes: &Notes, pull: &str, name: &str) -> Option<Length> {
    let key = format!("{pull}.{name}");
    if notes.has(&key) {
        return notes.length(&key);
    }
    let size = Size::ALL.into_iter().find(|it| it.key() == name)?;
    match size {
        Size::Hole | Size::CuffEnd => Some(size.usual(notes.length("limb.hand_length")?)),
        _ => Some(size.usual(Length::ZERO)),
    }
}

/// A height that is not given needs the depth it is reckoned from.
pub(super) fn depths(notes: &Notes, pull: &str) {
    let pairs = [
        ("cuff.hole_height", "hand_depth", "the hand's depth at the holes"),
        ("cuff.edge_height", "palm_depth", "the palm's depth at the cuff's wrist edge"),
        ("forearm_piece.edge_height", "wrist_depth", "the wrist's depth"),
        ("strip.height", "forearm_depth", "the forearm's depth at the strip"),
    ];
    for (height, depth, what) in pairs {
        let depth_key = format!("limb.{depth}");
        let height_key = format!("{pull}.{height}");
        if notes.has("limb") && !notes.has(&height_key) && !notes.has(&depth_key) {
            let accepted = format!(
                "{what}, a length with its unit; or `{height_key}` instead. Nothing stands in for it: no survey has it, and \
                 every mark moves with it"
            );
            missing(notes, &depth_key, &accepted);
        }
    }
}

/// Fills in what hangs on the hand's length, and notes what the file left out.
pub(super) fn fill(pull: &mut Pull, path: &str, limb: &Limb, notes: &Notes) {
    let is_left_out = |it: &Size| !notes.has(&format!("{path}.{}", it.key()));
    pull.usual = Size::ALL.into_iter().filter(is_left_out).collect();
    if pull.usual.contains(&Size::CuffEnd) {
        pull.cuff.end_from_crease = Size::CuffEnd.usual(limb.hand_length);
    }
    if pull.usual.contains(&Size::Hole) {
        pull.cuff.hole_from_crease = Size::Hole.usual(limb.hand_length);
    }
}

/// A size that does not hang on the hand.
fn of(size: Size) -> Length {
    size.usual(Length::ZERO)
}

/// The usual cuff; hole and end are filled in once the hand is known.
pub(super) fn cuff() -> Cuff {
    Cuff {
        hole_from_crease: Length::ZERO,
        hole_height: None,
        edge_from_crease: of(Size::CuffEdge),
        edge_height: None,
        end_from_crease: Length::ZERO,
        bearing_breadth: None,
    }
}

pub(super) fn forearm_piece() -> ForearmPiece {
    ForearmPiece {
        edge_from_crease: of(Size::PieceEdge),
        edge_height: None,
        bearing_breadth: None,
        length: None,
        elbow_area: None,
    }
}

pub(super) fn strip() -> Strip {
    Strip {
        start_from_crease: of(Size::StripStart),
        length: of(Size::StripLength),
        width: STRIP_WIDTH,
        height: None,
    }
}

pub(super) fn tab() -> Tab {
    Tab {
        width: of(Size::TabWidth),
        pad_length: of(Size::PadLength),
        hole_to_pad: of(Size::HoleToPad),
    }
}

pub(super) fn line() -> Line {
    Line {
        diameter: of(Size::LineDiameter),
        strength: None,
        cuff_path: of(Size::CuffPath),
        tail: of(Size::Tail),
    }
}
