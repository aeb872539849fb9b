//! From a plan file to the loom ready to weave, every press through the real program in a terminal.
//! What is on the screen is waited for; the plan is small, so every step of every stage comes up.
#![cfg(unix)]
#![allow(clippy::unwrap_used)]

mod common;
mod pty;

use common::plan_from;
use endsmeet::dressing::{Dressing, View};
use endsmeet::hand::Key;
use pty::both::Both;
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

#[test]
fn a_small_warp_goes_from_its_plan_file_through_every_stage_to_ready() {
    let folder = folder();
    let mut both = begun(folder.path(), TREADLES);
    let mut headings: Vec<String> = Vec::new();
    while !matches!(both.mirror.dressing().view(), View::Ready(_)) {
        let rows = both.pty.rows();
        headings.push(rows[0].clone());
        on(&mut both);
        assert!(headings.len() < 300, "{headings:?}");
    }
    let mut stages: Vec<&str> = headings.iter().filter_map(|row| stage(row)).collect();
    stages.dedup();
    assert_eq!(stages, STAGES, "each once, in the order of the work");
    both.pty.wait_for("The loom is ready to weave");
    both.pty.send("qy");
    assert_eq!(both.pty.ended(), 0);
    both.pty.assert_given_back();

    let (code, facts) = said(folder.path(), &["status", "--json"]);
    let facts: serde_json::Value = serde_json::from_str(&facts).unwrap();
    assert_eq!(code, Some(0), "no look was passed over");
    assert_eq!(facts["ready"], true, "{facts}");
    assert_eq!(facts["left_open"], 0);
    // eight ends in heddles and two floating selvedges, counted by hand
    assert!(facts["says"].as_str().unwrap().contains("10 ends on it"));
}

fn stage(heading: &str) -> Option<&'static str> {
    STAGES
        .into_iter()
        .find(|title| heading.starts_with(&format!("{title}:")))
}
