//! Replays a dressing's file frame by frame: each entry, and the page as it stood after it. For whoever
//! looks for the entry at which something went wrong. Reads only; writes nothing but its lines.
//!
//! ```text
//! cargo run --example frames -- sessions/example-hall-runner.jsonl 40 42
//! ```

use endsmeet::dressing::{Dressing, Entry};
use endsmeet::journal::kept::Keeper;
use endsmeet::journal::{Access, Disk, RealDisk};
use endsmeet::method::Method;
use endsmeet::words;
use std::error::Error;
use std::io::{self, Write};
use std::path::Path;
use std::sync::Arc;

const USAGE: &str =
    "Say which file, and if you like the first and the last entry: frames FILE [FROM [TO]]";

fn main() -> Result<(), Box<dyn Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    frames(&words, &mut io::stdout().lock())
}

/// Every frame that is wanted.
fn frames(words: &[String], out: &mut dyn Write) -> Result<(), Box<dyn Error>> {
    let file = words.first().ok_or(USAGE)?;
    let number = |at: usize, usual: u64| words.get(at).map_or(Ok(usual), |word| word.parse());
    let (from, to) = (number(1, 1)?, number(2, u64::MAX)?);
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let loaded = Keeper::load(&disk, Path::new(file), Access::ReadOnly)?;
    let (dressing, entries) = loaded.keeper.into_parts();
    let method = Method::embedded();
    let mut now = dressing.at_start();
    for entry in &entries {
        now.apply(entry);
        if (from..=to).contains(&entry.number) {
            frame(out, entry, &now, &method)?;
        }
    }
    Ok(())
}

/// One entry: its number and time, its events as they are stored in the machine, and the page after it.
fn frame(out: &mut dyn Write, entry: &Entry, now: &Dressing, method: &Method) -> io::Result<()> {
    let at = entry.when.wall.format("%Y-%m-%d %H:%M:%S");
    writeln!(
        out,
        "== {} == {at} == {} ms",
        entry.number, entry.when.elapsed_ms
    )?;
    for event in &entry.events {
        writeln!(out, "   {event:?}")?;
    }
    let page = words::page(&now.view(), now.plan(), method);
    writeln!(out, "{} [{}]", page.heading, page.far)?;
    for line in &page.lines {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_shows_its_entry_and_the_page_after_it() -> Result<(), Box<dyn Error>> {
        let words = ["sessions/example-hall-runner.jsonl", "15", "16"].map(str::to_owned);
        let mut out = Vec::new();
        frames(&words, &mut out)?;
        let said = String::from_utf8(out)?;
        assert_eq!(said.matches("\n   Marked").count(), 2, "{said}");
        assert!(said.starts_with("== 15 =="), "{said}");
        assert!(said.contains("Group 2"), "{said}");
        assert!(frames(&[], &mut Vec::new()).is_err());
        Ok(())
    }
}
