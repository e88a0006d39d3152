//! Where things lie: the measured lengths of one pull in the frame of the mechanics.
//!
//! Origin: the wrist's flexion-extension axis. x points distally along the forearm's midline, y
//! to the side of the pull. θ is the wrist's angle toward the pull, positive past neutral.

use crate::case::{CUFF_PATH_SPREAD, Case, Pull, Size};
use crate::units::math::Real;
use crate::units::{Area, Length, Pressure};

/// Published models put the axis 4 to 10 mm past the styloid's tip; 10 mm past the crease is used
/// where it was not measured (fixed by the contract of the mechanics; an estimate).
pub const AXIS_PAST_CREASE: Length = Length::mm(10.0);
/// Height of the loops of a hook-and-loop strip (common practice, no source).
const PILE: Length = Length::mm(2.0);
/// Length of the bearing behind the elbow: about a quarter turn round it (an estimate).
const ELBOW_BEARING: Length = Length::mm(60.0);

/// The measures that the line's length depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// a: crease to axis, distally.
    AxisPastCrease,
    /// D: crease to the exit hole, along the hand's midline.
    HoleFromCrease,
    /// h: hole from the hand's midline, toward the pull.
    HoleHeight,
    /// E: crease to the cuff's proximal edge.
    CuffEdgeFromCrease,
    /// e: that edge from the hand's midline.
    CuffEdgeHeight,
    /// c: crease to the forearm piece's distal edge, proximally.
    PieceEdgeFromCrease,
    /// f: that edge from the forearm's midline.
    PieceEdgeHeight,
    /// S: crease to the strip's distal end, proximally.
    StripStartFromCrease,
    /// k: the strip's surface from the forearm's midline.
    StripHeight,
}

impl Measure {
    /// All of them, in the order they are kept.
    pub const ALL: [Self; 9] = [
        Self::AxisPastCrease,
        Self::HoleFromCrease,
        Self::HoleHeight,
        Self::CuffEdgeFromCrease,
        Self::CuffEdgeHeight,
        Self::PieceEdgeFromCrease,
        Self::PieceEdgeHeight,
        Self::StripStartFromCrease,
        Self::StripHeight,
    ];

    /// The measure in a therapist's words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::AxisPastCrease => "the axis from the crease",
            Self::HoleFromCrease => "the hole from the crease",
            Self::HoleHeight => "the hole's height from the middle of the hand",
            Self::CuffEdgeFromCrease => "the cuff's wrist edge from the crease",
            Self::CuffEdgeHeight => "the height of the cuff's wrist edge",
            Self::PieceEdgeFromCrease => "the forearm piece's edge from the crease",
            Self::PieceEdgeHeight => "the height of the forearm piece's edge",
            Self::StripStartFromCrease => "the strip's start from the crease",
            Self::StripHeight => "the strip's height from the middle of the forearm",
        }
    }
}

/// The measured lengths in mm, plain or carrying derivatives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lengths<T>([T; 9]);

impl<T: Real> Lengths<T> {
    /// One length (mm).
    pub(super) fn of(&self, measure: Measure) -> T {
        self.0[measure as usize]
    }
}

impl Lengths<f64> {
    /// The same lengths as numbers of another kind.
    pub(super) fn map<T>(&self, to: impl Fn(Measure, f64) -> T) -> Lengths<T> {
        Lengths(Measure::ALL.map(|measure| to(measure, self.0[measure as usize])))
    }
}

/// One pull's geometry with every default filled in.
#[derive(Debug, Clone, PartialEq)]
pub struct Geometry {
    pub(super) lengths: Lengths<f64>,
    errors: [Length; 9],
    /// q: tab hole to the near end of its pad.
    pub hole_to_pad: Length,
    /// p: the pad's length.
    pub pad_length: Length,
    /// W: the strip's length.
    pub strip_length: Length,
    /// Z: crease to the cuff's distal edge.
    pub cuff_end: Length,
    /// b: bearing breadth of the cuff.
    pub cuff_breadth: Length,
    /// `b_f`: bearing breadth of the forearm piece.
    pub piece_breadth: Length,
    /// `l_f`: its length along the forearm.
    pub piece_length: Length,
    /// `A_e`: bearing behind the elbow.
    pub elbow_area: Area,
    /// The tab's width.
    pub tab_width: Length,
    /// The line's diameter.
    pub line_diameter: Length,
    /// The line's Young's modulus.
    pub line_modulus: Pressure,
    /// μ: friction of the line on an edge.
    pub friction: f64,
    /// One standard deviation of w, the line used up in the cuff; nothing where it was measured, since the loop is then
    /// made to what was measured.
    pub path_error: Length,
}

impl Geometry {
    /// The geometry of one pull of a case.
    ///
    /// Heights that are not given are half the limb's depth and the sheet's thickness; the
    /// strip's adds 2 mm of pile. Standard errors: tape lengths and depths as the case says
    /// (default 3 mm and 2 mm); a height reckoned from a depth has half the depth's error.
    #[must_use]
    pub fn of(case: &Case, pull: &Pull) -> Self {
        let limb = &case.limb;
        let sheet = case.orthosis.sheet.thickness;
        let (tape, depth) = (case.measuring_error.tape, case.measuring_error.depth);
        let height = |given: Option<Length>, of: Option<Length>, above: Length| match given {
            Some(given) => (given, depth),
            None => (of.unwrap_or(Length::ZERO) / 2.0 + above, depth / 2.0),
        };
        let (cuff, piece, strip) = (&pull.cuff, &pull.forearm_piece, &pull.strip);
        // What was found at the fit comes before what was planned.
        let hole = pull.found(|it| it.hole_from_crease).unwrap_or(cuff.hole_from_crease);
        let start = pull.found(|it| it.strip_start_from_crease).unwrap_or(strip.start_from_crease);
        let hole_height = pull.found(|it| it.hole_height).or(cuff.hole_height);
        let cuff_edge = pull.found(|it| it.cuff_edge_height).or(cuff.edge_height);
        let piece_edge = pull.found(|it| it.piece_edge_height).or(piece.edge_height);
        let strip_height = pull.found(|it| it.strip_height).or(strip.height);
        let values = [
            (limb.axis_past_crease.unwrap_or(AXIS_PAST_CREASE), tape),
            (hole, tape),
            height(hole_height, limb.hand_depth, sheet),
            (cuff.edge_from_crease, tape),
            height(cuff_edge, limb.palm_depth, sheet),
            (piece.edge_from_crease, tape),
            height(piece_edge, limb.wrist_depth, sheet),
            (start, tape),
            height(strip_height, limb.forearm_depth, sheet + PILE),
        ];
        Self {
            lengths: Lengths(values.map(|(value, _)| value.to_mm())),
            errors: values.map(|(_, error)| error),
            hole_to_pad: pull.tab.hole_to_pad,
            pad_length: pull.tab.pad_length,
            strip_length: strip.length,
            cuff_end: cuff.end_from_crease,
            cuff_breadth: cuff.bearing_breadth.unwrap_or(limb.hand_breadth),
            piece_breadth: piece.bearing_breadth.unwrap_or(limb.forearm_breadth),
            piece_length: piece.length.unwrap_or(limb.forearm_length - piece.edge_from_crease),
            elbow_area: piece.elbow_area.unwrap_or(limb.forearm_breadth * ELBOW_BEARING),
            tab_width: pull.tab.width,
            line_diameter: pull.line.diameter,
            line_modulus: case.limits.line_modulus,
            friction: case.limits.friction,
            path_error: if pull.usual.contains(&Size::CuffPath) {
                CUFF_PATH_SPREAD
            } else {
                Length::ZERO
            },
        }
    }

    /// One measure.
    #[must_use]
    pub fn length(&self, measure: Measure) -> Length {
        Length::mm(self.lengths.of(measure))
    }

    /// One measure's standard error.
    #[must_use]
    pub fn error(&self, measure: Measure) -> Length {
        self.errors[measure as usize]
    }

    /// The same geometry with one measure longer by so much.
    #[must_use]
    pub fn moved(&self, measure: Measure, by: Length) -> Self {
        let lengths =
            self.lengths.map(|it, value| if it == measure { value + by.to_mm() } else { value });
        Self { lengths, ..self.clone() }
    }

    /// u at the strip's distal end: −q, the pad's front edge on the strip's end.
    #[must_use]
    pub fn first_place(&self) -> Length {
        -self.hole_to_pad
    }

    /// u at the strip's proximal end: W − q − p, the whole pad still on the strip.
    #[must_use]
    pub fn last_place(&self) -> Length {
        self.strip_length - self.hole_to_pad - self.pad_length
    }
}
