//! What happened: the machine's own record of one ask. Owns the events and their entry; the stored
//! form is the journal's.

use super::ask::{Amendment, Answer, Choice};
use super::ledger::Task;
use super::measure::Measured;
use super::sighting::Sighting;
use crate::fault::{ReedSeen, Seen, WarpSeen};
use crate::method::StepId;
use crate::quantity::{Call, Calls, Shaft};
use chrono::{DateTime, FixedOffset};

/// When something was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct When {
    /// Wall time with its offset; only shown, never compared.
    pub wall: DateTime<FixedOffset>,
    /// Milliseconds since the program started, from a clock that never goes back.
    pub elapsed_ms: u64,
}

/// Everything that one ask did: one line of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// 1.. without a hole; the only order there is.
    pub number: u64,
    /// When it was asked.
    pub when: When,
    /// What happened, in order; never empty.
    pub events: Vec<Event>,
}

/// A step by its id, the ends it is about and the plan revision; never by an index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepKey {
    /// Which step.
    pub id: StepId,
    /// The heddled ends that it is about; `None` for a step about the loom.
    pub calls: Option<Calls>,
    /// The number of the turn, treadle or shed; `None` where it does not come round.
    pub number: Option<u32>,
    /// The plan revision that was in force.
    pub revision: u32,
}

/// One thing that happened.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// A step about the loom was done, or one turn or shed of it.
    StepDone(StepKey),
    /// An optional step was left out.
    StepLeftOut(StepKey),
    /// The warp came wound: the stage Wind was left out.
    WindLeftOut,
    /// A task was done to these ends under this plan revision.
    Marked {
        /// The task.
        task: Task,
        /// The ends.
        calls: Calls,
        /// The plan revision.
        revision: u32,
    },
    /// These ends were drawn out again, or the record went back to what the loom says.
    Unmarked {
        /// The task whose mark goes.
        task: Task,
        /// The ends.
        calls: Calls,
    },
    /// A question was put and is open now.
    Put(Question),
    /// The open question got this answer.
    Answered(Answer),
    /// The open question was passed over; it stays on record.
    PassedOver,
    /// The open question is settled.
    Settled,
    /// Counts or looks disagree; open until a way out is chosen.
    Disagreed(Mismatch),
    /// A way out was chosen; the mismatch is closed.
    Chose(Choice),
    /// A mending was begun: these moves, one after the other.
    MendBegun {
        /// The batch that is mended.
        batch: Calls,
        /// The way.
        way: crate::fault::WayKind,
        /// Its moves, in order.
        moves: Vec<crate::fault::Move>,
    },
    /// One move of the mending was made.
    MoveMade {
        /// Its number, from 1.
        number: u32,
    },
    /// The mending is at its end; the batch is counted off once more.
    Mended,
    /// The entry with this number was taken back.
    Undone {
        /// The entry's number.
        entry: u64,
    },
    /// The entry with this number was done again.
    Redone {
        /// The entry's number.
        entry: u64,
    },
    /// Paused.
    Paused,
    /// Stopped for today.
    Stopped,
    /// Went on after a pause or a stop.
    WentOn,
    /// The program was opened again.
    Opened,
    /// So long without a press that it counts as an interruption.
    Interrupted {
        /// Milliseconds since the press before.
        gap_ms: u64,
    },
    /// Help is asked for.
    HelpWanted,
    /// A second pair of hands is wanted.
    HandsWanted,
    /// Help or the hands came.
    HelpCame,
    /// A mismatch that was left open is taken up again, to be traced from there.
    TakenUp {
        /// The entry that left it open.
        entry: u64,
    },
    /// An end broke.
    BrokenEnd {
        /// Its call, if known.
        call: Option<Call>,
    },
    /// A broken end was mended.
    EndMended {
        /// Its number in the list, from 1.
        number: u32,
    },
    /// A note.
    Note(String),
    /// A width was measured.
    MeasuredWidth {
        /// Thousandths of the plan's unit.
        thousandths: u32,
    },
    /// Something else than the width in the reed was measured.
    Measured {
        /// What.
        what: Measured,
        /// Thousandths of the plan's unit, or per unit.
        thousandths: u32,
    },
    /// The plan was amended from this call on.
    Amended {
        /// The new revision: the one before plus one.
        revision: u32,
        /// The first call that it holds for.
        from: Call,
        /// What changed.
        change: Amendment,
    },
}

/// A question that is open: a state, never a nested loop.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// How many calls of the batch are made. First of the report when she is stuck.
    CallsMade {
        /// The batch.
        batch: Calls,
        /// What was seen of it before it was asked; evidence for the tracing.
        seen: Vec<Seen>,
    },
    /// How many counted-out ends are left; negative: so many too few.
    EndsLeft {
        /// The batch.
        batch: Calls,
        /// The answer to the question before, or all of the batch.
        calls_made: u32,
        /// What was seen of it before it was asked; evidence for the tracing.
        seen: Vec<Seen>,
    },
    /// How many counted-out heddles are left on each shaft; negative: taken from the stock.
    HeddlesLeft {
        /// The batch.
        batch: Calls,
        /// Calls made.
        calls_made: u32,
        /// Ends left.
        ends_left: i64,
        /// What was seen of it before it was asked; evidence for the tracing.
        seen: Vec<Seen>,
    },
    /// How many ends are left over along the warp by now; first when something is off farther back.
    WarpEnds {
        /// Where the fault can be.
        stretch: Calls,
        /// What was seen along it before it was asked; evidence for the tracing.
        seen: Vec<WarpSeen>,
    },
    /// How many heddles are left over on each shaft along the warp by now; she may not tell.
    WarpHeddles {
        /// Where the fault can be.
        stretch: Calls,
        /// Ends left over.
        ends_left: i64,
        /// What was seen along it before it was asked.
        seen: Vec<WarpSeen>,
    },
    /// How many ends are left over when the last dent of these calls is filled.
    ReedEnds {
        /// The calls that are sleyed, groups as a whole.
        calls: Calls,
    },
    /// By how many dents the last filled dent of these calls is off its place; she may not tell.
    ReedTape {
        /// The calls that are sleyed.
        calls: Calls,
        /// Ends left over.
        ends_left: i64,
    },
    /// Something looks wrong: its next part is asked.
    Sighting(Sighting),
    /// Something is to be measured.
    Measure {
        /// What.
        what: Measured,
        /// The whole inches, where they are said and the eighths are not.
        whole: Option<u32>,
    },
    /// A blind look at the loom.
    Look {
        /// What is looked at.
        look: Look,
        /// Why it is asked now.
        reason: Reason,
        /// The answers so far that did not agree with the record.
        answers: Vec<i64>,
    },
}

/// A fact that only the loom can tell. None of these carries the figure itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// How many groups are wound.
    GroupsWound,
    /// How many groups lie in the raddle.
    GroupsSpread,
    /// How many groups hang in slip knots in front of the sticks.
    GroupsKnotted,
    /// How many groups have their end loops cut.
    GroupsCut,
    /// How many turns are on the beam.
    Turns,
    /// On which shaft the last threaded end is.
    LastShaft,
    /// Which shaft holds the heddle of this call, counted from the start of its knot.
    ShaftOf {
        /// The call.
        call: Call,
    },
    /// The odd shafts lifted: at which heddle of this run do two neighbours rise together; 0 for none.
    Together {
        /// The run of calls looked at.
        calls: Calls,
    },
    /// The shafts of these filled heddles as they stand, read one after the other; the answers are
    /// the shafts, and the figure is the number of differences from the plan.
    ReadBack {
        /// The calls that are read back, batches as a whole.
        calls: Calls,
    },
    /// How many batches hang threaded in slip knots in front of the shafts.
    BatchesKnotted {
        /// The first call of the stretch that is traced.
        first: Call,
    },
    /// How many groups are sleyed.
    GroupsSleyed,
    /// How many bundles of the first round are on the rod.
    BundlesFirst,
    /// How many bundles are finished.
    BundlesSecond,
    /// How many sheds opened clean.
    ShedsClean,
    /// With this shed open: how many ends of this group are up.
    EndsUp {
        /// The shed, from 1, as [`crate::plan::Plan::all_sheds`] has them.
        shed: u32,
        /// The group, from 1.
        group: u32,
    },
}

/// Why a look is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// The program was opened again.
    CameBack,
    /// A long time without a press.
    Interruption,
    /// A group's end.
    GroupEnd,
    /// What comes next cannot be taken back.
    NoReturn,
    /// A press is to be taken back that hands cannot take back.
    TakeBack,
    /// She asked for it.
    Wanted,
    /// A shed is open; the count settles it.
    ShedOpen,
    /// Something is off farther back; knots are counted before anything else.
    Tracing,
}

/// Counts or looks that disagree, open until a way out is chosen.
#[derive(Debug, Clone, PartialEq)]
pub enum Mismatch {
    /// A batch did not come out even.
    Batch {
        /// The batch.
        batch: Calls,
        /// Calls made of it.
        calls_made: u32,
        /// Ends left.
        ends_left: i64,
        /// Heddles left on each shaft.
        heddles_left: Vec<i64>,
        /// What the looks have shown so far.
        seen: Vec<Seen>,
    },
    /// A look gave the same answer twice, and the record says something else.
    Look {
        /// The look.
        look: Look,
        /// Why it was asked.
        reason: Reason,
        /// What the loom says.
        loom: i64,
    },
    /// Something wrong whose place is known: a tracing settled on it, or the weaver saw it. A way of
    /// mending is to be chosen.
    Found(crate::fault::Found),
    /// The shafts that were read back are not those of the plan.
    ReadBack {
        /// The calls that were read back.
        calls: Calls,
        /// Why they were read.
        reason: Reason,
        /// The shafts as they stand.
        read: Vec<Shaft>,
    },
    /// Something is off along the warp, farther back than the batch in work.
    Warp {
        /// Where the fault can be.
        stretch: Calls,
        /// Ends left over; negative: short. None where she could not tell.
        ends_left: Option<i64>,
        /// Heddles left over on each shaft, where they were counted.
        heddles_left: Option<Vec<i64>>,
        /// What the looks have shown so far.
        seen: Vec<WarpSeen>,
    },
    /// Ends and dents do not come out in the reed.
    Reed {
        /// The calls that are sleyed, groups as a whole.
        calls: Calls,
        /// Ends left over at their last dent; negative: short.
        ends_left: i64,
        /// Dents by which the last filled one is off its place, where she could tell.
        tape: Option<i64>,
        /// What the looks have shown so far; dents from 1 in the order of sleying.
        seen: Vec<ReedSeen>,
    },
    /// Something looks wrong in a shed or in the cloth; which end is to be looked for.
    Sighting(Sighting),
}
