//! Groups: the ends between two crossings of the counting thread.
//! Owns their sizes and calls; knows no batch.

use super::{Floats, Group};
use crate::quantity::{Calls, Fraction};

/// Wound ends of each group from the threading edge: floor(k x per) - floor((k-1) x per) with
/// per = sett x group unit; what is left over makes a short group at the edge threaded last.
/// `None` where a group would hold no end. Source: counting groups by the sett is common practice,
/// Tygart Lake Fiber Arts handout 83; the floor rule is our own arithmetic.
#[must_use]
pub fn group_sizes(ends: u32, sett: Fraction, unit: Fraction) -> Option<Vec<u32>> {
    let per = sett.times(unit)?;
    if per < Fraction::ONE {
        return None;
    }
    let mut sizes = Vec::new();
    let mut done = 0_u32;
    let mut k = 0_i64;
    while done < ends {
        k += 1;
        let until = per.times(Fraction::whole(k))?.floor().min(i128::from(ends));
        let until = u32::try_from(until).ok()?;
        sizes.push(until - done);
        done = until;
    }
    Some(sizes)
}

/// The groups as calls. Floats from the warp belong to the outermost groups and are no calls; a
/// group that would hold a float alone is counted with its neighbour.
#[must_use]
pub fn groups(sizes: &[u32], floats: Floats) -> Vec<Group> {
    let mut sizes = sizes.to_vec();
    let from_warp = u32::from(floats == Floats::FromWarp);
    if from_warp == 1 {
        merge_lone(&mut sizes);
    }
    let last = sizes.len();
    let mut first = 1;
    let mut found = Vec::with_capacity(last);
    for (i, &ends) in sizes.iter().enumerate() {
        let floats = from_warp * (u32::from(i == 0) + u32::from(i + 1 == last));
        let count = ends.saturating_sub(floats);
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        if let Some(calls) = Calls::new(first, (first + count).saturating_sub(1)) {
            found.push(Group {
                number,
                calls,
                ends,
            });
        }
        first += count;
    }
    found
}

fn merge_lone(sizes: &mut Vec<u32>) {
    if sizes.len() >= 2 && sizes.last() == Some(&1) {
        sizes.pop();
        if let Some(last) = sizes.last_mut() {
            *last += 1;
        }
    }
    if sizes.len() >= 2 && sizes.first() == Some(&1) {
        sizes.remove(0);
        if let Some(first) = sizes.first_mut() {
            *first += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_group_lies_at_the_edge_threaded_last() {
        let sizes = group_sizes(277, Fraction::whole(20), Fraction::ONE).unwrap();
        assert_eq!(sizes.len(), 14);
        assert_eq!((sizes[0], sizes[13]), (20, 17));
    }

    #[test]
    fn an_uneven_sett_gives_groups_by_floor() {
        let sett = Fraction::new(15, 2).unwrap();
        let sizes = group_sizes(30, sett, Fraction::ONE).unwrap();
        assert_eq!(sizes, [7, 8, 7, 8]);
        assert_eq!(
            group_sizes(9, Fraction::new(1, 2).unwrap(), Fraction::ONE),
            None
        );
    }

    #[test]
    fn a_float_from_the_warp_is_no_call_and_never_a_group_of_its_own() {
        let found = groups(&[20, 20, 1], Floats::FromWarp);
        assert_eq!(found.len(), 2);
        assert_eq!((found[0].calls.len(), found[0].ends), (19, 20));
        assert_eq!((found[1].calls.len(), found[1].ends), (20, 21));
    }
}
