//! `figures`: the plan's numbers, as a table for people or as JSON for machines.

use super::args::Figures as Wanted;
use super::clinic::Desk;
use super::outcome::Outcome;
use super::say::say;
use super::told::Told;
use crate::calc;
use crate::sheets::figures::Figures;

pub(super) fn figures(wanted: &Wanted) -> Outcome {
    let desk = match Desk::said(wanted.clinic.as_deref()) {
        Ok(desk) => desk,
        Err(outcome) => return outcome,
    };
    let mut worst = Outcome::Done;
    for path in &wanted.cases {
        let mut told = Told::default();
        let read = desk.read(&mut told, path);
        told.say();
        match read {
            Ok(known) => {
                let case = &known.sound.case;
                let plan = calc::plan(case);
                let figures = Figures::of(case, &plan);
                worst = worst.max(say(&if wanted.json {
                    figures.to_json() + "\n"
                } else {
                    figures.to_table()
                }));
                if plan.is_withheld() {
                    worst = worst.max(Outcome::Withheld);
                }
            }
            Err(unread) => worst = worst.max(unread.outcome),
        }
    }
    worst
}
