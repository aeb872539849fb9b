//! What can be wrong with a file of a dressing, as data; each message says what was found, what was
//! expected and what to do now. Never holds an open file.

use crate::quantity::harmless_within;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// An error of the operating system.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cause {
    /// Its kind.
    pub kind: io::ErrorKind,
    /// Its number there, if it has one.
    pub code: Option<i32>,
    /// Its own words.
    pub says: String,
}

impl From<io::Error> for Cause {
    fn from(error: io::Error) -> Self {
        Self {
            kind: error.kind(),
            code: error.raw_os_error(),
            says: error.to_string(),
        }
    }
}

impl fmt::Display for Cause {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.says)
    }
}

/// A path as it can be printed on any terminal.
pub(super) fn shown(path: &Path) -> String {
    harmless_within(&path.to_string_lossy(), 1_000)
}

/// What is wrong with a line.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Damage {
    /// It does not begin and end as a line does.
    #[error("does not look like a line of a dressing")]
    Shape,
    /// Its checksum does not follow from its bytes and the line before.
    #[error("was changed, or a line before it is lost or doubled: its checksum does not fit")]
    Checksum,
    /// Its checksum is right, and it is no JSON or lacks a field.
    #[error("cannot be read although its checksum is right")]
    Json,
    /// Its number is not the next one.
    #[error("has the number {found} where {expected} belongs")]
    Number {
        /// The number it has.
        found: u64,
        /// The number that belongs there.
        expected: u64,
    },
    /// It is longer than a line may be.
    #[error("is {bytes} bytes long; at most {limit} belong there")]
    TooLong {
        /// Its bytes.
        bytes: usize,
        /// The most there may be.
        limit: usize,
    },
    /// It is nested deeper than a line may be.
    #[error("is nested {deepest} deep; at most 16 belong there")]
    TooDeep {
        /// How deep.
        deepest: usize,
    },
    /// It holds a byte 0.
    #[error("holds a byte 0")]
    Nul,
    /// There are more lines than a dressing may have.
    #[error("is one more than the 1,000,000 lines that a dressing may have")]
    TooMany,
    /// Some program changed every line end from LF to CR LF.
    #[error("ends in CR LF: some program changed the line ends of the whole file")]
    CarriageReturns,
    /// Some program put a byte order mark at the front.
    #[error("begins with a byte order mark: some program wrote the whole file anew")]
    ByteOrderMark,
    /// It is the first line, and not the header of a dressing.
    #[error("is not the header of a dressing")]
    NoHeader,
    /// It says what cannot have happened; found by the reader of the payloads.
    #[error("says what cannot have happened: {0}")]
    Impossible(String),
}

/// Why nothing can be appended.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ReadOnly {
    /// It was opened only to be read.
    #[error("it was opened to be read only; open it again to go on")]
    Asked,
    /// The file or its folder may not be written by this user.
    #[error(
        "it may not be written: {0}. Change its rights, or copy it to a folder of yours and open the copy"
    )]
    NotAllowed(Cause),
    /// A line is damaged, and good-looking ones follow it, or its whole text was changed.
    #[error(
        "line {at_line} {reason}. Everything before it is shown and the file is left as it is: save the clean part as a copy and go on there"
    )]
    Damaged {
        /// The line, from 1; the header is line 1.
        at_line: u64,
        /// What is wrong.
        reason: Damage,
    },
    /// A newer version of this program wrote a line that must be understood.
    #[error(
        "line {at_line} was made by a newer version of endsmeet. Go on with that version; here it can be read up to the line before"
    )]
    Newer {
        /// The line, from 1.
        at_line: u64,
    },
    /// The torn end of the file could not be copied or cut off.
    #[error(
        "its last line is torn and could not be set aside: {0}. Make room on the disk, or change the rights of the folder, then open it again"
    )]
    TailStays(Cause),
    /// The disk did not confirm what was written.
    #[error(
        "the disk did not confirm the last save: {0}. Open it again; the last press may be in it already. If that fails, save the clean part as a copy on another disk"
    )]
    NotConfirmed(Cause),
    /// What was written by halves could not be cut off again.
    #[error(
        "a press was written by halves and could not be cut off: {0}. Open it again when the disk has room; the half is then set aside"
    )]
    NotCut(Cause),
    /// The file is not what it was.
    #[error("{0}. Nothing was written. Open it again to see what is there now")]
    Changed(Changed),
}

/// How the file differs from what was left there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Changed {
    /// There is no file of that name any more.
    #[error("the file was removed or renamed by another program")]
    Gone,
    /// Another file has its name.
    #[error("the file was replaced by another program")]
    Replaced,
    /// It is longer or shorter than it was left.
    #[error("the file has {found} bytes and was left with {expected}: another program wrote to it")]
    Size {
        /// Its bytes now.
        found: u64,
        /// Its bytes after the last save.
        expected: u64,
    },
}

/// Why a dressing was not opened.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum OpenError {
    /// There is no such file.
    #[error(
        "there is no file {}; expected a dressing there. Check the name and the folder",
        shown(path)
    )]
    Missing {
        /// The path.
        path: PathBuf,
    },
    /// It is a folder, a pipe or a device.
    #[error(
        "{} is no file: {what}; expected a dressing there. Name the file itself",
        shown(path)
    )]
    NotAFile {
        /// The path.
        path: PathBuf,
        /// What it is.
        what: &'static str,
    },
    /// It is a link to nothing.
    #[error(
        "{} is a link, and what it points to is not there. Put the file back, or remove the link",
        shown(path)
    )]
    DanglingLink {
        /// The path.
        path: PathBuf,
    },
    /// Another window has it open.
    #[error(
        "{} is open in another window. Go on there, or open it here to read only",
        shown(path)
    )]
    InUse {
        /// The path.
        path: PathBuf,
    },
    /// The operating system did not let it be read.
    #[error(
        "{} cannot be read: {cause}. The file is left as it is; try again, or open a copy of it on another disk",
        shown(path)
    )]
    CannotRead {
        /// The path.
        path: PathBuf,
        /// Why.
        cause: Cause,
    },
    /// It is longer than a dressing can be.
    #[error("{} has {bytes} bytes; a dressing has at most {FILE_LIMIT}. Check that this is the right file", shown(path), FILE_LIMIT = super::FILE_LIMIT)]
    TooLarge {
        /// The path.
        path: PathBuf,
        /// Its bytes.
        bytes: u64,
    },
    /// It holds nothing at all.
    #[error(
        "{} is empty; expected a dressing there. Take it back from a copy, or remove it and begin anew",
        shown(path)
    )]
    Empty {
        /// The path.
        path: PathBuf,
    },
    /// Its first line is not the header of a dressing, so that there is no plan to go on with.
    #[error(
        "the first line of {} {reason}; expected the header of a dressing. The file is left as it is: check the name, or take it back from a copy",
        shown(path)
    )]
    NoHeader {
        /// The path.
        path: PathBuf,
        /// What is wrong with the line.
        reason: Damage,
    },
    /// It says that this version cannot read it.
    #[error("{} was made by a newer version of endsmeet: it needs format {needs}, and this one knows {VERSION}. Open it with that version; it is left as it is", shown(path), VERSION = super::VERSION)]
    Newer {
        /// The path.
        path: PathBuf,
        /// The format that its reader must know.
        needs: u32,
    },
    /// It was replaced again and again while it was opened.
    #[error(
        "{} is being replaced by another program. Let that one finish, then open it again",
        shown(path)
    )]
    Restless {
        /// The path.
        path: PathBuf,
    },
}

/// Why a dressing was not begun. Except for [`CreateError::Left`], no file of its name is there.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CreateError {
    /// The operating system did not let it be written.
    #[error(
        "no dressing could be begun in {}: {cause}. No dressing was left there; make room or change the rights of the folder, or choose another with --sessions",
        shown(folder)
    )]
    CannotWrite {
        /// The folder.
        folder: PathBuf,
        /// Why.
        cause: Cause,
    },
    /// The disk did not confirm the new file, and did not let it be removed either.
    #[error(
        "{} was written, but the disk did not confirm it and did not let it be removed: {cause}. See whether it is there before you begin once more",
        shown(path)
    )]
    Left {
        /// The file.
        path: PathBuf,
        /// Why it is not confirmed.
        cause: Cause,
    },
    /// The plan does not fit into the first line.
    #[error("the plan takes {bytes} bytes; at most {HEADER_LIMIT} can be kept. Shorten its texts", HEADER_LIMIT = super::HEADER_LIMIT)]
    TooLong {
        /// The bytes of the line.
        bytes: usize,
    },
    /// The plan cannot be written as JSON, or is nested too deep.
    #[error("the plan cannot be kept: {says}")]
    Unfit {
        /// Why.
        says: String,
    },
    /// There are too many of the same name.
    #[error(
        "{} holds 1,000 dressings named {stem}. Give this one another title",
        shown(folder)
    )]
    NoName {
        /// The folder.
        folder: PathBuf,
        /// The name.
        stem: String,
    },
}

/// Why a line was not appended. Nothing moved: what was there before is there still.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum AppendError {
    /// It could not be written now; the next press tries again.
    #[error(
        "NOT SAVED: {0}. The press does not count. Make room or bring the folder back, then press again"
    )]
    NotSaved(Cause),
    /// It can be read only, from now on or since it was opened.
    #[error("NOT SAVED: {0}")]
    ReadOnly(ReadOnly),
    /// It does not fit into a line.
    #[error("NOT SAVED: this takes {bytes} bytes, and a line has at most {LINE_LIMIT}. Make it shorter", LINE_LIMIT = super::LINE_LIMIT)]
    TooLong {
        /// The bytes of the line.
        bytes: usize,
    },
    /// It cannot be written as JSON, or is nested too deep.
    #[error("NOT SAVED: this cannot be kept: {says}")]
    Unfit {
        /// Why.
        says: String,
    },
    /// The file is as long as a dressing may be.
    #[error(
        "NOT SAVED: the file has reached its greatest size. Begin a new dressing for the rest of this warp"
    )]
    Full,
}

/// Why no salvage copy was made. The file itself is left as it is.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SalvageError {
    /// The file cannot be read.
    #[error(transparent)]
    Source(#[from] OpenError),
    /// The copy cannot be written.
    #[error(transparent)]
    Copy(#[from] CreateError),
}
