//! A way of putting things right: its moves and what it costs.
//! Owns the shapes and the sum of a cost; never chooses a way and never says one.

use super::new_end::NewEnd;
use crate::quantity::{Call, Calls, Shaft};
use serde::{Deserialize, Serialize};

/// A way of putting things right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WayKind {
    /// Draw the whole batch out and thread it again.
    ThreadAgain,
    /// Draw out from the first wrong place to the last end threaded, and thread that again.
    FromTheFault,
    /// Draw out from the first edge to the fault and thread that again, one end more or less at
    /// that edge.
    ToTheFirstEdge,
    /// Right it where it is: repair heddles, an end moved, added or taken out.
    OnTheSpot,
    /// Put back or fetch what was counted out wrong; nothing is wrong in the heddles.
    PutCountRight,
    /// All stands as planned, only the count of calls is behind: go on from there.
    GoOn,
    /// Leave what stands and change the plan to it.
    AmendPlan,
    /// Leave it as it is; the cloth will show it.
    LeaveIt,
    /// A broken end made good with a new length.
    NewEnd,
}

/// One thing to do. Calls name filled heddles by their place, the batch's first filled heddle being
/// its first call, as they stand when the move is made; moves are made in the order given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Move {
    /// Undo the knots and bundles of these calls.
    UndoKnots(Calls),
    /// Draw these ends out of the reed.
    DrawFromReed(Calls),
    /// Draw the ends of these filled heddles out, and push back with the heddles not threaded all
    /// that are free from there on; ends that hang loose there come to hand too.
    DrawOut(Calls),
    /// Thread these calls as planned, with the ends in the order of the lease.
    Thread(Calls),
    /// The first end of the warp is one more, weighted over the back beam (1), or the outermost
    /// end is taken out of the warp (-1).
    EdgeEnds(i64),
    /// The warp came out with ends too few (positive: so many are added at the edge threaded last,
    /// weighted over the back beam) or too many (negative: so many are taken out there).
    LastEdge(i64),
    /// Hang a repair heddle on this shaft at this place.
    HangHeddle(Call, Shaft),
    /// Move the end of this filled heddle to a heddle of this shaft in the same place.
    MoveEnd(Call, Shaft),
    /// Exchange the ends of this filled heddle and the next, each through the other's heddle.
    Exchange(Call),
    /// Enter an added end, weighted over the back beam, in a heddle of this shaft, so that it
    /// stands at this place.
    AddEnd(Call, Shaft),
    /// Draw the end of this filled heddle out and take it out of the warp; its heddle stays empty.
    TakeOut(Call),
    /// Draw the second end out of this filled heddle and take it out of the warp.
    TakeSecondOut(Call),
    /// Take the end that hangs loose after this filled heddle out of the warp.
    TakeHangingOut(Call),
    /// Free the heddle of this shaft that an end goes through besides its own; an empty one may
    /// stay where it is.
    FreeHeddle(Shaft),
    /// Sley these calls again, each in its planned place.
    Sley(Calls),
    /// Sley these calls again in their order, each so many places of an end nearer the edge threaded
    /// first than planned (negative: nearer the edge threaded last).
    SleyMoved(Calls, i64),
    /// Knot or tie these calls again.
    Knot(Calls),
    /// Put so many counted-out ends back; negative: fetch so many.
    PutBackEnds(i64),
    /// Put so many counted-out heddles of a shaft back; negative: fetch so many.
    PutBackHeddles(Shaft, i64),
    /// So many calls of the batch stand: go on with the next.
    CallsStand(u32),
    /// These shafts stand, from this call on: the plan is changed to them.
    Amend(Call, Vec<Shaft>),
    /// Something done to the new length in place of a broken end.
    NewEnd(NewEnd),
}

/// What a way costs.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Cost {
    /// Ends to draw out of heddles.
    pub ends_out: u32,
    /// Ends to thread.
    pub ends_thread: u32,
    /// Ends to sley again.
    pub ends_sley: u32,
    /// Knots to undo and tie again.
    pub knots: u32,
    /// Bundles to undo and tie on again.
    pub bundles: u32,
    /// Repair heddles to hang.
    pub repair_heddles: u32,
    /// Ends to add, weighted over the back beam.
    pub ends_added: u32,
    /// Ends to take out of the warp.
    pub ends_removed: u32,
    /// Seconds at the given pace.
    pub seconds: f64,
}

/// A way with its moves and cost.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Way {
    /// Which way.
    pub kind: WayKind,
    /// What to do, in order.
    pub moves: Vec<Move>,
    /// What it costs.
    pub cost: Cost,
}

/// How far the work has come, and at what pace.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// The last call that has been threaded in the whole warp.
    pub threaded_to: Call,
    /// Whether that is the last call of the warp: then as many ends were there as it took.
    pub all_threaded: bool,
    /// The runs of calls that are sleyed, in order.
    pub sleyed: Vec<Calls>,
    /// Sleying started at the edge where threading did.
    pub sleyed_upwards: bool,
    /// All is sleyed and the order in the reed is even, so that all on one side of a fault may move
    /// by a place of an end.
    pub reed_may_move: bool,
    /// The bundles that are tied on.
    pub tied: Vec<Calls>,
    /// Seconds to thread one end: from the log, or a first guess of 12 (a judgement).
    pub seconds_per_end: f64,
}

/// What is sleyed again where a place more or less stands in the line of ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct ReedRun {
    /// What comes out of the reed, numbered as it stands before the mending.
    pub out: Option<Calls>,
    /// What is sleyed again, numbered as it stands after it.
    pub calls: Option<Calls>,
    /// Where it goes.
    pub to: ReedPlaces,
}

/// Places in the line where a mending puts ends in or takes them out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Shift {
    /// The first call that it touches.
    pub from: u32,
    /// The first call after all of them that stays what it is, numbered before the mending.
    pub until: u32,
    /// Heddles more than before it (negative: fewer).
    pub heddles: i64,
    /// Whether it is one place, so that all on one side of it move alike.
    pub one: bool,
}

/// Where ends that are sleyed again go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ReedPlaces {
    /// To their planned places.
    Planned,
    /// Out to the edge threaded first, by as many places as ends were added.
    OutToFirst,
    /// Out to the edge threaded last, by as many places as ends were added.
    OutToLast,
}

impl ReedRun {
    /// A run that goes to its planned places.
    pub fn planned(calls: Calls) -> Self {
        Self {
            out: Some(calls),
            calls: Some(calls),
            to: ReedPlaces::Planned,
        }
    }

    /// The move that sleys it again after so many ends were added (negative: taken out).
    pub fn sley(self, added: i64) -> Option<Move> {
        let calls = self.calls?;
        Some(match self.to {
            ReedPlaces::Planned => Move::Sley(calls),
            ReedPlaces::OutToFirst => Move::SleyMoved(calls, added),
            ReedPlaces::OutToLast => Move::SleyMoved(calls, -added),
        })
    }
}

impl Work {
    /// Threading has come as far as this call; nothing is sleyed.
    #[must_use]
    pub fn threading(threaded_to: Call) -> Self {
        Self {
            threaded_to,
            all_threaded: false,
            sleyed: Vec::new(),
            sleyed_upwards: true,
            reed_may_move: false,
            tied: Vec::new(),
            seconds_per_end: 12.0,
        }
    }

    /// The runs of these calls that are sleyed.
    pub(super) fn sleyed_in(&self, calls: Calls) -> Vec<Calls> {
        let both =
            |run: &Calls| Calls::new(run.first.0.max(calls.first.0), run.last.0.min(calls.last.0));
        self.sleyed.iter().filter_map(both).collect()
    }

    /// How many tied bundles have an end in this run.
    pub(super) fn bundles_in(&self, calls: Calls) -> u32 {
        let touches = |tied: &&Calls| tied.first <= calls.last && calls.first <= tied.last;
        u32::try_from(self.tied.iter().filter(touches).count()).unwrap_or(u32::MAX)
    }

    /// What is sleyed again for a shift: all from it away from where sleying started, to the planned
    /// places; or, where the reed may move, all from it to the nearer edge.
    pub(super) fn reed_run(&self, shift: Shift) -> Option<ReedRun> {
        // what stands beyond the last planned end lies in the reed beside it
        let from = Call(shift.from.min(self.threaded_to.0));
        let run = self.sleyed.iter().find(|run| run.contains(from))?;
        let after = i64::from(shift.until) + shift.heddles - 1;
        // sleyed downwards, ends that took the place of missing ones are sleyed beyond the record
        let missing = u32::try_from(shift.heddles).unwrap_or(0);
        let lowest = run.first.0.saturating_sub(missing).max(1);
        let lower = (
            Calls::new(lowest, shift.until - 1),
            Calls::new(run.first.0, u32::try_from(after).unwrap_or(0)),
        );
        // with all sleyed, an end more than planned lies beyond the last one
        let over = u32::try_from(-shift.heddles).unwrap_or(0);
        let beyond = over * u32::from(run.last == self.threaded_to);
        let higher = (
            Calls::new(shift.from, run.last.0 + beyond),
            Calls::new(shift.from, run.last.0),
        );
        let (on, back) = if self.sleyed_upwards {
            (higher, lower)
        } else {
            (lower, higher)
        };
        let len = |run: Option<Calls>| run.map_or(0, Calls::len);
        let moves = self.reed_may_move && shift.one && len(back.1) < len(on.1);
        let (out, calls) = if moves { back } else { on };
        Some(ReedRun {
            out,
            calls,
            to: match (moves, self.sleyed_upwards) {
                (false, _) => ReedPlaces::Planned,
                (true, true) => ReedPlaces::OutToFirst,
                (true, false) => ReedPlaces::OutToLast,
            },
        })
    }

    /// From this call on, away from where sleying started.
    pub(super) fn sleyed_from(&self, call: Call) -> Option<Calls> {
        let run = self.sleyed.iter().find(|run| run.contains(call))?;
        if self.sleyed_upwards {
            Calls::new(call.0, run.last.0)
        } else {
            Calls::new(run.first.0, call.0)
        }
    }
}

impl Cost {
    /// The seconds of all this. As shares of threading one end (judgements, no source): drawing an
    /// end out of its heddle a fifth, sleying an end a half. A knot 10 s, a bundle 40 s, a repair
    /// heddle 90 s, an end to add with its weight 180 s, one to take out 20 s.
    #[must_use]
    pub fn at_pace(mut self, seconds_per_end: f64) -> Self {
        let handled = f64::from(self.ends_out) / 5.0
            + f64::from(self.ends_thread)
            + f64::from(self.ends_sley) / 2.0;
        self.seconds = seconds_per_end * handled
            + 10.0 * f64::from(self.knots)
            + 40.0 * f64::from(self.bundles)
            + 90.0 * f64::from(self.repair_heddles)
            + 180.0 * f64::from(self.ends_added)
            + 20.0 * f64::from(self.ends_removed);
        self
    }
}
