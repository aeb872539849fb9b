//! Line mode: plain lines in, plain lines out. The same engine and words as the screen; no
//! alternate screen, no cursor movement, no box drawing. Owns the loop over lines.

use super::line_words::{Typed, WORDS, read};
use crate::dressing::{Dressing, View, When};
use crate::journal::keep::{Keep, NotDone};
use crate::method::Method;
use crate::words::{self, page};
use std::io::{self, BufRead, Write};

/// How line mode ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// She left, or the input ended; everything is saved.
    Left,
    /// The loom is ready, and nothing else is asked.
    Ready,
}

/// Runs line mode until the input ends, she leaves, or the loom is ready.
///
/// # Errors
/// Only from reading and writing lines.
pub fn run(
    keeper: &mut dyn Keep,
    method: &Method,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    now: &mut dyn FnMut() -> When,
) -> io::Result<Ended> {
    writeln!(
        out,
        "endsmeet, line mode: an empty line is \"done\", help lists the words."
    )?;
    show(keeper.dressing(), method, out)?;
    let mut line = String::new();
    loop {
        write!(out, "> ")?;
        out.flush()?;
        line.clear();
        if input.read_line(&mut line)? == 0 {
            writeln!(out)?;
            writeln!(out, "{}", words::lines::END_OF_INPUT)?;
            return Ok(Ended::Left);
        }
        if let Some(ended) = take(&line, keeper, method, out, now())? {
            return Ok(ended);
        }
    }
}

/// Takes one typed line; `Some` when that ended line mode.
///
/// # Errors
/// From writing.
pub fn take(
    line: &str,
    keeper: &mut dyn Keep,
    method: &Method,
    out: &mut dyn Write,
    when: When,
) -> io::Result<Option<Ended>> {
    match read(line, keeper.dressing()) {
        Typed::Ask(ask) => {
            let asked = keeper.ask(&ask, when);
            answer(&asked, keeper.dressing(), method, out)?;
            let ready = matches!(keeper.dressing().view(), View::Ready(_));
            return Ok((asked.is_ok() && ready).then_some(Ended::Ready));
        }
        Typed::SayAgain => show(keeper.dressing(), method, out)?,
        Typed::Help => help(keeper.dressing(), method, out)?,
        Typed::Leave => {
            writeln!(out, "{}", words::lines::LEFT)?;
            return Ok(Some(Ended::Left));
        }
        Typed::Unknown { said, near } => writeln!(out, "{}", words::lines::unknown(&said, near))?,
        Typed::Wrong(why) => writeln!(out, "{why}")?,
    }
    Ok(None)
}

/// Leads through the practice warp, with what to try said beside each page.
///
/// # Errors
/// Only from reading and writing lines.
pub fn practise(
    keeper: &mut dyn Keep,
    method: &Method,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    now: &mut dyn FnMut() -> When,
) -> io::Result<Ended> {
    writeln!(
        out,
        "endsmeet, practice in lines: an empty line is \"done\", quit leaves."
    )?;
    show(keeper.dressing(), method, out)?;
    let mut line = String::new();
    loop {
        for hint in words::coach::hint(keeper.dressing()) {
            writeln!(out, "  * {hint}")?;
        }
        write!(out, "> ")?;
        out.flush()?;
        line.clear();
        if input.read_line(&mut line)? == 0 {
            writeln!(out)?;
            return Ok(Ended::Left);
        }
        if let Some(ended) = take(&line, keeper, method, out, now())? {
            return Ok(ended);
        }
        if words::coach::is_over(keeper.dressing()) {
            writeln!(out, "\n{}", words::coach::OVER)?;
            return Ok(Ended::Ready);
        }
        if let Some(ask) = words::coach::turn_of_events(keeper.dressing()) {
            writeln!(out, "\n{}", words::coach::NIGHT)?;
            answer(&keeper.ask(&ask, now()), keeper.dressing(), method, out)?;
        }
    }
}

fn answer(
    asked: &Result<crate::dressing::Entry, NotDone>,
    dressing: &Dressing,
    method: &Method,
    out: &mut dyn Write,
) -> io::Result<()> {
    match asked {
        Ok(entry) => {
            if let Some(line) = words::lines::what_happened(entry, method) {
                writeln!(out, "{line}")?;
            }
            show(dressing, method, out)
        }
        Err(NotDone::Refused(refusal)) => {
            writeln!(out, "{}", words::refusals::refusal(refusal, method))
        }
        Err(NotDone::NotSaved(why)) => writeln!(out, "NOT SAVED. {why}"),
    }
}

/// The step in lines.
///
/// # Errors
/// From writing.
pub fn show(dressing: &Dressing, method: &Method, out: &mut dyn Write) -> io::Result<()> {
    let page = page(&dressing.view(), dressing.plan(), method);
    writeln!(out)?;
    writeln!(out, "{}", page.heading)?;
    for line in page.lines.iter().chain(&page.typed) {
        writeln!(out, "  {line}")?;
    }
    if let Some(caution) = &page.caution {
        writeln!(out, "  Caution: {caution}")?;
    }
    Ok(())
}

fn help(dressing: &Dressing, method: &Method, out: &mut dyn Write) -> io::Result<()> {
    for line in words::lines::more(dressing, method) {
        writeln!(out, "  {line}")?;
    }
    writeln!(out, "Words:")?;
    for row in &WORDS {
        let words: Vec<&str> = row
            .words
            .iter()
            .copied()
            .filter(|word| !word.is_empty())
            .collect();
        writeln!(
            out,
            "  {:<32} {}",
            format!("{} {}", words.join(", "), row.with),
            row.does
        )?;
    }
    Ok(())
}
