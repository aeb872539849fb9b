//! A loom, a weaver and her slips: what really happens to ends and heddles while a batch is
//! threaded. Written apart from the tracing, and knows nothing of residues: it moves single ends
//! and single heddles, and then counts what lies there and looks at what hangs there.
#![allow(dead_code, reason = "each test file uses its own part")]

pub mod dice;
pub mod draft;
pub mod hands;
pub mod repair;
pub mod warp;

use endsmeet::fault::{Evidence, Fault, FaultKind, Look, LookKind, Seen};
use endsmeet::quantity::{Call, Shaft};

/// A slip of the hand; places are calls of the batch from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slip {
    /// Nothing is done for these calls, first and one past the last.
    Skip(usize, usize),
    /// These calls are done, and then done again.
    Repeat(usize, usize),
    /// Two ends come to hand as one and go through one heddle.
    Double(usize),
    /// An end is passed by before this call and hangs behind the shafts.
    Hang(usize),
    /// The heddle is taken from this shaft.
    Wrong(usize, u8),
    /// Before this call a heddle of this shaft is pushed over with the threaded ones.
    PassEmpty(usize, u8),
    /// The call's end goes through its heddle and through one of this shaft.
    ThroughTwo(usize, u8),
    /// So many ends too many are counted out.
    EndsOut(i64),
    /// So many heddles too many are counted out on this shaft.
    HeddlesOut(u8, i64),
    /// The call and the next one are threaded in each other's heddles.
    Exchange(usize),
    /// The call's end and the next one are taken from the lease in the wrong order.
    Cross(usize),
    /// The end lies beside the eye of its heddle.
    BesideEye(usize),
}

impl Slip {
    /// The calls that it touches, first and one past the last.
    pub fn span(self) -> Option<(usize, usize)> {
        match self {
            Slip::Skip(a, b) | Slip::Repeat(a, b) => Some((a, b)),
            Slip::Double(k) | Slip::Hang(k) | Slip::Wrong(k, _) | Slip::BesideEye(k) => {
                Some((k, k + 1))
            }
            Slip::PassEmpty(k, _) | Slip::ThroughTwo(k, _) => Some((k, k + 1)),
            Slip::Exchange(k) | Slip::Cross(k) => Some((k, k + 2)),
            Slip::EndsOut(_) | Slip::HeddlesOut(..) => None,
        }
    }

    /// Whether two slips touch the same call or the same count.
    pub fn meets(self, other: Slip) -> bool {
        match (self.span(), other.span()) {
            (Some((a, b)), Some((c, d))) => a < d && c < b,
            (None, None) => match (self, other) {
                (Slip::HeddlesOut(a, _), Slip::HeddlesOut(b, _)) => a == b,
                (a, b) => std::mem::discriminant(&a) == std::mem::discriminant(&b),
            },
            _ => false,
        }
    }

    /// Heddles filled more (negative: less) than planned.
    pub fn heddles_more(self) -> i64 {
        match self {
            Slip::Skip(a, b) => -((b - a) as i64),
            Slip::Repeat(a, b) => (b - a) as i64,
            _ => 0,
        }
    }

    /// The same slip so many calls farther on.
    pub fn farther(self, by: usize) -> Slip {
        self.moved(&|at| at + by)
    }

    /// The same slip so many calls back, at the first call if that is farther.
    pub fn nearer(self, by: usize) -> Slip {
        match self.span() {
            Some((from, _)) => self.moved(&|at| at - by.min(from)),
            None => self,
        }
    }

    fn moved(self, to: &dyn Fn(usize) -> usize) -> Slip {
        match self {
            Slip::Skip(a, b) => Slip::Skip(to(a), to(b)),
            Slip::Repeat(a, b) => Slip::Repeat(to(a), to(b)),
            Slip::Double(k) => Slip::Double(to(k)),
            Slip::Hang(k) => Slip::Hang(to(k)),
            Slip::Wrong(k, shaft) => Slip::Wrong(to(k), shaft),
            Slip::PassEmpty(k, shaft) => Slip::PassEmpty(to(k), shaft),
            Slip::ThroughTwo(k, shaft) => Slip::ThroughTwo(to(k), shaft),
            Slip::Exchange(k) => Slip::Exchange(to(k)),
            Slip::Cross(k) => Slip::Cross(to(k)),
            Slip::BesideEye(k) => Slip::BesideEye(to(k)),
            Slip::EndsOut(_) | Slip::HeddlesOut(..) => self,
        }
    }

    /// The slip that a traced fault names. A heddle passed by has no place: it is passed first.
    pub fn of(fault: &Fault, first: Call) -> Slip {
        let at = fault.call.map_or(0, |call| (call.0 - first.0) as usize);
        let shaft = fault.shaft.map_or(0, |s| s.0);
        let len = fault.count as usize;
        match fault.kind {
            FaultKind::PositionSkipped => Slip::Skip(at, at + 1),
            FaultKind::PositionRepeated => Slip::Repeat(at, at + 1),
            FaultKind::EndsDoubled => Slip::Double(at),
            FaultKind::EndHanging => Slip::Hang(at),
            FaultKind::WrongShaft => Slip::Wrong(at, shaft),
            FaultKind::HeddlePassed => Slip::PassEmpty(0, shaft),
            FaultKind::EndsMiscounted => Slip::EndsOut(fault.count),
            FaultKind::HeddlesMiscounted => Slip::HeddlesOut(shaft, fault.count),
            FaultKind::HandfulSkipped => Slip::Skip(at, at + len),
            FaultKind::HandfulRepeated => Slip::Repeat(at, at + len),
            FaultKind::NeighboursExchanged => Slip::Exchange(at),
        }
    }
}

/// A heddle with what goes through it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heddle {
    pub shaft: u8,
    /// The ends in its eye, numbered from 0 in the order of the lease.
    pub ends: Vec<usize>,
}

/// The batch as it hangs in the loom, and the piles beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loom {
    pub planned: Vec<u8>,
    pub shafts: u8,
    /// Filled heddles in the order of threading.
    pub filled: Vec<Heddle>,
    /// Heddles used up for nothing: how many were filled before, and the shaft.
    pub passed: Vec<(usize, u8)>,
    /// Ends hanging loose: how many heddles were filled before, and the end.
    pub hanging: Vec<(usize, usize)>,
    /// The next end of the lease.
    pub next_end: usize,
    /// Counted-out ends that lie there; below 0, so many were taken from beyond.
    pub ends_left: i64,
    /// The same for the heddles of each shaft.
    pub heddles_left: Vec<i64>,
    /// Ends and heddles counted out too many.
    pub ends_out: i64,
    pub heddles_out: Vec<i64>,
    /// Calls made, by the weaver's own reckoning.
    pub made: usize,
}

/// How the weaver behaves where something is missing, and how far she goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weaver {
    /// She stops at the call for which no counted-out end or heddle is left.
    Stops,
    /// She takes what is missing from beyond the count-out.
    GoesOn,
    /// She goes on, and stops before this call whatever happens.
    GoesOnTo(usize),
}

/// One thing that cannot be done, because nothing is left for it.
struct Missing;

impl Loom {
    /// Threads the batch with these slips. `None` where a slip cannot happen: nothing was there to
    /// slip with.
    pub fn thread(planned: &[u8], shafts: u8, slips: &[Slip], weaver: Weaver) -> Option<Loom> {
        let mut loom = Loom::counted_out(planned, shafts, slips);
        let mut at = 0;
        while at < planned.len() {
            let repeated = slips.iter().find_map(|&slip| match slip {
                Slip::Repeat(a, b) if a == at => Some(b),
                _ => None,
            });
            let end = repeated.unwrap_or(at + 1);
            if !loom.pass(at, end, slips, weaver, repeated.is_some())? {
                return Some(loom);
            }
            if repeated.is_some() && !loom.pass(at, end, &[], weaver, false)? {
                return Some(loom);
            }
            at = end;
            loom.made = at;
        }
        Some(loom)
    }

    fn counted_out(planned: &[u8], shafts: u8, slips: &[Slip]) -> Loom {
        let mut heddles_out = vec![0; shafts as usize];
        let mut ends_out = 0;
        for slip in slips {
            match *slip {
                Slip::EndsOut(by) => ends_out += by,
                Slip::HeddlesOut(shaft, by) => heddles_out[shaft as usize - 1] += by,
                _ => {}
            }
        }
        let mut heddles_left = heddles_out.clone();
        for &shaft in planned {
            heddles_left[shaft as usize - 1] += 1;
        }
        Loom {
            planned: planned.to_vec(),
            shafts,
            filled: Vec::new(),
            passed: Vec::new(),
            hanging: Vec::new(),
            next_end: 0,
            ends_left: planned.len() as i64 + ends_out,
            heddles_left,
            ends_out,
            heddles_out,
            made: 0,
        }
    }

    /// One going over of some calls; `Some(false)` where she stopped in it.
    fn pass(
        &mut self,
        from: usize,
        to: usize,
        slips: &[Slip],
        weaver: Weaver,
        again: bool,
    ) -> Option<bool> {
        for at in from..to {
            self.made = at;
            if weaver == Weaver::GoesOnTo(at) && !again {
                // an end hangs before the call at which she stopped
                let hangs = slips.contains(&Slip::Hang(at));
                if hangs {
                    self.hang(weaver).ok()?;
                }
                return Some(false);
            }
            let here: Vec<Slip> = slips
                .iter()
                .copied()
                .filter(|s| s.span().is_some_and(|(a, b)| a <= at && at < b))
                .collect();
            if !self.call(at, &here, weaver)? {
                return Some(false);
            }
        }
        Some(true)
    }

    /// One call. `None`: its slip cannot happen. `Some(false)`: she stops here.
    fn call(&mut self, at: usize, slips: &[Slip], weaver: Weaver) -> Option<bool> {
        let mut shaft = self.planned[at];
        let mut ends = 1;
        let mut also = None;
        for slip in slips {
            match *slip {
                Slip::Skip(..) => return Some(true),
                Slip::Repeat(..) | Slip::Cross(_) | Slip::BesideEye(_) => {}
                Slip::EndsOut(_) | Slip::HeddlesOut(..) => {}
                Slip::Double(_) => ends = 2,
                Slip::Hang(_) => self.hang(weaver).ok()?,
                Slip::Wrong(_, other) => {
                    shaft = other;
                    if !self.has_heddle(shaft, weaver) {
                        return None;
                    }
                }
                Slip::PassEmpty(_, other) => {
                    self.take_heddle(other, weaver).ok()?;
                    self.passed.push((self.filled.len(), other));
                }
                Slip::ThroughTwo(_, other) => also = Some(other),
                Slip::Exchange(k) => shaft = self.planned[if at == k { k + 1 } else { k }],
            }
        }
        if !self.has_heddle(shaft, weaver) || !self.has_ends(1, weaver) {
            return Some(false);
        }
        if !self.has_ends(ends, weaver) {
            return None;
        }
        self.take_heddle(shaft, weaver).ok()?;
        if let Some(other) = also {
            self.take_heddle(other, weaver).ok()?;
            self.passed.push((self.filled.len(), other));
        }
        let ends = (0..ends).map(|_| self.take_end()).collect();
        self.filled.push(Heddle { shaft, ends });
        if slips
            .iter()
            .any(|slip| matches!(slip, Slip::Cross(k) if at == k + 1))
        {
            self.cross_last_two();
        }
        Some(true)
    }

    fn cross_last_two(&mut self) {
        let n = self.filled.len();
        if n >= 2 {
            let earlier = self.filled[n - 2].ends.clone();
            self.filled[n - 2].ends = self.filled[n - 1].ends.clone();
            self.filled[n - 1].ends = earlier;
        }
    }

    fn hang(&mut self, weaver: Weaver) -> Result<(), Missing> {
        if !self.has_ends(1, weaver) {
            return Err(Missing);
        }
        let end = self.take_end();
        self.hanging.push((self.filled.len(), end));
        Ok(())
    }

    fn has_ends(&self, ends: i64, weaver: Weaver) -> bool {
        weaver != Weaver::Stops || self.ends_left >= ends
    }

    fn has_heddle(&self, shaft: u8, weaver: Weaver) -> bool {
        weaver != Weaver::Stops || self.heddles_left[shaft as usize - 1] > 0
    }

    fn take_heddle(&mut self, shaft: u8, weaver: Weaver) -> Result<(), Missing> {
        if !self.has_heddle(shaft, weaver) {
            return Err(Missing);
        }
        self.heddles_left[shaft as usize - 1] -= 1;
        Ok(())
    }

    fn take_end(&mut self) -> usize {
        self.ends_left -= 1;
        self.next_end += 1;
        self.next_end - 1
    }

    /// What the weaver reports, before any look.
    pub fn report(&self, first: Call) -> Evidence {
        let planned = self.planned.iter().map(|&s| Shaft(s)).collect();
        Evidence {
            first,
            planned,
            shafts: self.shafts,
            calls_made: self.made as u32,
            ends_left: self.ends_left,
            heddles_left: self.heddles_left.clone(),
            seen: Vec::new(),
        }
    }

    /// What she sees when asked to look.
    pub fn look(&self, look: &Look, first: Call) -> Seen {
        let call = |at: usize| Call(first.0 + at as u32);
        let found = look.found as usize;
        match look.kind {
            LookKind::ShaftOfHeddle => {
                let asked = look.call.expect("a look at a heddle names it");
                let heddle = self.filled.get((asked.0 - first.0) as usize);
                Seen::Shaft {
                    call: asked,
                    shaft: heddle.map(|h| Shaft(h.shaft)),
                }
            }
            LookKind::HeddleHoldingTwo => {
                let two = self
                    .filled
                    .iter()
                    .enumerate()
                    .filter(|(_, h)| h.ends.len() > 1);
                Seen::Double {
                    call: two.map(|(at, _)| call(at)).nth(found),
                }
            }
            LookKind::EndInNoHeddle => {
                let after = |&(filled, _): &(usize, usize)| call(filled.saturating_sub(1));
                Seen::Hanging {
                    call: self.hanging.get(found).map(after),
                }
            }
            LookKind::EmptyHeddle => Seen::Empty {
                shaft: self.passed.get(found).map(|&(_, s)| Shaft(s)),
            },
            LookKind::EndsInKnot => Seen::Knot {
                ends: self.filled.iter().map(|h| h.ends.len() as u32).sum(),
            },
            LookKind::NeighboursTogether => Seen::Together {
                call: self.together().map(call),
            },
            LookKind::ReadBack => {
                Seen::ReadBack(self.filled.iter().map(|h| Shaft(h.shaft)).collect())
            }
        }
    }

    /// The odd shafts are lifted: walking along all ends, the first heddle whose end (or second
    /// end) lies level with the end after it.
    fn together(&self) -> Option<usize> {
        let ends: Vec<(usize, bool)> = self
            .filled
            .iter()
            .enumerate()
            .flat_map(|(at, heddle)| heddle.ends.iter().map(move |_| (at, heddle.shaft % 2 == 1)))
            .collect();
        ends.windows(2)
            .find(|pair| pair[0].1 == pair[1].1)
            .map(|pair| pair[0].0)
    }

    /// Whether two looms have the same to be mended: the same filled heddles, doubled places,
    /// hanging places, passed heddles and miscounts. Which end is where does not matter.
    pub fn same_to_mend(&self, other: &Loom) -> bool {
        let filled = |loom: &Loom| -> Vec<(u8, usize)> {
            loom.filled
                .iter()
                .map(|h| (h.shaft, h.ends.len()))
                .collect()
        };
        let hanging = |loom: &Loom| -> Vec<usize> {
            loom.hanging
                .iter()
                .map(|&(at, _)| at.saturating_sub(1))
                .collect()
        };
        let passed = |loom: &Loom| {
            let mut shafts: Vec<u8> = loom.passed.iter().map(|&(_, s)| s).collect();
            shafts.sort_unstable();
            shafts
        };
        filled(self) == filled(other)
            && hanging(self) == hanging(other)
            && passed(self) == passed(other)
            && self.ends_out == other.ends_out
            && self.heddles_out == other.heddles_out
    }

    /// Whether the batch stands as planned, as far as it was made: every call's heddle filled with
    /// one end, nothing else.
    pub fn is_as_planned(&self) -> bool {
        self.filled
            .iter()
            .map(|h| h.shaft)
            .eq(self.planned[..self.made].iter().copied())
            && self.filled.iter().all(|h| h.ends.len() == 1)
            && self.hanging.is_empty()
    }

    /// Whether a count alone sees nothing.
    pub fn comes_out_even(&self) -> bool {
        let open = &self.planned[self.made..];
        let still = |shaft: usize| open.iter().filter(|&&s| s as usize == shaft + 1).count() as i64;
        self.ends_left == open.len() as i64
            && self
                .heddles_left
                .iter()
                .enumerate()
                .all(|(shaft, &left)| left == still(shaft))
    }

    /// The loom that these faults would have left, after the same calls made.
    pub fn if_these_were_the_faults(&self, faults: &[Fault], first: Call) -> Option<Loom> {
        let slips: Vec<Slip> = faults.iter().map(|fault| Slip::of(fault, first)).collect();
        let passed = |slip: &&Slip| matches!(slip, Slip::PassEmpty(..));
        let others: Vec<Slip> = slips.iter().filter(|s| !passed(s)).copied().collect();
        let mut loom = Loom::thread(
            &self.planned,
            self.shafts,
            &others,
            Weaver::GoesOnTo(self.made),
        )?;
        for slip in slips.iter().filter(passed) {
            if let Slip::PassEmpty(_, shaft) = *slip {
                loom.passed.push((0, shaft));
            }
        }
        Some(loom)
    }
}
