//! A long sitting: memory after many presses and resizes, and what an idle program does. Then the
//! binary's size.

use crate::programs::{RUNNER, endsmeet, half_done};
use crate::terminal::Pty;
use std::path::Path;
use std::time::Duration;

const PRESSES: usize = 10_000;
const RESIZES: usize = 3_000;
const IDLE: Duration = Duration::from_secs(5);

pub fn bench(folder: &Path) {
    half_done(folder);
    let mut pty = Pty::start(endsmeet(folder, RUNNER));
    pty.first_frame();
    pty.key(b"2");
    pty.key(b"\r");
    // the watch over the last save ends 0.3 s after it; idle is what comes then
    std::thread::sleep(Duration::from_secs(1));
    println!("-- idle for {} s at a call (goal: nothing)", IDLE.as_secs());
    let (sleeps, writes) = (pty.sleeps(), pty.writes());
    let bytes = pty.bytes_within(IDLE);
    let more = |before: Option<u64>, after: Option<u64>| match (before, after) {
        (Some(before), Some(after)) => (after - before).to_string(),
        _ => "uncounted".to_owned(),
    };
    println!(
        "{} wakeups, {} writes, {bytes} bytes",
        more(sleeps, pty.sleeps()),
        more(writes, pty.writes())
    );
    println!("-- memory over {PRESSES} presses and {RESIZES} resizes (goal: 5 % more)");
    grow(&mut pty, 400, 100);
    let before = pty.now_kb();
    grow(&mut pty, PRESSES, RESIZES);
    let after = pty.now_kb();
    let share = (after as f64 / before.max(1) as f64 - 1.0) * 100.0;
    println!(
        "{before} KB, then {after} KB: {share:+.1} %, peak {} KB",
        pty.peak_kb()
    );
    let binary = std::fs::metadata(env!("CARGO_BIN_EXE_endsmeet")).map_or(0, |data| data.len());
    println!(
        "-- the binary of this build: {:.2} MB (goal 2)",
        binary as f64 / 1e6
    );
}

/// Presses done and taken back, with a window between 80x24 and 160x60 in between.
fn grow(pty: &mut Pty, presses: usize, resizes: usize) {
    let every = (presses / resizes.max(1)).max(1);
    let mut resized = 0;
    for at in 0..presses {
        pty.key_at_once(if at % 2 == 0 { b" " } else { b"\x1b[D" });
        if at % every == 0 && resized < resizes {
            let step = (resized * 7 % 80) as u16;
            pty.resize(24 + step % 36, 80 + step);
            resized += 1;
        }
    }
}
