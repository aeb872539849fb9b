//! The programs that are timed, and the dressings that they are given. Owns the command lines; times
//! nothing.

use chrono::{DateTime, FixedOffset};
use endsmeet::dressing::view::View;
use endsmeet::dressing::{Answer, Ask, When};
use endsmeet::journal::keep::Keep;
use endsmeet::journal::kept::{Keeper, Start};
use endsmeet::journal::{Disk, RealDisk, Rights};
use endsmeet::plan::{read_spec, work_out};
use portable_pty::CommandBuilder;
use std::fs::OpenOptions;
use std::io::{Read, Write};
use std::path::Path;
use std::sync::Arc;

/// The half-done runner, as it stands among the examples.
pub const RUNNER: &str = "hall-runner";

/// A loop in Python that commits a line to an SQLite database at each key, as durably as the log:
/// write-ahead log, full sync.
const SQLITE: &str = r#"
import os, sqlite3, sys
db = sqlite3.connect(sys.argv[1], isolation_level=None)
db.execute("pragma journal_mode=wal"); db.execute("pragma synchronous=full")
db.execute("create table log (line text)")
while os.read(0, 16):
    db.execute("insert into log values (?)", ("x" * 150,))
    os.write(1, b"y" * 49)
"#;

/// Whether a program is there to be started.
pub fn is_there(program: &str) -> bool {
    let paths = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&paths).any(|folder| folder.join(program).is_file())
}

fn words(list: &[&str]) -> CommandBuilder {
    let mut command = CommandBuilder::new(list[0]);
    command.args(&list[1..]);
    command.env("TERM", "xterm-256color");
    command.env("LANG", "C.UTF-8");
    command
}

/// A program behind raw input, as the loops want it.
fn raw(program: &str) -> CommandBuilder {
    words(&["sh", "-c", &format!("stty raw -echo; exec {program}")])
}

/// The floor for a key: it comes back as it is.
pub fn cat() -> CommandBuilder {
    raw("cat")
}

/// The floor for a key that is saved: this program itself, see [`bare_loop`].
pub fn durable(folder: &Path) -> CommandBuilder {
    let me = std::env::current_exe().unwrap();
    let file = folder.join("floor");
    raw(&format!("{} --floor {}", me.display(), file.display()))
}

/// The same through a database.
pub fn sqlite(folder: &Path) -> CommandBuilder {
    let script = folder.join("commit.py");
    std::fs::write(&script, SQLITE).unwrap();
    let file = folder.join("floor.db");
    raw(&format!("python3 {} {}", script.display(), file.display()))
}

/// Reads a key, appends 150 bytes, syncs, answers with 49.
pub fn bare_loop(file: &str) {
    let mut options = OpenOptions::new();
    let mut file = options.create(true).append(true).open(file).unwrap();
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

/// Another program with a file open.
pub fn other(list: &[&str], file: &Path) -> CommandBuilder {
    let mut command = words(list);
    command.arg(file);
    command
}

/// This program, going on with a dressing.
pub fn endsmeet(folder: &Path, name: &str) -> CommandBuilder {
    let mut command = words(&[env!("CARGO_BIN_EXE_endsmeet"), "resume", name]);
    command.args(["--guard-ms", "0", "--sessions"]);
    command.arg(folder);
    command
}

/// Puts the half-done runner into a folder.
pub fn half_done(folder: &Path) {
    let from = "sessions/example-hall-runner.jsonl";
    std::fs::copy(from, folder.join(format!("{RUNNER}.jsonl"))).unwrap();
}

fn when(ms: u64) -> When {
    let wall: DateTime<FixedOffset> = "2026-03-03T18:00:00+01:00".parse().unwrap();
    When {
        wall,
        elapsed_ms: ms,
    }
}

fn begin(folder: &Path, title: &str, ends: u32) -> Keeper {
    let text = format!(
        r#"{{ "endsmeet": 1, "title": "{title}", "sett": 100, "ends": {ends}, "threading": "1 2 3 4 3 2",
        "loom": {{"shafts": 4, "treadles": 4}}, "reeds": [{{"dents": 20, "length": 1500}}], "batch": 12 }}"#
    );
    let figures = work_out(&read_spec(&text).unwrap());
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let start = Start {
        spec: &figures.spec,
        plan: figures.plan().unwrap(),
        method: 0,
        left_out: Vec::new(),
        owner: None,
    };
    Keeper::create(&disk, folder, Rights::Umask, start, when(0)).unwrap()
}

/// A press further; looks are answered as the loom would.
fn go_on(keeper: &mut Keeper, ms: u64) {
    let dressing = keeper.dressing();
    let groups = dressing.plan().groups.len() as i64;
    let ask = match dressing.view() {
        View::Asking(_) => Ask::Answer(Answer::Number(groups)),
        View::Step(step) if step.optional => Ask::Skip,
        View::Turn(_) => Ask::Skip,
        _ => Ask::Next,
    };
    if keeper.ask(&ask, when(ms)).is_err() {
        keeper.ask(&Ask::Skip, when(ms)).unwrap();
    }
}

/// A dressing of so many ends at its first call, its file named for its title.
pub fn at_first_call(folder: &Path, title: &str, ends: u32) -> Keeper {
    let mut keeper = begin(folder, title, ends);
    while !matches!(keeper.dressing().view(), View::Call(_)) {
        go_on(&mut keeper, 0);
    }
    keeper
}

/// The same with so many entries in all: calls, and now and then one taken back.
pub fn with_history(folder: &Path, title: &str, ends: u32, entries: u64) {
    let mut keeper = at_first_call(folder, title, ends);
    while keeper.dressing().entries() < entries
        || !matches!(keeper.dressing().view(), View::Call(_))
    {
        let ms = keeper.dressing().entries() * 1000;
        go_on(&mut keeper, ms);
    }
}
