//! Hands that do on the simulated loom what the program's page says, and nothing else. Keeps, beside
//! the heddles, the reed and the bundles: by single ends, apart from the program's own record.

use super::repair::{ADDED, Repair};
use super::{Heddle, Loom};
use endsmeet::dressing::{Dressing, Task, View};
use endsmeet::fault::Move;
use endsmeet::plan::{DentEnds, Plan};
use endsmeet::quantity::{Call, Calls, Shaft};
use std::collections::BTreeMap;

/// The loom in the hands of one who does as she is told.
#[derive(Debug, Clone)]
pub struct Hands {
    pub repair: Repair,
    /// The place of each sleyed end: the n-th place of an end that the plan has in the reed.
    pub places: BTreeMap<usize, i64>,
    /// Rounds of tying done to each end: 1 or 2.
    pub tied: BTreeMap<usize, u8>,
    /// Whether ends were moved to other places of the reed than planned.
    pub moved: bool,
    /// Ends on the beam to begin with.
    pub wound: usize,
}

impl Hands {
    /// The loom as it stands when the record says what it says and the heddles are as given: sleying
    /// and tying took the ends one after the other as they came.
    pub fn take(loom: &Loom, d: &Dressing, wound: usize) -> Self {
        let mut hands = Self {
            repair: Repair::of(loom),
            places: BTreeMap::new(),
            tied: BTreeMap::new(),
            moved: false,
            wound,
        };
        let upwards = d.plan().sley_from == d.plan().thread_from;
        let mut ends: Vec<usize> = loom.filled.iter().flat_map(|h| h.ends.clone()).collect();
        let mut places: Vec<i64> = marked(d, Task::Sleyed).into_iter().map(i64::from).collect();
        // when all is sleyed an end more than planned took the next place beyond
        let beyond = if upwards { i64::from(d.calls()) + 1 } else { 0 };
        let whole = places.len() == d.calls() as usize;
        if !upwards {
            ends.reverse();
            places.reverse();
        }
        places.extend(whole.then_some(beyond));
        hands.places = ends.into_iter().zip(places).collect();
        for (task, round) in [(Task::TiedFirst, 1), (Task::TiedSecond, 2)] {
            for place in marked(d, task) {
                let at = |(_, at): &(&usize, &i64)| in_bundles(**at, d.plan()) == place;
                let ends = hands.places.iter().filter(at).map(|(end, _)| (*end, round));
                hands.tied.extend(ends);
            }
        }
        hands
    }

    /// Does what the view says before the press.
    pub fn act(&mut self, view: &View, plan: &Plan) -> Result<(), String> {
        match view {
            View::Mending(mending) => self.mend(&mending.now, plan),
            View::Call(call) => (call.calls.first.0..)
                .zip(&call.shafts)
                .try_for_each(|(call, shaft)| self.enter(Call(call), *shaft)),
            View::Sley(sley) => {
                let calls: Vec<u32> = (sley.calls.first.0..=sley.calls.last.0).collect();
                let order = if sley.upwards {
                    calls
                } else {
                    calls.into_iter().rev().collect()
                };
                let mut order = order.into_iter();
                for fill in &sley.dents {
                    for call in order.by_ref().take(fill.ends as usize) {
                        self.sley(Call(call), fill.dent, plan, sley.upwards)?;
                    }
                }
                order
                    .next()
                    .map_or(Ok(()), |call| Err(format!("no dent for {call}")))
            }
            View::Tie(tie) => self.tie(tie.bundle.calls, tie.round, plan),
            _ => Ok(()),
        }
    }

    fn ends_of(&self, calls: Calls) -> Vec<usize> {
        let filled = self.repair.loom.filled.iter();
        let of = filled.skip(calls.first.0 as usize - 1);
        of.take(calls.len() as usize)
            .flat_map(|heddle| heddle.ends.clone())
            .collect()
    }

    fn enter(&mut self, call: Call, shaft: Shaft) -> Result<(), String> {
        let at = call.0 as usize - 1;
        let end = self.repair.free_end();
        if end >= self.ends_there() {
            return Err(format!("no end is left for call {}", call.0));
        }
        if at > self.repair.loom.filled.len() {
            return Err(format!("call {} before the one before it", call.0));
        }
        let heddle = Heddle {
            shaft: shaft.0,
            ends: vec![end],
        };
        self.repair.loom.filled.insert(at, heddle);
        Ok(())
    }

    /// Ends that the warp has by now, the added ones at its edges among them.
    fn ends_there(&self) -> usize {
        (self.wound as i64 + self.repair.first_edge + self.repair.last_edge) as usize
    }

    fn mend(&mut self, step: &Move, plan: &Plan) -> Result<(), String> {
        match step {
            Move::UndoKnots(calls) => {
                self.untie(*calls, plan);
                Ok(())
            }
            Move::DrawFromReed(calls) => {
                let ends = self.ends_of(*calls);
                ends.into_iter()
                    .try_for_each(|end| self.draw_from_reed(end))
            }
            Move::SleyMoved(calls, by) => self.sley_moved(*calls, *by),
            Move::Thread(calls) => (calls.first.0..=calls.last.0)
                .try_for_each(|call| self.enter(Call(call), plan.threading[call as usize - 1])),
            Move::MoveEnd(call, _) | Move::Exchange(call) => {
                let last = call.0 + u32::from(matches!(step, Move::Exchange(_)));
                let handled = self.ends_of(Calls::new(call.0, last).ok_or("no such call")?);
                if handled.iter().any(|end| self.places.contains_key(end)) {
                    return Err("an end goes to another heddle while it is in the reed".into());
                }
                self.repair.step(step)
            }
            _ => {
                let before = self.repair.clone();
                self.repair.step(step)?;
                self.follow(&before)
            }
        }
    }

    /// What left its heddle may not be in the reed any more; ends that count one further keep their
    /// places.
    fn follow(&mut self, before: &Repair) -> Result<(), String> {
        if self.repair.first_edge > before.first_edge {
            let further = |end: usize| if end < ADDED { end + 1 } else { end };
            self.places = self.places.iter().map(|(&e, &p)| (further(e), p)).collect();
            self.tied = self.tied.iter().map(|(&e, &t)| (further(e), t)).collect();
        }
        let held: Vec<usize> = self
            .repair
            .loom
            .filled
            .iter()
            .flat_map(|h| h.ends.clone())
            .collect();
        let gone: Vec<usize> = self
            .places
            .keys()
            .copied()
            .filter(|e| !held.contains(e))
            .collect();
        for end in gone {
            // an end that leaves its heddle for good comes out of the reed with it
            self.draw_from_reed(end)?;
        }
        Ok(())
    }

    fn draw_from_reed(&mut self, end: usize) -> Result<(), String> {
        if self.tied.contains_key(&end) {
            return Err(format!("end {end} is drawn from the reed while it is tied"));
        }
        self.places.remove(&end);
        Ok(())
    }

    /// Every bundle of the plan that has one of these calls comes undone, with the ends that lie in its
    /// places of the reed.
    fn untie(&mut self, calls: Calls, plan: &Plan) {
        let bundles = plan.bundles.iter().map(|bundle| bundle.calls);
        for bundle in bundles.filter(|b| b.first <= calls.last && calls.first <= b.last) {
            let places = &self.places;
            self.tied.retain(|end, _| {
                let place = places.get(end).map(|place| in_bundles(*place, plan));
                !place.is_some_and(|place| bundle.contains(Call(place)))
            });
        }
    }

    fn sley(&mut self, call: Call, dent: u32, plan: &Plan, upwards: bool) -> Result<(), String> {
        let of = plan.sley.dents.iter().find(|d| d.number == dent);
        let Some(DentEnds::Calls(run)) = of.map(|dent| dent.ends) else {
            return Err(format!("dent {dent} is to hold no end"));
        };
        let mut free = (run.first.0..=run.last.0).map(i64::from);
        let taken = |place: &i64| self.places.values().any(|p| p == place);
        let place = if upwards {
            free.find(|place| !taken(place))
        } else {
            free.rfind(|place| !taken(place))
        };
        let place = place.ok_or_else(|| format!("dent {dent} is full at call {}", call.0))?;
        self.set(call, place)
    }

    fn set(&mut self, call: Call, place: i64) -> Result<(), String> {
        let ends = self.ends_of(Calls {
            first: call,
            last: call,
        });
        let [end] = ends[..] else {
            return Err(format!(
                "the heddle of call {} holds {}",
                call.0,
                ends.len()
            ));
        };
        match self.places.insert(end, place) {
            None => Ok(()),
            Some(_) => Err(format!("the end of call {} is sleyed already", call.0)),
        }
    }

    fn sley_moved(&mut self, calls: Calls, by: i64) -> Result<(), String> {
        self.moved = true;
        for call in calls.first.0..=calls.last.0 {
            let place = i64::from(call) - by;
            self.set(Call(call), place)?;
        }
        Ok(())
    }

    /// The bundle's ends, and what else hangs loose among them.
    fn tie(&mut self, calls: Calls, round: Task, plan: &Plan) -> Result<(), String> {
        let rounds = if round == Task::TiedSecond { 2 } else { 1 };
        let mut ends = self.ends_of(calls);
        if let Some(end) = ends.iter().find(|end| !self.places.contains_key(end)) {
            return Err(format!("end {end} is tied before it is sleyed"));
        }
        let here = self.places.iter();
        let here = here.filter(|(_, place)| calls.contains(Call(in_bundles(**place, plan))));
        ends.extend(here.map(|(end, _)| *end));
        for end in ends {
            let tied = self.tied.entry(end).or_default();
            *tied = rounds.max(*tied);
        }
        Ok(())
    }

    /// Whether the loom stands as the record and the plan say.
    pub fn stands_as(&self, d: &Dressing) -> Result<(), String> {
        let loom = &self.repair.loom;
        let threaded = d.ledger().of(Task::Threaded).count() as usize;
        let shafts: Vec<u8> = loom.filled.iter().map(|heddle| heddle.shaft).collect();
        let planned: Vec<u8> = d.plan().threading[..threaded].iter().map(|s| s.0).collect();
        if shafts != planned {
            return Err(format!("threaded {shafts:?}\nplanned {planned:?}"));
        }
        if loom.filled.iter().any(|heddle| heddle.ends.len() != 1) || !loom.hanging.is_empty() {
            return Err("a heddle holds more than one end, or an end hangs".into());
        }
        if !self.repair.in_lease_order() {
            return Err("ends cross".into());
        }
        let used = loom
            .filled
            .iter()
            .flat_map(|h| &h.ends)
            .filter(|&&end| end < ADDED);
        if used.max().is_some_and(|&last| last >= self.ends_there()) {
            return Err("an end is threaded that the warp does not have".into());
        }
        self.reed_as(d)?;
        self.knots_as(d)
    }

    fn reed_as(&self, d: &Dressing) -> Result<(), String> {
        let sleyed = marked(d, Task::Sleyed);
        if sleyed.len() != self.places.len() {
            let (record, loom) = (sleyed.len(), self.places.len());
            return Err(format!("{record} sleyed by the record, {loom} in the reed"));
        }
        let mut lie = Vec::new();
        for call in &sleyed {
            let end = self.repair.loom.filled[*call as usize - 1].ends[0];
            let place = self.places.get(&end);
            lie.push(
                *place.ok_or_else(|| format!("call {call} is in no dent"))? - i64::from(*call),
            );
        }
        let as_planned = lie.iter().all(|off| *off == 0);
        // one wound too many lay in the reed as well: without it all may lie a place off
        let may_move = self.moved || self.wound > d.calls() as usize;
        let as_one = may_move && lie.windows(2).all(|pair| pair[0] == pair[1]);
        if as_planned || as_one {
            Ok(())
        } else {
            Err(format!(
                "they lie so far from their planned places: {lie:?}"
            ))
        }
    }

    fn knots_as(&self, d: &Dressing) -> Result<(), String> {
        for (task, round) in [(Task::TiedFirst, 1), (Task::TiedSecond, 2)] {
            let record = marked(d, task);
            let may_move = self.moved || self.wound > d.calls() as usize;
            if may_move && record.len() < d.calls() as usize {
                // an end at a bundle's edge hangs in the bundle beside it now: which, does not matter
                // as long as all are tied in the end
                continue;
            }
            let held = |call: &u32| {
                let end = self.repair.loom.filled[*call as usize - 1].ends[0];
                self.tied.get(&end).is_some_and(|rounds| *rounds >= round)
            };
            if !record.iter().all(held) {
                return Err(format!("{task:?} by the record, not on the loom"));
            }
            let loom = self
                .tied
                .values()
                .filter(|rounds| **rounds >= round)
                .count();
            if loom != record.len() {
                return Err(format!(
                    "{task:?}: {} by the record, {loom} on the loom",
                    record.len()
                ));
            }
        }
        Ok(())
    }
}

/// A place as the bundles have it: what lies beyond the outermost hangs with it.
fn in_bundles(place: i64, plan: &Plan) -> u32 {
    place.clamp(1, plan.threading.len() as i64) as u32
}

/// The calls that have a task's mark.
fn marked(d: &Dressing, task: Task) -> Vec<u32> {
    let stretches = d.ledger().of(task).stretches().into_iter();
    stretches.flat_map(|run| run.first.0..=run.last.0).collect()
}
