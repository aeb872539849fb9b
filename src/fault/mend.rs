//! The ways of mending a suspected batch, each with its true cost.
//! Owns which ways there are; never makes a move and never says one.

use super::evidence::Evidence;
use super::kind::{Fault, FaultKind};
use super::spot::{Spot, spots};
use super::standing::Standing;
use super::trace::Suspect;
use super::way::{Cost, Move, Way, WayKind, Work};
use crate::quantity::{Call, Calls, Shaft};

/// The ways of putting the suspect right. For a batch just threaded "draw out and thread again"
/// comes first; the others follow, the quickest first; amending the plan and leaving it are last.
#[must_use]
pub fn mend(evidence: &Evidence, suspect: &Suspect, work: &Work) -> Vec<Way> {
    let faults = &suspect.faults;
    let scene = Scene::of(evidence, faults, work);
    if faults.iter().all(|fault| fault.kind.is_miscount()) {
        return vec![scene.put_count_right()];
    }
    let mut ways: Vec<Way> = [
        scene.go_on(),
        scene.back_to_the_fault(),
        scene.on_the_spot(),
    ]
    .into_iter()
    .chain([scene.to_the_first_edge()])
    .flatten()
    .collect();
    ways.sort_by(|a, b| a.cost.seconds.total_cmp(&b.cost.seconds));
    if scene.just_threaded() {
        ways.splice(0..0, scene.thread_again());
    }
    ways.extend(scene.amend());
    ways.push(Way {
        kind: WayKind::LeaveIt,
        moves: Vec::new(),
        cost: Cost::default(),
    });
    ways
}

/// The batch as it is supposed to stand, and the work around it.
pub(super) struct Scene<'a> {
    pub evidence: &'a Evidence,
    pub faults: &'a [Fault],
    pub work: &'a Work,
    pub stands: Standing,
    /// The first place, from 0, that is not as planned: a wrong heddle, a doubled or hanging end,
    /// or the end of the line.
    from: usize,
}

impl<'a> Scene<'a> {
    fn of(evidence: &'a Evidence, faults: &'a [Fault], work: &'a Work) -> Self {
        let stands = Standing::after(evidence, faults);
        let planned = evidence.planned.iter().map(|shaft| shaft.0);
        let agrees = stands
            .line
            .iter()
            .zip(planned)
            .take_while(|&(&a, b)| a == b)
            .count();
        let doubled = stands.doubled.iter().map(|&at| usize::from(at));
        // the end that hangs after a heddle belongs in the next one; at the batch's start, perhaps
        // in the first
        let hanging = stands.hanging.iter().map(|&at| usize::from(at));
        let from = doubled.chain(hanging).chain([agrees]).min().unwrap_or(0);
        Self {
            evidence,
            faults,
            work,
            stands,
            from,
        }
    }

    /// The call that stands for a place in the line.
    pub fn call(&self, at: usize) -> Call {
        self.evidence.call_of(at)
    }

    fn run(&self, from: usize, to: usize) -> Option<Calls> {
        Calls::new(self.call(from).0, self.call(to.checked_sub(1)?).0)
    }

    pub fn made(&self) -> usize {
        self.evidence.calls_made as usize
    }

    /// Whether nothing was threaded after this batch.
    pub fn just_threaded(&self) -> bool {
        self.work.threaded_to <= self.evidence.last()
    }

    fn shifts(&self) -> bool {
        self.stands.line.len() != self.made()
            || !self.stands.doubled.is_empty()
            || !self.stands.hanging.is_empty()
    }

    /// Draws out all from this place to the last end threaded, and threads it again.
    fn again(&self, kind: WayKind, from: usize) -> Option<Way> {
        let later = self
            .work
            .threaded_to
            .0
            .saturating_sub(self.evidence.last().0) as usize;
        let (line, to) = (
            self.stands.line.len() + later,
            self.made().max(from) + later,
        );
        let out = self.run(from, line);
        let thread = self.run(from, to);
        let handled = out.into_iter().chain(thread).reduce(join)?;
        let reed = self.reed_of(handled);
        let touched = self.knots_of(reed.iter().copied().fold(handled, join));
        let ahead = u32::try_from(from).ok().filter(|_| from > self.made());
        let passed = self.stands.empty.iter().map(|&shaft| Shaft(shaft));
        let undone = [Move::UndoKnots(touched)].into_iter();
        let undone = undone.chain(reed.iter().copied().map(Move::DrawFromReed));
        let moves = undone
            .chain(out.map(Move::DrawOut))
            // a heddle passed by may lie before the place from which all is threaded again
            .chain(passed.filter(|_| from > 0).map(Move::FreeHeddle))
            .chain(ahead.map(Move::CallsStand))
            .chain(thread.map(Move::Thread))
            .chain(reed.iter().copied().map(Move::Sley))
            .chain(thread.map(Move::Knot));
        let doubled = self
            .stands
            .doubled
            .iter()
            .filter(|&&at| usize::from(at) >= from)
            .count();
        let freed = if from > 0 { self.stands.empty.len() } else { 0 };
        let cost = Cost {
            ends_out: out.map_or(0, Calls::len) + u32::try_from(doubled + freed).unwrap_or(0),
            ends_thread: thread.map_or(0, Calls::len) + u32::try_from(freed).unwrap_or(0),
            ..self.around(touched, &reed)
        };
        Some(self.way(kind, moves.collect(), cost))
    }

    /// The knots of a run: what stands beyond the last planned end hangs in the last knot.
    pub fn knots_of(&self, run: Calls) -> Calls {
        Calls {
            first: run.first.min(self.work.threaded_to),
            last: run.last,
        }
    }

    /// What comes out of the reed with a run that is threaded again and moves what stands after it:
    /// its own ends where sleying went the same way, else all that is sleyed.
    fn reed_of(&self, calls: Calls) -> Vec<Calls> {
        if self.work.sleyed_upwards || !self.shifts() {
            return self.work.sleyed_in(calls);
        }
        // ends that took the place of missing ones are sleyed beyond the record
        let missing = self.made().saturating_sub(self.stands.line.len());
        let missing = u32::try_from(missing).unwrap_or(0);
        let mut sleyed = self.work.sleyed.clone();
        if let Some(run) = sleyed.first_mut() {
            run.first = Call(run.first.0.saturating_sub(missing).max(1));
        }
        sleyed
    }

    /// Knots, bundles and sleyed ends of a run that is undone.
    fn around(&self, touched: Calls, reed: &[Calls]) -> Cost {
        let batch = self.evidence.calls().max(1);
        Cost {
            // a knot for each batch: what the run cuts into
            knots: touched.len().div_ceil(batch),
            bundles: self.work.bundles_in(touched),
            ends_sley: reed.iter().map(|run| run.len()).sum(),
            ..Cost::default()
        }
    }

    pub fn way(&self, kind: WayKind, moves: Vec<Move>, cost: Cost) -> Way {
        Way {
            kind,
            moves,
            cost: cost.at_pace(self.work.seconds_per_end),
        }
    }

    fn thread_again(&self) -> Option<Way> {
        self.again(WayKind::ThreadAgain, 0)
    }

    fn back_to_the_fault(&self) -> Option<Way> {
        let only_passed = self.from >= self.stands.line.len() && self.from >= self.made();
        // an end on a wrong shaft long ago is not worth drawing all out for
        let worth = self.just_threaded() || self.shifts();
        self.again(WayKind::FromTheFault, self.from)
            .filter(|_| worth && !only_passed)
    }

    /// The line is as planned but longer than the calls made.
    fn go_on(&self) -> Option<Way> {
        let stand = self.stands.line.len();
        let ahead =
            self.from == stand && stand > self.made() && stand <= self.evidence.planned.len();
        let calls = u32::try_from(stand).ok()?;
        ahead.then(|| {
            self.way(
                WayKind::GoOn,
                vec![Move::CallsStand(calls)],
                Cost::default(),
            )
        })
    }

    fn put_count_right(&self) -> Way {
        let put = |fault: &Fault| match (fault.kind, fault.shaft) {
            (FaultKind::HeddlesMiscounted, Some(shaft)) => Move::PutBackHeddles(shaft, fault.count),
            _ => Move::PutBackEnds(fault.count),
        };
        let moves = self.faults.iter().map(put).collect();
        self.way(WayKind::PutCountRight, moves, Cost::default())
    }

    fn amend(&self) -> Option<Way> {
        let whole = self.stands.doubled.is_empty() && self.stands.hanging.is_empty();
        let differs = self.stands.first_wrong(self.evidence).is_some()
            || self.stands.line.len() != self.made();
        let line = self.stands.line.iter().map(|&shaft| Shaft(shaft)).collect();
        let moves = vec![Move::Amend(self.evidence.first, line)];
        (whole && differs).then(|| self.way(WayKind::AmendPlan, moves, Cost::default()))
    }

    /// Draws out from the first call of the warp to the fault, for one place too few or too many.
    fn to_the_first_edge(&self) -> Option<Way> {
        let spots = spots(self.evidence, self.faults, self.stands.line.len());
        let [Spot::Missing(at, _) | Spot::TooMany(at)] = spots[..] else {
            return None;
        };
        if self.just_threaded() {
            return None;
        }
        let (last_out, last_thread, edge) = match spots[0] {
            Spot::Missing(..) => (self.call(at).0 - 1, self.call(at).0, 1),
            _ => (self.call(at).0, self.call(at).0 - 1, -1),
        };
        let (out, thread) = (Calls::new(1, last_out), Calls::new(1, last_thread));
        let touched = out.into_iter().chain(thread).reduce(join)?;
        let reed = self.work.sleyed_in(thread.unwrap_or(touched));
        if self.work.sleyed_upwards && !self.work.reed_may_move && !reed.is_empty() {
            return None;
        }
        let sley = |run: Calls| {
            if self.work.sleyed_upwards {
                Move::SleyMoved(run, edge)
            } else {
                Move::Sley(run)
            }
        };
        let lacks = edge < 0 && !self.work.all_threaded;
        let out_of_reed = out
            .map_or_else(Vec::new, |run| self.work.sleyed_in(run))
            .into_iter();
        let moves = [Move::UndoKnots(touched)]
            .into_iter()
            .chain(out_of_reed.map(Move::DrawFromReed))
            .chain(out.map(Move::DrawOut))
            .chain([Move::EdgeEnds(edge)])
            .chain((edge > 0 || lacks).then_some(Move::LastEdge(-edge)))
            .chain(thread.map(Move::Thread))
            .chain(reed.iter().copied().map(sley))
            .chain([Move::Knot(touched)]);
        let cost = Cost {
            ends_out: last_out,
            ends_thread: last_thread,
            // one more at one edge is one less at the other
            ends_added: u32::from(edge > 0 || lacks),
            ends_removed: 1,
            ..self.around(touched, &reed)
        };
        Some(self.way(WayKind::ToTheFirstEdge, moves.collect(), cost))
    }
}

/// The run from the first call of both to the last.
pub(super) fn join(a: Calls, b: Calls) -> Calls {
    Calls {
        first: a.first.min(b.first),
        last: a.last.max(b.last),
    }
}
