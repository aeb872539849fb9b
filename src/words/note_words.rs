//! Notes said back at their step. Owns the wording around them; their words are the weaver's.

use super::page::Page;
use crate::dressing::View;
use crate::dressing::notes::NoteHere;

/// "Note: second cone begun."
#[must_use]
pub fn note(note: &NoteHere) -> String {
    let of = if note.earlier {
        "Note from the warp before"
    } else {
        "Note"
    };
    let end = if note.text.ends_with(['.', '!', '?']) {
        ""
    } else {
        "."
    };
    format!("{of}: {}{end}", note.text)
}

/// "3 notes from the warp before come along; each is said at its step."
#[must_use]
pub fn come_along(notes: usize) -> Option<String> {
    let many = u32::try_from(notes).unwrap_or(u32::MAX);
    let (come, are) = match many {
        0 => return None,
        1 => ("comes", "it is said at its step"),
        _ => ("come", "each is said at its step"),
    };
    let notes = super::counts::count(many, "note");
    Some(format!("{notes} from the warp before {come} along; {are}."))
}

impl Page {
    /// The page with the notes that belong to its step. They are spoken where the step begins, and
    /// not again with each handful.
    #[must_use]
    pub fn with_notes(mut self, view: &View, notes: &[NoteHere]) -> Self {
        let again = matches!(view, View::Call(_) | View::UsedUp(_) | View::Resting(_));
        for said in notes.iter().map(note) {
            if !again {
                self.say.push(' ');
                self.say.push_str(&said);
            }
            self.lines.push(said);
        }
        self
    }
}
