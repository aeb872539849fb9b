//! No room: a limit at every byte of a line, a small disk that is filled and emptied again, an output
//! that takes nothing. A press that was not saved says so, and is taken when there is room.

use super::common::count::{Row, trials};
use super::program::{Lines, PROGRAM, RUNNER, command, entries, run, runner, through};
use super::pty::folder;
use endsmeet::journal::State;
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::process::Command;

fn is_there(program: &str, words: &[&str]) -> bool {
    let there = Command::new(program).args(words).output();
    there.is_ok_and(|output| output.status.success())
}

/// Presses until one is refused, and once more; how many were taken.
fn press_until_refused(lines: &mut Lines, most: u64) -> u64 {
    let mut taken = 0;
    while !lines.type_line("").contains("NOT SAVED") {
        taken += 1;
        assert!(taken < most, "there is room for {taken} presses");
    }
    assert!(lines.type_line("").contains("NOT SAVED"));
    taken
}

/// The program under a limit on the size of its files; it is told of the limit by an error, or killed.
fn limited(folder: &Path, bytes: u64, killed: bool) -> Command {
    let mut shell = Command::new("sh");
    let trap = if killed { "" } else { "trap '' XFSZ; " };
    shell.args([
        "-c",
        &format!("{trap}exec prlimit --fsize={bytes}: \"$@\""),
        "sh",
    ]);
    through(shell, folder, &["resume", "hall-runner"])
}

#[test]
fn a_limit_at_any_byte_of_a_line_refuses_the_press_until_it_is_lifted() {
    let row = Row::begin("full at every byte, RLIMIT_FSIZE");
    if !is_there("prlimit", &["--version"]) {
        return row.skipped("prlimit is not here");
    }
    let wanted = trials(8, 160, 1_000);
    let step = (160 / wanted).max(1);
    let (mut taken, mut torn) = (0, 0);
    for n in 0..wanted {
        let folder = folder();
        let path = runner(folder.path());
        run(folder.path(), &["new", RUNNER]);
        // room for the line "opened again", which has about 125 bytes, and for a part of the next
        let room = fs::metadata(&path).unwrap().len() + 140 + n * step % 160;
        if n % 4 == 3 {
            let mut lines = Lines::of(limited(folder.path(), room, true));
            (0..3).for_each(|_| drop(lines.type_line("")));
            assert_eq!(lines.end().0, None, "the limit kills");
            let (_, state) = entries(&path);
            torn += u64::from(matches!(state, State::TornTail { .. }));
            continue;
        }
        let mut lines = Lines::of(limited(folder.path(), room, false));
        let before = press_until_refused(&mut lines, 3);
        let pid = lines.child.id().to_string();
        assert!(is_there("prlimit", &["--pid", &pid, "--fsize=unlimited:"]));
        assert!(
            !lines.type_line("").contains("NOT SAVED"),
            "there is room again"
        );
        assert_eq!(lines.end().0, Some(0));
        taken += before + 1;
        assert_eq!(entries(&path), (before + 2, State::Clean));
    }
    row.done(
        wanted,
        &format!(", {taken} presses taken, {torn} torn lines set aside"),
    );
}

/// A small disk in memory, taken away when it is dropped.
struct Small(tempfile::TempDir);

impl Small {
    fn new() -> Result<Self, String> {
        let place = folder();
        let mut mount = Command::new("mount");
        mount
            .args(["-t", "tmpfs", "-o", "size=64k", "none"])
            .arg(place.path());
        match mount.output() {
            Ok(output) if output.status.success() => Ok(Self(place)),
            Ok(output) => Err(String::from_utf8_lossy(&output.stderr).into_owned()),
            Err(error) => Err(error.to_string()),
        }
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.0.path()).output();
    }
}

#[test]
fn a_disk_that_fills_up_refuses_presses_until_there_is_room() {
    let row = Row::begin("full disk, tmpfs");
    let wanted = trials(2, 20, 200);
    for n in 0..wanted {
        let disk = match Small::new() {
            Ok(disk) => disk,
            Err(why) => return row.skipped(&why),
        };
        let folder = disk.0.path();
        let mut lines = Lines::start(folder, &["new", RUNNER]);
        let note = format!("note {}", "x".repeat(1 + n as usize * 7));
        assert!(!lines.type_line(&note).contains("NOT SAVED"));
        let filler = folder.join("filler");
        let mut file = File::create(&filler).unwrap();
        while file.write_all(&[0; 512]).is_ok() {}
        drop(file);
        let before = press_until_refused(&mut lines, 40);
        fs::remove_file(&filler).unwrap();
        assert!(
            !lines.type_line("").contains("NOT SAVED"),
            "there is room again"
        );
        assert_eq!(lines.end().0, Some(0));
        assert_eq!(entries(&runner(folder)), (before + 2, State::Clean));
    }
    row.done(wanted, "");
}

#[test]
fn an_output_that_takes_nothing_is_no_success_and_no_crash() {
    let row = Row::begin("/dev/full as output");
    let folder = folder();
    let mut lines = Lines::start(folder.path(), &["new", RUNNER]);
    lines.type_line("");
    lines.end();
    let mut tried = 0;
    for words in [
        &["status"][..],
        &["log"],
        &["status", "--json"],
        &["plan", RUNNER],
        &["plan", RUNNER, "--json"],
        &["doctor"],
        &["sheet", RUNNER],
        &["board"],
        &["resume", "hall-runner"],
    ] {
        let mut command = command(folder.path(), words);
        command.stdout(File::options().write(true).open("/dev/full").unwrap());
        let output = command.output().unwrap();
        let complaints = String::from_utf8_lossy(&output.stderr);
        let code = output.status.code();
        assert!(!complaints.contains("panicked"), "{words:?}: {complaints}");
        assert_eq!(code, Some(1), "{PROGRAM} {words:?}: {complaints}");
        assert!(
            complaints.contains("o space left"),
            "{words:?}: {complaints}"
        );
        tried += 1;
    }
    row.done(tried, "");
}
