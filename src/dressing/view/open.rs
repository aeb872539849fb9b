//! The views of what is open: questions, mismatches, mendings.

use super::*;
use crate::dressing::decide;
use crate::dressing::event::{Mismatch, Question};
use crate::dressing::sighting::Sighting;
use crate::dressing::state::{Dressing, Mending};
use crate::fault::cloth_spot::{is_float_there, suspects_in_cloth};
use crate::fault::{Evidence, Found};
use crate::quantity::Call;

impl Dressing {
    pub(super) fn asking(&self, question: &Question) -> AskingView {
        let number = |calls: &Calls| self.batch_at(calls.first).map_or(0, |batch| batch.number);
        let (asked, answers) = match question {
            Question::CallsMade { batch, .. } => (
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
            Question::WarpEnds { stretch, .. } => (Asked::WarpEnds { last: stretch.last }, 0),
            Question::WarpHeddles { .. } => {
                let shafts = self.plan().shafts;
                (Asked::WarpHeddles { shafts }, 0)
            }
            Question::ReedEnds { calls } => (
                Asked::ReedEnds {
                    group: self.group_at(calls.first).map_or(0, |group| group.number),
                    sleyed: self.ledger().of(Task::Sleyed).has_all(*calls),
                },
                0,
            ),
            Question::ReedTape { calls, .. } => (self.tape_asked(*calls), 0),
            Question::Look {
                look: Look::ReadBack { calls },
                reason,
                answers,
            } => (self.reading(*calls, *reason, answers.len() as u32), 0),
            Question::Sighting(so_far) => {
                let sought = so_far.sought(self.plan().units);
                (Asked::Sought(sought.unwrap_or(Sought::Shed)), 0)
            }
            Question::Measure { what, whole } => (
                Asked::Measure {
                    what: *what,
                    eighths: whole.is_some(),
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

    fn tape_asked(&self, calls: Calls) -> Asked {
        let plan = self.plan();
        let upwards = plan.sley_from == plan.thread_from;
        let last = dents_of(plan, calls, upwards).last().map(|fill| fill.dent);
        Asked::ReedTape {
            group: self.group_at(calls.first).map_or(0, |group| group.number),
            tape: last.and_then(|dent| plan.tape_of_dent(dent)),
        }
    }

    /// The handful that is read next: the one in which the next heddle should be.
    fn reading(&self, calls: Calls, reason: Reason, read: u32) -> Asked {
        let next = Call((calls.first.0.saturating_add(read)).min(calls.last.0));
        let spot = self.spot_of(next);
        let handful = self.batch_at(next).and_then(|batch| {
            let handfuls = self.handfuls(batch).into_iter();
            handfuls.into_iter().find(|handful| handful.contains(next))
        });
        Asked::ReadBack {
            reason,
            batch: spot.map_or(0, |spot| spot.batch),
            handful: spot.map_or(0, |spot| spot.handful),
            heddles: handful.map_or(1, |handful| handful.last.0.min(calls.last.0) - next.0 + 1),
            read,
            all: read >= calls.len(),
        }
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
                let said = heddles_left.clone();
                self.batch_disagrees(mismatch, (*batch, said), evidence)
            }
            Mismatch::Found(found) => self.found(*found),
            Mismatch::Sighting(sighting) => self.sighting(sighting),
            Mismatch::Look { look, reason, loom } => DisagreeingView {
                what: Disagreeing::Look {
                    look: *look,
                    loom: *loom,
                    record: decide::expected(self, *look),
                },
                choices: self.choices_for(*look, *reason, *loom),
            },
            Mismatch::Warp { .. } => self.warp_disagrees(mismatch),
            Mismatch::Reed { .. } => self.reed_disagrees(mismatch),
            Mismatch::ReadBack { calls, read, .. } => self.reading_disagrees(*calls, read),
        }
    }

    fn batch_disagrees(
        &self,
        mismatch: &Mismatch,
        (calls, said): (Calls, Vec<i64>),
        evidence: Evidence,
    ) -> DisagreeingView {
        let tracing = crate::fault::trace(&evidence).unwrap_or_default();
        let ways = decide::ways_of(self, mismatch);
        let mut choices = vec![Choice::ThreadAgain];
        choices.extend(ways.iter().map(|way| Choice::Way(way.kind)));
        choices.extend([Choice::PutRight, Choice::LeaveOpen]);
        let first = tracing.suspects.first().filter(|_| tracing.settled);
        let found = first.map(|suspect| {
            Box::new(Explained {
                evidence: evidence.clone(),
                suspect: suspect.clone(),
            })
        });
        let what = Disagreeing::Batch {
            left: self.left_of(first, evidence.calls_made, &ways),
            found,
            batch: self.batch_or_none(calls),
            calls_made: evidence.calls_made,
            ends_left: evidence.ends_left,
            heddles_left: said,
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
            left: self.left_as_it_is(&[found], made, &ways),
            ways,
            again_seconds: in_work.then_some(seconds),
            reed: self.reed_picture(found),
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
            group: self.group_in_reed(mending),
            way: mending.way,
            now: mending.moves[at].clone(),
            number: at as u32 + 1,
            of: pressed.count() as u32,
            broken: self
                .record()
                .broken
                .iter()
                .find(|end| Some(end.number) == mending.broken)
                .map(|end| self.broken_end(end)),
        })
    }

    /// The group of a mending that touches no heddle: the one of the first end drawn out of the reed.
    fn group_in_reed(&self, mending: &Mending) -> Option<u32> {
        let upwards = self.plan().sley_from == self.plan().thread_from;
        let mut drawn = None;
        for step in &mending.moves {
            match step {
                Move::DrawFromReed(calls) if upwards => drawn = drawn.or(Some(calls.first)),
                Move::DrawFromReed(calls) => drawn = drawn.or(Some(calls.last)),
                Move::UndoKnots(_) | Move::Sley(_) | Move::SleyMoved(..) | Move::Knot(_) => {}
                _ => return None,
            }
        }
        self.group_at(drawn?).map(|group| group.number)
    }

    fn sighting(&self, sighting: &Sighting) -> DisagreeingView {
        let plan = self.plan();
        let evidence = sighting.evidence(plan.units, None);
        let none = evidence
            .as_ref()
            .and_then(|evidence| suspects_in_cloth(plan, evidence).err());
        let suspects = self.suspects_of(sighting);
        let nth = (0..).zip(&suspects).map(|(nth, _)| Choice::Suspect(nth));
        let choices = nth
            .chain([Choice::LookAgain, Choice::PutRight, Choice::LeaveOpen])
            .collect();
        DisagreeingView {
            what: Disagreeing::Sighting {
                float: evidence.is_some_and(|evidence| is_float_there(plan, &evidence)),
                sighting: sighting.clone(),
                suspects,
                none,
            },
            choices,
        }
    }

    fn choices_for(&self, look: Look, reason: Reason, loom: i64) -> Vec<Choice> {
        let all = [
            Choice::Trace,
            Choice::LoomHolds,
            Choice::PutRight,
            Choice::StepBack,
            Choice::LookAgain,
            Choice::Sight,
            Choice::LeaveOpen,
        ];
        let open = |choice: &Choice| decide::way_is_open(self, look, reason, loom, *choice);
        all.into_iter().filter(open).collect()
    }
}
