//! What comes next: the done part as recorded, the rest projected from the plan in force. Owns the
//! order of the steps; keeps no cursor, so mending and amending need no repair here.

use super::event::StepKey;
use super::ledger::Task;
use super::state::{Dressing, bit};
use crate::method::{Stage, StepId};
use crate::plan::{Action, Batch, Bundle, Floats, Group};
use crate::quantity::{Call, Calls};

/// Where in a batch the weaver is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BatchPart {
    /// Ends and heddles are to be counted out.
    CountOut,
    /// The next handful is to be threaded: these calls.
    Handful(Calls),
    /// All threaded; it is to be counted off.
    UsedUp,
}

impl Dressing {
    /// The step that comes next; `None` when the loom is ready.
    #[must_use]
    pub fn current(&self) -> Option<StepKey> {
        StepId::ALL
            .into_iter()
            .filter(|&id| self.applies(id))
            .find_map(|id| self.open_part(id))
    }

    /// The stage of the current step; `None` when the loom is ready.
    #[must_use]
    pub fn stage(&self) -> Option<Stage> {
        self.current().map(|key| key.id.stage())
    }

    /// Whether the step belongs to this plan and loom.
    #[must_use]
    pub fn applies(&self, id: StepId) -> bool {
        let plan = self.plan();
        match id {
            StepId::FloatAside | StepId::FloatLast => plan.floats == Floats::FromWarp,
            StepId::SleyFirstFloat | StepId::SleyLastFloat => plan.floats != Floats::None,
            StepId::PinsOut => plan.action == Action::Countermarch,
            StepId::FirstPicks => plan.first_picks() > 0,
            _ => true,
        }
    }

    /// The next open part of the step, or `None` where the step is done.
    fn open_part(&self, id: StepId) -> Option<StepKey> {
        let key = |calls, number| {
            Some(StepKey {
                id,
                calls,
                number,
                revision: self.now.revision,
            })
        };
        let group = |task| key(Some(self.next_group(task)?.calls), None);
        match id {
            StepId::WindGroup => group(Task::Wound),
            StepId::SpreadGroup => group(Task::Spread),
            StepId::KnotGroup => group(Task::Knotted),
            StepId::CutLoops => group(Task::Cut),
            StepId::SleyGroup => key(Some(self.next_sleying()?.1), None),
            StepId::ThreadBatch => key(Some(self.next_batch()?.calls), None),
            StepId::TieFirst => key(Some(self.next_bundle(Task::TiedFirst)?.calls), None),
            StepId::TieSecond => key(Some(self.next_bundle(Task::TiedSecond)?.calls), None),
            StepId::BeamTurn => {
                self.turn_is_due().then_some(())?;
                key(None, Some(self.now.turns + 1))
            }
            StepId::TieUp => {
                (!self.has_done(id)).then_some(())?;
                let next = self.now.tied + 1;
                key(
                    None,
                    (next <= self.plan().treadles_to_tie()).then_some(next),
                )
            }
            StepId::OpenShed => {
                let next = self.now.sheds + 1;
                (next <= self.sheds()).then_some(())?;
                key(None, Some(next))
            }
            StepId::Header => {
                let (made, of) = (self.now.header, crate::plan::HEADER_PICKS);
                (!self.has_done(id) && made < of).then_some(())?;
                key(None, Some(made + 1))
            }
            StepId::FirstPicks => {
                // who took the second look before the picks were led has woven past them
                let past = self.has_done(id) || self.has_done(StepId::LookAgain);
                (!past && self.now.picks < self.plan().first_picks()).then_some(())?;
                key(None, Some(self.now.picks + 1))
            }
            _ if self.has_done(id) => None,
            _ => key(None, None),
        }
    }

    /// Turns are led until the expected number, or until the weaver says that enough is on the
    /// beam; without a girth only she can say it.
    fn turn_is_due(&self) -> bool {
        let enough = self.now.steps & bit(StepId::BeamTurn) != 0;
        !enough
            && self
                .plan()
                .beam
                .turns
                .is_none_or(|turns| self.now.turns < turns)
    }

    /// Sheds to try: one a treadle, else one a different lift, else one a shaft.
    #[must_use]
    pub fn sheds(&self) -> u32 {
        self.plan().sheds_to_try()
    }

    /// The first group, in threading order, that the task is not done to.
    #[must_use]
    pub fn next_group(&self, task: Task) -> Option<Group> {
        let gap = self.ledger().of(task).first_gap(self.calls())?;
        self.group_at(gap)
    }

    /// The next group to sley, in the direction of sleying, and what of it is open: all of it, unless
    /// a mending drew only some of its ends out of the reed.
    #[must_use]
    pub fn next_sleying(&self) -> Option<(Group, Calls)> {
        let plan = self.plan();
        let runs = self.ledger().of(Task::Sleyed);
        let upwards = plan.sley_from == plan.thread_from;
        let gap = if upwards {
            runs.first_gap(self.calls())
        } else {
            runs.last_gap(self.calls())
        };
        let group = self.group_at(gap?)?;
        let pieces = runs.pieces(group.calls);
        let mut open = pieces.into_iter().filter(|(_, mark)| mark.is_none());
        let open = if upwards {
            open.next()
        } else {
            open.next_back()
        };
        Some((group, open.map_or(group.calls, |(calls, _)| calls)))
    }

    /// The group of a call.
    #[must_use]
    pub fn group_at(&self, call: Call) -> Option<Group> {
        let groups = &self.plan().groups;
        let at = groups.partition_point(|group| group.calls.last < call);
        groups.get(at).copied()
    }

    /// The batch of a call.
    #[must_use]
    pub fn batch_at(&self, call: Call) -> Option<&Batch> {
        let batches = &self.plan().batches;
        let at = batches.partition_point(|batch| batch.calls.last < call);
        batches.get(at)
    }

    /// The batch that is in work or comes next: the first that is not counted off.
    #[must_use]
    pub fn next_batch(&self) -> Option<&Batch> {
        let gap = self.ledger().of(Task::Checked).first_gap(self.calls())?;
        self.batch_at(gap)
    }

    /// Where in its batch the weaver is.
    #[must_use]
    pub fn batch_part(&self, batch: &Batch) -> BatchPart {
        if !self.ledger().of(Task::CountedOut).has_all(batch.calls) {
            return BatchPart::CountOut;
        }
        let threaded = self.ledger().of(Task::Threaded);
        self.handfuls(batch)
            .into_iter()
            .find(|&handful| !threaded.has_all(handful))
            .map_or(BatchPart::UsedUp, |handful| {
                // a handful that the record follows half-way goes on where it stands, and ends
                // where a mending left the rest of it threaded
                let pieces = threaded.pieces(handful);
                let rest = pieces.into_iter().find(|(_, mark)| mark.is_none());
                let rest = rest.map(|(calls, _)| calls);
                BatchPart::Handful(rest.unwrap_or(handful))
            })
    }

    /// The batch cut into the handfuls in which it is called.
    #[must_use]
    pub fn handfuls(&self, batch: &Batch) -> Vec<Calls> {
        let shafts = &self.plan().threading[batch.calls.indices()];
        let mut first = batch.calls.first.0;
        crate::plan::handfuls(shafts)
            .into_iter()
            .filter_map(|len| {
                let handful = Calls::new(first, first + u32::from(len) - 1);
                first += u32::from(len);
                handful
            })
            .collect()
    }

    /// The next bundle to tie in this round. Tying goes in the bundles' order, so the number of
    /// tied ends finds it; a gap left by mending is found by looking through all.
    #[must_use]
    pub fn next_bundle(&self, round: Task) -> Option<Bundle> {
        let runs = self.ledger().of(round);
        if runs.count() == self.calls() {
            return None;
        }
        let open = |bundle: &&Bundle| !runs.has_all(bundle.calls);
        let bundles = &self.plan().bundles;
        let guess = self.bundle_after(runs.count());
        guess
            .filter(open)
            .filter(|bundle| {
                let before = (bundle.number as usize).wrapping_sub(2);
                bundles.get(before).is_none_or(|b| runs.has_all(b.calls))
            })
            .or_else(|| bundles.iter().find(open))
            .copied()
    }

    fn bundle_after(&self, ends: u32) -> Option<&Bundle> {
        let sums = self.bundle_ends.last()?;
        let at = sums.partition_point(|&sum| sum <= ends);
        self.plan().bundles.get(at)
    }

    /// The step of its stage that asks for a look before it, because hands cannot take it back.
    #[must_use]
    pub fn is_no_return(id: StepId) -> bool {
        matches!(id, StepId::CutLoops | StepId::SticksOut)
    }
}
