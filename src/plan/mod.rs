//! What is to be dressed: warp, draft, loom, reed, raddle and ways of working, worked out whole.
//! Owns the arithmetic of the plan; never asks, never shows, never reads a file. Pure.
//!
//! The way through: text -> [`read_spec`] -> [`Spec`] -> [`work_out`] -> [`Figures`] -> [`Figures::plan`]
//! -> [`Plan`]. `Figures` keeps what could be worked out beside every problem; a `Plan` has everything.

pub mod advice;
mod amended;
mod batches;
pub mod beam;
mod card;
pub mod cloth;
mod cloth_edges;
mod cloth_floats;
mod cloth_plain;
pub mod colour;
mod dents;
mod fields;
mod figures;
mod fill;
pub mod form;
mod groups;
mod heddles;
pub mod json;
mod moves;
pub mod old_reeds;
pub mod order;
mod picks;
mod places;
mod problem;
mod raddle;
mod raw;
mod read;
pub mod reeds;
mod say;
mod say_remark;
mod sheds;
mod skeleton;
pub mod spec;
pub mod threading;
pub mod wif;
pub mod wind;
mod work;
mod work_across;
mod work_along;
mod work_reed;
mod work_yarn;
mod worked;
mod write;
pub mod yarn;

pub use batches::{MOST_IN_BATCH, batch_of_repeat, handfuls, usual_rule};
pub use card::LoomCard;
pub use cloth::{Cloth, ShedKind};
pub use cloth_edges::{EdgeAdvice, EdgeTurns, Edges};
pub use cloth_floats::{Face, Float, Marks, Thread};
pub use cloth_plain::PlainWeave;
pub use figures::{
    Action, Batch, BatchRule, Beam, Bundle, Dent, DentEnds, Floats, Group, GroupSpaces, Heddles,
    Plan, Raddle, RaddleMiddle, ReedMiddle, Side, Sley, Stripe, Units, YarnNeed,
};
pub use groups::{group_sizes, groups};
pub use picks::{HEADER_PICKS, PickShed};
pub use problem::{Filled, Move, Path, Problem, Remark};
pub use raddle::{bundles, raddle, ties};
pub use read::read_spec;
pub use sheds::{GroupShed, Opens, Shed, ShedWarning};
pub use skeleton::{NoSkeleton, Skeleton, Tie};
pub use spec::Spec;
pub use work::work_out;
pub use worked::Figures;
pub use write::spec_value;
