//! Answers, choices, amendments and tasks as they stand in the file. Owns their words; never checks
//! whether an answer fits its question.

use super::{StoredReedSeen, StoredWarpSeen, same_names};
use crate::dressing::ask::{Amendment, Answer, Choice};
use crate::dressing::ledger::Task;
use crate::fault::{LookKind, Seen};
use crate::plan::{BatchRule, Side};
use crate::quantity::{Call, Shaft};
use serde::{Deserialize, Serialize};

/// A task as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredTask {
    /// Wound.
    Wound,
    /// In the raddle.
    Spread,
    /// Slip-knotted.
    Knotted,
    /// End loops cut.
    Cut,
    /// Counted out.
    CountedOut,
    /// Threaded.
    Threaded,
    /// Counted off.
    Checked,
    /// Sleyed.
    Sleyed,
    /// First half of the knot.
    TiedFirst,
    /// Finished.
    TiedSecond,
}

same_names!(StoredTask, Task: Wound, Spread, Knotted, Cut, CountedOut, Threaded, Checked, Sleyed, TiedFirst, TiedSecond);

/// An answer as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredAnswer {
    /// One number.
    Number(i64),
    /// One for each shaft.
    Numbers(Vec<i64>),
    /// What was seen.
    Seen(StoredSeen),
    /// What was seen along the warp.
    WarpSeen(StoredWarpSeen),
    /// What was seen in the reed.
    ReedSeen(StoredReedSeen),
    /// She cannot tell.
    CannotTell,
}

impl From<&Answer> for StoredAnswer {
    fn from(answer: &Answer) -> Self {
        match answer {
            Answer::Number(number) => Self::Number(*number),
            Answer::Numbers(numbers) => Self::Numbers(numbers.clone()),
            Answer::Seen(seen) => Self::Seen(seen.into()),
            Answer::WarpSeen(seen) => Self::WarpSeen((*seen).into()),
            Answer::ReedSeen(seen) => Self::ReedSeen((*seen).into()),
            Answer::CannotTell => Self::CannotTell,
        }
    }
}

impl From<StoredAnswer> for Answer {
    fn from(stored: StoredAnswer) -> Self {
        match stored {
            StoredAnswer::Number(number) => Self::Number(number),
            StoredAnswer::Numbers(numbers) => Self::Numbers(numbers),
            StoredAnswer::Seen(seen) => Self::Seen(seen.into()),
            StoredAnswer::WarpSeen(seen) => Self::WarpSeen(seen.into()),
            StoredAnswer::ReedSeen(seen) => Self::ReedSeen(seen.into()),
            StoredAnswer::CannotTell => Self::CannotTell,
        }
    }
}

/// What was seen at a look, as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredSeen {
    /// The shaft of a heddle.
    Shaft {
        /// The call.
        call: u32,
        /// The shaft; `null` where no such heddle is filled.
        shaft: Option<u8>,
    },
    /// The heddle that holds two ends.
    Double {
        /// The call; `null` for none.
        call: Option<u32>,
    },
    /// The heddle after which an end hangs loose.
    Hanging {
        /// The call; `null` for none.
        call: Option<u32>,
    },
    /// The shaft with an empty heddle.
    Empty {
        /// The shaft; `null` for none.
        shaft: Option<u8>,
    },
    /// Ends in the knot.
    Knot {
        /// How many.
        ends: u32,
    },
    /// Two neighbours together.
    Together {
        /// The first of them; `null` for none.
        call: Option<u32>,
    },
    /// The shafts as read.
    ReadBack(Vec<u8>),
    /// She looked and cannot tell.
    CannotTell {
        /// The look.
        look: StoredLookKind,
        /// The call, where the look is at one heddle.
        call: Option<u32>,
    },
}

fn number(call: Option<Call>) -> Option<u32> {
    call.map(|call| call.0)
}

impl From<&Seen> for StoredSeen {
    fn from(seen: &Seen) -> Self {
        match seen {
            Seen::Shaft { call, shaft } => Self::Shaft {
                call: call.0,
                shaft: shaft.map(|shaft| shaft.0),
            },
            Seen::Double { call } => Self::Double {
                call: number(*call),
            },
            Seen::Hanging { call } => Self::Hanging {
                call: number(*call),
            },
            Seen::Empty { shaft } => Self::Empty {
                shaft: shaft.map(|shaft| shaft.0),
            },
            Seen::Knot { ends } => Self::Knot { ends: *ends },
            Seen::Together { call } => Self::Together {
                call: number(*call),
            },
            Seen::ReadBack(shafts) => Self::ReadBack(shafts.iter().map(|shaft| shaft.0).collect()),
            Seen::CannotTell { look, call } => Self::CannotTell {
                look: (*look).into(),
                call: number(*call),
            },
        }
    }
}

impl From<StoredSeen> for Seen {
    fn from(stored: StoredSeen) -> Self {
        match stored {
            StoredSeen::Shaft { call, shaft } => Self::Shaft {
                call: Call(call),
                shaft: shaft.map(Shaft),
            },
            StoredSeen::Double { call } => Self::Double {
                call: call.map(Call),
            },
            StoredSeen::Hanging { call } => Self::Hanging {
                call: call.map(Call),
            },
            StoredSeen::Empty { shaft } => Self::Empty {
                shaft: shaft.map(Shaft),
            },
            StoredSeen::Knot { ends } => Self::Knot { ends },
            StoredSeen::Together { call } => Self::Together {
                call: call.map(Call),
            },
            StoredSeen::ReadBack(shafts) => Self::ReadBack(shafts.into_iter().map(Shaft).collect()),
            StoredSeen::CannotTell { look, call } => Self::CannotTell {
                look: look.into(),
                call: call.map(Call),
            },
        }
    }
}

/// A kind of look as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredLookKind {
    /// The shaft of a heddle.
    ShaftOfHeddle,
    /// A heddle with two ends.
    HeddleHoldingTwo,
    /// An end that hangs loose.
    EndInNoHeddle,
    /// An empty heddle.
    EmptyHeddle,
    /// Ends in the knot.
    EndsInKnot,
    /// Neighbours together.
    NeighboursTogether,
    /// All shafts read.
    ReadBack,
}

same_names!(StoredLookKind, LookKind: ShaftOfHeddle, HeddleHoldingTwo, EndInNoHeddle, EmptyHeddle, EndsInKnot, NeighboursTogether, ReadBack);

/// A way out as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredChoice {
    /// Thread the batch again.
    ThreadAgain,
    /// It was put right.
    PutRight,
    /// The loom's count holds.
    LoomHolds,
    /// Step back a batch.
    StepBack,
    /// Look once more.
    LookAgain,
    /// Trace it.
    Trace,
    /// Read the threading back.
    ReadBack,
    /// Leave it open.
    LeaveOpen,
    /// One of the suspects that are listed, counted from 0.
    Suspect(u8),
    /// Say what is seen.
    Sight,
    /// A way that the tracing worked out.
    Way(super::mending::StoredWay),
}

impl From<Choice> for StoredChoice {
    fn from(live: Choice) -> Self {
        match live {
            Choice::ThreadAgain => Self::ThreadAgain,
            Choice::PutRight => Self::PutRight,
            Choice::LoomHolds => Self::LoomHolds,
            Choice::StepBack => Self::StepBack,
            Choice::LookAgain => Self::LookAgain,
            Choice::Trace => Self::Trace,
            Choice::ReadBack => Self::ReadBack,
            Choice::LeaveOpen => Self::LeaveOpen,
            Choice::Suspect(nth) => Self::Suspect(nth),
            Choice::Sight => Self::Sight,
            Choice::Way(way) => Self::Way(way.into()),
        }
    }
}

impl From<StoredChoice> for Choice {
    fn from(stored: StoredChoice) -> Self {
        match stored {
            StoredChoice::ThreadAgain => Self::ThreadAgain,
            StoredChoice::PutRight => Self::PutRight,
            StoredChoice::LoomHolds => Self::LoomHolds,
            StoredChoice::StepBack => Self::StepBack,
            StoredChoice::LookAgain => Self::LookAgain,
            StoredChoice::Trace => Self::Trace,
            StoredChoice::ReadBack => Self::ReadBack,
            StoredChoice::LeaveOpen => Self::LeaveOpen,
            StoredChoice::Suspect(nth) => Self::Suspect(nth),
            StoredChoice::Sight => Self::Sight,
            StoredChoice::Way(way) => Self::Way(way.into()),
        }
    }
}

/// An amendment as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredChange {
    /// Another batch rule.
    Batch(StoredRule),
    /// Heddles on hand.
    Heddles(Vec<u32>),
    /// Another draft, as typed.
    Draft(String),
    /// Another number of ends.
    Ends(u32),
    /// Sleying from this side.
    SleyFrom(StoredSide),
    /// These shafts stand in the place of so many calls.
    Stands(Vec<u8>, u32),
}

/// A side as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredSide {
    /// The right.
    Right,
    /// The left.
    Left,
}

same_names!(StoredSide, Side: Right, Left);

/// A batch rule as it stands in the file: a word, or a number of ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredRule {
    /// By the draft's repeat.
    Repeat,
    /// By the group.
    Group,
    /// So many ends.
    #[serde(untagged)]
    Number(u32),
}

impl From<&Amendment> for StoredChange {
    fn from(change: &Amendment) -> Self {
        match change {
            Amendment::BatchRule(BatchRule::Repeat) => Self::Batch(StoredRule::Repeat),
            Amendment::BatchRule(BatchRule::Group) => Self::Batch(StoredRule::Group),
            Amendment::BatchRule(BatchRule::Number(ends)) => Self::Batch(StoredRule::Number(*ends)),
            Amendment::HeddlesOnHand(list) => Self::Heddles(list.clone()),
            Amendment::Draft(typed) => Self::Draft(typed.clone()),
            Amendment::Ends(ends) => Self::Ends(*ends),
            Amendment::SleyFrom(side) => Self::SleyFrom((*side).into()),
            Amendment::Stands { line, made } => {
                Self::Stands(line.iter().map(|shaft| shaft.0).collect(), *made)
            }
        }
    }
}

impl From<StoredChange> for Amendment {
    fn from(stored: StoredChange) -> Self {
        match stored {
            StoredChange::Batch(StoredRule::Repeat) => Self::BatchRule(BatchRule::Repeat),
            StoredChange::Batch(StoredRule::Group) => Self::BatchRule(BatchRule::Group),
            StoredChange::Batch(StoredRule::Number(ends)) => {
                Self::BatchRule(BatchRule::Number(ends))
            }
            StoredChange::Heddles(list) => Self::HeddlesOnHand(list),
            StoredChange::Draft(typed) => Self::Draft(typed),
            StoredChange::Ends(ends) => Self::Ends(ends),
            StoredChange::SleyFrom(side) => Self::SleyFrom(side.into()),
            StoredChange::Stands(line, made) => Self::Stands {
                line: line.into_iter().map(crate::quantity::Shaft).collect(),
                made,
            },
        }
    }
}
