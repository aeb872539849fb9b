//! The slip "where I stopped", saved by one press or one word where the warp is left; and what is offered
//! at the first start in plain lines.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use endsmeet::terminal::screens::LEAST;
use pty::{Pty, endsmeet, folder};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

const PLAN: &str = "assets/demo/practice.json";

/// The slips in a folder, each with its text.
fn slips(folder: &Path) -> Vec<String> {
    let files = std::fs::read_dir(folder).unwrap();
    let files = files.map(|file| file.unwrap().path());
    let slips = files.filter(|file| file.to_string_lossy().ends_with(".slip.txt"));
    slips
        .map(|file| std::fs::read_to_string(file).unwrap())
        .collect()
}

/// What the program writes to these lines.
fn in_lines(args: &[&str], settings: &Path, typed: &str) -> String {
    let mut child = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(args)
        .env("ENDSMEET_SETTINGS", settings)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    stdin.write_all(typed.as_bytes()).unwrap();
    drop(stdin);
    String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap()
}

#[test]
fn one_press_saves_the_slip_where_she_has_stopped() {
    let folder = folder();
    let mut pty = Pty::start(endsmeet(folder.path(), &["new", PLAN]), LEAST);
    pty.wait_for("? help");
    pty.send(" ");
    pty.wait_for("Left back one");
    pty.send("\t");
    pty.wait_for("STOP FOR TODAY");
    let rows = pty.rows();
    let stop = rows.iter().find(|row| row.contains("STOP FOR TODAY"));
    let number = stop.unwrap().trim_start_matches(['>', ' ']);
    pty.send(&number[..1]);
    pty.wait_for("2 save the slip");
    pty.send("2");
    pty.wait_for("The slip is saved");
    let slips = slips(folder.path());
    assert_eq!(slips.len(), 1);
    assert!(slips[0].contains("Where I stopped"), "{}", slips[0]);
    pty.send("q");
    pty.wait_for("any other key");
    pty.send("y");
    assert_eq!(pty.ended(), 0);
    let listed = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(["status", "--sessions", folder.path().to_str().unwrap()])
        .output()
        .unwrap();
    let said = String::from_utf8(listed.stdout).unwrap();
    assert!(!said.contains("slip.txt"), "a slip is no dressing: {said}");
}

#[test]
fn one_word_saves_it_in_lines_and_what_hinders_is_said() {
    let folder = folder();
    let usual = Path::new("tests/common/usual-settings.toml");
    let sessions = folder.path().to_str().unwrap();
    let args = ["new", PLAN, "--line", "--sessions", sessions];
    let said = in_lines(&args, usual, "\nstop\nslip\nquit\n");
    assert!(said.contains("Save the slip: slip."), "{said}");
    assert!(said.contains("The slip is saved: "), "{said}");
    assert_eq!(slips(folder.path()).len(), 1);
    // a folder stands where the file would be
    let file = std::fs::read_dir(folder.path()).unwrap();
    let mut file = file.map(|file| file.unwrap().path());
    let file = file.find(|file| file.to_string_lossy().ends_with(".slip.txt"));
    let file = file.unwrap();
    std::fs::remove_file(&file).unwrap();
    std::fs::create_dir(&file).unwrap();
    let args = ["resume", "--line", "--sessions", sessions];
    let said = in_lines(&args, usual, "slip\nquit\n");
    assert!(said.contains("The slip could not be saved: "), "{said}");
    assert!(said.contains("Write down what you see here."), "{said}");
    let left = std::fs::read_dir(folder.path()).unwrap();
    let mut left = left.map(|file| file.unwrap().path());
    assert!(!left.any(|file| file.to_string_lossy().ends_with(".part")));
}

#[test]
fn what_the_first_start_offers_is_offered_in_lines_too_and_once() {
    let folder = folder();
    let settings = folder.path().join("settings.toml");
    let sessions = folder.path().to_str().unwrap();
    let args = ["--line", "--sessions", sessions];
    let first = in_lines(&args, &settings, "quit\n");
    let offer = "First time here: ";
    let line = first.lines().find(|line| line.contains(offer));
    let number = line.unwrap_or_else(|| panic!("{first}")).trim();
    let number = number.split(':').next().unwrap();
    // the voice is turned on, then on to the list again, where the offer is no more
    let said = in_lines(&args, &settings, &format!("{number}\n2\n1\nquit\n"));
    assert!(
        said.contains("2: A voice that reads the calls aloud"),
        "{said}"
    );
    let kept = std::fs::read_to_string(&settings).unwrap();
    assert!(
        kept.lines().any(|line| line.starts_with("say = ")),
        "{kept}"
    );
    let again = in_lines(&args, &settings, "quit\n");
    assert!(!again.contains(offer), "{again}");
}
