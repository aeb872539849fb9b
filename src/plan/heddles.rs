//! Heddles: what the threading needs on each shaft, what is short, and which to move before beaming.
//! Owns the count and the moves; never refuses a plan by itself.

use super::problem::Move;
use super::{Heddles, Problem};
use crate::quantity::Shaft;

/// Heddles needed on each shaft: one for each end that does not share the heddle of the end before
/// it. Ends drawn double in the heddle count once: Wolfensberger 1921, pp. 76-85.
#[must_use]
pub fn needed(threading: &[Shaft], second: &[bool], shafts: u8) -> Vec<u32> {
    let mut needed = vec![0; usize::from(shafts)];
    for (shaft, shares) in threading.iter().zip(second) {
        let at = usize::from(shaft.0).saturating_sub(1);
        if let (false, Some(count)) = (*shares, needed.get_mut(at)) {
            *count += 1;
        }
    }
    needed
}

/// Needed against on hand; a shaft beyond the list has none.
#[must_use]
pub fn heddles(needed: Vec<u32>, on_hand: Option<&[u32]>) -> Heddles {
    let short = match on_hand {
        None => vec![0; needed.len()],
        Some(there) => needed
            .iter()
            .enumerate()
            .map(|(i, n)| n.saturating_sub(there.get(i).copied().unwrap_or(0)))
            .collect(),
    };
    let on_hand = on_hand.map(<[u32]>::to_vec);
    Heddles {
        needed,
        on_hand,
        short,
    }
}

impl Heddles {
    /// What each shaft has beyond its need; all 0 where nothing was counted.
    #[must_use]
    pub fn spare(&self) -> Vec<u32> {
        let there = |i: usize| self.on_hand.as_ref()?.get(i).copied();
        let spare = |(i, n): (usize, &u32)| there(i).unwrap_or(0).saturating_sub(*n);
        self.needed.iter().enumerate().map(spare).collect()
    }

    /// What is spare on each shaft as (threading side, other side): half to each side keeps the shafts in
    /// balance (Handwoven on heddle management: 150 unused, 75 each side), an odd one on the side that is
    /// threaded last, out of the way.
    #[must_use]
    pub fn spare_sides(&self) -> Vec<(u32, u32)> {
        self.spare()
            .into_iter()
            .map(|n| (n / 2, n - n / 2))
            .collect()
    }

    /// One problem for each shaft that is short, each with the moves that mend it: from the shaft with
    /// most to spare first; what is still lacking then.
    pub(super) fn problems(&self) -> Vec<Problem> {
        let before = self.spare();
        let mut spare = before.clone();
        let mut found = Vec::new();
        for (i, &short) in self.short.iter().enumerate().filter(|&(_, &s)| s > 0) {
            let (moves, lacking) = moves(short, &before, &mut spare);
            let there = self.on_hand.as_ref().and_then(|h| h.get(i).copied());
            found.push(Problem::HeddlesShort {
                shaft: number(i),
                needed: self.needed.get(i).copied().unwrap_or(0),
                on_hand: there.unwrap_or(0),
                moves,
                lacking,
            });
        }
        found
    }
}

fn number(index: usize) -> u8 {
    u8::try_from(index + 1).unwrap_or(u8::MAX)
}

fn moves(short: u32, before: &[u32], spare: &mut [u32]) -> (Vec<Move>, u32) {
    let mut lacking = short;
    let mut found = Vec::new();
    while lacking > 0 {
        let most = spare
            .iter()
            .copied()
            .enumerate()
            .max_by_key(|&(i, n)| (n, usize::MAX - i));
        let Some((from, have)) = most.filter(|&(_, n)| n > 0) else {
            break;
        };
        let heddles = have.min(lacking);
        let was = before.get(from).copied().unwrap_or(0);
        found.push(Move {
            heddles,
            from: number(from),
            spare: was,
        });
        spare[from] -= heddles;
        lacking -= heddles;
    }
    (found, lacking)
}
