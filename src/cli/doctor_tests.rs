//! What `doctor` lets her try: the pedal, the distance chart, and keeping what was found. Owns no finding.

use super::args::Args;
use super::files::shown;
use super::settings::{self, edit, row};
use super::{Failure, Out, done, screen, speech};
use crate::hand::PedalVerdict;
use crate::terminal::checks::{ChartScreen, PedalScreen};
use crate::terminal::driver::{self, Clock};
use std::io::{self, BufRead};
use std::process::ExitCode;

/// What can be asked for after the findings.
const TESTS: &str = "
Type pedal for the pedal test, chart for the distance chart, file for a commented
settings file; an empty line leaves.";

/// The pedal test, the chart and the commented file, as often as she likes.
pub(super) fn tests(args: &Args, out: &mut Out) -> Result<ExitCode, Failure> {
    loop {
        out.text(TESTS);
        let mut line = String::new();
        let read = io::stdin().lock().read_line(&mut line);
        match line.trim() {
            _ if read.is_err() => return done(),
            "" | "q" | "quit" => return done(),
            "pedal" | "p" => pedal_test(args, out)?,
            "chart" | "c" => chart(args, out)?,
            "file" | "f" => keep(args, &[], out)?,
            _ => out.text(
                "That is none of the three. Type pedal, chart or file, or press Enter to leave.",
            ),
        }
    }
}

fn gone(error: &io::Error) -> Failure {
    Failure::refused(format!(
        "The terminal could not be used: {error}. Try another, or --line."
    ))
}

fn pedal_test(args: &Args, out: &mut Out) -> Result<(), Failure> {
    match pedal_tested(args)? {
        Some(changes) => keep(args, &changes, out),
        None => Ok(()),
    }
}

/// A setting and its new value.
type Change = (&'static str, String);

/// The pedal test; the settings that suit the pedal, where she wants them kept.
///
/// # Errors
/// The terminal cannot be used.
pub(super) fn pedal_tested(args: &Args) -> Result<Option<Vec<Change>>, Failure> {
    let mut test = PedalScreen::new(screen::manner(args));
    let mut voice = speech::voice(args);
    driver::run(&mut test, Clock::default(), &mut |said| {
        speech::say(&mut voice, said)
    })
    .map_err(|error| gone(&error))?;
    Ok(test.kept().map(|verdict| changes(args, verdict)))
}

fn changes(args: &Args, verdict: PedalVerdict) -> Vec<Change> {
    let mut changed = args.settings.settings.clone();
    changed.hand = verdict.settings(changed.hand);
    let keys = ["pedal", "opens", "guard_ms", "quiet_ms"];
    let rows = keys.into_iter().filter_map(row);
    rows.map(|row| (row.key, (row.now)(&changed))).collect()
}

fn chart(args: &Args, out: &mut Out) -> Result<(), Failure> {
    match chart_read(args)? {
        Some(changes) => keep(args, &changes, out),
        None => Ok(()),
    }
}

/// The distance chart; the size that she can read.
///
/// # Errors
/// The terminal cannot be used.
pub(super) fn chart_read(args: &Args) -> Result<Option<Vec<Change>>, Failure> {
    let mut chart = ChartScreen::new(screen::manner(args));
    let mut voice = speech::voice(args);
    driver::run(&mut chart, Clock::default(), &mut |said| {
        speech::say(&mut voice, said)
    })
    .map_err(|error| gone(&error))?;
    Ok(chart.read().map(|size| vec![("size", size.to_string())]))
}

/// Puts what was found into the settings file.
fn keep(args: &Args, changes: &[(&'static str, String)], out: &mut Out) -> Result<(), Failure> {
    let Some(file) = &args.settings.file else {
        return Err(Failure::refused(
            "This user has no configuration folder. Give the settings as options instead."
                .to_owned(),
        ));
    };
    let rows: Vec<_> = changes
        .iter()
        .filter_map(|(key, value)| Some((row(key)?, value.clone())))
        .collect();
    edit::save(file, &rows).map_err(|error| {
        Failure::refused(format!(
            "{} cannot be written: {error}. See who owns it.",
            shown(file)
        ))
    })?;
    out.text(&format!("Kept in {}", shown(file)));
    for (row, value) in &rows {
        out.text(&format!("  {}", settings::line(row, value)));
    }
    Ok(())
}
