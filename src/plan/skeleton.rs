//! What is tied to each treadle: the plan's own tie-up, or a skeleton one where the plan says only
//! lifts. Owns the choice of a skeleton's treadles; never changes what the cloth asks for.
//!
//! Skeleton tie-ups (fewer treadles than sheds, two of them pressed together) are common practice,
//! no source. Which kinds of loom can: on a jack loom what two treadles lift adds up; on a
//! counterbalance loom what they sink does; on a countermarch loom each treadle is tied to a part of
//! the shafts only, to rise or to sink, and one treadle of either part is pressed.

use super::cloth::{bits, shafts_of};
use super::cloth_plain::together;
use super::{Action, Plan, ShedWarning};
use crate::quantity::Shaft;

/// The most lifts for which a skeleton is looked for.
const MOST_LIFTS: usize = 64;

/// What is tied to one treadle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tie {
    /// The treadle, from 1, the left one.
    pub treadle: u32,
    /// The shafts that it raises: on a countermarch loom tied to the long lams below.
    pub rising: Vec<Shaft>,
    /// The shafts that it sinks: on a countermarch loom tied to the short lams above, on a
    /// counterbalance loom the only ones tied; empty on a jack loom.
    pub sinking: Vec<Shaft>,
    /// What is worth saying of the shed that it opens alone; empty in a skeleton, where two are pressed.
    pub warnings: Vec<ShedWarning>,
}

/// A tie-up whose treadles are pressed one or two at a time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skeleton {
    /// Shafts that each treadle raises, treadle 1 first.
    pub tie_up: Vec<Vec<Shaft>>,
    /// Shafts that each treadle sinks; empty lists on a jack loom.
    pub sinks: Vec<Vec<Shaft>>,
    /// Each lift with the treadles that give it.
    pub lifts: Vec<(Vec<Shaft>, Vec<u32>)>,
}

/// Why there is no skeleton tie-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoSkeleton {
    /// The loom has no treadles: levers and lifts need none.
    NoTreadles,
    /// The plan says no lift, or more different ones than are looked through.
    NoLifts,
    /// None was found on so many treadles: more treadles, or three feet, or levers.
    TooFewTreadles(u32),
}

impl Plan {
    /// A skeleton tie-up for the lifts that the cloth asks for.
    ///
    /// # Errors
    /// Why there is none. The choice is greedy for jack and counterbalance looms, so one may exist
    /// that was not found; what is given is always right.
    pub fn skeleton(&self) -> Result<Skeleton, NoSkeleton> {
        let treadles = usize::from(self.treadles);
        if treadles == 0 || matches!(self.action, Action::Table | Action::Lift) {
            return Err(NoSkeleton::NoTreadles);
        }
        let wanted: Vec<u64> = self.lifts_wanted().iter().map(|l| bits(l)).collect();
        if wanted.is_empty() || wanted.len() > MOST_LIFTS {
            return Err(NoSkeleton::NoLifts);
        }
        let all = self.loom_bits();
        let found = match self.action {
            Action::Countermarch => halves(&wanted, all, treadles),
            Action::Counterbalance => {
                let sinks: Vec<u64> = wanted.iter().map(|lift| all & !lift).collect();
                added_up(&sinks, treadles).map(|(tied, press)| {
                    let ties = tied.iter().map(|sinks| (all & !sinks, *sinks)).collect();
                    (ties, press)
                })
            }
            Action::Jack | Action::Table | Action::Lift => {
                added_up(&wanted, treadles).map(|(tied, press)| {
                    let ties = tied.iter().map(|rises| (*rises, 0)).collect();
                    (ties, press)
                })
            }
        };
        let (ties, press): (Vec<(u64, u64)>, Vec<Vec<u32>>) =
            found.ok_or(NoSkeleton::TooFewTreadles(u32::from(self.treadles)))?;
        Ok(Skeleton {
            tie_up: ties.iter().map(|(rises, _)| shafts_of(*rises)).collect(),
            sinks: ties.iter().map(|(_, sinks)| shafts_of(*sinks)).collect(),
            lifts: wanted.into_iter().map(shafts_of).zip(press).collect(),
        })
    }

    /// Whether the treadles are tied as a skeleton: the plan says lifts and no tie-up, and the loom
    /// has treadles.
    #[must_use]
    pub fn ties_skeleton(&self) -> bool {
        let has_treadles = !matches!(self.action, Action::Table | Action::Lift);
        self.tie_up.is_empty() && !self.lift_plan.is_empty() && has_treadles && self.treadles > 0
    }

    /// What is tied to each treadle, treadle 1 first; empty where there is nothing to tie: no
    /// treadles, no tie-up, or lifts for which no skeleton was found.
    #[must_use]
    pub fn ties_of_treadles(&self) -> Vec<Tie> {
        if matches!(self.action, Action::Table | Action::Lift) {
            return Vec::new();
        }
        if self.ties_skeleton() {
            let Ok(skeleton) = self.skeleton() else {
                return Vec::new();
            };
            let ties = skeleton.tie_up.into_iter().zip(skeleton.sinks);
            let tie = |(treadle, (rising, sinking))| Tie {
                treadle,
                rising,
                sinking,
                warnings: Vec::new(),
            };
            return (1..).zip(ties).map(tie).collect();
        }
        let tie = |(treadle, shed): (u32, super::Shed)| Tie {
            treadle,
            rising: shed.rising,
            sinking: match self.action {
                Action::Jack => Vec::new(),
                _ => shed.others,
            },
            warnings: shed.warnings,
        };
        let sheds = self.all_sheds();
        let treadles = if self.tie_up.is_empty() {
            Vec::new()
        } else {
            sheds
        };
        (1..).zip(treadles).map(tie).collect()
    }

    /// How many treadles are tied one by one.
    #[must_use]
    pub fn treadles_to_tie(&self) -> u32 {
        if matches!(self.action, Action::Table | Action::Lift) {
            return 0;
        }
        let tied = if self.ties_skeleton() {
            self.skeleton().map_or(0, |skeleton| skeleton.tie_up.len())
        } else {
            self.tie_up.len()
        };
        u32::try_from(tied).unwrap_or(0)
    }

    /// The treadles to press for a lift of the cloth; `None` where levers or lifts do it, or where
    /// no treadle gives it.
    #[must_use]
    pub fn treadles_for(&self, lift: &[Shaft]) -> Option<Vec<u32>> {
        if self.ties_skeleton() {
            let skeleton = self.skeleton().ok()?;
            let found = skeleton.lifts.into_iter().find(|(of, _)| of == lift);
            return found.map(|(_, press)| press);
        }
        if self.treadles_to_tie() == 0 {
            return None;
        }
        let wanted = bits(lift);
        let at = self.tie_up.iter().position(|list| bits(list) == wanted)?;
        Some(vec![u32::try_from(at + 1).ok()?])
    }
}

/// What the treadles are tied to as (raised, sunk), and the treadles of each lift.
type Tied = (Vec<(u64, u64)>, Vec<Vec<u32>>);

/// Treadles whose shafts add up: their shafts, and one or two of them for each wanted set.
fn added_up(wanted: &[u64], treadles: usize) -> Option<(Vec<u64>, Vec<Vec<u32>>)> {
    let tied = fewest(wanted, treadles)?;
    let press = wanted
        .iter()
        .map(|set| together(&tied, *set))
        .collect::<Option<_>>()?;
    Some((tied, press))
}

/// The shafts parted in two, a treadle for each way in which the lifts move either part; the parting
/// that takes the fewest treadles. One treadle a lift where that is enough.
fn halves(wanted: &[u64], all: u64, treadles: usize) -> Option<Tied> {
    if wanted.len() <= treadles {
        let ties = wanted.iter().map(|lift| (*lift, all & !lift)).collect();
        let press = (1..).zip(wanted).map(|(n, _)| vec![n]).collect();
        return Some((ties, press));
    }
    let ways = |part: u64| {
        let mut ways: Vec<u64> = wanted.iter().map(|lift| lift & part).collect();
        ways.sort_unstable();
        ways.dedup();
        ways
    };
    let cost = |part: &u64| ways(*part).len() + ways(all & !part).len();
    let best = partings(all).into_iter().min_by_key(cost)?;
    if cost(&best) > treadles {
        return None;
    }
    let (here, there) = (ways(best), ways(all & !best));
    let tied = |part: u64| move |way: &u64| (*way, part & !*way);
    let ties = here.iter().map(tied(best));
    let ties: Vec<(u64, u64)> = ties.chain(there.iter().map(tied(all & !best))).collect();
    let number = |n: usize| u32::try_from(n + 1).ok();
    let press = |lift: &u64| {
        let a = here.iter().position(|way| *way == lift & best)?;
        let b = there.iter().position(|way| *way == lift & !best & all)?;
        Some(vec![number(a)?, number(here.len() + b)?])
    };
    let press = wanted.iter().map(press).collect::<Option<_>>()?;
    Some((ties, press))
}

/// Ways to part the shafts: all of them on looms of few shafts, else front from back and odd from even.
fn partings(all: u64) -> Vec<u64> {
    let shafts = all.count_ones();
    if shafts <= 10 {
        return (1..1u64 << shafts.saturating_sub(1)).collect();
    }
    let front = (1..shafts).map(|n| (1u64 << n) - 1);
    front.chain([0x5555_5555_5555_5555 & all]).collect()
}

/// Shafts one each where that is enough, else lifts and their parts by how many lifts they serve.
/// A greedy choice, so not always the fewest; what it gives is checked by `together`.
fn fewest(wanted: &[u64], treadles: usize) -> Option<Vec<u64>> {
    if wanted.len() <= treadles {
        return Some(wanted.to_vec());
    }
    let mut parts: Vec<u64> = wanted.to_vec();
    for (at, a) in wanted.iter().enumerate() {
        for b in &wanted[at + 1..] {
            parts.extend([a & b, a & !b, b & !a]);
        }
    }
    let used = wanted.iter().fold(0, |all, lift| all | lift);
    parts.extend(shafts_of(used).iter().map(|shaft| bits(&[*shaft])));
    parts.retain(|part| *part != 0);
    parts.sort_unstable();
    parts.dedup();
    let mut tied: Vec<u64> = Vec::new();
    let served = |tied: &[u64]| {
        wanted
            .iter()
            .filter(|w| together(tied, **w).is_some())
            .count()
    };
    while served(&tied) < wanted.len() {
        if tied.len() >= treadles {
            return None;
        }
        let with = |part: &u64| {
            let mut more = tied.clone();
            more.push(*part);
            let halves = wanted.iter().filter(|w| part & !**w == 0).count();
            (served(&more), halves)
        };
        let best = parts.iter().copied().max_by_key(with)?;
        parts.retain(|part| *part != best);
        tied.push(best);
    }
    tied.sort_unstable();
    Some(tied)
}
