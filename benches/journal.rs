//! The log beside the least that any log must do: `append` of one line of about 150 bytes, beside a
//! bare write and sync of the same bytes, in turn in one run; then the reading of 5,000 and 100,000
//! lines. `cargo bench --bench journal [FOLDER]`. Goals: at most 1.25 times the bare append, flat in
//! the length of the file; 5,000 lines in a few milliseconds. Reports; never fails on time.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use chrono::{DateTime, FixedOffset};
use endsmeet::journal::{Access, Disk, Fresh, Journal, RealDisk, Rights, Stamp};
use serde_json::{Value, json};
use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

const ROUNDS: usize = 3;
const APPENDS: usize = 1_000;
const KNOWN: &[&str] = &["entry"];

fn stamp(ms: u64) -> Stamp {
    let at: DateTime<FixedOffset> = "2026-03-03T18:40:00+01:00".parse().unwrap();
    Stamp { at, elapsed_ms: ms }
}

fn payload() -> Value {
    json!([{"t": "marked", "task": "threaded", "calls": [49, 52], "plan": 0}])
}

fn begin(folder: &Path) -> Journal {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let fresh = Fresh {
        folder,
        title: "Bench",
        method: "bench",
        plan: &json!({"ends": 277}),
        rights: Rights::Umask,
    };
    Journal::create(&disk, &fresh, stamp(0)).unwrap()
}

/// A bare write and sync.
struct Bare {
    file: File,
    bytes: Vec<u8>,
}

impl Bare {
    fn append(&mut self) {
        self.file.write_all(&self.bytes).unwrap();
        self.file.sync_data().unwrap();
    }
}

fn timed(mut work: impl FnMut()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

/// The time below which this share of the sorted times lies, in microseconds.
fn at_share(times: &[Duration], share: f64) -> f64 {
    let place = (times.len() as f64 * share) as usize;
    times[place.min(times.len() - 1)].as_secs_f64() * 1e6
}

fn last_line(path: &Path) -> Vec<u8> {
    let bytes = std::fs::read(path).unwrap();
    bytes
        .split_inclusive(|b| *b == b'\n')
        .next_back()
        .unwrap()
        .to_vec()
}

fn appends(folder: &Path, journal: &mut Journal, what: &str) {
    let payload = payload();
    journal.append(stamp(1), "entry", &payload).unwrap();
    let bytes = last_line(journal.path());
    let size = bytes.len();
    let file = OpenOptions::new()
        .create(true)
        .append(true)
        .open(folder.join("bare"))
        .unwrap();
    let mut bare = Bare { file, bytes };
    for round in 1..=ROUNDS {
        let (mut floor, mut ours) = (Vec::new(), Vec::new());
        for n in 0..APPENDS as u64 {
            let mut append = || journal.append(stamp(n), "entry", &payload).unwrap();
            // Each goes first in its turn: what comes second finds the disk as the first left it.
            if n % 2 == 0 {
                floor.push(timed(|| bare.append()));
                ours.push(timed(&mut append));
            } else {
                ours.push(timed(&mut append));
                floor.push(timed(|| bare.append()));
            }
        }
        floor.sort_unstable();
        ours.sort_unstable();
        let (bare_median, our_median) = (at_share(&floor, 0.5), at_share(&ours, 0.5));
        println!(
            "{what}, round {round}, {size} bytes: bare {bare_median:.0} us (99 %: {:.0}), journal \
             {our_median:.0} us (99 %: {:.0}), ratio {:.3}",
            at_share(&floor, 0.99),
            at_share(&ours, 0.99),
            our_median / bare_median
        );
    }
}

/// A file with so many lines, written without waiting for the disk at each.
fn long_file(folder: &Path, lines: u64) -> Journal {
    let mut journal = begin(folder);
    let path = journal.path().to_owned();
    journal.append(stamp(1), "entry", &payload()).unwrap();
    drop(journal);
    let mut text = std::fs::read(&path).unwrap();
    let before = |text: &[u8], line: &[u8]| {
        let at = text.len() - line.len();
        text[..at]
            .split_inclusive(|b| *b == b'\n')
            .next_back()
            .unwrap()
            .to_vec()
    };
    let first = last_line(&path);
    let mut crc = before(&text, &first)[6..14].to_vec();
    text.truncate(text.len() - first.len());
    for n in 1..=lines {
        let rest = format!(
            "\"v\":1,\"n\":{n},\"at\":\"2026-03-03T18:40:00+01:00\",\"ms\":{n},\"k\":\"entry\",\"e\":{}}}",
            payload()
        );
        let number = u32::from_str_radix(std::str::from_utf8(&crc).unwrap(), 16).unwrap();
        let mut sum = crc32fast::Hasher::new();
        sum.update(&number.to_be_bytes());
        sum.update(rest.as_bytes());
        let sum = format!("{:08x}", sum.finalize());
        text.extend_from_slice(format!("{{\"c\":\"{sum}\",{rest}\n").as_bytes());
        crc = sum.into_bytes();
    }
    std::fs::write(&path, text).unwrap();
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let opened = Journal::open(&disk, &path, Access::GoOn, KNOWN).unwrap();
    assert_eq!(opened.lines.len() as u64, lines);
    opened.journal
}

fn reading(path: &Path, lines: u64) {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let mut times: Vec<Duration> = (0..40)
        .map(|_| {
            timed(|| {
                let opened = Journal::open(&disk, path, Access::ReadOnly, KNOWN).unwrap();
                let bytes: usize = opened.lines.iter().map(|line| line.payload.len()).sum();
                assert!(bytes > 0);
            })
        })
        .collect();
    times.sort_unstable();
    println!(
        "reading {lines} lines: {:.2} ms (fastest {:.2}, 99 %: {:.2})",
        at_share(&times, 0.5) / 1e3,
        at_share(&times, 0.0) / 1e3,
        at_share(&times, 0.99) / 1e3
    );
}

fn main() {
    let named = std::env::args().skip(1).find(|word| !word.starts_with('-'));
    let folder = match named {
        Some(name) => tempfile::tempdir_in(name).unwrap(),
        None => tempfile::tempdir().unwrap(),
    };
    appends(folder.path(), &mut begin(folder.path()), "a new file");
    for lines in [5_000, 100_000] {
        let mut journal = long_file(folder.path(), lines);
        reading(journal.path(), lines);
        appends(folder.path(), &mut journal, &format!("after {lines} lines"));
    }
}
