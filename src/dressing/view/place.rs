//! Places worked out for the eye: dents of a group, a bundle's way from the middle.

use super::{DentFill, FromMiddle};
use crate::plan::{DentEnds, Plan, Side};
use crate::quantity::Calls;

pub(super) fn calls_in(plan: &Plan, dent: u32) -> Option<Calls> {
    let first = plan.sley.dents.first()?.number;
    let at = dent.checked_sub(first)? as usize;
    match plan.sley.dents.get(at)?.ends {
        DentEnds::Calls(calls) => Some(calls),
        DentEnds::Empty | DentEnds::Float { .. } => None,
    }
}

/// The dents of a group in the order of sleying, the empty ones between them too.
pub(in crate::dressing) fn dents_of(plan: &Plan, calls: Calls, upwards: bool) -> Vec<DentFill> {
    let dents = &plan.sley.dents;
    let before = |dent: &crate::plan::Dent| match dent.ends {
        DentEnds::Calls(these) if upwards => these.last < calls.first,
        DentEnds::Calls(these) => these.first > calls.last,
        DentEnds::Float { .. } | DentEnds::Empty => false,
    };
    // floats and empty dents stand among them, so the first of the group is found by its ends
    let start = dents.iter().rposition(before).map_or(0, |at| at + 1);
    let mut fills: Vec<DentFill> = dents[start..]
        .iter()
        .map_while(|dent| match dent.ends {
            DentEnds::Empty => Some((dent.number, 0)),
            DentEnds::Float { .. } => Some((dent.number, u32::MAX)),
            DentEnds::Calls(these) => {
                let first = these.first.max(calls.first);
                let last = these.last.min(calls.last);
                (first <= last).then(|| (dent.number, last.0 - first.0 + 1))
            }
        })
        .filter(|&(_, ends)| ends != u32::MAX)
        .map(|(dent, ends)| DentFill { dent, ends })
        .collect();
    // empty dents behind the last end belong to the group that comes next
    while fills.last().is_some_and(|fill| fill.ends == 0) {
        fills.pop();
    }
    fills
}

/// How the bundle of a group lies to the middle; groups are numbered from the threading side.
pub(super) fn from_middle(group: u32, of: u32, thread_from: Side) -> FromMiddle {
    let (group, of) = (i64::from(group), i64::from(of));
    let off = 2 * group - (of + 1);
    let steps = u32::try_from(off.abs() / 2).unwrap_or(0);
    match (off.cmp(&0), thread_from) {
        _ if steps == 0 => FromMiddle::Middle,
        (std::cmp::Ordering::Less, Side::Right) | (std::cmp::Ordering::Greater, Side::Left) => {
            FromMiddle::Right(steps)
        }
        _ => FromMiddle::Left(steps),
    }
}
