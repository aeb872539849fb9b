//! A mending in the work: what choosing a way leads to, and what each of its moves does to the ledger.
//! Owns the marks of a mending; the ways themselves and their cost are `fault`'s. What hands did to heddles is led move by move; what must then be threaded,
//! sleyed or tied again loses its mark, and the schedule leads it.

use super::found::is_in_work;
use super::looks::last_threaded;
use super::marks::{so_marked, taken_off, unmarked, without_doubles};
use crate::dressing::amend;
use crate::dressing::ask::Amendment;
use crate::dressing::event::Event;
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::{Dressing, Mending};
use crate::fault::{Move, Way, WayKind};
use crate::quantity::Calls;

/// What choosing a way leads to. `batch` holds the fault, `made` of its calls are made.
///
/// # Errors
/// The plan changed to what stands does not fit, or the way has nothing to lead.
pub(in crate::dressing) fn begin(
    d: &Dressing,
    batch: Calls,
    made: u32,
    way: &Way,
) -> Result<Vec<Event>, Refusal> {
    if way.kind == WayKind::AmendPlan {
        return amended(d, batch, made, way);
    }
    let in_work = is_in_work(d, batch.first);
    let moves = led_moves(d, in_work, way);
    let thread = way.moves.iter().find_map(|step| match step {
        Move::Thread(calls) if way.kind != WayKind::OnTheSpot => Some(*calls),
        _ => None,
    });
    // with nothing to draw out, what is to be threaded is open at once
    let drawn = moves.iter().any(|step| matches!(step, Move::DrawOut(_)));
    let open = thread.filter(|_| !drawn);
    // the record follows what she said of the batch in work
    let stand = match (&moves[..], open) {
        ([Move::CallsStand(calls)], _) => *calls,
        (_, Some(run)) => (run.first.0 - batch.first.0).min(made),
        _ => made,
    };
    let mut events = match open {
        _ if in_work => stands(d, batch, stand),
        Some(run) if way.kind == WayKind::ToTheFirstEdge => taken_off(d, Task::Threaded, run),
        Some(run) => open_again(d, run, in_work),
        None => Vec::new(),
    };
    match moves[..] {
        [] if way.moves.is_empty() => return Err(Refusal::NotThisWay),
        [] | [Move::CallsStand(_)] => {}
        _ => events.push(Event::MendBegun {
            batch,
            way: way.kind,
            moves,
        }),
    }
    Ok(events)
}

/// The moves that are led one by one: what the schedule leads by itself afterwards (threading from an
/// open call on, sleying, tying, the knot of a batch in work) is left to it.
fn led_moves(d: &Dressing, in_work: bool, way: &Way) -> Vec<Move> {
    let sleyed = d.ledger().of(Task::Sleyed).count() > 0;
    let moved = |step: &Move| matches!(step, Move::SleyMoved(..));
    // ends that go to another place of the reed are led whole, threading too
    let by_hand = way.moves.iter().any(moved);
    let mut moves = Vec::new();
    for step in &way.moves {
        match *step {
            Move::UndoKnots(_) if in_work => {}
            Move::Knot(_) if in_work || sleyed || way.kind != WayKind::OnTheSpot => {}
            // only its marks: the pages of sleying lead it afterwards
            Move::Sley(_) if way.kind == WayKind::FromTheFault => {}
            Move::Thread(run) if by_hand => {
                moves.extend(cut(run, &batches(d)).into_iter().map(Move::Thread));
            }
            Move::Thread(_) => {}
            Move::SleyMoved(run, by) => {
                let groups: Vec<Calls> = d.plan().groups.iter().map(|group| group.calls).collect();
                let cut = cut(run, &groups).into_iter();
                moves.extend(cut.map(|part| Move::SleyMoved(part, by)));
            }
            _ => moves.push(step.clone()),
        }
    }
    moves
}

fn batches(d: &Dressing) -> Vec<Calls> {
    d.plan().batches.iter().map(|batch| batch.calls).collect()
}

/// A run cut where these runs end.
fn cut(run: Calls, at: &[Calls]) -> Vec<Calls> {
    let part =
        |piece: &Calls| Calls::new(piece.first.0.max(run.first.0), piece.last.0.min(run.last.0));
    at.iter().filter_map(part).collect()
}

/// One move of a mending is made: what it does to the record, and after the last one the work goes on.
pub(in crate::dressing) fn move_made(d: &Dressing, mending: &Mending) -> Vec<Event> {
    let mut events = Vec::new();
    let left = mending.moves.iter().skip(mending.made as usize);
    // what the schedule leads afterwards is marked at once, without a press
    let by_itself = left.clone().skip(1).take_while(|step| is_led_later(step));
    let made = 1 + by_itself.count();
    for (number, step) in (mending.made + 1..).zip(left.take(made)) {
        events.push(Event::MoveMade { number });
        events.extend(marks_of(d, mending, step));
    }
    if mending.made as usize + made >= mending.moves.len() {
        events.push(Event::Mended);
        let is_open = |number: &u32| {
            let mut ends = d.record().broken.iter();
            ends.any(|end| end.number == *number && !end.mended)
        };
        let mended = mending.broken.filter(is_open);
        events.extend(mended.map(|number| Event::EndMended { number }));
    }
    events
}

/// Moves that only take marks off: the pages of the stage lead the work itself.
pub(in crate::dressing) fn is_led_later(step: &Move) -> bool {
    matches!(step, Move::Sley(_))
}

/// What a move does to the marks.
fn marks_of(d: &Dressing, mending: &Mending, step: &Move) -> Vec<Event> {
    match step {
        Move::UndoKnots(calls) => untied(d, *calls),
        Move::DrawFromReed(calls) => taken_off(d, Task::Sleyed, *calls),
        Move::DrawOut(calls) => drawn_out(d, mending, *calls),
        Move::Thread(calls) => {
            let tasks = [Task::CountedOut, Task::Threaded, Task::Checked];
            let done = tasks.into_iter();
            done.flat_map(|task| so_marked(d, task, Some(*calls), None))
                .collect()
        }
        Move::SleyMoved(calls, _) => {
            let mut events = so_marked(d, Task::Sleyed, Some(*calls), None);
            events.extend(still_sleyed(d, mending, step));
            events
        }
        Move::Sley(calls) => {
            let mut events = so_marked(d, Task::Sleyed, None, Some(*calls));
            events.extend(still_sleyed(d, mending, step));
            events
        }
        Move::CallsStand(calls) if is_in_work(d, mending.batch.first) => {
            stands(d, mending.batch, *calls)
        }
        _ => Vec::new(),
    }
}

/// Ends count otherwise after one was put in or taken out: numbers that came out of the reed and are
/// not sleyed again are those of ends that stayed in it. Said with the last of the sleying moves.
fn still_sleyed(d: &Dressing, mending: &Mending, step: &Move) -> Vec<Event> {
    let sleys = |step: &&Move| matches!(step, Move::Sley(_) | Move::SleyMoved(..));
    if mending.moves.iter().rfind(sleys) != Some(step) {
        return Vec::new();
    }
    let again: Vec<Calls> = mending
        .moves
        .iter()
        .filter_map(|step| match step {
            Move::Sley(calls) | Move::SleyMoved(calls, _) => Some(*calls),
            _ => None,
        })
        .collect();
    let out = mending.moves.iter().filter_map(|step| match step {
        Move::DrawFromReed(calls) => Some(*calls),
        _ => None,
    });
    let stayed = out.flat_map(|run| run.first.0..=run.last.0);
    let stayed = stayed.filter(|&call| again.iter().all(|run| run.last.0 < call));
    let one = |call: u32| so_marked(d, Task::Sleyed, Calls::new(call, call), None);
    let events = stayed.flat_map(one);
    without_doubles(events.collect())
}

/// Ends drawn out of their heddles are open again: back to the first edge, or on to the last one.
fn drawn_out(d: &Dressing, mending: &Mending, calls: Calls) -> Vec<Event> {
    let edge = mending.moves.iter().find_map(|step| match step {
        Move::EdgeEnds(by) => Some(*by),
        _ => None,
    });
    let in_work = is_in_work(d, mending.batch.first);
    match edge {
        Some(by) => {
            let last = u32::try_from(i64::from(calls.last.0) + by).unwrap_or(0);
            let moved = mending
                .moves
                .iter()
                .any(|s| matches!(s, Move::SleyMoved(..)));
            Calls::new(calls.first.0, last).map_or_else(Vec::new, |open| {
                let mut events = taken_off(d, Task::Threaded, open);
                // whole batches are counted out again, the rest of one is in her hands
                let whole = d.plan().batches.iter().map(|batch| batch.calls);
                let whole = whole.filter(|batch| batch.last <= open.last && !moved);
                events.extend(whole.flat_map(|batch| unmarked(d, Task::CountedOut, batch)));
                events
            })
        }
        None => open_again(d, calls, in_work),
    }
}

/// From the run's first call on to the end of its batch (in work), or to the last end threaded, all is
/// to be threaded again; later batches are counted out again.
fn open_again(d: &Dressing, run: Calls, in_work: bool) -> Vec<Event> {
    let batch = d.batch_at(run.first).map_or(run, |batch| batch.calls);
    let last = if in_work { batch.last.0 } else { d.calls() };
    let Some(open) = Calls::new(run.first.0, last) else {
        return Vec::new();
    };
    let mut events = taken_off(d, Task::Threaded, open);
    if let Some(later) = Calls::new(batch.last.0 + 1, last) {
        events.extend(unmarked(d, Task::CountedOut, later));
    }
    events
}

/// So many calls of a batch in work stand.
fn stands(d: &Dressing, batch: Calls, calls: u32) -> Vec<Event> {
    let last = batch.first.0 + calls.min(batch.len());
    let done = Calls::new(batch.first.0, last.saturating_sub(1));
    so_marked(d, Task::Threaded, done, Calls::new(last, batch.last.0))
}

/// The bundles that have an end in the run are undone.
fn untied(d: &Dressing, calls: Calls) -> Vec<Event> {
    let bundles = d.plan().bundles.iter().map(|bundle| bundle.calls);
    let touched = bundles.filter(|b| b.first <= calls.last && calls.first <= b.last);
    touched
        .flat_map(|bundle| taken_off(d, Task::TiedFirst, bundle))
        .collect()
}

/// The plan changed to what stands in the batch: the record moves by the calls that stand more or less.
fn amended(d: &Dressing, batch: Calls, made: u32, way: &Way) -> Result<Vec<Event>, Refusal> {
    let stands_now = way.moves.iter().find_map(|step| match step {
        Move::Amend(from, line) => Some((*from, line.clone())),
        _ => None,
    });
    let (from, line) = stands_now.ok_or(Refusal::NotThisWay)?;
    let by = i64::try_from(line.len()).unwrap_or(0) - i64::from(made);
    let change = Amendment::Stands { line, made };
    let plan = amend::amended(d.plan(), from, &change)?;
    if plan == *d.plan() {
        return Err(Refusal::ChangesNothing);
    }
    let place = batch.first.0 + made;
    let in_work = is_in_work(d, batch.first);
    let last = last_threaded(d).map_or(0, |call| call.0);
    let threaded = if in_work { place - 1 } else { last };
    let revision = d.revision() + 1;
    let mut events = Vec::new();
    let mut after = Vec::new();
    for task in [Task::Checked, Task::Threaded, Task::CountedOut] {
        let had = d
            .ledger()
            .of(task)
            .stretches()
            .last()
            .map_or(0, |run| run.last.0);
        let had_or_said = if task == Task::Threaded {
            threaded
        } else {
            had
        };
        let moved = i64::from(had_or_said) + if had_or_said + 1 < place { 0 } else { by };
        let stands = u32::try_from(moved).unwrap_or(0).min(d.calls());
        if let Some(over) = Calls::new(stands + 1, had.max(stands)) {
            events.extend(taken_off(d, task, over));
        }
        if let Some(calls) = Calls::new(had.min(stands) + 1, stands) {
            after.push(Event::Marked {
                task,
                calls,
                revision,
            });
        }
    }
    events.push(Event::Amended {
        revision,
        from,
        change,
    });
    after.reverse();
    events.extend(after);
    Ok(without_doubles(events))
}
