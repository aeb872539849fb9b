//! A file that is there, opened: locked, read, its torn end set aside, all of it made sure of. Owns
//! the order of those; never writes a line.
use super::beside;
use super::disk::{Disk, FILE, Found, Handle, Locked, Want};
use super::error::{OpenError, ReadOnly};
use super::line::FILE_LIMIT;
use super::listing::no_header;
use super::log::{Access, Journal, Mode, Opened, State};
use super::pen::Pen;
use super::scan::{End, Scan, scan};
use super::tail;
use std::io::ErrorKind;
use std::path::Path;
use std::sync::Arc;

/// A file, why it can only be read, and why it has no lock.
type Taken = (Box<dyn Handle>, Option<ReadOnly>, Option<String>);

/// Opens the file and takes its lock, or says why it can only be read.
pub(super) fn take(disk: &dyn Disk, path: &Path, access: Access) -> Result<Taken, OpenError> {
    is_a_dressing_by_size(disk, path)?;
    let cannot = |error| cannot_read(path, error);
    let file = match access {
        Access::ReadOnly => {
            let file = disk.open(path, Want::Read).map_err(cannot)?;
            return Ok((file, Some(ReadOnly::Asked), None));
        }
        Access::GoOn => disk.open(path, Want::Append),
    };
    let file = match file {
        Ok(file) => file,
        Err(error) if not_allowed(error.kind()) => {
            let file = disk.open(path, Want::Read).map_err(cannot)?;
            return Ok((file, Some(ReadOnly::NotAllowed(error.into())), None));
        }
        Err(error) => return Err(cannot_read(path, error)),
    };
    match file.try_lock() {
        Ok(Locked::Ours) => Ok((file, None, None)),
        Ok(Locked::Busy) => Err(OpenError::InUse {
            path: path.to_owned(),
        }),
        Ok(Locked::Unsupported(says)) => Ok((file, None, Some(says))),
        Err(error) => Ok((file, None, Some(error.to_string()))),
    }
}

fn not_allowed(kind: ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem
    )
}

fn is_a_dressing_by_size(disk: &dyn Disk, path: &Path) -> Result<(), OpenError> {
    let found = disk.look(path).map_err(|error| cannot_read(path, error));
    let found = match found {
        Err(OpenError::Missing { path }) if disk.is_link(&path) => {
            return Err(OpenError::DanglingLink { path });
        }
        other => other?,
    };
    let path = path.to_owned();
    match found {
        Found { what, .. } if what != FILE => Err(OpenError::NotAFile { path, what }),
        Found { size: 0, .. } => Err(OpenError::Empty { path }),
        Found { size, .. } if size > FILE_LIMIT => Err(OpenError::TooLarge { path, bytes: size }),
        Found { .. } => Ok(()),
    }
}

pub(super) fn cannot_read(path: &Path, error: std::io::Error) -> OpenError {
    let path = path.to_owned();
    match error.kind() {
        ErrorKind::NotFound => OpenError::Missing { path },
        _ => OpenError::CannotRead {
            path,
            cause: error.into(),
        },
    }
}

/// Reads all of an open file.
pub(super) fn read_whole(
    path: &Path,
    file: &mut dyn Handle,
    known: &[&'static str],
) -> Result<Scan, OpenError> {
    let bytes = file
        .read(0, FILE_LIMIT + 1)
        .map_err(|error| cannot_read(path, error))?;
    let path = path.to_owned();
    match bytes.len() as u64 {
        0 => return Err(OpenError::Empty { path }),
        size if size > FILE_LIMIT => return Err(OpenError::TooLarge { path, bytes: size }),
        _ => {}
    }
    scan(bytes, known).map_err(|unreadable| no_header(&path, unreadable))
}

/// Reads a file that was taken, and makes it ready to go on.
pub(super) fn read(
    disk: &Arc<dyn Disk>,
    path: &Path,
    mut file: Box<dyn Handle>,
    ours: Found,
    refused: Option<ReadOnly>,
    no_lock: Option<String>,
    known: &[&'static str],
) -> Result<Opened, OpenError> {
    let scan = read_whole(path, file.as_mut(), known)?;
    let beside = beside::find(disk.as_ref(), path, ours.identity, &scan);
    let state = settle(disk.as_ref(), path, file.as_mut(), &scan, refused);
    let mode = match read_only(&state) {
        Some(reason) => Mode::ReadOnly(reason),
        None => Mode::Writing(Pen {
            file,
            identity: ours.identity,
            size: scan.good as u64 + u64::from(scan.end == End::Unended),
            crc: scan.crc,
            next: scan.next,
        }),
    };
    Ok(Opened {
        journal: Journal {
            disk: Arc::clone(disk),
            path: path.to_owned(),
            mode,
            buffer: Vec::new(),
        },
        header: scan.header,
        lines: scan.lines,
        state,
        beside,
        no_lock,
    })
}

/// Makes the file ready to go on, or says why it is not.
fn settle(
    disk: &dyn Disk,
    path: &Path,
    file: &mut dyn Handle,
    scan: &Scan,
    refused: Option<ReadOnly>,
) -> State {
    match (&scan.end, refused) {
        (End::Damaged { at_line, reason }, _) => State::Damaged {
            at_line: *at_line,
            reason: reason.clone(),
        },
        (End::Newer { at_line }, _) => State::Newer { at_line: *at_line },
        (_, Some(reason)) => State::ReadOnly(reason),
        (End::Clean, None) => confirmed(disk, path, file, State::Clean),
        (End::Unended, None) => match file.append(b"\n") {
            Ok(()) => confirmed(disk, path, file, State::Clean),
            Err(error) => State::ReadOnly(ReadOnly::TailStays(error.into())),
        },
        (End::Torn, None) => match tail::set_aside(disk, path, file, scan) {
            Ok(state) => confirmed(disk, path, file, state),
            Err(error) => State::ReadOnly(ReadOnly::TailStays(error.into())),
        },
    }
}

/// A program that was killed may have left a line, or the file's name, that is not on disk yet.
/// Nothing is shown as saved before it is.
fn confirmed(disk: &dyn Disk, path: &Path, file: &mut dyn Handle, state: State) -> State {
    let folder = path.parent().unwrap_or(Path::new(""));
    match file.sync_data().and_then(|()| disk.sync_folder(folder)) {
        Ok(()) => state,
        Err(error) => State::ReadOnly(ReadOnly::NotConfirmed(error.into())),
    }
}

fn read_only(state: &State) -> Option<ReadOnly> {
    match state {
        State::Clean | State::TornTail { .. } => None,
        State::Damaged { at_line, reason } => Some(ReadOnly::Damaged {
            at_line: *at_line,
            reason: reason.clone(),
        }),
        State::Newer { at_line } => Some(ReadOnly::Newer { at_line: *at_line }),
        State::ReadOnly(reason) => Some(reason.clone()),
    }
}
