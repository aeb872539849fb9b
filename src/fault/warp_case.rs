//! One fault at one place of a warp, and how each look along the warp would be answered then.
//! Owns those answers; never lists the cases and never chooses a look.

use super::kind::FaultKind;
use super::warp_evidence::{Drift, WarpEvidence, WarpLook, WarpSeen};
use crate::quantity::{Call, Shaft};

/// One fault at one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Case {
    pub kind: FaultKind,
    pub drift: Drift,
    /// The call where it went wrong, the first of a handful.
    pub call: u32,
    /// Calls skipped or repeated; 1 for the other kinds.
    pub len: u32,
    /// The shaft that stands there instead, for a wrong shaft.
    pub shaft: u8,
    /// Whether that shaft is on the other side, odd or even, than the planned one.
    pub other_side: bool,
    /// The first call of the run of equal shafts about `call`: skipping any of them is the same.
    pub run: u32,
    /// Expected number of such faults.
    pub weight: f64,
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

    /// The shaft of the filled heddle in the place of this call; `None` where none is filled.
    pub fn shaft_at(&self, evidence: &WarpEvidence, call: u32) -> Option<u8> {
        if self.kind == FaultKind::WrongShaft && call == self.call {
            return Some(self.shaft);
        }
        if self.kind == FaultKind::NeighboursExchanged && call.wrapping_sub(self.call) < 2 {
            let other = if call == self.call {
                call + 1
            } else {
                self.call
            };
            return Some(evidence.shaft_of(other));
        }
        self.stands_for(evidence, call)
            .map(|stands| evidence.shaft_of(stands))
    }

    /// The knot (from 1) that has another number of ends than planned.
    pub fn odd_knot(&self, evidence: &WarpEvidence) -> Option<u32> {
        let call = match self.kind {
            FaultKind::EndHanging | FaultKind::WrongShaft | FaultKind::NeighboursExchanged => {
                return None;
            }
            // where the calls went on, the last knot has what was left of them
            _ if self.drift == Drift::ToTheEnd => evidence.stretch.last.0,
            _ => self.call,
        };
        evidence.knot_number(call)
    }

    /// The knot of these (from 1) in which another number of ends rises with this shaft alone. Asked
    /// only where every case is an end on a wrong shaft; what shifts is placed by halving.
    fn risen(
        &self,
        evidence: &WarpEvidence,
        (first, last): (u32, u32),
        shaft: Shaft,
    ) -> Option<u32> {
        let here = evidence.shaft_of(self.call);
        let touched =
            self.kind == FaultKind::WrongShaft && (shaft.0 == self.shaft || shaft.0 == here);
        let knot = evidence.knot_number(self.call).filter(|_| touched)?;
        (first..=last).contains(&knot).then_some(knot)
    }

    /// The first filled heddle whose shaft is not the plan's, as far as the fault reaches; `None` where
    /// none differs.
    pub fn first_wrong(&self, evidence: &WarpEvidence) -> Option<Call> {
        let last = match self.drift {
            Drift::KnotOnly => evidence.knots.get(evidence.knot_of(self.call)?)?.last,
            Drift::ToTheEnd => evidence.stretch.last,
        };
        let wrong = |&call: &u32| self.shaft_at(evidence, call) != Some(evidence.shaft_of(call));
        (self.call..=last.0).find(wrong).map(Call)
    }

    /// The shaft that was taken instead, for an end on a wrong one.
    pub fn taken(&self) -> Option<Shaft> {
        (self.kind == FaultKind::WrongShaft).then_some(Shaft(self.shaft))
    }

    /// The first filled heddle that is on the same side, odd or even, as the next, in a draft where
    /// they alternate; said as the call whose place it has.
    pub fn together(&self) -> Option<u32> {
        match self.kind {
            FaultKind::PositionSkipped => self.call.checked_sub(1).filter(|&call| call > 0),
            FaultKind::HandfulSkipped if self.len % 2 == 1 => {
                self.call.checked_sub(1).filter(|&call| call > 0)
            }
            FaultKind::HandfulRepeated if self.len % 2 == 1 => Some(self.call + self.len - 1),
            FaultKind::PositionRepeated | FaultKind::EndsDoubled => Some(self.call),
            FaultKind::NeighboursExchanged if self.call == 1 => Some(2),
            FaultKind::NeighboursExchanged => Some(self.call - 1),
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
        evidence.knot_number(self.call).filter(|_| hangs)
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
