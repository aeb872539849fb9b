//! Answers: numbers by keys or lit digits, choices, the light itself. The part of the hand that a
//! question needs; the rest is in `listen`.

use super::lit::{LitItem, Turn, choice_items, number_items};
use super::{Context, Hand, Intent, Key, Press, Typed};
use std::time::Duration;

/// A digit key that comes again sooner than this is held, not pressed twice.
const DIGIT_QUIET: Duration = Duration::from_millis(60);

impl Hand {
    /// The button: on to the next call, or the lit answer, or the number as typed.
    pub(super) fn next(&mut self, at: Duration) -> Intent {
        match self.context {
            Context::Work { .. } | Context::Text => Intent::Next,
            Context::Choice { .. } => match self.turn.as_ref().and_then(Turn::item) {
                Some(LitItem::Choice(n)) => Intent::Choose(n),
                _ => Intent::Next,
            },
            Context::Ways { .. } => match self.turn.as_ref().and_then(Turn::item) {
                Some(LitItem::Choice(n)) => Intent::Choose(n),
                _ => self.lights_ways(at, true),
            },
            Context::Number { .. } => match self.turn.as_ref().and_then(Turn::item) {
                Some(item) => self.takes_lit(item, at),
                None => self.finish(at),
            },
        }
    }

    /// The first line of a list of ways is lit; nothing is taken. By the button they are lit in turn.
    fn lights_ways(&mut self, at: Duration, by_button: bool) -> Intent {
        self.ways_lit = true;
        self.lights = by_button;
        self.light(at);
        Intent::Lit
    }

    pub(super) fn takes_lit(&mut self, item: LitItem, at: Duration) -> Intent {
        match item {
            LitItem::Digit(digit) => {
                self.typed.push(digit);
            }
            LitItem::Minus => self.typed.flip_sign(),
            LitItem::Erase => {
                self.typed.erase();
            }
            LitItem::NotLooked | LitItem::Done | LitItem::Menu(_) | LitItem::Choice(_) => {
                return self.finish(at);
            }
        }
        self.light(at);
        Intent::Typed
    }

    /// Ends the number; with nothing given the question stays unanswered, and its answers are lit.
    pub(super) fn finish(&mut self, at: Duration) -> Intent {
        let given = self.typed.value();
        let dark = self.turn.is_none() && !self.by_keys;
        self.typed = Typed::default();
        self.by_keys = false;
        self.lights |= given.is_none();
        self.light(at);
        match given {
            Some(number) => Intent::Number(number),
            None if dark => Intent::NotLookedYet,
            None => Intent::NotLooked,
        }
    }

    pub(super) fn back(&mut self, at: Duration) -> Intent {
        let typed = matches!(self.context, Context::Number { .. }) && self.typed.erase();
        if !typed {
            return Intent::BackOne;
        }
        self.light(at);
        Intent::Typed
    }

    /// Whether the key moves the light of a list here instead of what the table says.
    #[must_use]
    pub fn key_moves_light(&self, key: Key) -> bool {
        let list = matches!(self.context, Context::Choice { .. } | Context::Ways { .. });
        let arrow = matches!(key, Key::Down | Key::Right | Key::Up | Key::Left);
        let bound = self.settings.pedal == Some(key) || self.settings.one_button;
        list && arrow && self.menu.is_none() && !bound
    }

    /// In a list without a light of its own the arrows move it; never held back by the guard.
    pub(super) fn moves_light(&mut self, press: Press) -> bool {
        if !self.key_moves_light(press.key) {
            return false;
        }
        let by = if matches!(press.key, Key::Down | Key::Right) {
            1
        } else {
            -1
        };
        match &mut self.turn {
            Some(turn) => {
                turn.steps(by, press.at);
                turn.stands();
                self.lights = false;
            }
            None => drop(self.lights_ways(press.at, false)),
        }
        true
    }

    /// A number key: in the menu its item, in an answer a digit, in a list a choice.
    pub(super) fn digit(&mut self, digit: u8, press: Press) -> Option<Intent> {
        self.run.ends();
        self.run.forget_downs();
        let held = self
            .last_digit
            .is_some_and(|(key, at)| key == press.key && press.at.saturating_sub(at) < DIGIT_QUIET);
        self.last_digit = Some((press.key, press.at));
        if held {
            return None;
        }
        self.lights = false;
        // the tenth of a list has the key 0
        let place = Some(digit.checked_sub(1).unwrap_or(9));
        if let Some(menu) = &self.menu {
            let lit = menu.lit();
            let item = place.and_then(|p: u8| match lit.items.get(usize::from(p)) {
                Some(LitItem::Menu(item)) => Some(*item),
                _ => None,
            });
            if item.is_some() {
                self.menu = None;
                self.light(press.at);
            }
            return Some(item.map_or(Intent::Wrong(press.key), Intent::Menu));
        }
        Some(match self.context {
            Context::Number { .. } if self.typed.push(digit) => self.typed_by_key(press.at),
            Context::Choice { count, .. }
            | Context::Ways { count }
            | Context::Work { choices: count } => match place {
                Some(p) if p < count => Intent::Choose(p),
                _ => Intent::Wrong(press.key),
            },
            _ => Intent::Wrong(press.key),
        })
    }

    pub(super) fn minus(&mut self, press: Press) -> Intent {
        match self.context {
            Context::Number { minus: true, .. } if self.menu.is_none() => {
                self.typed.flip_sign();
                self.typed_by_key(press.at)
            }
            _ => Intent::Wrong(press.key),
        }
    }

    pub(super) fn typed_by_key(&mut self, at: Duration) -> Intent {
        self.by_keys = true;
        self.light(at);
        Intent::Typed
    }

    /// Lights the items of the present context anew.
    pub(super) fn light(&mut self, now: Duration) {
        let lights = self.is_lit_in_turn();
        self.turn = match self.context {
            Context::Work { .. } | Context::Text => None,
            Context::Choice { count, start } => {
                Some(Turn::new(choice_items(count, start), now, lights))
            }
            Context::Ways { count } => self
                .ways_lit
                .then(|| Turn::new(choice_items(count, 0), now, lights)),
            Context::Number { minus, start, .. } if lights && !self.by_keys => Some(Turn::new(
                number_items(start, minus, self.typed.is_empty()),
                now,
                true,
            )),
            Context::Number { .. } => None,
        };
    }
}
