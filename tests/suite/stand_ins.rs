//! What stands in for a missing measure, and what may not; the survey's own limbs.

use tautline::calc;
use tautline::calc::pattern::{Kind, Lack, Measure, pattern};
use tautline::case::{Case, Swelling};
use tautline::units::Length;

use crate::anthropometry::cell;
use crate::demo;
use crate::shapes::piece;

const BASE: &str = "quarry-bend-left-flexion";

fn mm(value: f64) -> Length {
    Length::mm(value)
}

#[test]
fn where_all_is_measured_nothing_stands_in() {
    assert_eq!(pattern(&demo::case(BASE)).stand_ins, []);
    assert_eq!(pattern(&demo::case(BASE)).refused, []);
}

/// Which of the six measures were taken.
#[derive(Clone, Copy)]
struct Taken(u32);

impl Taken {
    fn has(self, measure: Measure) -> bool {
        self.0 >> measure as u32 & 1 == 1
    }

    fn case(self, age: u32, swelling: Swelling) -> Case {
        let mut case = demo::case(BASE);
        let limb = &mut case.limb;
        limb.wrist_circumference = limb.wrist_circumference.filter(|_| self.has(Measure::Wrist));
        limb.knuckle_girth = limb.knuckle_girth.filter(|_| self.has(Measure::Knuckles));
        limb.finger_joint_girth =
            limb.finger_joint_girth.filter(|_| self.has(Measure::FingerJoints));
        limb.elbow_girth = limb.elbow_girth.filter(|_| self.has(Measure::Elbow));
        limb.around_elbow = limb.around_elbow.filter(|_| self.has(Measure::ElbowPath));
        limb.forearm_girths.retain(|_| self.has(Measure::Forearm));
        case.patient.age = age;
        case.history.swelling = swelling;
        case
    }
}

/// The rules in words: what is missing is estimated from one measure that was taken; the survey's lines
/// serve adults without marked swelling alone.
fn rule(
    is_taken: bool,
    measure: Measure,
    (rests_on, is_there): (Measure, bool),
    never: Option<Lack>,
) -> Result<Option<Measure>, Lack> {
    match (is_taken, is_there, never) {
        (true, _, _) => Ok(None),
        (false, false, _) => Err(Lack::Stacked(measure, rests_on)),
        (false, true, Some(never)) => Err(never),
        (false, true, None) => Ok(Some(measure)),
    }
}

/// Stand-ins or lacks of a piece, in the order of its measures.
fn expected(rules: &[Result<Option<Measure>, Lack>]) -> Result<Vec<Measure>, Vec<Lack>> {
    let lacks: Vec<Lack> = rules.iter().filter_map(|it| it.err()).collect();
    if lacks.is_empty() {
        Ok(rules.iter().filter_map(|it| it.ok().flatten()).collect())
    } else {
        Err(lacks)
    }
}

/// Every combination of measures, for an adult, a child, and a swollen limb.
#[test]
fn an_estimate_never_rests_on_another() {
    use Measure::{Elbow, ElbowPath, FingerJoints, Forearm, Knuckles, Wrist};
    let mut refused = 0;
    for bits in 0..64 {
        for (age, swelling) in [
            (57, Swelling::Mild),
            (18, Swelling::None),
            (17, Swelling::None),
            (57, Swelling::Marked),
        ] {
            let taken = Taken(bits);
            let never = |measure| match (age < 18, swelling) {
                (true, _) => Some(Lack::NotAdult(measure)),
                (_, Swelling::Marked) => Some(Lack::Swollen(measure)),
                _ => None,
            };
            let wrist =
                rule(taken.has(Wrist), Wrist, (Knuckles, taken.has(Knuckles)), never(Wrist));
            let forearm = [
                wrist,
                rule(taken.has(Forearm), Forearm, (Wrist, taken.has(Wrist)), never(Forearm)),
                rule(taken.has(Elbow), Elbow, (Forearm, taken.has(Forearm)), None),
                rule(taken.has(ElbowPath), ElbowPath, (ElbowPath, true), never(ElbowPath)),
            ];
            let cuff = [
                wrist,
                rule(taken.has(Knuckles), Knuckles, (Knuckles, true), never(Knuckles)),
                rule(taken.has(FingerJoints), FingerJoints, (Knuckles, taken.has(Knuckles)), None),
            ];
            let drawn = pattern(&taken.case(age, swelling));
            let mut stand_ins: Vec<Measure> = Vec::new();
            for (kind, rules) in
                [(Kind::ForearmPiece, expected(&forearm)), (Kind::Cuff, expected(&cuff))]
            {
                let refusal = drawn.refused.iter().find(|it| it.kind == kind);
                assert_eq!(refusal.is_none(), drawn.pieces.iter().any(|it| it.kind == kind));
                match rules {
                    Ok(measures) => {
                        assert_eq!(refusal, None, "{bits:06b} {age}");
                        stand_ins.extend(measures);
                    }
                    Err(lacks) => {
                        assert_eq!(refusal.map(|it| &it.lacks), Some(&lacks), "{bits:06b} {age}");
                        refused += 1;
                    }
                }
            }
            // Both pieces may need the wrist; it stands in once.
            let mut once: Vec<Measure> = Vec::new();
            for measure in stand_ins {
                if !once.contains(&measure) {
                    once.push(measure);
                }
            }
            let ours: Vec<Measure> = drawn.stand_ins.iter().map(|it| it.measure).collect();
            assert_eq!(ours, once, "{bits:06b} {age}");
        }
    }
    assert!(refused > 100, "{refused}");
}

/// The survey's limb of one sex and percentile as a case: device and depths in proportion to the base
/// case, one girth of the forearm, no tape round the elbow and no girth of elbow or finger joints.
fn survey_limb(sex: &str, column: usize) -> Case {
    let of = |measure: &str| cell(&format!("summary,{sex},{measure},"), column);
    let (long, broad) = (of("handlength"), of("handbreadth"));
    let (along, across) = (long / 184.0, broad / 82.0);
    let forearm = of("radialestylionlength");
    let cuff = format!(
        "hole_from_crease: {:.1} mm, edge_from_crease: 20 mm, end_from_crease: {:.1} mm",
        135.0 * along,
        142.0 * along
    );
    let lengths = [
        ("hand_length", long),
        ("hand_breadth", broad),
        ("hand_depth", 30.0 * across),
        ("palm_depth", 34.0 * across),
        ("wrist_depth", 40.0 * across),
        ("forearm_depth", 62.0 * across),
        ("forearm_breadth", 70.0 * across),
        ("wrist_circumference", of("wristcircumference")),
        ("knuckle_girth", of("handcircumference")),
        ("forearm_length", forearm),
    ];
    let mut text = String::new();
    for line in demo::text(BASE).lines() {
        let key = line.trim().split(':').next().unwrap_or_default();
        if let Some((_, value)) = lengths.iter().find(|(it, _)| *it == key) {
            text.push_str(&format!("  {key}: {value:.2} mm\n"));
        } else if key == "forearm_girths" {
            text.push_str(&format!(
                "  {key}: [ {{ from_crease: {:.1} mm, girth: {:.1} mm }} ]\n",
                forearm * 0.75,
                of("forearmcircumferenceflexed")
            ));
        } else if key == "cuff" {
            text.push_str(&format!("      cuff: {{ {cuff} }}\n"));
        } else if !["around_elbow", "elbow_girth", "finger_joint_girth"].contains(&key) {
            text.push_str(&format!("{line}\n"));
        }
    }
    demo::read(&text)
}

/// Bounds of what is plausible, each by reason: the forearm piece is both runs along the forearm less its
/// edges and a bend behind the elbow that is longer than the forearm is broad and shorter than the girth's
/// half and a hand's breadth; it is half the widest girth less both gaps wide. The cuff goes round the hand
/// less its open side but for its tongues (8 mm each), and is as long as it was planned.
#[test]
fn the_surveys_limbs_get_plausible_pieces() {
    let mut faults = Vec::new();
    for sex in ["female", "male"] {
        for (column, percentile) in [(8, 5), (10, 50), (12, 95)] {
            let case = survey_limb(sex, column);
            let what = format!("{sex} {percentile}");
            let plan = calc::plan(&case);
            let bench = [
                "strap-over-lane",
                "strip-past-edges",
                "hole-near-edge",
                "piece-small",
                "cuff-small",
                "not-drawn",
            ];
            let found: Vec<&str> = plan
                .findings
                .iter()
                .map(|it| it.id.as_str())
                .filter(|it| bench.contains(it))
                .collect();
            faults.extend(found.iter().map(|it| format!("{what}: {it}")));
            let is_too_big = plan.findings.iter().any(|it| it.id == "sheet-too-small");
            assert_eq!(is_too_big, !plan.pattern.sheet.too_big.is_empty(), "{what}");
            assert_eq!(plan.pattern.refused, [], "{what}");
            let stand_ins: Vec<Measure> =
                plan.pattern.stand_ins.iter().map(|it| it.measure).collect();
            assert_eq!(
                stand_ins,
                [Measure::Elbow, Measure::ElbowPath, Measure::FingerJoints],
                "{what}"
            );

            let limb = &case.limb;
            let widest = limb.forearm_girths[0].girth;
            let forearm = piece(&case, Kind::ForearmPiece).extent();
            let bend = forearm.width() - (limb.forearm_length - mm(12.0)) * 2.0;
            let most = widest / 2.0 + limb.hand_breadth;
            assert!(limb.forearm_breadth < bend && bend < most, "{what}: {bend:?}");
            assert!((forearm.height() - (widest / 2.0 - mm(30.0) / 2.0)).abs() < mm(1.0), "{what}");
            let cuff = piece(&case, Kind::Cuff).extent();
            let round = limb.knuckle_girth.unwrap() + mm(6.0) - mm(40.0);
            assert!((cuff.width() - round - mm(8.0)).abs() <= mm(9.0), "{what}: {cuff:?}");
            let planned = limb.hand_length * (142.0 / 184.0) - mm(20.0);
            assert!((cuff.height() - planned).abs() < mm(0.2), "{what}: {cuff:?}");
        }
    }
    // A 25 mm tab with 4 mm on each side leaves under 10 mm beside it on the wrist of the smallest.
    assert_eq!(faults, ["female 5: strap-over-lane"]);
}
