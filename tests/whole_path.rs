//! From a plan file to the first woven picks and the end, every press through the real program in a terminal.
//! What is on the screen is waited for; the plan is small, so every step of every stage comes up.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use common::{ask, plan_from};
use endsmeet::dressing::{Ask, Dressing, View};
use endsmeet::hand::Key;
use pty::both::{Both, resumed};
use pty::{Mirror, Pty, endsmeet, folder};
use std::path::Path;

/// Two inches at four ends an inch: two groups, two batches, two bundles, two added floats.
const TREADLES: &str = r#"{ "endsmeet": 1, "title": "Bookmark", "units": "in", "sett": 4, "ends": 8,
  "threading": "1 2 3 4", "floating_selvedges": "added", "batch": 4,
  "loom": {"action": "jack", "shafts": 4, "treadles": 4, "heddles": [10, 10, 10, 10], "width": 20, "beam_girth": 40},
  "reeds": [{"dents": 4, "per": "in", "length": 20}], "length": {"finished": 12, "waste": 20},
  "tie_up": [[1, 2], [2, 3], [3, 4], [1, 4]], "treadling": "1 2 3 4" }"#;

/// The headings of the stages as the screen shows them (the method's titles).
const STAGES: [&str; 8] = [
    "Prepare", "Wind", "Spread", "Beam", "Thread", "Sley", "Tie on", "Try",
];

fn begun(folder: &Path, plan: &str) -> Both {
    let file = folder.join("plan.json");
    std::fs::write(&file, plan).unwrap();
    let new = endsmeet(folder, &["new", file.to_str().unwrap(), "--guard-ms", "0"]);
    let pty = Pty::start(new, (80, 24));
    pty.wait_for("? help");
    let mirror = Mirror::new(Dressing::new(plan_from(plan), &[]), 0);
    Both { pty, mirror }
}

/// One step on: the button, or the figure that the loom would give.
fn on(both: &mut Both) {
    match common::true_answer(both.mirror.dressing()) {
        Some(number) => both.type_number(&number),
        None => both.press(&[Key::Space]),
    }
}

fn said(folder: &Path, args: &[&str]) -> (Option<i32>, String) {
    let out = std::process::Command::new(env!("CARGO_BIN_EXE_endsmeet"))
        .args(args)
        .args(["--sessions", folder.to_str().unwrap()])
        .env("ENDSMEET_SETTINGS", "tests/common/usual-settings.toml")
        .output()
        .unwrap();
    let text = String::from_utf8(out.stdout).unwrap();
    (out.status.code(), text)
}

/// Through all of it; the program is killed at this heading once, and gone on with.
fn dressed(folder: &Path, plan: &str, killed_at: &str) -> Vec<String> {
    let mut both = begun(folder, plan);
    let mut headings: Vec<String> = Vec::new();
    let mut killed = false;
    while !matches!(both.mirror.dressing().view(), View::Ready(_)) {
        let heading = both.pty.rows()[0].clone();
        if !killed && heading.starts_with(killed_at) {
            killed = true;
            both.pty.signal("KILL");
            both.pty.ended();
            both.pty = resumed(folder, (80, 24));
            let mut d = both.mirror.dressing().clone();
            ask(&mut d, &Ask::Opened).unwrap();
            both.mirror = Mirror::new(d, 100_000_000);
            continue;
        }
        headings.push(heading);
        on(&mut both);
        assert!(headings.len() < 300, "{headings:?}");
    }
    assert!(killed, "never came to {killed_at}");
    both.pty.wait_for("The loom is ready to weave");
    both.pty.send("qy");
    assert_eq!(both.pty.ended(), 0);
    both.pty.assert_given_back();
    headings
}

fn of_picks(headings: &[String], name: &str) -> Vec<String> {
    let start = format!("Try: {name} ");
    let of = headings.iter().filter_map(|row| row.strip_prefix(&start));
    let number = of.map(|rest| rest.split(' ').next().unwrap().to_owned());
    number.collect()
}

#[test]
fn a_small_warp_goes_from_its_plan_file_through_every_stage_to_its_first_picks() {
    let folder = folder();
    let headings = dressed(folder.path(), TREADLES, "Try: pick 3 of 8");
    let mut stages: Vec<&str> = headings.iter().filter_map(|row| stage(row)).collect();
    stages.dedup();
    assert_eq!(stages, STAGES, "each once, in the order of the work");
    assert_eq!(
        of_picks(&headings, "header pick"),
        ["1", "2", "3", "4", "5", "6"]
    );
    // two repeats of four picks; the kill lost none and doubled none
    assert_eq!(
        of_picks(&headings, "pick"),
        ["1", "2", "3", "4", "5", "6", "7", "8"]
    );

    let (code, facts) = said(folder.path(), &["status", "--json"]);
    let facts: serde_json::Value = serde_json::from_str(&facts).unwrap();
    assert_eq!(code, Some(0), "no look was passed over");
    assert_eq!(facts["ready"], true, "{facts}");
    assert_eq!(facts["left_open"], 0);
    // eight ends in heddles and two floating selvedges, counted by hand
    assert!(facts["says"].as_str().unwrap().contains("10 ends on it"));
    let (_, log) = said(folder.path(), &["log"]);
    assert!(log.contains("pick 8 woven"), "{log}");
}

#[test]
fn a_lift_plan_goes_the_same_way_without_a_treadle() {
    let folder = folder();
    let plan = TREADLES
        .replace(
            r#""action": "jack", "shafts": 4, "treadles": 4"#,
            r#""action": "lift", "shafts": 4, "treadles": 0"#,
        )
        .replace(
            r#""tie_up": [[1, 2], [2, 3], [3, 4], [1, 4]], "treadling": "1 2 3 4""#,
            r#""lift_plan": [[1, 2], [2, 3], [3, 4], [1, 4]]"#,
        );
    let headings = dressed(folder.path(), &plan, "Try: header pick 2");
    assert!(!headings.iter().any(|row| row.contains("treadle")));
    assert_eq!(of_picks(&headings, "pick").len(), 8);
    let (_, log) = said(folder.path(), &["log"]);
    assert!(log.contains("header pick 6 woven"), "{log}");
}

fn stage(heading: &str) -> Option<&'static str> {
    STAGES
        .into_iter()
        .find(|title| heading.starts_with(&format!("{title}:")))
}
