//! Something wrong whose place is known: traced and settled, or seen by the weaver herself.
//! Owns the shape and the evidence of a batch that it stands for; never traces and never mends.

use super::evidence::Evidence;
use super::kind::{Fault, FaultKind};
use super::reed_evidence::ReedFault;
use super::trace::{MendingId, Suspect};
use crate::quantity::{Call, Calls, Shaft};
use serde::{Deserialize, Serialize};

/// Something wrong whose place is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Found {
    /// In the heddles.
    InHeddles(Fault),
    /// In the reed, from this call on in the direction of sleying; of two that cross, the first call.
    InReed(ReedFault, Call),
}

impl Found {
    /// The call where it is; `None` for a heddle passed by, which no count can place.
    #[must_use]
    pub fn call(&self) -> Option<Call> {
        match self {
            Self::InHeddles(fault) => fault.call,
            Self::InReed(_, call) => Some(*call),
        }
    }

    /// The calls that it touches, as far as it has a place.
    #[must_use]
    pub fn calls(&self) -> Option<Calls> {
        let (first, last) = match self {
            Self::InHeddles(fault) => fault.span()?,
            Self::InReed(ReedFault::EndsCrossed, call) => (*call, Call(call.0.saturating_add(1))),
            Self::InReed(_, call) => (*call, *call),
        };
        Calls::new(first.0, last.0)
    }

    /// Whether it can stand among these shafts of a batch: another shaft than the plan's where an end
    /// is on the wrong one, two different shafts where neighbours are exchanged, and no miscount.
    #[must_use]
    pub fn can_stand(&self, first: Call, planned: &[Shaft], shafts: u8) -> bool {
        let Self::InHeddles(fault) = self else {
            return true;
        };
        let at = |by: u32| {
            let place = fault.call?.0.checked_sub(first.0)?.checked_add(by)?;
            planned.get(place as usize).copied()
        };
        let on_loom = |shaft: Shaft| (1..=shafts).contains(&shaft.0);
        let whole = fault.span().is_none_or(|(_, last)| {
            let last = last.0.checked_sub(first.0);
            last.is_some_and(|last| (last as usize) < planned.len())
        });
        whole
            && match fault.kind {
                FaultKind::WrongShaft => fault
                    .shaft
                    .is_some_and(|shaft| on_loom(shaft) && at(0).is_some_and(|own| own != shaft)),
                FaultKind::NeighboursExchanged => at(0).is_some() && at(0) != at(1),
                FaultKind::HeddlePassed => fault.shaft.is_some_and(on_loom),
                FaultKind::EndsMiscounted | FaultKind::HeddlesMiscounted => false,
                FaultKind::HandfulSkipped | FaultKind::HandfulRepeated => fault.count >= 1,
                FaultKind::PositionSkipped
                | FaultKind::PositionRepeated
                | FaultKind::EndsDoubled
                | FaultKind::EndHanging => at(0).is_some(),
            }
    }
}

/// The evidence of a batch in which a fault is known: `made` of its calls are made, nothing is said of
/// what is left over.
#[must_use]
pub fn known(first: Call, planned: Vec<Shaft>, shafts: u8, made: u32) -> Evidence {
    let even = vec![0; usize::from(shafts)];
    Evidence::report(first, planned, shafts, made, 0, even)
}

/// A known fault as the only explanation.
#[must_use]
pub fn certain(fault: Fault) -> Suspect {
    Suspect {
        faults: vec![fault],
        first_wrong: None,
        share: 1.0,
        mending: MendingId(1),
    }
}
