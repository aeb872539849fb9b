//! A dressing and its file, kept together: begun, loaded by replay, asked. Owns the order "decided,
//! on disk, applied"; replay through the machine's guard is the only loader.
//!
//! Invariant: what the dressing shows is what the file holds; where they could differ, it is read only.

use super::earlier::StoredNote;
use super::keep::{Keep, NotDone};
use super::record::{Stored, Unread, events_of};
use super::{
    Access, CreateError, Damage, Disk, Fresh, Journal, Line, OpenError, Opened, ReadOnly, Rights,
    Stamp, State,
};
use crate::dressing::notes::Note;
use crate::dressing::{Ask, Dressing, Entry, When, decide};
use crate::method::StepId;
use crate::plan::{Plan, Spec, read_spec, spec_value, work_out};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::path::Path;
use std::sync::Arc;

/// The kind of line that holds an entry.
pub const ENTRY: &str = "entry";

/// What a dressing is begun with, as its first line holds it.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Begun {
    /// The resolved plan: every default filled in.
    spec: Value,
    /// Optional steps that the house leaves out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    left_out: Vec<StepId>,
    /// Whose dressing it is.
    #[serde(rename = "for", default, skip_serializing_if = "Option::is_none")]
    owner: Option<String>,
    /// Notes of earlier warps of the same plan.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    notes: Vec<StoredNote>,
}

impl Begun {
    /// Whether it is a warp of this plan, by its title and draft, for the same weaver.
    pub(super) fn is_of(&self, spec: &Spec, owner: Option<&str>) -> bool {
        let wanted = spec_value(spec);
        let same = |key: &str| self.spec.get(key) == wanted.get(key);
        self.owner.as_deref() == owner && same("title") && same("threading")
    }
}

/// What a new dressing needs.
#[derive(Debug, Clone)]
pub struct Start<'a> {
    /// The resolved spec.
    pub spec: &'a Spec,
    /// The plan worked out from it.
    pub plan: Plan,
    /// The method's fingerprint.
    pub method: u32,
    /// Optional steps that the house leaves out.
    pub left_out: Vec<StepId>,
    /// Whose dressing it is.
    pub owner: Option<String>,
}

/// Why a dressing was not loaded.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LoadError {
    /// The file could not be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// The first line's plan is none that this version can dress.
    #[error(
        "the plan in the first line cannot be worked out: {0}. The file is left as it is; open it with the version that made it"
    )]
    Plan(String),
}

/// A loaded dressing with what was found on the way.
#[derive(Debug)]
pub struct Loaded {
    /// The dressing and its file.
    pub keeper: Keeper,
    /// How the file was found; damaged also where a line says what cannot have happened.
    pub state: State,
    /// Other copies of the same dressing in the folder.
    pub beside: Vec<super::Beside>,
    /// Why there is no lock, where the disk has none.
    pub no_lock: Option<String>,
    /// Whose dressing it is.
    pub owner: Option<String>,
    /// The fingerprint of the method it was begun with.
    pub method: String,
}

/// A dressing and its file.
#[derive(Debug)]
pub struct Keeper {
    dressing: Dressing,
    journal: Journal,
    /// What happened so far; `None` where nobody will ask.
    entries: Option<Vec<Entry>>,
}

fn stamp(when: When) -> Stamp {
    Stamp {
        at: when.wall,
        elapsed_ms: when.elapsed_ms,
    }
}

impl Keeper {
    /// Begins a dressing in the folder.
    ///
    /// # Errors
    /// Why it was not begun; then no file is left.
    pub fn create(
        disk: &Arc<dyn Disk>,
        folder: &Path,
        rights: Rights,
        start: Start<'_>,
        when: When,
    ) -> Result<Self, CreateError> {
        Self::create_with_notes(disk, folder, rights, (start, &[]), when)
    }

    /// The same with notes of earlier warps of the plan.
    ///
    /// # Errors
    /// Why it was not begun; then no file is left.
    pub fn create_with_notes(
        disk: &Arc<dyn Disk>,
        folder: &Path,
        rights: Rights,
        (start, notes): (Start<'_>, &[Note]),
        when: When,
    ) -> Result<Self, CreateError> {
        let begun = Begun {
            notes: notes.iter().map(StoredNote::of).collect(),
            spec: spec_value(start.spec),
            left_out: start.left_out,
            owner: start.owner,
        };
        let title = match &begun.owner {
            Some(owner) => format!("{} {owner}", start.plan.title),
            None => start.plan.title.clone(),
        };
        let fresh = Fresh {
            folder,
            title: &title,
            method: &format!("{:08x}", start.method),
            plan: &begun,
            rights,
        };
        let journal = Journal::create(disk, &fresh, stamp(when))?;
        Ok(Self {
            dressing: Dressing::new(start.plan, &begun.left_out).with_earlier_notes(notes.to_vec()),
            journal,
            entries: Some(Vec::new()),
        })
    }

    /// Loads a dressing: opens the file and replays its lines through the guard.
    ///
    /// # Errors
    /// Why there is nothing to show. Whatever can be shown is `Ok`, if need be read only.
    pub fn load(disk: &Arc<dyn Disk>, path: &Path, access: Access) -> Result<Loaded, LoadError> {
        Self::load_with(disk, path, access, true)
    }

    /// Loads a dressing to go on with it, without a list of its entries: a long one takes as much
    /// memory again as the dressing itself.
    ///
    /// # Errors
    /// As [`Self::load`].
    pub fn load_to_work(disk: &Arc<dyn Disk>, path: &Path) -> Result<Loaded, LoadError> {
        Self::load_with(disk, path, Access::GoOn, false)
    }

    fn load_with(
        disk: &Arc<dyn Disk>,
        path: &Path,
        access: Access,
        listing: bool,
    ) -> Result<Loaded, LoadError> {
        let Opened {
            mut journal,
            header,
            lines,
            state,
            beside,
            no_lock,
        } = Journal::open(disk, path, access, &[ENTRY])?;
        let begun: Begun = serde_json::from_str(&header.plan)
            .map_err(|error| LoadError::Plan(error.to_string()))?;
        let notes = begun.notes.into_iter().map(StoredNote::note).collect();
        let dressing = Dressing::new(plan_of(&begun.spec)?, &begun.left_out);
        let mut dressing = dressing.with_earlier_notes(notes);
        let mut entries = listing.then(|| Vec::with_capacity(lines.len()));
        let mut state = state;
        for line in lines.iter() {
            match replay(&mut dressing, &line) {
                Ok(entry) => {
                    if let Some(entries) = &mut entries {
                        entries.push(entry);
                    }
                }
                Err(why) => {
                    state = stopped(&mut journal, line.number + 1, why);
                    break;
                }
            }
        }
        Ok(Loaded {
            keeper: Self {
                dressing,
                journal,
                entries,
            },
            state,
            beside,
            no_lock,
            owner: begun.owner,
            method: header.method,
        })
    }

    /// Everything that happened so far; nothing after [`Self::load_to_work`].
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        self.entries.as_deref().unwrap_or_default()
    }

    /// The dressing and what happened in it, without the file.
    #[must_use]
    pub fn into_parts(self) -> (Dressing, Vec<Entry>) {
        (self.dressing, self.entries.unwrap_or_default())
    }

    /// The file.
    #[must_use]
    pub fn journal(&self) -> &Journal {
        &self.journal
    }
}

/// The plan of a resolved spec.
fn plan_of(spec: &Value) -> Result<Plan, LoadError> {
    let said = |problems: &[crate::plan::Problem]| {
        let list: Vec<String> = problems.iter().map(ToString::to_string).collect();
        LoadError::Plan(list.join("; "))
    };
    let spec = read_spec(&spec.to_string()).map_err(|problems| said(&problems))?;
    let figures = work_out(&spec);
    figures.plan().ok_or_else(|| said(&figures.problems))
}

/// Why a line's entry is not in the dressing.
enum NotIn {
    /// It could not be read.
    Unread(Unread),
    /// It cannot have happened.
    Impossible(String),
}

/// Lets go of a file at the first line whose entry is not in the dressing.
fn stopped(journal: &mut Journal, at_line: u64, why: NotIn) -> State {
    let says = match why {
        NotIn::Unread(Unread::Newer) => {
            journal.hold(ReadOnly::Newer { at_line });
            return State::Newer { at_line };
        }
        NotIn::Unread(Unread::NoEvents(says)) | NotIn::Impossible(says) => says,
    };
    let reason = Damage::Impossible(says);
    journal.hold(ReadOnly::Damaged {
        at_line,
        reason: reason.clone(),
    });
    State::Damaged { at_line, reason }
}

/// One line through the guard.
fn replay(dressing: &mut Dressing, line: &Line<'_>) -> Result<Entry, NotIn> {
    let entry = Entry {
        number: dressing.entries() + 1,
        when: When {
            wall: line.stamp.at,
            elapsed_ms: line.stamp.elapsed_ms,
        },
        events: events_of(line.payload).map_err(NotIn::Unread)?,
    };
    let admitted = dressing.admit(&entry);
    admitted.map_err(|why| NotIn::Impossible(why.to_string()))?;
    Ok(entry)
}

impl Keep for Keeper {
    fn dressing(&self) -> &Dressing {
        &self.dressing
    }

    fn ask(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        let entry = decide(&self.dressing, ask, when).map_err(NotDone::Refused)?;
        let events: Vec<Stored> = entry.events.iter().map(Into::into).collect();
        self.journal
            .append(stamp(when), ENTRY, &events)
            .map_err(|error| NotDone::NotSaved(error.to_string()))?;
        self.dressing.apply(&entry);
        if let Some(entries) = &mut self.entries {
            entries.push(entry.clone());
        }
        Ok(entry)
    }
}
