//! Many dressings at once: one row each, ordered by who needs help; what went wrong in them. Owns the
//! order and what a row knows; reads no file, and the time comes in.

use super::account::{CaughtWhat, account};
use super::event::{Entry, Look};
use super::state::{Dressing, Left, Mood, Rest};
use crate::fault::{FaultKind, Found, ReedFault};
use crate::method::{Stage, StepId};
use chrono::{DateTime, FixedOffset};
use std::cmp::{Ordering, Reverse};

/// What a weaver needs, the most pressing first: the order of the rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// She asked for help.
    Help,
    /// She wants a second pair of hands.
    Hands,
    /// Counts or looks disagree, and no way out is chosen.
    Mismatch,
    /// Checks were passed over or mismatches left open.
    PassedOver,
    /// So long without a press that it is no longer her pace.
    Silent,
    /// The file cannot be read, or only in part.
    Unreadable,
    /// A mending is being led; stands among those at work.
    Mending,
    /// At work.
    Working,
    /// Paused or stopped for today.
    Resting,
    /// Ready to weave.
    Ready,
}

/// One dressing of the class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Whose it is or what its file is called; made harmless.
    pub name: String,
    /// The plan's title.
    pub title: String,
    /// The name of her file, for other commands; empty where there is none.
    pub file: String,
    /// What she needs.
    pub need: Need,
    /// The stage; `None` when ready or unreadable.
    pub stage: Option<Stage>,
    /// The current step.
    pub step: Option<StepId>,
    /// Ends that the stage is done for, of all.
    pub done: Option<(u32, u32)>,
    /// Minutes left in the stage at her own pace, where it is known.
    pub minutes_left: Option<u32>,
    /// Groups, or bundles while tying, that the step is not done for.
    pub groups_left: Option<u32>,
    /// Whole minutes since the last press; a clock that is ahead counts as none.
    pub minutes_silent: Option<u32>,
    /// Checks passed over and mismatches left open.
    pub left_open: u32,
    /// Mismatches caught so far.
    pub caught: u32,
    /// Broken ends not mended yet.
    pub broken: u32,
    /// What is wrong with the file, where something is.
    pub file_says: Option<String>,
}

impl Need {
    /// Its place in the order: a mending is work like other work.
    #[must_use]
    pub fn rank(self) -> u8 {
        match self {
            Self::Mending => Self::Working as u8,
            other => other as u8,
        }
    }

    /// Whether someone should come.
    #[must_use]
    pub fn is_pressing(self) -> bool {
        self <= Self::Unreadable
    }
}

impl Row {
    /// The row of a dressing at a time.
    #[must_use]
    pub fn of(name: &str, dressing: &Dressing, now: DateTime<FixedOffset>) -> Self {
        let about = dressing.about();
        let stage = about.stage;
        let silent = dressing
            .last()
            .map(|last| (now - last.wall).num_milliseconds().max(0));
        let silent = silent.map(i64::unsigned_abs);
        Self {
            name: crate::quantity::harmless_within(name, 60),
            title: about.title,
            file: String::new(),
            need: need(dressing, silent),
            stage,
            step: about.step.map(|key| key.id),
            done: stage.map(|stage| dressing.done_in(stage)),
            minutes_left: about.minutes_left,
            groups_left: about.groups_left,
            minutes_silent: silent.map(|ms| u32::try_from(ms / 60_000).unwrap_or(u32::MAX)),
            left_open: about.left_open,
            caught: dressing.record().caught,
            broken: about.broken,
            file_says: None,
        }
    }

    /// The row of a file from which nothing can be shown.
    #[must_use]
    pub fn unreadable(name: &str, says: &str) -> Self {
        Self {
            name: crate::quantity::harmless_within(name, 60),
            title: String::new(),
            file: String::new(),
            need: Need::Unreadable,
            stage: None,
            step: None,
            done: None,
            minutes_left: None,
            groups_left: None,
            minutes_silent: None,
            left_open: 0,
            caught: 0,
            broken: 0,
            file_says: Some(crate::quantity::harmless(says)),
        }
    }

    /// The share done, in thousandths.
    fn share(&self) -> u64 {
        self.done.map_or(0, |(done, of)| {
            u64::from(done) * 1000 / u64::from(of.max(1))
        })
    }
}

fn need(dressing: &Dressing, silent_ms: Option<u64>) -> Need {
    let about = dressing.about();
    let too_long =
        |stage: Stage| silent_ms.is_some_and(|ms| ms > dressing.pace().interruption_ms(stage));
    if about.help_wanted {
        Need::Help
    } else if about.hands_wanted {
        Need::Hands
    } else if about.mismatch_open {
        Need::Mismatch
    } else if about.left_open > 0 {
        Need::PassedOver
    } else {
        match (about.stage, dressing.rest()) {
            (None, _) => Need::Ready,
            (Some(_), Some(Rest::Paused | Rest::Stopped)) => Need::Resting,
            (Some(stage), None) if too_long(stage) => Need::Silent,
            (Some(_), None) if matches!(dressing.mood(), Mood::Mending(_)) => Need::Mending,
            (Some(_), None) => Need::Working,
        }
    }
}

/// Which of two comes first: the more pressing need, then the earlier stage, the smaller share done,
/// the longer time left, the name.
#[must_use]
pub fn before(a: &Row, b: &Row) -> Ordering {
    let key = |row: &Row| {
        let stage = row.stage.map_or(usize::MAX, |stage| stage as usize);
        let left = Reverse(row.minutes_left);
        (row.need.rank(), stage, row.share(), left)
    };
    key(a).cmp(&key(b)).then_with(|| a.name.cmp(&b.name))
}

/// Puts the rows in order, who needs help most first.
pub fn order(rows: &mut [Row]) {
    rows.sort_by(before);
}

/// Something that went wrong in a dressing, for the next lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// A fault that the looks settled.
    Fault(FaultKind),
    /// A fault in the reed.
    Reed(ReedFault),
    /// A batch that did not come out even and was mended without being traced.
    Batch,
    /// A look that found something else than the record said.
    Look(Look),
    /// A look that was passed over.
    PassedOver,
    /// A mismatch that was left open.
    LeftOpen,
    /// An end that broke.
    BrokenEnd,
}

/// What went wrong in a dressing, with the stage. The entries are the dressing's own.
#[must_use]
pub fn went_wrong(entries: &[Entry], dressing: &Dressing) -> Vec<(Stage, Wrong)> {
    let record = dressing.record();
    let mut found = Vec::new();
    // going through the log once more is only worth its time where something was caught
    if record.caught > 0 {
        for caught in account(entries, dressing).caught {
            let stage = caught.stage;
            match (caught.faults.as_slice(), caught.what) {
                ([], CaughtWhat::Batch(_)) => found.push((stage, Wrong::Batch)),
                ([], CaughtWhat::Look(look)) => found.push((stage, Wrong::Look(look))),
                (_, CaughtWhat::Found(Found::InHeddles(fault))) => {
                    found.push((stage, Wrong::Fault(fault.kind)));
                }
                (_, CaughtWhat::Found(Found::InReed(kind, _))) => {
                    found.push((stage, Wrong::Reed(kind)));
                }
                (faults, _) => found.extend(faults.iter().map(|f| (stage, Wrong::Fault(*f)))),
            }
        }
    }
    found.extend(record.left.iter().filter_map(|left| match left.what {
        Left::Question(_) => Some((left.stage, Wrong::PassedOver)),
        Left::Mismatch(_) => Some((left.stage, Wrong::LeftOpen)),
        Left::Step(_) => None,
    }));
    let broken = record.broken.iter();
    found.extend(broken.map(|end| (end.stage, Wrong::BrokenEnd)));
    found
}
