//! Questions asked of a finished plan: where a call lies, in which group, batch, dent.
//! Owns no figure of its own.

use super::{Batch, DentEnds, Floats, Group, Plan, Side, Units};
use crate::quantity::{Call, Calls, Fraction, Position, Shaft, inches, inches_in, millimetres};

impl Units {
    /// `in` or `cm`.
    #[must_use]
    pub fn short(self) -> &'static str {
        match self {
            Self::In => "in",
            Self::Cm => "cm",
        }
    }

    /// A length as a tape shows it: the nearest 1/8 inch, or the millimetre.
    #[must_use]
    pub fn tape(self, length: Fraction) -> String {
        match self {
            Self::In => inches(length),
            Self::Cm => millimetres(length),
        }
    }

    /// The same to the nearest 1/16 inch, or the millimetre.
    #[must_use]
    pub fn fine_tape(self, length: Fraction) -> String {
        match self {
            Self::In => inches_in(length, 16),
            Self::Cm => millimetres(length),
        }
    }
}

impl Plan {
    /// Heddled ends, M: calls are 1..=M.
    #[must_use]
    pub fn heddled_ends(&self) -> u32 {
        u32::try_from(self.threading.len()).unwrap_or(u32::MAX)
    }

    /// Ends across the whole warp, N, floats among them: positions are 1..=N.
    #[must_use]
    pub fn positions(&self) -> u32 {
        self.heddled_ends() + 2 * self.edge()
    }

    /// Floats at one edge: 0 or 1.
    fn edge(&self) -> u32 {
        u32::from(self.floats != Floats::None)
    }

    /// The place of a call across the warp, counted from the right; `None` for a call the plan has not.
    #[must_use]
    pub fn position_of(&self, call: Call) -> Option<Position> {
        let from_edge = call.0.checked_add(self.edge())?;
        if call.0 == 0 || call.0 > self.heddled_ends() {
            return None;
        }
        Some(Position(match self.thread_from {
            Side::Right => from_edge,
            Side::Left => self.positions() - from_edge + 1,
        }))
    }

    /// The call at a place; `None` for a float and outside the warp.
    #[must_use]
    pub fn call_at(&self, position: Position) -> Option<Call> {
        let from_edge = match self.thread_from {
            Side::Right => position.0,
            Side::Left => (self.positions() + 1).checked_sub(position.0)?,
        };
        let call = from_edge.checked_sub(self.edge())?;
        (1..=self.heddled_ends())
            .contains(&call)
            .then_some(Call(call))
    }

    /// The two floats: the one at the threading edge first; `None` where there are none.
    #[must_use]
    pub fn float_positions(&self) -> Option<[Position; 2]> {
        if self.floats == Floats::None {
            return None;
        }
        let ends = [Position(1), Position(self.positions())];
        Some(match self.thread_from {
            Side::Right => ends,
            Side::Left => [ends[1], ends[0]],
        })
    }

    /// First and last dent (as numbered in the reed, the smaller first) that hold calls of a run.
    #[must_use]
    pub fn dents_of_calls(&self, run: Calls) -> Option<(u32, u32)> {
        let dents = &self.sley.dents;
        let up = self.thread_from == self.sley_from;
        // Dents run through the calls one way; an empty dent or a float is judged by the filled one next
        // to it, or the last one where there is none.
        let passed = |at: usize, beyond: bool| {
            let next = dents[at..].iter().find_map(|d| match d.ends {
                DentEnds::Calls(calls) => Some(calls),
                DentEnds::Empty | DentEnds::Float { .. } => None,
            });
            next.is_some_and(|calls| match (up, beyond) {
                (true, false) => calls.last < run.first,
                (true, true) => calls.first <= run.last,
                (false, false) => calls.first > run.last,
                (false, true) => calls.last >= run.first,
            })
        };
        let start = first_not(dents.len(), |at| passed(at, false));
        let end = first_not(dents.len(), |at| passed(at, true));
        let held = |d: &&super::Dent| matches!(d.ends, DentEnds::Calls(_));
        let mut filled = dents.get(start..end)?.iter().filter(held);
        let first = filled.next()?.number;
        Some((first, filled.next_back().map_or(first, |d| d.number)))
    }

    /// The dent of a call, by its place in the order of sleying.
    #[must_use]
    pub fn dent_of(&self, call: Call) -> Option<u32> {
        self.dents_of_calls(Calls::new(call.0, call.0)?)
            .map(|(first, _)| first)
    }

    /// The group that a call belongs to.
    #[must_use]
    pub fn group_of(&self, call: Call) -> Option<&Group> {
        let at = self.groups.partition_point(|g| g.calls.last < call);
        self.groups.get(at).filter(|g| g.calls.contains(call))
    }

    /// The shafts that hold an end of this plan, in order; others of the loom stand bare.
    #[must_use]
    pub fn used_shafts(&self) -> Vec<Shaft> {
        let used: std::collections::BTreeSet<Shaft> = self.threading.iter().copied().collect();
        used.into_iter().collect()
    }

    /// Figures of the shafts that hold an end, as figures of all shafts: 0 for those that stand bare. A list
    /// of another length stays as it is.
    #[must_use]
    pub fn on_all_shafts(&self, used: &[i64]) -> Vec<i64> {
        let shafts = self.used_shafts();
        if used.len() != shafts.len() {
            return used.to_vec();
        }
        let mut all = vec![0; usize::from(self.shafts)];
        for (shaft, n) in shafts.into_iter().zip(used) {
            if let Some(place) = all.get_mut(usize::from(shaft.0).wrapping_sub(1)) {
                *place = *n;
            }
        }
        all
    }

    /// The batch that a call belongs to.
    #[must_use]
    pub fn batch_of(&self, call: Call) -> Option<&Batch> {
        let at = self.batches.partition_point(|b| b.calls.last < call);
        self.batches.get(at).filter(|b| b.calls.contains(call))
    }

    /// Heddles that are still needed on each shaft from a call on: what must be left on the loom before it
    /// is threaded. 0 throughout past the last call.
    #[must_use]
    pub fn needed_from(&self, call: Call) -> Vec<u32> {
        let start = (call.0.max(1) as usize - 1).min(self.threading.len());
        let mut needed = vec![0; usize::from(self.shafts)];
        for (at, shaft) in self.threading.iter().enumerate().skip(start) {
            let own =
                u32::try_from(at + 1).is_ok_and(|n| self.doubled.binary_search(&Call(n)).is_err());
            if let Some(count) = needed
                .get_mut(usize::from(shaft.0).saturating_sub(1))
                .filter(|_| own)
            {
                *count += 1;
            }
        }
        needed
    }

    /// From the reed's edge at the sleying side to the far edge of a dent, plan units: where on the tape
    /// the work must have come when that dent is the last one filled.
    #[must_use]
    pub fn tape_of_dent(&self, dent: u32) -> Option<Fraction> {
        let (sley, first) = (&self.sley, self.sley.dents.first()?.number);
        let on = i64::from(dent) - i64::from(first) + 1;
        let way = Fraction::whole(on).over(sley.reed_dents)?;
        sley.from_reed_edge.plus(way)
    }
}

/// The first index of `0..len` at which a condition that holds up to some point no longer holds.
fn first_not(len: usize, holds: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut high) = (0, len);
    while low < high {
        let middle = low + (high - low) / 2;
        if holds(middle) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    low
}
