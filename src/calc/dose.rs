//! How long to wear it: steps, weeks and totals.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::case::Wear;

/// Days with one and the same session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// Days, both included.
    pub days: u32,
    /// Minutes of one session.
    pub minutes: u32,
    /// Sessions a day.
    pub times: u32,
}

impl Step {
    /// Minutes a day.
    #[must_use]
    pub fn daily_minutes(&self) -> u32 {
        self.minutes * self.times
    }
}

/// One week of the course.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Week {
    /// Its number, from 1.
    pub number: u32,
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// Minutes planned in it.
    pub minutes: u32,
    /// Minutes planned up to its end.
    pub total_minutes: u32,
}

/// The wear plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WearPlan {
    /// Steps, first to last.
    pub steps: Vec<Step>,
    /// Weeks, first to last.
    pub weeks: Vec<Week>,
}

impl WearPlan {
    /// Minutes planned from a day on until another, which is not counted.
    #[must_use]
    pub fn minutes_between(&self, from: Date, to: Date) -> u32 {
        let days = |step: &Step| {
            let first = step.from.max(from);
            let end = after(step.to, 1).min(to);
            (end - first).get_days().max(0) as u32
        };
        self.steps.iter().map(|it| days(it) * it.daily_minutes()).sum()
    }
}

/// Days on which no minutes are added, because the stretch is eased.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    /// First day.
    pub from: Date,
    /// The day on which it is over; nothing while it goes on.
    pub until: Option<Date>,
}

impl Hold {
    fn holds(&self, day: Date) -> bool {
        self.from <= day && self.until.is_none_or(|until| day < until)
    }
}

/// Steps and weeks of a course that starts on `first`, as the patient is told it.
///
/// Minutes grow by `step` each `days_per_step` days from the start to the longest session; times
/// a day = min(start.times, ⌊daily limit / minutes⌋), at least 1, and no more than
/// `longest.times` at the longest session. A day that is held has the session of the day before it and
/// does not count for growing; the course's last day stays. A week's minutes add up its days, whichever step each
/// lies in. Steps are taken only while skin and pain allow; the papers say so.
#[must_use]
pub fn wear_plan(wear: &Wear, first: Date, holds: &[Hold]) -> WearPlan {
    let mut grown = 0;
    let days: Vec<(u32, u32)> = (0..wear.weeks * DAYS)
        .map(|day| {
            let date = after(first, day);
            if day > 0 && !holds.iter().any(|it| it.holds(date)) {
                grown += 1;
            }
            session_on(wear, grown)
        })
        .collect();
    WearPlan { steps: steps(&days, first), weeks: weeks(&days, first) }
}

/// Days in a week.
const DAYS: u32 = 7;

/// Minutes and times on a day of growing, counted from 0.
fn session_on(wear: &Wear, day: u32) -> (u32, u32) {
    let grown = wear.start.minutes + wear.step * (day / wear.days_per_step);
    let minutes = grown.min(wear.longest.minutes);
    let most = if minutes == wear.longest.minutes && minutes > wear.start.minutes {
        wear.start.times.min(wear.longest.times)
    } else {
        wear.start.times
    };
    (minutes, most.min(wear.daily_limit / minutes).max(1))
}

fn steps(days: &[(u32, u32)], first: Date) -> Vec<Step> {
    let mut start = 0;
    days.chunk_by(|one, next| one == next)
        .map(|same| {
            let count = same.len() as u32;
            let (minutes, times) = same[0];
            let from = after(first, start);
            start += count;
            Step { from, to: after(first, start - 1), days: count, minutes, times }
        })
        .collect()
}

fn weeks(days: &[(u32, u32)], first: Date) -> Vec<Week> {
    let mut total_minutes = 0;
    days.chunks(DAYS as usize)
        .zip(1..)
        .map(|(week, number)| {
            let minutes = week.iter().map(|(minutes, times)| minutes * times).sum();
            total_minutes += minutes;
            let from = after(first, (number - 1) * DAYS);
            Week { number, from, to: after(from, DAYS - 1), minutes, total_minutes }
        })
        .collect()
}

/// A day so many days on; the last day there is where the calendar ends.
#[must_use]
pub fn after(day: Date, days: u32) -> Date {
    day.saturating_add(i64::from(days).days())
}
