//! The look at a group's end, where the counts agree: the one that would uncover most of what
//! counts cannot see, for its seconds.
//! Owns that choice; never reads an answer.

use super::class::stand;
use super::evidence::{Evidence, LONGEST};
use super::look::{Look, LookKind, alternates};
use super::standing::Standing;
use super::suspects::explanations;
use crate::plan::handfuls;
use crate::quantity::{Call, Shaft};

/// The look at the end of a stretch that came out even: the one that would uncover the largest
/// share of its silent faults (each by how common it is) per second. Never the kind asked last,
/// and never the shaft of a call of the last handful, which is still in the ear (of its last call,
/// where there is only one handful).
///
/// `first` is the stretch's first call; of more than 128 calls the last 128 are looked at.
#[must_use]
pub fn group_end_look(first: Call, planned: &[Shaft], last_kind: Option<LookKind>) -> Look {
    let skipped = planned.len().saturating_sub(LONGEST);
    let planned = planned.get(skipped..).unwrap_or_default();
    let first = Call(first.0.saturating_add(u32::try_from(skipped).unwrap_or(0)));
    let shafts = planned.iter().map(|shaft| shaft.0).max().unwrap_or(1);
    let made = u32::try_from(planned.len()).unwrap_or(0);
    let even = vec![0; usize::from(shafts)];
    let evidence = Evidence::report(first, planned.to_vec(), shafts, made, 0, even);
    let silent = stand(&evidence, explanations(&evidence));
    let right = Standing::after(&evidence, &[]);
    let worth = |look: &Look| {
        let answer = right.answer(look, &evidence);
        let found = silent
            .iter()
            .filter(|(stands, _)| stands.answer(look, &evidence) != answer);
        let share: f64 = found.map(|(_, explanation)| explanation.weight).sum();
        share / look.seconds(planned.len().max(1))
    };
    let worths: Vec<(f64, Look)> = open(&evidence, last_kind)
        .into_iter()
        .map(|look| (worth(&look), look))
        .collect();
    let most = worths.iter().map(|(worth, _)| *worth).fold(0.0, f64::max);
    // of heddles that tell as much, another one from stretch to stretch
    let best: Vec<Look> = worths
        .into_iter()
        .filter(|(worth, _)| *worth >= most * (1.0 - 1e-9))
        .map(|(_, look)| look)
        .collect();
    let turn = first.0 as usize / planned.len().max(1);
    let look = best.get(turn % best.len().max(1)).copied();
    look.unwrap_or(Look::whole(LookKind::ReadBack))
}

fn open(evidence: &Evidence, last_kind: Option<LookKind>) -> Vec<Look> {
    let last_handful = handfuls(&evidence.planned)
        .last()
        .copied()
        .map_or(0, usize::from);
    let ends = evidence.planned.len();
    // where there is only one handful, only its last call is still in the ear
    let in_the_ear = if last_handful < ends { last_handful } else { 1 };
    let heddles = ends.saturating_sub(in_the_ear);
    let lifts = alternates(evidence.planned.iter().map(|shaft| shaft.0));
    let whole = LookKind::ALL.into_iter().filter(|&kind| match kind {
        LookKind::ShaftOfHeddle => false,
        LookKind::NeighboursTogether => lifts,
        _ => true,
    });
    let each = (0..heddles).map(|at| Look::at(evidence.call_of(at)));
    whole
        .map(Look::whole)
        .chain(each)
        .filter(|look| Some(look.kind) != last_kind)
        .collect()
}
