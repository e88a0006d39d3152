//! How the work grows with the course, the marks and the pattern: each doubled, and doubled again.
//!
//! `cargo bench --bench growth`; one core (`RAYON_NUM_THREADS=1`) shows the work itself.

use std::fmt::{self, Display};

use divan::Bencher;
use jiff::ToSpan;
use jiff::civil::date;
use tautline::calc::{self, Plan};
use tautline::case::{self, Case, PageSize};
use tautline::sheets::{self, Paper};

fn main() {
    divan::main();
}

const COURSE: &str = include_str!("../../demo-cases/ropewalk-plateau.yaml");
const LIMB: &str = include_str!("../../demo-cases/quarry-bend-left-flexion.yaml");
const VISITS: [usize; 5] = [1, 25, 50, 100, 200];
const GOALS: [u8; 4] = [30, 40, 50, 60];
/// The limb against the demo's, in per cent; the pattern's pages follow it.
const LIMBS: [u16; 4] = [80, 100, 120, 135];

fn case_of(text: &str) -> Case {
    case::read(text.as_bytes()).unwrap_or_else(|it| panic!("{:?}", it.faults)).case
}

/// The course of a demo case with so many visits, one a day; its range goes up and down.
fn course(visits: usize) -> Case {
    let (before, rest) = COURSE.split_once("visits:\n").expect("visits");
    let (_, after) = rest.split_once("\nlimb:").expect("a limb");
    let first = date(2026, 7, 14);
    let one = |number: i64| {
        let day = first + number.days();
        format!(
            "  - date: {day}\n    passive: {{ flexion: {}, extension: {} }}\n    skin: clear\n",
            58 + number % 4,
            20 + number % 7
        )
    };
    let listed: String = (0..visits as i64).map(one).collect();
    let last = first + (visits as i64 - 1).days();
    let text = format!("{before}visits:\n{listed}\nlimb:{after}");
    case_of(&text.replace("prepared: 2026-08-31", &format!("prepared: {last}")))
}

/// A size of a case, and how many things of its kind the plan then has.
struct Size<T>(T, usize);

impl<T: Display> Display for Size<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.0, self.1)
    }
}

fn planned(case: Case) -> (Case, Plan) {
    let plan = calc::plan(&case);
    (case, plan)
}

/// Times a paper with nothing remembered of the one before it, which is the same.
fn timed(bencher: Bencher<'_, '_>, paper: Paper, (case, plan): &(Case, Plan)) {
    bencher.with_inputs(|| comemo::evict(0)).bench_values(|()| typeset(paper, case, plan));
}

fn typeset(paper: Paper, case: &Case, plan: &Plan) -> Vec<u8> {
    let set = sheets::typeset(&[paper], case, plan, PageSize::Letter);
    set.expect("a paper").remove(0)
}

fn marks_to(goal: u8) -> (Case, Plan) {
    planned(case_of(&LIMB.replace("goal: 60", &format!("goal: {goal}"))))
}

fn marks() -> impl Iterator<Item = Size<u8>> {
    GOALS.into_iter().map(|goal| {
        let plan = marks_to(goal).1;
        Size(goal, plan.pulls[0].loops.iter().map(|it| it.marks.len()).sum())
    })
}

/// The case with every length of its limb so many per cent of the demo's.
fn limb(percent: u16) -> (Case, Plan) {
    let (before, rest) = LIMB.split_once("\nlimb:").expect("a limb");
    let (sizes, after) = rest.split_once("\northosis:").expect("an orthosis");
    let words: Vec<&str> = sizes.split(' ').collect();
    let one = |(index, word): (usize, &&str)| {
        let is_length =
            words.get(index + 1).is_some_and(|it| it.starts_with("cm") || it.starts_with("mm"));
        match word.parse::<f64>() {
            Ok(size) if is_length => format!("{:.1}", size * f64::from(percent) / 100.0),
            _ => (*word).to_owned(),
        }
    };
    let sizes: Vec<String> = words.iter().enumerate().map(one).collect();
    planned(case_of(&format!("{before}\nlimb:{}\northosis:{after}", sizes.join(" "))))
}

fn tiles() -> impl Iterator<Item = Size<u16>> {
    LIMBS.into_iter().map(|percent| {
        let (case, plan) = limb(percent);
        let pages = lopdf::Document::load_mem(&typeset(Paper::Pattern, &case, &plan));
        Size(percent, pages.expect("a PDF").get_pages().len())
    })
}

#[divan::bench(args = VISITS)]
fn plan_by_visits(bencher: Bencher<'_, '_>, visits: usize) {
    let case = course(visits);
    bencher.bench(|| calc::plan(&case));
}

#[divan::bench(args = VISITS)]
fn summary_by_visits(bencher: Bencher<'_, '_>, visits: usize) {
    timed(bencher, Paper::Summary, &planned(course(visits)));
}

#[divan::bench(args = VISITS)]
fn workings_by_visits(bencher: Bencher<'_, '_>, visits: usize) {
    timed(bencher, Paper::Workings, &planned(course(visits)));
}

#[divan::bench(args = marks())]
fn card_by_goal_and_marks(bencher: Bencher<'_, '_>, goal: &Size<u8>) {
    timed(bencher, Paper::Card, &marks_to(goal.0));
}

#[divan::bench(args = tiles())]
fn pattern_by_limb_and_pages(bencher: Bencher<'_, '_>, percent: &Size<u16>) {
    timed(bencher, Paper::Pattern, &limb(percent.0));
}
