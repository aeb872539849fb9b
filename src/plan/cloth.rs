//! The cloth that a plan weaves: which end is up in which pick, exactly. Owns the interlacement;
//! draws nothing and knows no colour.
//!
//! One repeat of the lifts is kept, a word of bits a pick; a pick further on is the same pick of a
//! later repeat. Floats, edges and plain weave are asked in the files beside this one.

use super::Plan;
use crate::quantity::{Call, Shaft};
use std::collections::BTreeMap;

/// The most picks of a picture.
pub const MOST_PICKS: u32 = 100_000;

/// How a list of shafts makes a shed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShedKind {
    /// The listed shafts rise, the others stay or sink. A plan's lists are always of this kind.
    Rising,
    /// The listed shafts sink, the others stay or rise.
    Sinking,
}

/// Which end is up in which pick.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cloth {
    /// Shafts up in each pick of one repeat, bit 0 for shaft 1; never empty.
    pub(super) lifts: Vec<u64>,
    /// The shaft of each call less one, call 1 first; never empty.
    pub(super) threading: Vec<u8>,
    picks: u32,
}

/// The word of bits in which each listed shaft is one.
#[must_use]
pub fn bits(shafts: &[Shaft]) -> u64 {
    let bit = |shaft: &Shaft| 1u64.checked_shl(u32::from(shaft.0).wrapping_sub(1));
    shafts.iter().filter_map(bit).fold(0, |all, bit| all | bit)
}

/// The shafts of a word of bits, in order.
#[must_use]
pub fn shafts_of(bits: u64) -> Vec<Shaft> {
    (1..=64u8)
        .filter(|n| bits >> (n - 1) & 1 == 1)
        .map(Shaft)
        .collect()
}

/// The word in which every shaft of the loom is one.
#[must_use]
pub fn all_shafts(shafts: u8) -> u64 {
    1u64.checked_shl(u32::from(shafts))
        .map_or(u64::MAX, |bit| bit - 1)
}

impl Cloth {
    /// The first picks of what the plan weaves; `None` where it says no picks.
    ///
    /// An end is up in a pick where its shaft is tied to that pick's treadle, or is in that pick's
    /// list of lifts: the definition of tie-up and lift plan.
    #[must_use]
    pub fn of(plan: &Plan, picks: u32) -> Option<Self> {
        Self::with(plan, &plan.threading, picks)
    }

    /// One repeat of what these shafts weave with the plan's picks; `None` where it says none.
    #[must_use]
    pub fn threaded(plan: &Plan, threading: &[Shaft]) -> Option<Self> {
        Self::with(plan, threading, 0)
    }

    fn with(plan: &Plan, threading: &[Shaft], picks: u32) -> Option<Self> {
        let lists: Vec<&[Shaft]> = if plan.lift_plan.is_empty() {
            let tied = |treadle: &u32| {
                let at = (*treadle as usize).checked_sub(1)?;
                plan.tie_up.get(at).map(Vec::as_slice)
            };
            plan.treadling.iter().map(tied).collect::<Option<_>>()?
        } else {
            plan.lift_plan.iter().map(Vec::as_slice).collect()
        };
        let lifts: Vec<u64> = lists.into_iter().map(bits).collect();
        Self::from_parts(threading, lifts, picks)
    }

    /// The same from lists of shafts pick by pick.
    #[must_use]
    pub fn from_lists(
        threading: &[Shaft],
        lists: &[Vec<Shaft>],
        kind: ShedKind,
        shafts: u8,
        picks: u32,
    ) -> Option<Self> {
        let turned = |list: &Vec<Shaft>| match kind {
            ShedKind::Rising => bits(list),
            ShedKind::Sinking => all_shafts(shafts) & !bits(list),
        };
        Self::from_parts(threading, lists.iter().map(turned).collect(), picks)
    }

    fn from_parts(threading: &[Shaft], lifts: Vec<u64>, picks: u32) -> Option<Self> {
        let on_loom = |shaft: &Shaft| (1..=64).contains(&shaft.0).then(|| shaft.0 - 1);
        let threading: Vec<u8> = threading.iter().map(on_loom).collect::<Option<_>>()?;
        (!lifts.is_empty() && !threading.is_empty()).then_some(Self {
            lifts,
            threading,
            picks: picks.min(MOST_PICKS),
        })
    }

    /// Picks of the picture, from 1.
    #[must_use]
    pub fn picks(&self) -> u32 {
        self.picks
    }

    /// Heddled ends.
    #[must_use]
    pub fn calls(&self) -> u32 {
        u32::try_from(self.threading.len()).unwrap_or(u32::MAX)
    }

    /// Picks in one repeat of the lifts as given.
    #[must_use]
    pub fn lifts_given(&self) -> u32 {
        u32::try_from(self.lifts.len()).unwrap_or(u32::MAX)
    }

    /// Whether the end of this call is up in this pick, both from 1. Calls and picks outside are
    /// taken round to the repeat; call 0 and pick 0 are never up.
    #[must_use]
    pub fn warp_up(&self, pick: u32, call: Call) -> bool {
        let at = |n: u32, len: usize| (n as usize).checked_sub(1).map(|i| i % len);
        let lift = at(pick, self.lifts.len()).and_then(|i| self.lifts.get(i));
        let shaft = at(call.0, self.threading.len()).and_then(|i| self.threading.get(i));
        matches!((lift, shaft), (Some(lift), Some(shaft)) if lift >> shaft & 1 == 1)
    }

    /// The shafts up in a pick, from 1.
    #[must_use]
    pub fn up_in(&self, pick: u32) -> Vec<Shaft> {
        let at = (pick as usize).checked_sub(1).map(|i| i % self.lifts.len());
        at.and_then(|i| self.lifts.get(i))
            .map_or_else(Vec::new, |&lift| shafts_of(lift & self.used()))
    }

    /// The shafts that hold an end, as bits.
    #[must_use]
    pub(super) fn used(&self) -> u64 {
        self.threading.iter().fold(0, |all, shaft| all | 1 << shaft)
    }

    /// The smallest number of picks after which the cloth repeats, so far as one repeat of the
    /// lifts tells: the smallest divisor of it that is a period of what the used shafts do.
    #[must_use]
    pub fn repeat_picks(&self) -> u32 {
        let used = self.used();
        let rows: Vec<u64> = self.lifts.iter().map(|lift| lift & used).collect();
        period(&rows)
    }

    /// The smallest number of ends after which the cloth repeats, ends that work alike counting as
    /// alike whatever their shafts; all of them where it does not come out.
    #[must_use]
    pub fn repeat_ends(&self) -> u32 {
        let mut seen: BTreeMap<Vec<bool>, u32> = BTreeMap::new();
        let mut class = [0u32; 64];
        for shaft in shafts_of(self.used()) {
            let work = self.lifts.iter().map(|lift| lift >> (shaft.0 - 1) & 1 == 1);
            let next = u32::try_from(seen.len()).unwrap_or(u32::MAX);
            class[usize::from(shaft.0) - 1] = *seen.entry(work.collect()).or_insert(next);
        }
        let ends = self
            .threading
            .iter()
            .map(|&shaft| class[usize::from(shaft)]);
        let ends: Vec<u32> = ends.collect();
        let failure = borders(&ends);
        let border = failure.last().copied().unwrap_or(0);
        u32::try_from(ends.len() - border).unwrap_or(u32::MAX)
    }

    /// Intersections in one pick: how often the weft passes from one face to the other in a round of
    /// the repeat of ends. Taylor 1909, p. 338, uses them for setts: 2/1 twill 2, 3/2/2/2 twill 4.
    #[must_use]
    pub fn intersections(&self, pick: u32) -> u32 {
        let ends = self.repeat_ends();
        let up = |call: u32| self.warp_up(pick, Call(call));
        let changes = (1..=ends).filter(|&call| up(call) != up(call % ends + 1));
        u32::try_from(changes.count()).unwrap_or(u32::MAX)
    }
}

/// Length of the longest proper border of each beginning of the list (Knuth, Morris and Pratt).
fn borders<T: PartialEq>(list: &[T]) -> Vec<usize> {
    let mut failure = vec![0; list.len()];
    let mut length = 0;
    for at in 1..list.len() {
        while length > 0 && list[at] != list[length] {
            length = failure[length - 1];
        }
        length += usize::from(list[at] == list[length]);
        failure[at] = length;
    }
    failure
}

/// The smallest period that divides the list's length.
fn period<T: PartialEq>(list: &[T]) -> u32 {
    let border = borders(list).last().copied().unwrap_or(0);
    let shortest = list.len() - border;
    let whole = list.len().is_multiple_of(shortest.max(1));
    u32::try_from(if whole { shortest } else { list.len() }).unwrap_or(u32::MAX)
}
