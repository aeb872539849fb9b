//! The weaver's own pace, from the log. Owns the sums; pauses and long gaps never count.

use super::event::{Entry, Event, When};
use super::ledger::Task;
use crate::method::Stage;

/// A gap longer than this is never work: ten minutes (a starting value, no source).
pub const LONGEST_WORK_MS: u64 = 10 * 60 * 1000;

/// Time and counts by stage.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pace {
    spent_ms: [u64; 8],
    marks: [u64; 8],
    presses: [u64; 8],
}

impl Pace {
    /// Adds one entry: the time since the entry before, unless that was a rest, a return or too long.
    pub(super) fn add(&mut self, last: Option<When>, entry: &Entry, stage: Stage) {
        let at = stage as usize;
        let resting = entry.events.iter().any(|event| {
            matches!(
                event,
                Event::WentOn | Event::Opened | Event::Interrupted { .. } | Event::Undone { .. }
            )
        });
        let Some(last) = last.filter(|_| !resting) else {
            return;
        };
        let gap = entry.when.elapsed_ms.saturating_sub(last.elapsed_ms);
        if gap > self.interruption_ms(stage) {
            return;
        }
        self.spent_ms[at] += gap;
        self.presses[at] += 1;
        self.marks[at] += entry.events.iter().map(marked).sum::<u64>();
    }

    /// How long without a press counts as an interruption: three times the mean press of this
    /// stage, at least ten minutes.
    #[must_use]
    pub fn interruption_ms(&self, stage: Stage) -> u64 {
        let at = stage as usize;
        let mean = self.spent_ms[at].checked_div(self.presses[at]).unwrap_or(0);
        (3 * mean).max(LONGEST_WORK_MS)
    }

    /// Milliseconds of work in this stage, pauses left out.
    #[must_use]
    pub fn spent_ms(&self, stage: Stage) -> u64 {
        self.spent_ms[stage as usize]
    }

    /// Milliseconds an end at this stage's pace; `None` before 20 ends were marked in it.
    #[must_use]
    pub fn ms_per_end(&self, stage: Stage) -> Option<u64> {
        let at = stage as usize;
        (self.marks[at] >= 20).then(|| self.spent_ms[at] / self.marks[at])
    }
}

fn marked(event: &Event) -> u64 {
    match event {
        Event::Marked { task, calls, .. } if !matches!(task, Task::CountedOut | Task::Checked) => {
            u64::from(calls.len())
        }
        _ => 0,
    }
}
