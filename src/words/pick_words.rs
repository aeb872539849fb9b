//! One pick in sentences: what is pressed, what rises, how many ends are up in each group. Owns the
//! wording; the figures are the plan's.

use super::counts::count;
use super::page::{Page, method_page, two_ways};
use super::screen_words::PICK;
use super::try_words::{far, listed, open};
use crate::dressing::view::PickView;
use crate::method::{Method, StepId};
use crate::plan::{Action, Floats, GroupShed, Plan};

/// The float's side of the shuttle (Petrini, "To Float or not to Float", 2023).
const FLOAT: &str =
    "Shuttle over the floating selvedge where it goes in, under the one where it comes out.";

/// A pick of the header or of the draft.
#[must_use]
pub fn of_pick(view: &PickView, plan: &Plan, method: &Method) -> Page {
    let header = view.step == StepId::Header;
    let of_step = method_page(view.step, plan, method);
    let (press, shed) = (&view.pick.press, &view.pick.shed);
    let opened = open(press, &shed.rising);
    let name = if header { "header pick" } else { "pick" };
    let mut lines = vec![format!("{opened}, and weave {name} {}.", view.number)];
    lines.extend(rises(view, plan));
    if view.number == 1 {
        lines.extend(of_step.lines);
        lines.extend((plan.floats != Floats::None).then(|| FLOAT.to_owned()));
    }
    let enough = if header {
        "skip: the gaps are closed, the header is enough."
    } else {
        "skip: picks enough."
    };
    Page {
        heading: format!("Try: {name} {} of {}", view.number, view.of),
        far: far(press, &shed.rising).unwrap_or(format!("PICK {}", view.number)),
        lines,
        say: said(view, &of_step.say, &opened),
        typed: [two_ways(PICK, "wrong"), vec![enough.to_owned()]].concat(),
        caution: of_step.caution,
        press: format!("{name} {} is woven", view.number),
    }
}

/// The step's sentence is said once; after it what opens the shed is enough.
fn said(view: &PickView, step: &str, opened: &str) -> String {
    let number = view.number;
    let name = if view.step == StepId::Header {
        "Header pick"
    } else {
        "Pick"
    };
    match number {
        1 => format!("{step} {name} 1. {opened}."),
        _ => format!("{name} {number}. {opened}."),
    }
}

fn rises(view: &PickView, plan: &Plan) -> Vec<String> {
    let shed = &view.pick.shed;
    let others = match plan.action {
        Action::Countermarch | Action::Counterbalance => "Sinking",
        Action::Jack | Action::Table | Action::Lift => "Staying",
    };
    vec![
        format!(
            "Rising: {}. {others}: {}.",
            listed(&shed.rising),
            listed(&shed.others)
        ),
        format!(
            "{} up in all; {}.",
            count(shed.ends, "end"),
            by_group(&shed.groups)
        ),
    ]
}

/// Up to so many stretches of groups that are alike are said one by one.
const MOST_STRETCHES: usize = 3;
/// Up to so many groups each have their number in the list: two rows of a screen.
const MOST_GROUPS: usize = 40;

/// Ends up group by group: "groups 1 to 13: 10 of 20; group 14: 8 of 17" where few differ, else
/// "by group, 1 to 14: 9 8 10", else the least and the most.
#[must_use]
pub fn by_group(groups: &[GroupShed]) -> String {
    let alike = |a: &GroupShed, b: &GroupShed| (a.rising, a.of) == (b.rising, b.of);
    let runs: Vec<&[GroupShed]> = groups.chunk_by(alike).collect();
    if runs.len() <= MOST_STRETCHES {
        let said: Vec<String> = runs.into_iter().filter_map(stretch).collect();
        return said.join("; ");
    }
    let up = groups.iter().map(|group| group.rising);
    if groups.len() <= MOST_GROUPS {
        let each: Vec<String> = up.map(|n| n.to_string()).collect();
        return format!("by group, 1 to {}: {}", groups.len(), each.join(" "));
    }
    let (least, most) = (up.clone().min().unwrap_or(0), up.max().unwrap_or(0));
    format!("{least} to {most} in a group")
}

fn stretch(run: &[GroupShed]) -> Option<String> {
    let (first, last) = (run.first()?, run.last()?);
    let which = match last.group - first.group {
        0 => format!("group {}", first.group),
        1 => format!("groups {} and {}", first.group, last.group),
        _ => format!("groups {} to {}", first.group, last.group),
    };
    Some(format!("{which}: {} of {}", first.rising, first.of))
}
