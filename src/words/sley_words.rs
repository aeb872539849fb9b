//! Sleying in words: a group with its dents, the tape, the floats' dents.

use super::counts::{count, length, plural, side};
use super::lines::capital;
use super::page::{Page, two_ways};
use super::screen_words::SLEYED;
use crate::dressing::view::SleyView;
use crate::method::StepId;
use crate::plan::{Dent, DentEnds, Plan};

pub(super) fn of_sley(view: &SleyView, plan: &Plan) -> Page {
    let number = view.group.number;
    let (first, last) = (view.calls.first.0, view.calls.last.0);
    let run = if first == last {
        format!("call {first}")
    } else if view.upwards {
        format!("calls {first} to {last}")
    } else {
        format!("calls {last} down to {first}")
    };
    let from = side(view.from);
    let ends = count(view.calls.len(), "end");
    let what = if view.calls == view.group.calls {
        format!("group {number}")
    } else {
        format!("what is out of group {number}")
    };
    let mut lines = vec![format!("Sley {what}: {ends}, {run}, from the {from}.")];
    lines.push(dents(view));
    lines.push(format!(
        "The last one lies at {} on the tape, from the reed's {from} edge.",
        length(view.tape, plan.units)
    ));
    lines.push("Slip-knot the group in front of the reed.".to_owned());
    let n = view.dents.len() as u32;
    Page {
        heading: format!("Sley: group {} of {}", view.nth, view.of),
        far: format!("{n} {}", plural(n, "DENT").to_uppercase()),
        lines,
        say: format!("Sley {what}. {ends}. {}.", count(n, "dent")),
        typed: two_ways(SLEYED, "uneven"),
        caution: None,
        press: "the group is sleyed and knotted".to_owned(),
    }
}

/// "Dents 52 to 61, 2 in each."; where they differ, one by one in runs.
fn dents(view: &SleyView) -> String {
    let mut runs: Vec<(u32, u32, u32)> = Vec::new();
    for fill in &view.dents {
        match runs.last_mut() {
            Some((_, last, ends)) if *ends == fill.ends => *last = fill.dent,
            _ => runs.push((fill.dent, fill.dent, fill.ends)),
        }
    }
    let shared = match view.shared {
        0 => String::new(),
        n if view.calls != view.group.calls => format!(
            " (dent {} holds {n} already)",
            view.dents.first().map_or(0, |fill| fill.dent)
        ),
        n => format!(
            " (dent {} holds {n} of the group before)",
            view.dents.first().map_or(0, |fill| fill.dent)
        ),
    };
    if runs.len() <= 3 {
        let runs: Vec<String> = runs.iter().map(|run| dent_run(*run)).collect();
        return format!("{}{shared}.", capital(&runs.join("; ")));
    }
    let (first, last) = (runs[0].0, runs[runs.len() - 1].1);
    let order: Vec<String> = view
        .dents
        .iter()
        .map(|fill| fill.ends.to_string())
        .collect();
    format!("Dents {first} to {last}: {}{shared}.", order.join(" "))
}

fn dent_run((first, last, ends): (u32, u32, u32)) -> String {
    let holds = if ends == 0 {
        "empty".to_owned()
    } else {
        format!("{ends} in each")
    };
    if first == last {
        let holds = if ends == 0 { holds } else { count(ends, "end") };
        format!("dent {first}, {holds}")
    } else {
        format!("dents {first} to {last}, {holds}")
    }
}

/// The dent of a floating selvedge.
pub(super) fn float_dent(step: StepId, plan: &Plan) -> Option<String> {
    let is_float = |dent: &&Dent| matches!(dent.ends, DentEnds::Float { .. });
    let dents = plan.sley.dents.iter();
    let dent = match step {
        StepId::SleyFirstFloat => dents.clone().find(is_float)?,
        StepId::SleyLastFloat => dents.clone().rev().find(is_float)?,
        _ => return None,
    };
    Some(format!(
        "Its dent is number {}, counted from the {}.",
        dent.number,
        side(plan.sley_from)
    ))
}
