//! The sheds: for each treadle, lever or pick which shafts rise, which sink, and how many ends rise
//! in each group; what a kind of loom makes of it. Owns these figures only; which treadles are tied to
//! what is in `skeleton`.

use super::cloth::{bits, shafts_of};
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
        let shed = |opens, lift| self.shed(opens, lift, &by_group);
        if !self.tie_up.is_empty() {
            let numbered = (1..).zip(&self.tie_up);
            return numbered
                .map(|(n, t)| shed(Opens::Treadle(n), bits(t)))
                .collect();
        }
        if !self.lift_plan.is_empty() {
            let lifts = self.different_lifts().into_iter();
            return lifts.map(|(n, lift)| shed(Opens::Pick(n), lift)).collect();
        }
        let shafts = (1..=self.shafts).map(Shaft);
        shafts.map(|s| shed(Opens::Shaft(s), bits(&[s]))).collect()
    }

    /// How many sheds there are to try, without working them out.
    #[must_use]
    pub fn sheds_to_try(&self) -> u32 {
        let tried = if !self.tie_up.is_empty() {
            self.tie_up.len()
        } else if !self.lift_plan.is_empty() {
            self.different_lifts().len()
        } else {
            usize::from(self.shafts)
        };
        u32::try_from(tried).unwrap_or(u32::MAX)
    }

    /// One of the sheds to try, from 1.
    #[must_use]
    pub fn shed_to_try(&self, number: u32) -> Option<Shed> {
        let at = (number as usize).checked_sub(1)?;
        let (opens, lift) = if let Some(list) = self.tie_up.get(at) {
            (Opens::Treadle(number), bits(list))
        } else if !self.tie_up.is_empty() {
            return None;
        } else if self.lift_plan.is_empty() {
            let shaft = Shaft(u8::try_from(number).ok().filter(|n| *n <= self.shafts)?);
            (Opens::Shaft(shaft), bits(&[shaft]))
        } else {
            let (pick, lift) = *self.different_lifts().get(at)?;
            (Opens::Pick(pick), lift)
        };
        Some(self.shed(opens, lift, &self.shafts_in_groups()))
    }

    /// The different lifts of the lift plan with the first pick of each, at most 128.
    fn different_lifts(&self) -> Vec<(u32, u64)> {
        let mut found: Vec<(u32, u64)> = Vec::new();
        for (pick, list) in (1..).zip(&self.lift_plan) {
            let lift = bits(list);
            if found.len() < 128 && !found.iter().any(|(_, had)| *had == lift) {
                found.push((pick, lift));
            }
        }
        found
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
    pub(super) fn shafts_in_groups(&self) -> Vec<[u32; 64]> {
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

    pub(super) fn shed(&self, opens: Opens, lift: u64, by_group: &[[u32; 64]]) -> Shed {
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
}
