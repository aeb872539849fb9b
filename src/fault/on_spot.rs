//! Righting a batch where it is: repair heddles, an end moved, added or taken out.
//! Owns the moves of this one way and their cost; never makes a move and never says one.

use super::mend::{Scene, join};
use super::spot::{Spot, spots};
use super::way::{Cost, Move, ReedRun, Shift, Way, WayKind};
use crate::quantity::{Calls, Shaft};

/// The moves made so far, what they cost, and the line of shafts as it stands after them.
struct Righting {
    line: Vec<u8>,
    moves: Vec<Move>,
    cost: Cost,
}

impl Scene<'_> {
    /// The way of righting each thing where it is; `None` where nothing in the heddles is to right.
    pub(super) fn on_the_spot(&self) -> Option<Way> {
        let spots = spots(self.evidence, self.faults, self.stands.line.len());
        if spots.is_empty() {
            return None;
        }
        let mut righting = Righting {
            line: self.stands.line.clone(),
            moves: Vec::new(),
            cost: Cost::default(),
        };
        for spot in &spots {
            self.right(*spot, &mut righting);
        }
        let (reed, knots) = (self.reed_around(&spots), self.knots_around(&spots));
        let Righting {
            line,
            moves: righted,
            mut cost,
        } = righting;
        let handled = reed.iter().flat_map(|run| [run.out, run.calls]).flatten();
        let undone = handled.chain(knots).reduce(join);
        let undone = undone.map(|run| self.knots_of(run));
        let mut moves: Vec<Move> = undone.map(Move::UndoKnots).into_iter().collect();
        let out = reed.iter().filter_map(|run| run.out);
        moves.extend(out.map(Move::DrawFromReed));
        moves.extend(righted);
        moves.extend(self.miscounts_righted());
        // the ends that were added are over at the other end of the warp; those taken out lack there,
        // unless all that were too many are threaded
        let lacking = i64::from(cost.ends_removed) - i64::from(cost.ends_added);
        if lacking < 0 || lacking > 0 && !self.work.all_threaded {
            let ends = u32::try_from(lacking.unsigned_abs()).ok()?;
            moves.push(Move::LastEdge(lacking));
            cost.ends_added += if lacking > 0 { ends } else { 0 };
            cost.ends_removed += if lacking < 0 { ends } else { 0 };
        }
        moves.extend(reed.iter().filter_map(|run| run.sley(-lacking)));
        moves.extend(undone.map(Move::Knot));
        // the calls may stand one further than they were counted
        if line.len() != self.made() {
            moves.push(Move::CallsStand(u32::try_from(line.len()).ok()?));
        }
        let sleyed = reed.iter().filter_map(|run| run.calls);
        cost.ends_sley = sleyed.map(Calls::len).sum();
        cost.bundles = undone.map_or(0, |calls| self.work.bundles_in(calls));
        cost.knots = u32::from(undone.is_some());
        Some(self.way(WayKind::OnTheSpot, moves, cost))
    }

    fn miscounts_righted(&self) -> impl Iterator<Item = Move> {
        let miscounts = self.faults.iter().filter(|fault| fault.kind.is_miscount());
        miscounts.map(|fault| match fault.shaft {
            Some(shaft) => Move::PutBackHeddles(shaft, fault.count),
            None => Move::PutBackEnds(fault.count),
        })
    }

    /// The run of the places that are righted.
    fn knots_around(&self, spots: &[Spot]) -> Option<Calls> {
        let runs = spots.iter().filter_map(|spot| {
            let call = self.call(spot.place()?).0;
            // an end more than planned moved the others to the next knot, away from where sleying started
            let more = spot.is_of_two() || spot.heddles() < 0;
            let before = u32::from(more && !self.work.sleyed_upwards);
            Calls::new((call - before).max(1), call + u32::from(spot.is_of_two()))
        });
        runs.reduce(join)
    }

    fn right(&self, spot: Spot, righting: &mut Righting) {
        let Righting { line, moves, cost } = righting;
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

    /// Where the reed is sleyed: a place more or less moves what is sleyed after it by one; an end
    /// moved in its place needs only its own dent. With more than one such place all from the first
    /// of them on go to their planned places.
    fn reed_around(&self, spots: &[Spot]) -> Vec<ReedRun> {
        let shifting: Vec<&Spot> = spots.iter().filter(|spot| spot.shifts()).collect();
        let own = spots.iter().filter(|spot| !spot.shifts());
        let own = own.filter_map(|spot| {
            let call = self.call(spot.place().filter(|_| !spot.hangs())?);
            let last = call.0 + u32::from(spot.is_of_two());
            Calls::new(call.0, last)
        });
        let own = own.flat_map(|calls| self.work.sleyed_in(calls));
        let own = own.map(ReedRun::planned);
        let shift = self.shift(&shifting);
        let runs = own.chain(shift.and_then(|shift| self.work.reed_run(shift)));
        without_overlap(runs.collect())
    }

    /// What the shifting places come to together.
    fn shift(&self, shifting: &[&Spot]) -> Option<Shift> {
        let call = |spot: &&Spot| spot.place().map(|at| self.call(at).0);
        let until = |spot: &&Spot| call(spot).map(|call| call + u32::from(!spot.is_missing()));
        Some(Shift {
            from: shifting.iter().filter_map(call).min()?,
            until: shifting.iter().filter_map(until).max()?,
            heddles: shifting.iter().map(|spot| spot.heddles()).sum(),
            one: shifting.len() == 1,
        })
    }
}

/// What lies in a longer run is sleyed with it.
fn without_overlap(mut runs: Vec<ReedRun>) -> Vec<ReedRun> {
    let long = runs
        .iter()
        .filter_map(|run| run.out)
        .max_by_key(|run| run.len());
    if let Some(long) = long {
        let inside = |run: Calls| long.contains(run.first) && long.contains(run.last);
        let mut kept = false;
        runs.retain(|run| {
            let first_long = run.out == Some(long) && !std::mem::replace(&mut kept, true);
            first_long || !run.out.is_some_and(inside)
        });
    }
    runs.sort_by_key(|run| run.out.or(run.calls));
    runs
}
