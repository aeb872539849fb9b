//! A plan changed from a call on. Owns which amendment leads to which plan; the arithmetic is the plan's.

use super::ask::Amendment;
use super::refusal::Refusal;
use crate::plan::Plan;
use crate::quantity::Call;

/// The plan as amended from `from` on; what lies before keeps its batches.
///
/// # Errors
/// The refusal, where the amended plan does not fit.
pub(super) fn amended(plan: &Plan, from: Call, change: &Amendment) -> Result<Plan, Refusal> {
    match change {
        Amendment::BatchRule(rule) => Ok(plan.rebatched(*rule, from)),
        Amendment::HeddlesOnHand(on_hand) => {
            if on_hand.len() != usize::from(plan.shafts) {
                return Err(Refusal::OtherShafts {
                    said: on_hand.len(),
                    shafts: plan.shafts,
                });
            }
            plan.with_heddles(on_hand).map_err(Refusal::PlanDoesNotFit)
        }
        Amendment::Draft(typed) => plan
            .rethreaded(from, typed)
            .map_err(Refusal::PlanDoesNotFit),
        Amendment::Ends(ends) => plan.with_ends(*ends, from).map_err(Refusal::PlanDoesNotFit),
        Amendment::Stands { line, made } => plan
            .standing(from, line, *made)
            .map_err(Refusal::PlanDoesNotFit),
        Amendment::SleyFrom(side) => plan.sleyed_from(*side).map_err(Refusal::PlanDoesNotFit),
    }
}
