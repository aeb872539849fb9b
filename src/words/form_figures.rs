//! The figures of a plan that is still being asked for, in words. Decides nothing, works nothing out.

use super::counts::{count, length};
use super::form_words::does_not_fit;
use crate::plan::{Figures, Heddles};
use crate::quantity::Fraction;

/// What the answers come to so far in one line, and what does not fit.
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
    parts.extend(
        figures
            .sley
            .as_ref()
            .map(|sley| format!("sley {}", order(&sley.order))),
    );
    parts.extend(
        figures
            .heddles
            .as_ref()
            .map(|heddles| format!("heddles {}", row(&heddles.needed))),
    );
    let mut lines = Vec::new();
    if !parts.is_empty() {
        lines.push(format!("So far: {}.", parts.join("; ")));
    }
    lines.extend(does_not_fit(&figures.problems));
    lines
}

fn order(order: &[u32]) -> String {
    let order: Vec<String> = order.iter().map(u32::to_string).collect();
    order.join("-")
}

fn row(numbers: &[u32]) -> String {
    let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
    numbers.join(" ")
}

/// Every figure under its name, as far as they are known.
#[must_use]
pub fn figures(figures: &Figures) -> Vec<String> {
    let long = |what: Fraction| length(what, figures.units);
    let mut lines = Vec::new();
    let mut say = |name: &str, value: Option<String>| {
        lines.extend(value.map(|value| format!("{name}: {value}")));
    };
    let floats = match figures.floating {
        0 => String::new(),
        n => format!(", {n} floating selvedges"),
    };
    say("Ends", figures.ends.map(|n| format!("{n}{floats}")));
    say("Width in the reed", figures.width.map(long));
    let groups = figures.groups.as_ref().map(Vec::len);
    say("Groups", groups.map(|n| n.to_string()));
    let batches = figures.batches.as_ref().map(Vec::len);
    say("Batches", batches.map(|n| n.to_string()));
    heddles(figures.heddles.as_ref(), &mut say);
    if let Some(sley) = &figures.sley {
        let reed = format!("{}, reed {}", order(&sley.order), sley.reed);
        say("Sley order", Some(reed));
        say("Dents", Some(sley.dents.len().to_string()));
    }
    let spaces = figures.raddle.as_ref().map(|raddle| raddle.spaces);
    say("Raddle spaces", spaces.map(|n| n.to_string()));
    say(
        "Turns on the beam",
        figures.beam.turns.map(|n| n.to_string()),
    );
    say("Length to wind", figures.warp_length.map(long));
    lines
}

fn heddles(heddles: Option<&Heddles>, say: &mut impl FnMut(&str, Option<String>)) {
    let Some(heddles) = heddles else {
        return;
    };
    say("Heddles needed", Some(row(&heddles.needed)));
    let there = heddles.on_hand.as_ref().map(|there| row(there));
    say("Heddles there", there.or(Some("not counted".to_owned())));
}
