//! The stored form of what happened, format 1. Owns the words that stand in the file; apart from the
//! machine's own types, so that those may change while old files still load. Never decides.
//!
//! Invariants: every event has a stored form and comes back from it as it was. What is here was
//! written to files: a word may be added (an older reader then stops at its line and says that a newer
//! version made it), none may be renamed. Steps stand under the ids that method files use too.

mod answer;
mod mending;
mod mismatch;
mod question;
mod reading;
mod traced;
mod trying;

pub use answer::{
    StoredAnswer, StoredChange, StoredChoice, StoredLookKind, StoredRule, StoredSeen, StoredSide,
    StoredTask,
};
pub use mending::{StoredFound, StoredMove, StoredWay};
pub use mismatch::StoredMismatch;
pub use question::{StoredLook, StoredQuestion, StoredReason};
pub use reading::{Unread, events_of};
pub use traced::{StoredReedLook, StoredReedSeen, StoredWarpLook, StoredWarpSeen};
pub use trying::{StoredMeasured, StoredSighting, StoredSign};

use crate::dressing::event::{Event, StepKey};
use crate::method::StepId;
use crate::quantity::{Call, Calls};
use serde::{Deserialize, Serialize};

/// A run of calls as it stands in the file: `[first, last]`.
type Run = (u32, u32);

/// One event as it stands in the file; `t` says which.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "t", rename_all = "kebab-case")]
pub enum Stored {
    /// A step about the loom was done.
    Step(StoredStep),
    /// An optional step was left out.
    LeftOut(StoredStep),
    /// Winding was left out.
    WoundAlready,
    /// A task was done to ends.
    Marked {
        /// The task.
        task: StoredTask,
        /// The ends.
        calls: Run,
        /// The plan revision.
        plan: u32,
    },
    /// A task's mark was taken off.
    Unmarked {
        /// The task.
        task: StoredTask,
        /// The ends.
        calls: Run,
    },
    /// A question was put.
    Put {
        /// It.
        question: StoredQuestion,
    },
    /// It was answered.
    Answered {
        /// With this.
        answer: StoredAnswer,
    },
    /// It was passed over.
    PassedOver,
    /// It was settled.
    Settled,
    /// Counts or looks disagree.
    Disagreed {
        /// How.
        mismatch: StoredMismatch,
    },
    /// A way out was chosen.
    Chose {
        /// Which.
        way: StoredChoice,
    },
    /// A mending was begun.
    MendBegun {
        /// The batch.
        batch: Run,
        /// The way.
        way: StoredWay,
        /// Its moves.
        moves: Vec<StoredMove>,
    },
    /// One move of it was made.
    MoveMade {
        /// Its number, from 1.
        number: u32,
    },
    /// It is at its end.
    MendDone,
    /// An entry was taken back.
    Undone {
        /// Its number.
        entry: u64,
    },
    /// An entry was done again.
    Redone {
        /// Its number.
        entry: u64,
    },
    /// Paused.
    Paused,
    /// Stopped for today.
    Stopped,
    /// Went on.
    WentOn,
    /// Opened again.
    Opened,
    /// A long time without a press.
    Interrupted {
        /// Milliseconds.
        ms: u64,
    },
    /// Help wanted.
    HelpWanted,
    /// A second pair of hands wanted.
    HandsWanted,
    /// Help came.
    HelpCame,
    /// A mismatch that was left open was taken up again.
    TakenUp {
        /// The entry that left it open.
        entry: u64,
    },
    /// An end broke.
    Broken {
        /// Its call, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        call: Option<u32>,
    },
    /// A floating selvedge broke.
    BrokenFloat {
        /// At this edge.
        side: StoredSide,
    },
    /// The mending of a broken end was begun.
    EndMendBegun {
        /// Its number.
        number: u32,
        /// The moves.
        moves: Vec<StoredMove>,
    },
    /// A broken end was mended.
    Mended {
        /// Its number.
        number: u32,
    },
    /// A note.
    Note {
        /// Its text.
        text: String,
    },
    /// A measured width.
    Width {
        /// Thousandths of the plan's unit.
        thousandths: u32,
    },
    /// Another measure.
    Measured {
        /// What.
        what: StoredMeasured,
        /// Thousandths of the plan's unit, or per unit.
        thousandths: u32,
    },
    /// The plan was amended.
    Amended {
        /// The new revision.
        plan: u32,
        /// The first call that it holds for.
        from: u32,
        /// What changed.
        change: StoredChange,
    },
}

/// A step as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct StoredStep {
    id: StepId,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    calls: Option<Run>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    number: Option<u32>,
    plan: u32,
}

fn run(calls: Calls) -> Run {
    (calls.first.0, calls.last.0)
}

/// A run that is not one becomes a run that no warp has; the guard then says so.
fn calls((first, last): Run) -> Calls {
    Calls {
        first: Call(first),
        last: Call(last),
    }
}

/// Two enums whose variants have the same names, one line a variant both ways.
macro_rules! same_names {
    ($stored:ident, $live:ident: $($name:ident),+) => {
        impl From<$live> for $stored {
            fn from(live: $live) -> Self {
                match live { $($live::$name => Self::$name),+ }
            }
        }
        impl From<$stored> for $live {
            fn from(stored: $stored) -> Self {
                match stored { $($stored::$name => Self::$name),+ }
            }
        }
    };
}
use same_names;

impl From<&StepKey> for StoredStep {
    fn from(key: &StepKey) -> Self {
        Self {
            id: key.id,
            calls: key.calls.map(run),
            number: key.number,
            plan: key.revision,
        }
    }
}

impl From<StoredStep> for StepKey {
    fn from(step: StoredStep) -> Self {
        Self {
            id: step.id,
            calls: step.calls.map(calls),
            number: step.number,
            revision: step.plan,
        }
    }
}

impl From<&Event> for Stored {
    fn from(event: &Event) -> Self {
        match event {
            Event::StepDone(key) => Self::Step(key.into()),
            Event::StepLeftOut(key) => Self::LeftOut(key.into()),
            Event::WindLeftOut => Self::WoundAlready,
            Event::Marked {
                task,
                calls,
                revision,
            } => Self::Marked {
                task: (*task).into(),
                calls: run(*calls),
                plan: *revision,
            },
            Event::Unmarked { task, calls } => Self::Unmarked {
                task: (*task).into(),
                calls: run(*calls),
            },
            Event::Put(question) => Self::Put {
                question: question.into(),
            },
            Event::Answered(answer) => Self::Answered {
                answer: answer.into(),
            },
            Event::PassedOver => Self::PassedOver,
            Event::Settled => Self::Settled,
            Event::Disagreed(mismatch) => Self::Disagreed {
                mismatch: mismatch.into(),
            },
            Event::Chose(way) => Self::Chose { way: (*way).into() },
            Event::MendBegun { batch, way, moves } => Self::MendBegun {
                batch: run(*batch),
                way: (*way).into(),
                moves: moves.iter().map(Into::into).collect(),
            },
            Event::MoveMade { number } => Self::MoveMade { number: *number },
            Event::Mended => Self::MendDone,
            Event::Undone { entry } => Self::Undone { entry: *entry },
            Event::Redone { entry } => Self::Redone { entry: *entry },
            Event::Paused => Self::Paused,
            Event::Stopped => Self::Stopped,
            Event::WentOn => Self::WentOn,
            Event::Opened => Self::Opened,
            Event::Interrupted { gap_ms } => Self::Interrupted { ms: *gap_ms },
            Event::HelpWanted => Self::HelpWanted,
            Event::HandsWanted => Self::HandsWanted,
            Event::HelpCame => Self::HelpCame,
            Event::TakenUp { entry } => Self::TakenUp { entry: *entry },
            Event::BrokenEnd { call } => Self::Broken {
                call: call.map(|call| call.0),
            },
            Event::BrokenFloat { side } => Self::BrokenFloat {
                side: (*side).into(),
            },
            Event::EndMendBegun { number, moves } => Self::EndMendBegun {
                number: *number,
                moves: moves.iter().map(Into::into).collect(),
            },
            Event::EndMended { number } => Self::Mended { number: *number },
            Event::Note(text) => Self::Note { text: text.clone() },
            Event::MeasuredWidth { thousandths } => Self::Width {
                thousandths: *thousandths,
            },
            Event::Measured { what, thousandths } => Self::Measured {
                what: (*what).into(),
                thousandths: *thousandths,
            },
            Event::Amended {
                revision,
                from,
                change,
            } => Self::Amended {
                plan: *revision,
                from: from.0,
                change: change.into(),
            },
        }
    }
}

impl From<Stored> for Event {
    fn from(stored: Stored) -> Self {
        match stored {
            Stored::Step(step) => Self::StepDone(step.into()),
            Stored::LeftOut(step) => Self::StepLeftOut(step.into()),
            Stored::WoundAlready => Self::WindLeftOut,
            Stored::Marked { task, calls, plan } => Self::Marked {
                task: task.into(),
                calls: self::calls(calls),
                revision: plan,
            },
            Stored::Unmarked { task, calls } => Self::Unmarked {
                task: task.into(),
                calls: self::calls(calls),
            },
            Stored::Put { question } => Self::Put(question.into()),
            Stored::Answered { answer } => Self::Answered(answer.into()),
            Stored::PassedOver => Self::PassedOver,
            Stored::Settled => Self::Settled,
            Stored::Disagreed { mismatch } => Self::Disagreed(mismatch.into()),
            Stored::Chose { way } => Self::Chose(way.into()),
            Stored::MendBegun { batch, way, moves } => Self::MendBegun {
                batch: self::calls(batch),
                way: way.into(),
                moves: moves.into_iter().map(Into::into).collect(),
            },
            Stored::MoveMade { number } => Self::MoveMade { number },
            Stored::MendDone => Self::Mended,
            Stored::Undone { entry } => Self::Undone { entry },
            Stored::Redone { entry } => Self::Redone { entry },
            Stored::Paused => Self::Paused,
            Stored::Stopped => Self::Stopped,
            Stored::WentOn => Self::WentOn,
            Stored::Opened => Self::Opened,
            Stored::Interrupted { ms } => Self::Interrupted { gap_ms: ms },
            Stored::HelpWanted => Self::HelpWanted,
            Stored::HandsWanted => Self::HandsWanted,
            Stored::HelpCame => Self::HelpCame,
            Stored::TakenUp { entry } => Self::TakenUp { entry },
            Stored::Broken { call } => Self::BrokenEnd {
                call: call.map(Call),
            },
            Stored::BrokenFloat { side } => Self::BrokenFloat { side: side.into() },
            Stored::EndMendBegun { number, moves } => Self::EndMendBegun {
                number,
                moves: moves.into_iter().map(Into::into).collect(),
            },
            Stored::Mended { number } => Self::EndMended { number },
            Stored::Note { text } => Self::Note(text),
            Stored::Width { thousandths } => Self::MeasuredWidth { thousandths },
            Stored::Measured { what, thousandths } => Self::Measured {
                what: what.into(),
                thousandths,
            },
            Stored::Amended { plan, from, change } => Self::Amended {
                revision: plan,
                from: Call(from),
                change: change.into(),
            },
        }
    }
}
