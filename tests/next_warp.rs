//! The next warp after one that was woven: take-up and draw-in as they were measured, carried over into
//! the length of the new plan; the ends stay those of the draft. Figures worked by hand.
#![allow(clippy::unwrap_used)]

mod common;

use common::told as said;
use std::path::Path;

/// 7.2 in finished at 10 % shrinkage is 8 in on the loom; 36 in finished is 40 in on the loom.
const PLAN: &str = r#"{ "endsmeet": 1, "title": "Band", "units": "in", "sett": 4, "finished_width": 7.2,
  "threading": "1 2 3 4", "batch": 8,
  "loom": {"action": "jack", "shafts": 4, "treadles": 4, "heddles": [20, 20, 20, 20], "width": 20, "beam_girth": 18},
  "reeds": [{"dents": 4, "per": "in", "length": 20}],
  "length": {"finished": 36, "waste": 20, "shrinkage": "10%", "take_up": "0%", "draw_in": "0%"},
  "yarns": [{"name": "wool", "size": "2/8 worsted"}],
  "tie_up": [[1, 3], [2, 4]], "treadling": "1 2" }"#;

/// The worksheet's figure of this name.
fn figure(folder: &Path, dressing: &str, name: &str) -> String {
    let words = ["sheet", dressing, "--part", "plan", "--as", "csv"];
    let (sheet, told) = said(folder, &words, "");
    let row = sheet
        .lines()
        .find_map(|line| line.strip_prefix(&format!("Worksheet,{name},")));
    row.unwrap_or_else(|| panic!("no {name}: {sheet}{told}"))
        .to_owned()
}

fn begun(folder: &Path, typed: &str) {
    let file = folder.join("plan.json");
    std::fs::write(&file, PLAN).unwrap();
    said(folder, &["new", file.to_str().unwrap(), "--line"], typed);
}

const NEXT: [&str; 6] = ["new", "--after", "band", "--yarn", "2/10 worsted", "--line"];

#[test]
fn the_take_up_that_was_measured_makes_the_next_warp_longer() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    // 40 in of warp gave 32 in of cloth: a fifth is taken up
    begun(folder, "measured warp 40\nmeasured woven 32\n");
    assert_eq!(
        figure(folder, "band", "Warp length"),
        "60 in",
        "40 + 20 of waste"
    );
    let (_, told) = said(folder, &NEXT, "");
    assert!(
        told.contains("The take-up is taken as it was measured: 20 %."),
        "{told}"
    );
    // 40 / (1 - 0.2) = 50 in, and 20 of waste
    assert_eq!(figure(folder, "band-2", "Warp length"), "70 in");
}

#[test]
fn the_draw_in_that_was_measured_stands_in_the_next_plan_and_the_ends_stay() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    // 8 in in the reed gave 6 2/5 in: a fifth is drawn in. The draft is the same, and so are its ends
    begun(folder, "width 8\nmeasured cloth 6 2/5\n");
    assert_eq!(figure(folder, "band", "Ends wound"), "32 ends", "8 in at 4");
    let (_, told) = said(folder, &NEXT, "");
    assert!(
        told.contains("The draw-in is taken as it was measured: 20 %."),
        "{told}"
    );
    let file = std::fs::read_to_string(folder.join("band-2.jsonl")).unwrap();
    let header: serde_json::Value = serde_json::from_str(file.lines().next().unwrap()).unwrap();
    assert_eq!(header["e"]["plan"]["spec"]["length"]["draw_in"], "1/5");
    assert_eq!(figure(folder, "band-2", "Ends wound"), "32 ends");
    // and it is what the next cloth is compared with: 7 of 8 in is an eighth
    said(
        folder,
        &["resume", "band-2", "--line"],
        "skip\nwidth 8\nmeasured cloth 7\n",
    );
    let (facts, _) = said(folder, &["status", "band-2", "--json"], "");
    let facts: serde_json::Value = serde_json::from_str(&facts).unwrap();
    assert_eq!(facts["measured"][1]["value"], 7.0, "{facts}");
}

#[test]
fn a_take_up_that_is_said_counts_more_than_the_measured_one() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    begun(folder, "measured warp 40\nmeasured woven 32\n");
    let words = [&NEXT[..], &["--take-up", "50%"]].concat();
    said(folder, &words, "");
    // 40 / (1 - 0.5) = 80 in, and 20 of waste; nothing was measured across
    assert_eq!(figure(folder, "band-2", "Warp length"), "100 in");
    assert_eq!(figure(folder, "band-2", "Ends wound"), "32 ends");
}

#[test]
fn the_last_measure_counts_and_one_that_cannot_be_is_left_out() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    // measured again: 45 of 50 is a tenth; a cloth wider than the reed is no draw-in
    begun(
        folder,
        "measured warp 40\nmeasured woven 32\nmeasured warp 50\nmeasured woven 45\nwidth 8\nmeasured cloth 9\n",
    );
    let (_, told) = said(folder, &NEXT, "");
    assert!(!told.contains("draw-in"), "{told}");
    // 40 / 0.9 = 44.44 in and 20 of waste: 64 4/9, to the nearest eighth 64 1/2
    assert_eq!(figure(folder, "band-2", "Warp length"), "64 1/2 in");
    assert_eq!(figure(folder, "band-2", "Width in the reed"), "8 in");
}
