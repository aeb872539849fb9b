//! What an ask leads to. Owns the rules: each function takes the state, an ask and the time, and
//! returns what would happen, or a refusal. It never changes the state.

mod answer;
mod aside;
mod broken;
mod check;
mod found;
mod looks;
mod marks;
mod mending;
mod next;
mod reading;
mod reed;
mod tracing;
mod trying;
mod ways;

use super::ask::Ask;
use super::event::{Entry, Event, When};
use super::refusal::Refusal;
use super::state::{Dressing, Mood};
use crate::method::Stage;

pub(super) use answer::evidence;
pub(super) use broken::{dent_of_float, moves_for};
pub(super) use found::{batch_of, is_in_work, seconds_per_end, stands_wrong, ways_found};
pub(super) use looks::{evened_group, expected, last_threaded};
pub(super) use mending::is_led_later;
pub(super) use next::may_be_left_out;
pub(super) use reading::columns;
pub(super) use reed::tracing as reed_tracing;
pub(super) use tracing::warp_tracing;
pub(super) use trying::MOST_MEASURED;
pub(super) use ways::{way_is_open, ways_of};

type Events = Result<Vec<Event>, Refusal>;

/// What the ask leads to now.
///
/// # Errors
/// The refusal, typed; nothing moved.
pub fn decide(dressing: &Dressing, ask: &Ask, when: When) -> Result<Entry, Refusal> {
    let mut events = events(dressing, ask, when)?;
    if dressing.rest().is_some() && !matches!(ask, Ask::Opened) {
        events.insert(0, Event::WentOn);
    }
    Ok(Entry {
        number: dressing.entries() + 1,
        when,
        events,
    })
}

fn events(d: &Dressing, ask: &Ask, when: When) -> Events {
    let stage = d.stage();
    match ask {
        Ask::Next => next::next(d, stage, when),
        Ask::BackOne => aside::back_one(d, stage),
        Ask::Redo => aside::redo(d, stage),
        Ask::Uneven => check::uneven(d, stage),
        Ask::Stuck => check::stuck(d, stage),
        Ask::Found(found) => found::found(d, stage, *found),
        Ask::Answer(answer) => answer::answer(d, stage, answer),
        Ask::Choose(choice) => ways::choose(d, stage, *choice),
        Ask::Skip => next::skip(d, stage),
        Ask::Count => looks::count(d, stage),
        Ask::ReadBack(part) => reading::read(d, stage, *part),
        Ask::Trace { since } => tracing::trace(d, stage, *since),
        Ask::TraceReed { group } => reed::trace_group(d, stage, *group),
        Ask::TakeUp => aside::take_up(d, stage),
        Ask::Pause => aside::pause(d, stage),
        Ask::StopForToday => aside::stop(d, stage),
        Ask::Opened => aside::opened(d, stage),
        Ask::BackAtTheLoom => looks::back_at_the_loom(d, stage, when),
        Ask::HelpWanted => aside::help_wanted(d, stage),
        Ask::HandsWanted => aside::hands_wanted(d, stage),
        Ask::HelpCame => aside::help_came(d, stage),
        Ask::BrokenEnd { call } => aside::broken_end(d, stage, *call),
        Ask::BrokenFloat { side } => broken::broken_float(d, stage, *side),
        Ask::MendEnd { number } => broken::mend_end(d, stage, *number),
        Ask::EndMended { number } => aside::end_mended(d, stage, *number),
        Ask::Note(text) => aside::note(d, stage, text),
        Ask::MeasuredWidth { thousandths } => aside::measured_width(d, stage, *thousandths),
        Ask::Measured { what, thousandths } => trying::measured(stage, *what, *thousandths),
        Ask::Sight(said) => trying::sight(d, stage, said.as_ref()),
        Ask::Amend(change) => aside::amend(d, stage, change),
    }
}

/// Nothing but an answer or a way out moves while a question or a mismatch is open.
fn working(d: &Dressing) -> Result<(), Refusal> {
    match d.mood() {
        Mood::Working => Ok(()),
        Mood::Asking(question) => Err(Refusal::AnswerFirst(question.clone())),
        Mood::Disagreeing(_) => Err(Refusal::WayOutFirst),
        Mood::Mending(_) => Err(Refusal::MendingFirst),
    }
}

/// What an ask that does not depend on the stage may do: anything, in every stage and when ready.
/// The match is written out so that a new stage must be thought about.
fn in_every_stage(stage: Option<Stage>, events: Vec<Event>) -> Vec<Event> {
    match stage {
        Some(
            Stage::Prepare
            | Stage::Wind
            | Stage::Spread
            | Stage::Beam
            | Stage::Thread
            | Stage::Sley
            | Stage::TieOn
            | Stage::Try,
        )
        | None => events,
    }
}
