//! The raddle, the ties on the rod and the bundles of the tie-on: what is counted across the warp.
//! Owns their places and numbers; knows no reed.

use super::{Bundle, Group, GroupSpaces, Raddle, RaddleMiddle, Units};
use crate::quantity::{Fraction, cm_per_inch};

/// Which space each group's ends go into: space j holds floor(j e) - floor((j-1) e) ends with
/// e = sett / spaces per unit (15 per inch in half-inch spaces: 7 and 8); a group's share is what of
/// its ends lies in that space.
fn shares(groups: &[Group], sett: Fraction, per_unit: Fraction) -> Option<Vec<GroupSpaces>> {
    let each = sett.over(per_unit)?;
    let until = |space: u32| -> Option<i128> { Some(each.times(Fraction::from(space))?.floor()) };
    let (mut space, mut done) = (1_u32, 0_i128);
    let mut found = Vec::with_capacity(groups.len());
    for group in groups {
        let last = done + i128::from(group.ends);
        let mut spaces = Vec::new();
        while done < last {
            let here = until(space)?.min(last) - done;
            if here > 0 {
                spaces.push((space, u32::try_from(here).ok()?));
                done += here;
            }
            if until(space)? <= done {
                space += 1;
            }
        }
        found.push(GroupSpaces {
            group: group.number,
            spaces,
        });
    }
    Some(found)
}

/// The raddle stage: the warp's true width centred to the nearest half space, which is as near as whole
/// spaces allow. With a pin in the middle the first space is the round(width x spaces / 2)-th outwards;
/// with a space in the middle that space is the first. Ends per space: sett / spaces per unit
/// (half-inch or inch pitch is usual; from memory). Centring: common practice, no source.
#[must_use]
pub fn raddle(
    groups: &[Group],
    sett: Fraction,
    width: Fraction,
    per_unit: Fraction,
    length: Option<Fraction>,
) -> Option<Raddle> {
    let groups = shares(groups, sett, per_unit)?;
    let spaces = groups
        .iter()
        .flat_map(|g| &g.spaces)
        .map(|&(n, _)| n)
        .max()?;
    let total = length.and_then(|l| l.times(per_unit)).map(Fraction::floor);
    let middle = match total {
        Some(total) if total % 2 != 0 => RaddleMiddle::Space,
        _ => RaddleMiddle::Pin,
    };
    let half = width.times(per_unit)?.over(Fraction::whole(2))?;
    let half_space = Fraction::new(1, 2)?;
    let first = match middle {
        RaddleMiddle::Pin => half.round(),
        RaddleMiddle::Space => half.minus(half_space)?.round() + 1,
    };
    Some(Raddle {
        spaces_per_unit: per_unit,
        first_space_from_middle: u32::try_from(first.max(1)).ok()?,
        spaces,
        middle,
        groups,
    })
}

/// Ties on the rod: odd, so that one is in the middle; 3 up to 8 in, then one more pair for every 8 in
/// or part of it. Common practice, no source.
#[must_use]
pub fn ties(width: Fraction, units: Units) -> Option<u32> {
    let inches = match units {
        Units::In => width,
        Units::Cm => width.over(cm_per_inch())?,
    };
    let beyond = inches.minus(Fraction::whole(8))?;
    if !beyond.is_positive() {
        return Some(3);
    }
    let pairs = u32::try_from(beyond.over(Fraction::whole(8))?.ceil()).ok()?;
    pairs.checked_mul(2)?.checked_add(3)
}

/// The groups as bundles in the order of tying: the middle one first (with an even number the two
/// middle ones, the one nearer the threading edge before the other), then outwards by turns. A group
/// at the centre first: a loom maker's printed manual p. 8.
#[must_use]
pub fn bundles(groups: &[Group]) -> Vec<Bundle> {
    let n = groups.len();
    let (mut low, mut high) = if n % 2 == 1 {
        (n / 2, n / 2 + 1)
    } else {
        (n / 2, n / 2)
    };
    let mut order = Vec::with_capacity(n);
    if n % 2 == 1 {
        order.push(low);
    }
    while low > 0 || high < n {
        if low > 0 {
            low -= 1;
            order.push(low);
        }
        if high < n {
            order.push(high);
            high += 1;
        }
    }
    let groups = order.into_iter().filter_map(|i| groups.get(i));
    groups
        .zip(1..)
        .map(|(g, number)| Bundle {
            number,
            group: g.number,
            calls: g.calls,
        })
        .collect()
}
