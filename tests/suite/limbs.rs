//! 20,000 limbs drawn at random from the survey, each read, reckoned and held against what must be true of any plan.
//!
//! Six measures of each sex are drawn together, with the survey's own means, standard deviations and correlations
//! (ANSUR II, summary in `data/`); measures that the survey lacks follow from them by shares with a spread of their
//! own (common practice, no source). The build follows the limb as a therapist would place it.

use nalgebra::{SMatrix, SVector};
use tautline::calc::{self, Plan, PullPlan};
use tautline::case::{self, Case, PageSize, normalised};
use tautline::sheets::{self, Paper};
use tautline::units::Length;

use crate::anthropometry::cell;
use crate::demo;
use crate::estimates::COLUMNS;
use crate::spread::Draws;
use crate::survives::wrongs;

const LIMBS: usize = 20_000;
/// Of these so many are typeset: each paper, on one page size after the other.
const TYPESET: usize = 200;
/// Every so many is written and read again.
const WRITTEN: usize = 20;
/// The bases: a pull toward the palm, one toward the back short of neutral, both.
const BASES: [&str; 3] =
    ["quarry-bend-left-flexion", "saltmarsh-right-extension", "kiln-both-ways"];

/// The measures drawn together, as the survey names them.
const MEASURES: [&str; 6] = [
    "handlength",
    "handbreadth",
    "handcircumference",
    "wristcircumference",
    "radialestylionlength",
    "forearmcircumferenceflexed",
];
/// The survey's joint distribution of one sex: means, and the lower factor of the covariance (mm).
struct Survey {
    means: SVector<f64, 6>,
    factor: SMatrix<f64, 6, 6>,
}

impl Survey {
    fn of(sex: &str) -> Self {
        let summary = |measure: &str, column| cell(&format!("summary,{sex},{measure},"), column);
        let column = |name: &str| COLUMNS.iter().position(|it| *it == name).unwrap();
        let covariance: SMatrix<f64, 6, 6> = SMatrix::from_fn(|i, j| {
            let (one, other) = (MEASURES[i], MEASURES[j]);
            let r = cell(&format!("correlation,{sex},{one},"), 3 + column(other));
            r * summary(one, 5) * summary(other, 5)
        });
        Self {
            means: SVector::from_fn(|i, _| summary(MEASURES[i], 4)),
            factor: covariance.cholesky().expect("a covariance").l(),
        }
    }

    fn draw(&self, draws: &mut Draws) -> [f64; 6] {
        let deviates = SVector::from_fn(|_, _| draws.standard());
        (self.means + self.factor * deviates).into()
    }
}

/// A limb's keys with their lengths (mm).
fn limb(
    [hand, breadth, knuckles, wrist, forearm, girth]: [f64; 6],
    draws: &mut Draws,
) -> Vec<(&'static str, f64)> {
    let mut share = |middle: f64| middle * (1.0 + 0.04 * draws.standard());
    vec![
        ("hand_length", hand),
        ("hand_breadth", breadth),
        ("hand_depth", breadth * share(0.36)),
        ("palm_depth", breadth * share(0.41)),
        ("wrist_depth", wrist * share(0.24)),
        ("wrist_circumference", wrist),
        ("forearm_depth", girth * share(0.23)),
        ("forearm_breadth", girth * share(0.29)),
        ("forearm_length", forearm),
        // Up and down the forearm, and round the elbow's point besides.
        ("around_elbow", forearm * share(2.3).max(2.1)),
        ("elbow_girth", girth * share(1.02)),
        ("knuckle_girth", knuckles),
        ("finger_joint_girth", knuckles * share(0.94)),
    ]
}

/// A base with this limb, and the build placed on it.
fn text_with(base: &str, limb: &[(&str, f64)]) -> String {
    let of = |key: &str| limb.iter().find(|it| it.0 == key).expect(key).1;
    let (hand, wrist, forearm, widest) = (
        of("hand_length"),
        of("wrist_circumference"),
        of("forearm_length"),
        of("elbow_girth") / 1.02,
    );
    let mut text = String::new();
    let whole = demo::text(base);
    // Girths may stand in a list of lines of their own.
    for line in whole.lines().filter(|it| !it.starts_with("    - { from_crease")) {
        let key = line.trim().split(':').next().unwrap_or_default();
        let own = limb.iter().find(|it| it.0 == key && line.starts_with("  "));
        text += &match (key, own) {
            (_, Some((_, value))) => format!("  {key}: {value:.1} mm\n"),
            ("forearm_girths", _) => {
                let girths: Vec<String> =
                    [(0.2, wrist * 1.1), (0.5, (wrist + widest) / 1.9), (0.8, widest)]
                        .map(|(at, girth)| {
                            format!(
                                "{{ from_crease: {:.1} mm, girth: {girth:.1} mm }}",
                                at * forearm
                            )
                        })
                        .into();
                format!("  forearm_girths: [ {} ]\n", girths.join(", "))
            }
            // Straps placed by hand on another limb.
            ("forearm_straps", _) => String::new(),
            ("cuff", _) => format!(
                "      cuff: {{ hole_from_crease: {:.1} mm, edge_from_crease: {:.1} mm, end_from_crease: {:.1} mm }}\n",
                0.72 * hand,
                0.11 * hand,
                0.76 * hand
            ),
            ("strip", _) => format!(
                "      strip: {{ start_from_crease: {:.1} mm, length: {:.1} mm }}\n",
                0.22 * forearm,
                0.42 * forearm
            ),
            _ => format!("{line}\n"),
        };
    }
    text
}

/// Each drawn limb's name and case file.
fn drawn() -> impl Iterator<Item = (String, String)> {
    let surveys = ["female", "male"].map(Survey::of);
    let mut draws = Draws(6_068);
    (0..LIMBS).map(move |index| {
        let limb = limb(surveys[index % 2].draw(&mut draws), &mut draws);
        let base = BASES[index % BASES.len()];
        (format!("limb {index} on {base}"), text_with(base, &limb))
    })
}

fn read(name: &str, text: &str) -> Case {
    match case::read(text.as_bytes()) {
        Ok(sound) => sound.case,
        Err(unsound) => panic!("{name}: {:?}\n{text}", unsound.faults),
    }
}

/// What a number of one pull must lie within, whatever the limb; each by the mechanics alone.
fn outside(pull: &PullPlan) -> Vec<String> {
    let mut wrongs = Vec::new();
    let mut hold = |is: bool, what: String| {
        if !is {
            wrongs.push(what);
        }
    };
    for mark in pull.marks() {
        let line = &mark.line;
        let (arm, length) = (line.moment_arm(), line.length());
        let (turning, along) = (line.rotating_share(), line.axial_share());
        // The hole's distance from the axis bounds every lever of the line.
        let grip = line.grip_on_hand();
        let farthest = Length::mm(libm::hypot(grip.x.to_mm(), grip.y.to_mm()));
        hold(arm.abs() <= farthest + Length::mm(1e-6), format!("arm {arm:?} beyond {farthest:?}"));
        hold(length > Length::ZERO, format!("line {length:?}"));
        hold(
            (turning * turning + along * along - 1.0).abs() < 1e-9,
            format!("{turning} and {along}"),
        );
        hold(
            mark.spread >= Length::ZERO && mark.spread < Length::mm(60.0),
            format!("± {:?}", mark.spread),
        );
        hold(
            mark.angle >= pull.rest && mark.angle <= pull.goal.max(pull.start),
            format!("{:?}", mark.angle),
        );
        if let Some(load) = pull.load(mark) {
            let whole = libm::hypot(load.across.to_newtons(), load.joint.to_newtons());
            hold(
                (whole - load.tension.to_newtons()).abs() < 1e-9 * whole.max(1.0),
                format!("{load:?}"),
            );
            hold(load.cuff.peak >= load.cuff.mean, format!("{:?}", load.cuff));
            hold(
                load.strand.to_newtons() * 2.0 <= load.tension.to_newtons() + 1e-9,
                format!("{load:?}"),
            );
        }
    }
    for made in &pull.loops {
        hold(made.cut > made.closed && made.closed > made.flat, format!("loop {}", made.number));
        hold(
            made.from <= made.to,
            format!("loop {} from {:?} to {:?}", made.number, made.from, made.to),
        );
    }
    wrongs
}

/// What is wrong with the flat pieces, which must be drawn for every limb that was measured whole.
fn of_pieces(plan: &Plan) -> Vec<String> {
    let pattern = &plan.pattern;
    let lost = pattern.refused.iter().map(|it| format!("{it:?} refused"));
    let flat = pattern
        .pieces
        .iter()
        .filter(|it| it.area().to_mm2() <= 0.0)
        .map(|it| format!("{:?} is empty", it.kind));
    lost.chain(flat).collect()
}

#[test]
fn every_limb_of_the_survey_gets_a_sound_plan() {
    let mut marks = 0;
    for (index, (name, text)) in drawn().enumerate() {
        let case = read(&name, &text);
        let plan = calc::plan(&case);
        let mut wrong = wrongs(&case, &plan);
        wrong.extend(plan.pulls.iter().flat_map(outside));
        wrong.extend(of_pieces(&plan));
        assert!(wrong.is_empty(), "{name}: {wrong:?}");
        marks += plan.pulls.iter().map(|it| it.marks().count()).sum::<usize>();
        if index % WRITTEN == 0 {
            let written = normalised(&case);
            let again = case::read(written.as_bytes()).expect(&name).case;
            assert_eq!(normalised(&again), written, "{name}: not the same when written and read");
        }
    }
    assert!(marks > 5 * LIMBS, "{marks} marks: too few plans have any");
}

#[test]
fn a_sample_of_the_survey_is_typeset() {
    let step = LIMBS / TYPESET;
    for (index, (name, text)) in drawn().step_by(step).enumerate() {
        let case = read(&name, &text);
        let page = [PageSize::Letter, PageSize::A4][index % 2];
        let set = sheets::typeset(&Paper::ALL, &case, &calc::plan(&case), page);
        assert!(set.is_ok(), "{name} {page:?}: {:?}", set.err());
    }
}
