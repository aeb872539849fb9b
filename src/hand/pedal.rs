//! The pedal test: what arrives when a pedal is pressed, and which settings suit it. Owns the
//! reading of a few presses; never binds anything by itself.

use super::{Key, Opens, Press, PressKind, Settings};
use std::time::Duration;

/// The presses of one test, while they come in.
#[derive(Debug, Clone, Default)]
pub struct PedalTest {
    heard: Vec<Press>,
}

/// What a pedal does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PedalVerdict {
    /// The key that it sends.
    pub key: Key,
    /// The time to the first repeat where it repeats.
    pub first_repeat: Option<Duration>,
    /// The longest time between two repeats after that.
    pub repeat_every: Option<Duration>,
    /// Whether every press sent more than one key.
    pub many_keys: bool,
}

/// The most presses that a test remembers.
const MOST: usize = 512;

impl PedalTest {
    /// Takes one press of the test.
    pub fn hears(&mut self, press: Press) {
        if press.kind != PressKind::Release && self.heard.len() < MOST {
            self.heard.push(press);
        }
    }

    /// How many presses have come in.
    #[must_use]
    pub fn count(&self) -> usize {
        self.heard.len()
    }

    /// What arrived; `None` before the first press. The weaver is asked to hold the pedal down
    /// for two seconds, so a pedal that repeats shows it.
    #[must_use]
    pub fn verdict(&self) -> Option<PedalVerdict> {
        let first = self.heard.first()?;
        let times: Vec<Duration> = self
            .heard
            .iter()
            .filter(|p| p.key == first.key)
            .map(|p| p.at)
            .collect();
        let gaps: Vec<Duration> = times
            .windows(2)
            .map(|w| w[1].saturating_sub(w[0]))
            .collect();
        let repeats = gaps.len() >= 3;
        Some(PedalVerdict {
            key: first.key,
            first_repeat: gaps.first().copied().filter(|_| repeats),
            repeat_every: gaps.iter().skip(1).max().copied().filter(|_| repeats),
            many_keys: self.heard.iter().any(|p| p.key != first.key),
        })
    }
}

impl PedalVerdict {
    /// The settings with this pedal bound: how the menu opens, and a guard and quiet time that
    /// outlast its repeats.
    #[must_use]
    pub fn settings(&self, settings: Settings) -> Settings {
        let margin = Duration::from_millis(100);
        let quiet = self.repeat_every.map_or(settings.quiet, |every| {
            settings.quiet.max(every.saturating_add(margin))
        });
        let guard = self.first_repeat.map_or(settings.guard, |first| {
            settings.guard.max(first.saturating_add(margin))
        });
        Settings {
            pedal: Some(self.key),
            opens: if self.repeat_every.is_some() {
                Opens::Hold
            } else {
                Opens::Triple
            },
            guard,
            quiet,
            ..settings
        }
    }
}
