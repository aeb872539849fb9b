//! The kinds of loom that a step can be meant for. Owns nothing but the list; it spells the kinds
//! as a plan does, and stands here because the method knows no plan.

use serde::{Deserialize, Serialize};

/// How the shafts of the loom move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LoomKind {
    /// Each treadle lifts the shafts tied to it.
    Jack,
    /// Shafts hang in pairs: what sinks on one side rises on the other.
    Counterbalance,
    /// Every shaft is tied to every treadle, to rise or to sink.
    Countermarch,
    /// Shafts are lifted by levers.
    Table,
    /// Each pick lifts its own list of shafts.
    Lift,
}

impl LoomKind {
    /// All kinds.
    pub const ALL: [Self; 5] = [
        Self::Jack,
        Self::Counterbalance,
        Self::Countermarch,
        Self::Table,
        Self::Lift,
    ];
}
