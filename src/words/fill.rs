//! The figures of a plan put into the method's texts. Owns which figure is which; the texts are the
//! method's, the figures the plan's.

use super::counts::{count, length, on_shafts, other, side};
use crate::method::{self, Figure, LoomKind};
use crate::plan::{Action, Plan};
use crate::quantity::Fraction;

/// The text with the plan's figures put in; a sentence about an unknown figure is left out.
#[must_use]
pub fn fill(text: &str, plan: &Plan) -> String {
    method::fill(text, |figure| value(figure, plan))
}

/// The loom's kind as the method spells it.
#[must_use]
pub fn loom_kind(plan: &Plan) -> LoomKind {
    match plan.action {
        Action::Jack => LoomKind::Jack,
        Action::Counterbalance => LoomKind::Counterbalance,
        Action::Countermarch => LoomKind::Countermarch,
        Action::Table => LoomKind::Table,
        Action::Lift => LoomKind::Lift,
    }
}

fn value(figure: Figure, plan: &Plan) -> Option<String> {
    let units = plan.units;
    Some(match figure {
        Figure::Groups => plan.groups.len().to_string(),
        Figure::Ties => plan.ties.to_string(),
        Figure::FirstSpace => plan.raddle.first_space_from_middle.to_string(),
        Figure::Turns => plan.beam.turns?.to_string(),
        Figure::FrontAllowance => length(plan.front_allowance, units),
        Figure::Shafts => plan.shafts.to_string(),
        Figure::Ends => plan.ends.to_string(),
        Figure::Dents => count(plan.sley.heddled_dents, "dent"),
        Figure::FirstDent => plan.sley.first_dent.to_string(),
        Figure::Bundles => plan.bundles.len().to_string(),
        Figure::Width => length(plan.width, units),
        Figure::Heddles => on_shafts(&plan.heddles.needed),
        Figure::ReedMiddle => {
            let dents = Fraction::whole(i64::from(plan.sley.reed_total));
            let middle = dents.over(plan.sley.reed_dents)?.over(Fraction::whole(2))?;
            length(middle, units)
        }
        Figure::ThreadingSide => side(plan.thread_from).to_owned(),
        Figure::FinishingSide => side(other(plan.sley_from)).to_owned(),
        Figure::SleyingSide => side(plan.sley_from).to_owned(),
    })
}
