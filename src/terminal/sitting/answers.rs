//! Numbers and choices in answer: which belong together, and what they are given as. Owns lists of
//! numbers while they are given; what an answer means is decided elsewhere.

use super::Sitting;
use crate::dressing::view::{Asked, Disagreeing, DisagreeingView};
use crate::dressing::{Answer, Ask, View, When};
use crate::fault::{Look, LookKind, Seen, WarpLook};
use crate::quantity::{Call, Shaft};
use crate::terminal::line_answers::{seen as seen_in, seen_beyond};
use crate::terminal::screens::Tone;
use crate::terminal::ways::ways;
use crate::words::spoken::{Purpose, Said};
use crate::words::{lines, screen_words};
use std::time::Duration;

impl Sitting<'_> {
    pub(super) fn answer(&mut self, answer: Answer, now: Duration, when: When) -> bool {
        let answer = match answer {
            Answer::CannotTell => self.cannot_tell(),
            answer => answer,
        };
        self.ask(&Ask::Answer(answer), now, when)
    }

    /// Has the slip kept, and tells where it is.
    fn keep_slip(&mut self) {
        let dressing = self.keep.dressing();
        let kept = match &mut self.slips {
            Some(slips) => slips(dressing),
            None => Err(lines::NO_SLIP.to_owned()),
        };
        let told = lines::slip_told(&kept);
        if kept.is_err() {
            return self.alarm(told);
        }
        self.say = vec![Said::new(Purpose::Remark, &told)];
        self.notice = Some((Tone::Done, told));
    }

    /// "Cannot tell" as an answer to the look that is asked here.
    pub(super) fn cannot_tell(&self) -> Answer {
        if let Some(seen) = seen_beyond("?", self.keep.dressing()) {
            return seen;
        }
        self.tracing_look().map_or(Answer::CannotTell, |(look, _)| {
            Answer::Seen(Seen::CannotTell {
                look: look.kind,
                call: look.call,
            })
        })
    }

    /// A number in answer: of a list the next one, else the answer itself.
    pub(super) fn number(&mut self, n: i64, now: Duration, when: When) -> bool {
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
    pub(super) fn not_looked_yet(&mut self, now: Duration, when: When) -> bool {
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
    pub(super) fn not_looked(&mut self, now: Duration, when: When) -> bool {
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

    pub(super) fn choose(&mut self, n: u8, now: Duration, when: When) -> bool {
        if n == 1 && matches!(&self.view, View::Resting(_)) {
            self.keep_slip();
            return false;
        }
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
}
