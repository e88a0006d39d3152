//! What is suggested next, in words: an order, why, and what points elsewhere.

use super::course::Named;
use super::{Citations, background};
use crate::calc::advice::{Advice, Look, Looked, Next, Reason, WornOf};
use crate::case::SkinSeen;
use crate::sheets::wording::{change, degrees, fixed, listed, percent, short_day};
use crate::sources::{FLOWERS, REDNESS, SALAFFI, SORENSEN};
use crate::units::Angle;

/// `Flexion pull: stay at this mark, because … Yet …`.
pub(super) fn named(advice: &Advice, is_withheld: bool, cited: &mut Citations) -> Named {
    let held =
        if is_withheld && !advice.next.is_stop() { "once each stop is answered: " } else { "" };
    let because = reasons(&advice.reasons, cited);
    let mut text = format!("{held}{}, because {because}.", next(advice.next));
    if !advice.ask.is_empty() {
        text.push_str(&format!(
            " Speak with the doctor too, because {}.",
            reasons(&advice.ask, cited)
        ));
    }
    if !advice.yet.is_empty() {
        text.push_str(&format!(" Yet {}.", reasons(&advice.yet, cited)));
    }
    Named::new(format!("{} pull", background::capital(advice.pull.word())), text)
}

/// The same in a few words, for a headline: what, and the first reason where it is not to go on.
pub(super) fn short(advice: &Advice) -> String {
    let what = match advice.next {
        Next::ReferBack => "stop and send back to the doctor",
        Next::LongerLoop => "take the loop off, make a longer one",
        Next::MeasureAgain => "measure again before it is worn",
        Next::SetCourse => "ask whether the course goes on",
        Next::DoctorsWord => "wait for the doctor's word",
        Next::EaseOff => "ease off",
        Next::AskDoctor => "stay at this mark and speak with the doctor",
        Next::Hold => "stay at this mark",
        Next::NewLoop => "new loop",
        Next::OtherDirection => "other direction",
        Next::GoalReached => "goal reached",
        Next::MoveOn => "next mark",
    };
    let whys: Vec<&str> = advice.reasons.iter().filter_map(in_a_word).collect();
    let with = |what: &str, whys: &[&str]| {
        if whys.is_empty() { what.to_owned() } else { format!("{what} ({})", listed(whys)) }
    };
    let said = with(what, &whys);
    if advice.ask.is_empty() {
        return said;
    }
    let asked: Vec<&str> = advice.ask.iter().filter_map(in_a_word).collect();
    format!("{said}, and {}", with("speak with the doctor", &asked))
}

/// A reason for a headline; nothing where the order says it all.
fn in_a_word(reason: &Reason) -> Option<&'static str> {
    Some(match reason {
        Reason::RangeLost { .. } => "range lost",
        Reason::OtherWayLost { .. } => "range lost the other way",
        Reason::ActiveLost { .. } => "active range lost",
        Reason::ScoreWorse { .. } => "score worse",
        Reason::Plateau { .. } => "plateau",
        Reason::Falling { .. } => "range falling",
        Reason::WornOver { .. } => "worn more than planned",
        Reason::SkinBroken => "skin broken",
        Reason::RednessStays => "redness stays",
        Reason::PainRose { .. } => "pain rose",
        Reason::LittleWorn { .. } => "little worn",
        Reason::Painful { .. } => "pain",
        Reason::TooMuchWorn => "worn too long",
        Reason::DoctorsWord => "doctor's word first",
        Reason::NotTaken(_) => "not all was measured",
        Reason::LoopEnds { .. }
        | Reason::LoopTooShort { .. }
        | Reason::AtGoal
        | Reason::OtherIsFurther
        | Reason::Stop { .. }
        | Reason::Answered { .. }
        | Reason::Doubted
        | Reason::WarmUp { .. }
        | Reason::Looked(_) => return None,
    })
}

/// What is suggested, as an order.
fn next(next: Next) -> &'static str {
    match next {
        Next::ReferBack => "stop, and send back to the doctor",
        Next::LongerLoop => "take the loop off and make a longer one",
        Next::MeasureAgain => {
            "leave it off until angle, tab and the loop pulled flat are measured again"
        }
        Next::SetCourse => {
            "ask the doctor whether the course goes on, and write down its new length"
        }
        Next::DoctorsWord => "do not go on before the doctor's word",
        Next::EaseOff => "ease off with a gentler stretch or a pause",
        Next::AskDoctor => "stay at this mark, check the end feel and speak with the doctor",
        Next::Hold => "stay at this mark",
        Next::NewLoop => "make the next loop",
        Next::OtherDirection => "turn to the other direction",
        Next::GoalReached => "set a new goal, keep what was won or end the course",
        Next::MoveOn => "go on to the next mark",
    }
}

fn reasons(reasons: &[Reason], cited: &mut Citations) -> String {
    let reasons: Vec<String> = reasons.iter().map(|it| reason(it, cited)).collect();
    let reasons: Vec<&str> = reasons.iter().map(String::as_str).collect();
    listed(&reasons)
}

fn reason(reason: &Reason, cited: &mut Citations) -> String {
    let fell = |what: &str, by: Angle, error: Angle| {
        format!(
            "{what} fell by {} from its best, more than the measuring error of {}",
            degrees(by),
            degrees(error)
        )
    };
    match reason {
        Reason::RangeLost { by, error } => fell("passive range", *by, *error),
        Reason::OtherWayLost { direction, by, error } => {
            let what = format!("passive {}, which this pull works against,", direction.word());
            fell(&what, *by, *error)
        }
        Reason::ActiveLost { by, error } => fell("active range", *by, *error),
        Reason::ScoreWorse { score, by } => format!(
            "the {} total is worse than its best by {} points, an important change as others told it {}",
            score.name(),
            fixed(*by, 1),
            cited.cite(&[SORENSEN])
        ),
        Reason::Plateau { by, from, to } => format!(
            "the range no longer grows by this file's own rule ({} from {} to {})",
            change(*by),
            short_day(*from),
            short_day(*to)
        ),
        Reason::Falling { slope, interval } => format!(
            "since the first visit the range falls by {}° a week ({}° to {}° with 95 % confidence)",
            fixed(-slope.to_degrees_per_week(), 1),
            fixed(-interval.high.to_degrees_per_week(), 1),
            fixed(-interval.low.to_degrees_per_week(), 1)
        ),
        Reason::WornOver { share } => {
            format!(
                "{} of the planned minutes were worn: go back to the plan first",
                percent(*share)
            )
        }
        Reason::Doubted => "a place of the tab is doubted until it is read again".into(),
        Reason::SkinBroken => "the skin under the orthosis broke".into(),
        Reason::RednessStays => {
            format!("redness stayed longer than 20 minutes {}", cited.cite(&[REDNESS]))
        }
        Reason::PainRose { from, to } => format!(
            "pain rose from its least, {from}, to {to} of 10, two points or more (ours, after {}, which told it of pain \
             that fell)",
            cited.cite(&[SALAFFI])
        ),
        Reason::LittleWorn { share } => {
            format!("{} of the minutes planned since the visit before were worn", percent(*share))
        }
        Reason::LoopEnds { at, to } => format!(
            "today's range is {} and the loop in use ends at {}",
            degrees(*at),
            degrees(whole(*to))
        ),
        Reason::LoopTooShort { at, rest } => format!(
            "the loop in use rests at {}, past today's range of {}",
            degrees(whole(*rest)),
            degrees(*at)
        ),
        Reason::AtGoal => "today's range is at the goal".into(),
        Reason::OtherIsFurther => "the other direction is still short of its goal".into(),
        Reason::Stop { title } => format!("this stop stands: {}", uncapital(title)),
        Reason::Answered { title } => {
            format!("this stop was answered and stays on file: {}", uncapital(title))
        }
        Reason::Painful { pain } => format!("pain was {pain} of 10 when it was last asked"),
        Reason::TooMuchWorn => {
            "more was worn than the daily limit allows: go back to the planned sessions".into()
        }
        Reason::DoctorsWord => {
            "today's range lies past the angle that waits for the doctor's word".into()
        }
        Reason::NotTaken(missing) => format!(
            "the newest visit did not take {}: take {} first",
            listed(&missing.iter().map(|it| look(*it)).collect::<Vec<_>>()),
            if missing.len() > 1 { "them" } else { "it" }
        ),
        Reason::WarmUp { gain, nearest } => format!(
            "the warm-up test gained {}, nearest the level for {} {}",
            change(*gain),
            background::class(*nearest),
            cited.cite(&[FLOWERS])
        ),
        Reason::Looked(it) => looked(it),
    }
}

fn look(look: Look) -> &'static str {
    match look {
        Look::Range => "the passive range",
        Look::Skin => "the skin",
        Look::Pain => "pain",
    }
}

/// What was looked at, and what no log told.
fn looked(it: &Looked) -> String {
    let skin = match it.skin {
        SkinSeen::RedBriefly => "redness faded within 20 minutes",
        _ => "the skin was clear",
    };
    let worn = match it.worn {
        WornOf::NoLog => "no log was read".to_owned(),
        WornOf::PastPlan(minutes) => {
            format!("{minutes} minutes were worn, past the plan's last day")
        }
        WornOf::Share(share) => format!("{} of the planned minutes were worn", percent(share)),
    };
    let unseen =
        it.unseen.map_or_else(String::new, |way| format!("; passive {} was not taken", way.word()));
    format!(
        "at the newest visit {skin}, the highest pain told was {} of 10, {worn} and no range that was taken fell by \
         more than measuring error from its best{unseen}",
        it.pain
    )
}

/// Reckoned angles are printed whole beside measured ones.
fn whole(angle: Angle) -> Angle {
    Angle::degrees(angle.to_degrees().round())
}

fn uncapital(title: &str) -> String {
    let mut letters = title.chars();
    letters
        .next()
        .map_or_else(String::new, |it| it.to_lowercase().collect::<String>() + letters.as_str())
}
