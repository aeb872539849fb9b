//! The lists of single faults along a warp: those that leave the counted residue, and those that can
//! be in a few calls whatever was counted.
//! Owns how common each is; never fits an answer.

use super::evidence::counts;
use super::kind::FaultKind;
use super::warp_case::Case;
use super::warp_evidence::{Drift, WarpEvidence};
use super::weights;
use crate::plan::handfuls;
use crate::quantity::{Calls, Shaft};

/// What a fault leaves over: ends, and heddles on the shafts that it touches.
type Leaves<'a> = &'a dyn Fn(i64, &[(u8, i64)]) -> bool;

/// All cases with the evidence's residue, in the order of their calls.
pub(super) fn cases(evidence: &WarpEvidence) -> Vec<Case> {
    let wrong = wrong_shaft(evidence);
    let taken = |own: u8| {
        wrong
            .filter(|&(over, _)| over == own)
            .map(|(_, taken)| taken)
    };
    let leaves = |ends: i64, touched: &[(u8, i64)]| leaves(evidence, ends, touched);
    let mut all = Vec::new();
    singles(evidence, evidence.stretch, &taken, &leaves, &mut all);
    for knot in &evidence.knots {
        if knot.last >= evidence.stretch.first && knot.first <= evidence.stretch.last {
            whole_handfuls(evidence, *knot, &leaves, &mut all);
        }
    }
    all.sort_by_key(|case| case.call);
    all
}

/// All faults that can be in these calls, whatever was counted: where more than one thing is wrong,
/// the counts tell nothing of each.
pub(super) fn cases_within(evidence: &WarpEvidence, calls: Calls) -> Vec<Case> {
    let any = |_: i64, _: &[(u8, i64)]| true;
    let mut all = Vec::new();
    singles(evidence, calls, &|_| None, &any, &mut all);
    for call in calls.first.0..=calls.last.0 {
        let own = evidence.shaft_of(call);
        for shaft in (1..=evidence.shafts).filter(|&shaft| shaft != own) {
            let share = 1.0 / f64::from(evidence.shafts);
            all.push(on_one_call(
                evidence,
                FaultKind::WrongShaft,
                call,
                shaft,
                share,
            ));
        }
        if own != evidence.shaft_of(call + 1) && evidence.shaft_of(call + 1) != 0 {
            let kind = FaultKind::NeighboursExchanged;
            all.push(on_one_call(evidence, kind, call, own, 1.0));
        }
    }
    for knot in &evidence.knots {
        if knot.last >= calls.first && knot.first <= calls.last {
            whole_handfuls(evidence, *knot, &any, &mut all);
        }
    }
    all.retain(|case| calls.first.0 <= case.call && case.call <= calls.last.0);
    all.sort_by_key(|case| case.call);
    all
}

/// A fault that nothing after it follows.
fn on_one_call(evidence: &WarpEvidence, kind: FaultKind, call: u32, shaft: u8, share: f64) -> Case {
    Case {
        kind,
        drift: Drift::KnotOnly,
        call,
        len: 1,
        shaft,
        other_side: shaft % 2 != evidence.shaft_of(call) % 2,
        run: call,
        weight: weights::per_thousand_batches(kind) * share,
    }
}

/// The planned shaft and the one that was taken instead, where the counts are those of a single end
/// on a wrong shaft.
fn wrong_shaft(evidence: &WarpEvidence) -> Option<(u8, u8)> {
    let left = evidence
        .heddles_left
        .as_ref()
        .filter(|_| evidence.ends_left == 0)?;
    let on = |by: i64| {
        left.iter()
            .zip(1..)
            .find(|&(&left, _)| left == by)
            .map(|(_, shaft)| shaft)
    };
    let (over, short) = (on(1)?, on(-1)?);
    leaves(evidence, 0, &[(over, 1), (short, -1)]).then_some((over, short))
}

/// Whether ends, and heddles where they were counted, are just these.
fn leaves(evidence: &WarpEvidence, ends: i64, touched: &[(u8, i64)]) -> bool {
    let Some(left) = &evidence.heddles_left else {
        return evidence.ends_left == ends;
    };
    let by = |shaft: u8| -> i64 {
        touched
            .iter()
            .filter(|&&(on, _)| on == shaft)
            .map(|&(_, by)| by)
            .sum()
    };
    evidence.ends_left == ends && left.iter().zip(1..).all(|(&left, shaft)| left == by(shaft))
}

/// Calls skipped, repeated or doubled, ends hanging, and ends on the shaft that was taken instead.
fn singles(
    evidence: &WarpEvidence,
    calls: Calls,
    taken: &dyn Fn(u8) -> Option<u8>,
    leaves: Leaves<'_>,
    all: &mut Vec<Case>,
) {
    let mut run = calls.first.0;
    for call in calls.first.0..=calls.last.0 {
        let here = evidence.shaft_of(call);
        if here != evidence.shaft_of(run) {
            run = call;
        }
        let knot = evidence
            .knot_of(call)
            .map_or(call, |at| evidence.knots[at].first.0);
        for (kind, sign) in [
            (FaultKind::PositionSkipped, 1),
            (FaultKind::PositionRepeated, -1),
        ] {
            if leaves(sign, &[(here, sign)]) {
                let one = on_one_call(evidence, kind, call, here, 0.5);
                let (drift, in_knot) = (Drift::ToTheEnd, run.max(knot));
                if !last_knot(evidence, call) {
                    all.push(Case {
                        run: in_knot,
                        ..one
                    });
                }
                all.push(Case { run, drift, ..one });
            }
        }
        if leaves(-1, &[]) {
            for kind in [FaultKind::EndsDoubled, FaultKind::EndHanging] {
                all.push(on_one_call(evidence, kind, call, here, 1.0));
            }
        }
        if let Some(taken) = taken(here) {
            all.push(on_one_call(
                evidence,
                FaultKind::WrongShaft,
                call,
                taken,
                1.0,
            ));
        }
    }
}

/// In the last knot it is the same whether a shift stays in its knot or goes on to the end.
fn last_knot(evidence: &WarpEvidence, call: u32) -> bool {
    evidence.knot_of(call) == evidence.knot_of(evidence.stretch.last.0)
}

/// Handfuls of two calls or more of one knot, skipped or repeated whole.
fn whole_handfuls(evidence: &WarpEvidence, knot: Calls, leaves: Leaves<'_>, all: &mut Vec<Case>) {
    let calls: Vec<Shaft> = (knot.first.0..=knot.last.0)
        .map(|call| Shaft(evidence.shaft_of(call)))
        .collect();
    let mut at = 0_usize;
    for len in handfuls(&calls).into_iter().map(usize::from) {
        let run = calls.get(at..at + len).unwrap_or_default();
        let on = counts(run, evidence.shafts);
        let count = i64::try_from(len).unwrap_or(0);
        for (kind, sign) in [
            (FaultKind::HandfulSkipped, 1),
            (FaultKind::HandfulRepeated, -1),
        ] {
            let touched: Vec<(u8, i64)> = (1..).zip(on.iter().map(|by| by * sign)).collect();
            if len < 2 || !leaves(count * sign, &touched) {
                continue;
            }
            let call = knot.first.0 + u32::try_from(at).unwrap_or(0);
            let drifts = [Drift::ToTheEnd, Drift::KnotOnly];
            let drifts = drifts
                .into_iter()
                .take(if last_knot(evidence, call) { 1 } else { 2 });
            for drift in drifts {
                all.push(Case {
                    drift,
                    len: u32::try_from(len).unwrap_or(1),
                    shaft: 0,
                    other_side: false,
                    ..on_one_call(evidence, kind, call, 0, 0.5)
                });
            }
        }
        at += len;
    }
}
