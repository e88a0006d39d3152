//! Findings from what the pull does to skin, line and tab.

use super::{Finding, Level};
use crate::calc::ceiling::{Allowed, Limit};
use crate::calc::load::Load;
use crate::calc::pull::PullPlan;
use crate::calc::stock::pad_length;
use crate::sources::{Ground, JOHANSSON, LINDER_GANZ, WILLIAMS};
use crate::units::{Force, Length, Pressure};

pub(super) fn findings(pull: &PullPlan) -> Vec<Finding> {
    let loads: Vec<Load> = pull.loads().collect();
    let mut found = Vec::new();
    for (place, id, at) in SKIN {
        if let Some(highest) = loads.iter().map(at).reduce(Pressure::max) {
            found.extend(skin(pull, *place, id, highest));
        }
    }
    found.extend(loads.iter().map(|it| it.strand).reduce(Force::max).and_then(|it| line(pull, it)));
    found.extend(tab(pull, &loads));
    found
}

/// Where the pieces bear, the finding's id, and the pressure there.
type Place = (Limit, &'static str, fn(&Load) -> Pressure);

const SKIN: &[Place] = &[
    (Limit::Cuff, "cuff-pressure", |load| load.cuff.peak),
    (Limit::Forearm, "forearm-pressure", |load| load.forearm.peak),
    (Limit::Elbow, "elbow-pressure", |load| load.elbow),
];

/// Skin: a caution above the plan value, a stop above the stop value.
fn skin(pull: &PullPlan, place: Limit, id: &str, highest: Pressure) -> Option<Finding> {
    let Allowed { skin_plan, skin_warn, skin_stop, is_lowered, .. } = pull.allowed;
    if highest <= skin_plan {
        return None;
    }
    let (level, verdict) = if highest > skin_stop {
        (Level::Stop, format!("above {}, where the plan stops", kpa(skin_stop)))
    } else if highest > skin_warn {
        (Level::Caution, format!("above {}, where care begins to be too little", kpa(skin_warn)))
    } else {
        (Level::Caution, format!("above the {} planned for", kpa(skin_plan)))
    };
    let (where_, cure) = match place {
        Limit::Cuff => ("under the cuff's edge", cuff_cure(highest / skin_plan)),
        Limit::Forearm => (
            "under the forearm piece's edge",
            "Lengthen the forearm piece, let it bear wider, or raise the strip.".to_owned(),
        ),
        _ => ("behind the elbow", elbow_cure(pull, highest / skin_plan)),
    };
    let lowered = if is_lowered { " The limits are halved for skin or sensation." } else { "" };
    let ground = Ground::Cited(&[JOHANSSON, WILLIAMS, LINDER_GANZ]);
    let title = match place {
        Limit::Cuff => "Pressure under the cuff",
        Limit::Forearm => "Pressure under the forearm piece",
        _ => "Pressure behind the elbow",
    };
    Some(
        Finding::new(format!("{id}-{}", pull.direction.word()), level, title, ground)
            .because(format!(
                "At the measured pull the pressure {where_} reaches {}, {verdict}.{lowered} The \
                 limits are a judgement that rests on the works named.",
                kpa(highest)
            ))
            .so(cure),
    )
}

fn cuff_cure(over: f64) -> String {
    let share = (over - 1.0) * 100.0;
    format!(
        "Make the cuff longer or let it bear wider (the area lacks about {share:.0} %), or raise the \
         strip so that the line needs less pull."
    )
}

fn elbow_cure(pull: &PullPlan, over: f64) -> String {
    let needed = pull.geometry.elbow_area.to_mm2() * over / 100.0;
    format!("Pad the elbow and let the piece bear on at least {needed:.0} cm² behind it.")
}

/// The line: a caution past its safety factor, a stop where it would break.
fn line(pull: &PullPlan, highest: Force) -> Option<Finding> {
    let (allowed, breaks) = (pull.allowed.strand?, pull.allowed.strand_breaks?);
    if highest <= allowed {
        return None;
    }
    let level = if highest > breaks { Level::Stop } else { Level::Caution };
    let id = format!("line-{}", pull.direction.word());
    Some(
        Finding::new(id, level, "Line too thin", Ground::CommonPractice)
            .because(format!(
                "Each strand bears {:.1} N; at its crimp and wet the line is good for {:.1} N with \
                 its safety factor, and breaks near {:.1} N. Crimp, water and factor are from memory \
                 or from practitioners' tests: set your own in the case file.",
                highest.to_newtons(),
                allowed.to_newtons(),
                breaks.to_newtons()
            ))
            .so("Take a stronger line, or change the line of pull so that it needs less."),
    )
}

/// The tab: a slipping tab lets the stretch go, so it is a caution and never a stop.
fn tab(pull: &PullPlan, loads: &[Load]) -> Option<Finding> {
    let highest = loads.iter().map(|it| it.at_tab).reduce(Force::max)?;
    let allowed = pull.allowed.tab;
    let width = pull.geometry.tab_width;
    let needed = pad_length(highest, allowed, width);
    if needed <= pull.geometry.pad_length {
        return None;
    }
    let travel = pull.marks().map(|mark| mark.place).reduce(Length::max)?;
    let fits = needed + travel <= pull.geometry.strip_length;
    let strip = if fits {
        String::new()
    } else {
        format!(" The strip must then be {:.0} mm long.", (needed + travel).to_mm())
    };
    let id = format!("tab-{}", pull.direction.word());
    Some(
        Finding::new(id, Level::Caution, "Tab too small", Ground::CommonPractice)
            .because(format!(
                "The tab bears {:.1} N on a pad of {:.0} × {:.0} mm, {:.1} N/cm²; {:.1} N/cm² keeps \
                 the safety factor. The shear strength is from memory (ASTM D5169 is the test): set \
                 your tape's own in the case file.",
                highest.to_newtons(),
                pull.geometry.pad_length.to_mm(),
                width.to_mm(),
                newtons_per_cm2(highest / (pull.geometry.pad_length * width)),
                newtons_per_cm2(allowed)
            ))
            .so(format!(
                "Make the pad at least {:.0} mm long at this width, or take a wider tape.{strip}",
                needed.to_mm()
            )),
    )
}

fn kpa(pressure: Pressure) -> String {
    format!("{:.2} kPa ({:.0} mmHg)", pressure.to_kpa(), pressure.to_mmhg())
}

fn newtons_per_cm2(pressure: Pressure) -> f64 {
    pressure.to_kpa() / 10.0
}
