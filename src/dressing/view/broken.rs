//! Broken ends for the eye: which, where on the loom, and whether each is mended. Owns the places; what
//! mending one takes is decided where it begins.

use super::{BrokenView, EndsView, View};
use crate::dressing::decide;
use crate::dressing::ledger::Task;
use crate::dressing::state::{BrokenEnd, Dressing, Left};

impl Dressing {
    /// The list of broken ends, mended ones too, in the order in which they were said.
    #[must_use]
    pub fn broken_ends(&self) -> Vec<BrokenView> {
        let ends = self.record().broken.iter();
        ends.map(|end| self.broken_end(end)).collect()
    }

    pub(super) fn broken_end(&self, end: &BrokenEnd) -> BrokenView {
        let plan = self.plan();
        let sleyed = self.ledger().of(Task::Sleyed);
        let dent = match (end.call, end.float) {
            (Some(call), _) => sleyed.mark(call).and_then(|_| plan.dent_of(call)),
            (None, Some(side)) => decide::dent_of_float(self, side),
            (None, None) => None,
        };
        let threaded = |call| self.ledger().of(Task::Threaded).mark(call).is_some();
        let shaft = end
            .call
            .filter(|call| threaded(*call))
            .and_then(|call| plan.threading.get(call.0 as usize - 1).copied());
        BrokenView {
            number: end.number,
            call: end.call,
            float: end.float,
            position: end.call.and_then(|call| plan.position_of(call)),
            group: end
                .call
                .and_then(|call| plan.group_of(call))
                .map(|group| group.number),
            shaft,
            dent,
            tape: dent.and_then(|dent| plan.tape_of_dent(dent)),
            stage: end.stage,
            mended: end.mended,
        }
    }

    /// What is to be looked at before weaving: broken ends, and what was left for the cloth to show.
    pub(super) fn ends_view(&self) -> Option<View> {
        let left = self.record().left.iter();
        let left: Vec<_> = left
            .filter(|left| matches!(left.what, Left::Mismatch(_)))
            .cloned()
            .collect();
        let broken = self.broken_ends();
        let nothing = left.is_empty() && broken.is_empty();
        (!nothing).then_some(View::Ends(EndsView { broken, left }))
    }
}
