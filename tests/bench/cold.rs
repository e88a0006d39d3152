//! The program cold: a new process for each run, all papers of a demo case.
//!
//! Prints the median wall time and, where GNU time is installed, the peak memory.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const RUNS: usize = 21;
const PROGRAM: &str = env!("CARGO_BIN_EXE_tautline");
const TIME: &str = "/usr/bin/time";

fn main() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for paper in [
        None,
        Some("handout"),
        Some("card"),
        Some("summary"),
        Some("brief"),
        Some("pattern"),
        Some("labels"),
    ] {
        let mut arguments = vec!["print".to_owned(), demo()];
        arguments.extend(["--out".to_owned(), folder.path().display().to_string()]);
        if let Some(paper) = paper {
            arguments.extend(["--only".to_owned(), paper.to_owned()]);
        }
        let mut times: Vec<Duration> = (0..RUNS).map(|_| wall(&arguments)).collect();
        times.sort();
        let middle = times[RUNS / 2].as_secs_f64() * 1e3;
        let (low, high) = (times[0].as_secs_f64() * 1e3, times[RUNS - 1].as_secs_f64() * 1e3);
        let name = paper.unwrap_or("all");
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
