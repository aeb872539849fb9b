//! What comes of something wrong that is left as it is, or to which the plan is changed. Owns putting it
//! together; the signs in the cloth are `fault`'s, the changed plan is `amend`'s.

use super::{LeftAsItIs, ShedChange};
use crate::dressing::amend;
use crate::dressing::ask::Amendment;
use crate::dressing::state::Dressing;
use crate::fault::{Found, Move, Suspect, Way, WayKind, shows};
use crate::plan::Plan;

impl Dressing {
    /// What comes of leaving these.
    pub(super) fn left_as_it_is(&self, found: &[Found], made: u32, ways: &[Way]) -> LeftAsItIs {
        let mut signs = Vec::new();
        for sign in found.iter().flat_map(|found| shows(self.plan(), *found)) {
            if !signs.contains(&sign) {
                signs.push(sign);
            }
        }
        let across = match found {
            [one] => one.call().and_then(|call| self.place_of(call)?.across),
            _ => None,
        };
        LeftAsItIs {
            shows: signs,
            across,
            sheds: self.sheds_of(made, ways).unwrap_or_default(),
        }
    }

    /// The same for an explanation that is settled.
    pub(super) fn left_of(&self, suspect: Option<&Suspect>, made: u32, ways: &[Way]) -> LeftAsItIs {
        let faults = suspect.map(|suspect| suspect.faults.as_slice());
        let faults = faults.unwrap_or_default().iter();
        let found: Vec<Found> = faults.map(|fault| Found::InHeddles(*fault)).collect();
        if found.is_empty() {
            return LeftAsItIs::default();
        }
        self.left_as_it_is(&found, made, ways)
    }

    /// How the sheds change with the way that changes the plan, where it is one of these.
    fn sheds_of(&self, made: u32, ways: &[Way]) -> Option<Vec<ShedChange>> {
        let way = ways.iter().find(|way| way.kind == WayKind::AmendPlan)?;
        let change = way.moves.iter().find_map(|step| match step {
            Move::Amend(from, line) => Some((*from, line.clone())),
            _ => None,
        });
        let (from, line) = change?;
        let stands = Amendment::Stands { line, made };
        let after = amend::amended(self.plan(), from, &stands).ok()?;
        Some(changes(self.plan(), &after))
    }
}

fn changes(before: &Plan, after: &Plan) -> Vec<ShedChange> {
    let sheds = before.all_sheds().into_iter().zip(after.all_sheds());
    sheds
        .map(|(before, after)| ShedChange {
            opens: after.opens,
            by: i64::from(after.ends) - i64::from(before.ends),
        })
        .collect()
}
