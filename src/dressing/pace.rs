//! The weaver's own pace, from the log. Owns the sums; pauses and long gaps never count.

use super::event::{Entry, Event, When};
use super::ledger::Task;
use super::state::Dressing;
use crate::method::{Stage, StepId};

/// A gap longer than this is never work: ten minutes (a starting value, no source).
pub const LONGEST_WORK_MS: u64 = 10 * 60 * 1000;
/// So many ends are marked before a pace is told.
const ENDS_FIRST: u64 = 20;
/// So many turns or sheds are done before a pace is told.
const ROUNDS_FIRST: u64 = 3;
/// One place a step.
const STEPS: usize = StepId::ALL.len();

/// Time and counts by stage, and by each counted step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pace {
    spent_ms: [u64; 8],
    presses: [u64; 8],
    step_ms: [u64; STEPS],
    /// Ends marked at a step; turns or sheds where it is counted in those.
    units: [u64; STEPS],
}

impl Default for Pace {
    fn default() -> Self {
        Self {
            spent_ms: [0; 8],
            presses: [0; 8],
            step_ms: [0; STEPS],
            units: [0; STEPS],
        }
    }
}

impl Pace {
    /// Adds one entry that was asked at this step: the time since the entry before, unless that was a
    /// rest, a return or too long. Looks, questions and mendings count to the step that they are
    /// asked at, as they are part of its time.
    pub(super) fn add(
        &mut self,
        last: Option<When>,
        entry: &Entry,
        stage: Stage,
        step: Option<StepId>,
    ) {
        let at = stage as usize;
        let resting = entry.events.iter().any(|event| {
            matches!(
                event,
                Event::WentOn | Event::Opened | Event::Interrupted { .. } | Event::Undone { .. }
            )
        });
        let Some(last) = last.filter(|_| !resting) else {
            return;
        };
        let gap = entry.when.elapsed_ms.saturating_sub(last.elapsed_ms);
        if gap > self.interruption_ms(stage) {
            return;
        }
        self.spent_ms[at] += gap;
        self.presses[at] += 1;
        if let Some(step) = step {
            self.step_ms[step as usize] += gap;
            self.units[step as usize] += entry.events.iter().map(units).sum::<u64>();
        }
    }

    /// The mean time of a press in this stage, in milliseconds; 0 before the first one.
    fn press_ms(&self, stage: Stage) -> u64 {
        let at = stage as usize;
        self.spent_ms[at].checked_div(self.presses[at]).unwrap_or(0)
    }

    /// How long without a press counts as an interruption: three times the mean press of this
    /// stage, at least ten minutes.
    #[must_use]
    pub fn interruption_ms(&self, stage: Stage) -> u64 {
        (3 * self.press_ms(stage)).max(LONGEST_WORK_MS)
    }

    /// Milliseconds of work in this stage, pauses left out.
    #[must_use]
    pub fn spent_ms(&self, stage: Stage) -> u64 {
        self.spent_ms[stage as usize]
    }

    /// Milliseconds an end at the first step of this stage that is counted in ends.
    #[must_use]
    pub fn ms_per_end(&self, stage: Stage) -> Option<u64> {
        let mut steps = StepId::ALL.into_iter().filter(|id| id.stage() == stage);
        self.ms_per_unit(steps.find(|id| task_of(*id).is_some())?)
    }

    /// Milliseconds an end at this counted step, everything in between counted in; a turn or a shed
    /// where the step is counted in those. `None` before 20 ends, or 3 turns or sheds.
    #[must_use]
    pub fn ms_per_unit(&self, step: StepId) -> Option<u64> {
        let first = match step {
            StepId::BeamTurn | StepId::OpenShed | StepId::Header | StepId::FirstPicks => {
                ROUNDS_FIRST
            }
            _ => ENDS_FIRST,
        };
        let done = self.units[step as usize];
        (done >= first).then(|| self.step_ms[step as usize] / done)
    }
}

/// What an event counts at its step.
fn units(event: &Event) -> u64 {
    match event {
        Event::Marked { task, calls, .. } if !matches!(task, Task::CountedOut | Task::Checked) => {
            u64::from(calls.len())
        }
        Event::StepDone(key) => u64::from(key.number.is_some()),
        _ => 0,
    }
}

/// The time left at the weaver's own pace.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimeLeft {
    /// Whole minutes left in the stage, rounded up.
    pub minutes: u32,
    /// Of it, minutes left in the group, bundle or turn at hand, rounded up.
    pub here: u32,
    /// The same of the batch at hand, while threading.
    pub batch: Option<u32>,
    /// Whole minutes left in this stage and in the later ones whose pace was measured, rounded up.
    pub known: u32,
    /// The later stages that have not been measured: no figure stands for them.
    pub unmeasured: Vec<Stage>,
}

impl Dressing {
    /// The time left in the stage; `None` where her pace at it is not known yet. A counted step of the
    /// stage that is not begun is taken at the pace of the one before it, a plain one as a press.
    #[must_use]
    pub fn time_left(&self) -> Option<TimeLeft> {
        let now = self.current()?;
        let mut pace = self.pace().ms_per_unit(now.id)?;
        let here = u64::from(self.units_left_here(now.id)) * pace;
        let later = StepId::ALL.into_iter().skip_while(|id| *id != now.id);
        let mut all = 0;
        for id in later.take_while(|id| id.stage() == now.id.stage()) {
            if id.is_counted() {
                pace = self.pace().ms_per_unit(id).unwrap_or(pace);
                all += u64::from(self.units_left(id)?) * pace;
            } else if self.applies(id) && !self.has_done(id) {
                all += self.pace().press_ms(now.id.stage());
            }
        }
        let minutes = |ms: u64| u32::try_from(ms.div_ceil(60_000)).unwrap_or(u32::MAX);
        let batch = self.ends_left_in_batch(now.id);
        let batch =
            batch.map(|ends| u64::from(ends) * self.pace().ms_per_unit(now.id).unwrap_or(0));
        let later = Stage::ALL
            .into_iter()
            .filter(|stage| *stage > now.id.stage());
        let (mut known, mut unmeasured) = (all, Vec::new());
        for stage in later {
            match self.later_stage(stage) {
                Some(ms) => known += ms,
                None => unmeasured.push(stage),
            }
        }
        Some(TimeLeft {
            minutes: minutes(all),
            here: minutes(here),
            batch: batch.map(minutes),
            known: minutes(known),
            unmeasured,
        })
    }

    /// Milliseconds of a later stage, at the pace measured in it; `None` where one of its counted steps
    /// that are still to do was never measured.
    fn later_stage(&self, stage: Stage) -> Option<u64> {
        let steps = StepId::ALL.into_iter().filter(|id| id.stage() == stage);
        let mut all = 0;
        for id in steps.filter(|id| self.applies(*id)) {
            if id.is_counted() {
                let left = u64::from(self.units_left(id)?);
                all += left
                    * if left > 0 {
                        self.pace().ms_per_unit(id)?
                    } else {
                        0
                    };
            } else if !self.has_done(id) {
                all += self.pace().press_ms(stage);
            }
        }
        Some(all)
    }

    /// Ends of the batch at hand that are not threaded; `None` at another step.
    fn ends_left_in_batch(&self, step: StepId) -> Option<u32> {
        let batch = self.next_batch().filter(|_| step == StepId::ThreadBatch)?;
        let pieces = self.ledger().of(Task::Threaded).pieces(batch.calls);
        let open = pieces.into_iter().filter(|(_, mark)| mark.is_none());
        Some(open.map(|(calls, _)| calls.len()).sum())
    }

    /// Groups that the current step is not done for, the one at hand among them; `None` where it does
    /// not go by groups.
    #[must_use]
    pub fn groups_left(&self) -> Option<u32> {
        let of = self.plan().groups.len() as u32;
        let upwards = |task| Some(of + 1 - self.next_group(task)?.number);
        match self.current()?.id {
            StepId::WindGroup => upwards(Task::Wound),
            StepId::SpreadGroup => upwards(Task::Spread),
            StepId::KnotGroup => upwards(Task::Knotted),
            StepId::CutLoops => upwards(Task::Cut),
            StepId::ThreadBatch => upwards(Task::Threaded).or(Some(1)),
            StepId::SleyGroup if self.plan().sley_from == self.plan().thread_from => {
                upwards(Task::Sleyed)
            }
            StepId::SleyGroup => Some(self.next_sleying()?.0.number),
            StepId::TieFirst => self.bundles_left(Task::TiedFirst),
            StepId::TieSecond => self.bundles_left(Task::TiedSecond),
            _ => None,
        }
    }

    fn bundles_left(&self, round: Task) -> Option<u32> {
        let of = self.plan().bundles.len() as u32;
        Some(of + 1 - self.next_bundle(round)?.number)
    }

    /// Ends, turns or sheds that a counted step still has; `None` where only the loom can tell.
    fn units_left(&self, step: StepId) -> Option<u32> {
        let (now, plan) = (&self.now, self.plan());
        Some(match task_of(step) {
            Some(task) => self.calls() - self.ledger().of(task).count(),
            None if step == StepId::BeamTurn => plan.beam.turns?.saturating_sub(now.turns),
            None if step == StepId::TieUp => {
                let done = if self.has_done(step) {
                    u32::MAX
                } else {
                    now.tied
                };
                plan.treadles_to_tie().saturating_sub(done)
            }
            None if step == StepId::OpenShed => self.sheds().saturating_sub(now.sheds),
            None if self.has_done(step) => 0,
            None if step == StepId::Header => crate::plan::HEADER_PICKS.saturating_sub(now.header),
            None if step == StepId::FirstPicks => plan.first_picks().saturating_sub(now.picks),
            None => 0,
        })
    }

    /// The same of the group or bundle at hand.
    fn units_left_here(&self, step: StepId) -> u32 {
        let Some(task) = task_of(step) else { return 1 };
        let calls = match task {
            Task::TiedFirst | Task::TiedSecond => self.next_bundle(task).map(|b| b.calls),
            Task::Sleyed => self.next_sleying().map(|(group, _)| group.calls),
            _ => self.next_group(task).map(|g| g.calls),
        };
        calls.map_or(0, |calls| {
            let open = self.ledger().of(task).pieces(calls).into_iter();
            open.filter(|(_, mark)| mark.is_none())
                .map(|(calls, _)| calls.len())
                .sum()
        })
    }
}

/// The task that a counted step does to ends.
fn task_of(step: StepId) -> Option<Task> {
    Some(match step {
        StepId::WindGroup => Task::Wound,
        StepId::SpreadGroup => Task::Spread,
        StepId::KnotGroup => Task::Knotted,
        StepId::CutLoops => Task::Cut,
        StepId::ThreadBatch => Task::Threaded,
        StepId::SleyGroup => Task::Sleyed,
        StepId::TieFirst => Task::TiedFirst,
        StepId::TieSecond => Task::TiedSecond,
        _ => return None,
    })
}
