//! Presses into intents: key table, repeat guard, hold, one-button menu, digits lit in turn.
//!
//! Time comes in as a value ([`std::time::Duration`] since the program's start), a random start
//! comes from the caller, and an [`Intent`] goes out. Pure: knows no clock, no terminal, no
//! dressing, and never decides what an intent does to the work.

mod answer;
mod guard;
mod intent;
mod key;
mod listen;
mod lit;
mod pedal;
mod settings;
mod table;
mod typed;

#[cfg(test)]
mod edges;
#[cfg(test)]
mod tests;

pub use intent::{Intent, MenuItem};
pub use key::{Key, Press, PressKind};
pub use listen::{Context, Hand};
pub use lit::{Lit, LitItem};
pub use pedal::{PedalTest, PedalVerdict};
pub use settings::{Opens, Settings};
pub use table::{Meaning, ROWS, Row, meaning_of, row_of};
pub use typed::Typed;
