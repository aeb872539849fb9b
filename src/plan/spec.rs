//! The plan as it was given: the keys of a plan file, each `None` where nothing was said.
//! Owns the shape of the question; never works anything out, never reads text.

use super::{Action, BatchRule, Floats, Side, Units};
use crate::quantity::Fraction;

/// The format number that a plan file carries in `endsmeet`.
pub const FORMAT: u32 = 1;
/// The most ends in a warp.
pub const MOST_ENDS: u32 = 100_000;
/// The most shafts of a loom.
pub const MOST_SHAFTS: u32 = 64;
/// The most treadles of a loom.
pub const MOST_TREADLES: u32 = 128;
/// The most dents of a reed.
pub const MOST_DENTS: u32 = 40_000;

/// How many dents make a reed's number: dents per what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Per {
    /// Dents per inch.
    In,
    /// Dents per centimetre.
    Cm,
    /// Dents per 10 centimetres, as metric reeds are labelled.
    TenCm,
}

/// A reed to hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReedSpec {
    /// Its number.
    pub dents: Fraction,
    /// What the number counts by; the plan's unit where nothing was said.
    pub per: Option<Per>,
    /// Its length in plan units; `None`: taken as the loom's width.
    pub length: Option<Fraction>,
    /// How far its middle lies to the right of the loom's middle, plan units, negative for left; `None`:
    /// the two middles are on one line.
    pub off_centre: Option<Fraction>,
}

/// How ends are dealt into dents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OrderSpec {
    /// Worked out from sett and reed.
    Computed,
    /// Typed: ends per dent, repeating from the edge where sleying starts; 0 is an empty dent.
    Typed(Vec<u32>),
    /// Typed by sections, from the edge where sleying starts; the last may be open.
    Sections(Vec<OrderSection>),
}

/// A stretch of the warp with a sley order of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderSection {
    /// Ends per dent, repeating.
    pub order: Vec<u32>,
    /// How many heddled ends it holds; `None`: all that are left.
    pub ends: Option<u32>,
}

/// What is doubled at the edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubled {
    /// Twice as many ends in a dent, each in its own heddle.
    Dent,
    /// Two ends in a heddle, the usual number in a dent.
    Heddle,
    /// Two ends in a heddle and twice as many in a dent.
    Both,
}

/// Doubled edges.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct EdgeSpec {
    /// Ends that are doubled at each edge, an even number; 0 or `None` for none.
    pub ends: Option<u32>,
    /// How.
    pub doubled: Option<Doubled>,
}

/// The loom.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LoomSpec {
    /// The weaver's name for it.
    pub name: Option<String>,
    /// Its kind.
    pub action: Option<Action>,
    /// Shafts, 1..=64.
    pub shafts: Option<u32>,
    /// Treadles, 0..=128.
    pub treadles: Option<u32>,
    /// Heddles on each shaft, shaft 1 first; `None`: not counted, so not checked.
    pub heddles: Option<Vec<u32>>,
    /// Weaving width in plan units.
    pub width: Option<Fraction>,
    /// Girth of the bare warp beam in plan units.
    pub beam_girth: Option<Fraction>,
    /// Thickness that one turn of warp and packing adds, plan units.
    pub packing: Option<Fraction>,
    /// Length left in front of the shafts when beaming stops, plan units.
    pub front_allowance: Option<Fraction>,
}

/// The raddle.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct RaddleSpec {
    /// Spaces per plan unit.
    pub spaces: Option<Fraction>,
    /// Its length in plan units; `None`: not checked.
    pub length: Option<Fraction>,
}

/// Lengths and shares of a lengthwise plan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LengthSpec {
    /// Finished length of one piece, plan units; `None`: no warp length is worked out.
    pub finished: Option<Fraction>,
    /// Pieces on the warp.
    pub pieces: Option<u32>,
    /// Share lost in washing and finishing, 0 to below 1.
    pub shrinkage: Option<Fraction>,
    /// Share of length lost to the bending of the warp, 0 to below 1.
    pub take_up: Option<Fraction>,
    /// Share of width lost in weaving, 0 to below 1.
    pub draw_in: Option<Fraction>,
    /// Loom waste, plan units.
    pub waste: Option<Fraction>,
    /// Fringe at each end of each piece, plan units.
    pub fringe: Option<Fraction>,
    /// Spare share added to every yarn, 0 to 1.
    pub spare: Option<Fraction>,
}

/// A yarn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YarnSpec {
    /// Its name in this plan.
    pub name: String,
    /// Its size as written on the cone: `16/2 linen`.
    pub size: Option<String>,
    /// What one pound or kilogram costs, in whatever money the weaver counts.
    pub price: Option<Fraction>,
    /// Its colour as written, one that [`super::colour::read_colour`] reads; `None`: not said.
    pub colour: Option<String>,
}

/// One stripe of colour, from the edge where threading starts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColourSpec {
    /// The yarn's name.
    pub yarn: String,
    /// Wound ends in the stripe.
    pub ends: u32,
}

/// The weft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeftSpec {
    /// The yarn's name.
    pub yarn: String,
    /// Picks per plan unit.
    pub picks: Fraction,
}

/// How the warp is wound.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct WindSpec {
    /// Ends in one bout.
    pub bout: Option<u32>,
    /// Ends wound together in the hand.
    pub together: Option<u32>,
}

/// A plan as it was given.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Spec {
    /// The weaver's name for it, made harmless.
    pub title: Option<String>,
    /// Units of every length.
    pub units: Option<Units>,
    /// Ends per unit.
    pub sett: Option<Fraction>,
    /// Ends wound.
    pub ends: Option<u32>,
    /// Width in the reed, plan units, where the ends were not given.
    pub width: Option<Fraction>,
    /// Finished width, plan units, where neither ends nor width were given.
    pub finished_width: Option<Fraction>,
    /// The threading as typed.
    pub threading: Option<String>,
    /// Floating selvedges.
    pub floats: Option<Floats>,
    /// Size of a group in plan units.
    pub group: Option<Fraction>,
    /// How batches are cut.
    pub batch: Option<BatchRule>,
    /// Edge where threading starts.
    pub thread_from: Option<Side>,
    /// Edge where sleying starts.
    pub sley_from: Option<Side>,
    /// Sley order.
    pub order: Option<OrderSpec>,
    /// Doubled edges.
    pub edges: EdgeSpec,
    /// Loom.
    pub loom: LoomSpec,
    /// Reeds to hand.
    pub reeds: Vec<ReedSpec>,
    /// Raddle.
    pub raddle: RaddleSpec,
    /// Lengths.
    pub length: LengthSpec,
    /// Yarns.
    pub yarns: Vec<YarnSpec>,
    /// Colours across the warp; empty: all of the first yarn.
    pub colours: Vec<ColourSpec>,
    /// Weft.
    pub weft: Option<WeftSpec>,
    /// Winding.
    pub wind: WindSpec,
    /// Shafts tied to each treadle.
    pub tie_up: Vec<Vec<u32>>,
    /// Treadles pick by pick, typed like a threading.
    pub treadling: Option<String>,
    /// Shafts lifted pick by pick, where there are no treadles.
    pub lift_plan: Vec<Vec<u32>>,
}

impl Spec {
    /// The plan's units; inches where nothing was said.
    #[must_use]
    pub fn units(&self) -> Units {
        self.units.unwrap_or(Units::In)
    }
}
