//! What can be shown now, all answers worked out: enums and numbers, no text. Owns the shape; a
//! shell shows it and works nothing out. While a look is open no figure of it is in here.

mod broken;
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
use super::sighting::{Sighting, Sought};
use super::state::Rest;
use crate::fault::cloth_spot::{ClothSuspect, NoSpot};
use crate::fault::{
    Column, Evidence, Move, NewEnd, ReedTracing, Shows, Suspect, Tracing, WarpTracing, Way, WayKind,
};
use crate::method::{Stage, StepId};
use crate::plan::{Batch, Bundle, Group, Opens, PickShed, PlainWeave, ShedWarning, Side, Tie};
use crate::quantity::{Call, Calls, Fraction, Position, Shaft};

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
    /// How many ends are left over along the warp.
    WarpEnds {
        /// The last end that should be threaded by now.
        last: Call,
    },
    /// How many heddles are left over on each shaft along the warp.
    WarpHeddles {
        /// Shafts of the loom.
        shafts: u8,
    },
    /// How many ends are left over at the last dent of this group.
    ReedEnds {
        /// The group's number.
        group: u32,
        /// Whether the whole group is sleyed.
        sleyed: bool,
    },
    /// By how many dents the last filled one is off.
    ReedTape {
        /// The group's number.
        group: u32,
        /// Where on the tape the last filled dent should end.
        tape: Option<Fraction>,
    },
    /// The next handful of what is read back.
    ReadBack {
        /// Why.
        reason: Reason,
        /// The batch's number.
        batch: u32,
        /// The handful in it, from 1.
        handful: u32,
        /// Heddles in that handful as planned.
        heddles: u32,
        /// Shafts read so far.
        read: u32,
        /// Whether as many are read as should stand there.
        all: bool,
    },
    /// A part of what looks wrong in a shed or in the cloth.
    Sought(Sought),
    /// A measure: whole inches, millimetres or picks; or the eighths beyond the inches.
    Measure {
        /// What is measured.
        what: Measured,
        /// Whether the eighths are asked.
        eighths: bool,
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
        /// Seconds to draw the batch out and thread it again, at her own pace or a first guess.
        again_seconds: f64,
        /// The explanation that is left, for its picture.
        found: Option<Box<Explained>>,
        /// What comes of leaving it, once the place is settled.
        left: LeftAsItIs,
    },
    /// Something wrong whose place is known.
    Found {
        /// What.
        found: crate::fault::Found,
        /// The batch that it is in.
        batch: Batch,
        /// The batch's shafts as planned.
        planned: Vec<Shaft>,
        /// Ways of mending, with their cost.
        ways: Vec<Way>,
        /// Seconds to draw the batch out and thread it again, where it is in work.
        again_seconds: Option<f64>,
        /// The dents about it, for something wrong in the reed.
        reed: Option<ReedPicture>,
        /// What comes of leaving it.
        left: LeftAsItIs,
    },
    /// What was read back is not the plan's threading.
    ReadBack(ReadBackView),
    /// Something is off along the warp.
    Warp(Box<WarpView>),
    /// Ends and dents do not come out.
    Reed(Box<ReedView>),
    /// Something that looks wrong in a shed or in the cloth.
    Sighting {
        /// What is seen, where.
        sighting: Sighting,
        /// The ends that may be behind it, the likeliest first.
        suspects: Vec<ClothSuspect>,
        /// Why there are none, where the place or the sheds cannot be.
        none: Option<NoSpot>,
        /// Whether a floating selvedge lies there, which is in no heddle.
        float: bool,
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

/// What comes of something wrong that is left as it is, or to which the plan is changed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LeftAsItIs {
    /// What the cloth will show.
    pub shows: Vec<Shows>,
    /// How far from the edge where threading starts, plan units, as it lies in the reed.
    pub across: Option<Fraction>,
    /// How the sheds change where the plan is changed to what stands; empty where it cannot be.
    pub sheds: Vec<ShedChange>,
}

/// How one shed changes with the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShedChange {
    /// What it is named by.
    pub opens: Opens,
    /// So many ends more rise in it; negative: fewer.
    pub by: i64,
}

/// The explanation that is left, with the evidence of its batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Explained {
    /// The evidence of its batch.
    pub evidence: Evidence,
    /// The explanation.
    pub suspect: Suspect,
}

/// The dents of a group as planned and as they stand, in the order of sleying.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReedPicture {
    /// Ends of each dent as planned.
    pub planned: Vec<u32>,
    /// Ends of each dent as they stand.
    pub stands: Vec<u32>,
    /// The dent where it is wrong, from 0.
    pub at: usize,
}

/// What was read back beside the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadBackView {
    /// The batches that were read, each with its number and its columns.
    pub batches: Vec<(u32, Vec<Column>)>,
    /// Differences in all.
    pub differences: usize,
}

/// Where a heddle is to be looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// By knot, handful and place in it.
    pub spot: Spot,
    /// From the edge of the warp where threading starts, plan units; as it lies in the reed.
    pub across: Option<Fraction>,
}

/// Something is off along the warp.
#[derive(Debug, Clone, PartialEq)]
pub struct WarpView {
    /// Where the fault can be.
    pub stretch: Calls,
    /// Ends left over, where they could be told.
    pub ends_left: Option<i64>,
    /// Heddles left over on each shaft, where they were counted.
    pub heddles_left: Option<Vec<i64>>,
    /// Explanations and the next look.
    pub tracing: WarpTracing,
    /// Where the next look is, for one at a heddle.
    pub place: Option<Place>,
    /// The knots of the next look, first and last, with where they begin and end across the warp
    /// and the ends that each should hold, where that is the same number.
    pub knots: Option<Knots>,
}

/// Knots to be counted, one after the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Knots {
    /// The first batch.
    pub first: u32,
    /// The last batch.
    pub last: u32,
    /// Where the first one begins, from the edge where threading starts.
    pub from: Option<Fraction>,
    /// What each should hold of what is counted, where it is the same in all.
    pub each: Option<u32>,
}

/// Ends and dents do not come out in the group that is sleyed.
#[derive(Debug, Clone, PartialEq)]
pub struct ReedView {
    /// The group.
    pub group: u32,
    /// Ends left over at its last dent.
    pub ends_left: i64,
    /// Dents by which the last filled one is off, where she could tell.
    pub tape: Option<i64>,
    /// Explanations and the next look; dents are counted from the group's first.
    pub tracing: ReedTracing,
    /// The group's dents in the order of sleying, and where on the tape each ends.
    pub dents: Vec<(DentFill, Option<Fraction>)>,
}

/// Broken ends and what was left, to be looked at before weaving.
#[derive(Debug, Clone, PartialEq)]
pub struct EndsView {
    /// All broken ends, mended ones too.
    pub broken: Vec<BrokenView>,
    /// Mismatches that were left open.
    pub left: Vec<super::state::LeftOpen>,
}

/// A broken end with its place on the loom, its state and what is left to do. While a look is open its shaft,
/// its dent and what is left to do are not in it: they may be what is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct BrokenView {
    /// Its number, from 1.
    pub number: u32,
    /// Its call, where it is known.
    pub call: Option<Call>,
    /// The edge, where it is a floating selvedge.
    pub float: Option<Side>,
    /// Its place across the warp, from the right.
    pub position: Option<Position>,
    /// Its group.
    pub group: Option<u32>,
    /// Its shaft, where it is threaded.
    pub shaft: Option<Shaft>,
    /// Its dent, where it is sleyed or a float.
    pub dent: Option<u32>,
    /// Where on the tape, from the reed's edge at the sleying side, that dent lies.
    pub tape: Option<Fraction>,
    /// The stage in which it broke.
    pub stage: Stage,
    /// Whether it is mended.
    pub mended: bool,
    /// While it is being mended: the move at hand, from 1, and moves in all.
    pub under_way: Option<(u32, u32)>,
    /// What mending it takes where the work stands; of a mending under way, from the move at hand on.
    pub to_do: Vec<NewEnd>,
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
