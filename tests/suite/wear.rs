//! The wear plan.

use jiff::ToSpan;
use jiff::civil::date;
use proptest::prelude::*;
use tautline::calc::dose::{Step, Week, wear_plan};
use tautline::case::{Session, Wear};

use crate::demo;

fn usual(weeks: u32) -> Wear {
    Wear {
        start: Session { minutes: 30, times: 3 },
        longest: Session { minutes: 60, times: 2 },
        step: 10,
        days_per_step: 7,
        weeks,
        daily_limit: 120,
        from: None,
    }
}

/// The defaults of the trade: half an hour three times a day at first, up to an hour, at an hour
/// twice a day, two hours a day at most (common practice, no source).
#[test]
fn defaults_are_common_practice() {
    let case = demo::case("fell-farm-two-loops");
    assert_eq!(case.wear, usual(6));
    let steps: Vec<(u32, u32)> = demo::plan("fell-farm-two-loops")
        .wear
        .steps
        .iter()
        .map(|it| (it.minutes, it.times))
        .collect();
    assert_eq!(steps, [(30, 3), (40, 3), (50, 2), (60, 2)]);
}

/// The contract's own example: four days at 90 minutes and three at 120 make a week of 720.
#[test]
fn a_week_adds_up_its_days() {
    let figures = demo::figures("quarry-bend-left-flexion");
    let week = &figures["wear"]["weeks"][0];
    assert_eq!((week["planned_min"].as_u64(), week["total_min"].as_u64()), (Some(720), Some(720)));
    let step = &figures["wear"]["steps"][0];
    let expected = serde_json::json!({
        "from": "2026-04-13", "to": "2026-04-16", "days": 4, "minutes": 30, "times": 3, "daily_min": 90
    });
    assert_eq!(step, &expected);
}

/// `longest.times` holds at the longest session alone; before it the day's limit of 120 does.
#[test]
fn a_smaller_longest_times_holds_at_the_longest_session() {
    let wear = Wear { longest: Session { minutes: 60, times: 1 }, ..usual(6) };
    let plan = wear_plan(&wear, date(2026, 4, 13), &[]);
    let steps: Vec<(u32, u32)> = plan.steps.iter().map(|it| (it.minutes, it.times)).collect();
    assert_eq!(steps, [(30, 3), (40, 3), (50, 2), (60, 1)]);
}

/// Days of a step that lie in a week, counted one by one.
fn overlap(step: &Step, week: &Week) -> u32 {
    let days = week.from.series(1.day()).take_while(|it| *it <= week.to);
    days.filter(|it| step.from <= *it && *it <= step.to).count() as u32
}

proptest! {
    #![proptest_config(demo::draws(1_000))]

    #[test]
    fn every_day_keeps_the_rule(
        start in 5..60_u32, more in 0..60_u32, times in 1..6_u32, step in 1..30_u32,
        days_per_step in 1..20_u32, weeks in 1..20_u32, limit in 60..240_u32,
    ) {
        let wear = Wear {
            start: Session { minutes: start, times },
            longest: Session { minutes: start + more, times },
            step, days_per_step, weeks, daily_limit: limit, from: None,
        };
        let plan = wear_plan(&wear, date(2026, 1, 1), &[]);
        let days: u32 = plan.steps.iter().map(|it| it.days).sum();
        prop_assert_eq!(days, weeks * 7);
        prop_assert_eq!(plan.steps[0].minutes, start);
        for step in &plan.steps {
            prop_assert!(step.minutes <= start + more);
            prop_assert!(step.times >= 1 && step.times <= times);
            prop_assert!(step.daily_minutes() <= limit || step.times == 1);
            prop_assert_eq!(step.times, times.min(limit / step.minutes).max(1));
            prop_assert_eq!(step.from.until(step.to).unwrap().get_days() + 1, step.days as i32);
        }
        for pair in plan.steps.windows(2) {
            prop_assert!(pair[0].minutes < pair[1].minutes, "sessions only grow");
            // Each step is a whole one, but for the last, which ends at the longest session.
            prop_assert!(pair[1].minutes - pair[0].minutes == step || pair[1].minutes == start + more);
            prop_assert_eq!(pair[0].days, days_per_step);
            prop_assert_eq!(pair[0].to.tomorrow().unwrap(), pair[1].from);
        }
        prop_assert_eq!(plan.weeks.len() as u32, weeks);
        for (number, week) in (1..).zip(&plan.weeks) {
            prop_assert_eq!(week.number, number);
            let days = plan.steps.iter().map(|it| overlap(it, week) * it.daily_minutes());
            prop_assert_eq!(days.sum::<u32>(), week.minutes);
        }
        let by_steps: u32 = plan.steps.iter().map(|it| it.days * it.daily_minutes()).sum();
        let by_weeks: u32 = plan.weeks.iter().map(|it| it.minutes).sum();
        prop_assert_eq!(by_steps, by_weeks);
        prop_assert_eq!(plan.weeks.last().map(|it| it.total_minutes), Some(by_weeks));
    }
}
