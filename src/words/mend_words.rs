//! A mending under way, in words, and the words that choose a way. What a way and its moves are
//! called is in `fault_ways`.

use super::page::Page;
use crate::dressing::view::MendingView;
use crate::fault::WayKind;

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

/// One move as a sentence.
fn sentence(view: &MendingView) -> String {
    let text = super::fault_ways::step(&view.now, view.first);
    format!("{}.", super::lines::capital(&text))
}

/// One move of a mending as a page.
#[must_use]
pub fn mending(view: &MendingView) -> Page {
    let now = sentence(view);
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
