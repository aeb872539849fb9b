//! A program in a pty, timed from outside. Owns the pty and the clock; knows no program.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// No byte for so long: the answer is over.
const QUIET: Duration = Duration::from_millis(12);

/// A program in a pty.
pub struct Pty {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    bytes: Receiver<(Instant, usize)>,
    started: Instant,
    master: Box<dyn MasterPty + Send>,
}

/// One answer to a key.
#[derive(Debug, Clone, Copy)]
pub struct Answer {
    /// From the key to the last byte.
    pub time: Duration,
    /// Its bytes.
    pub bytes: usize,
}

fn size(rows: u16, cols: u16) -> PtySize {
    PtySize {
        rows,
        cols,
        pixel_width: 0,
        pixel_height: 0,
    }
}

impl Pty {
    /// Starts the program in a window of 120 by 40.
    pub fn start(command: CommandBuilder) -> Self {
        Self::sized(command, (40, 120))
    }

    /// Starts the program in a window of so many rows and columns.
    pub fn sized(command: CommandBuilder, (rows, cols): (u16, u16)) -> Self {
        let pair = native_pty_system().openpty(size(rows, cols)).unwrap();
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
            master: pair.master,
        }
    }

    /// When the last byte before a silence came, and how many came.
    fn settle(&mut self, wait: Duration, quiet: Duration) -> Option<(Instant, usize)> {
        let (mut last, mut bytes) = self.bytes.recv_timeout(wait).ok()?;
        while let Ok((at, more)) = self.bytes.recv_timeout(quiet) {
            (last, bytes) = (at, bytes + more);
        }
        Some((last, bytes))
    }

    /// From the start to the first frame.
    pub fn first_frame(&mut self) -> Answer {
        let quiet = Duration::from_millis(150);
        let (last, bytes) = self.settle(Duration::from_secs(10), quiet).unwrap();
        let time = last - self.started;
        Answer { time, bytes }
    }

    /// Gives a key and waits for its answer.
    pub fn key(&mut self, key: &[u8]) -> Answer {
        let start = Instant::now();
        self.keys.write_all(key).unwrap();
        self.keys.flush().unwrap();
        match self.settle(Duration::from_secs(2), QUIET) {
            Some((last, bytes)) => Answer {
                time: last - start,
                bytes,
            },
            None => Answer {
                time: Duration::from_secs(2),
                bytes: 0,
            },
        }
    }

    /// Gives a key and waits for the first byte of its answer only.
    pub fn key_at_once(&mut self, key: &[u8]) {
        while self.bytes.try_recv().is_ok() {}
        self.keys.write_all(key).unwrap();
        self.keys.flush().unwrap();
        let _ = self.bytes.recv_timeout(Duration::from_secs(2));
    }

    /// Gives the window another size and lets the answer pass.
    pub fn resize(&mut self, rows: u16, cols: u16) {
        self.master.resize(size(rows, cols)).unwrap();
        self.settle(Duration::from_millis(200), Duration::from_millis(1));
    }

    /// How many bytes come within a time in which nothing is pressed.
    pub fn bytes_within(&mut self, time: Duration) -> usize {
        let end = Instant::now() + time;
        let mut bytes = 0;
        while let Ok((_, n)) = self
            .bytes
            .recv_timeout(end.saturating_duration_since(Instant::now()))
        {
            bytes += n;
        }
        bytes
    }

    fn of_process(&self, file: &str, key: &str) -> Option<u64> {
        let pid = self.child.process_id()?;
        let text = std::fs::read_to_string(format!("/proc/{pid}/{file}")).ok()?;
        number(&text, key)
    }

    /// The most memory that it had, in KB; 0 where the system does not say.
    pub fn peak_kb(&self) -> u64 {
        self.of_process("status", "VmHWM").unwrap_or(0)
    }

    /// The memory that it has now, in KB.
    pub fn now_kb(&self) -> u64 {
        self.of_process("status", "VmRSS").unwrap_or(0)
    }

    /// How many writes it has asked the system for, where the system counts them.
    pub fn writes(&self) -> Option<u64> {
        self.of_process("io", "syscw")
    }

    /// How often its threads have gone to sleep by themselves, each a sign of having woken.
    pub fn sleeps(&self) -> Option<u64> {
        let pid = self.child.process_id()?;
        let threads = std::fs::read_dir(format!("/proc/{pid}/task")).ok()?;
        let of = |thread: std::fs::DirEntry| {
            let text = std::fs::read_to_string(thread.path().join("status")).ok()?;
            number(&text, "voluntary_ctxt_switches")
        };
        Some(threads.flatten().filter_map(of).sum())
    }
}

/// The number behind a key of a file of the system's.
fn number(text: &str, key: &str) -> Option<u64> {
    let line = text.lines().find(|line| line.starts_with(key))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The median of times, in microseconds.
pub fn median(times: impl IntoIterator<Item = Duration>) -> f64 {
    at_share(times, 0.5)
}

/// The time below which this share of the times lies, in microseconds.
pub fn at_share(times: impl IntoIterator<Item = Duration>, share: f64) -> f64 {
    let mut times: Vec<Duration> = times.into_iter().collect();
    times.sort_unstable();
    let place = (times.len() as f64 * share) as usize;
    let time = times.get(place.min(times.len().saturating_sub(1)));
    time.map_or(f64::NAN, |time| time.as_secs_f64() * 1e6)
}
