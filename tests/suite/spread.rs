//! The ± of a mark against a Monte Carlo run of the same model.

use tautline::calc::geometry::Geometry;
use tautline::calc::loops::hole_at;
use tautline::calc::{self};
use tautline::case::Case;
use tautline::units::Length;

use crate::demo;

/// Draws enough that the standard deviation itself is known to half a percent.
const DRAWS: usize = 20_000;
/// The line's length bends a little over the errors, which first order leaves out.
const TOLERANCE: f64 = 0.03;

/// A small seeded generator (`SplitMix64`: Steele, Lea, Flood 2014) with normal deviates by Box and
/// Muller 1958.
pub struct Draws(pub u64);

impl Draws {
    /// Even over [0, 1).
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal with mean 0 and standard deviation 1.
    pub fn standard(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.uniform())).sqrt();
        radius * libm::cos(std::f64::consts::TAU * self.uniform())
    }

    fn normal(&mut self, deviation: Length) -> Length {
        deviation * self.standard()
    }
}

/// The case as it might truly be: each tape length and depth off by its measuring error.
fn truly(case: &Case, draws: &mut Draws) -> Case {
    let mut case = case.clone();
    let (tape, depth) = (case.measuring_error.tape, case.measuring_error.depth);
    let pull = &mut case.orthosis.pulls[0];
    for length in [
        &mut pull.cuff.hole_from_crease,
        &mut pull.cuff.edge_from_crease,
        &mut pull.forearm_piece.edge_from_crease,
        &mut pull.strip.start_from_crease,
    ] {
        *length = *length + draws.normal(tape);
    }
    let limb = &mut case.limb;
    limb.axis_past_crease =
        Some(limb.axis_past_crease.unwrap_or(Length::mm(10.0)) + draws.normal(tape));
    for depth_of in
        [&mut limb.hand_depth, &mut limb.palm_depth, &mut limb.wrist_depth, &mut limb.forearm_depth]
    {
        *depth_of = depth_of.map(|it| it + draws.normal(depth));
    }
    for height in [
        &mut pull.cuff.hole_height,
        &mut pull.cuff.edge_height,
        &mut pull.forearm_piece.edge_height,
        &mut pull.strip.height,
    ] {
        *height = height.map(|it| it + draws.normal(depth));
    }
    case
}

#[test]
fn the_spread_agrees_with_monte_carlo() {
    for name in ["quarry-bend-left-flexion", "saltmarsh-right-extension", "fell-farm-two-loops"] {
        let case = demo::case(name);
        let plan = calc::plan(&case);
        let mut draws = Draws(2_207);
        let made = &plan.pulls[0].loops[0];
        for mark in [made.marks.first().unwrap(), &made.marks[made.marks.len() / 2]] {
            let places: Vec<f64> = (0..DRAWS)
                .map(|_| {
                    let truth = truly(&case, &mut draws);
                    let geometry = Geometry::of(&truth, &truth.orthosis.pulls[0]);
                    hole_at(&geometry, made.line, mark.angle).to_mm()
                })
                .collect();
            let mean = places.iter().sum::<f64>() / DRAWS as f64;
            let square = |it: &f64| (it - mean) * (it - mean);
            let deviation = (places.iter().map(square).sum::<f64>() / (DRAWS - 1) as f64).sqrt();
            let told = mark.spread.to_mm();
            assert!((told / deviation - 1.0).abs() < TOLERANCE, "{name}: {told} and {deviation}");
        }
    }
}
