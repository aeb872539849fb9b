//! The looks at the place of a fault before it is believed: where two things are wrong, the counts
//! and single answers of another fault elsewhere can be the same.
//! Owns which heddles those are; never weighs.

use super::kind::FaultKind;
use super::warp_case::Case;
use super::warp_evidence::{WarpEvidence, WarpLook};
use crate::quantity::Call;

/// How far a fault that alone is left has been looked at.
pub(super) enum Belief {
    /// All about its place was seen.
    Seen,
    /// This look at its place is still wanted.
    Wants(WarpLook),
    /// No heddle stands wrong where it is: its knot must be gone into.
    Hidden,
}

/// How far this fault's place has been looked at.
///
/// A shift: the first heddle that stands wrong, the last one before that must still be right, and
/// one after that as well, for it to be no end on a wrong shaft and no exchange. A wrong shaft: the
/// heddle and one on each side, which would be wrong too if all were shifted there. `each_side`: so
/// many of them, more where the counts say nothing of the fault and a heddle may stand right by
/// chance. Two ends in one heddle: the count of its knot.
pub(super) fn belief(evidence: &WarpEvidence, case: &Case, each_side: usize) -> Belief {
    let wanted: Vec<WarpLook> = match case.kind {
        FaultKind::EndsDoubled => {
            let knot = evidence.knot_number(case.call).unwrap_or(1);
            vec![WarpLook::OddKnot {
                first: knot,
                last: knot,
            }]
        }
        FaultKind::EndHanging => vec![WarpLook::Hanging],
        _ => match case.first_wrong(evidence) {
            Some(wrong) => heddles(evidence, case, wrong, each_side),
            None => return Belief::Hidden,
        },
    };
    let open = wanted.into_iter().find(|look| evidence.times(look) == 0);
    open.map_or(Belief::Seen, Belief::Wants)
}

fn heddles(evidence: &WarpEvidence, case: &Case, wrong: Call, each_side: usize) -> Vec<WarpLook> {
    let own = |call: u32| evidence.shaft_of(call);
    let differs = |call: u32| {
        let others = [call + 1, call.saturating_sub(1)];
        others.iter().all(|&other| own(other) != own(call))
    };
    let first = evidence.stretch.first.0;
    let before = (first..wrong.0).rev();
    let before = before.filter(|&call| match case.kind {
        FaultKind::PositionSkipped | FaultKind::HandfulSkipped => own(call + case.len) != own(call),
        FaultKind::PositionRepeated | FaultKind::HandfulRepeated => {
            own(call.saturating_sub(case.len)) != own(call)
        }
        _ => differs(call),
    });
    // two exchanged neighbours stand wrong together: what is shifted still is after them
    let from = match case.kind {
        FaultKind::WrongShaft => wrong.0 + 1,
        _ => wrong.0 + 2,
    };
    let last = evidence.stretch.last.0;
    let after = (from..=last).filter(|&call| match case.kind.shifts() {
        true => case
            .shaft_at(evidence, call)
            .is_some_and(|stands| stands != own(call)),
        false => differs(call),
    });
    let beside = before.take(each_side).chain(after.take(each_side));
    let look = |call: u32| WarpLook::Shaft { call: Call(call) };
    std::iter::once(wrong.0).chain(beside).map(look).collect()
}
