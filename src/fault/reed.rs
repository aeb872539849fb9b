//! The tracing of a stretch of the reed that does not come out: from the ends left over and the
//! place of the last filled dent on the tape.
//! Owns the faults of the reed, the choice of a look; never touches the heddles.

use super::impossible::Impossible;
use super::reed_evidence::{ReedEvidence, ReedFault, ReedLook, ReedSeen, ReedSuspect, ReedTracing};
use super::{weigh, weights};
use crate::quantity::Shaft;

/// The most dents that a stretch can have.
pub const MOST_DENTS: usize = 40_000;

/// Traces what the reed has over or short to its dent, for one fault.
///
/// # Errors
/// [`Impossible`] where the evidence cannot be: no dents, more left than there are ends, a dent
/// outside the stretch.
pub fn trace_reed(evidence: &ReedEvidence) -> Result<ReedTracing, Impossible> {
    let reed = Reed::of(evidence)?;
    let counts_agree = evidence.ends_left == 0 && evidence.tape.unwrap_or(0) == 0;
    let (cases, doubted) = reed.fitting(&reed.cases());
    let looked = evidence
        .seen
        .iter()
        .any(|seen| !matches!(seen, ReedSeen::CannotTell { .. }));
    if counts_agree && !looked {
        return Ok(ReedTracing {
            counts_agree,
            settled: true,
            ..ReedTracing::default()
        });
    }
    let settled = cases.len() == 1;
    let look = if settled {
        None
    } else {
        reed.best_look(&cases)
    };
    let all: f64 = cases.iter().map(|case| case.weight).sum();
    let suspect = |case: &Case| ReedSuspect {
        kind: case.kind,
        dent: number(case.at),
        share: case.weight / all,
    };
    let mut suspects: Vec<ReedSuspect> = cases.iter().map(suspect).collect();
    suspects.sort_by(|a, b| b.share.total_cmp(&a.share));
    Ok(ReedTracing {
        counts_agree,
        settled,
        suspects,
        look,
        doubted,
    })
}

/// The ends in each dent as they would stand under an explanation, in the order of sleying; one dent
/// more than planned where the work runs beyond the last one.
#[must_use]
pub fn reed_stands(evidence: &ReedEvidence, suspect: &ReedSuspect) -> Vec<u32> {
    let Ok(reed) = Reed::of(evidence) else {
        return Vec::new();
    };
    let case = Case {
        kind: suspect.kind,
        at: (suspect.dent as usize).saturating_sub(1),
        weight: 0.0,
    };
    let holds = |dent: usize| u32::try_from(reed.holds(&case, dent).1).unwrap_or(0);
    let mut stands: Vec<u32> = (0..=evidence.dents.len()).map(holds).collect();
    if stands.last() == Some(&0) {
        stands.pop();
    }
    stands
}

/// How common a fault of the reed is, per thousand stretches of an inch or two (judgements, common
/// practice without a source).
fn common(kind: ReedFault) -> f64 {
    match kind {
        // the hook finds the next dent but one: the commonest slip in a fine reed
        ReedFault::DentSkipped => 12.0,
        // two ends taken as one, or a count lost within an order such as 2-3
        ReedFault::EndTooMany => 8.0,
        ReedFault::EndTooFew => 8.0,
        // only where the order is uneven
        ReedFault::OrderAhead => 5.0,
        ReedFault::OrderBehind => 5.0,
        ReedFault::EndsCrossed => 4.0,
    }
}

/// The smallest number of dents after which the dents repeat (the prefix function of Knuth, Morris
/// and Pratt, 1977; from memory).
fn period(dents: &[u32]) -> usize {
    let mut border = vec![0_usize; dents.len()];
    for at in 1..dents.len() {
        let mut length = border[at - 1];
        while length > 0 && dents[at] != dents[length] {
            length = border[length - 1];
        }
        border[at] = length + usize::from(dents[at] == dents[length]);
    }
    dents.len() - border.last().copied().unwrap_or(0)
}

fn number(at: usize) -> u32 {
    u32::try_from(at + 1).unwrap_or(u32::MAX)
}

/// One fault at one dent (from 0).
#[derive(Debug, Clone, Copy)]
struct Case {
    kind: ReedFault,
    at: usize,
    weight: f64,
}

/// The stretch with its running sums.
struct Reed<'a> {
    evidence: &'a ReedEvidence,
    /// Ends in all dents before each, and in all at the end.
    before: Vec<i64>,
    /// Dents after which the order repeats.
    period: usize,
}

impl<'a> Reed<'a> {
    fn of(evidence: &'a ReedEvidence) -> Result<Self, Impossible> {
        let dents = evidence.dents.len();
        if dents == 0 || dents > MOST_DENTS {
            return Err(Impossible::DentCount { dents });
        }
        let mut before = vec![0];
        for &ends in &evidence.dents {
            before.push(before.last().copied().unwrap_or(0) + i64::from(ends));
        }
        let counted_out = before[dents];
        if evidence.ends_left > counted_out {
            return Err(Impossible::EndsLeft {
                left: evidence.ends_left,
                counted_out,
                most: counted_out,
            });
        }
        let last = number(dents - 1);
        let dent = |seen: &ReedSeen| match *seen {
            ReedSeen::FirstShaft { dent, .. } | ReedSeen::EndsInDent { dent, .. } => Some(dent),
            ReedSeen::EmptyDent { dent } | ReedSeen::Crossed { dent } => dent,
            ReedSeen::CannotTell { .. } => None,
        };
        let outside = |dent: &u32| *dent == 0 || *dent > last;
        match evidence.seen.iter().filter_map(dent).find(outside) {
            Some(dent) => Err(Impossible::DentOutside {
                dent,
                first: 1,
                last,
            }),
            None => Ok(Self {
                evidence,
                before,
                period: period(&evidence.dents),
            }),
        }
    }

    /// Planned ends of a dent; beyond the stretch the order goes on.
    fn planned(&self, at: usize) -> i64 {
        let dents = &self.evidence.dents;
        let at = if at < dents.len() {
            at
        } else {
            at % self.period
        };
        dents.get(at).copied().map_or(0, i64::from)
    }

    /// All ends of the stretch.
    fn all(&self) -> i64 {
        self.before.last().copied().unwrap_or(0)
    }

    /// Ends before a dent in the plan, also a little beyond the stretch.
    fn sum(&self, at: usize) -> i64 {
        let dents = self.evidence.dents.len();
        let beyond: i64 = (dents..at).map(|at| self.planned(at)).sum();
        self.before[at.min(dents)] + beyond
    }

    /// Ends that the fault puts into the dents before this one, were there ends enough.
    fn ends_before(&self, case: &Case, dent: usize) -> i64 {
        let plan = self.sum(dent);
        if dent <= case.at {
            return plan;
        }
        match case.kind {
            ReedFault::DentSkipped => self.sum(dent - 1),
            ReedFault::EndTooMany => plan + 1,
            ReedFault::EndTooFew => plan - 1,
            ReedFault::OrderAhead => self.sum(dent + 1) - self.planned(case.at),
            ReedFault::OrderBehind => self.sum(dent - 1) + self.planned(case.at - 1),
            ReedFault::EndsCrossed => plan,
        }
    }

    /// The ends of a dent: the first one's place in the stretch, and how many.
    fn holds(&self, case: &Case, dent: usize) -> (i64, i64) {
        let all = self.all();
        let from = self.ends_before(case, dent).min(all);
        (from, self.ends_before(case, dent + 1).min(all) - from)
    }

    /// Whether the fault leaves the ends and the last dent that were reported: she stopped at the
    /// planned last dent, or went on until all ends were in.
    fn leaves_report(&self, case: &Case) -> bool {
        let dents = self.evidence.dents.len();
        let left = self.all() - self.ends_before(case, dents);
        let lacking = (0..dents)
            .rev()
            .take_while(|&dent| self.holds(case, dent).1 == 0)
            .count();
        let planned_last = (0..dents)
            .rev()
            .find(|&dent| self.planned(dent) > 0)
            .unwrap_or(0);
        let place = |dent: usize| i64::try_from(dent).unwrap_or(i64::MAX);
        let tape = |last: usize| Some(place(last) - place(planned_last));
        let told = self
            .evidence
            .tape
            .is_none_or(|told| tape((dents - lacking).saturating_sub(1)) == Some(told));
        if self.evidence.ends_left == left && told {
            return true;
        }
        if left <= 0 || self.evidence.ends_left != 0 || self.evidence.tape.is_none() {
            return false;
        }
        let all_in = |dent: &usize| self.ends_before(case, dent + 1) >= self.all();
        let beyond = (dents..dents + self.period + 2).find(all_in);
        beyond.and_then(tape) == self.evidence.tape
    }

    fn cases(&self) -> Vec<Case> {
        let dents = self.evidence.dents.len();
        let mut cases = Vec::new();
        for at in 0..dents {
            let here = self.planned(at);
            let previous = at.checked_sub(1).map(|at| self.planned(at));
            let next = (at + 1 < dents).then(|| self.planned(at + 1));
            let possible = [
                (ReedFault::DentSkipped, here > 0),
                (ReedFault::EndTooMany, here > 0),
                (ReedFault::EndTooFew, here > 1),
                (
                    ReedFault::OrderAhead,
                    next.is_some_and(|next| next != here && next > 0),
                ),
                (
                    ReedFault::OrderBehind,
                    previous.is_some_and(|p| p != here && p > 0),
                ),
                (
                    ReedFault::EndsCrossed,
                    here > 0 && self.sum(at) + 1 < self.all(),
                ),
            ];
            let open = possible.into_iter().filter(|&(_, possible)| possible);
            cases.extend(open.map(|(kind, _)| Case {
                kind,
                at,
                weight: common(kind),
            }));
        }
        cases.retain(|case| self.leaves_report(case));
        cases
    }

    /// The cases that fit all answers, or all but the one whose doubt leaves most, and that answer.
    fn fitting(&self, cases: &[Case]) -> (Vec<Case>, Option<ReedSeen>) {
        let seen = &self.evidence.seen;
        let fits = |case: &Case, at: usize| self.fits(case, &seen[at]);
        let (left, but) = weigh::fitting(cases, seen.len(), |case| case.weight, fits);
        (left, but.map(|at| seen[at]))
    }

    fn first_shaft(&self, case: &Case, dent: u32) -> Option<Shaft> {
        let (from, ends) = self.holds(case, dent as usize - 1);
        let from = usize::try_from(from).ok().filter(|_| ends > 0)?;
        // crossed ends lie in each other's places
        let crossed = usize::try_from(self.sum(case.at))
            .ok()
            .filter(|_| case.kind == ReedFault::EndsCrossed);
        let from = match crossed {
            Some(at) if from == at => at + 1,
            Some(at) if from == at + 1 => at,
            _ => from,
        };
        self.evidence.shafts.get(from).copied()
    }

    fn fits(&self, case: &Case, seen: &ReedSeen) -> bool {
        match *seen {
            ReedSeen::FirstShaft { dent, shaft } => self.first_shaft(case, dent) == shaft,
            ReedSeen::EndsInDent { dent, ends } => {
                self.holds(case, dent as usize - 1).1 == i64::from(ends)
            }
            ReedSeen::EmptyDent { dent } => self.empty(case) == dent,
            ReedSeen::Crossed { dent } => self.crossed(case) == dent,
            ReedSeen::CannotTell { .. } => true,
        }
    }

    fn empty(&self, case: &Case) -> Option<u32> {
        (case.kind == ReedFault::DentSkipped).then(|| number(case.at))
    }

    fn crossed(&self, case: &Case) -> Option<u32> {
        (case.kind == ReedFault::EndsCrossed).then(|| number(case.at))
    }

    fn answer(&self, case: &Case, look: &ReedLook) -> u64 {
        let place = |dent: Option<u32>| dent.map_or(0, |dent| u64::from(dent) + 1);
        match *look {
            ReedLook::FirstShaft { dent } => self
                .first_shaft(case, dent)
                .map_or(0, |shaft| u64::from(shaft.0) + 1),
            ReedLook::EndsInDent { dent } => self.holds(case, dent as usize - 1).1.unsigned_abs(),
            ReedLook::EmptyDent => place(self.empty(case)),
            ReedLook::Crossed => place(self.crossed(case)),
        }
    }

    fn open_looks(&self, cases: &[Case]) -> Vec<ReedLook> {
        let mut looks = vec![ReedLook::EmptyDent, ReedLook::Crossed];
        let middle = weigh::middle(cases, |case| case.weight);
        let middle = middle.map_or(0, |case| case.at);
        let last = self.evidence.dents.len() - 1;
        for at in middle.saturating_sub(8)..=(middle + 8).min(last) {
            looks.push(ReedLook::FirstShaft { dent: number(at) });
            looks.push(ReedLook::EndsInDent { dent: number(at) });
        }
        let asked = |look: &ReedLook| self.evidence.seen.iter().any(|seen| seen.look() == *look);
        looks.retain(|look| !asked(look));
        looks
    }

    fn best_look(&self, cases: &[Case]) -> Option<ReedLook> {
        let worth = |look: &ReedLook| {
            let answers = cases
                .iter()
                .map(|case| (self.answer(case, look), case.weight));
            weigh::bits(answers) / self.seconds(look)
        };
        weigh::best(self.open_looks(cases), worth)
    }

    fn seconds(&self, look: &ReedLook) -> f64 {
        let along = weights::LOOKING_ALONG_AN_END * self.evidence.dents.len() as f64;
        match look {
            ReedLook::FirstShaft { .. } => weights::SHAFT_IN_A_KNOT,
            ReedLook::EndsInDent { .. } => weights::A_LOOK + 2.0,
            ReedLook::EmptyDent => weights::A_LOOK + along,
            // both sheds have to be opened
            ReedLook::Crossed => weights::A_LOOK + 2.0 * along + 10.0,
        }
    }
}
