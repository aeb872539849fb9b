//! The first of several faults along a warp, where no single one explains what was counted and seen.
//! The counts say nothing of each then: it is sought by what stands, from a heddle that is right to
//! one that is wrong after it.
//! Owns that search; the faults of one place are listed in `warp_cases`.

use super::kind::FaultKind;
use super::look::alternates;
use super::warp_case::Case;
use super::warp_cases::cases_within;
use super::warp_evidence::{Drift, WarpEvidence, WarpLook, WarpSeen, WarpTracing};
use super::warp_looks::KNOTS_AT_A_LOOK;
use super::{warp, weigh};
use crate::quantity::{Call, Calls};

/// A stretch of so many calls is gone into heddle by heddle; a longer one is halved.
const SHORT: u32 = 12;

/// The longest handful: a fault may begin so many calls before it shows.
const HANDFUL: u32 = 4;

/// After so many answers the knot that is nearest is read back.
const MOST_LOOKS: usize = 48;

/// What stands so many calls after a fault is still taken for its doing.
const ABOUT: u32 = 14;

/// So many heddles on each side are looked at before a fault is believed.
const EACH_SIDE: usize = 3;

/// Something that stands wrong.
#[derive(Clone, Copy)]
enum Sign {
    /// A wrong heddle, and the last right one before it (0 for none).
    Heddle { right: u32, wrong: u32 },
    /// A heddle that rises or stays with the next one.
    Pair(u32),
    /// A knot in which a count or a look found something.
    Knot(u32),
}

/// Traces the first of several faults.
pub(super) fn first_of_several(evidence: &WarpEvidence) -> WarpTracing {
    let seen = counted(&evidence.seen);
    let look = match sign(evidence, &seen) {
        Some(sign) => match halving(evidence, sign) {
            None => return place(evidence, &seen, sign),
            look => look,
        },
        None => next_sign(evidence),
    };
    WarpTracing {
        several: true,
        look,
        ..WarpTracing::default()
    }
}

/// One answer to each look: the one given most often, of as many the latest.
fn counted(seen: &[WarpSeen]) -> Vec<WarpSeen> {
    let mut told: Vec<WarpSeen> = Vec::new();
    for answer in seen {
        let same = |other: &&WarpSeen| other.look() == answer.look();
        let often = |one: &WarpSeen| seen.iter().filter(|other| *other == one).count();
        if matches!(answer, WarpSeen::CannotTell { .. }) {
            continue;
        }
        match told.iter().position(|other| same(&other)) {
            Some(at) if often(answer) >= often(&told[at]) => told[at] = *answer,
            Some(_) => {}
            None => told.push(*answer),
        }
    }
    told
}

fn sign(evidence: &WarpEvidence, seen: &[WarpSeen]) -> Option<Sign> {
    let heddles = seen.iter().filter_map(|seen| match *seen {
        WarpSeen::Shaft { call, shaft } => Some((
            call.0,
            shaft.map(|s| s.0) == Some(evidence.shaft_of(call.0)),
        )),
        _ => None,
    });
    let wrong = heddles
        .clone()
        .filter(|(_, right)| !right)
        .map(|(call, _)| call)
        .min();
    let others = seen.iter().filter_map(|seen| match *seen {
        WarpSeen::OddKnot { odd, .. } | WarpSeen::Risen { odd, .. } => odd.map(Sign::Knot),
        WarpSeen::Hanging { knot } => knot.map(Sign::Knot),
        WarpSeen::Together { call } => call.map(|call| Sign::Pair(call.0)),
        WarpSeen::Shaft { .. } | WarpSeen::CannotTell { .. } => None,
    });
    let until = |sign: &Sign| match *sign {
        Sign::Knot(knot) => evidence.knots[knot as usize - 1].last.0,
        Sign::Pair(call) | Sign::Heddle { wrong: call, .. } => call,
    };
    let first = others.min_by_key(until);
    let before = |sign: &Sign| wrong.is_none_or(|wrong| until(sign) < wrong);
    if let Some(sign) = first.filter(before) {
        return Some(sign);
    }
    let wrong = wrong?;
    let right = heddles.filter(|&(call, right)| right && call < wrong);
    let right = right.map(|(call, _)| call).max();
    let start = evidence.stretch.first.0 - 1;
    Some(Sign::Heddle {
        right: right.unwrap_or(start).max(start.min(wrong - 1)),
        wrong,
    })
}

/// A heddle about the middle between the right and the wrong one; `None` where they are near enough.
/// The one whose shaft is the rarest: a shifted heddle stands right by chance as often as its shaft
/// comes in the draft.
fn halving(evidence: &WarpEvidence, sign: Sign) -> Option<WarpLook> {
    let Sign::Heddle { right, wrong } = sign else {
        return None;
    };
    if wrong - right <= SHORT || evidence.seen.len() >= MOST_LOOKS {
        return None;
    }
    let often = super::evidence::counts(&evidence.planned, evidence.shafts);
    let often = |call: u32| often.get(usize::from(evidence.shaft_of(call)).wrapping_sub(1));
    let middle = right + (wrong - right) / 2;
    let about = (wrong - right) / 8;
    let open = (middle - about..=middle + about).filter(|&call| {
        let look = WarpLook::Shaft { call: Call(call) };
        evidence.times(&look) == 0
    });
    let call = open.min_by_key(|&call| (often(call), call.abs_diff(middle)))?;
    Some(WarpLook::Shaft { call: Call(call) })
}

/// The fault that begins after a right heddle and shows at a wrong one, or in a knot where something
/// was found.
fn place(evidence: &WarpEvidence, seen: &[WarpSeen], sign: Sign) -> WarpTracing {
    let (right, wrong) = match sign {
        Sign::Heddle { right, wrong } => (right, wrong),
        Sign::Pair(call) => (call.saturating_sub(1), call.saturating_add(2)),
        Sign::Knot(knot) => {
            let calls = evidence.knots[knot as usize - 1];
            (calls.first.0 - 1, calls.last.0)
        }
    };
    let wrong = wrong.min(evidence.stretch.last.0);
    let first = right.saturating_sub(HANDFUL).max(evidence.stretch.first.0);
    let knot = evidence.knot_number(wrong).unwrap_or(1);
    let Some(calls) = Calls::new(first, wrong.max(first)) else {
        return WarpTracing::default();
    };
    let cases = cases_within(evidence, calls);
    let weight = |case: &Case| case.weight;
    let fits = |case: &Case, at: usize| fits_about(evidence, case, &seen[at], knot);
    let (cases, dropped) = weigh::fitting(&cases, seen.len(), weight, fits);
    let mut tracing = WarpTracing {
        several: true,
        ..WarpTracing::default()
    };
    // one answer that speaks against every fault there is looked at once more
    if let Some(at) = dropped {
        let look = seen[at].look();
        if evidence.times(&look) < 2 {
            tracing.again = true;
            tracing.doubted = Some(seen[at]);
            tracing.look = Some(look);
            return tracing;
        }
    }
    tracing.near = Some(knot);
    if cases.is_empty() || dropped.is_some() || evidence.seen.len() >= MOST_LOOKS {
        return tracing;
    }
    let one = cases.iter().all(|case| same_mending(case, &cases[0]));
    let mut on = warp::believed(evidence, &cases, one, EACH_SIDE, tracing);
    if let Sign::Heddle { wrong, .. } = sign {
        // that heddle is wrong, wherever it began
        on.near = on.near.and(evidence.knot_number(wrong));
    }
    on
}

/// How far a shift goes on is seen by its mending anyway: what is mended is where it began.
fn same_mending(a: &Case, b: &Case) -> bool {
    let (kind, _, run) = a.mending();
    let (other, _, other_run) = b.mending();
    (kind, run) == (other, other_run)
}

/// Whether an answer is what this fault would show, as far as another one farther on cannot have
/// changed it: up to the end of the knot in which it shows, or a little farther.
fn fits_about(evidence: &WarpEvidence, case: &Case, seen: &WarpSeen, knot: u32) -> bool {
    let last = evidence
        .knots
        .get(knot as usize - 1)
        .map_or(0, |calls| calls.last.0)
        .max(case.call + ABOUT);
    let within = |odd: Option<u32>| odd.filter(|&odd| odd <= knot);
    match *seen {
        WarpSeen::Shaft { call, .. } => call.0 > last || case.fits(evidence, seen),
        WarpSeen::OddKnot { first, last, odd } => {
            let shown = case
                .odd_knot(evidence)
                .filter(|_| case.drift == Drift::KnotOnly);
            within(shown.filter(|knot| (first..=last).contains(knot))) == within(odd)
        }
        WarpSeen::Together { call } => {
            let shown = case.together().filter(|&call| call <= last);
            shown == call.map(|call| call.0).filter(|&call| call <= last)
        }
        WarpSeen::Hanging { knot: found } => {
            let hangs = case.kind == FaultKind::EndHanging;
            let at = evidence.knot_number(case.call).filter(|_| hangs);
            at == within(found)
        }
        WarpSeen::Risen { shaft, odd, .. } => {
            // what rises more or less in that knot goes through a heddle of that shaft, or should
            within(odd).is_none()
                || case.shaft == shaft.0
                || evidence.shaft_of(case.call) == shaft.0
                || case.kind.shifts()
        }
        WarpSeen::CannotTell { .. } => true,
    }
}

/// A look for something that stands wrong, the cheaper and the likelier to show it first.
fn next_sign(evidence: &WarpEvidence) -> Option<WarpLook> {
    let stretch = evidence.stretch;
    let mut looks = vec![WarpLook::Shaft { call: stretch.last }];
    if alternates(evidence.planned.iter().map(|shaft| shaft.0)) {
        looks.push(WarpLook::Together);
    }
    looks.push(WarpLook::Hanging);
    let knots = evidence.knot_number(stretch.first.0);
    let (first, last) = knots.zip(evidence.knot_number(stretch.last.0))?;
    let off = evidence.heddles_left.iter().flatten().zip(1..);
    let off = off.filter(|(left, _)| **left != 0).map(|(_, shaft)| shaft);
    looks.extend(off.map(|shaft| WarpLook::Risen {
        first,
        last,
        shaft: crate::quantity::Shaft(shaft),
    }));
    let runs = (first..=last).step_by(KNOTS_AT_A_LOOK as usize);
    looks.extend(runs.map(|first| WarpLook::OddKnot {
        first,
        last: last.min(first + KNOTS_AT_A_LOOK - 1),
    }));
    looks.into_iter().find(|look| evidence.times(look) == 0)
}
