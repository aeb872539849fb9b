//! The program with pipes in place of a terminal, and what its files hold.

use endsmeet::journal::kept::Keeper;
use endsmeet::journal::{Access, Disk, ReadOnly, RealDisk, State};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Output, Stdio};
use std::sync::Arc;
use std::time::{Duration, Instant};

pub const PROGRAM: &str = env!("CARGO_BIN_EXE_endsmeet");
pub const RUNNER: &str = "assets/demo/hall-runner.json";
/// However busy the machine is, nothing that is waited for takes longer.
pub const PATIENCE: Duration = Duration::from_secs(60);

/// Random numbers (SplitMix64), the same for the same seed.
#[derive(Debug)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % n.max(1)
    }

    pub fn of<'a, T: ?Sized>(&mut self, all: &[&'a T]) -> &'a T {
        all[self.below(all.len() as u64) as usize]
    }

    pub fn pause(&mut self, below_ms: u64) {
        std::thread::sleep(Duration::from_micros(self.below(below_ms * 1_000)));
    }
}

/// The program in line mode, dressings in `folder`.
pub fn command(folder: &Path, words: &[&str]) -> Command {
    dressed_by(Command::new(PROGRAM), folder, words)
}

/// The same through another program, which is given the program's path and its words.
pub fn through(mut other: Command, folder: &Path, words: &[&str]) -> Command {
    other.arg(PROGRAM);
    dressed_by(other, folder, words)
}

/// The same for a program that has its path already.
pub fn dressed_by(mut command: Command, folder: &Path, words: &[&str]) -> Command {
    command
        .args(words)
        .arg("--line")
        .arg("--sessions")
        .arg(folder)
        .env_remove("ENDSMEET_SESSIONS")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// Runs to the end with nothing typed.
pub fn run(folder: &Path, words: &[&str]) -> Output {
    command(folder, words).output().unwrap()
}

pub fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

/// The program in line mode while it goes on.
pub struct Lines {
    pub child: Child,
    input: Option<ChildStdin>,
    output: ChildStdout,
}

impl Lines {
    /// Starts it and waits for its first question.
    pub fn start(folder: &Path, words: &[&str]) -> Self {
        Self::of(command(folder, words))
    }

    pub fn of(mut command: Command) -> Self {
        let mut child = command.stdin(Stdio::piped()).spawn().unwrap();
        let input = child.stdin.take();
        let output = child.stdout.take().unwrap();
        let mut lines = Self {
            child,
            input,
            output,
        };
        lines.answer();
        lines
    }

    /// What is said up to the next prompt, or to the end.
    fn answer(&mut self) -> String {
        let mut said = Vec::new();
        let mut piece = [0; 4096];
        while !said.ends_with(b"> ") {
            match self.output.read(&mut piece) {
                Ok(0) | Err(_) => break,
                Ok(n) => said.extend_from_slice(&piece[..n]),
            }
        }
        String::from_utf8(said).unwrap()
    }

    pub fn type_line(&mut self, line: &str) -> String {
        let input = self.input.as_mut().unwrap();
        if writeln!(input, "{line}")
            .and_then(|()| input.flush())
            .is_err()
        {
            return String::new();
        }
        self.answer()
    }

    /// Ends the input and waits for the program's end; its code, and what it still said.
    pub fn end(mut self) -> (Option<i32>, String) {
        drop(self.input.take());
        let mut rest = String::new();
        let _ = self.output.read_to_string(&mut rest);
        if let Some(mut complaints) = self.child.stderr.take() {
            let _ = complaints.read_to_string(&mut rest);
        }
        (self.child.wait().unwrap().code(), rest)
    }
}

impl Drop for Lines {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Waits for the end; `None` where it does not come.
pub fn ended(child: &mut Child) -> Option<std::process::ExitStatus> {
    let start = Instant::now();
    while start.elapsed() < PATIENCE {
        if let Some(status) = child.try_wait().unwrap() {
            return Some(status);
        }
        std::thread::sleep(Duration::from_millis(3));
    }
    let _ = child.kill();
    None
}

/// How many entries a file holds, and whether the next start will find its last line torn. Only looked
/// at: a lock taken here would live on for a moment in what other tests start.
pub fn entries(path: &Path) -> (u64, State) {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let loaded = Keeper::load(&disk, path, Access::ReadOnly).unwrap();
    let entries = loaded.keeper.entries().len() as u64;
    if loaded.state != State::ReadOnly(ReadOnly::Asked) {
        return (entries, loaded.state);
    }
    let bytes = std::fs::read(path).unwrap();
    let lines = bytes.iter().filter(|byte| **byte == b'\n').count() as u64;
    let torn = State::TornTail {
        set_aside: path.to_owned(),
        bytes: 0,
    };
    let whole = bytes.ends_with(b"\n") && lines == entries + 1;
    (entries, if whole { State::Clean } else { torn })
}

pub fn runner(folder: &Path) -> PathBuf {
    folder.join("hall-runner.jsonl")
}
