//! The cloth of 1,000 ends by 1,000 picks, crossing by crossing and as a picture, with its floats;
//! the class board over 300 files of 500 entries.
#![allow(clippy::unwrap_used, missing_docs)]

use chrono::{DateTime, FixedOffset, TimeDelta};
use criterion::{Criterion, criterion_group, criterion_main};
use endsmeet::dressing::{Answer, Ask, Event, View, When, decide};
use endsmeet::journal::board::Board;
use endsmeet::journal::keep::Keep;
use endsmeet::journal::kept::{Keeper, Start};
use endsmeet::journal::{Disk, RealDisk, Rights};
use endsmeet::plan::{Cloth, Face, Plan, Side};
use endsmeet::quantity::{Call, Calls};
use endsmeet::words::cloth_picture::{Letters, Window};
use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;

fn plan(ends: u32, sett: u32) -> Plan {
    let text = format!(
        r#"{{ "endsmeet": 1, "title": "Wide", "units": "in", "sett": {sett}, "ends": {ends},
        "threading": "1 2 3 4 5 6 7 8 7 6 5 4 3 2",
        "loom": {{"action": "jack", "shafts": 8, "treadles": 8, "width": 60}},
        "reeds": [{{"dents": {sett}, "per": "in", "length": 60}}],
        "tie_up": [[1, 2], [2, 3], [3, 4], [4, 5], [5, 6], [6, 7], [7, 8], [1, 8]],
        "treadling": "1 2 3 4 5 6 7 8 7 6 5 4 3 2" }}"#
    );
    let spec = endsmeet::plan::read_spec(&text).unwrap();
    endsmeet::plan::work_out(&spec).plan().unwrap()
}

fn cloth(criterion: &mut Criterion) {
    let plan = plan(1000, 20);
    criterion.bench_function("cloth of 1,000 by 1,000: every crossing", |b| {
        b.iter(|| {
            let cloth = Cloth::of(black_box(&plan), 1000).unwrap();
            let up = |pick| (1..=1000).filter(|&c| cloth.warp_up(pick, Call(c))).count();
            (1..=1000).map(up).sum::<usize>()
        });
    });
    criterion.bench_function(
        "cloth of 1,000 by 1,000: picture with long floats marked",
        |b| {
            b.iter(|| {
                let cloth = Cloth::of(black_box(&plan), 1000).unwrap();
                let marks = cloth.marks(3);
                let window = Window {
                    cloth: &cloth,
                    thread_from: Side::Right,
                    calls: Calls::new(1, 1000).unwrap(),
                    picks: (1, 1000),
                    letters: Letters::Ascii,
                    marks: Some((&marks, Face::Front)),
                };
                window.rows().len()
            });
        },
    );
    criterion.bench_function("cloth of 1,000 ends: floats, edges, plain weave", |b| {
        b.iter(|| {
            let cloth = Cloth::of(black_box(&plan), 1000).unwrap();
            (
                cloth.longest_float(Face::Front),
                cloth.edge_advice(&plan),
                plan.plain_weave(),
            )
        });
    });
}

fn at(ms: u64) -> When {
    let wall: DateTime<FixedOffset> = "2026-03-03T18:00:00+01:00".parse().unwrap();
    When {
        wall: wall + TimeDelta::milliseconds(i64::try_from(ms).unwrap()),
        elapsed_ms: ms,
    }
}

/// Presses one file to so many entries, every look answered truly.
fn fill(folder: &Path, entries: u64) {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let plan = plan(400, 10);
    let spec = plan.spec.clone();
    let start = Start {
        spec: &spec,
        plan,
        method: 0,
        left_out: Vec::new(),
        owner: None,
    };
    let mut keeper = Keeper::create(&disk, folder, Rights::Umask, start, at(0)).unwrap();
    while keeper.dressing().entries() < entries {
        let when = at(keeper.dressing().entries() * 4000 + 4000);
        let ask = match keeper.dressing().view() {
            View::Asking(_) => {
                let number = |n: &i64| Ask::Answer(Answer::Number(*n));
                let settles = |n: &i64| {
                    decide(keeper.dressing(), &number(n), when)
                        .is_ok_and(|entry| entry.events.contains(&Event::Settled))
                };
                number(&(0..1000).find(settles).unwrap())
            }
            View::Ready(_) => Ask::Note("a press more".into()),
            _ => Ask::Next,
        };
        keeper.ask(&ask, when).unwrap();
    }
}

/// One file is pressed, the others are its copies under other names: what is read is alike.
fn board(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    fill(folder.path(), 500);
    let first = std::fs::read_dir(folder.path())
        .unwrap()
        .next()
        .unwrap()
        .unwrap()
        .path();
    for n in 1..300 {
        let name = format!(
            "weaver-{n}.{}",
            first.extension().unwrap().to_string_lossy()
        );
        std::fs::copy(&first, folder.path().join(name)).unwrap();
    }
    let mut group = criterion.benchmark_group("board");
    group.sample_size(10);
    group.bench_function("300 files of 500 entries: first look", |b| {
        b.iter(|| {
            let mut board = Board::new(folder.path());
            board.look().unwrap();
            board.rows(at(9_000_000).wall).len()
        });
    });
    let mut open = Board::new(folder.path());
    open.look().unwrap();
    group.bench_function(
        "300 files of 500 entries: looked at again, nothing new",
        |b| {
            b.iter(|| {
                open.look().unwrap();
                open.rows(at(9_000_000).wall).len()
            });
        },
    );
    group.finish();
}

criterion_group!(benches, cloth, board);
criterion_main!(benches);
