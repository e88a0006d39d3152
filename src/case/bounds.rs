//! What a value can be at all. Outside lies a typing error, not a patient.
//!
//! Limb bounds are wide: about two thirds of the smallest and a quarter above the largest value
//! of the survey behind [`super::anthropometry`], so that a child's or a swollen limb passes.
//! Whether a value is odd for an adult is a remark there. Bounds of made parts are ours, from what
//! can be cut and worn (common practice, no source).

use crate::units::{Angle, Length};

/// Bounds of a length, both included, and how to measure it again.
#[derive(Debug, Clone, Copy)]
pub(super) struct LengthBounds {
    min: Length,
    max: Length,
    /// How to measure it, as a sentence.
    pub hint: &'static str,
}

impl LengthBounds {
    /// Whether a length lies within.
    pub(super) fn holds(&self, length: Length) -> bool {
        self.min <= length && length <= self.max
    }

    /// Least and most.
    pub(super) fn ends(&self) -> [Length; 2] {
        [self.min, self.max]
    }

    /// The bounds in words.
    pub(super) fn in_words(&self) -> String {
        format!("{} mm to {} mm", self.min.to_mm(), self.max.to_mm())
    }

    /// The same digits in another unit, where that alone brings the length within bounds.
    pub(super) fn other_unit(&self, read: &str) -> Option<String> {
        let end = read.find(|c: char| c.is_alphabetic())?;
        let (digits, unit) = (read[..end].trim(), read[end..].trim());
        let value: f64 = digits.parse().ok()?;
        let units =
            [("mm", Length::mm(value)), ("cm", Length::cm(value)), ("in", Length::inches(value))];
        let mut fitting = units.iter().filter(|(name, it)| *name != unit && self.holds(*it));
        let (name, _) = fitting.next()?;
        Some(format!("{digits} {name}"))
    }
}

/// Bounds of an angle, both included.
#[derive(Debug, Clone, Copy)]
pub(super) struct AngleBounds {
    /// Least.
    pub min: Angle,
    /// Most.
    pub max: Angle,
    /// How to measure it, as a sentence.
    pub hint: &'static str,
}

macro_rules! lengths {
    ($($name:ident: $min:literal to $max:literal mm, $hint:literal;)*) => {
        $(pub(super) const $name: LengthBounds =
            LengthBounds { min: Length::mm($min), max: Length::mm($max), hint: $hint };)*
    };
}

lengths! {
    HAND_LENGTH: 90.0 to 300.0 mm, "measure from the wrist crease to the tip of the middle finger";
    HAND_BREADTH: 40.0 to 135.0 mm, "measure across the knuckles, thumb left out";
    HAND_DEPTH: 10.0 to 70.0 mm, "measure palm to back with a caliper, at the level of the holes";
    PALM_DEPTH: 10.0 to 80.0 mm, "measure palm to back with a caliper, at the cuff's wrist edge";
    WRIST_DEPTH: 15.0 to 90.0 mm, "measure palm to back with a caliper, at the wrist";
    WRIST_GIRTH: 90.0 to 280.0 mm, "measure round the wrist at the crease, tape snug";
    FOREARM_DEPTH: 20.0 to 150.0 mm, "measure front to back with a caliper, where the strip will lie";
    FOREARM_BREADTH: 25.0 to 170.0 mm, "measure side to side with a caliper, where the strip will lie";
    FOREARM_LENGTH: 110.0 to 390.0 mm, "measure from the wrist crease to the elbow crease";
    AROUND_ELBOW: 200.0 to 1000.0 mm, "measure from the front crease round the elbow to the back crease, elbow at 90 degrees";
    FROM_CREASE: 0.0 to 390.0 mm, "measure from the wrist crease";
    FOREARM_GIRTH: 90.0 to 520.0 mm, "measure round the forearm, tape snug";
    ELBOW_GIRTH: 130.0 to 560.0 mm, "measure round the elbow, tape snug";
    HAND_GIRTH: 100.0 to 320.0 mm, "measure round the hand, thumb left out";
    AXIS: 0.0 to 30.0 mm, "the axis lies about 10 mm past the crease; leave the key out if in doubt";

    SHEET: 1.0 to 6.0 mm, "the sheet's thickness is printed on its packing";
    FLAT: 30.0 to 900.0 mm, "pull the loop flat and measure it from end to end";
    TAB_PLACE: 0.0 to 210.0 mm, "measure along the strip from its end nearest the hand to the tab's front edge";
    SHEET_SIDE: 100.0 to 2000.0 mm, "the sheet's size is printed on its packing";
    SHEET_MARGIN: 0.0 to 50.0 mm, "10 mm is usual";
    GAP: 3.0 to 60.0 mm, "15 mm is usual between the edges on each side of the arm";
    OPENING: 10.0 to 120.0 mm, "40 mm is usual for the cuff's open side";
    CORNER: 3.0 to 40.0 mm, "15 mm is usual";
    FINGER_ROOM: 0.0 to 30.0 mm, "6 mm is usual";
    HOLE: 20.0 to 250.0 mm, "measure from the wrist crease to the hole, along the hand";
    HEIGHT: 5.0 to 150.0 mm, "measure from the middle of the limb's thickness, toward the pull";
    CUFF_EDGE: 3.0 to 100.0 mm, "the cuff starts just past the crease, so that the wrist can bend";
    CUFF_END: 20.0 to 260.0 mm, "measure from the wrist crease to the cuff's far edge";
    BEARING: 20.0 to 200.0 mm, "give the breadth that really bears on the limb";
    PIECE_EDGE: 0.0 to 80.0 mm, "the forearm piece ends just short of the crease";
    PIECE_LENGTH: 60.0 to 390.0 mm, "measure along the forearm, from the piece's edge to the elbow crease";
    STRIP_START: 10.0 to 300.0 mm, "measure from the wrist crease toward the elbow";
    STRIP_LENGTH: 20.0 to 210.0 mm, "the strip must leave room for the tab to travel";
    STRIP_WIDTH: 10.0 to 120.0 mm, "50 mm is usual";
    TAB_WIDTH: 10.0 to 60.0 mm, "25 mm is usual";
    PAD_LENGTH: 10.0 to 150.0 mm, "the part of the tab that holds on the strip";
    HOLE_TO_PAD: 3.0 to 80.0 mm, "from the punched hole to the near end of the hook pad";
    LINE_DIAMETER: 0.2 to 3.0 mm, "the diameter is printed on the spool";
    CUFF_PATH: 0.0 to 400.0 mm, "the line used up in and round the cuff and in the tab's fold, per loop";
    TAIL: 5.0 to 200.0 mm, "the line left at each end for crimping";
    LEVER: 20.0 to 200.0 mm, "measure from the wrist's axis to where the gauge pulled";
    TAPE_ERROR: 0.5 to 15.0 mm, "3 mm is usual for a tape on a limb";
    DEPTH_ERROR: 0.5 to 15.0 mm, "2 mm is usual for a caliper on a limb";
}

/// The passive or active end range of a wrist, either way.
pub(super) const RANGE: AngleBounds = AngleBounds {
    min: Angle::degrees(-90.0),
    max: Angle::degrees(110.0),
    hint: "measure the end range again",
};
/// A goal: what a wrist can reach.
pub(super) const GOAL: AngleBounds = AngleBounds {
    min: Angle::degrees(-60.0),
    max: Angle::degrees(95.0),
    hint: "set a goal that a wrist can reach",
};
/// How far short of today's limit the wrist rests at mark 0.
pub(super) const RESERVE: AngleBounds =
    AngleBounds { min: Angle::degrees(0.0), max: Angle::degrees(20.0), hint: "5 degrees is usual" };
/// The change that a therapist still calls none.
pub(super) const PLATEAU: AngleBounds = AngleBounds {
    min: Angle::degrees(0.0),
    max: Angle::degrees(20.0),
    hint: "5 degrees is about what a goniometer tells",
};
/// The standard error of measurement of a goniometer.
pub(super) const GONIOMETER_ERROR: AngleBounds = AngleBounds {
    min: Angle::degrees(1.0),
    max: Angle::degrees(12.0),
    hint: "5 degrees is usual for one and the same rater, 6 for several",
};
