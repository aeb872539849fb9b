//! The fence: each folder uses only what stands before it, and the pure ones know no file, clock,
//! terminal, thread or randomness.

#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};

/// Folder, the folders that it may use, the outside crates that it may use.
const ALLOWED: [(&str, &[&str], &[&str]); 12] = [
    (
        "quantity",
        &[],
        &[
            "num_rational",
            "num_traits",
            "serde",
            "unicode_segmentation",
            "unicode_width",
            "thiserror",
        ],
    ),
    (
        "plan",
        &["quantity"],
        &[
            "serde",
            "serde_json",
            "strsim",
            "thiserror",
            "unicode_width",
            "csv",
        ],
    ),
    (
        "fault",
        &["quantity", "plan"],
        &["serde", "serde_json", "thiserror"],
    ),
    (
        "method",
        &[],
        &[
            "serde",
            "serde_json",
            "strsim",
            "thiserror",
            "unicode_width",
            "crc32fast",
        ],
    ),
    (
        "dressing",
        &["quantity", "plan", "fault", "method"],
        &["chrono", "serde", "thiserror", "unicode_width"],
    ),
    (
        "words",
        &["quantity", "plan", "fault", "method", "dressing"],
        &["chrono", "strsim", "unicode_width", "unicode_segmentation"],
    ),
    ("hand", &[], &["serde", "unicode_width"]),
    (
        "journal",
        &["quantity", "plan", "fault", "method", "dressing"],
        &[
            "chrono",
            "crc32fast",
            "etcetera",
            "rustix",
            "serde",
            "serde_json",
            "tempfile",
            "thiserror",
            "unicode_width",
        ],
    ),
    (
        "terminal",
        &[
            "quantity", "plan", "fault", "method", "dressing", "words", "hand", "journal",
        ],
        &[
            "chrono",
            "crossterm",
            "ratatui",
            "rustix",
            "signal_hook",
            "strsim",
            "unicode_segmentation",
            "unicode_width",
        ],
    ),
    (
        "voice",
        &[
            "quantity", "plan", "method", "dressing", "words", "hand", "journal",
        ],
        &["unicode_width"],
    ),
    (
        "paper",
        &[
            "quantity", "plan", "fault", "method", "dressing", "words", "hand", "journal",
        ],
        &["csv", "chrono", "serde", "serde_json", "unicode_width"],
    ),
    (
        "cli",
        &[
            "quantity", "plan", "fault", "method", "dressing", "words", "hand", "journal",
            "terminal", "voice", "paper",
        ],
        &[
            "chrono",
            "clap",
            "etcetera",
            "serde",
            "serde_json",
            "strsim",
            "tempfile",
            "toml",
        ],
    ),
];

/// Folders that must stay pure.
const PURE: [&str; 7] = [
    "quantity", "plan", "method", "fault", "dressing", "words", "hand",
];

/// Paths and macros that a pure folder must not name. `std::time::Duration` is a value, not a clock.
const IMPURE: [&str; 18] = [
    "std::fs",
    "std::io",
    "std::env",
    "std::thread",
    "std::process",
    "std::net",
    "std::sync::Mutex",
    "Instant",
    "SystemTime",
    "Utc::now",
    "Local::now",
    "std::os",
    "rand::",
    "RandomState",
    "HashMap",
    "HashSet",
    "println!",
    "thread_local!",
];

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for item in fs::read_dir(folder).unwrap() {
        let path = item.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found
}

/// The code before its tests, without comments. Test modules are held to nothing here.
fn code(path: &Path) -> String {
    let name = path.file_name().unwrap().to_string_lossy().into_owned();
    if name == "tests.rs" || name.ends_with("_tests.rs") {
        return String::new();
    }
    let text = fs::read_to_string(path).unwrap();
    let text = text.split("#[cfg(test)]\nmod ").next().unwrap_or("");
    let lines = text
        .lines()
        .map(|line| line.split("//").next().unwrap_or(""));
    lines.collect::<Vec<_>>().join("\n")
}

/// Every `name` that stands right behind `prefix` in a path.
fn names_after(code: &str, prefix: &str) -> Vec<String> {
    code.match_indices(prefix)
        .map(|(at, _)| {
            let rest = &code[at + prefix.len()..];
            rest.chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect()
        })
        .filter(|name: &String| !name.is_empty())
        .collect()
}

/// Crates of Cargo.toml's `[dependencies]`, as they are spelled in code.
fn dependencies() -> Vec<String> {
    let text = fs::read_to_string("Cargo.toml").unwrap();
    let section = text.split("[dependencies]").nth(1).unwrap();
    let section = section.split("\n[").next().unwrap();
    let names = section.lines().filter_map(|line| line.split_once('='));
    names
        .map(|(name, _)| name.trim().replace('-', "_"))
        .collect()
}

fn uses_crate(code: &str, name: &str) -> bool {
    code.match_indices(&format!("{name}::")).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        !before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':')
    })
}

fn breaches(folder: &str, inner: &[&str], crates: &[&str], path: &Path, code: &str) -> Vec<String> {
    let at = path.display();
    let mut found: Vec<String> = names_after(code, "crate::")
        .into_iter()
        .filter(|name| name != folder && !inner.contains(&name.as_str()))
        .map(|name| format!("{at} uses crate::{name}"))
        .collect();
    let others = dependencies();
    let foreign = others.iter().filter(|name| uses_crate(code, name));
    let foreign = foreign.filter(|name| !crates.contains(&name.as_str()));
    found.extend(foreign.map(|name| format!("{at} uses the crate {name}")));
    if PURE.contains(&folder) {
        let impure = IMPURE.iter().filter(|name| code.contains(**name));
        found.extend(impure.map(|name| format!("{at} names {name}")));
    }
    found
}

#[test]
fn every_folder_keeps_to_what_stands_before_it() {
    let mut found = Vec::new();
    for (folder, inner, crates) in ALLOWED {
        for path in sources(&Path::new("src").join(folder)) {
            found.extend(breaches(folder, inner, crates, &path, &code(&path)));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn every_folder_of_the_source_has_its_line() {
    for item in fs::read_dir("src").unwrap() {
        let path = item.unwrap().path();
        if path.is_dir() {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            assert!(
                ALLOWED.iter().any(|(folder, ..)| *folder == name),
                "{name} has no line in the fence"
            );
        }
    }
}

#[test]
fn the_fence_sees_what_it_must_not_let_through() {
    let bad =
        "use crate::terminal::lines;\nuse chrono::Utc;\nfn now() { std::time::SystemTime::now(); }";
    let found = breaches("plan", &["quantity"], &["serde"], Path::new("x.rs"), bad);
    assert_eq!(found.len(), 3, "{found:?}");
}

/// The most lines of a function.
const LONGEST: usize = 60;

/// Those that may be longer, each a flat match of an arm for each kind, or one value field by field: to
/// cut it up would hide that it is whole.
const FLAT: [(&str, &str); 18] = [
    ("src/cli/look.rs", "status_value"),
    ("src/plan/say.rs", "of_the_warp"),
    ("src/plan/say.rs", "fmt"),
    ("src/plan/say_remark.rs", "fmt"),
    ("src/dressing/apply.rs", "apply_event"),
    ("src/dressing/admit.rs", "possible"),
    ("src/words/refusals.rs", "refusal"),
    ("src/words/fault_ways.rs", "step"),
    ("src/words/trail.rs", "event"),
    ("src/journal/record/mod.rs", "from"),
    ("src/journal/record/question.rs", "from"),
    ("src/dressing/decide/answer.rs", "to_question"),
    ("src/dressing/view/open.rs", "asking"),
    ("src/words/looks.rs", "asking"),
    ("src/words/looks.rs", "question"),
    ("src/terminal/line_words.rs", "read"),
    ("src/plan/wif/of_plan.rs", "wif_of_plan"),
    ("src/cli.rs", "run"),
];

/// The functions of a file that are too long, with their lines.
fn long_functions(text: &str) -> Vec<(String, usize)> {
    let lines: Vec<&str> = text.lines().collect();
    let mut found = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let body = line.trim_start();
        let indent = line.len() - body.len();
        let plain = ["pub(crate) ", "pub(super) ", "pub ", "const "];
        let body = plain
            .iter()
            .fold(body, |body, word| body.trim_start_matches(word));
        let Some(rest) = body.strip_prefix("fn ") else {
            continue;
        };
        let end = format!("{}}}", " ".repeat(indent));
        let length = lines[at..].iter().position(|line| **line == end);
        let name = rest.split(['(', '<']).next().unwrap_or_default();
        // a function without a body, in a trait, ends at the next one's brace: it has no line of its own
        if let Some(length) = length.filter(|n| n + 1 > LONGEST && !line.ends_with(';')) {
            found.push((name.to_owned(), length + 1));
        }
    }
    found
}

#[test]
fn functions_are_short_but_for_flat_matches() {
    let mut found = Vec::new();
    for path in sources(Path::new("src")) {
        let name = path.display().to_string();
        for (function, lines) in long_functions(&code(&path)) {
            let is_flat = FLAT.contains(&(name.as_str(), function.as_str()));
            if !is_flat {
                found.push(format!("{name}: {function} has {lines} lines"));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
    let long = format!("fn long() {{\n{}}}\n", "    x();\n".repeat(60));
    assert_eq!(long_functions(&long), [("long".to_owned(), 62)]);
}

/// Files longer than that tell two things.
const LONGEST_FILE: usize = 400;

/// Tables of words, where a second file would only be a second half.
const TABLES: &[&str] = &["src/words/glossary.rs"];

/// The lines of a file before its tests.
fn lines_before_tests(text: &str) -> usize {
    text.lines()
        .position(|line| line == "#[cfg(test)]")
        .unwrap_or_else(|| text.lines().count())
}

#[test]
fn files_are_short_before_their_tests_but_for_tables() {
    let mut found = Vec::new();
    for path in sources(Path::new("src")) {
        let name = path.display().to_string();
        // a file of tests alone is one of `mod tests;`
        let apart = name.ends_with("/tests.rs") || TABLES.contains(&name.as_str());
        let lines = lines_before_tests(&std::fs::read_to_string(&path).unwrap());
        if !apart && lines > LONGEST_FILE {
            found.push(format!("{name} has {lines} lines before its tests"));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
    let long = format!("{}#[cfg(test)]\nmod tests;\n", "//\n".repeat(401));
    assert_eq!(lines_before_tests(&long), 401);
}
