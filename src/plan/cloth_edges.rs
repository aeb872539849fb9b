//! The edges: whether the weft, turning there, catches the outermost end. Owns that question and
//! what follows from it (start from the other side, floating selvedges); never decides for the weaver.

use super::cloth::Cloth;
use super::{Floats, Plan, Side};
use crate::quantity::Call;

/// How the turns at one edge go, over as many picks as bring pick 1 back to its side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EdgeTurns {
    /// The edge.
    pub edge: Side,
    /// Its outermost heddled end.
    pub call: Call,
    /// Turns at this edge.
    pub turns: u32,
    /// Turns that miss the end: it is up in both picks or down in both.
    pub missed: u32,
    /// The most such turns one after the other.
    pub in_a_row: u32,
}

/// Both edges, with the first pick thrown from one side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Edges {
    /// The side that pick 1 is thrown from.
    pub first_from: Side,
    /// The right edge.
    pub right: EdgeTurns,
    /// The left edge.
    pub left: EdgeTurns,
}

impl Edges {
    /// Whether every turn catches both edge ends.
    #[must_use]
    pub fn all_caught(&self) -> bool {
        self.right.missed == 0 && self.left.missed == 0
    }
}

/// What the edges ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeAdvice {
    /// Every turn catches the edge ends, from whichever side the first pick comes.
    Caught,
    /// Every turn catches them if the first pick is thrown from this side.
    StartFrom(Side),
    /// Some turns miss them from either side: floating selvedges are advised.
    FloatsAdvised,
    /// Some turns miss them, and the plan has floating selvedges for that.
    FloatsThere,
}

impl Cloth {
    /// The edges with the first pick thrown from a side, one shuttle, one pick a shed.
    #[must_use]
    pub fn edges(&self, thread_from: Side, first_from: Side) -> Edges {
        let (first, last) = (Call(1), Call(self.calls()));
        let (right, left) = match thread_from {
            Side::Right => (first, last),
            Side::Left => (last, first),
        };
        Edges {
            first_from,
            right: self.turns(Side::Right, right, first_from),
            left: self.turns(Side::Left, left, first_from),
        }
    }

    /// Pick p ends at the far side from where it was thrown; the turn there is between p and p + 1.
    fn turns(&self, edge: Side, call: Call, first_from: Side) -> EdgeTurns {
        let repeat = self.lifts_given();
        let picks = if repeat.is_multiple_of(2) {
            repeat
        } else {
            repeat.saturating_mul(2)
        };
        let start = if first_from == edge { 2 } else { 1 };
        let mut found = EdgeTurns {
            edge,
            call,
            turns: 0,
            missed: 0,
            in_a_row: 0,
        };
        let mut row = 0;
        // a second round finds runs that cross from one repeat into the next
        for (nth, pick) in (start..=2 * picks).step_by(2).enumerate() {
            let misses = self.warp_up(pick, call) == self.warp_up(pick + 1, call);
            row = if misses { row + 1 } else { 0 };
            found.in_a_row = found.in_a_row.max(row);
            if nth < (picks / 2) as usize {
                found.turns += 1;
                found.missed += u32::from(misses);
            }
        }
        found.in_a_row = found.in_a_row.min(found.turns);
        found
    }

    /// What the edges ask for. The rule that a turn catches an end which changes between the two
    /// picks is geometry; floating selvedges as the cure are common practice (Petrini, "To Float or
    /// not to Float", April 2023).
    #[must_use]
    pub fn edge_advice(&self, plan: &Plan) -> EdgeAdvice {
        let from = |side| self.edges(plan.thread_from, side).all_caught();
        match (from(Side::Right), from(Side::Left), plan.floats) {
            (true, true, _) => EdgeAdvice::Caught,
            (true, false, Floats::None) => EdgeAdvice::StartFrom(Side::Right),
            (false, true, Floats::None) => EdgeAdvice::StartFrom(Side::Left),
            (false, false, Floats::None) => EdgeAdvice::FloatsAdvised,
            (_, _, Floats::FromWarp | Floats::Added) => EdgeAdvice::FloatsThere,
        }
    }
}
