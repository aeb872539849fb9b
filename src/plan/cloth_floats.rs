//! Floats: where a thread passes over or under more than one of the others. Owns their lengths and
//! places on both faces; how long is too long is for the weaver to say.
//!
//! The cloth is taken as woven on and on, so a float that crosses from one repeat of the lifts into
//! the next counts whole. Across, it ends at the edge.

use super::cloth::{Cloth, shafts_of};
use crate::quantity::{Call, Shaft};
use std::collections::BTreeMap;

/// The face that a float is seen on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// The side that the weaver sees.
    Front,
    /// The side below.
    Back,
}

/// The thread that floats.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thread {
    /// A warp end, over or under picks.
    End(Call),
    /// A weft pick, over or under ends.
    Pick(u32),
}

/// One float.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Float {
    /// The thread.
    pub thread: Thread,
    /// The face on which it lies.
    pub face: Face,
    /// Threads that it passes without a tie.
    pub length: u32,
    /// The first of them: a pick for an end, a call for a pick.
    pub first: u32,
    /// The last of them; past the repeat's last pick where it crosses into the next.
    pub last: u32,
    /// Whether the thread is never tied at all: an end that never moves, a pick that passes all.
    pub never_tied: bool,
}

/// Long floats by thread, for marking them in a picture.
#[derive(Debug, Clone)]
pub struct Marks {
    by_shaft: Vec<Vec<bool>>,
    by_lift: BTreeMap<u64, Vec<bool>>,
}

/// Runs of equal values as (first index, length, value).
fn runs(values: impl Iterator<Item = bool>) -> Vec<(usize, usize, bool)> {
    let mut runs: Vec<(usize, usize, bool)> = Vec::new();
    for (at, value) in values.enumerate() {
        match runs.last_mut() {
            Some((_, length, last)) if *last == value => *length += 1,
            _ => runs.push((at, 1, value)),
        }
    }
    runs
}

/// The same round a ring: the last run goes on in the first where they are alike.
fn runs_round(values: impl Iterator<Item = bool>) -> Vec<(usize, usize, bool)> {
    let mut runs = runs(values);
    if let [first, .., last] = runs.as_mut_slice()
        && first.2 == last.2
    {
        last.1 += first.1;
        runs.remove(0);
    }
    runs
}

fn narrow(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl Cloth {
    fn shaft_runs(&self, shaft: Shaft) -> Vec<(usize, usize, bool)> {
        runs_round(self.lifts.iter().map(|lift| lift >> (shaft.0 - 1) & 1 == 1))
    }

    fn pick_runs(&self, lift: u64) -> Vec<(usize, usize, bool)> {
        runs(self.threading.iter().map(|shaft| lift >> shaft & 1 == 1))
    }

    /// Each different lift with the first pick that has it.
    fn different_lifts(&self) -> BTreeMap<u64, u32> {
        let used = self.used();
        let mut first = BTreeMap::new();
        for (at, lift) in self.lifts.iter().enumerate() {
            first.entry(lift & used).or_insert(narrow(at + 1));
        }
        first
    }

    /// All floats of more than `over` threads: ends by their first call on each shaft, picks by the
    /// first pick of each different lift; the longest first, ends before picks.
    #[must_use]
    pub fn floats_over(&self, over: u32) -> Vec<Float> {
        let mut found = Vec::new();
        for shaft in shafts_of(self.used()) {
            let call = self.threading.iter().position(|&s| s + 1 == shaft.0);
            let thread = Thread::End(Call(narrow(call.unwrap_or(0) + 1)));
            for (first, length, up) in self.shaft_runs(shaft) {
                let face = if up { Face::Front } else { Face::Back };
                let whole = length == self.lifts.len();
                found.push(float(thread, face, first, length, whole));
            }
        }
        for (lift, pick) in self.different_lifts() {
            for (first, length, up) in self.pick_runs(lift) {
                let face = if up { Face::Back } else { Face::Front };
                let whole = length == self.threading.len();
                found.push(float(Thread::Pick(pick), face, first, length, whole));
            }
        }
        found.retain(|float| float.length > over);
        // a stable sort keeps ends before picks and near ones before far ones
        found.sort_by_key(|float| std::cmp::Reverse(float.length));
        found
    }

    /// The longest float of a thread that is tied at all, on one face; `None` where nothing passes
    /// more than one thread there.
    #[must_use]
    pub fn longest_float(&self, face: Face) -> Option<Float> {
        let floats = self.floats_over(1);
        floats
            .into_iter()
            .find(|float| float.face == face && !float.never_tied)
    }

    /// Threads that are never tied: ends whose shaft never moves, picks that pass all ends alike.
    #[must_use]
    pub fn never_tied(&self) -> Vec<Float> {
        let floats = self.floats_over(0);
        floats.into_iter().filter(|f| f.never_tied).collect()
    }

    /// How many ends hang on the shaft of this call.
    #[must_use]
    pub fn ends_like(&self, call: Call) -> u32 {
        let at = (call.0 as usize).wrapping_sub(1);
        let Some(shaft) = self.threading.get(at) else {
            return 0;
        };
        narrow(self.threading.iter().filter(|s| *s == shaft).count())
    }

    /// What to mark in a picture: every place where a float of more than `over` threads lies.
    #[must_use]
    pub fn marks(&self, over: u32) -> Marks {
        let long = |runs: Vec<(usize, usize, bool)>, len: usize| {
            let mut marks = vec![false; len];
            for (first, length, _) in runs {
                if narrow(length) > over {
                    (first..first + length).for_each(|at| marks[at % len] = true);
                }
            }
            marks
        };
        let by_shaft = (1..=64).map(|n| long(self.shaft_runs(Shaft(n)), self.lifts.len()));
        let lifts = self.lifts.iter().take(self.picks() as usize);
        let mut by_lift = BTreeMap::new();
        for &lift in lifts {
            by_lift
                .entry(lift)
                .or_insert_with(|| long(self.pick_runs(lift), self.threading.len()));
        }
        Marks {
            by_shaft: by_shaft.collect(),
            by_lift,
        }
    }

    /// Whether a marked float lies over this crossing, on the face that is seen from above or on
    /// the back.
    #[must_use]
    pub fn is_marked(&self, marks: &Marks, pick: u32, call: Call, face: Face) -> bool {
        let Some(row) = (pick as usize).checked_sub(1).map(|i| i % self.lifts.len()) else {
            return false;
        };
        let Some(column) = (call.0 as usize).checked_sub(1) else {
            return false;
        };
        let Some(&shaft) = self.threading.get(column) else {
            return false;
        };
        // where the end is up it lies on the front and the weft on the back
        if self.warp_up(pick, call) == (face == Face::Front) {
            let shaft = marks.by_shaft.get(usize::from(shaft));
            shaft.and_then(|m| m.get(row)).is_some_and(|&long| long)
        } else {
            let lift = marks.by_lift.get(&self.lifts[row]);
            lift.and_then(|m| m.get(column)).is_some_and(|&long| long)
        }
    }
}

fn float(thread: Thread, face: Face, first: usize, length: usize, never_tied: bool) -> Float {
    Float {
        thread,
        face,
        length: narrow(length),
        first: narrow(first + 1),
        last: narrow(first + length),
        never_tied,
    }
}
