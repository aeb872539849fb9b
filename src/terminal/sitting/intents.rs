//! What each intent does to the sitting: asks for the dressing, numbers of a list, the menu.

use super::{MOVES_KEPT, Moved, Over, Sitting, first_key};
use crate::dressing::{Answer, Ask, View, When};
use crate::hand::{Intent, Meaning, MenuItem, row_of};
use crate::terminal::screens::{After, Tone};
use crate::words::screen_words;
use std::time::Duration;

impl Sitting<'_> {
    pub(super) fn do_intent(&mut self, intent: Intent, now: Duration, when: When) -> After {
        match intent {
            Intent::LeaveAtOnce | Intent::Leave => return After::Leave,
            Intent::Suspend => return After::Suspend,
            Intent::Repaint => return After::Repaint,
            Intent::Help => {
                self.over = match self.over {
                    Over::Help(_) => Over::Nothing,
                    _ => Over::Help(0),
                };
                return After::Show;
            }
            _ => {}
        }
        match self.over {
            Over::Help(page) => {
                self.over = self.turn_help(page, intent);
                return After::Show;
            }
            Over::PracticeDone => return After::Leave,
            // only a key that is for everywhere comes here: it shuts the cloth
            Over::Cloth(_) => {
                self.over = Over::Nothing;
                return After::Show;
            }
            Over::Nothing | Over::NotListening | Over::NotSaved(_) => {}
        }
        if self.report.open().is_some() && self.note.is_none() && self.over == Over::Nothing {
            self.count_moved(intent, |sitting| sitting.in_report(intent, now, when));
            return After::Show;
        }
        if self.note.is_some() && self.over == Over::Nothing {
            self.in_note(intent, now, when);
            return After::Show;
        }
        self.count_moved(intent, |sitting| sitting.do_at_work(intent, now, when));
        After::Show
    }

    /// Does it, and remembers what a press of the button changed.
    fn count_moved(&mut self, intent: Intent, done: impl FnOnce(&mut Self) -> bool) {
        let (given, looking) = (self.given.clone(), self.looking);
        let report = self.report.clone();
        let dressing = done(self);
        let by_button = matches!(
            intent,
            Intent::Next
                | Intent::Choose(_)
                | Intent::Number(_)
                | Intent::NotLooked
                | Intent::NotLookedYet
        );
        if by_button {
            if self.moved.len() >= MOVES_KEPT {
                self.moved.remove(0);
            }
            self.moved.push(Moved {
                dressing,
                given,
                looking,
                report,
            });
        }
    }

    /// An intent for the work; whether it changed the dressing.
    pub(super) fn do_at_work(&mut self, intent: Intent, now: Duration, when: When) -> bool {
        match intent {
            Intent::Next => self.ask(&Ask::Next, now, when),
            Intent::BackOne => self.back(now, when),
            Intent::Redo => self.ask(&Ask::Redo, now, when),
            Intent::Skip => self.skip(now, when),
            Intent::CannotTell => self.answer(Answer::CannotTell, now, when),
            Intent::Pause if matches!(self.view, View::Resting(_)) => {
                self.ask(&Ask::Next, now, when)
            }
            Intent::Pause => self.ask(&Ask::Pause, now, when),
            Intent::Number(n) => self.number(i64::from(n), now, when),
            Intent::NotLooked => self.not_looked(now, when),
            Intent::NotLookedYet => self.not_looked_yet(now, when),
            Intent::Choose(n) => self.choose(n, now, when),
            Intent::Menu(item) => self.menu(item, now, when),
            Intent::MenuOpened { taken_back } => self.take_back(taken_back, now, when),
            Intent::SayAgain => {
                self.notice = None;
                self.say_page();
                false
            }
            Intent::Wrong(key) => {
                let button = row_of(Meaning::Next).map_or_else(String::new, first_key);
                let said = screen_words::wrong_key(&key.name(), &button, &self.press_words());
                self.notice = Some((Tone::Know, said));
                false
            }
            Intent::Lit | Intent::Typed => {
                self.say_lit();
                false
            }
            Intent::Report | Intent::Note | Intent::Cloth | Intent::Sheds => {
                self.open_over(intent, now);
                false
            }
            Intent::Help
            | Intent::LeaveAsked
            | Intent::Stay
            | Intent::Leave
            | Intent::LeaveAtOnce
            | Intent::Suspend
            | Intent::Repaint
            | Intent::Char(_)
            | Intent::Erase
            | Intent::Confirm
            | Intent::Cancel => false,
        }
    }

    /// Opens what lies over the work.
    fn open_over(&mut self, intent: Intent, now: Duration) {
        match intent {
            Intent::Report => self.begin_report(now),
            Intent::Note => self.begin_note(now),
            Intent::Sheds => self.open_sheds(),
            _ => self.open_cloth(),
        }
    }

    /// One press back; in a list of numbers the last of them first, in a look back to the choices.
    fn back(&mut self, now: Duration, when: When) -> bool {
        if self.given.pop().is_some() || std::mem::take(&mut self.looking) {
            self.attend(now);
            return false;
        }
        self.ask(&Ask::BackOne, now, when)
    }

    /// Leaves out what may be left out; of a look of the tracing, back to its other ways.
    fn skip(&mut self, now: Duration, when: When) -> bool {
        if std::mem::take(&mut self.looking) {
            self.given.clear();
            self.attend(now);
            return false;
        }
        self.ask(&Ask::Skip, now, when)
    }

    fn menu(&mut self, item: MenuItem, now: Duration, when: When) -> bool {
        self.attend(now);
        match item {
            MenuItem::GoOn => {
                self.notice = None;
                false
            }
            MenuItem::BackOne => self.back(now, when),
            MenuItem::SayAgain => {
                self.say_page();
                false
            }
            MenuItem::OtherWay => self.choose(1, now, when),
            MenuItem::Stuck if matches!(self.view, View::UsedUp(_)) => {
                self.ask(&Ask::Uneven, now, when)
            }
            MenuItem::Stuck => self.ask(&Ask::Stuck, now, when),
            MenuItem::Count => self.ask(&Ask::Count, now, when),
            MenuItem::SomethingWrong => {
                self.begin_report(now);
                false
            }
            MenuItem::HelpMe if self.about.help_wanted => self.ask(&Ask::HelpCame, now, when),
            MenuItem::HelpMe => self.ask(&Ask::HelpWanted, now, when),
            MenuItem::HandsWanted if self.about.hands_wanted => self.ask(&Ask::HelpCame, now, when),
            MenuItem::HandsWanted => self.ask(&Ask::HandsWanted, now, when),
            MenuItem::StopForToday => self.ask(&Ask::StopForToday, now, when),
            MenuItem::CannotTell => self.answer(Answer::CannotTell, now, when),
            MenuItem::LeaveOut => self.skip(now, when),
        }
    }

    /// Takes back what the presses that opened the menu had done.
    fn take_back(&mut self, presses: u8, now: Duration, when: When) -> bool {
        let from = self.moved.len().saturating_sub(usize::from(presses));
        let moves: Vec<Moved> = self.moved.drain(from..).collect();
        let mut taken = false;
        for _ in moves.iter().filter(|moved| moved.dressing) {
            taken |= self.save(&Ask::BackOne, when).is_ok();
        }
        self.notice = None;
        if taken {
            self.renew();
            let said = screen_words::MENU_TOOK_BACK.to_owned();
            self.notice = Some((Tone::Done, said));
        }
        if let Some(first) = moves.into_iter().next() {
            let now = (self.given.clone(), self.looking, self.report.clone());
            let before = (first.given, first.looking, first.report);
            taken |= before != now;
            (self.given, self.looking, self.report) = before;
        }
        if taken {
            self.attend_under_menu(now);
        }
        self.say_lit();
        taken
    }
}
