//! The sentences of a plan's remarks: what is worth knowing and refuses nothing.
//! Owns these words, once; the kinds and figures are in `problem`.

use super::problem::Remark;
use super::say::counted;
use crate::quantity::Fraction;
use std::fmt;

/// `2`, `1-2`: an order as it is written.
fn order_text(order: &[u32]) -> String {
    order
        .iter()
        .map(u32::to_string)
        .collect::<Vec<_>>()
        .join("-")
}

fn percent(share: Fraction) -> String {
    let hundred = share.times(Fraction::whole(100)).unwrap_or(share);
    format!("{} %", hundred.decimal(1))
}

impl Remark {
    /// A short fixed name for JSON.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::RepeatCutShort { .. } => "repeat-cut-short",
            Self::EndsRounded { .. } => "ends-rounded",
            Self::SettNotExact { .. } => "sett-not-exact",
            Self::OrderGives { .. } => "order-gives",
            Self::HeddlesNotCounted => "heddles-not-counted",
            Self::GirthUnknown => "girth-unknown",
            Self::LoomWidthAssumed { .. } => "loom-width-assumed",
            Self::ShaftsBare { .. } => "shafts-bare",
            Self::ReedAssumed { .. } => "reed-assumed",
            Self::ReedChosen { .. } => "reed-chosen",
            Self::OddEnds { .. } => "odd-ends",
            Self::ShortGroup { .. } => "short-group",
            Self::ShortDent { .. } => "short-dent",
            Self::Unbalanced { .. } => "unbalanced",
            Self::EdgeEndsMissed { .. } => "edge-ends-missed",
            Self::Unusual { .. } => "unusual",
            Self::SizeUnknown { .. } => "size-unknown",
        }
    }
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::RepeatCutShort { threading, whole, rest } => write!(
                f,
                "the threading of {threading} comes {} and then {} of it: look whether the edge is as you want it",
                if *whole == 1 { "once".into() } else { format!("{whole} times") },
                counted(*rest, "end")
            ),
            Self::EndsRounded { exact, ends } => write!(
                f,
                "width x sett is {}, so {ends} ends are taken",
                exact.decimal(2)
            ),
            Self::SettNotExact { wanted, given, order, unit } => write!(
                f,
                "the reed cannot give {} ends per {unit} exactly: {} gives {}",
                wanted.decimal(2),
                order_text(order),
                given.decimal(2)
            ),
            Self::OrderGives { wanted, given, unit } => write!(
                f,
                "the typed sley order gives {} ends per {unit}, the plan says {}: the typed order holds",
                given.decimal(2),
                wanted.decimal(2)
            ),
            Self::HeddlesNotCounted => f.write_str(
                "heddles on hand are not known, so they were not checked: count them before beaming",
            ),
            Self::GirthUnknown => f.write_str(
                "the beam's girth is not known, so turns and packing are not given: measure once round the bare beam",
            ),
            Self::LoomWidthAssumed { width, unit } => write!(
                f,
                "neither reed nor loom has a length: {} {unit} was assumed for the reed's places: measure before sleying",
                width.mixed()
            ),
            Self::ShaftsBare { bare, of } => write!(
                f,
                "no end goes on {} {} of the {of} assumed: look at the threading, or say how many shafts there are",
                if bare.len() == 1 { "shaft" } else { "shafts" },
                bare.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
            ),
            Self::ReedAssumed { dents, unit } => write!(
                f,
                "no reed was given: one of {dents} per {unit} was assumed; name the one to hand"
            ),
            Self::ReedChosen { dents, per } => write!(
                f,
                "of the reeds to hand the one of {dents} per {per} suits best"
            ),
            Self::OddEnds { ends } => write!(
                f,
                "{ends} ends are odd in number: each round trip winds two, and loops on the rod want an even number"
            ),
            Self::ShortGroup { group, ends, whole } => write!(
                f,
                "group {group}, at the edge threaded last, has {ends} of {whole} ends"
            ),
            Self::ShortDent { dent, ends, order } => write!(
                f,
                "the last dent, number {dent} of the warp, holds {ends} of {order}: it lies at the side where sleying ends"
            ),
            Self::Unbalanced { treadle, tied, shafts } => write!(
                f,
                "treadle {treadle} ties {tied} of {shafts} shafts: a counterbalance loom opens a clear shed only with half against half"
            ),
            Self::EdgeEndsMissed { start_from: None } => f.write_str(
                "at some turns the weft would miss an edge end, from whichever side it starts: floating selvedges are advised",
            ),
            Self::EdgeEndsMissed { start_from: Some(side) } => write!(
                f,
                "throw the first pick from the {}: from the other side the weft would miss an edge end at some turns",
                if *side == super::Side::Right { "right" } else { "left" }
            ),
            Self::Unusual { path, found, from, to } => write!(
                f,
                "{path}: {} is unusual ({} to {} is common): look whether it is meant",
                percent(*found),
                percent(*from),
                percent(*to)
            ),
            Self::SizeUnknown { yarn } => write!(
                f,
                "the size of {yarn} is not known, so its weight is not given"
            ),
        }
    }
}
