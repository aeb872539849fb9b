//! The stored form of a mending: its way and its moves.

use super::{Run, calls, run};
use crate::fault::{Fault, FaultKind, Found, Move, NewEnd, ReedFault, WayKind};
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
    /// A broken end made good.
    NewEnd,
}

super::same_names!(StoredWay, WayKind: ThreadAgain, FromTheFault, ToTheFirstEdge, OnTheSpot, PutCountRight, GoOn, AmendPlan, LeaveIt, NewEnd);

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
    /// More or fewer ends at the edge threaded last.
    LastEdge(i64),
    /// Sley again, each so many places nearer the edge threaded first.
    SleyMoved(Run, i64),
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
    /// Done to a new length.
    NewEnd(StoredNewEnd),
}

/// What is done to a new length in place of a broken end, as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredNewEnd {
    /// Joined on at the last peg.
    JoinAtPeg,
    /// Knotted on.
    JoinOn,
    /// Hung on, weighted.
    HangOn,
    /// Into the cross.
    IntoCross,
    /// Through its heddle on this shaft.
    ThroughHeddle(u8),
    /// Through a heddle that it shares.
    ThroughSharedHeddle(u8),
    /// Through its dent.
    ThroughDent(u32),
    /// Through heddle and dent that are empty.
    ThroughWhatIsEmpty,
    /// Into its knot.
    IntoKnot,
    /// Fastened at the front.
    ToTheFront,
}

impl From<NewEnd> for StoredNewEnd {
    fn from(step: NewEnd) -> Self {
        match step {
            NewEnd::JoinAtPeg => Self::JoinAtPeg,
            NewEnd::JoinOn => Self::JoinOn,
            NewEnd::HangOn => Self::HangOn,
            NewEnd::IntoCross => Self::IntoCross,
            NewEnd::ThroughHeddle(shaft) => Self::ThroughHeddle(shaft.0),
            NewEnd::ThroughSharedHeddle(shaft) => Self::ThroughSharedHeddle(shaft.0),
            NewEnd::ThroughDent(dent) => Self::ThroughDent(dent),
            NewEnd::ThroughWhatIsEmpty => Self::ThroughWhatIsEmpty,
            NewEnd::IntoKnot => Self::IntoKnot,
            NewEnd::ToTheFront => Self::ToTheFront,
        }
    }
}

impl From<StoredNewEnd> for NewEnd {
    fn from(stored: StoredNewEnd) -> Self {
        match stored {
            StoredNewEnd::JoinAtPeg => Self::JoinAtPeg,
            StoredNewEnd::JoinOn => Self::JoinOn,
            StoredNewEnd::HangOn => Self::HangOn,
            StoredNewEnd::IntoCross => Self::IntoCross,
            StoredNewEnd::ThroughHeddle(shaft) => Self::ThroughHeddle(Shaft(shaft)),
            StoredNewEnd::ThroughSharedHeddle(shaft) => Self::ThroughSharedHeddle(Shaft(shaft)),
            StoredNewEnd::ThroughDent(dent) => Self::ThroughDent(dent),
            StoredNewEnd::ThroughWhatIsEmpty => Self::ThroughWhatIsEmpty,
            StoredNewEnd::IntoKnot => Self::IntoKnot,
            StoredNewEnd::ToTheFront => Self::ToTheFront,
        }
    }
}

impl From<&Move> for StoredMove {
    fn from(live: &Move) -> Self {
        match live {
            Move::UndoKnots(these) => Self::UndoKnots(run(*these)),
            Move::DrawFromReed(these) => Self::DrawFromReed(run(*these)),
            Move::DrawOut(these) => Self::DrawOut(run(*these)),
            Move::Thread(these) => Self::Thread(run(*these)),
            Move::EdgeEnds(n) => Self::EdgeEnds(*n),
            Move::LastEdge(n) => Self::LastEdge(*n),
            Move::SleyMoved(these, by) => Self::SleyMoved(run(*these), *by),
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
            Move::NewEnd(step) => Self::NewEnd((*step).into()),
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
            StoredMove::LastEdge(n) => Self::LastEdge(n),
            StoredMove::SleyMoved(these, by) => Self::SleyMoved(calls(these), by),
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
            StoredMove::NewEnd(step) => Self::NewEnd(step.into()),
        }
    }
}

/// A kind of fault in the heddles as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredFaultKind {
    /// A call passed over.
    PositionSkipped,
    /// A call done twice.
    PositionRepeated,
    /// Two ends in a heddle.
    EndsDoubled,
    /// An end in none.
    EndHanging,
    /// Another shaft.
    WrongShaft,
    /// A heddle passed by.
    HeddlePassed,
    /// Ends counted out wrong.
    EndsMiscounted,
    /// Heddles counted out wrong.
    HeddlesMiscounted,
    /// A handful passed over.
    HandfulSkipped,
    /// A handful done twice.
    HandfulRepeated,
    /// Two neighbours exchanged.
    NeighboursExchanged,
}

super::same_names!(StoredFaultKind, FaultKind: PositionSkipped, PositionRepeated, EndsDoubled, EndHanging, WrongShaft, HeddlePassed, EndsMiscounted, HeddlesMiscounted, HandfulSkipped, HandfulRepeated, NeighboursExchanged);

/// A kind of fault in the reed as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredReedFault {
    /// A dent passed over.
    DentSkipped,
    /// One end too many in a dent.
    EndTooMany,
    /// One too few.
    EndTooFew,
    /// The order one dent ahead.
    OrderAhead,
    /// The order one dent behind.
    OrderBehind,
    /// Two ends crossed.
    EndsCrossed,
}

super::same_names!(StoredReedFault, ReedFault: DentSkipped, EndTooMany, EndTooFew, OrderAhead, OrderBehind, EndsCrossed);

/// Something wrong whose place is known, as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredFound {
    /// In the heddles.
    InHeddles {
        /// What.
        fault: StoredFaultKind,
        /// Its call.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        call: Option<u32>,
        /// The shaft that it touches.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        shaft: Option<u8>,
        /// How many.
        count: i64,
    },
    /// In the reed.
    InReed {
        /// What.
        fault: StoredReedFault,
        /// From this call on.
        call: u32,
    },
}

impl From<Found> for StoredFound {
    fn from(found: Found) -> Self {
        match found {
            Found::InHeddles(fault) => Self::InHeddles {
                fault: fault.kind.into(),
                call: fault.call.map(|call| call.0),
                shaft: fault.shaft.map(|shaft| shaft.0),
                count: fault.count,
            },
            Found::InReed(fault, call) => Self::InReed {
                fault: fault.into(),
                call: call.0,
            },
        }
    }
}

impl From<StoredFound> for Found {
    fn from(stored: StoredFound) -> Self {
        match stored {
            StoredFound::InHeddles {
                fault,
                call,
                shaft,
                count,
            } => Self::InHeddles(Fault {
                kind: fault.into(),
                call: call.map(Call),
                shaft: shaft.map(Shaft),
                count,
            }),
            StoredFound::InReed { fault, call } => Self::InReed(fault.into(), Call(call)),
        }
    }
}
