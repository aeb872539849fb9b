//! What is said of something wrong, over the work. Owns how far it is said; the parts and what they lead
//! to are the dressing's.

use super::Sitting;
use crate::dressing::report::{ReportItem, ReportList, ReportPart, Said};
use crate::dressing::{Ask, When};
use crate::hand::{Context, Intent, MenuItem};
use crate::terminal::screens::{
    Band, ChoiceList, FarLine, MenuBand, NumberBand, Scene, Stack, Tone,
};
use crate::terminal::theme::Role;
use crate::words::spoken::{Purpose, Said as Spoken};
use crate::words::{refusals, report_words, screen_words};
use std::time::Duration;

/// How far something wrong is said: the parts that were asked, the one that is open last.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Report {
    parts: Vec<ReportPart>,
}

impl Report {
    fn begun() -> Self {
        Self {
            parts: vec![ReportPart::List(ReportList::What)],
        }
    }

    /// The part that is open; `None` where nothing is being said.
    pub(super) fn open(&self) -> Option<ReportPart> {
        self.parts.last().copied()
    }

    /// So many parts are asked.
    pub(super) fn depth(&self) -> usize {
        self.parts.len()
    }

    pub(super) fn shuts(&mut self) {
        self.parts.clear();
    }
}

impl Sitting<'_> {
    /// Begins to say what is wrong.
    pub(super) fn begin_report(&mut self, now: Duration) {
        self.report = Report::begun();
        self.notice = None;
        self.given.clear();
        self.looking = false;
        self.attend(now);
        self.say_report();
    }

    /// What the next press is for while something wrong is said.
    pub(super) fn report_context(&self, part: ReportPart, start: u8) -> Context {
        match part {
            ReportPart::List(list) => Context::Ways {
                count: u8::try_from(self.dressing().report_items(list).len()).unwrap_or(u8::MAX),
            },
            ReportPart::Knot(_)
            | ReportPart::End(..)
            | ReportPart::Shaft(_)
            | ReportPart::SureGroup
            | ReportPart::ReedGroup
            | ReportPart::Batch => Context::Number {
                minus: false,
                start,
                look: false,
            },
        }
    }

    /// The lines of the list that is open.
    pub(super) fn report_lines(&self) -> Vec<String> {
        let items = self.report_items().into_iter();
        let words = items.map(|item| report_words::item(item, self.dressing()));
        words.collect()
    }

    fn report_items(&self) -> Vec<ReportItem> {
        match self.report.open() {
            Some(ReportPart::List(list)) => self.dressing().report_items(list),
            _ => Vec::new(),
        }
    }

    fn say_report(&mut self) {
        let Some(part) = self.report.open() else {
            return self.say_page();
        };
        let mut said = report_words::lines(part, self.dressing());
        if let ReportPart::List(_) = part {
            said = vec![report_words::far(part, self.dressing()).to_lowercase()];
        }
        self.say = vec![Spoken::new(Purpose::Call, &said.join(" "))];
    }

    /// One intent while something wrong is said; whether it changed the dressing.
    pub(super) fn in_report(&mut self, intent: Intent, now: Duration, when: When) -> bool {
        match intent {
            Intent::Choose(n) => {
                let item = self.report_items().into_iter().nth(usize::from(n));
                let said = item.map(|item| self.dressing().report_chosen(item));
                said.is_some_and(|said| self.said_of_report(said, now, when))
            }
            Intent::Number(n) => self.number_of_report(i64::from(n), now, when),
            Intent::NotLookedYet => {
                let said = screen_words::DIGITS_LIT.to_owned();
                self.notice = Some((Tone::Know, said));
                self.say_lit();
                false
            }
            Intent::NotLooked | Intent::BackOne | Intent::CannotTell | Intent::Skip => {
                self.said_of_report(Said::Back, now, when)
            }
            Intent::SayAgain => {
                self.say_report();
                false
            }
            Intent::Menu(MenuItem::GoOn | MenuItem::SayAgain) => {
                self.attend(now);
                self.say_report();
                false
            }
            Intent::Menu(MenuItem::BackOne) => self.said_of_report(Said::Back, now, when),
            Intent::Menu(MenuItem::SomethingWrong) => {
                self.begin_report(now);
                false
            }
            Intent::Report | Intent::Pause | Intent::Cancel => {
                self.end_report(now);
                false
            }
            Intent::Redo | Intent::Next | Intent::Menu(_) => {
                self.end_report(now);
                self.do_at_work(intent, now, when)
            }
            other => self.do_at_work(other, now, when),
        }
    }

    fn number_of_report(&mut self, n: i64, now: Duration, when: When) -> bool {
        let Some(part) = self.report.open() else {
            return false;
        };
        match self.dressing().report_number(part, n) {
            Ok(said) => self.said_of_report(said, now, when),
            Err(refusal) => {
                self.alarm(refusals::refusal(&refusal, self.method));
                self.attend(now);
                false
            }
        }
    }

    fn said_of_report(&mut self, said: Said, now: Duration, when: When) -> bool {
        self.notice = None;
        match said {
            Said::Next(part) => self.report.parts.push(part),
            Said::Back => {
                self.report.parts.pop();
                if self.report.parts.is_empty() {
                    self.end_report(now);
                    return false;
                }
            }
            Said::Ask(ask) => return self.ask_of_report(&ask, now, when),
        }
        self.attend(now);
        self.say_report();
        false
    }

    /// All is said: asked of the dressing. What is refused can be said otherwise.
    fn ask_of_report(&mut self, ask: &Ask, now: Duration, when: When) -> bool {
        let moved = self.ask(ask, now, when);
        if !moved {
            // the question is put anew, and the refusal stays to be read
            self.question = None;
            self.attend(now);
        }
        moved
    }

    fn end_report(&mut self, now: Duration) {
        self.report.shuts();
        self.notice = None;
        self.question = None;
        self.attend(now);
        self.say_page();
    }

    /// The part that is open, as a screen.
    pub(super) fn report_stack(&self, scene: &Scene, part: ReportPart, width: u16) -> Stack {
        let dressing = self.dressing();
        let lines = report_words::lines(part, dressing).into_iter();
        let lines = lines.map(|line| (Tone::Do, line)).collect();
        let far = Band::Far(FarLine {
            text: report_words::far(part, dressing).to_owned(),
            role: Role::Alarm,
        });
        let asked = match part {
            ReportPart::List(_) => Band::Choices(ChoiceList {
                items: self.report_lines(),
                lit: self.hand.lit().map(|lit| lit.at),
            }),
            _ => Band::Number(NumberBand {
                typed: self.hand.typed().text(),
                lit: self.hand.lit().map(|lit| MenuBand {
                    items: lit.items.iter().map(|item| self.word_of(*item)).collect(),
                    lit: lit.at,
                }),
            }),
        };
        self.stacked(scene, width, vec![far, Band::Lines(lines), asked])
    }
}
