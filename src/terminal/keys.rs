//! What the terminal says of keys, in the hand's own words. Owns the translation; never says what
//! a key means.

use crate::hand::{Key, Press, PressKind};
use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use std::time::Duration;

/// One key event as a press at the time given, counted since the program's start.
#[must_use]
pub fn press_of(event: &KeyEvent, at: Duration) -> Press {
    Press {
        key: key_of(event),
        kind: match event.kind {
            KeyEventKind::Press => PressKind::Press,
            KeyEventKind::Repeat => PressKind::Repeat,
            KeyEventKind::Release => PressKind::Release,
        },
        at,
    }
}

/// Ctrl-C, which comes as a signal, as the press that it is.
#[must_use]
pub fn interrupt_at(at: Duration) -> Press {
    Press {
        key: Key::Ctrl('c'),
        kind: PressKind::Press,
        at,
    }
}

fn key_of(event: &KeyEvent) -> Key {
    let control = event.modifiers.contains(KeyModifiers::CONTROL);
    let alt = event.modifiers.contains(KeyModifiers::ALT);
    match event.code {
        // Some terminals and buttons send these bytes for Backspace and Enter.
        KeyCode::Char('h') if control && !alt => Key::Backspace,
        KeyCode::Char('j') if control && !alt => Key::Enter,
        // Control and Alt together are AltGr on some systems: then the character is meant.
        KeyCode::Char(c) if control && !alt => Key::Ctrl(c.to_ascii_lowercase()),
        KeyCode::Char(_) if alt && !control => Key::Other,
        KeyCode::Char(' ') => Key::Space,
        KeyCode::Char(c) => Key::Char(c),
        KeyCode::Enter => Key::Enter,
        KeyCode::Right => Key::Right,
        KeyCode::Left => Key::Left,
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::PageDown => Key::PageDown,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Esc => Key::Esc,
        KeyCode::Tab => Key::Tab,
        KeyCode::F(n) => Key::F(n),
        _ => Key::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::{Meaning, meaning_of};

    fn key(code: KeyCode, modifiers: KeyModifiers) -> Key {
        press_of(&KeyEvent::new(code, modifiers), Duration::ZERO).key
    }

    #[test]
    fn every_kind_of_key_event_keeps_its_kind() {
        let mut event = KeyEvent::new(KeyCode::Enter, KeyModifiers::NONE);
        for (kind, expected) in [
            (KeyEventKind::Press, PressKind::Press),
            (KeyEventKind::Repeat, PressKind::Repeat),
            (KeyEventKind::Release, PressKind::Release),
        ] {
            event.kind = kind;
            let press = press_of(&event, Duration::from_millis(7));
            assert_eq!((press.kind, press.at), (expected, Duration::from_millis(7)));
        }
    }

    #[test]
    fn control_is_a_key_of_its_own_and_altgr_is_not() {
        let control = KeyModifiers::CONTROL;
        assert_eq!(key(KeyCode::Char('C'), control), Key::Ctrl('c'));
        assert_eq!(key(KeyCode::Char('h'), control), Key::Backspace);
        assert_eq!(key(KeyCode::Char('j'), control), Key::Enter);
        assert_eq!(
            key(KeyCode::Char('?'), control | KeyModifiers::ALT),
            Key::Char('?')
        );
        assert_eq!(key(KeyCode::Char('q'), KeyModifiers::ALT), Key::Other);
        assert_eq!(key(KeyCode::Home, KeyModifiers::NONE), Key::Other);
    }

    #[test]
    fn letters_that_stand_for_keys_with_control_are_letters_without_it_and_with_altgr() {
        let altgr = KeyModifiers::CONTROL | KeyModifiers::ALT;
        for letter in ['h', 'j', 'c'] {
            let code = KeyCode::Char(letter);
            assert_eq!(key(code, KeyModifiers::NONE), Key::Char(letter));
            assert_eq!(key(code, altgr), Key::Char(letter));
            assert_eq!(key(code, KeyModifiers::ALT), Key::Other);
        }
    }

    #[test]
    fn every_key_with_a_name_keeps_it() {
        for (code, expected) in [
            (KeyCode::Char(' '), Key::Space),
            (KeyCode::Enter, Key::Enter),
            (KeyCode::Right, Key::Right),
            (KeyCode::Left, Key::Left),
            (KeyCode::Up, Key::Up),
            (KeyCode::Down, Key::Down),
            (KeyCode::PageDown, Key::PageDown),
            (KeyCode::PageUp, Key::PageUp),
            (KeyCode::Backspace, Key::Backspace),
            (KeyCode::Esc, Key::Esc),
            (KeyCode::Tab, Key::Tab),
            (KeyCode::F(5), Key::F(5)),
            (KeyCode::Null, Key::Other),
        ] {
            assert_eq!(key(code, KeyModifiers::NONE), expected);
        }
    }

    #[test]
    fn an_interrupt_is_a_press_of_ctrl_c() {
        let pressed = Press::down(Key::Ctrl('c'), Duration::from_millis(9));
        assert_eq!(interrupt_at(Duration::from_millis(9)), pressed);
    }

    #[test]
    fn the_keys_of_every_kind_of_button_mean_next() {
        for code in [
            KeyCode::Char(' '),
            KeyCode::Enter,
            KeyCode::Right,
            KeyCode::Down,
            KeyCode::PageDown,
        ] {
            assert_eq!(
                meaning_of(key(code, KeyModifiers::NONE)),
                Some(Meaning::Next)
            );
        }
    }
}
