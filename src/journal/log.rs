//! The open file of one dressing: begun, opened, appended to. Owns the lock, the position and the
//! rule that nothing counts until it is on disk; never knows what the lines mean.

use super::beside::Beside;
use super::disk::{Disk, Rights};
use super::error::{AppendError, CreateError, Damage, OpenError, ReadOnly};
use super::line::{self, HEADER_LIMIT, Stamp, VERSION};
use super::name;
use super::opening::{cannot_read, read, take};
use super::pen::Pen;
pub use super::scan::Header;
use super::scan::{FORMAT, HEADER_KIND, HeaderBody, Lines};
use serde::Serialize;
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
    pub(super) disk: Arc<dyn Disk>,
    pub(super) path: PathBuf,
    pub(super) mode: Mode,
    /// The line that is being written; kept so that a press asks for no memory.
    pub(super) buffer: Vec<u8>,
}

/// Whether lines can be appended.
#[derive(Debug)]
pub(super) enum Mode {
    /// Yes, here.
    Writing(Pen),
    /// No, for this reason.
    ReadOnly(ReadOnly),
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
