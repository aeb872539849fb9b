//! An answer while it is typed: the text and where the next letter goes. Owns the editing of one line;
//! judges nothing.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// The longest answer, in bytes: room for a threading written out end by end.
const LONGEST: usize = 100_000;

/// A line of text with a cursor between its letters.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    text: String,
    /// In bytes, at the edge of a character.
    at: usize,
}

/// The part of a line that a row shows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Window {
    /// What stands before the cursor.
    pub before: String,
    /// The letter under the cursor; a blank at the end.
    pub under: String,
    /// What stands behind it.
    pub after: String,
}

impl Typed {
    /// This text, with the cursor behind it.
    #[must_use]
    pub fn new(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            at: text.len(),
        }
    }

    /// The text as typed.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Puts a character in at the cursor; `false` where none is taken.
    pub fn put(&mut self, c: char) -> bool {
        if c.is_control() || self.text.len() + c.len_utf8() > LONGEST {
            return false;
        }
        self.text.insert(self.at, c);
        self.at += c.len_utf8();
        true
    }

    /// Takes the letter before the cursor away.
    pub fn erase(&mut self) {
        let to = self.at;
        self.left();
        self.text.replace_range(self.at..to, "");
    }

    /// One letter to the left.
    pub fn left(&mut self) {
        let before = self.text[..self.at].graphemes(true).next_back();
        self.at -= before.map_or(0, str::len);
    }

    /// One letter to the right.
    pub fn right(&mut self) {
        let behind = self.text[self.at..].graphemes(true).next();
        self.at += behind.map_or(0, str::len);
    }

    /// The cursor before the character of that number, from 0; behind the last where there are fewer.
    pub fn to(&mut self, character: usize) {
        let place = self.text.char_indices().nth(character);
        self.at = place.map_or(self.text.len(), |(at, _)| at);
    }

    /// What a row of so many columns shows: the cursor always, and of the rest what lies around it.
    #[must_use]
    pub fn window(&self, columns: usize) -> Window {
        let (before, behind) = self.text.split_at(self.at);
        let under = behind.graphemes(true).next().unwrap_or(" ");
        let after = behind.get(under.len()..).unwrap_or("");
        let room = columns.saturating_sub(under.width().max(1));
        // some of what comes is worth seeing too
        let ahead = after.width().min(room / 4);
        let mut shown = String::new();
        let mut width = 0;
        for letter in before.graphemes(true).rev() {
            width += letter.width();
            if width > room - ahead {
                break;
            }
            shown.insert_str(0, letter);
        }
        Window {
            before: shown,
            under: under.to_owned(),
            after: after.to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn letters_go_in_at_the_cursor_and_out_before_it() {
        let mut typed = Typed::new("27");
        typed.put('7');
        typed.left();
        typed.left();
        typed.put('1');
        assert_eq!(typed.text(), "2177");
        typed.erase();
        typed.erase();
        typed.erase();
        assert_eq!(typed.text(), "77");
        typed.to(9);
        typed.erase();
        assert_eq!(typed.text(), "7");
        assert!(!typed.put('\u{1b}') && typed.text() == "7");
    }

    #[test]
    fn a_letter_with_its_accent_goes_as_one() {
        let mut typed = Typed::new("ne\u{301}");
        typed.erase();
        assert_eq!(typed.text(), "n");
    }

    #[test]
    fn a_long_line_shows_the_part_around_the_cursor() {
        let mut typed = Typed::new(&"0123456789".repeat(20));
        let window = typed.window(20);
        assert_eq!(
            (window.before.as_str(), window.under.as_str()),
            ("1234567890123456789", " ")
        );
        typed.to(100);
        let window = typed.window(20);
        assert_eq!(window.under, "0");
        assert!(window.before.ends_with("9") && window.before.len() == 15);
    }

    proptest! {
        #[test]
        fn any_editing_is_safe_and_the_cursor_shows(
            keys in proptest::collection::vec((0u8..6, any::<char>()), 0..60),
            columns in 1usize..120,
        ) {
            let mut typed = Typed::default();
            for (key, c) in keys {
                match key {
                    0..=1 => { typed.put(c); }
                    2 => typed.erase(),
                    3 => typed.left(),
                    4 => typed.right(),
                    _ => typed.to(usize::from(key)),
                }
                let window = typed.window(columns);
                prop_assert!(window.before.width() < columns);
                prop_assert!(!window.under.is_empty());
            }
        }
    }
}
