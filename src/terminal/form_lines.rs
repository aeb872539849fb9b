//! The form of a plan in plain lines. Owns the loop over lines; the form itself is the plan's.

use crate::plan::form::{FIELDS, Form};
use crate::plan::{Figures, LoomCard, Problem};
use crate::words::{form_figures, form_words};
use std::io::{self, BufRead, Write};

/// How the form ended.
#[derive(Debug)]
pub enum FormEnded {
    /// The plan fits and is to be dressed.
    Done(Box<Figures>),
    /// Left half-way; what was answered is kept.
    Left,
}

/// What the form needs from outside: keeping itself half-way, and loom cards by name.
pub trait FormOutside {
    /// Keeps the form as it stands.
    ///
    /// # Errors
    /// A sentence why it could not be kept.
    fn keep(&mut self, form: &Form) -> Result<(), String>;

    /// The loom card of that name or file.
    ///
    /// # Errors
    /// A sentence why there is none.
    fn card(&mut self, name: &str) -> Result<LoomCard, String>;

    /// The names of the loom cards that are kept.
    fn cards(&mut self) -> Vec<String>;

    /// Keeps the loom of the plan so far as a card of that name.
    ///
    /// # Errors
    /// A sentence why it could not be kept.
    fn keep_card(&mut self, name: &str, form: &Form) -> Result<(), String>;
}

/// Leads through the form until the plan fits and is done, or she leaves.
///
/// # Errors
/// Only from reading and writing lines.
pub fn run(
    form: &mut Form,
    outside: &mut dyn FormOutside,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
) -> io::Result<FormEnded> {
    writeln!(out, "{}, in lines.", form_words::HEADING)?;
    for line in form_words::HOW {
        writeln!(out, "{line}")?;
    }
    let mut line = String::new();
    ask(form, out)?;
    loop {
        if !super::lines::typed(&mut line, input, out)? {
            return Ok(FormEnded::Left);
        }
        match take(form, outside, line.trim(), out)? {
            Step::Ask => ask(form, out)?,
            Step::Stay => {}
            Step::End(ended) => return Ok(ended),
        }
    }
}

/// What comes after a line.
enum Step {
    /// The field in hand is asked.
    Ask,
    /// Nothing is asked anew.
    Stay,
    /// The form is at its end.
    End(FormEnded),
}

fn take(
    form: &mut Form,
    outside: &mut dyn FormOutside,
    line: &str,
    out: &mut dyn Write,
) -> io::Result<Step> {
    let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
    match (word, rest.trim()) {
        ("quit" | "q", "") => return Ok(Step::End(FormEnded::Left)),
        ("done", "") => return done(form, out),
        ("back", "") => {
            form.back();
        }
        ("show", "") => {
            show(form, out)?;
            return Ok(Step::Stay);
        }
        ("clear", "") => {
            // a blank is never refused
            let _ = form.set("");
            if let Err(why) = outside.keep(form) {
                writeln!(out, "{}", form_words::not_saved(&why))?;
            }
        }
        ("figures", "") => {
            let figures = form.figures();
            tell(out, &form_figures::figures(&figures))?;
            tell(out, &form_words::does_not_fit(&figures.problems))?;
            tell(out, &form_words::worth_knowing(&figures.remarks))?;
            return Ok(Step::Stay);
        }
        ("go", meant) if !form.go_to(meant) => {
            writeln!(out, "{}", form_words::no_field(meant))?;
            return Ok(Step::Stay);
        }
        ("go", _) => {}
        ("card", name) if !name.is_empty() => match outside.card(name) {
            Ok(card) => form.use_card(&card),
            Err(why) => {
                writeln!(out, "{why}")?;
                return Ok(Step::Stay);
            }
        },
        _ => return answer(form, outside, line, out),
    }
    Ok(Step::Ask)
}

/// An answer to the field in hand; an empty one lets the usual stand.
fn answer(
    form: &mut Form,
    outside: &mut dyn FormOutside,
    line: &str,
    out: &mut dyn Write,
) -> io::Result<Step> {
    if !line.is_empty() {
        let field = form.field();
        if let Err(problems) = form.set(line) {
            for problem in &problems {
                writeln!(out, "  {}.", form_words::not_taken(field, problem))?;
                if let Problem::Threading { fault, .. } = problem {
                    let caret = " ".repeat(fault.caret);
                    writeln!(out, "    {}\n    {caret}^", fault.excerpt)?;
                }
            }
            return Ok(Step::Stay);
        }
        if let Err(why) = outside.keep(form) {
            writeln!(out, "{}", form_words::not_saved(&why))?;
        }
        so_far(form, out)?;
    }
    if !form.onward() {
        writeln!(out, "{}", form_words::LAST_IN_LINES)?;
        return Ok(Step::Stay);
    }
    Ok(Step::Ask)
}

/// What the answers come to, and how far the form is.
fn so_far(form: &Form, out: &mut dyn Write) -> io::Result<()> {
    let figures = form.figures();
    tell(out, &form_figures::live(&figures))?;
    let far = form_words::how_far(form, &figures, form_words::DONE_IN_LINES);
    writeln!(out, "  {far}")
}

fn tell(out: &mut dyn Write, lines: &[String]) -> io::Result<()> {
    for line in lines {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

fn done(form: &mut Form, out: &mut dyn Write) -> io::Result<Step> {
    let figures = form.figures();
    if form_words::is_ready(&figures) {
        return Ok(Step::End(FormEnded::Done(Box::new(figures))));
    }
    tell(out, &form_words::does_not_fit(&figures.problems))?;
    let far = form_words::how_far(form, &figures, form_words::DONE_IN_LINES);
    writeln!(out, "Not yet. {far}")?;
    match form.still_needed().first() {
        Some(field) => {
            form.go(field.key);
            Ok(Step::Ask)
        }
        None => Ok(Step::Stay),
    }
}

fn ask(form: &Form, out: &mut dyn Write) -> io::Result<()> {
    let figures = form.figures();
    let usual = Form::usual(&figures, form.field().key);
    writeln!(out)?;
    for line in form_words::asks(form, usual.as_deref()) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

fn show(form: &Form, out: &mut dyn Write) -> io::Result<()> {
    let figures = form.figures();
    for (number, field) in (1..).zip(FIELDS) {
        let (mark, value) = form_words::standing(form, &figures, field);
        writeln!(out, "  {number:>2} {mark} {:<29} {value}", field.asks)?;
    }
    so_far(form, out)
}
