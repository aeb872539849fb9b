//! Poor terminals and none: the program says its mode first and works in plain lines, or on a screen
//! without what the terminal lacks.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use endsmeet::terminal::screens::LEAST;
use pty::{Pty, endsmeet, folder};
use std::io::Write;
use std::process::{Command, Stdio};

const PLAN: &str = "assets/demo/practice.json";

/// Line, block and box characters.
fn is_drawn(c: char) -> bool {
    ('\u{2500}'..='\u{259f}').contains(&c)
}

/// What the program writes over a pipe in this environment; `None` takes a name out of it.
fn over_a_pipe(environment: &[(&str, Option<&str>)]) -> String {
    let folder = folder();
    let mut command = Command::new(env!("CARGO_BIN_EXE_endsmeet"));
    command
        .args(["new", PLAN, "--sessions"])
        .arg(folder.path())
        .env("ENDSMEET_SETTINGS", "tests/common/usual-settings.toml")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    for (name, value) in environment {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    let mut child = command.spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    stdin.write_all(b"\nhelp\nstop\nquit\n").unwrap();
    drop(stdin);
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn over_a_pipe_the_first_line_says_the_mode_and_nothing_is_drawn() {
    let xterm = ("TERM", Some("xterm-256color"));
    for environment in [
        vec![xterm],
        vec![("TERM", Some("dumb"))],
        vec![("TERM", None)],
        vec![xterm, ("NO_COLOR", Some("1"))],
        vec![xterm, ("LANG", Some("C")), ("LC_ALL", Some("C"))],
    ] {
        let said = over_a_pipe(&environment);
        assert!(
            said.starts_with("endsmeet, line mode: "),
            "{environment:?}: {said}"
        );
        assert!(!said.contains(is_drawn), "{environment:?}: {said}");
        assert!(!said.contains('\u{1b}'), "{environment:?}: {said}");
        assert!(
            said.contains("Stopped for today"),
            "{environment:?}: {said}"
        );
    }
}

#[test]
fn a_terminal_that_cannot_be_drawn_on_gets_plain_lines() {
    for term in [Some("dumb"), Some(""), None] {
        let folder = folder();
        let mut command = endsmeet(folder.path(), &["new", PLAN]);
        match term {
            Some(term) => command.env("TERM", term),
            None => command.env_remove("TERM"),
        }
        let mut pty = Pty::start(command, LEAST);
        pty.wait_for("line mode:");
        pty.send("\n");
        pty.wait_for("Heddles counted");
        pty.send("quit\n");
        assert_eq!(pty.ended(), 0, "{term:?}");
        pty.drained();
        let said = String::from_utf8_lossy(&pty.bytes()).into_owned();
        assert!(
            !said.contains('\u{1b}') && !said.contains(is_drawn),
            "{term:?}: {said}"
        );
    }
}

#[test]
fn a_locale_without_utf8_has_a_screen_of_reversed_spaces_alone() {
    for name in ["LANG", "LC_CTYPE", "LC_ALL"] {
        let folder = folder();
        let mut command = endsmeet(folder.path(), &["new", PLAN]);
        command.env(name, "C");
        let mut pty = Pty::start(command, LEAST);
        pty.wait_for("? help");
        pty.send(" ");
        pty.wait_for("Heddles counted");
        pty.send("\u{3}");
        assert_eq!(pty.ended(), 0, "{name}");
        pty.drained();
        let bytes = pty.bytes();
        assert!(
            bytes.iter().all(u8::is_ascii),
            "{name}: only what any terminal has"
        );
        assert!(
            String::from_utf8_lossy(&bytes).contains("7m"),
            "{name}: reversed"
        );
    }
}
