//! Every explanation of a residue by no fault, one or two.
//! Owns the search, which leaves out none; never looks at answers.

use super::evidence::Evidence;
use super::kind::{Fault, FaultKind};
use super::residue::{Residue, mark_of};
use super::weights;
use crate::plan::handfuls;
use crate::quantity::Shaft;
use std::collections::BTreeMap;

/// Faults that together leave the reported counts, and how common that is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Explanation {
    /// None, one or two faults.
    pub faults: Vec<Fault>,
    /// Expected batches with just these faults among a batch without any.
    pub weight: f64,
}

/// Every explanation with at most two faults.
pub(super) fn explanations(evidence: &Evidence) -> Vec<Explanation> {
    let residue = Residue::of_report(evidence);
    let mut found = Vec::new();
    if residue.is_even() {
        found.push(Explanation {
            faults: Vec::new(),
            weight: 1.0,
        });
    }
    let placed = placed(evidence);
    one_fault(evidence, &residue, &placed, &mut found);
    two_faults(evidence, &residue, &placed, &mut found);
    found
}

/// A fault that can be anywhere in the calls made, its weight and its additive mark.
struct Candidate {
    fault: Fault,
    weight: f64,
    mark: u64,
}

fn one_fault(
    evidence: &Evidence,
    residue: &Residue,
    placed: &[Candidate],
    found: &mut Vec<Explanation>,
) {
    let mark = residue.mark();
    for candidate in placed.iter().filter(|c| c.mark == mark) {
        found.push(Explanation {
            faults: vec![candidate.fault],
            weight: candidate.weight,
        });
    }
    if let Some((fault, weight)) = miscount(evidence, residue) {
        found.push(Explanation {
            faults: vec![fault],
            weight,
        });
    }
}

fn two_faults(
    evidence: &Evidence,
    residue: &Residue,
    placed: &[Candidate],
    found: &mut Vec<Explanation>,
) {
    let mark = residue.mark();
    let mut by_mark: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
    for (at, candidate) in placed.iter().enumerate() {
        by_mark.entry(candidate.mark).or_default().push(at);
    }
    let mut pair = |a: Fault, b: Fault, weight: f64| {
        found.push(Explanation {
            faults: vec![a, b],
            weight: weight * weights::SECOND_FAULT,
        });
    };
    for (at, first) in placed.iter().enumerate() {
        let others = by_mark
            .get(&mark.wrapping_sub(first.mark))
            .into_iter()
            .flatten();
        // a pair is found from its earlier fault
        for second in others
            .filter(|&&other| other >= at)
            .map(|&other| &placed[other])
        {
            let twice = second.fault == first.fault;
            if !first.fault.overlaps(&second.fault) && (!twice || first.fault.call.is_none()) {
                pair(first.fault, second.fault, first.weight * second.weight);
            }
        }
        let rest = residue.without(&first.fault, evidence);
        if let Some((fault, weight)) = miscount(evidence, &rest) {
            pair(first.fault, fault, first.weight * weight);
        }
    }
    if let Some([(a, wa), (b, wb)]) = two_miscounts(evidence, residue) {
        pair(a, b, wa * wb);
    }
}

/// The single miscount that leaves this residue, if one does.
fn miscount(evidence: &Evidence, residue: &Residue) -> Option<(Fault, f64)> {
    let mut touched = touched(residue);
    match (residue.ends, touched.next(), touched.next()) {
        (0, Some((shaft, by)), None) => Some(heddles_miscounted(evidence, shaft, by)),
        (ends, None, _) if ends != 0 => Some(ends_miscounted(ends)),
        _ => None,
    }
}

/// The two miscounts that leave this residue, if two do.
fn two_miscounts(evidence: &Evidence, residue: &Residue) -> Option<[(Fault, f64); 2]> {
    let mut touched = touched(residue);
    match (residue.ends, touched.next(), touched.next(), touched.next()) {
        (0, Some((a, by_a)), Some((b, by_b)), None) => Some([
            heddles_miscounted(evidence, a, by_a),
            heddles_miscounted(evidence, b, by_b),
        ]),
        (ends, Some((a, by)), None, None) if ends != 0 => {
            Some([ends_miscounted(ends), heddles_miscounted(evidence, a, by)])
        }
        _ => None,
    }
}

/// The shafts on which heddles are left over or short.
fn touched(residue: &Residue) -> impl Iterator<Item = (Shaft, i64)> {
    let shafts = (1..=u8::MAX).map(Shaft);
    shafts
        .zip(residue.heddles.iter().copied())
        .filter(|&(_, by)| by != 0)
}

fn ends_miscounted(by: i64) -> (Fault, f64) {
    (
        Fault::ends(by),
        per_batch(FaultKind::EndsMiscounted) / 2.0 * farther(by),
    )
}

fn heddles_miscounted(evidence: &Evidence, shaft: Shaft, by: i64) -> (Fault, f64) {
    let weight = per_batch(FaultKind::HeddlesMiscounted) / 2.0 / f64::from(evidence.shafts);
    (
        Fault::of_shaft(FaultKind::HeddlesMiscounted, shaft, by),
        weight * farther(by),
    )
}

fn farther(by: i64) -> f64 {
    let more = by.unsigned_abs().saturating_sub(1).min(64);
    weights::ONE_MORE_MISCOUNTED.powi(i32::try_from(more).unwrap_or(64))
}

fn per_batch(kind: FaultKind) -> f64 {
    weights::per_thousand_batches(kind) / 1000.0
}

/// Every fault that has a place or a shaft, miscounts apart.
fn placed(evidence: &Evidence) -> Vec<Candidate> {
    let mut list = Vec::new();
    let mut add = |fault: Fault, weight: f64| {
        list.push(Candidate {
            fault,
            weight,
            mark: mark_of(&fault, evidence),
        });
    };
    at_each_call(evidence, &mut add);
    wrong_shafts(evidence, &mut add);
    exchanges(evidence, &mut add);
    whole_handfuls(evidence, &mut add);
    let share = per_batch(FaultKind::HeddlePassed) / f64::from(evidence.shafts.max(1));
    for shaft in 1..=evidence.shafts {
        add(
            Fault::of_shaft(FaultKind::HeddlePassed, Shaft(shaft), 1),
            share,
        );
    }
    list
}

/// The shafts of the calls made.
fn made(evidence: &Evidence) -> &[Shaft] {
    evidence
        .planned
        .get(..evidence.calls_made as usize)
        .unwrap_or_default()
}

/// A weaver who stopped may have stopped in the second going over of a call, or with an end
/// hanging before the call for which she found none.
fn at_each_call(evidence: &Evidence, add: &mut impl FnMut(Fault, f64)) {
    let places = f64::from(evidence.calls_made.max(1));
    for (at, &shaft) in made(evidence).iter().enumerate() {
        for kind in [
            FaultKind::PositionSkipped,
            FaultKind::PositionRepeated,
            FaultKind::EndsDoubled,
            FaultKind::EndHanging,
        ] {
            add(
                Fault::at(kind, evidence.call_of(at), shaft),
                per_batch(kind) / places,
            );
        }
    }
    let stopped = evidence.calls_made as usize;
    if let Some(&shaft) = evidence.planned.get(stopped) {
        for kind in [FaultKind::PositionRepeated, FaultKind::EndHanging] {
            let fault = Fault::at(kind, evidence.call_of(stopped), shaft);
            add(fault, per_batch(kind) / places);
        }
    }
}

fn wrong_shafts(evidence: &Evidence, add: &mut impl FnMut(Fault, f64)) {
    let each = per_batch(FaultKind::WrongShaft) / f64::from(evidence.calls_made.max(1));
    for (at, &planned) in made(evidence).iter().enumerate() {
        let share = |shaft: u8| {
            if shaft.abs_diff(planned.0) == 1 {
                weights::NEIGHBOURING_SHAFT
            } else {
                1.0
            }
        };
        let others = (1..=evidence.shafts).filter(|&shaft| shaft != planned.0);
        let all: f64 = others.clone().map(share).sum();
        for shaft in others {
            let fault = Fault::at(FaultKind::WrongShaft, evidence.call_of(at), Shaft(shaft));
            add(fault, each * share(shaft) / all);
        }
    }
}

fn exchanges(evidence: &Evidence, add: &mut impl FnMut(Fault, f64)) {
    let kind = FaultKind::NeighboursExchanged;
    let places = f64::from(evidence.calls_made.max(2) - 1);
    for (at, pair) in made(evidence).windows(2).enumerate() {
        if pair[0] != pair[1] {
            let call = Some(evidence.call_of(at));
            add(
                Fault {
                    kind,
                    call,
                    shaft: None,
                    count: 1,
                },
                per_batch(kind) / places,
            );
        }
    }
}

/// Handfuls of two calls or more; the loss of one call is a position skipped.
fn whole_handfuls(evidence: &Evidence, add: &mut impl FnMut(Fault, f64)) {
    let cut = handfuls(&evidence.planned);
    let places = cut.len().max(1) as f64;
    let mut at = 0;
    for len in cut.into_iter().map(usize::from) {
        let made = evidence.calls_made as usize;
        let mut whole = |kind| {
            let count = i64::try_from(len).unwrap_or(0);
            let fault = Fault::handful(kind, evidence.call_of(at), count);
            add(fault, per_batch(kind) / places);
        };
        if len >= 2 && at + len <= made {
            whole(FaultKind::HandfulSkipped);
        }
        if len >= 2 && (at + len <= made || at <= made && made < evidence.planned.len()) {
            whole(FaultKind::HandfulRepeated);
        }
        at += len;
    }
}
