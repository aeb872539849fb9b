//! The sitting as the loop sees it: presses, time and focus come in, bands, words and signals go out.

use super::{AWAY_MS, Over, Sitting};
use crate::dressing::When;
use crate::hand::{Key, Press, PressKind};
use crate::terminal::screens::{After, Manner, Placed, Screen, Tone};
use crate::terminal::signal::Signal;
use crate::words::screen_words;
use crate::words::spoken::{Purpose, Said};
use ratatui::layout::Rect;
use std::time::Duration;

impl Screen for Sitting<'_> {
    fn press(&mut self, press: Press, when: When) -> After {
        if let Over::Cloth(shown) = self.over
            && !matches!(
                press.key,
                Key::Ctrl(_) | Key::Char('?' | 'h' | 'q') | Key::F(1)
            )
        {
            if press.kind != PressKind::Release {
                let after = shown.after(press.key, self.keep.dressing().plan());
                self.over = after.map_or(Over::Nothing, Over::Cloth);
            }
            return After::Show;
        }
        match self.hand.press(press) {
            Some(intent) => self.do_intent(intent, press.at, when),
            None => After::Show,
        }
    }

    fn title(&self) -> String {
        screen_words::title(self.keep.dressing().plan())
    }

    fn take_say(&mut self) -> Vec<Said> {
        std::mem::take(&mut self.say)
    }

    fn tell(&mut self, sentence: &str) {
        self.notice = Some((Tone::Know, sentence.to_owned()));
    }

    fn take_bell(&mut self) -> bool {
        std::mem::take(&mut self.bell)
    }

    fn take_signal(&mut self) -> Option<Signal> {
        let taken = self.taken.take();
        if self.take_bell() {
            return Some(Signal::Refused);
        }
        taken
    }

    fn take_covered(&mut self) -> bool {
        std::mem::take(&mut self.covered)
    }

    fn wakes_at(&self) -> Option<Duration> {
        self.hand.wakes_at()
    }

    fn tick(&mut self, now: Duration, when: When) -> After {
        match self.hand.tick(now) {
            Some(intent) => self.do_intent(intent, now, when),
            None => After::Show,
        }
    }

    fn focus(&mut self, has: bool, when: When) {
        match (has, &self.over) {
            (false, _) => {
                self.away_since = Some(when.elapsed_ms);
                self.over = Over::NotListening;
                self.bell = true;
                self.say = vec![Said::new(Purpose::Remark, screen_words::NOT_LISTENING)];
            }
            (true, Over::NotListening) => {
                self.over = Over::Nothing;
                let since = self.away_since.take().unwrap_or(when.elapsed_ms);
                if when.elapsed_ms.saturating_sub(since) >= AWAY_MS {
                    self.back_at_the_loom(when);
                }
            }
            (true, _) => {}
        }
    }

    fn manner(&self) -> Manner {
        self.manner
    }

    fn bands(&self, area: Rect) -> Vec<Placed> {
        self.shown(area)
    }
}
