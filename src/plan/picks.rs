//! The first cloth, pick by pick: the sheds of the header and of the first picks of the draft. Owns
//! which shed a pick takes and what is pressed for it; knows no dressing.

use super::cloth::bits;
use super::sheds::{Opens, Shed};
use super::{PlainWeave, Plan};
use crate::quantity::Shaft;

/// Picks of the header that are led; a weaver may close it sooner (a judgement, no source).
pub const HEADER_PICKS: u32 = 6;
/// At least so many picks of the draft are led, in whole repeats (a judgement, no source).
const LEAST_PICKS: u32 = 8;
/// And no more than so many, even of a longer repeat (a judgement, no source).
const MOST_FIRST_PICKS: u32 = 24;

/// One pick as it is woven.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PickShed {
    /// The treadles to press; empty where levers or lifts open the shed.
    pub press: Vec<u32>,
    /// What rises and what does not.
    pub shed: Shed,
}

impl Plan {
    /// Picks of the draft that are led one by one: whole repeats of the treadling or lift plan, 8 picks
    /// at least and 24 at most; 0 where the plan says no picks.
    #[must_use]
    pub fn first_picks(&self) -> u32 {
        let given = if self.lift_plan.is_empty() {
            self.treadling.len()
        } else {
            self.lift_plan.len()
        };
        let given = u32::try_from(given).unwrap_or(u32::MAX);
        if given == 0 || self.shed_of_pick(1).is_none() {
            return 0;
        }
        let whole = given.saturating_mul(LEAST_PICKS.div_ceil(given));
        whole.min(MOST_FIRST_PICKS)
    }

    /// A pick of the draft, from 1, in a round of its repeat.
    #[must_use]
    pub fn first_pick(&self, pick: u32) -> Option<PickShed> {
        let shed = self.shed_of_pick(pick)?;
        let press = if self.lift_plan.is_empty() {
            let at = (pick as usize).checked_sub(1)?;
            vec![*self.treadling.get(at % self.treadling.len())?]
        } else {
            self.treadles_for(&shed.rising).unwrap_or_default()
        };
        Some(PickShed { press, shed })
    }

    /// A pick of the header, from 1: plain weave by turns where the loom can, else the picks of the
    /// draft, else the sheds that were tried.
    #[must_use]
    pub fn header_pick(&self, pick: u32) -> Option<PickShed> {
        let at = pick.checked_sub(1)?;
        if let Some(sheds) = self.plain_sheds() {
            let (press, lift) = sheds.into_iter().nth(at as usize % 2)?;
            let shed = self.shed(Opens::Pick(pick), bits(&lift), &self.shafts_in_groups());
            return Some(PickShed { press, shed });
        }
        if self.first_picks() > 0 {
            return self.first_pick(pick);
        }
        let shed = self.shed_to_try(at.checked_rem(self.sheds_to_try())? + 1)?;
        let press = match shed.opens {
            Opens::Treadle(treadle) => vec![treadle],
            Opens::Shaft(_) | Opens::Pick(_) => Vec::new(),
        };
        Some(PickShed { press, shed })
    }

    /// The two sheds of plain weave with the treadles of each; `None` where this loom as it is tied
    /// cannot open them.
    fn plain_sheds(&self) -> Option<[(Vec<u32>, Vec<Shaft>); 2]> {
        let tied = |treadles: &[u32]| {
            let lists = treadles.iter().filter_map(|t| {
                let at = (*t as usize).checked_sub(1)?;
                self.tie_up.get(at)
            });
            lists.flatten().copied().collect::<Vec<Shaft>>()
        };
        match self.plain_weave() {
            PlainWeave::Treadles(a, b) => Some([a, b].map(|t| (vec![t], tied(&[t])))),
            PlainWeave::Together(a, b) => Some([a, b].map(|list| (list.clone(), tied(&list)))),
            PlainWeave::Lifts(a, b) if self.treadles_to_tie() == 0 => {
                Some([a, b].map(|lift| (Vec::new(), lift)))
            }
            PlainWeave::Lifts(a, b) => {
                let (on_a, on_b) = (self.treadles_for(&a)?, self.treadles_for(&b)?);
                Some([(on_a, a), (on_b, b)])
            }
            PlainWeave::NotTied { .. } | PlainWeave::NotThreaded { .. } => None,
        }
    }
}
