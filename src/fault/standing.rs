//! What would stand at the loom after given faults, and how each look at it would be answered.
//! Owns the line of filled heddles; never weighs one explanation against another.

use super::evidence::{Evidence, Seen};
use super::kind::{Fault, FaultKind};
use super::look::{Look, LookKind};
use crate::quantity::Call;

/// The batch as it stands.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Standing {
    /// The shaft of each filled heddle, in order. A heddle that an end goes through besides its
    /// own is no place of its own in this line.
    pub line: Vec<u8>,
    /// Places (from 0) of filled heddles that hold two ends, in order.
    pub doubled: Vec<u8>,
    /// Places after which an end hangs loose; 0 also for one before the first.
    pub hanging: Vec<u8>,
    /// Shafts with a heddle that is empty among the threaded, or entered besides another.
    pub empty: Vec<u8>,
}

impl Standing {
    /// The batch of the evidence after these faults.
    pub fn after(evidence: &Evidence, faults: &[Fault]) -> Self {
        let made = evidence.calls_made as usize;
        let mut standing = Self {
            line: Vec::with_capacity(made + 4),
            ..Self::default()
        };
        for fault in faults {
            if let (FaultKind::HeddlePassed, Some(shaft)) = (fault.kind, fault.shaft) {
                standing.empty.push(shaft.0);
            }
        }
        standing.empty.sort_unstable();
        let placed: Vec<Placed> = faults
            .iter()
            .filter_map(|f| Placed::of(f, evidence))
            .collect();
        // one who stopped in a second going over has all of the first behind her
        let gone_over = placed
            .iter()
            .filter(|p| p.repeats() && p.from <= made)
            .map(|p| p.to + 1);
        let reached = gone_over.fold(made, usize::max);
        for at in 0..reached {
            standing.thread(evidence, at, &placed);
        }
        let hangs = |p: &&Placed| p.kind == FaultKind::EndHanging && p.from == made;
        if placed.iter().any(|p| hangs(&p)) && reached == made {
            standing
                .hanging
                .push(short(standing.line.len().saturating_sub(1)));
        }
        standing
    }

    fn thread(&mut self, evidence: &Evidence, at: usize, placed: &[Placed]) {
        let shaft = |at: usize| evidence.planned.get(at).map_or(0, |s| s.0);
        let here = placed.iter().find(|p| p.from <= at && at <= p.to);
        let Some(here) = here else {
            self.line.push(shaft(at));
            return;
        };
        match here.kind {
            FaultKind::PositionSkipped | FaultKind::HandfulSkipped => {}
            FaultKind::PositionRepeated | FaultKind::HandfulRepeated => {
                self.line.push(shaft(at));
                if at == here.to {
                    let made = evidence.calls_made as usize;
                    let again = here.from..(here.to + 1).min(made.max(here.from));
                    self.line.extend(again.map(shaft));
                }
            }
            FaultKind::EndsDoubled => {
                self.doubled.push(short(self.line.len()));
                self.line.push(shaft(at));
            }
            FaultKind::EndHanging => {
                self.hanging.push(short(self.line.len().saturating_sub(1)));
                self.line.push(shaft(at));
            }
            FaultKind::WrongShaft => self.line.push(here.shaft),
            FaultKind::NeighboursExchanged => {
                self.line
                    .push(shaft(if at == here.from { here.to } else { here.from }));
            }
            FaultKind::HeddlePassed | FaultKind::EndsMiscounted | FaultKind::HeddlesMiscounted => {
                self.line.push(shaft(at));
            }
        }
    }

    /// Ends that go through heddles.
    pub fn ends(&self) -> usize {
        self.line.len() + self.doubled.len()
    }

    /// The first place that is on the same side, odd or even, as the next one.
    pub fn together(&self) -> Option<u8> {
        let alike = |pair: &[u8]| pair[0] % 2 == pair[1] % 2;
        let side_by_side = self.line.windows(2).position(alike).map(short);
        let doubled = self.doubled.iter().copied().min();
        side_by_side.into_iter().chain(doubled).min()
    }

    /// The place of the first filled heddle whose shaft is not the plan's.
    pub fn first_wrong(&self, evidence: &Evidence) -> Option<Call> {
        let planned = evidence.planned.iter().map(|s| s.0);
        let at = self
            .line
            .iter()
            .zip(planned)
            .position(|(&stands, planned)| stands != planned);
        at.map(|at| evidence.call_of(at))
    }

    /// Whether the answer at this place of the evidence is what this standing would show. An
    /// answer that found something adds to those before it; "none" means none besides those.
    pub fn fits(&self, at: usize, evidence: &Evidence) -> bool {
        let Some((seen, before)) = evidence.seen.get(..=at).and_then(<[Seen]>::split_last) else {
            return true;
        };
        let place = |call: &Call| evidence.place_of(*call).map(short);
        let also = || {
            before
                .iter()
                .filter(|other| other.look() == seen.look() && other.found())
        };
        let listed = |list: &[u8], mark: fn(&Seen, &Evidence) -> Option<u8>| {
            let Some(this) = mark(seen, evidence) else {
                return list.len() == also().count();
            };
            let times = also()
                .filter(|other| mark(other, evidence) == Some(this))
                .count();
            list.iter().filter(|&&one| one == this).count() > times
        };
        match seen {
            Seen::Shaft { call, shaft } => {
                let stands = place(call).and_then(|at| self.line.get(usize::from(at)).copied());
                stands == shaft.map(|s| s.0)
            }
            Seen::Double { .. } => listed(&self.doubled, found_mark),
            Seen::Hanging { .. } => listed(&self.hanging, found_mark),
            Seen::Empty { .. } => listed(&self.empty, found_mark),
            Seen::Knot { ends } => self.ends() == *ends as usize,
            Seen::Together { call } => self.together() == call.as_ref().and_then(place),
            Seen::ReadBack(shafts) => {
                let read = shafts.iter().map(|s| s.0);
                shafts.len() <= self.line.len()
                    && self.line.iter().copied().zip(read).all(|(a, b)| a == b)
            }
            Seen::CannotTell { .. } => true,
        }
    }

    /// A number for the answer that a look would get; different answers have different numbers.
    pub fn answer(&self, look: &Look, evidence: &Evidence) -> u64 {
        // all that the look can still find, one asking after another: what is known by now is
        // left out
        let new = |list: &[u8]| {
            let mut list = list.to_vec();
            for seen in evidence
                .seen
                .iter()
                .filter(|seen| seen.look().kind == look.kind)
            {
                let mark = found_mark(seen, evidence);
                if let Some(at) = list.iter().position(|&one| Some(one) == mark) {
                    list.remove(at);
                }
            }
            list.iter()
                .fold(0, |sum, &mark| sum * 256 + u64::from(mark) + 1)
        };
        match look.kind {
            LookKind::ShaftOfHeddle => {
                let at = look.call.and_then(|call| evidence.place_of(call));
                at.and_then(|at| self.line.get(at))
                    .map_or(0, |&shaft| u64::from(shaft))
            }
            LookKind::HeddleHoldingTwo => new(&self.doubled),
            LookKind::EndInNoHeddle => new(&self.hanging),
            LookKind::EmptyHeddle => new(&self.empty),
            LookKind::EndsInKnot => self.ends() as u64,
            LookKind::NeighboursTogether => self.together().map_or(0, |at| u64::from(at) + 1),
            LookKind::ReadBack => self
                .line
                .iter()
                .fold(0xCBF2_9CE4_8422_2325, |mark, &shaft| {
                    (mark ^ u64::from(shaft)).wrapping_mul(0x0100_0000_01B3)
                }),
        }
    }
}

/// What a look for doubled, hanging or empty ones found, as a place from 0 or a shaft.
fn found_mark(seen: &Seen, evidence: &Evidence) -> Option<u8> {
    match seen {
        Seen::Double { call } | Seen::Hanging { call } => {
            call.and_then(|call| evidence.place_of(call)).map(short)
        }
        Seen::Empty { shaft } => shaft.map(|shaft| shaft.0),
        _ => None,
    }
}

fn short(at: usize) -> u8 {
    u8::try_from(at).unwrap_or(u8::MAX)
}

/// A fault with its places in the batch, from 0.
struct Placed {
    kind: FaultKind,
    from: usize,
    to: usize,
    shaft: u8,
}

impl Placed {
    fn repeats(&self) -> bool {
        matches!(
            self.kind,
            FaultKind::PositionRepeated | FaultKind::HandfulRepeated
        )
    }

    fn of(fault: &Fault, evidence: &Evidence) -> Option<Self> {
        let (first, last) = fault.span()?;
        Some(Self {
            kind: fault.kind,
            from: evidence.place_of(first)?,
            to: evidence.place_of(last)?,
            shaft: fault.shaft.map_or(0, |s| s.0),
        })
    }
}
