//! The program cold: a new process for each run, a demo case's packet (handout, card, summary), all its papers, and each.
//!
//! Prints the median wall time and, where GNU time is installed, the peak memory.

use std::path::Path;
use std::process::{Command, Stdio};
use std::slice;
use std::time::{Duration, Instant};

use tautline::sheets::Paper;

const RUNS: usize = 21;
/// What a visit takes home, keeps at the bench and files.
const PACKET: [&str; 3] = ["handout", "card", "summary"];
const PROGRAM: &str = env!("CARGO_BIN_EXE_tautline");
const TIME: &str = "/usr/bin/time";

fn main() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let each = Paper::ALL.map(Paper::name);
    let sets = [("packet", &PACKET[..]), ("all", &[][..])].into_iter();
    for (name, papers) in sets.chain(each.iter().map(|it| (*it, slice::from_ref(it)))) {
        let mut arguments = vec!["print".to_owned(), demo()];
        arguments.extend(["--out".to_owned(), folder.path().display().to_string()]);
        arguments.extend(papers.iter().flat_map(|it| ["--only".to_owned(), (*it).to_owned()]));
        let mut times: Vec<Duration> = (0..RUNS).map(|_| wall(&arguments)).collect();
        times.sort();
        let middle = times[RUNS / 2].as_secs_f64() * 1e3;
        let (low, high) = (times[0].as_secs_f64() * 1e3, times[RUNS - 1].as_secs_f64() * 1e3);
        println!("{name:>10}: median {middle:.1} ms ({low:.1} to {high:.1}), {}", peak(&arguments));
    }
}

fn demo() -> String {
    format!("{}/demo-cases/quarry-bend-left-flexion.yaml", env!("CARGO_MANIFEST_DIR"))
}

fn wall(arguments: &[String]) -> Duration {
    let start = Instant::now();
    let status = Command::new(PROGRAM).args(arguments).stdout(Stdio::null()).status();
    assert!(status.expect("the program runs").success());
    start.elapsed()
}

fn peak(arguments: &[String]) -> String {
    if !Path::new(TIME).exists() {
        return "peak memory not measured".into();
    }
    let output = Command::new(TIME)
        .args(["-f", "%M", PROGRAM])
        .args(arguments)
        .stdout(Stdio::null())
        .output()
        .expect("GNU time runs");
    let text = String::from_utf8_lossy(&output.stderr);
    let kilobytes: f64 = text.trim().parse().unwrap_or(f64::NAN);
    format!("peak {:.0} MB", kilobytes / 1000.0)
}
