//! The form of a plan on the full screen: keys in, bands out. Owns what is typed, which page lies over
//! the form, and how it ended; the form itself and every figure are the plan's, the files are outside.
//!
//! While an answer is typed every letter is a letter: what the form does is on Enter, Esc, the arrows,
//! the function keys and Ctrl.

mod bands;
mod show;
mod typed;

pub use bands::{AnswerLine, FieldList, FieldRow};
pub use typed::{Typed, Window};

use super::cloth_view::ClothView;
use super::form_lines::{FormEnded, FormOutside};
use super::screens::{After, Manner, Placed, Screen, Tone};
use crate::dressing::When;
use crate::hand::{Key, Press, PressKind};
use crate::plan::Figures;
use crate::plan::form::Form;
use crate::words::form_words;
use crate::words::spoken::{Purpose, Said};
use ratatui::layout::Rect;
use std::time::Duration;

/// Fields that PageUp and PageDown go at once.
const PAGE: usize = 8;

/// What lies over the form.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Over {
    /// Nothing: the form is filled in.
    Nothing,
    /// What the keys do; any key shuts it.
    Help,
    /// Every figure, from this line on.
    Figures(usize),
    /// The cloth or the draft of what is answered so far.
    Cloth(ClothView),
    /// The loom cards by name, the lit one, and behind them the item that keeps this loom.
    Cards(Vec<String>, usize),
}

/// The form being filled in.
pub struct FormScreen<'a> {
    form: &'a mut Form,
    figures: Figures,
    outside: &'a mut dyn FormOutside,
    manner: Manner,
    typed: Typed,
    over: Over,
    notice: Option<(Tone, String)>,
    done: bool,
    away: bool,
    say: Vec<Said>,
    bell: bool,
}

impl<'a> FormScreen<'a> {
    /// The form as it stands, at its field in hand; `notice` is said first.
    #[must_use]
    pub fn new(
        form: &'a mut Form,
        outside: &'a mut dyn FormOutside,
        manner: Manner,
        notice: Option<String>,
    ) -> Self {
        let figures = form.figures();
        let mut screen = Self {
            form,
            figures,
            outside,
            manner,
            typed: Typed::default(),
            over: Over::Nothing,
            notice: notice.map(|said| (Tone::Know, said)),
            done: false,
            away: false,
            say: Vec::new(),
            bell: false,
        };
        screen.take_in_hand();
        screen
    }

    /// How it ended.
    #[must_use]
    pub fn ended(self) -> FormEnded {
        if self.done {
            FormEnded::Done(Box::new(self.figures))
        } else {
            FormEnded::Left
        }
    }

    /// The field in hand is asked, its answer ready to be changed.
    fn take_in_hand(&mut self) {
        let field = self.form.field();
        self.typed = Typed::new(self.form.answer(field.key).unwrap_or(""));
        let asked = form_words::asked(self.form, field);
        self.say = vec![Said::new(
            Purpose::Call,
            &format!("{asked}. {}", field.help),
        )];
    }

    fn tell_off(&mut self, sentence: String) {
        self.say = vec![Said::new(Purpose::Remark, &sentence)];
        self.notice = Some((Tone::Alarm, sentence));
        self.bell = true;
    }

    /// Takes what is typed for the field in hand; `false` where it is refused.
    fn take(&mut self) -> bool {
        let field = self.form.field();
        if self.typed.text().trim() == self.form.answer(field.key).unwrap_or("") {
            return true;
        }
        if let Err(problems) = self.form.set(self.typed.text()) {
            let said: Vec<String> = problems
                .iter()
                .map(|problem| form_words::not_taken(field, problem))
                .collect();
            if let Some(place) = problems.iter().find_map(form_words::place_of) {
                self.typed.to(place);
            }
            self.tell_off(format!("{}.", said.join("; ")));
            return false;
        }
        self.changed();
        true
    }

    /// The answers changed: the figures are worked out anew and the form is kept.
    fn changed(&mut self) {
        self.figures = self.form.figures();
        if let Err(why) = self.outside.keep(self.form) {
            self.tell_off(form_words::not_saved(&why));
        }
    }

    /// Enter: takes the answer and goes on.
    fn enter(&mut self) {
        if !self.take() {
            return;
        }
        if self.form.onward() {
            self.take_in_hand();
        } else {
            self.notice = Some((Tone::Know, form_words::LAST_ON_SCREEN.to_owned()));
        }
    }

    /// Goes so many fields up or down, as far as there are any.
    fn go(&mut self, fields: usize, step: impl Fn(&mut Form) -> bool) {
        if !self.take() {
            return;
        }
        for _ in 0..fields {
            step(self.form);
        }
        self.take_in_hand();
    }

    /// Esc: nothing is typed any more; once more brings the answer back.
    fn clear(&mut self) {
        self.typed = if self.typed.text().is_empty() {
            Typed::new(self.form.answer(self.form.field().key).unwrap_or(""))
        } else {
            Typed::default()
        };
    }

    /// Ends the form where the plan can be dressed; else says what is in the way and goes there.
    fn finish(&mut self) -> After {
        if !self.take() {
            return After::Show;
        }
        if form_words::is_ready(&self.figures) {
            self.done = true;
            return After::Leave;
        }
        if let Some(field) = self.form.still_needed().first() {
            self.form.go(field.key);
            self.take_in_hand();
        }
        let far = form_words::how_far(self.form, &self.figures, form_words::DONE_ON_SCREEN);
        self.tell_off(format!("Not yet. {far}"));
        After::Show
    }

    /// Ctrl-C: what is typed is taken where it can be, and the form is left.
    fn leave(&mut self) -> After {
        // the answers are kept whether or not the last letters made one
        let _ = self.take();
        After::Leave
    }

    fn on_form(&mut self, key: Key) -> After {
        self.notice = None;
        match key {
            Key::Enter | Key::Tab => self.enter(),
            Key::Up => self.go(1, Form::back),
            Key::Down => self.go(1, Form::forward),
            Key::PageUp => self.go(PAGE, Form::back),
            Key::PageDown => self.go(PAGE, Form::forward),
            Key::Left => self.typed.left(),
            Key::Right => self.typed.right(),
            Key::Backspace => self.typed.erase(),
            Key::Esc => self.clear(),
            Key::Space => self.put(' '),
            Key::Char(c) => self.put(c),
            Key::F(1) => self.over = Over::Help,
            Key::F(2) => {
                if self.take() {
                    self.over = Over::Cards(self.outside.cards(), 0);
                }
            }
            Key::F(3) => {
                if self.take() {
                    self.over = Over::Figures(0);
                }
            }
            Key::F(6) => {
                if self.take() {
                    self.open_cloth();
                }
            }
            Key::F(4) | Key::Ctrl('d') => return self.finish(),
            Key::F(_) | Key::Ctrl(_) | Key::Other => self.bell = true,
        }
        After::Show
    }

    /// The cloth, where enough is answered for one.
    fn open_cloth(&mut self) {
        match self.figures.plan() {
            Some(plan) if plan.first_picks() > 0 => self.over = Over::Cloth(ClothView::at(None)),
            _ => self.tell_off(form_words::NO_CLOTH_YET.to_owned()),
        }
    }

    fn put(&mut self, c: char) {
        self.bell |= !self.typed.put(c);
    }

    /// Keys on a page over the form.
    fn on_page(&mut self, key: Key) {
        if let Over::Cloth(shown) = self.over {
            let after = self.figures.plan().and_then(|plan| shown.after(key, &plan));
            self.over = after.map_or(Over::Nothing, Over::Cloth);
            return;
        }
        match (&mut self.over, key) {
            (Over::Figures(first), Key::Down) => *first += 1,
            (Over::Figures(first), Key::PageDown) => *first += PAGE,
            (Over::Figures(first), Key::Up) => *first = first.saturating_sub(1),
            (Over::Figures(first), Key::PageUp) => *first = first.saturating_sub(PAGE),
            (Over::Cards(names, lit), Key::Down | Key::PageDown) => {
                *lit = (*lit + 1).min(names.len());
            }
            (Over::Cards(_, lit), Key::Up | Key::PageUp) => *lit = lit.saturating_sub(1),
            (Over::Cards(names, lit), Key::Enter) => {
                let name = names.get(*lit).cloned();
                self.over = Over::Nothing;
                self.card(name);
            }
            (Over::Cards(..), Key::Esc | Key::F(_)) | (Over::Help | Over::Figures(_), _) => {
                self.over = Over::Nothing;
            }
            (Over::Cards(..), _) => self.bell = true,
            (Over::Nothing | Over::Cloth(_), _) => {}
        }
        self.stay_in_figures();
    }

    /// The page of figures ends at its last line.
    fn stay_in_figures(&mut self) {
        let last = self.figure_lines().len().saturating_sub(1);
        if let Over::Figures(first) = &mut self.over {
            *first = (*first).min(last);
        }
    }

    /// A loom card was taken; without a name the loom of this plan is kept as one.
    fn card(&mut self, name: Option<String>) {
        let done = match name {
            Some(name) => self.outside.card(&name).map(|card| {
                self.form.use_card(&card);
                self.changed();
                self.take_in_hand();
                form_words::card_taken(&name)
            }),
            None => match self.form.answer("loom.name").map(str::to_owned) {
                None => Err(form_words::LOOM_UNNAMED.to_owned()),
                Some(name) => {
                    let kept = self.outside.keep_card(&name, self.form);
                    kept.map(|()| form_words::card_kept(&name))
                }
            },
        };
        match done {
            Ok(said) => self.notice = Some((Tone::Done, said)),
            Err(why) => self.tell_off(why),
        }
    }
}

impl Screen for FormScreen<'_> {
    fn press(&mut self, press: Press, _: When) -> After {
        if press.kind == PressKind::Release {
            return After::Show;
        }
        match press.key {
            Key::Ctrl('c') => return self.leave(),
            Key::Ctrl('z') => return After::Suspend,
            Key::Ctrl('l') => return After::Repaint,
            _ => {}
        }
        match self.over {
            Over::Nothing => self.on_form(press.key),
            _ => {
                self.on_page(press.key);
                After::Show
            }
        }
    }

    fn tick(&mut self, _: Duration, _: When) -> After {
        After::Show
    }

    fn wakes_at(&self) -> Option<Duration> {
        None
    }

    fn focus(&mut self, has: bool, _: When) {
        self.away = !has;
    }

    fn bands(&self, area: Rect) -> Vec<Placed> {
        self.shown(area)
    }

    fn manner(&self) -> Manner {
        self.manner
    }

    fn title(&self) -> String {
        format!("endsmeet: {}", form_words::HEADING)
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
}
