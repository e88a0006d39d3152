//! Drawings as coordinates: full-size mm, origin at the top left, y down.

use serde::Serialize;
use serde_json::{Value, json};

use super::frame::{pull_side, side};
use crate::calc::build::build;
use crate::calc::figure::{self, Place, Step};
use crate::calc::loops::Loop;
use crate::calc::{PullPlan, line::TautLine};
use crate::case::{Case, Direction, Pull, Side};
use crate::sheets::wording::round;
use crate::units::Length;

/// The drawings of one pull.
#[derive(Debug, Serialize)]
pub(super) struct Figures {
    side: Drawing,
    plan: Drawing,
}

#[derive(Debug, Serialize)]
struct Drawing {
    alt: String,
    width: f64,
    height: f64,
    /// What encloses the shapes, names left out.
    #[serde(rename = "box")]
    enclosure: Enclosure,
    shapes: Vec<Shape>,
    labels: Vec<Label>,
}

#[derive(Debug, Serialize)]
struct Enclosure {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

#[derive(Debug, Serialize)]
struct Shape {
    part: &'static str,
    closed: bool,
    path: Vec<Value>,
}

#[derive(Debug, Serialize)]
struct Label {
    part: &'static str,
    at: [f64; 2],
    to: [f64; 2],
    anchor: &'static str,
}

impl Figures {
    /// The drawings with the wrist at today's range and the tab at today's mark of the first loop.
    pub(super) fn of(case: &Case, pull: &Pull, plan: &PullPlan) -> Self {
        let sizes = build(case, pull, plan);
        let looks = match pull.direction {
            Direction::Flexion => figure::Pull::Palm,
            Direction::Extension => figure::Pull::Back,
        };
        let mirrored = is_mirrored(case.patient.side, pull.direction);
        let (angle, hole, line) = plan.marks().next().map_or_else(
            || {
                let hole = plan.geometry.first_place();
                (plan.rest, hole, TautLine::at(&plan.geometry, plan.rest, hole))
            },
            |mark| (mark.angle, mark.hole, mark.line.clone()),
        );
        let corners: Vec<figure::Point> =
            line.corners().iter().map(|it| figure::Point { x: it.x, y: it.y }).collect();
        let places: Vec<Length> = plan.loops.first().map(mark_places).unwrap_or_default();
        let side_view = figure::side_view(&sizes, looks, angle, &corners, hole, mirrored);
        let face_view = figure::face_view(&sizes, looks, hole, &places, mirrored);
        Self {
            side: Drawing::of(&side_view, alt("seen from the thumb side", case, pull.direction)),
            plan: Drawing::of(&face_view, alt("seen from the front", case, pull.direction)),
        }
    }
}

fn mark_places(made: &Loop) -> Vec<Length> {
    made.marks.iter().map(|mark| mark.place).collect()
}

/// Whether the drawings are the mirror image of a right hand that is pulled toward its palm.
///
/// Seen from the thumb side with the pull side up, the fingers of a right hand point right for a
/// palm pull; the other side or the other pull turns that round, both together turn it back.
fn is_mirrored(side: Side, direction: Direction) -> bool {
    (side == Side::Left) != (direction == Direction::Extension)
}

fn alt(view: &str, case: &Case, direction: Direction) -> String {
    format!(
        "Drawing of the {} forearm and hand in the orthosis, {view}: the cuff on the hand, the \
         forearm piece round the elbow, and the line from the cuff to the tab on the strip, on \
         the {} side.",
        side(case.patient.side),
        pull_side(direction)
    )
}

impl Drawing {
    fn of(drawing: &figure::Drawing, alt: String) -> Self {
        let shapes = drawing.shapes.iter().map(|shape| Shape {
            part: shape.part.key(),
            closed: shape.closed,
            path: shape.path.iter().map(step).collect(),
        });
        let labels = drawing.labels.iter().map(|label| Label {
            part: label.part.key(),
            at: place(label.at),
            to: place(label.to),
            anchor: label.anchor.key(),
        });
        Self {
            alt,
            width: coordinate(drawing.width),
            height: coordinate(drawing.height),
            enclosure: enclosure(drawing),
            shapes: shapes.collect(),
            labels: labels.collect(),
        }
    }
}

fn enclosure(drawing: &figure::Drawing) -> Enclosure {
    let steps = drawing.shapes.iter().flat_map(|shape| &shape.path);
    let places: Vec<Place> = steps
        .flat_map(|step| match *step {
            Step::Move(to) | Step::Line(to) => [to; 3],
            Step::Curve(first, second, to) => [first, second, to],
        })
        .collect();
    let least = |of: fn(&Place) -> Length| places.iter().map(of).reduce(Length::min);
    let most = |of: fn(&Place) -> Length| places.iter().map(of).reduce(Length::max);
    let or_edge = |it: Option<Length>, edge| coordinate(it.unwrap_or(edge));
    Enclosure {
        left: or_edge(least(|it| it.x), Length::ZERO),
        right: or_edge(most(|it| it.x), drawing.width),
        top: or_edge(least(|it| it.y), Length::ZERO),
        bottom: or_edge(most(|it| it.y), drawing.height),
    }
}

fn step(step: &Step) -> Value {
    match step {
        Step::Move(to) => json!(["m", coordinate(to.x), coordinate(to.y)]),
        Step::Line(to) => json!(["l", coordinate(to.x), coordinate(to.y)]),
        Step::Curve(first, second, to) => json!([
            "c",
            coordinate(first.x),
            coordinate(first.y),
            coordinate(second.x),
            coordinate(second.y),
            coordinate(to.x),
            coordinate(to.y)
        ]),
    }
}

fn place(place: Place) -> [f64; 2] {
    [coordinate(place.x), coordinate(place.y)]
}

/// A thousandth of a millimetre is far below what a printer shows.
fn coordinate(length: Length) -> f64 {
    round(length.to_mm(), 3)
}
