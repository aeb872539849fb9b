//! The timings of the hand and how its menu opens. Owns the starting values; never reads a file.

use super::Key;
use std::time::Duration;

/// What opens the one-button menu.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Opens {
    /// A held key: for keyboards, and for pedals that repeat.
    Hold,
    /// Three quick presses: for pedals that send one press however long they are held.
    Triple,
}

/// Timings and habits. Tests set them short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// The same intent is ignored for so long after it was taken.
    pub guard: Duration,
    /// And until its key was quiet for so long.
    pub quiet: Duration,
    /// A hold of so long opens the menu.
    pub hold: Duration,
    /// Three presses within so long open the menu, where [`Opens::Triple`].
    pub triple: Duration,
    /// Each item is lit for so long.
    pub lit: Duration,
    /// How the menu opens.
    pub opens: Opens,
    /// Whether questions light their answers in turn, for a hand with one button.
    pub one_button: bool,
    /// A key that means NEXT beside those of the table, found by the pedal test.
    pub pedal: Option<Key>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            guard: Duration::from_millis(700),
            quiet: Duration::from_millis(150),
            hold: Duration::from_millis(1200),
            triple: Duration::from_millis(900),
            lit: Duration::from_secs(2),
            opens: Opens::Hold,
            one_button: false,
            pedal: None,
        }
    }
}
