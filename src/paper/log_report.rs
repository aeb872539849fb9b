//! What happened in a dressing: sentence by sentence, the time of each stage and group with pauses
//! left out, and the faults that were caught with what each cost. Owns the sums; the log is only read.

use super::as_csv::written;
use super::document::{Block, Document, Part, Table};
use crate::dressing::ledger::Task;
use crate::dressing::{Dressing, Entry, Event, Look, Mismatch, Mood, When};
use crate::fault::Found;
use crate::method::{Method, Stage};
use crate::quantity::Calls;
use crate::words::counts::{count, ends};
use crate::words::{looks, trail};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its number.
    pub number: u64,
    /// When.
    pub when: When,
    /// The stage in which it was asked.
    pub stage: Stage,
    /// The group that it is about, where it is about one.
    pub group: Option<u32>,
    /// Milliseconds of work since the entry before; 0 after a pause, a return or too long a gap.
    pub work_ms: u64,
    /// What happened.
    pub says: String,
}

/// The time of one stage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spent {
    /// The stage.
    pub stage: Stage,
    /// Milliseconds of work.
    pub work_ms: u64,
    /// Entries.
    pub entries: u32,
    /// Of it, the time of each group, by its number.
    pub groups: BTreeMap<u32, u64>,
}

/// What was caught.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaughtWhat {
    /// A batch that did not come out even.
    Batch(Calls),
    /// A look that found something else than the record said.
    Look(Look),
    /// Something wrong whose place was known.
    Found(Found),
}

/// A fault that was caught, and what it cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caught {
    /// The entry in which it came out.
    pub entry: u64,
    /// The stage.
    pub stage: Stage,
    /// What did not agree.
    pub what: CaughtWhat,
    /// Milliseconds of work from the question to where the work stood again as it had.
    pub work_ms: u64,
    /// Presses in that time.
    pub presses: u32,
    /// Ends whose work was done once more.
    pub ends_again: u32,
    /// Whether the work stands again as it had.
    pub closed: bool,
}

/// What happened in a dressing.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// The plan's title.
    pub title: String,
    /// Every entry.
    pub lines: Vec<Line>,
    /// The stages that were worked in.
    pub stages: Vec<Spent>,
    /// What was caught.
    pub caught: Vec<Caught>,
}

/// A fault whose cost is still growing.
struct Open {
    at: usize,
    /// The ends that were threaded when it came out.
    threaded: u32,
}

/// Goes through the log once more from its start. The entries are those of the dressing.
#[must_use]
pub fn report(entries: &[Entry], dressing: &Dressing, method: &Method) -> Report {
    let mut now = dressing.at_start();
    let mut found = Report {
        title: dressing.plan().title.clone(),
        lines: Vec::new(),
        stages: Vec::new(),
        caught: Vec::new(),
    };
    let mut open: Option<Open> = None;
    let mut asking = (0, 0);
    for entry in entries {
        if now.accepts(entry).is_err() {
            break;
        }
        let (stage, group) = (now.stage_or_last(), group_of(&now, entry));
        let before = spent(&now);
        now.apply(entry);
        let work_ms = spent(&now) - before;
        found.add(entry, stage, group, work_ms, method);
        asking = match now.mood() {
            Mood::Asking(_) | Mood::Disagreeing(_) => (asking.0 + work_ms, asking.1 + 1),
            Mood::Working | Mood::Mending(_) => (0, 0),
        };
        found.catch(entry, stage, &now, (work_ms, asking), &mut open);
    }
    found
}

fn spent(dressing: &Dressing) -> u64 {
    let pace = dressing.pace();
    Stage::ALL.iter().map(|stage| pace.spent_ms(*stage)).sum()
}

/// The group of the ends that the entry marks, else of the step that it was asked at.
fn group_of(dressing: &Dressing, entry: &Entry) -> Option<u32> {
    let marked = entry.events.iter().find_map(|event| match event {
        Event::Marked { calls, .. } | Event::Unmarked { calls, .. } => Some(*calls),
        _ => None,
    });
    let calls = marked.or_else(|| dressing.current()?.calls)?;
    dressing
        .plan()
        .group_of(calls.last)
        .map(|group| group.number)
}

impl Report {
    fn add(
        &mut self,
        entry: &Entry,
        stage: Stage,
        group: Option<u32>,
        work_ms: u64,
        method: &Method,
    ) {
        self.lines.push(Line {
            number: entry.number,
            when: entry.when,
            stage,
            group,
            work_ms,
            says: trail::entry(entry, method),
        });
        let at = self.stages.iter().position(|spent| spent.stage == stage);
        let at = at.unwrap_or_else(|| {
            self.stages.push(Spent {
                stage,
                work_ms: 0,
                entries: 0,
                groups: BTreeMap::new(),
            });
            self.stages.len() - 1
        });
        let spent = &mut self.stages[at];
        spent.work_ms += work_ms;
        spent.entries += 1;
        if let Some(group) = group {
            *spent.groups.entry(group).or_default() += work_ms;
        }
    }

    /// Follows a fault from where it comes out to where the work stands again.
    fn catch(
        &mut self,
        entry: &Entry,
        stage: Stage,
        now: &Dressing,
        (work_ms, asking): (u64, (u64, u32)),
        open: &mut Option<Open>,
    ) {
        let threaded = now.ledger().of(Task::Threaded).count();
        let new = entry.events.iter().find_map(|event| match event {
            Event::Disagreed(Mismatch::Batch { batch, .. }) => Some(CaughtWhat::Batch(*batch)),
            Event::Disagreed(Mismatch::Look { look, .. }) => Some(CaughtWhat::Look(*look)),
            Event::Disagreed(Mismatch::Found(found)) => Some(CaughtWhat::Found(*found)),
            _ => None,
        });
        // looks within one tracing say again that the same batch does not come out
        let same = open
            .as_ref()
            .is_some_and(|o| Some(self.caught[o.at].what) == new);
        if let Some(what) = new.filter(|_| !same) {
            self.caught.push(Caught {
                entry: entry.number,
                stage,
                what,
                work_ms: asking.0,
                presses: asking.1,
                ends_again: 0,
                closed: false,
            });
            let at = self.caught.len() - 1;
            *open = Some(Open { at, threaded });
            return;
        }
        let Some(following) = open else { return };
        let caught = &mut self.caught[following.at];
        caught.work_ms += work_ms;
        caught.presses += 1;
        caught.ends_again += unmarked(entry);
        let stands = threaded >= following.threaded;
        if *now.mood() == Mood::Working && stands {
            caught.closed = true;
            *open = None;
        }
    }

    /// Milliseconds of work in all.
    #[must_use]
    pub fn work_ms(&self) -> u64 {
        self.stages.iter().map(|spent| spent.work_ms).sum()
    }

    /// The report as a document: what happened, the time, what was caught.
    #[must_use]
    pub fn document(&self, method: &Method) -> Document {
        let title = |stage: Stage| method.stage(stage).title.clone();
        let mut happened = Table::new(&["When", "Stage", "What happened"]);
        let mut day = None;
        for line in &self.lines {
            let date = line.when.wall.date_naive();
            let shown = if day == Some(date) {
                "%H:%M:%S"
            } else {
                "%-d %B %H:%M:%S"
            };
            day = Some(date);
            let when = line.when.wall.format(shown).to_string();
            happened
                .rows
                .push(vec![when, title(line.stage), line.says.clone()]);
        }
        let mut time = Table::new(&["Stage", ">Work", ">Entries", "By group"]);
        for spent in &self.stages {
            let groups = spent
                .groups
                .iter()
                .map(|(n, ms)| format!("{n}: {}", minutes(*ms)));
            time.rows.push(vec![
                title(spent.stage),
                minutes(spent.work_ms),
                spent.entries.to_string(),
                groups.collect::<Vec<_>>().join(", "),
            ]);
        }
        let sum = format!(
            "{} of work in all; pauses and long gaps are left out.",
            minutes(self.work_ms())
        );
        let mut caught = Part::new("Caught");
        if self.caught.is_empty() {
            caught
                .blocks
                .push(Block::Note("Every count came out.".into()));
        }
        let says = self.caught.iter().map(|c| Block::Note(c.says(method)));
        caught.blocks.extend(says);
        Document {
            title: self.title.clone(),
            parts: vec![
                Part::new("What happened").with(Block::Table(happened)),
                Part::new("Time")
                    .with(Block::Table(time))
                    .with(Block::Note(sum)),
                caught,
            ],
        }
    }

    /// The facts; numbers of entries and groups from 1, times in seconds.
    #[must_use]
    pub fn value(&self) -> Value {
        let seconds = |ms: u64| ms as f64 / 1000.0;
        let lines: Vec<Value> = self
            .lines
            .iter()
            .map(|line| {
                json!({ "number": line.number, "at": line.when.wall.to_rfc3339(),
                    "stage": line.stage, "group": line.group,
                    "work_seconds": seconds(line.work_ms), "says": line.says })
            })
            .collect();
        let stages: Vec<Value> = self
            .stages
            .iter()
            .map(|spent| {
                let groups = spent.groups.iter();
                let groups: Vec<Value> = groups
                    .map(|(n, ms)| json!({ "group": n, "work_seconds": seconds(*ms) }))
                    .collect();
                json!({ "stage": spent.stage, "work_seconds": seconds(spent.work_ms),
                    "entries": spent.entries, "groups": groups })
            })
            .collect();
        let caught: Vec<Value> = self.caught.iter().map(Caught::value).collect();
        json!({ "schema": 1, "title": self.title, "work_seconds": seconds(self.work_ms()),
            "entries": lines, "stages": stages, "caught": caught })
    }

    /// The entries as CSV, with a head.
    #[must_use]
    pub fn csv(&self) -> String {
        let heads = ["number", "at", "stage", "group", "work_seconds", "what"];
        let mut rows = vec![heads.map(str::to_owned).to_vec()];
        rows.extend(self.lines.iter().map(|line| {
            vec![
                line.number.to_string(),
                line.when.wall.to_rfc3339(),
                line.stage.name().to_owned(),
                line.group.map_or(String::new(), |n| n.to_string()),
                format!("{}.{:03}", line.work_ms / 1000, line.work_ms % 1000),
                line.says.clone(),
            ]
        }));
        written(&rows)
    }
}

impl Caught {
    /// Its place in words: "ends 13 to 24", or what was looked at.
    #[must_use]
    pub fn place(&self) -> String {
        match self.what {
            CaughtWhat::Batch(calls) => ends(calls),
            CaughtWhat::Look(look) => looks::name(look).to_owned(),
            CaughtWhat::Found(found) => crate::words::mend_words::found(&found),
        }
    }

    fn says(&self, method: &Method) -> String {
        let again = match self.ends_again {
            0 => String::new(),
            n => format!(", {} done again", count(n, "end")),
        };
        let open = if self.closed {
            ""
        } else {
            ", and it is not made good yet"
        };
        format!(
            "{}, entry {}: {} did not agree; it cost {}{again}{open}.",
            method.stage(self.stage).title,
            self.entry,
            self.place(),
            minutes(self.work_ms)
        )
    }

    fn value(&self) -> Value {
        let kind = match self.what {
            CaughtWhat::Batch(_) => "batch",
            CaughtWhat::Look(_) => "look",
            CaughtWhat::Found(_) => "found",
        };
        json!({ "entry": self.entry, "stage": self.stage, "kind": kind, "place": self.place(),
            "work_seconds": self.work_ms as f64 / 1000.0, "presses": self.presses,
            "ends_again": self.ends_again, "closed": self.closed })
    }
}

/// Ends whose threading an entry takes out again.
fn unmarked(entry: &Entry) -> u32 {
    let out = entry.events.iter().filter_map(|event| match event {
        Event::Unmarked {
            task: Task::Threaded,
            calls,
        } => Some(calls.len()),
        _ => None,
    });
    out.sum()
}

/// "42 min", "35 s": whole minutes from two on.
#[must_use]
pub fn minutes(ms: u64) -> String {
    match ms / 1000 {
        seconds @ 0..=119 => format!("{seconds} s"),
        seconds => format!("{} min", (seconds + 30) / 60),
    }
}
