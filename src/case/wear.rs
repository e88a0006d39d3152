//! How long the orthosis is worn.

use jiff::civil::Date;

use super::fields::{Form, group};
use super::forms::{date, whole};

/// Minutes of a session and sessions a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Session {
    /// Minutes of one session.
    pub minutes: u32,
    /// Sessions a day.
    pub times: u32,
}

/// The wear order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wear {
    /// At first.
    pub start: Session,
    /// At most.
    pub longest: Session,
    /// Minutes added at each step.
    pub step: u32,
    /// Days between steps.
    pub days_per_step: u32,
    /// Weeks of the course.
    pub weeks: u32,
    /// Most minutes in a day.
    pub daily_limit: u32,
    /// The first day; the day the papers are for where it is not given.
    pub from: Option<Date>,
}

/// Usual first sessions (common practice, no source).
pub(super) const START: Session = Session { minutes: 30, times: 3 };
/// Usual longest sessions (common practice, no source).
pub(super) const LONGEST: Session = Session { minutes: 60, times: 2 };
/// Usual step in minutes (common practice, no source).
const STEP: u32 = 10;
/// Usual days between steps (common practice, no source).
const DAYS_PER_STEP: u32 = 7;
/// Two hours in a day are already a lot (common practice, no source).
pub(super) const DAILY_LIMIT: u32 = 120;

fn session() -> Form<Session> {
    group(|f| {
        let minutes = f.need("minutes", whole(5, 120, " of minutes"));
        let times = f.need("times", whole(1, 6, " of sessions a day"));
        Some(Session { minutes: minutes?, times: times? })
    })
}

pub(super) fn wear() -> Form<Wear> {
    group(|f| {
        let start = f.may("start", session());
        let longest = f.may("longest", session());
        let step = f.may("step", whole(1, 60, " of minutes"));
        let days_per_step = f.may("days_per_step", whole(1, 60, " of days"));
        let weeks = f.need("weeks", whole(1, 26, " of weeks"));
        let from = f.may("from", date());
        let daily_limit = f.may("daily_limit", whole(10, 240, " of minutes"));
        let start = start.unwrap_or(START);
        // Sessions that start longer than usual stay as they are where nothing else is said.
        let usual = Session { minutes: LONGEST.minutes.max(start.minutes), ..LONGEST };
        Some(Wear {
            start,
            longest: longest.unwrap_or(usual),
            step: step.unwrap_or(STEP),
            days_per_step: days_per_step.unwrap_or(DAYS_PER_STEP),
            weeks: weeks?,
            daily_limit: daily_limit.unwrap_or(DAILY_LIMIT),
            from,
        })
    })
}
