//! Holds what is printed to a schema: every key that is printed is described, of the kind that is
//! described, and every key that is described is printed by some value.
#![allow(clippy::unwrap_used)]

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

/// Every value is as the schema says, and nothing is described that none of them has.
pub fn holds(name: &str, text: &str, values: &[Value]) {
    let schema: Value = serde_json::from_str(text).expect("a schema");
    let (mut seen, mut keys) = (BTreeSet::new(), BTreeSet::new());
    for value in values {
        check(&schema, value, name, &mut seen);
    }
    described(&schema, name, &mut keys);
    let never: Vec<&String> = keys.difference(&seen).collect();
    assert!(never.is_empty(), "described and never printed: {never:?}");
}
