//! Sentences of the sheets that no screen says. Owns the wording; the figures are the plan's.

use super::counts::side;
use crate::plan::Plan;

/// How the threading strips are read.
#[must_use]
pub fn read_strips(plan: &Plan) -> String {
    format!(
        "Read each strip from left to right: that is the order of threading, from the {} edge of the warp. Count out the ends and, on each shaft, the heddles (2 on 3: two heddles on shaft 3), thread, tick each handful. Ends and heddles must be used up together; where they are not, stop and look at this batch before the next.",
        side(plan.thread_from)
    )
}

/// What a plus between two calls means.
pub const SHARED_HEDDLE: &str =
    "A plus joins two ends in one heddle: they take one heddle and stand for two ends.";

/// How the sley strip is read.
#[must_use]
pub fn read_sley(plan: &Plan) -> String {
    format!(
        "Sley from the {}. Dents are counted from that side of the reed. The tape lies on the reed with its beginning at that end: after each group its last dent must end at the mark.",
        side(plan.sley_from)
    )
}

/// How the draft is read.
pub const READ_DRAFT: &str = "Threading above, shaft 1 in the lowest row; tie-up at the corner, each number a shaft that rises; treadling or lifts at the side, from the top down; between them the cloth, an upright where the end is over the weft.";

/// What stopping for today asks for.
pub const STOP_FOR_TODAY: [&str; 4] = [
    "What is threaded or sleyed is slip-knotted",
    "Counted heddles are tied off in their bundle",
    "The lease sticks are tied and held by the loom",
    "Pawl and brake are on; scissors and hook are put away",
];

/// What going on asks for.
pub const GO_ON: &str = "Before you go on: find the last end, read its shaft off the loom, and compare it with this slip.";

/// Where the plan does not know the heddles that hang on the shafts.
pub const HEDDLES_NOT_COUNTED: &str = "The heddles on the shafts are not counted, so they are not checked: count them before beaming.";
