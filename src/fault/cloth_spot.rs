//! A fault seen in a shed or in the cloth: from its place on the tape and the sheds that show it to
//! the ends that may be meant. Owns the explanations and their order; places come from the dents as
//! they are filled, not from the sett, so empty, doubled and crammed dents are where they are.

use super::cloth_sheds::Sheds;
use super::{Evidence, Fault, FaultKind, Found, Seen};
use crate::plan::{Dent, DentEnds, Floats, Plan, Side};
use crate::quantity::{Call, Calls, Fraction, Shaft};

/// The most suspects that are named.
pub const MOST_SUSPECTS: usize = 12;

/// What is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// Two neighbours move alike where they should not.
    TwoAlike,
    /// One end is up where it should be down, down where it should be up, or stands in the gap.
    OneAstray,
}

/// A fault as the weaver reports it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothEvidence {
    /// What is seen.
    pub sign: Sign,
    /// The edge from which it was measured.
    pub from: Side,
    /// How far in from that edge of the warp, plan units; floats belong to the warp.
    pub distance: Fraction,
    /// The whole width where it was measured, plan units; `None`: in the reed. Cloth is narrower,
    /// and the place is drawn out in the same share.
    pub across: Option<Fraction>,
    /// How far the measure may be off, plan units.
    pub within: Fraction,
    /// The sheds that show it, numbered as [`Plan::all_sheds`] has them, from 1: treadles, where
    /// there are any.
    pub sheds: Vec<u32>,
}

/// Why nothing can be said.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NoSpot {
    /// The place is not on the warp.
    #[error(
        "the warp is {width} wide there, so {found} from its edge is beside it: measure again from the edge"
    )]
    BesideTheWarp {
        /// What was said.
        found: String,
        /// The width.
        width: String,
    },
    /// A shed that the plan does not have.
    #[error("there is no shed {found}: the plan has 1 to {last}; say those that show the fault")]
    NoSuchShed {
        /// What was said.
        found: u32,
        /// The last one.
        last: u32,
    },
    /// No shed was named.
    #[error("no shed was named: press each treadle and say those that show the fault")]
    NoShed,
}

/// One explanation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Astray {
    /// The end hangs on this shaft instead of its own.
    OnShaft(Shaft),
    /// The end shares the heddle of a neighbour, whose shaft is this.
    InHeddleOf(Call, Shaft),
    /// The end is in no heddle eye.
    InNoHeddle,
    /// The end and the next one stand exchanged.
    WithTheNext,
}

/// A suspected end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClothSuspect {
    /// The end.
    pub call: Call,
    /// What may be wrong with it.
    pub astray: Astray,
    /// Its dent, counted from the sleying side.
    pub dent: u32,
    /// From the edge that was measured from to the middle of its dent in the reed, plan units.
    pub place: Fraction,
    /// Whether exactly the sheds that were named would show it; else they are among those.
    pub exact: bool,
}

/// The dents of the warp as counted from one edge.
struct Across<'a> {
    plan: &'a Plan,
    dents: Vec<&'a Dent>,
    /// Dents per plan unit.
    per: Fraction,
}

impl<'a> Across<'a> {
    fn from(plan: &'a Plan, edge: Side) -> Self {
        let mut dents: Vec<&Dent> = plan.sley.dents.iter().collect();
        if edge != plan.sley_from {
            dents.reverse();
        }
        let per = plan.sley.reed_dents;
        Self { plan, dents, per }
    }

    fn width(&self) -> Option<Fraction> {
        let dents = Fraction::whole(i64::try_from(self.dents.len()).ok()?);
        dents.over(self.per)
    }

    /// First and last index of the dents that a measure may mean.
    fn window(&self, evidence: &ClothEvidence) -> Option<Result<(usize, usize), NoSpot>> {
        let width = self.width()?;
        let seen_width = evidence.across.unwrap_or(width);
        if evidence.distance > seen_width || evidence.distance < Fraction::ZERO {
            let tape = |length| self.plan.units.tape(length);
            return Some(Err(NoSpot::BesideTheWarp {
                found: tape(evidence.distance),
                width: tape(seen_width),
            }));
        }
        let stretch = width.over(seen_width)?;
        let dent = |at: Fraction| at.times(stretch)?.times(self.per);
        let (least, most) = (
            dent(evidence.distance.minus(evidence.within)?)?.floor(),
            dent(evidence.distance.plus(evidence.within)?)?.floor(),
        );
        let last = self.dents.len().checked_sub(1)?;
        let clamp = |n: i128| usize::try_from(n.max(0)).unwrap_or(last).min(last);
        Some(Ok((clamp(least), clamp(most))))
    }

    /// The calls in a run of dents, with each one's index.
    fn calls(&self, first: usize, last: usize) -> Vec<(Call, usize)> {
        let mut found = Vec::new();
        for (at, dent) in self.dents.iter().enumerate().take(last + 1).skip(first) {
            if let DentEnds::Calls(calls) = dent.ends {
                found.extend((calls.first.0..=calls.last.0).map(|call| (Call(call), at)));
            }
        }
        found
    }

    /// From the edge to the middle of a dent.
    fn place(&self, at: usize) -> Option<Fraction> {
        let half = Fraction::new(i64::try_from(2 * at + 1).ok()?, 2)?;
        half.over(self.per)
    }
}

/// The ends that may be meant: those that fit the sheds exactly, else those that fit among others;
/// the nearest to the place first, the commoner fault first.
///
/// # Errors
/// The place is beside the warp, or a shed is none of the plan's.
pub fn suspects_in_cloth(
    plan: &Plan,
    evidence: &ClothEvidence,
) -> Result<Vec<ClothSuspect>, NoSpot> {
    let sheds = Sheds::of(plan);
    sheds.has(&evidence.sheds)?;
    let across = Across::from(plan, evidence.from);
    let (first, last) = match across.window(evidence) {
        Some(window) => window?,
        None => return Ok(Vec::new()),
    };
    let seen = evidence
        .sheds
        .iter()
        .fold(0u128, |all, n| all | 1 << (n - 1));
    let mut found = Vec::new();
    for (call, at) in across.calls(first, last) {
        let Some(place) = across.place(at) else {
            continue;
        };
        for astray in sheds.cases(call) {
            let shows = sheds.shows(call, astray, evidence.sign);
            if shows & seen == seen {
                let (dent, exact) = (across.dents[at].number, shows == seen);
                found.push(ClothSuspect {
                    call,
                    astray,
                    dent,
                    place,
                    exact,
                });
            }
        }
    }
    if found.iter().any(|suspect| suspect.exact) {
        found.retain(|suspect| suspect.exact);
    }
    let middle = across.calls(first, last);
    let middle = middle.get(middle.len() / 2).map_or(0, |(call, _)| call.0);
    found.sort_by_key(|s| (rank(s.astray), s.call.0.abs_diff(middle)));
    found.truncate(MOST_SUSPECTS);
    Ok(found)
}

/// A wrong shaft is the commonest of these faults, then a doubled end; common practice, no source.
fn rank(astray: Astray) -> u8 {
    match astray {
        Astray::OnShaft(_) => 0,
        Astray::InHeddleOf(..) => 1,
        Astray::WithTheNext => 2,
        Astray::InNoHeddle => 3,
    }
}

impl ClothSuspect {
    /// The fault by its kind, as the tracing knows it.
    #[must_use]
    pub fn kind(&self) -> FaultKind {
        match self.astray {
            Astray::OnShaft(_) => FaultKind::WrongShaft,
            Astray::InHeddleOf(..) => FaultKind::EndsDoubled,
            Astray::InNoHeddle => FaultKind::EndHanging,
            Astray::WithTheNext => FaultKind::NeighboursExchanged,
        }
    }

    /// As something found in the heddles. An end that shares a neighbour's heddle hangs on its shaft,
    /// and its own heddle is free.
    #[must_use]
    pub fn found(&self, plan: &Plan) -> Found {
        let own = plan.threading.get((self.call.0 as usize).wrapping_sub(1));
        let own = own.copied().unwrap_or(Shaft(1));
        let fault = match self.astray {
            Astray::OnShaft(shaft) | Astray::InHeddleOf(_, shaft) => {
                Fault::at(FaultKind::WrongShaft, self.call, shaft)
            }
            Astray::InNoHeddle => Fault::at(FaultKind::EndHanging, self.call, own),
            Astray::WithTheNext => Fault {
                shaft: None,
                ..Fault::at(FaultKind::NeighboursExchanged, self.call, own)
            },
        };
        Found::InHeddles(fault)
    }

    /// The report of its batch with which the tracing goes on: everything threaded, what the fault
    /// would have left in the counts, and the shaft that was read off the loom, where it was. `None`
    /// for an end outside every batch.
    #[must_use]
    pub fn evidence(&self, plan: &Plan, seen: Option<Shaft>) -> Option<Evidence> {
        let batch = plan.batch_of(self.call)?;
        let planned = plan.threading.get(batch.calls.indices())?.to_vec();
        let own = *plan.threading.get((self.call.0 as usize).checked_sub(1)?)?;
        let mut heddles_left = vec![0i64; usize::from(plan.shafts)];
        let mut add = |shaft: Shaft, n: i64| {
            if let Some(left) = heddles_left.get_mut(usize::from(shaft.0).wrapping_sub(1)) {
                *left += n;
            }
        };
        let ends_left = match self.astray {
            Astray::OnShaft(shaft) => {
                add(own, 1);
                add(shaft, -1);
                0
            }
            Astray::InHeddleOf(..) | Astray::InNoHeddle => -1,
            Astray::WithTheNext => 0,
        };
        let call = self.call;
        let looked = seen.map(|shaft| Seen::Shaft {
            call,
            shaft: Some(shaft),
        });
        Some(Evidence {
            first: batch.calls.first,
            planned,
            shafts: plan.shafts,
            calls_made: batch.calls.len(),
            ends_left,
            heddles_left,
            seen: looked.into_iter().collect(),
        })
    }
}

/// The floats that a measure may mean, where it falls at an edge: they are in no heddle, so a fault
/// there is one of sleying or tying.
#[must_use]
pub fn is_float_there(plan: &Plan, evidence: &ClothEvidence) -> bool {
    let across = Across::from(plan, evidence.from);
    let window = across.window(evidence).and_then(Result::ok);
    plan.floats != Floats::None
        && window.is_some_and(|(first, last)| {
            let dents = across.dents.get(first..=last).unwrap_or(&[]);
            dents
                .iter()
                .any(|dent| matches!(dent.ends, DentEnds::Float { .. }))
        })
}

/// The calls in the dents that a measure may mean, in the order of the warp from that edge.
///
/// # Errors
/// The place is beside the warp.
pub fn calls_at(plan: &Plan, evidence: &ClothEvidence) -> Result<Option<Calls>, NoSpot> {
    let across = Across::from(plan, evidence.from);
    let Some(window) = across.window(evidence) else {
        return Ok(None);
    };
    let (first, last) = window?;
    let calls = across.calls(first, last);
    let numbers = || calls.iter().map(|(call, _)| call.0);
    let run = numbers().min().zip(numbers().max());
    Ok(run.and_then(|(first, last)| Calls::new(first, last)))
}
