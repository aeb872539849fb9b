//! The table of settings. Owns each one's name, meaning, range and how it is read.

use super::{Awake, Colour, Settings};
use crate::hand::{Key, Opens};
use crate::terminal::signal::For;
use crate::voice::Much;
use std::path::PathBuf;
use std::time::Duration;

/// One setting.
pub struct Row {
    /// Its name in the file; the option is the same with hyphens.
    pub key: &'static str,
    /// What it is for.
    pub about: &'static str,
    /// What it may be.
    pub takes: &'static str,
    /// What it is where nothing is said.
    pub usual: &'static str,
    /// Whether its value is a text in quotes in the file.
    pub quoted: bool,
    /// Sets it; `None` where the value does not do.
    pub set: fn(&mut Settings, &str) -> Option<()>,
    /// What it is now, as text.
    pub now: fn(&Settings) -> String,
}

/// Every setting, at most 20.
pub const ROWS: [Row; 19] = [
    Row {
        key: "say",
        about: "How much a voice says.",
        takes: "all, calls (what to do now) or nothing",
        usual: "nothing",
        quoted: true,
        set: |s, v| {
            s.say = match v {
                "all" => Much::All,
                "calls" => Much::Calls,
                "nothing" => Much::Nothing,
                _ => return None,
            };
            Some(())
        },
        now: |s| match s.say {
            Much::All => "all".to_owned(),
            Much::Calls => "calls".to_owned(),
            Much::Nothing => "nothing".to_owned(),
        },
    },
    Row {
        key: "speed",
        about: "How fast the voice speaks, in words a minute.",
        takes: "a whole number from 80 to 450",
        usual: "160",
        quoted: false,
        set: |s, v| number(v, 80, 450).map(|n| s.speed = n as u16),
        now: |s| s.speed.to_string(),
    },
    Row {
        key: "voice",
        about: "The voice command. Words go to its standard input, or behind -- where it ends in --. Nothing: the first that is there of spd-say, espeak-ng and the system's own voice.",
        takes: "a program and its arguments, divided by spaces, or nothing",
        usual: "",
        quoted: true,
        set: |s, v| {
            s.voice = v.to_owned();
            Some(())
        },
        now: |s| s.voice.clone(),
    },
    Row {
        key: "guard_ms",
        about: "For so long after a press the same one is not taken again, in milliseconds.",
        takes: "a whole number from 0 to 5000",
        usual: "700",
        quoted: false,
        set: |s, v| ms(v, 0, 5000).map(|d| s.hand.guard = d),
        now: |s| s.hand.guard.as_millis().to_string(),
    },
    Row {
        key: "quiet_ms",
        about: "And until its key was quiet for so long, in milliseconds.",
        takes: "a whole number from 0 to 2000",
        usual: "150",
        quoted: false,
        set: |s, v| ms(v, 0, 2000).map(|d| s.hand.quiet = d),
        now: |s| s.hand.quiet.as_millis().to_string(),
    },
    Row {
        key: "hold_ms",
        about: "A press held for so long opens the menu, in milliseconds.",
        takes: "a whole number from 300 to 5000",
        usual: "1200",
        quoted: false,
        set: |s, v| ms(v, 300, 5000).map(|d| s.hand.hold = d),
        now: |s| s.hand.hold.as_millis().to_string(),
    },
    Row {
        key: "lit_seconds",
        about: "In the menu and in answers each item is lit for so many seconds.",
        takes: "a number from 0.1 to 20",
        usual: "2",
        quoted: false,
        set: |s, v| {
            let seconds: f64 = v.parse().ok()?;
            let fits = (0.1..=20.0).contains(&seconds);
            fits.then(|| s.hand.lit = Duration::from_secs_f64(seconds))
        },
        now: |s| s.hand.lit.as_secs_f64().to_string(),
    },
    Row {
        key: "opens",
        about: "What opens the menu: holding the button, or three quick presses where a pedal does not repeat. The pedal test of doctor finds out.",
        takes: "hold or triple",
        usual: "hold",
        quoted: true,
        set: |s, v| {
            s.hand.opens = match v {
                "hold" => Opens::Hold,
                "triple" => Opens::Triple,
                _ => return None,
            };
            Some(())
        },
        now: |s| match s.hand.opens {
            Opens::Hold => "hold".to_owned(),
            Opens::Triple => "triple".to_owned(),
        },
    },
    Row {
        key: "one_button",
        about: "Whether answers are lit in turn, for a hand or foot with one button.",
        takes: "true or false",
        usual: "false",
        quoted: false,
        set: |s, v| yes(v).map(|y| s.hand.one_button = y),
        now: |s| s.hand.one_button.to_string(),
    },
    Row {
        key: "pedal",
        about: "A key that means next beside the usual ones: what the pedal sends.",
        takes: "a key's name, as F13, PageDown, b or Ctrl-n, or nothing",
        usual: "",
        quoted: true,
        set: |s, v| {
            s.hand.pedal = if v.is_empty() {
                None
            } else {
                Some(Key::named(v).filter(|key| key.digit().is_none())?)
            };
            Some(())
        },
        now: |s| s.hand.pedal.map_or_else(String::new, |key| key.name()),
    },
    Row {
        key: "size",
        about: "The smallest size of the distance chart that you can read from the loom. Where the window is too small for it, that is said.",
        takes: "1, 2 or 3",
        usual: "1",
        quoted: false,
        set: |s, v| number(v, 1, 3).map(|n| s.size = n as u8),
        now: |s| s.size.to_string(),
    },
    Row {
        key: "flash",
        about: "What the top and the bottom row flash for: once for done, twice for not taken, three times for a look.",
        takes: "all, alarms (not taken, and looks) or off",
        usual: "alarms",
        quoted: true,
        set: |s, v| signals(v).map(|f| s.signals.flash = f),
        now: |s| signals_now(s.signals.flash),
    },
    Row {
        key: "bell",
        about: "What the bell rings for, in the same numbers.",
        takes: "all, alarms (not taken, and looks) or off",
        usual: "alarms",
        quoted: true,
        set: |s, v| signals(v).map(|f| s.signals.bell = f),
        now: |s| signals_now(s.signals.bell),
    },
    Row {
        key: "color",
        about: "When colours are used. Auto: where the terminal can and NO_COLOR is not set.",
        takes: "auto, always or never",
        usual: "auto",
        quoted: true,
        set: |s, v| {
            s.colour = match v {
                "auto" => Colour::Auto,
                "always" => Colour::Always,
                "never" => Colour::Never,
                _ => return None,
            };
            Some(())
        },
        now: |s| match s.colour {
            Colour::Auto => "auto".to_owned(),
            Colour::Always => "always".to_owned(),
            Colour::Never => "never".to_owned(),
        },
    },
    Row {
        key: "ascii",
        about: "Whether digits and letters are drawn with reversed spaces instead of block elements.",
        takes: "true or false",
        usual: "false",
        quoted: false,
        set: |s, v| yes(v).map(|y| s.ascii = y),
        now: |s| s.ascii.to_string(),
    },
    Row {
        key: "keep_awake",
        about: "What keeps the screen awake while you are at the loom: a command that runs as long, or auto for the system's own.",
        takes: "off, auto, or a program and its arguments",
        usual: "off",
        quoted: true,
        set: |s, v| {
            s.keep_awake = match v {
                "" | "off" | "false" => Awake::Off,
                "auto" | "true" => Awake::Auto,
                command => Awake::Command(command.to_owned()),
            };
            Some(())
        },
        now: |s| match &s.keep_awake {
            Awake::Off => "off".to_owned(),
            Awake::Auto => "auto".to_owned(),
            Awake::Command(command) => command.clone(),
        },
    },
    Row {
        key: "sessions",
        about: "The folder of the dressings, where neither --sessions, the environment nor a folder sessions here gives one.",
        takes: "a folder's path, or nothing for the user's data folder",
        usual: "",
        quoted: true,
        set: |s, v| {
            s.folder = path(v);
            Some(())
        },
        now: |s| shown(s.folder.as_ref()),
    },
    Row {
        key: "line",
        about: "Whether plain lines are used instead of the full screen.",
        takes: "true or false",
        usual: "false",
        quoted: false,
        set: |s, v| yes(v).map(|y| s.line = y),
        now: |s| s.line.to_string(),
    },
    Row {
        key: "method",
        about: "A house's own wording of the steps.",
        takes: "a file's path, or nothing",
        usual: "",
        quoted: true,
        set: |s, v| {
            s.method = path(v);
            Some(())
        },
        now: |s| shown(s.method.as_ref()),
    },
];

/// The setting of that name; hyphens do for underscores.
#[must_use]
pub fn row(key: &str) -> Option<&'static Row> {
    let key = key.replace('-', "_");
    ROWS.iter().find(|row| row.key == key)
}

fn number(value: &str, least: u64, most: u64) -> Option<u64> {
    value.parse().ok().filter(|n| (least..=most).contains(n))
}

fn ms(value: &str, least: u64, most: u64) -> Option<Duration> {
    number(value, least, most).map(Duration::from_millis)
}

fn yes(value: &str) -> Option<bool> {
    match value {
        "true" | "yes" | "on" => Some(true),
        "false" | "no" | "off" => Some(false),
        _ => None,
    }
}

fn signals(value: &str) -> Option<For> {
    match value {
        "all" => Some(For::All),
        "alarms" => Some(For::Alarms),
        "off" => Some(For::Off),
        _ => None,
    }
}

fn signals_now(now: For) -> String {
    match now {
        For::All => "all",
        For::Alarms => "alarms",
        For::Off => "off",
    }
    .to_owned()
}

fn path(value: &str) -> Option<PathBuf> {
    (!value.is_empty()).then(|| PathBuf::from(value))
}

fn shown(path: Option<&PathBuf>) -> String {
    path.map_or_else(String::new, |path| path.display().to_string())
}
