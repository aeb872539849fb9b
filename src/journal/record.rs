//! The stored form of what happened, format 1. Owns the words that stand in the file; apart from the
//! machine's own types, so that those may change while old files still load. Never decides.
//!
//! Invariant: every event has a stored form and comes back from it as it was.

use crate::dressing::ask::{Amendment, Answer, Choice};
use crate::dressing::event::{Event, Look, Mismatch, Question, Reason, StepKey};
use crate::dressing::ledger::Task;
use crate::fault::Seen;
use crate::method::StepId;
use crate::plan::{BatchRule, Side};
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
        task: Task,
        /// The ends.
        calls: Run,
        /// The plan revision.
        plan: u32,
    },
    /// A task's mark was taken off.
    Unmarked {
        /// The task.
        task: Task,
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
        answer: Answer,
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
        way: Choice,
    },
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
    /// Help came.
    HelpCame,
    /// An end broke.
    Broken {
        /// Its call, if known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        call: Option<u32>,
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

/// A question as it stands in the file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "q", rename_all = "kebab-case")]
pub enum StoredQuestion {
    /// Calls made.
    CallsMade {
        /// The batch.
        batch: Run,
    },
    /// Ends left.
    EndsLeft {
        /// The batch.
        batch: Run,
        /// Calls made.
        made: u32,
    },
    /// Heddles left.
    HeddlesLeft {
        /// The batch.
        batch: Run,
        /// Calls made.
        made: u32,
        /// Ends left.
        ends: i64,
    },
    /// A look.
    Look {
        /// At what.
        look: StoredLook,
        /// Why.
        why: StoredReason,
        /// Answers so far.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        answers: Vec<i64>,
    },
}

/// A look as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredLook {
    /// Groups wound.
    GroupsWound,
    /// Groups in the raddle.
    GroupsSpread,
    /// Slip knots.
    GroupsKnotted,
    /// Cut groups.
    GroupsCut,
    /// Turns.
    Turns,
    /// Shaft of the last end.
    LastShaft,
    /// Shaft of a heddle.
    ShaftOf(u32),
    /// Neighbours that rise together.
    Together(Run),
    /// Groups sleyed.
    GroupsSleyed,
    /// Bundles tied.
    BundlesFirst,
    /// Bundles finished.
    BundlesSecond,
    /// Clean sheds.
    ShedsClean,
}

/// A reason as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredReason {
    /// Came back.
    CameBack,
    /// A long silence.
    Interruption,
    /// A group's end.
    GroupEnd,
    /// Before what cannot be taken back.
    NoReturn,
    /// In place of taking back.
    TakeBack,
    /// Wanted.
    Wanted,
}

/// A mismatch as it stands in the file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "m", rename_all = "kebab-case")]
pub enum StoredMismatch {
    /// Of a batch.
    Batch {
        /// The batch.
        batch: Run,
        /// Calls made.
        made: u32,
        /// Ends left.
        ends: i64,
        /// Heddles left.
        heddles: Vec<i64>,
        /// Looks answered.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<Seen>,
    },
    /// Of a look.
    Look {
        /// At what.
        look: StoredLook,
        /// Why.
        why: StoredReason,
        /// What the loom says.
        loom: i64,
    },
}

/// An amendment as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredChange {
    /// Another batch rule.
    Batch(BatchRule),
    /// Heddles on hand.
    Heddles(Vec<u32>),
    /// Another draft.
    Draft(String),
    /// Another number of ends.
    Ends(u32),
    /// Sleying from a side.
    SleyFrom(Side),
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
                task: *task,
                calls: run(*calls),
                plan: *revision,
            },
            Event::Unmarked { task, calls } => Self::Unmarked {
                task: *task,
                calls: run(*calls),
            },
            Event::Put(question) => Self::Put {
                question: question.into(),
            },
            Event::Answered(answer) => Self::Answered {
                answer: answer.clone(),
            },
            Event::PassedOver => Self::PassedOver,
            Event::Settled => Self::Settled,
            Event::Disagreed(mismatch) => Self::Disagreed {
                mismatch: mismatch.into(),
            },
            Event::Chose(way) => Self::Chose { way: *way },
            Event::Undone { entry } => Self::Undone { entry: *entry },
            Event::Redone { entry } => Self::Redone { entry: *entry },
            Event::Paused => Self::Paused,
            Event::Stopped => Self::Stopped,
            Event::WentOn => Self::WentOn,
            Event::Opened => Self::Opened,
            Event::Interrupted { gap_ms } => Self::Interrupted { ms: *gap_ms },
            Event::HelpWanted => Self::HelpWanted,
            Event::HelpCame => Self::HelpCame,
            Event::BrokenEnd { call } => Self::Broken {
                call: call.map(|call| call.0),
            },
            Event::EndMended { number } => Self::Mended { number: *number },
            Event::Note(text) => Self::Note { text: text.clone() },
            Event::MeasuredWidth { thousandths } => Self::Width {
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
                task,
                calls: self::calls(calls),
                revision: plan,
            },
            Stored::Unmarked { task, calls } => Self::Unmarked {
                task,
                calls: self::calls(calls),
            },
            Stored::Put { question } => Self::Put(question.into()),
            Stored::Answered { answer } => Self::Answered(answer),
            Stored::PassedOver => Self::PassedOver,
            Stored::Settled => Self::Settled,
            Stored::Disagreed { mismatch } => Self::Disagreed(mismatch.into()),
            Stored::Chose { way } => Self::Chose(way),
            Stored::Undone { entry } => Self::Undone { entry },
            Stored::Redone { entry } => Self::Redone { entry },
            Stored::Paused => Self::Paused,
            Stored::Stopped => Self::Stopped,
            Stored::WentOn => Self::WentOn,
            Stored::Opened => Self::Opened,
            Stored::Interrupted { ms } => Self::Interrupted { gap_ms: ms },
            Stored::HelpWanted => Self::HelpWanted,
            Stored::HelpCame => Self::HelpCame,
            Stored::Broken { call } => Self::BrokenEnd {
                call: call.map(Call),
            },
            Stored::Mended { number } => Self::EndMended { number },
            Stored::Note { text } => Self::Note(text),
            Stored::Width { thousandths } => Self::MeasuredWidth { thousandths },
            Stored::Amended { plan, from, change } => Self::Amended {
                revision: plan,
                from: Call(from),
                change: change.into(),
            },
        }
    }
}

impl From<&Question> for StoredQuestion {
    fn from(question: &Question) -> Self {
        match question {
            Question::CallsMade { batch } => Self::CallsMade { batch: run(*batch) },
            Question::EndsLeft { batch, calls_made } => Self::EndsLeft {
                batch: run(*batch),
                made: *calls_made,
            },
            Question::HeddlesLeft {
                batch,
                calls_made,
                ends_left,
            } => Self::HeddlesLeft {
                batch: run(*batch),
                made: *calls_made,
                ends: *ends_left,
            },
            Question::Look {
                look,
                reason,
                answers,
            } => Self::Look {
                look: (*look).into(),
                why: (*reason).into(),
                answers: answers.clone(),
            },
        }
    }
}

impl From<StoredQuestion> for Question {
    fn from(stored: StoredQuestion) -> Self {
        match stored {
            StoredQuestion::CallsMade { batch } => Self::CallsMade {
                batch: calls(batch),
            },
            StoredQuestion::EndsLeft { batch, made } => Self::EndsLeft {
                batch: calls(batch),
                calls_made: made,
            },
            StoredQuestion::HeddlesLeft { batch, made, ends } => Self::HeddlesLeft {
                batch: calls(batch),
                calls_made: made,
                ends_left: ends,
            },
            StoredQuestion::Look { look, why, answers } => Self::Look {
                look: look.into(),
                reason: why.into(),
                answers,
            },
        }
    }
}

impl From<&Mismatch> for StoredMismatch {
    fn from(mismatch: &Mismatch) -> Self {
        match mismatch {
            Mismatch::Batch {
                batch,
                calls_made,
                ends_left,
                heddles_left,
                seen,
            } => Self::Batch {
                batch: run(*batch),
                made: *calls_made,
                ends: *ends_left,
                heddles: heddles_left.clone(),
                seen: seen.clone(),
            },
            Mismatch::Look { look, reason, loom } => Self::Look {
                look: (*look).into(),
                why: (*reason).into(),
                loom: *loom,
            },
        }
    }
}

impl From<StoredMismatch> for Mismatch {
    fn from(stored: StoredMismatch) -> Self {
        match stored {
            StoredMismatch::Batch {
                batch,
                made,
                ends,
                heddles,
                seen,
            } => Self::Batch {
                batch: calls(batch),
                calls_made: made,
                ends_left: ends,
                heddles_left: heddles,
                seen,
            },
            StoredMismatch::Look { look, why, loom } => Self::Look {
                look: look.into(),
                reason: why.into(),
                loom,
            },
        }
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

same_names!(StoredReason, Reason: CameBack, Interruption, GroupEnd, NoReturn, TakeBack, Wanted);

impl From<Look> for StoredLook {
    fn from(look: Look) -> Self {
        match look {
            Look::GroupsWound => Self::GroupsWound,
            Look::GroupsSpread => Self::GroupsSpread,
            Look::GroupsKnotted => Self::GroupsKnotted,
            Look::GroupsCut => Self::GroupsCut,
            Look::Turns => Self::Turns,
            Look::LastShaft => Self::LastShaft,
            Look::ShaftOf { call } => Self::ShaftOf(call.0),
            Look::Together { calls } => Self::Together(run(calls)),
            Look::GroupsSleyed => Self::GroupsSleyed,
            Look::BundlesFirst => Self::BundlesFirst,
            Look::BundlesSecond => Self::BundlesSecond,
            Look::ShedsClean => Self::ShedsClean,
        }
    }
}

impl From<StoredLook> for Look {
    fn from(stored: StoredLook) -> Self {
        match stored {
            StoredLook::GroupsWound => Self::GroupsWound,
            StoredLook::GroupsSpread => Self::GroupsSpread,
            StoredLook::GroupsKnotted => Self::GroupsKnotted,
            StoredLook::GroupsCut => Self::GroupsCut,
            StoredLook::Turns => Self::Turns,
            StoredLook::LastShaft => Self::LastShaft,
            StoredLook::ShaftOf(call) => Self::ShaftOf { call: Call(call) },
            StoredLook::Together(batch) => Self::Together {
                calls: calls(batch),
            },
            StoredLook::GroupsSleyed => Self::GroupsSleyed,
            StoredLook::BundlesFirst => Self::BundlesFirst,
            StoredLook::BundlesSecond => Self::BundlesSecond,
            StoredLook::ShedsClean => Self::ShedsClean,
        }
    }
}

impl From<&Amendment> for StoredChange {
    fn from(change: &Amendment) -> Self {
        match change {
            Amendment::BatchRule(rule) => Self::Batch(*rule),
            Amendment::HeddlesOnHand(list) => Self::Heddles(list.clone()),
            Amendment::Draft(typed) => Self::Draft(typed.clone()),
            Amendment::Ends(ends) => Self::Ends(*ends),
            Amendment::SleyFrom(side) => Self::SleyFrom(*side),
        }
    }
}

impl From<StoredChange> for Amendment {
    fn from(stored: StoredChange) -> Self {
        match stored {
            StoredChange::Batch(rule) => Self::BatchRule(rule),
            StoredChange::Heddles(list) => Self::HeddlesOnHand(list),
            StoredChange::Draft(typed) => Self::Draft(typed),
            StoredChange::Ends(ends) => Self::Ends(ends),
            StoredChange::SleyFrom(side) => Self::SleyFrom(side),
        }
    }
}
