//! The views of what is open: questions, mismatches, mendings.

use super::*;
use crate::dressing::decide;
use crate::dressing::event::{Mismatch, Question};
use crate::dressing::state::{Dressing, Mending};
use crate::fault::{Evidence, Found};
use crate::quantity::Call;

impl Dressing {
    pub(super) fn asking(&self, question: &Question) -> AskingView {
        let number = |calls: &Calls| self.batch_at(calls.first).map_or(0, |batch| batch.number);
        let (asked, answers) = match question {
            Question::CallsMade { batch } => (
                Asked::CallsMade {
                    batch: number(batch),
                },
                0,
            ),
            Question::EndsLeft { batch, .. } => (
                Asked::EndsLeft {
                    batch: number(batch),
                },
                0,
            ),
            Question::HeddlesLeft { batch, .. } => (
                Asked::HeddlesLeft {
                    batch: number(batch),
                    shafts: self.plan().shafts,
                },
                0,
            ),
            Question::Look {
                look,
                reason,
                answers,
            } => (
                Asked::Look {
                    look: *look,
                    reason: *reason,
                    spot: self.spot(*look),
                },
                answers.len(),
            ),
        };
        let round = match answers {
            0 => Round::First,
            1 => Round::Again,
            _ => Round::OnceMore,
        };
        AskingView { asked, round }
    }

    fn spot(&self, look: Look) -> Option<Spot> {
        match look {
            Look::ShaftOf { call } => self.spot_of(call),
            Look::Together { calls } => self.spot_of(calls.first),
            _ => None,
        }
    }

    /// A call said by its knot, its handful and its place in the handful.
    #[must_use]
    pub fn spot_of(&self, call: Call) -> Option<Spot> {
        let batch = self.batch_at(call)?;
        let handfuls = self.handfuls(batch);
        let at = handfuls.iter().position(|h| h.contains(call))?;
        Some(Spot {
            batch: batch.number,
            handful: at as u32 + 1,
            place: call.0 - handfuls[at].first.0 + 1,
        })
    }

    pub(super) fn disagreeing(&self, mismatch: &Mismatch) -> DisagreeingView {
        match mismatch {
            Mismatch::Batch {
                batch,
                calls_made,
                ends_left,
                heddles_left,
                seen,
            } => {
                let (heddles, seen) = (heddles_left.clone(), seen.clone());
                let evidence =
                    decide::evidence(self, *batch, *calls_made, *ends_left, heddles, seen);
                self.batch_disagrees(mismatch, *batch, evidence)
            }
            Mismatch::Found(found) => self.found(*found),
            Mismatch::Look { look, reason, loom } => DisagreeingView {
                what: Disagreeing::Look {
                    look: *look,
                    loom: *loom,
                    record: decide::expected(self, *look),
                },
                choices: self.choices_for(*look, *reason, *loom),
            },
        }
    }

    fn batch_disagrees(
        &self,
        mismatch: &Mismatch,
        calls: Calls,
        evidence: Evidence,
    ) -> DisagreeingView {
        let tracing = crate::fault::trace(&evidence).unwrap_or_default();
        let ways = decide::ways_of(self, mismatch);
        let mut choices = vec![Choice::ThreadAgain];
        choices.extend(ways.iter().map(|way| Choice::Way(way.kind)));
        choices.extend([Choice::PutRight, Choice::LeaveOpen]);
        let what = Disagreeing::Batch {
            batch: self.batch_or_none(calls),
            calls_made: evidence.calls_made,
            ends_left: evidence.ends_left,
            heddles_left: evidence.heddles_left,
            tracing: Box::new(tracing),
            planned: evidence.planned,
            ways,
            again_seconds: f64::from(evidence.calls_made) * decide::seconds_per_end(self),
        };
        DisagreeingView { what, choices }
    }

    fn found(&self, found: Found) -> DisagreeingView {
        let ways = decide::ways_found(self, found);
        let (calls, made) = decide::batch_of(self, found);
        let in_work = matches!(found, Found::InHeddles(_)) && decide::is_in_work(self, calls.first);
        let mut choices = Vec::new();
        if in_work {
            choices.push(Choice::ThreadAgain);
        }
        choices.extend(ways.iter().map(|way| Choice::Way(way.kind)));
        choices.extend([Choice::PutRight, Choice::LeaveOpen]);
        let seconds = f64::from(made) * decide::seconds_per_end(self);
        let what = Disagreeing::Found {
            found,
            batch: self.batch_or_none(calls),
            planned: self.plan().threading[calls.indices()].to_vec(),
            ways,
            again_seconds: in_work.then_some(seconds),
        };
        DisagreeingView { what, choices }
    }

    fn batch_or_none(&self, calls: Calls) -> Batch {
        self.batch_at(calls.first).cloned().unwrap_or(Batch {
            number: 0,
            calls,
            heddles: Vec::new(),
        })
    }

    pub(super) fn mending(&self, mending: &Mending) -> View {
        let at = (mending.made as usize).min(mending.moves.len() - 1);
        let pressed = mending
            .moves
            .iter()
            .filter(|step| !decide::is_led_later(step));
        View::Mending(MendingView {
            batch: self
                .batch_at(mending.batch.first)
                .map_or(0, |batch| batch.number),
            first: mending.batch.first,
            way: mending.way,
            now: mending.moves[at].clone(),
            number: at as u32 + 1,
            of: pressed.count() as u32,
        })
    }

    fn choices_for(&self, look: Look, reason: Reason, loom: i64) -> Vec<Choice> {
        let all = [
            Choice::LoomHolds,
            Choice::PutRight,
            Choice::StepBack,
            Choice::LookAgain,
            Choice::LeaveOpen,
        ];
        let open = |choice: &Choice| decide::way_is_open(self, look, reason, loom, *choice);
        all.into_iter().filter(open).collect()
    }
}
