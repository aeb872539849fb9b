//! One warp being put on one loom: everything that is known of it. Owns `apply`, which records what
//! happened; decides nothing and refuses nothing (that is `decide` before and `admit` on the way in).
//!
//! Invariants, asserted after every entry in `check`:
//! - entries are numbered 1.. without a hole;
//! - no end is sleyed that is not threaded, none tied twice before once, none threaded before its
//!   loop was cut or counted out;
//! - at most one question or mismatch is open, and never both;
//! - `past` holds one item for each entry that can be taken back, in order, and `future` only what
//!   was taken back since the last new work;
//! - what is on record (skips, notes, help, broken ends, widths) is never shortened by an undo.

use super::ask::Choice;
use super::event::{Entry, Event, Look, Mismatch, Question, Reason, StepKey, When};
use super::ledger::{Ledger, Piece, Task};
use super::pace::Pace;
use crate::fault::LookKind;
use crate::method::{Stage, StepId};
use crate::plan::Plan;
use crate::quantity::{Call, Calls};
use std::sync::Arc;

/// What the weaver is in the middle of.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Mood {
    /// At the current step.
    #[default]
    Working,
    /// A question is open.
    Asking(Question),
    /// Counts or looks disagree.
    Disagreeing(Mismatch),
    /// A mending is led move by move.
    Mending(Mending),
}

/// A mending under way.
#[derive(Debug, Clone, PartialEq)]
pub struct Mending {
    /// The batch that is mended.
    pub batch: Calls,
    /// The way that was chosen.
    pub way: crate::fault::WayKind,
    /// Its moves, in order; never empty.
    pub moves: Vec<crate::fault::Move>,
    /// How many are made.
    pub made: u32,
}

/// Whether the weaver is away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rest {
    /// Paused for a moment.
    Paused,
    /// Stopped for today.
    Stopped,
}

/// The small part of the work that an undo puts back as it was; cheap to copy.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Now {
    /// Steps about the loom that are done or left out, one bit a step id.
    pub steps: u64,
    /// Turns on the beam.
    pub turns: u32,
    /// Sheds opened and looked through.
    pub sheds: u32,
    pub mood: Mood,
    /// Heddles filled on each shaft.
    pub filled: Vec<u32>,
    /// Clean looks since the last disagreement.
    pub clean_looks: u32,
    /// The kind of look that was asked at the last group's end.
    pub last_look: Option<LookKind>,
    /// Steps of no return before which a look was asked, one bit a step id.
    pub looked_before: u64,
    /// Index of the plan in force.
    pub revision: u32,
}

/// What an undo needs of one entry.
#[derive(Debug, Clone)]
pub(super) struct Past {
    pub entry: u64,
    pub events: Vec<Event>,
    before: Now,
    pieces: Vec<(Task, Piece)>,
    plans: Vec<Arc<Plan>>,
}

/// A check that was passed over, or a mismatch that was left open.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftOpen {
    /// The entry that left it.
    pub entry: u64,
    /// The stage at the time.
    pub stage: Stage,
    /// What was left.
    pub what: Left,
}

/// What was left open.
#[derive(Debug, Clone, PartialEq)]
pub enum Left {
    /// A question that was passed over.
    Question(Question),
    /// A mismatch that was left.
    Mismatch(Mismatch),
    /// An optional step.
    Step(StepId),
}

/// A broken end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BrokenEnd {
    /// Its number, from 1.
    pub number: u32,
    /// Its call, if known.
    pub call: Option<Call>,
    /// The stage in which it broke.
    pub stage: Stage,
    /// Whether it is mended.
    pub mended: bool,
}

/// What stays on record whatever is taken back.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OnRecord {
    /// Checks passed over, mismatches left open, steps left out.
    pub left: Vec<LeftOpen>,
    /// Broken ends.
    pub broken: Vec<BrokenEnd>,
    /// Notes with the stage in which they were made.
    pub notes: Vec<(Stage, String)>,
    /// Widths measured, thousandths of the plan's unit.
    pub widths: Vec<u32>,
    /// Mismatches caught so far.
    pub caught: u32,
    /// Whether help is wanted.
    pub help_wanted: bool,
    /// Interruptions and returns.
    pub interruptions: u32,
}

/// One warp being put on one loom.
#[derive(Debug, Clone)]
pub struct Dressing {
    pub(super) plans: Vec<Arc<Plan>>,
    pub(super) left_out: u64,
    pub(super) now: Now,
    pub(super) ledger: Ledger,
    pub(super) past: Vec<Past>,
    pub(super) future: Vec<Past>,
    pub(super) rest: Option<Rest>,
    pub(super) record: OnRecord,
    pub(super) pace: Pace,
    pub(super) entries: u64,
    pub(super) last: Option<When>,
    /// The wall time of the last entry that did work, for "You stopped on ...".
    pub(super) last_work: Option<When>,
    /// Ends in the bundles up to each one, in the order of tying; one list a plan revision.
    pub(super) bundle_ends: Vec<Arc<[u32]>>,
}

impl Dressing {
    /// A dressing at its very start. `left_out` are optional steps that the house leaves out.
    #[must_use]
    pub fn new(plan: Plan, left_out: &[StepId]) -> Self {
        let shafts = usize::from(plan.shafts);
        let bundle_ends = running_ends(&plan);
        Self {
            plans: vec![Arc::new(plan)],
            left_out: left_out.iter().fold(0, |bits, id| bits | bit(*id)),
            now: Now {
                filled: vec![0; shafts],
                ..Now::default()
            },
            ledger: Ledger::default(),
            past: Vec::new(),
            future: Vec::new(),
            rest: None,
            record: OnRecord::default(),
            pace: Pace::default(),
            entries: 0,
            last: None,
            last_work: None,
            bundle_ends: vec![bundle_ends],
        }
    }

    /// The same dressing before its first entry, to go through its log once more.
    #[must_use]
    pub fn at_start(&self) -> Self {
        let mut start = Self::new(Plan::clone(&self.plans[0]), &[]);
        start.left_out = self.left_out;
        start
    }

    /// The plan in force.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        &self.plans[self.now.revision as usize]
    }

    /// The number of the plan's revision; 0 is the plan as it was started.
    #[must_use]
    pub fn revision(&self) -> u32 {
        self.now.revision
    }

    /// Heddled ends of the warp.
    #[must_use]
    pub fn calls(&self) -> u32 {
        self.plan().threading.len() as u32
    }

    /// What was done to each run of ends.
    #[must_use]
    pub fn ledger(&self) -> &Ledger {
        &self.ledger
    }

    /// What stays on record.
    #[must_use]
    pub fn record(&self) -> &OnRecord {
        &self.record
    }

    /// Entries so far.
    #[must_use]
    pub fn entries(&self) -> u64 {
        self.entries
    }

    /// The mood: working, asking or disagreeing.
    #[must_use]
    pub fn mood(&self) -> &Mood {
        &self.now.mood
    }

    /// Whether the weaver paused or stopped.
    #[must_use]
    pub fn rest(&self) -> Option<Rest> {
        self.rest
    }

    /// The pace so far.
    #[must_use]
    pub fn pace(&self) -> &Pace {
        &self.pace
    }

    /// When the last entry was made.
    #[must_use]
    pub fn last(&self) -> Option<When> {
        self.last
    }

    /// The revisions of the plan, the first one first.
    #[must_use]
    pub fn plans(&self) -> &[Arc<Plan>] {
        &self.plans
    }

    /// A copy that can try events out: all that is known now, nothing of how it came about.
    pub(super) fn without_history(&self) -> Self {
        Self {
            plans: self.plans.clone(),
            left_out: self.left_out,
            now: self.now.clone(),
            ledger: self.ledger.clone(),
            past: Vec::new(),
            future: Vec::new(),
            rest: self.rest,
            record: OnRecord {
                left: Vec::new(),
                notes: Vec::new(),
                ..self.record.clone()
            },
            pace: self.pace.clone(),
            entries: self.entries,
            last: self.last,
            last_work: self.last_work,
            bundle_ends: self.bundle_ends.clone(),
        }
    }

    pub(super) fn has_done(&self, id: StepId) -> bool {
        (self.now.steps | self.left_out) & bit(id) != 0
    }

    /// Records one entry. Decides nothing: the entry comes from `decide`, or was admitted.
    pub fn apply(&mut self, entry: &Entry) {
        let stage = self.stage_or_last();
        let work = is_work(&entry.events, &self.now.mood);
        let mut past = Past {
            entry: entry.number,
            events: Vec::new(),
            before: self.now.clone(),
            pieces: Vec::new(),
            plans: Vec::new(),
        };
        let plans = self.plans.len();
        for event in &entry.events {
            self.apply_event(entry.number, stage, event, &mut past.pieces);
        }
        self.pace.add(self.last, entry, stage);
        if work {
            past.plans = self.plans[plans..].to_vec();
            past.events.clone_from(&entry.events);
            self.past.push(past);
            self.future.clear();
            self.last_work = Some(entry.when);
        }
        self.entries = entry.number;
        self.last = Some(entry.when);
        debug_assert_eq!(self.check(), Ok(()), "after entry {}", entry.number);
    }

    pub(super) fn apply_event(
        &mut self,
        entry: u64,
        stage: Stage,
        event: &Event,
        pieces: &mut Vec<(Task, Piece)>,
    ) {
        match event {
            Event::StepDone(key) => self.step_done(*key),
            Event::StepLeftOut(key) => {
                self.now.steps |= bit(key.id);
                self.leave(entry, stage, Left::Step(key.id));
            }
            Event::WindLeftOut => self.wind_left_out(pieces),
            Event::Marked {
                task,
                calls,
                revision,
            } => self.mark(*task, *calls, Some(*revision), pieces),
            Event::Unmarked { task, calls } => self.mark(*task, *calls, None, pieces),
            Event::Put(question) => {
                self.now.last_look = asked_at_group_end(question).or(self.now.last_look);
                self.now.mood = Mood::Asking(question.clone());
            }
            Event::Answered(answer) => self.answered(answer),
            Event::PassedOver => {
                self.looked_before();
                if let Mood::Asking(question) = std::mem::take(&mut self.now.mood) {
                    self.leave(entry, stage, Left::Question(question));
                }
            }
            Event::Settled => {
                self.looked_before();
                self.now.mood = Mood::Working;
                self.now.clean_looks += 1;
            }
            Event::Disagreed(mismatch) => {
                self.record.caught += 1;
                self.now.clean_looks = 0;
                self.now.mood = Mood::Disagreeing(mismatch.clone());
            }
            Event::Chose(choice) => {
                self.looked_before();
                if let Mood::Disagreeing(mismatch) = std::mem::take(&mut self.now.mood)
                    && *choice == Choice::LeaveOpen
                {
                    self.leave(entry, stage, Left::Mismatch(mismatch));
                }
            }
            Event::MendBegun { batch, way, moves } => {
                self.now.mood = Mood::Mending(Mending {
                    batch: *batch,
                    way: *way,
                    moves: moves.clone(),
                    made: 0,
                });
            }
            Event::MoveMade { number } => {
                if let Mood::Mending(mending) = &mut self.now.mood {
                    mending.made = *number;
                }
            }
            Event::Mended => self.now.mood = Mood::Working,
            Event::Undone { .. } => self.undo(),
            Event::Redone { .. } => self.redo(entry, stage),
            Event::Paused => self.rest = Some(Rest::Paused),
            Event::Stopped => self.rest = Some(Rest::Stopped),
            Event::WentOn => self.rest = None,
            Event::Opened => {
                self.rest = None;
                self.record.interruptions += 1;
            }
            Event::Interrupted { .. } => self.record.interruptions += 1,
            Event::HelpWanted => self.record.help_wanted = true,
            Event::HelpCame => self.record.help_wanted = false,
            Event::BrokenEnd { call } => self.record.broken.push(BrokenEnd {
                number: self.record.broken.len() as u32 + 1,
                call: *call,
                stage,
                mended: false,
            }),
            Event::EndMended { number } => {
                for end in &mut self.record.broken {
                    end.mended |= end.number == *number;
                }
            }
            Event::Note(text) => self.record.notes.push((stage, text.clone())),
            Event::MeasuredWidth { thousandths } => self.record.widths.push(*thousandths),
            Event::Amended {
                revision,
                from,
                change,
            } => {
                if let Ok(plan) = super::amend::amended(self.plan(), *from, change) {
                    self.plans.truncate(*revision as usize);
                    self.bundle_ends.truncate(*revision as usize);
                    self.bundle_ends.push(running_ends(&plan));
                    self.plans.push(Arc::new(plan));
                    self.now.revision = *revision;
                }
            }
        }
    }

    /// A look before a step of no return is asked once for each time that the step is come to.
    fn looked_before(&mut self) {
        let (look, reason) = match &self.now.mood {
            Mood::Asking(Question::Look { look, reason, .. })
            | Mood::Disagreeing(Mismatch::Look { look, reason, .. }) => (*look, *reason),
            _ => return,
        };
        self.now.looked_before |= match (look, reason) {
            (Look::GroupsKnotted, Reason::NoReturn) => bit(StepId::CutLoops),
            (Look::ShedsClean, Reason::NoReturn) => bit(StepId::SticksOut),
            _ => 0,
        };
    }

    fn step_done(&mut self, key: StepKey) {
        match key.id {
            StepId::BeamTurn if key.number.is_some() => self.now.turns += 1,
            StepId::OpenShed => self.now.sheds += 1,
            id => self.now.steps |= bit(id),
        }
    }

    fn wind_left_out(&mut self, pieces: &mut Vec<(Task, Piece)>) {
        for id in StepId::ALL {
            if id.stage() == Stage::Wind {
                self.now.steps |= bit(id);
            }
        }
        if let Some(all) = Calls::new(1, self.calls()) {
            self.mark(Task::Wound, all, Some(self.now.revision), pieces);
        }
    }

    fn mark(
        &mut self,
        task: Task,
        calls: Calls,
        mark: Option<u32>,
        pieces: &mut Vec<(Task, Piece)>,
    ) {
        let runs = self.ledger.of_mut(task);
        let before = runs.pieces(calls);
        runs.set(calls, mark);
        if task == Task::Threaded {
            for &(piece, had) in &before {
                self.fill(piece, had.is_some(), mark.is_some());
            }
        }
        pieces.extend(before.into_iter().map(|piece| (task, piece)));
    }

    /// Heddles on each shaft follow the ends; an end that shares a heddle fills none of its own.
    fn fill(&mut self, piece: Calls, had: bool, has: bool) {
        if had == has {
            return;
        }
        let plan = Arc::clone(&self.plans[self.now.revision as usize]);
        for call in piece.first.0..=piece.last.0 {
            if plan.doubled.binary_search(&Call(call)).is_ok() {
                continue;
            }
            let shaft = plan.threading[call as usize - 1];
            let filled = &mut self.now.filled[usize::from(shaft.0) - 1];
            *filled = if has { *filled + 1 } else { *filled - 1 };
        }
    }

    fn answered(&mut self, answer: &super::ask::Answer) {
        use super::ask::Answer;
        match (&mut self.now.mood, answer) {
            (Mood::Asking(Question::Look { answers, .. }), Answer::Number(n)) => answers.push(*n),
            (Mood::Disagreeing(Mismatch::Batch { seen, .. }), Answer::Seen(look)) => {
                seen.push(look.clone());
            }
            _ => {}
        }
    }

    fn leave(&mut self, entry: u64, stage: Stage, what: Left) {
        self.record.left.push(LeftOpen { entry, stage, what });
    }

    fn undo(&mut self) {
        let Some(past) = self.past.pop() else { return };
        for (task, (calls, mark)) in past.pieces.iter().rev() {
            self.ledger.of_mut(*task).set(*calls, *mark);
        }
        let kept = self.plans.len() - past.plans.len();
        self.plans.truncate(kept);
        self.bundle_ends.truncate(kept);
        self.now = past.before.clone();
        self.future.push(past);
    }

    fn redo(&mut self, entry: u64, stage: Stage) {
        let Some(mut again) = self.future.pop() else {
            return;
        };
        again.before = self.now.clone();
        again.pieces.clear();
        let plans = self.plans.len();
        for event in &again.events {
            // what the first doing put on record stays there; it is not put there twice
            if !puts_on_record(event) {
                self.apply_event(entry, stage, event, &mut again.pieces);
            } else {
                self.redo_on_record(event);
            }
        }
        again.plans = self.plans[plans..].to_vec();
        self.past.push(again);
    }

    fn redo_on_record(&mut self, event: &Event) {
        match event {
            Event::StepLeftOut(key) => self.now.steps |= bit(key.id),
            Event::PassedOver | Event::Chose(_) => self.now.mood = Mood::Working,
            Event::Disagreed(mismatch) => {
                self.now.clean_looks = 0;
                self.now.mood = Mood::Disagreeing(mismatch.clone());
            }
            _ => {}
        }
    }

    /// The stage of the current step, or the last stage when all is done.
    #[must_use]
    pub fn stage_or_last(&self) -> Stage {
        self.stage().unwrap_or(Stage::Try)
    }

    /// The invariants at the top of this file, as sentences.
    ///
    /// # Errors
    /// The sentence that does not hold.
    pub fn check(&self) -> Result<(), &'static str> {
        let count = |task| self.ledger.of(task).count();
        if count(Task::Sleyed) > 0 && count(Task::Threaded) < self.calls() {
            return Err("an end is sleyed before all are threaded");
        }
        if count(Task::TiedSecond) > 0 && count(Task::TiedFirst) < self.calls() {
            return Err("a bundle is finished before the first round is done");
        }
        if count(Task::Checked) > count(Task::Threaded) {
            return Err("an end is counted off that is not threaded");
        }
        if count(Task::Threaded) > count(Task::CountedOut) {
            return Err("an end is threaded that was not counted out");
        }
        let filled: u32 = self.now.filled.iter().sum();
        let doubled = self.plan().doubled.len() as u32;
        if filled > count(Task::Threaded) || filled + doubled < count(Task::Threaded) {
            return Err("the filled heddles do not add up to the threaded ends");
        }
        if self.plans.len() != self.now.revision as usize + 1 {
            return Err("the plan in force is not the last revision");
        }
        Ok(())
    }
}

/// The kind of a look at a group's end, so that the next one is of another.
fn asked_at_group_end(question: &Question) -> Option<LookKind> {
    match question {
        Question::Look {
            look,
            reason: super::event::Reason::GroupEnd,
            ..
        } => match look {
            Look::Together { .. } => Some(LookKind::NeighboursTogether),
            _ => Some(LookKind::ShaftOfHeddle),
        },
        _ => None,
    }
}

/// Whether an entry is work that can be taken back. Facts about the world (the answer to a look, a
/// return, a note) are not: taking them back would pass a look.
pub(super) fn is_work(events: &[Event], mood: &Mood) -> bool {
    let looking = open_look(mood).is_some();
    let fact = |event: &Event| match event {
        Event::Undone { .. }
        | Event::Redone { .. }
        | Event::Opened
        | Event::Interrupted { .. }
        | Event::Paused
        | Event::Stopped
        | Event::HelpWanted
        | Event::HelpCame
        | Event::BrokenEnd { .. }
        | Event::EndMended { .. }
        | Event::Note(_)
        | Event::MeasuredWidth { .. } => true,
        Event::Answered(_) | Event::PassedOver => looking,
        Event::StepDone(_)
        | Event::StepLeftOut(_)
        | Event::WindLeftOut
        | Event::Marked { .. }
        | Event::Unmarked { .. }
        | Event::Put(_)
        | Event::Settled
        | Event::Disagreed(_)
        | Event::Chose(_)
        | Event::MendBegun { .. }
        | Event::MoveMade { .. }
        | Event::Mended
        | Event::WentOn
        | Event::Amended { .. } => false,
    };
    !events.iter().any(fact) && events.iter().any(|event| *event != Event::WentOn)
}

fn running_ends(plan: &Plan) -> Arc<[u32]> {
    let sum = |sum: &mut u32, bundle: &crate::plan::Bundle| {
        *sum += bundle.calls.len();
        Some(*sum)
    };
    plan.bundles.iter().scan(0, sum).collect()
}

fn puts_on_record(event: &Event) -> bool {
    matches!(
        event,
        Event::StepLeftOut(_) | Event::PassedOver | Event::Chose(_) | Event::Disagreed(_)
    )
}

pub(super) fn bit(id: StepId) -> u64 {
    1 << (id as u64)
}

/// The look of an open look question.
#[must_use]
pub fn open_look(mood: &Mood) -> Option<Look> {
    match mood {
        Mood::Asking(Question::Look { look, .. }) => Some(*look),
        _ => None,
    }
}
