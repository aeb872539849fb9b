//! The tracing as JSON, schema 1: only ever added to.
//! Owns the field names; the sentences come from the caller.

use super::evidence::{Evidence, Seen};
use super::look::Look;
use super::trace::{Suspect, Tracing};
use serde_json::{Value, json};

/// The `trace` command's JSON; `says` gives each suspect's sentence.
#[must_use]
pub fn to_json(
    tracing: &Tracing,
    batch: u32,
    evidence: &Evidence,
    says: impl Fn(&Suspect) -> String,
) -> Value {
    let suspect = |suspect: &Suspect| {
        json!({
            "faults": suspect.faults,
            "first_wrong": suspect.first_wrong,
            "share": (suspect.share * 1e4).round() / 1e4,
            "mending": format!("m{}", suspect.mending.0),
            "says": says(suspect),
        })
    };
    json!({
        "schema": 1,
        "batch": batch,
        "first": evidence.first,
        "last": evidence.last(),
        "counts_agree": tracing.counts_agree,
        "settled": tracing.settled,
        "suspects": tracing.suspects.iter().map(suspect).collect::<Vec<_>>(),
        "look": tracing.look.as_ref().map(look),
        "again": tracing.again,
        "doubted": tracing.doubted.as_ref().map(doubted),
    })
}

fn look(look: &Look) -> Value {
    let mut value = json!({ "kind": look.kind, "option": look.option() });
    if let Some(call) = look.call {
        value["call"] = json!(call);
    }
    value
}

/// The doubted answer with its look.
fn doubted(seen: &Seen) -> Value {
    let mut value = look(&seen.look());
    value["answer"] = match seen {
        Seen::Shaft { shaft, .. } | Seen::Empty { shaft } => json!(shaft),
        Seen::Double { call } | Seen::Hanging { call } | Seen::Together { call } => json!(call),
        Seen::Knot { ends } => json!(ends),
        Seen::ReadBack(shafts) => json!(shafts),
        Seen::CannotTell { .. } => Value::Null,
    };
    value
}
