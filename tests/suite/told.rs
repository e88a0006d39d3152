//! What the patient must be told, in the language of the paper: signs and cautions in their order, the page of a
//! new loop, two pulls that go on alike or each in its own way.

use std::collections::BTreeMap;

use tautline::calc::advice::{Next, Stretch};
use tautline::calc::{self, Plan};
use tautline::case::{Case, Direction, Language, PageSize};
use tautline::sheets::{self, Paper};

use crate::boxes::papers;
use crate::demo;
use crate::papers::{Printed, mid_course, says, squeezed, typeset};
use crate::pdf::Pdf;
use crate::words::spoken;

fn handouts(papers: &[Printed]) -> impl Iterator<Item = &Printed> {
    papers.iter().filter(|it| it.paper == Paper::Handout)
}

fn text(printed: &Printed) -> String {
    squeezed(&Pdf::read(&printed.bytes).text())
}

/// Where each sentence stands, in the order given; each stands behind the one before it.
#[track_caller]
fn in_order(printed: &Printed, shown: &str, sentences: &[&str]) {
    let mut from = 0;
    for sentence in sentences {
        let sentence = squeezed(sentence);
        let found = shown[from..].find(&sentence);
        from += sentence.len()
            + found
                .unwrap_or_else(|| panic!("{}: `{sentence}` is not next in {shown}", printed.name));
    }
}

/// Numbness, colour, swelling, sharp pain, then the two times after it is off, then whom to ring and who answers
/// when the clinic is closed. Redness that stays 20 minutes and pain that stays two hours: common practice, no source.
const SIGNS: [(Language, [&str; 9]); 2] = [
    (
        Language::English,
        [
            "Take it off at once if you have",
            "new or worse numbness, tingling, pins and needles",
            "a hand that turns white, blue or dark",
            "more swelling than before",
            "sharp or burning pain",
            "skin still red, darker or sore 20 minutes after you took it off",
            "pain from the splint 2 hours after you took it off",
            "Do not put the splint on again until we have talked.",
            "Call us now. No answer, or are we closed? Call your local emergency number.",
        ],
    ),
    (
        Language::Spanish,
        [
            "Quítesela de inmediato si hay",
            "mano dormida, hormigueo o pinchazos, nuevos o peores",
            "mano blanca, azul u oscura",
            "más hinchazón que antes",
            "dolor punzante o que quema",
            "piel aún roja, oscura o irritada 20 minutos después de quitársela",
            "dolor por la férula 2 horas después de quitársela",
            "No se ponga la férula hasta que hablemos.",
            "Llámenos ya. ¿No contestamos o está cerrado? Llame a emergencias.",
        ],
    ),
];

#[test]
fn the_signs_stand_in_either_language() {
    let mut seen = BTreeMap::new();
    for (printed, _) in papers().filter(|(it, _)| it.paper == Paper::Handout) {
        let language = printed.case.head.language;
        let (_, signs) = SIGNS.iter().find(|it| it.0 == language).expect("a language");
        in_order(printed, &text(printed), signs);
        *seen.entry(language.word()).or_insert(0) += 1;
    }
    assert!(seen.len() == SIGNS.len() && seen.values().all(|it| *it > 10), "{seen:?}");
}

/// Danger before care, in every variant: who reads no further than the signs has read what matters.
#[test]
fn signs_stand_before_care() {
    for (printed, _) in papers().filter(|(it, _)| it.paper == Paper::Handout) {
        let order = match printed.case.head.language {
            Language::English => ["When do I stop and call?", "How do I look after it?"],
            Language::Spanish => ["¿Cuándo paro y llamo?", "¿Cómo la cuido?"],
        };
        in_order(printed, &text(printed), &order);
    }
}

/// The gravest first, whatever order the file has them in: what may be lost for good, then skin, then bruises, then pace.
#[test]
fn cautions_stand_gravest_first() {
    let crowded = [(
        "    - diabetes\n    - blood_thinners",
        "    - osteoporosis\n    - blood_thinners\n    - diabetes",
    )];
    let base = demo::edited("saltmarsh-right-extension", &crowded);
    let of = |language, order: &[&str]| {
        let text_of = spoken("saltmarsh-right-extension", language);
        let text_of = if language == Language::English {
            base.clone()
        } else {
            assert!(text_of.contains(crowded[0].0));
            text_of.replace(crowded[0].0, crowded[0].1)
        };
        for printed in handouts(&typeset("cautions", &text_of)) {
            in_order(printed, &text(printed), order);
        }
    };
    of(
        Language::English,
        &[
            "Just for you",
            "You may not feel a sore spot.",
            "Your skin is thin.",
            "With diabetes,",
            "Your blood thinner",
            "Go gently.",
        ],
    );
    of(
        Language::Spanish,
        &[
            "En su caso",
            "Quizá no sienta",
            "Su piel es fina.",
            "Con diabetes,",
            "Su anticoagulante",
            "Vaya con calma.",
        ],
    );
}

/// The page that holds a sentence.
fn page_with<'a>(pages: &'a [String], sentence: &str) -> &'a String {
    let wanted = squeezed(sentence);
    let found: Vec<&String> = pages.iter().filter(|it| it.contains(&wanted)).collect();
    assert_eq!(found.len(), 1, "pages with `{sentence}`");
    found[0]
}

fn pages_of(printed: &Printed) -> Vec<String> {
    let pdf = Pdf::read(&printed.bytes);
    (0..pdf.page_count()).map(|it| squeezed(&pdf.page_text(it))).collect()
}

/// The loop in use comes first; the new one waits for the therapist, and its ruler is of no use to the old line.
#[test]
fn a_new_loop_waits_for_the_therapist() {
    let papers = typeset("mid course", &mid_course());
    assert_eq!(handouts(&papers).count(), 2);
    for printed in handouts(&papers) {
        let pages = pages_of(printed);
        let page = page_with(&pages, "Take the old line off first.");
        in_order(
            printed,
            page,
            &[
                "How far do I pull?",
                "Each loop has its own ruler.",
                "Only with loop 1",
                "Each time you wear it",
            ],
        );
        in_order(
            printed,
            page,
            &[
                "Only with loop 2, when your therapist has put it on",
                "Take the old line off first. Do not wear the splint until loop 2 is on it.",
            ],
        );
        // An old label belongs to the old loop.
        assert!(!page.contains(&squeezed("Is a label stuck")), "{}", printed.name);
        assert!(pages.len() <= 4, "{}: {} pages", printed.name, pages.len());
    }
}

/// What parts the rulers of two loops, the sentence that says what a loop is first; and how the last mark of all is named.
const LOOPS: [(Language, [&str; 6], &str); 2] = [
    (
        Language::English,
        [
            "A loop is the line with its tab. Each loop has its own ruler.",
            "Only with loop 1",
            "Never past mark 9. Are you there? Call us.",
            "Only with loop 2, when your therapist has put it on",
            "Never past mark 11. Are you there? Call us.",
            "Never go past the last mark of your loop.",
        ],
        "past mark 11",
    ),
    (
        Language::Spanish,
        [
            "Un lazo es el hilo con su lengüeta. Cada lazo tiene su regla.",
            "Solo con el lazo 1",
            "Nunca pase de la marca 9. ¿Ya llegó ahí? Llame.",
            "Solo con el lazo 2, cuando su terapeuta se lo ponga",
            "Nunca pase de la marca 11. ¿Ya llegó ahí? Llame.",
            "Nunca pase de la última marca de su lazo.",
        ],
        "pase de la marca 11",
    ),
];

/// The thickness of a frame: see `layouts/parts/system.typ`.
const FRAME_PT: f64 = 1.6;

/// Where the upright lines of frames stand on a page, from the left (mm).
fn frames(printed: &Printed, page: usize) -> Vec<f64> {
    let strokes = Pdf::read(&printed.bytes).strokes(page);
    let upright = strokes.iter().filter(|it| {
        it.is_vertical() && it.length() > 30.0 && (it.width_pt - FRAME_PT).abs() < 1e-3
    });
    let mut found: Vec<f64> = upright.map(|it| it.from.0).collect();
    found.sort_by(f64::total_cmp);
    found.dedup_by(|next, kept| (*next - *kept).abs() < 0.01);
    found
}

/// Mark 9 lies 43 mm along the strip with loop 1 and 5 mm with loop 2: each ruler stands in a frame of its own under the name
/// of its loop and ends in its own last mark. Without loops there is neither.
#[test]
fn rulers_of_two_loops_are_not_taken_for_each_other() {
    for (language, sentences, named) in LOOPS {
        let papers = typeset("two loops", &spoken("fell-farm-two-loops", language));
        for printed in handouts(&papers) {
            let made = &printed.plan.pulls[0].loops;
            let last: Vec<usize> = made.iter().map(|it| it.marks.last().unwrap().number).collect();
            assert_eq!(last, [9, 11]);
            let pages = pages_of(printed);
            let page = pages.iter().position(|it| it.contains(&squeezed(sentences[1])));
            let page = page.unwrap_or_else(|| panic!("{}: no loop 1", printed.name));
            in_order(printed, &pages[page], &sentences);
            // A last mark is named beside its own ruler alone.
            assert_eq!(pages.concat().matches(&squeezed(named)).count(), 1, "{}", printed.name);
            let [left, between, other, right] = frames(printed, page)[..] else {
                panic!("{}: {:?}", printed.name, frames(printed, page))
            };
            assert!(other - between > 3.0, "{}: white between the frames", printed.name);
            // The marks of each ruler, 1.2 pt: the first loop's within the first frame.
            let strokes = Pdf::read(&printed.bytes).strokes(page);
            let marks =
                strokes.iter().filter(|it| it.is_vertical() && (it.width_pt - 1.2).abs() < 1e-3);
            let marks: Vec<f64> = marks.map(|it| it.from.0).collect();
            for (from, to, made) in [(left, between, &made[0]), (other, right, &made[1])] {
                let within = marks.iter().filter(|it| (from..to).contains(*it)).count();
                assert_eq!(within, made.marks.len(), "{}: loop {}", printed.name, made.number);
            }
        }
    }
    for printed in papers().map(|it| it.0).filter(|it| it.paper == Paper::Handout) {
        if printed.plan.pulls.iter().all(|it| it.loops.len() == 1 && it.in_use.is_none()) {
            let shown = text(printed);
            for sentence in ["Only with loop", "Solo con el lazo", "own ruler"] {
                assert!(!shown.contains(&squeezed(sentence)), "{}", printed.name);
            }
        }
    }
}

/// A case with two pulls after its first visit, both gained.
fn two_pulls() -> (Case, Plan) {
    let visits = "visits: [ { date: 2026-06-22, passive: { flexion: 40, extension: 36 }, skin: clear, pain: { rest: 1 } } ]\nlimb:";
    let changes = [("prepared: 2026-06-15", "prepared: 2026-06-22"), ("limb:", visits)];
    let case = demo::read(&demo::edited("kiln-both-ways", &changes));
    let plan = calc::plan(&case);
    assert!(!plan.is_withheld());
    (case, plan)
}

fn handout(case: &Case, plan: &Plan, page: PageSize) -> Printed {
    let bytes = sheets::typeset(&[Paper::Handout], case, plan, page).unwrap().remove(0);
    Printed {
        name: format!("{page:?}"),
        paper: Paper::Handout,
        case: case.clone(),
        plan: plan.clone(),
        bytes,
    }
}

/// Pulls that go on alike share a page: one list of steps, each ruler under its side, each its own last mark.
#[test]
fn pulls_that_go_on_alike_share_a_page() {
    let (case, plan) = two_pulls();
    assert!(plan.pulls.iter().all(|it| plan.stretch(it.direction) == Stretch::On));
    for page in [PageSize::Letter, PageSize::A4] {
        let printed = handout(&case, &plan, page);
        let pages = pages_of(&printed);
        let one = page_with(&pages, "How far do I pull?");
        in_order(&printed, one, &["Toward the palm", "Toward the back", "Each time you wear it"]);
        for side in ["palm side", "back side"] {
            says(&printed, one, side);
        }
        let last = |direction| {
            let pull = plan.pulls.iter().find(|it| it.direction == direction).unwrap();
            let marks =
                pull.loops.iter().flat_map(|it| &it.marks).filter(|it| pull.is_given_out(it));
            marks.map(|it| it.number).max().unwrap()
        };
        let (palm, back) = (last(Direction::Flexion), last(Direction::Extension));
        let limit =
            format!("Never go past mark {palm} toward the palm, or mark {back} toward the back.");
        says(&printed, one, &limit);
        assert_eq!(pages.concat().matches(&squeezed("Each time you wear it")).count(), 1);
    }
}

/// A pull that is eased beside one that goes on: each has pages and steps of its own, so that neither is taken for
/// the other's, and no minutes are added. The numbers of a real case ease both; a therapist's reading may not.
#[test]
fn a_pull_that_is_eased_keeps_apart_from_one_that_goes_on() {
    let (case, mut plan) = two_pulls();
    let advice = &mut plan.course.as_mut().unwrap().advice;
    let back = advice.iter_mut().find(|it| it.pull == Direction::Extension).unwrap();
    back.next = Next::EaseOff;
    for page in [PageSize::Letter, PageSize::A4] {
        let printed = handout(&case, &plan, page);
        let pages = pages_of(&printed);
        let palm = page_with(&pages, "How far do I pull toward the palm?");
        let back = page_with(&pages, "How far do I pull toward the back?");
        assert_ne!(palm, back);
        let (on, eased) = ("Move on if the pull has gone easy", "Stop where the stretch is mild.");
        says(&printed, palm, on);
        says(&printed, back, eased);
        says(&printed, back, "Your therapist may write here how far. Then do not go past it:");
        assert!(!palm.contains(&squeezed(eased)) && !back.contains(&squeezed(on)), "{page:?}");
        assert!(!back.contains(&squeezed("Never go past mark")), "{page:?}: a mark to go to");
        says(&printed, &pages[0], "Do not add minutes for now.");
        assert!(!pages[0].contains(&squeezed("Do not add minutes or marks")), "{page:?}");
    }
}

/// The goal reached one way: that pull stays while the other goes on, each in its own words.
#[test]
fn a_pull_at_its_goal_stays_beside_one_that_goes_on() {
    let visits = "visits: [ { date: 2026-06-22, passive: { flexion: 60, extension: 36 }, skin: clear, pain: { rest: 1 } } ]\nlimb:";
    let changes = [("prepared: 2026-06-15", "prepared: 2026-06-22"), ("limb:", visits)];
    let text = demo::edited("kiln-both-ways", &changes);
    for printed in handouts(&typeset("goal one way", &text)) {
        let pages = pages_of(printed);
        let palm = page_with(&pages, "How far do I pull toward the palm?");
        let back = page_with(&pages, "How far do I pull toward the back?");
        says(printed, palm, "Stay at this mark until we tell you.");
        says(printed, back, "Move on if the pull has gone easy");
        assert!(!palm.contains(&squeezed("Move on if the pull")), "{}", printed.name);
    }
}
