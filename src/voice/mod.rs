//! Speech through a voice program that is there. Independent of the screen and of line mode; off
//! unless it was asked for, since a class of eight voices is chaos.
//!
//! ```text
//! words::spoken::Said -> queue (what is said, what has gone stale) -> speak (a thread) -> program (a child process)
//! ```
//!
//! Never decides anything of the work, and never stops it: where no voice can be had that is one
//! quiet notice.

pub mod program;
pub mod queue;
mod speak;

pub use program::{Ended, Found, Program, Search, Words, command_words};
pub use queue::{Much, Queue};
pub use speak::Voice;
