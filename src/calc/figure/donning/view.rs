//! How the donning sequence looks at the limb: square to its length, from beside it, from above it, or thumb up.
//!
//! Limb and pieces are tubes; a place on a tube's surface has a section and a turn round it: 0° on the pull side,
//! 90° toward the thumb, 180° opposite the pull, −90° toward the little finger.

use crate::calc::figure::curve::Outline;
use crate::calc::figure::plane::{Vector, at};
use crate::units::{Angle, math};

/// From where a picture is seen: where a millimetre leads on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Eye {
    /// Toward the thumb.
    pub(super) thumb: Vector,
    /// Toward the pull, upward.
    pub(super) pull: f64,
}

/// From the thumb side, a little from the pull side: the plane of the mechanics stays true.
pub(super) const BESIDE: Eye = Eye { thumb: at(-0.11, -0.42), pull: 1.0 };
/// Onto the pull side, a little from the thumb side.
pub(super) const ABOVE: Eye = Eye { thumb: at(-0.04, -0.90), pull: 0.44 };
/// Onto the pull side, a little from the little-finger side.
pub(super) const ACROSS: Eye = Eye { thumb: at(-0.04, -0.90), pull: -0.44 };
/// Onto the side opposite the pull, the thumb up, a little from above.
pub(super) const UPRIGHT: Eye = Eye { thumb: at(0.0, 0.95), pull: 0.31 };

impl Eye {
    /// A place of the mechanics' plane on the page.
    pub(super) fn page(&self, place: Vector) -> Vector {
        at(place.x, place.y * self.pull)
    }

    /// Whether it sees the pull side rather than the one opposite.
    pub(super) fn sees_pull_side(&self) -> bool {
        self.thumb.y < 0.0
    }
}

/// How far a tear swings out (mm), and how often between the skylines.
const TEAR: (f64, f64) = (2.6, 2.0);
/// Points along a quarter of a rim.
const QUARTER: f64 = 3.0;

/// One cut across a tube: an ellipse, square to the tube's course, as it lies on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Section {
    pub(super) centre: Vector,
    /// A millimetre toward the pull, and one toward the thumb.
    pub(super) up: Vector,
    pub(super) out: Vector,
    /// Square to the tube's course on the page, upward, of length one.
    pub(super) normal: Vector,
    /// From the centre to the face on the pull side, and to the face opposite (mm).
    pub(super) rise: f64,
    pub(super) fall: f64,
    /// Half the breadth, toward the thumb and away from it (mm).
    pub(super) half: f64,
}

/// A line along a tube.
#[derive(Debug, Clone, Copy)]
pub(super) enum Rim {
    /// At this turn (degrees).
    Turn(f64),
    /// The upper skyline.
    Crown,
    /// The lower skyline.
    Foot,
}

impl Section {
    /// A place on the surface, by its turn (degrees).
    pub(super) fn spot(&self, turn: f64) -> Vector {
        let (sin, cos) = math::sin_cos(Angle::degrees(turn).to_radians());
        let reach = if cos > 0.0 { self.rise } else { self.fall };
        self.centre + self.up * (reach * cos) + self.out * (self.half * sin)
    }

    /// The turn of a rim here (degrees). A skyline stands where the surface leaves sight.
    pub(super) fn turn(&self, rim: Rim) -> f64 {
        let lean = self.half * self.out.dot(self.normal);
        let lift = self.up.dot(self.normal);
        // From the other side the upper skyline lies on the face opposite the pull.
        let (over, under) =
            if lift > 0.0 { (self.rise, self.fall) } else { (self.fall, self.rise) };
        let stands = |reach: f64| Angle::radians(math::atan2(lean, reach * lift)).to_degrees();
        match rim {
            Rim::Turn(turn) => turn,
            Rim::Crown => stands(over),
            Rim::Foot => 180.0 + stands(under),
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

    /// The turns of the two edges of a gap that faces the thumb, `width` measured along the surface (degrees).
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
/// from the upper skyline round its far end to the lower one.
pub(super) fn cap(section: &Section, reach: f64) -> Vec<Vector> {
    (0..=8_u8)
        .map(|step| {
            let (up, ahead) =
                math::sin_cos(Angle::degrees(90.0 + 22.5 * f64::from(step)).to_radians());
            let way = at(ahead, up);
            let is_rise = section.up.dot(way) > 0.0;
            let axes = [
                at(reach, 0.0),
                section.up * if is_rise { section.rise } else { section.fall },
                section.out * section.half,
            ];
            let size = axes.iter().map(|it| it.dot(way) * it.dot(way)).sum::<f64>().sqrt();
            axes.iter().fold(section.centre, |sum, it| sum + *it * (it.dot(way) / size.max(1e-9)))
        })
        .collect()
}
