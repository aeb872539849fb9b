//! The views of the work: which step is shown with which answers.

use super::place::{calls_in, dents_of, from_middle};
use super::*;
use crate::dressing::decide;
use crate::dressing::event::Event;
use crate::dressing::history::Past;
use crate::dressing::schedule::BatchPart;
use crate::dressing::state::{Dressing, Left, LeftOpen, Mood, open_look};
use crate::plan::{self, Floats, Plan};
use crate::quantity::Call;

impl Dressing {
    /// What can be shown now.
    #[must_use]
    pub fn view(&self) -> View {
        if let Some(rest) = self.rest() {
            return View::Resting(RestingView {
                rest,
                counted_out: self.is_inside_batch(),
            });
        }
        match self.mood() {
            Mood::Asking(question) => View::Asking(self.asking(question)),
            Mood::Disagreeing(mismatch) => View::Disagreeing(self.disagreeing(mismatch)),
            Mood::Mending(mending) => self.mending(mending),
            Mood::Working => self.current().map_or_else(
                || {
                    View::Ready(ReadyView {
                        ends: self.plan().positions(),
                        left_open: self.left_open(),
                        measures: self.measures(),
                    })
                },
                |key| self.step_view(key),
            ),
        }
    }

    /// What stands around the view.
    #[must_use]
    pub fn about(&self) -> About {
        let looking = open_look(self.mood()).is_some();
        let stage = self.stage();
        let time = self.time_left().filter(|_| !looking);
        About {
            title: self.plan().title.clone(),
            stage,
            step: self.current().map(|step| StepKey {
                calls: step.calls.filter(|_| !looking),
                number: step.number.filter(|_| !looking),
                ..step
            }),
            done: stage.filter(|_| !looking).map(|stage| self.done_in(stage)),
            takes_back: self.takes_back().filter(|_| !looking),
            can_redo: !self.future.is_empty(),
            mismatch_open: matches!(self.mood(), Mood::Disagreeing(_)),
            left_open: self.left_open(),
            disagreement: self.disagreement().filter(|_| !looking),
            broken: self
                .record()
                .broken
                .iter()
                .filter(|end| !end.mended)
                .count() as u32,
            help_wanted: self.record().help_wanted,
            hands_wanted: self.record().hands_wanted,
            minutes_left: time.as_ref().map(|left| left.minutes),
            time_left: time,
            groups_left: self.groups_left().filter(|_| !looking),
            notes: self.notes_here(),
            last_work: self.last_work,
        }
    }

    /// Checks passed over and mismatches left open; optional steps left out are not counted.
    #[must_use]
    pub fn left_open(&self) -> u32 {
        let left = self.record().left.iter();
        let open = |left: &&LeftOpen| match left.what {
            Left::Step(_) => false,
            Left::Question(_) => true,
            Left::Mismatch(_) => !self.now.taken_up.contains(&left.entry),
        };
        left.filter(open).count() as u32
    }

    /// What was measured last of each thing.
    #[must_use]
    pub fn measures(&self) -> Vec<(Measured, u32)> {
        let last = |what: Measured| {
            let of = self.record().measures.iter().rev();
            of.copied().find(|(measured, _)| *measured == what)
        };
        Measured::ALL.into_iter().filter_map(last).collect()
    }

    /// The end at which the work is, where it is at one: the first of those of the current step.
    #[must_use]
    pub fn hand_at(&self) -> Option<Call> {
        match self.view() {
            View::Call(call) => Some(call.calls.first),
            _ => self.current()?.calls.map(|calls| calls.first),
        }
    }

    /// Whether a batch is counted out and not counted off.
    #[must_use]
    pub fn is_inside_batch(&self) -> bool {
        let count = |task| self.ledger().of(task).count();
        count(Task::CountedOut) > count(Task::Checked)
    }

    /// Ends for which the stage's main task is done, of all heddled ends.
    #[must_use]
    pub fn done_in(&self, stage: Stage) -> (u32, u32) {
        let count = |task| self.ledger().of(task).count();
        let all = self.calls();
        let done = match stage {
            Stage::Prepare => 0,
            Stage::Wind => count(Task::Wound),
            Stage::Spread => count(Task::Spread),
            Stage::Beam => count(Task::Cut),
            Stage::Thread => count(Task::Threaded),
            Stage::Sley => count(Task::Sleyed),
            Stage::TieOn => (count(Task::TiedFirst) + count(Task::TiedSecond)) / 2,
            Stage::Try => {
                (u64::from(all) * u64::from(self.now.sheds) / u64::from(self.sheds().max(1))) as u32
            }
        };
        (done, all)
    }

    fn takes_back(&self) -> Option<TakesBack> {
        taken(self.past.last()?)
    }

    /// What the last press back took back, for as long as it can be done again; `None` while a look
    /// is open.
    #[must_use]
    pub fn taken_back(&self) -> Option<TakesBack> {
        let looking = open_look(self.mood()).is_some();
        taken(self.future.last()?).filter(|_| !looking)
    }

    fn step_view(&self, key: StepKey) -> View {
        match key.id {
            StepId::WindGroup => self.group_view(Task::Wound),
            StepId::SpreadGroup => self.group_view(Task::Spread),
            StepId::KnotGroup => self.group_view(Task::Knotted),
            StepId::CutLoops => self.group_view(Task::Cut),
            StepId::BeamTurn => Some(View::Turn(TurnView {
                turn: self.now.turns + 1,
                of: self.plan().beam.turns,
            })),
            StepId::ThreadBatch => self.batch_view(),
            StepId::SleyGroup => self.sley_view(),
            StepId::TieFirst => self.tie_view(Task::TiedFirst),
            StepId::TieSecond => self.tie_view(Task::TiedSecond),
            StepId::TieUp => self.tie_up_view(key.number.unwrap_or(0)),
            StepId::OpenShed => self.shed_view(key.number.unwrap_or(0)),
            StepId::Header | StepId::FirstPicks => self.pick_view(key),
            StepId::MendEnds => self.ends_view(),
            _ => None,
        }
        .unwrap_or(View::Step(StepView {
            step: key.id,
            optional: decide::may_be_left_out(key.id) || key.id.stage() == Stage::Wind,
        }))
    }

    fn group_view(&self, task: Task) -> Option<View> {
        let group = self.next_group(task)?;
        let plan = self.plan();
        let spaces = plan.raddle.groups.get(group.number as usize - 1);
        let of = plan.groups.len() as u32;
        let edges = u32::from(group.number == 1) + u32::from(group.number == of);
        let wound = plan.floats == Floats::FromWarp;
        Some(View::Group(GroupView {
            task,
            group,
            of,
            floats: if wound { edges } else { 0 },
            wind: (task == Task::Wound).then(|| wind_view(plan, group.number)),
            spaces: spaces.map(|s| s.spaces.clone()).unwrap_or_default(),
            side: plan.thread_from,
        }))
    }

    fn batch_view(&self) -> Option<View> {
        let batch = self.next_batch()?;
        let of = self.plan().batches.len() as u32;
        Some(match self.batch_part(batch) {
            BatchPart::CountOut => View::CountOut(CountOutView {
                batch: batch.clone(),
                of,
                ends: batch.calls.len(),
                balance: self.balance_before(batch),
                empty_heddles: self.empty_heddles(),
            }),
            BatchPart::Handful(calls) => View::Call(self.call_view(batch, of, calls)?),
            BatchPart::UsedUp => View::UsedUp(UsedUpView {
                batch: batch.clone(),
                of,
                balance: self.balance(batch),
            }),
        })
    }

    fn call_view(&self, batch: &Batch, of: u32, calls: Calls) -> Option<CallView> {
        let shafts = |calls: Calls| self.plan().threading[calls.indices()].to_vec();
        let handfuls = self.handfuls(batch);
        let at = handfuls.iter().position(|h| h.contains(calls.first))?;
        let group = self.group_at(calls.last)?;
        Some(CallView {
            batch: batch.clone(),
            of,
            shafts: shafts(calls),
            calls,
            handful: at as u32 + 1,
            next: handfuls
                .get(at + 1)
                .copied()
                .map(shafts)
                .unwrap_or_default(),
            handfuls: handfuls.iter().map(|h| h.len()).collect(),
            group,
            group_left: group.calls.last.0 - calls.last.0,
        })
    }

    /// Heddles still empty on each shaft.
    #[must_use]
    pub fn empty_heddles(&self) -> Option<Vec<u32>> {
        let on_hand = self.plan().heddles.on_hand.as_ref()?;
        let filled = self.now.filled.iter();
        Some(
            on_hand
                .iter()
                .zip(filled)
                .map(|(hand, filled)| hand.saturating_sub(*filled))
                .collect(),
        )
    }

    fn balance(&self, batch: &Batch) -> Option<Balance> {
        let group = decide::evened_group(self, batch)?;
        let last = self.plan().groups[group as usize - 1].calls.last;
        Some(Balance {
            group,
            carry: batch.calls.last.0 - last.0,
        })
    }

    fn balance_before(&self, batch: &Batch) -> Option<Balance> {
        let before = Call(batch.calls.first.0.checked_sub(1)?);
        self.balance(self.batch_at(before).filter(|_| before.0 > 0)?)
    }

    fn sley_view(&self) -> Option<View> {
        let (group, calls) = self.next_sleying()?;
        let plan = self.plan();
        let upwards = plan.sley_from == plan.thread_from;
        let of = plan.groups.len() as u32;
        let dents = dents_of(plan, calls, upwards);
        let first = dents.first()?;
        let shared = calls_in(plan, first.dent).map_or(0, |calls| calls.len() - first.ends);
        Some(View::Sley(SleyView {
            group,
            calls,
            nth: if upwards {
                group.number
            } else {
                of + 1 - group.number
            },
            of,
            upwards,
            from: plan.sley_from,
            tape: plan.tape_of_dent(dents.last()?.dent)?,
            shared,
            dents,
        }))
    }

    fn tie_view(&self, round: Task) -> Option<View> {
        let bundle = self.next_bundle(round)?;
        let of = self.plan().bundles.len() as u32;
        Some(View::Tie(TieView {
            round,
            bundle,
            of,
            place: from_middle(bundle.group, of, self.plan().thread_from),
        }))
    }

    fn tie_up_view(&self, number: u32) -> Option<View> {
        let plan = self.plan();
        let ties = plan.ties_of_treadles();
        let of = u32::try_from(ties.len()).ok()?;
        let at = (number as usize).checked_sub(1)?;
        Some(View::TieUp(TieUpView {
            tie: ties.into_iter().nth(at)?,
            of,
            skeleton: plan.ties_skeleton(),
            plain: (number == 1).then(|| plan.plain_weave()),
        }))
    }

    fn pick_view(&self, key: StepKey) -> Option<View> {
        let (plan, number) = (self.plan(), key.number?);
        let (of, pick) = match key.id {
            StepId::Header => (plan::HEADER_PICKS, plan.header_pick(number)?),
            _ => (plan.first_picks(), plan.first_pick(number)?),
        };
        Some(View::Pick(PickView {
            step: key.id,
            number,
            of,
            pick,
        }))
    }

    fn shed_view(&self, number: u32) -> Option<View> {
        let plan = self.plan();
        let shed = plan.shed_to_try(number)?;
        Some(View::Shed(ShedView {
            number,
            of: self.sheds(),
            opens: shed.opens,
            press: plan.treadles_for(&shed.rising).unwrap_or_default(),
            rising: shed.rising,
            others: shed.others,
            warnings: shed.warnings,
        }))
    }
}

/// What is wound of one group: colours, passes, bout.
fn wind_view(plan: &Plan, group: u32) -> WindView {
    let wind = plan::wind::wind(plan);
    let holds = |bout: &&plan::wind::Bout| (bout.groups.0..=bout.groups.1).contains(&group);
    let bout = wind.bouts.iter().find(holds);
    let stripes = plan::wind::stripes_of_group(plan, group);
    let ends = plan.groups.get(group as usize - 1).map_or(0, |g| g.ends);
    let passes = match stripes.as_slice() {
        [] => ends.div_ceil(plan.together.max(1)),
        some => some.iter().map(|stripe| stripe.passes).sum(),
    };
    WindView {
        stripes: stripes.into_iter().map(|s| (s.yarn, s.ends)).collect(),
        bout: bout.map_or(1, |bout| bout.number),
        bouts: wind.bouts.len() as u32,
        bout_ends: bout.is_some_and(|bout| bout.groups.1 == group),
        passes,
    }
}

/// What an entry would be called if it were taken back.
fn taken(past: &Past) -> Option<TakesBack> {
    past.events().iter().find_map(|event| match event {
        Event::StepDone(key) | Event::StepLeftOut(key) => Some(TakesBack::Step(key.id)),
        Event::WindLeftOut => Some(TakesBack::Step(StepId::WindGroup)),
        Event::Marked { task, calls, .. } => Some(TakesBack::Task(*task, *calls)),
        Event::Chose(_) => Some(TakesBack::Choice),
        Event::Amended { .. } => Some(TakesBack::Amendment),
        Event::Put(_) | Event::Answered(_) => Some(TakesBack::Answer),
        _ => None,
    })
}
