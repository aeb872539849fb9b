//! The ways out of an open mismatch.

use super::Events;
use super::looks::{first_groups, last_threaded};
use crate::dressing::ask::Choice;
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::{Dressing, Mending, Mood};
use crate::fault::{Move, Way, WayKind, Work, mend, trace};
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
    });
    Ok(super::in_every_stage(stage, events))
}

fn of_batch(d: &Dressing, mismatch: &Mismatch, batch: Calls, choice: Choice) -> Events {
    match choice {
        Choice::Way(kind) => ways_of(d, mismatch)
            .into_iter()
            .find(|way| way.kind == kind)
            .and_then(|way| led(d, batch, way))
            .ok_or(Refusal::NotThisWay),
        Choice::ThreadAgain | Choice::StepBack => Ok(drawn_out(batch)),
        Choice::PutRight => Ok(threaded(d, batch)),
        Choice::LeaveOpen => {
            let mut events = threaded(d, batch);
            events.push(marked(d, Task::Checked, batch));
            Ok(events)
        }
        Choice::LoomHolds | Choice::LookAgain => Err(Refusal::NotThisWay),
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
    let threaded_to = last_threaded(d).unwrap_or(evidence.first);
    let mut work = Work::threading(threaded_to);
    work.seconds_per_end = seconds_per_end(d);
    let ways = mend(&evidence, suspect, &work);
    ways.into_iter().filter(|way| is_led(way.kind)).collect()
}

/// Seconds to thread one end: her own pace, or a first guess of 12 (a judgement, no source).
pub(in crate::dressing) fn seconds_per_end(d: &Dressing) -> f64 {
    d.pace()
        .ms_per_end(Stage::Thread)
        .map_or(12.0, |ms| ms as f64 / 1000.0)
}

/// Ways that this machine leads; leaving it open and threading the batch again are choices of
/// their own, and a plan is amended from the next batch on only.
fn is_led(kind: WayKind) -> bool {
    match kind {
        WayKind::FromTheFault
        | WayKind::ToTheFirstEdge
        | WayKind::OnTheSpot
        | WayKind::PutCountRight
        | WayKind::GoOn => true,
        WayKind::ThreadAgain | WayKind::AmendPlan | WayKind::LeaveIt => false,
    }
}

/// What choosing a way leads to: threading goes on from the place, or the moves are led.
fn led(d: &Dressing, batch: Calls, way: Way) -> Option<Vec<Event>> {
    match way.kind {
        WayKind::FromTheFault => {
            let from = way.moves.iter().find_map(|made| match made {
                Move::DrawOut(calls) => Some(calls.first.0),
                _ => None,
            })?;
            let open = Calls::new(from.clamp(batch.first.0, batch.last.0), batch.last.0);
            Some(so_marked(d, Task::Threaded, None, open))
        }
        WayKind::GoOn => {
            let stand = way.moves.iter().find_map(|made| match made {
                Move::CallsStand(stand) => Some(*stand),
                _ => None,
            })?;
            let last = batch.first.0 + stand.min(batch.len());
            let done = Calls::new(batch.first.0, last.saturating_sub(1));
            Some(so_marked(
                d,
                Task::Threaded,
                done,
                Calls::new(last, batch.last.0),
            ))
        }
        _ if way.moves.is_empty() => None,
        _ => Some(vec![Event::MendBegun {
            batch,
            way: way.kind,
            moves: way.moves,
        }]),
    }
}

/// One move of a mending is made; after the last one the batch stands threaded.
pub(super) fn move_made(d: &Dressing, mending: &Mending) -> Vec<Event> {
    let number = mending.made + 1;
    let mut events = vec![Event::MoveMade { number }];
    if number as usize >= mending.moves.len() {
        events.push(Event::Mended);
        events.extend(threaded(d, mending.batch));
    }
    events
}

/// The batch goes back to its start: to be counted out again.
fn drawn_out(batch: Calls) -> Vec<Event> {
    [Task::Checked, Task::Threaded, Task::CountedOut]
        .map(|task| Event::Unmarked { task, calls: batch })
        .to_vec()
}

/// All of the batch stands threaded; it is to be counted off.
fn threaded(d: &Dressing, batch: Calls) -> Vec<Event> {
    so_marked(d, Task::Threaded, Some(batch), None)
}

fn marked(d: &Dressing, task: Task, calls: Calls) -> Event {
    Event::Marked {
        task,
        calls,
        revision: d.revision(),
    }
}

fn of_look(d: &Dressing, look: Look, reason: Reason, loom: i64, choice: Choice) -> Events {
    match choice {
        Choice::LookAgain => Ok(vec![Event::Put(Question::Look {
            look,
            reason,
            answers: Vec::new(),
        })]),
        Choice::LeaveOpen => Ok(Vec::new()),
        Choice::LoomHolds => loom_holds(d, look, loom).ok_or(Refusal::NotThisWay),
        Choice::StepBack | Choice::ThreadAgain => step_back(d, look).ok_or(Refusal::NotThisWay),
        Choice::PutRight => put_right(look).ok_or(Refusal::NotThisWay),
        Choice::Way(_) => Err(Refusal::NotThisWay),
    }
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
        Look::Turns | Look::ShedsClean | Look::ShaftOf { .. } | Look::Together { .. } => None,
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

/// What brings the marks to `done` and off `open`, saying nothing of what is so already.
fn so_marked(d: &Dressing, task: Task, done: Option<Calls>, open: Option<Calls>) -> Vec<Event> {
    let runs = d.ledger().of(task);
    let gaps = done.map(|calls| runs.pieces(calls)).unwrap_or_default();
    let gaps = gaps.into_iter().filter(|(_, mark)| mark.is_none());
    let extra = open.map(|calls| runs.pieces(calls)).unwrap_or_default();
    let extra = extra.into_iter().filter(|(_, mark)| mark.is_some());
    gaps.map(|(calls, _)| marked(d, task, calls))
        .chain(extra.map(|(calls, _)| Event::Unmarked { task, calls }))
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
        return Some(vec![marked(d, Task::Threaded, calls)]);
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
        Look::LastShaft | Look::ShaftOf { .. } | Look::Together { .. } => {
            let last = last_threaded(d)?;
            Some(drawn_out(d.batch_at(last)?.calls))
        }
        Look::GroupsWound
        | Look::GroupsSpread
        | Look::GroupsKnotted
        | Look::GroupsCut
        | Look::Turns
        | Look::GroupsSleyed
        | Look::BundlesFirst
        | Look::BundlesSecond
        | Look::ShedsClean => None,
    }
}

/// Put right where it stands: nothing to record but the choice.
fn put_right(look: Look) -> Option<Vec<Event>> {
    matches!(
        look,
        Look::ShaftOf { .. } | Look::Together { .. } | Look::ShedsClean
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
