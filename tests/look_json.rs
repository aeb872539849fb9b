//! What `status --json` and `log --json` print of dressings through the real program, held to their schemas;
//! measures with their units, worked by hand.
#![allow(clippy::unwrap_used)]

mod common;
mod schema;

use common::SMALL;
use serde_json::{Value, json};
use std::path::Path;

/// The program with these words; what it prints on its standard output.
fn said(folder: &Path, words: &[&str], typed: &str) -> String {
    common::told(folder, words, typed).0
}

fn value(folder: &Path, words: &[&str]) -> Value {
    serde_json::from_str(&said(folder, words, "")).unwrap()
}

/// A dressing of the small warp on which these lines were typed.
fn typed(folder: &Path, plan: &str, lines: &str) {
    let file = folder.join("plan.json");
    std::fs::write(&file, plan).unwrap();
    said(folder, &["new", file.to_str().unwrap(), "--line"], lines);
}

#[test]
fn what_was_measured_has_its_unit_in_the_facts_and_in_the_log() {
    let folder = tempfile::tempdir().unwrap();
    let lines = "width 6 3/8\nmeasured cloth 5 7/8\nmeasured picks 12\nmeasured warp 40\nmeasured woven 36\n";
    typed(folder.path(), SMALL, lines);
    let facts = value(folder.path(), &["status", "--json"]);
    assert_eq!(facts["units"], "in");
    let measured =
        |what: &str, value: f64, unit: &str| json!({ "what": what, "value": value, "unit": unit });
    assert_eq!(
        facts["measured"],
        json!([
            measured("reed", 6.375, "in"),
            measured("cloth", 5.875, "in"),
            measured("picks", 12.0, "per in"),
            measured("warp", 40.0, "in"),
            measured("woven", 36.0, "in"),
        ])
    );
    let log = said(folder.path(), &["log"], "");
    for sentence in [
        "width measured: 6 3/8 in",
        "width of the cloth measured: 5 7/8 in",
        "picks measured: 12 per in",
        "warp used measured: 40 in",
    ] {
        assert!(log.contains(sentence), "{sentence}\n{log}");
    }
}

#[test]
fn a_plan_in_centimetres_has_them_in_the_facts_and_millimetres_in_the_log() {
    let folder = tempfile::tempdir().unwrap();
    let plan = SMALL.replace(r#""units": "in""#, r#""units": "cm""#);
    typed(folder.path(), &plan, "width 5.85\nmeasured picks 7.5\n");
    let facts = value(folder.path(), &["status", "--json"]);
    assert_eq!(
        facts["measured"],
        json!([{ "what": "reed", "value": 5.85, "unit": "cm" },
            { "what": "picks", "value": 7.5, "unit": "per cm" }])
    );
    let log = said(folder.path(), &["log"], "");
    // 5.85 cm is 58.5 mm, which is said to the whole millimetre
    assert!(log.contains("width measured: 59 mm"), "{log}");
    assert!(log.contains("picks measured: 7.5 per cm"), "{log}");
}

#[test]
fn the_facts_are_as_their_schemas_say() {
    let folder = tempfile::tempdir().unwrap();
    typed(folder.path(), SMALL, "width 6 3/8\nbroken 3\nhelp\n");
    let mut status = vec![value(folder.path(), &["status", "--json"])];
    let mut logs = vec![value(folder.path(), &["log", "--json"])];
    for frozen in ["hall-runner", "mending", "small"] {
        let name = format!("format-1-{frozen}");
        let file = format!("{name}.jsonl");
        std::fs::copy(format!("tests/frozen/{file}"), folder.path().join(&file)).unwrap();
        status.push(value(folder.path(), &["status", &name, "--json"]));
        logs.push(value(folder.path(), &["log", &name, "--json"]));
    }
    schema::holds(
        "status",
        include_str!("../assets/schema/status.json"),
        &status,
    );
    schema::holds("log", include_str!("../assets/schema/log.json"), &logs);
}
