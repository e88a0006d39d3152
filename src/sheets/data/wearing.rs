//! The pictures of putting on and taking off: what the pulls share once, and each pull's own tab.

use serde::Serialize;

use super::drawing::Drawing;
use super::frame::pull_side;
use super::handout::given_out;
use crate::calc::Plan;
use crate::calc::build::build;
use crate::calc::figure::{self, doffing_sequence, donning_sequence};
use crate::calc::line::TautLine;
use crate::calc::loops::Mark;
use crate::calc::pull::PullPlan;
use crate::case::{Case, Direction, Pull, Side};
use crate::sheets::wording::mm0;
use crate::units::{Angle, Length};

/// The one picture that each pull has of its own.
const OWN: &str = "tab";
/// The last picture of putting on, after each pull's own.
const LAST: &str = "check";

/// All pictures, in the order they are followed.
#[derive(Debug, Serialize)]
pub(super) struct Wearing {
    /// Up to the tab.
    on: Vec<Picture>,
    /// The tab at today's mark, by pull.
    tabs: Vec<Tab>,
    /// What is checked last.
    check: Option<Picture>,
    /// How it comes off.
    off: Vec<Picture>,
}

/// One picture; its words have its name.
#[derive(Debug, Serialize)]
struct Picture {
    key: &'static str,
    figure: Drawing,
}

#[derive(Debug, Serialize)]
struct Tab {
    direction: &'static str,
    pull_side: &'static str,
    /// Where the tab's front edge stands (mm from the strip's end), where a mark is given out.
    place: Option<String>,
    picture: Picture,
}

impl Wearing {
    pub(super) fn of(case: &Case, plan: &Plan) -> Self {
        let (mut on, mut off, mut tabs) = (Vec::new(), Vec::new(), Vec::new());
        let mut check = None;
        let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
        let builds: Vec<_> = pulls.clone().map(|(pull, it)| build(case, pull, it)).collect();
        for (index, (pull, reckoned)) in pulls.enumerate() {
            let set = Set::of(case, pull, reckoned, plan.stays(pull.direction));
            // With two pulls, the one that is not this one.
            let other = builds.iter().enumerate().find(|(at, _)| *at != index).map(|it| it.1);
            for panel in donning_sequence(&set.wearing(other)) {
                let picture = Picture::of(&panel);
                if panel.key == OWN {
                    tabs.push(Tab {
                        direction: pull.direction.word(),
                        pull_side: pull_side(pull.direction),
                        place: set.marks.first().copied().map(mm0),
                        picture,
                    });
                } else if index == 0 {
                    if panel.key == LAST { check = Some(picture) } else { on.push(picture) }
                }
            }
            if index == 0 {
                off.extend(doffing_sequence(&set.wearing(other)).iter().map(Picture::of));
            }
        }
        Self { on, tabs, check, off }
    }
}

impl Picture {
    fn of(panel: &figure::Panel) -> Self {
        // The words for a screen reader are the layout's, which knows the language.
        Self { key: panel.key, figure: Drawing::of(&panel.figure, String::new()) }
    }
}

/// One pull with its tab at today's mark.
struct Set {
    build: figure::Build,
    pull: figure::Pull,
    loose: Angle,
    today: Angle,
    line: Vec<figure::Point>,
    hole: Length,
    marks: Vec<Length>,
    mirrored: bool,
}

impl Set {
    fn of(case: &Case, pull: &Pull, plan: &PullPlan, stays: bool) -> Self {
        let given = given_out(plan, stays);
        let marks: Vec<&Mark> =
            given.first().map(|it| it.marks.iter().collect()).unwrap_or_default();
        let (today, hole, line) = marks.first().map_or_else(
            || {
                let hole = plan.geometry.first_place();
                (plan.rest, hole, TautLine::at(&plan.geometry, plan.rest, hole))
            },
            |mark| (mark.angle, mark.hole, mark.line.clone()),
        );
        Self {
            build: build(case, pull, plan),
            pull: match pull.direction {
                Direction::Flexion => figure::Pull::Palm,
                Direction::Extension => figure::Pull::Back,
            },
            loose: loose_wrist(case, pull.direction, today),
            today,
            line: line.corners().iter().map(|it| figure::Point { x: it.x, y: it.y }).collect(),
            hole,
            marks: marks.iter().map(|it| it.place).collect(),
            mirrored: (case.patient.side == Side::Left) != (pull.direction == Direction::Extension),
        }
    }

    fn wearing<'w>(&'w self, other: Option<&'w figure::Build>) -> figure::Wearing<'w> {
        figure::Wearing {
            build: &self.build,
            pull: self.pull,
            loose: self.loose,
            today: self.today,
            line: &self.line,
            tab_hole: self.hole,
            marks: &self.marks,
            other,
            mirrored: self.mirrored,
        }
    }
}

/// The wrist before the tab is set: straight, or as near to straight as its passive ranges let it come.
fn loose_wrist(case: &Case, toward: Direction, today: Angle) -> Angle {
    let other = match toward {
        Direction::Flexion => Direction::Extension,
        Direction::Extension => Direction::Flexion,
    };
    let least = case.passive(other).map_or(Angle::ZERO, |it| -it);
    Angle::ZERO.max(least).min(today)
}
