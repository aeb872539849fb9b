//! Broken ends for the eye: which, where on the loom, and whether each is mended. Owns the places; what
//! mending one takes is decided where it begins.

use super::View;
use crate::dressing::decide;
use crate::dressing::ledger::Task;
use crate::dressing::state::LeftOpen;
use crate::dressing::state::{BrokenEnd, Dressing, Left};
use crate::dressing::state::{Mood, open_look};
use crate::fault::{Move, NewEnd};
use crate::method::Stage;
use crate::plan::Side;
use crate::quantity::{Call, Fraction, Position, Shaft};

/// Broken ends and what was left, to be looked at before weaving.
#[derive(Debug, Clone, PartialEq)]
pub struct EndsView {
    /// All broken ends, mended ones too.
    pub broken: Vec<BrokenView>,
    /// Mismatches that were left open.
    pub left: Vec<LeftOpen>,
}

/// A broken end with its place on the loom, its state and what is left to do. While a look is open its shaft,
/// its dent and what is left to do are not in it: they may be what is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct BrokenView {
    /// Its number, from 1.
    pub number: u32,
    /// Its call, where it is known.
    pub call: Option<Call>,
    /// The edge, where it is a floating selvedge.
    pub float: Option<Side>,
    /// Its place across the warp, from the right.
    pub position: Option<Position>,
    /// Its group.
    pub group: Option<u32>,
    /// Its shaft, where it is threaded.
    pub shaft: Option<Shaft>,
    /// Its dent, where it is sleyed or a float.
    pub dent: Option<u32>,
    /// Where on the tape, from the reed's edge at the sleying side, that dent lies.
    pub tape: Option<Fraction>,
    /// The stage in which it broke.
    pub stage: Stage,
    /// Whether it is mended.
    pub mended: bool,
    /// While it is being mended: the move at hand, from 1, and moves in all.
    pub under_way: Option<(u32, u32)>,
    /// What mending it takes where the work stands; of a mending under way, from the move at hand on.
    pub to_do: Vec<NewEnd>,
}

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
        let hidden = open_look(self.mood()).is_some();
        let (dent, shaft) = (dent.filter(|_| !hidden), shaft.filter(|_| !hidden));
        let (under_way, to_do) = self.left_to_do(end);
        BrokenView {
            under_way,
            to_do: if hidden { Vec::new() } else { to_do },
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

    /// How far the mending of a broken end has come, if it is under way, and what is left of it.
    fn left_to_do(&self, end: &BrokenEnd) -> (Option<(u32, u32)>, Vec<NewEnd>) {
        let steps = |moves: &[Move]| -> Vec<NewEnd> {
            let steps = moves.iter().filter_map(|step| match step {
                Move::NewEnd(step) => Some(*step),
                _ => None,
            });
            steps.collect()
        };
        match self.mood() {
            _ if end.mended => (None, Vec::new()),
            Mood::Mending(mending) if mending.broken == Some(end.number) => {
                let of = mending.moves.len() as u32;
                let left = mending.moves.get(mending.made as usize..);
                (
                    Some((mending.made + 1, of)),
                    steps(left.unwrap_or_default()),
                )
            }
            _ => (None, steps(&decide::moves_for(self, end))),
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
