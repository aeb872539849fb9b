//! One ask, decided, appended, synced and applied, beside a bare append and sync of the same bytes,
//! both in turn in one run; at 144 to 100,000 ends; undo and redo too. Then the replay of 5,000
//! entries. `cargo bench --bench ask`. Goal: at most 1.25 times the bare append, flat; replay under
//! 20 ms. Reports; never fails on time.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use chrono::{DateTime, FixedOffset};
use endsmeet::dressing::view::View;
use endsmeet::dressing::{Answer, Ask, When};
use endsmeet::journal::keep::Keep;
use endsmeet::journal::kept::{Keeper, Start};
use endsmeet::journal::{Access, Disk, RealDisk, Rights};
use endsmeet::plan::{read_spec, work_out};
use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

const ROUNDS: usize = 400;

fn plan_text(ends: u32) -> String {
    format!(
        r#"{{ "endsmeet": 1, "title": "Bench {ends}", "sett": 100, "ends": {ends}, "threading": "1 2 3 4 3 2",
        "loom": {{"shafts": 4, "treadles": 4}}, "reeds": [{{"dents": 20, "length": 1500}}], "batch": 12 }}"#
    )
}

fn when(ms: u64) -> When {
    let wall: DateTime<FixedOffset> = "2026-03-03T18:00:00+01:00".parse().unwrap();
    When {
        wall,
        elapsed_ms: ms,
    }
}

fn begin(folder: &Path, ends: u32) -> Keeper {
    let spec = read_spec(&plan_text(ends)).unwrap();
    let figures = work_out(&spec);
    let plan = figures
        .plan()
        .unwrap_or_else(|| panic!("{:?}", figures.problems));
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let start = Start {
        spec: &figures.spec,
        plan,
        method: 0,
        left_out: Vec::new(),
        owner: None,
    };
    Keeper::create(&disk, folder, Rights::Umask, start, when(0)).unwrap()
}

/// Presses on to the first call; looks are answered as the loom would.
fn to_first_call(keeper: &mut Keeper) {
    loop {
        let d = keeper.dressing();
        let groups = d.plan().groups.len() as i64;
        let ask = match d.view() {
            View::Call(_) => return,
            View::Asking(_) => Ask::Answer(Answer::Number(groups)),
            View::Step(step) if step.optional => Ask::Skip,
            View::Turn(_) => Ask::Skip,
            _ => Ask::Next,
        };
        keeper.ask(&ask, when(0)).unwrap();
    }
}

/// The stages before threading take a press a group; a warp of 100,000 ends has 1,000 of them, and
/// the bench wants them unsynced: their cost is not what is measured here.
struct Bare {
    file: File,
    bytes: Vec<u8>,
}

impl Bare {
    fn append(&mut self) -> Duration {
        let start = Instant::now();
        self.file.write_all(&self.bytes).unwrap();
        self.file.sync_data().unwrap();
        start.elapsed()
    }
}

fn median(times: &mut [Duration]) -> f64 {
    times.sort_unstable();
    times[times.len() / 2].as_secs_f64() * 1e6
}

fn timed(keeper: &mut Keeper, ask: &Ask) -> Duration {
    let start = Instant::now();
    keeper.ask(ask, when(0)).unwrap();
    start.elapsed()
}

fn one_size(folder: &Path, ends: u32) {
    let mut keeper = begin(folder, ends);
    to_first_call(&mut keeper);
    let line = std::fs::read(keeper.journal().path()).unwrap();
    let line = line
        .split_inclusive(|b| *b == b'\n')
        .next_back()
        .unwrap()
        .to_vec();
    let file = OpenOptions::new()
        .create(true)
        .append(true)
        .open(folder.join("bare"))
        .unwrap();
    let mut bare = Bare { file, bytes: line };
    let (mut floor, mut next, mut undo, mut redo) = (vec![], vec![], vec![], vec![]);
    for _ in 0..ROUNDS {
        floor.push(bare.append());
        next.push(timed(&mut keeper, &Ask::Next));
        floor.push(bare.append());
        undo.push(timed(&mut keeper, &Ask::BackOne));
        floor.push(bare.append());
        redo.push(timed(&mut keeper, &Ask::Redo));
        keeper.ask(&Ask::BackOne, when(0)).unwrap();
    }
    let floor = median(&mut floor);
    let [next, undo, redo] = [&mut next, &mut undo, &mut redo].map(|times| median(times));
    println!(
        "{ends:>7} ends: bare {floor:6.0} us; ask {next:6.0} ({:.2}x), undo {undo:6.0} ({:.2}x), redo {redo:6.0} ({:.2}x); {} bytes a line",
        next / floor,
        undo / floor,
        redo / floor,
        bare.bytes.len()
    );
}

fn replay(folder: &Path) {
    let mut keeper = begin(folder, 20_000);
    to_first_call(&mut keeper);
    while keeper.entries().len() < 5000 {
        let ask = if keeper.entries().len() % 5 == 4 {
            Ask::BackOne
        } else {
            Ask::Next
        };
        let asked = keeper.ask(&ask, when(0));
        if asked.is_err() {
            keeper.ask(&Ask::Skip, when(0)).unwrap();
        }
    }
    let path = keeper.journal().path().to_owned();
    drop(keeper);
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let mut times: Vec<Duration> = (0..30)
        .map(|_| {
            let start = Instant::now();
            let loaded = Keeper::load(&disk, &path, Access::ReadOnly).unwrap();
            assert_eq!(loaded.keeper.entries().len(), 5000);
            start.elapsed()
        })
        .collect();
    println!(
        "replay of 5,000 entries: {:.1} ms (plan of 20,000 ends worked out in it)",
        median(&mut times) / 1000.0
    );
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    for ends in [144, 2_000, 20_000, 100_000] {
        one_size(folder.path(), ends);
    }
    replay(folder.path());
}
