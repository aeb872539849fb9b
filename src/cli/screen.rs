//! The full screen as the command line asks for it: whether there is one, its colours and ink.

use super::args::Args;
use super::awake::KeptAwake;
use super::settings::Colour;
use super::speech;
use crate::hand::Settings;
use crate::journal::board::Board;
use crate::journal::keep::Keep;
use crate::method::Method;
use crate::plan::form::Form;
use crate::terminal::checks::too_small_to_read;
use crate::terminal::class_board::{ClassBoard, LogLines};
use crate::terminal::digits::Ink;
use crate::terminal::driver::{self, Clock};
use crate::terminal::form_lines::{FormEnded, FormOutside};
use crate::terminal::form_screen::FormScreen;
use crate::terminal::home::{Home, HomeItem};
use crate::terminal::saving::Saving;
use crate::terminal::screens::{Manner, Screen};
use crate::terminal::sitting::Sitting;
use crate::terminal::slip::Slips;
use crate::terminal::theme::Theme;
use std::io::{self, IsTerminal};

/// Whether the full screen is to be used: a terminal on both sides that can be drawn on, and plain
/// lines not asked for.
#[must_use]
pub fn is_wanted(args: &Args) -> bool {
    !args.settings.settings.line && can_draw()
}

/// Whether there is a terminal on both sides that can be drawn on.
#[must_use]
pub fn can_draw() -> bool {
    let can =
        std::env::var("TERM").map_or(cfg!(windows), |term| !term.is_empty() && term != "dumb");
    can && io::stdin().is_terminal() && io::stdout().is_terminal()
}

/// Colours and ink from the options and the environment.
#[must_use]
pub fn manner(args: &Args) -> Manner {
    let term = std::env::var("TERM").ok();
    let settings = &args.settings.settings;
    let no_color = match settings.colour {
        Colour::Always => false,
        Colour::Never => true,
        Colour::Auto => std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()),
    };
    let plain = settings.ascii || term.as_deref() == Some("linux") || !has_blocks();
    Manner {
        theme: Theme::for_terminal(no_color, term.as_deref()),
        ink: if plain { Ink::Reversed } else { Ink::Blocks },
    }
}

/// Whether a picture may be printed in colour: always or never where that is said, else where a terminal
/// with colours and block elements reads it.
#[must_use]
pub fn prints_colour(args: &Args) -> bool {
    let manner = manner(args);
    let can = manner.theme == Theme::Colour && io::stdout().is_terminal();
    let wanted = match args.settings.settings.colour {
        Colour::Always => true,
        Colour::Never => false,
        Colour::Auto => can,
    };
    wanted && manner.ink == Ink::Blocks
}

/// Whether colours are used, and whether block elements are.
#[must_use]
pub fn can(args: &Args) -> (bool, bool) {
    let manner = manner(args);
    (manner.theme == Theme::Colour, manner.ink == Ink::Blocks)
}

/// Whether the locale says UTF-8; on Windows the terminal is taken to have block elements.
fn has_blocks() -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
        .into_iter()
        .filter_map(|name| std::env::var(name).ok())
        .find(|value| !value.is_empty());
    locale.map_or(cfg!(windows), |locale| {
        let locale = locale.to_uppercase();
        locale.contains("UTF-8") || locale.contains("UTF8")
    })
}

/// The hand's settings.
fn settings(args: &Args) -> Settings {
    args.settings.settings.hand
}

/// Sits at the loom until the weaver leaves; where nobody keeps its slip it is the practice warp, whose
/// story is told.
///
/// # Errors
/// What the system says of the terminal.
pub fn sit(
    args: &Args,
    keeper: &mut dyn Keep,
    method: &Method,
    clock: Clock,
    slips: Option<Box<Slips>>,
) -> io::Result<()> {
    // which digit is lit first need only differ from time to time
    let mut lot = || (clock.when().wall.timestamp_subsec_millis() % 10) as u8;
    let sitting = Sitting::new(keeper, method, settings(args), manner(args), &mut lot)
        .with_saving(Saving::on_terminal(manner(args)));
    let practice = slips.is_none();
    let mut sitting = match slips {
        Some(slips) => sitting.with_slips(slips),
        None => sitting.with_practice(),
    };
    let settings = &args.settings.settings;
    let _awake = KeptAwake::start(&settings.keep_awake);
    let begins = practice || sitting.dressing().entries() == 0;
    if begins && super::first::is_first(args) {
        sitting.tell(crate::words::checks::FIRST_TELL);
    }
    if let Ok((width, height)) = crate::terminal::size()
        && let Some(small) = too_small_to_read(settings.size, (width, height))
    {
        sitting.tell(&small);
    }
    let mut voice = speech::voice(args);
    let mut say = |said| speech::say(&mut voice, said);
    driver::run_with(&mut sitting, clock, &mut say, settings.signals)
}

/// Leads through the form of a plan until it is done or left; `notice` is said first.
///
/// # Errors
/// What the system says of the terminal.
pub fn fill_in(
    args: &Args,
    form: &mut Form,
    outside: &mut dyn FormOutside,
    notice: Option<String>,
) -> io::Result<FormEnded> {
    let mut screen = FormScreen::new(form, outside, manner(args), notice);
    let mut voice = speech::voice(args);
    driver::run(&mut screen, Clock::default(), &mut |said| {
        speech::say(&mut voice, said)
    })?;
    Ok(screen.ended())
}

/// Shows the home screen; the item that was taken, `None` where the weaver left.
///
/// # Errors
/// What the system says of the terminal.
pub fn choose(args: &Args, items: Vec<HomeItem>, places: Vec<String>) -> io::Result<Option<usize>> {
    let mut home = Home::new(items, places, settings(args), manner(args));
    let mut voice = speech::voice(args);
    driver::run(&mut home, Clock::default(), &mut |said| {
        speech::say(&mut voice, said)
    })?;
    Ok(home.chosen())
}

/// Shows the class board until it is left.
///
/// # Errors
/// What the system says of the terminal.
pub fn board(args: &Args, board: Board, method: &Method, log: &LogLines) -> io::Result<()> {
    let clock = Clock::default();
    let now = clock.when().wall;
    let mut screen = ClassBoard::new(board, method, manner(args), log, now);
    driver::run(&mut screen, clock, &mut |_| None)
}
