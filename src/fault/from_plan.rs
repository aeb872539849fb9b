//! Evidence of a warp or a reed taken from a plan: where a stage disagrees with the one before it,
//! a trace starts from that group.
//! Owns only the taking; never traces.

use super::reed_evidence::ReedEvidence;
use super::warp_evidence::WarpEvidence;
use crate::plan::{DentEnds, Plan};
use crate::quantity::{Call, Calls};

impl WarpEvidence {
    /// The evidence of a stretch of the plan's warp (from the first group that disagrees to the
    /// last call made) with what was left over there; a knot is a batch.
    #[must_use]
    pub fn of_plan(
        plan: &Plan,
        stretch: Calls,
        ends_left: i64,
        heddles_left: Option<Vec<i64>>,
    ) -> Self {
        Self {
            planned: plan.threading.clone(),
            shafts: plan.shafts,
            knots: plan.batches.iter().map(|batch| batch.calls).collect(),
            stretch,
            ends_left,
            heddles_left,
            seen: Vec::new(),
        }
    }
}

impl ReedEvidence {
    /// The evidence of the dents that hold these calls, in the order of sleying, with what was left
    /// over there. Ends of other calls in a shared dent are not counted, floats neither.
    #[must_use]
    pub fn of_plan(plan: &Plan, stretch: Calls, ends_left: i64, tape: Option<i64>) -> Self {
        let upwards = plan.sley_from == plan.thread_from;
        let shared = |ends: DentEnds| match ends {
            DentEnds::Calls(calls) => {
                let first = calls.first.0.max(stretch.first.0);
                Calls::new(first, calls.last.0.min(stretch.last.0))
            }
            DentEnds::Empty | DentEnds::Float { .. } => None,
        };
        let held: Vec<Option<Calls>> = plan
            .sley
            .dents
            .iter()
            .map(|dent| shared(dent.ends))
            .collect();
        let first = held.iter().position(Option::is_some).unwrap_or(0);
        let last = held.iter().rposition(Option::is_some).unwrap_or(0);
        let held = held.get(first..=last).unwrap_or_default();
        let order = |calls: &Calls| -> Vec<Call> {
            let up = (calls.first.0..=calls.last.0).map(Call);
            if upwards {
                up.collect()
            } else {
                up.rev().collect()
            }
        };
        let calls = held.iter().flatten().flat_map(order);
        let shaft = |call: Call| {
            plan.threading
                .get((call.0 as usize).wrapping_sub(1))
                .copied()
        };
        Self {
            dents: held
                .iter()
                .map(|calls| calls.map_or(0, Calls::len))
                .collect(),
            shafts: calls.filter_map(shaft).collect(),
            ends_left,
            tape,
            seen: Vec::new(),
        }
    }
}
