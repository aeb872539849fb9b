//! The state machine of one warp put on one loom.
//!
//! ```text
//! ask -> decide(&Dressing, &Ask, When) -> Result<Entry, Refusal>
//! Entry -> journal, synced -> apply(&mut Dressing, &Entry) -> view() -> words -> a shell
//! ```
//!
//! Owns the rules of the job. Never reads a clock, a file or a terminal, never draws a random
//! number, and never writes a sentence for the weaver.

pub mod account;
mod admit;
mod admit_questions;
mod amend;
mod apply;
pub mod ask;
pub mod class;
mod decide;
pub mod disagreement;
pub mod event;
mod history;
pub mod ledger;
pub mod measure;
pub mod notes;
mod on_record;
pub mod pace;
pub mod refusal;
pub mod report;
pub mod schedule;
pub mod sighting;
pub mod state;
mod undo;
pub mod view;

pub use admit::CannotHappen;
pub use ask::{Amendment, Answer, Ask, Choice, Part};
pub use decide::decide;
pub use event::{Entry, Event, Look, Mismatch, Question, Reason, StepKey, When};
pub use ledger::{Ledger, Task};
pub use refusal::Refusal;
pub use state::{Dressing, Mood, Rest};
pub use view::{About, View};
