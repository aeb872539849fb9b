//! Which presses count. Owns the memory of when each meaning was last taken and last heard;
//! never knows what the meaning does.

use super::{Key, Meaning, Settings};
use std::time::Duration;

/// When one meaning was last taken and last heard of.
#[derive(Debug, Clone, Copy)]
struct Heard {
    meaning: Meaning,
    taken: Duration,
    last: Duration,
}

/// The repeat guard: the same meaning is taken again only after a time since it was taken, and
/// after a quiet time since its last press. So a held pedal, which is never quiet, is one press.
#[derive(Debug, Clone, Default)]
pub struct Guard {
    heard: Vec<Heard>,
}

impl Guard {
    /// Whether a press of the meaning counts now; remembers it either way.
    pub fn takes(&mut self, meaning: Meaning, at: Duration, settings: &Settings) -> bool {
        let Some(heard) = self.heard.iter_mut().find(|h| h.meaning == meaning) else {
            self.heard.push(Heard {
                meaning,
                taken: at,
                last: at,
            });
            return true;
        };
        let rested = at.saturating_sub(heard.taken) >= settings.guard;
        let quiet = at.saturating_sub(heard.last) >= settings.quiet;
        heard.last = heard.last.max(at);
        if rested && quiet {
            heard.taken = at;
        }
        rested && quiet
    }

    /// Notes a repeat that the terminal named as such: it is never taken, and it is not quiet.
    pub fn hears(&mut self, meaning: Meaning, at: Duration) {
        if let Some(heard) = self.heard.iter_mut().find(|h| h.meaning == meaning) {
            heard.last = heard.last.max(at);
        }
    }

    /// Starts the guard time of the meaning anew, as where a menu has just opened under its key.
    pub fn restart(&mut self, meaning: Meaning, at: Duration) {
        self.heard.retain(|h| h.meaning != meaning);
        self.heard.push(Heard {
            meaning,
            taken: at,
            last: at,
        });
    }
}

/// A run of presses of one key: a hold, or several quick presses.
#[derive(Debug, Clone, Default)]
pub struct Run {
    key: Option<Key>,
    start: Duration,
    last: Duration,
    repeats: u32,
    downs: Vec<Duration>,
    spent: bool,
}

/// A hold has at least so many repeats; fewer could be a few quick presses by hand.
const REPEATS_OF_A_HOLD: u32 = 5;

impl Run {
    /// Adds a press of the key (a press that the terminal calls one, or a repeat).
    pub fn adds(&mut self, key: Key, at: Duration, settings: &Settings) {
        let gap = at.saturating_sub(self.last);
        // The first repeat comes late (250 ms to 660 ms is usual), the others close together.
        let allowed = if self.repeats == 0 {
            settings.guard.max(settings.quiet)
        } else {
            settings.quiet
        };
        if self.key == Some(key) && gap < allowed {
            self.repeats += 1;
        } else {
            self.key = Some(key);
            self.start = at;
            self.repeats = 0;
            self.spent = false;
        }
        self.last = at;
        self.downs
            .retain(|d| at.saturating_sub(*d) <= settings.triple);
        if self.downs.len() < 8 {
            self.downs.push(at);
        }
    }

    /// Ends the run: the key came up, or another was pressed.
    pub fn ends(&mut self) {
        self.key = None;
        self.repeats = 0;
        self.spent = false;
    }

    /// When the run began, if it has just become a hold; answers once for each run.
    pub fn hold(&mut self, settings: &Settings) -> Option<Duration> {
        let held = self.last.saturating_sub(self.start) >= settings.hold;
        let is = !self.spent && held && self.repeats >= REPEATS_OF_A_HOLD;
        self.spent |= is;
        is.then_some(self.start)
    }

    /// When the first of the last three presses was, if they came within the time for three;
    /// answers once for them.
    pub fn triple(&mut self) -> Option<Duration> {
        let first = self.downs.first().copied()?;
        if self.downs.len() < 3 {
            return None;
        }
        self.downs.clear();
        Some(first)
    }

    /// Forgets quick presses of before, as where another key came between.
    pub fn forget_downs(&mut self) {
        self.downs.clear();
    }
}
