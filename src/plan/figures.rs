//! Every figure that a dressing needs, worked out: what the state machine, the screens and the
//! sheets read. Owns the shape of the answers; never computes them.

use super::Spec;
use super::spec::OrderSection;
use crate::quantity::{Call, Calls, Fraction, Shaft};
use serde::{Deserialize, Serialize};

/// The unit in which the plan's lengths are given and shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Inches; shown as fractions to the nearest 1/8.
    In,
    /// Centimetres; shown in millimetres.
    Cm,
}

/// A side of the loom as the weaver sees it, facing the breast beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The right-hand side.
    Right,
    /// The left-hand side.
    Left,
}

/// How the shafts of the loom move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Action {
    /// Each treadle lifts the shafts tied to it.
    Jack,
    /// Shafts hang in pairs: what sinks on one side rises on the other.
    Counterbalance,
    /// Every shaft is tied to every treadle, to rise or to sink.
    Countermarch,
    /// Shafts are lifted by levers.
    Table,
    /// Each pick lifts its own list of shafts.
    Lift,
}

/// Where the floating selvedges come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Floats {
    /// There are none.
    None,
    /// The outermost two of the wound ends.
    FromWarp,
    /// Two ends wound apart and added at the sley.
    Added,
}

/// How the threading is cut into batches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum BatchRule {
    /// The multiple of the draft's repeat nearest 12.
    Repeat,
    /// Each group in equal parts of at most 16.
    Group,
    /// So many ends, 1..=64.
    #[serde(untagged)]
    Number(u32),
}

/// The ends between two crossings of the counting thread, numbered from 1 at the threading edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Group {
    /// 1.. in the order of threading.
    pub number: u32,
    /// Its heddled ends.
    pub calls: Calls,
    /// Ends wound in it; one or two more than its calls where floats come from the warp.
    pub ends: u32,
}

/// The ends counted out, threaded and knotted at one go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// 1.. in the order of threading.
    pub number: u32,
    /// Its calls.
    pub calls: Calls,
    /// Heddles to count out on each shaft, shaft 1 first.
    pub heddles: Vec<u32>,
}

/// Heddles on each shaft, shaft 1 first in every list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heddles {
    /// What the threading needs.
    pub needed: Vec<u32>,
    /// What is there; `None` where the plan does not know.
    pub on_hand: Option<Vec<u32>>,
    /// What is lacking; all zero in a plan that was accepted.
    pub short: Vec<u32>,
}

/// What one dent holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DentEnds {
    /// Nothing: an empty dent inside the warp.
    Empty,
    /// A floating selvedge; the one at the threading edge (`true`) or the other.
    Float {
        /// Whether it is the float at the edge where threading starts.
        at_threading_edge: bool,
    },
    /// These heddled ends.
    Calls(Calls),
}

/// One dent of the warp, in the order of sleying.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dent {
    /// Counted over the whole reed from the side where sleying starts, from 1.
    pub number: u32,
    /// What it holds.
    pub ends: DentEnds,
}

/// What lies at the middle of the reed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReedMiddle {
    /// A wire: the reed has an even number of dents.
    Wire,
    /// A dent: the reed has an odd number of dents.
    Dent,
}

/// The reed stage, worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sley {
    /// Ends per dent, repeating, as it starts at the sleying edge; that of the first section where the
    /// order was typed by sections.
    pub order: Vec<u32>,
    /// Sections from the sleying edge, where the order was typed by sections; else empty.
    pub sections: Vec<OrderSection>,
    /// What the order gives, ends per unit (inch or cm); by sections the mean over the warp.
    pub sett: Fraction,
    /// Whether that is the plan's sett exactly.
    pub exact: bool,
    /// Dents per unit (inch or cm) of the reed.
    pub reed_dents: Fraction,
    /// Dents in the whole reed.
    pub reed_total: u32,
    /// The warp's dents in the order of sleying, floats and empty dents among them.
    pub dents: Vec<Dent>,
    /// Dents with heddled ends, and empty ones between them; floats not counted.
    pub heddled_dents: u32,
    /// The first dent with a heddled end, from the sleying side, from 1.
    pub first_dent: u32,
    /// From the reed's edge at the sleying side to the outer edge of the first used dent, plan units.
    pub from_reed_edge: Fraction,
    /// From the loom's middle (the reed's own, where the two are on one line) to that same edge, plan units.
    pub from_middle: Fraction,
    /// The sleying edge.
    pub starts: Side,
    /// What lies at the reed's own middle.
    pub middle: ReedMiddle,
    /// The reed's label: its number and what it counts by.
    pub reed: String,
}

/// How many ends of one group go into which space.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GroupSpaces {
    /// The group's number.
    pub group: u32,
    /// Space (1.. from the threading edge of the warp, within the warp's own spaces) and ends in it.
    pub spaces: Vec<(u32, u32)>,
}

/// What lies at the middle of the raddle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RaddleMiddle {
    /// A pin: the spaces beside it are both number 1.
    Pin,
    /// The middle of a space: that space is number 1 to either side.
    Space,
}

/// The raddle stage, worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raddle {
    /// Spaces per unit (inch or cm).
    pub spaces_per_unit: Fraction,
    /// The first space's number, counted outwards from the middle of the raddle on the threading side, from 1.
    pub first_space_from_middle: u32,
    /// Spaces that the warp takes.
    pub spaces: u32,
    /// What lies at the raddle's middle; a pin where its length is not known.
    pub middle: RaddleMiddle,
    /// Each group's share.
    pub groups: Vec<GroupSpaces>,
}

/// One bundle of the tie-on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bundle {
    /// 1.. in the order of tying, the middle first.
    pub number: u32,
    /// The sleyed group that it is, numbered in threading order.
    pub group: u32,
    /// Its heddled ends.
    pub calls: Calls,
}

/// The beam, worked out; `None` in `turns` and `packing` where the girth is not known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beam {
    /// Whole turns expected, rounded up.
    pub turns: Option<u32>,
    /// Packing expected, plan units of length.
    pub packing: Option<Fraction>,
}

/// One stripe of colour across the warp, from the threading edge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stripe {
    /// The yarn's name.
    pub yarn: String,
    /// First wound end, 1.. from the threading edge, floats from the warp among them.
    pub first: u32,
    /// Last wound end.
    pub last: u32,
}

/// What one yarn must be there for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YarnNeed {
    /// The yarn's name.
    pub name: String,
    /// Its size as written, where given.
    pub size: Option<String>,
    /// Warp ends of it, added floats among them.
    pub ends: u32,
    /// Yards (plans in inches) or metres (plans in centimetres), spare included.
    pub length: Fraction,
    /// Of that, for the weft.
    pub weft: Fraction,
    /// Pounds or kilograms; `None` where the size is not known.
    pub weight: Option<Fraction>,
    /// What it costs, where weight and price are known.
    pub cost: Option<Fraction>,
}

/// A plan that fits: every figure that the dressing needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The weaver's name for it, made harmless.
    pub title: String,
    /// Units of every length below.
    pub units: Units,
    /// Ends per unit.
    pub sett: Fraction,
    /// Ends wound, 1..=100,000; `from-warp` floats are among them, `added` ones are not.
    pub ends: u32,
    /// Where the floats come from.
    pub floats: Floats,
    /// Width in the reed, plan units.
    pub width: Fraction,
    /// The edge where threading starts; call 1 is there.
    pub thread_from: Side,
    /// The edge where sleying starts.
    pub sley_from: Side,
    /// The loom's kind.
    pub action: Action,
    /// Shafts on the loom, 1..=64.
    pub shafts: u8,
    /// Treadles on the loom (0 where levers do their work).
    pub treadles: u8,
    /// The shaft of each call, call 1 first; its length is the number of heddled ends.
    pub threading: Vec<Shaft>,
    /// Calls whose end shares the heddle of the call before it (doubled edges), in order.
    pub doubled: Vec<Call>,
    /// Groups in the order of threading.
    pub groups: Vec<Group>,
    /// How batches are cut.
    pub batch_rule: BatchRule,
    /// Batches in the order of threading.
    pub batches: Vec<Batch>,
    /// Heddles.
    pub heddles: Heddles,
    /// Reed.
    pub sley: Sley,
    /// Raddle.
    pub raddle: Raddle,
    /// Ties on the rod, odd.
    pub ties: u32,
    /// Bundles in the order of tying.
    pub bundles: Vec<Bundle>,
    /// Beam.
    pub beam: Beam,
    /// Length left in front of the shafts when beaming stops, plan units.
    pub front_allowance: Fraction,
    /// Shafts tied to each treadle, treadle 1 first; empty where the plan has no tie-up.
    pub tie_up: Vec<Vec<Shaft>>,
    /// Treadles pick by pick as one repeat, treadle 1 the left one; empty where the plan has none.
    pub treadling: Vec<u32>,
    /// Shafts lifted pick by pick; empty where there is none.
    pub lift_plan: Vec<Vec<Shaft>>,
    /// The draft's repeat in heddles, where it has one.
    pub repeat: Option<u32>,
    /// Stripes of colour from the threading edge; empty where no yarn is named.
    pub stripes: Vec<Stripe>,
    /// Length to wind for one end, plan units; `None` where the finished length is not given.
    pub warp_length: Option<Fraction>,
    /// Yarn by name.
    pub yarn: Vec<YarnNeed>,
    /// Size of a group, plan units.
    pub group_unit: Fraction,
    /// Ends in one bout when winding.
    pub bout: u32,
    /// Ends wound together in the hand.
    pub together: u32,
    /// The plan file that it was worked out from, every default filled in: what an amendment changes.
    pub spec: Spec,
}
