//! A plan changed in the middle of a dressing: what is done stays done, the rest is worked out anew.
//! Owns the revisions; which of them a moment allows is for the dressing to say.

use super::batches::{Cut, MOST_IN_BATCH, batches};
use super::problem::Problem;
use super::spec::MOST_SHAFTS;
use super::threading::{Draft, read_threading, threading_text};
use super::{Batch, BatchRule, Plan, Side, Spec, heddles, work_out};
use crate::quantity::{Call, Calls, Shaft};

impl Plan {
    /// `second[i]`: call i + 1 shares the heddle of the call before it.
    fn second(&self) -> Vec<bool> {
        let mut second = vec![false; self.threading.len()];
        for call in &self.doubled {
            if let Some(shares) = second.get_mut((call.0 as usize).saturating_sub(1)) {
                *shares = true;
            }
        }
        second
    }

    /// The plan with another batch rule from a call on. Calls before it keep their batches (one that
    /// reaches past it ends before it), numbers go on.
    #[must_use]
    pub fn rebatched(&self, rule: BatchRule, from: Call) -> Self {
        let rule = match rule {
            BatchRule::Number(n) => BatchRule::Number(n.clamp(1, MOST_IN_BATCH)),
            other => other,
        };
        let mut changed = Self {
            batch_rule: rule,
            ..self.clone()
        };
        changed.spec.batch = Some(rule);
        changed.batches = changed.recut(&self.batches, from);
        changed
    }

    /// Batches that are kept before a call, and the rest cut anew by the plan's own rule.
    fn recut(&self, before: &[Batch], from: Call) -> Vec<Batch> {
        let from = from.0.max(1);
        let second = self.second();
        let cut = Cut {
            threading: &self.threading,
            second: &second,
            groups: &self.groups,
            shafts: self.shafts,
            repeat: self.repeat,
        };
        let mut kept: Vec<Batch> = before
            .iter()
            .filter(|b| b.calls.first.0 < from)
            .cloned()
            .collect();
        if let Some(last) = kept.last_mut().filter(|b| b.calls.last.0 >= from)
            && let Some(calls) = Calls::new(last.calls.first.0, from - 1)
        {
            let heddles = heddles::needed(
                self.threading.get(calls.indices()).unwrap_or(&[]),
                second.get(calls.indices()).unwrap_or(&[]),
                self.shafts,
            );
            *last = Batch {
                number: last.number,
                calls,
                heddles,
            };
        }
        let number = kept.last().map_or(1, |b| b.number + 1);
        kept.extend(batches(cut, self.batch_rule, from, number));
        kept
    }

    /// The plan with other heddles on hand.
    ///
    /// # Errors
    /// A problem for each shaft that would be short, or for a list of another length than the shafts.
    pub fn with_heddles(&self, on_hand: &[u32]) -> Result<Self, Vec<Problem>> {
        if on_hand.len() != usize::from(self.shafts) {
            let expected = format!("{}, one for each shaft", self.shafts);
            let (path, found) = ("loom.heddles".into(), on_hand.len());
            return Err(vec![Problem::Length {
                path,
                found,
                expected,
            }]);
        }
        let heddles = heddles::heddles(self.heddles.needed.clone(), Some(on_hand));
        let problems = heddles.problems();
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut changed = Self {
            heddles,
            ..self.clone()
        };
        changed.spec.loom.heddles = Some(on_hand.to_vec());
        Ok(changed)
    }

    /// The plan with another threading from a call on: what is typed follows what is threaded, and repeats
    /// to the last end where it is shorter.
    ///
    /// # Errors
    /// The fault in what was typed, a draft longer than the rest, a shaft that the loom lacks, or heddles
    /// that are short with the new draft; the plan is unchanged then.
    pub fn rethreaded(&self, from: Call, typed: &str) -> Result<Self, Vec<Problem>> {
        let draft = read_threading(typed, MOST_SHAFTS).map_err(|fault| {
            vec![Problem::Threading {
                path: "threading",
                fault,
            }]
        })?;
        let heddles = self.heddle_numbers();
        let kept = self.heddles_before(from);
        let rest = heddles.len() - kept;
        if draft.numbers.len() > rest {
            let threading = u32::try_from(draft.numbers.len()).unwrap_or(u32::MAX);
            let warp = u32::try_from(rest).unwrap_or(u32::MAX);
            return Err(vec![Problem::ThreadingTooLong { threading, warp }]);
        }
        let mut numbers = heddles;
        numbers.truncate(kept);
        numbers.extend(draft.numbers.iter().cycle().take(rest));
        let mut spec = self.spec.clone();
        spec.threading = Some(threading_text(&numbers));
        // Batches follow the repeat of the new part; what lies before it is cut already.
        let new = Draft {
            numbers: numbers.split_off(kept),
            bracket: draft.bracket,
        };
        self.anew(&spec, from, new.repeat())
    }

    /// The plan with another number of ends wound, more or fewer at the edge that is threaded last (an end
    /// short, an end found). Colours: the last stripe takes the difference. The threading goes on, or stops.
    ///
    /// # Errors
    /// What no longer fits, such as fewer ends than are threaded before `from`; the plan is unchanged then.
    pub fn with_ends(&self, ends: u32, from: Call) -> Result<Self, Vec<Problem>> {
        let out = |least: u32| Problem::OutOfRange {
            path: "ends".into(),
            found: ends.to_string(),
            least: least.to_string(),
            most: super::spec::MOST_ENDS.to_string(),
        };
        let taken = self.ends - self.heddled_ends();
        let done = from.0.saturating_sub(1) + taken;
        if ends < done.max(1) || ends > super::spec::MOST_ENDS {
            return Err(vec![out(done.max(1))]);
        }
        let mut spec = self.spec.clone();
        spec.ends = Some(ends);
        let numbers = self.heddle_numbers();
        let shared = u32::try_from(self.doubled.len()).unwrap_or(0);
        let wanted = (ends - taken).saturating_sub(shared) as usize;
        let mut along = numbers;
        self.go_along(&mut along, wanted);
        spec.threading = Some(threading_text(&along));
        stretch(&mut spec, self.ends, ends).ok_or_else(|| vec![out(self.ends)])?;
        self.anew(&spec, from, self.repeat)
    }

    /// The plan changed to what stands: from a call on these shafts are threaded in the place of its
    /// next `made` calls, and what follows follows them. The ends wound stay as many: where the line is
    /// shorter the draft goes on at the edge threaded last, where it is longer it stops sooner there.
    /// The batches move along with the calls.
    ///
    /// # Errors
    /// Heddles that are short with the new threading, a shaft that the loom lacks; the plan is unchanged
    /// then.
    pub fn standing(&self, from: Call, line: &[Shaft], made: u32) -> Result<Self, Vec<Problem>> {
        let heddles = self.heddle_numbers();
        let before = self.heddles_before(from);
        let after = self.heddles_before(Call(from.0.saturating_add(made)));
        let mut along = heddles.get(..before).unwrap_or(&[]).to_vec();
        along.extend(line.iter().map(|shaft| u32::from(shaft.0)));
        along.extend(heddles.get(after..).unwrap_or(&[]));
        self.go_along(&mut along, heddles.len());
        let mut spec = self.spec.clone();
        spec.threading = Some(threading_text(&along));
        let mut plan = self.anew(&spec, Call(self.heddled_ends() + 1), self.repeat)?;
        let by = i64::try_from(line.len()).unwrap_or(0) - i64::from(made);
        plan.batches = plan.moved_along(&self.batches, from, by);
        Ok(plan)
    }

    /// The threading brought to a length: cut, or gone on with by its repeat.
    fn go_along(&self, along: &mut Vec<u32>, wanted: usize) {
        let period = self
            .repeat
            .map_or(along.len(), |r| r as usize)
            .clamp(1, along.len().max(1));
        while along.len() < wanted {
            let next = along
                .len()
                .checked_sub(period)
                .and_then(|at| along.get(at))
                .copied();
            along.push(next.unwrap_or(1));
        }
        along.truncate(wanted);
    }

    /// Batches of before with every end from that of the call's batch on moved by so many calls; the
    /// last one ends with the warp.
    fn moved_along(&self, before: &[Batch], from: Call, by: i64) -> Vec<Batch> {
        let all = u32::try_from(self.threading.len()).unwrap_or(u32::MAX);
        let second = self.second();
        let mut batches: Vec<Batch> = Vec::new();
        for batch in before {
            let first = batches.last().map_or(1, |b: &Batch| b.calls.last.0 + 1);
            let last = i64::from(batch.calls.last.0);
            let last = if batch.calls.last < from {
                last
            } else {
                last + by
            };
            let last = u32::try_from(last).unwrap_or(0).min(all);
            let number = batches.last().map_or(1, |b| b.number + 1);
            let is_last = batch.number as usize == before.len();
            let Some(calls) = Calls::new(first, if is_last { all } else { last }) else {
                continue;
            };
            let heddles = heddles::needed(
                self.threading.get(calls.indices()).unwrap_or(&[]),
                second.get(calls.indices()).unwrap_or(&[]),
                self.shafts,
            );
            batches.push(Batch {
                number,
                calls,
                heddles,
            });
        }
        batches
    }

    /// The plan with sleying from a side.
    ///
    /// # Errors
    /// What no longer fits, where the reed lies off the loom's middle.
    pub fn sleyed_from(&self, side: Side) -> Result<Self, Vec<Problem>> {
        let mut spec = self.spec.clone();
        spec.sley_from = Some(side);
        self.anew(&spec, Call(self.heddled_ends() + 1), self.repeat)
    }

    /// The plan of a changed spec; batches before `from` stay as they are. The batch rule stays too, but
    /// `repeat` gives way to `group` where there is no longer a repeat that a batch can hold.
    fn anew(&self, spec: &Spec, from: Call, repeat: Option<u32>) -> Result<Self, Vec<Problem>> {
        let holds = repeat.is_some_and(|r| r <= MOST_IN_BATCH);
        let rule = match self.batch_rule {
            BatchRule::Repeat if !holds => BatchRule::Group,
            rule => rule,
        };
        // Worked out by groups: the rule may suit only what is still to be threaded.
        let figures = work_out(&Spec {
            batch: Some(BatchRule::Group),
            ..spec.clone()
        });
        let Some(mut plan) = figures.plan() else {
            return Err(figures.problems);
        };
        (plan.batch_rule, plan.spec.batch, plan.repeat) = (rule, Some(rule), repeat);
        plan.batches = plan.recut(&self.batches, from);
        Ok(plan)
    }

    /// The shaft of each heddle in the order of threading; doubled ends share one.
    fn heddle_numbers(&self) -> Vec<u32> {
        let second = self.second();
        let own = self
            .threading
            .iter()
            .zip(second)
            .filter(|(_, shares)| !shares);
        own.map(|(shaft, _)| u32::from(shaft.0)).collect()
    }

    /// Heddles filled by the calls before one.
    fn heddles_before(&self, from: Call) -> usize {
        let calls = (from.0.max(1) as usize - 1).min(self.threading.len());
        let shared = self
            .doubled
            .iter()
            .filter(|c| c.0 as usize <= calls)
            .count();
        calls - shared
    }
}

/// The last stripes give way, or the last one grows; `None` where there would be no stripe left.
fn stretch(spec: &mut Spec, before: u32, after: u32) -> Option<()> {
    if spec.colours.is_empty() {
        return Some(());
    }
    if let Some(last) = spec.colours.last_mut() {
        last.ends = last.ends.checked_add(after.saturating_sub(before))?;
    }
    let mut fewer = before.saturating_sub(after);
    while fewer > 0 {
        let last = spec.colours.last_mut()?;
        let here = fewer.min(last.ends);
        last.ends -= here;
        fewer -= here;
        if last.ends == 0 {
            spec.colours.pop();
        }
    }
    (!spec.colours.is_empty()).then_some(())
}
