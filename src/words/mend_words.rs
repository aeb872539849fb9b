//! Ways of mending and their moves, in words. Owns the wording; what a way costs is `fault`'s.

use super::counts::{count, ends, shafts};
use super::page::Page;
use crate::dressing::view::MendingView;
use crate::fault::{Cost, Move, Way, WayKind};

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
    }
}

/// What a way costs: "3 ends out and in again, 1 repair heddle, about 2 min".
#[must_use]
pub fn cost(way: &Way) -> String {
    let Cost {
        ends_out,
        ends_thread,
        ends_sley,
        knots,
        bundles,
        repair_heddles,
        ends_added,
        ends_removed,
        seconds,
    } = way.cost;
    let mut parts = Vec::new();
    let mut part = |n: u32, words: String| {
        if n > 0 {
            parts.push(words);
        }
    };
    part(ends_out, format!("{} out", count(ends_out, "end")));
    part(
        ends_thread,
        format!("{} to thread", count(ends_thread, "end")),
    );
    part(ends_sley, format!("{} to sley", count(ends_sley, "end")));
    part(knots, count(knots, "knot"));
    part(bundles, count(bundles, "bundle"));
    part(repair_heddles, count(repair_heddles, "repair heddle"));
    part(ends_added, format!("{} added", count(ends_added, "end")));
    part(
        ends_removed,
        format!("{} taken out", count(ends_removed, "end")),
    );
    parts.push(minutes(seconds));
    parts.join(", ")
}

fn minutes(seconds: f64) -> String {
    if seconds < 45.0 {
        "less than a minute".to_owned()
    } else {
        format!("about {:.0} min", (seconds / 60.0).max(1.0))
    }
}

/// One move as a sentence.
#[must_use]
pub fn move_words(made: &Move) -> String {
    let size = |n: i64| u32::try_from(n.unsigned_abs()).unwrap_or(u32::MAX);
    match made {
        Move::UndoKnots(calls) => format!("Undo the knot of {}.", ends(*calls)),
        Move::DrawFromReed(calls) => format!("Draw {} out of the reed.", ends(*calls)),
        Move::DrawOut(calls) => format!(
            "Draw {} out of their heddles, and push the free heddles back.",
            ends(*calls)
        ),
        Move::Thread(calls) => format!("Thread {} again, in the order of the cross.", ends(*calls)),
        Move::EdgeEnds(n) if *n > 0 => format!(
            "Add {} at the first edge, weighted over the back beam.",
            count(size(*n), "end")
        ),
        Move::EdgeEnds(n) => format!(
            "Take {} out of the warp at the first edge.",
            count(size(*n), "end")
        ),
        Move::HangHeddle(call, shaft) => format!(
            "Hang a repair heddle on shaft {} at call {}.",
            shaft.0, call.0
        ),
        Move::MoveEnd(call, shaft) => format!(
            "Move the end of call {} to the heddle on shaft {}.",
            call.0, shaft.0
        ),
        Move::Exchange(call) => format!(
            "Exchange the ends of calls {} and {}.",
            call.0,
            call.0.saturating_add(1)
        ),
        Move::AddEnd(call, shaft) => format!(
            "Enter an added end, weighted over the back beam, on shaft {} at call {}.",
            shaft.0, call.0
        ),
        Move::TakeOut(call) => format!(
            "Draw the end of call {} out and take it from the warp; its heddle stays empty.",
            call.0
        ),
        Move::TakeSecondOut(call) => format!(
            "Draw the second end out of the heddle of call {}, and take it from the warp.",
            call.0
        ),
        Move::TakeHangingOut(call) => format!(
            "Take the end that hangs loose after call {} out of the warp.",
            call.0
        ),
        Move::FreeHeddle(shaft) => format!(
            "Free the heddle of shaft {} that was passed by; an empty one may stay.",
            shaft.0
        ),
        Move::Sley(calls) => format!("Sley {} again.", ends(*calls)),
        Move::Knot(calls) => format!("Knot {} again.", ends(*calls)),
        Move::PutBackEnds(n) if *n > 0 => {
            format!("Put {} of the count-out back.", count(size(*n), "end"))
        }
        Move::PutBackEnds(n) => format!("Fetch {} more for the count-out.", count(size(*n), "end")),
        Move::PutBackHeddles(shaft, n) if *n > 0 => format!(
            "Put {} back on shaft {}.",
            count(size(*n), "heddle"),
            shaft.0
        ),
        Move::PutBackHeddles(shaft, n) => {
            format!("Fetch {} on shaft {}.", count(size(*n), "heddle"), shaft.0)
        }
        Move::CallsStand(n) => format!(
            "{} of the batch stand: go on with the next.",
            count(*n, "call")
        ),
        Move::Amend(call, stand) => {
            format!("From call {} on these stand: {}.", call.0, shafts(stand))
        }
    }
}

/// One move of a mending as a page.
#[must_use]
pub fn mending(view: &MendingView) -> Page {
    let now = move_words(&view.now);
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
