//! `endsmeet` keeps count with one person who dresses a floor loom back to front.
//!
//! The map, inner to outer; an arrow means "may use":
//!
//! ```text
//! quantity -> plan -> fault;  method (leaf);  {plan, fault, method} -> dressing -> words;  hand (leaf);  dressing -> journal;
//! {words, hand, journal} -> terminal, voice, paper -> cli -> main
//! ```
//!
//! `quantity`, `plan`, `method`, `fault`, `dressing`, `words` and `hand` are pure: they know no
//! file, no clock, no terminal and no randomness. `tests/fence.rs` holds them to it.

#![forbid(unsafe_code)]

pub mod cli;
pub mod dressing;
pub mod fault;
pub mod hand;
pub mod journal;
pub mod method;
pub mod paper;
pub mod plan;
pub mod quantity;
pub mod terminal;
pub mod voice;
pub mod words;
