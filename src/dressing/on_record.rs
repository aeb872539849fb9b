//! What stays on record whatever is taken back: broken ends, and what was left open. Owns putting it there.

use super::state::{BrokenEnd, Dressing, Left, LeftOpen, Mood};
use crate::method::Stage;
use crate::plan::Side;
use crate::quantity::Call;

impl Dressing {
    pub(super) fn broke(&mut self, call: Option<Call>, float: Option<Side>, stage: Stage) {
        self.record.broken.push(BrokenEnd {
            number: self.record.broken.len() as u32 + 1,
            call,
            float,
            stage,
            mended: false,
        });
    }

    pub(super) fn set_mended(&mut self, number: u32, mended: bool) {
        for end in &mut self.record.broken {
            if end.number == number {
                end.mended = mended;
            }
        }
    }

    /// The mismatch is open again, and no longer among those that were left open.
    pub(super) fn take_up(&mut self, entry: u64) {
        if let Some(mismatch) = self.left_mismatch(entry).cloned() {
            self.now.taken_up.push(entry);
            self.now.mood = Mood::Disagreeing(mismatch);
        }
    }

    pub(super) fn leave(&mut self, entry: u64, stage: Stage, what: Left) {
        self.record.left.push(LeftOpen { entry, stage, what });
    }
}
