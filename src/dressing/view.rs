//! What can be shown now, all answers worked out: enums and numbers, no text. Owns the shape; a
//! shell shows it and works nothing out. While a look is open no figure of it is in here.

use super::ask::Choice;
use super::event::{Look, Mismatch, Question, Reason, StepKey, When};
use super::ledger::Task;
use super::schedule::BatchPart;
use super::state::{Dressing, Mending, Mood, Rest};
use crate::fault::{Evidence, Move, Tracing, Way, WayKind};
use crate::method::{Stage, StepId};
use crate::plan::{Batch, Bundle, DentEnds, Floats, Group, Plan, Side};
use crate::quantity::{Call, Calls, Fraction, Shaft};

/// What can be shown now.
#[derive(Debug, Clone, PartialEq)]
pub enum View {
    /// A step about the loom, to be done and pressed on.
    Step(StepView),
    /// A group to wind, spread, knot or cut.
    Group(GroupView),
    /// A turn of the beam.
    Turn(TurnView),
    /// Ends and heddles to be counted out for a batch.
    CountOut(CountOutView),
    /// The next handful of calls.
    Call(CallView),
    /// The end of a batch: used up, or left over or short.
    UsedUp(UsedUpView),
    /// A group to sley.
    Sley(SleyView),
    /// A bundle to tie or to finish.
    Tie(TieView),
    /// A shed to open.
    Shed(ShedView),
    /// A question is open. Has no field for the figure that is asked.
    Asking(AskingView),
    /// Counts or looks disagree.
    Disagreeing(DisagreeingView),
    /// One move of a mending.
    Mending(MendingView),
    /// Paused or stopped for today.
    Resting(RestingView),
    /// The loom is ready to weave.
    Ready(ReadyView),
}

/// A step about the loom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepView {
    /// The step.
    pub step: StepId,
    /// Whether it may be left out.
    pub optional: bool,
}

/// A group to wind, spread, knot or cut.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupView {
    /// Which of the four.
    pub task: Task,
    /// The group.
    pub group: Group,
    /// Groups in all.
    pub of: u32,
    /// Wound floating selvedges that lie in it beside its heddled ends.
    pub floats: u32,
    /// Spaces of the raddle, counted from the threading edge of the warp, with the ends in each.
    pub spaces: Vec<(u32, u32)>,
    /// The side at which the group lies first: the threading side.
    pub side: Side,
}

/// A turn of the beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TurnView {
    /// The turn, from 1.
    pub turn: u32,
    /// Turns expected, where the girth is known.
    pub of: Option<u32>,
}

/// How the balance stands at a group's end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Balance {
    /// The last group that came out even.
    pub group: u32,
    /// Ends of the next group that are in already.
    pub carry: u32,
}

/// Ends and heddles to be counted out for a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct CountOutView {
    /// The batch.
    pub batch: Batch,
    /// Batches in all.
    pub of: u32,
    /// Ends to count out.
    pub ends: u32,
    /// The balance of the batch before, if a group ended in it.
    pub balance: Option<Balance>,
    /// Heddles still empty on each shaft, where the plan knows the heddles on hand.
    pub empty_heddles: Option<Vec<u32>>,
}

/// The next handful of calls.
#[derive(Debug, Clone, PartialEq)]
pub struct CallView {
    /// The batch.
    pub batch: Batch,
    /// Batches in all.
    pub of: u32,
    /// The calls of this handful, in the order of threading.
    pub shafts: Vec<Shaft>,
    /// Their numbers.
    pub calls: Calls,
    /// This handful's number in the batch, from 1.
    pub handful: u32,
    /// Lengths of all handfuls of the batch.
    pub handfuls: Vec<u32>,
    /// The shafts of the next handful; empty at the batch's end.
    pub next: Vec<Shaft>,
    /// The group in which the handful ends, and its ends left after it.
    pub group: Group,
    /// Ends of that group still to thread after this handful.
    pub group_left: u32,
}

/// The end of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct UsedUpView {
    /// The batch.
    pub batch: Batch,
    /// Batches in all.
    pub of: u32,
    /// The balance that comes out here, if a group ended in it.
    pub balance: Option<Balance>,
}

/// One dent's ends, for the eye.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DentFill {
    /// Counted from the side where sleying starts.
    pub dent: u32,
    /// Heddled ends in it, 0 for an empty dent.
    pub ends: u32,
}

/// A group to sley.
#[derive(Debug, Clone, PartialEq)]
pub struct SleyView {
    /// The group.
    pub group: Group,
    /// Its number in the order of sleying, from 1.
    pub nth: u32,
    /// Groups in all.
    pub of: u32,
    /// Whether the calls run upwards in the direction of sleying.
    pub upwards: bool,
    /// The side where sleying starts.
    pub from: Side,
    /// Its dents, in the order of sleying.
    pub dents: Vec<DentFill>,
    /// Ends that the first dent holds already from the group before.
    pub shared: u32,
    /// Where on the tape, from the reed's edge at the sleying side, the last filled dent lies.
    pub tape: Fraction,
}

/// A bundle to tie or to finish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TieView {
    /// First or second round.
    pub round: Task,
    /// The bundle.
    pub bundle: Bundle,
    /// Bundles in all.
    pub of: u32,
    /// How it lies to the middle.
    pub place: FromMiddle,
}

/// How a bundle lies to the middle of the warp.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FromMiddle {
    /// It is the middle one, or one of the two.
    Middle,
    /// So many bundles to the right of the middle.
    Right(u32),
    /// So many bundles to the left of the middle.
    Left(u32),
}

/// A shed to open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShedView {
    /// The treadle (or the shaft, where there is no tie-up), from 1.
    pub number: u32,
    /// Sheds in all.
    pub of: u32,
    /// Whether `number` is a treadle.
    pub treadle: bool,
    /// The shafts that rise.
    pub rising: Vec<Shaft>,
    /// Ends that rise in the whole warp.
    pub ends: u32,
}

/// A question is open. It has no field for the figure that is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct AskingView {
    /// What is asked.
    pub asked: Asked,
    /// The first time, again, or once more because two answers differed.
    pub round: Round,
}

/// What is asked, and all that is needed to ask it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// How many calls of the batch are made.
    CallsMade {
        /// The batch's number.
        batch: u32,
    },
    /// How many ends of the count-out are left.
    EndsLeft {
        /// The batch's number.
        batch: u32,
    },
    /// How many heddles of the count-out are left on each shaft.
    HeddlesLeft {
        /// The batch's number.
        batch: u32,
        /// Shafts of the loom.
        shafts: u8,
    },
    /// A look.
    Look {
        /// What is looked at.
        look: Look,
        /// Why.
        reason: Reason,
        /// Where it is, for a look inside a knot.
        spot: Option<Spot>,
    },
}

/// A heddle said by its place: knot, handful, and place in the handful.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// The batch, whose slip knot it hangs in.
    pub batch: u32,
    /// The handful in the batch, from 1.
    pub handful: u32,
    /// The place in the handful, from 1.
    pub place: u32,
}

/// Which time a question is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Round {
    /// The first time.
    First,
    /// "Count again."
    Again,
    /// Two answers differed: once more.
    OnceMore,
}

/// Counts or looks disagree.
#[derive(Debug, Clone, PartialEq)]
pub struct DisagreeingView {
    /// What disagrees.
    pub what: Disagreeing,
    /// The ways out that can be chosen, the likeliest first.
    pub choices: Vec<Choice>,
}

/// What disagrees.
#[derive(Debug, Clone, PartialEq)]
pub enum Disagreeing {
    /// A batch that did not come out even.
    Batch {
        /// The batch.
        batch: Batch,
        /// Calls made.
        calls_made: u32,
        /// Ends left.
        ends_left: i64,
        /// Heddles left on each shaft.
        heddles_left: Vec<i64>,
        /// Explanations and the next look.
        tracing: Box<Tracing>,
        /// The batch's shafts as planned.
        planned: Vec<Shaft>,
        /// Ways of mending that can be led, with their cost, once the place is settled.
        ways: Vec<Way>,
    },
    /// A look that found something else than the record says.
    Look {
        /// What was looked at.
        look: Look,
        /// What the loom says.
        loom: i64,
        /// What the record says; two equal answers are in, so it may be shown.
        record: i64,
    },
}

/// One move of a mending.
#[derive(Debug, Clone, PartialEq)]
pub struct MendingView {
    /// The batch that is mended.
    pub batch: u32,
    /// The way that was chosen.
    pub way: WayKind,
    /// The move to make now.
    pub now: Move,
    /// Its number, from 1.
    pub number: u32,
    /// Moves in all.
    pub of: u32,
}

/// Paused or stopped for today.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RestingView {
    /// Which of the two.
    pub rest: Rest,
    /// Whether counted-out heddles hang in the middle of a batch.
    pub counted_out: bool,
}

/// The loom is ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReadyView {
    /// Ends on the loom, floats among them.
    pub ends: u32,
    /// Checks that were passed over or left open.
    pub left_open: u32,
}

/// What stands around the view: the dressing's place and what is on record.
#[derive(Debug, Clone, PartialEq)]
pub struct About {
    /// The plan's title.
    pub title: String,
    /// The stage; `None` when ready.
    pub stage: Option<Stage>,
    /// The current step; `None` when ready. Its ends and its number are hidden while a look is open.
    pub step: Option<StepKey>,
    /// Ends that the stage is done for, of all heddled ends; hidden (`None`) while a look is open.
    pub done: Option<(u32, u32)>,
    /// What one step back would take back; `None` where nothing can be or a look is open.
    pub takes_back: Option<TakesBack>,
    /// Whether something was taken back that can be done again.
    pub can_redo: bool,
    /// Whether a mismatch is open now.
    pub mismatch_open: bool,
    /// Checks passed over or mismatches left open.
    pub left_open: u32,
    /// Broken ends not mended yet.
    pub broken: u32,
    /// Whether help is wanted.
    pub help_wanted: bool,
    /// Minutes left in this stage at her own pace, where it is known.
    pub minutes_left: Option<u32>,
    /// When the last work was pressed.
    pub last_work: Option<When>,
}

/// What one step back would take back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakesBack {
    /// A step about the loom.
    Step(StepId),
    /// A task done to these ends.
    Task(Task, Calls),
    /// An answer or a question.
    Answer,
    /// The way out that was chosen.
    Choice,
    /// An amendment of the plan.
    Amendment,
}

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
                    })
                },
                |key| self.step_view(key),
            ),
        }
    }

    /// What stands around the view.
    #[must_use]
    pub fn about(&self) -> About {
        let looking = super::state::open_look(self.mood()).is_some();
        let stage = self.stage();
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
            broken: self
                .record()
                .broken
                .iter()
                .filter(|end| !end.mended)
                .count() as u32,
            help_wanted: self.record().help_wanted,
            minutes_left: self.minutes_left().filter(|_| !looking),
            last_work: self.last_work,
        }
    }

    /// Checks passed over and mismatches left open; optional steps left out are not counted.
    #[must_use]
    pub fn left_open(&self) -> u32 {
        use super::state::Left;
        let left = self.record().left.iter();
        left.filter(|left| !matches!(left.what, Left::Step(_)))
            .count() as u32
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

    fn minutes_left(&self) -> Option<u32> {
        let stage = self.stage()?;
        let (done, all) = self.done_in(stage);
        let ms = self.pace().ms_per_end(stage)? * u64::from(all - done);
        u32::try_from(ms.div_ceil(60_000)).ok()
    }

    fn takes_back(&self) -> Option<TakesBack> {
        use super::event::Event;
        let past = self.past.last()?;
        past.events.iter().find_map(|event| match event {
            Event::StepDone(key) | Event::StepLeftOut(key) => Some(TakesBack::Step(key.id)),
            Event::WindLeftOut => Some(TakesBack::Step(StepId::WindGroup)),
            Event::Marked { task, calls, .. } => Some(TakesBack::Task(*task, *calls)),
            Event::Chose(_) => Some(TakesBack::Choice),
            Event::Amended { .. } => Some(TakesBack::Amendment),
            Event::Put(_) | Event::Answered(_) => Some(TakesBack::Answer),
            _ => None,
        })
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
            StepId::OpenShed => Some(self.shed_view(self.now.sheds + 1)),
            _ => None,
        }
        .unwrap_or(View::Step(StepView {
            step: key.id,
            optional: super::decide::may_be_left_out(key.id) || key.id.stage() == Stage::Wind,
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
        let group = super::decide::evened_group(self, batch)?;
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
        let group = self.next_sley_group()?;
        let plan = self.plan();
        let upwards = plan.sley_from == plan.thread_from;
        let of = plan.groups.len() as u32;
        let dents = dents_of(plan, group.calls, upwards);
        let first = dents.first()?;
        let shared = calls_in(plan, first.dent).map_or(0, |calls| calls.len() - first.ends);
        Some(View::Sley(SleyView {
            group,
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

    fn shed_view(&self, number: u32) -> View {
        let plan = self.plan();
        let treadle = !plan.tie_up.is_empty();
        let rising = if treadle {
            plan.tie_up
                .get(number as usize - 1)
                .cloned()
                .unwrap_or_default()
        } else {
            vec![Shaft(number as u8)]
        };
        let filled = rising
            .iter()
            .filter_map(|shaft| self.now.filled.get(usize::from(shaft.0) - 1));
        View::Shed(ShedView {
            number,
            of: self.sheds(),
            treadle,
            ends: filled.sum(),
            rising,
        })
    }

    fn asking(&self, question: &Question) -> AskingView {
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

    fn disagreeing(&self, mismatch: &Mismatch) -> DisagreeingView {
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
                    super::decide::evidence(self, *batch, *calls_made, *ends_left, heddles, seen);
                self.batch_disagrees(mismatch, *batch, evidence)
            }
            Mismatch::Look { look, reason, loom } => DisagreeingView {
                what: Disagreeing::Look {
                    look: *look,
                    loom: *loom,
                    record: super::decide::expected(self, *look),
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
        let ways = super::decide::ways_of(self, mismatch);
        let mut choices = vec![Choice::ThreadAgain];
        choices.extend(ways.iter().map(|way| Choice::Way(way.kind)));
        choices.extend([Choice::PutRight, Choice::LeaveOpen]);
        let what = Disagreeing::Batch {
            batch: self.batch_at(calls.first).cloned().unwrap_or(Batch {
                number: 0,
                calls,
                heddles: Vec::new(),
            }),
            calls_made: evidence.calls_made,
            ends_left: evidence.ends_left,
            heddles_left: evidence.heddles_left,
            tracing: Box::new(tracing),
            planned: evidence.planned,
            ways,
        };
        DisagreeingView { what, choices }
    }

    fn mending(&self, mending: &Mending) -> View {
        let at = (mending.made as usize).min(mending.moves.len() - 1);
        View::Mending(MendingView {
            batch: self
                .batch_at(mending.batch.first)
                .map_or(0, |batch| batch.number),
            way: mending.way,
            now: mending.moves[at].clone(),
            number: at as u32 + 1,
            of: mending.moves.len() as u32,
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
        let open = |choice: &Choice| super::decide::way_is_open(self, look, reason, loom, *choice);
        all.into_iter().filter(open).collect()
    }
}

fn calls_in(plan: &Plan, dent: u32) -> Option<Calls> {
    let first = plan.sley.dents.first()?.number;
    let at = dent.checked_sub(first)? as usize;
    match plan.sley.dents.get(at)?.ends {
        DentEnds::Calls(calls) => Some(calls),
        DentEnds::Empty | DentEnds::Float { .. } => None,
    }
}

/// The dents of a group in the order of sleying, the empty ones between them too.
fn dents_of(plan: &Plan, calls: Calls, upwards: bool) -> Vec<DentFill> {
    let dents = &plan.sley.dents;
    let before = |dent: &crate::plan::Dent| match dent.ends {
        DentEnds::Calls(these) if upwards => these.last < calls.first,
        DentEnds::Calls(these) => these.first > calls.last,
        DentEnds::Float { .. } | DentEnds::Empty => false,
    };
    // floats and empty dents stand among them, so the first of the group is found by its ends
    let start = dents.iter().rposition(before).map_or(0, |at| at + 1);
    let mut fills: Vec<DentFill> = dents[start..]
        .iter()
        .map_while(|dent| match dent.ends {
            DentEnds::Empty => Some((dent.number, 0)),
            DentEnds::Float { .. } => Some((dent.number, u32::MAX)),
            DentEnds::Calls(these) => {
                let first = these.first.max(calls.first);
                let last = these.last.min(calls.last);
                (first <= last).then(|| (dent.number, last.0 - first.0 + 1))
            }
        })
        .filter(|&(_, ends)| ends != u32::MAX)
        .map(|(dent, ends)| DentFill { dent, ends })
        .collect();
    // empty dents behind the last end belong to the group that comes next
    while fills.last().is_some_and(|fill| fill.ends == 0) {
        fills.pop();
    }
    fills
}

/// How the bundle of a group lies to the middle; groups are numbered from the threading side.
fn from_middle(group: u32, of: u32, thread_from: Side) -> FromMiddle {
    let (group, of) = (i64::from(group), i64::from(of));
    let off = 2 * group - (of + 1);
    let steps = u32::try_from(off.abs() / 2).unwrap_or(0);
    match (off.cmp(&0), thread_from) {
        _ if steps == 0 => FromMiddle::Middle,
        (std::cmp::Ordering::Less, Side::Right) | (std::cmp::Ordering::Greater, Side::Left) => {
            FromMiddle::Right(steps)
        }
        _ => FromMiddle::Left(steps),
    }
}
