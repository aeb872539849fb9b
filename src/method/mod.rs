//! The steps as data: ids, parse, content check. A leaf; pure.

mod id;

pub use id::{Stage, StepId};
