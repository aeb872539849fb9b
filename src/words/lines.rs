//! Sentences that only line mode says, and what every shell says after a press.

use super::fill::fill;
use super::trail;
use crate::dressing::state::open_look;
use crate::dressing::view::TakesBack;
use crate::dressing::{Dressing, Entry, Event, View};
use crate::method::{Method, StepId};

/// The input came to its end.
pub const END_OF_INPUT: &str =
    "The input ended. Everything pressed so far is saved; go on with: endsmeet resume";
/// While a save takes long.
pub const SAVING: &str =
    "SAVING. This save takes longer than usual; wait for the next line before you press again.";
/// She left.
pub const LEFT: &str = "Everything pressed so far is saved. Go on with: endsmeet resume";

/// What is told of the slip: where it is kept, or why it is not.
#[must_use]
pub fn slip_told(kept: &Result<String, String>) -> String {
    match kept {
        Ok(file) => format!("The slip is saved: {file}. Print it, or read it when you come back."),
        Err(why) => format!("The slip could not be saved: {why} Write down what you see here."),
    }
}

/// Where nothing is kept in files there is no slip.
pub const NO_SLIP: &str = "nothing of this warp is kept in files.";

/// The first line of the home screen in lines.
pub const HOME: &str = "endsmeet, line mode: type a number; an empty line is 1, quit leaves.";

/// A line that is no number of the home screen's list.
#[must_use]
pub fn home_unknown(said: &str, of: usize) -> String {
    let said = crate::quantity::harmless(said);
    format!("\"{said}\" is no number of the list. Type 1 to {of}, or quit.")
}

/// Help while a look is open.
const LOOK_HELP: &str = "A look is open: go to the loom, look, and give what you find there. The record keeps its figure to itself, since who knows it finds it. You may say that you cannot tell, or pass it over; that stays on record.";

/// What is shown after an open look, and not before it is answered.
pub const AFTER_THE_LOOK: &str = "A look is open, and that would tell its figure. Answer the look or pass it over, then ask again.";

/// Why the sheds are not listed now, with the next move: a look is open or comes next that asks for one of
/// their figures. `None` where they may be listed.
#[must_use]
pub fn why_no_sheds(dressing: &Dressing) -> Option<&'static str> {
    match dressing.view() {
        _ if open_look(dressing.mood()).is_some() => Some(AFTER_THE_LOOK),
        View::Shed(_) => Some(
            "This shed is counted on the loom next, and the list would tell its figure. Look through it, count, then ask again.",
        ),
        _ => None,
    }
}

/// A line that was not understood.
#[must_use]
pub fn unknown(said: &str, near: Option<&str>) -> String {
    let said = if said.is_empty() { "That" } else { said };
    near.map_or_else(
        || format!("\"{said}\" is not a word here. An empty line goes on; help lists the words."),
        |near| format!("\"{said}\" is not a word here. Did you mean {near}? Help lists the words."),
    )
}

/// A number that is in front of no way.
#[must_use]
pub fn no_such_way(said: i64, of: usize) -> String {
    match of {
        0 => format!(
            "There is no way {said}: nothing is to be chosen here. An empty line goes on; help lists the words."
        ),
        of => format!(
            "There is no way {said}: the ways are 1 to {of}. Type one of those; say lists them."
        ),
    }
}

/// What a press did, where the next page alone would not tell: taken back, done again, agreed.
/// `dressing` is as it stands after it.
#[must_use]
pub fn what_happened(entry: &Entry, dressing: &Dressing, method: &Method) -> Option<String> {
    let worth_saying = entry.events.iter().any(|event| {
        !matches!(
            event,
            Event::StepDone(_) | Event::Marked { .. } | Event::Put(_) | Event::Opened
        )
    });
    if !worth_saying {
        return None;
    }
    let what = |what: Option<TakesBack>| {
        what.map_or_else(
            || "the last press".to_owned(),
            |w| trail::takes_back(w, method),
        )
    };
    Some(match entry.events.first() {
        Some(Event::Undone { .. }) => format!("Taken back: {}.", what(dressing.taken_back())),
        Some(Event::Redone { .. }) => format!("Done again: {}.", what(dressing.about().takes_back)),
        _ => format!(
            "{}.",
            capital(&trail::entry(&told(entry), dressing.plan().units, method))
        ),
    })
}

/// The entry without what a chosen way does to single ends: the way says it.
fn told(entry: &Entry) -> Entry {
    let chose = entry
        .events
        .iter()
        .any(|event| matches!(event, Event::Chose(_)));
    let done_to_ends =
        |event: &Event| matches!(event, Event::Marked { .. } | Event::Unmarked { .. });
    let mut told = entry.clone();
    told.events.retain(|event| !(chose && done_to_ends(event)));
    told
}

/// The text with its first letter large.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

/// Why the step matters and what can go wrong, for help. While a look is open the step's texts would
/// tell figures of the plan, so they wait.
#[must_use]
pub fn more(dressing: &Dressing, method: &Method) -> Vec<String> {
    if open_look(dressing.mood()).is_some() {
        return vec![LOOK_HELP.to_owned()];
    }
    let Some(key) = dressing.current() else {
        return Vec::new();
    };
    let plan = dressing.plan();
    let texts = method.step(key.id).on(super::fill::loom_kind(plan));
    let mut lines = vec![format!("Why: {}", fill(&texts.why, plan))];
    for wrong in &texts.wrong {
        lines.push(format!(
            "{} {}",
            fill(&wrong.sign, plan),
            fill(&wrong.then, plan)
        ));
    }
    if key.id == StepId::OpenShed {
        let signs = super::cloth_words::STRAY_ENDS;
        lines.extend(signs.map(|(sign, then)| format!("{sign}: {then}.")));
    }
    lines
}
