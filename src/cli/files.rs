//! Files that the weaver names: plans and house wordings. Owns what can be wrong with such a file,
//! said in a sentence; never touches a dressing.

use super::Failure;
use crate::plan::wif::{read_wif, spec_of_wif};
use crate::plan::{Figures, Plan, Problem, Side, Spec, read_spec, work_out};
use std::fs;
use std::io::Read;
use std::path::Path;

/// The largest plan or draft that is read, in bytes.
const MOST_BYTES: u64 = 8 * 1024 * 1024;

/// The text of a file.
///
/// # Errors
/// A sentence that names the file, what was found and what to do.
pub fn text_of(path: &Path, what: &str) -> Result<String, Failure> {
    let bytes = bytes_of(path, what)?;
    String::from_utf8(bytes).map_err(|error| {
        Failure::refused(format!(
            "{} is not text: byte {} is none of a text. A {what} is a text file. Is it the right one?",
            shown(path),
            error.utf8_error().valid_up_to() + 1
        ))
    })
}

/// The bytes of a file.
fn bytes_of(path: &Path, what: &str) -> Result<Vec<u8>, Failure> {
    let shown = shown(path);
    let told = |why: String| Failure::refused(why);
    let meta = fs::metadata(path).map_err(|error| {
        told(match error.kind() {
            std::io::ErrorKind::NotFound => {
                format!("There is no file {shown}. Check the name of the {what}, and the folder.")
            }
            _ => format!("{shown} cannot be looked at: {error}. Check who may read it."),
        })
    })?;
    if meta.is_dir() {
        return Err(told(format!(
            "{shown} is a folder; a {what} is a file. Name a file in it."
        )));
    }
    if !meta.is_file() {
        return Err(told(format!(
            "{shown} is not an ordinary file. Name the file that holds the {what}."
        )));
    }
    if meta.len() > MOST_BYTES {
        return Err(told(format!(
            "{shown} has {} bytes; a {what} has at most {MOST_BYTES}. Is it the right file?",
            meta.len()
        )));
    }
    let mut bytes = Vec::new();
    fs::File::open(path)
        .and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes))
        .map_err(|error| {
            told(format!(
                "{shown} cannot be read: {error}. Check who may read it."
            ))
        })?;
    Ok(bytes)
}

/// A path as it can be shown: harmless, whatever its name holds.
#[must_use]
pub fn shown(path: &Path) -> String {
    crate::quantity::harmless(&path.to_string_lossy())
}

/// What a plan file or a draft asks for, with what is to be said of a draft.
///
/// # Errors
/// What is wrong with the file or its fields.
pub fn spec_of(path: &Path, thread_one: Option<Side>) -> Result<(Spec, Vec<String>), Failure> {
    let is_wif = path
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("wif"));
    if is_wif {
        return draft_of(path, thread_one);
    }
    let text = text_of(path, "plan")?;
    let spec = read_spec(&text).map_err(|problems| Failure::problems(path, &problems))?;
    Ok((spec, Vec::new()))
}

/// A draft as the beginning of a plan. Which edge thread 1 lies at is said.
fn draft_of(path: &Path, thread_one: Option<Side>) -> Result<(Spec, Vec<String>), Failure> {
    let bytes = bytes_of(path, "draft")?;
    let refused = |why: String| Failure::refused(format!("{}: {why}.", shown(path)));
    let (wif, mut remarks) = read_wif(&bytes).map_err(|fault| refused(fault.to_string()))?;
    let side = thread_one.or_else(ask_edge).unwrap_or(Side::Right);
    let (spec, more) = spec_of_wif(&wif, side).map_err(|fault| refused(fault.to_string()))?;
    remarks.extend(more);
    let edge = crate::words::counts::side(side);
    let other = crate::words::counts::side(crate::words::counts::other(side));
    let mut said = vec![format!(
        "Thread 1 of the draft is taken to lie at the {edge} edge. If it lies at the other: --thread-one {other}"
    )];
    let others = remarks.iter().map(ToString::to_string);
    said.extend(others.filter(|remark| !remark.starts_with("thread 1 of the draft")));
    Ok((spec, said))
}

/// Asks at which edge thread 1 lies, where there is someone to ask.
fn ask_edge() -> Option<Side> {
    use std::io::{BufRead, IsTerminal, Write};
    if !std::io::stdin().is_terminal() || !std::io::stderr().is_terminal() {
        return None;
    }
    let mut line = String::new();
    let mut ask = std::io::stderr();
    write!(
        ask,
        "Thread 1 of the draft: does it lie at the right or the left edge? [right] "
    )
    .ok()?;
    ask.flush().ok()?;
    std::io::stdin().lock().read_line(&mut line).ok()?;
    match line.trim().to_lowercase().as_str() {
        "left" | "l" => Some(Side::Left),
        _ => Some(Side::Right),
    }
}

/// Every figure of a plan file or a draft, with its problems if it has some.
///
/// # Errors
/// What is wrong with the file or its fields.
pub fn figures_of(
    path: &Path,
    thread_one: Option<Side>,
) -> Result<(Figures, Vec<String>), Failure> {
    let (spec, said) = spec_of(path, thread_one)?;
    Ok((work_out(&spec), said))
}

/// The plan of a file; it must fit.
///
/// # Errors
/// What is wrong with the file, its fields, or what does not fit.
pub fn plan_of(path: &Path) -> Result<(Figures, Plan), Failure> {
    let (figures, _) = figures_of(path, None)?;
    let plan = figures
        .plan()
        .ok_or_else(|| Failure::problems(path, &figures.problems))?;
    Ok((figures, plan))
}

impl Failure {
    /// The problems of a plan, each on its line.
    #[must_use]
    pub fn problems(path: &Path, problems: &[Problem]) -> Self {
        let mut lines = vec![match problems.len() {
            1 => format!("{}: 1 problem.", shown(path)),
            n => format!("{}: {n} problems.", shown(path)),
        }];
        lines.extend(problems.iter().map(|problem| format!("- {problem}")));
        Self::listing(lines.join("\n"), problems)
    }
}
