//! Drawings as coordinates: full-size mm, origin at the top left, y down.

use kurbo::PathEl;
use serde::Serialize;

use super::frame::pull_side;
use super::shapes::{Shape, Shapes};
use crate::calc::build::build;
use crate::calc::figure::{self, Place, Step};
use crate::calc::free_body::{self, FreeBody, Kind};
use crate::calc::line::Point;
use crate::calc::line::TautLine;
use crate::calc::load::Load;
use crate::calc::loops::{Loop, Mark};
use crate::calc::pull::PullPlan;
use crate::case::{Case, Direction, Pull, Side};
use crate::sheets::wording::{degrees, fixed, newtons, round};
use crate::units::Length;

/// The drawings of one pull.
#[derive(Debug, Serialize)]
pub(super) struct Drawings {
    side: Drawing,
    plan: Drawing,
}

#[derive(Debug, Serialize)]
pub(super) struct Drawing {
    pub(super) alt: String,
    pub(super) width: f64,
    pub(super) height: f64,
    /// What encloses the shapes, names left out.
    #[serde(rename = "box")]
    pub(super) enclosure: Enclosure,
    pub(super) shapes: Shapes,
    pub(super) labels: Vec<Label>,
}

#[derive(Debug, Serialize)]
pub(super) struct Enclosure {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct Label {
    pub(super) part: &'static str,
    pub(super) at: [f64; 2],
    pub(super) to: [f64; 2],
    pub(super) anchor: &'static str,
    /// The words themselves, where they are not the part's name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) text: Option<String>,
    /// Degrees by which the words are turned, where they are.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) turn: Option<u16>,
}

impl Drawings {
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
        let places: Vec<Length> =
            plan.loops.first().map(|it| mark_places(plan, it)).unwrap_or_default();
        let side_view = figure::side_view(&sizes, looks, angle, &corners, hole, mirrored);
        let face_view = figure::face_view(&sizes, looks, hole, &places, mirrored);
        Self {
            side: Drawing::of(&side_view, alt("seen from the thumb side", case, pull.direction)),
            plan: Drawing::of(&face_view, alt("looking onto the {onto}", case, pull.direction)),
        }
    }
}

fn mark_places(plan: &PullPlan, made: &Loop) -> Vec<Length> {
    made.marks.iter().filter(|mark| plan.is_given_out(mark)).map(|mark| mark.place).collect()
}

/// One drawing of a sequence, with the name of its caption.
#[derive(Debug, Serialize)]
pub(super) struct Panel {
    caption_key: &'static str,
    figure: Drawing,
}

/// How loops are made at the bench, drawn step by step; `folds` tells how often the doubled line is folded on each gauge.
/// Folded more than once it has no drawing, and the words beside its gauge tell how.
pub(super) fn crimp(folds: &[u32]) -> Vec<Panel> {
    let panel = |it: figure::Panel| Panel {
        caption_key: it.key,
        figure: Drawing::of(&it.figure, crimp_alt(it.key)),
    };
    let mut panels: Vec<_> = figure::crimp_sequence();
    panels.retain(|it| match it.key {
        "gauge" => folds.contains(&0),
        "gauge_folded" => folds.contains(&1),
        _ => true,
    });
    // The tab is made before the line is threaded through it.
    panels.sort_by_key(|it| it.key != "tab");
    panels.into_iter().map(panel).collect()
}

fn crimp_alt(key: &str) -> String {
    let shown = match key {
        "gauge" => {
            "the line lies folded in half on the gauge, its fold on one end line, and both strands \
             are marked at the other end line."
        }
        "gauge_folded" => {
            "the line lies on the gauge, folded in half with its fold on one end line; the doubled line \
             goes round the other end line and back, and both strands are marked at the first end line."
        }
        "thread" => {
            "the line runs through the hole of the hand cuff and the hole of the tab, and its marked \
             ends come toward each other."
        }
        "sleeve" => {
            "one end of the line goes through the crimp sleeve from the left, the other from the \
             right; both are drawn on until their marks meet at the sleeve."
        }
        "squeeze" => {
            "the crimp sleeve is pressed in two places, and at each end of it a tail of line is left \
             standing."
        }
        _ => {
            "hook material flat with its fold line; then folded, the end lying double, with a hole \
             through both layers and the pad with its hooks beyond; then the same from the side."
        }
    };
    format!("Drawing from the bench: {shown}")
}

/// The free bodies of one mark, with what they show.
#[derive(Debug, Serialize)]
pub(super) struct Body {
    heading: String,
    figure: Drawing,
}

/// The free bodies at today's range and at the goal, to one scale; none without a torque.
pub(super) fn bodies(pull: &PullPlan) -> Vec<Body> {
    let marks: Vec<_> = pull.marks().filter_map(|it| Some((it, pull.load(it)?))).collect();
    let (Some(first), Some(last)) = (marks.first(), marks.last()) else { return Vec::new() };
    let ends = if first.0.number == last.0.number { vec![first] } else { vec![first, last] };
    let loads: Vec<Load> = ends.iter().map(|(_, load)| *load).collect();
    let scale = free_body::scale(&loads);
    let one = |(mark, load): &&(&Mark, Load)| {
        let body = free_body::free_body(&pull.geometry, &mark.line, mark.angle, *load, scale);
        Body { heading: degrees(mark.angle), figure: body_drawing(&body) }
    };
    ends.iter().map(one).collect()
}

/// A free body on its page: strokes turned to y down and moved into the frame.
fn body_drawing(body: &FreeBody) -> Drawing {
    let all: Vec<Point> = body.strokes.iter().flat_map(|it| it.corners.clone()).collect();
    let least = |of: fn(&Point) -> f64| all.iter().map(of).fold(f64::INFINITY, f64::min);
    let most = |of: fn(&Point) -> f64| all.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    let (left, right) = (least(|it| it.x.to_mm()), most(|it| it.x.to_mm()));
    let (bottom, top) = (least(|it| it.y.to_mm()), most(|it| it.y.to_mm()));
    let page = |it: &Point| [round(it.x.to_mm() - left, 2), round(top - it.y.to_mm(), 2)];
    let shapes = body.strokes.iter().map(|it| Shape {
        part: kind_key(it.kind),
        closed: it.kind == Kind::Pressure,
        path: it
            .corners
            .iter()
            .enumerate()
            .map(|(index, corner)| {
                let at = kurbo::Point::from(<(f64, f64)>::from(page(corner)));
                if index == 0 { PathEl::MoveTo(at) } else { PathEl::LineTo(at) }
            })
            .collect(),
    });
    Drawing {
        alt: body_alt(body),
        width: round(right - left, 2),
        height: round(top - bottom, 2),
        enclosure: Enclosure {
            left: 0.0,
            right: round(right - left, 2),
            top: 0.0,
            bottom: round(top - bottom, 2),
        },
        shapes: shapes.collect(),
        labels: body_labels(body, &page, round(top - bottom, 2)),
    }
}

fn kind_key(kind: Kind) -> &'static str {
    match kind {
        Kind::Bone => "bone",
        Kind::Span => "span",
        Kind::Line => "string",
        Kind::Pull => "force",
        Kind::Across | Kind::Joint => "component",
        Kind::Elbow => "reaction",
        Kind::Pressure => "pressure",
    }
}

/// Names and sizes: forces above, pressures and the elbow's push below.
fn body_labels(body: &FreeBody, page: &impl Fn(&Point) -> [f64; 2], height: f64) -> Vec<Label> {
    let load = &body.load;
    let label = |kind: Kind, corner: usize, above: bool, text: String| {
        let stroke = body.strokes.iter().rfind(|it| it.kind == kind)?;
        let to = page(stroke.corners.get(corner)?);
        let at = [to[0], if above { -6.0 } else { height + 6.0 }];
        let anchor = if above { "above" } else { "below" };
        Some(Label { part: kind_key(kind), at, to, anchor, text: Some(text), turn: None })
    };
    [
        label(Kind::Pull, 1, true, format!("pull {} N", newtons(load.tension))),
        label(Kind::Across, 1, true, format!("across {} N", newtons(load.across))),
        label(Kind::Joint, 1, false, format!("presses the joint {} N", newtons(load.joint))),
        label(Kind::Elbow, 0, true, format!("elbow {} kPa", fixed(load.elbow.to_kpa(), 1))),
    ]
    .into_iter()
    .flatten()
    .chain(pressure_labels(body, page, height))
    .collect()
}

fn pressure_labels(body: &FreeBody, page: &impl Fn(&Point) -> [f64; 2], height: f64) -> Vec<Label> {
    let outlines: Vec<_> = body.strokes.iter().filter(|it| it.kind == Kind::Pressure).collect();
    let names = [("cuff", body.load.cuff.peak), ("forearm", body.load.forearm.peak)];
    outlines
        .iter()
        .zip(names)
        .map(|(outline, (name, peak))| {
            let to = page(&outline.corners[2]);
            let text = format!("{name} up to {} kPa", fixed(peak.to_kpa(), 1));
            let at = [to[0], height + 6.0];
            Label { part: "pressure", at, to, anchor: "below", text: Some(text), turn: None }
        })
        .collect()
}

fn body_alt(body: &FreeBody) -> String {
    let load = &body.load;
    format!(
        "Free bodies of hand and forearm at {}: the line pulls with {} N, of which {} N lie across the \
         hand and {} N press the joint; peak pressure {} kPa under the cuff, {} kPa under the \
         forearm piece, {} kPa behind the elbow.",
        degrees(body.angle),
        newtons(load.tension),
        newtons(load.across),
        newtons(load.joint),
        fixed(load.cuff.peak.to_kpa(), 1),
        fixed(load.forearm.peak.to_kpa(), 1),
        fixed(load.elbow.to_kpa(), 1)
    )
}

/// Whether the drawings are the mirror image of a right hand that is pulled toward its palm.
///
/// Seen from the thumb side with the pull side up, the fingers of a right hand point right for a
/// palm pull; the other side or the other pull turns that round, both together turn it back.
fn is_mirrored(side: Side, direction: Direction) -> bool {
    (side == Side::Left) != (direction == Direction::Extension)
}

fn alt(view: &str, case: &Case, direction: Direction) -> String {
    let (onto, bent) = match direction {
        Direction::Flexion => ("palm", "toward the palm"),
        Direction::Extension => ("back of the hand", "toward the back of the hand"),
    };
    format!(
        "Drawing of the {} forearm and hand in the splint, {}: the cuff on the hand, the forearm piece \
         round the elbow with its straps, and the line from the cuff to the tab on the strip, on the \
         {} side, pulling the hand {bent}.",
        case.patient.side.word(),
        view.replace("{onto}", onto),
        pull_side(direction)
    )
}

impl Drawing {
    pub(super) fn of(drawing: &figure::Drawing, alt: String) -> Self {
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
            text: None,
            turn: None,
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

fn step(step: &Step) -> PathEl {
    let point = |it: Place| kurbo::Point::new(it.x.to_mm(), it.y.to_mm());
    match *step {
        Step::Move(to) => PathEl::MoveTo(point(to)),
        Step::Line(to) => PathEl::LineTo(point(to)),
        Step::Curve(first, second, to) => PathEl::CurveTo(point(first), point(second), point(to)),
    }
}

fn place(place: Place) -> [f64; 2] {
    [coordinate(place.x), coordinate(place.y)]
}

/// A thousandth of a millimetre is far below what a printer shows.
pub(super) fn coordinate(length: Length) -> f64 {
    round(length.to_mm(), 3)
}
