//! Something that looks wrong in a shed or in the cloth, as the weaver says it: what, where on the
//! tape, in which sheds. Owns the questions' order; what may be behind it is `fault`'s.

use super::state::Dressing;
use crate::fault::cloth_spot::{ClothEvidence, ClothSuspect, Sign, suspects_in_cloth};
use crate::plan::{Side, Units};
use crate::quantity::Fraction;

/// The most suspects that can be chosen from.
pub const MOST_CHOICES: usize = 6;

/// What is said of it so far; whole when every part is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sighting {
    /// What is seen.
    pub sign: Option<Sign>,
    /// The edge that was measured from.
    pub from: Option<Side>,
    /// Whole inches from it, asked before the eighths; not asked where the unit is the centimetre.
    pub whole: Option<u32>,
    /// How far in from that edge, thousandths of the plan's unit.
    pub thousandths: Option<u32>,
    /// The sheds that show it, from 1 as the plan has them.
    pub sheds: Vec<u32>,
    /// Whether all such sheds are named.
    pub complete: bool,
}

/// What is asked next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sought {
    /// 1 for two neighbours alike, 2 for one end astray.
    Sign,
    /// 1 for right, 2 for left.
    Edge,
    /// Whole inches.
    Whole,
    /// Eighths of an inch beyond them, 0 to 7.
    Eighths,
    /// Millimetres.
    Millimetres,
    /// A shed that shows it; 0 when that is all.
    Shed,
}

impl Sighting {
    /// The next question; `None` when everything is said.
    #[must_use]
    pub fn sought(&self, units: Units) -> Option<Sought> {
        match (self.sign, self.from, self.thousandths, units, self.whole) {
            (None, ..) => Some(Sought::Sign),
            (_, None, ..) => Some(Sought::Edge),
            (_, _, None, Units::Cm, _) => Some(Sought::Millimetres),
            (_, _, None, Units::In, None) => Some(Sought::Whole),
            (_, _, None, Units::In, Some(_)) => Some(Sought::Eighths),
            _ if !self.complete => Some(Sought::Shed),
            _ => None,
        }
    }

    /// With the answer to the next question; `None` where the number cannot be it.
    #[must_use]
    pub fn with(&self, said: i64, units: Units, sheds: u32) -> Option<Self> {
        let mut next = self.clone();
        let number = u32::try_from(said).ok()?;
        match (self.sought(units)?, number) {
            (Sought::Sign, 1) => next.sign = Some(Sign::TwoAlike),
            (Sought::Sign, 2) => next.sign = Some(Sign::OneAstray),
            (Sought::Edge, 1) => next.from = Some(Side::Right),
            (Sought::Edge, 2) => next.from = Some(Side::Left),
            (Sought::Whole, 0..=1000) => next.whole = Some(number),
            (Sought::Eighths, 0..=7) => {
                next.thousandths = Some(self.whole? * 1000 + number * 125);
            }
            (Sought::Millimetres, 0..=10_000) => next.thousandths = Some(number * 100),
            (Sought::Shed, 0) if !self.sheds.is_empty() => next.complete = true,
            (Sought::Shed, n) if (1..=sheds).contains(&n) => {
                if !next.sheds.contains(&n) {
                    next.sheds.push(n);
                }
            }
            _ => return None,
        }
        Some(next)
    }

    /// The least and the most that the answer can be.
    #[must_use]
    pub fn range(&self, units: Units, sheds: u32) -> (i64, i64) {
        match self.sought(units) {
            Some(Sought::Sign | Sought::Edge) => (1, 2),
            Some(Sought::Whole) => (0, 1000),
            Some(Sought::Eighths) => (0, 7),
            Some(Sought::Millimetres) => (0, 10_000),
            Some(Sought::Shed) => (i64::from(self.sheds.is_empty()), i64::from(sheds)),
            None => (0, 0),
        }
    }

    /// As the tracing takes it; `None` where something is not said yet. A measure from the edge is
    /// taken to be right within a quarter of an inch or 5 mm (a judgement, no source); `across` is
    /// the width where it was measured, where that is known.
    #[must_use]
    pub fn evidence(&self, units: Units, across: Option<Fraction>) -> Option<ClothEvidence> {
        let within = match units {
            Units::In => Fraction::new(1, 4)?,
            Units::Cm => Fraction::new(1, 2)?,
        };
        Some(ClothEvidence {
            sign: self.sign?,
            from: self.from?,
            distance: Fraction::new(i64::from(self.thousandths?), 1000)?,
            across,
            within,
            sheds: self.sheds.clone(),
        })
    }
}

impl Dressing {
    /// The ends that may be behind it, the likeliest first; none where it cannot be worked out.
    #[must_use]
    pub fn suspects_of(&self, sighting: &Sighting) -> Vec<ClothSuspect> {
        let plan = self.plan();
        let found = sighting
            .evidence(plan.units, None)
            .and_then(|evidence| suspects_in_cloth(plan, &evidence).ok());
        let mut suspects = found.unwrap_or_default();
        suspects.truncate(MOST_CHOICES);
        suspects
    }
}
