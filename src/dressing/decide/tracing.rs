//! Tracing beyond the batch in work, along the warp. Owns the
//! questions that a trace starts with and what its answers lead to; explains nothing itself.

use super::marks::so_marked;
use super::{Events, answer, working};
use crate::dressing::ask::{Answer, Choice};
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::Dressing;
use crate::fault::{
    Fault, FaultKind, Found, LookKind, Seen, WarpEvidence, WarpSeen, WarpTracing, trace_warp,
};
use crate::method::Stage;
use crate::plan::Batch;
use crate::quantity::{Call, Calls, Shaft};

/// "Something is off farther back": knots first while they hang in front of the shafts, then the
/// ends and heddles that are left over.
pub(super) fn trace(d: &Dressing, stage: Option<Stage>, since: Option<u32>) -> Events {
    working(d)?;
    let stretch = along(d, since)?;
    match stage {
        Some(Stage::Thread) => Ok(vec![super::next::put(
            Look::BatchesKnotted {
                first: stretch.first,
            },
            Reason::Tracing,
        )]),
        Some(
            Stage::Prepare
            | Stage::Wind
            | Stage::Spread
            | Stage::Beam
            | Stage::Sley
            | Stage::TieOn
            | Stage::Try,
        )
        | None => Ok(vec![warp_ends(stretch, Vec::new())]),
    }
}

/// Where the fault can be: behind the last group that is sure, up to the last end counted off.
fn along(d: &Dressing, since: Option<u32>) -> Result<Calls, Refusal> {
    let groups = &d.plan().groups;
    let sure = match since.unwrap_or(0) {
        0 => 0,
        said => {
            let group = groups.get(said as usize - 1);
            let last = groups.len() as u32;
            group
                .ok_or(Refusal::NoSuchGroup { said, last })?
                .calls
                .last
                .0
        }
    };
    Calls::new(sure + 1, counted_off(d)).ok_or(Refusal::NothingThreaded)
}

/// The last call of the run of ends counted off, from the first one on; 0 for none.
fn counted_off(d: &Dressing) -> u32 {
    let gap = d.ledger().of(Task::Checked).first_gap(d.calls());
    gap.map_or(d.calls(), |gap| gap.0 - 1)
}

fn warp_ends(stretch: Calls, seen: Vec<WarpSeen>) -> Event {
    Event::Put(Question::WarpEnds { stretch, seen })
}

/// The knots are counted, or cannot be told: on with the ends left over.
pub(super) fn after_knots(d: &Dressing, first: Call) -> Vec<Event> {
    let stretch = Calls::new(first.0, counted_off(d).max(first.0));
    stretch
        .map(|stretch| warp_ends(stretch, Vec::new()))
        .into_iter()
        .collect()
}

/// The ends along the warp are told, or cannot be: then nothing is known but what is looked at.
pub(super) fn told_warp_ends(stretch: Calls, seen: &[WarpSeen], said: &Answer) -> Events {
    let answered = Event::Answered(said.clone());
    let Answer::Number(n) = said else {
        return Ok(vec![
            answered,
            Event::Disagreed(Mismatch::Warp {
                stretch,
                ends_left: None,
                heddles_left: None,
                seen: seen.to_vec(),
            }),
        ]);
    };
    let most = i64::from(stretch.len());
    let ends_left = answer::within(*n, -most, most)?;
    let seen = seen.to_vec();
    Ok(vec![
        answered,
        Event::Put(Question::WarpHeddles {
            stretch,
            ends_left,
            seen,
        }),
    ])
}

/// The report along the warp is whole: it agrees, or it is traced. Where all agrees, what no count
/// sees is looked for once more in the last batch.
pub(super) fn told_warp_heddles(
    d: &Dressing,
    (stretch, ends_left, seen): (Calls, i64, &[WarpSeen]),
    said: &Answer,
) -> Events {
    let heddles_left = match said {
        Answer::Numbers(list) => Some(list.clone()),
        _ => None,
    };
    let mismatch = Mismatch::Warp {
        stretch,
        ends_left: Some(ends_left),
        heddles_left: heddles_left.clone(),
        seen: seen.to_vec(),
    };
    let on = match warp_evidence(d, &mismatch) {
        Some(evidence) => next_of(d, &evidence)?,
        None => None,
    };
    let answered = Event::Answered(said.clone());
    let even = ends_left == 0 && heddles_left.is_some_and(|list| list.iter().all(|n| *n == 0));
    if even && seen.is_empty() {
        let look = d.batch_at(stretch.last).map(|batch| silent_look(d, batch));
        let look = look.map(|look| super::next::put(look, Reason::Wanted));
        return Ok([answered, Event::Settled].into_iter().chain(look).collect());
    }
    let events = [answered, Event::Disagreed(mismatch)];
    Ok(events.into_iter().chain(on).collect())
}

/// The look that would uncover most of what no count sees in this batch, never of the kind that was
/// asked last.
pub(super) fn silent_look(d: &Dressing, batch: &Batch) -> Look {
    let shafts = &d.plan().threading[batch.calls.indices()];
    let best = crate::fault::group_end_look(batch.calls.first, shafts, d.now.last_look);
    match (best.kind, best.call) {
        (LookKind::NeighboursTogether, _) => Look::Together { calls: batch.calls },
        (LookKind::ShaftOfHeddle, Some(call)) => Look::ShaftOf { call },
        _ => Look::ReadBack { calls: batch.calls },
    }
}

/// The evidence of a mismatch along the warp; `None` where the ends could not be told, or for
/// another mismatch.
pub(in crate::dressing) fn warp_evidence(
    d: &Dressing,
    mismatch: &Mismatch,
) -> Option<WarpEvidence> {
    let Mismatch::Warp {
        stretch,
        ends_left,
        heddles_left,
        seen,
    } = mismatch
    else {
        return None;
    };
    let plan = d.plan();
    let upto = |batch: &&Batch| batch.calls.first <= stretch.last;
    let knots = plan.batches.iter().take_while(upto);
    let last = knots.clone().last()?.calls.last;
    Some(WarpEvidence {
        planned: plan.threading[..last.0 as usize].to_vec(),
        shafts: plan.shafts,
        knots: knots.map(|batch| batch.calls).collect(),
        stretch: *stretch,
        ends_left: (*ends_left)?,
        heddles_left: heddles_left.clone(),
        seen: seen.clone(),
    })
}

/// What a mismatch along the warp comes to; nothing where the ends could not be told.
pub(in crate::dressing) fn warp_tracing(d: &Dressing, mismatch: &Mismatch) -> WarpTracing {
    let evidence = warp_evidence(d, mismatch);
    evidence
        .and_then(|evidence| trace_warp(&evidence).ok())
        .unwrap_or_default()
}

/// A look along the warp is answered. Once only one knot is left, and it has another number of
/// heddles than planned, the tracing goes on inside it.
pub(super) fn seen_along(d: &Dressing, mismatch: &Mismatch, look: WarpSeen) -> Events {
    let mut after = mismatch.clone();
    if let Mismatch::Warp { seen, .. } = &mut after {
        seen.push(look);
    }
    let Some(evidence) = warp_evidence(d, &after) else {
        return Err(Refusal::WayOutFirst);
    };
    let mut events = vec![Event::Answered(Answer::WarpSeen(look))];
    events.extend(next_of(d, &evidence)?);
    Ok(events)
}

/// The mismatch of the one batch that is left, where one of its heddles holds two ends or an end hangs
/// in it: one end short by that, whatever else is off along the warp.
fn inside_one_knot(
    d: &Dressing,
    evidence: &WarpEvidence,
    tracing: &WarpTracing,
) -> Option<Mismatch> {
    let first = tracing.suspects.first().filter(|_| !tracing.settled)?;
    let knot = first.knot?;
    let here = |s: &crate::fault::WarpSuspect| {
        let kind = matches!(s.kind, FaultKind::EndsDoubled | FaultKind::EndHanging);
        kind && s.knot == Some(knot)
    };
    if tracing.again || !tracing.suspects.iter().all(here) {
        return None;
    }
    let calls = evidence.knots.get((knot as usize).checked_sub(1)?)?;
    let batch = d.batch_at(calls.first)?.calls;
    let seen = evidence.seen.iter().filter_map(|seen| match *seen {
        WarpSeen::Shaft { call, shaft } if batch.contains(call) => {
            Some(Seen::Shaft { call, shaft })
        }
        WarpSeen::Together { call: Some(call) } if batch.contains(call) => {
            Some(Seen::Together { call: Some(call) })
        }
        _ => None,
    });
    Some(one_end_short(d, batch, seen.collect()))
}

/// A batch in which every heddle is right and one end more was used than they hold.
pub(super) fn one_end_short(d: &Dressing, batch: Calls, seen: Vec<Seen>) -> Mismatch {
    Mismatch::Batch {
        batch,
        calls_made: batch.len(),
        ends_left: -1,
        heddles_left: vec![0; usize::from(d.plan().shafts)],
        seen,
    }
}

/// The fault that a trace along the warp has settled on.
fn settled(d: &Dressing, tracing: &WarpTracing) -> Option<Fault> {
    let found = tracing.suspects.first().filter(|_| tracing.settled)?;
    let call = found.calls.first;
    let own = *d.plan().threading.get((call.0 as usize).checked_sub(1)?)?;
    Some(match found.kind {
        FaultKind::HandfulSkipped | FaultKind::HandfulRepeated => {
            let batch = d.batch_at(call)?;
            let handful = d.handfuls(batch).into_iter().find(|h| h.first == call)?;
            Fault::handful(found.kind, call, i64::from(handful.len()))
        }
        FaultKind::WrongShaft => Fault::at(found.kind, call, found.taken?),
        FaultKind::NeighboursExchanged => Fault {
            shaft: None,
            ..Fault::at(found.kind, call, own)
        },
        _ => Fault::at(found.kind, call, own),
    })
}

/// Where a trace along the warp goes on: the one fault that is left, to be mended, or inside the one
/// knot that is left.
fn next_of(d: &Dressing, evidence: &WarpEvidence) -> Result<Option<Event>, Refusal> {
    let tracing = trace_warp(evidence).map_err(Refusal::Impossible)?;
    let found = settled(d, &tracing).map(Found::InHeddles);
    let found = found.filter(|found| super::found::stands_wrong(d, *found));
    let found = found.map(Mismatch::Found);
    let on = found.or_else(|| inside_one_knot(d, evidence, &tracing));
    Ok(on.map(Event::Disagreed))
}

/// From a look that found something else into the tracing, with what was seen as evidence.
pub(super) fn trace_look(d: &Dressing, look: Look, loom: i64) -> Option<Vec<Event>> {
    let whole = |call: Call, seen: Vec<Seen>| {
        let batch = d.batch_at(call)?.calls;
        let calls_made = batch.len();
        Some(vec![Event::Put(Question::EndsLeft {
            batch,
            calls_made,
            seen,
        })])
    };
    match look {
        Look::ShaftOf { call } => {
            let shaft = u8::try_from(loom).ok().map(Shaft);
            // the look was answered twice alike before it disagreed
            whole(call, vec![Seen::Shaft { call, shaft }; 2])
        }
        Look::Together { calls } => {
            let at = u32::try_from(loom).ok()?.checked_sub(1)?;
            let call = Some(Call(calls.first.0 + at));
            whole(calls.first, vec![Seen::Together { call }; 2])
        }
        Look::LastShaft => {
            let last = super::looks::last_threaded(d)?;
            let batch = d.batch_at(last)?.calls;
            if d.ledger().of(Task::Threaded).has_all(batch) {
                return whole(last, Vec::new());
            }
            let seen = Vec::new();
            Some(vec![Event::Put(Question::CallsMade { batch, seen })])
        }
        Look::BatchesKnotted { first } => Some(after_knots(d, first)),
        Look::GroupsWound
        | Look::GroupsSpread
        | Look::GroupsKnotted
        | Look::GroupsCut
        | Look::Turns
        | Look::ReadBack { .. }
        | Look::GroupsSleyed
        | Look::BundlesFirst
        | Look::BundlesSecond
        | Look::ShedsClean
        | Look::EndsUp { .. } => None,
    }
}

/// So many batches hang threaded and knotted on the loom: the record follows.
pub(super) fn follow_batches(d: &Dressing, loom: i64) -> Vec<Event> {
    let batches = &d.plan().batches;
    let hang = usize::try_from(loom).unwrap_or(0).min(batches.len());
    let last = hang.checked_sub(1).map_or(0, |at| batches[at].calls.last.0);
    let open = Calls::new(last + 1, d.calls());
    let done = Calls::new(1, last);
    let taken_off = [Task::Checked, Task::Threaded, Task::CountedOut]
        .into_iter()
        .flat_map(|task| so_marked(d, task, None, open));
    let put_on = [Task::CountedOut, Task::Threaded, Task::Checked]
        .into_iter()
        .flat_map(|task| so_marked(d, task, done, None));
    taken_off.chain(put_on).collect()
}

/// The calls of the knot that a trace along the warp has come down to, without knowing what is wrong.
pub(in crate::dressing) fn near_batch(d: &Dressing, mismatch: &Mismatch) -> Option<Calls> {
    let near = warp_tracing(d, mismatch).near?;
    let batch = d.plan().batches.get((near as usize).checked_sub(1)?)?;
    let done = d.ledger().of(Task::Threaded).has_all(batch.calls);
    done.then_some(batch.calls)
}

/// The ways out of what is off along the warp while its place is not known.
pub(super) fn of_warp(d: &Dressing, mismatch: &Mismatch, stretch: Calls, choice: Choice) -> Events {
    match choice {
        Choice::LookAgain => Ok(vec![warp_ends(stretch, Vec::new())]),
        // what was read shows more than any one look: of the knot that is known to be wrong, else of all
        Choice::ReadBack => {
            let near = near_batch(d, mismatch);
            let reason = near.map_or(Reason::Wanted, |_| Reason::Tracing);
            let calls = near.unwrap_or(stretch);
            Ok(vec![super::next::put(Look::ReadBack { calls }, reason)])
        }
        Choice::PutRight | Choice::LeaveOpen => Ok(Vec::new()),
        Choice::ThreadAgain
        | Choice::StepBack
        | Choice::LoomHolds
        | Choice::Trace
        | Choice::Sight
        | Choice::Suspect(_)
        | Choice::Way(_) => Err(Refusal::NotThisWay),
    }
}
