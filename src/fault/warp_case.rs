//! One fault at one place of a warp, and how each look along the warp would be answered then.
//! Owns the list of all such cases that leave the counted residue; never chooses a look.

use super::evidence::counts;
use super::kind::FaultKind;
use super::warp_evidence::{Drift, WarpEvidence, WarpLook, WarpSeen};
use super::weights;
use crate::plan::handfuls;
use crate::quantity::{Call, Shaft};

/// One fault at one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Case {
    pub kind: FaultKind,
    pub drift: Drift,
    /// The call where it went wrong, the first of a handful.
    pub call: u32,
    /// Calls skipped or repeated; 1 for the other kinds.
    len: u32,
    /// The shaft that stands there instead, for a wrong shaft.
    shaft: u8,
    /// Whether that shaft is on the other side, odd or even, than the planned one.
    other_side: bool,
    /// The first call of the run of equal shafts about `call`: skipping any of them is the same.
    run: u32,
    /// Expected number of such faults.
    pub weight: f64,
}

/// All cases with the evidence's residue, in the order of their calls.
pub(super) fn cases(evidence: &WarpEvidence) -> Vec<Case> {
    let mut all = Vec::new();
    let wrong = wrong_shaft(evidence);
    let mut run = evidence.stretch.first.0;
    for call in evidence.stretch.first.0..=evidence.stretch.last.0 {
        if planned(evidence, call) != planned(evidence, run) {
            run = call;
        }
        single_calls(evidence, call, run, wrong, &mut all);
    }
    for knot in &evidence.knots {
        whole_handfuls(evidence, knot.first.0, knot.last.0, &mut all);
    }
    all.sort_by_key(|case| case.call);
    all
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

fn planned(evidence: &WarpEvidence, call: u32) -> u8 {
    let at = (call as usize).wrapping_sub(1);
    evidence.planned.get(at).map_or(0, |shaft| shaft.0)
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

fn single_calls(
    evidence: &WarpEvidence,
    call: u32,
    run: u32,
    wrong: Option<(u8, u8)>,
    all: &mut Vec<Case>,
) {
    let here = planned(evidence, call);
    let knot_first = evidence
        .knot_of(call)
        .map_or(call, |at| evidence.knots[at].first.0);
    let mut add = |kind: FaultKind, drift: Drift, shaft: u8, share: f64| {
        let run = match drift {
            _ if !kind.shifts() => call,
            Drift::KnotOnly => run.max(knot_first),
            Drift::ToTheEnd => run,
        };
        let weight = weights::per_thousand_batches(kind) * share;
        let other_side = shaft % 2 != here % 2;
        all.push(Case {
            kind,
            drift,
            call,
            len: 1,
            shaft,
            other_side,
            run,
            weight,
        });
    };
    for (kind, sign) in [
        (FaultKind::PositionSkipped, 1),
        (FaultKind::PositionRepeated, -1),
    ] {
        if leaves(evidence, sign, &[(here, sign)]) {
            add(kind, Drift::KnotOnly, here, 0.5);
            add(kind, Drift::ToTheEnd, here, 0.5);
        }
    }
    if leaves(evidence, -1, &[]) {
        add(FaultKind::EndsDoubled, Drift::KnotOnly, here, 1.0);
        add(FaultKind::EndHanging, Drift::KnotOnly, here, 1.0);
    }
    if let Some((_, taken)) = wrong.filter(|&(over, _)| over == here) {
        add(FaultKind::WrongShaft, Drift::KnotOnly, taken, 1.0);
    }
}

fn whole_handfuls(evidence: &WarpEvidence, first: u32, last: u32, all: &mut Vec<Case>) {
    if last < evidence.stretch.first.0 || first > evidence.stretch.last.0 {
        return;
    }
    let calls: Vec<Shaft> = (first..=last)
        .map(|call| Shaft(planned(evidence, call)))
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
            if len < 2 || !leaves(evidence, count * sign, &touched) {
                continue;
            }
            let call = first + u32::try_from(at).unwrap_or(0);
            let weight = weights::per_thousand_batches(kind) / 2.0;
            let len = u32::try_from(len).unwrap_or(1);
            for drift in [Drift::KnotOnly, Drift::ToTheEnd] {
                all.push(Case {
                    kind,
                    drift,
                    call,
                    len,
                    shaft: 0,
                    other_side: false,
                    run: call,
                    weight,
                });
            }
        }
        at += len;
    }
}

impl Case {
    /// What is to be mended: equal where the mending is.
    pub fn mending(&self) -> (FaultKind, Drift, u32) {
        (self.kind, self.drift, self.run)
    }

    /// The call whose shaft the n-th filled heddle has, for the call whose place it is: what is
    /// asked by knot and place in it. `None` where no such heddle is filled.
    fn stands_for(&self, evidence: &WarpEvidence, call: u32) -> Option<u32> {
        let knot = evidence.knot_of(call)?;
        let ends = match self.drift {
            Drift::KnotOnly if evidence.knot_of(self.call) != Some(knot) => return Some(call),
            Drift::KnotOnly => evidence.knots[knot].last.0,
            Drift::ToTheEnd => u32::try_from(evidence.planned.len()).unwrap_or(u32::MAX),
        };
        let stands = match self.kind {
            FaultKind::PositionSkipped | FaultKind::HandfulSkipped if call >= self.call => {
                call + self.len
            }
            FaultKind::PositionRepeated | FaultKind::HandfulRepeated
                if call >= self.call + self.len =>
            {
                call - self.len
            }
            _ => call,
        };
        (stands <= ends).then_some(stands)
    }

    fn shaft_at(&self, evidence: &WarpEvidence, call: u32) -> Option<u8> {
        if self.kind == FaultKind::WrongShaft && call == self.call {
            return Some(self.shaft);
        }
        self.stands_for(evidence, call)
            .map(|stands| planned(evidence, stands))
    }

    /// The knot (from 1) that has another number of ends than planned.
    fn odd_knot(&self, evidence: &WarpEvidence) -> Option<u32> {
        let ends = match self.kind {
            FaultKind::EndHanging | FaultKind::WrongShaft => false,
            _ => self.drift == Drift::KnotOnly,
        };
        let knot = evidence.knot_of(self.call).filter(|_| ends)?;
        u32::try_from(knot + 1).ok()
    }

    /// The knot of these (from 1) in which another number of ends rises with this shaft alone. Asked
    /// only where every case is an end on a wrong shaft; what shifts is placed by halving.
    fn risen(
        &self,
        evidence: &WarpEvidence,
        (first, last): (u32, u32),
        shaft: Shaft,
    ) -> Option<u32> {
        let here = planned(evidence, self.call);
        let touched =
            self.kind == FaultKind::WrongShaft && (shaft.0 == self.shaft || shaft.0 == here);
        let knot = evidence.knot_of(self.call).filter(|_| touched)?;
        let knot = u32::try_from(knot + 1).ok()?;
        (first..=last).contains(&knot).then_some(knot)
    }

    /// The first filled heddle of its knot whose shaft is not the plan's; `None` where none differs.
    pub fn first_wrong(&self, evidence: &WarpEvidence) -> Option<Call> {
        let knot = evidence.knots.get(evidence.knot_of(self.call)?)?;
        let wrong = |&call: &u32| self.shaft_at(evidence, call) != Some(planned(evidence, call));
        (self.call..=knot.last.0).find(wrong).map(Call)
    }

    /// The shaft that was taken instead, for an end on a wrong one.
    pub fn taken(&self) -> Option<Shaft> {
        (self.kind == FaultKind::WrongShaft).then_some(Shaft(self.shaft))
    }

    /// The first filled heddle that is on the same side, odd or even, as the next, in a draft where
    /// they alternate; said as the call whose place it has.
    fn together(&self) -> Option<u32> {
        match self.kind {
            FaultKind::PositionSkipped => self.call.checked_sub(1).filter(|&call| call > 0),
            FaultKind::HandfulSkipped if self.len % 2 == 1 => {
                self.call.checked_sub(1).filter(|&call| call > 0)
            }
            FaultKind::HandfulRepeated if self.len % 2 == 1 => Some(self.call + self.len - 1),
            FaultKind::PositionRepeated | FaultKind::EndsDoubled => Some(self.call),
            FaultKind::WrongShaft if self.other_side => Some(if self.call > 1 {
                self.call - 1
            } else {
                self.call
            }),
            _ => None,
        }
    }

    /// Whether an answer is what this case would show.
    pub fn fits(&self, evidence: &WarpEvidence, seen: &WarpSeen) -> bool {
        match *seen {
            WarpSeen::Shaft { call, shaft } => {
                self.shaft_at(evidence, call.0) == shaft.map(|shaft| shaft.0)
            }
            WarpSeen::OddKnot { first, last, odd } => {
                self.odd_knot(evidence)
                    .filter(|knot| (first..=last).contains(knot))
                    == odd
            }
            WarpSeen::Risen {
                first,
                last,
                shaft,
                odd,
            } => self.risen(evidence, (first, last), shaft) == odd,
            WarpSeen::Together { call } => self.together() == call.map(|Call(call)| call),
            WarpSeen::Hanging { knot } => self.hanging_knot(evidence) == knot,
            WarpSeen::CannotTell { .. } => true,
        }
    }

    fn hanging_knot(&self, evidence: &WarpEvidence) -> Option<u32> {
        let hangs = self.kind == FaultKind::EndHanging;
        let knot = evidence.knot_of(self.call).filter(|_| hangs)?;
        u32::try_from(knot + 1).ok()
    }

    /// A number for the answer to a look; different answers have different numbers.
    pub fn answer(&self, evidence: &WarpEvidence, look: &WarpLook) -> u64 {
        let number = |n: Option<u32>| n.map_or(0, |n| u64::from(n) + 1);
        match *look {
            WarpLook::Shaft { call } => number(self.shaft_at(evidence, call.0).map(u32::from)),
            WarpLook::OddKnot { first, last } => number(
                self.odd_knot(evidence)
                    .filter(|knot| (first..=last).contains(knot)),
            ),
            WarpLook::Risen { first, last, shaft } => {
                number(self.risen(evidence, (first, last), shaft))
            }
            WarpLook::Together => number(self.together()),
            WarpLook::Hanging => number(self.hanging_knot(evidence)),
        }
    }
}
