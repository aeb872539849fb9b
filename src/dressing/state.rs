//! One warp being put on one loom: everything that is known of it, and the invariants. Owns the state;
//! what changes it is in `apply`, what may change it in `decide` and, from a file, in `admit`.
//!
//! Invariants, asserted after every entry in `check`:
//! - entries are numbered 1.. without a hole;
//! - no end is sleyed that is not threaded, none tied that is not sleyed, none tied twice before once,
//!   none threaded before its loop was cut or counted out;
//! - at most one question or mismatch is open, and never both;
//! - `past` holds one item for each entry that can be taken back, in order, and `future` only what
//!   was taken back since the last new work;
//! - what is on record (skips, notes, help, broken ends, widths) is never shortened by an undo.

use super::apply::running_ends;
use super::event::{Look, Mismatch, Question, When};
use super::history::Past;
use super::ledger::{Ledger, Task};
use super::measure::Measured;
use super::notes::Note;
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
    /// The number of the broken end that is made good, where it is one.
    pub broken: Option<u32>,
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
    /// Treadles tied one by one.
    pub tied: u32,
    /// Sheds opened and looked through.
    pub sheds: u32,
    /// Of these, sheds that were passed over or left unclear.
    pub unclear: u32,
    /// Picks of the header.
    pub header: u32,
    /// First picks of the draft.
    pub picks: u32,
    pub mood: Mood,
    /// Heddles filled on each shaft.
    pub filled: Arc<[u32]>,
    /// Clean looks since the last disagreement.
    pub clean_looks: u32,
    /// The kind of look that was asked at the last group's end.
    pub last_look: Option<LookKind>,
    /// Steps of no return before which a look was asked, one bit a step id.
    pub looked_before: u64,
    /// Index of the plan in force.
    pub revision: u32,
    /// Entries that left a mismatch open which was taken up again since.
    pub taken_up: Vec<u64>,
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
    /// The edge, where it is a floating selvedge.
    pub float: Option<crate::plan::Side>,
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
    /// Notes with the step at which they were made.
    pub notes: Vec<Note>,
    /// Widths measured, thousandths of the plan's unit.
    pub widths: Vec<u32>,
    /// Everything that was measured, in order; thousandths of the plan's unit, or per unit.
    pub measures: Vec<(Measured, u32)>,
    /// Mismatches caught so far.
    pub caught: u32,
    /// Whether help is asked for.
    pub help_wanted: bool,
    /// Whether a second pair of hands is wanted.
    pub hands_wanted: bool,
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
    /// Notes of earlier warps of the same plan.
    pub(super) earlier: Arc<[Note]>,
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
                filled: vec![0; shafts].into(),
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
            earlier: Arc::new([]),
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
            earlier: Arc::clone(&self.earlier),
        }
    }

    pub(super) fn has_done(&self, id: StepId) -> bool {
        (self.now.steps | self.left_out) & bit(id) != 0
    }

    /// The stage of the current step, or the last stage when all is done.
    #[must_use]
    pub fn stage_or_last(&self) -> Stage {
        self.stage().unwrap_or(Stage::Try)
    }

    /// The mismatch that the entry left open, while it is not taken up.
    pub(super) fn left_mismatch(&self, entry: u64) -> Option<&Mismatch> {
        let left = self.record.left.iter().find(|left| left.entry == entry)?;
        match &left.what {
            Left::Mismatch(mismatch) if !self.now.taken_up.contains(&entry) => Some(mismatch),
            Left::Mismatch(_) | Left::Question(_) | Left::Step(_) => None,
        }
    }

    /// The invariants at the top of this file, as sentences.
    ///
    /// # Errors
    /// The sentence that does not hold.
    pub fn check(&self) -> Result<(), &'static str> {
        let stands_on = [
            (
                Task::Threaded,
                Task::CountedOut,
                "an end is threaded that was not counted out",
            ),
            (
                Task::Checked,
                Task::Threaded,
                "an end is counted off that is not threaded",
            ),
            (
                Task::Sleyed,
                Task::Threaded,
                "an end is sleyed that is not threaded",
            ),
            (
                Task::TiedFirst,
                Task::Sleyed,
                "an end is tied that is not sleyed",
            ),
            (
                Task::TiedSecond,
                Task::TiedFirst,
                "an end is finished that is not tied",
            ),
        ];
        let of = |task| self.ledger.of(task);
        for (task, on, why) in stands_on {
            if !of(task).within(of(on)) {
                return Err(why);
            }
        }
        let count = |task| of(task).count();
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
