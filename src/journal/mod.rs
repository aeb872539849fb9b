//! The append-only file of one dressing: record, append, replay, lock.

pub mod keep;
pub mod record;
