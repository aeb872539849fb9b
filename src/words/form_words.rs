//! The form of a plan, in words: what is asked, and what the answers come to so far.

use super::counts::{count, length, plural};
use crate::plan::form::Field;
use crate::plan::{Figures, Problem};

/// What a field asks, with its help and the usual value that stands without an answer.
#[must_use]
pub fn asks(
    field: &Field,
    place: (usize, usize),
    answer: Option<&str>,
    usual: Option<&str>,
) -> Vec<String> {
    let needed = if field.needed { ", needed" } else { "" };
    let mut lines = vec![
        format!("{} of {}. {}{needed}", place.0, place.1, field.asks),
        field.help.to_owned(),
    ];
    match (answer, usual) {
        (Some(answer), _) => lines.push(format!("Now: {answer}")),
        (None, Some(usual)) => lines.push(format!("Without an answer: {usual}")),
        (None, None) => {}
    }
    lines
}

/// What the answers come to so far: ends, width, sley order, heddles, what does not fit.
#[must_use]
pub fn live(figures: &Figures) -> Vec<String> {
    let mut parts = Vec::new();
    parts.extend(figures.ends.map(|ends| count(ends, "end")));
    parts.extend(
        figures
            .width
            .map(|width| format!("{} wide in the reed", length(width, figures.units))),
    );
    parts.extend(
        figures
            .groups
            .as_ref()
            .map(|groups| count(groups.len() as u32, "group")),
    );
    parts.extend(figures.sley.as_ref().map(|sley| {
        let order: Vec<String> = sley.order.iter().map(u32::to_string).collect();
        format!("sley {}", order.join("-"))
    }));
    parts.extend(figures.heddles.as_ref().map(|heddles| {
        let needed: Vec<String> = heddles.needed.iter().map(u32::to_string).collect();
        format!("heddles {}", needed.join(" "))
    }));
    let mut lines = Vec::new();
    if !parts.is_empty() {
        lines.push(format!("So far: {}.", parts.join("; ")));
    }
    lines.extend(does_not_fit(&figures.problems));
    lines
}

/// What does not fit yet; what is only not answered yet is left to the asking.
#[must_use]
pub fn does_not_fit(problems: &[Problem]) -> Vec<String> {
    let told = problems
        .iter()
        .filter(|problem| !matches!(problem, Problem::Missing { .. }));
    told.map(|problem| format!("Does not fit: {problem}."))
        .collect()
}

/// What is still needed before the plan can be dressed.
#[must_use]
pub fn still_needed(figures: &Figures) -> String {
    let missing = figures.problems.len();
    format!(
        "The plan cannot be dressed yet: {} {} below. Answer them, then type done.",
        missing,
        plural(missing as u32, "thing")
    )
}

/// How the form is typed in lines.
pub const HOW: &str = "Type an answer, or an empty line for what is usual. back, go NAME, show, card FILE, done, quit (kept half-way).";
