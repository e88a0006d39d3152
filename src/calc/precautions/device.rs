//! Findings from what the planned orthosis does.

use super::{Finding, Level};
use crate::calc::loops::Shortfall;
use crate::calc::pull::PullPlan;
use crate::sources::{Ground, SHERMAN};
use crate::units::{Angle, Length};

/// A reading this near to today's end range counts as taken there.
const NEAR_END: Angle = Angle::degrees(2.0);
/// Below this pull angle at the start almost all of the pull goes into the joint (ours).
const POOR_ANGLE: Angle = Angle::degrees(10.0);

pub(super) fn findings(pull: &PullPlan) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(wrong_way(pull));
    found.extend(goal_not_reached(pull));
    found.extend(torque(pull));
    found.extend(poor_angle(pull));
    found.extend(over_an_edge(pull));
    found
}

fn wrong_way(pull: &PullPlan) -> Option<Finding> {
    let wrong = pull
        .marks()
        .find(|mark| mark.line.moment_arm() <= Length::ZERO)
        .map(|mark| (mark.angle, mark.line.moment_arm()))
        .or_else(|| (pull.rest_arm <= Length::ZERO).then_some((pull.rest, pull.rest_arm)))?;
    let way = pull.direction.word();
    let text = format!(
        "At {:.0}° the line's moment arm is {:.1} mm: the line would turn the wrist the other way.",
        wrong.0.to_degrees(),
        wrong.1.to_mm()
    );
    let id = format!("moment-arm-{way}");
    Some(
        Finding::new(id, Level::Stop, "The line pulls the wrong way", Ground::Cited(&[SHERMAN]))
            .for_good()
            .because(text)
            .so("Bring the hole or the strip further from the limb toward the pull, or move the \
                 hole further out."),
    )
}

fn goal_not_reached(pull: &PullPlan) -> Option<Finding> {
    let shortfall = pull.shortfall?;
    let way = pull.direction.word();
    let (why, cure) = match shortfall {
        Shortfall::Room => (
            "the tab has too little room on the strip",
            "Make the strip longer, the tab's pad shorter, or set a nearer goal.",
        ),
        Shortfall::Edges => (
            "the pieces meet there, or the hand is bent past square",
            "Start the cuff further out, end the forearm piece further from the crease, or set a \
             nearer goal.",
        ),
        Shortfall::Lever => (
            "the line runs over the wrist's axis there and no longer bends the wrist",
            "Raise the strip or the hole, move the hole further out, or set a nearer goal.",
        ),
    };
    let text = format!(
        "No loop reaches the goal of {:.0}° of {way}; the furthest is {:.0}°, because {why}.",
        pull.goal.to_degrees(),
        pull.reachable.to_degrees()
    );
    let id = format!("goal-not-reached-{way}");
    Some(
        Finding::new(id, Level::Stop, "Goal out of reach", Ground::Reckoned).because(text).so(cure),
    )
}

/// Where most of the pull presses the joint, a better line of pull is worth a look.
fn poor_angle(pull: &PullPlan) -> Option<Finding> {
    let first = pull.marks().next()?;
    let angle = first.line.pull_angle();
    if angle >= POOR_ANGLE || first.line.moment_arm() <= Length::ZERO {
        return None;
    }
    let id = format!("pull-angle-{}", pull.direction.word());
    Some(
        Finding::new(id, Level::Caution, "Flat line of pull", Ground::Reckoned)
            .because(format!(
                "At today's range the line meets the hand at {:.0}°: {:.0} % of the pull goes along the \
                 hand into the joint.",
                angle.to_degrees(),
                first.line.axial_share() * 100.0
            ))
            .so("Raise the strip or move it: see the other lines of pull in the workings."),
    )
}

/// A line that bends over an edge rubs there.
fn over_an_edge(pull: &PullPlan) -> Option<Finding> {
    let touching: Vec<String> = pull
        .marks()
        .filter(|mark| !mark.line.touches().is_empty())
        .map(|mark| mark.number.to_string())
        .collect();
    if touching.is_empty() {
        return None;
    }
    let id = format!("line-over-edge-{}", pull.direction.word());
    Some(
        Finding::new(id, Level::Caution, "Line over an edge", Ground::Reckoned)
            .because(format!(
                "The line bends over an edge of cuff or forearm piece at mark {}: it rubs there and the \
                 tab pulls harder than the hand feels.",
                touching.join(", ")
            ))
            .so("Round and smooth that edge, or raise the hole or the strip until the line runs free."),
    )
}

fn torque(pull: &PullPlan) -> Option<Finding> {
    let way = pull.direction.word();
    let start = pull.start;
    match pull.torque.last_angle() {
        None => Some(
            Finding::new(
                format!("no-torque-{way}"),
                Level::Note,
                "Pull not measured",
                Ground::Reckoned,
            )
            .because(format!(
                "The file has no force gauge reading for {way}: tension and pressures are not reckoned."
            ))
            .so("Read the gauge at today's end range."),
        ),
        Some(last) if last + NEAR_END < start => Some(
            Finding::new(
                format!("torque-short-{way}"),
                Level::Note,
                "Pull measured short of the end",
                Ground::Reckoned,
            )
            .because(format!(
                "The last force gauge reading for {way} is at {:.0}°, today's end range is {:.0}°. \
                     The true pull there is higher than the figures shown.",
                last.to_degrees(),
                start.to_degrees()
            ))
            .so("Read the gauge at today's end range."),
        ),
        Some(_) => None,
    }
}
