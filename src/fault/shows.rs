//! What the cloth shows of something wrong that is left as it is. Owns which of the signs are there: neighbours
//! alike, floats, streaks; worked out from the plan's own picks where it has them. Never says a sentence.

use super::{Evidence, Fault, FaultKind, Found, ReedFault, certain, known};
use crate::plan::Plan;
use crate::plan::cloth::Cloth;
use crate::quantity::{Call, Shaft};

/// One sign in the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shows {
    /// Two neighbours move alike in every pick; `float` is the longest float of the weft that this makes,
    /// in ends, where it is longer than the plan's there.
    Alike {
        /// Ends that the weft floats over.
        float: Option<u32>,
    },
    /// An end floats over so many picks, more than any did there by the plan.
    EndFloats(u32),
    /// The weft floats over so many ends there, more than by the plan.
    WeftFloats(u32),
    /// The pattern is broken there, with no float longer than the plan's.
    PatternBroken,
    /// An end that is in no heddle lies loose beside the cloth or in it.
    LooseEnd,
    /// A line where ends stand closer: a thick streak along the warp.
    Thick,
    /// A line where ends stand apart: a thin streak along the warp.
    Thin,
    /// Ends that cross rub, and no shed opens clean there.
    Crossed,
    /// Nothing: a heddle stands empty.
    Nothing,
}

/// So many ends on either side of a fault are looked at; a float of the weft that is longer is not told in
/// its whole length (a judgement, no source).
const BESIDE: usize = 16;

/// What the cloth shows of what was found.
///
/// What stands is compared with the plan end by end and pick by pick, over the repeat of the picks; the
/// signs are those of defect lists (trade reference, section 8, E1 to E3, E8, E10 and E11).
#[must_use]
pub fn shows(plan: &Plan, found: Found) -> Vec<Shows> {
    match found {
        Found::InReed(kind, _) => vec![in_reed(kind)],
        Found::InHeddles(fault) => in_heddles(plan, &fault),
    }
}

fn in_reed(kind: ReedFault) -> Shows {
    match kind {
        ReedFault::EndTooMany | ReedFault::OrderBehind => Shows::Thick,
        ReedFault::DentSkipped | ReedFault::EndTooFew | ReedFault::OrderAhead => Shows::Thin,
        ReedFault::EndsCrossed => Shows::Crossed,
    }
}

fn in_heddles(plan: &Plan, fault: &Fault) -> Vec<Shows> {
    match fault.kind {
        FaultKind::EndHanging => return vec![Shows::LooseEnd],
        FaultKind::HeddlePassed | FaultKind::EndsMiscounted | FaultKind::HeddlesMiscounted => {
            return vec![Shows::Nothing];
        }
        FaultKind::PositionSkipped
        | FaultKind::PositionRepeated
        | FaultKind::EndsDoubled
        | FaultKind::WrongShaft
        | FaultKind::HandfulSkipped
        | FaultKind::HandfulRepeated
        | FaultKind::NeighboursExchanged => {}
    }
    let Some(line) = Line::about(plan, fault) else {
        return vec![Shows::PatternBroken];
    };
    line.signs(plan)
}

/// The ends about a fault, as planned and as they stand.
struct Line {
    planned: Vec<Shaft>,
    stands: Vec<Shaft>,
    /// The first place of `stands` that the fault touches, and the one behind the last.
    touched: (usize, usize),
}

impl Line {
    fn about(plan: &Plan, fault: &Fault) -> Option<Self> {
        let (first, last) = fault.span()?;
        let from = (first.0 as usize).saturating_sub(1 + BESIDE);
        let to = (last.0 as usize + BESIDE).min(plan.threading.len());
        let planned = plan.threading.get(from..to)?.to_vec();
        let start = Call(u32::try_from(from).ok()? + 1);
        let evidence: Evidence = known(start, planned.clone(), plan.shafts, planned.len() as u32);
        let mut stands = certain(*fault).stands(&evidence);
        let at = first.0 as usize - 1 - from;
        if fault.kind == FaultKind::EndsDoubled {
            // the heddle counts once in what stands; its second end lies beside the first
            stands.insert(at.min(stands.len()), *planned.get(at)?);
        }
        let width = (last.0 - first.0) as usize + 1;
        let more = stands.len().saturating_sub(planned.len());
        Some(Self {
            touched: (at, (at + width + more).min(stands.len())),
            planned,
            stands,
        })
    }

    fn signs(&self, plan: &Plan) -> Vec<Shows> {
        let alike = self.alike_by_shaft();
        let (Some(cloth), Some(before)) = (
            Cloth::threaded(plan, &self.stands),
            Cloth::threaded(plan, &self.planned),
        ) else {
            let sign = if alike {
                Shows::Alike { float: None }
            } else {
                Shows::PatternBroken
            };
            return vec![sign];
        };
        let mut signs = Vec::new();
        let weft = longest_weft(&cloth, self.touched);
        let weft = weft.filter(|n| Some(*n) > longest_weft(&before, self.touched));
        if alike_in(&cloth) > alike_in(&before) {
            signs.push(Shows::Alike { float: weft });
        } else {
            signs.extend(weft.map(Shows::WeftFloats));
        }
        let ends = longest_end(&cloth, self.touched);
        let ends = ends.filter(|n| Some(*n) > longest_end(&before, self.touched));
        signs.extend(ends.map(Shows::EndFloats));
        if signs.is_empty() {
            signs.push(Shows::PatternBroken);
        }
        signs
    }

    /// More neighbours on one shaft than planned.
    fn alike_by_shaft(&self) -> bool {
        let alike = |line: &[Shaft]| line.windows(2).filter(|pair| pair[0] == pair[1]).count();
        alike(&self.stands) > alike(&self.planned)
    }
}

/// Neighbours that are up and down in the same picks.
fn alike_in(cloth: &Cloth) -> usize {
    let alike = |call: &u32| {
        let mut picks = 1..=cloth.lifts_given();
        picks.all(|pick| cloth.warp_up(pick, Call(*call)) == cloth.warp_up(pick, Call(call + 1)))
    };
    (1..cloth.calls()).filter(alike).count()
}

/// The longest run over ends on one side that has one of these places in it, in any pick.
fn longest_weft(cloth: &Cloth, (from, to): (usize, usize)) -> Option<u32> {
    let up =
        |pick: u32, at: usize| cloth.warp_up(pick, Call(u32::try_from(at + 1).unwrap_or(u32::MAX)));
    let ends = cloth.calls() as usize;
    let touched = from.saturating_sub(1)..to.min(ends);
    let run = |pick: u32, at: usize| {
        let same = |other: &usize| up(pick, *other) == up(pick, at);
        let before = (0..at).rev().take_while(same).count();
        let after = (at + 1..ends).take_while(same).count();
        before + 1 + after
    };
    let picks = 1..=cloth.lifts_given();
    let runs = picks.flat_map(|pick| touched.clone().map(move |at| (pick, at)));
    let longest = runs.map(|(pick, at)| run(pick, at)).max();
    longest.and_then(|n| u32::try_from(n).ok())
}

/// The longest run over picks, woven on and on, of one of these ends; none for one that never moves.
fn longest_end(cloth: &Cloth, (from, to): (usize, usize)) -> Option<u32> {
    let picks = cloth.lifts_given();
    let run = |at: usize| {
        let call = Call(u32::try_from(at + 1).unwrap_or(u32::MAX));
        let up = |pick: u32| cloth.warp_up((pick - 1) % picks + 1, call);
        let start = (1..=picks).find(|&pick| up(pick) != up(pick + picks - 1))?;
        let (mut longest, mut now) = (1, 0);
        for pick in start..start + picks {
            now = if pick > start && up(pick) == up(pick - 1) {
                now + 1
            } else {
                1
            };
            longest = longest.max(now);
        }
        Some(longest)
    };
    (from..to.min(cloth.calls() as usize)).filter_map(run).max()
}
