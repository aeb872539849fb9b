//! The program in a real terminal of 120x40, side by side with others in one run:
//! `cargo bench --bench pty`.
//!
//! - keys: a press saved and shown against a bare loop that appends as many bytes, syncs and answers,
//!   and against a database; a key that saves nothing against raw `cat`, `less`, `vim` and `nano`;
//!   their bytes and write calls; growth from the runner to 100,000 ends;
//! - starts: to the first full frame, warm and with the system's caches dropped, with 5,000 entries of
//!   history; peak memory, and its growth over a long sitting;
//! - idle: what the program does while nothing is pressed; the size of the binary.
//!
//! Times run from the key to the last byte of the answer. Every ratio is of one run, the floor timed
//! before and after. Programs that are not there are said and left out. Reports; never fails on time.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

mod keys;
mod programs;
mod sitting;
mod starts;
mod terminal;

fn main() {
    let words: Vec<String> = std::env::args().collect();
    if words.get(1).is_some_and(|word| word == "--floor") {
        return programs::bare_loop(&words[2]);
    }
    let folder = tempfile::tempdir().unwrap();
    keys::bench(folder.path());
    starts::bench(folder.path());
    sitting::bench(folder.path());
}
