//! The shafts read back: the look that is opened, what is laid beside the plan, and where a difference leads.
//! Owns the parts that are read; explains nothing itself.

use super::ways::{drawn_out, is_sleyed};
use super::{Events, answer, working};
use crate::dressing::ask::{Answer, Choice, Part};
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::Dressing;
use crate::fault::{Column, Impossible, Seen, read_back};
use crate::method::Stage;
use crate::quantity::{Call, Calls, Shaft};

/// Reads the shafts back: opens the look.
pub(super) fn read(d: &Dressing, stage: Option<Stage>, part: Part) -> Events {
    working(d)?;
    let calls = part_of(d, part)?;
    Ok(super::in_every_stage(
        stage,
        vec![super::next::put(Look::ReadBack { calls }, Reason::Wanted)],
    ))
}

fn part_of(d: &Dressing, part: Part) -> Result<Calls, Refusal> {
    let last = super::looks::last_threaded(d).ok_or(Refusal::NothingThreaded)?;
    let batches = &d.plan().batches;
    let calls = match part {
        Part::Here => d.batch_at(last).map(|batch| batch.calls),
        Part::Batch(said) => {
            let batch = batches.get((said as usize).wrapping_sub(1));
            let last = batches.len() as u32;
            Some(batch.ok_or(Refusal::NoSuchBatch { said, last })?.calls)
        }
        Part::Whole => d
            .batch_at(last)
            .and_then(|batch| Calls::new(1, batch.calls.last.0)),
    };
    let threaded = |calls: Calls| Calls::new(calls.first.0, calls.last.0.min(last.0));
    calls.and_then(threaded).ok_or(Refusal::NothingThreaded)
}

/// A handful that was read, or the end of the reading: an empty list.
pub(super) fn told_shafts(
    d: &Dressing,
    calls: Calls,
    reason: Reason,
    (before, said): (&[i64], &[i64]),
) -> Events {
    let answered = Event::Answered(Answer::Numbers(said.to_vec()));
    let shafts = i64::from(d.plan().shafts);
    for n in said {
        answer::within(*n, 1, shafts)?;
    }
    let most = 2 * calls.len() as usize;
    if before.len() + said.len() > most {
        let ends = (before.len() + said.len()) as i64;
        let most = most as i64;
        return Err(Refusal::Impossible(Impossible::TooManyEnds { ends, most }));
    }
    if !said.is_empty() {
        return Ok(vec![answered]);
    }
    if before.is_empty() {
        return Err(Refusal::NothingRead);
    }
    let read: Vec<Shaft> = before
        .iter()
        .filter_map(|&n| u8::try_from(n).ok().map(Shaft))
        .collect();
    let columns = columns(d, calls, &read);
    if crate::fault::differences(&columns) == 0 {
        let on = right_all_the_same(d, calls, reason, read);
        return Ok(vec![answered, on]);
    }
    Ok(vec![
        answered,
        Event::Disagreed(Mismatch::ReadBack {
            calls,
            reason,
            read,
        }),
    ])
}

/// The reading laid beside the plan. What was not read at its end is not missing.
pub(in crate::dressing) fn columns(d: &Dressing, calls: Calls, read: &[Shaft]) -> Vec<Column> {
    let planned = &d.plan().threading[calls.indices()];
    read_back(planned, read, read.len() < planned.len())
}

/// The heddles of a knot in which a trace knows that something is wrong were read, and all are right:
/// then one holds two ends, or an end hangs there.
fn right_all_the_same(d: &Dressing, calls: Calls, reason: Reason, read: Vec<Shaft>) -> Event {
    let knot = d.batch_at(calls.first).filter(|batch| batch.calls == calls);
    let whole = read.len() == calls.len() as usize;
    if reason == Reason::Tracing && whole && knot.is_some() {
        return Event::Disagreed(super::tracing::one_end_short(
            d,
            calls,
            vec![Seen::ReadBack(read)],
        ));
    }
    Event::Settled
}

/// From a difference into the tracing of its batch, with what was read as evidence. A batch that
/// was counted off has in its counts what the reading shows; of one in work they are asked.
fn trace_reading(d: &Dressing, calls: Calls, read: &[Shaft]) -> Option<Vec<Event>> {
    let (batch, stands, read) = first_different(d, calls, read)?;
    let seen = vec![Seen::ReadBack(read)];
    if d.ledger().of(Task::Checked).has_all(batch) {
        let shafts = d.plan().shafts;
        let planned = &d.plan().threading[batch.indices()];
        let heddles_left = (1..=shafts)
            .map(|shaft| {
                let on = |list: &[Shaft]| list.iter().filter(|s| s.0 == shaft).count() as i64;
                on(planned) - on(&stands)
            })
            .collect();
        return Some(vec![Event::Disagreed(Mismatch::Batch {
            batch,
            calls_made: batch.len(),
            ends_left: planned.len() as i64 - stands.len() as i64,
            heddles_left,
            seen,
        })]);
    }
    let question = if d.ledger().of(Task::Threaded).has_all(batch) {
        let calls_made = batch.len();
        Question::EndsLeft {
            batch,
            calls_made,
            seen,
        }
    } else {
        Question::CallsMade { batch, seen }
    };
    Some(vec![Event::Put(question)])
}

/// The batch of the first difference, what stands in it where the rest is as planned, and what of
/// it was read.
fn first_different(
    d: &Dressing,
    calls: Calls,
    read: &[Shaft],
) -> Option<(Calls, Vec<Shaft>, Vec<Shaft>)> {
    let mut call = calls.first.0;
    let mut lists: Vec<(Calls, Vec<Shaft>, Vec<Shaft>, bool)> = Vec::new();
    for column in columns(d, calls, read) {
        let batch = d.batch_at(Call(call.min(calls.last.0)))?.calls;
        if lists.last().is_none_or(|(last, ..)| *last != batch) {
            lists.push((batch, Vec::new(), Vec::new(), false));
        }
        let (_, stands, read, differs) = lists.last_mut()?;
        *differs |= column.differs();
        let (planned, found) = sides(column);
        stands.extend(&found);
        if !matches!(column, Column::NotRead(_)) {
            read.extend(&found);
        }
        call += planned;
    }
    let (batch, stands, read, _) = lists.into_iter().find(|(.., differs)| *differs)?;
    Some((batch, stands, read))
}

/// How many planned calls a column stands for, and the shafts that stand there.
fn sides(column: Column) -> (u32, Vec<Shaft>) {
    match column {
        Column::Same(shaft) | Column::NotRead(shaft) => (1, vec![shaft]),
        Column::Other(_, stands) => (1, vec![stands]),
        Column::Missing(_) => (1, Vec::new()),
        Column::Extra(stands) => (0, vec![stands]),
        Column::Exchanged(first, second) => (2, vec![second, first]),
    }
}

/// The batch of the first difference goes back to its start.
fn thread_reading_again(d: &Dressing, calls: Calls, read: &[Shaft]) -> Option<Vec<Event>> {
    let (batch, ..) = first_different(d, calls, read)?;
    (!is_sleyed(d, batch)).then(|| drawn_out(batch))
}

/// The ways out of a reading that differs from the plan.
pub(super) fn of_reading(
    d: &Dressing,
    calls: Calls,
    reason: Reason,
    read: &[Shaft],
    choice: Choice,
) -> Events {
    let events = match choice {
        Choice::Trace => trace_reading(d, calls, read),
        Choice::ThreadAgain | Choice::StepBack => thread_reading_again(d, calls, read),
        Choice::LookAgain => Some(vec![super::next::put(Look::ReadBack { calls }, reason)]),
        Choice::PutRight | Choice::LeaveOpen => Some(Vec::new()),
        Choice::LoomHolds
        | Choice::ReadBack
        | Choice::Sight
        | Choice::Suspect(_)
        | Choice::Way(_) => None,
    };
    events.ok_or(Refusal::NotThisWay)
}
