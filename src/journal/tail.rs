//! The torn end of a file: copied, then cut off. Owns the order of the two; the copy is on disk
//! before a byte of the file goes.

use super::disk::{Disk, Handle, Rights};
use super::log::State;
use super::scan::Scan;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// The most torn tails kept beside one file.
const COPIES: u32 = 1_000;

/// Copies the bytes after the last good line to `NAME.torn-N` and cuts them off. The caller syncs.
///
/// # Errors
/// Either did not work. Then the file is as it was, or as it was without the tail that is copied.
pub(super) fn set_aside(
    disk: &dyn Disk,
    path: &Path,
    file: &mut dyn Handle,
    scan: &Scan,
) -> io::Result<State> {
    let torn = scan.lines.bytes().get(scan.good..).unwrap_or_default();
    let (copy_path, mut copy) = new_copy(disk, path)?;
    let written = copy.append(torn).and_then(|()| copy.sync_all());
    let folder = path.parent().unwrap_or(Path::new(""));
    if let Err(error) = written.and_then(|()| disk.sync_folder(folder)) {
        // Half a copy says nothing that the file itself does not say.
        let _ = disk.remove(&copy_path);
        return Err(error);
    }
    file.cut(scan.good as u64)?;
    Ok(State::TornTail {
        set_aside: copy_path,
        bytes: torn.len() as u64,
    })
}

fn new_copy(disk: &dyn Disk, path: &Path) -> io::Result<(PathBuf, Box<dyn Handle>)> {
    for number in 1..=COPIES {
        let mut name = path.as_os_str().to_owned();
        name.push(format!(".torn-{number}"));
        let copy = PathBuf::from(name);
        match disk.create_new(&copy, Rights::OwnerOnly) {
            Ok(file) => return Ok((copy, file)),
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::new(
        ErrorKind::AlreadyExists,
        "there are 1,000 torn tails beside the file already",
    ))
}
