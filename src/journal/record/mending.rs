//! The stored form of a mending: its way and its moves.

use super::{Run, calls, run};
use crate::fault::{Move, WayKind};
use crate::quantity::{Call, Shaft};
use serde::{Deserialize, Serialize};

/// A way of mending as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredWay {
    /// Thread the batch again.
    ThreadAgain,
    /// From the fault on.
    FromTheFault,
    /// To the first edge.
    ToTheFirstEdge,
    /// On the spot.
    OnTheSpot,
    /// The count-out put right.
    PutCountRight,
    /// Go on from what stands.
    GoOn,
    /// The plan amended.
    AmendPlan,
    /// Left as it is.
    LeaveIt,
}

super::same_names!(StoredWay, WayKind: ThreadAgain, FromTheFault, ToTheFirstEdge, OnTheSpot, PutCountRight, GoOn, AmendPlan, LeaveIt);

/// A move as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredMove {
    /// Undo knots.
    UndoKnots(Run),
    /// Draw from the reed.
    DrawFromReed(Run),
    /// Draw out of heddles.
    DrawOut(Run),
    /// Thread.
    Thread(Run),
    /// More or fewer ends at the edge.
    EdgeEnds(i64),
    /// Hang a repair heddle.
    HangHeddle(u32, u8),
    /// Move an end.
    MoveEnd(u32, u8),
    /// Exchange two ends.
    Exchange(u32),
    /// Add an end.
    AddEnd(u32, u8),
    /// Take an end out.
    TakeOut(u32),
    /// Take a second end out.
    TakeSecondOut(u32),
    /// Take a loose end out.
    TakeHangingOut(u32),
    /// Free a heddle.
    FreeHeddle(u8),
    /// Sley again.
    Sley(Run),
    /// Knot again.
    Knot(Run),
    /// Put ends back.
    PutBackEnds(i64),
    /// Put heddles back.
    PutBackHeddles(u8, i64),
    /// Calls that stand.
    CallsStand(u32),
    /// Shafts that stand.
    Amend(u32, Vec<u8>),
}

impl From<&Move> for StoredMove {
    fn from(live: &Move) -> Self {
        match live {
            Move::UndoKnots(these) => Self::UndoKnots(run(*these)),
            Move::DrawFromReed(these) => Self::DrawFromReed(run(*these)),
            Move::DrawOut(these) => Self::DrawOut(run(*these)),
            Move::Thread(these) => Self::Thread(run(*these)),
            Move::EdgeEnds(n) => Self::EdgeEnds(*n),
            Move::HangHeddle(call, shaft) => Self::HangHeddle(call.0, shaft.0),
            Move::MoveEnd(call, shaft) => Self::MoveEnd(call.0, shaft.0),
            Move::Exchange(call) => Self::Exchange(call.0),
            Move::AddEnd(call, shaft) => Self::AddEnd(call.0, shaft.0),
            Move::TakeOut(call) => Self::TakeOut(call.0),
            Move::TakeSecondOut(call) => Self::TakeSecondOut(call.0),
            Move::TakeHangingOut(call) => Self::TakeHangingOut(call.0),
            Move::FreeHeddle(shaft) => Self::FreeHeddle(shaft.0),
            Move::Sley(these) => Self::Sley(run(*these)),
            Move::Knot(these) => Self::Knot(run(*these)),
            Move::PutBackEnds(n) => Self::PutBackEnds(*n),
            Move::PutBackHeddles(shaft, n) => Self::PutBackHeddles(shaft.0, *n),
            Move::CallsStand(n) => Self::CallsStand(*n),
            Move::Amend(call, shafts) => {
                Self::Amend(call.0, shafts.iter().map(|shaft| shaft.0).collect())
            }
        }
    }
}

impl From<StoredMove> for Move {
    fn from(stored: StoredMove) -> Self {
        match stored {
            StoredMove::UndoKnots(these) => Self::UndoKnots(calls(these)),
            StoredMove::DrawFromReed(these) => Self::DrawFromReed(calls(these)),
            StoredMove::DrawOut(these) => Self::DrawOut(calls(these)),
            StoredMove::Thread(these) => Self::Thread(calls(these)),
            StoredMove::EdgeEnds(n) => Self::EdgeEnds(n),
            StoredMove::HangHeddle(call, shaft) => Self::HangHeddle(Call(call), Shaft(shaft)),
            StoredMove::MoveEnd(call, shaft) => Self::MoveEnd(Call(call), Shaft(shaft)),
            StoredMove::Exchange(call) => Self::Exchange(Call(call)),
            StoredMove::AddEnd(call, shaft) => Self::AddEnd(Call(call), Shaft(shaft)),
            StoredMove::TakeOut(call) => Self::TakeOut(Call(call)),
            StoredMove::TakeSecondOut(call) => Self::TakeSecondOut(Call(call)),
            StoredMove::TakeHangingOut(call) => Self::TakeHangingOut(Call(call)),
            StoredMove::FreeHeddle(shaft) => Self::FreeHeddle(Shaft(shaft)),
            StoredMove::Sley(these) => Self::Sley(calls(these)),
            StoredMove::Knot(these) => Self::Knot(calls(these)),
            StoredMove::PutBackEnds(n) => Self::PutBackEnds(n),
            StoredMove::PutBackHeddles(shaft, n) => Self::PutBackHeddles(Shaft(shaft), n),
            StoredMove::CallsStand(n) => Self::CallsStand(n),
            StoredMove::Amend(call, shafts) => {
                Self::Amend(Call(call), shafts.into_iter().map(Shaft).collect())
            }
        }
    }
}
