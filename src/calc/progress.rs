//! Where the wrist stands: change against measuring error, deficits, the warm-up test.

use jiff::civil::Date;

use crate::case::{Case, Direction};
use crate::units::Angle;

/// MDC95 = 1.96 · √2 · SEM ≈ 2.77 · SEM, the change that 95 of 100 stable patients stay under.
const MDC95_PER_SEM: f64 = 2.77;

/// The smallest change between two readings that is more than measuring error.
///
/// MDC95 = 2.77 · SEM (degrees).
#[must_use]
pub fn detectable_change(sem: Angle) -> Angle {
    sem * MDC95_PER_SEM
}

/// One direction's standing.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Which way.
    pub direction: Direction,
    /// First and newest passive range, with their days; the same where there is one.
    pub first: (Date, Angle),
    /// Newest.
    pub newest: (Date, Angle),
    /// The other wrist's passive range, where it was measured.
    pub other_side: Option<Angle>,
}

impl Standing {
    /// Newest less first.
    #[must_use]
    pub fn change(&self) -> Angle {
        self.newest.1 - self.first.1
    }

    /// The share of the first deficit that was won back: (newest − first) / (other side − first).
    ///
    /// Negative where range was lost, above 1 where it passes the other wrist; nothing where the other
    /// wrist was not measured or had no more to begin with (derived here).
    #[must_use]
    pub fn regained(&self) -> Option<f64> {
        let deficit = (self.other_side? - self.first.1).to_degrees();
        (deficit > 0.0).then(|| self.change().to_degrees() / deficit)
    }

    /// What the other wrist has beyond this one.
    #[must_use]
    pub fn deficit(&self) -> Option<Angle> {
        self.other_side.map(|other| other - self.newest.1)
    }
}

/// A class of orthosis that a warm-up gain may point to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// No orthosis: exercise alone.
    Exercise,
    /// A static one.
    Static,
    /// A dynamic one.
    Dynamic,
    /// A static progressive one: the class that this plan makes.
    StaticProgressive,
}

/// Gain levels of a warm-up test, as one secondary page gives them (20, 15, 10, 5 degrees), each
/// taken to the midpoints between them; the midpoints are ours.
const LEVELS: [(Class, f64, f64); 4] = [
    (Class::StaticProgressive, f64::NEG_INFINITY, 7.5),
    (Class::Dynamic, 7.5, 12.5),
    (Class::Static, 12.5, 17.5),
    (Class::Exercise, 17.5, f64::INFINITY),
];

/// The class whose level a gain lies nearest to.
#[must_use]
pub fn nearest_class(gain: Angle) -> Class {
    let gain = gain.to_degrees();
    let holds = |(_, from, to): &&(Class, f64, f64)| *from <= gain && gain < *to;
    LEVELS.iter().find(holds).map_or(Class::Exercise, |(class, _, _)| *class)
}

/// A warm-up test read with its error.
#[derive(Debug, Clone, PartialEq)]
pub struct WarmUpReading {
    /// Which way.
    pub direction: Direction,
    /// Before heat and stretch.
    pub cold: Angle,
    /// After.
    pub warm: Angle,
    /// Half the width of the error band: MDC95.
    pub error: Angle,
    /// Every class that lies within the band.
    pub classes: Vec<Class>,
}

impl WarmUpReading {
    /// Warm less cold.
    #[must_use]
    pub fn gain(&self) -> Angle {
        self.warm - self.cold
    }
}

/// The passive range toward one direction at every day it was measured, oldest first.
#[must_use]
pub fn points(case: &Case, direction: Direction) -> Vec<(Date, Angle)> {
    case.ranges().filter_map(|it| Some((it.date, it.passive.toward(direction)?))).collect()
}

/// Where each direction stands that was measured both ways or once.
#[must_use]
pub fn standings(case: &Case) -> Vec<Standing> {
    [Direction::Flexion, Direction::Extension]
        .into_iter()
        .filter_map(|direction| {
            let passive = |it: &crate::case::Motion| Some((it.date, it.passive.toward(direction)?));
            let first = case.ranges().find_map(passive)?;
            let newest = case.ranges().rev().find_map(passive)?;
            let other_side = case.ranges().rev().find_map(|it| it.other_side.toward(direction));
            Some(Standing { direction, first, newest, other_side })
        })
        .collect()
}

/// The warm-up tests, each with every class that its error band holds.
#[must_use]
pub fn warm_ups(case: &Case) -> Vec<WarmUpReading> {
    let error = detectable_change(case.measuring_error.goniometer);
    case.preconditioning
        .iter()
        .map(|test| {
            let gain = (test.warm - test.cold).to_degrees();
            let (low, high) = (gain - error.to_degrees(), gain + error.to_degrees());
            let within = |&&(_, from, to): &&(Class, f64, f64)| from <= high && low < to;
            let classes = LEVELS.iter().filter(within).map(|(class, _, _)| *class).collect();
            WarmUpReading {
                direction: test.direction,
                cold: test.cold,
                warm: test.warm,
                error,
                classes,
            }
        })
        .collect()
}
