//! Questions asked of a finished plan: where a call lies, in which group, batch, dent.
//! Owns no figure of its own.

use super::{Batch, DentEnds, Floats, Group, Plan, Side, Units};
use crate::quantity::{Call, Calls, Fraction, Position, inches, inches_in, millimetres};

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
        let holds = |ends: DentEnds| match ends {
            DentEnds::Calls(calls) => calls.first <= run.last && run.first <= calls.last,
            DentEnds::Empty | DentEnds::Float { .. } => false,
        };
        let mut numbers = self
            .sley
            .dents
            .iter()
            .filter(|d| holds(d.ends))
            .map(|d| d.number);
        let first = numbers.next()?;
        Some((first, numbers.next_back().unwrap_or(first)))
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

    /// The batch that a call belongs to.
    #[must_use]
    pub fn batch_of(&self, call: Call) -> Option<&Batch> {
        let at = self.batches.partition_point(|b| b.calls.last < call);
        self.batches.get(at).filter(|b| b.calls.contains(call))
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
