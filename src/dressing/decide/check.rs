//! A batch that does not come out even, and being stuck in the middle of one: the report's questions.

use super::{Events, working};
use crate::dressing::event::{Event, Question};
use crate::dressing::refusal::Refusal;
use crate::dressing::schedule::BatchPart;
use crate::dressing::state::Dressing;
use crate::method::{Stage, StepId};
use crate::plan::Batch;

/// "Left over or short": all calls of the batch are made, so the report starts with the ends. While
/// sleying it is the group in the reed that does not come out.
pub(super) fn uneven(d: &Dressing, stage: Option<Stage>) -> Events {
    working(d)?;
    if stage == Some(Stage::Sley) {
        return super::reed::uneven(d);
    }
    let batch = counted_out(d, stage)?;
    match d.batch_part(batch) {
        BatchPart::CountOut => Err(Refusal::NotCountedOut),
        BatchPart::Handful(_) => stuck(d, stage),
        BatchPart::UsedUp => Ok(vec![Event::Put(Question::EndsLeft {
            batch: batch.calls,
            calls_made: batch.calls.len(),
            seen: Vec::new(),
        })]),
    }
}

/// "Stuck" at any call: the report starts with the calls made.
pub(super) fn stuck(d: &Dressing, stage: Option<Stage>) -> Events {
    working(d)?;
    if stage == Some(Stage::Sley) {
        return super::reed::uneven(d);
    }
    let batch = counted_out(d, stage)?.calls;
    let seen = Vec::new();
    Ok(vec![Event::Put(Question::CallsMade { batch, seen })])
}

/// The batch in work, if one is counted out.
fn counted_out(d: &Dressing, stage: Option<Stage>) -> Result<&Batch, Refusal> {
    let threading = match stage {
        Some(Stage::Thread) => d.current().is_some_and(|key| key.id == StepId::ThreadBatch),
        Some(
            stage @ (Stage::Prepare
            | Stage::Wind
            | Stage::Spread
            | Stage::Beam
            | Stage::Sley
            | Stage::TieOn
            | Stage::Try),
        ) => return Err(Refusal::OnlyWhileThreading(stage)),
        None => return Err(Refusal::AlreadyReady),
    };
    d.next_batch()
        .filter(|batch| threading && d.batch_part(batch) != BatchPart::CountOut)
        .ok_or(Refusal::NotCountedOut)
}
