//! Dealing ends into dents: order, sections, doubled edges, floats, and where in the reed it all lies.
//! Owns the reed stage's places; never chooses a reed.

use super::spec::OrderSection;
use super::{Dent, DentEnds, ReedMiddle, Side, Sley};
use crate::quantity::{Calls, Fraction};

/// How the heddled ends are to be dealt.
#[derive(Debug, Clone)]
pub(super) struct Deal<'a> {
    /// Orders from the sleying edge; the last may be open.
    pub(super) sections: &'a [OrderSection],
    /// Heddled ends.
    pub(super) heddled: u32,
    /// Ends at each edge that count half a place in their dent.
    pub(super) half_ends: u32,
}

/// Ends in each dent from the sleying edge: from the first filled dent to the last, empty ones between
/// them as 0. A part-filled dent comes at the end of a section, so the last at the finishing side.
pub(super) fn deal(how: &Deal<'_>) -> Vec<u32> {
    let mut dents = Vec::new();
    let mut done = 0;
    for section in how.sections {
        let until = section
            .ends
            .map_or(how.heddled, |n| (done + n).min(how.heddled));
        let mut order = section.order.iter().cycle();
        let mut guard = 0;
        while done < until && guard <= section.order.len() {
            let Some(&places) = order.next() else { break };
            guard = if places == 0 { guard + 1 } else { 0 };
            if places == 0 && done == 0 {
                continue;
            }
            let here = fill(how, done, until, places);
            dents.push(here);
            done += here;
        }
    }
    while dents.last() == Some(&0) {
        dents.pop();
    }
    dents
}

/// How many of the ends from `done` on go into a dent of so many places.
fn fill(how: &Deal<'_>, done: u32, until: u32, places: u32) -> u32 {
    let half = |i: u32| i < how.half_ends || i >= how.heddled.saturating_sub(how.half_ends);
    let mut room = 2 * places;
    let mut here = 0;
    while done + here < until {
        let takes = if half(done + here) { 1 } else { 2 };
        if takes > room {
            break;
        }
        room -= takes;
        here += 1;
    }
    here
}

/// The reed as it lies in the beater.
#[derive(Debug, Clone)]
pub(super) struct Reed {
    /// Dents per plan unit.
    pub(super) per_unit: Fraction,
    /// Its length in plan units.
    pub(super) length: Fraction,
    /// Dents in all.
    pub(super) total: u32,
    /// Its label.
    pub(super) label: String,
    /// How far its middle lies from the loom's middle towards the sleying side, plan units.
    pub(super) off_centre: Fraction,
}

/// What the sleying needs besides the dealt dents.
#[derive(Debug, Clone)]
pub(super) struct Sleying<'a> {
    pub(super) reed: &'a Reed,
    pub(super) order: Vec<u32>,
    /// As typed; empty where there is one order for all.
    pub(super) sections: Vec<OrderSection>,
    pub(super) sett: Fraction,
    pub(super) exact: bool,
    pub(super) heddled: u32,
    pub(super) floats: bool,
    pub(super) thread_from: Side,
    pub(super) sley_from: Side,
}

/// Dents before the first used one: (reed dents - dents used) / 2, moved where the reed's own middle is
/// off the loom's. `None` where the used dents do not lie in the reed.
pub(super) fn before(reed: &Reed, used: u32) -> Option<u32> {
    let even = i128::from(reed.total.checked_sub(used)? / 2);
    let moved = even + reed.off_centre.times(reed.per_unit)?.round();
    let before = u32::try_from(moved).ok()?;
    (before.checked_add(used)? <= reed.total).then_some(before)
}

/// Places the dealt dents in the reed, centred on the loom; an odd spare dent goes to the finishing side.
/// `None` where the reed has fewer dents. First dent offset = (reed dents - dents used) / 2: no printed
/// example was found; common practice, no source.
pub(super) fn sley(how: Sleying<'_>, dealt: &[u32]) -> Option<Sley> {
    let heddled_dents = u32::try_from(dealt.len()).ok()?;
    let float_dents = 2 * u32::from(how.floats);
    let used = heddled_dents.checked_add(float_dents)?;
    let before = before(how.reed, used)?;
    let first_dent = before + 1 + u32::from(how.floats);
    let half = Fraction::new(i64::from(how.reed.total), 2)?;
    let from_own_middle = half
        .minus(Fraction::from(before))?
        .over(how.reed.per_unit)?;
    let from_reed_edge = how
        .reed
        .length
        .over(Fraction::whole(2))?
        .minus(from_own_middle)?;
    let from_middle = from_own_middle.plus(how.reed.off_centre)?;
    let middle = if how.reed.total.is_multiple_of(2) {
        ReedMiddle::Wire
    } else {
        ReedMiddle::Dent
    };
    Some(Sley {
        dents: numbered(&how, dealt, before + 1)?,
        order: how.order,
        sections: how.sections,
        sett: how.sett,
        exact: how.exact,
        reed_dents: how.reed.per_unit,
        reed_total: how.reed.total,
        heddled_dents,
        first_dent,
        from_reed_edge,
        from_middle,
        starts: how.sley_from,
        middle,
        reed: how.reed.label.clone(),
    })
}

fn numbered(how: &Sleying<'_>, dealt: &[u32], first: u32) -> Option<Vec<Dent>> {
    let same_side = how.thread_from == how.sley_from;
    let mut contents = Vec::with_capacity(dealt.len() + 2);
    if how.floats {
        contents.push(DentEnds::Float {
            at_threading_edge: same_side,
        });
    }
    let mut done = 0;
    for &ends in dealt {
        let (first, last) = if same_side {
            (done + 1, done + ends)
        } else {
            (
                (how.heddled + 1).checked_sub(done + ends)?,
                how.heddled - done,
            )
        };
        contents.push(Calls::new(first, last).map_or(DentEnds::Empty, DentEnds::Calls));
        done += ends;
    }
    if how.floats {
        contents.push(DentEnds::Float {
            at_threading_edge: !same_side,
        });
    }
    let dents = contents.into_iter().zip(first..);
    Some(dents.map(|(ends, number)| Dent { number, ends }).collect())
}
