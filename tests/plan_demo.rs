//! The demo plans, figure by figure, against the printed example of the plan's JSON.

use endsmeet::plan::{Figures, json::plan_value, read_spec, spec_value, work_out};
use serde_json::{Value, json};

fn figures(text: &str) -> Figures {
    work_out(&read_spec(text).expect("a demo plan reads"))
}

const RUNNER: &str = include_str!("../assets/demo/hall-runner.json");
const BLANKET: &str = include_str!("../assets/demo/winter-blanket.json");
const SCARF: &str = include_str!("../assets/demo/open-scarf.json");

/// Every key of `part` stands in `whole` with the same value; lists are compared item by item as far as
/// `part` goes.
fn holds(whole: &Value, part: &Value, path: &str) {
    match (whole, part) {
        (Value::Object(whole), Value::Object(part)) => {
            for (key, value) in part {
                holds(&whole[key], value, &format!("{path}.{key}"));
            }
        }
        (Value::Array(whole), Value::Array(part)) if part.first().is_some_and(Value::is_object) => {
            for (i, value) in part.iter().enumerate() {
                holds(&whole[i], value, &format!("{path}[{i}]"));
            }
        }
        _ => assert_eq!(whole, part, "{path}"),
    }
}

#[test]
fn the_runner_gives_the_printed_example() {
    let value = plan_value(&figures(RUNNER));
    let example = json!({ "schema": 1, "title": "Hall runner", "units": "in",
      "ends": 277, "heddled_ends": 277, "floating_selvedges": 2, "width": 13.85,
      "groups": [{"number": 1, "first": 1, "last": 20}],
      "batches": [{"number": 1, "first": 1, "last": 12, "shafts": [1,2,3,4,3,2,1,2,3,4,3,2], "heddles": [2,4,4,2]}],
      "heddles": {"needed": [47,92,92,46], "on_hand": [60,100,100,60], "short": [0,0,0,0]},
      "sley": {"order": [2], "sett": 20.0, "exact": true, "starts": "left", "dents": 139, "float_dents": 2, "first_dent": 51, "from_reed_edge": 4.9, "from_middle": 7.1},
      "raddle": {"first_space_from_middle": 14, "spaces": 28},
      "ties": 5, "bundles": [{"number": 1, "first": 121, "last": 140}],
      "beam": {"turns": 6, "packing": 92.0741}, "warp_length": 104.0741,
      "yarn": [{"name": "flax", "length": 806.5741, "weight": 0.3361}], "problems": [] });
    holds(&value, &example, "plan");
}

#[test]
fn every_demo_plan_fits_and_reads_back_the_same() {
    for text in [RUNNER, BLANKET, SCARF] {
        let first = figures(text);
        let says: Vec<String> = first.problems.iter().map(ToString::to_string).collect();
        assert!(says.is_empty(), "{says:?}");
        let plan = first.plan().unwrap();
        let again = figures(&spec_value(&first.spec).to_string());
        assert_eq!(again.plan().unwrap(), plan);
        assert_eq!(again.filled, [], "nothing is left to fill in");
        for remark in &first.remarks {
            println!("{remark}");
        }
        let sum: u32 = plan.batches.iter().map(|b| b.calls.len()).sum();
        assert_eq!(sum, plan.heddled_ends());
    }
}
