//! Other copies of the same dressing in its folder, such as a program that keeps folders alike on
//! two machines leaves when both were written. Owns the comparison; never merges and never removes.

use super::disk::{Disk, FILE, Want};
use super::line::FILE_LIMIT;
use super::scan::Scan;
use std::path::{Path, PathBuf};

/// The most files of a folder that are looked into.
const LOOKED_INTO: usize = 200;
/// The first bytes of a file, in which its id stands.
const FRONT: u64 = 1_024;

/// How a copy compares with the dressing that was opened, up to their last good lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relation {
    /// It holds the same.
    Same,
    /// It is the beginning of this one: nothing is in it that is not here.
    Shorter,
    /// This one is its beginning: it knows more.
    Longer,
    /// Both went on from the line before this one, each in its own way; only the weaver can tell
    /// which of them is the warp on the loom.
    Differs {
        /// The first line that differs, from 1; the header is line 1.
        at_line: u64,
    },
    /// It could not be read.
    Unread,
}

/// A copy of the same dressing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// Where it is.
    pub path: PathBuf,
    /// How it compares.
    pub relation: Relation,
}

/// The copies in the folder, in the order of their names. What cannot be looked into is passed
/// over: this is a service to the weaver, and the dressing itself was read.
pub(super) fn find(disk: &dyn Disk, path: &Path, ours: (u64, u64), scan: &Scan) -> Vec<Beside> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let Some(stem) = path
        .file_stem()
        .map(|stem| stem.to_string_lossy().into_owned())
    else {
        return Vec::new();
    };
    let mut names = disk.list(folder).unwrap_or_default();
    names.retain(|name| {
        name.to_string_lossy().contains(&stem) && Some(name.as_os_str()) != path.file_name()
    });
    names.sort();
    let copies = names.iter().take(LOOKED_INTO).map(|name| folder.join(name));
    copies
        .filter_map(|copy| compare(disk, copy, ours, scan))
        .collect()
}

fn compare(disk: &dyn Disk, path: PathBuf, ours: (u64, u64), scan: &Scan) -> Option<Beside> {
    let found = disk.look(&path).ok()?;
    if found.what != FILE || found.identity == ours && ours != (0, 0) || found.size > FILE_LIMIT {
        return None;
    }
    let mut file = disk.open(&path, Want::Read).ok()?;
    let id = format!("\"id\":\"{}\"", scan.header.id);
    let front = file.read(0, FRONT).ok()?;
    if !front
        .windows(id.len())
        .any(|window| window == id.as_bytes())
    {
        return None;
    }
    let relation = match file.read(0, FILE_LIMIT) {
        Ok(bytes) => relation(
            scan.lines.bytes().get(..scan.good).unwrap_or_default(),
            &bytes,
        ),
        Err(_) => Relation::Unread,
    };
    Some(Beside { path, relation })
}

/// Compares line by line; what follows the last line end of the copy is not compared.
fn relation(ours: &[u8], theirs: &[u8]) -> Relation {
    let whole = theirs
        .iter()
        .rposition(|&b| b == b'\n')
        .map_or(0, |end| end + 1);
    let theirs = theirs.get(..whole).unwrap_or_default();
    let mut at_line = 1;
    let mut ours = ours.split_inclusive(|&b| b == b'\n');
    let mut theirs = theirs.split_inclusive(|&b| b == b'\n');
    loop {
        match (ours.next(), theirs.next()) {
            (None, None) => return Relation::Same,
            (Some(_), None) => return Relation::Shorter,
            (None, Some(_)) => return Relation::Longer,
            (Some(a), Some(b)) if a == b => at_line += 1,
            (Some(_), Some(_)) => return Relation::Differs { at_line },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn copies_compare_line_by_line() {
        for (theirs, how) in [
            ("a\nb\n", Relation::Same),
            ("a\nb\nhal", Relation::Same),
            ("a\n", Relation::Shorter),
            ("", Relation::Shorter),
            ("a\nb\nc\n", Relation::Longer),
            ("a\nc\nb\n", Relation::Differs { at_line: 2 }),
            ("b\n", Relation::Differs { at_line: 1 }),
        ] {
            assert_eq!(relation(b"a\nb\n", theirs.as_bytes()), how, "{theirs:?}");
        }
    }
}
