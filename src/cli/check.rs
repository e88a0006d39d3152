//! `check`: what is wrong, what is odd, what the plan finds.

use super::args::Check;
use super::clinic::Desk;
use super::input::{own_words, typed, words_of_another_language};
use super::outcome::Outcome;
use super::pictures;
use super::plain::plain;
use super::report;
use super::say::say;
use super::told::Told;
use crate::calc;
use crate::calc::precautions::Level;
use crate::calc::sharpen;
use crate::case;
use crate::sheets::{self, Paper};

pub(super) fn check(wanted: &Check) -> Outcome {
    let own = match own_words(&wanted.words) {
        Ok(own) => own,
        Err(outcome) => return outcome,
    };
    let desk = match Desk::said(wanted.clinic.as_deref()) {
        Ok(desk) => desk,
        Err(outcome) => return outcome,
    };
    let mut worst = Outcome::Done;
    for path in &wanted.words {
        worst = worst.max(say(&format!("{}: reads well.\n", path.display())));
    }
    for path in &wanted.cases {
        let mut told = Told::under_headings(path, wanted.plain);
        let known = match desk.read(&mut told, path) {
            Ok(known) => known,
            Err(unread) => {
                told.say();
                worst = worst.max(unread.outcome);
                continue;
            }
        };
        let sound = &known.sound;
        known.tell(&mut told, path);
        words_of_another_language(&mut told, path, &sound.case, &known.words(&own));
        let has_pictures =
            pictures::load(&mut told, path, known.logo_beside(path), &sound.case).is_some();
        if !has_pictures {
            worst = worst.max(Outcome::Unwritten);
        }
        let plan = calc::plan(&sound.case);
        report::findings(&mut told, path, &plan.findings, Level::Note);
        for sharper in sharpen::most(&sound.case, &plan) {
            report::sharper(&mut told, path, &sharper);
        }
        told.say();
        let verdict = if !has_pictures {
            "no paper can be printed before each picture is there.".to_owned()
        } else if plan.is_withheld() {
            let held = Paper::ALL.into_iter().filter(|it| it.is_withheld_by_a_stop());
            let names: Vec<&str> = held.map(Paper::name).collect();
            format!("{} are withheld.", sheets::listed(&names))
        } else {
            format!(
                "all papers can be printed. Next:  tautline print {}{}",
                typed(path),
                desk.flag()
            )
        };
        worst = worst.max(say(&if wanted.normalised {
            case::normalised(&sound.case)
        } else {
            let verdict = format!("{}: reads well; {verdict}\n", path.display());
            if wanted.plain { plain(&verdict) } else { verdict }
        }));
        if plan.is_withheld() {
            worst = worst.max(Outcome::Withheld);
        }
    }
    worst
}
