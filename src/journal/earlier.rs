//! Notes of the warp before: those of the last dressing of the same plan and the same weaver in the
//! folder. Owns which dressing that is and the stored form of a note that comes along; writes nothing.

use super::kept::{Begun, Keeper};
use super::{Access, Disk, Standing, list};
use crate::dressing::notes::Note;
use crate::method::StepId;
use crate::plan::Spec;
use crate::quantity::{Call, Calls};
use serde::{Deserialize, Serialize};
use std::path::Path;
use std::sync::Arc;

/// So many notes come along, the latest ones: they stand in the first line of a file.
const MOST: usize = 60;

/// A note of an earlier warp as it stands in the first line of a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct StoredNote {
    step: StepId,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    calls: Option<(u32, u32)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    number: Option<u32>,
    text: String,
}

impl StoredNote {
    /// The stored form; a note without a step belongs to the beginning.
    pub(super) fn of(note: &Note) -> Self {
        Self {
            step: note.step.unwrap_or(StepId::Gather),
            calls: note.calls.map(|calls| (calls.first.0, calls.last.0)),
            number: note.number,
            text: note.text.clone(),
        }
    }

    /// The note; its text made harmless once more, since the file may come from anywhere.
    pub(super) fn note(self) -> Note {
        Note {
            stage: self.step.stage(),
            step: Some(self.step),
            calls: self.calls.map(|(first, last)| Calls {
                first: Call(first),
                last: Call(last),
            }),
            number: self.number,
            text: crate::quantity::harmless_within(&self.text, 200),
        }
    }
}

/// What one warp leaves to the next: its notes and those that came to it, the latest ones.
#[must_use]
pub fn notes_of(keeper: &Keeper) -> Vec<Note> {
    use super::keep::Keep;
    let dressing = keeper.dressing();
    let mut notes: Vec<Note> = Vec::new();
    let all = dressing.earlier_notes().iter();
    for note in all.chain(&dressing.record().notes).map(Note::for_next) {
        // what was noted again counts where it was noted last
        notes.retain(|known| *known != note);
        notes.push(note);
    }
    let over = notes.len().saturating_sub(MOST);
    notes.split_off(over)
}

/// The notes for a new dressing of this plan. A folder or file that cannot be read has none.
#[must_use]
pub fn notes_for(
    disk: &Arc<dyn Disk>,
    folder: &Path,
    spec: &Spec,
    owner: Option<&str>,
) -> Vec<Note> {
    let listed = list(disk.as_ref(), folder).unwrap_or_default();
    // listed with the one last worked on first
    let same = listed.into_iter().find(|item| match &item.standing {
        Standing::Dressing { header, .. } => {
            let begun: Option<Begun> = serde_json::from_str(&header.plan).ok();
            begun.is_some_and(|begun| begun.is_of(spec, owner))
        }
        Standing::Unreadable(_) => false,
    });
    let loaded = same.and_then(|item| Keeper::load(disk, &item.path, Access::ReadOnly).ok());
    loaded.map_or_else(Vec::new, |loaded| notes_of(&loaded.keeper))
}
