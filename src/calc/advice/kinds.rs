//! What can be suggested, and the reasons there are for it.

use jiff::civil::Date;

use crate::calc::course::{Dose, Score, ScoreCourse};
use crate::calc::progress::Class;
use crate::calc::trend::Interval;
use crate::case::{Direction, SkinSeen};
use crate::units::{Angle, AngleRate};

/// What the numbers suggest for one pull, the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Next {
    /// Stop and send back to the doctor.
    ReferBack,
    /// Take the loop off and make a longer one.
    LongerLoop,
    /// Not worn before range, tab and loop are measured again.
    MeasureAgain,
    /// The plan is over: ask whether the course goes on.
    SetCourse,
    /// Not past the angle that waits for the doctor's word.
    DoctorsWord,
    /// A gentler stretch, or a pause.
    EaseOff,
    /// Stay, check the end feel and speak with the doctor.
    AskDoctor,
    /// Stay where it is.
    Hold,
    /// The loop in use has no room left.
    NewLoop,
    /// This way is done; the other way remains.
    OtherDirection,
    /// The goal is reached.
    GoalReached,
    /// Go on to the next mark.
    MoveOn,
}

/// How far the wearer goes in a session until the clinic says otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stretch {
    /// From today's mark on as it gives.
    On,
    /// At today's mark.
    Stay,
    /// Gentler than today's mark.
    Ease,
}

impl Next {
    /// What it asks of the wearer.
    #[must_use]
    pub fn stretch(self) -> Stretch {
        match self {
            Self::MoveOn | Self::NewLoop => Stretch::On,
            Self::AskDoctor | Self::Hold | Self::OtherDirection | Self::GoalReached => {
                Stretch::Stay
            }
            Self::ReferBack
            | Self::LongerLoop
            | Self::MeasureAgain
            | Self::SetCourse
            | Self::DoctorsWord
            | Self::EaseOff => Stretch::Ease,
        }
    }

    /// Whether it asks that the orthosis is not worn as it is.
    #[must_use]
    pub fn is_stop(self) -> bool {
        self.stretch() == Stretch::Ease
    }
}

/// What a visit takes before going on is suggested.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Passive range toward the pull.
    Range,
    /// Skin under the orthosis.
    Skin,
    /// Pain.
    Pain,
}

/// What the newest visit found where nothing holds the course up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// The skin.
    pub skin: SkinSeen,
    /// The highest pain told that day, of ten.
    pub pain: u32,
    /// What was worn since the visit before.
    pub worn: WornOf,
    /// The way that passive range was not taken, if it was not.
    pub unseen: Option<Direction>,
}

/// What was worn of what was planned since the visit before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WornOf {
    /// No log was read.
    NoLog,
    /// So many minutes, and the plan ended in between.
    PastPlan(u32),
    /// This share of the planned minutes.
    Share(f64),
}

/// Why something is suggested.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Passive range fell by more than measuring error from its best.
    RangeLost {
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// So did passive range the other way, which this pull works against.
    OtherWayLost {
        /// Which way.
        direction: Direction,
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// So did active range toward the pull.
    ActiveLost {
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// An outcome score is worse than its best by what patients call important.
    ScoreWorse {
        /// Which.
        score: Score,
        /// By so many points.
        by: f64,
    },
    /// Since the first visit the range falls, beyond what scatter and goniometer explain.
    Falling {
        /// The slope.
        slope: AngleRate,
        /// The wider of its intervals, below nought.
        interval: Interval,
    },
    /// More than the planned minutes were worn.
    WornOver {
        /// The share.
        share: f64,
    },
    /// A place of the tab is doubted.
    Doubted,
    /// The therapist's rule for a plateau is met.
    Plateau {
        /// The change.
        by: Angle,
        /// From this day.
        from: Date,
        /// To this.
        to: Date,
    },
    /// The skin broke.
    SkinBroken,
    /// Redness stayed longer than 20 minutes.
    RednessStays,
    /// Pain rose by two points or more above the least told before.
    PainRose {
        /// From the least.
        from: u32,
        /// To this.
        to: u32,
    },
    /// Less than half of the planned minutes were worn.
    LittleWorn {
        /// The share.
        share: f64,
    },
    /// The loop in use ends within so much of today's range.
    LoopEnds {
        /// Today's range.
        at: Angle,
        /// Where it ends.
        to: Angle,
    },
    /// The loop in use rests past today's range: it would pull harder than the wrist allows.
    LoopTooShort {
        /// Today's range.
        at: Angle,
        /// Where the loop rests.
        rest: Angle,
    },
    /// Today's range is at the goal.
    AtGoal,
    /// The other direction is further from its goal.
    OtherIsFurther,
    /// A stop that no one answered, by its title.
    Stop {
        /// The finding's title.
        title: &'static str,
    },
    /// A stop that somebody answered: the course goes on against it.
    Answered {
        /// The finding's title.
        title: &'static str,
    },
    /// Pain at rest or while worn is high.
    Painful {
        /// Of ten.
        pain: u32,
    },
    /// More was worn than a day's limit allows.
    TooMuchWorn,
    /// Today's range lies past the angle that waits for the doctor's word.
    DoctorsWord,
    /// The newest visit did not take these.
    NotTaken(Vec<Look>),
    /// A warm-up test lies nearest another class than this orthosis.
    WarmUp {
        /// Warm less cold.
        gain: Angle,
        /// Whose level is nearest.
        nearest: Class,
    },
    /// What was looked at, and nothing of it holds the course up.
    Looked(Looked),
}

/// A suggestion with its reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// For which pull.
    pub pull: Direction,
    /// What.
    pub next: Next,
    /// Why, at least one.
    pub reasons: Vec<Reason>,
    /// What is spoken over with the doctor beside it, where something graver decides.
    pub ask: Vec<Reason>,
    /// What is on file and points elsewhere, though it does not decide.
    pub yet: Vec<Reason>,
}

/// The course of a case with visits.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Dose between visits, oldest first.
    pub doses: Vec<Dose>,
    /// Scores that were taken.
    pub scores: Vec<ScoreCourse>,
    /// A suggestion for each pull.
    pub advice: Vec<Advice>,
}
