//! A batch cut into the handfuls in which it is called. Owns only that cut.

use crate::quantity::Shaft;

/// What a handful of 0 to 4 calls costs; 4 is best, 1 is worst.
const COST: [u32; 5] = [0, 9, 5, 1, 0];
/// What a change of step inside a handful costs.
const BREAK: u32 = 1;

/// Lengths of the handfuls, 1 to 4 each, cut where the step from shaft to shaft changes.
pub(super) fn handfuls(shafts: &[Shaft]) -> Vec<u8> {
    let n = shafts.len();
    let mut best = vec![(0_u32, 0_usize); n + 1];
    for at in (0..n).rev() {
        let cost =
            |len: usize| COST[len] + BREAK * breaks(&shafts[at..at + len]) + best[at + len].0;
        let found = (1..=4.min(n - at)).rev().map(|len| (cost(len), len));
        best[at] = found.min_by_key(|&(cost, _)| cost).unwrap_or((0, 1));
    }
    let mut lengths = Vec::new();
    let mut at = 0;
    while at < n {
        lengths.push(u8::try_from(best[at].1).unwrap_or(1));
        at += best[at].1.max(1);
    }
    lengths
}

fn breaks(run: &[Shaft]) -> u32 {
    let steps: Vec<i16> = run
        .windows(2)
        .map(|pair| i16::from(pair[1].0) - i16::from(pair[0].0))
        .collect();
    steps
        .windows(2)
        .filter(|pair| pair[0] != pair[1])
        .fold(0, |sum, _| sum + 1)
}
