//! Answers to the open question: checked for what can be, then judged.

use super::looks::{expected, range};
use super::{Events, reed, tracing};
use crate::dressing::ask::Answer;
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::{Dressing, Mood};
use crate::fault::{Evidence, MISCOUNTED, Seen, Tracing};
use crate::method::Stage;
use crate::plan::Group;
use crate::quantity::{Call, Calls};

/// An answer, in whatever stage its question was put.
pub(super) fn answer(d: &Dressing, stage: Option<Stage>, said: &Answer) -> Events {
    let events = match d.mood() {
        Mood::Working | Mood::Mending(_) => return Err(Refusal::NoQuestion),
        Mood::Asking(question) => to_question(d, question, said)?,
        Mood::Disagreeing(mismatch) => match (mismatch, said) {
            (Mismatch::Warp { .. }, Answer::WarpSeen(look)) => {
                tracing::seen_along(d, mismatch, *look)?
            }
            (Mismatch::Reed { .. }, Answer::ReedSeen(look)) => {
                reed::seen_in_reed(d, mismatch, *look)?
            }
            _ => seen(d, mismatch, said)?,
        },
    };
    Ok(super::in_every_stage(stage, events))
}

fn to_question(d: &Dressing, question: &Question, said: &Answer) -> Events {
    match (question, said) {
        (
            Question::Look {
                look: Look::BatchesKnotted { first },
                ..
            },
            Answer::CannotTell,
        ) => {
            let mut events = vec![Event::Answered(said.clone()), Event::Settled];
            events.extend(tracing::after_knots(d, *first));
            Ok(events)
        }
        (Question::Look { reason, .. }, Answer::CannotTell) => {
            Ok(super::looks::passed_over(d, *reason))
        }
        (
            Question::Look {
                look: Look::ReadBack { calls },
                reason,
                answers,
            },
            Answer::Numbers(list),
        ) => super::reading::told_shafts(d, *calls, *reason, (answers, list)),
        (
            Question::Look {
                look: Look::ReadBack { calls },
                reason,
                answers,
            },
            Answer::Number(n),
        ) => super::reading::told_shafts(d, *calls, *reason, (answers, &[*n])),
        (
            Question::Look {
                look,
                reason,
                answers,
            },
            Answer::Number(n),
        ) => to_look(d, *look, *reason, answers, *n),
        (Question::CallsMade { batch, seen }, Answer::Number(n)) => {
            let made = within(*n, 0, i64::from(batch.len()))?;
            Ok(vec![
                Event::Answered(said.clone()),
                Event::Put(Question::EndsLeft {
                    batch: *batch,
                    calls_made: u32::try_from(made).unwrap_or(0),
                    seen: seen.clone(),
                }),
            ])
        }
        (
            Question::EndsLeft {
                batch,
                calls_made,
                seen,
            },
            Answer::Number(n),
        ) => {
            let all = i64::from(batch.len());
            let ends_left = within(*n, -all, all + MISCOUNTED)?;
            Ok(vec![
                Event::Answered(said.clone()),
                Event::Put(Question::HeddlesLeft {
                    batch: *batch,
                    calls_made: *calls_made,
                    ends_left,
                    seen: seen.clone(),
                }),
            ])
        }
        (
            Question::HeddlesLeft {
                batch,
                calls_made,
                ends_left,
                seen,
            },
            Answer::Numbers(heddles),
        ) => report(d, (*batch, *calls_made, *ends_left), heddles, seen),
        (Question::WarpEnds { stretch, seen }, Answer::Number(_) | Answer::CannotTell) => {
            tracing::told_warp_ends(*stretch, seen, said)
        }
        (
            Question::WarpHeddles {
                stretch,
                ends_left,
                seen,
            },
            Answer::Numbers(_) | Answer::CannotTell,
        ) => tracing::told_warp_heddles(d, (*stretch, *ends_left, seen), said),
        (Question::ReedEnds { calls }, Answer::Number(_)) => reed::told_ends(*calls, said),
        (Question::ReedTape { calls, ends_left }, Answer::Number(_) | Answer::CannotTell) => {
            reed::told_tape(d, *calls, *ends_left, said)
        }
        (Question::Sighting(so_far), said) => super::trying::sighted(d, so_far, said),
        (Question::Measure { what, whole }, said) => {
            super::trying::measured_now(d, (*what, *whole), said)
        }
        (
            Question::Look { .. }
            | Question::CallsMade { .. }
            | Question::EndsLeft { .. }
            | Question::HeddlesLeft { .. }
            | Question::WarpEnds { .. }
            | Question::WarpHeddles { .. }
            | Question::ReedEnds { .. }
            | Question::ReedTape { .. },
            Answer::Number(_)
            | Answer::Numbers(_)
            | Answer::Seen(_)
            | Answer::WarpSeen(_)
            | Answer::ReedSeen(_)
            | Answer::CannotTell,
        ) => Err(Refusal::OtherAnswer(question.clone())),
    }
}

pub(super) fn within(said: i64, least: i64, most: i64) -> Result<i64, Refusal> {
    if (least..=most).contains(&said) {
        Ok(said)
    } else {
        Err(Refusal::OutOfRange { said, least, most })
    }
}

/// The report is whole: it agrees after all, or the batch disagrees.
fn report(
    d: &Dressing,
    (batch, calls_made, ends_left): (Calls, u32, i64),
    heddles: &[i64],
    seen: &[Seen],
) -> Events {
    let shafts = d.plan().shafts;
    if heddles.len() != usize::from(shafts) {
        return Err(Refusal::OtherShafts {
            said: heddles.len(),
            shafts,
        });
    }
    let evidence = evidence(
        d,
        batch,
        calls_made,
        ends_left,
        heddles.to_vec(),
        seen.to_vec(),
    );
    let tracing = crate::fault::trace(&evidence).map_err(Refusal::Impossible)?;
    let answered = Event::Answered(Answer::Numbers(heddles.to_vec()));
    if finds_nothing(&tracing) {
        return Ok(vec![answered, Event::Settled]);
    }
    Ok(vec![
        answered,
        Event::Disagreed(Mismatch::Batch {
            batch,
            calls_made,
            ends_left,
            heddles_left: heddles.to_vec(),
            seen: seen.to_vec(),
        }),
    ])
}

/// Whether the counts agree and no answer says that something is wrong.
fn finds_nothing(tracing: &Tracing) -> bool {
    tracing.counts_agree && tracing.suspects.is_empty() && tracing.doubted.is_none()
}

/// The evidence of a batch's mismatch, as the tracing takes it.
pub(in crate::dressing) fn evidence(
    d: &Dressing,
    batch: Calls,
    calls_made: u32,
    ends_left: i64,
    heddles_left: Vec<i64>,
    seen: Vec<Seen>,
) -> Evidence {
    let heddles_left = with_shared(d, batch, calls_made, heddles_left);
    Evidence {
        first: batch.first,
        planned: d.plan().threading[batch.indices()].to_vec(),
        shafts: d.plan().shafts,
        calls_made,
        ends_left,
        heddles_left,
        seen,
    }
}

/// The tracing takes a heddle for each call. Ends that share one by the plan (a doubled edge) were given
/// none of their own when heddles were counted out: those still to come are put in.
fn with_shared(d: &Dressing, batch: Calls, calls_made: u32, mut left: Vec<i64>) -> Vec<i64> {
    let to_come = batch.first.0.saturating_add(calls_made)..=batch.last.0;
    let shared = |call: &u32| d.plan().doubled.binary_search(&Call(*call)).is_ok();
    for call in to_come.filter(shared) {
        let shaft = d.plan().threading[call as usize - 1];
        if let Some(heddles) = left.get_mut(usize::from(shaft.0).wrapping_sub(1)) {
            *heddles += 1;
        }
    }
    left
}

/// The evidence of an open mismatch of a batch.
pub(in crate::dressing) fn evidence_of(d: &Dressing, mismatch: &Mismatch) -> Option<Evidence> {
    let Mismatch::Batch {
        batch,
        calls_made,
        ends_left,
        heddles_left,
        seen,
    } = mismatch
    else {
        return None;
    };
    let (heddles, seen) = (heddles_left.clone(), seen.clone());
    Some(evidence(d, *batch, *calls_made, *ends_left, heddles, seen))
}

/// A look's answer: agreeing settles it; the same other answer twice is a mismatch; else again.
fn to_look(d: &Dressing, look: Look, reason: Reason, before: &[i64], said: i64) -> Events {
    let (least, most) = range(d, look);
    within(said, least, most)?;
    let answered = Event::Answered(Answer::Number(said));
    let record = expected(d, look);
    if said == record {
        let shed = super::looks::shed_done(d, reason);
        let mut events: Vec<Event> = [answered, Event::Settled].into_iter().chain(shed).collect();
        if let Look::BatchesKnotted { first } = look {
            events.extend(tracing::after_knots(d, first));
        }
        return Ok(events);
    }
    if reason == Reason::TakeBack && said == record - 1 {
        let back = last_cut(d).map(|group| Event::Unmarked {
            task: Task::Cut,
            calls: group.calls,
        });
        return Ok([answered, Event::Settled].into_iter().chain(back).collect());
    }
    let mut events = vec![answered];
    if before.contains(&said) {
        events.push(Event::Disagreed(Mismatch::Look {
            look,
            reason,
            loom: said,
        }));
    }
    Ok(events)
}

fn last_cut(d: &Dressing) -> Option<Group> {
    let last = d
        .next_group(Task::Cut)
        .map_or(d.calls(), |group| group.calls.first.0 - 1);
    d.group_at(Call(last)).filter(|_| last > 0)
}

/// What a look of the tracing showed; it must be possible together with the report.
fn seen(d: &Dressing, mismatch: &Mismatch, said: &Answer) -> Events {
    let (
        Mismatch::Batch {
            batch,
            calls_made,
            ends_left,
            heddles_left,
            seen,
        },
        Answer::Seen(look),
    ) = (mismatch, said)
    else {
        return Err(Refusal::WayOutFirst);
    };
    let mut all = seen.clone();
    all.push(look.clone());
    let evidence = evidence(
        d,
        *batch,
        *calls_made,
        *ends_left,
        heddles_left.clone(),
        all,
    );
    let tracing = crate::fault::trace(&evidence).map_err(Refusal::Impossible)?;
    let mut events = vec![Event::Answered(said.clone())];
    if finds_nothing(&tracing) {
        events.push(Event::Settled);
    }
    Ok(events)
}
