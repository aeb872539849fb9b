//! The class board in words: near ones for a line, far ones of few letters for a glance across the
//! room. Owns the wording; the order is the dressing's.

use super::counts::count;
use super::log_words;
use super::looks;
use crate::dressing::class::{Need, Row, Wrong};
use crate::method::{Method, Stage};

/// The need in few letters, for the largest type.
#[must_use]
pub fn far(need: Need) -> &'static str {
    match need {
        Need::Help => "HELP",
        Need::Hands => "HANDS",
        Need::Mismatch => "UNEVEN",
        Need::PassedOver => "LOOK",
        Need::Silent => "QUIET",
        Need::Unreadable => "FILE?",
        Need::Mending => "MENDING",
        Need::Working => "",
        Need::Resting => "REST",
        Need::Ready => "READY",
    }
}

/// Letters of the need in the largest type.
pub const FAR: usize = 7;

/// The need of a row in few letters; the stage where she is at work.
#[must_use]
pub fn far_of(row: &Row, method: &Method) -> String {
    let text = match (row.need, row.stage) {
        (Need::Working, Some(stage)) => method.stage(stage).title.to_uppercase(),
        (need, _) => far(need).to_owned(),
    };
    text.chars().take(FAR).collect()
}

/// What the row says, the need first.
#[must_use]
pub fn row(row: &Row, method: &Method) -> String {
    let mut parts: Vec<String> = Vec::new();
    parts.extend(need(row));
    parts.extend(
        row.file_says
            .clone()
            .filter(|_| row.need != Need::Unreadable),
    );
    if let Some(stage) = row.stage {
        let title = &method.stage(stage).title;
        parts.push(match row.done {
            Some((done, of)) if done > 0 => format!("{title}, {done} of {}", count(of, "end")),
            _ => title.clone(),
        });
    }
    parts.extend(row.minutes_left.map(|m| {
        format!(
            "{} left in it",
            log_words::time_left(m, row.groups_left, row.stage)
        )
    }));
    if row.broken > 0 {
        parts.push(format!("{} to mend", count(row.broken, "broken end")));
    }
    parts.join("; ")
}

fn need(row: &Row) -> Option<String> {
    Some(match row.need {
        Need::Help => "asks for help".to_owned(),
        Need::Hands => "wants a second pair of hands".to_owned(),
        Need::Mismatch => "a count does not come out".to_owned(),
        Need::PassedOver => format!("{} passed over or left open", count(row.left_open, "check")),
        Need::Silent => format!("no press for {} min", row.minutes_silent.unwrap_or(0)),
        Need::Unreadable => row.file_says.clone().unwrap_or_default(),
        Need::Mending => "mending".to_owned(),
        Need::Working => return None,
        Need::Resting => "resting".to_owned(),
        Need::Ready => "ready to weave".to_owned(),
    })
}

/// The need's name in data.
#[must_use]
pub fn key(need: Need) -> &'static str {
    match need {
        Need::Help => "help",
        Need::Hands => "hands",
        Need::Mismatch => "mismatch",
        Need::PassedOver => "passed-over",
        Need::Silent => "silent",
        Need::Unreadable => "unreadable",
        Need::Mending => "mending",
        Need::Working => "working",
        Need::Resting => "resting",
        Need::Ready => "ready",
    }
}

/// An empty folder.
pub const NOBODY: &str =
    "No dressing is in this folder. Begin one with: endsmeet new PLAN --for NAME --sessions FOLDER";

/// What went wrong in a class: how often each thing, by stage.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Lesson {
    /// Stage, thing and times; by stage, the most frequent first.
    pub lines: Vec<(Stage, Wrong, u32)>,
}

/// Counts what went wrong in several dressings.
#[must_use]
pub fn lesson<'a>(all: impl IntoIterator<Item = &'a (Stage, Wrong)>) -> Lesson {
    let mut lines: Vec<(Stage, Wrong, u32)> = Vec::new();
    for (stage, thing) in all {
        let known =
            |line: &&mut (Stage, Wrong, u32)| line.0 == *stage && wrong(line.1) == wrong(*thing);
        match lines.iter_mut().find(known) {
            Some(line) => line.2 += 1,
            None => lines.push((*stage, *thing, 1)),
        }
    }
    lines.sort_by_key(|(stage, thing, times)| (*stage, std::cmp::Reverse(*times), wrong(*thing)));
    Lesson { lines }
}

/// What went wrong, in a few words.
#[must_use]
pub fn wrong(thing: Wrong) -> &'static str {
    match thing {
        Wrong::Fault(kind) => log_words::fault(kind),
        Wrong::Reed(kind) => log_words::reed_fault(kind),
        Wrong::Batch => "a batch not used up, not traced",
        Wrong::Look(look) => looks::name(look),
        Wrong::PassedOver => "a look passed over",
        Wrong::LeftOpen => "a mismatch left open",
        Wrong::BrokenEnd => "an end broke",
    }
}

/// The name of what went wrong in data.
#[must_use]
pub fn wrong_key(thing: Wrong) -> &'static str {
    match thing {
        Wrong::Fault(kind) => kind.name(),
        Wrong::Reed(kind) => kind.name(),
        Wrong::Batch => "batch",
        Wrong::Look(_) => "look",
        Wrong::PassedOver => "passed-over",
        Wrong::LeftOpen => "left-open",
        Wrong::BrokenEnd => "broken-end",
    }
}

/// Where nothing went wrong.
pub const NOTHING_WRONG: &str = "Nothing went wrong so far.";
/// The head of what went wrong.
pub const WENT_WRONG: &str = "What went wrong";

/// The window's title.
pub const TITLE: &str = "endsmeet: the class";
/// Keys under the rows and what they do.
pub const HINTS: [(&str, &str); 5] = [
    ("Down", "next row"),
    ("Up", "row before"),
    ("Enter", "its log"),
    ("w", "what went wrong"),
    ("q", "leave"),
];
/// Keys under a log or under what went wrong.
pub const HINTS_BACK: [(&str, &str); 4] = [
    ("Down", "further"),
    ("Up", "back up"),
    ("Enter", "back to the rows"),
    ("q", "leave"),
];

/// "The class: 12 dressings".
#[must_use]
pub fn heading(rows: usize) -> String {
    let rows = u32::try_from(rows).unwrap_or(u32::MAX);
    format!("The class: {}", count(rows, "dressing"))
}

/// "3 to look after", "nobody to look after".
#[must_use]
pub fn wanting(rows: &[Row]) -> String {
    match rows.iter().filter(|row| row.need.is_pressing()).count() {
        0 => "nobody to look after".to_owned(),
        n => format!("{n} to look after"),
    }
}

/// Who stands above and below the rows that are shown: "above: 4; below: Fay, Gus, Hal".
#[must_use]
pub fn others(rows: &[Row], first: usize, shown: usize) -> String {
    let mut parts = Vec::new();
    if first > 0 {
        parts.push(format!("above: {first}"));
    }
    let below: Vec<&str> = rows
        .iter()
        .skip(first + shown)
        .map(|row| row.name.as_str())
        .collect();
    if !below.is_empty() {
        parts.push(format!("{} more below: {}", below.len(), below.join(", ")));
    }
    parts.join("; ")
}

/// The heading of one dressing's log.
#[must_use]
pub fn log_of(row: &Row) -> String {
    format!("Log of {}: {}", row.name, row.title)
}

/// The folder could not be looked into.
#[must_use]
pub fn cannot_look(why: &str) -> String {
    format!(
        "The folder cannot be read now: {why}. It is tried again and again; what was read stays."
    )
}

/// What went wrong, a line each.
#[must_use]
pub fn lesson_lines(lesson: &Lesson, method: &Method) -> Vec<String> {
    if lesson.lines.is_empty() {
        return vec![NOTHING_WRONG.to_owned()];
    }
    let line = |(stage, thing, times): &(Stage, Wrong, u32)| {
        format!(
            "{}: {}, {times} x",
            method.stage(*stage).title,
            wrong(*thing)
        )
    };
    lesson.lines.iter().map(line).collect()
}
