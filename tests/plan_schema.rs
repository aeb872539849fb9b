//! The schemas in `assets/schema` and what is printed: every key that is printed is described, of the kind
//! that is described, and every key that is described is printed by some plan.

mod schema;

use endsmeet::plan::spec::Per;
use endsmeet::plan::yarn::read_yarn;
use endsmeet::plan::{advice::sley_advice, json, read_spec, spec_value, work_out};
use endsmeet::quantity::Fraction;
use schema::holds;
use serde_json::Value;

const PLANS: [&str; 5] = [
    include_str!("../assets/demo/hall-runner.json"),
    include_str!("../assets/demo/winter-blanket.json"),
    include_str!("../assets/demo/open-scarf.json"),
    r#"{"title": "t", "sett": 10, "ends": 300, "threading": "1 2 9", "loom": {"shafts": 4, "heddles": [1, 1, 1, 1]}}"#,
    r#"{"title": "t", "sett": 10, "ends": 100, "threading": "1 2", "length": {"finished": 9},
        "yarns": [{"name": "a", "size": "8/2 cotton", "price": 20}], "raddle": {"length": "24 1/2"},
        "sley_order": [{"order": [2, 0], "ends": 20}, {"order": [1]}], "finished_width": 8,
        "edges": {"ends": 2, "doubled": "both"}, "weft": {"yarn": "a", "picks": 8}, "lift_plan": [[1], [2]],
        "reeds": [{"dents": 10, "per": "in", "length": 24, "off_centre": 1}], "loom": {"name": "n"}}"#,
];

#[test]
fn the_json_of_plan_is_as_its_schema_says() {
    let values: Vec<Value> = PLANS
        .iter()
        .map(|text| json::plan_value(&work_out(&read_spec(text).unwrap())))
        .collect();
    holds("plan", include_str!("../assets/schema/plan.json"), &values);
}

#[test]
fn a_plan_file_is_as_its_schema_says() {
    let mut values = Vec::new();
    for text in PLANS {
        values.push(serde_json::from_str(text).unwrap());
        values.push(spec_value(&work_out(&read_spec(text).unwrap()).spec));
    }
    values.push(serde_json::from_str(r#"{"width": 8, "length": {"draw_in": "7%"}}"#).unwrap());
    holds(
        "file",
        include_str!("../assets/schema/plan-file.json"),
        &values,
    );
}

#[test]
fn the_json_of_sley_and_yarn_is_as_its_schema_says() {
    let whole = Fraction::whole;
    let sley =
        |sett, reed| json::sley_value(&sley_advice(whole(sett), whole(reed), Per::In).unwrap());
    holds(
        "sley",
        include_str!("../assets/schema/sley.json"),
        &[sley(18, 12), sley(23, 10)],
    );
    let yarn = |text| json::yarn_value(text, &read_yarn(text).unwrap());
    holds(
        "yarn",
        include_str!("../assets/schema/yarn.json"),
        &[yarn("8/2 cotton"), yarn("40 + 60 nm")],
    );
}
