//! How far marks are given out before the doctor speaks again.

use crate::case::{Case, Condition, Direction, Pull};
use crate::units::Angle;

/// Extension at which three of four healthy wrists stay below 30 mmHg in the carpal tunnel.
const WATCH_EXTENSION: Angle = Angle::degrees(32.7);
/// The same for flexion.
const WATCH_FLEXION: Angle = Angle::degrees(48.6);

/// The angle past which no mark is given out before the doctor's word: as the file says or, where
/// nerve compression is recorded, the published angle of the median nerve watch.
#[must_use]
pub fn hold(case: &Case, pull: &Pull) -> Option<Angle> {
    let recorded = case.history.conditions.contains(&Condition::NerveCompression);
    let watch = recorded.then(|| watch_angle(pull.direction));
    pull.hold.or(watch).filter(|hold| *hold < pull.goal)
}

/// The published angle of the median nerve watch.
#[must_use]
pub fn watch_angle(direction: Direction) -> Angle {
    match direction {
        Direction::Flexion => WATCH_FLEXION,
        Direction::Extension => WATCH_EXTENSION,
    }
}
