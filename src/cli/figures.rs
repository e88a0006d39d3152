//! `figures`: the plan's numbers, as a table for people or as JSON for machines.

use super::args::Figures as Wanted;
use super::input::read;
use super::outcome::Outcome;
use super::say::say;
use super::told::Told;
use crate::calc;
use crate::sheets::figures::Figures;

pub(super) fn figures(wanted: &Wanted) -> Outcome {
    let mut worst = Outcome::Done;
    for path in &wanted.cases {
        let mut told = Told::default();
        let sound = read(&mut told, path);
        told.say();
        match sound {
            Ok(sound) => {
                let plan = calc::plan(&sound.case);
                let figures = Figures::of(&sound.case, &plan);
                worst = worst.max(say(&if wanted.json {
                    figures.to_json() + "\n"
                } else {
                    figures.to_table()
                }));
                if plan.is_withheld() {
                    worst = worst.max(Outcome::Withheld);
                }
            }
            Err(outcome) => worst = worst.max(outcome),
        }
    }
    worst
}
