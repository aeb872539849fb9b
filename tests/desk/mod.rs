//! A sitting at the loom in process: keys in, screen out, with a terminal that only remembers and a
//! clock of its own.

#![allow(clippy::unwrap_used, dead_code)]

use super::common::at;
use endsmeet::dressing::{Dressing, When};
use endsmeet::hand::{Key, Press, Settings};
use endsmeet::journal::keep::{InMemory, Keep};
use endsmeet::method::Method;
use endsmeet::terminal::digits::Ink;
use endsmeet::terminal::driver::Shown;
use endsmeet::terminal::screens::{After, Manner, Screen};
use endsmeet::terminal::sitting::Sitting;
use endsmeet::terminal::theme::Theme;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::sync::OnceLock;
use std::time::Duration;

pub const COLOUR: Manner = Manner {
    theme: Theme::Colour,
    ink: Ink::Blocks,
};
pub const PLAIN: Manner = Manner {
    theme: Theme::Mono,
    ink: Ink::Reversed,
};

pub fn method() -> &'static Method {
    static METHOD: OnceLock<Method> = OnceLock::new();
    METHOD.get_or_init(Method::embedded)
}

/// Settings under which every press of a test counts.
pub fn quick() -> Settings {
    Settings {
        guard: Duration::ZERO,
        quiet: Duration::ZERO,
        ..Settings::default()
    }
}

/// A sitting with its remembered terminal and its clock.
pub struct Desk<'a> {
    pub sitting: Sitting<'a>,
    pub shown: Shown<TestBackend>,
    pub now: u64,
    pub said: Vec<String>,
}

impl<'a> Desk<'a> {
    pub fn new(
        keep: &'a mut dyn Keep,
        method: &'a Method,
        lot: &'a mut dyn FnMut() -> u8,
        (settings, manner, (w, h)): (Settings, Manner, (u16, u16)),
    ) -> Self {
        let sitting = Sitting::new(keep, method, settings, manner, lot);
        let area = Rect::new(0, 0, w, h);
        let mut desk = Self {
            sitting,
            shown: Shown::new(TestBackend::new(w, h), area),
            now: 1000,
            said: Vec::new(),
        };
        desk.show();
        desk
    }

    pub fn show(&mut self) {
        let said = self.sitting.take_say();
        self.said.extend(said.into_iter().map(|said| said.text));
        let bands = self.sitting.bands(self.shown.area());
        self.shown.show(bands, self.sitting.manner()).unwrap();
    }

    pub fn when(&self) -> When {
        at(10_000_000 + self.now)
    }

    pub fn press(&mut self, key: Key) -> After {
        self.now += 1000;
        let press = Press::down(key, Duration::from_millis(self.now));
        let when = self.when();
        let after = self.sitting.press(press, when);
        self.show();
        after
    }

    /// Presses keys by their names in a line: `space 2 enter back tab`.
    pub fn keys(&mut self, line: &str) -> &mut Self {
        for word in line.split_whitespace() {
            self.press(match word {
                "space" => Key::Space,
                "enter" => Key::Enter,
                "back" => Key::Backspace,
                "tab" => Key::Tab,
                "esc" => Key::Esc,
                "down" => Key::Down,
                "f6" => Key::F(6),
                "f7" => Key::F(7),
                "f8" => Key::F(8),
                "f9" => Key::F(9),
                "redo" => Key::Ctrl('y'),
                c => Key::Char(c.chars().next().unwrap()),
            });
        }
        self
    }

    pub fn buffer(&mut self) -> Buffer {
        self.shown.painter().surface_mut().buffer().clone()
    }

    /// What stands on the screen, without the large letters.
    pub fn text(&mut self) -> String {
        text_of(&self.buffer())
    }
}

pub fn rows_of(buffer: &Buffer) -> Vec<String> {
    (0..buffer.area.height)
        .map(|y| {
            let row: String = (0..buffer.area.width)
                .map(|x| buffer[(x, y)].symbol().to_owned())
                .collect();
            row.trim_end().to_owned()
        })
        .collect()
}

pub fn text_of(buffer: &Buffer) -> String {
    rows_of(buffer).join("\n")
}

/// Runs `script` at a desk with this dressing.
pub fn at_desk<T>(
    dressing: &Dressing,
    settings: Settings,
    script: impl FnOnce(&mut Desk) -> T,
) -> (T, Dressing) {
    let method = method();
    let mut keep = InMemory::new(dressing.clone());
    let mut lot = || 4;
    let mut desk = Desk::new(&mut keep, method, &mut lot, (settings, COLOUR, (80, 24)));
    let out = script(&mut desk);
    drop(desk);
    (out, keep.dressing().clone())
}

/// Lets the light go on until this word is lit and spoken.
pub fn wait_for_light(desk: &mut Desk, word: &str) {
    for _ in 0..60 {
        if desk.said.last().is_some_and(|said| said == word) {
            return;
        }
        let wakes = desk.sitting.wakes_at();
        let wakes = wakes.unwrap_or_else(|| panic!("nothing is lit: {:?}", desk.said));
        desk.now = u64::try_from(wakes.as_millis()).unwrap();
        let (now, when) = (Duration::from_millis(desk.now), desk.when());
        desk.sitting.tick(now, when);
        desk.show();
    }
    panic!("{word} was never lit: {:?}", desk.said);
}

/// The letters of a text, for comparing across line breaks.
pub fn letters(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// What stands on a screen of this size after these keys.
pub fn shown(d: &Dressing, keys: &str, manner: Manner, size: (u16, u16)) -> String {
    let method = method();
    let mut keep = InMemory::new(d.clone());
    let mut lot = || 4;
    let mut desk = Desk::new(&mut keep, method, &mut lot, (quick(), manner, size));
    desk.keys(keys);
    desk.text()
}
