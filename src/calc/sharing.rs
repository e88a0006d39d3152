//! Two pulls in one orthosis: whose turn it is.

use crate::units::Angle;

/// How the sessions of a day are shared between two pulls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Share {
    /// So many a day for the first pull and so many for the second.
    EachDay(u32, u32),
    /// One session a day, turn about: so many days of the first in every so many days.
    Turns(u32, u32),
}

/// Shares sessions between two pulls by how far each still has to go.
///
/// times · d₁/(d₁ + d₂) for the first, rounded, at least one for each where there are two or more
/// (largest remainder). With one session a day the pulls take turns over three days: two days for
/// the one that has further to go, or turn about where neither has half as much again to go (ours;
/// no source).
#[must_use]
pub fn share(times: u32, first: Angle, second: Angle) -> Share {
    let whole = first + second;
    let part = if whole > Angle::ZERO { first / whole } else { 0.5 };
    if times >= 2 {
        let own = ((f64::from(times) * part).round() as u32).clamp(1, times - 1);
        return Share::EachDay(own, times - own);
    }
    if part >= 0.6 {
        Share::Turns(2, 3)
    } else if part <= 0.4 {
        Share::Turns(1, 3)
    } else {
        Share::Turns(1, 2)
    }
}
