//! The dressings in a folder. Owns what is told of each without opening it; a file that is half
//! written, damaged or something else is listed as such and stops nothing.

use super::disk::{Disk, FILE, Want};
use super::error::OpenError;
use super::line::{self, HEADER_LIMIT, LINE_LIMIT, Stamp};
use super::name::EXTENSION;
use super::opening::cannot_read;
use super::scan::{Header, Unreadable, first_line, read_header};
use std::io;
use std::path::{Path, PathBuf};

/// One file of the folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Where it is.
    pub path: PathBuf,
    /// Its name without the ending: what `resume NAME` takes.
    pub stem: String,
    /// What it is.
    pub standing: Standing,
}

/// What a file of the folder is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// A dressing.
    Dressing {
        /// Its first line.
        header: Box<Header>,
        /// When its last whole line was written; the beginning where there is none.
        last: Stamp,
        /// The number of that line; 0 where there is none.
        lines: u64,
    },
    /// Something else, or a dressing whose first line cannot be read.
    Unreadable(OpenError),
}

/// The dressings of a folder, the one last worked on first, what cannot be read at the end.
///
/// # Errors
/// The folder cannot be read.
pub fn list(disk: &dyn Disk, folder: &Path) -> io::Result<Vec<Listed>> {
    let mut listed: Vec<Listed> = disk
        .list(folder)?
        .into_iter()
        .map(|name| folder.join(name))
        .filter(|path| is_named_so(path))
        .map(|path| Listed {
            stem: path
                .file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned(),
            standing: standing(disk, &path).unwrap_or_else(Standing::Unreadable),
            path,
        })
        .collect();
    listed.sort_by(|a, b| when(b).cmp(&when(a)).then_with(|| a.stem.cmp(&b.stem)));
    Ok(listed)
}

fn is_named_so(path: &Path) -> bool {
    let hidden = path
        .file_name()
        .is_some_and(|name| name.to_string_lossy().starts_with('.'));
    !hidden && path.extension().is_some_and(|ending| ending == EXTENSION)
}

fn when(listed: &Listed) -> Option<i64> {
    match &listed.standing {
        Standing::Dressing { last, .. } => Some(last.at.timestamp_millis()),
        Standing::Unreadable(_) => None,
    }
}

fn standing(disk: &dyn Disk, path: &Path) -> Result<Standing, OpenError> {
    let cannot = |error| cannot_read(path, error);
    let found = disk.look(path).map_err(cannot)?;
    if found.what != FILE {
        let (path, what) = (path.to_owned(), found.what);
        return Err(OpenError::NotAFile { path, what });
    }
    let mut file = disk.open(path, Want::Read).map_err(cannot)?;
    let mut front = file.read(0, 16 << 10).map_err(cannot)?;
    if !front.contains(&b'\n') {
        front = file.read(0, HEADER_LIMIT as u64 + 1).map_err(cannot)?;
    }
    if front.is_empty() {
        let path = path.to_owned();
        return Err(OpenError::Empty { path });
    }
    let header = first_line(&front).map_err(Unreadable::Header);
    let header = header.and_then(|(first, _)| read_header(first));
    let (_, header) = header.map_err(|unreadable| no_header(path, unreadable))?;
    let tail_from = found.size.saturating_sub(2 * LINE_LIMIT as u64);
    let tail = file
        .read(tail_from, 2 * LINE_LIMIT as u64)
        .map_err(cannot)?;
    let (lines, last) = last_line(&tail).unwrap_or((0, header.began));
    Ok(Standing::Dressing {
        header: Box::new(header),
        last,
        lines,
    })
}

pub(super) fn no_header(path: &Path, unreadable: Unreadable) -> OpenError {
    let path = path.to_owned();
    match unreadable {
        Unreadable::Header(reason) => OpenError::NoHeader { path, reason },
        Unreadable::Newer { needs } => OpenError::Newer { path, needs },
    }
}

/// The number and time of the last line that can be read at all; the chain is not followed here.
fn last_line(tail: &[u8]) -> Option<(u64, Stamp)> {
    let whole = tail.iter().rposition(|&b| b == b'\n')?;
    let mut lines = tail.get(..whole)?.rsplit(|&b| b == b'\n');
    lines.find_map(line::peek).filter(|(number, _)| *number > 0)
}
