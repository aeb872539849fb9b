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

    /// The key of that name, as [`Self::name`] gives it; capitals do not matter in longer names.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let mut chars = name.chars();
        if let (Some(c), None) = (chars.next(), chars.next()) {
            let types = !c.is_whitespace() && !c.is_control();
            return types.then_some(Self::Char(c));
        }
        let name = name.to_lowercase();
        let plain = [
            Self::Space,
            Self::Enter,
            Self::Right,
            Self::Left,
            Self::Up,
            Self::Down,
            Self::PageDown,
            Self::PageUp,
            Self::Backspace,
            Self::Esc,
            Self::Tab,
        ];
        let f = |n: &str| n.parse().ok().filter(|n| (1..=24).contains(n)).map(Self::F);
        let ctrl = |c: &str| match c.as_bytes() {
            [c] if c.is_ascii_alphabetic() => Some(Self::Ctrl(char::from(*c))),
            _ => None,
        };
        plain
            .into_iter()
            .find(|key| key.name().to_lowercase() == name)
            .or_else(|| name.strip_prefix('f').and_then(f))
            .or_else(|| name.strip_prefix("ctrl-").and_then(ctrl))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_found_by_its_name() {
        let mut keys = vec![Key::Space, Key::Enter, Key::PageDown, Key::Esc, Key::Tab];
        keys.extend([
            Key::F(1),
            Key::F(24),
            Key::Char('b'),
            Key::Char('B'),
            Key::Ctrl('c'),
        ]);
        for key in keys {
            assert_eq!(Key::named(&key.name()), Some(key), "{}", key.name());
        }
        assert_eq!(Key::named("pagedown"), Some(Key::PageDown));
        for name in ["", "F0", "F25", "Ctrl-", "that key", " "] {
            assert_eq!(Key::named(name), None, "{name:?}");
        }
    }
}
