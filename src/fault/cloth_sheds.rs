//! The sheds of a plan at one spot of the cloth: which ends rise together there, as planned and under a
//! suspicion. Owns no ranking.

use super::cloth_spot::{Astray, NoSpot, Sign};
use crate::plan::{Action, Plan};
use crate::quantity::{Call, Shaft};

/// The sheds of a plan, as one word of bits for each shaft: bit n for shed n + 1.
pub(super) struct Sheds<'a> {
    plan: &'a Plan,
    rises: Vec<u128>,
    all: u128,
    last: u32,
}

impl<'a> Sheds<'a> {
    pub(super) fn of(plan: &'a Plan) -> Self {
        let list = plan.all_sheds();
        let mut rises = vec![0u128; usize::from(plan.shafts) + 1];
        for (n, shed) in list.iter().enumerate().take(128) {
            for shaft in &shed.rising {
                if let Some(word) = rises.get_mut(usize::from(shaft.0)) {
                    *word |= 1 << n;
                }
            }
        }
        let last = u32::try_from(list.len().min(128)).unwrap_or(128);
        let all = 1u128.checked_shl(last).map_or(u128::MAX, |bit| bit - 1);
        Self {
            plan,
            rises,
            all,
            last,
        }
    }

    pub(super) fn has(&self, sheds: &[u32]) -> Result<(), NoSpot> {
        if sheds.is_empty() {
            return Err(NoSpot::NoShed);
        }
        let last = self.last;
        let none = sheds.iter().find(|n| !(1..=last).contains(*n));
        none.map_or(Ok(()), |&found| Err(NoSpot::NoSuchShed { found, last }))
    }

    fn shaft(&self, call: Call) -> Option<Shaft> {
        self.plan
            .threading
            .get((call.0 as usize).checked_sub(1)?)
            .copied()
    }

    fn work(&self, shaft: Shaft) -> u128 {
        self.rises.get(usize::from(shaft.0)).copied().unwrap_or(0)
    }

    /// What may be wrong with one end.
    pub(super) fn cases(&self, call: Call) -> Vec<Astray> {
        let Some(own) = self.shaft(call) else {
            return Vec::new();
        };
        let others = (1..=self.plan.shafts).map(Shaft).filter(|s| *s != own);
        let mut cases: Vec<Astray> = others.map(Astray::OnShaft).collect();
        for beside in [
            Call(call.0.saturating_sub(1)),
            Call(call.0.saturating_add(1)),
        ] {
            let shaft = self.shaft(beside).filter(|shaft| *shaft != own);
            cases.extend(shaft.map(|shaft| Astray::InHeddleOf(beside, shaft)));
        }
        let next = self.shaft(Call(call.0.saturating_add(1)));
        cases.extend(next.filter(|n| *n != own).map(|_| Astray::WithTheNext));
        cases.push(Astray::InNoHeddle);
        cases
    }

    /// How an end moves under an explanation. An end in no eye stays down where the others stay; on
    /// looms that move every shaft it stands in the gap of every shed.
    fn moves(&self, at: Call, call: Call, astray: Astray) -> Option<u128> {
        let own = self.shaft(at)?;
        let next = Call(call.0.saturating_add(1));
        let shaft = match astray {
            Astray::OnShaft(shaft) | Astray::InHeddleOf(_, shaft) if at == call => shaft,
            Astray::InNoHeddle if at == call => return Some(0),
            Astray::WithTheNext if at == call => self.shaft(next)?,
            Astray::WithTheNext if at == next => self.shaft(call)?,
            _ => own,
        };
        Some(self.work(shaft))
    }

    /// The sheds that would show the sign.
    pub(super) fn shows(&self, call: Call, astray: Astray, sign: Sign) -> u128 {
        match sign {
            Sign::TwoAlike => self.alike(call, astray),
            Sign::OneAstray => self.astray(call, astray),
        }
    }

    /// Where two neighbours move alike though the plan has them apart.
    fn alike(&self, call: Call, astray: Astray) -> u128 {
        let first = call.0.saturating_sub(1).max(1);
        let pairs = (first..=call.0.saturating_add(1)).map(|n| (Call(n), Call(n + 1)));
        pairs
            .filter_map(|(a, b)| {
                let planned = self.work(self.shaft(a)?) ^ self.work(self.shaft(b)?);
                let stands = self.moves(a, call, astray)? ^ self.moves(b, call, astray)?;
                Some(planned & !stands & self.all)
            })
            .fold(0, |all, pair| all | pair)
    }

    /// Where the end is not where the plan has it.
    fn astray(&self, call: Call, astray: Astray) -> u128 {
        let moves_all = matches!(
            self.plan.action,
            Action::Counterbalance | Action::Countermarch
        );
        if astray == Astray::InNoHeddle && moves_all {
            return self.all;
        }
        let planned = self.shaft(call).map_or(0, |own| self.work(own));
        let stands = self.moves(call, call, astray).unwrap_or(planned);
        (planned ^ stands) & self.all
    }
}
