//! The ways out of an open mismatch.

use super::Events;
use super::found::{batch_of, is_in_work, ways_for, ways_found};
use super::looks::{first_groups, last_threaded};
use super::marks::{marked, so_marked};
use super::mending::begin;
use crate::dressing::ask::Choice;
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::sighting::Sighting;
use crate::dressing::state::{Dressing, Mood};
use crate::fault::{Found, Way, trace};
use crate::method::Stage;
use crate::quantity::{Call, Calls, Shaft};

/// The chosen way out, in whatever stage the mismatch arose.
pub(super) fn choose(d: &Dressing, stage: Option<Stage>, choice: Choice) -> Events {
    let Mood::Disagreeing(mismatch) = d.mood() else {
        return Err(Refusal::NoMismatch);
    };
    let mut events = vec![Event::Chose(choice)];
    events.extend(match mismatch {
        Mismatch::Batch { batch, .. } => of_batch(d, mismatch, *batch, choice)?,
        Mismatch::Look { look, reason, loom } => of_look(d, *look, *reason, *loom, choice)?,
        Mismatch::Found(found) => of_found(d, *found, choice)?,
        Mismatch::Warp { stretch, .. } => super::tracing::of_warp(d, mismatch, *stretch, choice)?,
        Mismatch::Reed { calls, .. } => super::reed::of_reed(d, *calls, choice)?,
        Mismatch::ReadBack {
            calls,
            reason,
            read,
        } => super::reading::of_reading(d, *calls, *reason, read, choice)?,
        Mismatch::Sighting(sighting) => super::trying::of_sighting(d, sighting, choice)?,
    });
    Ok(super::in_every_stage(stage, events))
}

fn of_batch(d: &Dressing, mismatch: &Mismatch, batch: Calls, choice: Choice) -> Events {
    match choice {
        Choice::Way(kind) => {
            let way = ways_of(d, mismatch)
                .into_iter()
                .find(|way| way.kind == kind);
            let made = calls_made(mismatch);
            begin(d, batch, made, &way.ok_or(Refusal::NotThisWay)?)
        }
        Choice::ThreadAgain | Choice::StepBack if is_sleyed(d, batch) => Err(Refusal::NotThisWay),
        Choice::ThreadAgain | Choice::StepBack => Ok(drawn_out(batch)),
        Choice::PutRight => Ok(threaded(d, batch)),
        Choice::LeaveOpen => {
            let mut events = threaded(d, batch);
            events.extend(so_marked(d, Task::Checked, Some(batch), None));
            Ok(events)
        }
        Choice::LoomHolds
        | Choice::LookAgain
        | Choice::Trace
        | Choice::ReadBack
        | Choice::Sight
        | Choice::Suspect(_) => Err(Refusal::NotThisWay),
    }
}

/// What was found: one of its ways, or it is right now, or it is left for the cloth to show.
fn of_found(d: &Dressing, found: Found, choice: Choice) -> Events {
    match choice {
        Choice::Way(kind) => {
            let way = ways_found(d, found)
                .into_iter()
                .find(|way| way.kind == kind);
            let (batch, made) = batch_of(d, found);
            begin(d, batch, made, &way.ok_or(Refusal::NotThisWay)?)
        }
        Choice::PutRight | Choice::LeaveOpen => Ok(Vec::new()),
        Choice::ThreadAgain => {
            let (batch, _) = batch_of(d, found);
            let in_work = matches!(found, Found::InHeddles(_)) && is_in_work(d, batch.first);
            in_work.then(|| drawn_out(batch)).ok_or(Refusal::NotThisWay)
        }
        Choice::LoomHolds
        | Choice::StepBack
        | Choice::LookAgain
        | Choice::Trace
        | Choice::ReadBack
        | Choice::Sight
        | Choice::Suspect(_) => Err(Refusal::NotThisWay),
    }
}

/// The ways of mending what the tracing has settled on, the first to be offered first; none while
/// a look is still worth its seconds.
pub(in crate::dressing) fn ways_of(d: &Dressing, mismatch: &Mismatch) -> Vec<Way> {
    let Some(evidence) = super::answer::evidence_of(d, mismatch) else {
        return Vec::new();
    };
    let Ok(tracing) = trace(&evidence) else {
        return Vec::new();
    };
    let Some(suspect) = tracing.suspects.first().filter(|_| tracing.settled) else {
        return Vec::new();
    };
    ways_for(d, &evidence, suspect)
}

fn calls_made(mismatch: &Mismatch) -> u32 {
    match mismatch {
        Mismatch::Batch { calls_made, .. } => *calls_made,
        Mismatch::Look { .. }
        | Mismatch::Found(_)
        | Mismatch::Sighting(_)
        | Mismatch::Warp { .. }
        | Mismatch::Reed { .. }
        | Mismatch::ReadBack { .. } => 0,
    }
}

/// Whether an end of the batch is sleyed already: then it is not threaded again as a whole.
pub(in crate::dressing) fn is_sleyed(d: &Dressing, batch: Calls) -> bool {
    !d.ledger().of(Task::Sleyed).has_none(batch)
}

/// The batch goes back to its start: to be counted out again.
pub(super) fn drawn_out(batch: Calls) -> Vec<Event> {
    [Task::Checked, Task::Threaded, Task::CountedOut]
        .map(|task| Event::Unmarked { task, calls: batch })
        .to_vec()
}

/// All of the batch stands threaded; it is to be counted off.
fn threaded(d: &Dressing, batch: Calls) -> Vec<Event> {
    so_marked(d, Task::Threaded, Some(batch), None)
}

fn of_look(d: &Dressing, look: Look, reason: Reason, loom: i64, choice: Choice) -> Events {
    match choice {
        Choice::LookAgain => Ok(vec![Event::Put(Question::Look {
            look,
            reason,
            answers: Vec::new(),
        })]),
        Choice::LeaveOpen => Ok(super::looks::shed_done(d, reason).into_iter().collect()),
        Choice::LoomHolds => free(d, loom_holds(d, look, loom)),
        Choice::StepBack | Choice::ThreadAgain => step_back(d, look).ok_or(Refusal::NotThisWay),
        Choice::PutRight => put_right(look).ok_or(Refusal::NotThisWay),
        Choice::Trace => super::tracing::trace_look(d, look, loom).ok_or(Refusal::NotThisWay),
        Choice::Sight if matches!(look, Look::EndsUp { .. }) => {
            Ok(vec![Event::Put(Question::Sighting(Sighting::default()))])
        }
        Choice::ReadBack | Choice::Way(_) | Choice::Sight | Choice::Suspect(_) => {
            Err(Refusal::NotThisWay)
        }
    }
}

/// A way that takes no work off the record that later work stands on: knots that were cut open cannot
/// be said to have never been tied.
fn free(d: &Dressing, way: Option<Vec<Event>>) -> Events {
    let events = way.ok_or(Refusal::NotThisWay)?;
    let taken_off = |later: Task| {
        let of = |event: &Event| matches!(event, Event::Unmarked { task, .. } if *task == later);
        events.iter().any(of)
    };
    let stands_on = |event: &Event| match event {
        Event::Unmarked { task, calls } => Task::ALL
            .into_iter()
            .find(|later| later > task)
            .is_some_and(|later| !taken_off(later) && !d.ledger().of(later).has_none(*calls)),
        _ => false,
    };
    if events.iter().any(stands_on) {
        return Err(Refusal::NotThisWay);
    }
    Ok(events)
}

/// The record follows what was counted on the loom.
fn loom_holds(d: &Dressing, look: Look, loom: i64) -> Option<Vec<Event>> {
    match look {
        Look::GroupsWound => Some(follow(d, Task::Wound, loom)),
        Look::GroupsSpread => Some(follow(d, Task::Spread, loom)),
        Look::GroupsKnotted => Some(follow(d, Task::Knotted, loom)),
        Look::GroupsCut => Some(follow(d, Task::Cut, loom)),
        Look::GroupsSleyed => Some(follow_sleying(d, loom)),
        Look::BundlesFirst => Some(follow_bundles(d, Task::TiedFirst, loom)),
        Look::BundlesSecond => Some(follow_bundles(d, Task::TiedSecond, loom)),
        Look::LastShaft => follow_last_shaft(d, loom),
        Look::BatchesKnotted { .. } => Some(super::tracing::follow_batches(d, loom)),
        Look::Turns
        | Look::ShedsClean
        | Look::EndsUp { .. }
        | Look::ShaftOf { .. }
        | Look::Together { .. }
        | Look::ReadBack { .. } => None,
    }
}

fn follow(d: &Dressing, task: Task, loom: i64) -> Vec<Event> {
    let (done, open) = first_groups(d, loom);
    so_marked(d, task, done, open)
}

/// Sleying from the other side counts the groups from the last one down.
fn follow_sleying(d: &Dressing, loom: i64) -> Vec<Event> {
    if d.plan().sley_from == d.plan().thread_from {
        return follow(d, Task::Sleyed, loom);
    }
    let (open, done) = first_groups(d, d.plan().groups.len() as i64 - loom);
    so_marked(d, Task::Sleyed, done, open)
}

fn follow_bundles(d: &Dressing, task: Task, loom: i64) -> Vec<Event> {
    let bundles = d.plan().bundles.iter();
    bundles
        .flat_map(|bundle| {
            let calls = Some(bundle.calls);
            if i64::from(bundle.number) <= loom {
                so_marked(d, task, calls, None)
            } else {
                so_marked(d, task, None, calls)
            }
        })
        .collect()
}

/// The nearest call, first onwards in the batch in work and then back, whose shaft is the one that
/// the last end is on.
fn follow_last_shaft(d: &Dressing, loom: i64) -> Option<Vec<Event>> {
    let last = last_threaded(d)?;
    let batch = d.next_batch()?.calls;
    let on = |call: u32| {
        let Shaft(shaft) = d.plan().threading[call as usize - 1];
        batch.contains(Call(call)) && i64::from(shaft) == loom
    };
    let counted_out = d.ledger().of(Task::CountedOut).has_all(batch);
    let onwards = (last.0 + 1..=batch.last.0).take(4).find(|&call| on(call));
    if let Some(call) = onwards.filter(|_| counted_out) {
        let calls = Calls::new(last.0 + 1, call)?;
        return Some(vec![marked(Task::Threaded, calls, d.revision())]);
    }
    let back = (batch.first.0..last.0)
        .rev()
        .take(4)
        .find(|&call| on(call))?;
    let task = Task::Threaded;
    let calls = Calls::new(back + 1, last.0)?;
    Some(vec![Event::Unmarked { task, calls }])
}

/// Back to the start of the batch in work, or of the one before where none is begun.
fn step_back(d: &Dressing, look: Look) -> Option<Vec<Event>> {
    match look {
        Look::LastShaft | Look::ShaftOf { .. } | Look::Together { .. } | Look::ReadBack { .. } => {
            let last = last_threaded(d)?;
            Some(drawn_out(d.batch_at(last)?.calls))
        }
        Look::GroupsWound
        | Look::GroupsSpread
        | Look::GroupsKnotted
        | Look::GroupsCut
        | Look::Turns
        | Look::BatchesKnotted { .. }
        | Look::GroupsSleyed
        | Look::BundlesFirst
        | Look::BundlesSecond
        | Look::ShedsClean
        | Look::EndsUp { .. } => None,
    }
}

/// Put right where it stands: nothing to record but the choice.
fn put_right(look: Look) -> Option<Vec<Event>> {
    matches!(
        look,
        Look::ShaftOf { .. } | Look::Together { .. } | Look::ShedsClean | Look::EndsUp { .. }
    )
    .then(Vec::new)
}

/// Whether a way out belongs to this mismatch of a look.
pub(in crate::dressing) fn way_is_open(
    d: &Dressing,
    look: Look,
    reason: Reason,
    loom: i64,
    choice: Choice,
) -> bool {
    of_look(d, look, reason, loom, choice).is_ok()
}
