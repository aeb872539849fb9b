//! The end of an open file, where the next line goes. Owns the one write, the wait for the disk, and
//! what becomes of a line that was written by halves; never knows what a line means.

use super::disk::{Disk, Handle};
use super::error::{AppendError, Cause, Changed, Damage, ReadOnly};
use super::line::{self, FILE_LIMIT, LINE_LIMIT, LINES_LIMIT};
use std::io::ErrorKind;
use std::path::Path;

/// Where the next line goes.
#[derive(Debug)]
pub(super) struct Pen {
    /// Holds the lock.
    pub file: Box<dyn Handle>,
    pub identity: (u64, u64),
    pub size: u64,
    pub crc: u32,
    pub next: u64,
}

impl Pen {
    pub fn room_for(&self, buffer: &[u8]) -> Result<(), AppendError> {
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

    pub fn write(&mut self, disk: &dyn Disk, path: &Path, line: &[u8]) -> Result<(), AppendError> {
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
