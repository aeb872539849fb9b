//! What was done to each run of ends. Owns the marks; decides nothing and knows no order of work.
//!
//! Invariants: runs of one task never overlap, neighbours with the same revision are one run, and
//! `count` is the number of marked calls.

use crate::quantity::{Call, Calls};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Something that is done to heddled ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Task {
    /// Wound, with the counting thread crossed after the group.
    Wound,
    /// Laid into the raddle.
    Spread,
    /// Slip-knotted in front of the lease sticks after beaming.
    Knotted,
    /// End loops cut; hands cannot take it back.
    Cut,
    /// Counted out with the heddles for them.
    CountedOut,
    /// Drawn through a heddle.
    Threaded,
    /// Counted off against the heddles at the end of the batch.
    Checked,
    /// Drawn through a dent.
    Sleyed,
    /// In a bundle on the front apron rod, first half of the knot.
    TiedFirst,
    /// In a bundle that was drawn snug and finished.
    TiedSecond,
}

impl Task {
    /// All tasks, in the order of the work.
    pub const ALL: [Self; 10] = [
        Self::Wound,
        Self::Spread,
        Self::Knotted,
        Self::Cut,
        Self::CountedOut,
        Self::Threaded,
        Self::Checked,
        Self::Sleyed,
        Self::TiedFirst,
        Self::TiedSecond,
    ];
}

/// A piece of a ledger as it stood: the calls, and the plan revision of their mark if they had one.
pub type Piece = (Calls, Option<u32>);

/// The marked calls of one task.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Runs {
    /// First call of a run -> (last call, plan revision).
    map: BTreeMap<u32, (u32, u32)>,
    count: u32,
}

impl Runs {
    /// How many calls are marked.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.count
    }

    /// The marked runs, first to last, with the revision of each.
    pub fn iter(&self) -> impl Iterator<Item = Piece> + '_ {
        self.map
            .iter()
            .map(|(&first, &(last, revision))| (run(first, last), Some(revision)))
    }

    /// The marked stretches, first to last, whatever their revision.
    #[must_use]
    pub fn stretches(&self) -> Vec<Calls> {
        let mut out: Vec<Calls> = Vec::new();
        for (&first, &(last, _)) in &self.map {
            match out.last_mut() {
                Some(before) if before.last.0 + 1 == first => before.last = Call(last),
                _ => out.push(run(first, last)),
            }
        }
        out
    }

    /// Whether every call that is marked here is marked there too.
    #[must_use]
    pub fn within(&self, other: &Self) -> bool {
        self.iter().all(|(calls, _)| other.has_all(calls))
    }

    /// The revision under which the call was marked; `None` where it is not.
    #[must_use]
    pub fn mark(&self, call: Call) -> Option<u32> {
        let (_, &(last, revision)) = self.map.range(..=call.0).next_back()?;
        (call.0 <= last).then_some(revision)
    }

    /// Whether every one of the calls is marked.
    #[must_use]
    pub fn has_all(&self, calls: Calls) -> bool {
        let mut next = calls.first.0;
        for (first, last) in self.runs_in(calls) {
            if first > next {
                return false;
            }
            next = last.saturating_add(1);
        }
        next > calls.last.0
    }

    /// Whether none of the calls is marked.
    #[must_use]
    pub fn has_none(&self, calls: Calls) -> bool {
        calls.first > calls.last || self.runs_in(calls).next().is_none()
    }

    /// First and last call of each run that has one of the calls, whole runs, in their order.
    fn runs_in(&self, calls: Calls) -> impl Iterator<Item = (u32, u32)> + '_ {
        let (at, last) = (calls.first.0, calls.last.0);
        let before = self.map.range(..=at).next_back();
        let start = before
            .filter(|(_, (end, _))| *end >= at)
            .map_or(at, |(&first, _)| first);
        let within = (start <= last).then(|| self.map.range(start..=last));
        within
            .into_iter()
            .flatten()
            .map(|(&first, &(end, _))| (first, end))
    }

    /// The first call of 1..=`last` that is not marked.
    #[must_use]
    pub fn first_gap(&self, last: u32) -> Option<Call> {
        let mut at = 1;
        for (&first, &(end, _)) in &self.map {
            if first > at {
                break;
            }
            at = end + 1;
        }
        (at <= last).then_some(Call(at))
    }

    /// The last call of 1..=`last` that is not marked.
    #[must_use]
    pub fn last_gap(&self, last: u32) -> Option<Call> {
        let mut at = last;
        for (&first, &(end, _)) in self.map.iter().rev() {
            if end < at {
                break;
            }
            at = first - 1;
        }
        (at >= 1).then_some(Call(at))
    }

    /// The calls cut into pieces of equal mark, first to last.
    #[must_use]
    pub fn pieces(&self, calls: Calls) -> Vec<Piece> {
        let (mut at, last) = (calls.first.0, calls.last.0);
        let start = self
            .map
            .range(..=at)
            .next_back()
            .map_or(at, |(&first, _)| first);
        let mut out = Vec::new();
        for (&first, &(end, revision)) in self.map.range(start..=last) {
            if end < at {
                continue;
            }
            if first > at {
                out.push((run(at, first - 1), None));
            }
            let from = first.max(at);
            out.push((run(from, end.min(last)), Some(revision)));
            at = end.min(last) + 1;
        }
        if at <= last {
            out.push((run(at, last), None));
        }
        out
    }

    /// Marks the calls, or takes their mark off. The caller keeps `pieces` first if it must go back.
    pub fn set(&mut self, calls: Calls, mark: Option<u32>) {
        self.cut_out(calls);
        let Some(revision) = mark else { return };
        let (mut first, mut last) = (calls.first.0, calls.last.0);
        self.count += calls.len();
        if let Some((&f, &(l, r))) = self.map.range(..first).next_back()
            && l + 1 == first
            && r == revision
        {
            self.map.remove(&f);
            first = f;
        }
        if let Some(&(l, r)) = self.map.get(&(last + 1))
            && r == revision
        {
            self.map.remove(&(last + 1));
            last = l;
        }
        self.map.insert(first, (last, revision));
    }

    fn cut_out(&mut self, calls: Calls) {
        for (piece, mark) in self.pieces(calls) {
            let Some(revision) = mark else { continue };
            let Some((&first, &(last, _))) = self.map.range(..=piece.first.0).next_back() else {
                continue;
            };
            self.map.remove(&first);
            if first < piece.first.0 {
                self.map.insert(first, (piece.first.0 - 1, revision));
            }
            if last > piece.last.0 {
                self.map.insert(piece.last.0 + 1, (last, revision));
            }
            self.count -= piece.len();
        }
    }
}

fn run(first: u32, last: u32) -> Calls {
    Calls {
        first: Call(first),
        last: Call(last),
    }
}

/// All tasks' marks.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Ledger {
    runs: [Runs; Task::ALL.len()],
}

impl Ledger {
    /// The marks of one task.
    #[must_use]
    pub fn of(&self, task: Task) -> &Runs {
        &self.runs[task as usize]
    }

    /// The marks of one task, to change.
    pub fn of_mut(&mut self, task: Task) -> &mut Runs {
        &mut self.runs[task as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// A flat list of marks is the reference.
        #[test]
        fn runs_agree_with_a_flat_list(steps in prop::collection::vec((1u32..60, 1u32..20, prop::option::of(0u32..3)), 0..40)) {
            let mut runs = Runs::default();
            let mut flat = [None; 81];
            for (first, len, mark) in steps {
                let calls = run(first, first + len);
                runs.set(calls, mark);
                flat[first as usize..=(first + len) as usize].fill(mark);
                for call in 1..=80u32 {
                    prop_assert_eq!(runs.mark(Call(call)), flat[call as usize]);
                }
                let marked = flat.iter().flatten().count();
                prop_assert_eq!(runs.count() as usize, marked);
                let gap = (1..=80u32).find(|&c| flat[c as usize].is_none()).map(Call);
                prop_assert_eq!(runs.first_gap(80), gap);
                let gap = (1..=80u32).rev().find(|&c| flat[c as usize].is_none()).map(Call);
                prop_assert_eq!(runs.last_gap(80), gap);
                let total: u32 = runs.pieces(run(5, 70)).iter().map(|(c, _)| c.len()).sum();
                prop_assert_eq!(total, 66);
                prop_assert_eq!(runs.has_all(calls), mark.is_some());
                prop_assert_eq!(runs.has_none(calls), mark.is_none());
            }
        }
    }
}
