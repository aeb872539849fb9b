//! The real program killed before each of its calls that touch the disk: while it begins, presses,
//! goes on, and mends a torn tail. Whatever was shown is there, and the next start goes on.
//! Needs `strace`; says so where it is not there. Every eighth call is tried, every one for a
//! submission and in a soak.
#![allow(clippy::unwrap_used)]

#[path = "common/count.rs"]
mod count;

use count::{Row, trials};
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

const PROGRAM: &str = env!("CARGO_BIN_EXE_endsmeet");
const PLAN: &str = "assets/demo/hall-runner.json";
const RUNNER: &[u8] = include_bytes!("frozen/format-1-hall-runner.jsonl");
/// The calls that can change or confirm what is on disk, or come right before one that does.
const CALLS: [&str; 11] = [
    "openat",
    "write",
    "fdatasync",
    "fsync",
    "renameat2",
    "ftruncate",
    "flock",
    "statx",
    "unlink",
    "mkdir",
    "read",
];

/// What is done with the program, and the presses.
struct Scene {
    name: &'static str,
    words: &'static [&'static str],
    /// Put into the folder before.
    file: Option<Vec<u8>>,
    presses: &'static [&'static str],
    /// What is done at the next start.
    again: &'static [&'static str],
}

fn scenes() -> [Scene; 3] {
    let mut damaged = RUNNER.to_vec();
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    let torn = [RUNNER, b"{\"c\":\"0123abcd\",\"v\":1,\"n\":15"].concat();
    [
        Scene {
            name: "a first run",
            words: &["new", PLAN],
            file: None,
            presses: &["", "", "", "", "", "back", "note leaves next"],
            again: &["resume", "hall-runner"],
        },
        Scene {
            name: "going on after a torn tail",
            words: &["resume", "hall-runner"],
            file: Some(torn),
            presses: &[],
            again: &["resume", "hall-runner"],
        },
        Scene {
            name: "the clean part saved as a copy",
            words: &["resume", "hall-runner", "--salvage"],
            file: Some(damaged),
            presses: &[],
            again: &["resume", "hall-runner", "--salvage"],
        },
    ]
}

impl Scene {
    fn folder(&self) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        if let Some(bytes) = &self.file {
            fs::write(folder.path().join("hall-runner.jsonl"), bytes).unwrap();
        }
        folder
    }

    /// Runs it, under `strace` with these options if there are any.
    fn run(&self, folder: &Path, strace: &[&str], presses: usize) -> Output {
        let mut command = match strace {
            [] => Command::new(PROGRAM),
            options => {
                let mut command = Command::new("strace");
                command
                    .args(["-f", "-qq", "-o"])
                    .arg(folder.join("calls.txt"));
                command.args(options).arg(PROGRAM);
                command
            }
        };
        command.args(self.words);
        fed(&mut command, folder, &lines(self.presses, presses))
    }
}

/// The first so many presses as they are typed; one more than there are is a press of next.
fn lines(presses: &[&str], count: usize) -> String {
    let typed = presses.iter().chain(&[""]).take(count);
    typed.map(|line| format!("{line}\n")).collect()
}

fn fed(command: &mut Command, folder: &Path, input: &str) -> Output {
    let mut child = command
        .args(["--line", "--sessions"])
        .arg(folder)
        .env_remove("ENDSMEET_SESSIONS")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // a program that is killed before it reads is what is tried here
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

/// How many entries the file tells; `None` where there is no dressing.
fn entries(folder: &Path) -> Option<u64> {
    let mut status = Command::new(PROGRAM);
    let output = fed(status.args(["status", "hall-runner", "--json"]), folder, "");
    let value: Value = serde_json::from_slice(&output.stdout).ok()?;
    value["entries"].as_u64()
}

/// What stands on the screen once so many presses are saved: what runs that end there and one press
/// later have in common.
fn shown_after(scene: &Scene) -> Vec<Vec<u8>> {
    let whole = |presses| {
        let folder = scene.folder();
        scene.run(folder.path(), &[], presses).stdout
    };
    let runs: Vec<Vec<u8>> = (0..=scene.presses.len() + 1).map(whole).collect();
    let common = |a: &[u8], b: &[u8]| a.iter().zip(b).take_while(|(a, b)| a == b).count();
    let pairs = runs.windows(2);
    pairs
        .map(|two| two[0][..common(&two[0], &two[1])].to_vec())
        .collect()
}

/// How often each call is made in a whole run.
fn counted(scene: &Scene) -> Vec<(&'static str, usize)> {
    let folder = scene.folder();
    let traced = format!("trace={}", CALLS.join(","));
    scene.run(folder.path(), &["-e", &traced], scene.presses.len());
    let calls = fs::read_to_string(folder.path().join("calls.txt")).unwrap();
    let count = |call: &str| {
        calls
            .lines()
            .filter(|line| line.contains(&format!(" {call}(")))
            .count()
    };
    CALLS.iter().map(|call| (*call, count(call))).collect()
}

/// Kills before one call, and sees what is left. Returns whether it was killed, and how many
/// presses had been shown by then.
fn killed_before(
    scene: &Scene,
    shown: &[Vec<u8>],
    call: &str,
    number: usize,
) -> (bool, Option<usize>) {
    let folder = scene.folder();
    let before = entries(folder.path());
    let (traced, inject) = (
        format!("trace={call}"),
        format!("inject={call}:signal=KILL:when={number}"),
    );
    let output = scene.run(
        folder.path(),
        &["-e", &traced, "-e", &inject],
        scene.presses.len(),
    );
    let said = format!("{}, killed before {call} {number}", scene.name);
    let seen = shown
        .iter()
        .rposition(|text| !text.is_empty() && output.stdout.starts_with(text));
    // going on writes a line of its own; saving a copy leaves the file as it is
    let opened = u64::from(scene.file.is_some() && !scene.words.contains(&"--salvage"));
    let at_least = before.unwrap_or(0) + seen.map_or(0, |presses| presses as u64 + opened);
    match entries(folder.path()) {
        None => {
            assert!(
                seen.is_none() && before.is_none(),
                "{said}: nothing is left"
            );
            let mut new = Command::new(PROGRAM);
            let again = fed(new.args(["new", PLAN]), folder.path(), "");
            assert!(
                again.status.success(),
                "{said}: {}",
                String::from_utf8_lossy(&again.stderr)
            );
        }
        Some(entries) => {
            let most = before.unwrap_or(0) + opened + scene.presses.len() as u64;
            assert!(
                (at_least..=most).contains(&entries),
                "{said}: {entries} entries where {at_least} were shown"
            );
            let mut again = Command::new(PROGRAM);
            let again = fed(again.args(scene.again), folder.path(), "");
            assert!(
                again.status.success(),
                "{said}: {}",
                String::from_utf8_lossy(&again.stderr)
            );
        }
    }
    (!output.status.success(), seen)
}

#[test]
fn the_program_killed_before_any_of_its_calls_keeps_what_it_showed() {
    let row = Row::begin("killed before a call that touches the disk");
    if !strace_is_here() {
        return row.skipped("strace is not here, or may not trace");
    }
    let every = 8 / trials(1, 8, 8).clamp(1, 8) as usize;
    let mut all = 0;
    for scene in scenes() {
        let shown = shown_after(&scene);
        assert!(
            shown.windows(2).all(|two| two[0].len() < two[1].len()),
            "each press shows something"
        );
        let (mut tried, mut killed, mut after_a_save) = (0, 0, 0);
        for (call, times) in counted(&scene) {
            for number in (1..=times).step_by(every) {
                let (ended, seen) = killed_before(&scene, &shown, call, number);
                killed += usize::from(ended);
                after_a_save += usize::from(ended && seen.is_some());
                tried += 1;
            }
        }
        all += tried as u64;
        println!(
            "{}: killed {killed} times in {tried} trials, {after_a_save} of them after something was shown as saved",
            scene.name
        );
        assert!(
            killed * 2 > tried && killed >= 20 / every,
            "the trials kill"
        );
    }
    row.done(all, "");
}

fn strace_is_here() -> bool {
    let there = Command::new("strace")
        .args(["-qq", "-o", "/dev/null", "true"])
        .status();
    there.is_ok_and(|status| status.success())
}

/// The calls of a run that write, sync or name, in their order, each with the path it was made on.
fn calls_of(folder: &Path, inject: &[&str], presses: &str) -> (Output, Vec<String>) {
    let mut command = Command::new("strace");
    command
        .args(["-f", "-qq", "-y", "-s", "40", "-o"])
        .arg(folder.join("calls.txt"));
    command
        .args(["-e", "trace=write,fsync,fdatasync,renameat2,rename,linkat"])
        .args(inject);
    command.arg(PROGRAM).args(["new", PLAN]);
    let output = fed(&mut command, folder, presses);
    let calls = fs::read_to_string(folder.join("calls.txt")).unwrap();
    (output, calls.lines().map(str::to_owned).collect())
}

#[test]
fn what_is_shown_as_saved_was_synced_before_it_was_shown() {
    let row = Row::begin("the order of write, sync and show");
    if !strace_is_here() {
        return row.skipped("strace is not here, or may not trace");
    }
    let folder = tempfile::tempdir().unwrap();
    let (_, calls) = calls_of(folder.path(), &[], "\n\n");
    let after = |from: usize, what: &str, on: &str| {
        let found = calls[from..]
            .iter()
            .position(|call| call.contains(what) && call.contains(on));
        from + found.unwrap_or_else(|| panic!("no {what} on {on} after {from}: {calls:#?}"))
    };
    let here = folder.path().to_str().unwrap();
    // beginning: the bytes, then the name, then the folder, then what is shown
    let written = after(0, "write(", ".new-");
    let synced = after(written, "fsync(", ".new-");
    let named = after(synced, "rename", ".new-");
    let confirmed = after(named, "fsync(", &format!("{here}>"));
    let mut at = after(confirmed, "write(1", "");
    // each press: the line, the sync, then what is shown
    for _ in 0..2 {
        let line = after(at, "write(", "hall-runner.jsonl>");
        let synced = after(line, "fdatasync(", "hall-runner.jsonl>");
        at = after(synced, "write(1", "");
        let shown_between = calls[line..synced]
            .iter()
            .any(|call| call.contains("write(1"));
        assert!(!shown_between, "shown before it was synced: {calls:#?}");
    }
    row.done(3, "");
}

#[test]
fn a_disk_that_knows_no_sync_of_a_folder_is_used_and_one_whose_sync_fails_is_not() {
    let row = Row::begin("folder sync unknown, or failing");
    if !strace_is_here() {
        return row.skipped("strace is not here, or may not trace");
    }
    for (error, code, files) in [("EINVAL", 0, 1), ("EIO", 1, 0)] {
        let folder = tempfile::tempdir().unwrap();
        // the first sync is that of the new file, the second that of its folder
        let inject = format!("inject=fsync:error={error}:when=2");
        let (output, _) = calls_of(folder.path(), &["-e", &inject], "");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(code), "{error}: {said}");
        let names = fs::read_dir(folder.path()).unwrap().flatten();
        let left = names.filter(|name| name.file_name() != "calls.txt").count();
        assert_eq!(
            left, files,
            "{error}: what could not be made sure of is taken away again"
        );
    }
    row.done(2, "");
}
