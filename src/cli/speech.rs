//! The voice as the settings ask for it. Owns where programs are looked for; says nothing itself.

use super::args::Args;
use crate::voice::{Found, Much, Search, Voice};
use crate::words::screen_words::NO_VOICE;
use crate::words::spoken::Said;
use std::path::{Path, PathBuf};

/// The voices that are there, the one to try first in front.
#[must_use]
pub fn found(args: &Args) -> Vec<Found> {
    let settings = &args.settings.settings;
    let path = std::env::var_os("PATH").unwrap_or_default();
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let search = Search {
        command: &settings.voice,
        speed: settings.speed,
        folders,
        is_there: &is_program,
        system: std::env::consts::OS,
    };
    search.found()
}

/// The voice that the settings ask for; it looks for a program only where something is to be said.
#[must_use]
pub fn voice(args: &Args) -> Voice {
    let much = args.settings.settings.say;
    let found = if much == Much::Nothing {
        Vec::new()
    } else {
        found(args)
    };
    let programs = found.into_iter().map(|found| found.program).collect();
    Voice::new(much, programs)
}

/// Says it; the notice, once, where no voice can be had.
pub fn say(voice: &mut Voice, said: Vec<Said>) -> Option<&'static str> {
    voice.say(said).then_some(NO_VOICE)
}

/// The file of a program: as it is where it names a folder, else on the search path.
#[must_use]
pub fn on_path(name: &str) -> Option<PathBuf> {
    let path = Path::new(name);
    if path.components().count() > 1 {
        return is_program(path).then(|| path.to_owned());
    }
    let folders = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&folders)
        .map(|folder| folder.join(name))
        .find(|path| is_program(path))
}

#[cfg(unix)]
fn is_program(path: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    std::fs::metadata(path)
        .is_ok_and(|found| found.is_file() && found.permissions().mode() & 0o111 != 0)
}

#[cfg(not(unix))]
fn is_program(path: &Path) -> bool {
    path.is_file()
}
