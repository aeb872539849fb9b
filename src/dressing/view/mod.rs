//! What can be shown now, all answers worked out: enums and numbers, no text. Owns the shape; a
//! shell shows it and works nothing out. While a look is open no figure of it is in here.

mod asked;
mod broken;
mod differing;
mod left;
mod make;
mod open;
mod place;
mod traced;

use super::ask::Choice;
use super::disagreement::Disagreement;
use super::event::{Look, Reason, StepKey, When};
use super::ledger::Task;
use super::measure::Measured;
use super::notes::NoteHere;
use super::pace::TimeLeft;
use super::sighting::Sought;
use super::state::Rest;
use crate::fault::{Column, Move, WayKind};
use crate::method::{Stage, StepId};
use crate::plan::{Batch, Bundle, Group, Opens, PickShed, PlainWeave, ShedWarning, Side, Tie};
use crate::quantity::{Call, Calls, Fraction, Shaft};

pub use asked::{Asked, AskingView, Round, Spot};
pub use broken::{BrokenView, EndsView};
pub use differing::{
    Disagreeing, DisagreeingView, Explained, Knots, LeftAsItIs, Place, ReadBackView, ReedPicture,
    ReedView, ShedChange, WarpView,
};
pub(in crate::dressing) use place::dents_of;

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
    /// A treadle to tie.
    TieUp(TieUpView),
    /// A shed to open.
    Shed(ShedView),
    /// A pick to weave, of the header or of the draft.
    Pick(PickView),
    /// Broken ends and what was left, to be looked at before weaving.
    Ends(EndsView),
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
    /// While winding: its colours in order with their ends, and the bout it is in, of how many.
    pub wind: Option<WindView>,
    /// Spaces of the raddle, counted from the threading edge of the warp, with the ends in each.
    pub spaces: Vec<(u32, u32)>,
    /// The side at which the group lies first: the threading side.
    pub side: Side,
}

/// What is wound of one group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WindView {
    /// Yarn and ends, stripe by stripe, from the threading edge; empty where no yarn is named.
    pub stripes: Vec<(String, u32)>,
    /// The bout, from 1.
    pub bout: u32,
    /// Bouts in all.
    pub bouts: u32,
    /// Whether the bout ends with this group, so that it is tied and taken off or set apart.
    pub bout_ends: bool,
    /// Passes along the frame for this group, with the ends wound together.
    pub passes: u32,
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
    /// What of it is to be sleyed now: all, unless a mending drew only some of it out of the reed.
    pub calls: Calls,
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

/// A treadle to tie.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TieUpView {
    /// What is tied to it.
    pub tie: Tie,
    /// Treadles in all.
    pub of: u32,
    /// Whether two treadles are pressed together for most sheds.
    pub skeleton: bool,
    /// At the first treadle: whether the tie-up holds plain weave.
    pub plain: Option<PlainWeave>,
}

/// A shed to open. It has no field for the ends that rise: they are counted on the loom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShedView {
    /// Its number, from 1.
    pub number: u32,
    /// Sheds in all.
    pub of: u32,
    /// What it is named by.
    pub opens: Opens,
    /// The treadles to press; empty where levers or lifts open it.
    pub press: Vec<u32>,
    /// The shafts that rise.
    pub rising: Vec<Shaft>,
    /// The shafts that stay or sink.
    pub others: Vec<Shaft>,
    /// What is worth saying of it on this kind of loom.
    pub warnings: Vec<ShedWarning>,
}

/// A pick to weave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PickView {
    /// The header, or the first picks of the draft.
    pub step: StepId,
    /// Its number, from 1.
    pub number: u32,
    /// Picks that are led in all.
    pub of: u32,
    /// The treadles to press, and what rises in which group.
    pub pick: PickShed,
}

/// One move of a mending.
#[derive(Debug, Clone, PartialEq)]
pub struct MendingView {
    /// The batch that is mended.
    pub batch: u32,
    /// Its first call.
    pub first: Call,
    /// The group, where only the reed is mended.
    pub group: Option<u32>,
    /// The way that was chosen.
    pub way: WayKind,
    /// The move to make now.
    pub now: Move,
    /// Its number, from 1.
    pub number: u32,
    /// Moves in all.
    pub of: u32,
    /// The broken end that is made good, where it is one.
    pub broken: Option<BrokenView>,
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
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadyView {
    /// Ends on the loom, floats among them.
    pub ends: u32,
    /// Checks that were passed over or left open.
    pub left_open: u32,
    /// What was measured last, each thing once, thousandths of the plan's unit or per unit.
    pub measures: Vec<(Measured, u32)>,
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
    /// The first group in which two stages disagree; hidden (`None`) while a look is open.
    pub disagreement: Option<Disagreement>,
    /// Broken ends not mended yet.
    pub broken: u32,
    /// Whether help is asked for.
    pub help_wanted: bool,
    /// Whether a second pair of hands is wanted.
    pub hands_wanted: bool,
    /// Minutes left in this stage at her own pace, where it is known.
    pub minutes_left: Option<u32>,
    /// The same in full: group, batch, stage and dressing.
    pub time_left: Option<TimeLeft>,
    /// Groups, or bundles while tying, that the current step is not done for; hidden while a look is
    /// open.
    pub groups_left: Option<u32>,
    /// Notes that belong to the step at hand; none while something is asked.
    pub notes: Vec<NoteHere>,
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
