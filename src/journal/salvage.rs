//! The clean part of a file as a new one, to go on with. Owns the copying; the source is only read.

use super::disk::{Disk, Rights, Want};
use super::error::SalvageError;
use super::line;
use super::name;
use super::opening::{cannot_read, read_whole};
use std::path::{Path, PathBuf};

/// Copies the good lines of a dressing into a new one beside it, `NAME-salvaged`; at most `keep`
/// lines after the header where a reader found that the ones after it cannot be. Every line keeps
/// its bytes; the copy gets an id of its own, and its checksums are chained anew.
///
/// # Errors
/// The file cannot be read, or the copy cannot be written.
pub fn salvage(
    disk: &dyn Disk,
    path: &Path,
    folder: &Path,
    rights: Rights,
    known: &[&'static str],
    keep: Option<u64>,
) -> Result<PathBuf, SalvageError> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let stem = format!("{stem} salvaged");
    copy(disk, path, folder, rights, known, keep, &stem)
}

/// Copies the good lines of a dressing into a new one of another name: an example stays as it is
/// and is gone on with in a copy. The copy gets an id of its own.
///
/// # Errors
/// The file cannot be read, or the copy cannot be written.
pub fn copy_as(
    disk: &dyn Disk,
    path: &Path,
    folder: &Path,
    rights: Rights,
    known: &[&'static str],
    stem: &str,
) -> Result<PathBuf, SalvageError> {
    copy(disk, path, folder, rights, known, None, stem)
}

fn copy(
    disk: &dyn Disk,
    path: &Path,
    folder: &Path,
    rights: Rights,
    known: &[&'static str],
    keep: Option<u64>,
    stem: &str,
) -> Result<PathBuf, SalvageError> {
    let file = disk.open(path, Want::Read);
    let mut file = file.map_err(|error| cannot_read(path, error))?;
    let scan = read_whole(path, file.as_mut(), known)?;
    let good = scan.lines.bytes().get(..scan.good).unwrap_or_default();
    let keep = keep.map_or(usize::MAX, |keep| {
        usize::try_from(keep).unwrap_or(usize::MAX)
    });
    let copy = copied(good, &scan.header.id, keep);
    let stem = name::file_stem(stem);
    Ok(name::publish(disk, folder, &stem, rights, &copy)?.path)
}

fn copied(good: &[u8], id: &str, keep: usize) -> Vec<u8> {
    let (mut copy, mut buffer, mut crc) = (Vec::with_capacity(good.len()), Vec::new(), 0);
    let lines = good.split(|&b| b == b'\n').filter_map(line::split);
    for (number, (_, rest)) in lines.take(keep.saturating_add(1)).enumerate() {
        crc = match number {
            0 => line::chain_anew(&mut buffer, crc, &with_new_id(rest, id)),
            _ => line::chain_anew(&mut buffer, crc, rest),
        };
        copy.extend_from_slice(&buffer);
    }
    copy
}

/// The header with another id in the place of its own; its other bytes stay.
fn with_new_id(header: &[u8], id: &str) -> Vec<u8> {
    let old = format!("\"id\":\"{id}\"");
    let new = format!("\"id\":\"{}\"", name::random_id());
    let place = header
        .windows(old.len())
        .position(|window| window == old.as_bytes());
    match place.map(|at| header.split_at(at)) {
        Some((before, from)) => {
            let after = from.get(old.len()..).unwrap_or_default();
            [before, new.as_bytes(), after].concat()
        }
        None => header.to_vec(),
    }
}
