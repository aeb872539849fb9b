//! A very long sitting: memory grows by what is remembered of each press and no more, and no file is
//! left open.
#![cfg(target_os = "linux")]

use super::common::count::{Row, trials};
use super::program::{RUNNER, command, ended, entries, runner};
use super::pty::folder;
use endsmeet::journal::State;
use std::io::{Read, Write};
use std::process::Stdio;

/// Bytes in memory, and open files.
fn held(pid: u32) -> (u64, usize) {
    let status = std::fs::read_to_string(format!("/proc/{pid}/status")).unwrap();
    let line = status
        .lines()
        .find(|line| line.starts_with("VmRSS"))
        .unwrap();
    let kilobytes: u64 = line.split_whitespace().nth(1).unwrap().parse().unwrap();
    let files = std::fs::read_dir(format!("/proc/{pid}/fd"))
        .unwrap()
        .count();
    (kilobytes * 1_024, files)
}

#[test]
fn a_long_sitting_leaks_neither_memory_nor_files() {
    let row = Row::begin("steps in one sitting, memory and files");
    let steps = trials(1_000, 100_000, 1_000_000);
    let folder = folder();
    let mut start = command(folder.path(), &["new", RUNNER]);
    let mut child = start
        .stdin(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let (mut input, mut output) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
    let reading = std::thread::spawn(move || {
        let mut piece = vec![0; 1 << 16];
        while output.read(&mut piece).is_ok_and(|n| n > 0) {}
    });
    let mut seen = Vec::new();
    for _ in 0..10 {
        for _ in 0..steps / 20 {
            input.write_all(b"\nback\n").unwrap();
        }
        input.flush().unwrap();
        at_rest(&runner(folder.path()));
        seen.push(held(child.id()));
    }
    drop(input);
    assert!(ended(&mut child).unwrap().success());
    reading.join().unwrap();
    assert_eq!(entries(&runner(folder.path())), (steps, State::Clean));
    let ((first, files), (last, files_at_end)) = (seen[0], seen[9]);
    let each = last.saturating_sub(first) / (steps * 9 / 10);
    assert!(files_at_end <= files, "{files} files became {files_at_end}");
    assert!(each < 2_000, "{each} bytes a step");
    row.done(
        steps,
        &format!(
            " steps, {each} bytes a step, {} MB at the end, {files_at_end} files open",
            last >> 20
        ),
    );
}

/// Waits until the file has not grown for a while: then the program waits for the next line.
fn at_rest(path: &std::path::Path) {
    let size = || std::fs::metadata(path).map_or(0, |data| data.len());
    let mut before = u64::MAX;
    while size() != before {
        before = size();
        std::thread::sleep(std::time::Duration::from_millis(400));
    }
}
