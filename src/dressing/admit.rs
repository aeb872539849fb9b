//! The guard on the way in: whether a recorded entry can have happened here. Owns the preconditions
//! of each event; replay goes through it, so a legal-looking line that cannot happen is found.

use super::event::{Entry, Event, StepKey};
use super::ledger::Task;
use super::state::{Dressing, Mood, bit, open_look};
use crate::method::StepId;
use crate::quantity::{Call, Calls};

/// Why an entry cannot have happened here.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CannotHappen {
    /// The entry's number is not the next one.
    #[error("entry {found} stands where entry {expected} belongs")]
    Number {
        /// The number it has.
        found: u64,
        /// The number it should have.
        expected: u64,
    },
    /// It holds no event.
    #[error("entry {0} says nothing")]
    Empty(u64),
    /// One of its events cannot happen where it stands.
    #[error("entry {entry}: {why}")]
    Event {
        /// The entry's number.
        entry: u64,
        /// Why not.
        why: &'static str,
    },
}

impl Dressing {
    /// Whether the entry can have happened now. Changes nothing.
    ///
    /// # Errors
    /// Why it cannot.
    pub fn accepts(&self, entry: &Entry) -> Result<(), CannotHappen> {
        if entry.number != self.entries() + 1 {
            return Err(CannotHappen::Number {
                found: entry.number,
                expected: self.entries() + 1,
            });
        }
        let Some((last, before)) = entry.events.split_last() else {
            return Err(CannotHappen::Empty(entry.number));
        };
        let number = entry.number;
        let because = |why| CannotHappen::Event { entry: number, why };
        if before.is_empty() && !takes_off(last) {
            return self.possible(last).map_err(because);
        }
        self.in_a_row(entry).map_err(because)
    }

    /// Records an entry that was read from a file, if it can have happened.
    ///
    /// # Errors
    /// Why it cannot; then nothing changed.
    pub fn admit(&mut self, entry: &Entry) -> Result<(), CannotHappen> {
        self.accepts(entry)?;
        self.apply(entry);
        Ok(())
    }

    /// Tries the events in a row on a copy without history.
    fn in_a_row(&self, entry: &Entry) -> Result<(), &'static str> {
        let mut trial = self.without_history();
        let takes_up = |event: &Event| matches!(event, Event::TakenUp { .. });
        if entry.events.iter().any(takes_up) {
            trial.record.left.clone_from(&self.record.left);
        }
        let stage = self.stage_or_last();
        let mut pieces = Vec::new();
        for event in &entry.events {
            if let Event::Undone { .. } | Event::Redone { .. } = event {
                let alone = entry
                    .events
                    .iter()
                    .all(|e| e == event || *e == Event::WentOn);
                if !alone {
                    return Err("taking back or doing again stands beside something else");
                }
                self.possible(event)?;
                continue;
            }
            trial.possible(event)?;
            trial.apply_event(entry.number, stage, event, &mut pieces);
        }
        trial.check()
    }

    fn possible(&self, event: &Event) -> Result<(), &'static str> {
        match event {
            Event::StepDone(key) => self.step_is_open(key),
            Event::StepLeftOut(key) => self.step_is_open(key),
            Event::WindLeftOut => said(
                self.ledger().of(Task::Spread).count() == 0,
                "winding is left out when groups are spread already",
            ),
            Event::Marked {
                task,
                calls,
                revision,
            } => self.markable(*task, *calls, *revision),
            Event::Unmarked { task, calls } => self.unmarkable(*task, *calls),
            Event::Put(question) => self.puttable(question),
            Event::Answered(answer) => self.answerable(answer),
            Event::PassedOver => said(
                open_look(self.mood()).is_some(),
                "a look is passed over that is not open",
            ),
            Event::Settled => said(
                matches!(self.mood(), Mood::Asking(_) | Mood::Disagreeing(_)),
                "a question is settled that is not open",
            ),
            Event::Disagreed(mismatch) => self.can_disagree(mismatch),
            Event::Chose(_) => said(
                matches!(self.mood(), Mood::Disagreeing(_)),
                "a way out is chosen where nothing disagrees",
            ),
            Event::MendBegun { batch, moves, .. } => {
                said(self.holds(*batch), "a mending of ends that are not there")?;
                said(!moves.is_empty(), "a mending without a move")?;
                said(
                    *self.mood() == Mood::Working,
                    "a mending while something else is open",
                )
            }
            Event::MoveMade { number } => said(
                matches!(self.mood(), Mood::Mending(mending)
                    if mending.made + 1 == *number && *number as usize <= mending.moves.len()),
                "a move of a mending out of order",
            ),
            Event::Mended => said(
                matches!(self.mood(), Mood::Mending(mending)
                    if mending.made as usize == mending.moves.len()),
                "a mending ends before its last move",
            ),
            Event::Undone { entry } => said(
                self.past.last().is_some_and(|past| past.entry == *entry),
                "an entry is taken back that is not the last",
            ),
            Event::Redone { entry } => said(
                self.future.last().is_some_and(|past| past.entry == *entry),
                "an entry is done again that was not taken back last",
            ),
            Event::WentOn => said(self.rest().is_some(), "going on without a rest before"),
            Event::Paused | Event::Stopped | Event::Opened | Event::Interrupted { .. } => Ok(()),
            Event::HelpWanted => said(!self.record().help_wanted, "help is wanted twice"),
            Event::HandsWanted => said(!self.record().hands_wanted, "hands are wanted twice"),
            Event::HelpCame => said(
                self.record().help_wanted || self.record().hands_wanted,
                "help came that was not wanted",
            ),
            Event::TakenUp { entry } => said(
                *self.mood() == Mood::Working && self.left_mismatch(*entry).is_some(),
                "a mismatch is taken up that was not left open",
            ),
            Event::BrokenEnd { call } => said(
                call.is_none_or(|call| self.has(call)),
                "an end broke that the warp does not have",
            ),
            Event::BrokenFloat { .. } => said(
                self.plan().floats != crate::plan::Floats::None,
                "a floating selvedge broke that the warp does not have",
            ),
            Event::EndMendBegun { number, moves } => {
                said(!moves.is_empty(), "a mending without a move")?;
                said(
                    *self.mood() == Mood::Working,
                    "a mending while something else is open",
                )?;
                let open = |end: &&super::state::BrokenEnd| end.number == *number && !end.mended;
                said(
                    self.record().broken.iter().any(|end| open(&end)),
                    "an end is mended that is not broken",
                )
            }
            Event::EndMended { number } => said(
                self.record()
                    .broken
                    .iter()
                    .any(|end| end.number == *number && !end.mended),
                "an end is mended that is not broken",
            ),
            Event::Note(text) => said(
                !text.is_empty() && !text.chars().any(char::is_control),
                "a note is empty or holds control characters",
            ),
            Event::Measured { thousandths, .. } => said(
                (1..=super::decide::MOST_MEASURED).contains(thousandths),
                "no such measure",
            ),
            Event::MeasuredWidth { thousandths } => {
                said((1..=1_000_000).contains(thousandths), "no such width")
            }
            Event::Amended {
                revision,
                from,
                change,
            } => self.amendable(*revision, *from, change),
        }
    }

    pub(super) fn has(&self, call: Call) -> bool {
        (1..=self.calls()).contains(&call.0)
    }

    pub(super) fn holds(&self, calls: Calls) -> bool {
        calls.first <= calls.last && self.has(calls.first) && self.has(calls.last)
    }

    fn step_is_open(&self, key: &StepKey) -> Result<(), &'static str> {
        said(key.revision == self.revision(), "a step under another plan")?;
        said(
            *self.mood() == Mood::Working,
            "a step while a question is open",
        )?;
        said(self.applies(key.id), "a step that this loom does not have")?;
        said(self.now.steps & bit(key.id) == 0, "a step is done twice")?;
        let now = self.current();
        said(
            now.is_some_and(|now| now.id.stage() == key.id.stage()),
            "a step of another stage",
        )?;
        let one_by_one = matches!(
            key.id,
            StepId::TieUp | StepId::OpenShed | StepId::Header | StepId::FirstPicks
        );
        let counted = one_by_one && key.number.is_some();
        said(
            !counted || now.is_some_and(|now| now.id == key.id && now.number == key.number),
            "a treadle, a shed or a pick out of order",
        )
    }

    fn markable(&self, task: Task, calls: Calls, revision: u32) -> Result<(), &'static str> {
        said(self.holds(calls), "ends that the warp does not have")?;
        said(revision == self.revision(), "a mark under another plan")?;
        said(
            !self.ledger().of(task).has_all(calls),
            "ends are marked that are marked already",
        )?;
        let all = |task| self.ledger().of(task).count() == self.calls();
        let these = |task| self.ledger().of(task).has_all(calls);
        let mending = matches!(self.mood(), Mood::Mending(_));
        let ready = match task {
            Task::Wound => true,
            Task::Spread => all(Task::Wound),
            Task::Knotted => all(Task::Spread),
            Task::Cut => these(Task::Knotted),
            Task::CountedOut => all(Task::Cut),
            Task::Threaded => these(Task::CountedOut),
            Task::Checked => these(Task::Threaded),
            // a mending sleys its own ends again while the rest waits
            Task::Sleyed => all(Task::Checked) || mending && these(Task::Threaded),
            Task::TiedFirst => all(Task::Sleyed),
            Task::TiedSecond => all(Task::TiedFirst),
        };
        said(ready, "ends are marked before the work that comes first")
    }

    fn unmarkable(&self, task: Task, calls: Calls) -> Result<(), &'static str> {
        said(self.holds(calls), "ends that the warp does not have")?;
        let later = Task::ALL.into_iter().find(|&other| other > task);
        said(
            later.is_none_or(|later| self.ledger().of(later).has_none(calls)),
            "work is taken off that later work stands on",
        )
    }

    fn amendable(
        &self,
        revision: u32,
        from: Call,
        change: &super::ask::Amendment,
    ) -> Result<(), &'static str> {
        said(
            revision == self.revision() + 1,
            "a plan revision out of order",
        )?;
        said(self.has(from), "an amendment from an end that is not there")?;
        said(
            super::amend::amended(self.plan(), from, change).is_ok(),
            "an amended plan that does not fit",
        )
    }
}

/// Only taking a mark off can break an invariant that its own precondition does not name. A mark
/// that is put on alone cannot: [`Dressing::markable`] asks for the task that it stands on, and for
/// ends that the warp has. So most entries need no trial, which costs a copy of the ledger.
fn takes_off(event: &Event) -> bool {
    matches!(event, Event::Unmarked { .. })
}

pub(super) fn said(holds: bool, why: &'static str) -> Result<(), &'static str> {
    if holds { Ok(()) } else { Err(why) }
}
