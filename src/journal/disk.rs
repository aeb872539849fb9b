//! The file calls that the log needs, and the real ones. Owns what is asked of an operating system;
//! never knows what the bytes mean. Tests put a disk in its place that loses power.

use std::ffi::OsString;
use std::fmt;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

/// What a file is opened for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Want {
    /// To read it.
    Read,
    /// To read it and to append to it; every write goes to its end.
    Append,
}

/// Who may read a new file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rights {
    /// Its owner only: for the user's data folder.
    OwnerOnly,
    /// Whoever the system's setting allows: a class shares a folder.
    Umask,
}

/// Whether the lock was had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Locked {
    /// It is ours until the handle is dropped.
    Ours,
    /// Another window has it.
    Busy,
    /// This kind of disk has no locks.
    Unsupported(String),
}

/// What stands at a path, or behind a handle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Found {
    /// The device and the number of the file on it; the same two numbers are the same file.
    pub identity: (u64, u64),
    /// Bytes.
    pub size: u64,
    /// A file, a folder, or what else it is.
    pub what: &'static str,
}

/// [`Found::what`] of a plain file.
pub(super) const FILE: &str = "a file";

/// The calls on paths.
pub trait Disk: Send + Sync + fmt::Debug {
    /// Opens a file that is there. Never waits for the other end of a pipe.
    ///
    /// # Errors
    /// What the system says.
    fn open(&self, path: &Path, want: Want) -> io::Result<Box<dyn Handle>>;

    /// Makes a new file and opens it to append; fails where one is there.
    ///
    /// # Errors
    /// What the system says.
    fn create_new(&self, path: &Path, rights: Rights) -> io::Result<Box<dyn Handle>>;

    /// Gives a file another name, or fails where that name is taken.
    ///
    /// # Errors
    /// What the system says.
    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    /// What the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// Makes sure that the names in a folder are on disk.
    ///
    /// # Errors
    /// What the system says.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// What stands at a path, links followed.
    ///
    /// # Errors
    /// What the system says.
    fn look(&self, path: &Path) -> io::Result<Found>;

    /// Whether the path itself is a link, wherever it points to.
    fn is_link(&self, path: &Path) -> bool;

    /// The names in a folder.
    ///
    /// # Errors
    /// What the system says.
    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>>;
}

/// The calls on an open file.
pub trait Handle: Send + fmt::Debug {
    /// Writes all of these bytes at the end of the file; after an error any part may be there.
    ///
    /// # Errors
    /// What the system says.
    fn append(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Waits until the bytes and the size are on disk.
    ///
    /// # Errors
    /// What the system says; what is on disk is then unknown.
    fn sync_data(&mut self) -> io::Result<()>;

    /// The same, and all that the system knows about the file.
    ///
    /// # Errors
    /// What the system says; what is on disk is then unknown.
    fn sync_all(&mut self) -> io::Result<()>;

    /// Makes the file this long.
    ///
    /// # Errors
    /// What the system says.
    fn cut(&mut self, size: u64) -> io::Result<()>;

    /// Reads from a place on, at most so many bytes; fewer where the file ends.
    ///
    /// # Errors
    /// What the system says.
    fn read(&mut self, from: u64, most: u64) -> io::Result<Vec<u8>>;

    /// What is open.
    ///
    /// # Errors
    /// What the system says.
    fn look(&self) -> io::Result<Found>;

    /// Takes the lock if it is free; never waits.
    ///
    /// # Errors
    /// What the system says.
    fn try_lock(&self) -> io::Result<Locked>;
}

/// The disks of this machine.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

#[derive(Debug)]
struct RealHandle(File);

impl Disk for RealDisk {
    fn open(&self, path: &Path, want: Want) -> io::Result<Box<dyn Handle>> {
        let mut options = OpenOptions::new();
        options.read(true).append(want == Want::Append);
        never_wait(&mut options);
        Ok(Box::new(RealHandle(options.open(path)?)))
    }

    fn create_new(&self, path: &Path, rights: Rights) -> io::Result<Box<dyn Handle>> {
        let mut options = OpenOptions::new();
        options.read(true).append(true).create_new(true);
        restrict(&mut options, rights);
        Ok(Box::new(RealHandle(options.open(path)?)))
    }

    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        let from = tempfile::TempPath::try_from_path(from)?;
        from.persist_noclobber(to).map_err(|refused| {
            let (error, path) = (refused.error, refused.path);
            // The log decides itself whether the file goes; dropping the path would remove it.
            let _ = path.keep();
            error
        })
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    #[cfg(unix)]
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        let folder = if folder.as_os_str().is_empty() {
            Path::new(".")
        } else {
            folder
        };
        match File::open(folder)?.sync_all() {
            // Some network disks know no sync of a folder; there is nothing more to be had there.
            Err(error) if has_no_such_call(&error) => Ok(()),
            other => other,
        }
    }

    #[cfg(not(unix))]
    fn sync_folder(&self, _folder: &Path) -> io::Result<()> {
        Ok(())
    }

    fn look(&self, path: &Path) -> io::Result<Found> {
        Ok(found(&fs::metadata(path)?))
    }

    fn is_link(&self, path: &Path) -> bool {
        fs::symlink_metadata(path).is_ok_and(|data| data.file_type().is_symlink())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        let folder = if folder.as_os_str().is_empty() {
            Path::new(".")
        } else {
            folder
        };
        fs::read_dir(folder)?
            .map(|entry| Ok(entry?.file_name()))
            .collect()
    }
}

impl Handle for RealHandle {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(bytes)
    }

    fn sync_data(&mut self) -> io::Result<()> {
        self.0.sync_data()
    }

    fn sync_all(&mut self) -> io::Result<()> {
        self.0.sync_all()
    }

    fn cut(&mut self, size: u64) -> io::Result<()> {
        self.0.set_len(size)
    }

    fn read(&mut self, from: u64, most: u64) -> io::Result<Vec<u8>> {
        self.0.seek(SeekFrom::Start(from))?;
        let size = self.0.metadata()?.len().saturating_sub(from).min(most);
        let mut bytes = Vec::with_capacity(usize::try_from(size).unwrap_or(0));
        (&self.0).take(most).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn look(&self) -> io::Result<Found> {
        Ok(found(&self.0.metadata()?))
    }

    fn try_lock(&self) -> io::Result<Locked> {
        match self.0.try_lock() {
            Ok(()) => Ok(Locked::Ours),
            Err(TryLockError::WouldBlock) => Ok(Locked::Busy),
            Err(TryLockError::Error(error)) => Ok(Locked::Unsupported(error.to_string())),
        }
    }
}

fn found(data: &fs::Metadata) -> Found {
    Found {
        identity: identity(data),
        size: data.len(),
        what: what(data.file_type()),
    }
}

#[cfg(unix)]
fn identity(data: &fs::Metadata) -> (u64, u64) {
    use std::os::unix::fs::MetadataExt;
    (data.dev(), data.ino())
}

/// Without numbers of files only the size is compared.
#[cfg(not(unix))]
fn identity(_data: &fs::Metadata) -> (u64, u64) {
    (0, 0)
}

fn what(kind: fs::FileType) -> &'static str {
    if kind.is_file() {
        FILE
    } else if kind.is_dir() {
        "a folder"
    } else {
        other(kind)
    }
}

#[cfg(unix)]
fn other(kind: fs::FileType) -> &'static str {
    use std::os::unix::fs::FileTypeExt;
    if kind.is_fifo() {
        "a pipe"
    } else if kind.is_socket() {
        "a socket"
    } else {
        "a device"
    }
}

#[cfg(not(unix))]
fn other(_kind: fs::FileType) -> &'static str {
    "something else"
}

#[cfg(unix)]
fn never_wait(options: &mut OpenOptions) {
    use std::os::unix::fs::OpenOptionsExt;
    let flags = rustix::fs::OFlags::NONBLOCK | rustix::fs::OFlags::NOCTTY;
    options.custom_flags(flags.bits().cast_signed());
}

#[cfg(not(unix))]
fn never_wait(_options: &mut OpenOptions) {}

#[cfg(unix)]
fn restrict(options: &mut OpenOptions, rights: Rights) {
    use std::os::unix::fs::OpenOptionsExt;
    if rights == Rights::OwnerOnly {
        options.mode(0o600);
    }
}

#[cfg(not(unix))]
fn restrict(_options: &mut OpenOptions, _rights: Rights) {}

#[cfg(unix)]
fn has_no_such_call(error: &io::Error) -> bool {
    matches!(
        error.kind(),
        io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported
    )
}
