//! What the tracings of a batch, a warp and a reed weigh alike: the worth of a look by its answers,
//! the best of many looks, and which answer the others contradict.
//! Owns that arithmetic; knows no fault and no look.

use std::collections::BTreeMap;

/// The information in an answer, in bits: the entropy of its outcomes (Shannon 1948), each given as
/// a number with its weight.
///
/// An answer follows from what stands, and what stands is what is mended: so the information that
/// a look gives about the mending is the entropy of its answer.
pub(super) fn bits(outcomes: impl Iterator<Item = (u64, f64)>) -> f64 {
    let mut by_answer: BTreeMap<u64, f64> = BTreeMap::new();
    for (answer, weight) in outcomes {
        *by_answer.entry(answer).or_default() += weight;
    }
    // summed in a fixed order, so that the same evidence always gives the same look
    let mut weights: Vec<f64> = by_answer.into_values().collect();
    weights.sort_by(f64::total_cmp);
    let all: f64 = weights.iter().sum();
    let shares = weights.into_iter().map(|weight| weight / all);
    shares
        .filter(|&share| share > 0.0)
        .map(|share| -share * share.log2())
        .sum()
}

/// The look that is worth most, the first of those worth as much; `None` where none tells anything.
pub(super) fn best<L>(looks: impl IntoIterator<Item = L>, worth: impl Fn(&L) -> f64) -> Option<L> {
    let mut best: Option<(f64, L)> = None;
    for look in looks {
        let worth = worth(&look);
        let most = best.as_ref().map_or(1e-9, |(most, _)| *most);
        if worth > most * (1.0 + 1e-9) {
            best = Some((worth, look));
        }
    }
    best.map(|(_, look)| look)
}

/// The cases that fit all answers; where none does, those that fit all but the one whose doubt
/// leaves the most weight, and that answer's place. `fits` is asked for a case and an answer's place.
pub(super) fn fitting<C: Copy>(
    cases: &[C],
    answers: usize,
    weight: impl Fn(&C) -> f64,
    fits: impl Fn(&C, usize) -> bool,
) -> (Vec<C>, Option<usize>) {
    let against = |case: &C| -> Vec<usize> {
        let not = (0..answers).filter(|&at| !fits(case, at));
        not.take(2).collect()
    };
    let (mut all, mut but_one) = (Vec::new(), vec![(0.0, Vec::new()); answers]);
    for case in cases {
        match against(case)[..] {
            [] => all.push(*case),
            [at] => {
                but_one[at].0 += weight(case);
                but_one[at].1.push(*case);
            }
            _ => {}
        }
    }
    if !all.is_empty() {
        return (all, None);
    }
    let left = but_one.into_iter().enumerate();
    let left = left.filter(|(_, (_, cases))| !cases.is_empty());
    let best = left.max_by(|(_, (a, _)), (_, (b, _))| a.total_cmp(b));
    best.map_or((Vec::new(), None), |(at, (_, cases))| (cases, Some(at)))
}

/// The case at half the weight, in the order given.
pub(super) fn middle<C: Copy>(cases: &[C], weight: impl Fn(&C) -> f64) -> Option<C> {
    let half: f64 = cases.iter().map(&weight).sum::<f64>() / 2.0;
    let mut sum = 0.0;
    let at_half = cases.iter().find(|case| {
        sum += weight(case);
        sum >= half
    });
    at_half.copied()
}
