//! The sheds: for each treadle, lever or pick which shafts rise, which sink, and how many ends rise
//! in each group; what a kind of loom makes of it; skeleton tie-ups. Owns these figures only.

use super::cloth::{bits, shafts_of};
use super::cloth_plain::together;
use super::{Action, Plan};
use crate::quantity::Shaft;

/// What opens a shed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Opens {
    /// The treadle with this number, from 1.
    Treadle(u32),
    /// The lever or cord of this shaft.
    Shaft(Shaft),
    /// This pick of the lift plan, from 1.
    Pick(u32),
}

/// The ends of one group in a shed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GroupShed {
    /// The group's number.
    pub group: u32,
    /// Heddled ends that rise.
    pub rising: u32,
    /// Heddled ends of the group.
    pub of: u32,
}

/// What is worth saying of a shed on this kind of loom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShedWarning {
    /// No end rises, so there is no shed.
    NothingRises,
    /// Every end rises, so there is no shed.
    EverythingRises,
    /// A counterbalance loom: shafts hang in pairs, and this shed is not half against half.
    Unbalanced {
        /// Shafts that rise.
        rising: u32,
        /// Shafts that sink.
        sinking: u32,
    },
}

/// One shed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shed {
    /// What opens it.
    pub opens: Opens,
    /// The shafts that rise: on a countermarch loom the treadle's ties to the long lams below.
    pub rising: Vec<Shaft>,
    /// The shafts that do not: on a countermarch loom they are tied too, and sink; on a
    /// counterbalance loom they are the ones whose cords the treadle pulls.
    pub others: Vec<Shaft>,
    /// Ends that rise in each group.
    pub groups: Vec<GroupShed>,
    /// Heddled ends that rise in the whole warp.
    pub ends: u32,
    /// What is worth saying of it.
    pub warnings: Vec<ShedWarning>,
}

impl Plan {
    /// Every shed to try: one a treadle, else one a different pick of the lift plan, else one a shaft.
    #[must_use]
    pub fn all_sheds(&self) -> Vec<Shed> {
        let by_group = self.shafts_in_groups();
        let shed = |opens, list: &[Shaft]| self.shed(opens, bits(list), &by_group);
        if !self.tie_up.is_empty() {
            let numbered = (1..).zip(&self.tie_up);
            return numbered.map(|(n, t)| shed(Opens::Treadle(n), t)).collect();
        }
        if !self.lift_plan.is_empty() {
            let mut seen = Vec::new();
            let picks = (1..).zip(&self.lift_plan);
            let new = picks.filter(|(_, list)| {
                let lift = bits(list);
                let new = seen.len() < 128 && !seen.contains(&lift);
                seen.extend(new.then_some(lift));
                new
            });
            return new.map(|(n, l)| shed(Opens::Pick(n), l)).collect();
        }
        let shafts = (1..=self.shafts).map(Shaft);
        shafts.map(|s| shed(Opens::Shaft(s), &[s])).collect()
    }

    /// The shed of one pick of the treadling or lift plan, from 1; `None` where the plan has no picks.
    #[must_use]
    pub fn shed_of_pick(&self, pick: u32) -> Option<Shed> {
        let at = (pick as usize).checked_sub(1)?;
        let list = if self.lift_plan.is_empty() {
            let treadle = *self.treadling.get(at.checked_rem(self.treadling.len())?)?;
            self.tie_up.get((treadle as usize).checked_sub(1)?)?
        } else {
            self.lift_plan.get(at % self.lift_plan.len())?
        };
        let by_group = self.shafts_in_groups();
        Some(self.shed(Opens::Pick(pick), bits(list), &by_group))
    }

    /// Ends of each group on each shaft.
    fn shafts_in_groups(&self) -> Vec<[u32; 64]> {
        let count = |group: &super::Group| {
            let mut on = [0; 64];
            for shaft in self.threading.get(group.calls.indices()).unwrap_or(&[]) {
                if let Some(n) = on.get_mut(usize::from(shaft.0).wrapping_sub(1)) {
                    *n += 1;
                }
            }
            on
        };
        self.groups.iter().map(count).collect()
    }

    fn shed(&self, opens: Opens, lift: u64, by_group: &[[u32; 64]]) -> Shed {
        let rises = |on: &[u32; 64]| -> u32 {
            let up = on.iter().enumerate().filter(|&(i, _)| lift >> i & 1 == 1);
            up.map(|(_, n)| n).sum()
        };
        let groups: Vec<GroupShed> = self
            .groups
            .iter()
            .zip(by_group)
            .map(|(group, on)| GroupShed {
                group: group.number,
                rising: rises(on),
                of: group.calls.len(),
            })
            .collect();
        let ends = groups.iter().map(|g| g.rising).sum();
        let rising = shafts_of(lift & self.loom_bits());
        let others = shafts_of(self.loom_bits() & !lift);
        let warnings = self.warnings(&rising, &others, ends);
        Shed {
            opens,
            rising,
            others,
            groups,
            ends,
            warnings,
        }
    }

    /// Counterbalance shafts hang in pairs, so half must sink where half rises; one against three
    /// gives a poor shed. Common practice, no source.
    fn warnings(&self, rising: &[Shaft], others: &[Shaft], ends: u32) -> Vec<ShedWarning> {
        let mut found = Vec::new();
        if ends == 0 {
            found.push(ShedWarning::NothingRises);
        } else if ends == self.heddled_ends() {
            found.push(ShedWarning::EverythingRises);
        }
        if self.action == Action::Counterbalance && rising.len() != others.len() {
            let count = |list: &[Shaft]| u32::try_from(list.len()).unwrap_or(u32::MAX);
            found.push(ShedWarning::Unbalanced {
                rising: count(rising),
                sinking: count(others),
            });
        }
        found
    }

    /// The different lifts that the cloth asks for, in the order of their first picks.
    #[must_use]
    pub fn lifts_wanted(&self) -> Vec<Vec<Shaft>> {
        let tied = |t: &u32| self.tie_up.get((*t as usize).wrapping_sub(1));
        let lists: Vec<&Vec<Shaft>> = if self.lift_plan.is_empty() {
            self.treadling.iter().filter_map(tied).collect()
        } else {
            self.lift_plan.iter().collect()
        };
        let mut wanted: Vec<u64> = Vec::new();
        for list in lists {
            let lift = bits(list);
            if !wanted.contains(&lift) {
                wanted.push(lift);
            }
        }
        wanted.into_iter().map(shafts_of).collect()
    }

    /// A skeleton tie-up: on so few treadles that one or two feet give every lift that the cloth asks
    /// for; with the treadles to press for each lift. `None` where the loom has no treadles for it,
    /// or where two treadles do not simply add up (countermarch, counterbalance). Skeleton tie-ups
    /// are common practice, no source.
    #[must_use]
    pub fn skeleton(&self) -> Option<Skeleton> {
        if self.action != Action::Jack || self.treadles == 0 {
            return None;
        }
        let wanted: Vec<u64> = self.lifts_wanted().iter().map(|l| bits(l)).collect();
        let tied = fewest(&wanted, usize::from(self.treadles))?;
        let press = |lift: &u64| Some((shafts_of(*lift), together(&tied, *lift)?));
        Some(Skeleton {
            lifts: wanted.iter().map(press).collect::<Option<_>>()?,
            tie_up: tied.into_iter().map(shafts_of).collect(),
        })
    }
}

/// A tie-up whose treadles are pressed one or two at a time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skeleton {
    /// Shafts of each treadle, treadle 1 first.
    pub tie_up: Vec<Vec<Shaft>>,
    /// Each lift with the treadles that give it.
    pub lifts: Vec<(Vec<Shaft>, Vec<u32>)>,
}

/// Shafts one each where that is enough, else lifts and their parts by how many lifts they serve.
/// A greedy choice, so not always the fewest; what it gives is checked by `together`.
fn fewest(wanted: &[u64], treadles: usize) -> Option<Vec<u64>> {
    if wanted.is_empty() || wanted.len() > 64 {
        return None;
    }
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
