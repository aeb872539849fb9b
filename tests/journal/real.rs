//! The same on the disk of this machine: locks between programs, rights, things that are no files.

use super::{KNOWN, add, begin, expected, go_on, go_on_for_real, told};
use endsmeet::journal::{
    Access, CreateError, Disk, Fresh, Journal, OpenError, ReadOnly, RealDisk, Rights, State,
};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

fn real() -> Arc<dyn Disk> {
    Arc::new(RealDisk)
}

#[test]
fn a_dressing_on_a_real_disk_is_read_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = begin(&real(), folder.path()).unwrap();
    (1..=20).for_each(|n| add(&mut journal, n).unwrap());
    let path = journal.path().to_owned();
    drop(journal);
    let mut opened = go_on_for_real(&real(), &path).unwrap();
    assert_eq!(
        (&opened.state, told(&opened)),
        (&State::Clean, expected(20))
    );
    add(&mut opened.journal, 21).unwrap();
    let names = RealDisk.list(folder.path()).unwrap();
    assert_eq!(names, ["hall-runner.jsonl"], "no draft is left");
}

#[test]
fn a_torn_tail_on_a_real_disk_is_set_aside() {
    let folder = tempfile::tempdir().unwrap();
    let journal = begin(&real(), folder.path()).unwrap();
    let path = journal.path().to_owned();
    drop(journal);
    for number in 1..=3 {
        let mut bytes = std::fs::read(&path).unwrap();
        bytes.extend_from_slice(b"{\"c\":\"0\0\0");
        std::fs::write(&path, bytes).unwrap();
        let mut opened = go_on_for_real(&real(), &path).unwrap();
        let set_aside = folder
            .path()
            .join(format!("hall-runner.jsonl.torn-{number}"));
        assert_eq!(std::fs::read(&set_aside).unwrap(), b"{\"c\":\"0\0\0");
        assert_eq!(
            opened.state,
            State::TornTail {
                set_aside,
                bytes: 9
            }
        );
        add(&mut opened.journal, number).unwrap();
    }
    assert_eq!(told(&go_on(&real(), &path).unwrap()), expected(3));
}

/// Runs one test of this program again, in a process of its own.
fn again(test: &str, variable: &str, path: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command
        .args(["--exact", test, "--nocapture"])
        .env(variable, path);
    command
}

#[test]
fn another_process_is_refused_while_we_have_the_file() {
    if let Some(path) = std::env::var_os("ENDSMEET_TEST_LOCKED") {
        let path = Path::new(&path);
        let refused = go_on(&real(), path).unwrap_err();
        assert_eq!(
            refused,
            OpenError::InUse {
                path: path.to_owned()
            }
        );
        let read = Journal::open(&real(), path, Access::ReadOnly, KNOWN).unwrap();
        assert_eq!(told(&read), expected(1));
        println!("refused as it should be");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let mut journal = begin(&real(), folder.path()).unwrap();
    add(&mut journal, 1).unwrap();
    let test = "real::another_process_is_refused_while_we_have_the_file";
    let other = again(test, "ENDSMEET_TEST_LOCKED", journal.path())
        .output()
        .unwrap();
    let says = String::from_utf8_lossy(&other.stdout).into_owned();
    assert!(
        other.status.success() && says.contains("refused as it should be"),
        "{says}"
    );
    let path = journal.path().to_owned();
    drop(journal);
    assert_eq!(free_again(&path).state, State::Clean);
}

/// Opens a file that was let go of: what other tests start at this moment holds it too, until it runs.
fn free_again(path: &Path) -> endsmeet::journal::Opened {
    for _ in 0..1_000 {
        match go_on(&real(), path) {
            Err(OpenError::InUse { .. }) => std::thread::sleep(std::time::Duration::from_millis(5)),
            other => return other.unwrap(),
        }
    }
    panic!("nobody lets go of {}", path.display());
}

#[test]
fn a_process_that_is_killed_leaves_no_lock_and_loses_nothing_that_it_said() {
    use std::io::{BufRead, BufReader};
    if let Some(folder) = std::env::var_os("ENDSMEET_TEST_KILLED") {
        let mut journal = begin(&real(), Path::new(&folder)).unwrap();
        for n in 1.. {
            add(&mut journal, n).unwrap();
            println!("saved {n}");
        }
    }
    let test = "real::a_process_that_is_killed_leaves_no_lock_and_loses_nothing_that_it_said";
    for most in [1, 2, 5, 20, 50] {
        let folder = tempfile::tempdir().unwrap();
        let mut child = again(test, "ENDSMEET_TEST_KILLED", folder.path())
            .stdout(std::process::Stdio::piped())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut lines = lines.map_while(Result::ok);
        let mut said = lines
            .by_ref()
            .filter_map(|line| line.strip_prefix("saved ")?.parse().ok());
        let at_least: u64 = said.by_ref().take(most).last().unwrap();
        child.kill().unwrap();
        let at_least: u64 = said.last().unwrap_or(at_least);
        child.wait().unwrap();
        let mut opened = go_on(&real(), &folder.path().join("hall-runner.jsonl")).unwrap();
        let shown = opened.lines.len() as u64;
        assert!(
            shown == at_least || shown == at_least + 1,
            "{shown} after {at_least}"
        );
        assert_eq!(told(&opened), expected(shown));
        add(&mut opened.journal, shown + 1).unwrap();
    }
}

#[cfg(unix)]
#[test]
fn what_is_no_file_is_said_and_never_waited_for() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::create_dir(at("folder.jsonl")).unwrap();
    std::os::unix::fs::symlink(at("nowhere"), at("dangling.jsonl")).unwrap();
    let made = Command::new("mkfifo").arg(at("pipe.jsonl")).status();
    assert!(made.unwrap().success(), "mkfifo makes a pipe");
    let _socket = std::os::unix::net::UnixListener::bind(at("socket.jsonl")).unwrap();
    for access in [Access::GoOn, Access::ReadOnly] {
        let open = |path: &Path| Journal::open(&real(), path, access, KNOWN).unwrap_err();
        for (path, what) in [
            (at("folder.jsonl"), "a folder"),
            (at("pipe.jsonl"), "a pipe"),
            (at("socket.jsonl"), "a socket"),
            ("/dev/full".into(), "a device"),
            ("/dev/null".into(), "a device"),
        ] {
            assert_eq!(open(&path), OpenError::NotAFile { path, what });
        }
        let path = at("dangling.jsonl");
        assert_eq!(open(&path), OpenError::DanglingLink { path });
        let path = at("missing.jsonl");
        assert_eq!(open(&path), OpenError::Missing { path });
        let path = at("folder.jsonl/x/y.jsonl");
        assert_eq!(open(&path), OpenError::Missing { path });
    }
    assert_eq!(
        endsmeet::journal::list(&RealDisk, folder.path())
            .unwrap()
            .len(),
        4
    );
}

#[cfg(unix)]
#[test]
fn names_of_any_bytes_and_of_255_bytes_are_opened_and_said_harmlessly() {
    use std::os::unix::ffi::OsStrExt;
    let folder = tempfile::tempdir().unwrap();
    let journal = begin(&real(), folder.path()).unwrap();
    let long = "x".repeat(249);
    for name in [
        &b"\xFF\xFErunner\x1b[2J.jsonl"[..],
        format!("{long}.jsonl").as_bytes(),
    ] {
        let path = folder.path().join(std::ffi::OsStr::from_bytes(name));
        std::fs::copy(journal.path(), &path).unwrap();
        let mut opened = go_on_for_real(&real(), &path).unwrap();
        add(&mut opened.journal, 1).unwrap();
        let busy = go_on(&real(), &path).unwrap_err().to_string();
        assert!(!busy.contains('\u{1b}'), "{busy}");
        drop(opened);
        let mut bytes = std::fs::read(&path).unwrap();
        bytes.extend_from_slice(b"torn");
        std::fs::write(&path, bytes).unwrap();
        let state = go_on(&real(), &path).unwrap().state;
        let fits = name.len() < 240;
        assert_eq!(matches!(state, State::TornTail { .. }), fits, "{state:?}");
        assert_eq!(
            matches!(state, State::ReadOnly(ReadOnly::TailStays(_))),
            !fits,
            "{state:?}"
        );
    }
}

#[cfg(unix)]
#[test]
fn a_new_file_has_the_rights_that_were_asked_for() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let fresh = Fresh {
        folder: folder.path(),
        title: "Mine",
        method: "m",
        plan: &1,
        rights: Rights::OwnerOnly,
    };
    let journal = Journal::create(&real(), &fresh, super::stamp(0)).unwrap();
    let mode = journal.path().metadata().unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
}

#[test]
fn a_folder_that_is_not_there_is_no_place_to_begin() {
    let folder = Path::new("/nowhere/at/all");
    let refused = begin(&real(), folder).unwrap_err();
    assert!(
        matches!(&refused, CreateError::CannotWrite { cause, .. } if cause.code == Some(2)),
        "{refused}"
    );
}

/// Rights do not bind root: there the test runs once more as the user `nobody`, where that works.
#[cfg(unix)]
#[test]
fn a_folder_or_a_file_that_may_not_be_written_is_read_only_and_said() {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;
    let test = "real::a_folder_or_a_file_that_may_not_be_written_is_read_only_and_said";
    let Some(folder) = std::env::var_os("ENDSMEET_TEST_RIGHTS") else {
        let folder = tempfile::tempdir().unwrap();
        let journal = begin(&real(), folder.path()).unwrap();
        let rights = |path: &Path, mode| {
            std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap()
        };
        rights(journal.path(), 0o444);
        rights(folder.path(), 0o555);
        drop(journal);
        let mut plain = again(test, "ENDSMEET_TEST_RIGHTS", folder.path());
        if rustix::process::geteuid().is_root() {
            plain.uid(65_534).gid(65_534);
        }
        match plain.output() {
            Ok(other) => {
                let says = String::from_utf8_lossy(&other.stdout).into_owned();
                assert!(
                    other.status.success() && says.contains("read only as it should be"),
                    "{says}"
                );
            }
            Err(error) => println!("SKIPPED: no plain user can run this program here: {error}"),
        }
        rights(folder.path(), 0o755);
        return;
    };
    let path = Path::new(&folder).join("hall-runner.jsonl");
    let opened = go_on(&real(), &path).unwrap();
    assert!(
        matches!(opened.state, State::ReadOnly(ReadOnly::NotAllowed(_))),
        "{:?}",
        opened.state
    );
    let refused = begin(&real(), Path::new(&folder)).unwrap_err();
    assert!(
        matches!(&refused, CreateError::CannotWrite { cause, .. } if cause.code == Some(13)),
        "{refused}"
    );
    println!("read only as it should be");
}

#[cfg(unix)]
#[test]
fn another_name_of_the_same_file_is_no_copy_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let journal = begin(&real(), folder.path()).unwrap();
    let path = journal.path().to_owned();
    drop(journal);
    let at = |name: &str| folder.path().join(name);
    std::os::unix::fs::symlink(&path, at("hall-runner-link.jsonl")).unwrap();
    std::fs::hard_link(&path, at("hall-runner-hard.jsonl")).unwrap();
    std::fs::create_dir(at("hall-runner-folder.jsonl")).unwrap();
    let made = Command::new("mkfifo")
        .arg(at("hall-runner-pipe.jsonl"))
        .status();
    assert!(made.unwrap().success());
    assert_eq!(free_again(&path).beside, []);
    std::fs::copy(&path, at("hall-runner-copy.jsonl")).unwrap();
    let beside = free_again(&path).beside;
    let names: Vec<_> = beside.iter().map(|copy| copy.path.clone()).collect();
    assert_eq!(names, [at("hall-runner-copy.jsonl")]);
}
