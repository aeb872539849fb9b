//! What was found when a dressing was opened, as sentences, and the copy of the clean part of a
//! damaged one. Owns when going on must wait for the weaver's decision; never merges two files.

use super::{Failure, Out, done};
use crate::journal::keep::Keep;
use crate::journal::kept::{ENTRY, Keeper, Loaded};
use crate::journal::{
    Access, Beside, Damage, Disk, ReadOnly, RealDisk, Relation, State, folder::Choice, salvage,
};
use crate::words;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use super::files::shown;

/// Tells what she should know before the first press.
///
/// # Errors
/// Going on must wait: it is read only, or another copy knows more or other things.
pub fn tell(loaded: &Loaded, path: &Path, named: bool, out: &mut Out) -> Result<(), Failure> {
    if let State::TornTail { set_aside, .. } = &loaded.state {
        let at = words::status::place(&loaded.keeper.dressing().about());
        out.notice(&format!(
            "The last press may be missing. Look at {at}. What was torn is kept in {}",
            shown(set_aside)
        ));
    }
    if let Some(why) = &loaded.no_lock {
        out.notice(&format!(
            "This disk has no locks ({why}). Keep this dressing out of a second window."
        ));
    }
    if let Some(reason) = loaded.keeper.journal().read_only() {
        return Err(only_looked_at(path, reason));
    }
    for other in &loaded.beside {
        tell_copy(path, other, named, out)?;
    }
    Ok(())
}

/// Tells what was found where it is only looked at: `status`, `log` and the like.
pub fn tell_looking(loaded: &Loaded, out: &mut Out) {
    if let State::Damaged { at_line, reason } = &loaded.state {
        out.notice(&format!(
            "Line {at_line} {reason}. Everything before it is shown; the file is left as it is."
        ));
    }
    for other in &loaded.beside {
        out.notice(&format!(
            "Another copy of this dressing stands beside it: {}",
            shown(&other.path)
        ));
    }
}

fn only_looked_at(path: &Path, reason: &ReadOnly) -> Failure {
    let salvage = match reason {
        ReadOnly::Damaged { .. } => format!(
            " Save the clean part with: endsmeet resume {} --salvage",
            stem(path)
        ),
        _ => String::new(),
    };
    Failure::refused(format!(
        "{} can only be looked at: {reason}.{salvage}",
        shown(path)
    ))
}

fn tell_copy(path: &Path, other: &Beside, named: bool, out: &mut Out) -> Result<(), Failure> {
    let (this, copy) = (shown(path), shown(&other.path));
    match other.relation {
        Relation::Same | Relation::Shorter => out.notice(&format!(
            "Another copy of this dressing holds nothing that is not here: {copy}. Put it away."
        )),
        Relation::Unread => out.notice(&format!(
            "Another copy of this dressing cannot be read: {copy}. Look at it before you go far."
        )),
        Relation::Differs { at_line } if named => out.notice(&format!(
            "Another copy of this dressing went another way from line {at_line}: {copy}. Going on with the one you named."
        )),
        Relation::Differs { at_line } => {
            return Err(Failure::refused(format!(
                "Two copies of this dressing went different ways from line {at_line}: {this} and {copy}. Look at \
                 the loom, see each with endsmeet log, then name the right one: endsmeet resume NAME"
            )));
        }
        Relation::Longer => {
            return Err(Failure::refused(format!(
                "A copy knows more of this dressing than {this}: {copy}. Go on with the copy: endsmeet resume \"{}\". \
                 If it is not wanted, move it to another folder.",
                stem(&other.path)
            )));
        }
    }
    Ok(())
}

fn stem(path: &Path) -> String {
    crate::quantity::harmless(&path.file_stem().unwrap_or_default().to_string_lossy())
}

/// `resume NAME --salvage`: the clean part of a damaged dressing as a copy; the file itself stays.
///
/// # Errors
/// It is not damaged, or the copy cannot be written.
pub fn save_clean_part(path: &Path, choice: &Choice, out: &mut Out) -> Result<ExitCode, Failure> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let loaded = Keeper::load(&disk, path, Access::ReadOnly).map_err(|error| refused(&error))?;
    let keep = match &loaded.state {
        // the header is line 1, so that line n holds entry n - 1 and the one before it is good
        State::Damaged {
            at_line,
            reason: Damage::Impossible(_),
        }
        | State::Newer { at_line } => Some(at_line.saturating_sub(2)),
        State::Damaged { .. } => None,
        State::Clean | State::TornTail { .. } | State::ReadOnly(_) => {
            return Err(Failure::refused(format!(
                "{} is not damaged. Go on with: endsmeet resume {}",
                shown(path),
                stem(path)
            )));
        }
    };
    let copy = salvage(
        disk.as_ref(),
        path,
        &choice.folder,
        choice.rights(),
        &[ENTRY],
        keep,
    )
    .map_err(|error| refused(&error))?;
    out.text(&format!(
        "The clean part is saved: {}. The damaged file stays as it is. Go on with: endsmeet resume {}",
        shown(&copy),
        stem(&copy)
    ));
    done()
}

fn refused(error: &impl ToString) -> Failure {
    Failure::refused(super::dress::sentence(error))
}
