//! The class board in words: near ones for a line, far ones of few letters for a glance across the
//! room. Owns the wording; the order is the dressing's.

use super::counts::count;
use crate::dressing::class::{Need, Row};
use crate::method::Method;

/// The need in few letters, for the largest type.
#[must_use]
pub fn far(need: Need) -> &'static str {
    match need {
        Need::Help => "HELP",
        Need::Mismatch => "UNEVEN",
        Need::PassedOver => "LOOK",
        Need::Silent => "QUIET",
        Need::Unreadable => "FILE?",
        Need::Working => "",
        Need::Resting => "REST",
        Need::Ready => "READY",
    }
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
    parts.extend(
        row.minutes_left
            .map(|m| format!("about {m} min left in it")),
    );
    if row.broken > 0 {
        parts.push(format!("{} to mend", count(row.broken, "broken end")));
    }
    parts.join("; ")
}

fn need(row: &Row) -> Option<String> {
    Some(match row.need {
        Need::Help => "asks for help".to_owned(),
        Need::Mismatch => "a count does not come out".to_owned(),
        Need::PassedOver => format!("{} passed over or left open", count(row.left_open, "check")),
        Need::Silent => format!("no press for {} min", row.minutes_silent.unwrap_or(0)),
        Need::Unreadable => row.file_says.clone().unwrap_or_default(),
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
        Need::Mismatch => "mismatch",
        Need::PassedOver => "passed-over",
        Need::Silent => "silent",
        Need::Unreadable => "unreadable",
        Need::Working => "working",
        Need::Resting => "resting",
        Need::Ready => "ready",
    }
}

/// An empty folder.
pub const NOBODY: &str =
    "No dressing is in this folder. Begin one with: endsmeet new PLAN --for NAME --sessions FOLDER";
