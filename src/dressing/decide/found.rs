//! Something wrong whose place is known, and the ways of mending it where the work stands. Owns which of
//! `fault`'s ways are led in this moment; what choosing one does is in `mending`.

use super::{Events, in_every_stage, working};
use crate::dressing::event::{Event, Mismatch};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::Dressing;
use crate::fault::{
    Evidence, FaultKind, Found, Move, Suspect, Way, WayKind, Work, certain, known, mend,
    mend_reed_at,
};
use crate::method::Stage;
use crate::plan::spec::OrderSpec;
use crate::quantity::{Call, Calls};

/// The ways of mending an explanation that is settled, in whatever stage the work is, with what they
/// truly cost there; those first that come first in `fault`. `evidence` is of the batch that holds the
/// fault: its own report where it is in work, or one that says nothing is over or short.
pub(in crate::dressing) fn ways_for(
    d: &Dressing,
    evidence: &Evidence,
    suspect: &Suspect,
) -> Vec<Way> {
    let work = work_at(d, evidence);
    let ways = mend(evidence, suspect, &work);
    ways.into_iter().filter(|way| is_led(d, way)).collect()
}

/// She says what she found, or a tracing settled on it: it must be able to stand there.
pub(super) fn found(d: &Dressing, stage: Option<Stage>, found: Found) -> Events {
    working(d)?;
    if !stands_wrong(d, found) {
        return Err(Refusal::CannotBeThere(found));
    }
    let event = Event::Disagreed(Mismatch::Found(found));
    Ok(in_every_stage(stage, vec![event]))
}

/// Whether this can be wrong where the work stands: only what is threaded or sleyed can be.
pub(in crate::dressing) fn stands_wrong(d: &Dressing, found: Found) -> bool {
    let task = match found {
        Found::InHeddles(_) => Task::Threaded,
        Found::InReed(..) => Task::Sleyed,
    };
    let done = d.ledger().of(task);
    let Some(calls) = found.calls() else {
        return done.count() > 0 && found.can_stand(Call(1), &[], d.plan().shafts);
    };
    if calls.last.0 > d.calls() {
        return false;
    }
    let (batch, _) = batch_of(d, found);
    let planned = &d.plan().threading[batch.indices()];
    !is_shared(d, found)
        && done.has_all(calls)
        && found.can_stand(batch.first, planned, d.plan().shafts)
}

/// Whether the two ends in that heddle share it by the plan: a doubled edge is no fault.
fn is_shared(d: &Dressing, found: Found) -> bool {
    let shares = |call: Call| d.plan().doubled.binary_search(&call).is_ok();
    matches!(found, Found::InHeddles(fault) if fault.kind == FaultKind::EndsDoubled
        && fault.call.is_some_and(|call| shares(call) || shares(Call(call.0.saturating_add(1)))))
}

/// The batch of what was found (two where it lies in both), and how many of its calls are made.
pub(in crate::dressing) fn batch_of(d: &Dressing, found: Found) -> (Calls, u32) {
    let last = d.ledger().of(Task::Threaded).stretches().last().copied();
    let call = found.call().or(last.map(|run| run.last)).unwrap_or(Call(1));
    let until = found.calls().map_or(call, |calls| calls.last);
    let first = d.batch_at(call).map_or(1, |batch| batch.calls.first.0);
    let last = d
        .batch_at(until)
        .map_or(d.calls(), |batch| batch.calls.last.0);
    let batch = Calls {
        first: Call(first),
        last: Call(last),
    };
    let pieces = d.ledger().of(Task::Threaded).pieces(batch).into_iter();
    let made = pieces.filter(|(_, mark)| mark.is_some());
    (batch, made.map(|(calls, _)| calls.len()).sum())
}

/// The ways of mending what was found, where the work stands.
pub(in crate::dressing) fn ways_found(d: &Dressing, found: Found) -> Vec<Way> {
    let (batch, made) = batch_of(d, found);
    match found {
        Found::InHeddles(fault) => {
            let planned = d.plan().threading[batch.indices()].to_vec();
            let evidence = known(batch.first, planned, d.plan().shafts, made);
            ways_for(d, &evidence, &certain(fault))
        }
        Found::InReed(kind, call) => {
            let ways = mend_reed_at(kind, call, Call(d.calls()), &work(d, Call(d.calls())));
            ways.into_iter().filter(|way| is_led(d, way)).collect()
        }
    }
}

/// Where the work stands, as far as it matters to a batch: while the batch is in work nothing that was
/// threaded after it is moved by it.
fn work_at(d: &Dressing, evidence: &Evidence) -> Work {
    let threaded = d.ledger().of(Task::Threaded).stretches();
    let last = threaded.last().map_or(evidence.first, |run| run.last);
    let in_work = is_in_work(d, evidence.first);
    work(
        d,
        if in_work {
            last.min(evidence.last())
        } else {
            last
        },
    )
}

/// What stands on the loom when threading has come as far as this call.
pub(in crate::dressing) fn work(d: &Dressing, threaded_to: Call) -> Work {
    let sleyed = d.ledger().of(Task::Sleyed);
    let tied = d.ledger().of(Task::TiedFirst);
    let bundles = d.plan().bundles.iter().map(|bundle| bundle.calls);
    let even = !matches!(
        d.plan().spec.order,
        Some(OrderSpec::Typed(_) | OrderSpec::Sections(_))
    );
    Work {
        threaded_to,
        all_threaded: threaded_to.0 == d.calls(),
        sleyed: sleyed.stretches(),
        sleyed_upwards: d.plan().sley_from == d.plan().thread_from,
        // ends that are crammed or spaced on purpose keep their dents
        reed_may_move: even && sleyed.count() == d.calls(),
        tied: bundles.filter(|calls| !tied.has_none(*calls)).collect(),
        seconds_per_end: seconds_per_end(d),
    }
}

/// Seconds to thread one end: her own pace, or a first guess of 12 (a judgement, no source).
pub(in crate::dressing) fn seconds_per_end(d: &Dressing) -> f64 {
    d.pace()
        .ms_per_end(Stage::Thread)
        .map_or(12.0, |ms| ms as f64 / 1000.0)
}

/// Whether the batch of this call is counted out and not counted off.
pub(in crate::dressing) fn is_in_work(d: &Dressing, call: Call) -> bool {
    let checked = d.ledger().of(Task::Checked);
    d.batch_at(call)
        .is_some_and(|batch| !checked.has_all(batch.calls))
}

/// Ways that are led here. Leaving it open, and drawing out a batch in work as a whole, are choices of
/// their own. A plan is changed to what stands where the record has no gap, no heddle holds two by the
/// plan in that batch, and sleying did not start at the other edge.
fn is_led(d: &Dressing, way: &Way) -> bool {
    match way.kind {
        WayKind::FromTheFault
        | WayKind::ToTheFirstEdge
        | WayKind::OnTheSpot
        | WayKind::PutCountRight
        | WayKind::GoOn => true,
        WayKind::AmendPlan => {
            let whole = d.ledger().of(Task::Threaded).stretches().len() <= 1;
            let upwards = d.plan().sley_from == d.plan().thread_from;
            let sleyed = d.ledger().of(Task::Sleyed).count() > 0;
            // with all threaded and more standing than planned there is no place for the rest
            let more = way.moves.iter().any(|step| match step {
                Move::Amend(from, line) => {
                    let last = d.batch_at(*from).map_or(0, |batch| batch.calls.last.0);
                    from.0 as usize + line.len() > last as usize + 1
                }
                _ => false,
            });
            let all = d.ledger().of(Task::Threaded).count() == d.calls();
            whole && d.plan().doubled.is_empty() && (upwards || !sleyed) && !(more && all)
        }
        WayKind::ThreadAgain | WayKind::LeaveIt | WayKind::NewEnd => false,
    }
}
