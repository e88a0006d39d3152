//! Findings from what is known of the wrist and the patient.

use jiff::civil::Date;

use super::{Finding, Level};
use crate::case::{Bone, Case, Condition, Direction, EndFeel, Sensation, Skin, Swelling, Tendon};
use crate::sources::{
    BREHMER, CASAVANT, CRAWFORD, DISPLACEMENT, EXTENSOR_PROTOCOL, FLEXOR_PROTOCOL, GELBERMAN,
    GLASGOW, Ground, HARDEN, KEIR, PAIN_FEDERATION, POOR_FEELING, STRETCH_PAGES, TRIAL_GATE,
};
use crate::units::Angle;

/// Before this many weeks a fracture is not stretched without an order.
const TOO_EARLY: i32 = 6;
/// From this many weeks on, with union recorded, time is no longer a gate.
const LATE_ENOUGH: i32 = 8;
/// Past this many weeks stiff hand joints answered less.
const SLOW: i32 = 12;
/// Pain at rest from which stretching stops, of 10 (common practice, no source).
const HIGH_PAIN: u32 = 6;
/// Pain at rest that asks for care (common practice, no source).
const SOME_PAIN: u32 = 4;
/// Below this age bones still grow.
const GROWN: u32 = 18;
/// Weeks from which a repaired flexor tendon may be stretched passively at all.
const FLEXOR_EARLIEST: i32 = 5;
/// Weeks from which a splint may stretch against a repaired extensor tendon.
const EXTENSOR_EARLIEST: i32 = 6;
/// Weeks from which a repaired tendon is no longer a gate.
const TENDON_FULL: i32 = 12;
/// Extension at which three of four healthy wrists stay below 30 mmHg in the carpal tunnel.
pub(super) const WATCH_EXTENSION: Angle = Angle::degrees(32.7);
/// The same for flexion.
pub(super) const WATCH_FLEXION: Angle = Angle::degrees(48.6);

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
    found.extend(case.history.conditions.iter().filter_map(|it| condition(case, it)));
    found.extend(nerve(case));
    found
}

/// Whole weeks from a day to the day the papers are for.
#[must_use]
pub fn weeks_since(case: &Case, day: Date) -> i32 {
    (case.head.prepared - day).get_days() / 7
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
                .so("Ask the doctor for clearance and record it under `cleared_for_stretch`."),
        ),
        (Bone::Healing, Some(clearance)) => Some(
            Finding::new("bone-healing", Level::Caution, "Healing bone, cleared", ground)
                .because(format!(
                    "The bone is still healing; {} cleared it for stretch on {}.",
                    clearance.by, clearance.date
                ))
                .so("Start with the gentlest stretch. New pain over the bone: stop and send back."),
        ),
        (Bone::Healed, _) => None,
    }
}

fn time(case: &Case) -> Option<Finding> {
    let (day, event) = last_event(case);
    let weeks = weeks_since(case, day);
    let gate = Ground::Cited(&[BREHMER, TRIAL_GATE, DISPLACEMENT]);
    if weeks < TOO_EARLY {
        let text = format!(
            "The {event} was {weeks} weeks ago. Passive stretch of a wrist commonly waits \
             {TOO_EARLY} weeks."
        );
        return Some(
            Finding::new("too-early", Level::Stop, "Too early", gate)
                .because(text)
                .so("Wait, or record the doctor's order to start earlier as an override."),
        );
    }
    if weeks < LATE_ENOUGH {
        let text = format!(
            "The {event} was {weeks} weeks ago. The trial of this class of orthosis enrols from \
             {LATE_ENOUGH} weeks."
        );
        return Some(
            Finding::new("early", Level::Caution, "Early", gate)
                .because(text)
                .so("Confirm the order with the doctor. Start with the gentlest stretch."),
        );
    }
    (weeks > SLOW).then(|| {
        Finding::new("late-start", Level::Note, "Late start", Ground::Cited(&[GLASGOW]))
            .because(format!(
                "The {event} was {weeks} weeks ago. Stiff hand joints answered better before \
                 {SLOW} weeks; it was not studied for this orthosis."
            ))
            .so("Set expectations with the patient. Re-check often.")
    })
}

fn end_feel(case: &Case) -> Option<Finding> {
    match case.history.end_feel {
        EndFeel::Hard => Some(
            Finding::new(
                "end-feel-hard",
                Level::Stop,
                "Hard end feel",
                Ground::Cited(&[STRETCH_PAGES]),
            )
            .because("A hard end feel points to a bone block. A stretch cannot move bone.")
            .so("Do not stretch. Send back to the doctor with this finding."),
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
                .so("Wait until it has closed."),
        ),
        Skin::Fragile => Some(
            Finding::new("skin-fragile", Level::Caution, "Fragile skin", Ground::CommonPractice)
                .because("The skin is fragile: it bears less pressure and less shear.")
                .so("Line or pad the pieces. First sessions 15 minutes, with the skin checked after each."),
        ),
        Skin::Intact => None,
    }
}

fn sensation(case: &Case) -> Option<Finding> {
    let ground = Ground::Cited(&[POOR_FEELING]);
    match case.history.sensation {
        Sensation::Absent => Some(
            Finding::new("sensation-absent", Level::Stop, "No sensation", ground)
                .because("The hand cannot feel when the pull or an edge does harm.")
                .so("Do not make the orthosis for use at home. Speak with the doctor."),
        ),
        Sensation::Reduced => Some(
            Finding::new("sensation-reduced", Level::Caution, "Reduced sensation", ground)
                .because("Reduced feeling hides a pull or an edge that does harm.")
                .so("Teach looking instead of feeling: skin and finger colour every 10 minutes and after each session."),
        ),
        Sensation::Normal => None,
    }
}

fn swelling(case: &Case) -> Option<Finding> {
    (case.history.swelling == Swelling::Marked).then(|| {
        Finding::new("swelling-marked", Level::Stop, "Marked swelling", Ground::Cited(&[STRETCH_PAGES]))
            .because("The limb is markedly swollen: the pieces would not fit tomorrow and the tissue is irritated.")
            .so("Treat the swelling first. Measure again when it has settled.")
    })
}

fn pain(case: &Case) -> Option<Finding> {
    let pain = case.history.rest_pain;
    let level = match pain {
        HIGH_PAIN.. => Level::Stop,
        SOME_PAIN.. => Level::Caution,
        _ => return None,
    };
    let text = format!("Pain at rest is {pain} of 10 before any stretch.");
    Some(if level == Level::Stop {
        Finding::new("rest-pain-high", level, "High pain at rest", Ground::CommonPractice)
            .because(text)
            .so("Do not stretch. Find the cause with the doctor; think of complex regional pain.")
    } else {
        Finding::new("rest-pain", level, "Pain at rest", Ground::CommonPractice)
            .because(text)
            .so("Start gently, with short sessions. More pain at rest after two days: stop.")
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

fn condition(case: &Case, condition: &Condition) -> Option<Finding> {
    let caution = |id: &str, title, ground| Finding::new(id, Level::Caution, title, ground);
    let weak = Ground::Cited(&[STRETCH_PAGES]);
    Some(match condition {
        Condition::Diabetes => caution("diabetes", "Diabetes", Ground::Cited(&[POOR_FEELING]))
            .because("Diabetes can dull feeling and slow the healing of skin.")
            .so("Test feeling. Look at the skin after each session. Call early about any mark."),
        Condition::BloodThinners => caution("blood-thinners", "Medicine against clotting", weak)
            .because("Bruises and bleeding into the joint come more easily.")
            .so("Gentlest stretch. A new bruise or a sudden swelling: stop and call."),
        Condition::Osteoporosis => caution("osteoporosis", "Thin bone", weak)
            .because("Thin bone breaks more easily under a lever.")
            .so("Ask the doctor whether stretch with a lever is allowed. Gentlest stretch."),
        Condition::InflammatoryArthritis => {
            caution("inflammatory-arthritis", "Inflammatory joint disease", weak)
                .because(
                    "An inflamed joint must not be stretched, and a loose one gains nothing by it.",
                )
                .so("Stretch only between flares, on the doctor's order.")
        }
        Condition::ComplexRegionalPain => {
            let ground = Ground::Cited(&[PAIN_FEDERATION, HARDEN]);
            caution("complex-regional-pain", "Complex regional pain syndrome", ground)
                .because("Splints are rarely indicated there, and a forced stretch can worsen it.")
                .so("Go on only together with the doctor who treats the pain.")
        }
        Condition::HeterotopicOssification => {
            let ground = Ground::Cited(&[CASAVANT, CRAWFORD]);
            caution("heterotopic-ossification", "Bone forming in soft tissue", ground)
                .because("Stretch past the pain-free range in the acute phase led to stiff joints.")
                .so("Stay within the pain-free range. Sudden loss of motion with pain: stop and send back.")
        }
        Condition::Infection => Finding::new("infection", Level::Stop, "Infection", weak)
            .because("An infection of the limb is recorded.")
            .so("Do not stretch. Send to the doctor."),
        Condition::TendonRepair(tendon, day) => tendon_repair(case, *tendon, *day)?,
        Condition::Other(words) => {
            caution("other-condition", "Another condition", Ground::CommonPractice)
                .because(format!("The file records: {words}. No rule here covers it."))
                .so("The clinician judges whether it bears on stretching.")
        }
        Condition::NerveCompression => return None,
    })
}

/// A repaired tendon is pulled taut when the wrist goes to the other side.
fn tendon_repair(case: &Case, tendon: Tendon, day: Date) -> Option<Finding> {
    let weeks = weeks_since(case, day);
    let (name, taut_in, earliest, ground) = match tendon {
        Tendon::Flexor => {
            ("flexor", Direction::Extension, FLEXOR_EARLIEST, Ground::Cited(&[FLEXOR_PROTOCOL]))
        }
        Tendon::Extensor => {
            ("extensor", Direction::Flexion, EXTENSOR_EARLIEST, Ground::Cited(&[EXTENSOR_PROTOCOL]))
        }
    };
    if weeks >= TENDON_FULL {
        return None;
    }
    let loaded = case.orthosis.pulls.iter().any(|pull| pull.direction == taut_in);
    let text = format!(
        "A {name} tendon was repaired {weeks} weeks ago; {} pulls it taut.",
        taut_in.word()
    );
    Some(if loaded && weeks < earliest {
        Finding::new("tendon-too-early", Level::Stop, "Tendon repair too recent", ground)
            .because(format!("{text} One published protocol allows that from week {earliest}."))
            .so("Wait, or record the surgeon's order as an override.")
    } else {
        Finding::new("tendon-repair", Level::Caution, "Recent tendon repair", ground)
            .because(format!(
                "{text} One published protocol lifts its limits at {TENDON_FULL} weeks."
            ))
            .so("Have the surgeon confirm the order and name any limit of motion.")
    })
}

/// Watch the median nerve where the goal lies past the published angles.
fn nerve(case: &Case) -> Vec<Finding> {
    let recorded = case.history.conditions.contains(&Condition::NerveCompression);
    let past = |direction: Direction| {
        let watch = match direction {
            Direction::Flexion => WATCH_FLEXION,
            Direction::Extension => WATCH_EXTENSION,
        };
        let pull = case.orthosis.pulls.iter().find(|pull| pull.direction == direction)?;
        (pull.goal > watch || recorded).then_some((pull.goal, watch))
    };
    [Direction::Flexion, Direction::Extension]
        .into_iter()
        .filter_map(|direction| past(direction).map(|angles| (direction, angles)))
        .map(|(direction, (goal, watch))| {
            let way = direction.word();
            let (goal, watch) = (goal.to_degrees(), watch.to_degrees());
            let text = format!(
                "The goal is {goal:.0}° of {way}. In three of four healthy wrists the pressure on the \
                 median nerve stayed below 30 mmHg up to {watch}° of {way}."
            );
            let id = format!("median-nerve-{way}");
            let ground = Ground::Cited(&[KEIR, GELBERMAN]);
            if recorded {
                Finding::new(id, Level::Caution, "Nerve compression at the wrist", ground)
                    .because(format!("Nerve compression at the wrist is recorded. {text} With carpal tunnel syndrome it was higher at rest and at both ends."))
                    .so(format!("Do not pull past {watch}° without the doctor's word. Numbness in a session: ease off at once."))
            } else {
                Finding::new(id, Level::Note, "Median nerve watch", ground)
                    .because(text)
                    .so("Ask about numbness and pins and needles at each visit, more so past that angle.")
            }
        })
        .collect()
}
