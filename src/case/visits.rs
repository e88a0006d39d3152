//! What each visit after the first fit adds: ranges, readings, pain, skin, wear, marks, scores, changes.

use jiff::civil::Date;

use super::bounds;
use super::fields::{Form, filled_list, group, list};
use super::forms::{SENTENCE, angle, choice, date, length, refuse, text, whole};
use super::measures::{Motion, Range, Reading, range, readings};
use super::orthosis::{DIRECTIONS, Direction};
use super::person::{EndFeel, Sensation, Swelling};
use super::quantity::number;
use super::shape::Shape;
use crate::units::{Angle, Length};

/// One visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// The day and the ranges measured on it.
    pub motion: Motion,
    /// Force gauge readings of that day.
    pub torque: Vec<Reading>,
    /// Pain, 0 to 10.
    pub pain: Pain,
    /// How the skin was under the orthosis.
    pub skin: Option<SkinSeen>,
    /// What the hand feels.
    pub sensation: Option<Sensation>,
    /// How swollen it is.
    pub swelling: Option<Swelling>,
    /// How the end of passive motion feels.
    pub end_feel: Option<EndFeel>,
    /// What was worn since the visit before.
    pub worn: Option<Worn>,
    /// The mark the patient sets by now, for each pull.
    pub marks: Vec<MarkReached>,
    /// Where the tab's front edge stood at measured angles.
    pub tab: Vec<TabSeen>,
    /// Outcome scores, as totals the clinic scored.
    pub scores: Scores,
    /// What was changed: new loop, moved strip, new straps.
    pub changes: Vec<String>,
    /// Anything else.
    pub remark: Option<String>,
}

/// The therapist's own rule for a plateau.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plateau {
    /// Over so many weeks.
    pub weeks: u32,
    /// A change of at most this.
    pub degrees: Angle,
}

/// Pain on a scale from 0 to 10.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pain {
    /// At rest.
    pub rest: Option<u32>,
    /// While the orthosis is worn.
    pub worn: Option<u32>,
}

/// How the skin was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SkinSeen {
    /// Clear.
    Clear,
    /// Red, gone within 20 minutes.
    RedBriefly,
    /// Red for longer than 20 minutes.
    RedLong,
    /// Broken or blistered.
    Broken,
}

impl SkinSeen {
    /// The word in a case file.
    #[must_use]
    pub fn word(self) -> &'static str {
        SKINS.iter().find(|(_, it)| *it == self).map_or("", |(word, _)| word)
    }
}

const SKINS: &[(&str, SkinSeen)] = &[
    ("clear", SkinSeen::Clear),
    ("red_briefly", SkinSeen::RedBriefly),
    ("red_long", SkinSeen::RedLong),
    ("broken", SkinSeen::Broken),
];

/// What was worn since the visit before, from the patient's log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Worn {
    /// Sessions.
    pub sessions: u32,
    /// Minutes in all.
    pub minutes: u32,
}

/// A mark that the patient sets by now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MarkReached {
    /// Of which pull.
    pub pull: Direction,
    /// Its number on the papers in force.
    pub mark: u32,
}

/// Where the tab's front edge stood at a measured angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TabSeen {
    /// Of which pull.
    pub pull: Direction,
    /// The wrist's angle toward the pull.
    pub angle: Angle,
    /// m: from the strip's end nearest the hand.
    pub place: Length,
}

/// Outcome scores, each from 0 (best) to 100 (worst); the questionnaires are never reproduced.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Scores {
    /// Disabilities of the Arm, Shoulder and Hand.
    pub dash: Option<f64>,
    /// Its short form.
    pub quick_dash: Option<f64>,
    /// Patient-Rated Wrist Evaluation.
    pub prwe: Option<f64>,
}

pub(super) fn visits() -> Form<Vec<Visit>> {
    list(group(|f| {
        let date = f.need("date", date());
        let passive = f.may("passive", range());
        let active = f.may("active", range());
        let other_side = f.may("other_side", range());
        let torque = f.may("torque", readings());
        let pain = f.may("pain", pain());
        let skin = f.may("skin", choice(SKINS));
        let sensation = f.may("sensation", choice(Sensation::WORDS));
        let swelling = f.may("swelling", choice(Swelling::WORDS));
        let end_feel = f.may("end_feel", choice(EndFeel::WORDS));
        let worn = f.may("worn", worn());
        let marks = f.may("marks", marks());
        let tab = f.may("tab", list(tab()));
        let scores = f.may("scores", scores());
        let changes = f.may("changes", changes());
        let remark = f.may("remark", text(SENTENCE));
        Some(Visit {
            motion: Motion {
                date: date?,
                passive: passive.unwrap_or_default(),
                active: active.unwrap_or_default(),
                other_side: other_side.unwrap_or_default(),
            },
            torque: torque.unwrap_or_default(),
            pain: pain.unwrap_or_default(),
            skin,
            sensation,
            swelling,
            end_feel,
            worn,
            marks: marks.unwrap_or_default(),
            tab: tab.unwrap_or_default(),
            scores: scores.unwrap_or_default(),
            changes: changes.unwrap_or_default(),
            remark,
        })
    }))
}

pub(super) fn plateau() -> Form<Plateau> {
    group(|f| {
        let weeks = f.need("weeks", whole(1, 26, " of weeks"));
        let degrees = f.need("degrees", angle(bounds::PLATEAU));
        Some(Plateau { weeks: weeks?, degrees: degrees? })
    })
}

fn pain() -> Form<Pain> {
    group(|f| {
        let rest = f.may("rest", whole(0, 10, ""));
        let worn = f.may("worn", whole(0, 10, ""));
        Some(Pain { rest, worn })
    })
}

fn worn() -> Form<Worn> {
    group(|f| {
        let sessions = f.need("sessions", whole(0, 2_000, " of sessions since the visit before"));
        let minutes = f.need("minutes", whole(0, 60_000, " of minutes since the visit before"));
        Some(Worn { sessions: sessions?, minutes: minutes? })
    })
}

fn marks() -> Form<Vec<MarkReached>> {
    group(|f| {
        let flexion = f.may("flexion", whole(0, 60, "")).map(|it| (Direction::Flexion, it));
        let extension = f.may("extension", whole(0, 60, "")).map(|it| (Direction::Extension, it));
        let both = flexion.into_iter().chain(extension);
        Some(both.map(|(pull, mark)| MarkReached { pull, mark }).collect())
    })
}

pub(super) fn tab() -> Form<TabSeen> {
    group(|f| {
        let pull = f.need("pull", choice(DIRECTIONS));
        let angle = f.need("angle", angle(bounds::RANGE));
        let place = f.need("place", length(bounds::TAB_PLACE));
        Some(TabSeen { pull: pull?, angle: angle?, place: place? })
    })
}

fn scores() -> Form<Scores> {
    group(|f| {
        let dash = f.may("dash", score());
        let quick_dash = f.may("quick_dash", score());
        let prwe = f.may("prwe", score());
        Some(Scores { dash, quick_dash, prwe })
    })
}

/// A total from 0 to 100.
fn score() -> Form<f64> {
    const ACCEPTED: &str = "a total from 0 (best) to 100 (worst), as the clinic scored it";
    Form::new(
        ACCEPTED,
        || Shape::Number { min: 0.0, max: 100.0 },
        |field| {
            let read = field.scalar(ACCEPTED)?.trim();
            match number(read) {
                Some(value) if (0.0..=100.0).contains(&value) => Some(value),
                _ => refuse(field, read, ACCEPTED, "score the sheet again"),
            }
        },
    )
}

fn changes() -> Form<Vec<String>> {
    filled_list("a list of what was changed, each item a few words behind `- `", text(SENTENCE))
}

/// The day and ranges of a visit as a point of the course.
impl Visit {
    /// Its day.
    #[must_use]
    pub fn date(&self) -> Date {
        self.motion.date
    }

    /// Whether any range was measured.
    #[must_use]
    pub fn has_ranges(&self) -> bool {
        let motion = &self.motion;
        [&motion.passive, &motion.active, &motion.other_side]
            .into_iter()
            .any(|it| *it != Range::default())
    }
}
