//! Questions and mismatches as they stand in the file. Owns their words; never asks.

use super::{Run, StoredFound, StoredSeen, calls, run, same_names};
use crate::dressing::event::{Look, Mismatch, Question, Reason};
use crate::quantity::Call;
use serde::{Deserialize, Serialize};

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
    /// Ends up in a shed: the shed and the group.
    EndsUp(u32, u32),
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
    /// A shed is open.
    ShedOpen,
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
        seen: Vec<StoredSeen>,
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
    /// What was found.
    Found {
        /// It.
        found: StoredFound,
    },
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
                seen: seen.iter().map(Into::into).collect(),
            },
            Mismatch::Look { look, reason, loom } => Self::Look {
                look: (*look).into(),
                why: (*reason).into(),
                loom: *loom,
            },
            Mismatch::Found(found) => Self::Found {
                found: (*found).into(),
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
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredMismatch::Look { look, why, loom } => Self::Look {
                look: look.into(),
                reason: why.into(),
                loom,
            },
            StoredMismatch::Found { found } => Self::Found(found.into()),
        }
    }
}

same_names!(StoredReason, Reason: CameBack, Interruption, GroupEnd, NoReturn, TakeBack, Wanted, ShedOpen);

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
            Look::EndsUp { shed, group } => Self::EndsUp(shed, group),
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
            StoredLook::EndsUp(shed, group) => Self::EndsUp { shed, group },
        }
    }
}
