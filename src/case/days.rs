//! Checks of days against each other.

use jiff::civil::Date;

use super::fields::Notes;

/// Notes every day that cannot be true beside another.
pub(super) fn check(notes: &Notes) {
    dates(notes);
    next_visit(notes);
    wear_from(notes);
}

/// Wear begins at the first fit or soon after the papers' day, and no later than the first visit that follows.
fn wear_from(notes: &Notes) {
    let key = "wear.from";
    let Some(from) = notes.date(key) else { return };
    let visit = notes.items("visits").first().and_then(|it| notes.date(&format!("{it}.date")));
    if let Some(visit) = visit {
        if from > visit {
            let why = format!("the first visit after the fit was earlier, on {visit}");
            notes.conflict(key, why, "write the day on which it was first worn");
        }
    } else if let Some(today) = notes.date("case.prepared")
        && (from - today).get_days() > LATEST_START
    {
        let why = format!(
            "that is more than {LATEST_START} days after `case.prepared`, {today}; measures of today will not hold so long"
        );
        notes.conflict(key, why, "correct the day, or measure again when it begins");
    }
}

/// Wear begins at most so many days after the papers' day.
const LATEST_START: i32 = 56;

/// The longest log that is given out, in days.
const LONGEST_LOG: i32 = 56;

/// The next visit ends the log, which begins on the papers' day.
fn next_visit(notes: &Notes) {
    let key = "case.next_visit";
    let (Some(next), Some(today)) = (notes.date(key), notes.date("case.prepared")) else { return };
    let days = (next - today).get_days();
    if days <= 0 {
        let why = format!("that is not after `case.prepared`, {today}");
        notes.conflict(key, why, "write the day of the visit to come, or leave the key out");
    } else if days > LONGEST_LOG {
        let why =
            format!("that is {days} days after `case.prepared`, {today}; a log runs 56 at most");
        notes.conflict(
            key,
            why,
            "correct the day, or leave the key out: the log then runs two weeks",
        );
    }
}

/// Days must follow each other as they do in life.
fn dates(notes: &Notes) {
    let order = |earlier: &str, later: &str| {
        if let (Some(first), Some(second)) = (notes.date(earlier), notes.date(later))
            && first > second
        {
            out_of_order(notes, later, earlier, first);
        }
    };
    order("history.injury", "case.prepared");
    order("history.injury", "history.operation");
    order("history.injury", "history.cleared_for_stretch.date");
    order("history.operation", "history.cleared_for_stretch.date");
    order("history.injury", "referral.date");
    order("case.prepared", "referral.recheck");
    order("history.injury", "wear.from");
    for (later, what) in not_after_prepared(notes) {
        if let (Some(day), Some(prepared)) = (notes.date(&later), notes.date("case.prepared"))
            && day > prepared
        {
            let why = format!("that is after `case.prepared`, {prepared}");
            notes.conflict(&later, why, format!("correct the day {what}, or `case.prepared`"));
        }
    }
    let mut visits = notes.items("motion");
    visits.extend(notes.items("visits"));
    for pair in visits.windows(2) {
        order(&format!("{}.date", pair[0]), &format!("{}.date", pair[1]));
    }
    if let Some(first) = visits.first() {
        order("history.injury", &format!("{first}.date"));
    }
}

fn out_of_order(notes: &Notes, key: &str, earlier: &str, day: Date) {
    let why = format!("`{earlier}` is later, {day}");
    let is_course = |it: &str| it.starts_with("motion") || it.starts_with("visits");
    let cure = if is_course(key) && is_course(earlier) {
        "correct the wrong one of the two days; the newest stands last"
    } else {
        "correct the wrong one of the two days"
    };
    notes.conflict(key, why, cure);
}

/// Days that cannot lie after the day the papers are for, and what each is the day of.
fn not_after_prepared(notes: &Notes) -> Vec<(String, &'static str)> {
    let mut days: Vec<(String, &str)> = vec![
        ("referral.date".into(), "of the order"),
        ("history.operation".into(), "of the operation"),
        ("history.cleared_for_stretch.date".into(), "of the clearance"),
    ];
    days.extend(notes.items("motion").iter().map(|it| (format!("{it}.date"), "of measuring")));
    days.extend(notes.items("visits").iter().map(|it| (format!("{it}.date"), "of the visit")));
    days.extend(
        notes.items("overrides").iter().map(|it| (format!("{it}.date"), "of the decision")),
    );
    let conditions = notes.items("history.conditions");
    let repairs = conditions.iter().map(|it| (format!("{it}.tendon_repair.date"), "of the repair"));
    days.extend(repairs);
    days
}
