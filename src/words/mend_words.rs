//! A mending under way, in words, and the words that choose a way. What a way and its moves are
//! called is in `fault_ways`.

use super::counts::{count, in_handfuls};
use super::page::Page;
use crate::dressing::view::{DisagreeingView, MendingView};
use crate::fault::{Found, ReedFault, WayKind};
use crate::plan::{Plan, handfuls};
use crate::quantity::{Call, Shaft};

/// What was found, without a stop: "the end of call 54 is on shaft 3".
#[must_use]
pub fn found(found: &Found) -> String {
    match found {
        Found::InHeddles(fault) => super::fault_words::fault(fault),
        Found::InReed(kind, call) => in_reed(*kind, *call),
    }
}

fn in_reed(kind: ReedFault, call: Call) -> String {
    let call = call.0;
    match kind {
        ReedFault::DentSkipped => format!("a dent was passed over before call {call}"),
        ReedFault::EndTooMany => format!("the dent of call {call} holds one end too many"),
        ReedFault::EndTooFew => format!("the dent of call {call} holds one end too few"),
        ReedFault::OrderAhead => format!("the sley order jumped a dent ahead at call {call}"),
        ReedFault::OrderBehind => format!("the sley order fell a dent behind at call {call}"),
        ReedFault::EndsCrossed => format!(
            "calls {call} and {} cross in the reed or before it",
            call.saturating_add(1)
        ),
    }
}

/// What was found as a page, with the ways of mending it.
#[must_use]
pub fn found_page(
    view: &DisagreeingView,
    what: &Found,
    planned: &[Shaft],
    typed: Vec<String>,
) -> Page {
    let said = format!("{}.", super::lines::capital(&found(what)));
    let lengths: Vec<u32> = handfuls(planned).into_iter().map(u32::from).collect();
    let mut lines = vec![said.clone()];
    if let Found::InHeddles(_) = what {
        lines.push(format!("As planned: {}.", in_handfuls(planned, &lengths)));
    }
    Page {
        heading: "Something is wrong, and the place is known".to_owned(),
        far: "MEND IT".to_owned(),
        say: format!(
            "{said} {} to choose from.",
            super::lines::capital(&count(view.choices.len() as u32, "way"))
        ),
        lines,
        typed,
        caution: None,
        press: "choose a way out".to_owned(),
    }
}

/// A way by what it does.
#[must_use]
pub fn way(kind: WayKind) -> &'static str {
    match kind {
        WayKind::ThreadAgain => "draw the batch out and thread it again",
        WayKind::FromTheFault => "draw out from the wrong place on, and thread that again",
        WayKind::ToTheFirstEdge => "draw out back to the first edge, and thread that again",
        WayKind::OnTheSpot => "mend it where it is",
        WayKind::PutCountRight => "put the count-out right; the threading stands",
        WayKind::GoOn => "go on from what stands",
        WayKind::AmendPlan => "change the plan to what stands",
        WayKind::LeaveIt => "leave it; the cloth will show it",
        WayKind::NewEnd => "make the broken end good with a new length",
    }
}

/// The word that chooses a way in line mode.
#[must_use]
pub fn word(kind: WayKind) -> &'static str {
    match kind {
        WayKind::ThreadAgain => "again",
        WayKind::FromTheFault => "from",
        WayKind::ToTheFirstEdge => "edge",
        WayKind::OnTheSpot => "spot",
        WayKind::PutCountRight => "count-out",
        WayKind::GoOn => "on",
        WayKind::AmendPlan => "plan",
        WayKind::LeaveIt => "leave",
        WayKind::NewEnd => "mend",
    }
}

/// One move as a sentence.
fn sentence(view: &MendingView) -> String {
    let text = super::fault_ways::step(&view.now, view.first);
    format!("{}.", super::lines::capital(&text))
}

/// One move of a mending as a page.
#[must_use]
pub fn mending(view: &MendingView, plan: &Plan) -> Page {
    let now = sentence(view);
    if let Some(end) = &view.broken {
        return super::broken_words::mending(view, end, now, plan);
    }
    Page {
        heading: format!(
            "Mending batch {}: move {} of {}",
            view.batch, view.number, view.of
        ),
        far: format!("MOVE {} OF {}", view.number, view.of),
        lines: vec![now.clone(), format!("The way: {}.", way(view.way))],
        say: now,
        caution: None,
        press: "done".to_owned(),
        ..Page::default()
    }
}
