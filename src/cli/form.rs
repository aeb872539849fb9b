//! The form as a command: kept half-way in the folder of the dressings, loom cards beside it.
//! Owns those two files; the form itself is the plan's.

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

/// Leads through the form, from what is known already or from the form that was left half-way.
/// `None` where it was left again.
///
/// # Errors
/// The lines cannot be read or written, or the kept form cannot be read.
pub fn fill_in(
    folder: &Path,
    known: Option<&Spec>,
    out: &mut Out,
) -> Result<Option<Figures>, Failure> {
    let kept = folder.join(UNFINISHED);
    let mut form = match known {
        Some(spec) => Form::of_spec(spec),
        None if kept.is_file() => left_half_way(&kept, out)?,
        None => Form::new(),
    };
    let ended = form_lines::run(
        &mut form,
        &mut Folder(folder),
        &mut io::stdin().lock(),
        &mut io::stdout().lock(),
    );
    match ended {
        Ok(FormEnded::Done(figures)) => {
            // the plan stands in the dressing now; a form that cannot be removed only comes up again
            let _ = std::fs::remove_file(&kept);
            Ok(Some(*figures))
        }
        Ok(FormEnded::Left) => {
            Folder(folder).keep(&form).map_err(Failure::refused)?;
            out.notice("What was answered is kept. Go on with: endsmeet new");
            Ok(None)
        }
        Err(error) => Err(Failure::refused(format!(
            "The lines could not be read or written any more: {error}. What was answered is kept."
        ))),
    }
}

fn left_half_way(path: &Path, out: &mut Out) -> Result<Form, Failure> {
    let text = text_of(path, "unfinished plan")?;
    let (form, lost) = Form::of_saved(&text).map_err(|why| {
        Failure::refused(format!(
            "{}: {why}. Move it away to begin a new plan.",
            shown(path)
        ))
    })?;
    out.notice("This plan was left half-way; it goes on where it was left.");
    for answer in lost {
        out.notice(&format!("Not taken over: {answer}"));
    }
    Ok(form)
}
