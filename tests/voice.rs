//! Speech: every spoken line of a whole dressing, the voice programs as child processes, and one
//! real voice whose sound is looked at.

#![allow(clippy::unwrap_used, clippy::print_stderr)]

mod common;

use common::{at, demo, same_as_file, true_answer};
use endsmeet::dressing::{Dressing, View};
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::InMemory;
use endsmeet::method::Method;
use endsmeet::plan::Plan;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::screens::{Manner, Screen};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use endsmeet::words::spoken::{Purpose, Said};
use std::time::Duration;

/// A voice that only writes down what it is given.
struct Recording<'a> {
    sitting: Sitting<'a>,
    now: u64,
    lines: Vec<String>,
}

impl Recording<'_> {
    fn press(&mut self, key: Key) {
        self.now += 4000;
        let press = Press::down(key, Duration::from_millis(self.now));
        self.sitting.press(press, at(self.now));
        self.listen();
    }

    fn listen(&mut self) {
        for said in self.sitting.take_say() {
            self.lines.push(match said.purpose {
                Purpose::Call => said.text,
                Purpose::Lit => format!("  lit: {}", said.text),
                Purpose::Remark => format!("  remark: {}", said.text),
            });
        }
    }
}

/// Dresses the whole loom with the button, and numbers where a look asks for one.
fn spoken_lines(plan: Plan) -> Vec<String> {
    let mut keep = InMemory::new(Dressing::new(plan, &[]));
    let method = Method::embedded();
    let mut lot = || 0;
    let manner = Manner {
        theme: Theme::Colour,
        ink: Ink::Blocks,
    };
    let sitting = Sitting::new(&mut keep, &method, Settings::default(), manner, &mut lot);
    let mut voice = Recording {
        sitting,
        now: 1000,
        lines: Vec::new(),
    };
    voice.listen();
    for _ in 0..5000 {
        let answer = match voice.sitting.dressing().view() {
            View::Ready(_) => return voice.lines,
            View::Asking(_) => true_answer(voice.sitting.dressing()),
            _ => None,
        };
        // shafts that are read back are given one by one, and 0 ends the reading
        let answer = answer.unwrap_or_default().replace("done", "0");
        for number in answer.split(' ') {
            for digit in number.chars() {
                voice.press(Key::Char(digit));
            }
            voice.press(Key::Space);
        }
    }
    panic!("never ready: {:?}", voice.lines.last());
}

#[test]
fn every_spoken_line_of_the_whole_runner_is_as_written() {
    let lines = spoken_lines(demo("hall-runner.json"));
    same_as_file("tests/voice/hall-runner.txt", &lines.join("\n"));
}

#[test]
fn a_metric_warp_is_spoken_in_millimetres() {
    let lines = spoken_lines(demo("winter-blanket.json"));
    let metric = lines.iter().filter(|line| line.contains(" millimetres"));
    assert!(metric.count() > 0);
    assert!(!lines.iter().any(|line| line.contains("inch")));
}

#[test]
fn every_spoken_line_of_the_practice_warp_is_as_written() {
    let lines = spoken_lines(demo("practice.json"));
    same_as_file("tests/voice/practice.txt", &lines.join("\n"));
}

/// Nothing that a voice would spell, pass over or name.
#[test]
fn every_spoken_line_can_be_heard() {
    for name in ["hall-runner.json", "winter-blanket.json", "open-scarf.json"] {
        for line in spoken_lines(demo(name)) {
            let bad = |c: char| !(c.is_alphanumeric() || " .,:;?'-".contains(c));
            assert!(!line.chars().any(bad), "{name}: {line}");
            let shouted = |word: &str| {
                let letters = word.trim_matches(|c: char| !c.is_alphabetic());
                letters.len() > 1 && letters.chars().all(char::is_uppercase)
            };
            assert!(!line.split(' ').any(shouted), "{name}: {line}");
            let words: Vec<&str> = line.split_whitespace().collect();
            for three in words.windows(3) {
                let count =
                    !["group", "handful"].contains(&three[0]) && three[1].parse::<u32>().is_ok();
                let unit = ["in", "mm", "cm"].contains(&three[2].trim_matches('.'));
                assert!(!(count && unit), "{name}: {line}");
            }
        }
    }
}

#[cfg(unix)]
mod programs {
    use super::*;
    use endsmeet::voice::{Much, Program, Search, Voice, Words};
    use std::fs;
    use std::os::unix::fs::PermissionsExt;
    use std::path::{Path, PathBuf};
    use std::time::Instant;

    /// A voice program made for a test: a script in a folder of its own.
    fn script(folder: &Path, name: &str, body: &str) -> PathBuf {
        let file = folder.join(name);
        fs::write(&file, format!("#!/bin/sh\n{body}\n")).unwrap();
        fs::set_permissions(&file, fs::Permissions::from_mode(0o755)).unwrap();
        file
    }

    fn program(file: &Path, words: Words) -> Program {
        Program {
            file: file.to_owned(),
            arguments: if words == Words::Argument {
                vec!["--".to_owned()]
            } else {
                Vec::new()
            },
            words,
            silence: Vec::new(),
        }
    }

    fn call(text: &str) -> Vec<Said> {
        vec![Said::new(Purpose::Call, text)]
    }

    /// Waits until the condition holds, ten seconds at most.
    fn wait_for(what: &str, condition: impl Fn() -> bool) {
        let start = Instant::now();
        while !condition() {
            assert!(start.elapsed() < Duration::from_secs(10), "never: {what}");
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    fn read(path: &Path) -> String {
        fs::read_to_string(path).unwrap_or_default()
    }

    #[test]
    fn the_words_are_never_read_by_a_shell() {
        let folder = tempfile::tempdir().unwrap();
        let heard = folder.path().join("heard");
        let said = "$(touch made) `touch made` ; touch made | -x 4, 3.";
        for words in [Words::Input, Words::Argument] {
            let taken = match words {
                Words::Input => "cat",
                Words::Argument => "printf '%s\\n' \"$2\"",
            };
            let body = format!("cd '{}'; {taken} > heard", folder.path().display());
            let file = script(folder.path(), "voice", &body);
            let mut voice = Voice::new(Much::All, vec![program(&file, words)]);
            assert!(!voice.say(call(said)));
            wait_for("heard", || read(&heard).ends_with('\n'));
            assert_eq!(read(&heard).trim(), said);
            assert!(!folder.path().join("made").exists());
            drop(voice);
            fs::remove_file(&heard).unwrap();
        }
    }

    #[test]
    fn a_new_call_silences_the_old_one_and_reaps_it() {
        let folder = tempfile::tempdir().unwrap();
        let pids = folder.path().join("pids");
        let body = format!("echo $$ >> '{}'; exec sleep 30", pids.display());
        let file = script(folder.path(), "voice", &body);
        let mut voice = Voice::new(Much::All, vec![program(&file, Words::Input)]);
        for n in 1..=3 {
            voice.say(call("4, 3."));
            wait_for("begun", || read(&pids).lines().count() == n);
        }
        let pids: Vec<String> = read(&pids).lines().map(str::to_owned).collect();
        // a child that was killed and not reaped would still have its folder
        let is_there = |pid: &String| Path::new("/proc").join(pid).exists();
        if Path::new("/proc/self").exists() {
            assert_eq!(pids.iter().filter(|pid| is_there(pid)).count(), 1);
        }
        let start = Instant::now();
        drop(voice);
        assert!(
            start.elapsed() < Duration::from_secs(10),
            "it was not waited for"
        );
        assert!(!pids.iter().any(is_there));
    }

    #[test]
    fn a_press_does_not_wait_for_the_voice() {
        let folder = tempfile::tempdir().unwrap();
        let file = script(folder.path(), "voice", "exec sleep 30");
        let mut voice = Voice::new(Much::All, vec![program(&file, Words::Input)]);
        let start = Instant::now();
        for _ in 0..5 {
            voice.say(call("4, 3."));
        }
        assert!(start.elapsed() < Duration::from_secs(5));
    }

    #[test]
    fn a_voice_that_fails_gives_way_to_the_next_one() {
        let folder = tempfile::tempdir().unwrap();
        let heard = folder.path().join("heard");
        let bad = script(folder.path(), "bad", "exit 1");
        let good = script(
            folder.path(),
            "good",
            &format!("cat > '{}'", heard.display()),
        );
        let programs = vec![
            program(&folder.path().join("missing"), Words::Input),
            program(&bad, Words::Input),
            program(&good, Words::Input),
        ];
        let mut voice = Voice::new(Much::All, programs);
        assert!(!voice.say(call("4, 3.")));
        wait_for("heard", || read(&heard) == "4, 3.\n");
    }

    #[test]
    fn no_voice_is_told_once_and_stops_nothing() {
        let mut voice = Voice::new(Much::All, Vec::new());
        assert!(voice.say(call("4, 3.")));
        assert!(!voice.say(call("2, 1.")));
        let mut off = Voice::new(Much::Nothing, Vec::new());
        assert!(!off.say(call("4, 3.")), "who wants no speech misses none");
    }

    #[test]
    fn a_voice_that_fails_at_its_first_words_is_told_once() {
        let folder = tempfile::tempdir().unwrap();
        let bad = script(folder.path(), "bad", "exit 1");
        let mut voice = Voice::new(Much::All, vec![program(&bad, Words::Input)]);
        let start = Instant::now();
        while !voice.say(call("4, 3.")) {
            assert!(start.elapsed() < Duration::from_secs(10), "never told");
            std::thread::sleep(Duration::from_millis(100));
        }
        assert!(!voice.say(call("2, 1.")));
    }

    /// The samples of a sound file as espeak-ng writes it: 16 bits, one channel.
    fn samples(wav: &[u8]) -> (u32, Vec<i16>) {
        assert_eq!((&wav[..4], &wav[8..12]), (&b"RIFF"[..], &b"WAVE"[..]));
        let rate = u32::from_le_bytes(wav[24..28].try_into().unwrap());
        assert_eq!(wav[22..24], [1, 0], "one channel");
        assert_eq!(wav[34..36], [16, 0], "16 bits");
        let data = wav.windows(4).position(|four| four == b"data").unwrap();
        let pairs = wav[data + 8..].chunks_exact(2);
        let samples = pairs.map(|pair| i16::from_le_bytes([pair[0], pair[1]]));
        (rate, samples.collect())
    }

    /// The root of the mean square of each tenth of a second.
    fn loudness(rate: u32, samples: &[i16]) -> Vec<f64> {
        let tenths = samples.chunks(rate as usize / 10);
        let power = |part: &[i16]| {
            let sum: f64 = part.iter().map(|&s| f64::from(s) * f64::from(s)).sum();
            (sum / part.len() as f64).sqrt()
        };
        tenths.map(power).collect()
    }

    /// The real voice, its sound written to a file instead of a loudspeaker.
    fn sound_of(text: &str, speed: u16) -> Option<(f64, usize)> {
        let folders = std::env::split_paths(&std::env::var_os("PATH")?).collect();
        let search = Search {
            command: "",
            speed,
            folders,
            is_there: &|path: &Path| path.is_file() && path.ends_with("espeak-ng"),
            system: std::env::consts::OS,
        };
        let mut program = search.found().into_iter().next()?.program;
        let folder = tempfile::tempdir().unwrap();
        let wav = folder.path().join("said.wav");
        program.arguments.push("-w".to_owned());
        program.arguments.push(wav.display().to_string());
        let mut speaking = program.say(text).unwrap();
        wait_for("said", || wav.exists());
        let start = Instant::now();
        while speaking.ended() == endsmeet::voice::Ended::NotYet {
            assert!(start.elapsed() < Duration::from_secs(60), "it never ended");
            std::thread::sleep(Duration::from_millis(10));
        }
        let (rate, samples) = samples(&fs::read(&wav).unwrap());
        let loud = loudness(rate, &samples).into_iter().filter(|&l| l > 300.0);
        Some((samples.len() as f64 / f64::from(rate), loud.count()))
    }

    #[test]
    fn a_real_voice_says_a_call_that_is_as_long_as_speech_and_no_silence() {
        let Some((seconds, loud)) = sound_of("4, 3, 2.", 160) else {
            eprintln!("NOT RUN: espeak-ng is not installed here");
            return;
        };
        eprintln!("espeak-ng says \"4, 3, 2.\" in {seconds:.2} s, {loud} tenths of it loud");
        assert!((0.8..6.0).contains(&seconds), "{seconds} s");
        assert!(loud >= 5, "{loud} tenths of a second are loud");
        let (longer, more) = sound_of("Count out 12 ends. Heddles: 2 on shaft 1.", 160).unwrap();
        assert!(longer > seconds && more > loud, "more words take longer");
        let (faster, _) = sound_of("4, 3, 2.", 320).unwrap();
        assert!(faster < seconds, "the speed is taken: {faster} s");
    }
}
