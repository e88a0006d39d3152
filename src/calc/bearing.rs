//! Pressure of a stiff piece on an even bed: direct and bending, linear along the limb.

use crate::units::{Area, Force, Length, Pressure, Torque};

/// How a piece bears over its span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bearing {
    /// N: the force across the limb, toward the pull.
    pub across: Force,
    /// M: its moment about the middle of the span, positive where it lifts the distal end toward
    /// the pull.
    pub moment: Torque,
    /// |N| / (b l).
    pub mean: Pressure,
    /// N/(b l) + 6|M|/(b l²), the highest anywhere.
    pub peak: Pressure,
    breadth: Length,
    span: Length,
}

impl Bearing {
    /// The bearing of a force and a moment over breadth b and span l.
    ///
    /// Combined direct and bending stress, σ = P/A ± M c/I of a b × l rectangle with I = b l³/12,
    /// as in any strength-of-materials handbook. The piece encloses the limb, so it bears on the
    /// side of the pull and on the other side alike.
    #[must_use]
    pub fn under(across: Force, moment: Torque, breadth: Length, span: Length) -> Self {
        let area: Area = breadth * span;
        let bending: Force = moment.abs() * 6.0 / span;
        let mean = across.abs() / area;
        let peak = (across.abs() + bending) / area;
        Self { across, moment, mean, peak, breadth, span }
    }

    /// Pressure at the proximal and at the distal end, positive where the piece presses on the side
    /// away from the pull, as one that is drawn toward the pull does.
    #[must_use]
    pub fn ends(&self) -> (Pressure, Pressure) {
        let area = self.breadth * self.span;
        let bending = self.moment * 6.0 / self.span;
        ((self.across - bending) / area, (self.across + bending) / area)
    }

    /// Breadth and span of the bed.
    #[must_use]
    pub fn bed(&self) -> (Length, Length) {
        (self.breadth, self.span)
    }
}
