//! Every command line of the pages for readers is run, in a folder laid out as the project is, with
//! the leaving keys typed behind it: through a pipe, and where it opens a screen in a terminal too.
#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::print_stdout)]

mod common;
mod pty;

use portable_pty::CommandBuilder;
use pty::Pty;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

const PAGES: [&str; 5] = [
    "README.md",
    "INSTALL.md",
    "DEVELOPERS.md",
    "sessions/README.md",
    "assets/method/README.md",
];

/// What stands for a name of the reader's own, and what it is here.
const NAMES: [(&str, &str); 4] = [
    ("NAME", "hall-runner"),
    ("FILE", "assets/demo/hall-runner.json"),
    ("PLAN", "assets/demo/hall-runner.json"),
    ("DIR", "sessions"),
];

/// Lines inside fences, and what stands between single backquotes outside of them.
fn spoken_of(text: &str) -> (Vec<String>, Vec<String>) {
    let (mut fenced, mut inline) = (Vec::new(), Vec::new());
    let mut prose = String::new();
    let mut inside = false;
    for line in text.lines() {
        if line.trim_start().starts_with("```") {
            inside = !inside;
        } else if inside {
            fenced.push(line.trim().to_owned());
        } else {
            prose.push_str(line);
            prose.push(' ');
        }
    }
    for span in prose.split('`').skip(1).step_by(2) {
        inline.push(span.split_whitespace().collect::<Vec<_>>().join(" "));
    }
    (fenced, inline)
}

/// A folder laid out as the project is, one dressing begun in it, and the program on its path.
struct Place {
    folder: tempfile::TempDir,
}

impl Place {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path();
        for part in ["assets/demo", "assets/drafts", "assets/method", "sessions"] {
            fs::create_dir_all(at.join(part)).unwrap();
            for item in fs::read_dir(part).unwrap() {
                let from = item.unwrap().path();
                let to = at.join(&from);
                // only what is shipped: someone may be trying the program in the work tree
                if part != "sessions" || from.to_string_lossy().contains("example-") {
                    fs::copy(&from, to).unwrap();
                }
            }
        }
        fs::create_dir(at.join("bin")).unwrap();
        std::os::unix::fs::symlink(env!("CARGO_BIN_EXE_endsmeet"), at.join("bin/endsmeet"))
            .unwrap();
        // the page on house wordings has the reader make one of this name
        let house = at.join("assets/method/example-house.json");
        fs::copy(house, at.join("hall.json")).unwrap();
        // and a file that has come to harm
        let name = "sessions/example-hall-runner.jsonl";
        let whole = fs::read_to_string(name).unwrap();
        let harmed = whole.replacen("17:13:10", "17:13:11", 1);
        assert_ne!(whole, harmed);
        fs::write(at.join("sessions/harmed.jsonl"), harmed).unwrap();
        let place = Self { folder };
        let begun = place.piped("endsmeet new assets/demo/hall-runner.json");
        assert!(begun.status.success(), "{begun:?}");
        place
    }

    fn at(&self) -> &Path {
        self.folder.path()
    }

    fn variables(&self) -> [(&'static str, String); 4] {
        let at = self.at().display();
        let path = std::env::var("PATH").unwrap();
        [
            ("HOME", at.to_string()),
            ("PATH", format!("{at}/bin:{path}")),
            ("XDG_CONFIG_HOME", format!("{at}/config")),
            ("XDG_DATA_HOME", format!("{at}/data")),
        ]
    }

    /// The line in a shell, `q` and `y` typed into it.
    fn piped(&self, line: &str) -> Output {
        let mut child = Command::new("sh")
            .args(["-c", line])
            .current_dir(self.at())
            .envs(self.variables())
            .env_remove("ENDSMEET_SESSIONS")
            .env_remove("ENDSMEET_SETTINGS")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let _ = child.stdin.take().unwrap().write_all(b"q\ny\n");
        child.wait_with_output().unwrap()
    }

    /// The line in a terminal; its exit code once `q` and `y` were pressed.
    fn in_a_terminal(&self, line: &str) -> u32 {
        let mut command = CommandBuilder::new("sh");
        command.args(["-c", &format!("exec {line}")]);
        pty::plain_environment(&mut command);
        command.cwd(self.at());
        for (name, value) in self.variables() {
            command.env(name, value);
        }
        println!("in a terminal: {line}");
        let mut pty = Pty::start(command, (80, 24));
        pty.wait_until("anything on the screen", |pty| {
            pty.rows().iter().any(|row| row.len() > 10)
        });
        if line.contains(".wif") {
            pty.wait_for("the right or the left edge?");
            pty.send("\r");
            pty.wait_for("? help");
        }
        if fills_in(line) || line.starts_with("endsmeet board") {
            // letters are for the fields there; the board is left at once too
            pty.send("\x03");
            return pty.ended();
        }
        if line.starts_with("endsmeet doctor") {
            pty.wait_for("leaves.");
            pty.send("q\r");
            return pty.ended();
        }
        pty.send("q");
        pty.wait_until("the question, or the end", |pty| {
            pty.is_over() || pty.rows().iter().any(|row| row.contains(" y "))
        });
        pty.send("y");
        pty.ended()
    }
}

/// The line with this test's names in the place of the reader's.
fn filled(line: &str) -> String {
    let line = &line.replace("NAME --salvage", "harmed --salvage");
    let word = |word: &str| {
        let name = NAMES.iter().find(|(name, _)| *name == word);
        name.map_or(word, |(_, here)| here).to_owned()
    };
    let line = line.replace("cargo run --release --", "endsmeet");
    line.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

/// Whether it opens a screen where there is a terminal.
fn opens_a_screen(line: &str) -> bool {
    if line.contains("--help") {
        return false;
    }
    let word = line.split_whitespace().nth(1).unwrap_or("");
    let screen = ["", "new", "resume", "practice", "board", "doctor"].contains(&word);
    screen && !line.contains('>') && !line.contains("--salvage") && !line.contains("--line")
}

/// Whether the form comes first.
fn fills_in(line: &str) -> bool {
    line == "endsmeet new"
}

/// Runs a line of a page; what is wrong with it.
fn tried(place: &Place, line: &str) -> Option<String> {
    let filled = filled(line);
    // the board looks again and again until it is left
    if filled.starts_with("endsmeet board") && !filled.contains("--once") {
        let code = place.in_a_terminal(&filled);
        return (code > 1).then(|| format!("{line}: exit {code}"));
    }
    let output = place.piped(&filled);
    // 3: a check passed over, a tracing not settled; both are shown on purpose
    let expected = |code: Option<i32>| matches!(code, Some(0 | 3));
    if !expected(output.status.code()) {
        return Some(format!("{line}: {output:?}"));
    }
    if opens_a_screen(&filled) {
        let code = place.in_a_terminal(&filled);
        if !expected(i32::try_from(code).ok()) {
            return Some(format!("{line}: exit {code} in a terminal"));
        }
    }
    None
}

fn is_program(line: &str) -> bool {
    let ours = line == "endsmeet" || line.starts_with("endsmeet ");
    // an example has a test of its own
    ours || line.starts_with("cargo run --release --")
}

#[test]
fn every_command_line_of_the_pages_does_what_it_says() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for page in PAGES {
        let place = Place::new();
        let (fenced, inline) = spoken_of(&fs::read_to_string(page).unwrap());
        for line in fenced.iter().filter(|line| is_program(line)) {
            count += 1;
            wrong.extend(tried(&place, line).map(|why| format!("{page}: {why}")));
        }
        for line in inline.iter().filter(|line| is_program(line)) {
            count += 1;
            // a command that is only named, as in a sentence, must be there
            let named = line.split(' ').count() == 2 && !line.contains("--");
            let line = if named {
                format!("{line} --help")
            } else {
                line.clone()
            };
            wrong.extend(tried(&place, &line).map(|why| format!("{page}: {why}")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count > 40, "only {count} command lines were found");
}

/// The words behind `--test` or `--bench` name files, and the program's variables are read by a file.
fn missing(line: &str) -> Option<String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    for pair in words.windows(2) {
        let folder = match pair[0] {
            "--test" => "tests",
            "--bench" => "benches",
            "--example" => "examples",
            _ => continue,
        };
        let file = format!("{folder}/{}.rs", pair[1]);
        let folder = format!("{folder}/{}/main.rs", pair[1]);
        if !Path::new(&file).exists() && !Path::new(&folder).exists() {
            return Some(format!("{line}: there is no {file}"));
        }
    }
    let variable = words
        .iter()
        .find_map(|word| word.split_once('=').map(|pair| pair.0));
    let variable = variable.filter(|name| name.starts_with("ENDSMEET_"))?;
    let read = Command::new("grep")
        .args(["-rlq", variable, "tests", "src"])
        .status();
    (!read.unwrap().success()).then(|| format!("{line}: nothing reads {variable}"))
}

#[test]
fn every_test_and_bench_that_is_named_is_there() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for page in PAGES {
        let (fenced, inline) = spoken_of(&fs::read_to_string(page).unwrap());
        for line in fenced.iter().chain(&inline) {
            if line.contains("cargo ") || line.contains("--bench ") {
                count += 1;
                wrong.extend(missing(line).map(|why| format!("{page}: {why}")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count > 10, "only {count} lines were found");
}
