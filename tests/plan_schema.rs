//! The schemas in `assets/schema` and what is printed: every key that is printed is described, of the kind
//! that is described, and every key that is described is printed by some plan.

use endsmeet::plan::spec::Per;
use endsmeet::plan::yarn::read_yarn;
use endsmeet::plan::{advice::sley_advice, json, read_spec, spec_value, work_out};
use endsmeet::quantity::Fraction;
use serde_json::Value;
use std::collections::BTreeSet;

/// The part of JSON Schema that the files use: type, properties, required, additionalProperties, items.
fn check(schema: &Value, value: &Value, path: &str, seen: &mut BTreeSet<String>) {
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(n) if n.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    let allowed: Vec<&str> = match &schema["type"] {
        Value::String(one) => vec![one.as_str()],
        Value::Array(some) => some.iter().filter_map(Value::as_str).collect(),
        _ => panic!("{path}: the schema says no type"),
    };
    let fits = allowed.contains(&kind) || (kind == "integer" && allowed.contains(&"number"));
    assert!(fits, "{path}: found {kind}, the schema says {allowed:?}");
    if let Some(words) = schema["enum"].as_array() {
        assert!(
            words.contains(value),
            "{path}: {value} is not one of {words:?}"
        );
    }
    match value {
        Value::Object(object) => {
            for (key, inner) in object {
                let described = schema["properties"]
                    .get(key)
                    .unwrap_or(&schema["additionalProperties"]);
                assert!(
                    described.is_object(),
                    "{path}.{key} is printed and not described"
                );
                seen.insert(format!("{path}.{key}"));
                check(described, inner, &format!("{path}.{key}"), seen);
            }
            for key in schema["required"].as_array().into_iter().flatten() {
                let key = key.as_str().expect("a key");
                assert!(
                    object.contains_key(key),
                    "{path}.{key} is promised and not printed"
                );
            }
        }
        Value::Array(items) => {
            for item in items {
                check(&schema["items"], item, &format!("{path}[]"), seen);
            }
        }
        _ => {}
    }
}

/// Every key that a schema describes.
fn described(schema: &Value, path: &str, keys: &mut BTreeSet<String>) {
    for (key, inner) in schema["properties"].as_object().into_iter().flatten() {
        let path = format!("{path}.{key}");
        keys.insert(path.clone());
        described(inner, &path, keys);
    }
    if schema["items"].is_object() {
        described(&schema["items"], &format!("{path}[]"), keys);
    }
}

fn holds(name: &str, text: &str, values: &[Value]) {
    let schema: Value = serde_json::from_str(text).expect("a schema");
    let (mut seen, mut keys) = (BTreeSet::new(), BTreeSet::new());
    for value in values {
        check(&schema, value, name, &mut seen);
    }
    described(&schema, name, &mut keys);
    let never: Vec<&String> = keys.difference(&seen).collect();
    assert!(never.is_empty(), "described and never printed: {never:?}");
}

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
