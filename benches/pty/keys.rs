//! Keys: saved ones, unsaved ones, and how both grow with the warp.

use crate::programs::{
    RUNNER, at_first_call, cat, durable, endsmeet, half_done, is_there, other, sqlite,
};
use crate::terminal::{Answer, Pty, at_share, median};
use std::path::Path;
use std::time::Duration;

const SAMPLES: usize = 300;
const ROUNDS: usize = 3;

/// Some rounds of keys in turn.
pub struct Rounds(Vec<Vec<Answer>>);

impl Rounds {
    fn of(pty: &mut Pty, keys: [&[u8]; 2]) -> Self {
        let round = |pty: &mut Pty| (0..SAMPLES).map(|at| pty.key(keys[at % 2])).collect();
        Self((0..ROUNDS).map(|_| round(pty)).collect())
    }

    fn medians(&self) -> Vec<f64> {
        let of = |round: &Vec<Answer>| median(round.iter().map(|answer| answer.time));
        self.0.iter().map(of).collect()
    }

    /// The median of the medians, in microseconds.
    fn mid(&self) -> f64 {
        let mut medians = self.medians();
        medians.sort_by(f64::total_cmp);
        medians[medians.len() / 2]
    }

    fn p99(&self) -> f64 {
        at_share(self.0.iter().flatten().map(|answer| answer.time), 0.99)
    }

    fn bytes(&self) -> usize {
        let mut bytes: Vec<usize> = self.0.iter().flatten().map(|answer| answer.bytes).collect();
        bytes.sort_unstable();
        bytes[bytes.len() / 2]
    }

    fn line(&self) -> String {
        let list: Vec<String> = self.medians().iter().map(|us| format!("{us:.0}")).collect();
        format!("{} us, p99 {:.0}", list.join(" / "), self.p99())
    }
}

fn settled(mut pty: Pty) -> Pty {
    pty.first_frame();
    std::thread::sleep(Duration::from_millis(200));
    pty
}

/// Keys that save nothing: at the open look a digit is typed and taken out again.
const UNSAVED: [&[u8]; 2] = [b"7", b"\x7f"];
/// Keys that save: a press done and taken back.
const SAVED: [&[u8]; 2] = [b" ", b"\x1b[D"];
/// Passes the open look over.
const SKIP: &[u8] = b"\x1b[19~";

pub fn bench(folder: &Path) {
    half_done(folder);
    unsaved(folder);
    saved(folder);
    growth(folder);
}

fn unsaved(folder: &Path) {
    println!("-- a key shown, nothing saved (a digit typed and taken out, in turn)");
    let mut floor = Pty::start(cat());
    std::thread::sleep(Duration::from_millis(300));
    let before = Rounds::of(&mut floor, [b"a", b"b"]);
    let mut ours = settled(Pty::start(endsmeet(folder, RUNNER)));
    let writes = ours.writes();
    let mine = Rounds::of(&mut ours, UNSAVED);
    let calls = per_key(writes, ours.writes());
    let text = folder.join("text");
    std::fs::write(&text, "warp and weft\n".repeat(2000)).unwrap();
    let others: Vec<(&str, Rounds)> = [
        ("less, a line down and up", &["less"][..], [&b"j"[..], b"k"]),
        (
            "vim, a line down and up",
            &["vim", "-u", "NONE", "-n"],
            [b"j", b"k"],
        ),
        (
            "nano, a letter typed and taken out",
            &["nano", "-I"],
            [b"a", b"\x7f"],
        ),
    ]
    .into_iter()
    .filter(|(_, words, _)| is_there(words[0]))
    .map(|(name, words, keys)| {
        let mut pty = settled(Pty::start(other(words, &text)));
        (name, Rounds::of(&mut pty, keys))
    })
    .collect();
    let after = Rounds::of(&mut floor, [b"a", b"b"]);
    let base = f64::midpoint(before.mid(), after.mid());
    println!("raw cat: {} | {}", before.line(), after.line());
    println!(
        "endsmeet: {}, {} bytes, {calls} writes; {:.2}x cat (goal 1.35), p99 {:.2}x cat's median (goal 2.3)",
        mine.line(),
        mine.bytes(),
        mine.mid() / base,
        mine.p99() / base
    );
    for (name, theirs) in others {
        println!(
            "{name}: {}, {} bytes; {:.2}x cat; endsmeet is {:.2}x it",
            theirs.line(),
            theirs.bytes(),
            theirs.mid() / base,
            mine.mid() / theirs.mid()
        );
    }
}

fn per_key(before: Option<u64>, after: Option<u64>) -> String {
    match (before, after) {
        (Some(before), Some(after)) => {
            let keys = (SAMPLES * ROUNDS) as f64;
            format!("{:.2}", (after - before) as f64 / keys)
        }
        _ => "uncounted".to_owned(),
    }
}

fn saved(folder: &Path) {
    println!("-- a press saved and shown (done and taken back, in turn)");
    let mut floor = Pty::start(durable(folder));
    std::thread::sleep(Duration::from_millis(300));
    let mut ours = settled(Pty::start(endsmeet(folder, RUNNER)));
    ours.key(b"2");
    ours.key(b"\r");
    let before = Rounds::of(&mut floor, [b"a", b"b"]);
    let writes = ours.writes();
    let mine = Rounds::of(&mut ours, SAVED);
    let calls = per_key(writes, ours.writes());
    let after = Rounds::of(&mut floor, [b"a", b"b"]);
    let base = f64::midpoint(before.mid(), after.mid());
    println!("bare durable loop: {} | {}", before.line(), after.line());
    println!(
        "endsmeet: {}, {} bytes, {calls} writes with the one to the file; {:.2}x the loop (goal 1.5, stretch 1.25)",
        mine.line(),
        mine.bytes(),
        mine.mid() / base
    );
    let mut small = settled(Pty::sized(
        endsmeet(&small_folder(folder), RUNNER),
        (24, 80),
    ));
    small.key(b"2");
    small.key(b"\r");
    let small = Rounds::of(&mut small, SAVED);
    println!(
        "endsmeet at 80x24: {}, {} bytes",
        small.line(),
        small.bytes()
    );
    if is_there("python3") {
        let mut pty = Pty::start(sqlite(folder));
        std::thread::sleep(Duration::from_millis(500));
        let theirs = Rounds::of(&mut pty, [b"a", b"b"]);
        let ratio = mine.mid() / theirs.mid();
        println!(
            "SQLite, write-ahead log, full sync, in Python: {}; endsmeet is {ratio:.2}x it (goal 1.0)",
            theirs.line()
        );
    }
    for (name, words, change, save) in [
        (
            "vim :w",
            &["vim", "-u", "NONE", "-n"][..],
            &b"x"[..],
            &b":w\r"[..],
        ),
        ("nano ^S", &["nano", "-I"], b"a", b"\x13"),
    ] {
        if is_there(words[0]) {
            let theirs = saving(folder, words, change, save);
            let ratio = mine.mid() / theirs;
            println!("{name}, 40 KB: {theirs:.0} us; endsmeet is {ratio:.2}x it (goal 0.5)");
        }
    }
}

/// Changes a file of 40 KB and saves it, over and over; the median of the saving.
fn saving(folder: &Path, words: &[&str], change: &[u8], save: &[u8]) -> f64 {
    let text = folder.join("forty");
    std::fs::write(&text, "warp and weft\n".repeat(2926)).unwrap();
    let mut pty = settled(Pty::start(other(words, &text)));
    let times: Vec<Duration> = (0..SAMPLES / 3)
        .map(|_| {
            pty.key(change);
            pty.key(save).time
        })
        .collect();
    median(times)
}

fn small_folder(folder: &Path) -> std::path::PathBuf {
    let small = folder.join("small");
    std::fs::create_dir_all(&small).unwrap();
    half_done(&small);
    small
}

fn growth(folder: &Path) {
    println!("-- from 144 to 100,000 ends (goals: time 1.2x, bytes 1.5x)");
    let mut first = None;
    for ends in [144, 100_000] {
        let title = format!("bench-{ends}");
        drop(at_first_call(folder, &title, ends));
        let mut pty = settled(Pty::start(endsmeet(folder, &title)));
        let unsaved = Rounds::of(&mut pty, UNSAVED);
        pty.key(SKIP);
        let saved = Rounds::of(&mut pty, SAVED);
        let (u, s, b) = (unsaved.mid(), saved.mid(), saved.bytes());
        let (u0, s0, b0) = *first.get_or_insert((u, s, b));
        println!(
            "{ends} ends: unsaved {} ({:.2}x); saved {} ({:.2}x); {b} bytes ({:.2}x)",
            unsaved.line(),
            u / u0,
            saved.line(),
            s / s0,
            b as f64 / b0 as f64
        );
    }
}
