//! The printed worksheets of `plan`, `sley` and `yarn`: exact text, and that each fits a page.

use endsmeet::paper::{plan_sheet, sley_sheet, yarn_sheet};
use endsmeet::plan::spec::Per;
use endsmeet::plan::{advice::sley_advice, read_spec, work_out, yarn::read_yarn};
use endsmeet::quantity::Fraction;

const DEMOS: [(&str, &str); 3] = [
    (
        "hall-runner",
        include_str!("../assets/demo/hall-runner.json"),
    ),
    (
        "winter-blanket",
        include_str!("../assets/demo/winter-blanket.json"),
    ),
    ("open-scarf", include_str!("../assets/demo/open-scarf.json")),
];

/// A page holds 66 lines of 80 columns.
fn fits_a_page(sheet: &str) {
    let lines = sheet.lines().count();
    assert!(lines <= 66, "{lines} lines:\n{sheet}");
    for line in sheet.lines() {
        assert!(line.chars().count() <= 80, "{line:?} is too wide");
    }
}

#[test]
fn the_worksheets_of_the_demo_plans() {
    for (name, text) in DEMOS {
        let sheet = plan_sheet(&work_out(&read_spec(text).unwrap()));
        fits_a_page(&sheet);
        insta::assert_snapshot!(format!("plan-{name}"), sheet);
    }
}

#[test]
fn a_worksheet_of_little_says_what_was_taken_as_usual() {
    let text = r#"{"title": "Little", "sett": 12, "width": "8 1/4", "threading": "1 2 3 4"}"#;
    let sheet = plan_sheet(&work_out(&read_spec(text).unwrap()));
    fits_a_page(&sheet);
    insta::assert_snapshot!("plan-little", sheet);
}

#[test]
fn the_sheet_of_sley() {
    let whole = Fraction::whole;
    let sheet = sley_sheet(&sley_advice(whole(18), whole(12), Per::In).unwrap());
    fits_a_page(&sheet);
    insta::assert_snapshot!("sley-18-in-12", sheet);
    let sheet = sley_sheet(&sley_advice(whole(52), whole(55), Per::TenCm).unwrap());
    fits_a_page(&sheet);
    insta::assert_snapshot!("sley-52-in-55", sheet);
}

#[test]
fn the_sheet_of_yarn() {
    let sheet = yarn_sheet("8/2 cotton", &read_yarn("8/2 cotton").unwrap());
    fits_a_page(&sheet);
    insta::assert_snapshot!("yarn-8-2-cotton", sheet);
}

#[test]
fn a_large_plan_and_a_plan_full_of_faults_fit_a_page_too() {
    let straight = (1..=40)
        .map(|n| n.to_string())
        .collect::<Vec<_>>()
        .join(" ");
    let large = format!(
        r#"{{"title": "{}", "sett": "33 1/3", "ends": 10000, "threading": "{straight}",
        "loom": {{"shafts": 64, "heddles": [{}]}}, "sley_order": [{}],
        "reeds": [{{"dents": 20, "length": 600}}], "yarns": [{{"name": "{}", "size": "60/2 nm"}}],
        "length": {{"finished": 999}}}}"#,
        "Long name ".repeat(30),
        vec!["300"; 64].join(", "),
        ["1", "2", "0"].repeat(60).join(", "),
        "yarn of a long name ".repeat(9),
    );
    let sheet = plan_sheet(&work_out(&read_spec(&large).unwrap()));
    fits_a_page(&sheet);
    let faults = r#"{"sett": 20, "ends": 5000, "threading": "(1 2 3 4) x2000 (7", "loom": {"shafts": 4, "width": 24},
        "reeds": [{"dents": 10, "length": 24}], "raddle": {"length": 10}}"#;
    let sheet = plan_sheet(&work_out(&read_spec(faults).unwrap()));
    fits_a_page(&sheet);
    assert!(sheet.contains("Does not fit"), "{sheet}");
}
