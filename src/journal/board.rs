//! The dressings of a folder as rows, for the class board. Owns the reading: read only, a file once
//! until it changes, whatever is wrong with one file stops no other. Never takes a lock, never writes.

use super::kept::{Keeper, Loaded};
use super::{Access, Disk, EXTENSION, RealDisk, State};
use crate::dressing::class::{Row, Wrong, order, went_wrong};
use crate::dressing::{Dressing, Entry};
use crate::method::Stage;
use chrono::{DateTime, FixedOffset};
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

/// What a file was when it was read.
type Mark = (u64, Option<SystemTime>);

/// One file as it was read last.
struct Seen {
    mark: Mark,
    found: Result<Found, String>,
}

/// A dressing that was read.
pub struct Found {
    /// Whose it is, else the file's name.
    pub name: String,
    /// The dressing.
    pub dressing: Dressing,
    /// What happened in it.
    pub entries: Vec<Entry>,
    /// What went wrong in it, with the stage.
    pub wrong: Vec<(Stage, Wrong)>,
    /// The file's name without its ending: what other commands take.
    pub stem: String,
    /// What is wrong with the file, where something is.
    pub file_says: Option<String>,
}

/// A folder that is looked at again and again.
pub struct Board {
    folder: PathBuf,
    disk: Arc<dyn Disk>,
    seen: BTreeMap<PathBuf, Seen>,
}

/// The rows of a folder, once.
///
/// # Errors
/// The folder cannot be read.
pub fn read(folder: &Path, now: DateTime<FixedOffset>) -> io::Result<Vec<Row>> {
    let mut board = Board::new(folder);
    board.look()?;
    Ok(board.rows(now))
}

impl Board {
    /// A board over a folder; nothing is read yet.
    #[must_use]
    pub fn new(folder: &Path) -> Self {
        Self {
            folder: folder.to_owned(),
            disk: Arc::new(RealDisk),
            seen: BTreeMap::new(),
        }
    }

    /// Reads what has changed since the last look. A file that has gone is forgotten. Whether
    /// anything changed is returned.
    ///
    /// # Errors
    /// The folder cannot be read; what was read before stays.
    pub fn look(&mut self) -> io::Result<bool> {
        let mut there: BTreeMap<PathBuf, Mark> = BTreeMap::new();
        for item in std::fs::read_dir(&self.folder)? {
            let path = item?.path();
            let hidden = path
                .file_name()
                .is_none_or(|n| n.to_string_lossy().starts_with('.'));
            if hidden || path.extension().is_none_or(|ending| ending != EXTENSION) {
                continue;
            }
            // a file that goes while it is looked at is a file that is not there
            if let Ok(about) = std::fs::metadata(&path) {
                there.insert(path, (about.len(), about.modified().ok()));
            }
        }
        let before = self.seen.len();
        self.seen.retain(|path, _| there.contains_key(path));
        let mut changed = self.seen.len() != before;
        for (path, mark) in there {
            if self.seen.get(&path).is_some_and(|seen| seen.mark == mark) {
                continue;
            }
            changed = true;
            let found = found(&self.disk, &path);
            self.seen.insert(path, Seen { mark, found });
        }
        Ok(changed)
    }

    /// The rows at a time, who needs help most first.
    #[must_use]
    pub fn rows(&self, now: DateTime<FixedOffset>) -> Vec<Row> {
        let row = |(path, seen): (&PathBuf, &Seen)| match &seen.found {
            Ok(found) => Row {
                file: found.stem.clone(),
                file_says: found.file_says.clone(),
                ..Row::of(&found.name, &found.dressing, now)
            },
            Err(says) => Row {
                file: crate::quantity::harmless(&stem(path)),
                ..Row::unreadable(&stem(path), says)
            },
        };
        let mut rows: Vec<Row> = self.seen.iter().map(row).collect();
        order(&mut rows);
        rows
    }

    /// What went wrong in all of them, with the stage.
    pub fn wrong(&self) -> impl Iterator<Item = &(Stage, Wrong)> {
        self.found().flat_map(|found| &found.wrong)
    }

    /// Every dressing that was read, in the order of the file names.
    pub fn found(&self) -> impl Iterator<Item = &Found> {
        self.seen
            .values()
            .filter_map(|seen| seen.found.as_ref().ok())
    }
}

fn stem(path: &Path) -> String {
    path.file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

fn found(disk: &Arc<dyn Disk>, path: &Path) -> Result<Found, String> {
    let Loaded {
        keeper,
        state,
        owner,
        ..
    } = Keeper::load(disk, path, Access::ReadOnly).map_err(|why| why.to_string())?;
    // the last line of a file that is being written may be half there: that is no fault
    let file_says = match state {
        State::Clean | State::TornTail { .. } | State::ReadOnly(_) => None,
        State::Damaged { at_line, .. } => Some(format!("damaged from line {at_line} on")),
        State::Newer { at_line } => Some(format!("line {at_line} is of a newer version")),
    };
    let (dressing, entries) = keeper.into_parts();
    Ok(Found {
        name: owner.unwrap_or_else(|| stem(path)),
        stem: crate::quantity::harmless(&stem(path)),
        wrong: went_wrong(&entries, &dressing),
        dressing,
        entries,
        file_says,
    })
}
