//! Groups in words: wound, spread, knotted, cut. Owns what is said of a group before it is threaded.

use super::counts::{count, ends, length, side};
use super::page::{Page, method_page};
use crate::dressing::ledger::Task;
use crate::dressing::view::{GroupView, WindView};
use crate::method::{Method, StepId};
use crate::plan::Plan;

pub(super) fn of_group(view: &GroupView, plan: &Plan, method: &Method) -> Page {
    let number = view.group.number;
    let n = view.group.calls.len() + view.floats;
    let which = match view.floats {
        0 => ends(view.group.calls),
        _ => "a floating selvedge among them".to_owned(),
    };
    let id = match view.task {
        Task::Wound => StepId::WindGroup,
        Task::Spread => StepId::SpreadGroup,
        Task::Cut => StepId::CutLoops,
        _ => StepId::KnotGroup,
    };
    let mut page = method_page(id, plan, method);
    page.heading = format!("{}, group {number} of {}", page.heading, view.of);
    page.far = format!("GROUP {number}: {n}");
    page.lines.push(format!(
        "Group {number}: {}, {which}, from the {}.",
        count(n, "end"),
        side(view.side)
    ));
    page.lines.extend(view.wind.iter().flat_map(wound));
    if view.task == Task::Spread {
        page.lines.extend(first_space(view, plan));
        page.lines.push(spaces(&view.spaces));
        page.press = "the group lies in its spaces".to_owned();
    }
    let ends = count(n, "end");
    page.say = match view.task {
        Task::Wound => format!("Wind group {number}. {ends}."),
        Task::Spread => format!("Lay group {number} in its spaces. {ends}."),
        Task::Cut => format!("Cut the loops of group {number}. {ends}."),
        _ => format!("Knot group {number}. {ends}."),
    };
    page
}

/// What is to be known before winding: the guide string, the passes, the bouts.
pub(super) fn before_winding(plan: &Plan) -> Vec<String> {
    let wind = crate::plan::wind::wind(plan);
    let guide = wind
        .guide
        .map(|guide| format!("Guide string: {}.", length(guide, plan.units)));
    let together = match wind.together {
        1 => String::new(),
        n => format!(", {n} ends together in the hand"),
    };
    let mut lines: Vec<String> = guide.into_iter().collect();
    lines.push(format!(
        "{}, {}{together}; {}; the colour changes {}.",
        count(wind.passes, "pass"),
        count(wind.round_trips, "round trip"),
        count(wind.bouts.len() as u32, "bout"),
        count(wind.changes, "time")
    ));
    if !wind.even {
        lines.push(
            "Not every group is even: a loop will lie across two groups, or an end is knotted to the rod."
                .to_owned(),
        );
    }
    lines
}

/// A group's colours in order, its passes and its bout.
fn wound(view: &WindView) -> Vec<String> {
    let stripes: Vec<String> = view
        .stripes
        .iter()
        .map(|(yarn, n)| format!("{n} {yarn}"))
        .collect();
    let mut lines = Vec::new();
    if !stripes.is_empty() {
        lines.push(format!("Colours in order: {}.", stripes.join(", ")));
    }
    lines.push(format!(
        "{} along the frame; bout {} of {}.",
        count(view.passes, "pass"),
        view.bout,
        view.bouts
    ));
    if view.bout_ends && view.bout < view.bouts {
        lines.push("The bout ends here: tie its cross before the next one.".to_owned());
    }
    lines
}

/// Where the warp's first space lies; told with the first group.
fn first_space(view: &GroupView, plan: &Plan) -> Option<String> {
    (view.group.number == 1).then(|| {
        format!(
            "Space 1 is number {} from the raddle's middle, on the {}.",
            plan.raddle.first_space_from_middle,
            side(view.side)
        )
    })
}

fn spaces(spaces: &[(u32, u32)]) -> String {
    match spaces {
        [] => "The raddle's spaces are not known: lay the group as wide as it is in the reed."
            .to_owned(),
        [(space, n)] => format!("Space {space}: {}.", count(*n, "end")),
        many => {
            let list: Vec<String> = many
                .iter()
                .map(|(space, n)| format!("{n} in space {space}"))
                .collect();
            format!("{}.", list.join(", "))
        }
    }
}
