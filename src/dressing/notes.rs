//! Where a note belongs: it is said again when its step comes round, in this warp or in the next one
//! of the same plan. Owns that rule; the words of a note are the weaver's.

use super::event::StepKey;
use super::state::Dressing;
use super::state::Mood;
use crate::method::{Stage, StepId};
use crate::quantity::Calls;

/// A note with the step at which it was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The stage.
    pub stage: Stage,
    /// The step; `None` where the loom was ready.
    pub step: Option<StepId>,
    /// The ends that the step was about.
    pub calls: Option<Calls>,
    /// The turn or shed.
    pub number: Option<u32>,
    /// What it says.
    pub text: String,
}

/// A note that belongs to the step at hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoteHere {
    /// What it says.
    pub text: String,
    /// Whether it was made at an earlier warp of this plan.
    pub earlier: bool,
}

impl Note {
    /// A note made while this step was at hand.
    pub(super) fn at(key: Option<StepKey>, stage: Stage, text: &str) -> Self {
        Self {
            stage,
            step: key.map(|key| key.id),
            calls: key.and_then(|key| key.calls),
            number: key.and_then(|key| key.number),
            text: text.to_owned(),
        }
    }

    /// The same for the next warp: what was noted when the loom was ready belongs to the beginning.
    #[must_use]
    pub fn for_next(&self) -> Self {
        Self {
            step: self.step.or(Some(StepId::Gather)),
            ..self.clone()
        }
    }

    fn belongs_to(&self, key: &StepKey) -> bool {
        let meet = |a: Calls, b: Calls| a.first <= b.last && b.first <= a.last;
        let same_ends = match (self.calls, key.calls) {
            (Some(of_note), Some(at_hand)) => meet(of_note, at_hand),
            _ => true,
        };
        self.step == Some(key.id) && self.number == key.number && same_ends
    }
}

impl Dressing {
    /// The dressing with notes that were made at an earlier warp of the same plan.
    #[must_use]
    pub fn with_earlier_notes(mut self, notes: Vec<Note>) -> Self {
        self.earlier = notes.into();
        self
    }

    /// Notes of earlier warps of this plan, in the order in which they were made.
    #[must_use]
    pub fn earlier_notes(&self) -> &[Note] {
        &self.earlier
    }

    /// The notes that belong to the step at hand, earlier ones first; none while something is asked.
    #[must_use]
    pub fn notes_here(&self) -> Vec<NoteHere> {
        let none = self.earlier.is_empty() && self.record.notes.is_empty();
        let Some(key) = self
            .current()
            .filter(|_| !none && *self.mood() == Mood::Working)
        else {
            return Vec::new();
        };
        let here = |earlier: bool| {
            move |note: &Note| NoteHere {
                text: note.text.clone(),
                earlier,
            }
        };
        let belongs = |note: &&Note| note.belongs_to(&key);
        let before = self.earlier.iter().filter(belongs).map(here(true));
        let now = self.record.notes.iter().filter(belongs).map(here(false));
        before.chain(now).collect()
    }
}
