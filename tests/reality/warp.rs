//! A whole warp laid knot by knot, with a slip somewhere along it, and what each look along it shows.
//! Knows nothing of residues or of the tracing.

use super::draft::Draft;
use super::{Loom, Slip, Weaver};
use endsmeet::fault::{Drift, LookKind, Seen, WarpEvidence, WarpLook, WarpSeen};
use endsmeet::quantity::{Call, Calls, Shaft};

/// A warp as it hangs: the heddles of each knot.
pub struct Hanging {
    pub planned: Vec<u8>,
    pub shafts: u8,
    pub knots: Vec<Calls>,
    /// Shaft and ends of each filled heddle, knot by knot.
    pub filled: Vec<Vec<(u8, usize)>>,
    /// The knot after one of whose heddles an end hangs loose.
    pub hanging: Option<usize>,
    /// Heddles of that knot filled before it.
    pub hanging_after: Option<usize>,
    pub ends_left: i64,
    pub heddles_left: Vec<i64>,
}

pub fn warp(draft: &Draft, ends: usize) -> (Vec<u8>, Vec<Calls>) {
    let size = draft.planned.len();
    let planned: Vec<u8> = draft.planned.iter().cycle().take(ends).copied().collect();
    let knots = (0..ends)
        .step_by(size)
        .map(|at| Calls::new(at as u32 + 1, (at + size).min(ends) as u32).expect("not empty"));
    (planned, knots.collect())
}

impl Hanging {
    /// Threads the warp with a slip at a call (from 0) and ties the knots.
    pub fn thread(draft: &Draft, ends: usize, slip: Slip, drift: Drift) -> Option<Hanging> {
        let (planned, knots) = warp(draft, ends);
        let loom = Loom::thread(&planned, draft.shafts, &[slip], Weaver::GoesOn)?;
        let mut hanging = Hanging {
            shafts: draft.shafts,
            filled: Vec::new(),
            hanging: None,
            hanging_after: None,
            ends_left: loom.ends_left,
            heddles_left: loom.heddles_left.clone(),
            planned,
            knots,
        };
        let mut line = loom.filled.iter().map(|h| (h.shaft, h.ends.len()));
        let slipped = slip.span().expect("a slip with a place").0;
        for knot in &hanging.knots {
            let here = knot.indices().contains(&slipped);
            let planned = knot.len() as usize;
            // where the calls of the next batch began at their own place again, the knot of the slip
            // has the heddles more or less; else each knot has its number, and the last what is left
            let more = loom.filled.len() as i64 - hanging.planned.len() as i64;
            let last = knot.last.0 as usize == hanging.planned.len();
            let changed = (drift == Drift::KnotOnly && here) || (drift == Drift::ToTheEnd && last);
            let heddles = planned as i64 + if changed { more } else { 0 };
            hanging
                .filled
                .push(line.by_ref().take(heddles as usize).collect());
            if here && !loom.hanging.is_empty() {
                hanging.hanging = Some(hanging.filled.len());
                hanging.hanging_after = Some(slipped - knot.indices().start);
            }
        }
        Some(hanging)
    }

    /// The same with several slips, each with its drift: the knot of one that stays there has its heddles
    /// more or less, the last knot what is left.
    pub fn thread_several(draft: &Draft, ends: usize, slips: &[(Slip, Drift)]) -> Option<Hanging> {
        let (planned, knots) = warp(draft, ends);
        let only: Vec<Slip> = slips.iter().map(|&(slip, _)| slip).collect();
        let loom = Loom::thread(&planned, draft.shafts, &only, Weaver::GoesOn)?;
        let mut line = loom.filled.iter().map(|h| (h.shaft, h.ends.len()));
        let mut filled: Vec<Vec<(u8, usize)>> = Vec::new();
        for knot in &knots {
            let here = |slip: &Slip| {
                slip.span()
                    .is_some_and(|(at, _)| knot.indices().contains(&at))
            };
            let more: i64 = slips
                .iter()
                .filter(|(slip, drift)| *drift == Drift::KnotOnly && here(slip))
                .map(|(slip, _)| slip.heddles_more())
                .sum();
            let heddles = (i64::from(knot.len()) + more).max(0) as usize;
            filled.push(line.by_ref().take(heddles).collect());
        }
        filled.last_mut()?.extend(line);
        let mut hanging = Hanging {
            shafts: draft.shafts,
            filled,
            hanging: None,
            hanging_after: None,
            ends_left: loom.ends_left,
            heddles_left: loom.heddles_left.clone(),
            planned,
            knots,
        };
        if let Some(&(before, _)) = loom.hanging.first() {
            let (knot, after) = hanging.knot_after(before);
            hanging.hanging = Some(knot);
            hanging.hanging_after = Some(after);
        }
        Some(hanging)
    }

    /// The knot (from 1) into which an end hangs that was passed by after so many filled heddles,
    /// and how many of that knot's were filled before it.
    fn knot_after(&self, filled: usize) -> (usize, usize) {
        let mut before = filled;
        for (at, knot) in self.filled.iter().enumerate() {
            // one passed by between two knots hangs with the later
            if before < knot.len() || at + 1 == self.filled.len() {
                return (at + 1, before);
            }
            before -= knot.len();
        }
        (self.filled.len(), before)
    }

    pub fn evidence(&self) -> WarpEvidence {
        WarpEvidence {
            planned: self.planned.iter().map(|&s| Shaft(s)).collect(),
            shafts: self.shafts,
            knots: self.knots.clone(),
            stretch: Calls::new(1, self.planned.len() as u32).expect("not empty"),
            ends_left: self.ends_left,
            heddles_left: Some(self.heddles_left.clone()),
            seen: Vec::new(),
        }
    }

    pub fn look(&self, look: WarpLook) -> WarpSeen {
        match look {
            WarpLook::Shaft { call } => {
                let knot = self
                    .knots
                    .iter()
                    .position(|knot| knot.contains(call))
                    .expect("a call of the warp");
                let place = (call.0 - self.knots[knot].first.0) as usize;
                let shaft = self.filled[knot].get(place).map(|&(shaft, _)| Shaft(shaft));
                WarpSeen::Shaft { call, shaft }
            }
            WarpLook::OddKnot { first, last } => {
                let odd = (first..=last).find(|&knot| {
                    let at = knot as usize - 1;
                    let ends: usize = self.filled[at].iter().map(|&(_, ends)| ends).sum();
                    ends != self.knots[at].len() as usize
                });
                WarpSeen::OddKnot { first, last, odd }
            }
            WarpLook::Risen { first, last, shaft } => {
                let rises = |knot: usize| -> usize {
                    let here = self.filled[knot].iter().filter(|(on, _)| *on == shaft.0);
                    here.map(|(_, ends)| ends).sum()
                };
                let planned = |knot: usize| {
                    let calls = &self.planned[self.knots[knot].indices()];
                    calls.iter().filter(|&&on| on == shaft.0).count()
                };
                let odd = (first..=last).find(|&knot| {
                    let at = knot as usize - 1;
                    rises(at) != planned(at)
                });
                WarpSeen::Risen {
                    first,
                    last,
                    shaft,
                    odd,
                }
            }
            WarpLook::Hanging => WarpSeen::Hanging {
                knot: self.hanging.map(|k| k as u32),
            },
            WarpLook::Together => WarpSeen::Together {
                call: self.together(),
            },
        }
    }

    fn together(&self) -> Option<Call> {
        let ends: Vec<(Call, bool)> = self
            .filled
            .iter()
            .zip(&self.knots)
            .flat_map(|(filled, knot)| {
                filled
                    .iter()
                    .enumerate()
                    .flat_map(move |(at, &(shaft, ends))| {
                        std::iter::repeat_n((Call(knot.first.0 + at as u32), shaft % 2 == 1), ends)
                    })
            })
            .collect();
        ends.windows(2)
            .find(|pair| pair[0].1 == pair[1].1)
            .map(|pair| pair[0].0)
    }

    /// What a look of the tracing inside one knot (from 1) shows.
    pub fn look_inside(&self, look: &endsmeet::fault::Look, knot: usize) -> Seen {
        let filled = &self.filled[knot - 1];
        let first = self.knots[knot - 1].first;
        let call = |at: usize| Call(first.0 + at as u32);
        let found = look.found as usize;
        match look.kind {
            LookKind::ShaftOfHeddle => {
                let asked = look.call.expect("a look at a heddle names it");
                let heddle = filled.get((asked.0 - first.0) as usize);
                Seen::Shaft {
                    call: asked,
                    shaft: heddle.map(|&(shaft, _)| Shaft(shaft)),
                }
            }
            LookKind::HeddleHoldingTwo => {
                let mut two = (0..filled.len()).filter(|&at| filled[at].1 > 1);
                Seen::Double {
                    call: two.nth(found).map(call),
                }
            }
            LookKind::EndInNoHeddle => Seen::Hanging {
                call: self
                    .hanging_after
                    .filter(|_| self.hanging == Some(knot) && found == 0)
                    .map(|at| call(at.saturating_sub(1))),
            },
            LookKind::EmptyHeddle => Seen::Empty { shaft: None },
            LookKind::EndsInKnot => Seen::Knot {
                ends: filled.iter().map(|&(_, ends)| ends as u32).sum(),
            },
            LookKind::NeighboursTogether => {
                let ends: Vec<(usize, bool)> = (0..filled.len())
                    .flat_map(|at| std::iter::repeat_n((at, filled[at].0 % 2 == 1), filled[at].1))
                    .collect();
                let pair = ends.windows(2).find(|pair| pair[0].1 == pair[1].1);
                Seen::Together {
                    call: pair.map(|pair| call(pair[0].0)),
                }
            }
            LookKind::ReadBack => {
                Seen::ReadBack(filled.iter().map(|&(shaft, _)| Shaft(shaft)).collect())
            }
        }
    }
}
