//! The views of what is traced beyond the batch in work: along the warp, in the reed, a reading.

use super::*;
use crate::dressing::decide;
use crate::dressing::event::Mismatch;
use crate::dressing::state::Dressing;
use crate::fault::{Found, ReedEvidence, ReedFault, ReedSuspect, WarpLook, reed_stands};
use crate::quantity::Call;

impl Dressing {
    /// What is off along the warp.
    pub(super) fn warp_disagrees(&self, mismatch: &Mismatch) -> DisagreeingView {
        let Mismatch::Warp {
            stretch,
            ends_left,
            heddles_left,
            ..
        } = mismatch
        else {
            return self.disagreeing(mismatch);
        };
        let tracing = decide::warp_tracing(self, mismatch);
        let place = match tracing.look {
            Some(WarpLook::Shaft { call }) => self.place_of(call),
            _ => None,
        };
        let mut choices = vec![Choice::PutRight];
        // what no look tells apart, a reading does
        if tracing.look.is_none() {
            choices.push(Choice::ReadBack);
        }
        choices.extend([Choice::LookAgain, Choice::LeaveOpen]);
        let view = WarpView {
            stretch: *stretch,
            ends_left: *ends_left,
            heddles_left: heddles_left.clone(),
            place,
            knots: tracing.look.and_then(|look| self.knots_of(look)),
            tracing,
        };
        DisagreeingView {
            what: Disagreeing::Warp(Box::new(view)),
            choices,
        }
    }

    /// A call by knot, handful and place, and how far across the warp it lies.
    #[must_use]
    pub fn place_of(&self, call: Call) -> Option<Place> {
        let across = self.across(call);
        self.spot_of(call).map(|spot| Place { spot, across })
    }

    /// From the edge of the warp where threading starts to the middle of the call's dent, as it
    /// lies in the reed: dents / (dents per unit).
    fn across(&self, call: Call) -> Option<Fraction> {
        let plan = self.plan();
        let (dents, dent) = (&plan.sley.dents, plan.dent_of(call)?);
        let dent = i64::from(dent);
        let twice = if plan.thread_from == plan.sley_from {
            2 * (dent - i64::from(dents.first()?.number)) + 1
        } else {
            2 * (i64::from(dents.last()?.number) - dent) + 1
        };
        Fraction::new(twice, 2)?.over(plan.sley.reed_dents)
    }

    fn knots_of(&self, look: WarpLook) -> Option<Knots> {
        let batches = &self.plan().batches;
        let (first, last, shaft) = match look {
            WarpLook::OddKnot { first, last } => (first, last, None),
            WarpLook::Risen { first, last, shaft } => (first, last, Some(shaft)),
            WarpLook::Shaft { .. } | WarpLook::Together | WarpLook::Hanging => return None,
        };
        let run = batches.get((first as usize).checked_sub(1)?..last as usize)?;
        let holds = |batch: &Batch| match shaft {
            None => batch.calls.len(),
            Some(shaft) => batch
                .calls
                .indices()
                .filter(|&at| self.plan().threading.get(at) == Some(&shaft))
                .count() as u32,
        };
        let each = run.first().map(holds);
        let same = run.iter().all(|batch| Some(holds(batch)) == each);
        Some(Knots {
            first,
            last,
            from: self.across(run.first()?.calls.first),
            each: each.filter(|_| same),
        })
    }

    /// Ends and dents that do not come out.
    pub(super) fn reed_disagrees(&self, mismatch: &Mismatch) -> DisagreeingView {
        let Mismatch::Reed {
            calls,
            ends_left,
            tape,
            ..
        } = mismatch
        else {
            return self.disagreeing(mismatch);
        };
        let plan = self.plan();
        let (tracing, _) = decide::reed_tracing(self, mismatch);
        let choices = vec![
            Choice::PutRight,
            Choice::ThreadAgain,
            Choice::LookAgain,
            Choice::LeaveOpen,
        ];
        let upwards = plan.sley_from == plan.thread_from;
        let dents = dents_of(plan, *calls, upwards).into_iter();
        let view = ReedView {
            group: self.group_at(calls.first).map_or(0, |group| group.number),
            ends_left: *ends_left,
            tape: *tape,
            tracing,
            dents: dents
                .map(|fill| (fill, plan.tape_of_dent(fill.dent)))
                .collect(),
        };
        DisagreeingView {
            what: Disagreeing::Reed(Box::new(view)),
            choices,
        }
    }

    /// The group of a fault in the reed, dent by dent, as planned and as it stands.
    pub(super) fn reed_picture(&self, found: Found) -> Option<ReedPicture> {
        let Found::InReed(kind, call) = found else {
            return None;
        };
        let plan = self.plan();
        let calls = self.group_at(call)?.calls;
        let upwards = plan.sley_from == plan.thread_from;
        let before = if upwards {
            call.0 - calls.first.0
        } else {
            let crossed = u32::from(kind == ReedFault::EndsCrossed);
            (calls.last.0 - call.0).saturating_sub(crossed)
        };
        let planned: Vec<u32> = dents_of(plan, calls, upwards)
            .iter()
            .map(|fill| fill.ends)
            .collect();
        let mut sum = 0;
        let at = planned.iter().position(|ends| {
            sum += ends;
            sum > before
        })?;
        let evidence = ReedEvidence {
            dents: planned.clone(),
            shafts: Vec::new(),
            ends_left: 0,
            tape: None,
            seen: Vec::new(),
        };
        let suspect = ReedSuspect {
            kind,
            dent: u32::try_from(at + 1).ok()?,
            share: 1.0,
        };
        let stands = reed_stands(&evidence, &suspect);
        Some(ReedPicture {
            planned,
            stands,
            at,
        })
    }

    /// What was read beside the plan, batch by batch.
    pub(super) fn reading_disagrees(&self, calls: Calls, read: &[Shaft]) -> DisagreeingView {
        let columns = decide::columns(self, calls, read);
        let differences = crate::fault::differences(&columns);
        let mut batches: Vec<(u32, Vec<Column>)> = Vec::new();
        let mut call = calls.first.0;
        for column in columns {
            let batch = self.batch_at(Call(call.min(calls.last.0)));
            let number = batch.map_or(0, |batch| batch.number);
            if batches.last().is_none_or(|(last, _)| *last != number) {
                batches.push((number, Vec::new()));
            }
            if let Some((_, list)) = batches.last_mut() {
                list.push(column);
            }
            call += match column {
                Column::Extra(_) => 0,
                Column::Exchanged(..) => 2,
                Column::Same(_) | Column::Other(..) | Column::Missing(_) | Column::NotRead(_) => 1,
            };
        }
        let view = ReadBackView {
            batches,
            differences,
        };
        DisagreeingView {
            what: Disagreeing::ReadBack(view),
            choices: vec![
                Choice::Trace,
                Choice::ThreadAgain,
                Choice::PutRight,
                Choice::LookAgain,
                Choice::LeaveOpen,
            ],
        }
    }
}
