//! The tracing of a whole warp: a count was off several batches ago, or the last batch does not
//! come out. First which batch, then where in it.
//! Owns the search along the warp for one fault; the search inside a batch is `trace`.

use super::impossible::Impossible;
use super::kind::FaultKind;
use super::look::alternates;
use super::warp_case::{Case, cases};
use super::warp_evidence::{Drift, WarpEvidence, WarpLook, WarpSeen, WarpSuspect, WarpTracing};
use super::weights;
use crate::quantity::{Call, Calls};
use std::collections::BTreeMap;

/// At most so many knots are gone over at one look.
const KNOTS_AT_A_LOOK: u32 = 12;

/// Traces what a warp has left over or short to its batch and its place, for one fault.
///
/// # Errors
/// [`Impossible`] where no weaver can have brought the evidence about.
pub fn trace_warp(evidence: &WarpEvidence) -> Result<WarpTracing, Impossible> {
    evidence.check()?;
    let (cases, doubted) = fitting(evidence, cases(evidence));
    let mut mendings: Vec<(FaultKind, Drift, u32)> = cases.iter().map(Case::mending).collect();
    mendings.sort_unstable();
    mendings.dedup();
    // one fault that is left is looked at where it is before it is believed: two faults leave the
    // counts of another one often enough
    let one = mendings.len() == 1 && doubted.is_none();
    let confirm = cases.first().filter(|_| one);
    let confirm = confirm.and_then(|case| place_unseen(evidence, case));
    let settled = one && confirm.is_none();
    let look = match confirm {
        Some(look) => Some(look),
        None if settled => None,
        None => best_look(evidence, &cases),
    };
    Ok(WarpTracing {
        settled,
        suspects: suspects(evidence, &cases),
        look,
        doubted,
    })
}

/// The look at the first heddle that stands wrong, where it was not looked at yet.
fn place_unseen(evidence: &WarpEvidence, case: &Case) -> Option<WarpLook> {
    let look = WarpLook::Shaft {
        call: case.first_wrong(evidence)?,
    };
    let asked = evidence.seen.iter().any(|seen| seen.look() == look);
    (!asked).then_some(look)
}

/// The cases that fit all answers, or all but the one whose doubt leaves most.
fn fitting(evidence: &WarpEvidence, cases: Vec<Case>) -> (Vec<Case>, Option<WarpSeen>) {
    let fits = |case: &Case, but: Option<usize>| {
        let seen = evidence
            .seen
            .iter()
            .enumerate()
            .filter(|(at, _)| Some(*at) != but);
        seen.into_iter().all(|(_, seen)| case.fits(evidence, seen))
    };
    let all: Vec<Case> = cases
        .iter()
        .filter(|case| fits(case, None))
        .copied()
        .collect();
    if !all.is_empty() || cases.is_empty() {
        return (all, None);
    }
    let without = (0..evidence.seen.len()).map(|but| {
        let left: Vec<Case> = cases
            .iter()
            .filter(|c| fits(c, Some(but)))
            .copied()
            .collect();
        let weight: f64 = left.iter().map(|case| case.weight).sum();
        (but, left, weight)
    });
    let best = without.max_by(|a, b| a.2.total_cmp(&b.2));
    best.map_or((Vec::new(), None), |(but, left, _)| {
        (left, evidence.seen.get(but).copied())
    })
}

fn suspects(evidence: &WarpEvidence, cases: &[Case]) -> Vec<WarpSuspect> {
    let all: f64 = cases.iter().map(|case| case.weight).sum();
    let mut found: Vec<WarpSuspect> = Vec::new();
    for case in cases {
        let call = Call(case.call);
        let share = case.weight / all;
        let known = found
            .iter_mut()
            .find(|s| s.kind == case.kind && s.drift == case.drift);
        if let Some(suspect) = known {
            suspect.calls.first = suspect.calls.first.min(call);
            suspect.calls.last = suspect.calls.last.max(call);
            suspect.share += share;
        } else {
            let calls = Calls {
                first: call,
                last: call,
            };
            found.push(WarpSuspect {
                kind: case.kind,
                drift: case.drift,
                calls,
                knot: None,
                share,
            });
        }
    }
    for suspect in &mut found {
        let (first, last) = (suspect.calls.first.0, suspect.calls.last.0);
        let knot = evidence
            .knot_of(first)
            .filter(|_| evidence.knot_of(first) == evidence.knot_of(last));
        suspect.knot = knot.and_then(|at| u32::try_from(at + 1).ok());
    }
    found.sort_by(|a, b| b.share.total_cmp(&a.share));
    found
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
        if let Some(middle) = middle(cases.iter().filter(|case| case.drift == drift)) {
            // the first of a knot needs no counting within it: those about are weighed too
            let knot = evidence.knot_of(middle).unwrap_or(0);
            let about = evidence
                .knots
                .get(knot.saturating_sub(2)..)
                .unwrap_or_default();
            looks.extend(
                about
                    .iter()
                    .take(5)
                    .map(|knot| WarpLook::Shaft { call: knot.first }),
            );
            let near = middle.saturating_sub(12).max(low)..=(middle + 12).min(high);
            looks.extend(near.map(|call| WarpLook::Shaft { call: Call(call) }));
        }
    }
    let number = |call: u32| {
        evidence
            .knot_of(call)
            .and_then(|at| u32::try_from(at + 1).ok())
    };
    if let (Some(first), Some(last)) = (number(low), number(high)) {
        let last = last.min(first + KNOTS_AT_A_LOOK - 1);
        looks.push(WarpLook::OddKnot { first, last });
    }
    looks.extend(risen(cases, number(low).zip(number(high))));
    let asked = |look: &WarpLook| evidence.seen.iter().any(|seen| seen.look() == *look);
    looks.retain(|look| !asked(look));
    looks
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
    if cases.iter().any(|case| case.taken().is_none()) {
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

/// The call of the case at half the weight.
fn middle<'a>(mut cases: impl Iterator<Item = &'a Case> + Clone) -> Option<u32> {
    let half: f64 = cases.clone().map(|case| case.weight).sum::<f64>() / 2.0;
    let mut sum = 0.0;
    let at_half = cases.find(|case| {
        sum += case.weight;
        sum >= half
    });
    at_half.map(|case| case.call)
}

fn best_look(evidence: &WarpEvidence, cases: &[Case]) -> Option<WarpLook> {
    let worth = |look: &WarpLook| {
        let mut by_answer: BTreeMap<u64, f64> = BTreeMap::new();
        for case in cases {
            *by_answer.entry(case.answer(evidence, look)).or_default() += case.weight;
        }
        let mut weights: Vec<f64> = by_answer.into_values().collect();
        weights.sort_by(f64::total_cmp);
        let all: f64 = weights.iter().sum();
        let bits: f64 = weights
            .iter()
            .map(|w| w / all)
            .map(|share| -share * share.log2())
            .sum();
        bits / seconds(evidence, look)
    };
    let looks = open_looks(evidence, cases)
        .into_iter()
        .map(|look| (worth(&look), look));
    let best = looks
        .filter(|(worth, _)| *worth > 1e-9)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    best.map(|(_, look)| look)
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
            let knots = evidence
                .knots
                .get(first as usize - 1..last as usize)
                .unwrap_or_default();
            let ends: u32 = knots.iter().map(|knot| knot.len()).sum();
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
