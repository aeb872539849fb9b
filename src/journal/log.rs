//! The open file of one dressing: begun, opened, appended to. Owns the lock, the position and the
//! rule that nothing counts until it is on disk; never knows what the lines mean.

use super::beside::{self, Beside};
use super::disk::{Disk, FILE, Found, Handle, Locked, Rights, Want};
use super::error::{AppendError, Cause, Changed, CreateError, Damage, OpenError, ReadOnly};
use super::line::{self, FILE_LIMIT, HEADER_LIMIT, LINE_LIMIT, LINES_LIMIT, Stamp, VERSION};
use super::listing::no_header;
pub use super::scan::Header;
use super::scan::{End, FORMAT, HEADER_KIND, HeaderBody, Lines, Scan, scan};
use super::{name, tail};
use serde::Serialize;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What a new dressing begins with.
#[derive(Debug, Clone, Copy)]
pub struct Fresh<'a, P: ?Sized> {
    /// The folder, which is there.
    pub folder: &'a Path,
    /// The title; the file's name is made from it.
    pub title: &'a str,
    /// The method's fingerprint.
    pub method: &'a str,
    /// The resolved plan.
    pub plan: &'a P,
    /// Who may read the file.
    pub rights: Rights,
}

/// What a dressing is opened for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// To go on with it; takes the lock.
    GoOn,
    /// To look at it, also while another window has it.
    ReadOnly,
}

/// How the file was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum State {
    /// Whole, and ready to go on.
    Clean,
    /// With a torn last line, which was copied and cut off; ready to go on.
    TornTail {
        /// The copy of what was cut off.
        set_aside: PathBuf,
        /// Its bytes.
        bytes: u64,
    },
    /// Damaged: read up to the damage, and read only. A salvage copy can be made.
    Damaged {
        /// The first damaged line, from 1; the header is line 1.
        at_line: u64,
        /// What is wrong with it.
        reason: Damage,
    },
    /// With a line of a newer version that must be understood: read up to it, and read only.
    Newer {
        /// The line, from 1.
        at_line: u64,
    },
    /// Whole or with a torn tail, and read only for another reason.
    ReadOnly(ReadOnly),
}

/// An opened dressing.
#[derive(Debug)]
pub struct Opened {
    /// The file, to append to.
    pub journal: Journal,
    /// The first line.
    pub header: Header,
    /// The good lines after it.
    pub lines: Lines,
    /// How the file was found.
    pub state: State,
    /// Other copies of the same dressing in the folder.
    pub beside: Vec<Beside>,
    /// Why there is no lock, where the disk has none: another window could then not be refused.
    pub no_lock: Option<String>,
}

/// The file of one dressing.
#[derive(Debug)]
pub struct Journal {
    disk: Arc<dyn Disk>,
    path: PathBuf,
    mode: Mode,
    buffer: Vec<u8>,
}

#[derive(Debug)]
enum Mode {
    Writing(Pen),
    ReadOnly(ReadOnly),
}

/// Where the next line goes.
#[derive(Debug)]
struct Pen {
    /// Holds the lock.
    file: Box<dyn Handle>,
    identity: (u64, u64),
    size: u64,
    crc: u32,
    next: u64,
}

impl Journal {
    /// Begins a dressing: the whole header under another name, synced, then named without taking
    /// the place of any file, then the folder synced; all under the lock.
    ///
    /// # Errors
    /// Why not; then no file is left, or the error says so.
    pub fn create<P: Serialize + ?Sized>(
        disk: &Arc<dyn Disk>,
        fresh: &Fresh<'_, P>,
        stamp: Stamp,
    ) -> Result<Self, CreateError> {
        let id = name::random_id();
        let body = HeaderBody {
            format: FORMAT.into(),
            version: VERSION,
            oldest_reader: 1,
            id: (&id).into(),
            title: fresh.title.into(),
            method: fresh.method.into(),
            plan: fresh.plan,
        };
        let mut buffer = Vec::new();
        let crc = line::write(&mut buffer, 0, 0, stamp, HEADER_KIND, &body);
        let crc = crc.map_err(|error| CreateError::Unfit {
            says: error.to_string(),
        })?;
        fits_a_header(&buffer)?;
        let stem = name::file_stem(fresh.title);
        let published = name::publish(disk.as_ref(), fresh.folder, &stem, fresh.rights, &buffer)?;
        let name::Published {
            path,
            file,
            identity,
        } = published;
        let pen = Pen {
            identity,
            file,
            size: buffer.len() as u64,
            crc,
            next: 1,
        };
        Ok(Self {
            disk: Arc::clone(disk),
            path,
            mode: Mode::Writing(pen),
            buffer,
        })
    }

    /// Opens a dressing: locks it, reads it, sets a torn tail aside, and makes sure that all of it
    /// is on disk before it is shown.
    ///
    /// `known` are the kinds of line that the caller understands.
    ///
    /// # Errors
    /// Why there is nothing to show. Whatever can be shown is `Ok`, if need be read only.
    pub fn open(
        disk: &Arc<dyn Disk>,
        path: &Path,
        access: Access,
        known: &[&'static str],
    ) -> Result<Opened, OpenError> {
        for _ in 0..3 {
            let (file, refused, no_lock) = take(disk.as_ref(), path, access)?;
            let cannot = |error| cannot_read(path, error);
            let ours = file.look().map_err(cannot)?;
            if disk.look(path).map_err(cannot)?.identity == ours.identity {
                return read(disk, path, file, ours, refused, no_lock, known);
            }
        }
        Err(OpenError::Restless {
            path: path.to_owned(),
        })
    }

    /// Where the file is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Why nothing can be appended; `None` where it can.
    #[must_use]
    pub fn read_only(&self) -> Option<&ReadOnly> {
        match &self.mode {
            Mode::Writing(_) => None,
            Mode::ReadOnly(reason) => Some(reason),
        }
    }

    /// Lets go of the file for good: the reader found in its lines what cannot be gone on from.
    pub fn hold(&mut self, reason: ReadOnly) {
        self.mode = Mode::ReadOnly(reason);
    }

    /// Appends one line and waits until it is on disk. `Ok` means that it is.
    ///
    /// # Errors
    /// Why it is not. Nothing moved; only [`AppendError::NotSaved`] may go away by itself.
    pub fn append<P: Serialize + ?Sized>(
        &mut self,
        stamp: Stamp,
        kind: &str,
        payload: &P,
    ) -> Result<(), AppendError> {
        let pen = match &mut self.mode {
            Mode::Writing(pen) => pen,
            Mode::ReadOnly(reason) => return Err(AppendError::ReadOnly(reason.clone())),
        };
        let crc = line::write(&mut self.buffer, pen.crc, pen.next, stamp, kind, payload);
        let crc = crc.map_err(|error| AppendError::Unfit {
            says: error.to_string(),
        })?;
        pen.room_for(&self.buffer)?;
        if let Err(refused) = pen.write(self.disk.as_ref(), &self.path, &self.buffer) {
            if let AppendError::ReadOnly(reason) = &refused {
                self.mode = Mode::ReadOnly(reason.clone());
            }
            return Err(refused);
        }
        pen.size += self.buffer.len() as u64;
        pen.crc = crc;
        pen.next += 1;
        Ok(())
    }
}

impl Pen {
    fn room_for(&self, buffer: &[u8]) -> Result<(), AppendError> {
        let line = buffer.strip_suffix(b"\n").unwrap_or(buffer);
        match line::within_limits(line, LINE_LIMIT) {
            Err(Damage::TooLong { bytes, .. }) => Err(AppendError::TooLong { bytes }),
            Err(unfit) => Err(AppendError::Unfit {
                says: format!("the line {unfit}"),
            }),
            Ok(()) if self.next > LINES_LIMIT => Err(AppendError::Full),
            Ok(()) if self.size + buffer.len() as u64 > FILE_LIMIT => Err(AppendError::Full),
            Ok(()) => Ok(()),
        }
    }

    fn write(&mut self, disk: &dyn Disk, path: &Path, line: &[u8]) -> Result<(), AppendError> {
        self.unchanged(disk, path)?;
        if let Err(error) = self.file.append(line) {
            return Err(self.cut_back(error.into()));
        }
        if let Err(error) = self.file.sync_data() {
            // What the system holds of the file is no longer to be trusted. Cutting is tried so
            // that a reader does not see a press that was refused; it may fail as well.
            let _ = self.file.cut(self.size);
            return Err(AppendError::ReadOnly(ReadOnly::NotConfirmed(error.into())));
        }
        Ok(())
    }

    /// Another program may have written to the file, replaced it or taken it away.
    fn unchanged(&self, disk: &dyn Disk, path: &Path) -> Result<(), AppendError> {
        let changed = |how| Err(AppendError::ReadOnly(ReadOnly::Changed(how)));
        match disk.look(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => changed(Changed::Gone),
            Err(error) => Err(AppendError::NotSaved(error.into())),
            Ok(found) if found.identity != self.identity => changed(Changed::Replaced),
            Ok(found) if found.size != self.size => changed(Changed::Size {
                found: found.size,
                expected: self.size,
            }),
            Ok(_) => Ok(()),
        }
    }

    /// Takes a line that was written by halves off again, and makes sure of it.
    fn cut_back(&mut self, cause: Cause) -> AppendError {
        if let Err(error) = self.file.cut(self.size) {
            return AppendError::ReadOnly(ReadOnly::NotCut(error.into()));
        }
        match self.file.sync_data() {
            Ok(()) => AppendError::NotSaved(cause),
            Err(error) => AppendError::ReadOnly(ReadOnly::NotConfirmed(error.into())),
        }
    }
}

type Taken = (Box<dyn Handle>, Option<ReadOnly>, Option<String>);

/// Opens the file and takes its lock, or says why it can only be read.
fn take(disk: &dyn Disk, path: &Path, access: Access) -> Result<Taken, OpenError> {
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

fn fits_a_header(buffer: &[u8]) -> Result<(), CreateError> {
    let line = buffer.strip_suffix(b"\n").unwrap_or(buffer);
    match line::within_limits(line, HEADER_LIMIT) {
        Ok(()) => Ok(()),
        Err(Damage::TooLong { bytes, .. }) => Err(CreateError::TooLong { bytes }),
        Err(unfit) => Err(CreateError::Unfit {
            says: format!("its line {unfit}"),
        }),
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

fn read(
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
