//! Mismatches as they stand in the file. Owns their words; never decides what comes of one.

use super::question::{StoredLook, StoredReason};
use super::{
    Run, StoredFound, StoredReedSeen, StoredSeen, StoredSighting, StoredWarpSeen, calls, run,
};
use crate::dressing::event::Mismatch;
use crate::quantity::Shaft;
use serde::{Deserialize, Serialize};

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
    /// Of a reading.
    ReadBack {
        /// The calls that were read.
        calls: Run,
        /// Why.
        why: StoredReason,
        /// The shafts as they stand.
        read: Vec<u8>,
    },
    /// Along the warp.
    Warp {
        /// Where the fault can be.
        stretch: Run,
        /// Ends left over; `null` where they could not be told.
        ends: Option<i64>,
        /// Heddles left over; `null` where they were not counted.
        heddles: Option<Vec<i64>>,
        /// Looks answered.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredWarpSeen>,
    },
    /// In the reed.
    Reed {
        /// The calls that are sleyed.
        calls: Run,
        /// Ends left over.
        ends: i64,
        /// Dents off on the tape; `null` where it could not be told.
        tape: Option<i64>,
        /// Looks answered.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        seen: Vec<StoredReedSeen>,
    },
    /// What looks wrong in a shed or in the cloth.
    Sighting {
        /// It.
        seen: StoredSighting,
    },
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
            Mismatch::ReadBack {
                calls,
                reason,
                read,
            } => Self::ReadBack {
                calls: run(*calls),
                why: (*reason).into(),
                read: read.iter().map(|shaft| shaft.0).collect(),
            },
            Mismatch::Warp {
                stretch,
                ends_left,
                heddles_left,
                seen,
            } => Self::Warp {
                stretch: run(*stretch),
                ends: *ends_left,
                heddles: heddles_left.clone(),
                seen: seen.iter().map(|seen| (*seen).into()).collect(),
            },
            Mismatch::Reed {
                calls,
                ends_left,
                tape,
                seen,
            } => Self::Reed {
                calls: run(*calls),
                ends: *ends_left,
                tape: *tape,
                seen: seen.iter().map(|seen| (*seen).into()).collect(),
            },
            Mismatch::Sighting(sighting) => Self::Sighting {
                seen: sighting.into(),
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
            StoredMismatch::ReadBack {
                calls: these,
                why,
                read,
            } => Self::ReadBack {
                calls: calls(these),
                reason: why.into(),
                read: read.into_iter().map(Shaft).collect(),
            },
            StoredMismatch::Warp {
                stretch,
                ends,
                heddles,
                seen,
            } => Self::Warp {
                stretch: calls(stretch),
                ends_left: ends,
                heddles_left: heddles,
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredMismatch::Reed {
                calls: these,
                ends,
                tape,
                seen,
            } => Self::Reed {
                calls: calls(these),
                ends_left: ends,
                tape,
                seen: seen.into_iter().map(Into::into).collect(),
            },
            StoredMismatch::Sighting { seen } => Self::Sighting(seen.into()),
        }
    }
}
