//! The program warm: one process, one core, the work of each storey and of each paper.

use std::hint::black_box;

use divan::Bencher;
use tautline::calc;
use tautline::case::{self, Case, PageSize};
use tautline::sheets::{self, Paper};

fn main() {
    divan::main();
}

const DEMO: &[u8] = include_bytes!("../../demo-cases/quarry-bend-left-flexion.yaml");

fn demo() -> Case {
    case::read(DEMO).expect("a sound demo case").case
}

#[divan::bench]
fn read(bencher: Bencher<'_, '_>) {
    bencher.bench(|| case::read(black_box(DEMO)));
}

#[divan::bench]
fn plan(bencher: Bencher<'_, '_>) {
    let case = demo();
    bencher.bench(|| calc::plan(black_box(&case)));
}

#[divan::bench(args = Paper::ALL.map(Paper::name))]
fn paper(bencher: Bencher<'_, '_>, name: &str) {
    let paper = Paper::ALL.into_iter().find(|it| it.name() == name).expect("a paper's name");
    let case = demo();
    let plan = calc::plan(&case);
    bencher.bench(|| sheets::typeset(&[paper], &case, &plan, PageSize::Letter));
}
