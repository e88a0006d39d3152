//! The program running beside a test, which reads its lines as they come.
#![cfg(unix)]

use std::io::{BufRead, BufReader, Read};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// Nothing that a test waits for takes this long: a program that keeps still fails its test, not the whole run.
const PATIENCE: Duration = Duration::from_mins(2);

/// A child that ends with the test, whatever becomes of that.
pub(crate) struct Running {
    child: Child,
    lines: Receiver<String>,
    told: Option<JoinHandle<String>>,
}

impl Running {
    pub(crate) fn start(command: &mut Command) -> Self {
        let mut child = command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let stdout = BufReader::new(child.stdout.take().unwrap());
        let (line, lines) = channel();
        thread::spawn(move || stdout.lines().map_while(Result::ok).all(|it| line.send(it).is_ok()));
        let mut stderr = child.stderr.take().unwrap();
        let told = thread::spawn(move || {
            let mut told = String::new();
            stderr.read_to_string(&mut told).map_or_else(|fault| fault.to_string(), |_| told)
        });
        Self { child, lines, told: Some(told) }
    }

    /// The next line of standard output.
    pub(crate) fn line(&mut self) -> String {
        self.lines.recv_timeout(PATIENCE).expect("a line in time")
    }

    /// The next line, as JSON.
    pub(crate) fn json(&mut self) -> serde_json::Value {
        let line = self.line();
        serde_json::from_str(&line).unwrap_or_else(|fault| panic!("{fault}: {line}"))
    }

    pub(crate) fn interrupt(&self) {
        let pid = self.child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &pid]).status().unwrap().success());
    }

    /// Waits for its end: the lines not read yet, its exit code, and what it told on standard error.
    pub(crate) fn end(mut self) -> (Vec<String>, Option<i32>, String) {
        let mut lines = Vec::new();
        // Standard output is closed at the end of the program.
        let over = loop {
            match self.lines.recv_timeout(PATIENCE) {
                Ok(line) => lines.push(line),
                Err(over) => break over,
            }
        };
        assert_eq!(over, RecvTimeoutError::Disconnected, "an end in time");
        let code = self.child.wait().unwrap().code();
        (lines, code, self.told.take().unwrap().join().unwrap())
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
