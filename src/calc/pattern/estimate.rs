//! Measures that stand in for some that were not taken, or the reason why none may.
//!
//! Lines by least squares over both sexes of ANSUR II (public release of 2017: 1,986 women, 4,082 men,
//! 2010 to 2012; Gordon CC et al. 2014, NATICK/TR-15/007, report number from memory); the suite reckons
//! them again from the survey's summary. One estimate may rest on measures only: an estimate from an
//! estimate is refused. The people were adults without swelling, and so must the patient be.

use crate::case::{Case, Swelling};
use crate::units::{Length, math};

/// A measure that the pieces need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Round the wrist.
    Wrist,
    /// Round the knuckles.
    Knuckles,
    /// Round the fingers at the cuff's end.
    FingerJoints,
    /// Round the forearm at its widest.
    Forearm,
    /// Round the elbow.
    Elbow,
    /// From crease to crease round the bent elbow.
    ElbowPath,
}

/// What a stand-in rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The survey's line from the hand's breadth.
    HandBreadth,
    /// The survey's line from the girth of the knuckles.
    Knuckles,
    /// The survey's line from the girth of the wrist.
    Wrist,
    /// The survey's distance from the wrist to the back of the elbow, and half an ellipse round it.
    ForearmLength,
    /// Taken as the widest measured girth of the forearm: no survey has it.
    WidestForearm,
    /// Taken as the girth of the knuckles, which fingers laid together do not exceed.
    NoWiderThanKnuckles,
}

/// A measure that was not taken, and what stands in for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandIn {
    /// Which.
    pub measure: Measure,
    /// Its value.
    pub value: Length,
    /// Its standard error; nothing where none is known.
    pub spread: Option<Length>,
    /// What it rests on.
    pub basis: Basis,
}

/// Why nothing may stand in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// It would rest on an estimate itself: the first on the second.
    Stacked(Measure, Measure),
    /// The survey has adults only.
    NotAdult(Measure),
    /// The survey has no swollen limbs.
    Swollen(Measure),
}

impl Lack {
    /// What to measure.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Self::Stacked(measure, _) | Self::NotAdult(measure) | Self::Swollen(measure) => measure,
        }
    }
}

/// A line y = intercept + slope · x, in mm, with its standard error.
struct Line {
    intercept: f64,
    slope: f64,
    error: f64,
}

impl Line {
    fn at(&self, x: Length) -> (Length, Length) {
        (Length::mm(self.intercept + self.slope * x.to_mm()), Length::mm(self.error))
    }
}

/// Hand circumference on hand breadth, from the pooled means, deviations and their correlation.
const KNUCKLES_ON_BREADTH: Line = Line { intercept: 3.473, slope: 2.358_83, error: 4.19 };
/// Wrist circumference on hand circumference.
const WRIST_ON_KNUCKLES: Line = Line { intercept: 13.896, slope: 0.760_85, error: 5.68 };
/// Forearm circumference, flexed, on wrist circumference.
const FOREARM_ON_WRIST: Line = Line { intercept: -43.283, slope: 2.001_70, error: 14.59 };
/// Wrist to the back of the bent elbow (forearm-hand length less hand length) on radiale-stylion
/// length, from the pooled deviations and correlations.
const BACK_OF_ELBOW: Line = Line { intercept: 24.234, slope: 0.977_98, error: 6.41 };
/// The survey has nobody younger.
const ADULT: u32 = 18;
/// Where the forearm is widest, in its own lengths from the wrist; an estimate.
const WIDEST: f64 = 0.75;

/// A measured girth or what stands in for it; stand-ins are noted.
pub(super) struct Reckoner<'c> {
    case: &'c Case,
    pub(super) stand_ins: Vec<StandIn>,
}

impl<'c> Reckoner<'c> {
    pub(super) fn new(case: &'c Case) -> Self {
        Self { case, stand_ins: Vec::new() }
    }

    /// Round the knuckles; from the hand's breadth where it was not measured.
    pub(super) fn knuckles(&mut self) -> Result<Length, Lack> {
        let limb = &self.case.limb;
        match limb.knuckle_girth {
            Some(girth) => Ok(girth),
            None => self.surveyed(
                Measure::Knuckles,
                KNUCKLES_ON_BREADTH.at(limb.hand_breadth),
                Basis::HandBreadth,
            ),
        }
    }

    /// Round the wrist; from the measured girth of the knuckles where it was not measured.
    pub(super) fn wrist(&mut self) -> Result<Length, Lack> {
        let limb = &self.case.limb;
        match (limb.wrist_circumference, limb.knuckle_girth) {
            (Some(girth), _) => Ok(girth),
            (None, Some(knuckles)) => {
                self.surveyed(Measure::Wrist, WRIST_ON_KNUCKLES.at(knuckles), Basis::Knuckles)
            }
            (None, None) => Err(Lack::Stacked(Measure::Wrist, Measure::Knuckles)),
        }
    }

    /// Round the fingers at the cuff's end; no wider than the measured knuckles.
    pub(super) fn finger_joints(&mut self) -> Result<Length, Lack> {
        let limb = &self.case.limb;
        match (limb.finger_joint_girth, limb.knuckle_girth) {
            (Some(girth), _) => Ok(girth),
            (None, Some(value)) => {
                Ok(self.taken(Measure::FingerJoints, value, Basis::NoWiderThanKnuckles))
            }
            (None, None) => Err(Lack::Stacked(Measure::FingerJoints, Measure::Knuckles)),
        }
    }

    /// Girths along the forearm as (place, girth); where none was measured, the widest from the
    /// measured wrist.
    pub(super) fn forearm(&mut self) -> Result<Vec<(Length, Length)>, Lack> {
        let limb = &self.case.limb;
        if !limb.forearm_girths.is_empty() {
            return Ok(limb.forearm_girths.iter().map(|it| (it.from_crease, it.girth)).collect());
        }
        let wrist =
            limb.wrist_circumference.ok_or(Lack::Stacked(Measure::Forearm, Measure::Wrist))?;
        let place = limb.forearm_length * WIDEST;
        self.surveyed(Measure::Forearm, FOREARM_ON_WRIST.at(wrist), Basis::Wrist)
            .map(|girth| vec![(place, girth)])
    }

    /// Round the elbow; the widest measured girth of the forearm where it was not measured.
    pub(super) fn elbow(&mut self) -> Result<Length, Lack> {
        let limb = &self.case.limb;
        if let Some(girth) = limb.elbow_girth {
            return Ok(girth);
        }
        let widest = limb.forearm_girths.iter().map(|it| it.girth).reduce(Length::max);
        let widest = widest.ok_or(Lack::Stacked(Measure::Elbow, Measure::Forearm))?;
        Ok(self.taken(Measure::Elbow, widest, Basis::WidestForearm))
    }

    /// From crease to crease round the bent elbow. Where it was not measured: twice the forearm's length
    /// L and half the perimeter of an ellipse behind the elbow crease with half axes b/2 (b: the
    /// forearm's breadth) and R, how far the back of the elbow lies behind the crease:
    /// 2 L + π/2 · (3 s − √((3 R + b/2)(R + 3 b/2))), s = R + b/2 (Ramanujan's first approximation).
    pub(super) fn elbow_path(&mut self) -> Result<Length, Lack> {
        let limb = &self.case.limb;
        if let Some(path) = limb.around_elbow {
            return Ok(path);
        }
        let (back, error) = BACK_OF_ELBOW.at(limb.forearm_length);
        let reach = (back - limb.forearm_length).max(Length::ZERO);
        let half = limb.forearm_breadth / 2.0;
        let path = |reach| limb.forearm_length * 2.0 + half_ellipse(reach, half);
        // Both runs along the forearm carry the tape's error, and the same length is in the reach.
        let by_reach = (path(reach + error) - path(reach)).to_mm();
        let by_tape = self.case.measuring_error.tape.to_mm() * 2.0;
        let spread = Length::mm(math::hypot(by_reach, by_tape));
        self.surveyed(Measure::ElbowPath, (path(reach), spread), Basis::ForearmLength)
    }

    fn surveyed(
        &mut self,
        measure: Measure,
        (value, spread): (Length, Length),
        basis: Basis,
    ) -> Result<Length, Lack> {
        if self.case.patient.age < ADULT {
            return Err(Lack::NotAdult(measure));
        }
        if self.case.history.swelling == Swelling::Marked {
            return Err(Lack::Swollen(measure));
        }
        self.note(StandIn { measure, value, spread: Some(spread), basis });
        Ok(value)
    }

    fn taken(&mut self, measure: Measure, value: Length, basis: Basis) -> Length {
        self.note(StandIn { measure, value, spread: None, basis });
        value
    }

    fn note(&mut self, stand_in: StandIn) {
        if !self.stand_ins.contains(&stand_in) {
            self.stand_ins.push(stand_in);
        }
    }
}

/// Half the perimeter of an ellipse.
fn half_ellipse(one: Length, other: Length) -> Length {
    let (one, other) = (one.to_mm(), other.to_mm());
    let mean = ((3.0 * one + other) * (one + 3.0 * other)).sqrt();
    Length::mm(std::f64::consts::FRAC_PI_2 * (3.0 * (one + other) - mean))
}
