//! The chart of minutes worn beside minutes planned, as fractions of its frame.

use serde::Serialize;

use super::plot::{Tick, nice_step};
use crate::calc::course::Dose;
use crate::sheets::wording::{day_of_year, percent, round, short_day};

/// Share of an interval's width that its two bars take.
const BARS: f64 = 0.8;
/// With more intervals than this the bars carry no numbers of their own.
const NUMBERED: usize = 8;
/// So many dates stand under the axis at most.
const DATES: usize = 8;

/// Minutes planned and worn between visits.
#[derive(Debug, Serialize)]
pub(super) struct DoseChart {
    alt: String,
    y_ticks: Vec<Tick>,
    x_ticks: Vec<Tick>,
    bars: Vec<Bar>,
    /// Where no log was read.
    unlogged: Vec<f64>,
}

/// One bar, from the base line up.
#[derive(Debug, Serialize)]
struct Bar {
    worn: bool,
    from: f64,
    to: f64,
    height: f64,
    value: String,
}

/// The chart, where any log was read.
pub(super) fn dose_chart(doses: &[Dose]) -> Option<DoseChart> {
    doses.iter().find(|it| it.worn.is_some())?;
    let most = doses.iter().flat_map(|it| [it.planned, it.worn.unwrap_or_default()]).max()?;
    if most == 0 {
        return None;
    }
    let step = nice_step(f64::from(most));
    let top = (f64::from(most) / step).ceil() * step;
    let width = 1.0 / doses.len() as f64;
    let middle = |index: usize| round((index as f64 + 0.5) * width, 4);
    let bar = |index: usize, worn: bool, minutes: u32| {
        let from = round(middle(index) - if worn { 0.0 } else { width * BARS / 2.0 }, 4);
        Bar {
            worn,
            from,
            to: round(from + width * BARS / 2.0, 4),
            height: round(f64::from(minutes) / top, 4),
            value: if doses.len() <= NUMBERED { minutes.to_string() } else { String::new() },
        }
    };
    let numbered = || doses.iter().enumerate();
    let planned = numbered().map(|(index, it)| bar(index, false, it.planned));
    let worn = numbered().filter_map(|(index, it)| Some(bar(index, true, it.worn?)));
    let every = doses.len().div_ceil(DATES);
    let dated = numbered().rev().step_by(every);
    Some(DoseChart {
        alt: alt(doses),
        y_ticks: (0..=(top / step).round() as i32)
            .map(|it| f64::from(it) * step)
            .map(|it| Tick::new(round(it / top, 4), it.to_string()))
            .collect(),
        x_ticks: dated.map(|(index, it)| Tick::new(middle(index), day_of_year(it.to))).collect(),
        bars: planned.chain(worn).collect(),
        unlogged: numbered()
            .filter(|(_, it)| it.worn.is_none())
            .map(|(index, _)| round(middle(index) + width * BARS / 4.0, 4))
            .collect(),
    })
}

fn alt(doses: &[Dose]) -> String {
    let one = |it: &Dose| {
        let until = short_day(it.to);
        match (it.worn, it.adherence()) {
            (Some(worn), Some(share)) => {
                format!("up to {until} {worn} of {} minutes, {}", it.planned, percent(share))
            }
            (Some(worn), None) => format!("up to {until} {worn} minutes, none planned"),
            (None, _) => format!("up to {until} no log, {} minutes planned", it.planned),
        }
    };
    let all: Vec<String> = doses.iter().map(one).collect();
    format!("Minutes worn beside minutes planned, between visits: {}.", all.join("; "))
}
