//! The log of a dressing on disk: one append-only file, one line for each ask.
//!
//! ```text
//! line (framing, checksum) -> scan (a whole file) -> log (create, opening, pen to append) -> listing, salvage
//! disk (the file calls, real or simulated)        folder (where dressings live), name (file names)
//! ```
//!
//! Owns the stored form and the promise that what was shown as saved is still there after a power
//! cut. Invariants:
//!
//! - A line is never rewritten and never removed; only bytes that are no line are cut, after a copy.
//! - A line counts when its checksum follows from the line before; nothing else counts.
//! - [`Journal::append`] returns `Ok` only when the line is on disk.
//! - A file that cannot be read is an error, never a fresh start.
//!
//! Never decides what the weaver may do, and never writes a plan or a draft.

mod beside;
pub mod board;
mod disk;
pub mod earlier;
mod error;
pub mod folder;
pub mod keep;
pub mod kept;
mod line;
mod listing;
mod log;
mod name;
mod opening;
mod pen;
mod quick;
pub mod record;
mod salvage;
mod scan;
mod tail;

pub use beside::{Beside, Relation};
pub use disk::{Disk, Found, Handle, Locked, RealDisk, Rights, Want};
pub use error::{
    AppendError, Cause, Changed, CreateError, Damage, OpenError, ReadOnly, SalvageError,
};
pub use line::{DEPTH_LIMIT, FILE_LIMIT, HEADER_LIMIT, LINE_LIMIT, LINES_LIMIT, Stamp, VERSION};
pub use listing::{Listed, Standing, list};
pub use log::{Access, Fresh, Header, Journal, Opened, State};
pub use name::{EXTENSION, file_stem};
pub use salvage::{copy_as, salvage};
pub use scan::{Line, Lines};
