//! What the weaver can ask. Owns the list; every ask is answered for every stage by `decide`.

use super::measure::Measured;
use super::sighting::Sighting;
use crate::fault::{ReedSeen, Seen, WarpSeen, WayKind};
use crate::plan::{BatchRule, Side};
use crate::quantity::Call;
use serde::{Deserialize, Serialize};

/// One ask: one press, one typed line or one menu item.
#[derive(Debug, Clone, PartialEq)]
pub enum Ask {
    /// The press that says "done, go on". Sent by space, pedal, Enter.
    Next,
    /// Takes back the last press. Sent by the back key.
    BackOne,
    /// Does again what was taken back.
    Redo,
    /// It does not come out even at the end of a batch. Opens the questions of the report.
    Uneven,
    /// No heddle, no end or something odd in the middle of a batch. Opens the questions of the report.
    Stuck,
    /// She sees for herself what is wrong and where. Opens the ways of mending it.
    Found(crate::fault::Found),
    /// The answer to the open question.
    Answer(Answer),
    /// The way out of an open mismatch that the weaver chose.
    Choose(Choice),
    /// Leaves out what may be left out: an optional step, winding, a look; it stays on record.
    Skip,
    /// Asks for a look at what stands on the loom.
    Count,
    /// Reads the shafts back as they stand. Opens a look; its answers are the shafts.
    ReadBack(Part),
    /// Something is off, and not in the batch in work: a trace along the warp, or in the reed.
    /// Opens its questions.
    Trace {
        /// The last group that is sure to be right; none: it can be anywhere.
        since: Option<u32>,
    },
    /// Ends and dents of this group, which is sleyed, do not come out. Opens the questions of the reed.
    TraceReed {
        /// The group's number.
        group: u32,
    },
    /// Takes up the first mismatch that was left open and makes two stages of a group disagree.
    TakeUp,
    /// Hands are needed elsewhere for a moment; the clock of the pace stops.
    Pause,
    /// Stops for today: ends with the slip.
    StopForToday,
    /// The program was opened again on this dressing. Sent by the shell, once at each start.
    Opened,
    /// The window has its focus again after a while. Sent by the screen; the look comes first.
    BackAtTheLoom,
    /// Help is asked for: someone should come and look. The first thing on the class board.
    HelpWanted,
    /// A second pair of hands is wanted, to hold or to crank; shown on the class board behind help.
    HandsWanted,
    /// Help or the hands came.
    HelpCame,
    /// An end broke; `call` where it is known.
    BrokenEnd {
        /// The call of the end, if she knows it.
        call: Option<Call>,
    },
    /// A floating selvedge broke at this edge.
    BrokenFloat {
        /// The edge.
        side: Side,
    },
    /// The broken end with this number is to be mended now, led move by move.
    MendEnd {
        /// Its number in the list of broken ends, from 1.
        number: u32,
    },
    /// The broken end with this number is mended.
    EndMended {
        /// Its number in the list of broken ends, from 1.
        number: u32,
    },
    /// A remark for herself or for the next warp; cleaned and at most 200 columns.
    Note(String),
    /// The width that was measured in the reed or in the cloth, in thousandths of the plan's unit.
    MeasuredWidth {
        /// Thousandths of an inch or of a centimetre.
        thousandths: u32,
    },
    /// Something else was measured.
    Measured {
        /// What.
        what: Measured,
        /// Thousandths of the plan's unit, or per unit.
        thousandths: u32,
    },
    /// Something looks wrong in a shed or in the cloth; `None` opens its questions.
    Sight(Option<Sighting>),
    /// The plan changes from here on.
    Amend(Amendment),
}

/// The answer to a question: a value that only the loom can give.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// One number; may be negative where the question allows it.
    Number(i64),
    /// One number for each shaft, shaft 1 first.
    Numbers(Vec<i64>),
    /// What was seen at a look that the tracing asked for.
    Seen(Seen),
    /// What was seen at a look along the warp.
    WarpSeen(WarpSeen),
    /// What was seen at a look at the reed.
    ReedSeen(ReedSeen),
    /// She cannot tell.
    CannotTell,
}

/// Which part of the threading is read back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The batch in work as far as it is threaded, else the last one threaded.
    Here,
    /// The batch with this number.
    Batch(u32),
    /// Everything that is threaded.
    Whole,
}

/// A way out of an open mismatch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Choice {
    /// Draw the batch out and thread it again.
    ThreadAgain,
    /// It was put right where it stands; the batch is counted off once more.
    PutRight,
    /// One of the ways that the tracing worked out, led move by move.
    Way(WayKind),
    /// The count of the loom holds; the record follows it.
    LoomHolds,
    /// Go back to the start of the last batch and thread it again.
    StepBack,
    /// Look once more at what was asked.
    LookAgain,
    /// Trace what was seen to its place, look by look.
    Trace,
    /// Read the threading back where no look tells more.
    ReadBack,
    /// It is this one of the suspects that are listed, counted from 0: she looked.
    Suspect(u8),
    /// Say what is seen in the shed, and where.
    Sight,
    /// Go on with the mismatch open; it stays on record.
    LeaveOpen,
}

/// A change of the plan in the middle of a dressing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amendment {
    /// Another batch rule from the next batch on.
    BatchRule(BatchRule),
    /// Heddles were found, moved or counted again: on hand on each shaft, used ones among them.
    HeddlesOnHand(Vec<u32>),
    /// Another draft from the next batch on, as it is typed by hand.
    Draft(String),
    /// Another number of wound ends: an end is short, or one was found, at the edge threaded last.
    Ends(u32),
    /// Sleying from that side.
    SleyFrom(Side),
    /// These shafts stand in the place of the next so many calls of the plan. Comes with the way out
    /// of a mismatch that changes the plan to what stands, never by itself.
    Stands {
        /// The shafts of the filled heddles, in the order of threading.
        line: Vec<crate::quantity::Shaft>,
        /// Calls of the plan in whose place they stand.
        made: u32,
    },
}
