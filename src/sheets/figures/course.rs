//! The course as numbers: trend, dose, scores, what is suggested, the loop in use as made.
//!
//! What was not measured is left out, so that nothing here is null.

use serde::Serialize;

use super::round;
use crate::calc::advice::Course;
use crate::calc::advice::{Advice, Next, Reason};
use crate::calc::as_built::{AsBuilt, Basis, Checked, Origin};
use crate::calc::course::{Dose, Score, ScoreCourse};
use crate::calc::geometry::Measure;
use crate::calc::progress::{Standing, points};
use crate::calc::pull::PullPlan;
use crate::calc::trend::{Interval, plateau, trend};
use crate::case::{Case, Pull};
use crate::units::{Angle, AngleRate, Length};

#[derive(Debug, Serialize)]
pub(super) struct TrendFigures {
    readings: usize,
    visits: usize,
    first: String,
    last: String,
    pub(super) slope_deg_per_week: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) interval_deg_per_week: Option<[f64; 2]>,
    /// The wider of that and the one from the goniometer's error: the one that is printed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) wider_interval_deg_per_week: Option<[f64; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    residual_deg: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    slope_error_deg_per_week: Option<f64>,
    slope_error_by_goniometer_deg_per_week: f64,
    robust_deg_per_week: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    robust_interval_deg_per_week: Option<[f64; 2]>,
    /// Of the first deficit to the other side.
    #[serde(skip_serializing_if = "Option::is_none")]
    regained: Option<f64>,
    /// Whether the file's own rule is met.
    #[serde(skip_serializing_if = "Option::is_none")]
    plateau: Option<bool>,
}

#[derive(Debug, Serialize)]
pub(super) struct CourseFigures {
    pub(super) doses: Vec<DoseFigures>,
    scores: Vec<ScoreFigures>,
    pub(super) advice: Vec<AdviceFigures>,
}

#[derive(Debug, Serialize)]
pub(super) struct DoseFigures {
    pub(super) from: String,
    pub(super) to: String,
    pub(super) planned_min: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) worn_min: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sessions: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    adherence: Option<f64>,
}

#[derive(Debug, Serialize)]
struct ScoreFigures {
    score: &'static str,
    totals: Vec<TotalFigures>,
    change: f64,
    important: f64,
}

#[derive(Debug, Serialize)]
struct TotalFigures {
    date: String,
    total: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct AdviceFigures {
    pub(super) pull: &'static str,
    pub(super) next: &'static str,
    pub(super) reasons: Vec<&'static str>,
    /// What is spoken over with the doctor beside it.
    pub(super) ask: Vec<&'static str>,
    /// What points elsewhere, though it does not decide.
    pub(super) yet: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
pub(super) struct AsBuiltFigures {
    #[serde(rename = "loop")]
    number: u32,
    from: String,
    flat_mm: f64,
    given_line_mm: f64,
    line_mm: f64,
    line_error_mm: f64,
    bench_error_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    refitted: Option<RefitFigures>,
    /// What the marks go by: all places, those not doubted, or the length alone.
    marks_by: &'static str,
    points: Vec<PointFigures>,
}

#[derive(Debug, Serialize)]
struct RefitFigures {
    measure: &'static str,
    by_mm: f64,
    error_mm: f64,
}

#[derive(Debug, Serialize)]
struct PointFigures {
    angle_deg: f64,
    place_mm: f64,
    residual_mm: f64,
    off_plan_mm: f64,
    planned_spread_mm: f64,
    /// Where the place is doubted.
    #[serde(skip_serializing_if = "Option::is_none")]
    measure_again: Option<&'static str>,
}

fn degrees(angle: Angle) -> f64 {
    round(angle.to_degrees(), 2)
}

fn millimetres(length: Length) -> f64 {
    round(length.to_mm(), 3)
}

fn rate(rate: AngleRate) -> f64 {
    round(rate.to_degrees_per_week(), 4)
}

/// The trend of one direction; nothing before the first visit or with one day.
pub(super) fn trend_figures(case: &Case, standing: &Standing) -> Option<TrendFigures> {
    case.visits.first()?;
    let points = points(case, standing.direction);
    let it = trend(&points)?;
    let ends = |it: Interval| [rate(it.low), rate(it.high)];
    Some(TrendFigures {
        readings: it.points,
        visits: it.visits,
        first: it.first.to_string(),
        last: it.last.to_string(),
        slope_deg_per_week: rate(it.slope),
        interval_deg_per_week: it.interval.map(ends),
        wider_interval_deg_per_week: it.wider_interval(case.measuring_error.goniometer).map(ends),
        residual_deg: it.scatter.map(|it| degrees(it.residual)),
        slope_error_deg_per_week: it.scatter.map(|it| rate(it.slope_error)),
        slope_error_by_goniometer_deg_per_week: rate(
            it.slope_error_by(case.measuring_error.goniometer),
        ),
        robust_deg_per_week: rate(it.robust.slope),
        robust_interval_deg_per_week: it.robust.interval.map(ends),
        regained: standing.regained().map(|it| round(it, 4)),
        plateau: case.plateau.and_then(|rule| plateau(&points, rule.weeks, rule.degrees)),
    })
}

pub(super) fn course_figures(course: &Course) -> CourseFigures {
    CourseFigures {
        doses: course.doses.iter().map(dose).collect(),
        scores: course.scores.iter().map(score).collect(),
        advice: course.advice.iter().map(advice).collect(),
    }
}

fn dose(dose: &Dose) -> DoseFigures {
    DoseFigures {
        from: dose.from.to_string(),
        to: dose.to.to_string(),
        planned_min: dose.planned,
        worn_min: dose.worn,
        sessions: dose.sessions,
        adherence: dose.adherence().map(|it| round(it, 4)),
    }
}

fn score(course: &ScoreCourse) -> ScoreFigures {
    let total = |(date, total): &(jiff::civil::Date, f64)| TotalFigures {
        date: date.to_string(),
        total: round(*total, 2),
    };
    ScoreFigures {
        score: match course.score {
            Score::Dash => "dash",
            Score::QuickDash => "quick_dash",
            Score::Prwe => "prwe",
        },
        totals: course.totals.iter().map(total).collect(),
        change: round(course.change(), 2),
        important: course.score.important(),
    }
}

fn advice(advice: &Advice) -> AdviceFigures {
    AdviceFigures {
        pull: advice.pull.word(),
        next: next(advice.next),
        reasons: advice.reasons.iter().map(reason).collect(),
        ask: advice.ask.iter().map(reason).collect(),
        yet: advice.yet.iter().map(reason).collect(),
    }
}

fn next(next: Next) -> &'static str {
    match next {
        Next::ReferBack => "refer_back",
        Next::LongerLoop => "longer_loop",
        Next::MeasureAgain => "measure_again",
        Next::SetCourse => "set_course",
        Next::DoctorsWord => "doctors_word",
        Next::EaseOff => "ease_off",
        Next::AskDoctor => "ask_doctor",
        Next::Hold => "hold",
        Next::NewLoop => "new_loop",
        Next::OtherDirection => "other_direction",
        Next::GoalReached => "goal_reached",
        Next::MoveOn => "move_on",
    }
}

fn reason(reason: &Reason) -> &'static str {
    match reason {
        Reason::RangeLost { .. } => "range_lost",
        Reason::OtherWayLost { .. } => "other_way_lost",
        Reason::ActiveLost { .. } => "active_lost",
        Reason::ScoreWorse { .. } => "score_worse",
        Reason::Plateau { .. } => "plateau",
        Reason::Falling { .. } => "falling",
        Reason::WornOver { .. } => "worn_over",
        Reason::Doubted => "doubted",
        Reason::SkinBroken => "skin_broken",
        Reason::RednessStays => "redness_stays",
        Reason::PainRose { .. } => "pain_rose",
        Reason::LittleWorn { .. } => "little_worn",
        Reason::LoopEnds { .. } => "loop_ends",
        Reason::LoopTooShort { .. } => "loop_too_short",
        Reason::AtGoal => "at_goal",
        Reason::OtherIsFurther => "other_is_further",
        Reason::Stop { .. } => "stop",
        Reason::Answered { .. } => "answered_stop",
        Reason::Painful { .. } => "painful",
        Reason::TooMuchWorn => "too_much_worn",
        Reason::DoctorsWord => "doctors_word",
        Reason::NotTaken(_) => "not_taken",
        Reason::WarmUp { .. } => "warm_up",
        Reason::Looked(_) => "looked",
    }
}

/// The loop in use of one pull as it was made; nothing before one was.
pub(super) fn as_built_figures(pull: &Pull, reckoned: &PullPlan) -> Option<AsBuiltFigures> {
    let (built, fitted): (_, &AsBuilt) = (pull.in_use()?, reckoned.as_built.as_ref()?);
    Some(AsBuiltFigures {
        number: built.number,
        from: built.from.to_string(),
        flat_mm: millimetres(built.flat),
        given_line_mm: millimetres(fitted.given),
        line_mm: millimetres(fitted.line),
        line_error_mm: millimetres(fitted.line_error),
        bench_error_mm: millimetres(fitted.bench_error),
        refitted: fitted.change.map(|it| RefitFigures {
            measure: measure_key(it.measure),
            by_mm: millimetres(it.by),
            error_mm: millimetres(it.error),
        }),
        marks_by: match fitted.basis {
            Basis::All => "all",
            Basis::Trusted => "trusted",
            Basis::Length => "length",
        },
        points: fitted.points.iter().map(point).collect(),
    })
}

fn point(it: &Checked) -> PointFigures {
    let origin = match it.again {
        Origin::Measure(measure) => measure_key(measure),
        Origin::Line => "line",
        Origin::Goniometer => "angle",
        Origin::Tab => "tab",
    };
    PointFigures {
        angle_deg: degrees(it.observation.angle),
        place_mm: millimetres(it.observation.place),
        residual_mm: millimetres(it.residual),
        off_plan_mm: millimetres(it.off_plan),
        planned_spread_mm: millimetres(it.planned_spread),
        measure_again: it.is_beyond().then_some(origin),
    }
}

fn measure_key(measure: Measure) -> &'static str {
    match measure {
        Measure::AxisPastCrease => "axis_past_crease",
        Measure::HoleFromCrease => "hole_from_crease",
        Measure::HoleHeight => "hole_height",
        Measure::CuffEdgeFromCrease => "cuff_edge_from_crease",
        Measure::CuffEdgeHeight => "cuff_edge_height",
        Measure::PieceEdgeFromCrease => "piece_edge_from_crease",
        Measure::PieceEdgeHeight => "piece_edge_height",
        Measure::StripStartFromCrease => "strip_start_from_crease",
        Measure::StripHeight => "strip_height",
    }
}
