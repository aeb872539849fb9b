//! Lists on the screen: ways out as lines, a part of a long list, numbers that are given one after the other.
//! Owns the wording.

use super::choices::choice_short;
use crate::dressing::view::DisagreeingView;
use crate::plan::Plan;
use crate::quantity::Shaft;

/// The ways out as lines of a list.
#[must_use]
pub fn ways(view: &DisagreeingView, plan: &Plan) -> Vec<String> {
    view.choices
        .iter()
        .map(|choice| choice_short(view, *choice, plan))
        .collect()
}

/// What stands below a part of a list that is longer than its room.
#[must_use]
pub fn part_of_list(first: usize, last: usize, of: usize) -> String {
    format!("Lines {first} to {last} of {of}; the light goes on to the others.")
}

/// The distance line of a list of heddles: each shaft by itself.
#[must_use]
pub fn heddles_far(shaft: Shaft) -> String {
    format!("SHAFT {} LEFT?", shaft.0)
}

/// The sentence of a list of heddles: each shaft by itself, and what was given so far.
#[must_use]
pub fn heddles_near(shaft: Shaft, given: &[(Shaft, i64)]) -> Vec<String> {
    let mut lines = vec![format!(
        "How many counted-out heddles are left on shaft {}? 0 for none, -1 for one taken from the stock.",
        shaft.0
    )];
    if !given.is_empty() {
        let said: Vec<String> = given
            .iter()
            .map(|(shaft, n)| format!("shaft {}: {n}", shaft.0))
            .collect();
        lines.push(format!("Said so far: {}.", said.join(", ")));
    }
    lines
}

/// The sentence beside a handful that is read: what was given of it, and how the reading ends.
#[must_use]
pub fn reading_near(given: &[i64]) -> String {
    let end = "0 ends the reading.";
    if given.is_empty() {
        return end.to_owned();
    }
    let said: Vec<String> = given.iter().map(ToString::to_string).collect();
    format!("Read of it: {}. {end}", said.join(" "))
}
