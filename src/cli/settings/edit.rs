//! The settings file written: the commented file where there is none, or one setting changed in it
//! with everything else left as it stands. Owns that change; the file is replaced whole.

use super::{Row, line, template};
use std::io::{self, Write};
use std::path::Path;

/// The text with the setting at this value: in the line that sets it, else in the commented line of
/// the template, else at the end.
#[must_use]
pub fn with(text: &str, row: &Row, value: &str) -> String {
    let new = line(row, value);
    let names = |line: &str| {
        line.split_once('=')
            .is_some_and(|(name, _)| name.trim() == row.key)
    };
    let commented = |line: &str| line.strip_prefix('#').is_some_and(names);
    let lines: Vec<&str> = text.lines().collect();
    let at = lines
        .iter()
        .position(|line| names(line))
        .or_else(|| lines.iter().position(|line| commented(line)));
    let mut lines: Vec<String> = lines.into_iter().map(str::to_owned).collect();
    match at {
        Some(at) => lines[at] = new,
        None => lines.push(new),
    }
    lines.join("\n") + "\n"
}

/// Sets settings in the file, which is made where it is not there.
///
/// # Errors
/// What the system says; the file is as it was.
pub fn save(file: &Path, changes: &[(&Row, String)]) -> io::Result<()> {
    let text = match std::fs::read_to_string(file) {
        Ok(text) => text,
        Err(error) if error.kind() == io::ErrorKind::NotFound => template(),
        Err(error) => return Err(error),
    };
    let text = changes
        .iter()
        .fold(text, |text, (row, value)| with(&text, row, value));
    let folder = file.parent().unwrap_or(Path::new("."));
    std::fs::create_dir_all(folder)?;
    let mut new = tempfile::NamedTempFile::new_in(folder)?;
    new.write_all(text.as_bytes())?;
    new.as_file().sync_all()?;
    new.persist(file).map_err(|error| error.error)?;
    Ok(())
}
