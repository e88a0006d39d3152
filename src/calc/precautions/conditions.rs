//! Findings from conditions that bear on stretching.

use jiff::civil::Date;

use super::history::{ago, weeks_since};
use super::{Finding, Level};
use crate::calc::hold::watch_angle;
use crate::case::{Case, Condition, Direction, Tendon};
use crate::sources::{
    CASAVANT, CRAWFORD, EXTENSOR_PROTOCOL, FLEXOR_PROTOCOL, GELBERMAN, Ground, HARDEN, KEIR,
    PAIN_FEDERATION, POOR_FEELING, STRETCH_PAGES, TRIAL_GATE,
};

/// Weeks from which a repaired flexor tendon may be stretched hard; gentle passive extension comes
/// earlier, in weeks 5 to 8, but a stretch that is held for half an hour is not that.
const FLEXOR_EARLIEST: i32 = 8;
/// Weeks from which a splint may stretch against a repaired extensor tendon.
const EXTENSOR_EARLIEST: i32 = 6;
/// Weeks from which a repaired tendon is no longer a gate.
const TENDON_FULL: i32 = 12;

pub(super) fn findings(case: &Case) -> Vec<Finding> {
    let conditions = case.history.conditions.iter();
    conditions.filter_map(|it| condition(case, it)).chain(nerve(case)).collect()
}

fn condition(case: &Case, condition: &Condition) -> Option<Finding> {
    let caution = |id: &str, title, ground| Finding::new(id, Level::Caution, title, ground);
    let weak = Ground::Cited(&[STRETCH_PAGES]);
    Some(match condition {
        Condition::Diabetes => caution("diabetes", "Diabetes", Ground::Cited(&[POOR_FEELING]))
            .because("With diabetes or poor feeling an orthosis leaflet asks for an earlier call about any mark.")
            .so("Test feeling. Look at the skin after each session. Call early about any mark."),
        Condition::BloodThinners => caution("blood-thinners", "Medicine against clotting", weak)
            .because("Bruises and bleeding into the joint come more easily.")
            .so("Gentlest stretch. A new bruise or a sudden swelling: stop and call.")
            .gently(),
        Condition::Osteoporosis => caution("osteoporosis", "Thin bone", weak)
            .because("Thin bone breaks more easily under a lever.")
            .so("Ask the doctor whether stretch with a lever is allowed. Gentlest stretch.")
            .gently(),
        Condition::InflammatoryArthritis => {
            caution("inflammatory-arthritis", "Inflammatory joint disease", weak)
                .because(
                    "An inflamed joint must not be stretched, and a loose one gains nothing by it.",
                )
                .so("Stretch only between flares, on the doctor's order.")
                .gently()
        }
        Condition::ComplexRegionalPain => {
            let ground = Ground::Cited(&[PAIN_FEDERATION, HARDEN, TRIAL_GATE]);
            Finding::new("complex-regional-pain", Level::Stop, "Complex regional pain syndrome", ground)
                .because("Splints are rarely indicated there unless they help function or a contracture; the trial of this class of orthosis left it out.")
                .so("Go on only on the word of the doctor who treats the pain, recorded as an override.")
                .gently()
        }
        Condition::HeterotopicOssification => {
            let ground = Ground::Cited(&[CASAVANT, CRAWFORD]);
            caution("heterotopic-ossification", "Bone forming in soft tissue", ground)
                .because("In 12 burned elbows, stretch past the pain-free range in the acute phase went on to a stiff joint; gentle passive motion is not that.")
                .so("Stay within the pain-free range. Sudden loss of motion with pain: stop and send back.")
                .gently()
        }
        Condition::Infection => Finding::new("infection", Level::Stop, "Infection", weak)
            .because("An infection of the limb is recorded.")
            .so("Do not stretch. Send to the doctor."),
        Condition::TendonRepair(tendon, day) => tendon_repair(case, *tendon, *day)?,
        Condition::Other(words) => {
            caution("other-condition", "Another condition", Ground::CommonPractice)
                .because(format!("The file records: {words}. No rule here covers it."))
                .so(format!("On {words}: the clinician judges whether it bears on stretching."))
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
    let article = if tendon == Tendon::Extensor { "An" } else { "A" };
    let text = format!(
        "{article} {name} tendon was repaired {} ago; {} pulls it taut.",
        ago(weeks),
        taut_in.word()
    );
    Some(if loaded && weeks < earliest {
        Finding::new(
            format!("tendon-too-early-{name}"),
            Level::Stop,
            "Tendon repair too recent",
            ground,
        )
        .because(format!("{text} One published protocol allows that from week {earliest}."))
        .so("Wait, or record the surgeon's order as an override.")
        .gently()
    } else {
        Finding::new(
            format!("tendon-repair-{name}"),
            Level::Caution,
            "Recent tendon repair",
            ground,
        )
        .because(format!("{text} One published protocol lifts its limits at {TENDON_FULL} weeks."))
        .so("Have the surgeon confirm the order and name any limit of motion.")
        .gently()
    })
}

/// Watch the median nerve where the goal lies past the published angles.
fn nerve(case: &Case) -> Vec<Finding> {
    let recorded = case.history.conditions.contains(&Condition::NerveCompression);
    let past = |direction: Direction| {
        let watch = watch_angle(direction);
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
            let ground = if recorded { Ground::Cited(&[KEIR, GELBERMAN]) } else { Ground::Cited(&[KEIR]) };
            if recorded {
                Finding::new(id, Level::Caution, "Nerve compression at the wrist", ground)
                    .because(format!("Nerve compression at the wrist is recorded. {text} With carpal tunnel syndrome it was higher at rest and at both ends."))
                    .so(format!("Do not pull past {watch}° without the doctor's word. Numbness in a session: ease off at once."))
                    .gently()
            } else {
                Finding::new(id, Level::Note, "Median nerve watch", ground)
                    .because(text)
                    .so("Ask about numbness and pins and needles at each visit, more so past that angle.")
            }
        })
        .collect()
}
