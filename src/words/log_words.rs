//! What a log comes to, in words: times, what was caught and what it cost. Owns the wording; the sums
//! are the dressing's.

use super::counts::{count, ends};
use super::looks;
use crate::dressing::account::{Account, Caught, CaughtWhat, Spent};
use crate::fault::{FaultKind, ReedFault};
use crate::method::{Method, Stage};

/// What is said of the time.
pub const LEFT_OUT: &str = "pauses and long gaps are left out";
/// What is said where nothing was caught.
pub const NOTHING_CAUGHT: &str = "Every count came out.";
/// The heads of a log's parts.
pub const HAPPENED: &str = "What happened";
/// The head of its times.
pub const TIME: &str = "Time";
/// The head of what was caught.
pub const CAUGHT: &str = "Caught";
/// The group's times on a line.
const GROUPS_IN_A_LINE: usize = 8;

/// "42 min", "35 s": whole minutes from two on.
#[must_use]
pub fn minutes(ms: u64) -> String {
    match ms / 1000 {
        seconds @ 0..=119 => format!("{seconds} s"),
        seconds => format!("{} min", (seconds + 30) / 60),
    }
}

/// "about 40 min", "about 1 h 5 min".
#[must_use]
pub fn about_minutes(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("about {minutes} min"),
        (hours, 0) => format!("about {hours} h"),
        (hours, minutes) => format!("about {hours} h {minutes} min"),
    }
}

/// "about 40 min; 9 groups": what is left of the stage at the weaver's own pace; bundles while tying.
#[must_use]
pub fn time_left(minutes: u32, groups: Option<u32>, stage: Option<Stage>) -> String {
    let each = match stage {
        Some(Stage::TieOn) => "bundle",
        _ => "group",
    };
    let groups = groups.map_or(String::new(), |n| format!("; {}", count(n, each)));
    format!("{}{groups}", about_minutes(minutes))
}

/// "1: 3 min, 2: 4 min": the time of each group.
#[must_use]
pub fn by_group(spent: &Spent) -> Vec<String> {
    let each = spent.groups.iter();
    each.map(|(n, ms)| format!("{n}: {}", minutes(*ms)))
        .collect()
}

/// The sum: "46 min of work in all; pauses and long gaps are left out."
#[must_use]
pub fn in_all(account: &Account) -> String {
    format!("{} of work in all; {LEFT_OUT}.", minutes(account.work_ms()))
}

/// The place of what was caught: "ends 13 to 24", or what was looked at.
#[must_use]
pub fn place(caught: &Caught) -> String {
    match caught.what {
        CaughtWhat::Batch(calls) => ends(calls),
        CaughtWhat::Look(look) => looks::name(look).to_owned(),
        CaughtWhat::Found(found) => super::mend_words::found(&found),
    }
}

/// What was caught, what it was and what it cost, in one sentence.
#[must_use]
pub fn caught(caught: &Caught, method: &Method) -> String {
    let was: Vec<&str> = caught.faults.iter().map(|kind| fault(*kind)).collect();
    let was = match was.as_slice() {
        [] => String::new(),
        some => format!(" It was {}.", some.join(", and ")),
    };
    let again = match caught.ends_again {
        0 => String::new(),
        n => format!(", {} done again", count(n, "end")),
    };
    let open = if caught.closed {
        ""
    } else {
        " It is not made good yet."
    };
    format!(
        "{}, entry {}: {} did not agree.{was} It cost {}{again}.{open}",
        method.stage(caught.stage).title,
        caught.entry,
        place(caught),
        minutes(caught.work_ms)
    )
}

/// A kind of fault, as one says what went wrong.
#[must_use]
pub fn fault(kind: FaultKind) -> &'static str {
    match kind {
        FaultKind::PositionSkipped => "a call passed over",
        FaultKind::PositionRepeated => "a call threaded twice",
        FaultKind::EndsDoubled => "two ends in one heddle",
        FaultKind::EndHanging => "an end in no heddle",
        FaultKind::WrongShaft => "an end on another shaft",
        FaultKind::HeddlePassed => "a heddle left empty",
        FaultKind::EndsMiscounted => "ends counted out wrong",
        FaultKind::HeddlesMiscounted => "heddles counted out wrong",
        FaultKind::HandfulSkipped => "a handful passed over",
        FaultKind::HandfulRepeated => "a handful threaded twice",
        FaultKind::NeighboursExchanged => "neighbours exchanged",
    }
}

/// A kind of fault in the reed, as one says what went wrong.
#[must_use]
pub fn reed_fault(kind: ReedFault) -> &'static str {
    match kind {
        ReedFault::DentSkipped => "a dent passed over",
        ReedFault::EndTooMany => "an end too many in a dent",
        ReedFault::EndTooFew => "an end too few in a dent",
        ReedFault::OrderAhead => "the sley order a dent ahead",
        ReedFault::OrderBehind => "the sley order a dent behind",
        ReedFault::EndsCrossed => "two ends crossed at the reed",
    }
}

/// The times and what was caught, as lines below a log.
#[must_use]
pub fn lines(account: &Account, method: &Method) -> Vec<String> {
    let mut lines = vec![format!("{TIME}: {}", in_all(account))];
    for spent in &account.stages {
        let title = &method.stage(spent.stage).title;
        let entries = if spent.entries == 1 {
            "1 entry".to_owned()
        } else {
            format!("{} entries", spent.entries)
        };
        let time = minutes(spent.work_ms);
        lines.push(format!("  {title}: {time}, {entries}"));
        let groups = by_group(spent);
        let rows = groups.chunks(GROUPS_IN_A_LINE);
        lines.extend(rows.map(|row| format!("    by group {}", row.join(", "))));
    }
    lines.push(format!("{CAUGHT}:"));
    if account.caught.is_empty() {
        lines.push(format!("  {NOTHING_CAUGHT}"));
    }
    let caught = account.caught.iter();
    lines.extend(caught.map(|c| format!("  {}", self::caught(c, method))));
    lines
}
