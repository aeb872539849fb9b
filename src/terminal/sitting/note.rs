//! A note written at the loom, over the work. Owns the line that is typed; keeping it is asked of the
//! dressing like everything else.

use super::Sitting;
use crate::dressing::{Ask, When};
use crate::hand::{Context, Intent};
use crate::terminal::screens::Tone;
use crate::words::screen_words;
use std::time::Duration;
use unicode_width::UnicodeWidthStr;

/// Columns of a note.
const LONGEST: usize = 200;

impl Sitting<'_> {
    pub(super) fn begin_note(&mut self, now: Duration) {
        self.note = Some(String::new());
        self.notice = None;
        self.hand.attend(Context::Text, now);
    }

    /// One intent while a note is written.
    pub(super) fn in_note(&mut self, intent: Intent, now: Duration, when: When) {
        let Some(note) = &mut self.note else { return };
        match intent {
            Intent::Char(c) if note.width() < LONGEST && !c.is_control() => note.push(c),
            Intent::Erase => {
                note.pop();
            }
            Intent::Confirm => {
                let text = crate::quantity::harmless_within(note.trim(), LONGEST);
                self.end_note(now);
                if !text.is_empty() {
                    self.ask(&Ask::Note(text), now, when);
                }
            }
            Intent::Cancel => {
                self.end_note(now);
                self.notice = Some((Tone::Know, screen_words::NOTE_GIVEN_UP.to_owned()));
            }
            _ => {}
        }
    }

    fn end_note(&mut self, now: Duration) {
        self.note = None;
        // what was asked before is attended to anew
        self.question = None;
        self.attend(now);
    }
}
