//! Two windows, eight at once, a holder that is killed, a file changed under the program, and copies of
//! it beside it: refused or told, never written over and never merged.

use super::common::count::{Row, trials};
use super::program::{Lines, RUNNER, command, ended, entries, run, runner, said};
use super::pty::folder;
use endsmeet::journal::State;
use std::fs;
use std::path::Path;
use std::process::{Child, Stdio};

/// The code of a dressing that another window has.
const IN_USE: Option<i32> = Some(4);

#[test]
fn a_second_window_is_refused_until_the_first_is_shut() {
    let row = Row::begin("two windows");
    let wanted = trials(3, 50, 1_000);
    let folder = folder();
    let mut first = Lines::start(folder.path(), &["new", RUNNER]);
    for n in 0..wanted {
        first.type_line("note the first window still has it");
        let second = run(folder.path(), &["resume", "hall-runner"]);
        assert_eq!(second.status.code(), IN_USE, "{}", said(&second));
        assert!(
            said(&second).contains("another window"),
            "{}",
            said(&second)
        );
        let look = run(folder.path(), &["status", "hall-runner"]);
        assert!(look.status.success(), "{}", said(&look));
        if n % 10 == 9 {
            first.end();
            first = Lines::start(folder.path(), &["resume", "hall-runner"]);
        }
    }
    row.done(wanted, "");
}

/// Waits until all but one have ended.
fn last_one(mut children: Vec<Child>) -> Child {
    for _ in 0..20_000 {
        let mut still = Vec::new();
        for mut child in children {
            match child.try_wait().unwrap() {
                None => still.push(child),
                Some(status) => assert_eq!(status.code(), IN_USE),
            }
        }
        children = still;
        if children.len() == 1 {
            return children.remove(0);
        }
        assert!(!children.is_empty(), "nobody has it");
        std::thread::sleep(std::time::Duration::from_millis(3));
    }
    panic!("{} have it at once", children.len());
}

#[test]
fn of_eight_windows_at_once_one_has_it() {
    let row = Row::begin("eight windows at once");
    let wanted = trials(2, 50, 1_000);
    let folder = folder();
    run(folder.path(), &["new", RUNNER]);
    for _ in 0..wanted {
        let children = (0..8).map(|_| {
            let mut window = command(folder.path(), &["resume", "hall-runner"]);
            window
                .stdin(Stdio::piped())
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap()
        });
        let mut winner = last_one(children.collect());
        drop(winner.stdin.take());
        assert!(ended(&mut winner).unwrap().success());
    }
    assert_eq!(
        entries(&runner(folder.path())),
        (wanted, State::Clean),
        "one opening each"
    );
    row.done(wanted, "");
}

#[test]
fn a_holder_that_is_killed_leaves_no_lock() {
    let row = Row::begin("lock holder killed");
    let wanted = trials(3, 50, 1_000);
    let folder = folder();
    run(folder.path(), &["new", RUNNER]);
    for n in 0..wanted {
        let mut holder = Lines::start(folder.path(), &["resume", "hall-runner"]);
        holder.type_line("note");
        holder.child.kill().unwrap();
        holder.child.wait().unwrap();
        let next = run(folder.path(), &["resume", "hall-runner"]);
        assert!(next.status.success(), "round {n}: {}", said(&next));
    }
    assert_eq!(entries(&runner(folder.path())).1, State::Clean);
    row.done(wanted, "");
}

/// What is done to the file while the program has it open.
fn meddle(path: &Path, how: u64) {
    let bytes = fs::read(path).unwrap();
    match how % 4 {
        0 => fs::write(path, [&bytes[..], b"another program's line\n"].concat()).unwrap(),
        1 => {
            // replaced, as an editor or a program that keeps folders alike does
            fs::write(path.with_extension("new"), &bytes).unwrap();
            fs::rename(path.with_extension("new"), path).unwrap();
        }
        2 => fs::remove_file(path).unwrap(),
        _ => fs::write(path, &bytes[..bytes.len() - 20]).unwrap(),
    }
}

#[test]
fn a_file_that_is_changed_under_the_program_is_never_written_to() {
    let row = Row::begin("file appended to, replaced, deleted, cut under us");
    let wanted = trials(4, 200, 4_000);
    for how in 0..wanted {
        let folder = folder();
        let path = runner(folder.path());
        let mut lines = Lines::start(folder.path(), &["new", RUNNER]);
        lines.type_line("");
        meddle(&path, how);
        let before = fs::read(&path).ok();
        for _ in 0..2 {
            let answer = lines.type_line("");
            assert!(answer.contains("NOT SAVED"), "{how}: {answer}");
        }
        assert_eq!(fs::read(&path).ok(), before, "{how}: it was written to");
        lines.end();
        assert_eq!(
            fs::read(&path).ok(),
            before,
            "{how}: it was written to at the end"
        );
    }
    row.done(wanted, "");
}

#[test]
fn a_copy_beside_it_is_told_apart_and_nothing_is_merged() {
    let row = Row::begin("conflict copies: same, shorter, longer, another way");
    let wanted = trials(4, 50, 1_000);
    for how in 0..wanted {
        let folder = folder();
        let (path, copy) = (
            runner(folder.path()),
            folder.path().join("hall-runner (copy of Tuesday).jsonl"),
        );
        let mut lines = Lines::start(folder.path(), &["new", RUNNER]);
        (0..how % 5).for_each(|_| drop(lines.type_line("")));
        lines.end();
        fs::copy(&path, &copy).unwrap();
        let press = |file: &str, note: &str| {
            let mut lines = Lines::start(folder.path(), &["resume", file]);
            lines.type_line(note);
            lines.end();
        };
        // the file is named here, so that going on with it is what is wanted
        if how % 4 == 1 || how % 4 == 3 {
            press("hall-runner", "note here");
        }
        if how % 4 == 2 {
            fs::rename(&path, folder.path().join("elsewhere")).unwrap();
            press("hall-runner (copy of Tuesday)", "note there");
            fs::rename(folder.path().join("elsewhere"), &path).unwrap();
        } else if how % 4 == 3 {
            press("hall-runner (copy of Tuesday)", "note there");
        }
        let copied = fs::read(&copy).unwrap();
        let kept = fs::read(&path).unwrap();
        let again = run(folder.path(), &["resume", "hall-runner"]);
        let (says, code) = match how % 4 {
            0 | 1 => ("holds nothing that is not here", 0),
            2 => ("A copy knows more of this dressing", 1),
            _ => ("went another way from line", 0),
        };
        assert!(said(&again).contains(says), "{how}: {}", said(&again));
        assert_eq!(again.status.code(), Some(code), "{how}");
        assert_eq!(
            fs::read(&copy).unwrap(),
            copied,
            "{how}: the copy was written to"
        );
        assert!(
            fs::read(&path).unwrap().starts_with(&kept),
            "{how}: lines of the other file"
        );
        if code == 1 {
            assert_eq!(fs::read(&path).unwrap(), kept);
        }
    }
    row.done(wanted, "");
}
