//! The form of a plan in plain lines. Owns the loop over lines; the form itself is the plan's.

use crate::plan::form::{FIELDS, Form};
use crate::plan::{Figures, LoomCard, Problem};
use crate::words::form_words;
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
    writeln!(out, "endsmeet, a new plan in lines. {}", form_words::HOW)?;
    let mut line = String::new();
    ask(form, out)?;
    loop {
        write!(out, "> ")?;
        out.flush()?;
        line.clear();
        if input.read_line(&mut line)? == 0 {
            writeln!(out)?;
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
        ("go", key) if !form.go(key) => {
            let keys: Vec<&str> = FIELDS.iter().map(|field| field.key).collect();
            writeln!(
                out,
                "There is no field {key}. There are: {}.",
                keys.join(", ")
            )?;
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
        if let Err(problems) = form.set(line) {
            for problem in problems {
                writeln!(out, "{problem}.")?;
            }
            return Ok(Step::Stay);
        }
        if let Err(why) = outside.keep(form) {
            writeln!(out, "NOT SAVED. {why}")?;
        }
        for told in form_words::live(&form.figures()) {
            writeln!(out, "  {told}")?;
        }
    }
    if !form.forward() {
        writeln!(
            out,
            "That was the last field. Type done, or go NAME to change one."
        )?;
        return Ok(Step::Stay);
    }
    Ok(Step::Ask)
}

fn done(form: &Form, out: &mut dyn Write) -> io::Result<Step> {
    let figures = form.figures();
    if figures.problems.is_empty() {
        return Ok(Step::End(FormEnded::Done(Box::new(figures))));
    }
    writeln!(out, "{}", form_words::still_needed(&figures))?;
    for problem in &figures.problems {
        writeln!(out, "  {}.", said(problem))?;
    }
    Ok(Step::Stay)
}

fn said(problem: &Problem) -> String {
    problem.to_string()
}

fn ask(form: &Form, out: &mut dyn Write) -> io::Result<()> {
    let figures = form.figures();
    let field = form.field();
    let usual = Form::usual(&figures, field.key);
    writeln!(out)?;
    for line in form_words::asks(
        field,
        form.place(),
        form.answer(field.key),
        usual.as_deref(),
    ) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

fn show(form: &Form, out: &mut dyn Write) -> io::Result<()> {
    let figures = form.figures();
    for field in FIELDS {
        let usual = Form::usual(&figures, field.key);
        let value = match (form.answer(field.key), usual) {
            (Some(answer), _) => answer.to_owned(),
            (None, Some(usual)) => format!("({usual})"),
            (None, None) => "-".to_owned(),
        };
        writeln!(out, "  {:<22} {value}", field.key)?;
    }
    for told in form_words::live(&figures) {
        writeln!(out, "  {told}")?;
    }
    Ok(())
}
