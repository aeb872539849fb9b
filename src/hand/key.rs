//! Physical keys and presses, as any terminal can send them. Owns their names on screen; never
//! says what a key does (that is the key table's).

use std::time::Duration;

/// One key of a keyboard, a pedal or a presentation clicker.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Key {
    /// The space bar.
    Space,
    /// Return or Enter.
    Enter,
    /// Arrow right.
    Right,
    /// Arrow left.
    Left,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Page down; the forward button of presentation clickers.
    PageDown,
    /// Page up; the back button of presentation clickers.
    PageUp,
    /// Backspace.
    Backspace,
    /// Escape.
    Esc,
    /// Tab.
    Tab,
    /// A function key, 1..=24.
    F(u8),
    /// A key that types this character, as typed (case kept).
    Char(char),
    /// A letter with the control key, in lower case.
    Ctrl(char),
    /// Any other key; it means nothing but is a press all the same.
    Other,
}

impl Key {
    /// The key's name in footer and help, plain ASCII for the keys of the table.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Space => "Space".to_owned(),
            Self::Enter => "Enter".to_owned(),
            Self::Right => "Right".to_owned(),
            Self::Left => "Left".to_owned(),
            Self::Up => "Up".to_owned(),
            Self::Down => "Down".to_owned(),
            Self::PageDown => "PageDown".to_owned(),
            Self::PageUp => "PageUp".to_owned(),
            Self::Backspace => "Backspace".to_owned(),
            Self::Esc => "Esc".to_owned(),
            Self::Tab => "Tab".to_owned(),
            Self::F(n) => format!("F{n}"),
            Self::Char(c) => c.to_string(),
            Self::Ctrl(c) => format!("Ctrl-{}", c.to_ascii_uppercase()),
            Self::Other => "that key".to_owned(),
        }
    }

    /// The digit that the key types, if it is one of 0 to 9.
    #[must_use]
    pub fn digit(self) -> Option<u8> {
        match self {
            Self::Char(c) => c.to_digit(10).and_then(|d| u8::try_from(d).ok()),
            _ => None,
        }
    }
}

/// What a terminal says of a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PressKind {
    /// The key went down, or the terminal repeats it without saying so.
    Press,
    /// The terminal says that the key is held.
    Repeat,
    /// The key came up.
    Release,
}

/// One thing that a terminal said of one key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Press {
    /// Which key.
    pub key: Key,
    /// Down, held or up.
    pub kind: PressKind,
    /// When, since the program's start.
    pub at: Duration,
}

impl Press {
    /// A key that went down.
    #[must_use]
    pub fn down(key: Key, at: Duration) -> Self {
        Self {
            key,
            kind: PressKind::Press,
            at,
        }
    }
}
