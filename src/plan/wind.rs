//! Winding: bouts of whole groups, colours stripe by stripe, passes and round trips, the guide string.
//! Owns the order of winding; counts nothing that is done.

use super::{Group, Plan, Stripe};
use crate::quantity::Fraction;

/// One stripe's part of a bout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoutStripe {
    /// The yarn's name.
    pub yarn: String,
    /// Ends of it.
    pub ends: u32,
    /// Passes along the frame, one way, with the ends wound together.
    pub passes: u32,
    /// Whether it ends at the far end of the frame, so that the next colour is joined there, or the yarn
    /// is cut and brought back.
    pub ends_far: bool,
}

/// What is wound at one go and taken off together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bout {
    /// 1.. from the threading edge.
    pub number: u32,
    /// First and last group in it.
    pub groups: (u32, u32),
    /// First wound end, 1.. from the threading edge.
    pub first: u32,
    /// Last wound end.
    pub last: u32,
    /// Its stripes in the order of winding.
    pub stripes: Vec<BoutStripe>,
}

/// The winding, worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wind {
    /// Length of the guide string from peg to peg: one end of the warp; `None` where it is not known.
    pub guide: Option<Fraction>,
    /// Ends wound together in the hand.
    pub together: u32,
    /// Bouts in the order of winding.
    pub bouts: Vec<Bout>,
    /// Passes along the frame in all, one way.
    pub passes: u32,
    /// Round trips in all: two passes each, a half one rounded up.
    pub round_trips: u32,
    /// Ends where one colour gives way to another.
    pub changes: u32,
    /// Whether every group and the total are even, so that loops come out on the rod. An even number of
    /// ends for loops on a rod: P6 of the reference (a weaver's published account).
    pub even: bool,
}

/// The winding of a plan. A bout holds as many whole groups as stay within the plan's bout (60 to 200
/// ends are usual, common practice, no source), at least one. A pass lays as many ends as are wound
/// together; each round trip is two passes.
#[must_use]
pub fn wind(plan: &Plan) -> Wind {
    let together = plan.together.max(1);
    let mut bouts: Vec<Bout> = Vec::new();
    let mut done = 0;
    for group in &plan.groups {
        let last = done + group.ends;
        match bouts.last_mut().filter(|b| last - b.first < plan.bout) {
            Some(bout) => {
                bout.groups.1 = group.number;
                bout.last = last;
            }
            None => bouts.push(opened(bouts.len(), group, done + 1, last)),
        }
        done = last;
    }
    for bout in &mut bouts {
        bout.stripes = stripes(&plan.stripes, bout.first, bout.last, together);
    }
    let passes = bouts
        .iter()
        .flat_map(|b| &b.stripes)
        .map(|s| s.passes)
        .sum::<u32>();
    let changes = plan
        .stripes
        .windows(2)
        .filter(|pair| pair[0].yarn != pair[1].yarn)
        .count();
    Wind {
        guide: plan.warp_length,
        together,
        passes,
        round_trips: passes.div_ceil(2),
        changes: u32::try_from(changes).unwrap_or(u32::MAX),
        even: plan.groups.iter().all(|g| g.ends.is_multiple_of(2)),
        bouts,
    }
}

fn opened(before: usize, group: &Group, first: u32, last: u32) -> Bout {
    Bout {
        number: u32::try_from(before + 1).unwrap_or(u32::MAX),
        groups: (group.number, group.number),
        first,
        last,
        stripes: Vec::new(),
    }
}

/// The stripes that fall into a bout; a warp without named yarns is one stripe without a name.
fn stripes(all: &[Stripe], first: u32, last: u32, together: u32) -> Vec<BoutStripe> {
    let whole = [Stripe {
        yarn: String::new(),
        first,
        last,
    }];
    let all = if all.is_empty() { &whole[..] } else { all };
    let start = all.partition_point(|s| s.last < first);
    let mut passes_before = 0;
    let mut found = Vec::new();
    for stripe in all[start..].iter().take_while(|s| s.first <= last) {
        let ends = stripe.last.min(last) - stripe.first.max(first) + 1;
        let passes = ends.div_ceil(together);
        passes_before += passes;
        let ends_far = passes_before % 2 == 1;
        found.push(BoutStripe {
            yarn: stripe.yarn.clone(),
            ends,
            passes,
            ends_far,
        });
    }
    found
}

/// One group's stripes in the order of winding, from the threading edge; empty where no yarn is named.
#[must_use]
pub fn stripes_of_group(plan: &Plan, number: u32) -> Vec<BoutStripe> {
    let before = plan.groups.iter().take_while(|g| g.number < number);
    let done: u32 = before.map(|g| g.ends).sum();
    let group = plan.groups.get((number as usize).wrapping_sub(1));
    match group {
        Some(group) if !plan.stripes.is_empty() => stripes(
            &plan.stripes,
            done + 1,
            done + group.ends,
            plan.together.max(1),
        ),
        _ => Vec::new(),
    }
}

/// Ends wound of each yarn once so many groups are wound, in the order in which they first come.
#[must_use]
pub fn wound_by_colour(plan: &Plan, groups: u32) -> Vec<(String, u32)> {
    let counted = plan.groups.iter().take_while(|g| g.number <= groups);
    let done: u32 = counted.map(|g| g.ends).sum();
    let mut found: Vec<(String, u32)> = Vec::new();
    for stripe in plan.stripes.iter().take_while(|s| s.first <= done) {
        let ends = stripe.last.min(done) - stripe.first + 1;
        match found.iter_mut().find(|(yarn, _)| *yarn == stripe.yarn) {
            Some((_, sum)) => *sum += ends,
            None => found.push((stripe.yarn.clone(), ends)),
        }
    }
    found
}
