//! Keeping the screen awake: a child process that runs as long as she is at the loom. Owns the
//! command and the child; that it cannot be had stops nothing.

use super::settings::Awake;
use super::speech::on_path;
use crate::voice::command_words;
use std::process::{Child, Command, Stdio};

/// What keeps a screen awake on this system, the one to try first in front (from their manuals, from
/// memory).
fn of_system() -> Vec<Vec<&'static str>> {
    match std::env::consts::OS {
        "macos" => vec![vec!["caffeinate", "-d"]],
        "linux" => vec![vec![
            "systemd-inhibit",
            "--what=idle",
            "--who=endsmeet",
            "--why=dressing a loom",
            "sleep",
            "infinity",
        ]],
        _ => Vec::new(),
    }
}

/// The command in words; `None` where it is off.
///
/// # Errors
/// The sentence about why there is none.
pub fn command(awake: &Awake) -> Result<Option<Vec<String>>, String> {
    let words = match awake {
        Awake::Off => return Ok(None),
        Awake::Command(command) => command_words(command),
        Awake::Auto => of_system()
            .into_iter()
            .find(|words| words.first().is_some_and(|name| on_path(name).is_some()))
            .map(|words| words.into_iter().map(str::to_owned).collect())
            .ok_or(
                "no command that keeps the screen awake is there. Name one with --keep-awake.",
            )?,
    };
    match words.first() {
        Some(name) if on_path(name).is_some() => Ok(Some(words)),
        _ => Err(
            "the command that keeps the screen awake is not there. Name another with --keep-awake."
                .to_owned(),
        ),
    }
}

/// The child; dropping it ends it and reaps it.
#[derive(Debug)]
pub struct KeptAwake(Option<Child>);

impl KeptAwake {
    /// Starts the command, where there is one.
    #[must_use]
    pub fn start(awake: &Awake) -> Self {
        let words = command(awake).ok().flatten().unwrap_or_default();
        let Some((name, arguments)) = words.split_first() else {
            return Self(None);
        };
        let mut command = Command::new(name);
        command.args(arguments).stdin(Stdio::null());
        command.stdout(Stdio::null()).stderr(Stdio::null());
        Self(command.spawn().ok())
    }
}

impl Drop for KeptAwake {
    fn drop(&mut self) {
        if let Some(child) = &mut self.0 {
            // both fail only where it has ended already
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    #[test]
    fn off_is_nothing_and_a_missing_command_is_told() {
        assert_eq!(command(&Awake::Off), Ok(None));
        let missing = Awake::Command("/nowhere/at-all -x".to_owned());
        assert!(command(&missing).unwrap_err().contains("is not there"));
        assert!(KeptAwake::start(&missing).0.is_none());
    }

    #[test]
    fn the_child_lives_as_long_as_it_is_kept_and_is_reaped() {
        let sleep = Awake::Command("sleep 30".to_owned());
        let kept = KeptAwake::start(&sleep);
        let pid = kept.0.as_ref().unwrap().id().to_string();
        let process = std::path::Path::new("/proc").join(pid);
        let proc = std::path::Path::new("/proc/self").exists();
        assert!(!proc || process.exists());
        drop(kept);
        assert!(!process.exists());
    }
}
