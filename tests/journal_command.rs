//! Damaged files and copies at the command line: what the weaver is told, and that going on waits
//! for her where only she can decide.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const RUNNER: &[u8] = include_bytes!("frozen/format-1-hall-runner.jsonl");

fn run(folder: &Path, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(words)
        .arg("--line")
        .arg("--sessions")
        .arg(folder)
        .env_remove("ENDSMEET_SESSIONS")
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The first so many lines of the runner.
fn lines(count: usize) -> Vec<u8> {
    let lines = RUNNER.split_inclusive(|&b| b == b'\n');
    lines.take(count).collect::<Vec<_>>().concat()
}

struct Folder(tempfile::TempDir);

impl Folder {
    fn with(files: &[(&str, &[u8])]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        for (name, bytes) in files {
            fs::write(folder.path().join(name), bytes).unwrap();
        }
        Self(folder)
    }

    fn at(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// What is said, with the folder left out, and the exit code.
    fn says(&self, words: &[&str]) -> (Option<i32>, String) {
        let output = run(self.0.path(), words);
        let said = text(&output.stdout) + &text(&output.stderr);
        let folder = format!("{}/", self.0.path().display());
        (output.status.code(), said.replace(&folder, ""))
    }
}

#[test]
fn a_damaged_dressing_is_looked_at_and_its_clean_part_is_saved_and_gone_on_with() {
    let mut damaged = RUNNER.to_vec();
    let at = lines(100).len() + 40;
    damaged[at] ^= 2;
    let folder = Folder::with(&[("runner.jsonl", &damaged)]);
    let (code, said) = folder.says(&["resume", "runner"]);
    assert_eq!(code, Some(1));
    assert!(
        said.contains("runner.jsonl can only be looked at: line 101 was changed"),
        "{said}"
    );
    assert!(
        said.contains("Save the clean part with: endsmeet resume runner --salvage"),
        "{said}"
    );
    let (code, said) = folder.says(&["status", "runner"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("Line 101 was changed"), "{said}");
    let (code, said) = folder.says(&["resume", "runner", "--salvage"]);
    assert_eq!(
        (code, said.trim_end()),
        (
            Some(0),
            "The clean part is saved: runner-salvaged.jsonl. The damaged file stays as it is. Go on with: \
             endsmeet resume runner-salvaged"
        )
    );
    assert_eq!(fs::read(folder.at("runner.jsonl")).unwrap(), damaged);
    let (code, said) = folder.says(&["resume", "runner-salvaged"]);
    assert_eq!(code, Some(0), "{said}");
    let saved = fs::read(folder.at("runner-salvaged.jsonl")).unwrap();
    assert!(
        saved.iter().filter(|b| **b == b'\n').count() > 100,
        "it was gone on with"
    );
    let (code, said) = folder.says(&["resume", "runner-salvaged", "--salvage"]);
    assert_eq!(code, Some(1));
    assert!(
        said.contains("is not damaged. Go on with: endsmeet resume runner-salvaged"),
        "{said}"
    );
}

#[test]
fn a_torn_tail_is_set_aside_and_said() {
    let torn = [&lines(120), &b"{\"c\":\"0123"[..]].concat();
    let folder = Folder::with(&[("runner.jsonl", &torn)]);
    let (code, said) = folder.says(&["resume", "runner"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(
        said.contains("The last press may be missing. Look at "),
        "{said}"
    );
    assert!(
        said.contains("What was torn is kept in runner.jsonl.torn-1"),
        "{said}"
    );
    assert_eq!(
        fs::read(folder.at("runner.jsonl.torn-1")).unwrap(),
        b"{\"c\":\"0123"
    );
}

#[test]
fn a_copy_that_knows_less_is_said_and_one_that_knows_more_comes_first() {
    let folder = Folder::with(&[
        ("runner.jsonl", RUNNER),
        ("runner (copy).jsonl", &lines(90)),
    ]);
    let (code, said) = folder.says(&["resume", "runner"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(
        said.contains("holds nothing that is not here: runner (copy).jsonl. Put it away."),
        "{said}"
    );
    let shorter = lines(90);
    let folder = Folder::with(&[("runner.jsonl", &shorter), ("runner (copy).jsonl", RUNNER)]);
    let (code, said) = folder.says(&["resume", "runner"]);
    assert_eq!(code, Some(1));
    assert!(
        said.contains(
            "A copy knows more of this dressing than runner.jsonl: runner (copy).jsonl. Go on with the copy: \
             endsmeet resume \"runner (copy)\"."
        ),
        "{said}"
    );
    assert_eq!(
        fs::read(folder.at("runner.jsonl")).unwrap(),
        shorter,
        "it was not gone on with"
    );
    let (code, said) = folder.says(&["resume", "runner (copy)"]);
    assert_eq!(code, Some(0), "{said}");
}

#[test]
fn two_copies_that_went_different_ways_are_never_chosen_between() {
    let folder = Folder::with(&[("runner.jsonl", &lines(100)), ("runner (copy).jsonl", b"")]);
    let (code, said) = folder.says(&["resume", "runner"]);
    assert_eq!(code, Some(0), "{said}");
    fs::write(folder.at("runner (copy).jsonl"), lines(110)).unwrap();
    let before = fs::read(folder.at("runner.jsonl")).unwrap();
    let (code, said) = folder.says(&["resume"]);
    assert_eq!(code, Some(1));
    assert!(
        said.contains("Two copies of this dressing went different ways from line 101: "),
        "{said}"
    );
    assert_eq!(fs::read(folder.at("runner.jsonl")).unwrap(), before);
    let (code, said) = folder.says(&["resume", "runner"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(
        said.contains("went another way from line 101: runner (copy).jsonl. Going on"),
        "{said}"
    );
}
