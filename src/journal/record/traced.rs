//! The stored form of looks along the warp and at the reed. Owns their words; never traces.

use crate::fault::{ReedLook, ReedSeen, WarpLook, WarpSeen};
use crate::quantity::{Call, Shaft};
use serde::{Deserialize, Serialize};

/// What was seen along the warp, as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredWarpSeen {
    /// The shaft of a heddle.
    Shaft {
        /// The call.
        call: u32,
        /// The shaft; `null` where no such heddle is filled.
        shaft: Option<u8>,
    },
    /// Knots counted.
    OddKnot {
        /// The first one.
        first: u32,
        /// The last one.
        last: u32,
        /// The one with another number; `null` for none.
        odd: Option<u32>,
    },
    /// Ends that rise with a shaft counted knot by knot.
    Risen {
        /// The first knot.
        first: u32,
        /// The last knot.
        last: u32,
        /// The shaft.
        shaft: u8,
        /// The one with another number; `null` for none.
        odd: Option<u32>,
    },
    /// Neighbours together.
    Together {
        /// The call; `null` for none.
        call: Option<u32>,
    },
    /// An end that hangs loose.
    Hanging {
        /// The knot; `null` for none.
        knot: Option<u32>,
    },
    /// She looked and cannot tell.
    CannotTell(StoredWarpLook),
}

/// A look along the warp as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredWarpLook {
    /// The shaft of a heddle.
    Shaft(u32),
    /// Knots counted, first and last.
    OddKnot(u32, u32),
    /// Ends that rise: knots, first and last, and the shaft.
    Risen(u32, u32, u8),
    /// Neighbours together.
    Together,
    /// An end that hangs loose.
    Hanging,
}

/// What was seen in the reed, as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredReedSeen {
    /// The shaft of a dent's first end.
    FirstShaft {
        /// The dent, from the group's first.
        dent: u32,
        /// The shaft; `null` where it is empty.
        shaft: Option<u8>,
    },
    /// Ends in a dent.
    EndsInDent {
        /// The dent.
        dent: u32,
        /// The ends.
        ends: u32,
    },
    /// An empty dent.
    EmptyDent {
        /// The dent; `null` for none.
        dent: Option<u32>,
    },
    /// Ends that cross.
    Crossed {
        /// The dent; `null` for none.
        dent: Option<u32>,
    },
    /// She looked and cannot tell.
    CannotTell(StoredReedLook),
}

/// A look at the reed as it stands in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StoredReedLook {
    /// The shaft of a dent's first end.
    FirstShaft(u32),
    /// Ends in a dent.
    EndsInDent(u32),
    /// An empty dent.
    EmptyDent,
    /// Ends that cross.
    Crossed,
}

impl From<WarpSeen> for StoredWarpSeen {
    fn from(live: WarpSeen) -> Self {
        match live {
            WarpSeen::Shaft { call, shaft } => Self::Shaft {
                call: call.0,
                shaft: shaft.map(|shaft| shaft.0),
            },
            WarpSeen::OddKnot { first, last, odd } => Self::OddKnot { first, last, odd },
            WarpSeen::Risen {
                first,
                last,
                shaft,
                odd,
            } => Self::Risen {
                first,
                last,
                shaft: shaft.0,
                odd,
            },
            WarpSeen::Together { call } => Self::Together {
                call: call.map(|call| call.0),
            },
            WarpSeen::Hanging { knot } => Self::Hanging { knot },
            WarpSeen::CannotTell { look } => Self::CannotTell(look.into()),
        }
    }
}

impl From<StoredWarpSeen> for WarpSeen {
    fn from(stored: StoredWarpSeen) -> Self {
        match stored {
            StoredWarpSeen::Shaft { call, shaft } => Self::Shaft {
                call: Call(call),
                shaft: shaft.map(Shaft),
            },
            StoredWarpSeen::OddKnot { first, last, odd } => Self::OddKnot { first, last, odd },
            StoredWarpSeen::Risen {
                first,
                last,
                shaft,
                odd,
            } => Self::Risen {
                first,
                last,
                shaft: Shaft(shaft),
                odd,
            },
            StoredWarpSeen::Together { call } => Self::Together {
                call: call.map(Call),
            },
            StoredWarpSeen::Hanging { knot } => Self::Hanging { knot },
            StoredWarpSeen::CannotTell(look) => Self::CannotTell { look: look.into() },
        }
    }
}

impl From<WarpLook> for StoredWarpLook {
    fn from(live: WarpLook) -> Self {
        match live {
            WarpLook::Shaft { call } => Self::Shaft(call.0),
            WarpLook::OddKnot { first, last } => Self::OddKnot(first, last),
            WarpLook::Risen { first, last, shaft } => Self::Risen(first, last, shaft.0),
            WarpLook::Together => Self::Together,
            WarpLook::Hanging => Self::Hanging,
        }
    }
}

impl From<StoredWarpLook> for WarpLook {
    fn from(stored: StoredWarpLook) -> Self {
        match stored {
            StoredWarpLook::Shaft(call) => Self::Shaft { call: Call(call) },
            StoredWarpLook::OddKnot(first, last) => Self::OddKnot { first, last },
            StoredWarpLook::Risen(first, last, shaft) => Self::Risen {
                first,
                last,
                shaft: Shaft(shaft),
            },
            StoredWarpLook::Together => Self::Together,
            StoredWarpLook::Hanging => Self::Hanging,
        }
    }
}

impl From<ReedSeen> for StoredReedSeen {
    fn from(live: ReedSeen) -> Self {
        match live {
            ReedSeen::FirstShaft { dent, shaft } => Self::FirstShaft {
                dent,
                shaft: shaft.map(|shaft| shaft.0),
            },
            ReedSeen::EndsInDent { dent, ends } => Self::EndsInDent { dent, ends },
            ReedSeen::EmptyDent { dent } => Self::EmptyDent { dent },
            ReedSeen::Crossed { dent } => Self::Crossed { dent },
            ReedSeen::CannotTell { look } => Self::CannotTell(look.into()),
        }
    }
}

impl From<StoredReedSeen> for ReedSeen {
    fn from(stored: StoredReedSeen) -> Self {
        match stored {
            StoredReedSeen::FirstShaft { dent, shaft } => Self::FirstShaft {
                dent,
                shaft: shaft.map(Shaft),
            },
            StoredReedSeen::EndsInDent { dent, ends } => Self::EndsInDent { dent, ends },
            StoredReedSeen::EmptyDent { dent } => Self::EmptyDent { dent },
            StoredReedSeen::Crossed { dent } => Self::Crossed { dent },
            StoredReedSeen::CannotTell(look) => Self::CannotTell { look: look.into() },
        }
    }
}

impl From<ReedLook> for StoredReedLook {
    fn from(live: ReedLook) -> Self {
        match live {
            ReedLook::FirstShaft { dent } => Self::FirstShaft(dent),
            ReedLook::EndsInDent { dent } => Self::EndsInDent(dent),
            ReedLook::EmptyDent => Self::EmptyDent,
            ReedLook::Crossed => Self::Crossed,
        }
    }
}

impl From<StoredReedLook> for ReedLook {
    fn from(stored: StoredReedLook) -> Self {
        match stored {
            StoredReedLook::FirstShaft(dent) => Self::FirstShaft { dent },
            StoredReedLook::EndsInDent(dent) => Self::EndsInDent { dent },
            StoredReedLook::EmptyDent => Self::EmptyDent,
            StoredReedLook::Crossed => Self::Crossed,
        }
    }
}
