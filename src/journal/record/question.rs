//! Questions as they stand in the file. Owns their words; never asks.

use super::{
    Run, StoredMeasured, StoredSeen, StoredSighting, StoredWarpSeen, calls, run, same_names,
};
use crate::dressing::event::{Look, Question, Reason};
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
        /// What was seen before.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredSeen>,
    },
    /// Ends left.
    EndsLeft {
        /// The batch.
        batch: Run,
        /// Calls made.
        made: u32,
        /// What was seen before.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredSeen>,
    },
    /// Heddles left.
    HeddlesLeft {
        /// The batch.
        batch: Run,
        /// Calls made.
        made: u32,
        /// Ends left.
        ends: i64,
        /// What was seen before.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredSeen>,
    },
    /// Ends left over along the warp.
    WarpEnds {
        /// Where the fault can be.
        stretch: Run,
        /// What was seen before.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredWarpSeen>,
    },
    /// Heddles left over along the warp.
    WarpHeddles {
        /// Where the fault can be.
        stretch: Run,
        /// Ends left over.
        ends: i64,
        /// What was seen before.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredWarpSeen>,
    },
    /// Ends left over in the reed.
    ReedEnds {
        /// The calls that are sleyed.
        calls: Run,
    },
    /// Dents off on the tape.
    ReedTape {
        /// The calls that are sleyed.
        calls: Run,
        /// Ends left over.
        ends: i64,
    },
    /// A part of what looks wrong.
    Sighting {
        /// What is said so far.
        so_far: StoredSighting,
    },
    /// A measure.
    Measure {
        /// Of what.
        what: StoredMeasured,
        /// Whole inches, where said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        whole: Option<u32>,
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
    /// Shafts read back.
    ReadBack(Run),
    /// Batches knotted; the first call of the trace.
    BatchesKnotted(u32),
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
    /// A trace farther back.
    Tracing,
}

impl From<&Question> for StoredQuestion {
    fn from(question: &Question) -> Self {
        match question {
            Question::CallsMade { batch, seen } => Self::CallsMade {
                batch: run(*batch),
                seen: seen.iter().map(Into::into).collect(),
            },
            Question::EndsLeft {
                batch,
                calls_made,
                seen,
            } => Self::EndsLeft {
                batch: run(*batch),
                made: *calls_made,
                seen: seen.iter().map(Into::into).collect(),
            },
            Question::HeddlesLeft {
                batch,
                calls_made,
                ends_left,
                seen,
            } => Self::HeddlesLeft {
                batch: run(*batch),
                made: *calls_made,
                ends: *ends_left,
                seen: seen.iter().map(Into::into).collect(),
            },
            Question::WarpEnds { stretch, seen } => Self::WarpEnds {
                stretch: run(*stretch),
                seen: seen.iter().map(|seen| (*seen).into()).collect(),
            },
            Question::WarpHeddles {
                stretch,
                ends_left,
                seen,
            } => Self::WarpHeddles {
                stretch: run(*stretch),
                ends: *ends_left,
                seen: seen.iter().map(|seen| (*seen).into()).collect(),
            },
            Question::ReedEnds { calls } => Self::ReedEnds { calls: run(*calls) },
            Question::ReedTape { calls, ends_left } => Self::ReedTape {
                calls: run(*calls),
                ends: *ends_left,
            },
            Question::Sighting(so_far) => Self::Sighting {
                so_far: so_far.into(),
            },
            Question::Measure { what, whole } => Self::Measure {
                what: (*what).into(),
                whole: *whole,
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
            StoredQuestion::CallsMade { batch, seen } => Self::CallsMade {
                batch: calls(batch),
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredQuestion::EndsLeft { batch, made, seen } => Self::EndsLeft {
                batch: calls(batch),
                calls_made: made,
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredQuestion::HeddlesLeft {
                batch,
                made,
                ends,
                seen,
            } => Self::HeddlesLeft {
                batch: calls(batch),
                calls_made: made,
                ends_left: ends,
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredQuestion::WarpEnds { stretch, seen } => Self::WarpEnds {
                stretch: calls(stretch),
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredQuestion::WarpHeddles {
                stretch,
                ends,
                seen,
            } => Self::WarpHeddles {
                stretch: calls(stretch),
                ends_left: ends,
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredQuestion::ReedEnds { calls: these } => Self::ReedEnds {
                calls: calls(these),
            },
            StoredQuestion::ReedTape { calls: these, ends } => Self::ReedTape {
                calls: calls(these),
                ends_left: ends,
            },
            StoredQuestion::Sighting { so_far } => Self::Sighting(so_far.into()),
            StoredQuestion::Measure { what, whole } => Self::Measure {
                what: what.into(),
                whole,
            },
            StoredQuestion::Look { look, why, answers } => Self::Look {
                look: look.into(),
                reason: why.into(),
                answers,
            },
        }
    }
}

same_names!(StoredReason, Reason: CameBack, Interruption, GroupEnd, NoReturn, TakeBack, Wanted, ShedOpen, Tracing);

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
            Look::ReadBack { calls } => Self::ReadBack(run(calls)),
            Look::BatchesKnotted { first } => Self::BatchesKnotted(first.0),
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
            StoredLook::ReadBack(these) => Self::ReadBack {
                calls: calls(these),
            },
            StoredLook::BatchesKnotted(first) => Self::BatchesKnotted { first: Call(first) },
            StoredLook::GroupsSleyed => Self::GroupsSleyed,
            StoredLook::BundlesFirst => Self::BundlesFirst,
            StoredLook::BundlesSecond => Self::BundlesSecond,
            StoredLook::ShedsClean => Self::ShedsClean,
            StoredLook::EndsUp(shed, group) => Self::EndsUp { shed, group },
        }
    }
}
