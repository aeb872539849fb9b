//! From a miscount to its place and its mending: evidence in, explanations, looks and ways out.
//! Owns the residue theory, the choice of a look and the ways of mending; never asks, never says a
//! sentence, never changes a dressing. Pure: no clock, no randomness.
//!
//! The chain: [`Evidence`] -> residue (what the plan does not account for) -> every explanation of
//! one or two faults with that residue -> what would stand at the loom under each (`standing`) ->
//! those that fit the answers so far -> the look worth most for its seconds.

mod class;
mod cloth_sheds;
pub mod cloth_spot;
mod evidence;
mod found;
mod from_plan;
mod group_end;
mod impossible;
mod json;
mod kind;
mod look;
mod mend;
mod mend_reed;
mod new_end;
mod on_spot;
mod read_back;
mod reed;
mod reed_evidence;
mod residue;
mod shows;
mod spot;
mod standing;
mod suspects;
mod trace;
mod warp;
mod warp_case;
mod warp_cases;
mod warp_confirm;
mod warp_evidence;
mod warp_first;
mod warp_looks;
mod way;
mod weigh;
mod weights;

pub use evidence::{Evidence, MISCOUNTED, Seen};
pub use found::{Found, certain, known};
pub use group_end::group_end_look;
pub use impossible::Impossible;
pub use json::to_json;
pub use kind::{Fault, FaultKind};
pub use look::{Look, LookKind};
pub use mend::mend;
pub use mend_reed::{mend_reed, mend_reed_at};
pub use new_end::{NewEnd, Reached, new_end};
pub use read_back::{Column, differences, read_back};
pub use reed::{reed_stands, trace_reed};
pub use reed_evidence::{ReedEvidence, ReedFault, ReedLook, ReedSeen, ReedSuspect, ReedTracing};
pub use shows::{Shows, shows};
pub use trace::{MendingId, Suspect, Tracing, trace};
pub use warp::trace_warp;
pub use warp_evidence::{Drift, WarpEvidence, WarpLook, WarpSeen, WarpSuspect, WarpTracing};
pub use way::{Cost, Move, Way, WayKind, Work};
