//! What the plan does not account for: the counts less what the calls not made leave.
//! Owns the additive table of the faults; never ranks.
//!
//! Each fault adds its own residue, so that two faults add up. Checked against a weaver walked
//! through the batch heddle by heddle in `tests/reality`.

use super::evidence::{Evidence, counts};
use super::kind::{Fault, FaultKind};

/// Ends and heddles that the plan does not account for; positive means left over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Residue {
    /// Ends.
    pub ends: i64,
    /// Heddles on each shaft, shaft 1 first.
    pub heddles: Vec<i64>,
}

impl Residue {
    /// What the report leaves unexplained: counts less what the plan leaves after the calls made.
    pub fn of_report(evidence: &Evidence) -> Self {
        let made = evidence.calls_made as usize;
        let open = evidence.planned.get(made..).unwrap_or_default();
        let still = counts(open, evidence.shafts);
        let ends = evidence.ends_left - i64::try_from(open.len()).unwrap_or(0);
        let heddles = evidence
            .heddles_left
            .iter()
            .zip(still)
            .map(|(left, still)| left - still);
        Self {
            ends,
            heddles: heddles.collect(),
        }
    }

    /// Whether ends and heddles come out even.
    pub fn is_even(&self) -> bool {
        self.ends == 0 && self.heddles.iter().all(|&h| h == 0)
    }

    /// Takes the residue of a fault out; what is left is for another fault to explain.
    pub fn without(&self, fault: &Fault, evidence: &Evidence) -> Self {
        let mut rest = self.clone();
        let (ends, touched) = effect(fault, evidence);
        rest.ends -= ends;
        for (shaft, by) in touched.iter() {
            if let Some(count) = usize::from(*shaft)
                .checked_sub(1)
                .and_then(|at| rest.heddles.get_mut(at))
            {
                *count -= by;
            }
        }
        rest
    }

    /// A number that adds up as residues do: equal residues have equal marks, and the mark of two
    /// faults together is the wrapping sum of theirs.
    pub fn mark(&self) -> u64 {
        let shafts = self.heddles.iter().zip(1..=u8::MAX);
        shafts.fold(ends_mark(self.ends), |sum, (&by, shaft)| {
            sum.wrapping_add(shaft_mark(shaft, by))
        })
    }
}

/// What a fault adds to the residue: ends, and heddles on the shafts that it touches.
pub(super) fn effect(fault: &Fault, evidence: &Evidence) -> (i64, Vec<(u8, i64)>) {
    let shaft = fault.shaft.map_or(0, |s| s.0);
    let planned = |at: usize| evidence.planned.get(at).map_or(0, |s| s.0);
    let place = fault
        .call
        .and_then(|call| evidence.place_of(call))
        .unwrap_or(0);
    let handful = |sign: i64| {
        let len = usize::try_from(fault.count).unwrap_or(0);
        (
            sign * fault.count,
            (place..place + len).map(|at| (planned(at), sign)).collect(),
        )
    };
    match fault.kind {
        FaultKind::PositionSkipped => (1, vec![(planned(place), 1)]),
        FaultKind::PositionRepeated => (-1, vec![(planned(place), -1)]),
        FaultKind::EndsDoubled | FaultKind::EndHanging => (-1, Vec::new()),
        FaultKind::WrongShaft => (0, vec![(planned(place), 1), (shaft, -1)]),
        FaultKind::HeddlePassed => (0, vec![(shaft, -1)]),
        FaultKind::EndsMiscounted => (fault.count, Vec::new()),
        FaultKind::HeddlesMiscounted => (0, vec![(shaft, fault.count)]),
        FaultKind::HandfulSkipped => handful(1),
        FaultKind::HandfulRepeated => handful(-1),
        FaultKind::NeighboursExchanged => (0, Vec::new()),
    }
}

/// The additive mark of a fault; see [`Residue::mark`].
pub(super) fn mark_of(fault: &Fault, evidence: &Evidence) -> u64 {
    let (ends, touched) = effect(fault, evidence);
    touched.iter().fold(ends_mark(ends), |sum, &(shaft, by)| {
        sum.wrapping_add(shaft_mark(shaft, by))
    })
}

fn ends_mark(ends: i64) -> u64 {
    scatter(0).wrapping_mul(ends.cast_unsigned())
}

fn shaft_mark(shaft: u8, by: i64) -> u64 {
    scatter(u64::from(shaft)).wrapping_mul(by.cast_unsigned())
}

/// Spreads a small number over 64 bits (the finishing steps of the splitmix generator), so that
/// sums of few of them do not meet by chance.
fn scatter(n: u64) -> u64 {
    let n = (n + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    let n = (n ^ (n >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let n = (n ^ (n >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    (n ^ (n >> 31)) | 1
}
