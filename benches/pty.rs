//! The screen in a 120x40 pty, side by side with others in one run. `cargo bench --bench pty`.
//!
//! - a press, saved and shown, against a bare loop that reads a key, appends as many bytes, syncs and
//!   answers (goal 1.5 times, stretch 1.25);
//! - a key that saves nothing, shown, against raw `cat` (goal 1.35);
//! - the start with the half-done runner, to the first full frame, against `vim -u NONE -n` and `less`;
//! - peak memory against `nano -I`.
//!
//! Times run from the key to the last byte of the answer, medians of three rounds each. Programs that
//! are not there are said and left out. Reports; never fails on time.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::fs::OpenOptions;
use std::io::{Read, Write};
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

const SAMPLES: usize = 200;
const ROUNDS: usize = 3;
/// No byte for so long: the answer is over.
const QUIET: Duration = Duration::from_millis(12);

/// A program in a pty.
struct Pty {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    bytes: Receiver<(Instant, usize)>,
    started: Instant,
    _master: Box<dyn MasterPty + Send>,
}

impl Pty {
    fn start(command: CommandBuilder) -> Self {
        let size = PtySize {
            rows: 40,
            cols: 120,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).unwrap();
        let mut reader = pair.master.try_clone_reader().unwrap();
        let (send, bytes) = channel();
        let started = Instant::now();
        let child = pair.slave.spawn_command(command).unwrap();
        std::thread::spawn(move || {
            let mut buffer = [0; 65536];
            while let Ok(n) = reader.read(&mut buffer) {
                if n == 0 || send.send((Instant::now(), n)).is_err() {
                    break;
                }
            }
        });
        let keys = pair.master.take_writer().unwrap();
        Self {
            child,
            keys,
            bytes,
            started,
            _master: pair.master,
        }
    }

    /// When the last byte before a silence came.
    fn settle(&mut self, wait: Duration, quiet: Duration) -> Option<Instant> {
        let mut last = self.bytes.recv_timeout(wait).ok()?.0;
        while let Ok((at, _)) = self.bytes.recv_timeout(quiet) {
            last = at;
        }
        Some(last)
    }

    /// From the start to the first frame.
    fn first_frame(&mut self) -> Duration {
        let quiet = Duration::from_millis(150);
        let last = self.settle(Duration::from_secs(10), quiet).unwrap();
        last - self.started
    }

    /// From the key to the last byte of its answer.
    fn key(&mut self, key: &[u8]) -> Duration {
        let start = Instant::now();
        self.keys.write_all(key).unwrap();
        self.keys.flush().unwrap();
        let last = self.settle(Duration::from_secs(2), QUIET);
        last.map_or(Duration::from_secs(2), |last| last - start)
    }

    fn peak_kb(&self) -> u64 {
        let pid = self.child.process_id().unwrap_or(0);
        let status = std::fs::read_to_string(format!("/proc/{pid}/status")).unwrap_or_default();
        let line = status.lines().find(|line| line.starts_with("VmHWM"));
        line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok())
            .unwrap_or(0)
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn median(mut times: Vec<Duration>) -> f64 {
    times.sort_unstable();
    times[times.len() / 2].as_secs_f64() * 1e6
}

/// Keys in turn, medians of the rounds.
fn rounds(pty: &mut Pty, keys: [&[u8]; 2]) -> Vec<f64> {
    (0..ROUNDS)
        .map(|_| {
            let times = (0..SAMPLES).map(|at| pty.key(keys[at % 2])).collect();
            median(times)
        })
        .collect()
}

fn shown(times: &[f64]) -> String {
    let list: Vec<String> = times.iter().map(|us| format!("{us:.0}")).collect();
    list.join(" / ")
}

fn mid(times: &[f64]) -> f64 {
    let mut sorted = times.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[sorted.len() / 2]
}

fn raw(program: &str) -> CommandBuilder {
    let mut command = CommandBuilder::new("sh");
    command.args(["-c", &format!("stty raw -echo; exec {program}")]);
    command
}

fn endsmeet(folder: &Path) -> CommandBuilder {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_endsmeet"));
    command.args(["resume", "hall-runner", "--guard-ms", "0", "--sessions"]);
    command.arg(folder);
    command.env("TERM", "xterm-256color");
    command.env("LANG", "C.UTF-8");
    command
}

/// The bare durable loop: run by this program itself in the pty.
fn floor(file: &str) {
    let mut file = OpenOptions::new()
        .create(true)
        .append(true)
        .open(file)
        .unwrap();
    let (mut input, mut output) = (std::io::stdin(), std::io::stdout());
    let (line, mut key) = ([b'x'; 150], [0; 16]);
    while let Ok(n) = input.read(&mut key) {
        if n == 0 {
            return;
        }
        file.write_all(&line).unwrap();
        file.sync_data().unwrap();
        output.write_all(&[b'y'; 49]).unwrap();
        output.flush().unwrap();
    }
}

fn half_done(folder: &Path) {
    std::fs::copy(
        "sessions/example-hall-runner.jsonl",
        folder.join("hall-runner.jsonl"),
    )
    .unwrap();
}

fn keys_bench(folder: &Path) {
    let me = std::env::current_exe().unwrap();
    let mut cat = Pty::start(raw("cat"));
    let bare = format!(
        "{} --floor {}",
        me.display(),
        folder.join("floor").display()
    );
    let mut durable = Pty::start(raw(&bare));
    let mut ours = Pty::start(endsmeet(folder));
    ours.first_frame();
    std::thread::sleep(Duration::from_millis(300));
    let cat_us = rounds(&mut cat, [b"a", b"b"]);
    // the look on coming back is open: a digit is typed and taken out again, nothing is saved
    let unsaved = rounds(&mut ours, [b"7", b"\x7f"]);
    ours.key(b"2");
    ours.key(b"\r");
    let floor_us = rounds(&mut durable, [b"a", b"b"]);
    let saved = rounds(&mut ours, [b" ", b"\x1b[D"]);
    let floor_again = rounds(&mut durable, [b"a", b"b"]);
    let floor_mid = f64::midpoint(mid(&floor_us), mid(&floor_again));
    println!("raw cat                       {} us", shown(&cat_us));
    println!(
        "key shown, nothing saved      {} us  {:.2}x cat (goal 1.35)",
        shown(&unsaved),
        mid(&unsaved) / mid(&cat_us)
    );
    println!(
        "bare durable loop             {} | {} us",
        shown(&floor_us),
        shown(&floor_again)
    );
    println!(
        "press saved and shown         {} us  {:.2}x the durable loop (goal 1.5, stretch 1.25)",
        shown(&saved),
        mid(&saved) / floor_mid
    );
}

fn is_there(program: &str) -> bool {
    let paths = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&paths).any(|folder| folder.join(program).is_file())
}

fn started(name: &str, make: &dyn Fn() -> CommandBuilder) -> (f64, u64) {
    let mut peak = 0;
    let times: Vec<Duration> = (0..15)
        .map(|_| {
            let mut pty = Pty::start(make());
            let time = pty.first_frame();
            peak = pty.peak_kb();
            time
        })
        .collect();
    let us = median(times);
    println!(
        "start: {name:<24} {:.1} ms, peak {:.1} MB",
        us / 1000.0,
        peak as f64 / 1024.0
    );
    (us, peak)
}

fn other(words: &[&str], file: &Path) -> CommandBuilder {
    let mut command = CommandBuilder::new(words[0]);
    command.args(&words[1..]);
    command.arg(file);
    command.env("TERM", "xterm-256color");
    command
}

fn start_bench(folder: &Path) {
    let file = folder.join("hall-runner.jsonl");
    let (ours, peak) = started("endsmeet, half-done runner", &|| {
        half_done(folder);
        endsmeet(folder)
    });
    for words in [&["vim", "-u", "NONE", "-n"][..], &["less"], &["nano", "-I"]] {
        if !is_there(words[0]) {
            println!("{} is not there: left out", words[0]);
            continue;
        }
        let name = words.join(" ");
        let (theirs, their_peak) = started(&name, &|| other(words, &file));
        println!(
            "       endsmeet is {:.2}x its start, {:.2}x its memory",
            ours / theirs,
            peak as f64 / their_peak.max(1) as f64
        );
    }
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    if words.get(1).is_some_and(|word| word == "--floor") {
        return floor(&words[2]);
    }
    let folder = tempfile::tempdir().unwrap();
    half_done(folder.path());
    keys_bench(folder.path());
    start_bench(folder.path());
}
