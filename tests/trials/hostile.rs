//! Names and notes that would make a terminal obey: harmless on the screen, in lines, in what is said
//! after leaving, in speech, in the window's title, on sheets and as JSON; wide and combining letters
//! keep their columns.

use super::common::count::Row;
use super::program::{Lines, command, run, said};
use super::pty::{Pty, endsmeet, folder};
use endsmeet::terminal::screens::LEAST;
use std::fs;
use std::os::unix::ffi::OsStrExt;
use std::path::Path;

/// Pieces of hostile text: what a terminal obeys, turns round, hides or piles up.
const PIECES: [&str; 14] = [
    "\u{1b}]0;OBEYED\u{7}",
    "\u{1b}[2J\u{1b}[31mOBEYED",
    "\u{9b}2JOBEYED",
    "\u{1b}P+q544e\u{1b}\\",
    "\u{202e}desrever\u{202c}",
    "\u{2066}turned\u{2069}",
    "zero\u{200b}\u{200d}\u{feff}width",
    "two\u{2028}lines\u{2029}",
    "tag\u{e0041}\u{e0042}ged",
    "pile\u{301}\u{302}\u{303}\u{304}\u{305}\u{306}\u{307}\u{308}\u{309}\u{30a}d",
    "back\u{8}\u{8}\u{7f}space",
    "line\r\nend",
    "nul\u{0}byte",
    "\u{7e54}\u{308a} e\u{301} \u{1f9f6}",
];

/// What must not be in anything that is shown. The list is not the program's own. A line end and a
/// form feed, which parts the pages of a sheet, are ours.
fn is_hostile(c: char) -> bool {
    matches!(u32::from(c), 0x00..=0x09 | 0x0B | 0x0D..=0x1F | 0x7F..=0x9F | 0xAD | 0x200B..=0x200F | 0x2028..=0x202E
        | 0x2066..=0x2069 | 0xFEFF | 0xE0000..=0xE007F)
}

#[track_caller]
fn assert_harmless(what: &str, text: &str) {
    let hostile = text.chars().find(|c| is_hostile(*c));
    assert_eq!(hostile, None, "{what}: {text:?}");
    let mut marks = 0;
    for c in text.chars() {
        marks = if ('\u{300}'..='\u{36f}').contains(&c) {
            marks + 1
        } else {
            0
        };
        assert!(marks <= 4, "{what}: marks are piled up: {text:?}");
    }
}

/// The runner with hostile names in each place where a plan has a name.
fn plan(folder: &Path, hostile: &str) -> String {
    named(folder, &hostile.replace(|c: char| c.is_control(), ""))
}

fn named(folder: &Path, hostile: &str) -> String {
    let text = fs::read_to_string("assets/demo/hall-runner.json").unwrap();
    let mut plan: serde_json::Value = serde_json::from_str(&text).unwrap();
    plan["title"] = hostile.into();
    plan["yarns"][0]["name"] = hostile.into();
    plan["colours"][0]["yarn"] = hostile.into();
    let path = folder.join("hostile.json");
    fs::write(&path, serde_json::to_vec(&plan).unwrap()).unwrap();
    path.to_str().unwrap().to_owned()
}

/// The letters of the pieces as they are typed: line ends would end the line.
fn typed(hostile: &str) -> String {
    hostile.replace(['\n', '\r'], " ")
}

fn tried(hostile: &str) {
    let folder = folder();
    let raw = named(folder.path(), hostile);
    let refused = said(&run(folder.path(), &["plan", &raw]));
    assert_harmless("a plan as it is", &refused);
    let plan = plan(folder.path(), hostile);
    let spoken = folder.path().join("spoken.txt");
    let voice = format!("tee -a {}", spoken.display());
    let mut program = command(
        folder.path(),
        &[
            "new",
            &plan,
            "--for",
            &hostile.replace('\0', ""),
            "--say",
            "all",
            "--voice",
            &voice,
        ],
    );
    program.current_dir(folder.path());
    let mut lines = Lines::of(program);
    for line in ["", "note ", "broken ", "stop ", "what is ", ""] {
        let text = if line.is_empty() {
            String::new()
        } else {
            typed(hostile)
        };
        assert_harmless("lines", &lines.type_line(&format!("{line}{text}")));
    }
    assert_harmless("the end of lines", &lines.end().1);
    if let Ok(bytes) = fs::read(&spoken) {
        assert_harmless("speech", &String::from_utf8_lossy(&bytes));
    }
    for words in [
        &["status"][..],
        &["log"],
        &["sheet"],
        &["board", "--once"],
        &["plan", &plan],
        &["plan", &plan, "--json"],
        &["status", "--json"],
        &["log", "--json"],
        &["doctor"],
        &["resume", hostile.trim_matches('\0')],
        &["status", "\u{1b}[2Jnone"],
        &["plan", "\u{1b}]0;OBEYED\u{7}\u{202e}.json"],
        &["sley", "--sett", "\u{1b}[2J", "--reed", "10"],
        &["yarn", "\u{1b}[2J\u{202e}8/2"],
    ] {
        if words.iter().any(|word| word.contains('\0')) {
            continue;
        }
        assert_harmless(&format!("{words:?}"), &said(&run(folder.path(), words)));
    }
}

#[test]
fn hostile_text_is_harmless_in_all_that_is_said() {
    let row = Row::begin("hostile text in lines, speech, sheets, JSON, complaints");
    for piece in PIECES {
        tried(piece);
    }
    tried(&PIECES.concat());
    row.done(PIECES.len() as u64 + 1, " texts");
}

#[test]
fn hostile_text_is_harmless_on_the_screen_and_in_the_windows_title() {
    let row = Row::begin("hostile text in a terminal and after leaving it");
    for piece in PIECES {
        let folder = folder();
        let plan = plan(folder.path(), piece);
        let mut pty = Pty::start(endsmeet(folder.path(), &["new", &plan]), LEAST);
        pty.wait_for("? help");
        pty.send(" ");
        pty.send("\x03");
        assert_eq!(pty.ended(), 0);
        pty.drained();
        pty.assert_given_back();
        let bytes = String::from_utf8(pty.bytes()).unwrap();
        assert!(
            !bytes.contains("\u{1b}]0;OBEYED") && !bytes.contains("\u{1b}[31mOBEYED"),
            "{bytes:?}"
        );
        let plain: String = bytes.chars().filter(|c| !c.is_control()).collect();
        assert_harmless("the screen", &plain);
    }
    row.done(PIECES.len() as u64, "");
}

#[test]
fn a_file_with_a_hostile_name_is_named_harmlessly() {
    let row = Row::begin("hostile file names");
    let folder = folder();
    let good = include_bytes!("../frozen/format-1-hall-runner.jsonl");
    for (number, piece) in PIECES
        .iter()
        .filter(|piece| !piece.contains('\0'))
        .enumerate()
    {
        let name = [format!("{number} {piece}").as_bytes(), b"\xFF.jsonl"].concat();
        fs::write(folder.path().join(std::ffi::OsStr::from_bytes(&name)), good).unwrap();
    }
    for words in [
        &["board", "--once"][..],
        &["status"],
        &["resume"],
        &["resume", "0"],
        &[],
        &["doctor"],
    ] {
        assert_harmless(&format!("{words:?}"), &said(&run(folder.path(), words)));
    }
    row.done(PIECES.len() as u64, "");
}

#[test]
fn wide_and_combining_letters_keep_their_columns() {
    let row = Row::begin("wide and combining letters");
    let folder = folder();
    let title = "\u{7e54}\u{7269}\u{306e}\u{7d4c}\u{7cf8} cafe\u{301} \u{d55c}\u{ad6d} \u{ff21}\u{ff22} n\u{303}o".repeat(4);
    let plan = plan(folder.path(), &title);
    let mut pty = Pty::start(endsmeet(folder.path(), &["new", &plan]), LEAST);
    pty.wait_for("? help");
    let mut narrow = Pty::start(
        endsmeet(folder.path(), &["new", "assets/demo/hall-runner.json"]),
        LEAST,
    );
    narrow.wait_for("? help");
    // whatever the title is, the rest stands in the same columns
    let (wide, plain) = (pty.rows(), narrow.rows());
    let differ: Vec<_> = (0..24).filter(|row| wide[*row] != plain[*row]).collect();
    assert!(
        differ.len() <= 2,
        "rows {differ:?} differ:\n{}\n{}",
        wide.join("\n"),
        plain.join("\n")
    );
    for one in [&mut pty, &mut narrow] {
        one.send("\x03");
        assert_eq!(one.ended(), 0);
    }
    row.done(1, "");
}
