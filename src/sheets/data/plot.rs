//! The plot of ranges over time, as fractions of its frame.

use jiff::civil::Date;
use serde::Serialize;

use crate::calc::progress::detectable_change;
use crate::case::{Case, Direction, Motion, Range};
use crate::sheets::wording::{degrees, round, short_day};
use crate::units::Angle;

/// Room left and right of the first and last visit, as a fraction of the frame's width.
const MARGIN: f64 = 0.08;
/// Angles are ticked this far apart.
const TICK: f64 = 20.0;
/// Two visits closer than this share one date under the axis.
const NEAREST_DATES: f64 = 0.21;

/// Two angles closer than this share one number under the axis.
const NEAREST_ANGLES: f64 = 0.1;

#[derive(Debug, Serialize)]
pub(super) struct Plot {
    alt: String,
    y_ticks: Vec<Tick>,
    x_ticks: Vec<Tick>,
    series: Vec<Series>,
}

/// A place along an axis with its number or date.
#[derive(Debug, Serialize)]
pub(super) struct Tick {
    at: f64,
    label: String,
}

impl Tick {
    pub(super) fn new(at: f64, label: String) -> Self {
        Self { at, label }
    }
}

#[derive(Debug, Serialize)]
struct Series {
    name: String,
    points: Vec<[f64; 2]>,
    /// Half the error band as a fraction of the height, for passive ranges.
    error: Option<f64>,
}

/// The plot, where there are two visits to join.
pub(super) fn plot(case: &Case) -> Option<Plot> {
    let visits: Vec<Motion> = case.ranges().cloned().collect();
    let visits = &visits;
    if visits.len() < 2 {
        return None;
    }
    let scale = Scale::of(visits);
    let error = detectable_change(case.measuring_error.goniometer);
    let half_band = error.to_degrees() / 2.0 / (scale.top - scale.bottom);
    let lines = [
        ("Passive", Direction::Flexion, Some(half_band)),
        ("Passive", Direction::Extension, Some(half_band)),
        ("Active", Direction::Flexion, None),
        ("Active", Direction::Extension, None),
    ];
    let series = lines
        .into_iter()
        .map(|(kind, direction, error)| {
            let range = |it: &Motion| pick(it, kind).toward(direction);
            let points = visits
                .iter()
                .filter_map(|it| range(it).map(|angle| [scale.x(it.date), scale.y(angle)]))
                .collect();
            Series {
                name: format!("{kind} {}", direction.word()),
                points,
                error: error.map(|it| round(it, 4)),
            }
        })
        .filter(|it: &Series| !it.points.is_empty())
        .collect();
    Some(Plot {
        alt: alt(visits),
        y_ticks: scale.y_ticks(),
        x_ticks: scale.x_ticks(visits),
        series,
    })
}

/// One line of a curve plot.
pub(super) struct Curve {
    name: &'static str,
    values: Vec<Option<f64>>,
}

impl Curve {
    /// A line of values, one for each place along the plot.
    pub(super) fn new(name: &'static str, values: Vec<Option<f64>>) -> Self {
        Self { name, values }
    }
}

/// A plot of curves over one quantity, from nothing up; nothing where no curve has two values.
pub(super) fn curve(
    title: &str,
    x: &[f64],
    x_label: impl Fn(f64) -> String,
    mut curves: Vec<Curve>,
) -> Option<Plot> {
    curves.retain(|it| it.values.iter().flatten().count() >= 2);
    let highest =
        curves.iter().flat_map(|it| it.values.iter().flatten()).copied().fold(0.0, f64::max);
    let (first, last) = (*x.first()?, *x.last()?);
    if curves.is_empty() || highest <= 0.0 || last <= first {
        return None;
    }
    let step = nice_step(highest);
    let top = (highest / step).ceil() * step;
    let across =
        |value: f64| round(MARGIN + (value - first) / (last - first) * (1.0 - 2.0 * MARGIN), 4);
    let y_ticks = (0..=(top / step).round() as i32)
        .map(|it| Tick {
            at: round(f64::from(it) * step / top, 4),
            label: (f64::from(it) * step).to_string(),
        })
        .collect();
    let mut x_ticks: Vec<Tick> = Vec::new();
    for value in x {
        let at = across(*value);
        if x_ticks.last().is_none_or(|tick| at - tick.at >= NEAREST_ANGLES) {
            x_ticks.push(Tick { at, label: x_label(*value) });
        }
    }
    let alt = curve_alt(title, x, &x_label, &curves);
    let series = curves
        .into_iter()
        .map(|it| Series {
            name: it.name.to_owned(),
            points: x
                .iter()
                .zip(&it.values)
                .filter_map(|(x, y)| y.map(|y| [across(*x), round(y / top, 4)]))
                .collect(),
            error: None,
        })
        .collect();
    Some(Plot { alt, y_ticks, x_ticks, series })
}

/// A step of 1, 2 or 5 times a power of ten that gives three to seven ticks.
pub(super) fn nice_step(highest: f64) -> f64 {
    let mut step = 0.1;
    for factor in [2.0, 2.5, 2.0].into_iter().cycle().take(30) {
        if highest / step <= 6.0 {
            break;
        }
        step *= factor;
    }
    round(step, 3)
}

fn curve_alt(title: &str, x: &[f64], x_label: &impl Fn(f64) -> String, curves: &[Curve]) -> String {
    let one = |it: &Curve| {
        let values: Vec<String> = x
            .iter()
            .zip(&it.values)
            .filter_map(|(x, y)| y.map(|y| format!("{} at {}", round(y, 1), x_label(*x))))
            .collect();
        format!("{}: {}.", it.name, values.join(", "))
    };
    let all: Vec<String> = curves.iter().map(one).collect();
    format!("{title}. {}", all.join(" "))
}

fn pick(visit: &Motion, kind: &str) -> Range {
    if kind == "Passive" { visit.passive } else { visit.active }
}

/// Days to fractions across, degrees to fractions up.
struct Scale {
    first: Date,
    days: f64,
    bottom: f64,
    top: f64,
}

impl Scale {
    fn of(visits: &[Motion]) -> Self {
        let angles = visits.iter().flat_map(|it| {
            [it.passive.flexion, it.passive.extension, it.active.flexion, it.active.extension]
        });
        let degrees: Vec<f64> = angles.flatten().map(Angle::to_degrees).collect();
        let low = degrees.iter().copied().fold(0.0, f64::min);
        let high = degrees.iter().copied().fold(TICK, f64::max);
        let (first, last) = (visits[0].date, visits[visits.len() - 1].date);
        Self {
            first,
            days: f64::from((last - first).get_days().max(1)),
            bottom: (low / TICK).floor() * TICK,
            top: (high / TICK).ceil() * TICK,
        }
    }

    fn x(&self, day: Date) -> f64 {
        let share = f64::from((day - self.first).get_days()) / self.days;
        round(MARGIN + share * (1.0 - 2.0 * MARGIN), 4)
    }

    fn y(&self, angle: Angle) -> f64 {
        round((angle.to_degrees() - self.bottom) / (self.top - self.bottom), 4)
    }

    fn y_ticks(&self) -> Vec<Tick> {
        let steps = ((self.top - self.bottom) / TICK).round() as i32;
        (0..=steps)
            .map(|step| {
                let angle = Angle::degrees(self.bottom + TICK * f64::from(step));
                Tick { at: self.y(angle), label: degrees(angle) }
            })
            .collect()
    }

    /// Dates under the axis, left out where two would overprint; the newest always stands.
    fn x_ticks(&self, visits: &[Motion]) -> Vec<Tick> {
        let mut ticks: Vec<Tick> = Vec::new();
        for visit in visits.iter().rev() {
            let at = self.x(visit.date);
            if ticks.last().is_none_or(|last| last.at - at >= NEAREST_DATES) {
                ticks.push(Tick { at, label: short_day(visit.date) });
            }
        }
        ticks.reverse();
        ticks
    }
}

fn alt(visits: &[Motion]) -> String {
    let visit = |it: &Motion| {
        let one =
            |name: &str, angle: Option<Angle>| angle.map(|a| format!("{name} {}", degrees(a)));
        let values: Vec<String> = [
            one("passive flexion", it.passive.flexion),
            one("passive extension", it.passive.extension),
            one("active flexion", it.active.flexion),
            one("active extension", it.active.extension),
        ]
        .into_iter()
        .flatten()
        .collect();
        format!("{}: {}.", short_day(it.date), values.join(", "))
    };
    let all: Vec<String> = visits.iter().map(visit).collect();
    format!("Ranges over time. {}", all.join(" "))
}
