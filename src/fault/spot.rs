//! What is to be righted in a batch's line of filled heddles, place by place.
//! Owns the list of such spots; never decides how one is righted.

use super::evidence::Evidence;
use super::kind::{Fault, FaultKind};
use crate::quantity::Shaft;

/// One thing to right in the line of filled heddles, at a place from 0.
#[derive(Debug, Clone, Copy)]
pub(super) enum Spot {
    /// A heddle with its end is missing before this place.
    Missing(usize, Shaft),
    /// This filled heddle is one too many.
    TooMany(usize),
    /// This end should be on that shaft.
    Wrong(usize, Shaft),
    /// This end and the next are in each other's heddles.
    Exchanged(usize),
    /// This heddle holds two.
    Doubled(usize),
    /// An end hangs after this place.
    Hanging(usize),
    /// A heddle of this shaft is used up for nothing.
    Passed(Shaft),
}

impl Spot {
    /// Its place in the line; none for a heddle used up for nothing.
    pub fn place(&self) -> Option<usize> {
        match *self {
            Self::Missing(at, _)
            | Self::TooMany(at)
            | Self::Wrong(at, _)
            | Self::Exchanged(at)
            | Self::Doubled(at)
            | Self::Hanging(at) => Some(at),
            Self::Passed(_) => None,
        }
    }

    /// Whether righting it puts one more or one less in the reed.
    pub fn shifts(&self) -> bool {
        matches!(
            self,
            Self::Missing(..) | Self::TooMany(_) | Self::Doubled(_)
        )
    }

    /// Whether a heddle is missing there.
    pub fn is_missing(&self) -> bool {
        matches!(self, Self::Missing(..))
    }

    /// Filled heddles more than before once it is righted.
    pub fn heddles(&self) -> i64 {
        match self {
            Self::Missing(..) => 1,
            Self::TooMany(_) => -1,
            Self::Wrong(..)
            | Self::Exchanged(_)
            | Self::Doubled(_)
            | Self::Hanging(_)
            | Self::Passed(_) => 0,
        }
    }

    /// Whether two ends are handled there, so that the one after it may hang in the next knot.
    pub fn is_of_two(&self) -> bool {
        matches!(self, Self::Exchanged(_) | Self::Doubled(_))
    }

    /// Whether it is an end that is in no heddle, and so in no dent.
    pub fn hangs(&self) -> bool {
        matches!(self, Self::Hanging(_))
    }
}

/// Everything to right, from the last place to the first, so that earlier places keep their
/// numbers while later ones are righted.
pub(super) fn spots(evidence: &Evidence, faults: &[Fault], line: usize) -> Vec<Spot> {
    let mut placed: Vec<&Fault> = faults.iter().collect();
    placed.sort_by_key(|fault| fault.call);
    let mut spots = Vec::new();
    let mut moved = 0_i64;
    for fault in placed {
        spots_of(evidence, fault, line, &mut moved, &mut spots);
    }
    spots.reverse();
    spots
}

fn spots_of(
    evidence: &Evidence,
    fault: &Fault,
    line: usize,
    moved: &mut i64,
    spots: &mut Vec<Spot>,
) {
    let planned = fault
        .call
        .and_then(|call| evidence.place_of(call))
        .unwrap_or(0);
    let at = usize::try_from(*moved + i64::try_from(planned).unwrap_or(0)).unwrap_or(0);
    let shaft = |at: usize| evidence.planned.get(at).copied().unwrap_or(Shaft(1));
    let count = usize::try_from(fault.count).unwrap_or(0);
    match fault.kind {
        FaultKind::PositionSkipped | FaultKind::HandfulSkipped => {
            // righting from the back: each missing heddle is put before the same place
            spots.extend((0..count).map(|i| Spot::Missing(at, shaft(planned + i))));
            *moved -= fault.count;
        }
        FaultKind::PositionRepeated | FaultKind::HandfulRepeated => {
            let again = line.min(at + 2 * count);
            spots.extend((at + count..again).map(Spot::TooMany));
            *moved += fault.count;
        }
        FaultKind::WrongShaft => spots.push(Spot::Wrong(at, shaft(planned))),
        FaultKind::NeighboursExchanged => spots.push(Spot::Exchanged(at)),
        FaultKind::EndsDoubled => spots.push(Spot::Doubled(at)),
        FaultKind::EndHanging => spots.push(Spot::Hanging(at.saturating_sub(1))),
        FaultKind::HeddlePassed => spots.extend(fault.shaft.map(Spot::Passed)),
        FaultKind::EndsMiscounted | FaultKind::HeddlesMiscounted => {}
    }
}
