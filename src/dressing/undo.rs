//! Taking back and doing again: an entry's small part of the state is put back as it was, what is on record
//! stays. Owns what an undo leaves alone; that it may be done is decided elsewhere.

use super::ask::Choice;
use super::event::Event;
use super::history::{Before, Past};
use super::state::{Dressing, Mood, bit};
use crate::method::Stage;

impl Dressing {
    pub(super) fn undo(&mut self) {
        let Some(past) = self.past.pop() else { return };
        for (task, (calls, mark)) in past.pieces_back() {
            self.ledger.of_mut(task).set(calls, mark);
        }
        let kept = self.plans.len() - past.plans as usize;
        self.plans.truncate(kept);
        self.bundle_ends.truncate(kept);
        for event in past.events().iter() {
            if let Event::EndMended { number } = event {
                self.set_mended(*number, false);
            }
        }
        self.now = past.before().restored();
        self.future.push(past);
    }

    pub(super) fn redo(&mut self, entry: u64, stage: Stage) {
        let Some(mut again) = self.future.pop() else {
            return;
        };
        again.is_done_again(Before::of(&self.now, self.past.last().map(Past::before)));
        let plans = self.plans.len();
        let mut pieces = Vec::new();
        for event in again.events().iter() {
            // what the first doing put on record stays there; it is not put there twice
            if !puts_on_record(event) {
                self.apply_event(entry, stage, event, &mut pieces);
            } else {
                self.redo_on_record(event);
            }
        }
        again.plans = (self.plans.len() - plans) as u32;
        again.keep_pieces(&pieces);
        self.past.push(again);
    }

    fn redo_on_record(&mut self, event: &Event) {
        match event {
            Event::StepLeftOut(key) => self.now.steps |= bit(key.id),
            Event::PassedOver | Event::Chose(Choice::LeaveOpen) => {
                self.left_unclear();
                self.now.mood = Mood::Working;
            }
            Event::Chose(_) => self.now.mood = Mood::Working,
            Event::Disagreed(mismatch) => {
                self.now.clean_looks = 0;
                self.now.mood = Mood::Disagreeing(mismatch.clone());
            }
            _ => {}
        }
    }
}

fn puts_on_record(event: &Event) -> bool {
    matches!(
        event,
        Event::StepLeftOut(_) | Event::PassedOver | Event::Chose(_) | Event::Disagreed(_)
    )
}
