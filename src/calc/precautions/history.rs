//! Findings from what is known of the wrist and the patient.

use jiff::civil::Date;

use super::{Finding, Level, newest};
use crate::case::{Bone, Case, EndFeel, Sensation, Skin, Swelling};
use crate::sources::{
    BREHMER, DISPLACEMENT, GLASGOW, Ground, POOR_FEELING, STRETCH_PAGES, TRIAL_GATE,
};

/// Before this many weeks a fracture is not stretched without an order.
const TOO_EARLY: i32 = 6;
/// From this many weeks on, with union recorded, time is no longer a gate.
const LATE_ENOUGH: i32 = 8;
/// From this many weeks after the injury stiff hand joints answered less.
const SLOW: i32 = 12;
/// Pain at rest from which stretching stops, of 10 (common practice, no source).
const HIGH_PAIN: u32 = 6;
/// Pain at rest that asks for care (common practice, no source).
const SOME_PAIN: u32 = 4;
/// Below this age bones still grow.
const GROWN: u32 = 18;

pub(super) fn findings(case: &Case) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(bone(case));
    found.extend(time(case));
    found.extend(end_feel(case));
    found.extend(skin(case));
    found.extend(sensation(case));
    found.extend(swelling(case));
    found.extend(pain(case));
    found.extend(age(case));
    found
}

/// Whole weeks from a day to the day the papers are for.
#[must_use]
pub fn weeks_since(case: &Case, day: Date) -> i32 {
    (case.head.prepared - day).get_days() / 7
}

/// `1 week`, `5 weeks`.
pub(super) fn ago(weeks: i32) -> String {
    format!("{weeks} {}", if weeks == 1 { "week" } else { "weeks" })
}

/// The later of injury and operation.
fn last_event(case: &Case) -> (Date, &'static str) {
    match case.history.operation {
        Some(operation) if operation >= case.history.injury => (operation, "operation"),
        _ => (case.history.injury, "injury"),
    }
}

fn bone(case: &Case) -> Option<Finding> {
    let ground = Ground::Cited(&[STRETCH_PAGES, DISPLACEMENT]);
    let cleared = case.history.cleared_for_stretch.as_ref();
    match (case.history.bone, cleared) {
        (Bone::Unstable, _) => Some(
            Finding::new("bone-unstable", Level::Stop, "Bone not stable", ground)
                .because("The bone is recorded as unstable. A stretch can displace it.")
                .so("Do not make the orthosis. Speak with the doctor."),
        ),
        (Bone::Healing, None) => Some(
            Finding::new("bone-not-cleared", Level::Stop, "Healing bone, no clearance", ground)
                .because("The bone is still healing, and no clearance for stretch is recorded.")
                .so("Ask the doctor for clearance and record it in the case file."),
        ),
        (Bone::Healing, Some(clearance)) => Some(
            Finding::new("bone-healing", Level::Caution, "Healing bone, cleared", ground)
                .because(format!(
                    "The bone is still healing; {} cleared it for stretch on {}.",
                    clearance.by, clearance.date
                ))
                .so("Start with the gentlest stretch. New pain over the bone: stop and send back.")
                .gently(),
        ),
        (Bone::Healed, None) => Some(
            Finding::new(
                "not-cleared",
                Level::Note,
                "No clearance on file",
                Ground::CommonPractice,
            )
            .because("The bone is recorded as healed; no clearance for stretch is on file.")
            .so("Ask for it and record who gave it and when."),
        ),
        (Bone::Healed, Some(_)) => None,
    }
}

fn time(case: &Case) -> Option<Finding> {
    let (day, event) = last_event(case);
    let weeks = weeks_since(case, day);
    let ago = ago(weeks);
    let gate = Ground::Cited(&[BREHMER, TRIAL_GATE, DISPLACEMENT]);
    if weeks < TOO_EARLY {
        let text = format!(
            "The {event} was {ago} ago. After plating of a radius fracture passive motion commonly \
             waits {TOO_EARLY} weeks; other injuries have no source here."
        );
        return Some(
            Finding::new("too-early", Level::Stop, "Too early", gate)
                .because(text)
                .so("Wait, or record the doctor's order to start earlier as an override.")
                .gently(),
        );
    }
    if weeks < LATE_ENOUGH {
        let text = format!(
            "The {event} was {ago} ago. The trial of this class of orthosis enrols from \
             {LATE_ENOUGH} weeks."
        );
        return Some(
            Finding::new("early", Level::Caution, "Early", gate)
                .because(text)
                .so("Confirm the order with the doctor. Start with the gentlest stretch.")
                .gently(),
        );
    }
    (weeks_since(case, case.history.injury) >= SLOW).then(|| {
        Finding::new("late-start", Level::Note, "Late start", Ground::Cited(&[GLASGOW]))
            .because(format!(
                "The injury was {} ago. Stiff hand joints answered better before {SLOW} weeks; it \
                 was not studied for this orthosis.",
                self::ago(weeks_since(case, case.history.injury))
            ))
            .so("Set expectations with the patient. Re-check often.")
    })
}

fn end_feel(case: &Case) -> Option<Finding> {
    match case.end_feel() {
        EndFeel::Hard => Some(
            Finding::new(
                "end-feel-hard",
                Level::Stop,
                "Hard end feel",
                Ground::Cited(&[STRETCH_PAGES]),
            )
            .because("A hard end feel points to a bone block. A stretch cannot move bone.")
            .so("Do not stretch. Send back to the doctor with this finding.")
            .seen_on(newest(case, |it| it.end_feel.is_some())),
        ),
        EndFeel::Soft => Some(
            Finding::new("end-feel-soft", Level::Note, "Soft end feel", Ground::CommonPractice)
                .because("A soft end feel may be swelling or muscle rather than a tight capsule.")
                .so("Check whether another way of treating comes first."),
        ),
        EndFeel::Firm => None,
    }
}

fn skin(case: &Case) -> Option<Finding> {
    match case.history.skin {
        Skin::Open => Some(
            Finding::new("skin-open", Level::Stop, "Open skin", Ground::CommonPractice)
                .because("The skin under the pieces is open.")
                .so("Wait until it has closed.")
                .gently(),
        ),
        Skin::Fragile => Some(
            Finding::new("skin-fragile", Level::Caution, "Fragile skin", Ground::CommonPractice)
                .because("The skin is fragile: it bears less pressure and less shear.")
                .so("Line or pad the pieces. Keep the first sessions short, and look at the skin after each.")
                .gently(),
        ),
        Skin::Intact => None,
    }
}

fn sensation(case: &Case) -> Option<Finding> {
    let ground = Ground::Cited(&[POOR_FEELING]);
    match case.sensation() {
        Sensation::Absent => Some(
            Finding::new("sensation-absent", Level::Stop, "No sensation", ground)
                .because("The hand cannot feel when the pull or an edge does harm.")
                .so("Do not make the orthosis for use at home. Speak with the doctor.")
                .gently()
                .seen_on(newest(case, |it| it.sensation.is_some())),
        ),
        Sensation::Reduced => Some(
            Finding::new("sensation-reduced", Level::Caution, "Reduced sensation", ground)
                .because("Reduced feeling hides a pull or an edge that does harm.")
                .so("Teach looking instead of feeling: skin and finger colour every 10 minutes and after each session.")
                .gently(),
        ),
        Sensation::Normal => None,
    }
}

fn swelling(case: &Case) -> Option<Finding> {
    (case.swelling() == Swelling::Marked).then(|| {
        Finding::new("swelling-marked", Level::Stop, "Marked swelling", Ground::Cited(&[STRETCH_PAGES]))
            .because("The limb is markedly swollen: the pieces would not fit tomorrow and the tissue is irritated.")
            .so("Treat the swelling first. Measure again when it has settled.")
            .seen_on(newest(case, |it| it.swelling.is_some()))
    })
}

fn pain(case: &Case) -> Option<Finding> {
    let pain = case.rest_pain();
    let level = match pain {
        HIGH_PAIN.. => Level::Stop,
        SOME_PAIN.. => Level::Caution,
        _ => return None,
    };
    let text = if case.visits.is_empty() {
        format!("Pain at rest is {pain} of 10 before any stretch.")
    } else {
        format!("Pain at rest was {pain} of 10 when it was last asked.")
    };
    Some(if level == Level::Stop {
        Finding::new("rest-pain-high", level, "High pain at rest", Ground::CommonPractice)
            .because(text)
            .so("Do not stretch. Find the cause with the doctor; think of complex regional pain.")
            .gently()
            .seen_on(newest(case, |it| it.pain.rest.is_some()))
    } else {
        Finding::new("rest-pain", level, "Pain at rest", Ground::CommonPractice)
            .because(text)
            .so("Start gently, with short sessions. More pain at rest after two days: stop.")
            .gently()
    })
}

fn age(case: &Case) -> Option<Finding> {
    (case.patient.age < GROWN).then(|| {
        Finding::new("growing", Level::Caution, "Growing bone", Ground::CommonPractice)
            .because(format!(
                "The patient is {} years old: growth plates may be open.",
                case.patient.age
            ))
            .so("Ask the doctor for an order that names this orthosis and the age.")
    })
}
