//! The first start: a voice, the pedal test and the distance chart, offered on the home screen until
//! they were gone through once. Owns the offer and what is kept of it; each check is elsewhere.

use super::args::Args;
use super::settings::edit;
use super::settings::row;
use super::{Failure, doctor_tests, screen};
use crate::hand::Settings;
use crate::terminal::driver::{self, Clock};
use crate::terminal::home::{Home, HomeItem};
use crate::terminal::home_lines;
use crate::voice::Much;
use crate::words::checks as words;
use std::io;

/// Whether the offer was never gone through: the settings have a place, and no file is there yet.
#[must_use]
pub fn is_first(args: &Args) -> bool {
    args.settings
        .file
        .as_ref()
        .is_some_and(|file| !args.settings.read && !file.exists())
}

/// Leads through the three as often as she likes; the settings in force afterwards. Going on keeps the
/// settings file, so that the offer is made once; `doctor` has the three always.
///
/// # Errors
/// What the system says of the terminal.
pub fn set_up(args: &mut Args) -> Result<(), Failure> {
    let mut notice = Vec::new();
    loop {
        let taken = choose(args, std::mem::take(&mut notice)).map_err(|error| gone(&error))?;
        let changes = match taken {
            Some(1) => Some(vec![("say", louder(args).to_owned())]),
            Some(2) => doctor_tests::pedal_tested(args)?,
            Some(3) => doctor_tests::chart_read(args)?,
            _ => {
                // a settings file that cannot be kept only means that the offer comes again
                let _ = keep(args, &[]);
                return Ok(());
            }
        };
        if let Some(changes) = changes {
            notice = kept(args, &changes);
        }
    }
}

fn gone(error: &io::Error) -> Failure {
    Failure::refused(format!(
        "The terminal could not be read or written: {error}."
    ))
}

/// The next more talkative way, and off after the last.
fn louder(args: &Args) -> &'static str {
    match args.settings.settings.say {
        Much::Nothing => "calls",
        Much::Calls => "all",
        Much::All => "nothing",
    }
}

/// The list of the three, lit in turn; it speaks by itself where a voice is on.
fn choose(args: &Args, notice: Vec<String>) -> io::Result<Option<usize>> {
    let say = args.settings.settings.say;
    if !screen::is_wanted(args) {
        return choose_in_lines(say, &notice);
    }
    let items = words::first_items(say == Much::Nothing, say == Much::All);
    let items = items.map(|name| HomeItem {
        name: name.to_owned(),
        standing: String::new(),
    });
    let hand = Settings {
        one_button: true,
        ..args.settings.settings.hand
    };
    let mut lines = vec![words::FIRST_LINE.to_owned()];
    lines.extend(notice);
    let mut list = Home::new(items.to_vec(), lines, hand, screen::manner(args))
        .named(words::FIRST, words::FIRST_FAR);
    let mut voice = super::speech::voice(args);
    driver::run(&mut list, Clock::default(), &mut |said| {
        super::speech::say(&mut voice, said)
    })?;
    Ok(list.chosen())
}

/// The same in lines; the pedal and the letters only where there is a terminal to try them on.
fn choose_in_lines(say: Much, notice: &[String]) -> io::Result<Option<usize>> {
    let items = words::first_items(say == Much::Nothing, say == Much::All);
    let tried = if screen::can_draw() { items.len() } else { 2 };
    let items = items.map(|name| HomeItem {
        name: name.to_owned(),
        standing: String::new(),
    });
    let (mut input, mut output) = (io::stdin().lock(), io::stdout().lock());
    let chosen = home_lines::choose(&items[..tried], notice, &mut input, &mut output)?;
    // an empty line is the first, and leaving is going on
    Ok(chosen.filter(|&n| n > 0))
}

/// Keeps the changes and takes the settings anew; what is to be said of it.
fn kept(args: &mut Args, changes: &[(&'static str, String)]) -> Vec<String> {
    match keep(args, changes) {
        Ok(()) => match args.settle() {
            Ok(()) => Vec::new(),
            Err(why) => vec![why],
        },
        Err(error) => vec![format!(
            "The settings cannot be kept: {error}. Give them as options instead."
        )],
    }
}

fn keep(args: &Args, changes: &[(&'static str, String)]) -> io::Result<()> {
    let Some(file) = &args.settings.file else {
        return Ok(());
    };
    let rows = changes
        .iter()
        .filter_map(|(key, value)| Some((row(key)?, value.clone())));
    edit::save(file, &rows.collect::<Vec<_>>())
}
