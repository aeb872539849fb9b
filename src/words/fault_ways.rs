//! Ways of mending and their moves, in words.
//! Owns the wording; what a way costs is `fault`'s.

use super::counts::{count, ends};
use super::looks::nth;
use crate::fault::{Cost, Move, Way, WayKind};
use crate::quantity::{Call, Calls, Shaft};

/// A way with what it costs: "Draw the batch out and thread it again: 12 ends out, 12 in, about
/// 3 min."
#[must_use]
pub fn way(way: &Way, first: Call) -> String {
    let text = match way.kind {
        WayKind::ThreadAgain => "draw the batch out and thread it again".to_owned(),
        WayKind::FromTheFault => from_the_fault(way, first),
        WayKind::ToTheFirstEdge => {
            "draw out from the first edge to here and thread that again".to_owned()
        }
        WayKind::OnTheSpot => {
            let steps: Vec<String> = way
                .moves
                .iter()
                .filter(|step| is_told(step))
                .map(|s| step(s, first))
                .collect();
            steps.join(", ")
        }
        WayKind::PutCountRight | WayKind::GoOn => {
            let steps: Vec<String> = way.moves.iter().map(|s| step(s, first)).collect();
            steps.join(", ")
        }
        WayKind::AmendPlan => "leave what stands and change the plan to it".to_owned(),
        WayKind::LeaveIt => "leave it as it is; the cloth will show it".to_owned(),
        WayKind::NewEnd => super::mend_words::way(way.kind).to_owned(),
    };
    let price = cost(&way.cost);
    if price.is_empty() {
        format!("{text}.")
    } else {
        format!("{text}: {price}.")
    }
}

/// The same in few words, for a list.
#[must_use]
pub fn short(way: &Way, first: Call) -> String {
    let text = self::way(
        &Way {
            cost: Cost::default(),
            ..way.clone()
        },
        first,
    );
    let text = text
        .trim_end_matches('.')
        .replace(" of the knot", "")
        .replace(", weighted over the back beam,", "")
        .replace(" and thread that again", ", thread that again");
    let price = cost_short(&way.cost);
    if price.is_empty() {
        text
    } else {
        format!("{text}: {price}")
    }
}

/// What a way costs in few words: "8 out, 9 in, 1 repair heddle, about 4 min".
fn cost_short(cost: &Cost) -> String {
    let price = self::cost(cost);
    let words = [" ends out", " end out"].map(|long| (long, " out"));
    let words = words.into_iter().chain([
        (" ends in", " in"),
        (" end in", " in"),
        (" ends to sley", " to sley"),
        (" end to sley", " to sley"),
        (" ends added", " added"),
        (" end added", " added"),
        (" ends taken out", " taken out"),
        (" end taken out", " taken out"),
    ]);
    words.fold(price, |price, (long, short)| price.replace(long, short))
}

fn from_the_fault(way: &Way, first: Call) -> String {
    let from = way.moves.iter().find_map(|step| match step {
        Move::DrawOut(calls) => Some(("draw out", "on and thread that again", calls.first)),
        _ => None,
    });
    let thread = way.moves.iter().find_map(|step| match step {
        Move::Thread(calls) => Some(*calls),
        _ => None,
    });
    let reed = way.moves.iter().find_map(|step| match step {
        Move::DrawFromReed(calls) => Some(*calls),
        _ => None,
    });
    if let (None, None, Some(calls)) = (from, thread, reed) {
        return format!("draw {} out of the reed and sley them again", ends(calls));
    }
    match (from, thread) {
        (Some((draw, again, call)), _) => {
            format!("{draw} from {} {again}", heddle(call, first))
        }
        (None, Some(calls)) => format!("thread {}", ends(calls)),
        (None, None) => "go on".to_owned(),
    }
}

/// Knots, bundles and the reed are in the price; only what is done to heddles and ends is told.
fn is_told(step: &Move) -> bool {
    !matches!(
        step,
        Move::UndoKnots(_)
            | Move::Knot(_)
            | Move::DrawFromReed(_)
            | Move::Sley(_)
            | Move::SleyMoved(..)
            | Move::LastEdge(_)
    )
}

fn heddle(call: Call, first: Call) -> String {
    let place = call.0.saturating_sub(first.0).saturating_add(1);
    format!("the {} heddle of the knot", nth(place))
}

/// One move, as an order; `first` is the first call of the batch.
#[must_use]
pub fn step(step: &Move, first: Call) -> String {
    let at = |call: &Call| heddle(*call, first);
    let run = |calls: &Calls| ends(*calls);
    let size = |by: i64| u32::try_from(by.unsigned_abs()).unwrap_or(u32::MAX);
    match step {
        Move::UndoKnots(calls) if calls.len() == 1 => format!("undo the knot of {}", run(calls)),
        Move::UndoKnots(calls) => format!("undo the knots of {}", run(calls)),
        Move::DrawFromReed(calls) => format!("draw {} out of the reed", run(calls)),
        Move::DrawOut(calls) => format!(
            "draw {} heddles out, from {} on",
            calls.len(),
            at(&calls.first)
        ),
        Move::Thread(calls) => format!("thread {}", run(calls)),
        Move::EdgeEnds(by) if *by < 0 => "take the outermost end out of the warp".to_owned(),
        Move::EdgeEnds(_) => "add an end at the edge, weighted over the back beam".to_owned(),
        Move::LastEdge(by) if *by < 0 => format!(
            "at the edge threaded last, take the outermost {} out: over now",
            count(size(*by), "end")
        ),
        Move::LastEdge(by) => format!(
            "at the edge threaded last, hang {} on, weighted over the back beam: lacking now",
            count(size(*by), "end")
        ),
        Move::HangHeddle(call, shaft) => {
            format!(
                "hang a repair heddle on shaft {} before {}",
                shaft.0,
                at(call)
            )
        }
        Move::MoveEnd(call, shaft) => {
            format!(
                "move the end of {} to a heddle of shaft {}",
                at(call),
                shaft.0
            )
        }
        Move::Exchange(call) => format!("exchange the ends of {} and the next", at(call)),
        Move::AddEnd(call, shaft) => format!(
            "enter an added end, weighted over the back beam, on shaft {} before {}",
            shaft.0,
            at(call)
        ),
        Move::TakeOut(call) => format!("draw the end of {} out and leave it out", at(call)),
        Move::TakeSecondOut(call) => {
            format!("draw the second end of {} out and leave it out", at(call))
        }
        Move::TakeHangingOut(call) => {
            format!("take the end that hangs after {} out of the warp", at(call))
        }
        Move::FreeHeddle(shaft) => free_heddle(*shaft),
        Move::Sley(calls) => format!("sley {} again", run(calls)),
        Move::SleyMoved(calls, by) => format!(
            "sley {} again, each {} nearer the edge threaded {} than planned; a floating selvedge there moves along",
            run(calls),
            count(size(*by), "place"),
            if *by < 0 { "last" } else { "first" }
        ),
        Move::Knot(calls) => format!("knot {} again", run(calls)),
        Move::PutBackEnds(by) if *by < 0 => format!("fetch {}", count(size(*by), "end")),
        Move::PutBackEnds(by) => format!("put {} back", count(size(*by), "end")),
        Move::PutBackHeddles(shaft, by) if *by < 0 => {
            format!("fetch {} for shaft {}", count(size(*by), "heddle"), shaft.0)
        }
        Move::PutBackHeddles(shaft, by) => {
            format!(
                "put {} of shaft {} back",
                count(size(*by), "heddle"),
                shaft.0
            )
        }
        Move::CallsStand(calls) => {
            format!(
                "{} of the batch stand: go on with the next",
                count(*calls, "call")
            )
        }
        Move::NewEnd(step) => super::broken_words::step(*step),
        Move::Amend(call, shafts) => format!(
            "the plan from end {} on is now {}",
            call.0,
            super::counts::shafts(shafts)
        ),
    }
}

fn free_heddle(shaft: Shaft) -> String {
    format!(
        "free the heddle of shaft {} where an end goes through two; an empty one may stay",
        shaft.0
    )
}

/// What a way costs: "8 ends out, 9 in, 1 repair heddle, about 4 min". Empty where it costs nothing.
#[must_use]
pub fn cost(cost: &Cost) -> String {
    let parts = [
        (
            cost.ends_out,
            format!("{} out", count(cost.ends_out, "end")),
        ),
        (
            cost.ends_thread,
            format!("{} in", count(cost.ends_thread, "end")),
        ),
        (
            cost.ends_sley,
            format!("{} to sley", count(cost.ends_sley, "end")),
        ),
        (cost.knots, count(cost.knots, "knot")),
        (cost.bundles, count(cost.bundles, "bundle")),
        (
            cost.repair_heddles,
            count(cost.repair_heddles, "repair heddle"),
        ),
        (
            cost.ends_added,
            format!("{} added", count(cost.ends_added, "end")),
        ),
        (
            cost.ends_removed,
            format!("{} taken out", count(cost.ends_removed, "end")),
        ),
    ];
    let mut told: Vec<String> = parts
        .into_iter()
        .filter(|(n, _)| *n > 0)
        .map(|(_, text)| text)
        .collect();
    if cost.seconds > 0.0 {
        told.push(format!("about {}", time(cost.seconds)));
    }
    told.join(", ")
}

/// "1 min", "25 min", "3 h 20 min": never less than a minute, because nothing at a loom is.
#[must_use]
pub fn time(seconds: f64) -> String {
    let minutes = (seconds / 60.0).round().clamp(1.0, 1e6) as u32;
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}
