//! Where a command's lines go, and how a command fails. Owns writing to the two streams of the
//! process; a reader that has gone away ends the program quietly.

use serde_json::{Value, json};
use std::io::{self, Write};

/// A command that could not be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure {
    /// What was found, what was expected, what to do now.
    pub says: String,
    /// The exit code.
    pub code: u8,
}

impl Failure {
    /// Failed or refused: exit 1.
    #[must_use]
    pub fn refused(says: String) -> Self {
        Self { says, code: 1 }
    }

    /// Wrong usage: exit 2.
    #[must_use]
    pub fn usage(says: String) -> Self {
        Self { says, code: 2 }
    }

    /// In use by another window: exit 4.
    #[must_use]
    pub fn in_use(says: String) -> Self {
        Self { says, code: 4 }
    }

    /// The same as JSON.
    #[must_use]
    pub fn value(&self) -> Value {
        let says: Vec<&str> = self
            .says
            .lines()
            .map(|line| line.trim_start_matches("- "))
            .collect();
        json!({ "schema": 1, "problems": says })
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
