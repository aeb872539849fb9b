//! What is known of a stretch of the reed, the looks at it and what the tracing comes to.
//! Owns these shapes; never explains anything.

use crate::quantity::Shaft;
use serde::{Deserialize, Serialize};

/// A kind of mistake in the reed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReedFault {
    /// A dent was passed over and is empty; what follows lies one dent further.
    DentSkipped,
    /// A dent holds one end too many; what follows has the ends of one place further.
    EndTooMany,
    /// A dent holds one end too few.
    EndTooFew,
    /// The sley order jumped one dent ahead.
    OrderAhead,
    /// The sley order fell one dent behind: a dent's number was taken twice running.
    OrderBehind,
    /// Two ends cross in the reed or on the way to it. No count sees it.
    EndsCrossed,
}

impl ReedFault {
    /// Its name in data.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::DentSkipped => "dent-skipped",
            Self::EndTooMany => "end-too-many",
            Self::EndTooFew => "end-too-few",
            Self::OrderAhead => "order-ahead",
            Self::OrderBehind => "order-behind",
            Self::EndsCrossed => "ends-crossed",
        }
    }
}

/// What is known of a stretch of the reed. Dents are numbered from 1, the stretch's first dent
/// being 1, in the order of sleying.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ReedEvidence {
    /// Planned ends of each dent of the stretch, in the order of sleying; 0 is an empty dent.
    pub dents: Vec<u32>,
    /// The shaft of each end of the stretch, in the order of sleying.
    pub shafts: Vec<Shaft>,
    /// Ends left over once the stretch's last planned dent is sleyed; negative: so many lacked.
    pub ends_left: i64,
    /// Where on the tape the last filled dent lies: dents beyond the planned one (negative: before
    /// it); none where it was not looked at.
    pub tape: Option<i64>,
    /// The answers so far.
    pub seen: Vec<ReedSeen>,
}

/// A look at the reed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReedLook {
    /// Which shaft is the first end of this dent on.
    FirstShaft {
        /// The dent, by the tape.
        dent: u32,
    },
    /// How many ends are in this dent.
    EndsInDent {
        /// The dent, by the tape.
        dent: u32,
    },
    /// Hold something white behind the reed: which dent first is empty that should not be.
    EmptyDent,
    /// Open a shed: at which dent do two ends cross between heddles and reed.
    Crossed,
}

/// An answer to a look at the reed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReedSeen {
    /// The shaft of the dent's first end; none where it is empty.
    FirstShaft {
        /// The dent.
        dent: u32,
        /// The shaft.
        shaft: Option<Shaft>,
    },
    /// Ends in a dent.
    EndsInDent {
        /// The dent.
        dent: u32,
        /// The ends.
        ends: u32,
    },
    /// The first dent that is empty and should not be, or none.
    EmptyDent {
        /// The dent.
        dent: Option<u32>,
    },
    /// The first dent at which two ends cross, or none.
    Crossed {
        /// The dent.
        dent: Option<u32>,
    },
    /// She looked and cannot tell.
    CannotTell {
        /// The look.
        look: ReedLook,
    },
}

/// One explanation.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ReedSuspect {
    /// What went wrong.
    pub kind: ReedFault,
    /// The dent where, from 1.
    pub dent: u32,
    /// Its share of all that fit, 0 to 1.
    pub share: f64,
}

/// What the evidence of the reed comes to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct ReedTracing {
    /// Whether ends and dents come out. Crossed ends come out too.
    pub counts_agree: bool,
    /// Whether one explanation is left, or nothing is to be explained.
    pub settled: bool,
    /// The explanations, the likeliest first.
    pub suspects: Vec<ReedSuspect>,
    /// The look worth most for its seconds.
    pub look: Option<ReedLook>,
    /// The answer that the others contradict; it is left out of account.
    pub doubted: Option<ReedSeen>,
}

impl ReedSeen {
    /// The look that this answers.
    #[must_use]
    pub fn look(&self) -> ReedLook {
        match *self {
            Self::FirstShaft { dent, .. } => ReedLook::FirstShaft { dent },
            Self::EndsInDent { dent, .. } => ReedLook::EndsInDent { dent },
            Self::EmptyDent { .. } => ReedLook::EmptyDent,
            Self::Crossed { .. } => ReedLook::Crossed,
            Self::CannotTell { look } => look,
        }
    }
}
