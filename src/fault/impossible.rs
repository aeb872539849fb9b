//! Evidence that cannot be, and what would be possible instead.
//! Owns these refusals; the checks stand beside each kind of evidence.

use super::evidence::LONGEST;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Evidence that no weaver can have brought about, with what would be possible.
#[derive(Debug, Clone, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Impossible {
    /// The batch has no call, or too many for one trace.
    #[error("the batch has {calls} calls; a trace takes 1 to {LONGEST}: trace a shorter stretch")]
    BatchLength {
        /// Calls given.
        calls: usize,
    },
    /// The loom has no shaft or too many.
    #[error("a loom of {shafts} shafts; 1 to 64 can be: look at the plan's loom")]
    Shafts {
        /// Shafts given.
        shafts: u8,
    },
    /// The list of heddles left is not as long as the loom has shafts.
    #[error("{given} heddle counts for {shafts} shafts: give one for each shaft, shaft 1 first")]
    HeddleCounts {
        /// Counts given.
        given: usize,
        /// Shafts on the loom.
        shafts: u8,
    },
    /// A shaft that the loom lacks.
    #[error("shaft {shaft}, but the loom has shafts 1 to {shafts}: say one of those")]
    ShaftLacking {
        /// The shaft named.
        shaft: u8,
        /// Shafts on the loom.
        shafts: u8,
    },
    /// More calls made than the batch has.
    #[error("{calls_made} calls made, but the batch has {calls}: say 0 to {calls}")]
    CallsMade {
        /// Calls reported.
        calls_made: u32,
        /// Calls of the batch.
        calls: u32,
    },
    /// A call outside the batch.
    #[error(
        "call {call} is outside the batch, which has calls {first} to {last}: say one of those"
    )]
    CallOutside {
        /// The call named.
        call: u32,
        /// The batch's first call.
        first: u32,
        /// Its last call.
        last: u32,
    },
    /// More ends left than were counted out.
    #[error(
        "{left} ends left of {counted_out} counted out by the plan: at most {most} can be left, count again"
    )]
    EndsLeft {
        /// Ends reported.
        left: i64,
        /// Ends counted out by the plan.
        counted_out: i64,
        /// The most that can be left, some counted out too many among them.
        most: i64,
    },
    /// More heddles left on a shaft than were counted out.
    #[error(
        "{left} heddles left on shaft {shaft} of {counted_out} counted out there by the plan: at most {most} can be left, count again"
    )]
    HeddlesLeft {
        /// The shaft.
        shaft: u8,
        /// Heddles reported.
        left: i64,
        /// Heddles counted out on that shaft by the plan.
        counted_out: i64,
        /// The most that can be left, some counted out too many among them.
        most: i64,
    },
    /// More was taken beyond the count-out than the calls made can have used.
    #[error("{taken} taken beyond the count-out, more than {most} calls can use: count again")]
    TakenTooMany {
        /// How many were taken.
        taken: i64,
        /// The most that can be.
        most: i64,
    },
    /// The warp has no call, or more than a warp can have.
    #[error("the warp has {calls} calls; 1 to 100000 can be: look at the plan")]
    WarpLength {
        /// Calls given.
        calls: usize,
    },
    /// A knot that the warp lacks.
    #[error("knot {knot}, but the warp has knots 1 to {knots}: say one of those")]
    KnotLacking {
        /// The knot named.
        knot: u32,
        /// Knots of the warp.
        knots: u32,
    },
    /// The reed's stretch has no dent, or more than a reed can have.
    #[error("{dents} dents; 1 to 40000 can be: look at the plan's reed")]
    DentCount {
        /// Dents given.
        dents: usize,
    },
    /// A dent outside the warp's dents.
    #[error("dent {dent} is outside the warp, which has dents {first} to {last}: say one of those")]
    DentOutside {
        /// The dent named.
        dent: u32,
        /// The warp's first dent.
        first: u32,
        /// Its last dent.
        last: u32,
    },
    /// A knot or a reading of more ends than the batch can hold.
    #[error("{ends} ends seen in this batch, where at most {most} can be: count again")]
    TooManyEnds {
        /// Ends seen.
        ends: i64,
        /// The most that can be.
        most: i64,
    },
}
