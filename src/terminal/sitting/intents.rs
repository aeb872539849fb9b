//! What each intent does to the sitting: asks for the dressing, numbers of a list, the menu.

use super::{ClothView, MOVES_KEPT, Moved, Over, Sitting, first_key};
use crate::dressing::state::open_look;
use crate::dressing::view::{Asked, Disagreeing, DisagreeingView};
use crate::dressing::{Answer, Ask, View, When};
use crate::fault::{Look, LookKind, Seen, WarpLook};
use crate::hand::{Intent, Meaning, MenuItem, row_of};
use crate::quantity::{Call, Shaft};
use crate::terminal::line_words::{seen as seen_in, seen_beyond};
use crate::terminal::screens::{After, Tone};
use crate::terminal::ways::ways;
use crate::words::{cloth_words, lines, screen_words};
use std::time::Duration;

impl Sitting<'_> {
    pub(super) fn do_intent(&mut self, intent: Intent, now: Duration, when: When) -> After {
        match intent {
            Intent::LeaveAtOnce | Intent::Leave => return After::Leave,
            Intent::Suspend => return After::Suspend,
            Intent::Repaint => return After::Repaint,
            Intent::Help => {
                self.over = match self.over {
                    Over::Help => Over::Nothing,
                    _ => Over::Help,
                };
                return After::Show;
            }
            _ => {}
        }
        match self.over {
            Over::Help => {
                self.over = Over::Nothing;
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

    /// Opens the list of sheds; not while a look is open, which may ask for what it says.
    fn open_sheds(&mut self) {
        if open_look(self.keep.dressing().mood()).is_some() {
            self.alarm(lines::AFTER_THE_LOOK.to_owned());
        } else {
            self.over = Over::Cloth(ClothView::sheds());
        }
    }

    /// Opens the cloth where the hand is; not while a look is open, which may ask for what it shows.
    fn open_cloth(&mut self) {
        if open_look(self.keep.dressing().mood()).is_some() {
            self.alarm(lines::AFTER_THE_LOOK.to_owned());
        } else if self.keep.dressing().plan().lifts_wanted().is_empty() {
            self.alarm(cloth_words::NO_PICKS.to_owned());
        } else {
            let hand = self.keep.dressing().hand_at();
            self.over = Over::Cloth(ClothView::at(hand));
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
            Intent::Report => {
                self.begin_report(now);
                false
            }
            Intent::Note => {
                self.begin_note(now);
                false
            }
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
            Intent::Cloth => {
                self.open_cloth();
                false
            }
            Intent::Sheds => {
                self.open_sheds();
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

    fn answer(&mut self, answer: Answer, now: Duration, when: When) -> bool {
        if answer == Answer::CannotTell
            && let Some(seen) = seen_beyond("?", self.keep.dressing())
        {
            return self.ask(&Ask::Answer(seen), now, when);
        }
        let answer = match (answer, self.tracing_look()) {
            (Answer::CannotTell, Some((look, _))) => Answer::Seen(Seen::CannotTell {
                look: look.kind,
                call: look.call,
            }),
            (answer, _) => answer,
        };
        self.ask(&Ask::Answer(answer), now, when)
    }

    /// A number in answer: of a list the next one, else the answer itself.
    fn number(&mut self, n: i64, now: Duration, when: When) -> bool {
        if let Some(shafts) = self.shafts_asked() {
            self.given.push(n);
            if self.given.len() < shafts.len() {
                self.attend(now);
                return false;
            }
            let given = std::mem::take(&mut self.given);
            let all = self.dressing().plan().on_all_shafts(&given);
            return self.answer(Answer::Numbers(all), now, when);
        }
        if let Some(heddles) = self.handful_read() {
            return self.read(n, heddles, now, when);
        }
        if !self.looking {
            return self.answer(Answer::Number(n), now, when);
        }
        self.given.push(n);
        if self.reads_back() || self.wants_more() {
            self.attend(now);
            return false;
        }
        self.seen(now, when)
    }

    /// The first press of the button where a number is asked: never an answer; the digits are lit.
    fn not_looked_yet(&mut self, now: Duration, when: When) -> bool {
        if self.looking {
            let said = screen_words::DIGITS_LIT.to_owned();
            self.notice = Some((Tone::Know, said));
            self.say_lit();
            return false;
        }
        let moved = self.ask(&Ask::Next, now, when);
        // who has one button only must hear how the number can be given with it
        if let Some((_, said)) = self.notice.as_mut().filter(|_| !moved) {
            *said = format!(
                "{} {}",
                screen_words::NOT_LOOKED_YET,
                screen_words::DIGITS_LIT
            );
        }
        moved
    }

    /// A shaft that is read: the handful goes to the dressing as a whole; 0 ends the reading.
    fn read(&mut self, n: i64, heddles: usize, now: Duration, when: When) -> bool {
        if n != 0 {
            self.given.push(n);
        }
        if n != 0 && self.given.len() < heddles {
            self.attend(now);
            return false;
        }
        let handful = std::mem::take(&mut self.given);
        let ended = n == 0 && !handful.is_empty();
        let moved = self.answer(Answer::Numbers(handful), now, when);
        if ended && moved {
            return self.answer(Answer::Numbers(Vec::new()), now, when);
        }
        moved
    }

    /// Heddles of the handful that is read now; `None` where nothing is read.
    pub(super) fn handful_read(&self) -> Option<usize> {
        match &self.view {
            View::Asking(asking) => match asking.asked {
                Asked::ReadBack { all: true, .. } => Some(1),
                Asked::ReadBack { heddles, .. } => Some(heddles as usize),
                _ => None,
            },
            _ => None,
        }
    }

    /// Whether the look along the warp wants a knot and a heddle, and only the knot is given.
    fn wants_more(&self) -> bool {
        let pair = matches!(
            &self.view,
            View::Disagreeing(DisagreeingView {
                what: Disagreeing::Warp(warp),
                ..
            }) if warp.tracing.look == Some(WarpLook::Together)
        );
        pair && matches!(self.given.as_slice(), [knot] if *knot != 0)
    }

    /// The button without a number: never an answer. A list that is read back ends with it.
    fn not_looked(&mut self, now: Duration, when: When) -> bool {
        if self.handful_read().is_some() && !self.given.is_empty() {
            let handful = std::mem::take(&mut self.given);
            return self.answer(Answer::Numbers(handful), now, when);
        }
        if self.looking {
            if self.reads_back() && !self.given.is_empty() {
                return self.seen(now, when);
            }
            self.looking = false;
            self.attend(now);
            return false;
        }
        self.ask(&Ask::Next, now, when)
    }

    /// What was seen at the look that the tracing asked for; 0 says none.
    fn seen(&mut self, now: Duration, when: When) -> bool {
        let said: Vec<String> = self.given.drain(..).map(|n| n.to_string()).collect();
        if let Some(answer) = seen_beyond(&said.join(" "), self.keep.dressing()) {
            return self.ask(&Ask::Answer(answer), now, when);
        }
        let look = self.tracing_look();
        let seen = look.and_then(|(look, first)| seen_in(&look, first, &said.join(" ")));
        match seen {
            Some(seen) => self.ask(&Ask::Answer(Answer::Seen(seen)), now, when),
            None => {
                self.alarm(screen_words::CANNOT_BE_SEEN.to_owned());
                self.attend(now);
                false
            }
        }
    }

    /// The look that the tracing asks for, and the first call of its batch.
    fn tracing_look(&self) -> Option<(Look, Call)> {
        match &self.view {
            View::Disagreeing(DisagreeingView {
                what: Disagreeing::Batch { tracing, batch, .. },
                ..
            }) => Some((tracing.look?, batch.calls.first)),
            _ => None,
        }
    }

    fn reads_back(&self) -> bool {
        self.tracing_look()
            .is_some_and(|(look, _)| look.kind == LookKind::ReadBack)
    }

    /// The shafts whose heddles are asked one after the other: those that this plan leaves bare are not.
    pub(super) fn shafts_asked(&self) -> Option<Vec<Shaft>> {
        let asked = match &self.view {
            View::Asking(asking) => &asking.asked,
            _ => return None,
        };
        let heddles = matches!(asked, Asked::HeddlesLeft { .. } | Asked::WarpHeddles { .. });
        heddles.then(|| self.dressing().plan().used_shafts())
    }

    fn choose(&mut self, n: u8, now: Duration, when: When) -> bool {
        let has_look =
            matches!(&self.view, View::Disagreeing(view) if screen_words::has_look(view));
        if has_look && n == 0 {
            self.looking = true;
            self.attend(now);
            return false;
        }
        let nth = usize::from(n) - usize::from(has_look);
        let ask = ways(&self.view).into_iter().nth(nth);
        ask.is_some_and(|ask| self.ask(&ask, now, when))
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
