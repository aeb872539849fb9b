//! The form as a command: kept half-way in the folder of the dressings, loom cards beside it.
//! Owns those two files; the form itself is the plan's.

use super::args::Args;
use super::files::{shown, text_of};
use super::{Failure, Out};
use crate::plan::form::Form;
use crate::plan::{Figures, LoomCard, Spec};
use crate::terminal::form_lines::{self, FormEnded, FormOutside};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// The form that was left half-way.
const UNFINISHED: &str = "unfinished-plan.json";
/// The folder of the loom cards, in the folder of the dressings.
const LOOMS: &str = "looms";

/// The folder as the form sees it.
struct Folder<'a>(&'a Path);

impl FormOutside for Folder<'_> {
    fn keep(&mut self, form: &Form) -> Result<(), String> {
        write_whole(&self.0.join(UNFINISHED), &format!("{:#}\n", form.saved()))
    }

    fn card(&mut self, name: &str) -> Result<LoomCard, String> {
        card_of(self.0, name).map_err(|failure| failure.says)
    }

    fn cards(&mut self) -> Vec<String> {
        let files = std::fs::read_dir(self.0.join(LOOMS)).into_iter().flatten();
        let name = |file: io::Result<std::fs::DirEntry>| {
            let path = file.ok()?.path();
            let is_card = path.extension()? == "json";
            is_card.then(|| path.file_stem()?.to_str().map(str::to_owned))?
        };
        let mut names: Vec<String> = files.filter_map(name).collect();
        names.sort();
        names
    }

    fn keep_card(&mut self, name: &str, form: &Form) -> Result<(), String> {
        let spec = form.spec().map_err(|problems| {
            let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
            said.join("; ")
        })?;
        keep_card(self.0, name, &spec)
            .map(drop)
            .map_err(|failure| failure.says)
    }
}

/// Writes a small file whole or not at all.
fn write_whole(path: &Path, text: &str) -> Result<(), String> {
    let cannot = |error: &dyn std::fmt::Display| {
        format!(
            "{} cannot be written: {error}. Make room, or check who may write there.",
            shown(path)
        )
    };
    let folder = path.parent().unwrap_or(Path::new("."));
    std::fs::create_dir_all(folder).map_err(|error| cannot(&error))?;
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(|error| cannot(&error))?;
    file.write_all(text.as_bytes())
        .and_then(|()| file.as_file().sync_all())
        .map_err(|error| cannot(&error))?;
    file.persist(path).map_err(|error| cannot(&error.error))?;
    Ok(())
}

/// A loom card by its name in the folder, or by its file.
///
/// # Errors
/// What is wrong with the name or the card.
pub fn card_of(folder: &Path, name: &str) -> Result<LoomCard, Failure> {
    let kept = folder.join(LOOMS).join(format!("{name}.json"));
    let plain = !name.contains(['/', '\\']);
    let path = if plain && kept.is_file() {
        kept
    } else {
        PathBuf::from(name)
    };
    let text = text_of(&path, "loom card")?;
    LoomCard::read(&text).map_err(|problems| Failure::problems(&path, &problems))
}

/// Keeps the loom of a plan as a card of that name; says where.
///
/// # Errors
/// It cannot be written.
pub fn keep_card(folder: &Path, name: &str, spec: &Spec) -> Result<PathBuf, Failure> {
    let path = folder
        .join(LOOMS)
        .join(format!("{}.json", crate::journal::file_stem(name)));
    let mut card = LoomCard::of_spec(spec);
    card.name = Some(crate::quantity::harmless(name));
    write_whole(&path, &format!("{:#}\n", card.value())).map_err(Failure::refused)?;
    Ok(path)
}

/// What was led through the form.
pub struct Led {
    /// What the answers come to; `None` where the form was left again.
    pub figures: Option<Figures>,
    kept: PathBuf,
}

impl Led {
    /// The plan stands in a dressing now, so the form is not kept any more.
    pub fn finished(&self) {
        // a form that cannot be removed only comes up again
        let _ = std::fs::remove_file(&self.kept);
    }
}

/// Whether a form was left half-way in this folder.
#[must_use]
pub fn is_left_half_way(folder: &Path) -> bool {
    folder.join(UNFINISHED).is_file()
}

/// Leads through the form, from what is known already or from the form that was left half-way: on the
/// full screen where there is one, else in lines.
///
/// # Errors
/// The keys or lines cannot be read or written, or the kept form cannot be read.
pub fn fill_in(
    args: &Args,
    folder: &Path,
    known: Option<&Spec>,
    loom: Option<&str>,
    out: &mut Out,
) -> Result<Led, Failure> {
    let kept = folder.join(UNFINISHED);
    let mut told = Vec::new();
    let mut form = match known {
        Some(spec) => {
            told.extend(set_aside(&kept)?);
            Form::of_spec(spec)
        }
        None if kept.is_file() => left_half_way(&kept, &mut told)?,
        None => Form::new(),
    };
    // a plan that was known has its loom already
    if let Some(name) = loom.filter(|_| known.is_none()) {
        form.use_card(&card_of(folder, name)?);
    }
    let mut outside = Folder(folder);
    let ended = if super::screen::is_wanted(args) {
        let notice = (!told.is_empty()).then(|| told.join(" "));
        super::screen::fill_in(args, &mut form, &mut outside, notice)
    } else {
        for line in &told {
            out.notice(line);
        }
        let (mut input, mut output) = (io::stdin().lock(), io::stdout().lock());
        form_lines::run(&mut form, &mut outside, &mut input, &mut output)
    };
    let figures = match ended {
        Ok(FormEnded::Done(figures)) => Some(*figures),
        Ok(FormEnded::Left) => {
            Folder(folder).keep(&form).map_err(Failure::refused)?;
            out.notice("What was answered is kept. Go on with: endsmeet new");
            None
        }
        Err(error) => {
            return Err(Failure::refused(format!(
                "The terminal could not be read or written any more: {error}. What was answered is kept."
            )));
        }
    };
    Ok(Led { figures, kept })
}

/// A form that was left half-way makes room for a plan that comes from a file; where it is then.
fn set_aside(kept: &Path) -> Result<Option<String>, Failure> {
    if !kept.is_file() {
        return Ok(None);
    }
    let aside = (1..1000)
        .map(|n| kept.with_file_name(format!("unfinished-plan-{n}.json")))
        .find(|path| !path.exists())
        .unwrap_or_else(|| kept.with_file_name("unfinished-plan-last.json"));
    std::fs::rename(kept, &aside).map_err(|error| {
        Failure::refused(format!(
            "{} cannot be moved aside: {error}. Check who may write there.",
            shown(kept)
        ))
    })?;
    Ok(Some(format!(
        "The plan that was left half-way before is kept in {}.",
        shown(&aside)
    )))
}

fn left_half_way(path: &Path, told: &mut Vec<String>) -> Result<Form, Failure> {
    let text = text_of(path, "unfinished plan")?;
    let (form, lost) = Form::of_saved(&text).map_err(|why| {
        Failure::refused(format!(
            "{}: {why}. Move it away to begin a new plan.",
            shown(path)
        ))
    })?;
    told.push("This plan was left half-way; it goes on where it was left.".to_owned());
    told.extend(
        lost.iter()
            .map(|answer| format!("Not taken over: {answer}.")),
    );
    Ok(form)
}
