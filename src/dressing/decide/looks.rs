//! Blind looks: which fact is asked when, and what the record says of it. The figure never leaves
//! this folder while its look is open.

use super::next::put;
use super::{Events, working};
use crate::dressing::event::{Event, Look, Reason, StepKey, When};
use crate::dressing::ledger::Task;
use crate::dressing::refusal::Refusal;
use crate::dressing::state::{Dressing, bit};
use crate::method::{Stage, StepId};
use crate::plan::Batch;
use crate::quantity::{Call, Calls, Shaft};

/// What the record says of a look; what a true answer would be.
pub(in crate::dressing) fn expected(d: &Dressing, look: Look) -> i64 {
    match look {
        Look::GroupsWound => groups_done(d, Task::Wound),
        Look::GroupsSpread => groups_done(d, Task::Spread),
        Look::GroupsKnotted => groups_done(d, Task::Knotted),
        Look::GroupsCut => groups_done(d, Task::Cut),
        Look::Turns => i64::from(d.now.turns),
        Look::LastShaft => last_threaded(d).map_or(0, |call| shaft(d, call)),
        Look::ShaftOf { call } => shaft(d, call),
        Look::Together { .. } | Look::ReadBack { .. } => 0,
        Look::BatchesKnotted { .. } => batches_knotted(d),
        Look::GroupsSleyed => groups_sleyed(d),
        Look::BundlesFirst => bundles_done(d, Task::TiedFirst),
        Look::BundlesSecond => bundles_done(d, Task::TiedSecond),
        Look::ShedsClean => i64::from(d.now.sheds.saturating_sub(d.now.unclear)),
        Look::EndsUp { shed, group } => ends_up(d, shed, group),
    }
}

/// No warp has more groups, bundles or sheds (ends at most 100,000). A nearer bound would tell the
/// figure to whoever types too much.
const MOST: i64 = 100_000;

/// The least and the most that a look's answer can be; said in a refusal, so never the plan's own
/// count of what is asked.
pub(super) fn range(d: &Dressing, look: Look) -> (i64, i64) {
    match look {
        Look::GroupsWound
        | Look::GroupsSpread
        | Look::GroupsKnotted
        | Look::GroupsCut
        | Look::BatchesKnotted { .. }
        | Look::GroupsSleyed
        | Look::BundlesFirst
        | Look::BundlesSecond
        | Look::Turns
        | Look::ShedsClean
        | Look::EndsUp { .. } => (0, MOST),
        Look::LastShaft | Look::ShaftOf { .. } | Look::ReadBack { .. } => {
            (1, i64::from(d.plan().shafts))
        }
        Look::Together { calls } => (0, i64::from(calls.len())),
    }
}

fn shaft(d: &Dressing, call: Call) -> i64 {
    let at = call.0 as usize;
    let Shaft(shaft) = d.plan().threading[at - 1];
    i64::from(shaft)
}

/// The last end in the run of threaded ends from the first call on.
pub(in crate::dressing) fn last_threaded(d: &Dressing) -> Option<Call> {
    let gap = d.ledger().of(Task::Threaded).first_gap(d.calls());
    let last = gap.map_or(d.calls(), |gap| gap.0 - 1);
    (last >= 1).then_some(Call(last))
}

fn ends_up(d: &Dressing, shed: u32, group: u32) -> i64 {
    let shed = d.plan().shed_to_try(shed);
    let found = shed.and_then(|shed| shed.groups.into_iter().find(|g| g.group == group));
    found.map_or(0, |group| i64::from(group.rising))
}

/// The look that a shed asks for: the ends up in one group, another group from shed to shed.
pub(super) fn look_at_shed(d: &Dressing, shed: u32) -> Event {
    let groups = u32::try_from(d.plan().groups.len())
        .unwrap_or(u32::MAX)
        .max(1);
    let group = shed.wrapping_mul(7).wrapping_add(shed / 3) % groups + 1;
    put(Look::EndsUp { shed, group }, Reason::ShedOpen)
}

/// A look is passed over; a shed goes on from there, on record as not looked at.
pub(super) fn passed_over(d: &Dressing, reason: Reason) -> Vec<Event> {
    let mut events = vec![Event::PassedOver];
    events.extend(shed_done(d, reason));
    events
}

/// The open shed is done with, whatever came of its look.
pub(super) fn shed_done(d: &Dressing, reason: Reason) -> Option<Event> {
    let key = d.current().filter(|key| key.id == StepId::OpenShed)?;
    (reason == Reason::ShedOpen).then_some(Event::StepDone(key))
}

fn groups_done(d: &Dressing, task: Task) -> i64 {
    d.next_group(task)
        .map_or(d.plan().groups.len() as i64, |group| {
            i64::from(group.number) - 1
        })
}

/// Counted one by one: after a change of side they stand at both edges.
fn groups_sleyed(d: &Dressing) -> i64 {
    let sleyed = d.ledger().of(Task::Sleyed);
    let groups = d.plan().groups.iter();
    groups.filter(|group| sleyed.has_all(group.calls)).count() as i64
}

/// Batches counted off and knotted, from the first one on.
fn batches_knotted(d: &Dressing) -> i64 {
    let open = d.next_batch().map(|batch| i64::from(batch.number) - 1);
    open.unwrap_or(d.plan().batches.len() as i64)
}

fn bundles_done(d: &Dressing, round: Task) -> i64 {
    d.next_bundle(round)
        .map_or(d.plan().bundles.len() as i64, |bundle| {
            i64::from(bundle.number) - 1
        })
}

/// The fact of this stage that a weaver can look at when she comes back; `None` where nothing that
/// can be counted is on the loom yet.
pub(super) fn fact_of_stage(d: &Dressing, stage: Option<Stage>) -> Option<Look> {
    let has = |task| d.ledger().of(task).count() > 0;
    let step = d.current()?.id;
    match stage? {
        Stage::Prepare => None,
        Stage::Wind => has(Task::Wound).then_some(Look::GroupsWound),
        Stage::Spread => has(Task::Spread).then_some(Look::GroupsSpread),
        Stage::Beam if has(Task::Cut) => Some(Look::GroupsCut),
        Stage::Beam if has(Task::Knotted) => Some(Look::GroupsKnotted),
        Stage::Beam => (step == StepId::BeamTurn && d.now.turns > 0).then_some(Look::Turns),
        Stage::Thread => has(Task::Threaded).then_some(Look::LastShaft),
        Stage::Sley => has(Task::Sleyed).then_some(Look::GroupsSleyed),
        Stage::TieOn if has(Task::TiedSecond) => Some(Look::BundlesSecond),
        Stage::TieOn => has(Task::TiedFirst).then_some(Look::BundlesFirst),
        Stage::Try => (d.now.sheds > 0).then_some(Look::ShedsClean),
    }
}

/// The look before a step that hands cannot take back, once.
pub(super) fn look_before(d: &Dressing, key: StepKey) -> Option<Event> {
    let look = match key.id {
        StepId::CutLoops if d.ledger().of(Task::Cut).count() == 0 => Look::GroupsKnotted,
        StepId::SticksOut => Look::ShedsClean,
        _ => return None,
    };
    let looked = d.now.looked_before & bit(key.id) != 0;
    (!looked).then(|| put(look, Reason::NoReturn))
}

/// A look at the first batch end at or after a group's end: each of the first three groups, then
/// every third while looks come out clean (starting values, no source).
pub(super) fn look_at_group_end(d: &Dressing, batch: &Batch) -> Option<Event> {
    let group = evened_group(d, batch)?;
    let often = group <= 3 || d.now.clean_looks < 2;
    if !often && !group.is_multiple_of(3) {
        return None;
    }
    Some(put(super::tracing::silent_look(d, batch), Reason::GroupEnd))
}

/// The last group whose end lies in the batch.
pub(in crate::dressing) fn evened_group(d: &Dressing, batch: &Batch) -> Option<u32> {
    let at = d.group_at(batch.calls.last)?;
    if at.calls.last == batch.calls.last {
        return Some(at.number);
    }
    (at.number > 1 && at.calls.first > batch.calls.first).then(|| at.number - 1)
}

/// The window has its focus again after she was away: a press may have gone astray.
pub(super) fn back_at_the_loom(d: &Dressing, stage: Option<Stage>, when: When) -> Events {
    working(d)?;
    let Some(at) = stage else {
        return Err(Refusal::AlreadyReady);
    };
    let look = fact_of_stage(d, stage).ok_or(Refusal::NothingToLookAt(at))?;
    let last = d.last().map_or(when.elapsed_ms, |last| last.elapsed_ms);
    let gap_ms = when.elapsed_ms.saturating_sub(last);
    Ok(vec![
        Event::Interrupted { gap_ms },
        put(look, Reason::Interruption),
    ])
}

/// "Count": she wants to look herself.
pub(super) fn count(d: &Dressing, stage: Option<Stage>) -> Events {
    working(d)?;
    match stage {
        Some(
            stage @ (Stage::Prepare
            | Stage::Wind
            | Stage::Spread
            | Stage::Beam
            | Stage::Thread
            | Stage::Sley
            | Stage::TieOn
            | Stage::Try),
        ) => fact_of_stage(d, Some(stage))
            .map(|look| vec![put(look, Reason::Wanted)])
            .ok_or(Refusal::NothingToLookAt(stage)),
        None => Err(Refusal::AlreadyReady),
    }
}

/// After a long time without a press the press does not count: the look comes first.
pub(super) fn after_interruption(
    d: &Dressing,
    stage: Option<Stage>,
    when: When,
) -> Option<Vec<Event>> {
    let last = d.last()?;
    let gap_ms = when.elapsed_ms.saturating_sub(last.elapsed_ms);
    if gap_ms <= d.pace().interruption_ms(stage?) {
        return None;
    }
    let look = fact_of_stage(d, stage)?;
    Some(vec![
        Event::Interrupted { gap_ms },
        put(look, Reason::Interruption),
    ])
}

/// Going on after a rest: after a stop for today the look comes first, after a pause the work.
pub(super) fn after_rest(d: &Dressing, stage: Option<Stage>) -> Vec<Event> {
    use crate::dressing::state::{Mood, Rest};
    let stopped = d.rest() == Some(Rest::Stopped) && *d.mood() == Mood::Working;
    fact_of_stage(d, stage)
        .filter(|_| stopped)
        .map(|look| {
            vec![
                Event::Interrupted { gap_ms: 0 },
                put(look, Reason::CameBack),
            ]
        })
        .unwrap_or_default()
}

/// The runs of groups from the first in order that a count of the loom covers, for a task.
pub(super) fn first_groups(d: &Dressing, count: i64) -> (Option<Calls>, Option<Calls>) {
    let groups = &d.plan().groups;
    let count = usize::try_from(count).unwrap_or(0).min(groups.len());
    let last = groups[..count].last().map_or(0, |group| group.calls.last.0);
    (Calls::new(1, last), Calls::new(last + 1, d.calls()))
}
