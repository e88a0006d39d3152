//! What the patient's handout says, row by row and mark by mark, and what it must never say.

use lopdf::decode_text_string;
use tautline::calc::advice::Stretch;
use tautline::calc::dose::Step;
use tautline::calc::loops::Loop;
use tautline::calc::pull::PullPlan;
use tautline::case::{Direction, Language, PrintSize};
use tautline::sheets::Paper;

use crate::demo;
use crate::papers::{Printed, all, find, given_out, row, says, squeezed, typeset, words_of};
use crate::pdf::Pdf;
use crate::words::{spoken, words};

fn handouts() -> impl Iterator<Item = &'static Printed> {
    all().iter().filter(|it| it.paper == Paper::Handout)
}

/// Those in English; `words` holds that the other languages say the same.
fn english() -> impl Iterator<Item = &'static Printed> {
    handouts().filter(|it| it.case.head.language == Language::English)
}

/// What the schedule holds: each wear step's days from the papers' day on. Steps that are over by then are left out.
/// Where a pull is eased, the step of the day before runs to the last day and no later one is shown.
pub fn told_steps(printed: &Printed) -> Vec<Step> {
    let (plan, today) = (&printed.plan, printed.case.head.prepared);
    let left = plan.wear.steps.iter().filter(|it| it.to >= today);
    let mut left: Vec<Step> = left.map(|it| Step { from: it.from.max(today), ..*it }).collect();
    let is_eased = |it: &PullPlan| plan.stretch(it.direction) == Stretch::Ease;
    if !plan.is_withheld() && plan.pulls.iter().any(is_eased) {
        let to = left.last().expect("a step").to;
        let before =
            plan.wear.steps.iter().rfind(|it| it.from < today).expect("it is worn already");
        left = vec![Step { from: today, to, ..*before }];
    }
    left
}

/// Each wear step stands in the schedule, in order: its days, minutes of a session, times a day.
fn has_the_whole_schedule(printed: &Printed) {
    let words = words_of(&Pdf::read(&printed.bytes).text());
    let mut from = 0;
    let left = told_steps(printed);
    assert!(!left.is_empty(), "{}", printed.name);
    for step in left {
        let first = step.from;
        let day = |it: jiff::civil::Date| it.strftime("%a %-d %b").to_string();
        let days = if first == step.to {
            day(first)
        } else {
            format!("{} * {}", day(first), day(step.to))
        };
        let wanted = row(&format!("{days} {} {}", step.minutes, step.times));
        let found = find(&words, &wanted, from);
        from = found.unwrap_or_else(|| panic!("{}: no `{wanted:?}`", printed.name)) + wanted.len();
    }
}

#[test]
fn the_schedule_stands_row_by_row() {
    english().for_each(has_the_whole_schedule);
}

/// A step a day for eight weeks gives more rows than a page holds.
#[test]
fn a_long_schedule_stands_whole() {
    let papers = typeset("long schedule", &demo::long_schedule());
    for printed in papers.iter().filter(|it| it.paper == Paper::Handout) {
        // 5 to 60 minutes, one more each day.
        assert_eq!(printed.plan.wear.steps.len(), 56);
        has_the_whole_schedule(printed);
    }
}

/// Today's mark stands on the ruler with its millimetres; two marks or more stand in a table, each over its own.
fn names_each_mark(printed: &Printed, made: &Loop, words: &[String]) {
    let place = |it: &tautline::calc::loops::Mark| format!("{:.0}", it.place.to_mm());
    let (flag, mark, today) = match printed.case.head.language {
        Language::English => ("today", "Mark", "Today"),
        Language::Spanish => ("hoy", "Marca", "Hoy"),
    };
    let flags = made.marks.iter().filter(|it| it.number == 0);
    let mut wanted: Vec<_> = flags.map(|it| row(&format!("{flag}: {} mm", place(it)))).collect();
    if made.marks.len() > 1 {
        let name = |it: &tautline::calc::loops::Mark| match it.number {
            0 => today.to_owned(),
            number => number.to_string(),
        };
        let all = |of: &dyn Fn(&tautline::calc::loops::Mark) -> String| {
            made.marks.iter().map(of).collect::<Vec<_>>().join(" ")
        };
        wanted.push(row(&format!("{mark} {} mm {}", all(&name), all(&place))));
    }
    for wanted in wanted {
        let found = find(words, &wanted, 0);
        assert!(found.is_some(), "{}: no `{}`", printed.name, wanted.join(" "));
    }
}

#[test]
fn rulers_name_each_mark_with_its_place() {
    for printed in handouts() {
        let words = words_of(&Pdf::read(&printed.bytes).text());
        for made in given_out(printed) {
            names_each_mark(printed, &made, &words);
        }
    }
}

#[test]
fn questions_and_danger_signs_stand_there() {
    for printed in english() {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        for question in [
            "What is this for?",
            "When do I wear it?",
            "How do I put it on",
            "How far do I pull",
            "When do I stop and call?",
            "How do I look after it?",
        ] {
            says(printed, &text, question);
        }
        for sign in ["numbness", "swelling", "20 minutes", "2 hours", "blister"] {
            says(printed, &text, sign);
        }
        says(printed, &text, &printed.case.clinic.therapist);
        // The number to ring stands in the answer, beside the one in each page's footer.
        let phone = squeezed(&printed.case.clinic.phone);
        let pages = Pdf::read(&printed.bytes).page_count();
        assert!(text.matches(&phone).count() > pages, "{}: phone", printed.name);
    }
}

/// Units of force, torque and pressure.
const UNITS: [&str; 12] =
    ["N", "kN", "kPa", "Pa", "mmHg", "N·m", "N⋅m", "Nm", "kgf", "lbf", "N/cm²", "N/cm2"];
/// Starts of words that speak of force or angle.
const WORDS: [&str; 11] = [
    "newton",
    "degree",
    "angle",
    "torque",
    "tension",
    "kilopascal",
    "°",
    "pressure",
    "grado",
    "ángulo",
    "presión",
];

/// The first force or angle in a text, if there is one.
fn force_or_angle(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let bare = |word: &str| word.trim_matches(['.', ',', ';', ':', '(', ')', '?']).to_owned();
    for (index, word) in words.iter().enumerate() {
        let word = bare(word);
        let number = word.trim_end_matches(|it: char| !it.is_ascii_digit());
        let is_number = number.starts_with(|it: char| it.is_ascii_digit());
        let unit = match &word[number.len()..] {
            "" => words.get(index + 1).map(|it| bare(it)).unwrap_or_default(),
            behind => behind.to_owned(),
        };
        if is_number && UNITS.contains(&unit.as_str()) {
            return Some(format!("{number} {unit}"));
        }
        let small = word.to_lowercase();
        if WORDS.iter().any(|it| small.starts_with(it)) || small.contains('°') {
            return Some(word);
        }
    }
    None
}

#[test]
fn the_scanner_finds_forces_and_angles() {
    for found in ["pull 21.1 N.", "at 4.9 kPa", "37mmHg", "1 N·m", "60°", "5 degrees", "Angle 3"]
    {
        assert!(force_or_angle(found).is_some(), "{found}");
    }
    for passed in ["3 Now press", "Case N 12", "50 mm", "No 2 No", "a rectangle", "2 hours"] {
        assert_eq!(force_or_angle(passed), None);
    }
}

/// The patient's paper shows no force and promises no degrees, neither in print nor read aloud.
#[test]
fn handouts_show_no_force_and_no_degrees() {
    for printed in handouts() {
        let pdf = Pdf::read(&printed.bytes);
        assert_eq!(force_or_angle(&pdf.text()), None, "{}", printed.name);
        let tags = pdf.tags();
        let spoken: Vec<String> = tags
            .iter()
            .filter_map(|(_, element)| decode_text_string(pdf.get(element, "Alt")?).ok())
            .collect();
        assert!(!spoken.is_empty());
        for words in spoken {
            assert_eq!(force_or_angle(&words), None, "{}: {words}", printed.name);
        }
    }
}

/// What a paper says aloud in place of its pictures.
fn spoken_pictures(pdf: &Pdf) -> Vec<String> {
    let tags = pdf.tags();
    let figures = tags.iter().filter(|(kind, _)| kind == "Figure");
    figures.filter_map(|(_, it)| decode_text_string(pdf.get(it, "Alt")?).ok()).collect()
}

/// Seven pictures of putting on, one more for a second pull, and three of taking off: each says aloud which limb
/// it shows and which of its sides is up, but for the pieces set out and the two with the thumb up, which have words of
/// their own; the tab's says where on the strip it stands, as the ruler does.
#[test]
fn pictures_say_what_they_show() {
    for printed in handouts() {
        let words = words(printed.case.head.language);
        let own = &words["handout"]["wearing"];
        let text = |it: &serde_yaml::Value| it.as_str().unwrap().to_owned();
        let side = text(&words["sides"][printed.case.patient.side.word()]);
        let seen = text(&own["seen"]).replace("{side}", &side);
        let (limb, face) = seen.split_once("{face}").unwrap();
        let pdf = Pdf::read(&printed.bytes);
        let mut spoken = spoken_pictures(&pdf);
        let pulls = &printed.plan.pulls;
        let face_of = |it: Direction| match it {
            Direction::Flexion => text(&words["faces"]["palm"]),
            Direction::Extension => text(&words["faces"]["back"]),
        };
        let off = &words["handout"]["taking_off"]["shown"]["forearm_piece_off"];
        let set_out = if pulls.len() > 1 { "shown_both" } else { "shown" };
        for own_words in [&own[set_out]["set_out"], &own["shown"]["forearm_piece"], off] {
            let wanted = text(own_words).replace("{side}", &side);
            let wanted = wanted.replace("{face}", &face_of(pulls[0].direction));
            assert!(spoken.contains(&wanted), "{}: {wanted}", printed.name);
        }
        spoken.retain(|it| it.starts_with(limb));
        assert_eq!(spoken.len(), 6 + pulls.len(), "{}: {spoken:#?}", printed.name);
        for pull in pulls {
            let wanted = format!("{limb}{}{face}", face_of(pull.direction));
            assert!(spoken.iter().any(|it| it.starts_with(&wanted)), "{}: {wanted}", printed.name);
        }
        let made = given_out(printed);
        let marks = made.iter().flat_map(|it| &it.marks);
        let today: Vec<_> = marks.filter(|it| it.number == 0).collect();
        assert_eq!(today.len(), pulls.len(), "{}", printed.name);
        for mark in today {
            let place = format!("{:.0}", mark.place.to_mm());
            let place = text(&own["shown_place"]).replace("{place}", &place);
            assert!(spoken.iter().any(|it| it.contains(&place)), "{}: {place}", printed.name);
        }
    }
}

/// All steps of putting on and taking off stand on one page, in either language; in large print on two that face each other.
#[test]
fn putting_on_and_taking_off_share_a_page() {
    let spanish: Vec<Printed> =
        ["quarry-bend-left-flexion", "kiln-both-ways", "saltmarsh-right-extension"]
            .into_iter()
            .flat_map(|it| typeset(it, &spoken(it, Language::Spanish)))
            .collect();
    for printed in all().iter().chain(&spanish).filter(|it| it.paper == Paper::Handout) {
        let pdf = Pdf::read(&printed.bytes);
        let pages: Vec<String> =
            (0..pdf.page_count()).map(|it| squeezed(&pdf.page_text(it))).collect();
        let own = &words(printed.case.head.language)["handout"];
        let said = |it: &serde_yaml::Value| squeezed(&it.as_str().unwrap().replace('*', ""));
        let page = |it: &serde_yaml::Value| pages.iter().position(|page| page.contains(&said(it)));
        let on = page(&own["wearing"]["heading"]);
        assert!(on.is_some(), "{}", printed.name);
        let is_large = printed.case.head.print_size == PrintSize::Large;
        for (later, turned) in [
            (&own["wearing"]["steps"]["set_out"], 0),
            (&own["wearing"]["steps"]["check"], usize::from(is_large)),
            (&own["taking_off"]["heading"], usize::from(is_large)),
            (&own["taking_off"]["steps"]["forearm_piece_off"], usize::from(is_large)),
        ] {
            assert_eq!(page(later), on.map(|it| it + turned), "{}: {later:?}", printed.name);
        }
    }
}
