//! Where a command's lines go, and how a command fails. Owns writing to the two streams of the
//! process; a reader that has gone away ends the program quietly.

use crate::plan::Problem;
use serde_json::{Value, json};
use std::io::{self, Write};

/// A command that could not be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure {
    /// What was found, what was expected, what to do now.
    pub says: String,
    /// The exit code.
    pub code: u8,
    /// What is wrong with a plan, one by one: a fixed name and the sentence.
    listed: Vec<(&'static str, String)>,
}

/// The fixed name of a file that could not be read as what it should be.
const UNREADABLE: &str = "unreadable";

impl Failure {
    /// Failed or refused: exit 1.
    #[must_use]
    pub fn refused(says: String) -> Self {
        Self::with_code(says, 1)
    }

    fn with_code(says: String, code: u8) -> Self {
        Self {
            says,
            code,
            listed: Vec::new(),
        }
    }

    /// Refused for what is wrong with a plan.
    #[must_use]
    pub fn listing(says: String, problems: &[Problem]) -> Self {
        let listed = problems.iter().map(|p| (p.kind(), p.to_string()));
        Self {
            listed: listed.collect(),
            ..Self::refused(says)
        }
    }

    /// Wrong usage: exit 2.
    #[must_use]
    pub fn usage(says: String) -> Self {
        Self::with_code(says, 2)
    }

    /// In use by another window: exit 4.
    #[must_use]
    pub fn in_use(says: String) -> Self {
        Self::with_code(says, 4)
    }

    /// The same as JSON, in the shape of a plan's problems.
    #[must_use]
    pub fn value(&self) -> Value {
        let one = |(kind, says): (&str, &str)| json!({ "problem": kind, "says": says });
        let mut problems: Vec<Value> = self
            .listed
            .iter()
            .map(|(kind, says)| one((kind, says)))
            .collect();
        if problems.is_empty() {
            problems.push(one((UNREADABLE, &self.says)));
        }
        json!({ "schema": 1, "problems": problems, "remarks": [] })
    }
}

/// The two streams of the process.
#[derive(Debug, Default)]
pub struct Out;

impl Out {
    /// The process's streams.
    #[must_use]
    pub fn new() -> Self {
        Self
    }

    /// A text, with a line end behind it.
    pub fn text(&mut self, text: &str) {
        let text = text.trim_end_matches('\n');
        written(writeln!(io::stdout().lock(), "{text}"));
    }

    /// A JSON value over several lines.
    pub fn json(&mut self, value: &Value) {
        self.text(&format!("{value:#}"));
    }

    /// A failure, on the error stream.
    pub fn failure(&mut self, failure: &Failure) {
        written(writeln!(io::stderr().lock(), "endsmeet: {}", failure.says));
    }

    /// A notice, on the error stream.
    pub fn notice(&mut self, text: &str) {
        written(writeln!(io::stderr().lock(), "{text}"));
    }
}

/// A reader that has gone away (a pipe to a pager that was closed) is no fault of ours; anything else
/// is said, so that nobody takes half a text for the whole.
fn written(result: io::Result<()>) {
    let Err(error) = result else {
        return;
    };
    if error.kind() != io::ErrorKind::BrokenPipe {
        let says = "what was to be said could not be written";
        let _ = writeln!(
            io::stderr().lock(),
            "endsmeet: {says}: {error}. Make room where the output goes, then ask again."
        );
    }
    std::process::exit(1);
}
