//! Asks beside the work: back, rests, returns, help, broken ends, notes, amendments.

use super::looks::fact_of_stage;
use super::next::put;
use super::{Events, in_every_stage};
use crate::dressing::amend;
use crate::dressing::ask::Amendment;
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::{Dressing, Mood, Rest};
use crate::method::{Stage, StepId};
use crate::quantity::{Call, Calls};
use unicode_width::UnicodeWidthStr;

/// Longest note, in columns.
const NOTE_COLUMNS: usize = 200;

/// Takes back the last press, unless that would pass a look, or hands cannot do it.
pub(super) fn back_one(d: &Dressing, stage: Option<Stage>) -> Events {
    match d.mood() {
        Mood::Asking(Question::Look {
            look,
            reason: Reason::CameBack | Reason::Interruption | Reason::NoReturn,
            ..
        }) => return Err(Refusal::LookFirst(*look)),
        Mood::Disagreeing(Mismatch::Look { .. }) => return Err(Refusal::WayOutFirst),

        Mood::Asking(_) | Mood::Disagreeing(_) | Mood::Mending(_) | Mood::Working => {}
    }
    let Some(past) = d.past.last() else {
        return Err(Refusal::NothingToUndo);
    };
    // an amendment marks found ends as cut on paper only; it is taken back as one
    let on_paper = past
        .events()
        .iter()
        .any(|event| matches!(event, Event::Amended { .. }));
    let look = past
        .events()
        .iter()
        .find_map(hands_cannot)
        .filter(|_| !on_paper);
    if let Some(look) = look {
        return Ok(vec![put(look, Reason::TakeBack)]);
    }
    let entry = past.entry;
    Ok(in_every_stage(stage, vec![Event::Undone { entry }]))
}

/// The look that stands in for taking back what hands cannot.
fn hands_cannot(event: &Event) -> Option<Look> {
    match event {
        Event::Marked {
            task: Task::Cut, ..
        } => Some(Look::GroupsCut),
        Event::StepDone(key) if key.id == StepId::SticksOut => Some(Look::ShedsClean),
        _ => None,
    }
}

/// Does again what was taken back last.
pub(super) fn redo(d: &Dressing, stage: Option<Stage>) -> Events {
    super::working(d).or_else(|refusal| match d.mood() {
        // a look that is open must not be passed by doing something else again
        Mood::Asking(Question::Look { .. }) | Mood::Disagreeing(_) => Err(refusal),
        Mood::Asking(_) | Mood::Mending(_) | Mood::Working => Ok(()),
    })?;
    let Some(past) = d.future.last() else {
        return Err(Refusal::NothingToRedo);
    };
    let entry = past.entry;
    Ok(in_every_stage(stage, vec![Event::Redone { entry }]))
}

/// Takes up what was left open and makes two stages of a group disagree.
pub(super) fn take_up(d: &Dressing, stage: Option<Stage>) -> Events {
    super::working(d)?;
    let found = d.disagreement().ok_or(Refusal::StagesAgree)?;
    let entry = found.entry;
    Ok(in_every_stage(stage, vec![Event::TakenUp { entry }]))
}

/// Pauses; pressed again while paused, goes on.
pub(super) fn pause(d: &Dressing, stage: Option<Stage>) -> Events {
    let events = match d.rest() {
        None => vec![Event::Paused],
        Some(Rest::Paused | Rest::Stopped) => super::looks::after_rest(d, stage),
    };
    Ok(in_every_stage(stage, events))
}

/// Stops for today.
pub(super) fn stop(d: &Dressing, stage: Option<Stage>) -> Events {
    match d.rest() {
        Some(Rest::Stopped) => Err(Refusal::AlreadyResting),
        None | Some(Rest::Paused) => Ok(in_every_stage(stage, vec![Event::Stopped])),
    }
}

/// Opened again: the look comes first where something can be looked at and nothing else is open.
pub(super) fn opened(d: &Dressing, stage: Option<Stage>) -> Events {
    let mut events = vec![Event::Opened];
    if *d.mood() == Mood::Working {
        events.extend(fact_of_stage(d, stage).map(|look| put(look, Reason::CameBack)));
    }
    Ok(in_every_stage(stage, events))
}

/// Help is asked for.
pub(super) fn help_wanted(d: &Dressing, stage: Option<Stage>) -> Events {
    if d.record().help_wanted {
        return Err(Refusal::HelpIsWanted);
    }
    Ok(in_every_stage(stage, vec![Event::HelpWanted]))
}

/// A second pair of hands is wanted.
pub(super) fn hands_wanted(d: &Dressing, stage: Option<Stage>) -> Events {
    if d.record().hands_wanted {
        return Err(Refusal::HandsAreWanted);
    }
    Ok(in_every_stage(stage, vec![Event::HandsWanted]))
}

/// Help or the hands came; whoever came is there for both.
pub(super) fn help_came(d: &Dressing, stage: Option<Stage>) -> Events {
    if !d.record().help_wanted && !d.record().hands_wanted {
        return Err(Refusal::NoHelpWanted);
    }
    Ok(in_every_stage(stage, vec![Event::HelpCame]))
}

/// An end broke.
pub(super) fn broken_end(d: &Dressing, stage: Option<Stage>, call: Option<Call>) -> Events {
    if let Some(Call(said)) = call.filter(|call| !(1..=d.calls()).contains(&call.0)) {
        return Err(Refusal::NoSuchEnd {
            said,
            last: d.calls(),
        });
    }
    Ok(in_every_stage(stage, vec![Event::BrokenEnd { call }]))
}

/// A broken end is mended.
pub(super) fn end_mended(d: &Dressing, stage: Option<Stage>, number: u32) -> Events {
    let open = |end: &&crate::dressing::state::BrokenEnd| end.number == number && !end.mended;
    if !d.record().broken.iter().any(|end| open(&end)) {
        return Err(Refusal::NoSuchBrokenEnd { said: number });
    }
    Ok(in_every_stage(stage, vec![Event::EndMended { number }]))
}

/// A note.
pub(super) fn note(_: &Dressing, stage: Option<Stage>, text: &str) -> Events {
    let text = text.trim();
    if text.is_empty() || text.width() > NOTE_COLUMNS || text.chars().any(char::is_control) {
        return Err(Refusal::NoteEmptyOrLong);
    }
    Ok(in_every_stage(stage, vec![Event::Note(text.to_owned())]))
}

/// A measured width: more than nothing, at most ten metres or yards in any unit.
pub(super) fn measured_width(_: &Dressing, stage: Option<Stage>, thousandths: u32) -> Events {
    if !(1..=1_000_000).contains(&thousandths) {
        return Err(Refusal::NoSuchWidth);
    }
    Ok(in_every_stage(
        stage,
        vec![Event::MeasuredWidth { thousandths }],
    ))
}

/// The plan changes from the first call that is not counted out.
pub(super) fn amend(d: &Dressing, stage: Option<Stage>, change: &Amendment) -> Events {
    super::working(d)?;
    if matches!(change, Amendment::Stands { .. }) {
        return Err(Refusal::NoMismatch);
    }
    let Some(from) = holds_from(d, change) else {
        return Err(Refusal::NothingLeftToAmend);
    };
    let plan = amend::amended(d.plan(), from, change)?;
    if plan == *d.plan() {
        return Err(Refusal::ChangesNothing);
    }
    let ends = plan.threading.len() as u32;
    let mut events = ends_gone(d, ends);
    events.push(Event::Amended {
        revision: d.revision() + 1,
        from,
        change: change.clone(),
    });
    events.extend(ends_found(d, ends));
    Ok(in_every_stage(stage, events))
}

/// The first call that a change can hold for; `None` where all of that work is done.
fn holds_from(d: &Dressing, change: &Amendment) -> Option<Call> {
    match change {
        Amendment::BatchRule(_)
        | Amendment::HeddlesOnHand(_)
        | Amendment::Draft(_)
        | Amendment::Ends(_) => d.ledger().of(Task::CountedOut).first_gap(d.calls()),
        // the threading keeps its batches; what is open is the sleying
        Amendment::Stands { .. } => None,
        Amendment::SleyFrom(_) => d
            .ledger()
            .of(Task::Sleyed)
            .first_gap(d.calls())
            .map(|_| Call(d.calls())),
    }
}

/// The tasks that are done to wound ends before they are counted out, in the order of the work.
const BEFORE_THREADING: [Task; 4] = [Task::Wound, Task::Spread, Task::Knotted, Task::Cut];

/// Ends that are no longer in the warp lose their marks, the latest first.
fn ends_gone(d: &Dressing, ends: u32) -> Vec<Event> {
    let Some(gone) = Calls::new(ends + 1, d.calls()) else {
        return Vec::new();
    };
    let marked = BEFORE_THREADING.into_iter().rev().flat_map(|task| {
        let pieces = d.ledger().of(task).pieces(gone);
        let had = pieces.into_iter().filter(|(_, mark)| mark.is_some());
        had.map(move |(calls, _)| Event::Unmarked { task, calls })
    });
    marked.collect()
}

/// Ends that were found lie on the beam like the others: what was done to all is done to them.
fn ends_found(d: &Dressing, ends: u32) -> Vec<Event> {
    let Some(calls) = Calls::new(d.calls() + 1, ends) else {
        return Vec::new();
    };
    let done_to_all = |task: &Task| d.ledger().of(*task).count() == d.calls();
    let marked = BEFORE_THREADING.into_iter().filter(done_to_all);
    marked
        .map(|task| Event::Marked {
            task,
            calls,
            revision: d.revision() + 1,
        })
        .collect()
}
