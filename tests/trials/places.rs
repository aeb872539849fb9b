//! Places that cannot be written, read or reached, and things that are no files, as a plain user: each
//! command ends by itself, says what it found, and leaves what is there as it is.

use super::common::count::{Row, trials};
use super::program::{PROGRAM, RUNNER, dressed_by, ended, said};
use super::pty::folder;
use std::ffi::OsStr;
use std::fs::{self, Permissions};
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Stands for the path of a plan.
const PLAN: &str = "PLAN";
const NAME: &str = "hall-runner";
const FILE: &str = "hall-runner.jsonl";
const GOOD: &[u8] = include_bytes!("../frozen/format-1-hall-runner.jsonl");
/// The user and group `nobody`, whom rights bind.
const NOBODY: u32 = 65_534;

/// What each of the four commands ends with: new, resume, status, doctor.
type Codes = [i32; 4];

/// A place: its name, what makes it, and what the commands end with there.
struct Place {
    name: &'static str,
    make: fn(&Path) -> PathBuf,
    codes: Codes,
}

fn rights(path: &Path, mode: u32) {
    fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
}

/// A folder that anyone may write to, with a good dressing in it that anyone may write to.
fn open_folder(root: &Path) -> PathBuf {
    let place = root.join("place");
    fs::create_dir(&place).unwrap();
    fs::write(place.join(FILE), GOOD).unwrap();
    rights(&place.join(FILE), 0o666);
    rights(&place, 0o777);
    place
}

/// The same with another thing in the dressing's place.
fn instead(root: &Path, make: impl Fn(&Path)) -> PathBuf {
    let place = open_folder(root);
    fs::remove_file(place.join(FILE)).unwrap();
    make(&place.join(FILE));
    place
}

fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}

fn at_rights(root: &Path, folder: u32, file: u32) -> PathBuf {
    let place = open_folder(root);
    rights(&place.join(FILE), file);
    rights(&place, folder);
    place
}

/// A dressing under another name; the commands that take a name are given none.
fn named(root: &Path, name: &OsStr) -> PathBuf {
    let place = open_folder(root);
    fs::rename(place.join(FILE), place.join(name)).unwrap();
    place
}

fn places() -> Vec<Place> {
    let place = |name, make, codes| Place { name, make, codes };
    vec![
        place(
            "a folder that may not be written",
            |root| at_rights(root, 0o555, 0o666),
            [1, 0, 0, 0],
        ),
        place(
            "a file that may not be written",
            |root| at_rights(root, 0o777, 0o444),
            [0, 1, 0, 0],
        ),
        place(
            "neither may be written",
            |root| at_rights(root, 0o555, 0o444),
            [1, 1, 0, 0],
        ),
        place(
            "a file that may not be read",
            |root| at_rights(root, 0o777, 0o000),
            [0, 1, 1, 0],
        ),
        place(
            "a folder that may not be read",
            |root| at_rights(root, 0o000, 0o666),
            [1, 1, 1, 0],
        ),
        place(
            "a folder that cannot be made",
            |root| at_rights(root, 0o555, 0o666).join("more"),
            [1, 1, 1, 0],
        ),
        place(
            "a folder that is a file",
            |root| open_folder(root).join(FILE),
            [1, 1, 1, 0],
        ),
        place(
            "a folder that is a pipe",
            |root| instead(root, pipe).join(FILE),
            [1, 1, 1, 0],
        ),
        place(
            "a folder that is a link to nowhere",
            |root| instead(root, |path| symlink("/nowhere/at/all", path).unwrap()).join(FILE),
            [1, 1, 1, 0],
        ),
        place(
            "a folder that is a device",
            |_| PathBuf::from("/dev/full"),
            [1, 1, 1, 0],
        ),
        place(
            "a file that is a folder",
            |root| instead(root, |path| fs::create_dir(path).unwrap()),
            [0, 1, 1, 0],
        ),
        place(
            "a file that is a pipe",
            |root| instead(root, pipe),
            [0, 1, 1, 0],
        ),
        place(
            "a file that is a link to nowhere",
            |root| instead(root, |path| symlink("/nowhere/at/all", path).unwrap()),
            [0, 1, 1, 0],
        ),
        place(
            "a file that is a link to a device that is full",
            |root| instead(root, |path| symlink("/dev/full", path).unwrap()),
            [0, 1, 1, 0],
        ),
        place(
            "a file that is empty",
            |root| instead(root, |path| fs::write(path, b"").unwrap()),
            [0, 1, 1, 0],
        ),
        place(
            "a file of 255 bytes' name",
            |root| named(root, OsStr::new(&format!("{}.jsonl", "x".repeat(249)))),
            [0, 0, 0, 0],
        ),
        place(
            "a file whose name is no text",
            |root| named(root, OsStr::from_bytes(b"\xFF\x1b[2J.jsonl")),
            [0, 0, 0, 0],
        ),
        place(
            "a path longer than any may be",
            |root| root.join("x".repeat(5_000)),
            [1, 1, 1, 0],
        ),
    ]
}

/// All files under a folder with what they hold; what cannot be read is left out.
fn contents(place: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let entries = fs::read_dir(place).into_iter().flatten().flatten();
    let mut all: Vec<_> = entries
        .filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()))
        .filter_map(|entry| Some((entry.path(), fs::read(entry.path()).ok()?)))
        .collect();
    all.sort();
    all
}

/// The program where a plain user may run it, in a folder of its own.
fn public(root: &Path) -> PathBuf {
    rights(root, 0o755);
    // copied by another program: a file that is open to be written here cannot be run there
    let copied = Command::new("cp")
        .arg(PROGRAM)
        .arg(root.join("endsmeet"))
        .status();
    assert!(copied.unwrap().success());
    fs::copy(RUNNER, root.join("plan.json")).unwrap();
    root.join("endsmeet")
}

fn tried(place: &Place, number: usize, words: &[&str]) {
    let root = folder();
    let program = public(root.path());
    let there = (place.make)(root.path());
    let before = contents(&there);
    let plan = root.path().join("plan.json");
    let words: Vec<&str> = words
        .iter()
        .map(|word| {
            if *word == PLAN {
                plan.to_str().unwrap()
            } else {
                word
            }
        })
        .collect();
    let mut command = dressed_by(Command::new(program), &there, &words);
    command
        .current_dir("/")
        .env("HOME", "/nowhere")
        .env_remove("XDG_DATA_HOME");
    if rustix::process::geteuid().is_root() {
        command.uid(NOBODY).gid(NOBODY);
    }
    let mut child = command.spawn().unwrap();
    let status =
        ended(&mut child).unwrap_or_else(|| panic!("{}: {words:?} waits for ever", place.name));
    let said = said(&child.wait_with_output().unwrap());
    let context = format!("{}: {words:?}: {said}", place.name);
    assert_eq!(status.code(), Some(place.codes[number]), "{context}");
    assert!(
        !said.contains("panicked") && !said.contains('\u{1b}'),
        "{context}"
    );
    if status.code() != Some(0) {
        let sentence = said.trim_end();
        assert!(
            sentence.len() > 20 && sentence.contains(' '),
            "it says what it found: {context}"
        );
    }
    for (path, bytes) in before {
        let after = fs::read(&path).unwrap();
        assert!(
            after.starts_with(&bytes),
            "{context}: {} was changed",
            path.display()
        );
        assert!(
            after == bytes || status.success(),
            "{context}: it was written to"
        );
    }
    if let Ok(data) = fs::metadata(&there)
        && data.is_dir()
    {
        rights(&there, 0o777);
    }
}

#[test]
fn whatever_the_place_is_it_is_said_and_left_alone() {
    let row = Row::begin("places as a plain user");
    let rounds = trials(1, 1, 5);
    let mut times = 0;
    for _ in 0..rounds {
        for place in places() {
            let named =
                ["a file of 255 bytes' name", "a file whose name is no text"].contains(&place.name);
            let dressing: &[&str] = if named { &[] } else { &[NAME] };
            for (number, first) in ["new", "resume", "status", "doctor"]
                .into_iter()
                .enumerate()
            {
                let mut words = vec![first];
                match first {
                    "new" => words.push(PLAN),
                    "doctor" => {}
                    _ => words.extend(dressing),
                }
                tried(&place, number, &words);
                times += 1;
            }
        }
    }
    row.done(
        times,
        &format!(", {} places and 4 commands", places().len()),
    );
}
