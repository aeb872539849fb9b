//! The home screen as a command, and the practice warp. Owns what is offered; the work is elsewhere.

use super::args::Args;
use super::dress::{EXAMPLE, Wanted, disk, folder_of, listed, new, resume, sentence};
use super::facts::method_of;
use super::files::shown;
use super::{Failure, Out, done};
use crate::dressing::Dressing;
use crate::journal::folder::Choice;
use crate::journal::keep::{InMemory, Keep};
use crate::journal::kept::Keeper;
use crate::journal::{Access, Listed, Standing};
use crate::method::Method;
use crate::quantity::harmless;
use crate::terminal::driver::Clock;
use crate::terminal::home::HomeItem;
use crate::terminal::{home_lines, lines};
use crate::words;
use serde_json::{Value, json};
use std::io::{self, IsTerminal};
use std::path::Path;
use std::process::ExitCode;

/// The practice warp.
const PRACTICE: &str = include_str!("../../assets/demo/practice.json");

/// `practice`: a small warp with things that go wrong; kept in memory only.
///
/// # Errors
/// The lines cannot be read or written.
pub fn practice(args: &Args) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let clock = Clock::default();
    let mut keeper = practice_warp(clock)?;
    let practised = if super::screen::is_wanted(args) {
        super::screen::sit(args, &mut keeper, &method, clock, None)
    } else {
        let (mut input, mut output) = (io::stdin().lock(), io::stdout().lock());
        let mut now = || clock.when();
        let mut voice = super::speech::voice(args);
        lines::practise(
            &mut keeper,
            &method,
            &mut input,
            &mut output,
            &mut now,
            &mut |said| super::speech::say(&mut voice, said),
        )
        .map(drop)
    };
    practised.map_err(|error| {
        Failure::refused(format!(
            "The lines could not be read or written any more: {error}."
        ))
    })?;
    done()
}

/// The practice warp, beamed already and waiting for its first batch.
fn practice_warp(clock: Clock) -> Result<InMemory, Failure> {
    let spec = crate::plan::read_spec(PRACTICE)
        .map_err(|problems| Failure::problems(Path::new("practice"), &problems))?;
    let figures = crate::plan::work_out(&spec);
    let plan = figures
        .plan()
        .ok_or_else(|| Failure::problems(Path::new("practice"), &figures.problems))?;
    let mut keeper = InMemory::new(Dressing::new(plan, &[]));
    crate::journal::keep::lead_to_first_batch(&mut keeper, clock.when());
    Ok(keeper)
}

/// `endsmeet` alone: the home screen, or the status where there is no terminal.
///
/// # Errors
/// The folder cannot be read.
pub fn home(args: &mut Args, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let choice = folder_of(args)?;
    let listed = listed(&choice)?;
    if args.json {
        out.json(&home_value(&choice, &listed));
        return done();
    }
    if super::screen::is_wanted(args) || io::stdin().is_terminal() || args.settings.settings.line {
        loop {
            match home_to_choose_from(args, &choice, &listed, &method, out)? {
                Some(code) => return Ok(code),
                None => super::first::set_up(args)?,
            }
        }
    }
    for line in status_lines(&choice, &listed, &method) {
        out.text(&line);
    }
    out.text("Go on with: endsmeet resume. A new one: endsmeet new. To learn: endsmeet practice.");
    done()
}

/// The home screen, or its lines where there is no screen: what was last worked on first, the
/// examples behind the weaver's own; then a new plan, and the practice warp; on the screen at the
/// first start the offer of voice, pedal and chart before all. `None` where that was taken.
fn home_to_choose_from(
    args: &Args,
    choice: &Choice,
    listed: &[Listed],
    method: &Method,
    out: &mut Out,
) -> Result<Option<ExitCode>, Failure> {
    let mut dressings: Vec<&Listed> = listed
        .iter()
        .filter(|item| matches!(item.standing, Standing::Dressing { .. }))
        .collect();
    dressings.sort_by_key(|item| item.stem.starts_with(EXAMPLE));
    let named = |(at, item): (usize, &&Listed)| HomeItem {
        name: words::screen_words::home_dressing(&harmless(&item.stem), at == 0),
        standing: how_far(&item.path, method),
    };
    let mut items: Vec<HomeItem> = dressings.iter().enumerate().map(named).collect();
    let left = super::form::is_left_half_way(&choice.folder);
    let last = [
        words::screen_words::home_new(left),
        words::screen_words::HOME_PRACTICE,
    ];
    items.extend(last.map(plain));
    let on_screen = super::screen::is_wanted(args);
    let offer = super::first::is_first(args).then(|| offered(&mut items, on_screen));
    let places = home_places(choice, listed);
    let chosen = if on_screen {
        super::screen::choose(args, items, places)
    } else {
        let (mut input, mut output) = (io::stdin().lock(), io::stdout().lock());
        home_lines::choose(&items, &places, &mut input, &mut output)
    };
    let chosen = chosen.map_err(|error| {
        Failure::refused(format!(
            "The terminal could not be read or written: {error}."
        ))
    })?;
    let Some(chosen) = chosen else {
        return done().map(Some);
    };
    if offer == Some(chosen) {
        return Ok(None);
    }
    let n = chosen - usize::from(offer == Some(0));
    match dressings.get(n) {
        Some(item) => resume(args, Some(item.stem.as_str()), false, out),
        None if n == dressings.len() => new(args, &Wanted::default(), out),
        None => practice(args),
    }
    .map(Some)
}

/// Puts what the first start offers among the items, and says where: before all on the screen; behind
/// the others in lines, so that their numbers are what they always are.
fn offered(items: &mut Vec<HomeItem>, on_screen: bool) -> usize {
    let at = if on_screen { 0 } else { items.len() };
    items.insert(at, plain(words::checks::FIRST_ITEM));
    at
}

fn plain(name: &str) -> HomeItem {
    HomeItem {
        name: name.to_owned(),
        standing: String::new(),
    }
}

/// Which folder is shown, what in it cannot be read, and where else nothing was looked for.
fn home_places(choice: &Choice, listed: &[Listed]) -> Vec<String> {
    let mut places = vec![format!("Dressings in {}", shown(&choice.folder))];
    places.extend(listed.iter().filter_map(|item| match &item.standing {
        Standing::Unreadable(error) => Some(format!("{}: {error}", harmless(&item.stem))),
        Standing::Dressing { .. } => None,
    }));
    places.extend(not_looked_into(choice));
    places
}

/// Folders that are there and could hold dressings too.
fn not_looked_into(choice: &Choice) -> impl Iterator<Item = String> {
    let others = choice.others.iter().filter_map(|(_, other)| other.as_ref());
    others
        .filter(|other| other.is_dir())
        .map(|other| format!("Not looked into: {}", shown(other)))
}

fn home_value(choice: &Choice, listed: &[Listed]) -> Value {
    let names: Vec<&str> = listed.iter().map(|item| item.stem.as_str()).collect();
    json!({
        "schema": 1,
        "folder": shown(&choice.folder),
        "dressings": names,
    })
}

/// Which folder, and each dressing with how far it is.
fn status_lines(choice: &Choice, listed: &[Listed], method: &Method) -> Vec<String> {
    let mut lines = vec![format!("Dressings in {}:", shown(&choice.folder))];
    for item in listed {
        lines.push(match &item.standing {
            Standing::Dressing { .. } => {
                format!(
                    "  {}: {}",
                    harmless(&item.stem),
                    how_far(&item.path, method)
                )
            }
            Standing::Unreadable(error) => format!("  {}: {error}", harmless(&item.stem)),
        });
    }
    if listed.is_empty() {
        lines.push("  none yet".to_owned());
    }
    lines.extend(not_looked_into(choice));
    lines
}

fn how_far(path: &Path, method: &Method) -> String {
    match Keeper::load(&disk(), path, Access::ReadOnly) {
        Ok(loaded) => {
            let dressing = loaded.keeper.dressing();
            let page = words::page(&dressing.view(), dressing.plan(), method);
            let last = words::status::stopped(dressing.about().last_work).unwrap_or_default();
            format!("{}. {last}", page.heading)
        }
        Err(error) => sentence(&error),
    }
}
