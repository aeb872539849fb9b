//! The figures of a plan put into the method's texts. Owns which figure is which; the texts are the
//! method's, the figures the plan's.

use super::counts::{count, length, on_shafts, other, side};
use super::spoken;
use crate::method::{self, Figure, LoomKind};
use crate::plan::{Action, Plan};
use crate::quantity::Fraction;

/// The text with the plan's figures put in; a sentence about an unknown figure is left out.
#[must_use]
pub fn fill(text: &str, plan: &Plan) -> String {
    method::fill(text, |figure| value(figure, plan))
}

/// The same for a voice: figures in their spoken form.
#[must_use]
pub fn fill_spoken(text: &str, plan: &Plan) -> String {
    method::fill(text, |figure| match measure(figure, plan) {
        Some(figure) => Some(spoken::length(figure, plan.units)),
        None => value(figure, plan),
    })
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

/// The figures that are lengths, in the plan's unit.
fn measure(figure: Figure, plan: &Plan) -> Option<Fraction> {
    match figure {
        Figure::FrontAllowance => Some(plan.front_allowance),
        Figure::Width => Some(plan.width),
        Figure::ReedMiddle => {
            let dents = Fraction::whole(i64::from(plan.sley.reed_total));
            dents.over(plan.sley.reed_dents)?.over(Fraction::whole(2))
        }
        _ => None,
    }
}

fn value(figure: Figure, plan: &Plan) -> Option<String> {
    Some(match figure {
        Figure::Groups => plan.groups.len().to_string(),
        Figure::Ties => plan.ties.to_string(),
        Figure::FirstSpace => plan.raddle.first_space_from_middle.to_string(),
        Figure::Turns => plan.beam.turns?.to_string(),
        Figure::Shafts => plan.shafts.to_string(),
        Figure::Ends => plan.ends.to_string(),
        Figure::Dents => count(plan.sley.heddled_dents, "dent"),
        Figure::FirstDent => plan.sley.first_dent.to_string(),
        Figure::Bundles => plan.bundles.len().to_string(),
        Figure::Heddles => on_shafts(&plan.heddles.needed),
        Figure::FrontAllowance | Figure::Width | Figure::ReedMiddle => {
            length(measure(figure, plan)?, plan.units)
        }
        Figure::ThreadingSide => side(plan.thread_from).to_owned(),
        Figure::FinishingSide => side(other(plan.sley_from)).to_owned(),
        Figure::SleyingSide => side(plan.sley_from).to_owned(),
    })
}
