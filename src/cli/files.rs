//! Files that the weaver names: plans and house wordings. Owns what can be wrong with such a file,
//! said in a sentence; never touches a dressing.

use super::Failure;
use crate::plan::{Figures, Plan, Problem, Spec, read_spec, work_out};
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
    String::from_utf8(bytes).map_err(|error| {
        told(format!(
            "{shown} is not text: byte {} is none of a text. A {what} is a text file. Is it the right one?",
            error.utf8_error().valid_up_to() + 1
        ))
    })
}

/// A path as it can be shown: harmless, whatever its name holds.
#[must_use]
pub fn shown(path: &Path) -> String {
    crate::quantity::harmless(&path.to_string_lossy())
}

/// What a plan file asks for.
///
/// # Errors
/// What is wrong with the file or its fields.
pub fn spec_of(path: &Path) -> Result<Spec, Failure> {
    let text = text_of(path, "plan")?;
    read_spec(&text).map_err(|problems| Failure::problems(path, &problems))
}

/// Every figure of a plan file, with its problems if it has some.
///
/// # Errors
/// What is wrong with the file or its fields.
pub fn figures_of(path: &Path) -> Result<Figures, Failure> {
    spec_of(path).map(|spec| work_out(&spec))
}

/// The plan of a file; it must fit.
///
/// # Errors
/// What is wrong with the file, its fields, or what does not fit.
pub fn plan_of(path: &Path) -> Result<(Figures, Plan), Failure> {
    let figures = figures_of(path)?;
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
        Self::refused(lines.join("\n"))
    }
}
