//! What speaks against the plan, or asks for care: findings with a level, what to do, and why.
//!
//! A stop withholds handout, card, pattern and labels until the case file records who decided otherwise,
//! when and why. Gates in weeks and the pain levels are ours, resting on the works named; the
//! doctor's order overrides them with a recorded reason.

mod bench;
mod conditions;
mod course;
mod device;
mod history;
mod loads;
mod measures;

pub use history::weeks_since;

use jiff::civil::Date;

use crate::case::{Case, Direction, Override, Visit};
use crate::sources::Ground;

use super::dose::WearPlan;
use super::pattern::Pattern;
use super::pull::PullPlan;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Do not go on.
    Stop,
    /// Go on with care.
    Caution,
    /// Know it.
    Note,
}

impl Level {
    /// The word on paper.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

/// Something that speaks against the plan, or asks for care.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Its name in a case file's `overrides`.
    pub id: String,
    /// Its weight.
    pub level: Level,
    /// What was found, in a few words.
    pub title: &'static str,
    /// What was found and why it matters, as sentences.
    pub text: String,
    /// What to do, as sentences.
    pub action: String,
    /// What it rests on.
    pub ground: Ground,
    /// The day of the visit that showed it; nothing where no visit did. A decision of an earlier day does not answer it.
    pub seen: Option<Date>,
    /// Who decided to go on, if anybody did.
    pub answer: Option<Override>,
    /// Whether nobody can decide otherwise: there is nothing right to print.
    pub is_final: bool,
    /// Whether the wearer must go gently: a light stretch, ended before it hurts.
    pub is_gentle: bool,
}

impl Finding {
    fn new(id: impl Into<String>, level: Level, title: &'static str, ground: Ground) -> Self {
        let (text, action) = (String::new(), String::new());
        Self {
            id: id.into(),
            level,
            title,
            text,
            action,
            ground,
            seen: None,
            answer: None,
            is_final: false,
            is_gentle: false,
        }
    }

    /// It was seen on the day of a visit, if on any.
    fn seen_on(mut self, visit: Option<Date>) -> Self {
        self.seen = visit;
        self
    }

    /// The newest decision to go on in spite of it, of the day it was seen or later; an older one is pointed out.
    fn answered_from(&mut self, overrides: &[Override]) {
        let Some(newest) =
            overrides.iter().filter(|it| it.finding == self.id).max_by_key(|it| it.date)
        else {
            return;
        };
        match self.seen {
            Some(seen) if newest.date < seen => self.action.push_str(&format!(
                " The decision of {} on {} is older than the visit that showed this, on {}: who decides anew?",
                newest.by,
                plain_day(newest.date),
                plain_day(seen)
            )),
            _ => self.answer = Some(newest.clone()),
        }
    }

    /// The wearer must go gently.
    fn gently(mut self) -> Self {
        self.is_gentle = true;
        self
    }

    /// A stop that no decision lifts.
    fn for_good(self) -> Self {
        self.for_good_if(true)
    }

    fn for_good_if(mut self, is_final: bool) -> Self {
        self.is_final = is_final;
        self
    }

    fn because(mut self, text: impl Into<String>) -> Self {
        self.text = text.into();
        self
    }

    fn so(mut self, action: impl Into<String>) -> Self {
        self.action = action.into();
        self
    }

    /// Whether it withholds the papers that a stop withholds.
    #[must_use]
    pub fn withholds(&self) -> bool {
        self.level == Level::Stop && self.answer.is_none()
    }

    /// Whether it is a stop against which somebody decided to go on.
    #[must_use]
    pub fn is_answered_stop(&self) -> bool {
        self.level == Level::Stop && self.answer.is_some()
    }

    /// The pull that it is about; nothing where it is about the case.
    #[must_use]
    pub fn pull(&self) -> Option<Direction> {
        let ways = [Direction::Flexion, Direction::Extension];
        ways.into_iter().find(|it| self.id.ends_with(it.word()))
    }
}

/// The day of the newest visit that took something.
fn newest(case: &Case, took: impl Fn(&Visit) -> bool) -> Option<Date> {
    case.visits.iter().rev().find(|it| took(it)).map(Visit::date)
}

/// `13 Apr 2026`.
fn plain_day(date: Date) -> String {
    date.strftime("%-d %b %Y").to_string()
}

/// All findings, the weightiest first.
#[must_use]
pub fn findings(
    case: &Case,
    pulls: &[PullPlan],
    pattern: &Pattern,
    wear: &WearPlan,
) -> Vec<Finding> {
    let mut all = history::findings(case);
    all.extend(conditions::findings(case));
    all.extend(measures::findings(case));
    all.extend(pulls.iter().flat_map(device::findings));
    all.extend(pulls.iter().flat_map(loads::findings));
    all.extend(bench::findings(case, pattern));
    all.extend(course::findings(case, pulls, wear));
    for finding in &mut all {
        if finding.is_final {
            continue;
        }
        finding.answered_from(&case.overrides);
    }
    all.extend(idle_overrides(case, &all));
    all.sort_by_key(|finding| finding.level);
    all
}

/// The id of the finding that an override answers nothing.
pub const IDLE_OVERRIDE: &str = "override-idle";

/// An override that answers nothing may be a typing error: say so.
fn idle_overrides(case: &Case, found: &[Finding]) -> Vec<Finding> {
    let idle = |it: &&Override| {
        !found.iter().any(|finding| finding.id == it.finding && finding.level == Level::Stop)
    };
    case.overrides
        .iter()
        .filter(idle)
        .map(|it| {
            Finding::new(IDLE_OVERRIDE, Level::Note, "Override without a stop", Ground::Reckoned)
                .because(format!("The override of {} answers no stop of this case.", it.finding))
                .so("Take it out, or check the finding's name.")
        })
        .collect()
}
