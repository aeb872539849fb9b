//! What a typed answer means while something is traced beyond the batch in work: along the warp, in
//! the reed, a reading. Owns no word and never touches a dressing.

use crate::dressing::Answer;
use crate::dressing::state::Dressing;
use crate::fault::{ReedLook, ReedSeen, WarpLook, WarpSeen};
use crate::quantity::{Call, Shaft};

/// What was seen at a look along the warp. A heddle of a pair is said by its knot and its number in
/// it; a knot alone means its first heddle.
pub(super) fn warp_seen(look: WarpLook, line: &str, dressing: &Dressing) -> Option<WarpSeen> {
    if line == "?" {
        return Some(WarpSeen::CannotTell { look });
    }
    let numbers = super::line_answers::numbers_or_none(line)?;
    let one = first(&numbers)?;
    Some(match look {
        WarpLook::Shaft { call } => WarpSeen::Shaft {
            call,
            shaft: shaft(one)?,
        },
        WarpLook::OddKnot { first, last } => WarpSeen::OddKnot {
            first,
            last,
            odd: one,
        },
        WarpLook::Risen { first, last, shaft } => WarpSeen::Risen {
            first,
            last,
            shaft,
            odd: one,
        },
        WarpLook::Together => WarpSeen::Together {
            call: one.map(|knot| heddle(dressing, knot, numbers.get(1).copied())),
        },
        WarpLook::Hanging => WarpSeen::Hanging { knot: one },
    })
}

/// The call of a heddle by its knot and its number in it; one beyond the warp where it has none, which
/// is refused with what would be possible.
fn heddle(dressing: &Dressing, knot: u32, place: Option<i64>) -> Call {
    let batches = &dressing.plan().batches;
    let batch = (knot as usize)
        .checked_sub(1)
        .and_then(|at| batches.get(at));
    let place = u32::try_from(place.unwrap_or(1)).ok();
    let call = batch
        .zip(place.and_then(|place| place.checked_sub(1)))
        .and_then(|(batch, place)| batch.calls.first.0.checked_add(place));
    Call(call.unwrap_or(dressing.calls() + 1))
}

/// What was seen at a look at the reed.
pub(super) fn reed_seen(look: ReedLook, line: &str) -> Option<ReedSeen> {
    if line == "?" {
        return Some(ReedSeen::CannotTell { look });
    }
    let numbers = super::line_answers::numbers_or_none(line)?;
    let one = first(&numbers)?;
    Some(match look {
        ReedLook::FirstShaft { dent } => ReedSeen::FirstShaft {
            dent,
            shaft: shaft(one)?,
        },
        ReedLook::EndsInDent { dent } => ReedSeen::EndsInDent {
            dent,
            ends: one.unwrap_or(0),
        },
        ReedLook::EmptyDent => ReedSeen::EmptyDent { dent: one },
        ReedLook::Crossed => ReedSeen::Crossed { dent: one },
    })
}

/// A handful of shafts, or the end of the reading.
pub(super) fn reading(line: &str) -> Option<Answer> {
    match line {
        "done" => Some(Answer::Numbers(Vec::new())),
        "?" => Some(Answer::CannotTell),
        shafts => super::line_answers::numbers(shafts).map(Answer::Numbers),
    }
}

/// The first of the numbers, none where there is none; `None` for one that cannot be a place.
fn first(numbers: &[i64]) -> Option<Option<u32>> {
    let one = numbers.first().map(|&n| u32::try_from(n)).transpose();
    // 0 says none: no knot, dent or shaft has that number
    one.ok().map(|one| one.filter(|&n| n > 0))
}

fn shaft(one: Option<u32>) -> Option<Option<Shaft>> {
    let shaft = one.map(u8::try_from).transpose().ok()?;
    Some(shaft.map(Shaft))
}
