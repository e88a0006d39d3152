//! How the donning sequence looks at the limb: from one of its edges, a little from the pull side and from
//! the fingers.
//!
//! The plane of the mechanics stays true: lengths and angles in it are drawn as they are. What lies nearer to
//! the eye is drawn lower and farther from the fingers by [`DEPTH`]. Limb and pieces are tubes; a place on a
//! tube's surface has a section and a turn round it: 0° on the pull side, 90° nearest to the eye, 180° opposite
//! the pull, −90° farthest from the eye.

use crate::calc::figure::curve::Outline;
use crate::calc::figure::plane::{Vector, at};
use crate::units::{Angle, math};

/// Where a millimetre toward the eye leads on the page.
pub(super) const DEPTH: Vector = at(-0.11, -0.42);
/// How far a tear swings out (mm), and how often between the skylines.
const TEAR: (f64, f64) = (2.6, 2.0);
/// Points along a quarter of a rim.
const QUARTER: f64 = 3.0;

/// One cut across a tube: an ellipse, square to the tube's course and upright in depth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Section {
    pub(super) centre: Vector,
    /// Toward the pull, of length one.
    pub(super) up: Vector,
    /// From the centre to the face on the pull side, and to the face opposite (mm).
    pub(super) rise: f64,
    pub(super) fall: f64,
    /// Half the breadth, toward the eye and away from it (mm).
    pub(super) half: f64,
}

/// A line along a tube.
#[derive(Debug, Clone, Copy)]
pub(super) enum Rim {
    /// At this turn (degrees).
    Turn(f64),
    /// The skyline toward the pull.
    Crown,
    /// The skyline opposite.
    Foot,
}

impl Section {
    /// A place on the surface, by its turn (degrees).
    pub(super) fn spot(&self, turn: f64) -> Vector {
        let (sin, cos) = math::sin_cos(Angle::degrees(turn).to_radians());
        let reach = if cos > 0.0 { self.rise } else { self.fall };
        self.centre + self.up * (reach * cos) + DEPTH * (self.half * sin)
    }

    /// The turn of a rim here (degrees). A skyline stands where the surface leaves sight.
    pub(super) fn turn(&self, rim: Rim) -> f64 {
        let lean = self.half * (DEPTH.x * self.up.x + DEPTH.y * self.up.y);
        match rim {
            Rim::Turn(turn) => turn,
            Rim::Crown => Angle::radians(math::atan2(lean, self.rise)).to_degrees(),
            Rim::Foot => 180.0 + Angle::radians(math::atan2(lean, self.fall)).to_degrees(),
        }
    }

    /// The place of a rim.
    pub(super) fn rim(&self, rim: Rim) -> Vector {
        self.spot(self.turn(rim))
    }

    /// The turn at which a flat strip of half this width ends that lies on the pull side (degrees).
    pub(super) fn turn_of_width(&self, half_width: f64) -> f64 {
        let sin = (half_width / self.half.max(1e-9)).clamp(0.0, 0.98);
        Angle::radians(math::atan2(sin, (1.0 - sin * sin).sqrt())).to_degrees()
    }

    /// The turns of the two edges of a gap that faces the eye, `width` measured along the surface (degrees).
    pub(super) fn gap(&self, width: f64) -> (f64, f64) {
        let part =
            |depth: f64| Angle::radians(width / 2.0 / depth.max(1e-9)).to_degrees().min(85.0);
        (90.0 - part(self.rise), 90.0 + part(self.fall))
    }

    /// Thicker by so much all round (mm).
    pub(super) fn grown(self, by: f64) -> Self {
        Self { rise: self.rise + by, fall: self.fall + by, half: self.half + by, ..self }
    }

    /// Moved on the page.
    pub(super) fn moved(self, by: Vector) -> Self {
        Self { centre: self.centre + by, ..self }
    }

    /// Places along the rim from one turn to another, both ends included.
    pub(super) fn arc(&self, from: f64, to: f64) -> Vec<Vector> {
        let steps = ((to - from).abs() / 90.0 * QUARTER).ceil().max(1.0);
        let mut points = Vec::new();
        let mut step = 0.0;
        while step <= steps {
            points.push(self.spot(from + (to - from) * step / steps));
            step += 1.0;
        }
        points
    }
}

/// Where a picture ends within a tube: a wave along the rim, the same for skin and piece.
pub(super) fn torn(section: &Section, from: f64, to: f64) -> Vec<Vector> {
    let (swing, waves) = TEAR;
    let (crown, foot) = (section.turn(Rim::Crown), section.turn(Rim::Foot));
    let steps = ((to - from).abs() / 12.0).ceil().max(1.0);
    let mut points = Vec::new();
    let mut step = 0.0;
    while step <= steps {
        let turn = from + (to - from) * step / steps;
        let (wave, _) = math::sin_cos(
            Angle::degrees((turn - crown) / (foot - crown) * waves * 360.0).to_radians(),
        );
        points.push(section.spot(turn) + at(wave * swing, 0.0));
        step += 1.0;
    }
    points
}

/// The places of a rim along a tube.
pub(super) fn edge(run: &[Section], rim: Rim) -> Vec<Vector> {
    run.iter().map(|it| it.rim(rim)).collect()
}

/// A patch of a tube's visible face between two rims; `run` goes from the elbow toward the fingers.
pub(super) fn patch(run: &[Section], upper: Rim, lower: Rim) -> Outline {
    let (first, last) = (run[0], run[run.len() - 1]);
    let top = edge(run, upper);
    let mut outline = Outline::smooth(&top);
    outline.run(&last.arc(last.turn(upper), last.turn(lower)));
    let mut bottom = edge(run, lower);
    bottom.reverse();
    outline.run(&bottom);
    outline.run(&first.arc(first.turn(lower), first.turn(upper)));
    outline.close()
}

/// All that a tube hides: from skyline to skyline, its far end open toward the fingers.
pub(super) fn body(run: &[Section]) -> Outline {
    let (first, last) = (run[0], run[run.len() - 1]);
    let mut outline = Outline::smooth(&edge(run, Rim::Crown));
    outline.run(&last.arc(last.turn(Rim::Crown), last.turn(Rim::Foot) - 360.0));
    let mut bottom = edge(run, Rim::Foot);
    bottom.reverse();
    outline.run(&bottom);
    outline.run(&first.arc(first.turn(Rim::Foot), first.turn(Rim::Crown)));
    outline.close()
}

/// Places round an elbow's end, an ellipsoid with half axes along the limb, to both faces and toward the eye:
/// from the skyline toward the pull, round its far end, to the skyline opposite.
pub(super) fn cap(section: &Section, reach: f64) -> Vec<Vector> {
    (0..=8_u8)
        .map(|step| {
            let (up, ahead) =
                math::sin_cos(Angle::degrees(90.0 + 22.5 * f64::from(step)).to_radians());
            let depth = if up > 0.0 { section.rise } else { section.fall };
            let lean = section.half * section.half * (DEPTH.x * ahead + DEPTH.y * up);
            let across = DEPTH.x * ahead + DEPTH.y * up;
            let size = (reach * reach * ahead * ahead
                + depth * depth * up * up
                + section.half * section.half * across * across)
                .sqrt()
                .max(1e-9);
            let flat = at(reach * reach * ahead, depth * depth * up) * (1.0 / size);
            section.centre + flat + DEPTH * (lean / size)
        })
        .collect()
}
