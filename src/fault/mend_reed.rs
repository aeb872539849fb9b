//! The ways of putting a fault of the reed right, with what they cost.
//! Owns which ways there are; never finds a fault and never says one.

use super::reed_evidence::{ReedEvidence, ReedFault, ReedSuspect};
use super::way::{Cost, Move, Way, WayKind, Work};
use crate::quantity::{Call, Calls};

/// The ways of putting a fault of the reed right. `calls` are the stretch's, in the order of
/// sleying from `calls.first` up; the ends from the fault on, away from where sleying started, go to
/// their planned places again. Crossed ends need only the two.
#[must_use]
pub fn mend_reed(
    evidence: &ReedEvidence,
    suspect: &ReedSuspect,
    calls: Calls,
    work: &Work,
) -> Vec<Way> {
    let before: u32 = evidence
        .dents
        .iter()
        .take((suspect.dent as usize).saturating_sub(1))
        .sum();
    let first = Call((calls.first.0 + before).min(calls.last.0));
    mend_reed_at(suspect.kind, first, calls.last, work)
}

/// The same for a fault at a call: the first that lies wrong in the direction of sleying, or the first
/// of two that cross. `last` is the last call of the warp or of the stretch.
#[must_use]
pub fn mend_reed_at(kind: ReedFault, call: Call, last: Call, work: &Work) -> Vec<Way> {
    let run = match kind {
        ReedFault::EndsCrossed => Calls::new(call.0, (call.0 + 1).min(last.0)),
        ReedFault::DentSkipped
        | ReedFault::EndTooMany
        | ReedFault::EndTooFew
        | ReedFault::OrderAhead
        | ReedFault::OrderBehind => work
            .sleyed_from(call)
            .or_else(|| Calls::new(call.0, last.0)),
    };
    let again = run.map(|run| Way {
        kind: WayKind::FromTheFault,
        moves: vec![
            Move::UndoKnots(run),
            Move::DrawFromReed(run),
            Move::Sley(run),
            Move::Knot(run),
        ],
        cost: Cost {
            ends_sley: run.len(),
            knots: 1,
            bundles: work.bundles_in(run),
            ..Cost::default()
        }
        .at_pace(work.seconds_per_end),
    });
    let leave = Way {
        kind: WayKind::LeaveIt,
        moves: Vec::new(),
        cost: Cost::default(),
    };
    again.into_iter().chain([leave]).collect()
}
