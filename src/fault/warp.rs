//! The tracing of a whole warp: a count was off several batches ago, or the last batch does not
//! come out. First which batch, then where in it.
//! Owns the search along the warp for one fault and when it is believed; the first of several is
//! sought in `warp_first`, and inside a batch by `trace`.

use super::impossible::Impossible;
use super::kind::FaultKind;
use super::warp_case::Case;
use super::warp_cases::cases;
use super::warp_confirm::{Belief, belief as belief_in};
use super::warp_evidence::{Drift, WarpEvidence, WarpSeen, WarpSuspect, WarpTracing};
use super::warp_first::first_of_several;
use super::warp_looks::best_look;
use super::weigh;
use crate::quantity::{Call, Calls};

/// Traces what a warp has left over or short to its batch and its place: one fault if one explains
/// all, else the first of several.
///
/// An answer that alone speaks against every single fault is looked at once more; given twice, it is
/// believed, and then more than one thing is wrong.
///
/// # Errors
/// [`Impossible`] where no weaver can have brought the evidence about.
pub fn trace_warp(evidence: &WarpEvidence) -> Result<WarpTracing, Impossible> {
    evidence.check()?;
    let seen = &evidence.seen;
    let fits = |case: &Case, at: usize| case.fits(evidence, &seen[at]);
    let weight = |case: &Case| case.weight;
    let (cases, dropped) = weigh::fitting(&cases(evidence), seen.len(), weight, fits);
    if cases.is_empty() {
        return Ok(first_of_several(evidence));
    }
    let doubted = dropped.map(|at| seen[at]);
    if let Some(doubted) = doubted.filter(|seen| evidence.times(&seen.look()) < 2) {
        return Ok(WarpTracing {
            suspects: suspects(evidence, &cases),
            look: Some(doubted.look()),
            again: true,
            doubted: Some(doubted),
            ..WarpTracing::default()
        });
    }
    Ok(one_fault(evidence, &cases, doubted))
}

fn one_fault(evidence: &WarpEvidence, cases: &[Case], doubted: Option<WarpSeen>) -> WarpTracing {
    let mut mendings: Vec<(FaultKind, Drift, u32)> = cases.iter().map(Case::mending).collect();
    mendings.sort_unstable();
    mendings.dedup();
    let tracing = WarpTracing {
        doubted,
        ..WarpTracing::default()
    };
    believed(evidence, cases, mendings.len() == 1, 1, tracing)
}

/// Where one mending is left it is looked at where it is before it is believed: two faults leave the
/// counts of another one often enough. Else the look that tells most; where none tells anything, the
/// knot that is to be read back.
pub(super) fn believed(
    evidence: &WarpEvidence,
    cases: &[Case],
    one: bool,
    each_side: usize,
    tracing: WarpTracing,
) -> WarpTracing {
    let belief = cases.first().filter(|_| one);
    let belief = belief.map(|case| belief_in(evidence, case, each_side));
    let look = match belief {
        Some(Belief::Seen) => None,
        Some(Belief::Wants(look)) => Some(look),
        Some(Belief::Hidden) | None => best_look(evidence, cases),
    };
    let settled = matches!(belief, Some(Belief::Seen));
    let suspects = suspects(evidence, cases);
    let same = |suspect: &WarpSuspect| suspect.knot == suspects[0].knot;
    let knot = suspects.first().and_then(|suspect| suspect.knot);
    let knot = knot.filter(|_| suspects.iter().all(same)).or(tracing.near);
    WarpTracing {
        settled,
        near: knot.filter(|_| !settled && look.is_none()),
        suspects,
        look,
        ..tracing
    }
}

/// The cases gathered by kind, with where each can be.
pub(super) fn suspects(evidence: &WarpEvidence, cases: &[Case]) -> Vec<WarpSuspect> {
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
                taken: case.taken(),
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
