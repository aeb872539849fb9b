//! Batches and handfuls: how the threading is cut for the hand.
//! Owns the rules of the cut; never counts what is left over.

use super::{Batch, BatchRule, Group};
use crate::quantity::{Calls, Shaft};

/// The size that a batch by repeats comes nearest to, in ends (common practice, no source).
const NEAREST: u32 = 12;
/// The most ends of a part of a group (common practice, no source).
const PART: u32 = 16;
/// The most ends of a batch.
pub const MOST_IN_BATCH: u32 = 64;

/// The multiple of the repeat nearest 12, the smaller when two are as near.
#[must_use]
pub fn batch_of_repeat(repeat: u32) -> u32 {
    let repeat = repeat.max(1);
    let below = NEAREST / repeat * repeat;
    let above = below + repeat;
    if below > 0 && NEAREST - below <= above - NEAREST {
        below
    } else {
        above
    }
}

/// The rule where the plan names none: `repeat` where the draft has one of 4 to 16 ends, else `group`.
#[must_use]
pub fn usual_rule(repeat: Option<u32>) -> BatchRule {
    match repeat {
        Some(4..=16) => BatchRule::Repeat,
        _ => BatchRule::Group,
    }
}

/// What the cut needs to know.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cut<'a> {
    pub(super) threading: &'a [Shaft],
    /// `second[i]`: call i + 1 shares the heddle of the call before it.
    pub(super) second: &'a [bool],
    pub(super) groups: &'a [Group],
    pub(super) shafts: u8,
    pub(super) repeat: Option<u32>,
}

/// Cuts the calls from `from` to the last by the rule; batches are numbered from `number`.
/// A batch by repeats or by number counts heddles and is never cut; by groups, each group falls in
/// equal parts of at most 16, the larger first. Two ends in one heddle stay together.
pub(super) fn batches(cut: Cut<'_>, rule: BatchRule, from: u32, number: u32) -> Vec<Batch> {
    let lengths = match rule {
        BatchRule::Number(n) => by_heddles(cut, n, from),
        BatchRule::Repeat => by_heddles(cut, cut.repeat.map_or(NEAREST, batch_of_repeat), from),
        BatchRule::Group => by_group(cut, from),
    };
    let mut first = from;
    let mut found = Vec::with_capacity(lengths.len());
    for (i, length) in lengths.into_iter().enumerate() {
        if let Some(calls) = Calls::new(first, first + length - 1) {
            found.push(batch(cut, calls, number + u32::try_from(i).unwrap_or(0)));
        }
        first += length;
    }
    found
}

fn batch(cut: Cut<'_>, calls: Calls, number: u32) -> Batch {
    let mut heddles = vec![0; usize::from(cut.shafts)];
    for i in calls.indices() {
        let (Some(shaft), Some(false)) = (cut.threading.get(i), cut.second.get(i)) else {
            continue;
        };
        if let Some(count) = heddles.get_mut(usize::from(shaft.0).saturating_sub(1)) {
            *count += 1;
        }
    }
    Batch {
        number,
        calls,
        heddles,
    }
}

fn by_heddles(cut: Cut<'_>, size: u32, from: u32) -> Vec<u32> {
    let size = size.max(1);
    let start = from.saturating_sub(1) as usize;
    let mut lengths = Vec::new();
    let (mut heddles, mut ends) = (0, 0);
    for &second in cut.second.get(start..).unwrap_or(&[]) {
        if !second && heddles == size {
            lengths.push(ends);
            (heddles, ends) = (0, 0);
        }
        heddles += u32::from(!second);
        ends += 1;
    }
    if ends > 0 {
        lengths.push(ends);
    }
    lengths
}

fn by_group(cut: Cut<'_>, from: u32) -> Vec<u32> {
    let mut lengths = Vec::new();
    let mut at = from;
    for group in cut.groups.iter().filter(|g| g.calls.last.0 >= from) {
        let last = group.calls.last.0;
        if at > last {
            continue;
        }
        let count = last - at + 1;
        let parts = count.div_ceil(PART);
        for part in 0..parts {
            let size = count / parts + u32::from(part < count % parts);
            let end = (at + size).saturating_sub(1).min(last).max(at);
            let end = keep_pair(cut.second, end);
            if end >= at {
                lengths.push(end - at + 1);
                at = end + 1;
            }
        }
    }
    lengths
}

/// The last call of a part, moved on by one where it would part two ends of one heddle.
fn keep_pair(second: &[bool], end: u32) -> u32 {
    let next_shares = second.get(end as usize).copied().unwrap_or(false);
    end + u32::from(next_shares)
}

/// Cost of a handful by its length; 4 and 3 are what a hand and an ear take at once.
const COST: [u32; 5] = [0, 40, 20, 2, 0];
/// Cost of a break of the pattern inside a handful.
const BREAK: u32 = 5;

/// The batch cut into handfuls of 3 or 4 calls (a rest of 1 or 2 where it does not come out), broken
/// where the pattern breaks: of all ways the one with the fewest turns and jumps inside a handful,
/// then the longer handfuls first. The lengths add up to the batch; equal batches fall alike.
/// Common practice, no source.
#[must_use]
pub fn handfuls(shafts: &[Shaft]) -> Vec<u8> {
    let n = shafts.len();
    let mut best = vec![(0_u32, 0_usize); n + 1];
    for at in (0..n).rev() {
        best[at] = (1..=4.min(n - at))
            .rev()
            .map(|len| {
                let inside = breaks(&shafts[at..at + len]);
                (COST[len] + BREAK * inside + best[at + len].0, len)
            })
            .min_by_key(|&(cost, _)| cost)
            .unwrap_or((0, 1));
    }
    let mut found = Vec::new();
    let mut at = 0;
    while at < n {
        let len = best[at].1.max(1);
        found.push(u8::try_from(len).unwrap_or(1));
        at += len;
    }
    found
}

/// How often the step from shaft to shaft changes inside a run.
fn breaks(run: &[Shaft]) -> u32 {
    let step = |pair: &[Shaft]| i16::from(pair[1].0) - i16::from(pair[0].0);
    let steps: Vec<i16> = run.windows(2).map(step).collect();
    u32::try_from(steps.windows(2).filter(|pair| pair[0] != pair[1]).count()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shafts(list: &[u8]) -> Vec<Shaft> {
        list.iter().map(|&s| Shaft(s)).collect()
    }

    #[test]
    fn a_batch_is_the_multiple_of_the_repeat_nearest_twelve() {
        for (repeat, batch) in [
            (1, 12),
            (2, 12),
            (4, 12),
            (5, 10),
            (6, 12),
            (7, 14),
            (8, 8),
            (9, 9),
            (10, 10),
            (11, 11),
            (14, 14),
            (16, 16),
            (22, 22),
            (24, 24),
        ] {
            assert_eq!(batch_of_repeat(repeat), batch, "repeat of {repeat}");
        }
    }

    #[test]
    fn handfuls_break_where_the_pattern_breaks() {
        for (run, cut) in [
            (&[1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4][..], &[4, 4, 4][..]),
            (&[1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2], &[3, 3, 3, 3]),
            (&[1, 2, 3, 1, 2, 3, 1, 2, 3, 1, 2, 3], &[3, 3, 3, 3]),
            (&[1, 2, 3, 4, 5, 6, 7, 8], &[4, 4]),
            (&[1], &[1]),
            (&[1, 2, 3, 4, 5], &[3, 2]),
            (&[], &[]),
        ] {
            assert_eq!(handfuls(&shafts(run)), cut, "{run:?}");
        }
    }

    #[test]
    fn a_group_falls_in_equal_parts_of_at_most_sixteen() {
        let threading = shafts(&[1; 37]);
        let second = [false; 37];
        let groups = super::super::groups::groups(&[20, 17], super::super::Floats::None);
        let cut = Cut {
            threading: &threading,
            second: &second,
            groups: &groups,
            shafts: 1,
            repeat: None,
        };
        let sizes = |rule, from| -> Vec<u32> {
            batches(cut, rule, from, 1)
                .iter()
                .map(|b| b.calls.len())
                .collect()
        };
        assert_eq!(sizes(BatchRule::Group, 1), [10, 10, 9, 8]);
        assert_eq!(sizes(BatchRule::Group, 14), [7, 9, 8]);
        assert_eq!(sizes(BatchRule::Number(16), 1), [16, 16, 5]);
    }
}
