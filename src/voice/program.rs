//! Voice programs: which are there, and one of them at work. Owns the child processes; text goes to
//! standard input or behind `--`, never through a shell. Never chooses what is said.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// How a program takes the words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Words {
    /// On standard input.
    Input,
    /// As the one argument behind `--`.
    Argument,
}

/// One voice program with its arguments.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Program {
    /// The program's file.
    pub file: PathBuf,
    /// Its arguments, the words not among them.
    pub arguments: Vec<String>,
    /// How it takes the words.
    pub words: Words,
    /// What ends speech that goes on after the program itself has ended, where there is such.
    pub silence: Vec<String>,
}

/// Why this program was taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The program.
    pub program: Program,
    /// Whether the settings name it.
    pub named: bool,
}

/// Where to look, handed in so that it can be tested.
pub struct Search<'a> {
    /// The command of the settings, in words; empty where none is named.
    pub command: &'a str,
    /// Words a minute.
    pub speed: u16,
    /// The folders of the search path.
    pub folders: Vec<PathBuf>,
    /// Whether there is a program at this path.
    pub is_there: &'a dyn Fn(&Path) -> bool,
    /// The system: `std::env::consts::OS`.
    pub system: &'a str,
}

/// Words a minute that a Windows voice speaks at rate 0 (from memory, near 180).
const USUAL_SPEED: i32 = 180;
/// Reads the text from standard input and says it; the rate stands for the number.
const WINDOWS_VOICE: &str = "Add-Type -AssemblyName System.Speech; $v = New-Object System.Speech.Synthesis.SpeechSynthesizer; $v.Rate = RATE; $v.Speak([Console]::In.ReadToEnd())";

impl Search<'_> {
    /// Every voice that is there, the one to try first in front: the command of the settings, and
    /// where none is named spd-say, espeak-ng, say, the Windows voice.
    #[must_use]
    pub fn found(&self) -> Vec<Found> {
        let command = command_words(self.command);
        if let Some((file, arguments)) = command.split_first() {
            let found = |file| Found {
                program: configured(file, arguments),
                named: true,
            };
            return self.file(file).map(found).into_iter().collect();
        }
        let known = [
            ("spd-say", self.speech_dispatcher()),
            ("espeak-ng", self.espeak()),
        ];
        let known = known.into_iter().chain(self.of_system());
        known
            .filter_map(|(name, program)| {
                let file = self.file(name)?;
                let program = Program { file, ..program };
                Some(Found {
                    program,
                    named: false,
                })
            })
            .collect()
    }

    fn speech_dispatcher(&self) -> Program {
        // from -100 to 100, 0 being the usual speed
        let rate = (i32::from(self.speed) - USUAL_SPEED).clamp(-100, 100);
        Program {
            file: PathBuf::new(),
            arguments: ["--wait", "--rate", &rate.to_string(), "--"]
                .map(str::to_owned)
                .to_vec(),
            words: Words::Argument,
            silence: vec!["--cancel".to_owned()],
        }
    }

    fn espeak(&self) -> Program {
        Program {
            file: PathBuf::new(),
            arguments: vec![
                "-s".to_owned(),
                self.speed.to_string(),
                "--stdin".to_owned(),
            ],
            words: Words::Input,
            silence: Vec::new(),
        }
    }

    /// A program called `say` is a voice only on macOS, and the Windows voice is one of Windows.
    fn of_system(&self) -> Option<(&'static str, Program)> {
        let (name, arguments) = match self.system {
            "macos" => (
                "say",
                vec![
                    "-r".to_owned(),
                    self.speed.to_string(),
                    "-f".to_owned(),
                    "-".to_owned(),
                ],
            ),
            "windows" => {
                let rate = ((i32::from(self.speed) - USUAL_SPEED) / 20).clamp(-10, 10);
                let script = WINDOWS_VOICE.replace("RATE", &rate.to_string());
                let arguments = ["-NoProfile", "-NonInteractive", "-Command", &script];
                ("powershell.exe", arguments.map(str::to_owned).to_vec())
            }
            _ => return None,
        };
        let program = Program {
            file: PathBuf::new(),
            arguments,
            words: Words::Input,
            silence: Vec::new(),
        };
        Some((name, program))
    }

    /// The file of a program: as it is where it names a folder, else on the search path.
    fn file(&self, name: &str) -> Option<PathBuf> {
        let path = Path::new(name);
        if path.components().count() > 1 {
            return (self.is_there)(path).then(|| path.to_owned());
        }
        let paths = self.folders.iter().map(|folder| folder.join(name));
        paths.into_iter().find(|path| (self.is_there)(path))
    }
}

/// A command that ends in `--` takes the words behind it, any other on standard input.
fn configured(file: PathBuf, arguments: &[String]) -> Program {
    Program {
        file,
        arguments: arguments.to_vec(),
        words: if arguments.last().is_some_and(|last| last == "--") {
            Words::Argument
        } else {
            Words::Input
        },
        silence: Vec::new(),
    }
}

/// A command's words: divided by spaces, what stands in double quotes together. Nothing else has a
/// meaning, so that no text is ever run.
#[must_use]
pub fn command_words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    let (mut word, mut quoted, mut begun) = (String::new(), false, false);
    for c in command.chars() {
        match c {
            '"' => (quoted, begun) = (!quoted, true),
            c if c.is_whitespace() && !quoted => {
                if std::mem::take(&mut begun) {
                    words.push(std::mem::take(&mut word));
                }
            }
            c => {
                word.push(c);
                begun = true;
            }
        }
    }
    words.extend(begun.then_some(word));
    words
}

/// A voice program at work. Dropping it ends it and reaps it.
#[derive(Debug)]
pub struct Speaking {
    child: Child,
}

/// How a program that spoke came to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// It is still speaking.
    NotYet,
    /// It has said everything.
    Well,
    /// It failed.
    Badly,
}

impl Program {
    /// Begins to say the text.
    ///
    /// # Errors
    /// What the system says where the program cannot be started or takes no text.
    pub fn say(&self, text: &str) -> io::Result<Speaking> {
        let mut command = Command::new(&self.file);
        command.args(&self.arguments);
        command.stdout(Stdio::null()).stderr(Stdio::null());
        if self.words == Words::Argument {
            command.arg(text).stdin(Stdio::null());
            return Ok(Speaking {
                child: command.spawn()?,
            });
        }
        let mut speaking = Speaking {
            child: command.stdin(Stdio::piped()).spawn()?,
        };
        // a sentence is shorter than what a pipe holds, so this never waits for the program
        if let Some(mut input) = speaking.child.stdin.take() {
            match input.write_all(format!("{text}\n").as_bytes()) {
                // it did not read all; how it ends says whether that was a failure
                Err(error) if error.kind() == io::ErrorKind::BrokenPipe => {}
                other => other?,
            }
        }
        Ok(speaking)
    }

    /// Ends speech that outlives the program.
    pub fn silence(&self) {
        if self.silence.is_empty() {
            return;
        }
        let mut command = Command::new(&self.file);
        command.args(&self.silence).stdin(Stdio::null());
        command.stdout(Stdio::null()).stderr(Stdio::null());
        // that nothing could be silenced is no reason to stop
        let _ = command.status();
    }
}

impl Speaking {
    /// Whether it is at its end; reaps it then.
    pub fn ended(&mut self) -> Ended {
        match self.child.try_wait() {
            Ok(None) => Ended::NotYet,
            Ok(Some(status)) if status.success() => Ended::Well,
            Ok(Some(_)) | Err(_) => Ended::Badly,
        }
    }
}

impl Drop for Speaking {
    fn drop(&mut self) {
        // both fail only where it has ended and was reaped already
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn search<'a>(
        command: &'a str,
        system: &'a str,
        is_there: &'a dyn Fn(&Path) -> bool,
    ) -> Search<'a> {
        Search {
            command,
            speed: 160,
            folders: vec![PathBuf::from("/a"), PathBuf::from("/b")],
            is_there,
            system,
        }
    }

    fn files(found: &[Found]) -> Vec<String> {
        let files = found.iter().map(|f| f.program.file.display().to_string());
        files.collect()
    }

    #[test]
    fn the_known_voices_are_tried_in_their_order() {
        let all = |_: &Path| true;
        let found = search("", "linux", &all).found();
        assert_eq!(files(&found), ["/a/spd-say", "/a/espeak-ng"]);
        let found = search("", "macos", &all).found();
        assert_eq!(files(&found), ["/a/spd-say", "/a/espeak-ng", "/a/say"]);
        let found = search("", "windows", &all).found();
        assert_eq!(found[2].program.file, Path::new("/a/powershell.exe"));
        assert!(found[2].program.arguments[3].contains("$v.Rate = -1;"));
    }

    #[test]
    fn only_what_is_there_is_taken() {
        let second = |path: &Path| path == Path::new("/b/espeak-ng");
        let found = search("", "linux", &second).found();
        assert_eq!(files(&found), ["/b/espeak-ng"]);
        assert_eq!(found[0].program.arguments, ["-s", "160", "--stdin"]);
        assert_eq!(found[0].program.words, Words::Input);
        let none = |_: &Path| false;
        assert_eq!(search("", "linux", &none).found(), []);
    }

    #[test]
    fn a_named_command_is_the_only_one() {
        let all = |_: &Path| true;
        let found = search("\"/opt/my voice\" -x --", "linux", &all).found();
        assert_eq!(files(&found), ["/opt/my voice"]);
        assert_eq!(found[0].program.arguments, ["-x", "--"]);
        assert_eq!(found[0].program.words, Words::Argument);
        let none = |_: &Path| false;
        assert_eq!(search("mine", "linux", &none).found(), []);
    }

    #[test]
    fn a_command_is_words_and_nothing_else() {
        assert_eq!(command_words("a  b \"c d\"e"), ["a", "b", "c de"]);
        assert_eq!(command_words("a; rm $(b) 'c"), ["a;", "rm", "$(b)", "'c"]);
        assert_eq!(command_words(" "), Vec::<String>::new());
        assert_eq!(command_words("a \"\""), ["a", ""]);
    }
}
