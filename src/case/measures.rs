//! What was measured: ranges over time, the warm-up test, the pull of the stiff joint, the limb.

use jiff::civil::Date;

use super::bounds;
use super::fields::{Form, filled_list, group, list};
use super::forms::{angle, choice, date, force, length};
use super::orthosis::{DIRECTIONS, Direction};
use crate::units::{Angle, Force, Length, Torque};

/// Largest force a hand-held gauge is read to here: twice what wrist trials used at 9 cm lever.
const GAUGE_MAX: Force = Force::newtons(70.0);

/// End ranges of one wrist in both directions.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Range {
    /// Toward the palm.
    pub flexion: Option<Angle>,
    /// Toward the back.
    pub extension: Option<Angle>,
}

impl Range {
    /// The end range toward one direction.
    #[must_use]
    pub fn toward(&self, direction: Direction) -> Option<Angle> {
        match direction {
            Direction::Flexion => self.flexion,
            Direction::Extension => self.extension,
        }
    }
}

/// The ranges measured on one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Motion {
    /// The day.
    pub date: Date,
    /// Passive end ranges of the treated wrist.
    pub passive: Range,
    /// Active end ranges of the treated wrist.
    pub active: Range,
    /// Passive end ranges of the other wrist.
    pub other_side: Range,
}

/// An end range before and after heat and stretch in one visit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmUp {
    /// Which way.
    pub direction: Direction,
    /// Before.
    pub cold: Angle,
    /// After.
    pub warm: Angle,
}

/// A force gauge read at an angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Which way the gauge pulled.
    pub pull: Direction,
    /// The wrist's angle then, toward the pull.
    pub angle: Angle,
    /// The gauge's force.
    pub force: Force,
    /// The gauge's distance from the wrist's axis.
    pub lever: Length,
}

impl Reading {
    /// The torque about the wrist: τ = F · lever, the gauge square to the hand.
    #[must_use]
    pub fn torque(&self) -> Torque {
        self.force * self.lever
    }
}

/// A girth at a distance from the wrist crease.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Girth {
    /// Distance from the crease, toward the elbow.
    pub from_crease: Length,
    /// The girth.
    pub girth: Length,
}

/// The limb.
#[derive(Debug, Clone, PartialEq)]
pub struct Limb {
    /// Crease to the tip of the middle finger.
    pub hand_length: Length,
    /// Across the knuckles.
    pub hand_breadth: Length,
    /// Palm to back, at the level of the holes.
    pub hand_depth: Option<Length>,
    /// Palm to back, at the cuff's wrist edge.
    pub palm_depth: Option<Length>,
    /// Palm to back at the wrist.
    pub wrist_depth: Option<Length>,
    /// Round the wrist.
    pub wrist_circumference: Option<Length>,
    /// Front to back at the strip.
    pub forearm_depth: Option<Length>,
    /// Side to side at the strip.
    pub forearm_breadth: Length,
    /// Wrist crease to elbow crease.
    pub forearm_length: Length,
    /// Tape from crease to crease round the elbow, elbow at 90 degrees.
    pub around_elbow: Option<Length>,
    /// Girths along the forearm.
    pub forearm_girths: Vec<Girth>,
    /// Round the elbow.
    pub elbow_girth: Option<Length>,
    /// Round the knuckles.
    pub knuckle_girth: Option<Length>,
    /// Round the fingers together, at the cuff's end.
    pub finger_joint_girth: Option<Length>,
    /// Crease to the wrist's axis, distally; nothing where it was not measured.
    pub axis_past_crease: Option<Length>,
}

/// Standard errors of the measures, one standard deviation each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuringError {
    /// Of a tape length.
    pub tape: Length,
    /// Of a caliper depth.
    pub depth: Length,
    /// Whether one person reads the goniometer at all visits.
    pub raters: Raters,
    /// Standard error of measurement of a goniometer reading.
    pub goniometer: Angle,
}

/// Who reads the goniometer over the course.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Raters {
    /// One and the same person.
    #[default]
    Same,
    /// Different people.
    Several,
}

impl Raters {
    /// Its word in the case file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Same => "same",
            Self::Several => "several",
        }
    }

    /// The goniometer's standard error of measurement where none is given (degrees).
    ///
    /// One rater: 5, common practice, within the published 4 to 11. Several: 6. Two observers of a wrist
    /// agreed within 10 degrees in 76 to 86 of 100 readings, against over 90 for one observer (J Hand Surg
    /// Am 2019;44:954-965, 37 patients, by eye); were the differences normal, SEM = 10 / (√2 · z) with
    /// z = 1.175 for 76 in 100 gives 6.0 (derived here).
    #[must_use]
    pub const fn goniometer(self) -> Angle {
        match self {
            Self::Same => Angle::degrees(5.0),
            Self::Several => Angle::degrees(6.0),
        }
    }
}

impl MeasuringError {
    /// What is taken where nothing is given.
    #[must_use]
    pub const fn usual(raters: Raters) -> Self {
        Self {
            tape: Length::mm(3.0),
            depth: Length::mm(2.0),
            raters,
            goniometer: raters.goniometer(),
        }
    }
}

impl Default for MeasuringError {
    fn default() -> Self {
        Self::usual(Raters::Same)
    }
}

pub(super) fn range() -> Form<Range> {
    group(|f| {
        let flexion = f.may("flexion", angle(bounds::RANGE));
        let extension = f.may("extension", angle(bounds::RANGE));
        Some(Range { flexion, extension })
    })
}

pub(super) fn motion() -> Form<Vec<Motion>> {
    filled_list("a list of at least one day, each item starting with `- date:`", visit())
}

fn visit() -> Form<Motion> {
    group(|f| {
        let date = f.need("date", date());
        let passive = f.need("passive", range());
        let active = f.may("active", range());
        let other_side = f.may("other_side", range());
        Some(Motion {
            date: date?,
            passive: passive?,
            active: active.unwrap_or_default(),
            other_side: other_side.unwrap_or_default(),
        })
    })
}

pub(super) fn warm_ups() -> Form<Vec<WarmUp>> {
    fn pair() -> Form<(Angle, Angle)> {
        group(|f| {
            let cold = f.need("cold", angle(bounds::RANGE));
            let warm = f.need("warm", angle(bounds::RANGE));
            Some((cold?, warm?))
        })
    }
    group(|f| {
        let flexion = f.may("flexion", pair()).map(|it| (Direction::Flexion, it));
        let extension = f.may("extension", pair()).map(|it| (Direction::Extension, it));
        let both = flexion.into_iter().chain(extension);
        Some(both.map(|(direction, (cold, warm))| WarmUp { direction, cold, warm }).collect())
    })
}

pub(super) fn readings() -> Form<Vec<Reading>> {
    list(group(|f| {
        let pull = f.need("pull", choice(DIRECTIONS));
        let angle = f.need("angle", angle(bounds::RANGE));
        let force = f.need("force", force(GAUGE_MAX));
        let lever = f.need("lever", length(bounds::LEVER));
        Some(Reading { pull: pull?, angle: angle?, force: force?, lever: lever? })
    }))
}

fn girth() -> Form<Girth> {
    group(|f| {
        let from_crease = f.need("from_crease", length(bounds::FROM_CREASE));
        let girth = f.need("girth", length(bounds::FOREARM_GIRTH));
        Some(Girth { from_crease: from_crease?, girth: girth? })
    })
}

pub(super) fn limb() -> Form<Limb> {
    group(|f| {
        let hand_length = f.need("hand_length", length(bounds::HAND_LENGTH));
        let hand_breadth = f.need("hand_breadth", length(bounds::HAND_BREADTH));
        let hand_depth = f.may("hand_depth", length(bounds::HAND_DEPTH));
        let palm_depth = f.may("palm_depth", length(bounds::PALM_DEPTH));
        let wrist_depth = f.may("wrist_depth", length(bounds::WRIST_DEPTH));
        let wrist_circumference = f.may("wrist_circumference", length(bounds::WRIST_GIRTH));
        let forearm_depth = f.may("forearm_depth", length(bounds::FOREARM_DEPTH));
        let forearm_breadth = f.need("forearm_breadth", length(bounds::FOREARM_BREADTH));
        let forearm_length = f.need("forearm_length", length(bounds::FOREARM_LENGTH));
        let around_elbow = f.may("around_elbow", length(bounds::AROUND_ELBOW));
        let forearm_girths = f.may("forearm_girths", list(girth()));
        let elbow_girth = f.may("elbow_girth", length(bounds::ELBOW_GIRTH));
        let knuckle_girth = f.may("knuckle_girth", length(bounds::HAND_GIRTH));
        let finger_joint_girth = f.may("finger_joint_girth", length(bounds::HAND_GIRTH));
        let axis_past_crease = f.may("axis_past_crease", length(bounds::AXIS));
        Some(Limb {
            hand_length: hand_length?,
            hand_breadth: hand_breadth?,
            hand_depth,
            palm_depth,
            wrist_depth,
            wrist_circumference,
            forearm_depth,
            forearm_breadth: forearm_breadth?,
            forearm_length: forearm_length?,
            around_elbow,
            forearm_girths: forearm_girths.unwrap_or_default(),
            elbow_girth,
            knuckle_girth,
            finger_joint_girth,
            axis_past_crease,
        })
    })
}

const RATERS: &[(&str, Raters)] = &[("same", Raters::Same), ("several", Raters::Several)];

pub(super) fn measuring_error() -> Form<MeasuringError> {
    group(|f| {
        let tape = f.may("tape", length(bounds::TAPE_ERROR));
        let depth = f.may("depth", length(bounds::DEPTH_ERROR));
        let raters = f.may("raters", choice(RATERS)).unwrap_or_default();
        let goniometer = f.may("goniometer", angle(bounds::GONIOMETER_ERROR));
        let usual = MeasuringError::usual(raters);
        Some(MeasuringError {
            raters,
            tape: tape.unwrap_or(usual.tape),
            depth: depth.unwrap_or(usual.depth),
            goniometer: goniometer.unwrap_or(usual.goniometer),
        })
    })
}
