//! Bell and flash with three meanings: once for done, twice for not taken, three times for a look.
//! Owns the beats; time is handed in, and nothing is drawn or rung here. Never more than three
//! flashes a second (WCAG 2.1, success criterion 2.3.1, from memory).

use std::time::Duration;

/// What is told without words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Signal {
    /// The press was taken.
    Done,
    /// The press was not taken, or something does not come out.
    Refused,
    /// A look at the loom is asked for.
    Look,
}

/// For which signals something is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum For {
    /// For every one.
    All,
    /// For all but done.
    #[default]
    Alarms,
    /// For none.
    Off,
}

/// What rings and what flashes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Habits {
    /// The bell.
    pub bell: For,
    /// The top and bottom rows, reversed for a moment.
    pub flash: For,
}

/// What is due now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beat {
    /// A beat begins.
    On {
        /// The bell rings.
        ring: bool,
        /// The rows light up.
        flash: bool,
    },
    /// The rows are as before.
    Off,
}

/// From one beat's beginning to the next one's.
const EVERY: Duration = Duration::from_millis(400);
/// How long the rows are lit.
const LIT: Duration = Duration::from_millis(120);

impl For {
    fn takes(self, signal: Signal) -> bool {
        match self {
            Self::All => true,
            Self::Alarms => signal != Signal::Done,
            Self::Off => false,
        }
    }
}

/// The beats of the last signal.
#[derive(Debug, Clone, Copy, Default)]
pub struct Beats {
    habits: Habits,
    signal: Option<Signal>,
    left: u8,
    next: Duration,
    lit_since: Option<Duration>,
}

impl Beats {
    /// Nothing is told yet.
    #[must_use]
    pub fn new(habits: Habits) -> Self {
        Self {
            habits,
            ..Self::default()
        }
    }

    /// Begins a signal in place of the one before.
    pub fn start(&mut self, signal: Signal, now: Duration) {
        if !self.habits.bell.takes(signal) && !self.habits.flash.takes(signal) {
            return;
        }
        self.signal = Some(signal);
        self.left = match signal {
            Signal::Done => 1,
            Signal::Refused => 2,
            Signal::Look => 3,
        };
        // `next` stays where the last beat put it, so that no two beats come closer than that
        self.next = self.next.max(now);
    }

    /// When [`Self::tick`] has something due.
    #[must_use]
    pub fn wakes_at(&self) -> Option<Duration> {
        match (self.lit_since, self.left) {
            (Some(since), _) => Some(since + LIT),
            (None, 0) => None,
            (None, _) => Some(self.next),
        }
    }

    /// What is due at this time.
    pub fn tick(&mut self, now: Duration) -> Option<Beat> {
        if self.wakes_at().is_none_or(|at| now < at) {
            return None;
        }
        if self.lit_since.take().is_some() {
            return Some(Beat::Off);
        }
        let signal = self.signal?;
        self.left -= 1;
        self.next = now + EVERY;
        let flash = self.habits.flash.takes(signal);
        self.lit_since = flash.then_some(now);
        Some(Beat::On {
            ring: self.habits.bell.takes(signal),
            flash,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every beat with its time, until nothing is due any more.
    fn beats(beats: &mut Beats) -> Vec<(u128, Beat)> {
        let mut all = Vec::new();
        while let Some(at) = beats.wakes_at() {
            all.extend(beats.tick(at).map(|beat| (at.as_millis(), beat)));
        }
        all
    }

    fn told(signal: Signal, bell: For, flash: For) -> Vec<(u128, Beat)> {
        let mut told = Beats::new(Habits { bell, flash });
        told.start(signal, Duration::from_millis(1000));
        beats(&mut told)
    }

    #[test]
    fn the_three_meanings_differ_in_number() {
        for (signal, number) in [(Signal::Done, 1), (Signal::Refused, 2), (Signal::Look, 3)] {
            let told = told(signal, For::All, For::All);
            let on = told.iter().filter(|(_, beat)| *beat != Beat::Off).count();
            assert_eq!((on, told.len()), (number, 2 * number));
        }
    }

    #[test]
    fn what_is_off_is_off() {
        assert_eq!(told(Signal::Look, For::Off, For::Off), []);
        assert_eq!(told(Signal::Done, For::Alarms, For::Alarms), []);
        let ring = Beat::On {
            ring: true,
            flash: false,
        };
        let only_bell = told(Signal::Refused, For::Alarms, For::Off);
        assert_eq!(only_bell, [(1000, ring), (1400, ring)]);
    }

    #[test]
    fn there_are_never_more_than_three_flashes_a_second() {
        let mut told = Beats::new(Habits {
            bell: For::Off,
            flash: For::All,
        });
        let mut on = Vec::new();
        // a press every tenth of a second, each of them told
        for now in (0..10_000).map(Duration::from_millis) {
            if now.as_millis().is_multiple_of(100) {
                told.start(Signal::Look, now);
            }
            if let Some(Beat::On { .. }) = told.tick(now) {
                on.push(now.as_millis());
            }
        }
        assert!(on.len() > 20, "it does flash");
        assert!(on.windows(4).all(|four| four[3] - four[0] > 1000));
    }
}
