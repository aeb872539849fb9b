//! What can be shown where counts or looks disagree, with all that the ways out are chosen by. Owns the shape.

use super::DentFill;
use super::asked::Spot;
use crate::dressing::ask::Choice;
use crate::dressing::event::Look;
use crate::dressing::sighting::Sighting;
use crate::fault::cloth_spot::{ClothSuspect, NoSpot};
use crate::fault::{Column, Evidence, ReedTracing, Shows, Suspect, Tracing, WarpTracing, Way};
use crate::plan::{Batch, Opens};
use crate::quantity::{Calls, Fraction, Shaft};

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
