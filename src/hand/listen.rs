//! The hand itself: presses go in with their time, intents come out. Owns the context, the menu
//! and the number being given; never knows a dressing, a clock or a terminal.

use super::guard::{Guard, Run};
use super::lit::{LitItem, Turn, menu_items};
use super::{
    Intent, Key, Lit, Meaning, MenuItem, Opens, Press, PressKind, Settings, Typed, meaning_of,
};
use std::time::Duration;

/// What the presses are for. The caller sets it whenever the screen's meaning changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Context {
    /// The work at the loom: calls, steps, pauses, help.
    Work {
        /// So many number keys, from 1 on, say something other than "done"; 0 where none does.
        choices: u8,
    },
    /// A question whose answer is a whole number.
    Number {
        /// Whether the number may be negative.
        minus: bool,
        /// The digit that is lit first, 0..=9; the caller draws it by lot.
        start: u8,
        /// Whether it is a look, which may be left out or not be told.
        look: bool,
    },
    /// A question or a list of so many choices.
    Choice {
        /// How many, 1..=255.
        count: u8,
        /// The choice that is lit first, counted from 0.
        start: u8,
    },
    /// A list from which a press by reflex must take nothing: no line is lit until the button or an
    /// arrow is pressed.
    Ways {
        /// How many, 0..=255.
        count: u8,
    },
    /// A line of text.
    Text,
}

/// The light of the menu comes round so often before the menu shuts by itself.
const MENU_ROUNDS: u32 = 2;

/// Turns presses into intents.
#[derive(Debug, Clone)]
pub struct Hand {
    pub(super) settings: Settings,
    pub(super) context: Context,
    guard: Guard,
    pub(super) run: Run,
    pub(super) last_digit: Option<(Key, Duration)>,
    leaving: bool,
    pub(super) typed: Typed,
    /// A number key was used for this answer: the light stays out, Next finishes the number.
    pub(super) by_keys: bool,
    pub(super) turn: Option<Turn>,
    /// The button was pressed where a number is asked: answers and lists are lit in turn from then on,
    /// also for a hand that is not known to have one button only, until a number key or an arrow is
    /// used.
    pub(super) lights: bool,
    /// The button or an arrow was pressed at this list of ways: a line of it is lit.
    pub(super) ways_lit: bool,
    pub(super) menu: Option<Turn>,
    /// Whether the screen has another way on than the button's.
    other_way: bool,
    /// What the last presses of the button did, for when they turn out to open the menu.
    moved: Vec<(Duration, Moved)>,
}

/// What a press of the button did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Moved {
    /// An intent went to the caller, who can take it back.
    Sent,
    /// A digit or sign was taken into the number, and can go out of it again.
    Digit,
}

/// So many of the last moves are remembered; no menu is opened by more presses that count.
const MOVES_KEPT: usize = 4;

impl Hand {
    /// A hand at work, with nothing pressed yet.
    #[must_use]
    pub fn new(settings: Settings) -> Self {
        Self {
            settings,
            context: Context::Work { choices: 0 },
            guard: Guard::default(),
            run: Run::default(),
            last_digit: None,
            leaving: false,
            typed: Typed::default(),
            by_keys: false,
            lights: false,
            ways_lit: false,
            turn: None,
            menu: None,
            other_way: false,
            moved: Vec::new(),
        }
    }

    /// The settings in force.
    #[must_use]
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// Changes the settings, as after a pedal test; nothing pressed before counts.
    pub fn set_settings(&mut self, settings: Settings) {
        let context = self.context;
        *self = Self::new(settings);
        self.context = context;
    }

    /// What the presses are for now.
    #[must_use]
    pub fn context(&self) -> Context {
        self.context
    }

    /// Sets what the presses are for from now on. A new question starts empty; the guard stays,
    /// so the press that led to the question cannot answer it.
    pub fn attend(&mut self, context: Context, now: Duration) {
        self.context = context;
        self.typed = Typed::default();
        self.by_keys = false;
        self.ways_lit = false;
        self.leaving = false;
        self.menu = None;
        self.light(now);
    }

    /// The same while the menu is open: the presses that opened it had changed what the screen means
    /// and were taken back, so the menu is for what stands there again.
    pub fn attend_under_menu(&mut self, context: Context, other_way: bool, now: Duration) {
        self.attend(context, now);
        self.other_way = other_way;
        self.menu_opened(now, 0);
    }

    /// Says whether the screen has another way on than the button's, which the menu then has too.
    pub fn has_other_way(&mut self, other_way: bool) {
        self.other_way = other_way;
    }

    /// From now on what can be chosen is lit in turn, as for a hand with one button.
    pub fn lights_in_turn(&mut self, now: Duration) {
        self.lights = true;
        self.light(now);
    }

    /// Whether what can be chosen is lit in turn.
    #[must_use]
    pub fn is_lit_in_turn(&self) -> bool {
        self.settings.one_button || self.lights
    }

    /// The number as given so far.
    #[must_use]
    pub fn typed(&self) -> &Typed {
        &self.typed
    }

    /// Whether `q` was pressed and `y` is awaited.
    #[must_use]
    pub fn is_leaving(&self) -> bool {
        self.leaving
    }

    /// Whether the menu is open.
    #[must_use]
    pub fn menu_is_open(&self) -> bool {
        self.menu.is_some()
    }

    /// What is lit now, the menu before all else.
    #[must_use]
    pub fn lit(&self) -> Option<Lit<'_>> {
        self.menu.as_ref().or(self.turn.as_ref()).map(Turn::lit)
    }

    /// When [`Self::tick`] has something to do next; `None` while nothing moves by itself.
    #[must_use]
    pub fn wakes_at(&self) -> Option<Duration> {
        let turn = self.menu.as_ref().or(self.turn.as_ref())?;
        turn.moves_at(self.settings.lit)
    }

    /// Tells the hand how late it is: the light moves on, or a menu left alone shuts.
    pub fn tick(&mut self, now: Duration) -> Option<Intent> {
        let each = self.settings.lit;
        if let Some(menu) = &mut self.menu {
            if !menu.tick(now, each) {
                return None;
            }
            if menu.rounds() < MENU_ROUNDS {
                return Some(Intent::Lit);
            }
            self.menu = None;
            self.light(now);
            return Some(Intent::Menu(MenuItem::GoOn));
        }
        let moved = self.turn.as_mut().is_some_and(|t| t.tick(now, each));
        moved.then_some(Intent::Lit)
    }

    /// Takes one press; the intent that it makes, if it makes one.
    pub fn press(&mut self, press: Press) -> Option<Intent> {
        match press.kind {
            PressKind::Release => {
                self.run.ends();
                None
            }
            PressKind::Repeat => self.repeat(press),
            PressKind::Press if press.key == Key::Ctrl('c') => Some(Intent::LeaveAtOnce),
            PressKind::Press if self.leaving => Some(self.leave(press.key)),
            PressKind::Press if self.context == Context::Text => self.text(press),
            PressKind::Press => self.down(press),
        }
    }

    /// After `q`: only `y` leaves.
    fn leave(&mut self, key: Key) -> Intent {
        self.leaving = false;
        match key {
            Key::Char('y' | 'Y') => Intent::Leave,
            _ => Intent::Stay,
        }
    }

    /// A repeat that the terminal names: never a press, but it may be a hold.
    fn repeat(&mut self, press: Press) -> Option<Intent> {
        let meaning = self.meaning(press.key)?;
        self.guard.hears(meaning, press.at);
        if meaning != Meaning::Next || self.context == Context::Text {
            return None;
        }
        self.run.adds(press.key, press.at, &self.settings);
        self.opens_menu(press.at)
    }

    /// A line of text takes every character; only Enter, Backspace and Esc are more.
    fn text(&mut self, press: Press) -> Option<Intent> {
        match press.key {
            Key::Space => Some(Intent::Char(' ')),
            Key::Char(c) => Some(Intent::Char(c)),
            Key::Backspace => Some(Intent::Erase),
            Key::Enter => self
                .guard
                .takes(Meaning::Next, press.at, &self.settings)
                .then_some(Intent::Confirm),
            Key::Esc => Some(Intent::Cancel),
            other => Some(Intent::Wrong(other)),
        }
    }

    fn meaning(&self, key: Key) -> Option<Meaning> {
        if self.settings.pedal == Some(key) {
            return Some(Meaning::Next);
        }
        meaning_of(key)
    }

    /// A press while nothing is being typed as text.
    fn down(&mut self, press: Press) -> Option<Intent> {
        if self.settings.pedal != Some(press.key) {
            if let Some(digit) = press.key.digit() {
                return self.digit(digit, press);
            }
            if press.key == Key::Char('-') {
                return Some(self.minus(press));
            }
        }
        self.last_digit = None;
        let Some(meaning) = self.meaning(press.key) else {
            self.run.ends();
            self.run.forget_downs();
            return Some(Intent::Wrong(press.key));
        };
        if meaning == Meaning::Next {
            self.run.adds(press.key, press.at, &self.settings);
            if let Some(opened) = self.opens_menu(press.at) {
                return Some(opened);
            }
        } else {
            self.run.ends();
            self.run.forget_downs();
        }
        if self.moves_light(press) {
            return Some(Intent::Lit);
        }
        if !self.guard.takes(meaning, press.at, &self.settings) {
            return None;
        }
        let intent = self.mean(meaning, press.at);
        if meaning == Meaning::Next {
            self.remember(intent, press.at);
        }
        Some(intent)
    }

    fn remember(&mut self, intent: Intent, at: Duration) {
        let moved = match intent {
            Intent::Menu(_) | Intent::Lit => return,
            Intent::Typed => Moved::Digit,
            _ => Moved::Sent,
        };
        if self.moved.len() >= MOVES_KEPT {
            self.moved.remove(0);
        }
        self.moved.push((at, moved));
    }

    /// Opens the menu where the presses of the button are a hold, or three quick ones.
    fn opens_menu(&mut self, at: Duration) -> Option<Intent> {
        let since = match self.settings.opens {
            Opens::Hold => self.run.hold(&self.settings),
            Opens::Triple => self.run.triple(),
        }?;
        if self.menu.is_some() {
            return None;
        }
        self.guard.restart(Meaning::Next, at);
        let mut sent = 0;
        for (when, moved) in std::mem::take(&mut self.moved) {
            match moved {
                _ if when < since => {}
                Moved::Sent => sent += 1,
                Moved::Digit => {
                    self.typed.erase();
                }
            }
        }
        Some(self.menu_opened(at, sent))
    }

    fn looks(&self) -> bool {
        matches!(self.context, Context::Number { look: true, .. })
    }

    fn menu_opened(&mut self, at: Duration, taken_back: u8) -> Intent {
        let items = menu_items(self.looks(), self.other_way);
        self.menu = Some(Turn::new(items, at, true));
        Intent::MenuOpened { taken_back }
    }

    /// What a meaning that counted does here.
    fn mean(&mut self, meaning: Meaning, at: Duration) -> Intent {
        match meaning {
            Meaning::LeaveAtOnce => Intent::LeaveAtOnce,
            Meaning::Suspend => Intent::Suspend,
            Meaning::Repaint => Intent::Repaint,
            _ if self.menu.is_some() => self.in_menu(meaning, at),
            Meaning::Next => self.next(at),
            Meaning::BackOne => self.back(at),
            Meaning::SayAgain => Intent::SayAgain,
            Meaning::Redo => Intent::Redo,
            Meaning::Menu => self.menu_opened(at, 0),
            Meaning::Skip => Intent::Skip,
            Meaning::CannotTell => Intent::CannotTell,
            Meaning::Note => Intent::Note,
            Meaning::Report => Intent::Report,
            Meaning::Pause => Intent::Pause,
            Meaning::Cloth => Intent::Cloth,
            Meaning::Sheds => Intent::Sheds,
            Meaning::Help => Intent::Help,
            Meaning::Leave => {
                self.leaving = true;
                Intent::LeaveAsked
            }
        }
    }

    /// In the menu the button takes the lit item, Tab lights the next, any other key shuts it.
    fn in_menu(&mut self, meaning: Meaning, at: Duration) -> Intent {
        if meaning == Meaning::Menu {
            if let Some(menu) = &mut self.menu {
                menu.steps(1, at);
            }
            return Intent::Lit;
        }
        let lit = self.menu.take().and_then(|m| m.item());
        self.light(at);
        Intent::Menu(match (meaning, lit) {
            (Meaning::Next, Some(LitItem::Menu(item))) => item,
            (Meaning::SayAgain, _) => MenuItem::SayAgain,
            _ => MenuItem::GoOn,
        })
    }
}
