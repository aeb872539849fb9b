//! The real binary over a pipe: the hall runner from an empty loom to ready, killed in the middle,
//! gone on with, with a miscount and an undo. Every line that it prints is compared, to the letter,
//! with what the machine alone says to the same presses.
#![allow(clippy::unwrap_used)]

mod common;

use endsmeet::dressing::{Ask, Dressing, View};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::Method;
use endsmeet::terminal::lines;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// The machine alone, saying what it would say.
struct Mirror {
    keeper: InMemory,
    method: Method,
    ms: u64,
}

impl Mirror {
    fn new() -> Self {
        Self {
            keeper: InMemory::new(Dressing::new(common::demo("hall-runner.json"), &[])),
            method: Method::embedded(),
            ms: 0,
        }
    }

    /// What comes first when line mode starts.
    fn greeting(&mut self) -> String {
        let mut out = Vec::new();
        let now = common::at(self.ms);
        lines::run(
            &mut self.keeper,
            &self.method,
            &mut &b""[..],
            &mut out,
            &mut || now,
            &mut |_| None,
        )
        .unwrap();
        let text = String::from_utf8(out).unwrap();
        text.split("> ").next().unwrap().to_owned()
    }

    fn answer(&mut self, line: &str) -> String {
        self.ms += 100;
        let mut out = Vec::new();
        lines::take(
            line,
            &mut self.keeper,
            &self.method,
            &mut out,
            common::at(self.ms),
        )
        .unwrap();
        String::from_utf8(out).unwrap()
    }
}

/// The binary, line mode over a pipe.
struct Real {
    child: Child,
    input: ChildStdin,
    output: ChildStdout,
}

impl Real {
    fn start(folder: &Path, words: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
            .args(words)
            .arg("--line")
            .arg("--sessions")
            .arg(folder)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let (input, output) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        Self {
            child,
            input,
            output,
        }
    }

    /// Reads up to the next prompt, or to the end.
    fn said(&mut self) -> String {
        let mut said = Vec::new();
        let mut byte = [0];
        while !said.ends_with(b"> ") || !(said == b"> " || said.ends_with(b"\n> ")) {
            if self.output.read(&mut byte).unwrap() == 0 {
                return String::from_utf8(said).unwrap();
            }
            said.push(byte[0]);
        }
        said.truncate(said.len() - 2);
        String::from_utf8(said).unwrap()
    }

    fn type_line(&mut self, line: &str) -> String {
        writeln!(self.input, "{line}").unwrap();
        self.said()
    }
}

/// The line to type now: the story's, a true answer to a look, or a plain press.
fn line_now(mirror: &Mirror, story: &mut Vec<&'static str>) -> String {
    let d = mirror.keeper.dressing();
    let at_second_end = matches!(d.view(), View::UsedUp(end) if end.batch.number == 2);
    let open = !matches!(d.view(), View::Asking(view) if matches!(view.asked, endsmeet::dressing::view::Asked::Look { .. }));
    let telling = story.len() < 8 && open;
    if (at_second_end || telling) && !story.is_empty() {
        return story.remove(0).to_owned();
    }
    common::true_answer(d).unwrap_or_default()
}

#[test]
fn the_runner_is_dressed_over_a_pipe_with_a_kill_in_the_middle() {
    let folder = tempfile::tempdir().unwrap();
    let mut mirror = Mirror::new();
    let mut story = vec![
        "uneven", "1", "0 0 1 0", "back", "0 0 1 0", "again", "", "back",
    ];
    let mut real = Real::start(folder.path(), &["new", "assets/demo/hall-runner.json"]);
    assert_eq!(real.said(), mirror.greeting());
    let mut typed = 0;
    while !matches!(mirror.keeper.dressing().view(), View::Ready(_)) {
        if mirror.keeper.dressing().stage() == Some(endsmeet::method::Stage::Wind) {
            assert_eq!(real.type_line("skip"), mirror.answer("skip"));
        }
        let line = line_now(&mirror, &mut story);
        assert_eq!(
            real.type_line(&line),
            mirror.answer(&line),
            "line {typed}: {line:?}"
        );
        typed += 1;
        if typed == 120 {
            real.child.kill().unwrap();
            real.child.wait().unwrap();
            real = Real::start(folder.path(), &["resume"]);
            mirror.keeper.ask(&Ask::Opened, common::at(0)).unwrap();
            assert_eq!(real.said(), mirror.greeting());
        }
        assert!(typed < 2000, "never ready");
    }
    assert!(typed > 250, "{typed}");
    assert!(story.is_empty(), "the story was told: {story:?}");
    let status = real.child.wait().unwrap();
    assert_eq!(status.code(), Some(0));
}
