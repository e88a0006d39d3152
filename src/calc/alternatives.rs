//! The same case with one thing built otherwise: what a better line of pull would bring, and cost.

use super::geometry::Geometry;
use super::load::load;
use super::loops::{Aim, Mark, loops};
use super::torque::TorqueCurve;
use crate::case::{Case, Pull};
use crate::units::{Angle, Force, Length, Torque};

/// One change of the build.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change {
    /// As planned.
    None,
    /// The hole level with the knuckles.
    HoleAtPalm,
    /// The hole and the cuff's end further out.
    HoleFurther(Length),
    /// The strip on a block.
    StripRaised(Length),
    /// The strip nearer to the wrist.
    StripNearer(Length),
    /// The strip further from the wrist.
    StripFarther(Length),
}

/// What a change brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// The change.
    pub change: Change,
    /// At today's range.
    pub start: Effect,
    /// At the goal, where the first loop reaches it.
    pub goal: Option<Effect>,
    /// How far the first loop reaches.
    pub reach: Angle,
    /// Strip left behind the tab at the goal; negative where another loop is needed.
    pub room: Option<Length>,
}

/// The pull at one angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// r: the moment arm.
    pub arm: Length,
    /// φ: the pull angle.
    pub pull_angle: Angle,
    /// What presses the joint together, for the measured torque or, without one, for 1 N·m.
    pub joint: Force,
    /// The pull itself, for the same torque.
    pub tension: Force,
}

/// The middle-finger knuckle lies this share of the hand's length past the crease (Buchholz B et al.
/// Ergonomics 1992;35:261-73, as other work quotes it).
const KNUCKLE: f64 = 0.446;
/// How far the hole is moved out.
const FURTHER: Length = Length::mm(20.0);
/// How far the strip is moved along the forearm.
const ALONG: Length = Length::mm(20.0);
/// Heights of a block under the strip.
const RAISED: [Length; 2] = [Length::mm(10.0), Length::mm(20.0)];

/// The plan and each change that can be built, the least press on the joint at the start first.
#[must_use]
pub(super) fn alternatives(
    case: &Case,
    pull: &Pull,
    aim: &Aim,
    torque: &TorqueCurve,
) -> Vec<Alternative> {
    // What is built otherwise needs a new loop, and what was found at the fit holds no longer.
    let aim = Aim { in_use: None, ..*aim };
    let planned = Pull { built: Vec::new(), ..pull.clone() };
    let mut all: Vec<Alternative> = changes(case, &planned)
        .into_iter()
        .filter_map(|(change, built)| reckon(case, &built, &aim, torque, change))
        .collect();
    all.sort_by(|one, other| one.start.joint.total_cmp(&other.start.joint));
    all
}

/// Each change with the pull as it would be built; those that cannot be are left out.
fn changes(case: &Case, pull: &Pull) -> Vec<(Change, Pull)> {
    let mut all = vec![(Change::None, pull.clone())];
    let palm = case.limb.hand_length * KNUCKLE;
    let mut add = |change, possible: bool, alter: &dyn Fn(&mut Pull)| {
        if possible {
            let mut built = pull.clone();
            alter(&mut built);
            all.push((change, built));
        }
    };
    let cuff = &pull.cuff;
    add(
        Change::HoleAtPalm,
        palm < cuff.hole_from_crease && palm > cuff.edge_from_crease,
        &|built| built.cuff.hole_from_crease = palm,
    );
    add(
        Change::HoleFurther(FURTHER),
        cuff.end_from_crease + FURTHER <= case.limb.hand_length,
        &|built| {
            built.cuff.hole_from_crease = cuff.hole_from_crease + FURTHER;
            built.cuff.end_from_crease = cuff.end_from_crease + FURTHER;
        },
    );
    let height = Geometry::of(case, pull).length(super::geometry::Measure::StripHeight);
    for raised in RAISED {
        add(Change::StripRaised(raised), true, &|built| {
            built.strip.height = Some(height + raised);
        });
    }
    let strip = &pull.strip;
    let nearest = pull.forearm_piece.edge_from_crease + pull.tab.hole_to_pad;
    add(Change::StripNearer(ALONG), strip.start_from_crease - ALONG > nearest, &|built| {
        built.strip.start_from_crease = strip.start_from_crease - ALONG;
    });
    add(
        Change::StripFarther(ALONG),
        strip.start_from_crease + ALONG + strip.length <= case.limb.forearm_length,
        &|built| built.strip.start_from_crease = strip.start_from_crease + ALONG,
    );
    all
}

fn reckon(
    case: &Case,
    built: &Pull,
    aim: &Aim,
    torque: &TorqueCurve,
    change: Change,
) -> Option<Alternative> {
    let geometry = Geometry::of(case, built);
    let made = loops(&geometry, aim);
    let first = made.loops.first()?;
    let effect = |mark: &Mark| {
        let torque = torque.at(mark.angle).unwrap_or(Torque::newton_metres(1.0));
        let load = load(&geometry, &mark.line, torque)?;
        Some(Effect {
            arm: mark.line.moment_arm(),
            pull_angle: mark.line.pull_angle(),
            joint: load.joint,
            tension: load.tension,
        })
    };
    let start = effect(first.marks.first()?)?;
    // The last mark stands for the goal where the loop reaches it.
    let at_goal = first.marks.last().filter(|_| first.to >= aim.goal);
    Some(Alternative {
        change,
        start,
        goal: at_goal.and_then(effect),
        reach: first.to,
        room: at_goal.map(|it| geometry.last_place() - it.hole),
    })
}
