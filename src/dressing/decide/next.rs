//! The press that says "done, go on", and leaving out what may be left out.

use super::looks::{look_at_group_end, look_before};
use super::marks::marked;
use super::{Events, working};
use crate::dressing::event::{Entry, Event, Question, Reason, StepKey, When};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::schedule::BatchPart;
use crate::dressing::state::{Dressing, Mood};
use crate::method::{Stage, StepId};

/// The press. While a look is open it is a reflex and gives "not looked".
pub(super) fn next(d: &Dressing, stage: Option<Stage>, when: When) -> Events {
    if d.rest().is_some() {
        return Ok(super::looks::after_rest(d, stage));
    }
    match d.mood() {
        Mood::Asking(Question::Look { look, .. }) => return Err(Refusal::NotLooked(*look)),
        Mood::Asking(question) => return Err(Refusal::AnswerFirst(question.clone())),
        Mood::Disagreeing(_) => return Err(Refusal::WayOutFirst),
        Mood::Mending(mending) => return Ok(super::mending::move_made(d, mending)),
        Mood::Working => {}
    }
    if let Some(events) = super::looks::after_interruption(d, stage, when) {
        return Ok(events);
    }
    let Some(key) = d.current() else {
        return Err(Refusal::AlreadyReady);
    };
    if Dressing::is_no_return(key.id)
        && let Some(look) = look_before(d, key)
    {
        return Ok(vec![look]);
    }
    let mut events = match key.id.stage() {
        Stage::Prepare => vec![Event::StepDone(key)],
        Stage::Wind => marked_or_done(key, StepId::WindGroup, Task::Wound),
        Stage::Spread => marked_or_done(key, StepId::SpreadGroup, Task::Spread),
        Stage::Beam => beam(key),
        Stage::Thread => thread(d, key),
        Stage::Sley => marked_or_done(key, StepId::SleyGroup, Task::Sleyed),
        Stage::TieOn => tie(key),
        Stage::Try => try_sheds(d, key)?,
    };
    events.extend(look_before_what_follows(d, key, &events, when));
    Ok(events)
}

/// The look before a step that hands cannot take back comes with the press before it: who is told to
/// cut has cut by the time she presses again.
fn look_before_what_follows(
    d: &Dressing,
    key: StepKey,
    events: &[Event],
    when: When,
) -> Option<Event> {
    let knotted = d.ledger().of(Task::Knotted).count() + key.calls.map_or(0, |calls| calls.len());
    let may_follow = match key.id.stage() {
        Stage::Beam => key.id == StepId::KnotGroup && knotted >= d.calls(),
        Stage::Try => !Dressing::is_no_return(key.id),
        Stage::Prepare
        | Stage::Wind
        | Stage::Spread
        | Stage::Thread
        | Stage::Sley
        | Stage::TieOn => false,
    };
    if !may_follow {
        return None;
    }
    let mut then = d.clone();
    then.apply(&Entry {
        number: d.entries() + 1,
        when,
        events: events.to_vec(),
    });
    let next = then
        .current()
        .filter(|next| Dressing::is_no_return(next.id))?;
    look_before(&then, next)
}

fn marked_or_done(key: StepKey, counted: StepId, task: Task) -> Vec<Event> {
    match key.calls {
        Some(calls) if key.id == counted => vec![marked(task, calls, key.revision)],
        _ => vec![Event::StepDone(key)],
    }
}

fn beam(key: StepKey) -> Vec<Event> {
    match (key.id, key.calls) {
        (StepId::KnotGroup, Some(calls)) => vec![marked(Task::Knotted, calls, key.revision)],
        (StepId::CutLoops, Some(calls)) => vec![marked(Task::Cut, calls, key.revision)],
        _ => vec![Event::StepDone(key)],
    }
}

fn tie(key: StepKey) -> Vec<Event> {
    match (key.id, key.calls) {
        (StepId::TieFirst, Some(calls)) => vec![marked(Task::TiedFirst, calls, key.revision)],
        (StepId::TieSecond, Some(calls)) => vec![marked(Task::TiedSecond, calls, key.revision)],
        _ => vec![Event::StepDone(key)],
    }
}

fn thread(d: &Dressing, key: StepKey) -> Vec<Event> {
    let Some(batch) = d.next_batch().filter(|_| key.id == StepId::ThreadBatch) else {
        return vec![Event::StepDone(key)];
    };
    match d.batch_part(batch) {
        BatchPart::CountOut => vec![marked(Task::CountedOut, batch.calls, key.revision)],
        BatchPart::Handful(calls) => vec![marked(Task::Threaded, calls, key.revision)],
        BatchPart::UsedUp => {
            let mut events = vec![marked(Task::Checked, batch.calls, key.revision)];
            events.extend(look_at_group_end(d, batch));
            events
        }
    }
}

fn try_sheds(d: &Dressing, key: StepKey) -> Events {
    // weaving waits for the broken ends: the press leads the mending of the first of them
    let open = d.record().broken.iter().find(|end| !end.mended);
    if let Some(end) = open.filter(|_| key.id == StepId::MendEnds) {
        return super::broken::mend_end(d, Some(Stage::Try), end.number);
    }
    Ok(match key.number {
        Some(shed) if key.id == StepId::OpenShed => vec![super::looks::look_at_shed(d, shed)],
        _ => vec![super::trying::measure(key).unwrap_or(Event::StepDone(key))],
    })
}

/// Leaving out: winding as a whole, an optional step, more turns, an open look. Everything but the
/// turns stays on record.
pub(super) fn skip(d: &Dressing, stage: Option<Stage>) -> Events {
    match d.mood() {
        Mood::Asking(Question::Look { reason, .. }) => {
            return Ok(super::looks::passed_over(d, *reason));
        }
        Mood::Asking(Question::Measure { what, .. }) => {
            return Ok(super::trying::then(d, *what, Vec::new()));
        }
        Mood::Asking(Question::Sighting(_)) => return Ok(vec![Event::Settled]),
        Mood::Asking(_) | Mood::Disagreeing(_) | Mood::Mending(_) => working(d)?,
        Mood::Working => {}
    }
    let Some(key) = d.current() else {
        return Err(Refusal::AlreadyReady);
    };
    match stage {
        Some(Stage::Wind) => Ok(vec![Event::WindLeftOut]),
        Some(Stage::Beam | Stage::Try) if ends_when_enough(key.id) => {
            Ok(vec![Event::StepDone(StepKey {
                number: None,
                ..key
            })])
        }
        Some(
            Stage::Prepare
            | Stage::Spread
            | Stage::Beam
            | Stage::Thread
            | Stage::Sley
            | Stage::TieOn
            | Stage::Try,
        ) if may_be_left_out(key.id) => Ok(vec![Event::StepLeftOut(key)]),
        Some(
            Stage::Prepare
            | Stage::Spread
            | Stage::Beam
            | Stage::Thread
            | Stage::Sley
            | Stage::TieOn
            | Stage::Try,
        ) => Err(Refusal::MustBeDone(key.id)),
        None => Err(Refusal::AlreadyReady),
    }
}

/// Counted steps that the weaver ends when the loom has enough of them.
fn ends_when_enough(id: StepId) -> bool {
    matches!(id, StepId::BeamTurn | StepId::Header | StepId::FirstPicks)
}

/// Steps that the work can do without; the same that the method calls optional (a test holds them
/// together). The guide string is left out with the whole of winding.
pub(in crate::dressing) fn may_be_left_out(id: StepId) -> bool {
    matches!(
        id,
        StepId::GuideString
            | StepId::RodSlings
            | StepId::RaddleBands
            | StepId::SlingsOff
            | StepId::BeaterOut
            | StepId::RaddleOut
            | StepId::TieThird
            | StepId::SticksOut
            | StepId::Measure
    )
}

/// A look's question, put now.
pub(super) fn put(look: crate::dressing::event::Look, reason: Reason) -> Event {
    Event::Put(Question::Look {
        look,
        reason,
        answers: Vec::new(),
    })
}
