//! Marks put on and taken off. Owns the events that bring the record to what was said; why it goes there is
//! decided elsewhere.

use crate::dressing::event::Event;
use crate::dressing::ledger::Task;
use crate::dressing::state::Dressing;
use crate::quantity::Calls;

/// The marks of a task and of all that comes after it go off these ends, the latest first.
pub(super) fn taken_off(d: &Dressing, from: Task, calls: Calls) -> Vec<Event> {
    let later = Task::ALL.into_iter().rev().filter(|task| *task >= from);
    later.flat_map(|task| unmarked(d, task, calls)).collect()
}

pub(super) fn unmarked(d: &Dressing, task: Task, calls: Calls) -> Vec<Event> {
    so_marked(d, task, None, Some(calls))
}

/// A task is done to these ends under this plan.
pub(super) fn marked(task: Task, calls: Calls, revision: u32) -> Event {
    Event::Marked {
        task,
        calls,
        revision,
    }
}

/// What brings the marks to `done` and off `open`, saying nothing of what is so already.
pub(super) fn so_marked(
    d: &Dressing,
    task: Task,
    done: Option<Calls>,
    open: Option<Calls>,
) -> Vec<Event> {
    let runs = d.ledger().of(task);
    let there = |calls: Calls| Calls::new(calls.first.0, calls.last.0.min(d.calls()));
    let (done, open) = (done.and_then(there), open.and_then(there));
    let gaps = done.map(|calls| runs.pieces(calls)).unwrap_or_default();
    let gaps = gaps.into_iter().filter(|(_, mark)| mark.is_none());
    let extra = open.map(|calls| runs.pieces(calls)).unwrap_or_default();
    let extra = extra.into_iter().filter(|(_, mark)| mark.is_some());
    gaps.map(|(calls, _)| marked(task, calls, d.revision()))
        .chain(extra.map(|(calls, _)| Event::Unmarked { task, calls }))
        .collect()
}

/// Marks that two tasks both take off are taken off once, the latest task first.
pub(super) fn without_doubles(events: Vec<Event>) -> Vec<Event> {
    let mut out: Vec<Event> = Vec::new();
    for event in events {
        if !out.contains(&event) {
            out.push(event);
        }
    }
    out
}
