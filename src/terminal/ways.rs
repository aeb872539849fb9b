//! The ways on from a view by their numbers, the same for typed lines and for number keys. Owns
//! which ask a number stands for; what a way is called is in `words`, and nothing is decided here.

use crate::dressing::View;
use crate::dressing::ask::Ask;
use crate::dressing::state::Rest;
use crate::method::StepId;

/// The asks of the ways that the view lists, in the order of their numbers from 1; empty where it
/// lists none. The look that a tracing asks for is no way: its answer is typed.
#[must_use]
pub fn ways(view: &View) -> Vec<Ask> {
    match view {
        View::Disagreeing(view) => view.choices.iter().copied().map(Ask::Choose).collect(),
        // the other is the slip, which asks nothing of the dressing
        View::Resting(rest) if rest.rest == Rest::Stopped => vec![Ask::Next],
        View::UsedUp(_) | View::Sley(_) => vec![Ask::Next, Ask::Uneven],
        View::Turn(_) => vec![Ask::Next, Ask::Skip],
        View::Step(step) if step.optional => vec![Ask::Next, Ask::Skip],
        View::Step(step) if step.step == StepId::LookAgain => {
            vec![Ask::Next, Ask::Sight(None)]
        }
        View::Shed(_) | View::Pick(_) | View::Ready(_) => vec![Ask::Next, Ask::Sight(None)],
        View::Step(_)
        | View::Group(_)
        | View::CountOut(_)
        | View::Call(_)
        | View::Tie(_)
        | View::TieUp(_)
        | View::Asking(_)
        | View::Mending(_)
        | View::Resting(_)
        | View::Ends(_) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dressing::view::StepView;
    use crate::words::screen_words::ways_of_step;

    #[test]
    fn every_step_has_as_many_ways_as_words_for_them() {
        for step in StepId::ALL {
            for optional in [false, true] {
                let view = View::Step(StepView { step, optional });
                let words = ways_of_step(&view).map_or(0, |words| words.len());
                assert_eq!(ways(&view).len(), words, "{step:?}, {optional}");
            }
        }
    }
}
