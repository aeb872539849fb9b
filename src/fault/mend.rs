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
struct Scene<'a> {
    evidence: &'a Evidence,
    faults: &'a [Fault],
    work: &'a Work,
    stands: Standing,
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
    fn call(&self, at: usize) -> Call {
        self.evidence.call_of(at)
    }

    fn run(&self, from: usize, to: usize) -> Option<Calls> {
        Calls::new(self.call(from).0, self.call(to.checked_sub(1)?).0)
    }

    fn made(&self) -> usize {
        self.evidence.calls_made as usize
    }

    /// Whether nothing was threaded after this batch.
    fn just_threaded(&self) -> bool {
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
        let touched = out.into_iter().chain(thread).reduce(join)?;
        let ahead = u32::try_from(from).ok().filter(|_| from > self.made());
        let moves = [
            Some(Move::UndoKnots(touched)),
            self.work.sleyed_in(touched).map(Move::DrawFromReed),
            out.map(Move::DrawOut),
            ahead.map(Move::CallsStand),
            thread.map(Move::Thread),
            self.work.sleyed_in(touched).map(Move::Sley),
            thread.map(Move::Knot),
        ];
        let doubled = self
            .stands
            .doubled
            .iter()
            .filter(|&&at| usize::from(at) >= from)
            .count();
        let cost = Cost {
            ends_out: out.map_or(0, Calls::len) + u32::try_from(doubled).unwrap_or(0),
            ends_thread: thread.map_or(0, Calls::len),
            ..self.around(touched)
        };
        Some(self.way(kind, moves.into_iter().flatten().collect(), cost))
    }

    /// Knots, bundles and sleyed ends of a run that is undone.
    fn around(&self, touched: Calls) -> Cost {
        let batch = self.evidence.calls().max(1);
        Cost {
            // a knot for each batch: what the run cuts into
            knots: touched.len().div_ceil(batch),
            bundles: self.work.bundles_in(touched),
            ends_sley: self.work.sleyed_in(touched).map_or(0, Calls::len),
            ..Cost::default()
        }
    }

    fn way(&self, kind: WayKind, moves: Vec<Move>, cost: Cost) -> Way {
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
        let way = self
            .again(WayKind::FromTheFault, self.from)
            .filter(|_| worth && !only_passed);
        way.map(|way| self.freeing_passed(way))
    }

    /// A heddle passed by may lie before the place from which all is threaded again.
    fn freeing_passed(&self, mut way: Way) -> Way {
        for shaft in self.stands.empty.iter().map(|&shaft| Shaft(shaft)) {
            way.moves.push(Move::FreeHeddle(shaft));
            way.cost.ends_out += 1;
            way.cost.ends_thread += 1;
        }
        way.cost = way.cost.at_pace(self.work.seconds_per_end);
        way
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
        let moves = [
            Some(Move::UndoKnots(touched)),
            self.work.sleyed_in(touched).map(Move::DrawFromReed),
            out.map(Move::DrawOut),
            Some(Move::EdgeEnds(edge)),
            thread.map(Move::Thread),
            self.work.sleyed_in(touched).map(Move::Sley),
            Some(Move::Knot(touched)),
        ];
        let cost = Cost {
            ends_out: last_out,
            ends_thread: last_thread,
            ends_added: u32::from(edge > 0),
            ends_removed: u32::from(edge < 0),
            ..self.around(touched)
        };
        Some(self.way(
            WayKind::ToTheFirstEdge,
            moves.into_iter().flatten().collect(),
            cost,
        ))
    }

    fn on_the_spot(&self) -> Option<Way> {
        let mut moves = Vec::new();
        let mut cost = Cost::default();
        let mut line = self.stands.line.clone();
        let spots = spots(self.evidence, self.faults, self.stands.line.len());
        let placed = spots
            .iter()
            .filter_map(|spot| spot.place())
            .map(|at| self.call(at));
        let touched = placed
            .filter_map(|call| Calls::new(call.0, call.0))
            .reduce(join);
        moves.extend(touched.map(Move::UndoKnots));
        for spot in &spots {
            self.right(*spot, &mut line, &mut moves, &mut cost);
        }
        for fault in self.faults.iter().filter(|fault| fault.kind.is_miscount()) {
            moves.extend(match fault.shaft {
                Some(shaft) => [Move::PutBackHeddles(shaft, fault.count)],
                None => [Move::PutBackEnds(fault.count)],
            });
        }
        self.reed_around(&spots, &mut moves, &mut cost);
        cost.knots = u32::from(touched.is_some());
        moves.extend(touched.map(Move::Knot));
        // the calls may stand one further than they were counted
        let stand = line.len();
        if stand != self.made() {
            moves.push(Move::CallsStand(u32::try_from(stand).ok()?));
        }
        (!spots.is_empty()).then(|| self.way(WayKind::OnTheSpot, moves, cost))
    }

    fn right(&self, spot: Spot, line: &mut Vec<u8>, moves: &mut Vec<Move>, cost: &mut Cost) {
        match spot {
            Spot::Missing(at, shaft) => {
                self.heddle_for(at, shaft, line, moves, cost);
                line.insert(at.min(line.len()), shaft.0);
                moves.push(Move::AddEnd(self.call(at), shaft));
                cost.ends_thread += 1;
                cost.ends_added += 1;
            }
            Spot::TooMany(at) => {
                if at < line.len() {
                    line.remove(at);
                }
                moves.push(Move::TakeOut(self.call(at)));
                cost.ends_out += 1;
                cost.ends_removed += 1;
            }
            Spot::Wrong(at, shaft) => {
                self.heddle_for(at + 1, shaft, line, moves, cost);
                if let Some(stands) = line.get_mut(at) {
                    *stands = shaft.0;
                }
                moves.push(Move::MoveEnd(self.call(at), shaft));
                cost.ends_out += 1;
                cost.ends_thread += 1;
            }
            Spot::Exchanged(at) => {
                if at + 1 < line.len() {
                    line.swap(at, at + 1);
                }
                moves.push(Move::Exchange(self.call(at)));
                cost.ends_out += 2;
                cost.ends_thread += 2;
            }
            Spot::Doubled(at) => {
                moves.push(Move::TakeSecondOut(self.call(at)));
                cost.ends_out += 1;
                cost.ends_removed += 1;
            }
            Spot::Hanging(at) => {
                moves.push(Move::TakeHangingOut(self.call(at)));
                cost.ends_removed += 1;
            }
            Spot::Passed(shaft) => {
                moves.push(Move::FreeHeddle(shaft));
                cost.ends_out += 1;
                cost.ends_thread += 1;
            }
        }
    }

    /// A free heddle of the shaft can be had at this place only while no later one is filled;
    /// else a repair heddle is hung.
    fn heddle_for(
        &self,
        at: usize,
        shaft: Shaft,
        line: &[u8],
        moves: &mut Vec<Move>,
        cost: &mut Cost,
    ) {
        let later = line.get(at..).unwrap_or_default();
        if later.contains(&shaft.0) || !self.just_threaded() {
            moves.push(Move::HangHeddle(self.call(at), shaft));
            cost.repair_heddles += 1;
        }
    }

    /// Where the reed is sleyed: a place more or less moves all to the nearer edge by one; an end
    /// moved in its place needs only its own dent.
    fn reed_around(&self, spots: &[Spot], moves: &mut Vec<Move>, cost: &mut Cost) {
        let run = |spot: &Spot| {
            let call = self.call(spot.place()?);
            if spot.shifts() {
                self.work.to_nearer_sleyed_edge(call)
            } else {
                let last = call.0 + u32::from(matches!(spot, Spot::Exchanged(_)));
                self.work.sleyed_in(Calls::new(call.0, last)?)
            }
        };
        let sley = spots.iter().filter_map(run).reduce(join);
        let placed = spots.iter().filter_map(Spot::place).map(|at| self.call(at));
        let places = placed.filter_map(|call| Calls::new(call.0, call.0));
        let touched = places.chain(sley).reduce(join);
        cost.bundles = touched.map_or(0, |touched| self.work.bundles_in(touched));
        if let Some(sley) = sley {
            moves.insert(0, Move::DrawFromReed(sley));
            moves.push(Move::Sley(sley));
            cost.ends_sley = sley.len();
        }
    }
}

/// The run from the first call of both to the last.
fn join(a: Calls, b: Calls) -> Calls {
    Calls {
        first: a.first.min(b.first),
        last: a.last.max(b.last),
    }
}
