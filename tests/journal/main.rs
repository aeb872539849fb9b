//! The log of a dressing, broken on purpose: on a disk in memory and on real ones.

#![allow(clippy::unwrap_used, missing_docs)] // a trial that cannot go on fails

mod broken;
#[path = "../common/mod.rs"]
mod common;
mod crash;
mod damage;
mod faults;
mod folder;
mod format;
mod kept;
mod mem;
mod newer;
mod open;
mod power;
mod real;
mod traced;

use chrono::DateTime;
use endsmeet::journal::{
    Access, AppendError, CreateError, Disk, Fresh, Journal, OpenError, Opened, Rights, Stamp,
};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The kinds of line that the tests know.
pub const KNOWN: &[&str] = &["entry"];

pub fn stamp(ms: u64) -> Stamp {
    Stamp {
        at: DateTime::parse_from_rfc3339("2026-03-03T18:40:00+01:00").unwrap(),
        elapsed_ms: ms,
    }
}

/// What the n-th line says; every line is different, and some are longer than a sector.
pub fn payload(n: u64) -> Value {
    let long = "warp ".repeat(if n.is_multiple_of(7) { 150 } else { 3 });
    json!([{"step": n, "note": format!("{long}\"{n}\"")}])
}

pub fn begin(disk: &Arc<dyn Disk>, folder: &Path) -> Result<Journal, CreateError> {
    let plan = json!({"ends": 277, "sett": "20"});
    let fresh = Fresh {
        folder,
        title: "Hall runner",
        method: "back-to-front",
        plan: &plan,
        rights: Rights::Umask,
    };
    Journal::create(disk, &fresh, stamp(0))
}

pub fn add(journal: &mut Journal, n: u64) -> Result<(), AppendError> {
    journal.append(stamp(n * 1_000), "entry", &payload(n))
}

pub fn go_on(disk: &Arc<dyn Disk>, path: &Path) -> Result<Opened, OpenError> {
    Journal::open(disk, path, Access::GoOn, KNOWN)
}

/// The same on a real disk, where a test beside it may be starting a process: between its fork and its
/// exec that process holds every file of ours once more, and so the lock.
pub fn go_on_for_real(disk: &Arc<dyn Disk>, path: &Path) -> Result<Opened, OpenError> {
    for _ in 0..100 {
        match go_on(disk, path) {
            Err(OpenError::InUse { .. }) => {
                std::thread::sleep(std::time::Duration::from_millis(20));
            }
            other => return other,
        }
    }
    go_on(disk, path)
}

/// The payloads of the lines that were read.
pub fn told(opened: &Opened) -> Vec<Value> {
    let lines = opened.lines.iter();
    lines
        .map(|line| serde_json::from_str(line.payload).unwrap())
        .collect()
}

/// The payloads that the first `n` lines were written with.
pub fn expected(n: u64) -> Vec<Value> {
    (1..=n).map(payload).collect()
}

pub fn folder() -> PathBuf {
    PathBuf::from("/sessions")
}

pub fn file() -> PathBuf {
    file_of("hall-runner")
}

pub fn file_of(stem: &str) -> PathBuf {
    folder().join(format!("{stem}.jsonl"))
}

/// A file with so many lines after its header, as it is on disk.
pub fn whole(lines: u64) -> Vec<u8> {
    let memory = mem::MemDisk::new(1);
    let disk: Arc<dyn Disk> = Arc::new(memory.clone());
    let mut journal = begin(&disk, &folder()).unwrap();
    for n in 1..=lines {
        add(&mut journal, n).unwrap();
    }
    memory.bytes(journal.path()).unwrap()
}
