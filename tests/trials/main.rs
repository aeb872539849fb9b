//! The real program in the world's worst hours: killed, cut off, crowded, misled by clocks and bytes.
//! `ENDSMEET_TRIALS=ci` and `ENDSMEET_TRIALS=soak` try more often; `tests/trials.sh` runs all of it.
#![cfg(unix)]
#![allow(clippy::unwrap_used, missing_docs)]

#[path = "../common/mod.rs"]
mod common;
#[path = "../pty/mod.rs"]
mod pty;

mod clock;
mod full;
mod gone;
mod hostile;
mod kill;
mod leak;
mod places;
mod program;
mod signals;
mod storm;
mod suspend;
mod windows;
