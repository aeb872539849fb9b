//! Broken ends: listed in every stage with what they are, made good with a new length move by move.
//! Owns how far an end had come; what is done then is `fault`'s.

use super::{Events, in_every_stage, working};
use crate::dressing::event::Event;
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::{BrokenEnd, Dressing};
use crate::fault::{Move, Reached, new_end};
use crate::method::{Stage, StepId};
use crate::plan::{DentEnds, Floats, Side};

/// A floating selvedge broke.
pub(super) fn broken_float(d: &Dressing, stage: Option<Stage>, side: Side) -> Events {
    if d.plan().floats == Floats::None {
        return Err(Refusal::NoFloats);
    }
    Ok(in_every_stage(stage, vec![Event::BrokenFloat { side }]))
}

/// The mending of a broken end begins.
pub(super) fn mend_end(d: &Dressing, stage: Option<Stage>, number: u32) -> Events {
    working(d)?;
    let mut open = d.record().broken.iter().filter(|end| !end.mended);
    let end = open.find(|end| end.number == number);
    let end = end.ok_or(Refusal::NoSuchBrokenEnd { said: number })?;
    let moves = moves_for(d, end);
    Ok(in_every_stage(
        stage,
        vec![Event::EndMendBegun { number, moves }],
    ))
}

/// What mending it takes where the work stands now.
pub(in crate::dressing) fn moves_for(d: &Dressing, end: &BrokenEnd) -> Vec<Move> {
    let steps = new_end(reached(d, end)).into_iter();
    steps.map(Move::NewEnd).collect()
}

/// How far the end had come.
fn reached(d: &Dressing, end: &BrokenEnd) -> Reached {
    let done = |task: Task| match end.call {
        Some(call) => d.ledger().of(task).mark(call).is_some(),
        // of a floating selvedge, and of an end that is not known: as far as all have come
        None => d.ledger().of(task).count() == d.calls(),
    };
    let some = |task: Task| d.ledger().of(task).count() > 0;
    let known = end.call.is_some() || end.float.is_some();
    let heddle = end.call.filter(|_| done(Task::Threaded)).map(|call| {
        let shaft = d.plan().threading[call.0 as usize - 1];
        (shaft, d.plan().doubled.binary_search(&call).is_ok())
    });
    let dent = match (end.call, end.float) {
        (Some(call), _) if done(Task::Sleyed) => d.plan().dent_of(call),
        (None, Some(side)) if float_is_sleyed(d, side) => dent_of_float(d, side),
        _ => None,
    };
    Reached {
        off_the_frame: some(Task::Spread),
        sticks_in: some(Task::Spread) && !d.has_done(StepId::SticksOut),
        heddle,
        dent,
        tied: done(Task::TiedFirst),
        unknown: !known && some(Task::Threaded),
    }
}

fn float_is_sleyed(d: &Dressing, side: Side) -> bool {
    d.has_done(if side == d.plan().sley_from {
        StepId::SleyFirstFloat
    } else {
        StepId::SleyLastFloat
    })
}

/// The float's dent at an edge.
pub(in crate::dressing) fn dent_of_float(d: &Dressing, side: Side) -> Option<u32> {
    let is_float = |dent: &&crate::plan::Dent| matches!(dent.ends, DentEnds::Float { .. });
    let mut floats = d.plan().sley.dents.iter().filter(is_float);
    let dent = if side == d.plan().sley_from {
        floats.next()
    } else {
        floats.next_back()
    };
    dent.map(|dent| dent.number)
}
