//! What the weaver reports of one batch, and what she saw when asked to look.
//! Owns the check that such a report is possible at all; never explains it.

use super::impossible::Impossible;
use super::look::LookKind;
use crate::quantity::{Call, Shaft};
use serde::{Deserialize, Serialize};

/// The longest batch that is traced, in ends; longer stretches are traced as a warp.
pub const LONGEST: usize = 128;

/// So many ends, or heddles of a shaft, may have been counted out too many: a batch hardly begun has
/// them left on top of its own. A judgement; more would be another batch's.
pub const MISCOUNTED: i64 = 8;

/// What the weaver reports of one batch.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Evidence {
    /// The batch's first call.
    pub first: Call,
    /// The planned shaft of each call of the batch, 1..=128 of them.
    pub planned: Vec<Shaft>,
    /// Shafts on the loom, 1..=64.
    pub shafts: u8,
    /// Calls made, 0..=all: all, or those before the one where no end or no heddle was left.
    pub calls_made: u32,
    /// Ends of the count-out that are left; negative: so many were taken from beyond it.
    pub ends_left: i64,
    /// Heddles of the count-out left on each shaft, shaft 1 first; negative: taken from the stock.
    pub heddles_left: Vec<i64>,
    /// The answers so far, in the order given.
    pub seen: Vec<Seen>,
}

/// One answer to a look. Calls name filled heddles: the n-th filled heddle of a batch belongs to
/// its n-th call.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// The shaft that holds the filled heddle of this call; none where no such heddle is filled.
    Shaft {
        /// The call.
        call: Call,
        /// The shaft.
        shaft: Option<Shaft>,
    },
    /// The heddle that holds two ends, or none.
    Double {
        /// The filled heddle.
        call: Option<Call>,
    },
    /// The heddle after which an end hangs loose behind the shafts (the first heddle also for an
    /// end before it), or none.
    Hanging {
        /// The filled heddle.
        call: Option<Call>,
    },
    /// The shaft that has an empty heddle among the threaded, or one whose end also goes through
    /// another, or none.
    Empty {
        /// The shaft.
        shaft: Option<Shaft>,
    },
    /// So many ends of the batch go through heddles.
    Knot {
        /// Ends counted in the knot.
        ends: u32,
    },
    /// The first heddle that rises or stays together with the one after it where odd and even
    /// should alternate, or none.
    Together {
        /// The first of the two filled heddles.
        call: Option<Call>,
    },
    /// The shafts as they stand, from the batch's first filled heddle on, as far as they were read.
    ReadBack(Vec<Shaft>),
    /// She looked and cannot tell.
    CannotTell {
        /// The look.
        look: LookKind,
        /// The call, where the look is at one heddle.
        call: Option<Call>,
    },
}

impl Evidence {
    /// The report of a batch, before any look.
    #[must_use]
    pub fn report(
        first: Call,
        planned: Vec<Shaft>,
        shafts: u8,
        calls_made: u32,
        ends_left: i64,
        heddles_left: Vec<i64>,
    ) -> Self {
        Self {
            first,
            planned,
            shafts,
            calls_made,
            ends_left,
            heddles_left,
            seen: Vec::new(),
        }
    }

    /// Calls of the batch.
    #[must_use]
    pub fn calls(&self) -> u32 {
        u32::try_from(self.planned.len()).unwrap_or(u32::MAX)
    }

    /// The batch's last call.
    #[must_use]
    pub fn last(&self) -> Call {
        Call(self.first.0.saturating_add(self.calls().saturating_sub(1)))
    }

    /// The call of the n-th filled heddle, from 0.
    #[must_use]
    pub fn call_of(&self, at: usize) -> Call {
        Call(
            self.first
                .0
                .saturating_add(u32::try_from(at).unwrap_or(u32::MAX)),
        )
    }

    /// The place of a call in the batch, from 0; `None` outside it.
    #[must_use]
    pub fn place_of(&self, call: Call) -> Option<usize> {
        let at = call.0.checked_sub(self.first.0)? as usize;
        (at < self.planned.len()).then_some(at)
    }

    /// Heddles counted out on each shaft by the plan, shaft 1 first.
    #[must_use]
    pub fn counted_out(&self) -> Vec<i64> {
        counts(&self.planned, self.shafts)
    }

    /// Whether the evidence can be at all.
    ///
    /// # Errors
    /// The first thing that cannot be, with what would be possible.
    pub fn check(&self) -> Result<(), Impossible> {
        self.check_batch()?;
        self.check_counts()?;
        self.seen.iter().try_for_each(|seen| self.check_seen(seen))
    }

    fn check_batch(&self) -> Result<(), Impossible> {
        let calls = self.planned.len();
        if calls == 0 || calls > LONGEST {
            return Err(Impossible::BatchLength { calls });
        }
        if self.shafts == 0 || self.shafts > 64 {
            return Err(Impossible::Shafts {
                shafts: self.shafts,
            });
        }
        if self.heddles_left.len() != usize::from(self.shafts) {
            let given = self.heddles_left.len();
            return Err(Impossible::HeddleCounts {
                given,
                shafts: self.shafts,
            });
        }
        self.planned
            .iter()
            .try_for_each(|&shaft| self.check_shaft(shaft))?;
        let (calls_made, calls) = (self.calls_made, self.calls());
        if calls_made > calls {
            return Err(Impossible::CallsMade { calls_made, calls });
        }
        Ok(())
    }

    fn check_counts(&self) -> Result<(), Impossible> {
        let counted_out = i64::from(self.calls());
        let most = self.most_ends();
        if self.ends_left > counted_out + MISCOUNTED {
            return Err(Impossible::EndsLeft {
                left: self.ends_left,
                counted_out,
                most: counted_out + MISCOUNTED,
            });
        }
        let least = self
            .heddles_left
            .iter()
            .copied()
            .min()
            .unwrap_or(0)
            .min(self.ends_left);
        if least < -most {
            return Err(Impossible::TakenTooMany {
                taken: least.saturating_neg(),
                most,
            });
        }
        for (at, (&left, counted_out)) in
            self.heddles_left.iter().zip(self.counted_out()).enumerate()
        {
            if left > counted_out + MISCOUNTED {
                let shaft = u8::try_from(at + 1).unwrap_or(u8::MAX);
                return Err(Impossible::HeddlesLeft {
                    shaft,
                    left,
                    counted_out,
                    most: counted_out + MISCOUNTED,
                });
            }
        }
        Ok(())
    }

    /// The most ends that can stand in this batch's heddles: every call twice.
    fn most_ends(&self) -> i64 {
        i64::from(self.calls()) * 2
    }

    fn check_shaft(&self, shaft: Shaft) -> Result<(), Impossible> {
        if shaft.0 == 0 || shaft.0 > self.shafts {
            return Err(Impossible::ShaftLacking {
                shaft: shaft.0,
                shafts: self.shafts,
            });
        }
        Ok(())
    }

    fn check_call(&self, call: Call) -> Result<(), Impossible> {
        let (first, last) = (self.first.0, self.last().0);
        match self.place_of(call) {
            Some(_) => Ok(()),
            None => Err(Impossible::CallOutside {
                call: call.0,
                first,
                last,
            }),
        }
    }

    fn check_seen(&self, seen: &Seen) -> Result<(), Impossible> {
        let most = self.most_ends();
        let ends = |ends: i64| {
            if ends > most {
                Err(Impossible::TooManyEnds { ends, most })
            } else {
                Ok(())
            }
        };
        match seen {
            Seen::Shaft { call, shaft } => {
                self.check_call(*call)?;
                shaft.map_or(Ok(()), |shaft| self.check_shaft(shaft))
            }
            Seen::Double { call } | Seen::Hanging { call } | Seen::Together { call } => {
                call.map_or(Ok(()), |call| self.check_call(call))
            }
            Seen::Empty { shaft } => shaft.map_or(Ok(()), |shaft| self.check_shaft(shaft)),
            Seen::Knot { ends: count } => ends(i64::from(*count)),
            Seen::ReadBack(shafts) => {
                ends(i64::try_from(shafts.len()).unwrap_or(i64::MAX))?;
                shafts.iter().try_for_each(|&shaft| self.check_shaft(shaft))
            }
            Seen::CannotTell { call, .. } => call.map_or(Ok(()), |call| self.check_call(call)),
        }
    }
}

/// How many of the calls fall on each shaft, shaft 1 first; shafts outside 1..=`shafts` fall away.
pub(super) fn counts(calls: &[Shaft], shafts: u8) -> Vec<i64> {
    let mut on = vec![0; usize::from(shafts)];
    for shaft in calls {
        if let Some(count) = usize::from(shaft.0)
            .checked_sub(1)
            .and_then(|at| on.get_mut(at))
        {
            *count += 1;
        }
    }
    on
}
