//! Findings from ranges, goals and the warm-up test.

use super::{Finding, Level};
use crate::calc::progress::{Class, detectable_change, nearest_class};
use crate::case::{Case, Pull, WarmUp};
use crate::sources::{FLOWERS, Ground};
use crate::units::Angle;

/// Ranges older than this many days are not today's (common practice, no source).
const FRESH_DAYS: i32 = 7;

pub(super) fn findings(case: &Case) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(old_ranges(case));
    for pull in &case.orthosis.pulls {
        found.extend(goal_past_the_other_side(case, pull));
        found.extend(goal_within_error(case, pull));
    }
    found.extend(case.preconditioning.iter().filter_map(warm_up));
    found
}

fn old_ranges(case: &Case) -> Option<Finding> {
    let days = (case.head.prepared - case.today().date).get_days();
    (days > FRESH_DAYS).then(|| {
        Finding::new("ranges-old", Level::Caution, "Ranges not of today", Ground::CommonPractice)
            .because(format!(
                "The newest ranges were measured {days} days before the papers' day. Marks and loop \
                 start from them."
            ))
            .so("Measure again before anything is cut or crimped.")
    })
}

fn goal_past_the_other_side(case: &Case, pull: &Pull) -> Option<Finding> {
    let measured = case.ranges().rev();
    let other = measured.clone().find_map(|it| it.other_side.toward(pull.direction))?;
    (pull.goal > other).then(|| {
        let way = pull.direction.word();
        let id = format!("goal-past-other-side-{way}");
        Finding::new(id, Level::Note, "Goal past the other wrist", Ground::Reckoned)
            .because(format!(
                "The goal of {:.0}° of {way} is more than the other wrist's {:.0}°.",
                pull.goal.to_degrees(),
                other.to_degrees()
            ))
            .so("Check the goal: the other wrist is usually the better norm.")
    })
}

fn goal_within_error(case: &Case, pull: &Pull) -> Option<Finding> {
    let start = case.passive(pull.direction)?;
    let error = detectable_change(case.measuring_error.goniometer);
    let to_go = pull.goal - start;
    (to_go > Angle::ZERO && to_go < error).then(|| {
        let way = pull.direction.word();
        let id = format!("goal-near-{way}");
        Finding::new(id, Level::Note, "Goal within the measuring error", Ground::Reckoned)
            .because(format!(
                "The goal lies {:.0}° past today's {way}; a change is told from {:.0}° on.",
                to_go.to_degrees(),
                error.to_degrees()
            ))
            .so("Reaching it could not be told from measuring error by one reading.")
    })
}

/// A gain that points away from this class of orthosis is not hidden.
fn warm_up(test: &WarmUp) -> Option<Finding> {
    let gain = test.warm - test.cold;
    let way = test.direction.word();
    let id = format!("preconditioning-{way}");
    if gain < Angle::ZERO {
        return Some(
            Finding::new(id, Level::Note, "Less range after warming", Ground::CommonPractice)
                .because(format!(
                    "The warm-up test of {way} ended {:.0}° lower than it began.",
                    gain.abs().to_degrees()
                ))
                .so("Test again; pain or swelling may be the reason."),
        );
    }
    let class = match nearest_class(gain) {
        Class::StaticProgressive => return None,
        Class::Dynamic => "a dynamic orthosis",
        Class::Static => "a static orthosis",
        Class::Exercise => "exercise without an orthosis",
    };
    let ground = Ground::Cited(&[FLOWERS]);
    Some(
        Finding::new(id, Level::Note, "Warm-up test points elsewhere", ground)
            .because(format!(
                "A gain of {:.0}° of {way} lies nearest to the level for {class}, as one secondary page \
                 gives the levels; another sets static progressive below 10°.",
                gain.to_degrees()
            ))
            .so("One reading cannot choose the class; the therapist weighs it."),
    )
}
