//! Everything that could be worked out of a plan, beside every problem and remark; and the finished
//! [`Plan`] where nothing refuses it. Owns the shape of the answer; computes nothing.

use super::problem::{Filled, Problem, Remark};
use super::spec::Spec;
use super::{
    Action, Batch, BatchRule, Beam, Bundle, Floats, Group, Heddles, Plan, Raddle, Sley, Stripe,
    Units, YarnNeed,
};
use crate::quantity::{Call, Fraction, Shaft};

/// Everything that could be worked out; `None` where a problem stood in the way.
#[derive(Debug, Clone)]
pub struct Figures {
    /// The plan with every default filled in, as it would stand in a file.
    pub spec: Spec,
    /// What was filled in.
    pub filled: Vec<Filled>,
    /// What refuses the plan.
    pub problems: Vec<Problem>,
    /// What does not.
    pub remarks: Vec<Remark>,
    /// Units of every length.
    pub units: Units,
    /// Ends wound.
    pub ends: Option<u32>,
    /// Ends in heddles.
    pub heddled_ends: Option<u32>,
    /// Floating selvedges: 0 or 2.
    pub floating: u32,
    /// Width in the reed, plan units.
    pub width: Option<Fraction>,
    /// The shaft of each call.
    pub threading: Option<Vec<Shaft>>,
    /// Calls that share the heddle of the call before.
    pub doubled: Vec<Call>,
    /// Groups.
    pub groups: Option<Vec<Group>>,
    /// How batches are cut.
    pub batch_rule: Option<BatchRule>,
    /// Batches.
    pub batches: Option<Vec<Batch>>,
    /// Heddles.
    pub heddles: Option<Heddles>,
    /// The reed stage.
    pub sley: Option<Sley>,
    /// The raddle stage.
    pub raddle: Option<Raddle>,
    /// Ties on the rod.
    pub ties: Option<u32>,
    /// Bundles.
    pub bundles: Option<Vec<Bundle>>,
    /// Beam.
    pub beam: Beam,
    /// Length to wind for one end.
    pub warp_length: Option<Fraction>,
    /// Yarn by name.
    pub yarn: Vec<YarnNeed>,
    /// Stripes of colour.
    pub stripes: Vec<Stripe>,
    /// Treadles pick by pick.
    pub treadling: Vec<u32>,
    /// The draft's repeat in heddles.
    pub repeat: Option<u32>,
    /// The loom's figures as resolved.
    pub(super) full: FullFacts,
}

/// What of the filled-in plan goes into a [`Plan`] unchanged.
#[derive(Debug, Clone, Copy)]
pub(super) struct FullFacts {
    pub(super) floats: Floats,
    pub(super) thread_from: super::Side,
    pub(super) sley_from: super::Side,
    pub(super) action: Action,
    pub(super) shafts: u8,
    pub(super) treadles: u32,
    pub(super) front: Fraction,
    pub(super) group: Fraction,
    pub(super) bout: u32,
    pub(super) together: u32,
}

impl Figures {
    /// The plan, where nothing refuses it.
    #[must_use]
    pub fn plan(&self) -> Option<Plan> {
        if !self.problems.is_empty() {
            return None;
        }
        let shafts = |row: &Vec<u32>| {
            row.iter()
                .map(|&s| Shaft(u8::try_from(s).unwrap_or(u8::MAX)))
                .collect()
        };
        let (full, spec) = (self.full, &self.spec);
        Some(Plan {
            title: spec.title.clone()?,
            units: self.units,
            sett: spec.sett?,
            ends: self.ends?,
            floats: full.floats,
            width: self.width?,
            thread_from: full.thread_from,
            sley_from: full.sley_from,
            action: full.action,
            shafts: full.shafts,
            treadles: u8::try_from(full.treadles).ok()?,
            threading: self.threading.clone()?,
            doubled: self.doubled.clone(),
            groups: self.groups.clone()?,
            batch_rule: self.batch_rule?,
            batches: self.batches.clone()?,
            heddles: self.heddles.clone()?,
            sley: self.sley.clone()?,
            raddle: self.raddle.clone()?,
            ties: self.ties?,
            bundles: self.bundles.clone()?,
            beam: self.beam.clone(),
            front_allowance: full.front,
            tie_up: spec.tie_up.iter().map(shafts).collect(),
            treadling: self.treadling.clone(),
            lift_plan: spec.lift_plan.iter().map(shafts).collect(),
            repeat: self.repeat,
            stripes: self.stripes.clone(),
            warp_length: self.warp_length,
            yarn: self.yarn.clone(),
            group_unit: full.group,
            bout: full.bout,
            together: full.together,
            spec: spec.clone(),
        })
    }
}
