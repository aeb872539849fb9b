//! The ways of putting a fault right, as moves with their cost.
//! Owns what each way costs; never makes the moves and never says them.

use super::evidence::Evidence;
use super::kind::FaultKind;
use super::standing::Standing;
use super::trace::Suspect;
use crate::quantity::{Call, Calls, Shaft};
use serde::{Deserialize, Serialize};

/// A way of putting things right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WayKind {
    /// Draw the whole batch out and thread it again.
    ThreadAgain,
    /// Draw out from the first wrong place on, and thread that again.
    FromTheFault,
    /// Put back or fetch what was counted out wrong.
    PutCountRight,
    /// Leave what stands and change the plan to it.
    AmendPlan,
    /// Leave it as it is; the cloth will show it.
    LeaveIt,
}

/// One thing to do, in order. Calls name filled heddles as they stand when the move is made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Move {
    /// Undo the knots of these calls.
    UndoKnots(Calls),
    /// Draw these ends out of their heddles.
    DrawOut(Calls),
    /// Put every heddle of these calls back with those not threaded.
    PushBack(Calls),
    /// Thread these calls as planned.
    Thread(Calls),
    /// Knot these calls again.
    Knot(Calls),
    /// Put so many counted-out ends back; negative: fetch so many.
    PutBackEnds(i64),
    /// Put so many counted-out heddles of a shaft back; negative: fetch so many.
    PutBackHeddles(Shaft, i64),
    /// The plan from this call on is what stands.
    Amend(Calls, Vec<Shaft>),
}

/// What a way costs.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Cost {
    /// Ends to draw out of heddles.
    pub ends_out: u32,
    /// Ends to thread.
    pub ends_thread: u32,
    /// Ends to sley again.
    pub ends_sley: u32,
    /// Knots to undo and tie again.
    pub knots: u32,
    /// Bundles to undo and tie again.
    pub bundles: u32,
    /// Repair heddles to hang.
    pub repair_heddles: u32,
    /// Seconds at the given pace.
    pub seconds: f64,
}

/// A way with its moves and cost.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Way {
    /// Which way.
    pub kind: WayKind,
    /// What to do, in order.
    pub moves: Vec<Move>,
    /// What it costs.
    pub cost: Cost,
}

/// How far the work has come, and at what pace.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// The last call that has been threaded in the whole warp.
    pub threaded_to: Call,
    /// The calls that are sleyed.
    pub sleyed: Option<Calls>,
    /// The bundles that are tied on.
    pub tied: Vec<Calls>,
    /// Seconds to thread one end, from the log or a first guess of 12.
    pub seconds_per_end: f64,
}

/// The ways of putting the suspect right, the first to be offered first.
#[must_use]
pub fn mend(evidence: &Evidence, suspect: &Suspect, work: &Work) -> Vec<Way> {
    let mut ways = Vec::new();
    let stands = Standing::after(evidence, &suspect.faults);
    let made = stands.line.len();
    if let Some(calls) = run(evidence, 0, made) {
        ways.push(again(evidence, WayKind::ThreadAgain, calls, work));
    }
    if suspect.faults.iter().all(|fault| fault.kind.is_miscount()) {
        ways.insert(0, put_right(suspect));
        return ways;
    }
    if let Some(calls) = first_place(&stands, evidence).and_then(|at| run(evidence, at, made)) {
        ways.push(again(evidence, WayKind::FromTheFault, calls, work));
    }
    ways
}

/// The first place where anything differs from the plan.
fn first_place(stands: &Standing, evidence: &Evidence) -> Option<usize> {
    let planned = evidence.planned.iter().map(|s| s.0);
    let line = stands.line.iter().zip(planned).position(|(&a, b)| a != b);
    let marked = stands
        .doubled
        .iter()
        .chain(&stands.hanging)
        .map(|&at| usize::from(at));
    line.into_iter().chain(marked).min()
}

fn run(evidence: &Evidence, from: usize, to: usize) -> Option<Calls> {
    let to = to.checked_sub(1)?;
    Calls::new(evidence.call_of(from).0, evidence.call_of(to).0)
}

fn again(evidence: &Evidence, kind: WayKind, calls: Calls, work: &Work) -> Way {
    let last = evidence.call_of((evidence.calls_made as usize).saturating_sub(1));
    let thread = Calls {
        first: calls.first,
        last: last.max(calls.first),
    };
    let moves = vec![
        Move::UndoKnots(calls),
        Move::DrawOut(calls),
        Move::PushBack(calls),
        Move::Thread(thread),
        Move::Knot(thread),
    ];
    let (ends_out, ends_thread) = (calls.len(), thread.len());
    // drawing out takes about a fifth of the time of threading (a judgement)
    let seconds =
        work.seconds_per_end * (f64::from(ends_out) / 5.0 + f64::from(ends_thread)) + 20.0;
    Way {
        kind,
        moves,
        cost: Cost {
            ends_out,
            ends_thread,
            knots: 1,
            seconds,
            ..Cost::default()
        },
    }
}

fn put_right(suspect: &Suspect) -> Way {
    let put = |fault: &super::kind::Fault| match (fault.kind, fault.shaft) {
        (FaultKind::HeddlesMiscounted, Some(shaft)) => Move::PutBackHeddles(shaft, fault.count),
        _ => Move::PutBackEnds(fault.count),
    };
    Way {
        kind: WayKind::PutCountRight,
        moves: suspect.faults.iter().map(put).collect(),
        cost: Cost {
            seconds: 20.0,
            ..Cost::default()
        },
    }
}
