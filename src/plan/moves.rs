//! What a refusal or a plan names beside the problem itself: heddles to move, defaults filled in.

/// Heddles to be moved from one shaft to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Move {
    /// How many.
    pub heddles: u32,
    /// Shaft that has them to spare.
    pub from: u8,
    /// What that shaft has to spare before anything is moved.
    pub spare: u32,
}

/// A default that was filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filled {
    /// The key: `loom.action`.
    pub path: &'static str,
    /// What was filled in, as it would stand in the file.
    pub value: String,
    /// Whether it is a guess that wants a look, not just a usual value.
    pub guess: bool,
}
