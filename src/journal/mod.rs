//! tmp
mod beside;
mod disk;
mod error;
pub mod folder;
pub mod keep;
pub mod kept;
mod line;
mod listing;
mod log;
mod name;
pub mod record;
mod salvage;
mod scan;
mod tail;

pub use beside::{Beside, Relation};
pub use disk::{Disk, Found, Handle, Locked, RealDisk, Rights, Want};
pub use error::{AppendError, Cause, Changed, CreateError, Damage, OpenError, ReadOnly, SalvageError};
pub use line::{DEPTH_LIMIT, FILE_LIMIT, HEADER_LIMIT, LINE_LIMIT, LINES_LIMIT, Stamp, VERSION};
pub use listing::{Listed, Standing, list};
pub use log::{Access, Fresh, Header, Journal, Opened, State};
pub use name::{EXTENSION, file_stem};
pub use salvage::{copy_as, salvage};
pub use scan::{Line, Lines};
