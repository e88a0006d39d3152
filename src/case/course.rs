//! Checks across keys of a course: visits, loops as made.

use super::fields::Notes;
use super::usual;
use crate::units::Length;

/// A day has no more minutes to wear it (ours).
const MOST_A_DAY: i64 = 480;

/// Notes every conflict between visits, loops as made, and the pulls they belong to.
pub(super) fn check(notes: &Notes) {
    for visit in notes.items("visits") {
        of_a_pull(notes, &visit);
        worn(notes, &visit);
    }
    one_visit_a_day(notes);
    for pull in notes.items("orthosis.pulls") {
        built(notes, &pull);
    }
}

/// The pull of a direction, by its path.
fn pull_of(notes: &Notes, direction: &str) -> Option<String> {
    let is_it = |it: &String| notes.word(&format!("{it}.direction")).as_deref() == Some(direction);
    notes.items("orthosis.pulls").into_iter().find(is_it)
}

/// Tab and marks of a visit belong to a pull that is made, and the tab lies on its strip.
fn of_a_pull(notes: &Notes, visit: &str) {
    // A course may have begun with a pull that is left out by now.
    const UNUSED: &str = "It is not used: no pull of the orthosis goes that way.";
    for seen in notes.items(&format!("{visit}.tab")) {
        let key = format!("{seen}.pull");
        let Some(direction) = notes.word(&key) else { continue };
        let Some(pull) = pull_of(notes, &direction) else {
            notes.remark(&key, UNUSED);
            continue;
        };
        let length = |name: &str| usual::length(notes, &pull, name);
        let place = format!("{seen}.place");
        if let (Some(stood), Some(strip), Some(pad)) =
            (notes.length(&place), length("strip.length"), length("tab.pad_length"))
            && stood > strip - pad
        {
            let why = format!(
                "with its pad of {} the tab would hang over the strip of {}",
                mm(pad),
                mm(strip)
            );
            notes.conflict(
                &place,
                why,
                "measure to the tab's front edge, the one nearest the hand",
            );
        }
        let fitted = notes.date(&format!("{pull}.built[1].from"));
        let day = notes.date(&format!("{visit}.date"));
        if fitted.is_none_or(|from| day.is_some_and(|it| it < from)) {
            let text =
                "The tab's place is not used: no loop is recorded under `built` for that day.";
            notes.remark(&place, text);
        }
    }
    for direction in ["flexion", "extension"] {
        let key = format!("{visit}.marks.{direction}");
        if notes.has(&key) && pull_of(notes, direction).is_none() {
            notes.remark(&key, UNUSED);
        }
    }
}

/// Minutes without a session, or more than the days since the visit before can hold.
fn worn(notes: &Notes, visit: &str) {
    let key = format!("{visit}.worn.minutes");
    let (Some(minutes), Some(sessions)) =
        (notes.whole(&key), notes.whole(&format!("{visit}.worn.sessions")))
    else {
        return;
    };
    if sessions == 0 && minutes > 0 {
        notes.conflict(&key, "no session was worn", "correct the sessions or the minutes");
        return;
    }
    let before = notes.items("visits").into_iter().take_while(|it| it != visit).last();
    let since = before
        .and_then(|it| notes.date(&format!("{it}.date")))
        .or_else(|| notes.date("wear.from"))
        .or_else(|| notes.date("history.injury"));
    if let (Some(since), Some(day)) = (since, notes.date(&format!("{visit}.date")))
        && i64::from(minutes) > i64::from((day - since).get_days().max(1)) * MOST_A_DAY
    {
        let why = format!("that is over {} hours for every day since {since}", MOST_A_DAY / 60);
        notes.conflict(&key, why, "add up the log again, in minutes");
    }
}

fn one_visit_a_day(notes: &Notes) {
    for pair in notes.items("visits").windows(2) {
        let keys = [&pair[0], &pair[1]].map(|it| format!("{it}.date"));
        if let [Some(one), Some(other)] = [notes.date(&keys[0]), notes.date(&keys[1])]
            && one == other
        {
            notes.conflict(
                &keys[1],
                "another visit has the same day",
                "write one visit for each day",
            );
        }
    }
}

/// Loops follow each other in number and in time, and what was found at the fit lies on the pieces.
fn built(notes: &Notes, pull: &str) {
    let loops = notes.items(&format!("{pull}.built"));
    for made in &loops {
        let key = format!("{made}.from");
        if let Some(from) = notes.date(&key) {
            if let Some(prepared) = notes.date("case.prepared").filter(|it| from > *it) {
                let why = format!("that is after `case.prepared`, {prepared}");
                notes.conflict(&key, why, "correct the day of the fit, or `case.prepared`");
            }
            if let Some(injury) = notes.date("history.injury").filter(|it| from < *it) {
                let why = format!("the injury was on {injury}");
                notes.conflict(&key, why, "correct the day of the fit");
            }
        }
        found(notes, pull, made);
    }
    for pair in loops.windows(2) {
        let numbers = [&pair[0], &pair[1]].map(|it| notes.whole(&format!("{it}.loop")));
        if let [Some(one), Some(other)] = numbers
            && other <= one
        {
            let key = format!("{}.loop", pair[1]);
            let why = format!("the loop before it is number {one}");
            notes.conflict(&key, why, "number the loops in the order they were made");
        }
        let days = [&pair[0], &pair[1]].map(|it| notes.date(&format!("{it}.from")));
        if let [Some(one), Some(other)] = days
            && other < one
        {
            let why = format!("the loop before it was fitted on {one}");
            notes.conflict(&format!("{}.from", pair[1]), why, "the loop in use stands last");
        }
    }
}

/// Hole and strip as they were found at the fit.
fn found(notes: &Notes, pull: &str, made: &str) {
    let planned = |name: &str| usual::length(notes, pull, name);
    let hole_key = format!("{made}.hole_from_crease");
    if let (Some(hole), Some(edge), Some(end)) =
        (notes.length(&hole_key), planned("cuff.edge_from_crease"), planned("cuff.end_from_crease"))
        && (hole <= edge || hole >= end)
    {
        let why = format!("the cuff runs from {} to {}", mm(edge), mm(end));
        notes.conflict(&hole_key, why, "measure from the wrist crease to the hole again");
    }
    let strip_key = format!("{made}.strip_start_from_crease");
    let Some(start) = notes.length(&strip_key) else { return };
    if let (Some(strip), Some(forearm)) =
        (planned("strip.length"), notes.length("limb.forearm_length"))
        && start + strip > forearm
    {
        let why = format!("the strip would end past the elbow crease at {}", mm(forearm));
        notes.conflict(&strip_key, why, "measure from the wrist crease to the strip again");
    }
    if let (Some(hole), Some(edge)) =
        (planned("tab.hole_to_pad"), planned("forearm_piece.edge_from_crease"))
        && start - hole <= edge
    {
        let why =
            format!("the tab's hole would hang over the forearm piece's edge at {}", mm(edge));
        notes.conflict(&strip_key, why, "measure from the wrist crease to the strip again");
    }
}

fn mm(length: Length) -> String {
    let rounded = (length.to_mm() * 10.0).round() / 10.0;
    format!("{rounded} mm")
}
