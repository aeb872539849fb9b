//! The picture of the loom out of a dressing: what each group has come through, and where the
//! hand is. Owns the reading of the ledger for the eye; decides nothing. A warp of many groups is
//! shown in at most [`MOST_MARKS`] parts, so that the picture costs the same for every warp.

use super::work::edge;
use crate::dressing::ledger::Task;
use crate::dressing::view::View;
use crate::dressing::{Dressing, Ledger};
use crate::method::{Stage, StepId};
use crate::plan::{Floats, Group, Plan, Side};
use crate::quantity::Calls;
use crate::terminal::loom_picture::{Edge, Fill, GroupMark, HandMark, LoomPicture};
use crate::words::screen_words;

/// The most parts that a picture has.
const MOST_MARKS: usize = 100;

/// The picture for a view; `None` while a question or a mismatch is open, since the picture
/// would answer what only the loom may tell, and before anything is on the loom.
#[must_use]
pub fn loom_of(dressing: &Dressing, view: &View) -> Option<LoomPicture> {
    if matches!(view, View::Asking(_) | View::Disagreeing(_)) {
        return None;
    }
    let stage = dressing.stage().unwrap_or(Stage::Try);
    if stage == Stage::Prepare {
        return None;
    }
    let plan = dressing.plan();
    Some(LoomPicture {
        groups: marks(dressing, plan, stage),
        count: u32::try_from(plan.groups.len()).unwrap_or(u32::MAX),
        first_at: edge(plan.thread_from),
        place: place(stage),
        names: if stage == Stage::Wind {
            screen_words::PLACES_WOUND
        } else {
            screen_words::PLACES
        },
        hand: hand(view, plan),
        number: number(view),
        floats: floats(dressing, plan),
    })
}

/// The row of the picture that a stage works at.
fn place(stage: Stage) -> usize {
    match stage {
        Stage::Prepare | Stage::Wind | Stage::Spread | Stage::Beam => 0,
        Stage::Thread => 1,
        Stage::Sley => 2,
        Stage::TieOn | Stage::Try => 3,
    }
}

fn marks(dressing: &Dressing, plan: &Plan, stage: Stage) -> Vec<GroupMark> {
    let per_mark = plan.groups.len().div_ceil(MOST_MARKS).max(1);
    let orders = (stage == Stage::TieOn && per_mark == 1).then(|| orders(plan));
    plan.groups
        .chunks(per_mark)
        .filter_map(|part| mark(dressing.ledger(), part, stage, orders.as_deref()))
        .collect()
}

/// The order of tying of each group, group 1 first.
fn orders(plan: &Plan) -> Vec<u32> {
    let mut orders = vec![0; plan.groups.len()];
    for bundle in &plan.bundles {
        let at = bundle.group.checked_sub(1).map(|at| at as usize);
        if let Some(order) = at.and_then(|at| orders.get_mut(at)) {
            *order = bundle.number;
        }
    }
    orders
}

fn mark(
    ledger: &Ledger,
    part: &[Group],
    stage: Stage,
    orders: Option<&[u32]>,
) -> Option<GroupMark> {
    let (first, last) = (part.first()?, part.last()?);
    let calls = Calls::new(first.calls.first.0, last.calls.last.0)?;
    let share = |task| share(ledger, task, calls);
    let fill = |first, second| Fill {
        first: share(first),
        second: share(second),
    };
    let order = orders.and_then(|orders| orders.get(last.number as usize - 1).copied());
    Some(GroupMark {
        number: order.unwrap_or(last.number),
        ends: calls.len(),
        fills: [
            if stage == Stage::Wind {
                fill(Task::Wound, Task::Wound)
            } else {
                fill(Task::Spread, Task::Knotted)
            },
            fill(Task::Threaded, Task::Checked),
            fill(Task::Sleyed, Task::Sleyed),
            fill(Task::TiedFirst, Task::TiedSecond),
        ],
    })
}

fn share(ledger: &Ledger, task: Task, calls: Calls) -> f64 {
    let done: u32 = ledger
        .of(task)
        .pieces(calls)
        .iter()
        .filter(|(_, mark)| mark.is_some())
        .map(|(piece, _)| piece.len())
        .sum();
    f64::from(done) / f64::from(calls.len())
}

/// Where the hand is: in the middle of the ends that the view is about.
fn hand(view: &View, plan: &Plan) -> Option<HandMark> {
    let away = |side: Side| match side {
        Side::Left => Some(Edge::Right),
        Side::Right => Some(Edge::Left),
    };
    let (calls, going) = match view {
        View::Group(group) => (group.group.calls, away(plan.thread_from)),
        View::CountOut(batch) => (batch.batch.calls, away(plan.thread_from)),
        View::Call(call) => (call.calls, away(plan.thread_from)),
        View::UsedUp(batch) => (batch.batch.calls, away(plan.thread_from)),
        View::Sley(group) => (group.calls, away(plan.sley_from)),
        View::Tie(bundle) => (bundle.bundle.calls, None),
        View::Step(_)
        | View::Turn(_)
        | View::TieUp(_)
        | View::Shed(_)
        | View::Pick(_)
        | View::Asking(_)
        | View::Disagreeing(_)
        | View::Mending(_)
        | View::Resting(_)
        | View::Ends(_)
        | View::Ready(_) => return None,
    };
    let all = plan.threading.len().max(1) as f64;
    let middle = (f64::from(calls.first.0 - 1) + f64::from(calls.last.0)) / 2.0 / all;
    Some(HandMark {
        at: match plan.thread_from {
            Side::Left => middle,
            Side::Right => 1.0 - middle,
        },
        going,
    })
}

/// The number to show in any case.
fn number(view: &View) -> Option<u32> {
    match view {
        View::Group(group) => Some(group.group.number),
        View::Call(call) => Some(call.group.number),
        View::Sley(group) => Some(group.group.number),
        View::Tie(bundle) => Some(bundle.bundle.number),
        View::Step(_)
        | View::Turn(_)
        | View::CountOut(_)
        | View::UsedUp(_)
        | View::TieUp(_)
        | View::Shed(_)
        | View::Pick(_)
        | View::Asking(_)
        | View::Disagreeing(_)
        | View::Mending(_)
        | View::Resting(_)
        | View::Ends(_)
        | View::Ready(_) => None,
    }
}

/// The floating selvedges left and right, and whether each is sleyed.
fn floats(dressing: &Dressing, plan: &Plan) -> [Option<bool>; 2] {
    if plan.floats == Floats::None {
        return [None, None];
    }
    let past = |id: StepId| dressing.current().is_none_or(|key| key.id > id);
    let (first, last) = (past(StepId::SleyFirstFloat), past(StepId::SleyLastFloat));
    match plan.sley_from {
        Side::Left => [Some(first), Some(last)],
        Side::Right => [Some(last), Some(first)],
    }
}
