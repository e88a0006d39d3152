//! Findings from the course: range lost, skin, plateau, a loop at its end, a point off the plan.

use super::{Finding, Level, newest, plain_day};
use crate::calc::as_built::Basis;
use crate::calc::course::{Lost, Room, doses, overworn, passive_lost, room};
use crate::calc::dose::WearPlan;
use crate::calc::pull::PullPlan;
use crate::calc::trend::{change_over, plateau};
use crate::case::{Case, Direction, SkinSeen};
use crate::sources::{Ground, REDNESS};
use crate::units::Angle;

/// One step of the marks.
const A_STEP: Angle = Angle::degrees(5.0);
/// A loop that ends short of this is taut nowhere on the strip.
const SLACK: Angle = Angle::degrees(-90.0);

pub(super) fn findings(case: &Case, pulls: &[PullPlan], wear: &WearPlan) -> Vec<Finding> {
    let mut found: Vec<Finding> = visit_late(case, wear).into_iter().collect();
    if case.visits.is_empty() {
        return found;
    }
    found.extend(skin(case));
    found.extend(wear_over(case, wear));
    found.extend(too_much_worn(case, wear));
    found.extend(other_way_lost(case, pulls));
    found.extend(recheck_late(case, wear));
    found.extend(loop_not_on_file(pulls));
    for pull in pulls {
        found.extend(lost(case, pull));
        found.extend(on_a_plateau(case, pull));
        found.extend(goal_reached(pull));
        found.extend(new_loop(pull));
        found.extend(measure_again(pull));
        found.extend(marks_moved(pull));
        found.extend(flat_disagrees(pull));
        found.extend(past_hold(pull));
    }
    found
}

fn lost(case: &Case, pull: &PullPlan) -> Option<Finding> {
    let Lost { by, error } = passive_lost(case, pull.direction)?;
    let way = pull.direction.word();
    Some(
        Finding::new(format!("range-lost-{way}"), Level::Stop, "Range lost", Ground::Reckoned)
            .because(format!(
                "Passive {way} fell by {:.0}° from its best, more than one reading's measuring error of {:.0}°.",
                by.to_degrees(),
                error.to_degrees()
            ))
            .so("Stop the orthosis. Measure again first, look for swelling, pain and infection, and send back to \
                 the doctor.")
                .seen_on(newest(case, |it| it.motion.passive.toward(pull.direction).is_some())),
    )
}

/// Range lost the way that nothing pulls: what one way wins, the other may pay for.
fn other_way_lost(case: &Case, pulls: &[PullPlan]) -> Vec<Finding> {
    let is_pulled = |way: Direction| pulls.iter().any(|it| it.direction == way);
    let ways = [Direction::Flexion, Direction::Extension].into_iter().filter(|it| !is_pulled(*it));
    ways.filter_map(|way| Some((way.word(), passive_lost(case, way)?)))
        .map(|(way, Lost { by, error })| {
            Finding::new(
                format!("other-way-lost-{way}"),
                Level::Caution,
                "Range lost the other way",
                Ground::Reckoned,
            )
            .because(format!(
                "Nothing pulls into {way}, and passive {way} fell by {:.0}° from its best, more than one reading's \
                 measuring error of {:.0}°.",
                by.to_degrees(),
                error.to_degrees()
            ))
            .so("Ease off and work the other way between sessions. Measure again, and speak with the doctor \
                 before the pull goes on.")
        })
        .collect()
}

/// A loop that is worn and not on file: marks of a loop as planned would not fit it.
fn loop_not_on_file(pulls: &[PullPlan]) -> Option<Finding> {
    pulls.iter().any(|it| it.in_use.is_none()).then(|| {
        Finding::new("loop-not-on-file", Level::Caution, "Loop not on file", Ground::Reckoned)
            .because("There are visits, and a loop that is worn is not on file as it was made: the marks are those of a \
                      loop as planned and may not fit the one that is worn.")
            .so("Pull the worn loop flat, measure it and record it (`built`); until then trust no mark but today's, set by feel.")
    })
}

/// A re-check after the last day of wear leaves days on which nobody has looked at the need.
fn recheck_late(case: &Case, wear: &WearPlan) -> Option<Finding> {
    let (last, recheck) = (wear.steps.last()?.to, case.referral.recheck?);
    (last < recheck).then(|| {
        Finding::new("recheck-late", Level::Note, "Re-check after the last day of wear", Ground::Reckoned)
            .because(format!(
                "The wear plan ends on {}; the need is looked at again on {}.",
                plain_day(last),
                plain_day(recheck)
            ))
            .so("Move the re-check to before the last day of wear, or ask the doctor whether the course goes on.")
    })
}

/// A next visit after the last day of wear leaves days on which the patient is told not to wear it.
fn visit_late(case: &Case, wear: &WearPlan) -> Option<Finding> {
    let (last, visit) = (wear.steps.last()?.to, case.head.next_visit?);
    // A plan that is over already is told by its stop.
    (last < visit && case.head.prepared <= last).then(|| {
        Finding::new("visit-late", Level::Note, "Next visit after the last day of wear", Ground::Reckoned)
            .because(format!(
                "The wear plan ends on {}; the next visit is on {}. The handout says not to wear it in between.",
                plain_day(last),
                plain_day(visit)
            ))
            .so("Bring the visit forward, or ask the doctor whether the course goes on (`wear.weeks`).")
    })
}

/// Papers for a day after the last day of wear would tell the patient to go on without an order.
fn wear_over(case: &Case, wear: &WearPlan) -> Option<Finding> {
    let last = wear.steps.last()?.to;
    (last < case.head.prepared).then(|| {
        // Past its last day there is no right schedule to print, whoever decides.
        Finding::new("wear-over", Level::Stop, "Wear plan over", Ground::Reckoned)
            .for_good()
            .because(format!("The wear plan ended on {}.", plain_day(last)))
            .so("Ask the doctor whether the course goes on, and record its new length (`wear.weeks`).")
    })
}

fn skin(case: &Case) -> Option<Finding> {
    match case.visits.iter().rev().find_map(|it| it.skin)? {
        SkinSeen::Broken => Some(
            Finding::new("skin-broken", Level::Stop, "Skin broken", Ground::CommonPractice)
                .because("When it was last looked at, the skin under the orthosis was broken or blistered.")
                .so("Stop the orthosis until the skin is whole. Find what pressed and mend it.")
                .seen_on(newest(case, |it| it.skin.is_some())),
        ),
        SkinSeen::RedLong => Some(
            Finding::new(
                "redness-stays",
                Level::Caution,
                "Redness stays",
                Ground::Cited(&[REDNESS]),
            )
            .because("When it was last looked at, redness stayed longer than 20 minutes: something presses there.")
            .so("Find the edge and free it, pad it or make the session shorter. Stay at the mark or below."),
        ),
        SkinSeen::Clear | SkinSeen::RedBriefly => None,
    }
}

/// The therapist's own rule, not ours: no published rule was found.
fn on_a_plateau(case: &Case, pull: &PullPlan) -> Option<Finding> {
    let rule = case.plateau?;
    let points = pull.points(case);
    if plateau(&points, rule.weeks, rule.degrees) != Some(true) || pull.start >= pull.goal {
        return None;
    }
    let change = change_over(&points, rule.weeks)?;
    let way = pull.direction.word();
    Some(
        Finding::new(format!("plateau-{way}"), Level::Note, "Plateau", Ground::CommonPractice)
            .because(format!(
                "From {} to {} passive {way} changed by {:.0}°; the file calls {:.0}° in {} weeks a plateau.",
                plain_day(change.from),
                plain_day(change.to),
                change.by.to_degrees(),
                rule.degrees.to_degrees(),
                rule.weeks
            ))
            .so("Check the end feel and the dose worn, and speak with the doctor."),
    )
}

fn goal_reached(pull: &PullPlan) -> Option<Finding> {
    (pull.start >= pull.goal).then(|| {
        let way = pull.direction.word();
        Finding::new(format!("goal-reached-{way}"), Level::Note, "Goal reached", Ground::Reckoned)
            .because(format!(
                "Passive {way} is {:.0}°, the goal {:.0}°.",
                pull.start.to_degrees(),
                pull.goal.to_degrees()
            ))
            .so("Set a new goal, keep what was won, or end the course; what is won is used.")
    })
}

fn new_loop(pull: &PullPlan) -> Option<Finding> {
    let way = pull.direction.word();
    let at = pull.start;
    let to = match room(pull)? {
        Room::TooShort { rest } => return Some(too_short(way, at, rest)),
        Room::Ends { to } => to,
    };
    if to < SLACK {
        return Some(
            Finding::new(format!("loop-slack-{way}"), Level::Stop, "Loop too long", Ground::Reckoned)
                .because(
                    "By its length flat and where its tab stood, the loop in use is slack at every mark of the \
                     strip.",
                )
                .so("Pull the loop flat and measure it again; read the tab's place again."),
        );
    }
    Some(
        Finding::new(format!("new-loop-{way}"), Level::Note, "New loop due", Ground::Reckoned)
            .because(format!(
                "Today's range is {:.0}°; the loop in use ends at {:.0}°.",
                at.to_degrees(),
                to.to_degrees()
            ))
            .so("Make the next loop when the course suggests it: the card gives it then."),
    )
}

/// Tab places that would give the patient a mark a whole step harder than the loop's own length gives.
fn marks_moved(pull: &PullPlan) -> Option<Finding> {
    let moved = pull.moved.filter(|it| *it > A_STEP)?;
    let way = pull.direction.word();
    Some(
        Finding::new(format!("marks-moved-{way}"), Level::Stop, "Marks moved", Ground::Reckoned)
            .because(format!(
                "The tab's places put today's mark {:.0}° further than the loop's length flat does. One wrong \
                 reading would make the pull harder.",
                moved.to_degrees()
            ))
            .so("Read angle and tab once more on another day, pull the loop flat and measure it again."),
    )
}

/// A length flat that puts today's mark far beyond where the tab really stood was read wrongly.
fn flat_disagrees(pull: &PullPlan) -> Option<Finding> {
    let moved = pull.moved.filter(|it| *it < -A_STEP * 3.0)?;
    let way = pull.direction.word();
    Some(
        Finding::new(format!("flat-disagrees-{way}"), Level::Caution, "Loop length in doubt", Ground::Reckoned)
            .because(format!(
                "By the loop's length flat today's mark would lie {:.0}° further than where the tab stood.",
                moved.abs().to_degrees()
            ))
            .so("Pull the loop flat and measure it again: half of the whole loop is wanted."),
    )
}

/// Today's range past the angle that waits for the doctor: there is no mark to give out.
fn past_hold(pull: &PullPlan) -> Option<Finding> {
    let hold = pull.hold.filter(|it| *it < pull.start)?;
    let way = pull.direction.word();
    Some(
        Finding::new(format!("past-hold-{way}"), Level::Stop, "Doctor\u{2019}s word first", Ground::CommonPractice)
            .because(format!(
                "Today's range of {:.0}° lies past the {:.0}° from which marks wait for the doctor's word.",
                pull.start.to_degrees(),
                hold.to_degrees()
            ))
            .so("Ask the doctor, and record the angle that was allowed (`hold`)."),
    )
}

/// More worn than the daily limit allows.
fn too_much_worn(case: &Case, wear: &WearPlan) -> Option<Finding> {
    overworn(case, &doses(case, wear)).then(|| {
        Finding::new("worn-too-much", Level::Caution, "Worn too long", Ground::CommonPractice)
            .because(format!(
                "Since the visit before more was worn than {} minutes a day.",
                case.wear.daily_limit
            ))
            .so("Ask how the log was kept, look at the skin, and go back to the planned sessions.")
    })
}

/// A loop that holds the wrist past today's range even with its tab at the near end must not be worn.
fn too_short(way: &str, at: Angle, rest: Angle) -> Finding {
    Finding::new(format!("loop-too-short-{way}"), Level::Stop, "Loop too short for today", Ground::Reckoned)
        .because(format!(
            "The loop in use rests at {:.0}° with its tab at the strip's near end; today's range is {:.0}°.",
            rest.to_degrees(),
            at.to_degrees()
        ))
        .so("Take the loop off. Measure it and the range again; make a longer loop before it is worn on.")
}

/// A tab that stood where the plan, with all its errors, or the other places do not put it.
fn measure_again(pull: &PullPlan) -> Option<Finding> {
    let fitted = pull.as_built.as_ref()?;
    let doubted = fitted.points.iter().find(|it| it.is_beyond())?;
    let way = pull.direction.word();
    let at = doubted.observation.angle.to_degrees();
    let again = if doubted.is_odd() {
        "Read the angle and the tab's place there again.".to_owned()
    } else {
        format!("Take again: {}; then the angle and the tab's place.", doubted.measure.words())
    };
    let because = if doubted.is_odd() {
        format!("At {at:.0}° the tab stood far from where its other places put it.")
    } else {
        format!(
            "At {at:.0}° the tab stood {:.1} mm from where the plan puts it, more than twice the spread of \
             {:.1} mm.",
            doubted.off_plan.abs().to_mm(),
            doubted.planned_spread.to_mm()
        )
    };
    let held = match fitted.basis {
        Basis::All => " Until then the marks keep it in, which pulls less.",
        Basis::Trusted => " Until then the marks leave it out, which pulls less.",
        Basis::Length => " Until then the marks go by the loop pulled flat, which pulls less.",
    };
    Some(
        Finding::new(
            format!("measure-again-{way}"),
            Level::Caution,
            "Tab off the plan",
            Ground::Reckoned,
        )
        .because(because)
        .so(format!("{again}{held}")),
    )
}
