//! Line mode: plain lines in, plain lines out. The same engine and words as the screen; no
//! alternate screen, no cursor movement, no box drawing. Owns the loop over lines.

use super::driver::Say;
use super::line_words::{Typed, WORDS, read};
use super::slip::Slips;
use crate::dressing::{Dressing, Mood, View, When};
use crate::journal::keep::{Keep, NotDone};
use crate::method::Method;
use crate::words::spoken::{Purpose, Said};
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
    say: &mut Say,
) -> io::Result<Ended> {
    run_with_slips(keeper, method, (input, out), now, say, &mut no_slips)
}

/// The same with somebody who keeps the slip.
///
/// # Errors
/// Only from reading and writing lines.
pub fn run_with_slips(
    keeper: &mut dyn Keep,
    method: &Method,
    (input, out): (&mut dyn BufRead, &mut dyn Write),
    now: &mut dyn FnMut() -> When,
    say: &mut Say,
    slips: &mut Slips,
) -> io::Result<Ended> {
    writeln!(
        out,
        "endsmeet, line mode: an empty line is \"done\", help lists the words."
    )?;
    show(keeper.dressing(), method, out)?;
    speak(vec![spoken(keeper.dressing(), method)], out, say)?;
    let mut line = String::new();
    loop {
        if !typed(&mut line, input, out)? {
            writeln!(out, "{}", words::lines::END_OF_INPUT)?;
            return Ok(Ended::Left);
        }
        let mut said = Vec::new();
        let ended = if read(&line, keeper.dressing()) == Typed::Slip {
            let kept = slips(keeper.dressing());
            remark(&words::lines::slip_told(&kept), (out, &mut said))?;
            None
        } else {
            take_saying(&line, keeper, method, (out, &mut said), now())?
        };
        speak(said, out, say)?;
        match ended {
            None => {}
            Some(Ended::Left) => {
                writeln!(out, "{}", words::lines::LEFT)?;
                return Ok(Ended::Left);
            }
            Some(Ended::Ready) => return Ok(Ended::Ready),
        }
    }
}

/// Nobody keeps a slip.
fn no_slips(_: &Dressing) -> Result<String, String> {
    Err(words::lines::NO_SLIP.to_owned())
}

/// Asks for a line and reads it; `false` where the input has come to its end.
pub(super) fn typed(
    line: &mut String,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> io::Result<bool> {
    write!(out, "> ")?;
    out.flush()?;
    line.clear();
    if input.read_line(line)? > 0 {
        return Ok(true);
    }
    writeln!(out)?;
    Ok(false)
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
    take_saying(line, keeper, method, (out, &mut Vec::new()), when)
}

/// The same, and what a voice says of it.
fn take_saying(
    line: &str,
    keeper: &mut dyn Keep,
    method: &Method,
    (out, said): (&mut dyn Write, &mut Vec<Said>),
    when: When,
) -> io::Result<Option<Ended>> {
    match read(line, keeper.dressing()) {
        Typed::Ask(ask) => {
            let asked = keeper.ask(&ask, when);
            answer(&asked, keeper.dressing(), method, (out, said))?;
            let ready = matches!(keeper.dressing().view(), View::Ready(_));
            return Ok((asked.is_ok() && ready).then_some(Ended::Ready));
        }
        Typed::SayAgain => {
            show(keeper.dressing(), method, out)?;
            said.push(spoken(keeper.dressing(), method));
        }
        Typed::Where => {
            for line in words::status::whole(keeper.dressing(), method) {
                writeln!(out, "  {line}")?;
            }
        }
        Typed::NoSuchWay { said: number, of } => {
            let why = words::lines::no_such_way(number, of);
            remark(&why, (out, said))?;
        }
        Typed::Slip => {
            let kept = no_slips(keeper.dressing());
            remark(&words::lines::slip_told(&kept), (out, said))?;
        }
        Typed::Help => help(keeper.dressing(), method, out)?,
        Typed::Leave => return Ok(Some(Ended::Left)),
        Typed::Unknown { said: word, near } => {
            let why = words::lines::unknown(&word, near);
            remark(&why, (out, said))?;
        }
        Typed::Wrong(why) => remark(why, (out, said))?,
        Typed::Tell(lines) => {
            for line in lines {
                writeln!(out, "{line}")?;
            }
        }
    }
    Ok(None)
}

/// A sentence that is written and said.
fn remark(sentence: &str, (out, said): (&mut dyn Write, &mut Vec<Said>)) -> io::Result<()> {
    said.push(Said::new(Purpose::Remark, sentence));
    writeln!(out, "{sentence}")
}

/// The page with the notes that belong to it.
fn page_here(dressing: &Dressing, method: &Method) -> words::Page {
    let view = dressing.view();
    page(&view, dressing.plan(), method).with_notes(&view, &dressing.notes_here())
}

/// The page as a voice says it.
fn spoken(dressing: &Dressing, method: &Method) -> Said {
    let page = page_here(dressing, method);
    Said::new(Purpose::Call, &page.say)
}

/// Gives the voice its sentences, and writes the notice where it has none.
fn speak(said: Vec<Said>, out: &mut dyn Write, say: &mut Say) -> io::Result<()> {
    if said.is_empty() {
        return Ok(());
    }
    match say(said) {
        Some(notice) => writeln!(out, "{notice}"),
        None => Ok(()),
    }
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
    say: &mut Say,
) -> io::Result<Ended> {
    writeln!(
        out,
        "endsmeet, practice in lines: an empty line is \"done\", quit leaves."
    )?;
    show(keeper.dressing(), method, out)?;
    speak(vec![spoken(keeper.dressing(), method)], out, say)?;
    let mut line = String::new();
    loop {
        for hint in words::coach::hint(keeper.dressing(), words::coach::Button::Lines) {
            writeln!(out, "  * {hint}")?;
        }
        let mut said = Vec::new();
        let ended = match typed(&mut line, input, out)? {
            true => take_saying(&line, keeper, method, (out, &mut said), now())?,
            false => Some(Ended::Left),
        };
        speak(said, out, say)?;
        if let Some(ended) = ended {
            if ended == Ended::Left {
                writeln!(out, "{}", words::coach::LEFT)?;
            }
            return Ok(ended);
        }
        if words::coach::is_over(keeper.dressing()) {
            writeln!(out, "\n{}", words::coach::OVER)?;
            return Ok(Ended::Ready);
        }
        if let Some(ask) = words::coach::turn_of_events(keeper.dressing()) {
            writeln!(out, "\n{}", words::coach::NIGHT)?;
            let mut said = vec![Said::new(Purpose::Remark, words::coach::NIGHT)];
            let asked = keeper.ask(&ask, now());
            answer(&asked, keeper.dressing(), method, (out, &mut said))?;
            speak(said, out, say)?;
        }
    }
}

fn answer(
    asked: &Result<crate::dressing::Entry, NotDone>,
    dressing: &Dressing,
    method: &Method,
    (out, said): (&mut dyn Write, &mut Vec<Said>),
) -> io::Result<()> {
    match asked {
        Ok(entry) => {
            if let Some(line) = words::lines::what_happened(entry, dressing, method) {
                remark(&line, (out, said))?;
            }
            said.push(spoken(dressing, method));
            show(dressing, method, out)
        }
        Err(NotDone::Refused(refusal)) => {
            remark(&words::refusals::refusal(refusal, method), (out, said))
        }
        Err(NotDone::NotSaved(why)) => remark(&format!("NOT SAVED. {why}"), (out, said)),
    }
}

/// The step in lines.
///
/// # Errors
/// From writing.
pub fn show(dressing: &Dressing, method: &Method, out: &mut dyn Write) -> io::Result<()> {
    let page = page_here(dressing, method);
    writeln!(out)?;
    writeln!(out, "{}", page.heading)?;
    for line in page.lines.iter().chain(&page.typed) {
        writeln!(out, "  {line}")?;
    }
    if let Some(caution) = &page.caution {
        writeln!(out, "  Caution: {caution}")?;
    }
    if let Some(found) = dressing.about().disagreement
        && dressing.mood() == &Mood::Working
    {
        let said = words::status::disagreement(&found);
        writeln!(out, "  {said} The first that disagrees. Trace it: reopen.")?;
    }
    Ok(())
}

fn help(dressing: &Dressing, method: &Method, out: &mut dyn Write) -> io::Result<()> {
    for line in words::lines::more(dressing, method) {
        writeln!(out, "  {line}")?;
    }
    writeln!(out, "Words:")?;
    for row in WORDS {
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
