//! The real program while the clock on the wall jumps: order comes from the numbers of the lines, so
//! nothing is lost and nothing is refused. Needs `faketime`; the same jumps are tried without it, in the
//! process, by the tests of the journal.

use super::common::count::{Row, trials};
use super::program::{Dice, Lines, PROGRAM, RUNNER, command, entries, run, runner, said};
use super::pty::folder;
use endsmeet::journal::State;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Back an hour, ten years, to 1970; forward; over the change to summer time and back; a leap day.
const TIMES: [&str; 11] = [
    "1969-12-31 23:59:50",
    "2026-03-03 18:00:00",
    "2026-03-03 17:00:00",
    "2016-03-03 18:00:00",
    "1970-01-01 00:00:01",
    "2037-12-31 23:59:58",
    "2026-03-29 01:59:58",
    "2026-10-25 02:59:58",
    "2028-02-29 23:59:58",
    "2000-02-29 12:00:00",
    "2026-12-31 23:59:59",
];
const ZONES: [&str; 5] = [
    "UTC",
    "Europe/Berlin",
    "America/St_Johns",
    "Pacific/Kiritimati",
    "XYZ-13:37",
];

/// The library that `faketime` puts before the system's.
pub fn library() -> Option<PathBuf> {
    let preload = Command::new("faketime")
        .args(["2026-01-01 00:00:00", "printenv", "LD_PRELOAD"])
        .output()
        .ok()?;
    // it may hold a word that only the linker knows, so it is taken as it is
    let path = String::from_utf8(preload.stdout).ok()?;
    (preload.status.success() && !path.trim().is_empty()).then(|| PathBuf::from(path.trim()))
}

fn with_clock(library: &Path, times: &Path, zone: &str, folder: &Path, words: &[&str]) -> Command {
    let mut command = command(folder, words);
    set_clock(library, times, |name, value| {
        command.env(name, value);
    });
    command.env("TZ", zone);
    command
}

/// Gives a program the clock that stands in a file; the clock that never goes back stays as it is.
pub fn set_clock(library: &Path, times: &Path, mut set: impl FnMut(&str, &OsStr)) {
    set("LD_PRELOAD", library.as_os_str());
    set("FAKETIME_TIMESTAMP_FILE", times.as_os_str());
    set("FAKETIME_NO_CACHE", OsStr::new("1"));
    set("DONT_FAKE_MONOTONIC", OsStr::new("1"));
}

#[test]
fn jumps_of_the_clock_lose_nothing_and_refuse_nothing() {
    let row = Row::begin("clock jumps, faketime");
    let Some(library) = library() else {
        return row.skipped("faketime is not here");
    };
    let wanted = trials(6, 200, 5_000);
    let folder = folder();
    let times = folder.path().join("times.txt");
    let mut dice = Dice::new(19);
    run(folder.path(), &["new", RUNNER]);
    let (mut jumps, mut lines) = (0, 0);
    while jumps < wanted {
        let mut set = |dice: &mut Dice| {
            jumps += 1;
            std::fs::write(&times, format!("{}\n", dice.of(&TIMES))).unwrap();
        };
        set(&mut dice);
        let zone = dice.of(&ZONES);
        let mut program = Lines::of(with_clock(
            &library,
            &times,
            zone,
            folder.path(),
            &["resume", "hall-runner"],
        ));
        lines += 1;
        for _ in 0..2 + dice.below(4) {
            set(&mut dice);
            let answer = program.type_line("note the clock jumped");
            assert!(!answer.contains("NOT SAVED"), "{answer}");
            lines += 1;
        }
        let (code, rest) = program.end();
        assert_eq!(code, Some(0), "{rest}");
        for words in [["status", "hall-runner"], ["log", "hall-runner"]] {
            let output = with_clock(&library, &times, zone, folder.path(), &words)
                .output()
                .unwrap();
            assert!(
                output.status.success(),
                "{PROGRAM} {words:?}: {}",
                said(&output)
            );
        }
        assert_eq!(entries(&runner(folder.path())), (lines, State::Clean));
    }
    let log = run(folder.path(), &["log", "hall-runner"]);
    let years = ["1969", "1970", "2000", "2016", "2026", "2028", "2037"];
    let seen = years
        .iter()
        .filter(|year| said(&log).contains(**year))
        .count();
    assert!(seen >= 3, "the clock did not jump: {}", said(&log));
    row.done(jumps, &format!(", {lines} lines kept"));
}

/// Found by the trials: before 1970 the usual call for the time panics.
#[test]
fn a_clock_before_1970_is_no_reason_to_fall_over() {
    let row = Row::begin("a clock before 1970");
    let Some(library) = library() else {
        return row.skipped("faketime is not here");
    };
    let folder = folder();
    let times = folder.path().join("times.txt");
    std::fs::write(&times, "1965-05-05 05:05:05\n").unwrap();
    let mut program = Lines::of(with_clock(
        &library,
        &times,
        "UTC",
        folder.path(),
        &["new", RUNNER],
    ));
    program.type_line("");
    let (code, rest) = program.end();
    assert_eq!(code, Some(0), "{rest}");
    assert_eq!(entries(&runner(folder.path())), (1, State::Clean));
    let log = run(folder.path(), &["log", "hall-runner"]);
    assert!(said(&log).contains("1965-05-05"), "{}", said(&log));
    row.done(1, "");
}
