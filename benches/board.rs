//! The class board over a folder of 300 dressings of 500 entries each: the first look, which reads
//! all, beside the bare reading of the same bytes; a look when nothing changed, when one file grew,
//! when thirty did; the rows and their order; the screen's bands. `cargo bench --bench board`. Goal: a
//! look that finds nothing new, or one file, is not felt (well under the two seconds between looks).
//! Reports; never fails on time.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use chrono::{DateTime, FixedOffset, TimeDelta};
use endsmeet::dressing::{Answer, Ask, Event, View, When, decide};
use endsmeet::journal::board::Board;
use endsmeet::journal::keep::Keep;
use endsmeet::journal::kept::{Keeper, Start};
use endsmeet::journal::{Disk, RealDisk, Rights};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

const FILES: usize = 300;
const ENTRIES: usize = 500;
const ROUNDS: usize = 5;

fn at(ms: u64) -> When {
    let wall: DateTime<FixedOffset> = "2026-03-03T18:00:00+01:00".parse().unwrap();
    When {
        wall: wall + TimeDelta::milliseconds(ms as i64),
        elapsed_ms: ms,
    }
}

/// One evening of 500 presses at a warp of 1,200 ends, each look answered truly, each tenth batch
/// said to be uneven first.
fn evening(folder: &Path) -> PathBuf {
    let text = std::fs::read_to_string("assets/demo/hall-runner.json").unwrap();
    let text = text.replace("\"ends\": 277", "\"ends\": 777");
    let text = text.replace("[60, 100, 100, 60]", "[140, 270, 270, 140]");
    let text = text.replace("\"width\": 24", "\"width\": 40");
    let text = text.replace("\"length\": 24", "\"length\": 40");
    let text = text.replace("(1 2 3 4 3 2) x46 1", "1 2 3 4 3 2");
    let spec = endsmeet::plan::read_spec(&text).unwrap();
    let figures = endsmeet::plan::work_out(&spec);
    let plan = figures
        .plan()
        .unwrap_or_else(|| panic!("{:?}", figures.problems));
    let start = Start {
        spec: &figures.spec,
        plan,
        method: 0,
        left_out: Vec::new(),
        owner: Some("Ada".to_owned()),
    };
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let mut keeper = Keeper::create(&disk, folder, Rights::Umask, start, at(0)).unwrap();
    let mut ms = 0;
    while keeper.entries().len() < ENTRIES {
        ms += 4_000;
        let ask = match keeper.dressing().view() {
            View::Asking(_) => {
                let settles = |n: &i64| {
                    let answer = Ask::Answer(Answer::Number(*n));
                    let entry = decide(keeper.dressing(), &answer, at(ms));
                    entry.is_ok_and(|entry| entry.events.contains(&Event::Settled))
                };
                Ask::Answer(Answer::Number((0..1000).find(settles).unwrap()))
            }
            _ => Ask::Next,
        };
        keeper.ask(&ask, at(ms)).unwrap();
    }
    keeper.journal().path().to_owned()
}

fn timed<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let done = work();
    (start.elapsed(), done)
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

/// A line's time passes in the file: as if a weaver had pressed.
fn grow(path: &Path) {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let loaded = Keeper::load(&disk, path, endsmeet::journal::Access::GoOn).unwrap();
    let mut keeper = loaded.keeper;
    keeper
        .ask(&Ask::Note("a slub".to_owned()), at(9_000_000))
        .unwrap();
}

fn main() {
    let (one, many) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let made = evening(one.path());
    let bytes = std::fs::read(&made).unwrap();
    let paths: Vec<PathBuf> = (0..FILES)
        .map(|n| many.path().join(format!("evening-{n:03}.jsonl")))
        .collect();
    for path in &paths {
        std::fs::write(path, &bytes).unwrap();
    }
    println!(
        "{FILES} files of {ENTRIES} entries, {} KB each",
        bytes.len() / 1024
    );
    let bare = median(
        (0..ROUNDS)
            .map(|_| {
                timed(|| {
                    paths
                        .iter()
                        .map(|p| std::fs::read(p).unwrap().len())
                        .sum::<usize>()
                })
                .0
            })
            .collect(),
    );
    println!("bare reading of the bytes   {:>10.2?}", bare);
    let first = median(
        (0..ROUNDS)
            .map(|_| timed(|| Board::new(many.path()).look().unwrap()).0)
            .collect(),
    );
    println!(
        "first look, all read        {:>10.2?}   {:.1} ms a file",
        first,
        first.as_secs_f64() * 1000.0 / FILES as f64
    );
    let mut board = Board::new(many.path());
    board.look().unwrap();
    let nothing = median(
        (0..ROUNDS)
            .map(|_| timed(|| assert!(!board.look().unwrap())).0)
            .collect(),
    );
    println!("a look, nothing changed     {:>10.2?}", nothing);
    for some in [1, 30] {
        let times = (0..ROUNDS).map(|_| {
            paths.iter().take(some).for_each(|path| grow(path));
            timed(|| assert!(board.look().unwrap())).0
        });
        println!(
            "a look, {some:>2} files grew        {:>10.2?}",
            median(times.collect())
        );
    }
    let now = at(10_000_000).wall;
    let rows = median(
        (0..ROUNDS)
            .map(|_| timed(|| assert_eq!(board.rows(now).len(), FILES)).0)
            .collect(),
    );
    println!("rows and their order        {:>10.2?}", rows);
}
