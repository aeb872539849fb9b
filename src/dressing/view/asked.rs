//! What can be shown of an open question. Owns the shape; no field here holds the figure that is asked.

use crate::dressing::event::{Look, Reason};
use crate::dressing::measure::Measured;
use crate::dressing::sighting::Sought;
use crate::quantity::{Call, Fraction};

/// A question is open. It has no field for the figure that is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct AskingView {
    /// What is asked.
    pub asked: Asked,
    /// The first time, again, or once more because two answers differed.
    pub round: Round,
}

/// What is asked, and all that is needed to ask it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// How many calls of the batch are made.
    CallsMade {
        /// The batch's number.
        batch: u32,
    },
    /// How many ends of the count-out are left.
    EndsLeft {
        /// The batch's number.
        batch: u32,
    },
    /// How many heddles of the count-out are left on each shaft.
    HeddlesLeft {
        /// The batch's number.
        batch: u32,
        /// Shafts of the loom.
        shafts: u8,
    },
    /// How many ends are left over along the warp.
    WarpEnds {
        /// The last end that should be threaded by now.
        last: Call,
    },
    /// How many heddles are left over on each shaft along the warp.
    WarpHeddles {
        /// Shafts of the loom.
        shafts: u8,
    },
    /// How many ends are left over at the last dent of this group.
    ReedEnds {
        /// The group's number.
        group: u32,
        /// Whether the whole group is sleyed.
        sleyed: bool,
    },
    /// By how many dents the last filled one is off.
    ReedTape {
        /// The group's number.
        group: u32,
        /// Where on the tape the last filled dent should end.
        tape: Option<Fraction>,
    },
    /// The next handful of what is read back.
    ReadBack {
        /// Why.
        reason: Reason,
        /// The batch's number.
        batch: u32,
        /// The handful in it, from 1.
        handful: u32,
        /// Heddles in that handful as planned.
        heddles: u32,
        /// Shafts read so far.
        read: u32,
        /// Whether as many are read as should stand there.
        all: bool,
    },
    /// A part of what looks wrong in a shed or in the cloth.
    Sought(Sought),
    /// A measure: whole inches, millimetres or picks; or the eighths beyond the inches.
    Measure {
        /// What is measured.
        what: Measured,
        /// Whether the eighths are asked.
        eighths: bool,
    },
    /// A look.
    Look {
        /// What is looked at.
        look: Look,
        /// Why.
        reason: Reason,
        /// Where it is, for a look inside a knot.
        spot: Option<Spot>,
    },
}

/// A heddle said by its place: knot, handful, and place in the handful.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// The batch, whose slip knot it hangs in.
    pub batch: u32,
    /// The handful in the batch, from 1.
    pub handful: u32,
    /// The place in the handful, from 1.
    pub place: u32,
}

/// Which time a question is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Round {
    /// The first time.
    First,
    /// "Count again."
    Again,
    /// Two answers differed: once more.
    OnceMore,
}
