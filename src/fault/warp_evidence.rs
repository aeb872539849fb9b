//! What is known of a warp that does not come out, the looks along it and what the tracing comes to.
//! Owns these shapes and the check that such evidence can be; never explains it.

use super::evidence::Evidence;
use super::impossible::Impossible;
use super::kind::FaultKind;
use crate::quantity::{Call, Calls, Shaft};
use serde::{Deserialize, Serialize};

/// The most ends that a warp can have.
pub const MOST_ENDS: usize = 100_000;

/// What is known of a warp that does not come out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WarpEvidence {
    /// The planned shaft of each call of the warp, call 1 first.
    pub planned: Vec<Shaft>,
    /// Shafts on the loom, 1..=64.
    pub shafts: u8,
    /// The calls of each knot (each batch), in the order of threading, without a gap.
    pub knots: Vec<Calls>,
    /// Where the fault can be: from the last balance that agreed to the last call made.
    pub stretch: Calls,
    /// Ends left over at the stretch's end; negative: short.
    pub ends_left: i64,
    /// Heddles left over on each shaft, where they were counted.
    pub heddles_left: Option<Vec<i64>>,
    /// The answers so far.
    pub seen: Vec<WarpSeen>,
}

/// A look along the warp. Calls name filled heddles: the n-th filled heddle of a knot belongs to
/// the n-th call of that knot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WarpLook {
    /// Which shaft holds the filled heddle of this call.
    Shaft {
        /// The call.
        call: Call,
    },
    /// Count the ends in each of these knots: which first has another number than planned.
    OddKnot {
        /// The first knot, from 1.
        first: u32,
        /// The last knot.
        last: u32,
    },
    /// Lift this shaft alone and count the ends that rise in each of these knots: which first has
    /// another number than planned.
    Risen {
        /// The first knot, from 1.
        first: u32,
        /// The last knot.
        last: u32,
        /// The shaft that is lifted.
        shaft: Shaft,
    },
    /// Lift the odd shafts: which heddle first rises or stays together with the next one.
    Together,
    /// Look along behind the shafts: in which knot does an end hang loose.
    Hanging,
}

/// An answer to a look along the warp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WarpSeen {
    /// The shaft of the filled heddle of this call; none where no such heddle is filled.
    Shaft {
        /// The call.
        call: Call,
        /// The shaft.
        shaft: Option<Shaft>,
    },
    /// The first knot of these with another number of ends than planned, or none.
    OddKnot {
        /// The first knot, from 1.
        first: u32,
        /// The last knot.
        last: u32,
        /// The knot found.
        odd: Option<u32>,
    },
    /// The first knot of these in which another number of ends than planned rises, or none.
    Risen {
        /// The first knot, from 1.
        first: u32,
        /// The last knot.
        last: u32,
        /// The shaft that is lifted.
        shaft: Shaft,
        /// The knot found.
        odd: Option<u32>,
    },
    /// The first heddle together with the next one, or none.
    Together {
        /// The filled heddle.
        call: Option<Call>,
    },
    /// The first knot where an end hangs loose, or none.
    Hanging {
        /// The knot found.
        knot: Option<u32>,
    },
    /// She looked and cannot tell.
    CannotTell {
        /// The look.
        look: WarpLook,
    },
}

/// Whether a shift went on past the batch in which it arose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Drift {
    /// The next batch began at its own call again: only this knot has another number of ends.
    KnotOnly,
    /// The calls went on from where she was: every knot has its number, and everything from the
    /// fault on stands shifted.
    ToTheEnd,
}

/// One explanation of a warp that does not come out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WarpSuspect {
    /// What went wrong.
    pub kind: FaultKind,
    /// Whether what follows in later knots is shifted too.
    pub drift: Drift,
    /// Where it can be: one call where it is placed.
    pub calls: Calls,
    /// The shaft that was taken instead, for an end on a wrong one.
    pub taken: Option<Shaft>,
    /// The knot, where only one is left.
    pub knot: Option<u32>,
    /// Its share of all that fit, 0 to 1.
    pub share: f64,
}

/// What the evidence of a warp comes to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct WarpTracing {
    /// Whether one mending is left, and was looked at where it is.
    pub settled: bool,
    /// Whether no one fault explains what was counted and seen: then the suspects are of the first
    /// of several alone, and after its mending the rest is traced anew.
    pub several: bool,
    /// The kinds of fault that fit with where each can be, the likeliest first.
    pub suspects: Vec<WarpSuspect>,
    /// The look worth most for its seconds.
    pub look: Option<WarpLook>,
    /// Whether that look was answered before, and only its answer speaks against the rest.
    pub again: bool,
    /// The knot (from 1) in which something is wrong that no suspect explains: to be read back.
    pub near: Option<u32>,
    /// The answer that the others contradict; it is left out of account.
    pub doubted: Option<WarpSeen>,
}

impl WarpEvidence {
    /// Whether the evidence can be at all.
    ///
    /// # Errors
    /// The first thing that cannot be, with what would be possible.
    pub fn check(&self) -> Result<(), Impossible> {
        let calls = self.planned.len();
        if calls == 0 || calls > MOST_ENDS {
            return Err(Impossible::WarpLength { calls });
        }
        if self.shafts == 0 || self.shafts > 64 {
            return Err(Impossible::Shafts {
                shafts: self.shafts,
            });
        }
        let lacking = |s: &&Shaft| s.0 == 0 || s.0 > self.shafts;
        if let Some(shaft) = self.planned.iter().find(lacking) {
            return Err(Impossible::ShaftLacking {
                shaft: shaft.0,
                shafts: self.shafts,
            });
        }
        let given = self
            .heddles_left
            .as_ref()
            .map_or(usize::from(self.shafts), Vec::len);
        if given != usize::from(self.shafts) {
            return Err(Impossible::HeddleCounts {
                given,
                shafts: self.shafts,
            });
        }
        self.check_places()
    }

    fn check_places(&self) -> Result<(), Impossible> {
        let last = u32::try_from(self.planned.len()).unwrap_or(u32::MAX);
        let outside = |call: Call| {
            let is_in = (1..=last).contains(&call.0);
            if is_in {
                Ok(())
            } else {
                Err(Impossible::CallOutside {
                    call: call.0,
                    first: 1,
                    last,
                })
            }
        };
        outside(self.stretch.first)?;
        outside(self.stretch.last)?;
        let counted_out = i64::from(self.stretch.len());
        if self.ends_left > counted_out {
            return Err(Impossible::EndsLeft {
                left: self.ends_left,
                counted_out,
                most: counted_out,
            });
        }
        let knots = u32::try_from(self.knots.len()).unwrap_or(u32::MAX);
        let knot = |knot: Option<u32>| match knot {
            Some(knot) if knot == 0 || knot > knots => Err(Impossible::KnotLacking { knot, knots }),
            _ => Ok(()),
        };
        self.knots.iter().try_for_each(|knot| outside(knot.last))?;
        self.seen.iter().try_for_each(|seen| match *seen {
            WarpSeen::Shaft { call, shaft } => {
                outside(call)?;
                match shaft {
                    Some(s) if s.0 == 0 || s.0 > self.shafts => Err(Impossible::ShaftLacking {
                        shaft: s.0,
                        shafts: self.shafts,
                    }),
                    _ => Ok(()),
                }
            }
            WarpSeen::OddKnot { odd, .. } | WarpSeen::Risen { odd, .. } => knot(odd),
            WarpSeen::Hanging { knot: found } => knot(found),
            WarpSeen::Together { call } => call.map_or(Ok(()), outside),
            WarpSeen::CannotTell { .. } => Ok(()),
        })
    }

    /// The place in the list of knots, from 0, of the knot that holds a call.
    pub(super) fn knot_of(&self, call: u32) -> Option<usize> {
        let at = self.knots.partition_point(|knot| knot.last.0 < call);
        self.knots
            .get(at)
            .filter(|knot| knot.contains(Call(call)))
            .map(|_| at)
    }

    /// The number of the knot that holds a call, from 1.
    pub(super) fn knot_number(&self, call: u32) -> Option<u32> {
        self.knot_of(call).and_then(|at| u32::try_from(at + 1).ok())
    }

    /// The planned shaft of a call; 0 beyond the warp.
    pub(super) fn shaft_of(&self, call: u32) -> u8 {
        let at = (call as usize).wrapping_sub(1);
        self.planned.get(at).map_or(0, |shaft| shaft.0)
    }

    /// How often a look was answered, also by "cannot tell".
    pub(super) fn times(&self, look: &WarpLook) -> usize {
        self.seen.iter().filter(|seen| seen.look() == *look).count()
    }

    /// The evidence of one knot (from 1) as a batch, for the tracing inside it: what the warp has
    /// left over must have come from there.
    #[must_use]
    pub fn in_knot(&self, knot: u32) -> Option<Evidence> {
        let calls = *self.knots.get((knot as usize).checked_sub(1)?)?;
        let heddles = self
            .heddles_left
            .clone()
            .unwrap_or(vec![0; usize::from(self.shafts)]);
        let planned = self.planned.get(calls.indices())?.to_vec();
        Some(Evidence::report(
            calls.first,
            planned,
            self.shafts,
            calls.len(),
            self.ends_left,
            heddles,
        ))
    }
}

impl WarpSeen {
    /// The look that this answers.
    #[must_use]
    pub fn look(&self) -> WarpLook {
        match *self {
            Self::Shaft { call, .. } => WarpLook::Shaft { call },
            Self::OddKnot { first, last, .. } => WarpLook::OddKnot { first, last },
            Self::Risen {
                first, last, shaft, ..
            } => WarpLook::Risen { first, last, shaft },
            Self::Together { .. } => WarpLook::Together,
            Self::Hanging { .. } => WarpLook::Hanging,
            Self::CannotTell { look } => look,
        }
    }
}
