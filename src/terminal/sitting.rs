//! One sitting at the loom: presses go in with their time, asks go to the dressing, bands come
//! out. Owns what is open over the work (help, leaving, the menu, a number being given); never
//! decides what an ask does, never draws, never reads a key or a clock.

use super::line_words::seen as seen_in;
use super::screens::{self, Band, ChoiceList, FarLine, LEAST, Manner, MenuBand, NumberBand};
use super::screens::{Placed, Scene, Stack, Tone, header, notice, sentences, work};
use crate::dressing::view::{Asked, DisagreeingView};
use crate::dressing::{About, Answer, Ask, Event, View, When};
use crate::fault::{Look, LookKind, Seen};
use crate::hand::{
    Context, Hand, Intent, LitItem, Meaning, MenuItem, Press, ROWS, Settings, row_of,
};
use crate::journal::keep::{Keep, NotDone};
use crate::method::Method;
use crate::quantity::Call;
use crate::words::{Page, lines, page, refusals, screen_words};
use ratatui::layout::Rect;
use std::time::Duration;

/// What the loop does after a press.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum After {
    /// Show what changed.
    Show,
    /// Give the terminal back for a while, then show everything anew.
    Suspend,
    /// Show everything anew.
    Repaint,
    /// Leave; everything pressed is saved.
    Leave,
}

/// What is open over the work.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Over {
    /// Nothing.
    Nothing,
    /// Help; the rows of it that are above the window.
    Help,
    /// The window has no focus.
    NotListening,
    /// The last press could not be saved; the next one is tried again.
    NotSaved(String),
}

/// What a question's number is for, so that a new question is seen to be one.
type QuestionId = (u64, usize, bool);

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
    notice: Option<(Tone, String)>,
    /// Numbers of a list given so far: heddles on each shaft, shafts read back.
    given: Vec<i64>,
    /// The look that the tracing asked for is being answered.
    looking: bool,
    question: Option<QuestionId>,
    /// Whether each of the last presses of the button changed the dressing.
    moved: Vec<bool>,
    say: Option<String>,
    bell: bool,
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
        let page = page(&view, keep.dressing().plan(), method);
        let mut sitting = Self {
            say: Some(page.say.clone()),
            hand: Hand::new(settings),
            keep,
            method,
            manner,
            lot,
            view,
            about,
            page,
            over: Over::Nothing,
            notice: None,
            given: Vec::new(),
            looking: false,
            question: None,
            moved: Vec::new(),
            bell: false,
        };
        sitting.attend(Duration::ZERO);
        sitting
    }

    /// How things are drawn.
    #[must_use]
    pub fn manner(&self) -> Manner {
        self.manner
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

    /// The window's title; it holds no figure of the work.
    #[must_use]
    pub fn title(&self) -> String {
        screen_words::title(self.keep.dressing().plan())
    }

    /// What a voice says now, once.
    pub fn take_say(&mut self) -> Option<String> {
        self.say.take()
    }

    /// Whether the bell rings now, once: something was refused or does not come out.
    pub fn take_bell(&mut self) -> bool {
        std::mem::take(&mut self.bell)
    }

    /// When [`Self::tick`] has something to do next.
    #[must_use]
    pub fn wakes_at(&self) -> Option<Duration> {
        self.hand.wakes_at()
    }

    /// Lets time go on for the lit items.
    pub fn tick(&mut self, now: Duration, when: When) -> After {
        match self.hand.tick(now) {
            Some(intent) => self.do_intent(intent, now, when),
            None => After::Show,
        }
    }

    /// The window lost its focus or has it again, where the terminal tells.
    pub fn focus(&mut self, has: bool) {
        match (has, &self.over) {
            (false, _) => {
                self.over = Over::NotListening;
                self.bell = true;
            }
            (true, Over::NotListening) => self.over = Over::Nothing,
            (true, _) => {}
        }
    }

    /// Asks something of the dressing from outside the keys, as on opening it.
    pub fn ask(&mut self, ask: &Ask, now: Duration, when: When) -> bool {
        let asked = self.keep.ask(ask, when);
        let moved = asked.is_ok();
        self.notice = None;
        match asked {
            Ok(entry) => {
                self.over = Over::Nothing;
                self.notice = lines::what_happened(&entry, self.method).map(|s| (Tone::Done, s));
                self.bell |= entry
                    .events
                    .iter()
                    .any(|e| matches!(e, Event::Disagreed(_)));
                self.renew();
            }
            Err(NotDone::Refused(refusal)) => {
                self.alarm(refusals::refusal(&refusal, self.method));
            }
            Err(NotDone::NotSaved(why)) => {
                self.bell = true;
                self.over = Over::NotSaved(why);
            }
        }
        self.attend(now);
        moved
    }

    fn alarm(&mut self, sentence: String) {
        self.bell = true;
        self.say = Some(sentence.clone());
        self.notice = Some((Tone::Alarm, sentence));
    }

    /// Reads the dressing anew after a change.
    fn renew(&mut self) {
        let dressing = self.keep.dressing();
        self.view = dressing.view();
        self.about = dressing.about();
        self.page = page(&self.view, dressing.plan(), self.method);
        self.say = Some(self.page.say.clone());
        self.given.clear();
        self.looking = false;
    }

    /// Takes one press.
    pub fn press(&mut self, press: Press, when: When) -> After {
        match self.hand.press(press) {
            Some(intent) => self.do_intent(intent, press.at, when),
            None => After::Show,
        }
    }

    fn do_intent(&mut self, intent: Intent, now: Duration, when: When) -> After {
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
        if self.over == Over::Help {
            self.over = Over::Nothing;
            return After::Show;
        }
        let moved = self.do_at_work(intent, now, when);
        if matches!(
            intent,
            Intent::Next | Intent::Choose(_) | Intent::Number(_) | Intent::NotLooked
        ) {
            if self.moved.len() >= MOVES_KEPT {
                self.moved.remove(0);
            }
            self.moved.push(moved);
        }
        After::Show
    }

    /// An intent for the work; whether it changed the dressing.
    fn do_at_work(&mut self, intent: Intent, now: Duration, when: When) -> bool {
        match intent {
            Intent::Next => self.ask(&Ask::Next, now, when),
            Intent::BackOne => self.back(now, when),
            Intent::Redo => self.ask(&Ask::Redo, now, when),
            Intent::Skip => self.ask(&Ask::Skip, now, when),
            Intent::CannotTell => self.answer(Answer::CannotTell, now, when),
            Intent::Pause if matches!(self.view, View::Resting(_)) => {
                self.ask(&Ask::Next, now, when)
            }
            Intent::Pause => self.ask(&Ask::Pause, now, when),
            Intent::Number(n) => self.number(i64::from(n), now, when),
            Intent::NotLooked => self.not_looked(now, when),
            Intent::Choose(n) => self.choose(n, now, when),
            Intent::Menu(item) => self.menu(item, now, when),
            Intent::MenuOpened { taken_back } => self.take_back(taken_back, now, when),
            Intent::SayAgain => {
                self.notice = None;
                self.say = Some(self.page.say.clone());
                false
            }
            Intent::Wrong(key) => {
                let button = row_of(Meaning::Next).map_or_else(String::new, first_key);
                let said = screen_words::wrong_key(&key.name(), &button, &self.press_words());
                self.notice = Some((Tone::Know, said));
                false
            }
            Intent::Lit | Intent::Typed => {
                self.say = self.lit_word();
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

    fn answer(&mut self, answer: Answer, now: Duration, when: When) -> bool {
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
            if self.given.len() < shafts {
                self.attend(now);
                return false;
            }
            let all = std::mem::take(&mut self.given);
            return self.answer(Answer::Numbers(all), now, when);
        }
        if !self.looking {
            return self.answer(Answer::Number(n), now, when);
        }
        self.given.push(n);
        if self.reads_back() {
            self.attend(now);
            return false;
        }
        self.seen(now, when)
    }

    /// The button without a number: never an answer. A list that is read back ends with it.
    fn not_looked(&mut self, now: Duration, when: When) -> bool {
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
        let seen = self.tracing_look().and_then(|(look, first)| {
            let none = said == ["0"] && look.kind != LookKind::EndsInKnot;
            let line = if none {
                "none".to_owned()
            } else {
                said.join(" ")
            };
            seen_in(&look, first, &line)
        });
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
        use crate::dressing::view::Disagreeing;
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

    fn shafts_asked(&self) -> Option<usize> {
        match &self.view {
            View::Asking(asking) => match asking.asked {
                Asked::HeddlesLeft { shafts, .. } => Some(usize::from(shafts)),
                _ => None,
            },
            _ => None,
        }
    }

    fn choose(&mut self, n: u8, now: Duration, when: When) -> bool {
        if let View::Disagreeing(view) = &self.view {
            let looks = usize::from(screen_words::has_look(view));
            if usize::from(n) < looks {
                self.looking = true;
                self.attend(now);
                return false;
            }
            let choice = view.choices.get(usize::from(n) - looks).copied();
            return choice.is_some_and(|choice| self.ask(&Ask::Choose(choice), now, when));
        }
        let ask = match (n, &self.view) {
            (0, _) => Ask::Next,
            (_, View::UsedUp(_)) => Ask::Uneven,
            _ => Ask::Skip,
        };
        self.ask(&ask, now, when)
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
                self.say = Some(self.page.say.clone());
                false
            }
            MenuItem::Stuck if matches!(self.view, View::UsedUp(_)) => {
                self.ask(&Ask::Uneven, now, when)
            }
            MenuItem::Stuck => self.ask(&Ask::Stuck, now, when),
            MenuItem::Count => self.ask(&Ask::Count, now, when),
            MenuItem::HelpMe if self.about.help_wanted => self.ask(&Ask::HelpCame, now, when),
            MenuItem::HelpMe => self.ask(&Ask::HelpWanted, now, when),
            MenuItem::StopForToday => self.ask(&Ask::StopForToday, now, when),
        }
    }

    /// Takes back what the presses that opened the menu had done.
    fn take_back(&mut self, presses: u8, now: Duration, when: When) -> bool {
        let from = self.moved.len().saturating_sub(usize::from(presses));
        let moves = self.moved.drain(from..).filter(|moved| *moved).count();
        let mut taken = false;
        for _ in 0..moves {
            taken |= self.keep.ask(&Ask::BackOne, when).is_ok();
        }
        self.notice = None;
        if taken {
            self.renew();
            let said = screen_words::MENU_TOOK_BACK.to_owned();
            self.notice = Some((Tone::Done, said));
        }
        self.question = None;
        self.say = self.lit_word();
        let _ = now;
        taken
    }

    /// Tells the hand what the next press is for.
    fn attend(&mut self, now: Duration) {
        let id = (
            self.keep.dressing().entries(),
            self.given.len(),
            self.looking,
        );
        let one_button = self.hand.settings().one_button;
        let mut lot = || (self.lot)();
        let context = match &self.view {
            View::Asking(asking) => Context::Number {
                minus: screen_words::may_be_negative(asking),
                start: lot(),
            },
            View::Disagreeing(_) if self.looking => Context::Number {
                minus: false,
                start: lot(),
            },
            View::Disagreeing(view) => Context::Choice {
                count: u8::try_from(ways_of(view).len()).unwrap_or(u8::MAX),
                start: 0,
            },
            view => match screen_words::ways_of_step(view) {
                Some(_) if one_button => Context::Choice { count: 2, start: 0 },
                Some(_) => Context::Work { choices: 2 },
                None => Context::Work { choices: 0 },
            },
        };
        let at_work = matches!(context, Context::Work { .. });
        let same = if at_work {
            self.hand.context() == context && !self.hand.menu_is_open()
        } else {
            self.question == Some(id) && !matches!(self.hand.context(), Context::Work { .. })
        };
        if !same {
            self.hand.attend(context, now);
        }
        self.question = (!at_work).then_some(id);
    }

    /// The lit item in words.
    fn lit_word(&self) -> Option<String> {
        let item = self.hand.lit()?.item()?;
        Some(self.word_of(item))
    }

    fn word_of(&self, item: LitItem) -> String {
        match item {
            LitItem::Menu(item) => screen_words::MENU
                .get(MenuItem::ALL.iter().position(|i| *i == item).unwrap_or(0))
                .map_or_else(String::new, |s| (*s).to_owned()),
            LitItem::Choice(n) => self
                .choices()
                .get(usize::from(n))
                .cloned()
                .unwrap_or_default(),
            LitItem::Digit(d) => d.to_string(),
            LitItem::Minus => screen_words::MINUS.to_owned(),
            LitItem::Erase => screen_words::ERASE.to_owned(),
            LitItem::Done => screen_words::DONE.to_owned(),
            LitItem::NotLooked => screen_words::NOT_LOOKED.to_owned(),
        }
    }

    fn choices(&self) -> Vec<String> {
        match &self.view {
            View::Disagreeing(view) => ways_of(view),
            view => screen_words::ways_of_step(view)
                .map(|ways| ways.map(str::to_owned).to_vec())
                .unwrap_or_default(),
        }
    }

    /// What the button does now, for the footer and for wrong keys.
    fn press_words(&self) -> String {
        match self.hand.context() {
            Context::Number { .. } if self.hand.lit().is_some() => {
                screen_words::TAKE_LIT.to_owned()
            }
            Context::Number { .. } => {
                screen_words::number_press(!self.hand.typed().is_empty()).to_owned()
            }
            _ => self.page.press.clone(),
        }
    }
}

fn first_key(row: &crate::hand::Row) -> String {
    row.keys.first().map_or_else(String::new, |key| key.name())
}

fn ways_of(view: &DisagreeingView) -> Vec<String> {
    let look = screen_words::has_look(view).then(|| screen_words::ANSWER_LOOK.to_owned());
    look.into_iter().chain(screen_words::ways(view)).collect()
}

/// What the sitting shows.
impl Sitting<'_> {
    /// The bands of the window as it stands.
    #[must_use]
    pub fn bands(&self, area: Rect) -> Vec<Placed> {
        if area.width < LEAST.0 || area.height < LEAST.1 {
            let text = screen_words::too_small(LEAST, (area.width, area.height));
            return vec![Placed {
                area,
                band: Band::Lines(vec![(Tone::Do, text)]),
            }];
        }
        let hints = self.hints();
        let scene = Scene {
            dressing: self.keep.dressing(),
            view: &self.view,
            about: &self.about,
            page: &self.page,
            notice: self.notice.as_ref(),
            hints: &hints,
            lit: self.lit_choice(),
        };
        self.stack(&scene, area.width).place(area)
    }

    fn stack(&self, scene: &Scene, width: u16) -> Stack {
        if self.hand.is_leaving() {
            return self.over_work(
                scene,
                width,
                screen_words::LEAVE,
                vec![(Tone::Do, screen_words::LEAVE_LINE.to_owned())],
            );
        }
        match &self.over {
            Over::Help => return self.help(scene, width),
            Over::NotListening => {
                let line = screen_words::NOT_LISTENING_LINE.to_owned();
                let far = screen_words::NOT_LISTENING;
                return self.over_work(scene, width, far, vec![(Tone::Alarm, line)]);
            }
            Over::NotSaved(why) => {
                let line = (Tone::Alarm, why.clone());
                return self.over_work(scene, width, screen_words::NOT_SAVED, vec![line]);
            }
            Over::Nothing => {}
        }
        if self.hand.menu_is_open() {
            return self.menu_stack(scene, width);
        }
        match (&self.view, self.hand.context()) {
            (_, Context::Number { .. }) => self.number_stack(scene, width),
            (View::Disagreeing(view), _) => self.disagreeing_stack(scene, view, width),
            _ => work(scene, width, self.manner),
        }
    }

    /// Something in the largest type over the work.
    fn over_work(&self, scene: &Scene, width: u16, far: &str, lines: Vec<(Tone, String)>) -> Stack {
        self.stacked(
            scene,
            width,
            vec![Band::Far(FarLine::now(far)), Band::Lines(lines)],
        )
    }

    fn stacked(&self, scene: &Scene, width: u16, bands: Vec<Band>) -> Stack {
        let mut stack = Stack::default();
        stack.push(header(scene).wish(width, self.manner, 0));
        for band in bands {
            stack.push(band.wish(width, self.manner, 0));
        }
        stack.push(notice(scene).wish(width, self.manner, 0));
        let footer = Band::Footer(scene.hints.to_vec());
        stack.push(footer.wish(width, self.manner, 0));
        stack
    }

    fn menu_stack(&self, scene: &Scene, width: u16) -> Stack {
        let items = screen_words::MENU.map(str::to_owned).to_vec();
        let lit = self.hand.lit().map_or(0, |lit| lit.at);
        let heading = (Tone::Do, screen_words::MENU_HEADING.to_owned());
        self.stacked(
            scene,
            width,
            vec![
                Band::Lines(vec![heading]),
                Band::Menu(MenuBand { items, lit }),
            ],
        )
    }

    fn number_stack(&self, scene: &Scene, width: u16) -> Stack {
        let (far, lines) = match self.shafts_asked() {
            Some(_) => {
                let shaft = self.given.len() + 1;
                let near = screen_words::heddles_near(shaft, &self.given);
                let lines = near.into_iter().map(|line| (Tone::Do, line)).collect();
                (screen_words::heddles_far(shaft), lines)
            }
            None if self.looking => {
                let say = (Tone::Do, self.page.say.clone());
                (screen_words::LOOK_FAR.to_owned(), vec![say])
            }
            None => (self.page.far.clone(), sentences(&self.page)),
        };
        let lit = self.hand.lit().map(|lit| MenuBand {
            items: lit.items.iter().map(|item| self.word_of(*item)).collect(),
            lit: lit.at,
        });
        let number = NumberBand {
            typed: self.hand.typed().text(),
            lit,
        };
        self.stacked(
            scene,
            width,
            vec![
                Band::Far(FarLine::now(far)),
                Band::Number(number),
                Band::Lines(lines),
            ],
        )
    }

    fn disagreeing_stack(&self, scene: &Scene, view: &DisagreeingView, width: u16) -> Stack {
        let lines = sentences(&self.page);
        let choices = ChoiceList {
            items: ways_of(view),
            lit: self.hand.lit().map(|lit| lit.at),
        };
        let far = FarLine {
            text: self.page.far.clone(),
            role: super::theme::Role::Alarm,
        };
        self.stacked(
            scene,
            width,
            vec![Band::Far(far), Band::Lines(lines), Band::Choices(choices)],
        )
    }

    /// Help: more about the step, then the key table.
    fn help(&self, scene: &Scene, width: u16) -> Stack {
        let more = lines::more(self.keep.dressing(), self.method);
        let mut text: Vec<(Tone, String)> =
            more.into_iter().map(|line| (Tone::Know, line)).collect();
        text.extend(ROWS.iter().map(|row| {
            let keys: Vec<String> = row.keys.iter().map(|key| key.name()).collect();
            (Tone::Do, format!("{}: {}", keys.join(" "), row.help))
        }));
        let mut stack = Stack::default();
        stack.push(header(scene).wish(width, self.manner, 0));
        let mut wish = Band::Lines(text).wish(width, self.manner, 0);
        wish.least = 1;
        stack.push(wish);
        let footer = Band::Footer(scene.hints.to_vec());
        stack.push(footer.wish(width, self.manner, 0));
        stack
    }

    fn lit_choice(&self) -> Option<usize> {
        match self.hand.context() {
            Context::Choice { .. } => self.hand.lit().map(|lit| lit.at),
            _ => None,
        }
    }

    /// The bottom line out of the key table: the button with what it does now, back one, what
    /// else matters here, help last.
    fn hints(&self) -> Vec<(String, String)> {
        if self.hand.is_leaving() {
            let (key, does) = screen_words::STAY;
            let stay = (key.to_owned(), does.to_owned());
            return vec![("y".to_owned(), hint(Meaning::Leave, None).1), stay];
        }
        if self.over == Over::Help {
            return vec![hint(Meaning::Help, Some(screen_words::HELP_SHUT))];
        }
        if self.hand.menu_is_open() {
            return vec![
                hint(Meaning::Next, Some(screen_words::TAKE_LIT)),
                hint(Meaning::Menu, Some(screen_words::LIGHT_NEXT)),
            ];
        }
        let mut hints = vec![hint(Meaning::Next, Some(&self.press_words()))];
        if self.about.takes_back.is_some() {
            hints.push(hint(Meaning::BackOne, None));
        }
        if self.is_look() {
            hints.push(hint(Meaning::CannotTell, None));
            hints.push(hint(Meaning::Skip, None));
        }
        let more = [Meaning::Menu, Meaning::Pause, Meaning::Leave, Meaning::Help];
        hints.extend(more.map(|meaning| hint(meaning, None)));
        hints
    }

    /// Whether a look is being answered: one that may be left out, or that cannot be told.
    fn is_look(&self) -> bool {
        match &self.view {
            View::Asking(asking) => matches!(asking.asked, Asked::Look { .. }),
            _ => self.looking,
        }
    }
}

/// The first key of a meaning and what it does: `does`, else what the table says.
fn hint(meaning: Meaning, does: Option<&str>) -> (String, String) {
    row_of(meaning).map_or_else(Default::default, |row| {
        (first_key(row), does.unwrap_or(row.footer).to_owned())
    })
}

/// The bands that differ from those shown, as rows; `None` where the layout itself differs.
#[must_use]
pub fn rows_to_draw(shown: &[Placed], now: &[Placed]) -> Option<Vec<u16>> {
    let same_layout =
        shown.len() == now.len() && shown.iter().zip(now).all(|(a, b)| a.area == b.area);
    same_layout.then(|| {
        let changed = shown.iter().zip(now).filter(|(a, b)| a.band != b.band);
        changed
            .flat_map(|(_, band)| band.area.top()..band.area.bottom())
            .collect()
    })
}

/// Draws bands; only those that touch the rows given, or all where none are given.
pub fn draw_bands(
    bands: &[Placed],
    rows: Option<&[u16]>,
    buffer: &mut ratatui::buffer::Buffer,
    manner: Manner,
) {
    for placed in bands {
        let touched = rows.is_none_or(|rows| {
            rows.iter()
                .any(|row| (placed.area.top()..placed.area.bottom()).contains(row))
        });
        if touched {
            screens::Placed::draw(placed, buffer, manner);
        }
    }
}
