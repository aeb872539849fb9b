//! Broken ends in words: the list, where each is, and what is done with the new length. Owns the wording;
//! how far an end had come is the dressing's.

use super::counts::{count, length, side};
use super::lines::capital;
use super::page::Page;
use crate::dressing::state::{Left, LeftOpen};
use crate::dressing::view::{BrokenView, EndsView, MendingView};
use crate::dressing::{Dressing, Mismatch};
use crate::fault::NewEnd;
use crate::method::{Method, StepId};
use crate::plan::{Plan, Units};

/// What is done with the new length, as an order without a stop.
#[must_use]
pub fn step(step: NewEnd) -> String {
    match step {
        NewEnd::JoinAtPeg => {
            "unwind to the last peg at the warp's end and knot the yarn on there".to_owned()
        }
        NewEnd::JoinOn => {
            "knot a new length to the end that comes from the beam, long enough to reach the front"
                .to_owned()
        }
        NewEnd::HangOn => {
            "hang a new length over the back beam, in line with the gap, with a weight on it"
                .to_owned()
        }
        NewEnd::IntoCross => "lay it in the cross as the broken end lay".to_owned(),
        NewEnd::ThroughHeddle(shaft) => format!("draw it through its heddle on shaft {}", shaft.0),
        NewEnd::ThroughSharedHeddle(shaft) => format!(
            "draw it through the heddle on shaft {} that it shares with its neighbour",
            shaft.0
        ),
        NewEnd::ThroughDent(dent) => format!("draw it through dent {dent}"),
        NewEnd::ThroughWhatIsEmpty => {
            "draw it through the heddle and the dent that stand empty for it".to_owned()
        }
        NewEnd::IntoKnot => "tie it into the slip knot of its neighbours".to_owned(),
        NewEnd::ToTheFront => {
            "pin it to the front, or tie it in with its bundle, as tight as its neighbours"
                .to_owned()
        }
    }
}

/// The same for the distance.
#[must_use]
pub fn far(step: NewEnd) -> &'static str {
    match step {
        NewEnd::JoinAtPeg => "KNOT ON AT THE PEG",
        NewEnd::JoinOn => "KNOT A LENGTH ON",
        NewEnd::HangOn => "HANG A LENGTH ON",
        NewEnd::IntoCross => "LAY IN THE CROSS",
        NewEnd::ThroughHeddle(_) | NewEnd::ThroughSharedHeddle(_) => "THROUGH ITS HEDDLE",
        NewEnd::ThroughDent(_) => "THROUGH ITS DENT",
        NewEnd::ThroughWhatIsEmpty => "HEDDLE AND DENT",
        NewEnd::IntoKnot => "INTO THE SLIP KNOT",
        NewEnd::ToTheFront => "TIE IT AT THE FRONT",
    }
}

/// The same in few words, for a list.
#[must_use]
pub fn short(step: NewEnd) -> String {
    match step {
        NewEnd::JoinAtPeg => "knot on at the peg".to_owned(),
        NewEnd::JoinOn => "knot a new length on".to_owned(),
        NewEnd::HangOn => "hang a new length on".to_owned(),
        NewEnd::IntoCross => "into the cross".to_owned(),
        NewEnd::ThroughHeddle(shaft) => format!("heddle on shaft {}", shaft.0),
        NewEnd::ThroughSharedHeddle(shaft) => format!("shared heddle on shaft {}", shaft.0),
        NewEnd::ThroughDent(dent) => format!("dent {dent}"),
        NewEnd::ThroughWhatIsEmpty => "the empty heddle and dent".to_owned(),
        NewEnd::IntoKnot => "slip knot".to_owned(),
        NewEnd::ToTheFront => "tie it at the front".to_owned(),
    }
}

/// Whether it is mended, being mended, or what is left to do: "to do: knot a new length on, into the cross".
#[must_use]
pub fn state(end: &BrokenView) -> String {
    if end.mended {
        return "mended, to be looked at before weaving".to_owned();
    }
    let steps: Vec<String> = end.to_do.iter().map(|step| short(*step)).collect();
    match (end.under_way, steps.is_empty()) {
        (Some((at, of)), _) => {
            format!(
                "being mended, move {at} of {of}; left to do: {}",
                steps.join(", ")
            )
        }
        (None, true) => "not mended yet".to_owned(),
        (None, false) => format!("not mended yet; to do: {}", steps.join(", ")),
    }
}

/// Which end it is: "end 54", "the floating selvedge at the left", "an end".
#[must_use]
pub fn which(end: &BrokenView) -> String {
    match (end.call, end.float) {
        (Some(call), _) => format!("end {}", call.0),
        (None, Some(at)) => format!("the floating selvedge at the {}", side(at)),
        (None, None) => "an end, which is not said".to_owned(),
    }
}

/// Where it is, as far as it has come: "group 3, shaft 2, dent 61 at 5 3/8 in on the tape".
#[must_use]
pub fn place(end: &BrokenView, units: Units) -> String {
    let across =
        |position: crate::quantity::Position| format!("number {} from the right", position.0);
    let parts = [
        end.group.map(|group| format!("group {group}")),
        end.position.map(across),
        end.shaft.map(|shaft| format!("shaft {}", shaft.0)),
        end.dent.map(|dent| match end.tape {
            Some(tape) => format!("dent {dent} at {} on the tape", length(tape, units)),
            None => format!("dent {dent}"),
        }),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.join(", ")
}

/// One line of the list: "Broken end 1: end 54, group 3, shaft 2; not mended yet: mend 1."
#[must_use]
pub fn line(end: &BrokenView, units: Units) -> String {
    let place = place(end, units);
    let place = if place.is_empty() {
        String::new()
    } else {
        format!(", {place}")
    };
    let state = state(end);
    format!("Broken end {}: {}{place}; {state}.", end.number, which(end))
}

/// Said where no end broke.
pub const NONE_BROKE: &str = "No end is broken. When one breaks, say so: broken and its number.";

/// The list for who asks for it, with how each is mended.
#[must_use]
pub fn register(dressing: &Dressing) -> Vec<String> {
    let mut lines = list(dressing);
    if lines.is_empty() {
        lines.push(NONE_BROKE.to_owned());
    } else if dressing.about().broken > 0 {
        lines.push(
            "Mend one, move by move: mend and its number. Mended already: mended and its number."
                .to_owned(),
        );
    }
    lines
}

/// The list of broken ends; empty where none broke.
#[must_use]
pub fn list(dressing: &Dressing) -> Vec<String> {
    let units = dressing.plan().units;
    let ends = dressing.broken_ends();
    ends.iter().map(|end| line(end, units)).collect()
}

/// One move of mending a broken end as a page.
pub(super) fn mending(view: &MendingView, end: &BrokenView, now: String, plan: &Plan) -> Page {
    let place = place(end, plan.units);
    let mut lines = vec![now.clone()];
    if !place.is_empty() {
        lines.push(format!("{}: {place}.", capital(&which(end))));
    }
    Page {
        heading: format!(
            "Broken end {}: move {} of {}",
            end.number, view.number, view.of
        ),
        far: super::mend_words::far(&view.now),
        lines,
        say: now,
        caution: None,
        press: "done".to_owned(),
        ..Page::default()
    }
}

/// Lines of the list that the page before weaving shows.
const SHOWN: usize = 6;

/// The page before weaving: every broken end and everything that was left.
pub(super) fn ends_page(view: &EndsView, plan: &Plan, method: &Method) -> Page {
    let mut page = super::page::method_page(StepId::MendEnds, plan, method);
    // open ones first
    let (mended, to_mend): (Vec<_>, Vec<_>) = view.broken.iter().partition(|end| end.mended);
    let ends = to_mend.into_iter().chain(mended);
    let mut lines: Vec<String> = ends.map(|end| line(end, plan.units)).collect();
    lines.extend(view.left.iter().filter_map(left));
    let more = lines.len().saturating_sub(SHOWN) as u32;
    if more > 0 {
        lines.truncate(SHOWN);
        lines.push(format!("And {more} more: the status lists them."));
    }
    let open = view.broken.iter().filter(|end| !end.mended).count() as u32;
    page.press = if open > 0 {
        format!("mend the first of {}", count(open, "broken end"))
    } else {
        "looked at, all of them".to_owned()
    };
    lines.push(if open > 0 {
        "A press leads the mending of the first that is open.".to_owned()
    } else {
        "Look at each of them at the loom, then press.".to_owned()
    });
    page.lines = lines;
    if open == 0 {
        page.say = "Look once more at what was mended and what was left.".to_owned();
    }
    page
}

/// What was left open and will show: said once more before weaving.
fn left(left: &LeftOpen) -> Option<String> {
    let Left::Mismatch(mismatch) = &left.what else {
        return None;
    };
    Some(match mismatch {
        Mismatch::Found(found) => {
            format!("Left as it was: {}.", super::mend_words::found(found))
        }
        other => format!("Left open: {}.", super::trail::disagreed(other)),
    })
}
