//! What is to be dressed: warp, draft, loom, reed, raddle and ways of working, worked out whole.
//! Owns the arithmetic of the plan; never asks, never shows, never reads a file. Pure.

mod figures;

pub use figures::{
    Action, Batch, BatchRule, Beam, Bundle, Dent, DentEnds, Floats, Group, GroupSpaces, Heddles,
    Plan, Raddle, Side, Sley, Units,
};
