//! What a log comes to: the time of each stage and group with pauses left out, and what was caught
//! with what each cost. Owns the sums; the log is only read, through the machine itself.

use super::event::{Entry, Event, Look, Mismatch, When};
use super::ledger::Task;
use super::state::{Dressing, Mood};
use super::view::{Disagreeing, View};
use crate::fault::{FaultKind, Found};
use crate::method::Stage;
use crate::quantity::Calls;
use std::collections::BTreeMap;

/// One entry of the log, as it counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// The entry's number.
    pub number: u64,
    /// When it was asked.
    pub when: When,
    /// The stage in which it was asked.
    pub stage: Stage,
    /// The group that it is about, where it is about one.
    pub group: Option<u32>,
    /// Milliseconds of work since the entry before; 0 after a pause, a return or too long a gap.
    pub work_ms: u64,
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
    /// Of it, the milliseconds of each group, by its number.
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
    /// What it was, where the looks settled it; empty where it was mended without.
    pub faults: Vec<FaultKind>,
    /// Milliseconds of work from the question to where the work stood again as it had.
    pub work_ms: u64,
    /// Presses in that time.
    pub presses: u32,
    /// Ends whose work was done once more.
    pub ends_again: u32,
    /// Whether the work stands again as it had.
    pub closed: bool,
}

/// What a log comes to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Account {
    /// Every entry.
    pub moments: Vec<Moment>,
    /// The stages that were worked in, in the order in which they were begun.
    pub stages: Vec<Spent>,
    /// What was caught, in order.
    pub caught: Vec<Caught>,
}

/// A fault whose cost is still growing.
struct Open {
    at: usize,
    /// The ends that were threaded when it came out.
    threaded: u32,
}

/// Work and presses since the first question that is open.
#[derive(Debug, Clone, Copy, Default)]
struct Asking {
    work_ms: u64,
    presses: u32,
}

/// Goes through the log once more from its start. The entries are those of the dressing; a log that
/// cannot be gone through counts up to where it stops.
#[must_use]
pub fn account(entries: &[Entry], dressing: &Dressing) -> Account {
    let mut now = dressing.at_start();
    let mut found = Account::default();
    let mut open: Option<Open> = None;
    let mut asking = Asking::default();
    for entry in entries {
        if now.accepts(entry).is_err() {
            break;
        }
        if let Some(following) = &open {
            found.name_fault(following.at, entry, &now);
        }
        let (stage, group) = (now.stage_or_last(), group_of(&now, entry));
        let before = spent(&now);
        now.apply(entry);
        let moment = Moment {
            number: entry.number,
            when: entry.when,
            stage,
            group,
            work_ms: spent(&now) - before,
        };
        found.add(moment);
        asking = match now.mood() {
            Mood::Asking(_) | Mood::Disagreeing(_) => Asking {
                work_ms: asking.work_ms + moment.work_ms,
                presses: asking.presses + 1,
            },
            Mood::Working | Mood::Mending(_) => Asking::default(),
        };
        found.follow(entry, moment, &now, asking, &mut open);
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
    let group = dressing.plan().group_of(calls.last);
    group.map(|group| group.number)
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

impl Account {
    /// Milliseconds of work in all.
    #[must_use]
    pub fn work_ms(&self) -> u64 {
        self.stages.iter().map(|spent| spent.work_ms).sum()
    }

    fn add(&mut self, moment: Moment) {
        self.moments.push(moment);
        let at = self.stages.iter().position(|s| s.stage == moment.stage);
        let at = at.unwrap_or_else(|| {
            self.stages.push(Spent {
                stage: moment.stage,
                work_ms: 0,
                entries: 0,
                groups: BTreeMap::new(),
            });
            self.stages.len() - 1
        });
        let spent = &mut self.stages[at];
        spent.work_ms += moment.work_ms;
        spent.entries += 1;
        if let Some(group) = moment.group {
            *spent.groups.entry(group).or_default() += moment.work_ms;
        }
    }

    /// A way out that is chosen when the looks have settled what it was says what it was.
    fn name_fault(&mut self, at: usize, entry: &Entry, now: &Dressing) {
        let chosen = |event: &Event| matches!(event, Event::Chose(_));
        if !entry.events.iter().any(chosen) || !self.caught[at].faults.is_empty() {
            return;
        }
        if let View::Disagreeing(view) = now.view()
            && let Disagreeing::Batch { tracing, .. } = view.what
            && let Some(likeliest) = tracing.suspects.first().filter(|_| tracing.settled)
        {
            self.caught[at].faults = likeliest.faults.iter().map(|fault| fault.kind).collect();
        }
    }

    /// Follows a fault from where it comes out to where the work stands again.
    fn follow(
        &mut self,
        entry: &Entry,
        moment: Moment,
        now: &Dressing,
        asking: Asking,
        open: &mut Option<Open>,
    ) {
        let threaded = now.ledger().of(Task::Threaded).count();
        // looks within one tracing say again that the same batch does not come out
        let known = open
            .as_ref()
            .map(|following| self.caught[following.at].what);
        if let Some(what) = came_out(entry).filter(|new| known != Some(*new)) {
            self.caught.push(Caught {
                entry: entry.number,
                stage: moment.stage,
                what,
                faults: Vec::new(),
                work_ms: asking.work_ms,
                presses: asking.presses,
                ends_again: 0,
                closed: false,
            });
            let at = self.caught.len() - 1;
            *open = Some(Open { at, threaded });
            return;
        }
        let Some(following) = open else { return };
        let caught = &mut self.caught[following.at];
        caught.work_ms += moment.work_ms;
        caught.presses += 1;
        caught.ends_again += unmarked(entry);
        if *now.mood() == Mood::Working && threaded >= following.threaded {
            caught.closed = true;
            *open = None;
        }
    }
}

/// What an entry says does not agree.
fn came_out(entry: &Entry) -> Option<CaughtWhat> {
    entry.events.iter().find_map(|event| match event {
        Event::Disagreed(Mismatch::Batch { batch, .. }) => Some(CaughtWhat::Batch(*batch)),
        Event::Disagreed(Mismatch::Look { look, .. }) => Some(CaughtWhat::Look(*look)),
        Event::Disagreed(Mismatch::Found(found)) => Some(CaughtWhat::Found(*found)),
        _ => None,
    })
}
