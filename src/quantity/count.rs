//! Counts that must not be mixed up: a call is not a position, a shaft is not an end.
//! Owns the newtypes; never computes a plan.

use serde::{Deserialize, Serialize};

/// The number of a heddled end in the order of threading, 1..=M. Floating selvedges have none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Call(pub u32);

/// The place of an end across the whole warp, 1..=N from the right, floating selvedges among them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Position(pub u32);

/// The number of a shaft, 1..=64; 1 is the front shaft unless the plan says otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Shaft(pub u8);

/// A run of calls, first to last, both in it, never empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Calls {
    /// The first call of the run.
    pub first: Call,
    /// The last call of the run, not before the first.
    pub last: Call,
}

impl Calls {
    /// The run from `first` to `last`; `None` where that would be empty or start before call 1.
    #[must_use]
    pub fn new(first: u32, last: u32) -> Option<Self> {
        (first >= 1 && first <= last).then_some(Self {
            first: Call(first),
            last: Call(last),
        })
    }

    /// How many calls the run holds, at least 1.
    #[must_use]
    pub fn len(self) -> u32 {
        self.last.0 - self.first.0 + 1
    }

    /// A run of calls is never empty; clippy asks for the question beside `len`.
    #[must_use]
    pub fn is_empty(self) -> bool {
        false
    }

    /// Whether the call is one of the run.
    #[must_use]
    pub fn contains(self, call: Call) -> bool {
        self.first <= call && call <= self.last
    }

    /// The run's place in a list that holds call 1 at index 0.
    #[must_use]
    pub fn indices(self) -> std::ops::Range<usize> {
        (self.first.0 as usize - 1)..(self.last.0 as usize)
    }
}
