//! What an undo needs of each entry, kept small: thousands of these stand in memory all the while a
//! warp is dressed. Owns their form; takes nothing back itself.
//!
//! Most entries mark one run of ends and change nothing else, so one mark takes no list of its own,
//! and what did not change between two entries is held once for both.

use super::event::Event;
use super::ledger::{Piece, Task};
use super::state::Now;
use crate::quantity::Calls;
use std::borrow::Cow;
use std::sync::Arc;

/// What an undo needs of one entry.
#[derive(Debug, Clone)]
pub(super) struct Past {
    pub entry: u64,
    /// How many revisions of the plan it made.
    pub plans: u32,
    did: Did,
    before: Before,
    pieces: Pieces,
}

impl Past {
    /// Of an entry that is work: what it did, and what was before it.
    pub fn new(entry: u64, events: &[Event], before: Before) -> Self {
        Self {
            entry,
            plans: 0,
            did: Did::of(events),
            before,
            pieces: Pieces::None,
        }
    }

    /// Its events, in their order.
    pub fn events(&self) -> Cow<'_, [Event]> {
        match &self.did {
            Did::Marked {
                task,
                calls,
                revision,
            } => Cow::Owned(vec![Event::Marked {
                task: *task,
                calls: *calls,
                revision: *revision,
            }]),
            Did::Events(events) => Cow::Borrowed(events),
        }
    }

    /// The small part of the work as it stood before the entry.
    pub fn before(&self) -> &Before {
        &self.before
    }

    /// The same entry, done once more: another state came before it.
    pub fn is_done_again(&mut self, before: Before) {
        self.before = before;
        self.pieces = Pieces::None;
        self.plans = 0;
    }

    /// Keeps the pieces of the ledger that it changed, as they stood.
    pub fn keep_pieces(&mut self, pieces: &[(Task, Piece)]) {
        self.pieces = match pieces {
            [] => Pieces::None,
            [one] => Pieces::One(one.0, one.1),
            many => Pieces::Many(many.into()),
        };
    }

    /// The pieces of the ledger that it changed, as they stood, the last one first.
    pub fn pieces_back(&self) -> impl Iterator<Item = (Task, Piece)> + '_ {
        let (one, many) = match &self.pieces {
            Pieces::None => (None, &[][..]),
            Pieces::One(task, piece) => (Some((*task, *piece)), &[][..]),
            Pieces::Many(many) => (None, &many[..]),
        };
        one.into_iter().chain(many.iter().rev().copied())
    }
}

/// What an entry did.
#[derive(Debug, Clone)]
enum Did {
    /// It marked one run of ends.
    Marked {
        task: Task,
        calls: Calls,
        revision: u32,
    },
    /// Anything else.
    Events(Box<[Event]>),
}

impl Did {
    fn of(events: &[Event]) -> Self {
        match events {
            [
                Event::Marked {
                    task,
                    calls,
                    revision,
                },
            ] => Self::Marked {
                task: *task,
                calls: *calls,
                revision: *revision,
            },
            other => Self::Events(other.into()),
        }
    }
}

/// Pieces of the ledger as they stood.
#[derive(Debug, Clone)]
enum Pieces {
    /// The entry changed none.
    None,
    /// It changed one.
    One(Task, Piece),
    /// It changed several.
    Many(Box<[(Task, Piece)]>),
}

/// The small part of the work as it stood before an entry.
#[derive(Debug, Clone)]
pub(super) struct Before {
    /// All of it but for the heddles filled; shared with the entry before where it is equal.
    apart: Arc<Now>,
    /// The heddles filled, which change at nearly every press; shared until an end is threaded.
    filled: Arc<[u32]>,
}

impl Before {
    /// What stands now. `last` is what stood before the entry before.
    pub fn of(now: &Now, last: Option<&Self>) -> Self {
        let filled = Arc::clone(&now.filled);
        let apart = match last {
            Some(last) if same_apart(&last.apart, now) => Arc::clone(&last.apart),
            _ => Arc::new(Now {
                filled: Arc::new([]),
                ..now.clone()
            }),
        };
        Self { apart, filled }
    }

    /// It, to stand again.
    pub fn restored(&self) -> Now {
        Now {
            filled: Arc::clone(&self.filled),
            ..Now::clone(&self.apart)
        }
    }
}

/// Whether all but the heddles filled is the same.
fn same_apart(before: &Now, now: &Now) -> bool {
    // named one by one, so that a field that is added is not forgotten here
    let Now {
        steps,
        turns,
        tied,
        sheds,
        unclear,
        header,
        picks,
        mood,
        filled: _,
        clean_looks,
        last_look,
        looked_before,
        revision,
        taken_up,
    } = now;
    before.steps == *steps
        && before.turns == *turns
        && before.tied == *tied
        && before.sheds == *sheds
        && before.unclear == *unclear
        && before.header == *header
        && before.picks == *picks
        && before.clean_looks == *clean_looks
        && before.last_look == *last_look
        && before.looked_before == *looked_before
        && before.revision == *revision
        && before.mood == *mood
        && before.taken_up == *taken_up
}
