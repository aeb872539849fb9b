//! The faults that a batch can have, and one fault with its place.
//! Owns their names (as the command line gives them); never ranks them.

use crate::quantity::{Call, Shaft};
use serde::{Deserialize, Serialize};

/// A kind of mistake in the threading of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FaultKind {
    /// A call was passed over: no end and no heddle for it; what follows stands one place early.
    PositionSkipped,
    /// A call was threaded twice running; what follows stands one place late.
    PositionRepeated,
    /// Two ends went through the heddle of one call.
    EndsDoubled,
    /// An end was passed over at the lease and hangs behind the shafts in no heddle.
    EndHanging,
    /// A call's end went through a heddle of another shaft.
    WrongShaft,
    /// A heddle was passed by and stands empty among the threaded, or an end goes through it and
    /// through its own: one heddle of that shaft is used up for nothing.
    HeddlePassed,
    /// The ends were counted out wrong; nothing is wrong in the heddles.
    EndsMiscounted,
    /// The heddles of one shaft were counted out wrong; nothing is wrong in the heddles.
    HeddlesMiscounted,
    /// A whole handful of calls was passed over.
    HandfulSkipped,
    /// A whole handful of calls was threaded twice running.
    HandfulRepeated,
    /// Two calls beside each other were threaded in each other's heddles. No count sees it.
    NeighboursExchanged,
}

impl FaultKind {
    /// All kinds, as the command line lists them.
    pub const ALL: [Self; 11] = [
        Self::PositionSkipped,
        Self::PositionRepeated,
        Self::EndsDoubled,
        Self::EndHanging,
        Self::WrongShaft,
        Self::HeddlePassed,
        Self::EndsMiscounted,
        Self::HeddlesMiscounted,
        Self::HandfulSkipped,
        Self::HandfulRepeated,
        Self::NeighboursExchanged,
    ];

    /// The name in JSON and on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::PositionSkipped => "position-skipped",
            Self::PositionRepeated => "position-repeated",
            Self::EndsDoubled => "ends-doubled",
            Self::EndHanging => "end-hanging",
            Self::WrongShaft => "wrong-shaft",
            Self::HeddlePassed => "heddle-passed",
            Self::EndsMiscounted => "ends-miscounted",
            Self::HeddlesMiscounted => "heddles-miscounted",
            Self::HandfulSkipped => "handful-skipped",
            Self::HandfulRepeated => "handful-repeated",
            Self::NeighboursExchanged => "neighbours-exchanged",
        }
    }

    /// Whether everything that was threaded after the fault stands at another call's place.
    #[must_use]
    pub fn shifts(self) -> bool {
        matches!(
            self,
            Self::PositionSkipped
                | Self::PositionRepeated
                | Self::HandfulSkipped
                | Self::HandfulRepeated
        )
    }

    /// Whether ends and heddles come out even all the same.
    #[must_use]
    pub fn is_silent(self) -> bool {
        self == Self::NeighboursExchanged
    }

    /// Whether only the counting out was wrong and the heddles stand as planned.
    #[must_use]
    pub fn is_miscount(self) -> bool {
        matches!(self, Self::EndsMiscounted | Self::HeddlesMiscounted)
    }
}

/// One fault with its place, as far as it has one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Fault {
    /// What went wrong.
    #[serde(rename = "fault")]
    pub kind: FaultKind,
    /// The planned call where it went wrong; the first of a handful or of two neighbours. None for
    /// a miscount and for a heddle passed by, which a count cannot place.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub call: Option<Call>,
    /// The shaft that it touches: the planned one of a call skipped, repeated or doubled, the one
    /// that the end stands on after a wrong shaft, the one whose heddle was passed or miscounted.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub shaft: Option<Shaft>,
    /// How many: ends or heddles counted out too many (negative: too few) for a miscount, the
    /// handful's length for a handful, else 1.
    #[serde(skip_serializing_if = "is_one", default = "one")]
    pub count: i64,
}

fn is_one(count: &i64) -> bool {
    *count == 1
}

fn one() -> i64 {
    1
}

impl Fault {
    /// A fault at one call.
    #[must_use]
    pub fn at(kind: FaultKind, call: Call, shaft: Shaft) -> Self {
        Self {
            kind,
            call: Some(call),
            shaft: Some(shaft),
            count: 1,
        }
    }

    /// A handful of `count` calls from `call` on.
    #[must_use]
    pub fn handful(kind: FaultKind, call: Call, count: i64) -> Self {
        Self {
            kind,
            call: Some(call),
            shaft: None,
            count,
        }
    }

    /// A fault of a shaft without a place.
    #[must_use]
    pub fn of_shaft(kind: FaultKind, shaft: Shaft, count: i64) -> Self {
        Self {
            kind,
            call: None,
            shaft: Some(shaft),
            count,
        }
    }

    /// Ends counted out wrong by `count`.
    #[must_use]
    pub fn ends(count: i64) -> Self {
        Self {
            kind: FaultKind::EndsMiscounted,
            call: None,
            shaft: None,
            count,
        }
    }

    /// The calls that the fault touches, first and last; `None` where it has no place.
    #[must_use]
    pub fn span(&self) -> Option<(Call, Call)> {
        let first = self.call?;
        let more = match self.kind {
            FaultKind::HandfulSkipped | FaultKind::HandfulRepeated => {
                u32::try_from(self.count - 1).unwrap_or(0)
            }
            FaultKind::NeighboursExchanged => 1,
            _ => 0,
        };
        Some((first, Call(first.0.saturating_add(more))))
    }

    /// Whether two faults touch the same call, so that they could not be told apart in one work.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        match (self.span(), other.span()) {
            (Some((a, b)), Some((c, d))) => a <= d && c <= b,
            _ => false,
        }
    }
}
