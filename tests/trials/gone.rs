//! The terminal goes away, or stops reading, or never was there.

use super::common::count::{Row, trials};
use super::program::{Dice, PROGRAM, RUNNER, command, ended, entries, runner, said};
use super::pty::{Pty, folder, plain_environment};
use endsmeet::journal::State;
use endsmeet::terminal::screens::LEAST;
use portable_pty::CommandBuilder;
use std::process::{Command, Stdio};

/// The program in a terminal, begun by a shell that may ignore the hang-up.
fn begun_by_a_shell(folder: &std::path::Path, ignoring: bool) -> Pty {
    let mut shell = CommandBuilder::new("sh");
    let trap = if ignoring { "trap '' HUP; " } else { "" };
    let dir = folder.display();
    shell.args([
        "-c",
        &format!("{trap}exec '{PROGRAM}' new {RUNNER} --guard-ms 0 --sessions '{dir}'"),
    ]);
    plain_environment(&mut shell);
    let pty = Pty::start(shell, LEAST);
    pty.wait_for("? help");
    pty
}

fn goes_away(ignoring: bool, row: &'static str) {
    let row = Row::begin(row);
    let wanted = trials(2, 20, 500);
    for seed in 0..wanted {
        let mut dice = Dice::new(seed);
        let folder = folder();
        let mut pty = begun_by_a_shell(folder.path(), ignoring);
        for _ in 0..dice.below(5) {
            pty.send(" ");
            dice.pause(4);
        }
        pty.let_go();
        // a program that spins without a terminal never ends: then this says so
        pty.ended();
        assert_eq!(entries(&runner(folder.path())).1, State::Clean);
    }
    row.done(wanted, "");
}

#[test]
fn a_terminal_that_goes_ends_the_program() {
    goes_away(false, "terminal gone, hang-up heard");
}

#[test]
fn a_terminal_that_goes_ends_the_program_that_ignores_the_hang_up() {
    goes_away(true, "terminal gone, hang-up ignored");
}

#[test]
fn a_terminal_that_stops_reading_shuts_no_way_out_and_loses_nothing() {
    let row = Row::begin("terminal that stops reading");
    let wanted = trials(1, 20, 500);
    for seed in 0..wanted {
        let folder = folder();
        let mut pty = begun_by_a_shell(folder.path(), false);
        pty.pause();
        // far more frames than a terminal's buffer holds
        for _ in 0..300 {
            pty.send(if seed % 2 == 0 { " \x7f" } else { "? " });
        }
        std::thread::sleep(std::time::Duration::from_millis(150));
        if seed % 2 == 0 {
            pty.signal("TERM");
            assert_eq!(pty.ended(), 143);
        } else {
            pty.read_on();
            pty.send("\x03");
            assert_eq!(pty.ended(), 0);
        }
        assert_eq!(entries(&runner(folder.path())).1, State::Clean);
    }
    row.done(wanted, ", ended by a signal or read on");
}

/// Standard input, output and complaints each shut or not; words; and what they must lead to.
#[test]
fn without_a_terminal_or_without_any_of_its_three_ends_it_ends_by_itself() {
    let row = Row::begin("no terminal, 0-2 closed");
    let rounds = trials(1, 3, 60);
    let mut tried = 0;
    for _ in 0..rounds {
        for shut in 0..8 {
            for words in [
                "new assets/demo/hall-runner.json",
                "resume",
                "status",
                "practice",
                "",
            ] {
                let folder = folder();
                drop(command(folder.path(), &["new", RUNNER]).output().unwrap());
                let mut line = format!(
                    "exec '{PROGRAM}' {words} --sessions '{}'",
                    folder.path().display()
                );
                for (end, bit) in [("<&-", 1), (">&-", 2), ("2>&-", 4)] {
                    if shut & bit != 0 {
                        line = format!("{line} {end}");
                    }
                }
                let mut shell = Command::new("sh");
                shell.args(["-c", &line]).env_remove("ENDSMEET_SESSIONS");
                let mut child = shell
                    .stdin(Stdio::null())
                    .stdout(Stdio::piped())
                    .stderr(Stdio::piped())
                    .spawn()
                    .unwrap();
                let status = ended(&mut child).unwrap_or_else(|| panic!("{line}: it did not end"));
                let output = child.wait_with_output().unwrap();
                let code = status
                    .code()
                    .unwrap_or_else(|| panic!("{line}: ended by a signal"));
                assert!((0..=4).contains(&code), "{line}: {code} {}", said(&output));
                assert_eq!(entries(&runner(folder.path())).1, State::Clean, "{line}");
                tried += 1;
            }
        }
    }
    row.done(tried, "");
}

#[test]
fn an_input_that_ends_ends_the_lines_and_says_what_is_saved() {
    let row = Row::begin("standard input ends");
    let wanted = trials(2, 20, 500);
    for presses in 0..wanted {
        let folder = folder();
        let mut lines = super::program::Lines::start(folder.path(), &["new", RUNNER]);
        for _ in 0..presses % 20 {
            lines.type_line("");
        }
        let (code, rest) = lines.end();
        assert_eq!(code, Some(0));
        assert!(
            rest.contains("Everything pressed so far is saved"),
            "{rest}"
        );
        assert_eq!(
            entries(&runner(folder.path())),
            (presses % 20, State::Clean)
        );
    }
    row.done(wanted, "");
}
