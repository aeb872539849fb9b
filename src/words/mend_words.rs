//! A mending under way, in words, and the words that choose a way. What a way and its moves are
//! called is in `fault_ways`.

use super::counts::{count, length, side};
use super::looks::nth;
use super::page::Page;
use crate::dressing::view::{DisagreeingView, MendingView};
use crate::fault::{Found, Move, ReedFault, WayKind};
use crate::plan::{Batch, Plan};
use crate::quantity::{Call, Fraction};

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

/// Where it is: "The 2nd heddle of batch 5, about 2 5/8 in from the right edge."; where it is not known, none.
#[must_use]
pub fn place(
    found: &Found,
    batch: &Batch,
    across: Option<Fraction>,
    plan: &Plan,
) -> Option<String> {
    let call = found.call()?;
    let across = across.map(|across| {
        let edge = side(plan.thread_from);
        format!("about {} from the {edge} edge", length(across, plan.units))
    });
    let heddle = match found {
        Found::InHeddles(_) => {
            let nth = nth(call.0.saturating_sub(batch.calls.first.0).saturating_add(1));
            Some(format!("the {nth} heddle of batch {}", batch.number))
        }
        Found::InReed(..) => None,
    };
    let parts: Vec<String> = [heddle, across].into_iter().flatten().collect();
    let said = super::lines::capital(&parts.join(", "));
    (!said.is_empty()).then(|| format!("{said}."))
}

/// One move for the distance, at most 20 columns.
#[must_use]
pub fn far(step: &Move) -> String {
    let many = |by: i64, word| count(u32::try_from(by.unsigned_abs()).unwrap_or(u32::MAX), word);
    let text = match step {
        Move::UndoKnots(calls) if calls.len() == 1 => "UNDO THE KNOT".to_owned(),
        Move::UndoKnots(_) => "UNDO THE KNOTS".to_owned(),
        Move::DrawFromReed(_) => "DRAW FROM THE REED".to_owned(),
        Move::DrawOut(calls) => format!("DRAW OUT {}", calls.len()),
        Move::Thread(calls) => format!("THREAD {}", count(calls.len(), "end")),
        Move::EdgeEnds(by) if *by < 0 => "TAKE AN END OUT".to_owned(),
        Move::EdgeEnds(_) => "ADD AN END".to_owned(),
        Move::LastEdge(by) if *by < 0 => format!("TAKE {} OUT", many(*by, "end")),
        Move::LastEdge(by) => format!("HANG ON {}", many(*by, "end")),
        Move::HangHeddle(_, shaft) => format!("HEDDLE ON SHAFT {}", shaft.0),
        Move::MoveEnd(_, shaft) => format!("MOVE TO SHAFT {}", shaft.0),
        Move::Exchange(_) => "EXCHANGE TWO ENDS".to_owned(),
        Move::AddEnd(_, shaft) => format!("ADD END, SHAFT {}", shaft.0),
        Move::TakeOut(_) | Move::TakeSecondOut(_) | Move::TakeHangingOut(_) => {
            "TAKE AN END OUT".to_owned()
        }
        Move::FreeHeddle(shaft) => format!("FREE ONE, SHAFT {}", shaft.0),
        Move::Sley(_) | Move::SleyMoved(..) => "SLEY AGAIN".to_owned(),
        Move::Knot(_) => "KNOT AGAIN".to_owned(),
        Move::PutBackEnds(by) if *by < 0 => format!("FETCH {}", many(*by, "end")),
        Move::PutBackEnds(by) => format!("PUT BACK {}", many(*by, "end")),
        Move::PutBackHeddles(_, by) if *by < 0 => format!("FETCH {}", many(*by, "heddle")),
        Move::PutBackHeddles(_, by) => format!("PUT BACK {}", many(*by, "heddle")),
        Move::CallsStand(_) => "GO ON WITH THE NEXT".to_owned(),
        Move::Amend(..) => "THE PLAN IS CHANGED".to_owned(),
        Move::NewEnd(step) => super::broken_words::far(*step).to_owned(),
    };
    text.to_uppercase()
}

/// What was found as a page, with the ways of mending it.
#[must_use]
pub fn found_page(view: &DisagreeingView, what: &Found, typed: Vec<String>) -> Page {
    let said = format!("{}.", super::lines::capital(&found(what)));
    let lines = vec![said.clone()];
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
        WayKind::FromTheFault => "draw out from the wrong place on, and do that again",
        WayKind::ToTheFirstEdge => "draw out back to the first edge, and thread that again",
        WayKind::OnTheSpot => "mend it where it is",
        WayKind::PutCountRight => "put the count-out right; the threading stands",
        WayKind::GoOn => "go on from what stands",
        WayKind::AmendPlan => "change the plan to what stands",
        WayKind::LeaveIt => "leave it; the cloth will show it",
        WayKind::NewEnd => "make the broken end good with a new length",
    }
}

/// The way of a mending under way; in the reed nothing is threaded.
fn way_in(view: &MendingView) -> &'static str {
    match (view.way, view.group) {
        (WayKind::FromTheFault, Some(_)) => {
            "draw out of the reed from the wrong place on, and sley that again"
        }
        (kind, _) => way(kind),
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
            "Mending {}: move {} of {}",
            view.group.map_or_else(
                || format!("batch {}", view.batch),
                |group| format!("group {group} in the reed")
            ),
            view.number,
            view.of
        ),
        far: far(&view.now),
        lines: vec![now.clone(), format!("The way: {}.", way_in(view))],
        say: now,
        caution: None,
        press: "done".to_owned(),
        ..Page::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fault::NewEnd;
    use crate::quantity::{Calls, Shaft};

    #[test]
    fn every_move_is_short_enough_for_the_distance() {
        let (call, shaft) = (Call(100_000), Shaft(64));
        let calls = Calls::new(1, 100_000).unwrap();
        let moves = [
            Move::UndoKnots(calls),
            Move::DrawFromReed(calls),
            Move::DrawOut(calls),
            Move::Thread(calls),
            Move::EdgeEnds(1),
            Move::EdgeEnds(-1),
            Move::LastEdge(64),
            Move::LastEdge(-64),
            Move::HangHeddle(call, shaft),
            Move::MoveEnd(call, shaft),
            Move::Exchange(call),
            Move::AddEnd(call, shaft),
            Move::TakeOut(call),
            Move::TakeSecondOut(call),
            Move::TakeHangingOut(call),
            Move::FreeHeddle(shaft),
            Move::Sley(calls),
            Move::SleyMoved(calls, 1),
            Move::Knot(calls),
            Move::PutBackEnds(64),
            Move::PutBackEnds(-64),
            Move::PutBackHeddles(shaft, 64),
            Move::PutBackHeddles(shaft, -64),
            Move::CallsStand(64),
            Move::Amend(call, vec![shaft]),
            Move::NewEnd(NewEnd::JoinAtPeg),
            Move::NewEnd(NewEnd::JoinOn),
            Move::NewEnd(NewEnd::HangOn),
            Move::NewEnd(NewEnd::IntoCross),
            Move::NewEnd(NewEnd::ThroughHeddle(shaft)),
            Move::NewEnd(NewEnd::ThroughDent(40_000)),
            Move::NewEnd(NewEnd::ThroughWhatIsEmpty),
            Move::NewEnd(NewEnd::IntoKnot),
            Move::NewEnd(NewEnd::ToTheFront),
        ];
        for step in moves {
            let far = far(&step);
            assert!((3..=20).contains(&far.chars().count()), "{step:?}: {far:?}");
        }
    }
}
