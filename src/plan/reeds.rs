//! Reeds to hand: what each would give for a sett, ranked with reasons.
//! Owns the ranking; never deals an end into a dent.

use super::Units;
use super::order::{Order, best_order};
use super::spec::{Per, ReedSpec};
use crate::quantity::{Fraction, cm_per_inch};

/// The short text of what a reed's number counts by.
#[must_use]
pub fn per_text(per: Per) -> &'static str {
    match per {
        Per::In => "in",
        Per::Cm => "cm",
        Per::TenCm => "10 cm",
    }
}

/// What the number of a reed counts by where the plan does not say: its own unit.
#[must_use]
pub fn per_of(reed: &ReedSpec, units: Units) -> Per {
    reed.per.unwrap_or(match units {
        Units::In => Per::In,
        Units::Cm => Per::Cm,
    })
}

/// Dents per plan unit, exactly. A metric label N counts N dents in 10 cm, so N x 0.254 per inch:
/// IWV "converting metric reeds"; SUN.
#[must_use]
pub fn dents_per_unit(reed: &ReedSpec, units: Units) -> Option<Fraction> {
    let per_cm = match per_of(reed, units) {
        Per::In => reed.dents.over(cm_per_inch())?,
        Per::Cm => reed.dents,
        Per::TenCm => reed.dents.over(Fraction::whole(10))?,
    };
    match units {
        Units::Cm => Some(per_cm),
        Units::In => per_cm.times(cm_per_inch()),
    }
}

/// Why a reed stands where it does in the ranking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    /// Exact, the same number in every dent.
    SameInEvery,
    /// Exact, with an order to keep.
    Exact,
    /// Not exact.
    Near,
}

impl Reason {
    /// The reason in words.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Self::SameInEvery => "exact, the same in every dent",
            Self::Exact => "exact, with an order to keep",
            Self::Near => "near, not exact",
        }
    }
}

/// One reed and what it gives.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ranked {
    /// Its place in the list given.
    pub index: usize,
    /// Dents per plan unit.
    pub per_unit: Fraction,
    /// The order in it.
    pub order: Order,
    /// Why it stands here.
    pub reason: Reason,
}

impl Ranked {
    /// Sorting key: exact before near, one number before an order, then how near the sett, then how near
    /// 2 per dent (the ideal: Osterkamp), then the shorter order.
    fn key(&self, sett: Fraction) -> (Reason, Fraction, Fraction, usize) {
        let apart = |a: Fraction, b: Fraction| {
            let (low, high) = if a < b { (a, b) } else { (b, a) };
            high.minus(low).unwrap_or(Fraction::ZERO)
        };
        let off = apart(self.order.sett, sett);
        let mean = sett.over(self.per_unit).unwrap_or(Fraction::ZERO);
        (
            self.reason,
            off,
            apart(mean, Fraction::whole(2)),
            self.order.dents.len(),
        )
    }
}

/// The reeds that can give the sett at all, the best first; equal ones stay in the order given.
#[must_use]
pub fn rank(reeds: &[ReedSpec], units: Units, sett: Fraction) -> Vec<Ranked> {
    let ranked = |(index, reed): (usize, &ReedSpec)| {
        let per_unit = dents_per_unit(reed, units)?;
        let order = best_order(sett, per_unit)?;
        let reason = match (order.exact, order.dents.len()) {
            (true, 1) => Reason::SameInEvery,
            (true, _) => Reason::Exact,
            (false, _) => Reason::Near,
        };
        Some(Ranked {
            index,
            per_unit,
            order,
            reason,
        })
    };
    let mut found: Vec<Ranked> = reeds.iter().enumerate().filter_map(ranked).collect();
    found.sort_by_key(|r| r.key(sett));
    found
}
