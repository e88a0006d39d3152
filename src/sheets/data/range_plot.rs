//! The plot of one direction's ranges over time, as fractions of its frame.

use jiff::civil::Date;
use serde::Serialize;

use super::plot::Tick;
use crate::calc::progress::{detectable_change, points};
use crate::case::{Case, Direction};
use crate::sheets::wording::{day_of_year, degrees, round, short_day};
use crate::units::Angle;

/// Room left and right of the first and last day, as a fraction of the frame's width.
const MARGIN: f64 = 0.04;
/// Angles are ticked this far apart.
const TICK: f64 = 20.0;
/// Two days closer than this share one date under the axis.
const NEAREST_DATES: f64 = 0.26;
/// Two names beside the frame stand at least this far apart, as a fraction of its height.
const NEAREST_NAMES: f64 = 0.1;

/// A level that runs across the plot, with what it is.
pub(super) struct Known {
    /// `goal`, `other_side`, `activities` or `tasks`.
    pub(super) kind: &'static str,
    pub(super) angle: Angle,
    /// The source's number in brackets, or nothing.
    pub(super) source: String,
}

/// The ranges of one direction over time.
#[derive(Debug, Serialize)]
pub(super) struct RangePlot {
    alt: String,
    direction: &'static str,
    y_ticks: Vec<Tick>,
    x_ticks: Vec<Tick>,
    /// The outline of the measuring error round the passive range.
    band: Vec<[f64; 2]>,
    passive: Vec<[f64; 2]>,
    active: Vec<[f64; 2]>,
    levels: Vec<Level>,
    names: Vec<Name>,
    /// Where wear began.
    #[serde(skip_serializing_if = "Option::is_none")]
    worn_from: Option<f64>,
}

#[derive(Debug, Serialize)]
struct Level {
    kind: &'static str,
    at: f64,
}

/// The name of a line, beside the plot's right end.
#[derive(Debug, Serialize)]
struct Name {
    kind: &'static str,
    value: String,
    source: String,
    /// The height of the line's end.
    from: f64,
    /// The height of the name, moved aside where names would meet.
    at: f64,
}

/// The plot of one direction, where two days can be joined.
pub(super) fn range_plot(
    case: &Case,
    direction: Direction,
    known: &[Known],
    worn_from: Option<Date>,
) -> Option<RangePlot> {
    let passive = points(case, direction);
    let active: Vec<(Date, Angle)> =
        case.ranges().filter_map(|it| Some((it.date, it.active.toward(direction)?))).collect();
    let (first, last) = (passive.first()?.0, passive.last()?.0);
    if first == last {
        return None;
    }
    let half_band = detectable_change(case.measuring_error.goniometer) / 2.0;
    let shown = known.iter().map(|it| it.angle);
    let all = passive.iter().flat_map(|it| [it.1 - half_band, it.1 + half_band]);
    let active = active.into_iter().filter(|it| it.0 >= first && it.0 <= last).collect::<Vec<_>>();
    let scale = Scale::of(first, last, all.chain(active.iter().map(|it| it.1)).chain(shown));
    let drawn = |all: &[(Date, Angle)]| all.iter().map(|it| scale.point(it.0, it.1)).collect();
    let upper = passive.iter().map(|it| scale.point(it.0, it.1 + half_band));
    let lower = passive.iter().rev().map(|it| scale.point(it.0, it.1 - half_band));
    Some(RangePlot {
        alt: alt(case, direction, &passive, &active, known, half_band),
        direction: direction.word(),
        y_ticks: scale.y_ticks(),
        x_ticks: scale.x_ticks(&passive),
        band: upper.chain(lower).collect(),
        levels: known.iter().map(|it| Level { kind: it.kind, at: scale.y(it.angle) }).collect(),
        names: names(&scale, &passive, &active, known),
        passive: drawn(&passive),
        active: drawn(&active),
        worn_from: worn_from.filter(|it| *it > first && *it < last).map(|it| scale.x(it)),
    })
}

fn names(
    scale: &Scale,
    passive: &[(Date, Angle)],
    active: &[(Date, Angle)],
    known: &[Known],
) -> Vec<Name> {
    let name = |kind, angle: Angle, source: &str| Name {
        kind,
        value: degrees(angle),
        source: source.to_owned(),
        from: scale.y(angle),
        at: scale.y(angle),
    };
    let mut names: Vec<Name> = known.iter().map(|it| name(it.kind, it.angle, &it.source)).collect();
    names.extend(passive.last().map(|it| name("passive", it.1, "")));
    names.extend(active.last().map(|it| name("active", it.1, "")));
    names.sort_by(|a, b| a.from.total_cmp(&b.from));
    keep_apart(&mut names);
    names
}

/// Moves names up where they would meet, and all back where the uppermost would leave the plot.
fn keep_apart(names: &mut [Name]) {
    for index in 1..names.len() {
        let least = names[index - 1].at + NEAREST_NAMES;
        names[index].at = names[index].at.max(least);
    }
    let mut highest = 1.0;
    for name in names.iter_mut().rev() {
        name.at = round(name.at.min(highest), 4);
        highest = name.at - NEAREST_NAMES;
    }
}

/// Days to fractions across, degrees to fractions up.
struct Scale {
    first: Date,
    days: f64,
    bottom: f64,
    top: f64,
}

impl Scale {
    fn of(first: Date, last: Date, angles: impl Iterator<Item = Angle>) -> Self {
        let (low, high) = angles
            .map(Angle::to_degrees)
            .fold((0.0, TICK), |(low, high), it| (f64::min(low, it), f64::max(high, it)));
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

    fn point(&self, day: Date, angle: Angle) -> [f64; 2] {
        [self.x(day), self.y(angle)]
    }

    fn y_ticks(&self) -> Vec<Tick> {
        let steps = ((self.top - self.bottom) / TICK).round() as i32;
        let tick = |step| {
            let angle = Angle::degrees(self.bottom + TICK * f64::from(step));
            Tick::new(self.y(angle), degrees(angle))
        };
        (0..=steps).map(tick).collect()
    }

    /// Every measured day has a tick, a date only where two would not overprint; the newest always.
    fn x_ticks(&self, days: &[(Date, Angle)]) -> Vec<Tick> {
        let mut dated = f64::INFINITY;
        let mut ticks: Vec<Tick> = Vec::new();
        for (day, _) in days.iter().rev() {
            let at = self.x(*day);
            let has_room = dated - at >= NEAREST_DATES;
            if has_room {
                dated = at;
            }
            ticks.push(Tick::new(at, if has_room { day_of_year(*day) } else { String::new() }));
        }
        ticks.reverse();
        ticks
    }
}

fn alt(
    case: &Case,
    direction: Direction,
    passive: &[(Date, Angle)],
    active: &[(Date, Angle)],
    known: &[Known],
    half_band: Angle,
) -> String {
    let way = direction.word();
    let (first, last) = (passive[0], passive[passive.len() - 1]);
    let change = last.1 - first.1;
    let moved = match change.to_degrees() {
        it if it > 0.0 => "rises",
        it if it < 0.0 => "falls",
        _ => "stays",
    };
    let is_more = change.abs() > detectable_change(case.measuring_error.goniometer);
    let than = if is_more { "more than" } else { "within" };
    let listed = |all: &[(Date, Angle)]| -> String {
        let one = |it: &(Date, Angle)| format!("{} on {}", degrees(it.1), short_day(it.0));
        all.iter().map(one).collect::<Vec<_>>().join(", ")
    };
    let mut text = format!(
        "Passive {way} over time {moved} from {} to {}, {than} the measuring error. Passive: {}.",
        degrees(first.1),
        degrees(last.1),
        listed(passive)
    );
    if !active.is_empty() {
        text += &format!(" Active: {}.", listed(active));
    }
    text += &format!(" A grey band shows {} either way of the passive range.", degrees(half_band));
    for it in known {
        let name = match it.kind {
            "goal" => "Goal",
            "other_side" => "Other side",
            "activities" => "Most activities of daily life",
            _ => "Most tasks",
        };
        text += &format!(" {name}: {}.", degrees(it.angle));
    }
    text
}
