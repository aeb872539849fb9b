//! One sitting at the loom: presses go in with their time, asks go to the dressing, bands come
//! out. Owns what is open over the work (help, leaving, the menu, a number being given); never
//! decides what an ask does, never draws, never reads a key or a clock.

mod answers;
mod cloth;
mod help;
mod intents;
mod note;
mod report;
mod screen;
mod show;
mod welcome;

use super::cloth_view::ClothView;
use super::saving::Saving;
use super::screens::{Manner, Tone};
use super::signal::Signal;
use super::slip::Slips;
use crate::dressing::view::{Asked, DisagreeingView};
use crate::dressing::{About, Ask, Entry, Event, Question, View, When};
use crate::hand::{Context, Hand, Settings};
use crate::journal::keep::{Keep, NotDone};
use crate::method::Method;
use crate::plan::Plan;
use crate::words::spoken::{Purpose, Said};
use crate::words::{Page, coach, lines, list_words, page, refusals, screen_words};
use report::Report;
use std::cell::Cell;
use std::time::Duration;
use welcome::welcome;

/// What is open over the work.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Over {
    /// Nothing.
    Nothing,
    /// Help, at this page counted from 0.
    Help(usize),
    /// The cloth.
    Cloth(ClothView),
    /// The window has no focus.
    NotListening,
    /// The last press could not be saved; the next one is tried again.
    NotSaved(String),
    /// The practice warp is done; the next press leaves.
    PracticeDone,
}

/// What a question's number is for, so that a new question is seen to be one.
type QuestionId = (u64, usize, bool, usize);

/// A press of the button: whether it changed the dressing, and what was given before it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Moved {
    dressing: bool,
    given: Vec<i64>,
    looking: bool,
    report: Report,
}

/// One sitting.
pub struct Sitting<'a> {
    keep: &'a mut dyn Keep,
    method: &'a Method,
    hand: Hand,
    manner: Manner,
    lot: &'a mut dyn FnMut() -> u8,
    view: View,
    about: About,
    page: Page,
    over: Over,
    /// How many pages help had when it was last shown.
    help_pages: Cell<usize>,
    notice: Option<(Tone, String)>,
    /// Numbers of a list given so far: heddles on each shaft, shafts read back.
    given: Vec<i64>,
    /// The look that the tracing asked for is being answered.
    looking: bool,
    question: Option<QuestionId>,
    /// What is being said of something wrong.
    report: Report,
    /// A note that is being written.
    note: Option<String>,
    /// What each of the last presses of the button moved.
    moved: Vec<Moved>,
    say: Vec<Said>,
    bell: bool,
    /// What the last press that was taken tells without words.
    taken: Option<Signal>,
    /// Since when the window has no focus.
    away_since: Option<u64>,
    /// Who keeps the slip, where somebody does.
    slips: Option<Box<Slips<'a>>>,
    /// Whether this is the practice warp, with its story beside the work.
    practice: bool,
    /// The watch over saves that take long, where there is one.
    saving: Option<Saving>,
    /// Whether something was written over what is shown.
    covered: bool,
}

/// A window without focus for so long is an interruption: five seconds (a starting value, no
/// source).
const AWAY_MS: u64 = 5_000;

/// What a press that was taken tells: done, or that a look is asked for now.
fn signal_of(events: &[Event]) -> Signal {
    let look = |event: &Event| matches!(event, Event::Put(Question::Look { .. }));
    if events.iter().any(look) {
        Signal::Look
    } else {
        Signal::Done
    }
}

/// So many presses are remembered for taking back; no menu is opened by more.
const MOVES_KEPT: usize = 4;

impl<'a> Sitting<'a> {
    /// A sitting at the kept dressing. `lot` gives the digit that is lit first, drawn by lot.
    pub fn new(
        keep: &'a mut dyn Keep,
        method: &'a Method,
        settings: Settings,
        manner: Manner,
        lot: &'a mut dyn FnMut() -> u8,
    ) -> Self {
        let view = keep.dressing().view();
        let about = keep.dressing().about();
        let page = page(&view, keep.dressing().plan(), method).with_notes(&view, &about.notes);
        let notice = welcome(keep.dressing(), &about);
        let mut sitting = Self {
            say: vec![Said::new(Purpose::Call, &page.say)],
            hand: Hand::new(settings),
            keep,
            method,
            manner,
            lot,
            view,
            about,
            page,
            over: Over::Nothing,
            help_pages: Cell::new(1),
            notice,
            given: Vec::new(),
            looking: false,
            question: None,
            report: Report::default(),
            note: None,
            moved: Vec::new(),
            bell: false,
            taken: None,
            away_since: None,
            slips: None,
            practice: false,
            saving: None,
            covered: false,
        };
        sitting.attend(Duration::ZERO);
        sitting
    }

    /// The same with the story of the practice warp beside the work.
    #[must_use]
    pub fn with_practice(mut self) -> Self {
        self.practice = true;
        self
    }

    /// The same with somebody who keeps the slip.
    #[must_use]
    pub fn with_slips(mut self, slips: Box<Slips<'a>>) -> Self {
        self.slips = Some(slips);
        self
    }

    /// The same with a watch over saves that take long.
    #[must_use]
    pub fn with_saving(mut self, saving: Saving) -> Self {
        self.saving = Some(saving);
        self
    }

    /// Asks the keeper, watched.
    fn save(&mut self, ask: &Ask, when: When) -> Result<Entry, NotDone> {
        let Some(saving) = &self.saving else {
            return self.keep.ask(ask, when);
        };
        saving.begins();
        let asked = self.keep.ask(ask, when);
        self.covered |= saving.ended();
        asked
    }

    /// The dressing as it stands.
    #[must_use]
    pub fn dressing(&self) -> &crate::dressing::Dressing {
        self.keep.dressing()
    }

    /// The words of the view as it stands.
    #[must_use]
    pub fn page(&self) -> &Page {
        &self.page
    }

    /// Asks something of the dressing from outside the keys, as on opening it.
    pub fn ask(&mut self, ask: &Ask, now: Duration, when: When) -> bool {
        let asked = self.save(ask, when);
        let moved = asked.is_ok();
        self.notice = None;
        match asked {
            Ok(entry) => {
                self.over = Over::Nothing;
                let said = lines::what_happened(&entry, self.keep.dressing(), self.method);
                self.notice = said.map(|s| (Tone::Done, s));
                self.bell |= entry
                    .events
                    .iter()
                    .any(|e| matches!(e, Event::Disagreed(_)));
                self.taken = Some(signal_of(&entry.events));
                self.renew();
                if let Some((_, remark)) = &self.notice {
                    self.say.insert(0, Said::new(Purpose::Remark, remark));
                }
                self.go_on_with_practice(when);
            }
            Err(NotDone::Refused(refusal)) => {
                self.alarm(refusals::refusal(&refusal, self.method));
            }
            Err(NotDone::NotSaved(why)) => {
                self.bell = true;
                self.say = vec![Said::new(Purpose::Remark, screen_words::NOT_SAVED)];
                self.over = Over::NotSaved(why);
            }
        }
        self.attend(now);
        moved
    }

    /// What the story of the practice warp does by itself after a press.
    fn go_on_with_practice(&mut self, when: When) {
        if !self.practice {
            return;
        }
        if coach::is_over(self.keep.dressing()) {
            self.over = Over::PracticeDone;
            self.say = vec![Said::new(Purpose::Call, coach::OVER)];
        } else if let Some(ask) = coach::turn_of_events(self.keep.dressing())
            && self.save(&ask, when).is_ok()
        {
            self.renew();
            self.say.insert(0, Said::new(Purpose::Remark, coach::NIGHT));
            self.notice = Some((Tone::Done, coach::NIGHT.to_owned()));
        }
    }

    /// A press may have gone to another window, so a look comes first where one can be had.
    fn back_at_the_loom(&mut self, when: When) {
        if self.save(&Ask::BackAtTheLoom, when).is_ok() {
            self.taken = Some(Signal::Look);
            self.renew();
            self.attend(Duration::from_millis(when.elapsed_ms));
        }
    }

    /// Says the page again.
    fn say_page(&mut self) {
        self.say = vec![Said::new(Purpose::Call, &self.page.say)];
    }

    /// Says what is lit.
    fn say_lit(&mut self) {
        let lit = self.lit_word();
        let lit = lit.map(|word| Said::new(Purpose::Lit, &word));
        self.say = lit.into_iter().collect();
    }

    fn alarm(&mut self, sentence: String) {
        self.bell = true;
        self.say = vec![Said::new(Purpose::Remark, &sentence)];
        self.notice = Some((Tone::Alarm, sentence));
    }

    /// Reads the dressing anew after a change.
    fn renew(&mut self) {
        let dressing = self.keep.dressing();
        self.view = dressing.view();
        self.about = dressing.about();
        let page = page(&self.view, dressing.plan(), self.method)
            .with_notes(&self.view, &self.about.notes);
        let before = std::mem::replace(&mut self.page, page);
        self.say_page();
        if let Some(caution) = self.page.caution.as_ref()
            && before.caution.as_ref() != Some(caution)
        {
            self.say.push(Said::new(Purpose::Remark, caution));
        }
        self.given.clear();
        self.looking = false;
        self.report.shuts();
    }

    /// Tells the hand what the next press is for.
    fn attend(&mut self, now: Duration) {
        let context = self.context();
        let at_work = matches!(context, Context::Work { .. });
        let id = self.question_here();
        let same = if at_work {
            self.hand.context() == context && !self.hand.menu_is_open()
        } else {
            self.question == Some(id) && !matches!(self.hand.context(), Context::Work { .. })
        };
        if !same {
            self.hand.attend(context, now);
        }
        self.hand.has_other_way(self.other_way().is_some());
        self.question = (!at_work).then_some(id);
    }

    /// The same under the menu, which is then for what stands now.
    fn attend_under_menu(&mut self, now: Duration) {
        let context = self.context();
        let other = self.other_way().is_some();
        self.hand.attend_under_menu(context, other, now);
        let at_work = matches!(context, Context::Work { .. });
        self.question = (!at_work).then_some(self.question_here());
    }

    fn question_here(&self) -> QuestionId {
        (
            self.keep.dressing().entries(),
            self.given.len(),
            self.looking,
            self.report.depth(),
        )
    }

    /// The other way on than the button's where no light shows it; at a batch's end STUCK is it.
    fn other_way(&self) -> Option<&'static str> {
        let lit = self.hand.settings().one_button;
        let ways = match &self.view {
            View::UsedUp(_) => None,
            view => screen_words::ways_of_step(view),
        };
        ways.filter(|_| !lit).map(|ways| ways[1])
    }

    /// What the next press is for.
    fn context(&mut self) -> Context {
        let start = (self.lot)();
        if let Some(part) = self.report.open() {
            return self.report_context(part, start);
        }
        match &self.view {
            View::Asking(asking) => Context::Number {
                minus: screen_words::may_be_negative(asking),
                start,
                look: matches!(asking.asked, Asked::Look { .. } | Asked::Measure { .. }),
            },
            View::Disagreeing(_) if self.looking => Context::Number {
                minus: false,
                start,
                look: true,
            },
            View::Disagreeing(view) => Context::Ways {
                count: u8::try_from(ways_of(view, self.dressing().plan()).len()).unwrap_or(u8::MAX),
            },
            view => match screen_words::ways_of_step(view) {
                Some(_) if self.hand.settings().one_button => {
                    Context::Choice { count: 2, start: 0 }
                }
                Some(_) => Context::Work { choices: 2 },
                None => Context::Work { choices: 0 },
            },
        }
    }
}

fn first_key(row: &crate::hand::Row) -> String {
    row.keys.first().map_or_else(String::new, |key| key.name())
}

fn ways_of(view: &DisagreeingView, plan: &Plan) -> Vec<String> {
    let look = screen_words::has_look(view).then(|| screen_words::ANSWER_LOOK.to_owned());
    look.into_iter()
        .chain(list_words::ways(view, plan))
        .collect()
}
