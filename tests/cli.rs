//! The command line: exit codes, JSON, bad input that writes nothing, a second window.
#![allow(clippy::unwrap_used)]

use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const RUNNER: &str = "assets/demo/hall-runner.json";

struct Place {
    folder: tempfile::TempDir,
}

impl Place {
    fn new() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    fn sessions(&self) -> PathBuf {
        self.folder.path().join("dressings")
    }

    fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, bytes).unwrap();
        path
    }

    fn run(&self, words: &[&str], input: &str) -> Output {
        let mut child = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
            .args(words)
            .arg("--sessions")
            .arg(self.sessions())
            .env_remove("ENDSMEET_SESSIONS")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // a command that ends before it reads its input is no fault of the test
        let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
        child.wait_with_output().unwrap()
    }

    fn dressings(&self) -> usize {
        fs::read_dir(self.sessions()).map_or(0, Iterator::count)
    }
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn plan_with(change: &str) -> String {
    format!(
        r#"{{ "endsmeet": 1, "title": "Try", "sett": 10, "ends": 40, "threading": "1 2 3 4", "reeds": [{{"dents": 10, "length": 20}}]{change} }}"#
    )
}

/// Bad input, the words that must be in the sentence, all with exit 1 and nothing written.
fn bad_plans() -> Vec<(&'static str, Vec<u8>, &'static str)> {
    let deep = format!("{}{}", "[".repeat(2000), "]".repeat(2000));
    let threading = |text: &str| {
        plan_with(", \"loom\": {\"shafts\": 4}")
            .replace("\"1 2 3 4\"", &format!("\"{text}\""))
            .into_bytes()
    };
    let sett = |text: &str| {
        plan_with("")
            .replace("\"sett\": 10", &format!("\"sett\": {text}"))
            .into_bytes()
    };
    vec![
        ("binary", vec![0xff, 0xfe, 0x00, 0x01, 0x02], "is not text"),
        ("empty", Vec::new(), "line 1"),
        ("no JSON", b"{ \"endsmeet\": 1, ".to_vec(), "line 1"),
        ("wrong type", sett("[1]"), "sett"),
        (
            "unknown key",
            plan_with(", \"treading\": \"1 2\"").into_bytes(),
            "did you mean",
        ),
        ("zero sett", sett("0"), "sett"),
        ("negative sett", sett("-4"), "sett"),
        ("absurd sett", sett("1e30"), "sett"),
        ("divided by zero", sett("\"1/0\""), "0"),
        ("depth bomb", deep.into_bytes(), "deep"),
        ("a shaft the loom lacks", threading("1 2 9 4"), "9"),
        ("unbalanced brackets", threading("1 2 (3 4"), "("),
        (
            "a million repeats",
            threading("(1 2 3 4) x900000000"),
            "100",
        ),
        (
            "nested repeats",
            threading("((((1 2) x9999) x9999) x9999) x9999"),
            "100",
        ),
    ]
}

#[test]
fn bad_plans_are_refused_in_a_sentence_and_nothing_is_written() {
    let place = Place::new();
    for (name, bytes, wanted) in bad_plans() {
        let file = place.file("plan.json", &bytes);
        let file = file.to_str().unwrap();
        for words in [["plan", file], ["new", file]] {
            let output = place.run(&words, "");
            let said = err(&output);
            assert_eq!(output.status.code(), Some(1), "{name}: {said}");
            assert!(said.contains(wanted), "{name}: {said}");
            assert!(
                !said.contains('\u{1b}') && !said.contains("panicked"),
                "{name}: {said}"
            );
        }
        assert_eq!(place.dressings(), 0, "{name} left a file");
    }
}

#[test]
fn control_characters_in_a_name_are_refused_and_never_shown() {
    let place = Place::new();
    let text = plan_with("").replace("Try", "T\\u001b[31mry");
    let file = place.file("plan.json", text.as_bytes());
    let plan = place.run(&["new", file.to_str().unwrap(), "--line"], "");
    assert_eq!(plan.status.code(), Some(1));
    assert!(
        err(&plan).contains("a name without control characters"),
        "{}",
        err(&plan)
    );
    assert!(!err(&plan).contains('\u{1b}'));
    // what only cannot be seen is taken out
    let text = plan_with("").replace("Try", "Tr\\u202ey");
    let file = place.file("plan.json", text.as_bytes());
    let plan = place.run(&["plan", file.to_str().unwrap()], "");
    assert_eq!(plan.status.code(), Some(0), "{}", err(&plan));
    assert!(out(&plan).starts_with("Try\n"), "{}", out(&plan));
    assert_eq!(place.dressings(), 0);
}

#[test]
fn files_that_are_none_are_named() {
    let place = Place::new();
    let missing = place.run(&["new", "no-such-plan.json"], "");
    assert_eq!(missing.status.code(), Some(1));
    assert_eq!(
        err(&missing),
        "endsmeet: There is no file no-such-plan.json. Check the name of the plan, and the folder.\n"
    );
    let folder = place.run(&["plan", "."], "");
    assert_eq!(folder.status.code(), Some(1));
    assert_eq!(
        err(&folder),
        "endsmeet: . is a folder; a plan is a file. Name a file in it.\n"
    );
    let huge = place.file("huge.json", &vec![b' '; 9 << 20]);
    let huge = place.run(&["plan", huge.to_str().unwrap()], "");
    assert_eq!(huge.status.code(), Some(1));
    assert!(err(&huge).contains("at most"), "{}", err(&huge));
    assert_eq!(place.dressings(), 0);
}

#[test]
fn wrong_usage_is_exit_2() {
    let place = Place::new();
    for words in [
        &["plam", RUNNER][..],
        &["sley", "--sett", "18"],
        &["sley", "--sett", "a", "--reed", "12"],
        &[
            "trace",
            RUNNER,
            "--batch",
            "99",
            "--ends-left",
            "1",
            "--heddles-left",
            "0,0,0,0",
        ],
        &[
            "trace",
            RUNNER,
            "--batch",
            "5",
            "--ends-left",
            "1",
            "--heddles-left",
            "0,0,0",
        ],
        &[
            "trace",
            RUNNER,
            "--batch",
            "5",
            "--calls",
            "40",
            "--ends-left",
            "1",
            "--heddles-left",
            "0,0,0,0",
        ],
        &[
            "trace",
            RUNNER,
            "--batch",
            "5",
            "--ends-left",
            "1",
            "--heddles-left",
            "0,1,0,0",
            "--seen",
            "5",
        ],
    ] {
        let output = place.run(words, "");
        assert_eq!(output.status.code(), Some(2), "{words:?}: {}", err(&output));
    }
}

#[test]
fn plan_prints_json_also_with_problems() {
    let place = Place::new();
    let text = plan_with(", \"loom\": {\"shafts\": 4, \"heddles\": [4, 20, 20, 20]}");
    let file = place.file("plan.json", text.as_bytes());
    let output = place.run(&["plan", file.to_str().unwrap(), "--json"], "");
    assert_eq!(output.status.code(), Some(1));
    let value: Value = serde_json::from_str(&out(&output)).unwrap();
    assert_eq!(value["schema"], 1);
    assert_eq!(value["heddles"]["short"], serde_json::json!([6, 0, 0, 0]));
    assert!(!value["problems"].as_array().unwrap().is_empty());
    assert!(err(&output).contains("shaft 1"), "{}", err(&output));
}

#[test]
fn problems_have_one_shape_however_little_could_be_read() {
    let place = Place::new();
    let field = plan_with(", \"treading\": \"1 2\"");
    let missing = place.folder.path().join("none.json");
    for (file, kind) in [
        (place.file("field.json", field.as_bytes()), "unknown-key"),
        (place.file("bytes.json", b"\xff\xfe"), "unreadable"),
        (place.file("draft.wif", b"no draft"), "unreadable"),
        (missing, "unreadable"),
    ] {
        let output = place.run(&["plan", file.to_str().unwrap(), "--json"], "");
        assert_eq!(output.status.code(), Some(1));
        let value: Value = serde_json::from_str(&out(&output)).unwrap();
        let problem = &value["problems"][0];
        assert_eq!(problem["problem"], kind, "{value}");
        let says = problem["says"].as_str().unwrap();
        assert!(err(&output).contains(says), "{says} in {}", err(&output));
        assert_eq!(value["remarks"], serde_json::json!([]));
    }
}

#[test]
fn trace_says_the_likeliest_place_and_is_not_settled_at_first() {
    let place = Place::new();
    let words = [
        "trace",
        RUNNER,
        "--batch",
        "5",
        "--ends-left",
        "1",
        "--heddles-left",
        "0,0,0,1",
        "--json",
    ];
    let output = place.run(&words, "");
    assert_eq!(output.status.code(), Some(3), "{}", err(&output));
    let value: Value = serde_json::from_str(&out(&output)).unwrap();
    let numbers = ["batch", "first", "last"].map(|key| value[key].as_u64());
    assert_eq!(numbers, [Some(5), Some(49), Some(60)]);
    assert_eq!(value["counts_agree"], false);
    assert_eq!(
        value["suspects"][0]["faults"][0]["fault"],
        "position-skipped"
    );
    let negative = [
        "trace",
        RUNNER,
        "--batch",
        "5",
        "--ends-left",
        "-1",
        "--heddles-left",
        "-1,0,0,0",
    ];
    let output = place.run(&negative, "");
    assert_eq!(output.status.code(), Some(3), "{}", err(&output));
    assert!(out(&output).contains("threaded twice"), "{}", out(&output));
}

#[test]
fn a_dressing_is_begun_gone_on_with_and_looked_at() {
    let place = Place::new();
    let begun = place.run(&["new", RUNNER, "--line"], "\n\n\n");
    assert_eq!(begun.status.code(), Some(0), "{}", err(&begun));
    let status = place.run(&["status", "--json"], "");
    assert_eq!(status.status.code(), Some(0));
    let value: Value = serde_json::from_str(&out(&status)).unwrap();
    assert_eq!(
        (value["name"].as_str(), value["entries"].as_u64()),
        (Some("hall-runner"), Some(3))
    );
    assert_eq!(value["stage"], "prepare");
    let log = place.run(&["log"], "");
    let log = out(&log);
    let (happened, comes_to) = log.split_once("\n\n").unwrap();
    assert_eq!(happened.lines().count(), 3, "{log}");
    assert!(comes_to.starts_with("Time: ") && comes_to.contains("Every count came out."));
    let table = out(&place.run(&["log", "--csv"], ""));
    assert_eq!(
        table.lines().count(),
        4,
        "a head and three entries: {table}"
    );
    let both = place.run(&["log", "--csv", "--json"], "");
    assert_eq!(both.status.code(), Some(2));
    let page = out(&place.run(&["log", "--html", "--paper", "letter"], ""));
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("size: letter"));
    let again = place.run(&["resume", "hall-runner", "--line"], "\nq\n");
    assert_eq!(again.status.code(), Some(0), "{}", err(&again));
    // the title does as well as the file's name
    let titled = place.run(&["resume", "Hall runner", "--line"], "q\n");
    assert_eq!(titled.status.code(), Some(0), "{}", err(&titled));
    let none = place.run(&["resume", "nobody", "--line"], "");
    assert_eq!(none.status.code(), Some(1));
    assert!(
        err(&none).contains("There are: hall-runner."),
        "{}",
        err(&none)
    );
    assert!(
        err(&none).contains("There is no dressing nobody"),
        "{}",
        err(&none)
    );
}

#[test]
fn a_passed_over_check_is_exit_3() {
    let place = Place::new();
    let presses = "\n".repeat(5) + "skip\n" + &"\n".repeat(24) + "count\nskip\nq\n";
    let output = place.run(&["new", RUNNER, "--line"], &presses);
    assert_eq!(output.status.code(), Some(3), "{}", out(&output));
    assert_eq!(place.run(&["status"], "").status.code(), Some(3));
}

#[test]
fn a_second_window_is_refused_with_exit_4() {
    let place = Place::new();
    let mut first = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(["new", RUNNER, "--line", "--sessions"])
        .arg(place.sessions())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    wait_for_file(&place.sessions());
    let second = place.run(&["resume", "hall-runner", "--line"], "");
    assert_eq!(second.status.code(), Some(4), "{}", err(&second));
    assert!(
        err(&second).contains("open in another window"),
        "{}",
        err(&second)
    );
    // looking is allowed meanwhile
    assert_eq!(
        place.run(&["status", "hall-runner"], "").status.code(),
        Some(0)
    );
    drop(first.stdin.take());
    first.wait().unwrap();
    assert_eq!(
        place
            .run(&["resume", "hall-runner", "--line"], "q\n")
            .status
            .code(),
        Some(0)
    );
}

fn wait_for_file(folder: &Path) {
    for _ in 0..400 {
        let there = fs::read_dir(folder).is_ok_and(|mut items| {
            items.any(|item| {
                item.is_ok_and(|item| item.path().extension().is_some_and(|e| e == "jsonl"))
            })
        });
        if there {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("no dressing was begun");
}

#[test]
fn the_example_is_gone_on_with_in_a_copy() {
    let place = Place::new();
    fs::create_dir(place.sessions()).unwrap();
    let example = place.sessions().join("example-hall-runner.jsonl");
    fs::copy("sessions/example-hall-runner.jsonl", &example).unwrap();
    let before = fs::read(&example).unwrap();
    let output = place.run(&["resume", "--line"], "2\nq\n");
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(
        out(&output).contains("Which shaft is your last threaded end on?"),
        "{}",
        out(&output)
    );
    assert_eq!(fs::read(&example).unwrap(), before);
    assert!(place.sessions().join("hall-runner.jsonl").exists());
}

#[test]
fn a_house_wording_is_used_and_checked() {
    let place = Place::new();
    let good = place.run(&["method", "assets/method/example-house.json"], "");
    assert_eq!(good.status.code(), Some(0), "{}", err(&good));
    let bad = place.file(
        "house.json",
        br#"{"endsmeet_house": 1, "steps": [{"id": "no-such-step"}]}"#,
    );
    let bad = place.run(&["method", bad.to_str().unwrap()], "");
    assert_eq!(bad.status.code(), Some(1));
    assert!(err(&bad).contains("no-such-step"), "{}", err(&bad));
}

#[test]
fn a_plan_is_filled_in_left_and_gone_on_with_in_lines() {
    let place = Place::new();
    let first = place.run(&["new", "--line"], "Towel\n\nten\n10\n40\nquit\n");
    assert_eq!(first.status.code(), Some(0), "{}", err(&first));
    assert!(
        out(&first).contains("expected a digit, as in 18 1/2"),
        "{}",
        out(&first)
    );
    assert!(place.sessions().join("unfinished-plan.json").exists());
    let typed = "go threading\n1 2 3 4\ngo reeds\n10\ngo no-such\nback\nshow\ndone\n\nq\n";
    let second = place.run(&["new", "--line"], typed);
    assert_eq!(second.status.code(), Some(0), "{}", err(&second));
    let said = out(&second);
    for words in [
        "There is no field no-such",
        "40 ends; 4 in wide",
        "heddles 10 10 10 10",
        "Prepare: Heddles counted",
    ] {
        assert!(said.contains(words), "{words} in {said}");
    }
    assert!(place.sessions().join("towel.jsonl").exists());
    assert!(!place.sessions().join("unfinished-plan.json").exists());
}

#[test]
fn a_draft_goes_on_a_kept_loom() {
    let place = Place::new();
    let kept = place.run(&["loom", "hall loom", "--from", RUNNER], "");
    assert_eq!(kept.status.code(), Some(0), "{}", err(&kept));
    let words = [
        "new",
        "assets/drafts/point-4.wif",
        "--loom",
        "hall-loom",
        "--thread-one",
        "left",
        "--line",
    ];
    let begun = place.run(&words, "q\n");
    assert_eq!(begun.status.code(), Some(0), "{}", err(&begun));
    assert!(
        err(&begun).contains("taken to lie at the left edge"),
        "{}",
        err(&begun)
    );
    let status = place.run(&["status", "--json"], "");
    let value: Value = serde_json::from_str(&out(&status)).unwrap();
    assert_eq!(value["stage"], "prepare");
}

#[test]
fn doctor_says_in_sentences_what_is_there_and_takes_settings_from_the_file() {
    let place = Place::new();
    let settings = place.file("settings.toml", b"speed = 200\nsped = 3\npedal = 'F13'\n");
    let doctor = |words: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_endsmeet"))
            .args(words)
            .arg("--sessions")
            .arg(place.folder.path())
            .env("ENDSMEET_SETTINGS", &settings)
            .env("PATH", "")
            .stdin(Stdio::null())
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(0));
        output
    };
    let said = doctor(&["doctor"]);
    assert!(err(&said).contains("line 2: There is no setting sped; did you mean speed?"));
    let said = out(&said);
    for sentence in [
        "terminal: input or output is no terminal, so plain lines are used.",
        "voice: none is there (spd-say, espeak-ng or the system's own); it is off",
        "(named with --sessions): can be written, and two windows cannot spoil each other's work.",
        "pedal: F13 means next, beside Space.",
        "set: speed = 200",
        "! settings: ",
    ] {
        assert!(said.contains(sentence), "{sentence}\n{said}");
    }
    let value: Value = serde_json::from_str(&out(&doctor(&["doctor", "--json"]))).unwrap();
    assert_eq!(value["settings"]["speed"], "200");
    assert_eq!(value["schema"], 1);
    let missing = out(&doctor(&["doctor", "--say", "all", "--voice", "none-such"]));
    assert!(missing.contains("! voice: the command none-such is not there"));
}

#[test]
fn an_option_that_does_not_do_is_wrong_usage_with_what_would_do() {
    let place = Place::new();
    let output = place.run(&["status", "--speed", "fast"], "");
    assert_eq!(output.status.code(), Some(2));
    let expected = "--speed is \"fast\"; what would do: a whole number from 80 to 450.";
    assert!(err(&output).contains(expected), "{}", err(&output));
}

#[test]
fn speech_without_a_voice_is_one_notice_and_the_work_goes_on() {
    let place = Place::new();
    let words = [
        "new",
        RUNNER,
        "--line",
        "--say",
        "all",
        "--voice",
        "none-such",
    ];
    let output = place.run(&words, "\n\n\n");
    assert_eq!(output.status.code(), Some(0));
    let said = out(&output);
    assert_eq!(said.matches("No voice could be had").count(), 1, "{said}");
    assert!(
        said.contains("One middle line") || said.matches('>').count() >= 4,
        "{said}"
    );
}

#[test]
fn sheets_are_printed_of_a_plan_and_of_a_dressing() {
    let place = Place::new();
    let sheet = place.run(&["sheet", RUNNER, "--part", "threading"], "");
    assert_eq!(sheet.status.code(), Some(0), "{}", err(&sheet));
    let said = out(&sheet);
    assert!(said.contains("thread     [ ] 1 2 3   [ ] 4 3 2"), "{said}");
    assert!(
        said.lines()
            .all(|line| line.trim_start_matches('\u{c}').chars().count() <= 80),
        "within 80 columns"
    );
    let page = place.run(&["sheet", RUNNER, "--as", "html", "--paper", "letter"], "");
    assert!(out(&page).contains("<html") && out(&page).contains("size: letter"));
    let picture = place.run(&["sheet", RUNNER, "--picture"], "");
    assert!(out(&picture).starts_with("<svg"), "{}", err(&picture));
    place.run(&["new", RUNNER, "--line"], "\n");
    let slip = place.run(&["sheet", "hall-runner", "--slip"], "");
    assert!(out(&slip).contains("Where I stopped"), "{}", err(&slip));
    let wrong = place.run(&["sheet", RUNNER, "--part", "roof"], "");
    assert_eq!(wrong.status.code(), Some(2), "{}", err(&wrong));
    let no_slip = place.run(&["sheet", RUNNER, "--slip"], "");
    assert_eq!(no_slip.status.code(), Some(2), "{}", err(&no_slip));
}

#[test]
fn the_board_puts_who_wants_help_first() {
    let place = Place::new();
    place.run(&["new", RUNNER, "--for", "Ada", "--line"], "\n\n");
    place.run(&["new", RUNNER, "--for", "Bee", "--line"], "\nhelpme\n");
    fs::write(place.sessions().join("half.jsonl"), b"{\"c\":\"0").unwrap();
    let folder = place.sessions();
    let board = place.run(&["board", folder.to_str().unwrap(), "--once", "--json"], "");
    assert_eq!(board.status.code(), Some(0), "{}", err(&board));
    let value: Value = serde_json::from_str(&out(&board)).unwrap();
    let names: Vec<&str> = value["rows"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|row| row["name"].as_str())
        .collect();
    assert_eq!(names[0], "Bee", "{names:?}");
    assert_eq!(names.len(), 3, "{names:?}");
}

/// The example in the documentation is what the program prints: `ENDSMEET_WRITE_EXPECTED=1` writes it.
#[test]
fn the_plan_example_in_the_docs_is_what_the_program_prints() {
    const EXAMPLE: &str = "assets/schema/plan-example.json";
    let place = Place::new();
    let printed = out(&place.run(&["plan", RUNNER, "--json"], ""));
    if std::env::var_os("ENDSMEET_WRITE_EXPECTED").is_some() {
        fs::write(EXAMPLE, &printed).unwrap();
    }
    assert!(
        fs::read_to_string(EXAMPLE).unwrap() == printed,
        "{EXAMPLE} is not what plan prints"
    );
}

#[test]
fn a_draft_is_written_for_other_programs_and_read_again() {
    let place = Place::new();
    let draft = place.run(&["sheet", RUNNER, "--as", "wif"], "");
    assert!(out(&draft).contains("[WIF]"), "{}", err(&draft));
    let file = place.file("runner.wif", out(&draft).as_bytes());
    let plan = place.run(&["plan", file.to_str().unwrap(), "--json"], "");
    let value: Value = serde_json::from_str(&out(&plan)).unwrap();
    assert_eq!(value["heddled_ends"], 277, "{}", err(&plan));
}

/// The first warp is noted on; the next one of the same plan says the note back at its step.
#[test]
fn notes_come_back_at_their_step_in_this_warp_and_in_the_next() {
    let place = Place::new();
    let begun = place.run(
        &["new", RUNNER, "--line"],
        "note hook is in the drawer\n\nnote count shaft 2 twice\nback\n",
    );
    let said = out(&begun);
    // back at the first step, its note is said again; the second step's is not
    let last = said.rsplit("Things to gather").next().unwrap();
    assert!(last.contains("Note: hook is in the drawer."), "{said}");
    assert!(!last.contains("shaft 2 twice"), "{said}");
    let next = place.run(&["new", RUNNER, "--line"], "\n");
    let told = err(&next);
    let come = "2 notes from the warp before come along; each is said at its step.";
    assert!(told.contains(come), "{told}");
    let said = out(&next);
    let (first, second) = said.split_once("Heddles counted").unwrap();
    assert!(first.contains("Note from the warp before: hook is in the drawer."));
    assert!(second.contains("Note from the warp before: count shaft 2 twice."));
    // they are in the file, so that they are there when it is opened again
    let again = place.run(&["resume", "hall-runner-2", "--line"], "");
    let said = out(&again);
    assert!(
        said.contains("count shaft 2 twice."),
        "{said} {}",
        err(&again)
    );
    let other = place.run(&["new", RUNNER, "--for", "Bee", "--line"], "");
    assert!(
        !err(&other).contains("come along"),
        "another weaver's notes"
    );
}

/// A dressing is the start of the next one: the same draft, another yarn, the take-up as measured.
#[test]
fn a_dressing_is_the_start_of_the_next_one() {
    let place = Place::new();
    place.run(
        &["new", RUNNER, "--line"],
        "note wind it tighter\nmeasured warp 40\nmeasured woven 35\n",
    );
    let words = [
        "new",
        "--after",
        "hall-runner",
        "--yarn",
        "10/2 linen",
        "--take-up",
        "12%",
        "--line",
    ];
    let next = place.run(&words, "");
    let told = err(&next);
    assert!(told.contains("hall-runner is not finished"), "{told}");
    assert!(
        told.contains("1 note from the warp before comes along"),
        "{told}"
    );
    let file = place.sessions().join("hall-runner-2.jsonl");
    let text = fs::read_to_string(file).unwrap();
    let header: Value = serde_json::from_str(text.lines().next().unwrap()).unwrap();
    let spec = &header["e"]["plan"]["spec"];
    assert_eq!(spec["threading"], "(1 2 3 4 3 2) x46 1");
    assert_eq!(spec["yarns"][0]["size"], "10/2 linen");
    assert_eq!(spec["length"]["take_up"], "3/25", "12 %");
    assert_eq!(header["e"]["plan"]["notes"][0]["text"], "wind it tighter");
    for (words, says) in [
        (
            &["new", "--after", "nobody", "--yarn", "x"][..],
            "There is no dressing nobody",
        ),
        (
            &["new", "--after", "hall-runner", "--take-up", "all"],
            "is no take-up",
        ),
        (
            &["new", "--after", "hall-runner", "--yarn", "silk=20/2"],
            "The plan's yarns are flax",
        ),
        (
            &["new", RUNNER, "--after", "hall-runner"],
            "cannot be used with",
        ),
    ] {
        let refused = place.run(words, "");
        assert_ne!(refused.status.code(), Some(0));
        assert!(err(&refused).contains(says), "{}", err(&refused));
    }
    assert_eq!(place.dressings(), 2, "nothing is begun where it is refused");
    // what was measured holds where nothing else is said: 5 of 40 is an eighth
    let words = [
        "new",
        "--after",
        "hall-runner",
        "--yarn",
        "10/2 linen",
        "--line",
    ];
    let told = err(&place.run(&words, ""));
    assert!(
        told.contains("The take-up is taken as it was measured: 12.5 %."),
        "{told}"
    );
}

/// One plan handed out on eight looms, each with its own card.
#[test]
fn one_plan_is_handed_out_on_eight_looms() {
    let place = Place::new();
    let plan: Value = serde_json::from_str(&fs::read_to_string(RUNNER).unwrap()).unwrap();
    for n in 1..=8u32 {
        let mut on_loom = plan.clone();
        on_loom["loom"]["heddles"] = serde_json::json!([60 + n, 100 + n, 100, 60]);
        let file = place.file("loom.json", on_loom.to_string().as_bytes());
        let card = format!("window {n}");
        let kept = place.run(&["loom", &card, "--from", file.to_str().unwrap()], "");
        assert_eq!(kept.status.code(), Some(0), "{}", err(&kept));
        let (name, card) = (format!("Weaver {n}"), format!("window-{n}"));
        let begun = place.run(
            &["new", RUNNER, "--for", &name, "--loom", &card, "--line"],
            "",
        );
        assert_eq!(begun.status.code(), Some(0), "{}", err(&begun));
        let sheet = place.run(
            &[
                "sheet",
                &format!("hall-runner-weaver-{n}"),
                "--part",
                "plan",
            ],
            "",
        );
        let sheet = out(&sheet);
        let there = sheet
            .lines()
            .find(|line| line.starts_with("there"))
            .unwrap();
        let there: Vec<&str> = there.split_whitespace().skip(1).collect();
        let heddles = [60 + n, 100 + n, 100, 60].map(|n| n.to_string());
        assert_eq!(there, heddles, "{sheet}");
    }
    // the strips and the slips of all of them at once, each with its weaver's name
    let all = out(&place.run(&["sheet", "--everyone", "--part", "threading"], ""));
    let page = out(&place.run(&["sheet", "--everyone", "--slip", "--as", "html"], ""));
    for n in 1..=8 {
        assert!(all.contains(&format!("Weaver {n}, Hall runner: Threading")));
        assert!(page.contains(&format!("Weaver {n}, Hall runner: Where I stopped")));
    }
    let table = out(&place.run(
        &["sheet", "--everyone", "--part", "sley", "--as", "csv"],
        "",
    ));
    for n in 1..=8 {
        let of = |line: &&str| line.starts_with(&format!("\"Weaver {n}, Hall runner\",Sley,"));
        // the head and one row for each of 14 groups at least
        assert!(table.lines().filter(of).count() >= 15, "{table}");
    }
    let wrong = place.run(&["sheet", "--everyone", "--as", "wif"], "");
    assert_eq!(wrong.status.code(), Some(2));
    let folder = place.sessions();
    let board = place.run(&["board", folder.to_str().unwrap(), "--once", "--json"], "");
    let value: Value = serde_json::from_str(&out(&board)).unwrap();
    assert_eq!(value["rows"].as_array().unwrap().len(), 8);
    assert_eq!(value["rows"][7]["dressing"], "hall-runner-weaver-8");
}
