//! `doctor`: what terminal, voice, folder, clock, pedal and settings can do, in sentences. Owns
//! finding it out; changes nothing but the settings, and those only where she says so.

use super::args::Args;
use super::doctor_tests::tests;
use super::files::shown;
use super::settings::{self, ROWS};
use super::{Failure, Out, done, dress, screen, speech};
use crate::journal::folder::{Choice, Why};
use crate::terminal::driver::Clock;
use crate::terminal::screens::LEAST;
use crate::voice::Much;
use crate::words::wrap::wrapped;
use serde_json::{Value, json};
use std::io::{self, IsTerminal};
use std::path::Path;
use std::process::ExitCode;

/// One thing that was looked at.
struct Finding {
    about: &'static str,
    good: bool,
    says: String,
}

fn finding(about: &'static str, good: bool, says: String) -> Finding {
    Finding { about, good, says }
}

/// `doctor`.
///
/// # Errors
/// The settings could not be saved after a test.
pub fn doctor(args: &Args, out: &mut Out) -> Result<ExitCode, Failure> {
    let mut findings = terminal(args);
    findings.push(voice(args));
    findings.extend(folder(args));
    findings.push(clock());
    findings.push(pedal(args));
    findings.push(awake(args));
    findings.extend(settings_file(args));
    if args.json {
        let list: Vec<Value> = findings
            .iter()
            .map(|f| json!({ "about": f.about, "good": f.good, "says": f.says }))
            .collect();
        let settings: serde_json::Map<String, Value> = ROWS
            .iter()
            .map(|row| {
                (
                    row.key.to_owned(),
                    json!((row.now)(&args.settings.settings)),
                )
            })
            .collect();
        out.json(&json!({ "schema": 1, "findings": list, "settings": settings }));
        return done();
    }
    // whole lines for whatever reads them, rows for whoever does
    let width = if io::stdout().is_terminal() { 76 } else { 4096 };
    for finding in &findings {
        let mark = if finding.good { " " } else { "!" };
        let rows = wrapped(&format!("{}: {}", finding.about, finding.says), width);
        out.text(&format!("{mark} {}", rows.join("\n    ")));
    }
    if screen::is_wanted(args) && io::stdin().is_terminal() {
        return tests(args, out);
    }
    done()
}

fn terminal(args: &Args) -> Vec<Finding> {
    let both = io::stdin().is_terminal() && io::stdout().is_terminal();
    let term = std::env::var("TERM").unwrap_or_default();
    let says = if screen::is_wanted(args) {
        format!("{term}, with the full screen.")
    } else if both {
        format!(
            "{}; plain lines are used.",
            if term.is_empty() {
                "no kind is said"
            } else {
                &term
            }
        )
    } else {
        "input or output is no terminal, so plain lines are used.".to_owned()
    };
    let mut found = vec![finding("terminal", true, says)];
    if both && let Ok((wide, tall)) = crate::terminal::size() {
        let fits = wide >= LEAST.0 && tall >= LEAST.1;
        let says = if fits {
            format!("{wide}x{tall}; {}x{} is enough.", LEAST.0, LEAST.1)
        } else {
            crate::words::screen_words::too_small(LEAST, (wide, tall)) + "."
        };
        found.push(finding("window", fits, says));
    }
    let (colours, blocks) = screen::can(args);
    found.push(finding(
        "colours",
        true,
        if colours {
            "white and three colours on black."
        } else {
            "none; bold and reversed letters are used."
        }
        .to_owned(),
    ));
    found.push(finding(
        "letters",
        true,
        if blocks {
            "large letters are drawn with blocks."
        } else {
            "large letters are drawn with reversed spaces, since no UTF-8 is said or ascii is set."
        }
        .to_owned(),
    ));
    found.push(finding(
        "focus",
        true,
        "asked of the terminal; the pedal test shows whether it tells when another window has the presses.".to_owned(),
    ));
    found
}

fn voice(args: &Args) -> Finding {
    let settings = &args.settings.settings;
    let found = speech::found(args);
    let much = match settings.say {
        Much::All => "everything is said",
        Much::Calls => "calls are said",
        Much::Nothing => "it is off (turn it on with --say all)",
    };
    match found.first() {
        Some(first) => {
            let file = shown(&first.program.file);
            let says = format!("{file}, {} words a minute; {much}.", settings.speed);
            finding("voice", true, says)
        }
        None if settings.voice.is_empty() => finding(
            "voice",
            settings.say == Much::Nothing,
            format!(
                "none is there (spd-say, espeak-ng or the system's own); {much}. All else works without."
            ),
        ),
        None => finding(
            "voice",
            false,
            format!(
                "the command {} is not there; {much}. Name another with --voice.",
                crate::quantity::harmless(&settings.voice)
            ),
        ),
    }
}

fn folder(args: &Args) -> Vec<Finding> {
    let choice = match dress::folder_of(args) {
        Ok(choice) => choice,
        Err(failure) => return vec![finding("folder", false, failure.says)],
    };
    let why = why(choice.why);
    let mut found = vec![writable(&choice, why)];
    for (why_other, other) in &choice.others {
        if let Some(other) = other {
            let says = format!(
                "{} was not taken ({}).",
                shown(other),
                why_words(*why_other)
            );
            found.push(finding("elsewhere", true, says));
        }
    }
    found
}

fn why(why: Why) -> &'static str {
    why_words(why)
}

fn why_words(why: Why) -> &'static str {
    match why {
        Why::Option => "named with --sessions",
        Why::Variable => "named in the environment",
        Why::Here => "a folder sessions stands here",
        Why::Settings => "named in the settings",
        Why::Data => "your own data folder",
    }
}

/// Whether a file can be made, locked and removed there; an existing folder is tried, a missing one
/// is not made.
fn writable(choice: &Choice, why: &str) -> Finding {
    let name = shown(&choice.folder);
    if !choice.folder.exists() {
        let says = format!("{name} ({why}) is not there yet; the first dressing makes it.");
        return finding("folder", true, says);
    }
    match tried(&choice.folder) {
        Ok(true) => finding(
            "folder",
            true,
            format!(
                "{name} ({why}): can be written, and two windows cannot spoil each other's work."
            ),
        ),
        Ok(false) => finding(
            "folder",
            true,
            format!(
                "{name} ({why}): can be written, but this disk has no locks: open a dressing in one window only."
            ),
        ),
        Err(error) => finding(
            "folder",
            false,
            format!(
                "{name} ({why}) cannot be written: {error}. See who owns it, or name another with --sessions."
            ),
        ),
    }
}

fn tried(folder: &Path) -> io::Result<bool> {
    let file = tempfile::NamedTempFile::new_in(folder)?;
    io::Write::write_all(&mut file.as_file(), b"endsmeet doctor\n")?;
    file.as_file().sync_all()?;
    Ok(file.as_file().try_lock().is_ok())
}

fn clock() -> Finding {
    let now = Clock::default().when().wall;
    // a clock that was never set stands at its beginning; the work does not depend on it
    let set = now.format("%Y").to_string().as_str() >= "2020";
    let says = if set {
        format!(
            "{}.",
            now.format("%A, %-d %B %Y, %H:%M, %:z from Greenwich")
        )
    } else {
        format!(
            "it says {}, so the log will too. Set the clock; nothing else depends on it.",
            now.format("%Y")
        )
    };
    finding("clock", set, says)
}

fn pedal(args: &Args) -> Finding {
    let hand = &args.settings.settings.hand;
    let says = match hand.pedal {
        Some(key) => format!("{} means next, beside Space.", key.name()),
        None => {
            "any that sends Space, Enter, Right, Down or PageDown; the pedal test binds another."
                .to_owned()
        }
    };
    finding("pedal", true, says)
}

fn awake(args: &Args) -> Finding {
    match super::awake::command(&args.settings.settings.keep_awake) {
        Ok(Some(words)) => finding(
            "screen",
            true,
            format!("kept awake by {}.", words.join(" ")),
        ),
        Ok(None) => finding(
            "screen",
            true,
            "not kept awake; --keep-awake auto does, where the system can.".to_owned(),
        ),
        Err(why) => finding("screen", false, why),
    }
}

fn settings_file(args: &Args) -> Vec<Finding> {
    let loaded = &args.settings;
    let says = match &loaded.file {
        None => "this user has no configuration folder; options do the same.".to_owned(),
        Some(file) if loaded.read => format!("read from {}.", shown(file)),
        Some(file) => format!("{} is not there; the usual ones hold.", shown(file)),
    };
    let mut found = vec![finding("settings", true, says)];
    let usual = settings::Settings::default();
    let changed = ROWS
        .iter()
        .filter(|row| (row.now)(&loaded.settings) != (row.now)(&usual));
    found.extend(changed.map(|row| {
        finding(
            "set",
            true,
            settings::line(row, &(row.now)(&loaded.settings)),
        )
    }));
    found.extend(
        loaded
            .warnings
            .iter()
            .map(|why| finding("settings", false, why.clone())),
    );
    found
}
