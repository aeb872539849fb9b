//! The settings put together: the usual ones, then the file's, then the command line's. Owns the
//! reading of the file; where it lies is handed in, so that it can be tested.

use super::{Pair, Settings, set};
use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};

/// The environment's name for the file.
pub const VARIABLE: &str = "ENDSMEET_SETTINGS";
/// The file's name in the user's configuration folder.
pub const NAME: &str = "endsmeet/settings.toml";
/// A longer file is none of ours.
const MOST_BYTES: u64 = 64 * 1024;

/// What is known of the settings.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Loaded {
    /// The settings in force.
    pub settings: Settings,
    /// The settings file; it may not be there. `None` where the user has no configuration folder.
    pub file: Option<PathBuf>,
    /// Whether the file is there and was read.
    pub read: bool,
    /// What was not taken, a sentence each.
    pub warnings: Vec<String>,
}

/// The file: what the environment names, else the one in the user's configuration folder.
#[must_use]
pub fn file(variable: Option<&OsStr>, configuration: Option<&Path>) -> Option<PathBuf> {
    variable
        .filter(|name| !name.is_empty())
        .map(PathBuf::from)
        .or_else(|| configuration.map(|folder| folder.join(NAME)))
}

/// The user's configuration folder by this system's habit.
#[must_use]
pub fn configuration_folder() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    let strategy = etcetera::base_strategy::choose_native_strategy().ok()?;
    Some(strategy.config_dir())
}

/// The settings of the file and of the command line. What the file has wrong is warned of and left
/// as it usually is: no setting may keep anyone from the loom.
///
/// # Errors
/// The sentence about the first option of the command line that does not do.
pub fn load(file: Option<PathBuf>, options: &[Pair]) -> Result<Loaded, String> {
    let mut loaded = Loaded {
        file,
        ..Loaded::default()
    };
    if let Some(path) = loaded.file.clone() {
        match text_of(&path) {
            Ok(Some(text)) => {
                loaded.read = true;
                take(&mut loaded, &text, &path);
            }
            Ok(None) => {}
            Err(error) => loaded.warnings.push(format!(
                "The settings {} cannot be read: {error}. The usual ones hold; check the file.",
                path.display()
            )),
        }
    }
    for pair in options {
        set(&mut loaded.settings, pair)
            .map_err(|why| format!("--{}", why.replacen('_', "-", 1)))?;
    }
    Ok(loaded)
}

/// The file's text; `None` where it is not there.
fn text_of(path: &Path) -> io::Result<Option<String>> {
    let size = match std::fs::metadata(path) {
        Ok(found) if found.is_file() => found.len(),
        Ok(_) => return Err(io::Error::other("it is no file")),
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error),
    };
    if size > MOST_BYTES {
        return Err(io::Error::other("it is longer than settings can be"));
    }
    std::fs::read_to_string(path).map(Some)
}

fn take(loaded: &mut Loaded, text: &str, path: &Path) {
    let shown = path.display();
    match pairs(text) {
        Ok(pairs) => {
            for (line, pair) in pairs {
                if let Err(why) = set(&mut loaded.settings, &pair) {
                    loaded.warnings.push(format!("{shown}, line {line}: {why}"));
                }
            }
        }
        Err(why) => loaded
            .warnings
            .push(format!("{shown}, {why} The usual settings hold.")),
    }
}

/// The pairs of a file with their lines.
///
/// # Errors
/// The sentence about what is no line of settings.
pub fn pairs(text: &str) -> Result<Vec<(usize, Pair)>, String> {
    let table: toml::Table = text.parse().map_err(|error: toml::de::Error| {
        let at = error.span().map_or(0, |span| span.start);
        let why = error.message().lines().next().unwrap_or("cannot be read");
        format!(
            "line {}: {why}; a line of settings is: name = value, with a text in quotes.",
            line_of(text, at)
        )
    })?;
    let pairs = table.into_iter().map(|(key, value)| {
        let value = match value {
            toml::Value::String(text) => text,
            other => other.to_string(),
        };
        let at = text.lines().position(|line| {
            let name = line.split('=').next().unwrap_or("").trim();
            name.trim_matches(['"', '\'', '[', ']']) == key
        });
        (at.map_or(1, |at| at + 1), Pair { key, value })
    });
    let mut pairs: Vec<(usize, Pair)> = pairs.collect();
    pairs.sort_by_key(|(line, _)| *line);
    Ok(pairs)
}

fn line_of(text: &str, at: usize) -> usize {
    text.get(..at).unwrap_or(text).matches('\n').count() + 1
}
