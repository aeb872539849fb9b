//! What the record says of each group, stage by stage, and the first group in which two stages do
//! not agree. Owns that comparison; marks nothing and traces nothing.
//!
//! The marks of the ledger follow one another by rule, so they alone never disagree. What was left
//! open does it: a batch that was gone on from with an end left over has one end fewer threaded
//! than cut.

use super::event::{Look, Mismatch};
use super::ledger::Task;
use super::state::{Dressing, Left};
use crate::fault::{Fault, FaultKind, Found};
use crate::quantity::{Call, Calls};

/// Two stages of a group that do not agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Disagreement {
    /// The group's number.
    pub group: u32,
    /// The entry that left it open.
    pub entry: u64,
    /// The earlier of the two tasks.
    pub earlier: Task,
    /// The later one.
    pub later: Task,
    /// Ends of the group that the earlier task was done to.
    pub before: u32,
    /// Ends of the group that the later task was done to, by what was left open. Equal to `before`
    /// where only shafts or places differ.
    pub after: u32,
}

impl Dressing {
    /// The first group, in the order of threading, in which two stages disagree.
    #[must_use]
    pub fn disagreement(&self) -> Option<Disagreement> {
        let left = self.record().left.iter();
        let open = left.filter_map(|left| match &left.what {
            Left::Mismatch(mismatch) => {
                let open = !self.now.taken_up.contains(&left.entry);
                open.then(|| self.account(left.entry, mismatch)).flatten()
            }
            Left::Question(_) | Left::Step(_) => None,
        });
        open.min_by_key(|found| (found.group, found.entry))
    }

    fn account(&self, entry: u64, mismatch: &Mismatch) -> Option<Disagreement> {
        let (call, later, off) = match mismatch {
            Mismatch::Batch {
                batch, ends_left, ..
            } => (batch.first, Task::Threaded, *ends_left),
            Mismatch::Warp {
                stretch, ends_left, ..
            } => (stretch.first, Task::Threaded, ends_left.unwrap_or(0)),
            Mismatch::ReadBack { calls, read, .. } => {
                let stands = super::decide::columns(self, *calls, read);
                let same = stands.iter().take_while(|column| !column.differs()).count();
                let call = Call((calls.first.0 + same as u32).min(calls.last.0));
                (call, Task::Threaded, 0)
            }
            Mismatch::Reed {
                calls, ends_left, ..
            } => (calls.first, Task::Sleyed, *ends_left),
            Mismatch::Found(found) => {
                let (batch, _) = super::decide::batch_of(self, *found);
                let call = found.call().unwrap_or(batch.first);
                match found {
                    Found::InHeddles(fault) => (call, Task::Threaded, not_threaded(fault)),
                    Found::InReed(..) => (call, Task::Sleyed, 0),
                }
            }
            Mismatch::Look { look, loom, .. } => self.counted(*look, *loom)?,
            // what looks wrong has no place before its end is found
            Mismatch::Sighting(_) => return None,
        };
        let group = self.group_at(call)?;
        let earlier = before(later);
        let ends = self
            .marked(earlier, group.calls)
            .max(self.marked(later, group.calls));
        let after = i64::from(ends).saturating_sub(off);
        Some(Disagreement {
            group: group.number,
            entry,
            earlier,
            later,
            before: ends,
            after: u32::try_from(after).unwrap_or(0),
        })
    }

    /// The first call that a look of another figure is about, its task, and the ends that lack.
    fn counted(&self, look: Look, loom: i64) -> Option<(Call, Task, i64)> {
        let groups = |task: Task| {
            let at = usize::try_from(loom).ok()?;
            let group = self.plan().groups.get(at)?;
            let marked = i64::from(self.marked(task, group.calls));
            Some((group.calls.first, task, marked))
        };
        match look {
            Look::GroupsWound => groups(Task::Wound),
            Look::GroupsSpread => groups(Task::Spread),
            Look::GroupsKnotted => groups(Task::Knotted),
            Look::GroupsCut => groups(Task::Cut),
            Look::ShaftOf { call } => Some((call, Task::Threaded, 0)),
            Look::Together { calls } | Look::ReadBack { calls } => {
                Some((calls.first, Task::Threaded, 0))
            }
            Look::LastShaft => Some((super::decide::last_threaded(self)?, Task::Threaded, 0)),
            Look::BatchesKnotted { .. } => {
                let at = usize::try_from(loom).ok()?;
                let batch = self.plan().batches.get(at)?;
                let marked = i64::from(self.marked(Task::Threaded, batch.calls));
                Some((batch.calls.first, Task::Threaded, marked))
            }
            Look::Turns
            | Look::GroupsSleyed
            | Look::BundlesFirst
            | Look::BundlesSecond
            | Look::ShedsClean
            | Look::EndsUp { .. } => None,
        }
    }

    /// How many of the calls the task was done to.
    #[must_use]
    pub fn marked(&self, task: Task, calls: Calls) -> u32 {
        let pieces = self.ledger().of(task).pieces(calls);
        let done = pieces.into_iter().filter(|(_, mark)| mark.is_some());
        done.map(|(calls, _)| calls.len()).sum()
    }
}

/// Ends that a fault leaves out of the heddles (negative: puts in too many).
fn not_threaded(fault: &Fault) -> i64 {
    match fault.kind {
        FaultKind::PositionSkipped => 1,
        FaultKind::PositionRepeated => -1,
        FaultKind::HandfulSkipped => fault.count,
        FaultKind::HandfulRepeated => fault.count.saturating_neg(),
        FaultKind::EndsDoubled
        | FaultKind::EndHanging
        | FaultKind::WrongShaft
        | FaultKind::HeddlePassed
        | FaultKind::EndsMiscounted
        | FaultKind::HeddlesMiscounted
        | FaultKind::NeighboursExchanged => 0,
    }
}

/// The task that comes before, as ends are counted.
fn before(task: Task) -> Task {
    match task {
        Task::Wound | Task::Spread => Task::Wound,
        Task::Knotted => Task::Spread,
        Task::Cut => Task::Knotted,
        Task::CountedOut | Task::Threaded => Task::Cut,
        Task::Checked | Task::Sleyed => Task::Threaded,
        Task::TiedFirst => Task::Sleyed,
        Task::TiedSecond => Task::TiedFirst,
    }
}
