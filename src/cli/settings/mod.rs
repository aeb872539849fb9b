//! The user's settings: one table with a row each, from which the file, the flags, the warnings and
//! `doctor` are made. Owns what each may be and what it is where nothing is said; reads no file and
//! no environment (see `load`).

pub mod edit;
pub mod load;
mod table;

use crate::hand;
use crate::terminal::signal::Habits;
use crate::voice::Much;
use std::path::PathBuf;
pub use table::{ROWS, Row, row};

/// When colours are used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colour {
    /// Where the terminal can and `NO_COLOR` is not set.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// What keeps the screen awake.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Awake {
    /// Nothing.
    #[default]
    Off,
    /// The system's own command for it, where there is one.
    Auto,
    /// This command, run for as long as the program is at the loom.
    Command(String),
}

/// The settings in force.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The voice command; empty: whatever voice is there.
    pub voice: String,
    /// How much is said.
    pub say: Much,
    /// Words a minute, 80 to 450.
    pub speed: u16,
    /// Timings, the menu's opening, one button, the pedal's key.
    pub hand: hand::Settings,
    /// The size of letters that can be read from the loom, 1 to 3.
    pub size: u8,
    /// What the bell rings for, and what the top and bottom rows flash for.
    pub signals: Habits,
    /// When colours are used.
    pub colour: Colour,
    /// Whether block elements are left out.
    pub ascii: bool,
    /// What keeps the screen awake.
    pub keep_awake: Awake,
    /// The folder of the dressings, where neither the command line, the environment nor the current
    /// folder gives one.
    pub folder: Option<PathBuf>,
    /// Plain lines instead of the full screen.
    pub line: bool,
    /// A house's own wording of the steps.
    pub method: Option<PathBuf>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            voice: String::new(),
            say: Much::default(),
            speed: 160,
            hand: hand::Settings::default(),
            size: 1,
            signals: Habits::default(),
            colour: Colour::default(),
            ascii: false,
            keep_awake: Awake::default(),
            folder: None,
            line: false,
            method: None,
        }
    }
}

/// One thing that was said of a setting, in the file or on the command line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// The setting's name as given.
    pub key: String,
    /// Its value as text; numbers and yes or no are texts here too.
    pub value: String,
}

/// Why a pair was not taken, as a sentence that says what would do.
///
/// # Errors
/// The sentence; the settings are as they were.
pub fn set(settings: &mut Settings, pair: &Pair) -> Result<(), String> {
    let Some(row) = row(&pair.key) else {
        return Err(unknown(&pair.key));
    };
    (row.set)(settings, pair.value.trim()).ok_or_else(|| {
        let found = crate::quantity::harmless(&pair.value);
        format!("{} is \"{found}\"; what would do: {}.", row.key, row.takes)
    })
}

/// An unknown setting, with the nearest name where one is near.
fn unknown(key: &str) -> String {
    let said = crate::quantity::harmless(key);
    let near = ROWS
        .iter()
        .map(|row| (strsim::osa_distance(&key.to_lowercase(), row.key), row.key))
        .min()
        .filter(|&(distance, _)| distance <= (key.len() / 2).min(3));
    match near {
        Some((_, near)) => format!("There is no setting {said}; did you mean {near}?"),
        None => {
            let names: Vec<&str> = ROWS.iter().map(|row| row.key).collect();
            format!(
                "There is no setting {said}. There are: {}.",
                names.join(", ")
            )
        }
    }
}

/// The commented file with every setting at what it is where nothing is said.
#[must_use]
pub fn template() -> String {
    let mut text = String::from(
        "# Settings of endsmeet. A line that begins with # says nothing; take the # away to set it.\n# Every setting has an option of the same name: hold_ms is --hold-ms. What is set now: endsmeet doctor\n",
    );
    for row in &ROWS {
        text.push_str(&format!(
            "\n# {}\n# It may be: {}.\n# {}\n",
            row.about,
            row.takes,
            line(row, row.usual)
        ));
    }
    text
}

/// "speed = 160", as it stands in the file.
#[must_use]
pub fn line(row: &Row, value: &str) -> String {
    if row.quoted {
        format!("{} = {}", row.key, quoted(value))
    } else {
        format!("{} = {value}", row.key)
    }
}

/// A text as TOML takes it: in single quotes as it is, else in double quotes with escapes.
fn quoted(value: &str) -> String {
    if value.contains('\'') || value.chars().any(char::is_control) {
        let escaped = value.replace('\\', "\\\\").replace('"', "\\\"");
        let plain: String = escaped.chars().filter(|c| !c.is_control()).collect();
        format!("\"{plain}\"")
    } else {
        format!("'{value}'")
    }
}

#[cfg(test)]
mod tests;
