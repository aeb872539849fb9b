//! The one door through which an ask goes: decided, written, applied. Owns the order "written
//! before shown"; a dressing that is kept in memory only (practice, tests) goes the same way.

use crate::dressing::{Ask, Dressing, Entry, Refusal, When, decide};

/// Why an ask did not happen. Nothing moved.
#[derive(Debug, Clone, PartialEq)]
pub enum NotDone {
    /// The machine refused it.
    Refused(Refusal),
    /// It could not be saved; the sentence says what was found and what to do.
    NotSaved(String),
}

/// Something that keeps a dressing.
pub trait Keep {
    /// The dressing as it stands.
    fn dressing(&self) -> &Dressing;

    /// Decides the ask, saves the entry, applies it.
    ///
    /// # Errors
    /// The refusal, or that it could not be saved; then nothing moved.
    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone>;
}

/// A dressing kept in memory; gone with the program.
#[derive(Debug, Clone)]
pub struct InMemory {
    dressing: Dressing,
    entries: Vec<Entry>,
}

impl InMemory {
    /// Keeps the dressing.
    #[must_use]
    pub fn new(dressing: Dressing) -> Self {
        Self {
            dressing,
            entries: Vec::new(),
        }
    }

    /// Keeps a dressing to which these entries have led.
    #[must_use]
    pub fn with_entries(dressing: Dressing, entries: Vec<Entry>) -> Self {
        Self { dressing, entries }
    }

    /// Everything that happened so far.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }
}

impl Keep for InMemory {
    fn dressing(&self) -> &Dressing {
        &self.dressing
    }

    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        let entry = decide(&self.dressing, ask, when).map_err(NotDone::Refused)?;
        self.dressing.apply(&entry);
        self.entries.push(entry.clone());
        Ok(entry)
    }
}

/// Presses a dressing on to its first batch, looks answered truly: where practice begins.
pub fn lead_to_first_batch(keeper: &mut InMemory, when: When) {
    use crate::dressing::{Answer, View};
    for _ in 0..1000 {
        let ask = match keeper.dressing().view() {
            View::CountOut(_) | View::Ready(_) => return,
            // the stages before threading ask for counts of groups only
            View::Asking(_) => {
                Ask::Answer(Answer::Number(keeper.dressing().plan().groups.len() as i64))
            }
            _ => Ask::Next,
        };
        if keeper.ask(&ask, when).is_err() {
            return;
        }
    }
}
