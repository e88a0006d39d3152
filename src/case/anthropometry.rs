//! Adult limbs as a survey found them, to catch typing errors. A remark, never a refusal.
//!
//! Source: ANSUR II, public release of 2017 (1,986 women, 4,082 men, 2010 to 2012; Gordon CC et
//! al. 2014, NATICK/TR-15/007, report number from memory). Percentiles and regressions were
//! computed from its records; the suite holds this table against that summary. The people were
//! soldiers without swelling, so an unusual limb may well be right.

use super::fields::Notes;
use crate::units::Length;

/// A measure's range over both sexes, 1st percentile of women to 99th of men, in mm.
struct Usual {
    key: &'static str,
    what: &'static str,
    low: f64,
    high: f64,
}

/// A measure reckoned from another: y = intercept + slope · x, in mm, with its standard error.
struct Regression {
    y: &'static str,
    x: &'static str,
    what: &'static str,
    /// Women's and men's lines: intercept (mm), slope, standard error of the estimate (mm).
    lines: [(f64, f64, f64); 2],
}

/// How many standard errors from both lines make a measure odd.
const ODD: f64 = 3.0;
/// Adults only: the survey has nobody younger.
const ADULT: u32 = 18;

const USUAL: &[Usual] = &[
    Usual { key: "limb.hand_length", what: "hand length", low: 160.0, high: 218.0 },
    Usual { key: "limb.hand_breadth", what: "hand breadth", low: 69.8, high: 99.0 },
    Usual { key: "limb.knuckle_girth", what: "girth of the knuckles", low: 167.0, high: 237.0 },
    Usual { key: "limb.wrist_circumference", what: "wrist circumference", low: 138.0, high: 198.0 },
    Usual { key: "limb.forearm_length", what: "forearm length", low: 209.8, high: 308.0 },
];

const REGRESSIONS: &[Regression] = &[
    Regression {
        y: "limb.hand_breadth",
        x: "limb.hand_length",
        what: "hand breadth beside hand length",
        lines: [(38.734, 0.217_69, 3.16), (38.666, 0.256_60, 3.57)],
    },
    Regression {
        y: "limb.wrist_circumference",
        x: "limb.knuckle_girth",
        what: "wrist circumference beside the girth of the knuckles",
        lines: [(32.691, 0.654_52, 5.29), (32.597, 0.675_13, 5.69)],
    },
    Regression {
        y: "limb.wrist_circumference",
        x: "limb.hand_length",
        what: "wrist circumference beside hand length",
        lines: [(79.021, 0.418_43, 6.60), (81.151, 0.490_31, 7.51)],
    },
    Regression {
        y: "limb.forearm_length",
        x: "limb.hand_length",
        what: "forearm length beside hand length",
        lines: [(52.600, 1.042_23, 11.07), (66.079, 1.044_11, 11.40)],
    },
];

/// What 98 of 100 adults measure, in mm, where the survey has the measure.
pub(super) fn usual(key: &str) -> Option<[Length; 2]> {
    let usual = USUAL.iter().find(|it| it.key == key)?;
    Some([Length::mm(usual.low), Length::mm(usual.high)])
}

/// Notes a remark for each measure that few adults have, or that does not go with another.
pub(super) fn check(notes: &Notes) {
    if notes.whole("patient.age").is_some_and(|age| age < ADULT) {
        return;
    }
    for usual in USUAL {
        if let Some(value) = notes.length(usual.key).map(Length::to_mm)
            && !(usual.low..=usual.high).contains(&value)
        {
            let text = format!(
                "A {} of {} lies outside what 98 of 100 adults measure, {} to {} mm. \
                 Measure again; leave it if it is right.",
                usual.what,
                round(value),
                usual.low,
                usual.high
            );
            notes.remark(usual.key, text);
        }
    }
    for regression in REGRESSIONS {
        if let (Some(x), Some(y)) = (notes.length(regression.x), notes.length(regression.y))
            && let Some((low, high)) = regression.misfit(x, y)
        {
            let text = format!(
                "The {} is odd: {} where {} to {} mm would go together. Measure both again; \
                 leave them if they are right.",
                regression.what,
                round(y.to_mm()),
                low.to_mm().round(),
                high.to_mm().round()
            );
            notes.remark(regression.y, text);
        }
    }
}

impl Regression {
    /// The band that would go with `x`, if `y` lies outside it for both sexes.
    fn misfit(&self, x: Length, y: Length) -> Option<(Length, Length)> {
        let bands = self.lines.map(|(intercept, slope, error)| {
            let middle = intercept + slope * x.to_mm();
            (middle - ODD * error, middle + ODD * error)
        });
        let within = bands.iter().any(|&(low, high)| (low..=high).contains(&y.to_mm()));
        let low = bands[0].0.min(bands[1].0);
        let high = bands[0].1.max(bands[1].1);
        (!within).then_some((Length::mm(low), Length::mm(high)))
    }
}

fn round(mm: f64) -> String {
    format!("{} mm", (mm * 10.0).round() / 10.0)
}
