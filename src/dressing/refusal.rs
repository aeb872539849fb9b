//! Why an ask was refused. Data only: the sentence, which ends in the next move, is in `words`.

use super::event::{Look, Question};
use crate::method::{Stage, StepId};

/// A refusal: nothing moved.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// A question is open and wants a value first.
    AnswerFirst(Question),
    /// The press came by reflex while a look is open: not looked. The look stays open.
    NotLooked(Look),
    /// A mismatch is open and wants a way out first.
    WayOutFirst,
    /// A mending is under way and wants its next move first.
    MendingFirst,
    /// There is no open question to answer.
    NoQuestion,
    /// The answer is of another kind than the question.
    OtherAnswer(Question),
    /// The number cannot be: what would be possible is between these, both in it.
    OutOfRange {
        /// What was said.
        said: i64,
        /// The least that can be.
        least: i64,
        /// The most that can be.
        most: i64,
    },
    /// A list with another number of entries than the loom has shafts.
    OtherShafts {
        /// Entries given.
        said: usize,
        /// Shafts of the loom.
        shafts: u8,
    },
    /// What was seen at the loom cannot be as said.
    Impossible(crate::fault::Impossible),
    /// There is no open mismatch.
    NoMismatch,
    /// This way out does not belong to this mismatch.
    NotThisWay,
    /// Nothing is there to take back.
    NothingToUndo,
    /// Nothing is there to do again.
    NothingToRedo,
    /// The open look comes first; going back would pass it.
    LookFirst(Look),
    /// The step must be done; it cannot be left out.
    MustBeDone(StepId),
    /// Batches are counted only while threading.
    OnlyWhileThreading(Stage),
    /// Nothing is counted out, so nothing can be left over.
    NotCountedOut,
    /// Nothing is threaded yet that could be read back or traced.
    NothingThreaded,
    /// The reading is ended before a shaft was read.
    NothingRead,
    /// The plan has no such group.
    NoSuchGroup {
        /// The group that was said.
        said: u32,
        /// The last group.
        last: u32,
    },
    /// The group is not in the reed yet.
    NotSleyed {
        /// The group that was said.
        said: u32,
    },
    /// The plan has no such batch.
    NoSuchBatch {
        /// The batch that was said.
        said: u32,
        /// The last batch.
        last: u32,
    },
    /// No two stages of a group disagree, so there is nothing to take up.
    StagesAgree,
    /// There is nothing on the loom yet that a look could count.
    NothingToLookAt(Stage),
    /// The loom is ready: there is no next step.
    AlreadyReady,
    /// Paused or stopped: going on comes first.
    GoOnFirst,
    /// Already paused or stopped.
    AlreadyResting,
    /// No help was asked for.
    NoHelpWanted,
    /// Help is asked for already.
    HelpIsWanted,
    /// A second pair of hands is wanted already.
    HandsAreWanted,
    /// The warp has no such end.
    NoSuchEnd {
        /// The call that was said.
        said: u32,
        /// The last call of the warp.
        last: u32,
    },
    /// What she says that she found cannot be there: not threaded or sleyed yet, a shaft that the loom
    /// lacks, or what the plan wants there.
    CannotBeThere(crate::fault::Found),
    /// The warp has no floating selvedges.
    NoFloats,
    /// No shed can be opened yet in this stage.
    NoShedYet(Stage),
    /// No broken end has this number, or it is mended.
    NoSuchBrokenEnd {
        /// The number that was said.
        said: u32,
    },
    /// A note without a word in it, or longer than 200 columns.
    NoteEmptyOrLong,
    /// No such width: 0, or wider than any loom.
    NoSuchWidth,
    /// All batches are counted out; a batch rule would change nothing.
    NothingLeftToAmend,
    /// The amended plan does not fit.
    PlanDoesNotFit(Vec<crate::plan::Problem>),
    /// The amendment changes nothing.
    ChangesNothing,
}
