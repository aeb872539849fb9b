//! A log as a sheet, as data and as a table. Owns their layout; the sums are the dressing's. While a
//! look is open only what came since it was put is in here: the rest would tell the figure.

use super::as_csv::written;
use super::document::{Block, Document, Part, Table};
use crate::dressing::account::{Account, Caught, CaughtWhat, Moment, account};
use crate::dressing::{Dressing, Entry};
use crate::method::{Method, Stage};
use crate::words::{log_words, trail};
use serde_json::{Value, json};

/// The log of a dressing, as far as it may be shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Log {
    /// The plan's title.
    pub title: String,
    /// Each entry with its sentence.
    pub lines: Vec<(Moment, String)>,
    /// Times and what was caught; `None` while a look is open.
    pub account: Option<Account>,
}

/// The log of a dressing; the entries are the dressing's own.
#[must_use]
pub fn log(entries: &[Entry], dressing: &Dressing, method: &Method) -> Log {
    let account = account(entries, dressing);
    let (hidden, said) = trail::log(entries, dressing, method);
    let first = entries.len() - said.len();
    let moments = account.moments.iter().skip(first);
    let moments = moments.map(|moment| Moment {
        group: moment.group.filter(|_| !hidden),
        ..*moment
    });
    Log {
        title: dressing.plan().title.clone(),
        lines: moments
            .zip(said.into_iter().map(|(_, says)| says))
            .collect(),
        account: (!hidden).then_some(account),
    }
}

impl Log {
    /// The log as lines for a terminal.
    #[must_use]
    pub fn text(&self, method: &Method) -> Vec<String> {
        let hidden = self.account.is_none();
        let mut lines: Vec<String> = Vec::new();
        lines.extend(hidden.then(|| trail::BEFORE_THE_LOOK.to_owned()));
        lines.extend(self.lines.iter().map(|(moment, says)| {
            let at = moment.when.wall.format("%Y-%m-%d %H:%M:%S");
            format!("{:>5}  {at}  {says}", moment.number)
        }));
        if let Some(account) = &self.account {
            lines.push(String::new());
            lines.extend(log_words::lines(account, method));
        }
        lines
    }

    /// The log as a document: what happened, the time, what was caught.
    #[must_use]
    pub fn document(&self, method: &Method) -> Document {
        let happened = Part::new(log_words::HAPPENED);
        let happened = match &self.account {
            None => happened.with(Block::Note(trail::BEFORE_THE_LOOK.into())),
            Some(_) => happened,
        };
        let mut parts = vec![happened.with(Block::Table(self.happened(method)))];
        if let Some(account) = &self.account {
            parts.push(time(account, method));
            parts.push(caught(account, method));
        }
        Document {
            title: self.title.clone(),
            parts,
        }
    }

    fn happened(&self, method: &Method) -> Table {
        let mut table = Table::new(&["When", "Stage", "What happened"]);
        let mut day = None;
        for (moment, says) in &self.lines {
            let date = moment.when.wall.date_naive();
            let shown = if day == Some(date) {
                "%H:%M:%S"
            } else {
                "%-d %B %H:%M:%S"
            };
            day = Some(date);
            let when = moment.when.wall.format(shown).to_string();
            let stage = method.stage(moment.stage).title.clone();
            table.rows.push(vec![when, stage, says.clone()]);
        }
        table
    }

    /// The facts; numbers of entries and groups from 1, times in seconds.
    #[must_use]
    pub fn value(&self) -> Value {
        let line = |(moment, says): &(Moment, String)| {
            json!({ "entry": moment.number, "at": moment.when.wall.to_rfc3339(),
                "stage": moment.stage, "group": moment.group,
                "work_seconds": seconds(moment.work_ms), "says": says })
        };
        let entries: Vec<Value> = self.lines.iter().map(line).collect();
        let account = self.account.as_ref();
        json!({ "schema": 1, "title": self.title, "look_open": account.is_none(),
            "entries": entries,
            "work_seconds": account.map(|a| seconds(a.work_ms())),
            "stages": account.map(stages_value),
            "caught": account.map(|a| a.caught.iter().map(caught_value).collect::<Vec<_>>()) })
    }

    /// The entries as CSV, with a head.
    #[must_use]
    pub fn csv(&self) -> String {
        let heads = ["number", "at", "stage", "group", "work_seconds", "what"];
        let mut rows = vec![heads.map(str::to_owned).to_vec()];
        rows.extend(self.lines.iter().map(|(moment, says)| {
            vec![
                moment.number.to_string(),
                moment.when.wall.to_rfc3339(),
                stage_name(moment.stage),
                moment.group.map_or(String::new(), |n| n.to_string()),
                format!("{}.{:03}", moment.work_ms / 1000, moment.work_ms % 1000),
                says.clone(),
            ]
        }));
        written(&rows)
    }
}

fn seconds(ms: u64) -> f64 {
    ms as f64 / 1000.0
}

fn stage_name(stage: Stage) -> String {
    stage.name().to_owned()
}

fn time(account: &Account, method: &Method) -> Part {
    let mut table = Table::new(&["Stage", ">Work", ">Entries", "By group"]);
    table.rows = account
        .stages
        .iter()
        .map(|spent| {
            vec![
                method.stage(spent.stage).title.clone(),
                log_words::minutes(spent.work_ms),
                spent.entries.to_string(),
                log_words::by_group(spent).join(", "),
            ]
        })
        .collect();
    Part::new(log_words::TIME)
        .with(Block::Table(table))
        .with(Block::Note(log_words::in_all(account)))
}

fn caught(account: &Account, method: &Method) -> Part {
    let part = Part::new(log_words::CAUGHT);
    if account.caught.is_empty() {
        return part.with(Block::Note(log_words::NOTHING_CAUGHT.into()));
    }
    let says = account.caught.iter();
    part.and(says.map(|c| Block::Note(log_words::caught(c, method))))
}

fn stages_value(account: &Account) -> Vec<Value> {
    let stage = |spent: &crate::dressing::account::Spent| {
        let groups = spent.groups.iter();
        let groups: Vec<Value> = groups
            .map(|(n, ms)| json!({ "group": n, "work_seconds": seconds(*ms) }))
            .collect();
        json!({ "stage": spent.stage, "work_seconds": seconds(spent.work_ms),
            "entries": spent.entries, "groups": groups })
    };
    account.stages.iter().map(stage).collect()
}

fn caught_value(caught: &Caught) -> Value {
    let kind = match caught.what {
        CaughtWhat::Batch(_) => "batch",
        CaughtWhat::Look(_) => "look",
        CaughtWhat::Found(_) => "found",
    };
    json!({ "entry": caught.entry, "stage": caught.stage, "kind": kind,
        "place": log_words::place(caught), "faults": caught.faults,
        "work_seconds": seconds(caught.work_ms), "presses": caught.presses,
        "ends_again": caught.ends_again, "closed": caught.closed })
}
