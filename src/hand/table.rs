//! The key table: one row a meaning, its keys, and its words for footer and help. Footer, help
//! and the reading of keys are all made from it, so that they cannot differ.

use super::Key;

/// What a key means while nothing is being typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Meaning {
    /// The call is done; in a list, take what is lit; in an answer, finish it.
    Next,
    /// Take one press back; in an answer, take one digit away.
    BackOne,
    /// Say the call again.
    SayAgain,
    /// Do again what was taken back.
    Redo,
    /// Open the menu.
    Menu,
    /// Leave out what may be left out; stays on record.
    Skip,
    /// Looked, and cannot tell.
    CannotTell,
    /// Write a note.
    Note,
    /// Say what is wrong.
    Report,
    /// Pause or go on.
    Pause,
    /// Show the cloth; again: its other face; again: the work.
    Cloth,
    /// Show every shed and pick with what rises.
    Sheds,
    /// Show help.
    Help,
    /// Ask to leave.
    Leave,
    /// Leave at once.
    LeaveAtOnce,
    /// Give the terminal back for a while.
    Suspend,
    /// Draw the screen anew.
    Repaint,
}

/// One row of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Row {
    /// What its keys mean.
    pub meaning: Meaning,
    /// Its keys, the one to name first in front.
    pub keys: &'static [Key],
    /// The hint for the footer, two words at most.
    pub footer: &'static str,
    /// The sentence for help.
    pub help: &'static str,
}

/// The table. Rows stand in the order of help.
pub const ROWS: &[Row] = &[
    Row {
        meaning: Meaning::Next,
        keys: &[Key::Space, Key::Enter, Key::Right, Key::Down, Key::PageDown],
        footer: "next",
        help: "Done: show the next call.",
    },
    Row {
        meaning: Meaning::BackOne,
        keys: &[Key::Left, Key::Up, Key::PageUp, Key::Backspace],
        footer: "back one",
        help: "Take the last press back.",
    },
    Row {
        meaning: Meaning::Redo,
        keys: &[Key::Ctrl('y')],
        footer: "again",
        help: "Do again what was taken back.",
    },
    Row {
        meaning: Meaning::SayAgain,
        keys: &[Key::Char('.'), Key::Char('b')],
        footer: "say again",
        help: "Say the call again.",
    },
    Row {
        meaning: Meaning::Menu,
        keys: &[Key::Tab],
        footer: "menu",
        help: "Open the menu. Holding the button does it too.",
    },
    Row {
        meaning: Meaning::Report,
        keys: &[Key::F(7)],
        footer: "wrong",
        help: "Something is wrong: say what, from a list, and where.",
    },
    Row {
        meaning: Meaning::Skip,
        keys: &[Key::F(8)],
        footer: "leave out",
        help: "Leave out what may be left out. It stays on record.",
    },
    Row {
        meaning: Meaning::CannotTell,
        keys: &[Key::F(9)],
        footer: "cannot tell",
        help: "You looked and cannot tell.",
    },
    Row {
        meaning: Meaning::Note,
        keys: &[Key::F(2)],
        footer: "note",
        help: "Write a note. It is said again when this step comes round.",
    },
    Row {
        meaning: Meaning::Pause,
        keys: &[Key::Esc, Key::F(5)],
        footer: "pause",
        help: "Pause, and go on again.",
    },
    Row {
        meaning: Meaning::Cloth,
        keys: &[Key::F(6)],
        footer: "cloth",
        help: "Show the cloth; again: its long floats, the back, the draft, the work.",
    },
    Row {
        meaning: Meaning::Sheds,
        keys: &[Key::F(4)],
        footer: "sheds",
        help: "Show what rises at every shed and pick, by group.",
    },
    Row {
        meaning: Meaning::Help,
        keys: &[Key::Char('?'), Key::F(1), Key::Char('h')],
        footer: "help",
        help: "Show this help, and hide it.",
    },
    Row {
        meaning: Meaning::Leave,
        keys: &[Key::Char('q')],
        footer: "leave",
        help: "Leave: then y. Every press is kept.",
    },
    Row {
        meaning: Meaning::LeaveAtOnce,
        keys: &[Key::Ctrl('c')],
        footer: "leave now",
        help: "Leave at once. Every press is kept.",
    },
    Row {
        meaning: Meaning::Suspend,
        keys: &[Key::Ctrl('z')],
        footer: "shell",
        help: "Give the terminal back; fg returns.",
    },
    Row {
        meaning: Meaning::Repaint,
        keys: &[Key::Ctrl('l')],
        footer: "redraw",
        help: "Draw the screen anew.",
    },
];

/// What the key means, if the table knows it.
#[must_use]
pub fn meaning_of(key: Key) -> Option<Meaning> {
    ROWS.iter()
        .find(|row| row.keys.contains(&key))
        .map(|row| row.meaning)
}

/// The row of a meaning. Every meaning has one; a test holds the table to it.
#[must_use]
pub fn row_of(meaning: Meaning) -> Option<&'static Row> {
    ROWS.iter().find(|row| row.meaning == meaning)
}
