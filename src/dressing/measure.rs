//! What is measured on the finished dressing and on the first cloth. Owns the list and the order in
//! which they are asked; never compares.

use serde::{Deserialize, Serialize};

/// What was measured, always in thousandths of the plan's unit or per plan unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measured {
    /// The width in the reed.
    Reed,
    /// The width of the cloth where it is beaten up.
    Cloth,
    /// Picks per unit.
    Picks,
    /// The length of warp that went into a measured length of cloth.
    Warp,
    /// That length of cloth, off the loom's tension.
    Woven,
}

impl Measured {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Reed,
        Self::Cloth,
        Self::Picks,
        Self::Warp,
        Self::Woven,
    ];

    /// What the step asks for first, and what comes after each; lengths wait until there is cloth.
    #[must_use]
    pub fn after(before: Option<Self>) -> Option<Self> {
        match before {
            None => Some(Self::Reed),
            Some(Self::Reed) => Some(Self::Cloth),
            Some(Self::Cloth) => Some(Self::Picks),
            Some(Self::Picks | Self::Warp | Self::Woven) => None,
        }
    }
}
