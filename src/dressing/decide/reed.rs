//! Tracing in the reed while it is sleyed: the questions about ends left over and the tape, what
//! the looks lead to, and the way to mend. Owns the stretch, which is one group, in work or sleyed; explains
//! nothing itself.

use super::marks::{so_marked, taken_off};
use super::{Events, answer, in_every_stage, working};
use crate::dressing::ask::{Answer, Choice};
use crate::dressing::event::{Event, Mismatch, Question};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::Dressing;
use crate::dressing::view::dents_of;
use crate::fault::{Found, ReedEvidence, ReedFault, ReedLook, ReedSeen, ReedTracing, trace_reed};
use crate::method::{Stage, StepId};
use crate::quantity::{Call, Calls, Shaft};

/// "It does not come out" while a group is sleyed: the ends first.
pub(super) fn uneven(d: &Dressing) -> Events {
    let sleying = d.current().is_some_and(|key| key.id == StepId::SleyGroup);
    let open = d.next_sleying().filter(|_| sleying);
    let (_, calls) = open.ok_or(Refusal::NothingToLookAt(Stage::Sley))?;
    Ok(vec![Event::Put(Question::ReedEnds { calls })])
}

/// Ends and dents of a group that is sleyed, or in work, do not come out.
pub(super) fn trace_group(d: &Dressing, stage: Option<Stage>, said: u32) -> Events {
    working(d)?;
    let groups = &d.plan().groups;
    let at = (said as usize).checked_sub(1);
    let group = at
        .and_then(|at| groups.get(at))
        .ok_or(Refusal::NoSuchGroup {
            said,
            last: groups.len() as u32,
        })?;
    let sleyed = d.ledger().of(Task::Sleyed).has_all(group.calls);
    let in_work = d
        .next_sleying()
        .is_some_and(|(open, _)| open.number == said && stage == Some(Stage::Sley));
    if !sleyed && !in_work {
        return Err(Refusal::NotSleyed { said });
    }
    let calls = group.calls;
    Ok(in_every_stage(
        stage,
        vec![Event::Put(Question::ReedEnds { calls })],
    ))
}

/// The ends left over are told: the tape next.
pub(super) fn told_ends(calls: Calls, said: &Answer) -> Events {
    let most = i64::from(calls.len());
    let ends_left = match said {
        Answer::Number(n) => answer::within(*n, -most, most)?,
        _ => return Err(Refusal::OtherAnswer(Question::ReedEnds { calls })),
    };
    Ok(vec![
        Event::Answered(said.clone()),
        Event::Put(Question::ReedTape { calls, ends_left }),
    ])
}

/// The report of the reed is whole; crossed ends leave no trace in it.
pub(super) fn told_tape(d: &Dressing, calls: Calls, ends_left: i64, said: &Answer) -> Events {
    let most = i64::from(calls.len());
    let tape = match said {
        Answer::Number(n) => Some(answer::within(*n, -most, most)?),
        _ => None,
    };
    let mismatch = Mismatch::Reed {
        calls,
        ends_left,
        tape,
        seen: Vec::new(),
    };
    let evidence = evidence(d, &mismatch).ok_or(Refusal::NothingToLookAt(Stage::Sley))?;
    trace_reed(&evidence).map_err(Refusal::Impossible)?;
    let found = found(d, &mismatch);
    let events = [Event::Answered(said.clone()), Event::Disagreed(mismatch)];
    Ok(events.into_iter().chain(found).collect())
}

/// A look at the reed is answered; where the counts agree and no ends cross, nothing is wrong.
pub(super) fn seen_in_reed(d: &Dressing, mismatch: &Mismatch, look: ReedSeen) -> Events {
    let mut after = mismatch.clone();
    if let Mismatch::Reed { seen, .. } = &mut after {
        seen.push(look);
    }
    let evidence = evidence(d, &after).ok_or(Refusal::WayOutFirst)?;
    trace_reed(&evidence).map_err(Refusal::Impossible)?;
    let mut events = vec![Event::Answered(Answer::ReedSeen(look))];
    let (tracing, clean) = tracing(d, &after);
    if clean && tracing.look.is_none() {
        events.push(Event::Settled);
    }
    events.extend(found(d, &after));
    Ok(events)
}

/// What is known of the reed; dents are numbered from the first one of these calls.
fn evidence(d: &Dressing, mismatch: &Mismatch) -> Option<ReedEvidence> {
    let Mismatch::Reed {
        calls,
        ends_left,
        tape,
        seen,
    } = mismatch
    else {
        return None;
    };
    let plan = d.plan();
    let upwards = plan.sley_from == plan.thread_from;
    let mut shafts: Vec<Shaft> = plan.threading.get(calls.indices())?.to_vec();
    if !upwards {
        shafts.reverse();
    }
    let dents = dents_of(plan, *calls, upwards);
    Some(ReedEvidence {
        dents: dents.iter().map(|dent| dent.ends).collect(),
        shafts,
        ends_left: *ends_left,
        tape: *tape,
        seen: seen.clone(),
    })
}

/// What the reed comes to, and whether counts and looks find nothing wrong. Where the counts agree
/// only ends that cross can be wrong, and that look is asked for.
pub(in crate::dressing) fn tracing(d: &Dressing, mismatch: &Mismatch) -> (ReedTracing, bool) {
    let Some(evidence) = evidence(d, mismatch) else {
        return (ReedTracing::default(), false);
    };
    let Ok(found) = trace_reed(&evidence) else {
        return (ReedTracing::default(), false);
    };
    let even = evidence.ends_left == 0 && evidence.tape.unwrap_or(0) == 0;
    let wrong = |seen: &ReedSeen| {
        !matches!(
            seen,
            ReedSeen::Crossed { dent: None } | ReedSeen::CannotTell { .. }
        )
    };
    if !even || evidence.seen.iter().any(wrong) {
        return (found, false);
    }
    let asked = evidence.seen.iter().any(|s| s.look() == ReedLook::Crossed);
    let nothing = ReedTracing {
        counts_agree: true,
        look: (!asked).then_some(ReedLook::Crossed),
        ..ReedTracing::default()
    };
    (nothing, true)
}

/// The ways out of a reed while the place is not known.
pub(super) fn of_reed(d: &Dressing, calls: Calls, choice: Choice) -> Events {
    match choice {
        // put right as it stands, or sleyed again as a whole: the group's own press comes next
        Choice::PutRight => Ok(Vec::new()),
        Choice::ThreadAgain | Choice::StepBack => Ok(taken_off(d, Task::Sleyed, calls)),
        Choice::LookAgain => Ok(vec![Event::Put(Question::ReedEnds { calls })]),
        Choice::LeaveOpen => Ok(so_marked(d, Task::Sleyed, Some(calls), None)),
        Choice::LoomHolds
        | Choice::Trace
        | Choice::ReadBack
        | Choice::Sight
        | Choice::Suspect(_)
        | Choice::Way(_) => Err(Refusal::NotThisWay),
    }
}

/// The one explanation that is left: the group is in the reed as far as its last dent, and what is
/// wrong in it is to be mended.
fn found(d: &Dressing, mismatch: &Mismatch) -> Vec<Event> {
    let Mismatch::Reed { calls, .. } = mismatch else {
        return Vec::new();
    };
    let (tracing, clean) = tracing(d, mismatch);
    let suspect = tracing
        .suspects
        .first()
        .filter(|_| tracing.settled && !clean);
    let (Some(suspect), Some(evidence)) = (suspect, evidence(d, mismatch)) else {
        return Vec::new();
    };
    let before: u32 = evidence
        .dents
        .iter()
        .take((suspect.dent as usize).saturating_sub(1))
        .sum();
    let upwards = d.plan().sley_from == d.plan().thread_from;
    let crossed = u32::from(suspect.kind == ReedFault::EndsCrossed);
    let call = if upwards {
        calls.first.0 + before
    } else {
        calls.last.0.saturating_sub(before + crossed)
    };
    let call = Call(call.clamp(calls.first.0, calls.last.0));
    let mut events = so_marked(d, Task::Sleyed, Some(*calls), None);
    events.push(Event::Disagreed(Mismatch::Found(Found::InReed(
        suspect.kind,
        call,
    ))));
    events
}
