//! Names of files: from a title, and a new file put under a free one. Owns what a name may hold;
//! never takes the place of a file that is there.

use super::disk::{Disk, Handle, Rights};
use super::error::CreateError;
use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher, Hasher};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// What the name of a dressing's file ends in, the point left out.
pub const EXTENSION: &str = "jsonl";
/// The most bytes of a name made from a title.
const STEM_BYTES: usize = 60;
/// The most dressings of one name in a folder.
const SAME_NAME: u32 = 1_000;

/// A file name from a title, without its ending: lower-case letters and digits, hyphens between.
/// Never empty, never a name that some system keeps for a device.
#[must_use]
pub fn file_stem(title: &str) -> String {
    let mut stem = String::new();
    let mut gap = false;
    for letter in title.chars().flat_map(char::to_lowercase) {
        if !letter.is_alphanumeric() {
            gap = !stem.is_empty();
            continue;
        }
        if stem.len() + letter.len_utf8() + usize::from(gap) > STEM_BYTES {
            break;
        }
        if std::mem::take(&mut gap) {
            stem.push('-');
        }
        stem.push(letter);
    }
    if stem.is_empty() || is_a_device(&stem) {
        stem.push_str(if stem.is_empty() {
            "dressing"
        } else {
            "-dressing"
        });
    }
    stem
}

/// Names that Windows keeps for devices, whatever ending they have.
fn is_a_device(stem: &str) -> bool {
    let numbered = |name: &str| {
        stem.strip_prefix(name)
            .is_some_and(|rest| rest.len() == 1 && rest.chars().all(|c| c.is_ascii_digit()))
    };
    matches!(stem, "con" | "prn" | "aux" | "nul") || numbered("com") || numbered("lpt")
}

/// 128 random bits as 32 hexadecimal digits: two hash keys that the system drew.
pub(super) fn random_id() -> String {
    let draw = || RandomState::new().build_hasher().finish();
    format!("{:016x}{:016x}", draw(), draw())
}

/// A new file that is on disk, name and all.
#[derive(Debug)]
pub(super) struct Published {
    pub path: PathBuf,
    /// Open to append, and locked where the disk has locks.
    pub file: Box<dyn Handle>,
    pub identity: (u64, u64),
}

/// Writes a new file under a free name made from the stem, and waits until both are on disk.
/// The file is locked before it has its name.
///
/// # Errors
/// Why not; then no file is left, or the error says so.
pub(super) fn publish(
    disk: &dyn Disk,
    folder: &Path,
    stem: &str,
    rights: Rights,
    bytes: &[u8],
) -> Result<Published, CreateError> {
    let draft = folder.join(format!(".{stem}.new-{}", random_id()));
    let mut file = disk
        .create_new(&draft, rights)
        .map_err(|error| cannot(folder, error))?;
    // A disk without locks is said when the file is opened; it is no reason not to begin.
    let _ = file.try_lock();
    let written = file.append(bytes).and_then(|()| file.sync_all());
    let found = written.and_then(|()| file.look());
    let named = found
        .map_err(|error| cannot(folder, error))
        .and_then(|found| {
            let path = free_name(disk, &draft, folder, stem)?;
            Ok((path, found.identity))
        });
    let (path, identity) = named.inspect_err(|_| drop(disk.remove(&draft)))?;
    if let Err(error) = disk.sync_folder(folder) {
        return Err(match disk.remove(&path) {
            Ok(()) => cannot(folder, error),
            Err(_) => CreateError::Left {
                path,
                cause: error.into(),
            },
        });
    }
    Ok(Published {
        path,
        file,
        identity,
    })
}

fn free_name(
    disk: &dyn Disk,
    draft: &Path,
    folder: &Path,
    stem: &str,
) -> Result<PathBuf, CreateError> {
    for number in 1..=SAME_NAME {
        let path = match number {
            1 => folder.join(format!("{stem}.{EXTENSION}")),
            _ => folder.join(format!("{stem}-{number}.{EXTENSION}")),
        };
        match disk.rename_new(draft, &path) {
            Ok(()) => return Ok(path),
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            Err(error) => return Err(cannot(folder, error)),
        }
    }
    Err(CreateError::NoName {
        folder: folder.to_owned(),
        stem: stem.to_owned(),
    })
}

pub(super) fn cannot(folder: &Path, error: io::Error) -> CreateError {
    CreateError::CannotWrite {
        folder: folder.to_owned(),
        cause: error.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_becomes_a_harmless_file_name() {
        for (title, stem) in [
            ("Hall runner", "hall-runner"),
            ("  Runner #2 -- linen/wool ", "runner-2-linen-wool"),
            ("M\u{f6}bel", "m\u{f6}bel"),
            ("../../etc/passwd", "etc-passwd"),
            ("-rf .hidden", "rf-hidden"),
            ("\u{1b}[2J\u{202e}\u{0}", "2j"),
            ("", "dressing"),
            ("...", "dressing"),
            ("CON", "con-dressing"),
            ("com7", "com7-dressing"),
            ("com77", "com77"),
        ] {
            assert_eq!(file_stem(title), stem, "{title:?}");
        }
        assert_eq!(file_stem(&"\u{7e54}".repeat(100)).len(), 60);
        assert_eq!(file_stem(&"x".repeat(1_000)).len(), 60);
    }

    #[test]
    fn two_ids_differ() {
        assert_ne!(random_id(), random_id());
        assert_eq!(random_id().len(), 32);
    }
}
