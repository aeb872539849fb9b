//! Starts: to the first full frame, warm and cold, and the memory that they take.

use crate::programs::{RUNNER, endsmeet, half_done, is_there, other, with_history};
use crate::terminal::{Pty, at_share, median};
use portable_pty::CommandBuilder;
use std::path::Path;
use std::time::Duration;

const WARM: usize = 30;
const COLD: usize = 10;
/// The history that the goals are about.
const ENTRIES: u64 = 5_000;

/// How a program starts.
struct Started {
    us: f64,
    peak_kb: u64,
}

fn started(
    name: &str,
    times: usize,
    make: &dyn Fn() -> CommandBuilder,
    before: &dyn Fn(),
) -> Started {
    let (mut all, mut peak_kb) = (Vec::<Duration>::new(), 0);
    for _ in 0..times {
        let command = make();
        before();
        let mut pty = Pty::start(command);
        all.push(pty.first_frame().time);
        peak_kb = peak_kb.max(pty.peak_kb());
    }
    let us = median(all.iter().copied());
    let slow = at_share(all, 0.9);
    println!(
        "{name}: {:.1} ms, nine in ten under {:.1}; peak {:.1} MB",
        us / 1000.0,
        slow / 1000.0,
        peak_kb as f64 / 1024.0
    );
    Started { us, peak_kb }
}

pub fn bench(folder: &Path) {
    println!("-- start with the half-done runner, warm");
    started(
        "endsmeet",
        WARM,
        &|| {
            half_done(folder);
            endsmeet(folder, RUNNER)
        },
        &|| (),
    );
    let history = folder.join("history");
    std::fs::create_dir_all(&history).unwrap();
    let kept = folder.join("kept.jsonl");
    with_history(&history, "long", 20_000, ENTRIES);
    std::fs::copy(history.join("long.jsonl"), &kept).unwrap();
    println!(
        "-- start with {ENTRIES} entries of history, warm (goals: vim 0.9x, nano 0.8x, less 2.0x; memory: nano 0.8x, less 1.35x)"
    );
    side_by_side(&history, &kept, WARM, &|| ());
    if cold() {
        println!(
            "-- the same, the system's caches dropped before each (goals: less 1.15x, nano 0.85x, vim 0.5x)"
        );
        side_by_side(&history, &kept, COLD, &|| {
            cold();
        });
    } else {
        println!("the system's caches cannot be dropped here: no cold start");
    }
}

/// Drops the system's caches; whether it could.
fn cold() -> bool {
    let _ = std::process::Command::new("sync").status();
    std::fs::write("/proc/sys/vm/drop_caches", "3").is_ok()
}

fn side_by_side(folder: &Path, kept: &Path, times: usize, before: &dyn Fn()) {
    let file = folder.join("long.jsonl");
    let ours = started(
        "endsmeet",
        times,
        &|| {
            std::fs::copy(kept, &file).unwrap();
            // it is not this program's start to write down what was copied just now
            std::fs::File::open(&file).unwrap().sync_all().unwrap();
            endsmeet(folder, "long")
        },
        before,
    );
    for words in [&["vim", "-u", "NONE", "-n"][..], &["less"], &["nano", "-I"]] {
        if !is_there(words[0]) {
            println!("{} is not there: left out", words[0]);
            continue;
        }
        let theirs = started(&words.join(" "), times, &|| other(words, &file), before);
        println!(
            "    endsmeet is {:.2}x its start, {:.2}x its memory",
            ours.us / theirs.us,
            ours.peak_kb as f64 / theirs.peak_kb.max(1) as f64
        );
    }
}
