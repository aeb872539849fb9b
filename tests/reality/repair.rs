//! Carries out the moves of a mending on the simulated loom, and counts what they really take.

use super::{Heddle, Loom};
use endsmeet::fault::{Cost, Move, Way};
use endsmeet::quantity::{Call, Calls, Shaft};

/// Ends that were added from outside the warp count from here; they have no place in the lease.
pub const ADDED: usize = usize::MAX / 2;

/// The loom while it is mended.
#[derive(Debug, Clone)]
pub struct Repair {
    pub loom: Loom,
    /// Ends taken out of the warp.
    removed: Vec<usize>,
    /// Repair heddles hung and not yet used: place and shaft.
    hung: Vec<(usize, u8)>,
    /// Ends added at the edge threaded last, less those taken out there.
    pub last_edge: i64,
    /// Ends added at the first edge.
    pub first_edge: i64,
    /// What was really done.
    pub done: Cost,
}

impl Repair {
    /// The loom before any move.
    pub fn of(loom: &Loom) -> Repair {
        Repair {
            loom: loom.clone(),
            removed: vec![],
            hung: vec![],
            last_edge: 0,
            first_edge: 0,
            done: Cost::default(),
        }
    }

    /// Makes all moves of the way. The loom's first heddle is call 1.
    pub fn make(loom: &Loom, way: &Way) -> Result<Repair, String> {
        let mut repair = Repair::of(loom);
        for step in &way.moves {
            repair
                .step(step)
                .map_err(|why| format!("{step:?}: {why}"))?;
        }
        Ok(repair)
    }

    /// Whether what was done is what the way said that it costs.
    pub fn cost_as_said(&self, said: &Cost) -> bool {
        let handled = |c: &Cost| {
            (
                c.ends_out,
                c.ends_thread,
                c.repair_heddles,
                c.ends_added,
                c.ends_removed,
            )
        };
        handled(&self.done) == handled(said)
    }

    /// Whether no two ends cross on their way from the lease to the heddles.
    pub fn in_lease_order(&self) -> bool {
        let ends = self
            .loom
            .filled
            .iter()
            .flat_map(|h| h.ends.iter())
            .filter(|&&end| end < ADDED);
        ends.clone().zip(ends.skip(1)).all(|(a, b)| a < b)
    }

    /// Whether the warp comes out: as many ends are left for the calls that are left. An end that
    /// was taken out of the cross lacks at the end, one that was added is over there.
    pub fn warp_comes_out(&self) -> bool {
        let held = self.loom.filled.iter().flat_map(|h| h.ends.iter());
        let (added, from_cross): (Vec<usize>, Vec<usize>) =
            held.copied().partition(|&end| end >= ADDED);
        let used = (from_cross.len() + self.removed.len() + self.loom.hanging.len()) as i64;
        let filled = (from_cross.len() + added.len()) as i64;
        used - filled == self.last_edge + self.first_edge
    }

    /// Makes one move.
    pub fn step(&mut self, step: &Move) -> Result<(), String> {
        match step {
            Move::UndoKnots(_)
            | Move::DrawFromReed(_)
            | Move::Sley(_)
            | Move::SleyMoved(..)
            | Move::Knot(_)
            | Move::NewEnd(_) => Ok(()),
            Move::LastEdge(by) => {
                self.last_edge += by;
                let ends = by.unsigned_abs() as u32;
                if *by > 0 {
                    self.done.ends_added += ends;
                } else {
                    self.done.ends_removed += ends;
                }
                Ok(())
            }
            Move::DrawOut(calls) => self.draw_out(*calls),
            Move::Thread(calls) => self.thread(*calls),
            Move::EdgeEnds(by) => self.edge_ends(*by),
            Move::HangHeddle(call, shaft) => {
                self.hung.push((at(*call), shaft.0));
                self.done.repair_heddles += 1;
                Ok(())
            }
            Move::MoveEnd(call, shaft) => self.move_end(at(*call), *shaft),
            Move::Exchange(call) => self.exchange(at(*call)),
            Move::AddEnd(call, shaft) => self.add_end(at(*call), *shaft),
            Move::TakeOut(call) => self.take_out(at(*call)),
            Move::TakeSecondOut(call) => self.take_second_out(at(*call)),
            Move::TakeHangingOut(call) => self.take_hanging_out(at(*call)),
            Move::FreeHeddle(shaft) => self.free_heddle(shaft.0),
            Move::PutBackEnds(by) => {
                self.loom.ends_out -= by;
                Ok(())
            }
            Move::PutBackHeddles(shaft, by) => {
                self.loom.heddles_out[shaft.0 as usize - 1] -= by;
                Ok(())
            }
            Move::CallsStand(calls) => {
                self.loom.made = *calls as usize;
                Ok(())
            }
            Move::Amend(call, shafts) => {
                let from = at(*call);
                let until = (from + shafts.len()).max(self.loom.made);
                let rest = self.loom.planned.get(until..).unwrap_or_default().to_vec();
                self.loom.planned.truncate(from);
                self.loom.planned.extend(shafts.iter().map(|s| s.0));
                self.loom.made = self.loom.planned.len();
                self.loom.planned.extend(rest);
                Ok(())
            }
        }
    }

    fn draw_out(&mut self, calls: Calls) -> Result<(), String> {
        let (from, to) = (at(calls.first), at(calls.last) + 1);
        if to > self.loom.filled.len() {
            return Err(format!(
                "only {} heddles are filled",
                self.loom.filled.len()
            ));
        }
        for heddle in self.loom.filled.drain(from..to) {
            self.done.ends_out += heddle.ends.len() as u32;
        }
        // one that hangs just before the first heddle drawn comes to hand too
        self.loom.hanging.retain(|&(filled, _)| filled < from);
        self.loom.passed.retain(|&(filled, _)| filled < from);
        Ok(())
    }

    /// The first end of the lease that is in no heddle, does not hang unseen and is not taken out.
    pub fn free_end(&self) -> usize {
        let taken = |end: &usize| {
            self.loom.filled.iter().any(|h| h.ends.contains(end))
                || self.loom.hanging.iter().any(|(_, hanging)| hanging == end)
                || self.removed.contains(end)
        };
        (0..).find(|end| !taken(end)).expect("ends go on")
    }

    fn thread(&mut self, calls: Calls) -> Result<(), String> {
        for place in at(calls.first)..=at(calls.last) {
            if place > self.loom.filled.len() {
                return Err(format!("call {} before the one before it", place + 1));
            }
            let shaft = *self.loom.planned.get(place).ok_or("no such call")?;
            let heddle = Heddle {
                shaft,
                ends: vec![self.free_end()],
            };
            self.loom.filled.insert(place, heddle);
            self.done.ends_thread += 1;
        }
        Ok(())
    }

    fn edge_ends(&mut self, by: i64) -> Result<(), String> {
        if by < 0 {
            self.removed.push(self.free_end());
            self.done.ends_removed += 1;
            return Ok(());
        }
        // the added end lies before all others: they count one further
        let held = self.loom.filled.iter_mut().flat_map(|h| &mut h.ends);
        for end in held.filter(|end| **end < ADDED) {
            *end += 1;
        }
        self.first_edge += 1;
        self.done.ends_added += 1;
        Ok(())
    }

    /// A repair heddle hung there, or a free one that can still be pushed up to the place.
    fn heddle(&mut self, place: usize, from: usize, shaft: u8) -> Result<(), String> {
        if let Some(hung) = self
            .hung
            .iter()
            .position(|&(at, on)| at == from && on == shaft)
        {
            self.hung.remove(hung);
            return Ok(());
        }
        let later = &self.loom.filled[from.min(self.loom.filled.len())..];
        if later.iter().any(|heddle| heddle.shaft == shaft) {
            return Err(format!(
                "no heddle of shaft {shaft} can be had at place {place}"
            ));
        }
        Ok(())
    }

    fn move_end(&mut self, place: usize, shaft: Shaft) -> Result<(), String> {
        self.heddle(place, place + 1, shaft.0)?;
        self.loom
            .filled
            .get_mut(place)
            .ok_or("no such heddle")?
            .shaft = shaft.0;
        self.done.ends_out += 1;
        self.done.ends_thread += 1;
        Ok(())
    }

    fn exchange(&mut self, place: usize) -> Result<(), String> {
        let [a, b] = self
            .loom
            .filled
            .get_mut(place..place + 2)
            .ok_or("no such heddles")?
        else {
            return Err("not two".into());
        };
        std::mem::swap(&mut a.shaft, &mut b.shaft);
        self.done.ends_out += 2;
        self.done.ends_thread += 2;
        Ok(())
    }

    fn add_end(&mut self, place: usize, shaft: Shaft) -> Result<(), String> {
        self.heddle(place, place, shaft.0)?;
        if place > self.loom.filled.len() {
            return Err("beyond the line".into());
        }
        self.loom.filled.insert(
            place,
            Heddle {
                shaft: shaft.0,
                ends: vec![ADDED + self.done.ends_added as usize],
            },
        );
        self.done.ends_added += 1;
        self.done.ends_thread += 1;
        Ok(())
    }

    fn take_out(&mut self, place: usize) -> Result<(), String> {
        if place >= self.loom.filled.len() {
            return Err("no such heddle".into());
        }
        let heddle = self.loom.filled.remove(place);
        self.done.ends_out += heddle.ends.len() as u32;
        self.done.ends_removed += heddle.ends.len() as u32;
        self.removed.extend(heddle.ends);
        Ok(())
    }

    fn take_second_out(&mut self, place: usize) -> Result<(), String> {
        let heddle = self.loom.filled.get_mut(place).ok_or("no such heddle")?;
        if heddle.ends.len() != 2 {
            return Err("it does not hold two".into());
        }
        self.removed.extend(heddle.ends.pop());
        self.done.ends_out += 1;
        self.done.ends_removed += 1;
        Ok(())
    }

    fn take_hanging_out(&mut self, place: usize) -> Result<(), String> {
        let after = |filled: usize| self.loom.hanging.iter().position(|&(at, _)| at == filled);
        // before the batch's first heddle, where none hangs after it
        let found = after(place + 1)
            .or_else(|| after(place))
            .ok_or("no end hangs there")?;
        self.removed.push(self.loom.hanging.remove(found).1);
        self.done.ends_removed += 1;
        Ok(())
    }

    fn free_heddle(&mut self, shaft: u8) -> Result<(), String> {
        if let Some(found) = self.loom.passed.iter().position(|&(_, on)| on == shaft) {
            self.loom.passed.remove(found);
        }
        self.done.ends_out += 1;
        self.done.ends_thread += 1;
        Ok(())
    }
}

fn at(call: Call) -> usize {
    call.0 as usize - 1
}
