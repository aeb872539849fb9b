//! The looks along a warp that are worth weighing, and the choice among them.
//! Owns what each costs; never reads an answer.

use super::kind::FaultKind;
use super::look::alternates;
use super::warp_case::Case;
use super::warp_evidence::{Drift, WarpEvidence, WarpLook};
use super::{weigh, weights};
use crate::quantity::Call;

/// At most so many knots are gone over at one look.
pub(super) const KNOTS_AT_A_LOOK: u32 = 12;

/// So many heddles after the last place where a fault can be are weighed too.
const AFTER: u32 = 6;

/// The look along the warp that tells most about these cases for its seconds.
pub(super) fn best_look(evidence: &WarpEvidence, cases: &[Case]) -> Option<WarpLook> {
    let worth = |look: &WarpLook| {
        let answers = cases
            .iter()
            .map(|case| (case.answer(evidence, look), case.weight));
        weigh::bits(answers) / seconds(evidence, look)
    };
    weigh::best(open_looks(evidence, cases), worth)
}

/// Looks worth weighing: heddles about the middle of where the fault can be, the knots about it,
/// and the looks along the whole warp.
fn open_looks(evidence: &WarpEvidence, cases: &[Case]) -> Vec<WarpLook> {
    let mut looks = Vec::new();
    let (Some(low), Some(high)) = (
        cases.iter().map(|case| case.call).min(),
        cases.iter().map(|case| case.call).max(),
    ) else {
        return looks;
    };
    if alternates(evidence.planned.iter().map(|shaft| shaft.0)) {
        looks.push(WarpLook::Together);
    }
    looks.push(WarpLook::Hanging);
    // a shift to the end is halved at its own middle: what stays in one knot stays in the list
    // until that knot is counted, and must not draw the middle to itself
    for drift in [Drift::ToTheEnd, Drift::KnotOnly] {
        let of: Vec<Case> = cases.iter().filter(|c| c.drift == drift).copied().collect();
        if let Some(middle) = weigh::middle(&of, |case| case.weight) {
            // what tells two faults of one place apart shows in the heddles after it
            let to = (high + AFTER).min(evidence.stretch.last.0);
            heddles_about(evidence, middle.call, (low, to), &mut looks);
        }
    }
    let knots = evidence.knot_number(low).zip(evidence.knot_number(high));
    if let Some((first, last)) = knots {
        let last = last.min(first + KNOTS_AT_A_LOOK - 1);
        looks.push(WarpLook::OddKnot { first, last });
    }
    looks.extend(risen(cases, knots));
    looks.retain(|look| evidence.times(look) == 0);
    looks
}

/// The heddles about a call. The first of a knot needs no counting within it: those about are
/// weighed too.
fn heddles_about(
    evidence: &WarpEvidence,
    middle: u32,
    (low, high): (u32, u32),
    looks: &mut Vec<WarpLook>,
) {
    let knot = evidence.knot_of(middle).unwrap_or(0);
    let about = evidence.knots.get(knot.saturating_sub(2)..);
    let about = about.unwrap_or_default().iter().take(5);
    looks.extend(about.map(|knot| WarpLook::Shaft { call: knot.first }));
    let near = middle.saturating_sub(12).max(low)..=(middle + 12).min(high);
    looks.extend(near.map(|call| WarpLook::Shaft { call: Call(call) }));
}

/// Where all that is left is an end on a wrong shaft, that shaft lifted alone: over all knots where
/// it can be, over half of them, and over a few.
fn risen(cases: &[Case], knots: Option<(u32, u32)>) -> Vec<WarpLook> {
    let Some((first, to)) = knots.filter(|(first, last)| first < last) else {
        return Vec::new();
    };
    let Some(shaft) = cases.first().and_then(Case::taken) else {
        return Vec::new();
    };
    if cases.iter().any(|case| case.kind != FaultKind::WrongShaft) {
        return Vec::new();
    }
    let mut lasts = vec![
        to,
        first + (to - first) / 2,
        to.min(first + KNOTS_AT_A_LOOK - 1),
    ];
    lasts.dedup();
    let look = |last| WarpLook::Risen { first, last, shaft };
    lasts.into_iter().map(look).collect()
}

/// What a look along the warp costs in seconds; see `weights`.
fn seconds(evidence: &WarpEvidence, look: &WarpLook) -> f64 {
    match *look {
        WarpLook::Shaft { call } => {
            let first = evidence.knots.iter().any(|knot| knot.first == call);
            weights::SHAFT_IN_A_KNOT
                + if first {
                    0.0
                } else {
                    weights::COUNTING_INTO_A_KNOT
                }
        }
        WarpLook::OddKnot { first, last } => {
            let knots = evidence.knots.get(first as usize - 1..last as usize);
            let ends: u32 = knots
                .unwrap_or_default()
                .iter()
                .map(|knot| knot.len())
                .sum();
            weights::A_LOOK + weights::COUNTING_AN_END * f64::from(ends)
        }
        WarpLook::Risen { first, last, .. } => {
            weights::A_LOOK + weights::KNOT_AT_A_GLANCE * f64::from(last - first + 1)
        }
        WarpLook::Together | WarpLook::Hanging => {
            weights::A_LOOK + weights::LOOKING_ALONG_AN_END * f64::from(evidence.stretch.len())
        }
    }
}
