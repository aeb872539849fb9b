//! What the sitting shows: the work, or what is open over it. Owns which bands stand when.

use super::{Over, Sitting, ways_of};
use crate::dressing::View;
use crate::dressing::view::{Asked, DisagreeingView};
use crate::hand::{Context, LitItem, Meaning, MenuItem, Opens, row_of};
use crate::quantity::Shaft;
use crate::terminal::screens::{
    Band, ChoiceList, FarLine, LEAST, MenuBand, NumberBand, Placed, Scene, Stack, Tone, header,
    notice, sentences, story, work,
};
use crate::terminal::theme::Role;
use crate::words::{coach, list_words, report_words, screen_words};
use ratatui::layout::Rect;

impl Sitting<'_> {
    /// The lit item in words.
    pub(super) fn lit_word(&self) -> Option<String> {
        let item = self.hand.lit()?.item()?;
        Some(self.word_of(item))
    }

    pub(super) fn word_of(&self, item: LitItem) -> String {
        match item {
            LitItem::Menu(MenuItem::OtherWay) => {
                self.other_way().unwrap_or_default().to_uppercase()
            }
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
            LitItem::NotLooked if self.report.open().is_some() => report_words::GO_BACK.to_owned(),
            LitItem::NotLooked => screen_words::NOT_LOOKED.to_owned(),
        }
    }

    fn choices(&self) -> Vec<String> {
        match &self.view {
            _ if self.report.open().is_some() => self.report_lines(),
            View::Disagreeing(view) => ways_of(view, self.dressing().plan()),
            view => screen_words::ways_of_step(view)
                .map(|ways| ways.map(str::to_owned).to_vec())
                .unwrap_or_default(),
        }
    }

    /// What the button does now, for the footer and for wrong keys.
    pub(super) fn press_words(&self) -> String {
        match self.hand.context() {
            Context::Number { .. } if self.hand.lit().is_some() => {
                screen_words::TAKE_LIT.to_owned()
            }
            Context::Number { .. }
                if self.report.open().is_some() && self.hand.typed().is_empty() =>
            {
                report_words::PRESS.to_owned()
            }
            Context::Number { .. } => {
                screen_words::number_press(!self.hand.typed().is_empty()).to_owned()
            }
            Context::Ways { .. } if self.hand.lit().is_none() => {
                screen_words::LIGHT_FIRST.to_owned()
            }
            Context::Choice { .. } | Context::Ways { .. } => screen_words::TAKE_LIT.to_owned(),
            Context::Work { .. } | Context::Text => self.page.press.clone(),
        }
    }

    /// The bands of the window as it stands.
    pub(super) fn shown(&self, area: Rect) -> Vec<Placed> {
        if area.width < LEAST.0 || area.height < LEAST.1 {
            let text = screen_words::too_small(LEAST, (area.width, area.height));
            return vec![Placed {
                area,
                band: Band::Lines(vec![(Tone::Do, text)]),
            }];
        }
        let hints = self.hints();
        let story = self.story();
        let scene = Scene {
            dressing: self.keep.dressing(),
            view: &self.view,
            about: &self.about,
            page: &self.page,
            notice: self.notice.as_ref(),
            hints: &hints,
            lit: self.lit_choice(),
            story: &story,
        };
        self.stack(&scene, area).place(area)
    }

    fn stack(&self, scene: &Scene, area: Rect) -> Stack {
        let width = area.width;
        if self.hand.is_leaving() {
            return self.over_work(
                scene,
                width,
                screen_words::LEAVE,
                vec![(Tone::Do, screen_words::LEAVE_LINE.to_owned())],
            );
        }
        match &self.over {
            Over::Help(page) => return self.help(scene, *page, area),
            Over::Cloth(shown) => return self.cloth(scene, *shown, area),
            Over::NotListening => {
                let line = screen_words::NOT_LISTENING_LINE.to_owned();
                let far = screen_words::NOT_LISTENING;
                return self.over_work(scene, width, far, vec![(Tone::Alarm, line)]);
            }
            Over::PracticeDone => {
                let line = (Tone::Do, coach::OVER.to_owned());
                return self.over_work(scene, width, screen_words::PRACTICE_OVER, vec![line]);
            }
            Over::NotSaved(why) => {
                let line = (Tone::Alarm, why.clone());
                return self.over_work(scene, width, screen_words::NOT_SAVED, vec![line]);
            }
            Over::Nothing => {}
        }
        if let Some(note) = &self.note {
            let lines = screen_words::note_lines(note);
            let lines = lines.map(|line| (Tone::Do, line)).to_vec();
            return self.over_work(scene, width, screen_words::NOTE, lines);
        }
        if self.hand.menu_is_open() {
            return self.menu_stack(scene, width);
        }
        if let Some(part) = self.report.open() {
            return self.report_stack(scene, part, width);
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

    pub(super) fn stacked(&self, scene: &Scene, width: u16, bands: Vec<Band>) -> Stack {
        let mut stack = Stack::default();
        stack.push(header(scene).wish(width, self.manner, 0));
        for band in bands {
            stack.push(band.wish(width, self.manner, 0));
        }
        if let Some(told) = story(scene) {
            stack.push(told.wish(width, self.manner, 0));
        }
        stack.push(notice(scene).wish(width, self.manner, 0));
        let footer = Band::Footer(scene.hints.to_vec());
        stack.push(footer.wish(width, self.manner, 0));
        stack
    }

    fn menu_stack(&self, scene: &Scene, width: u16) -> Stack {
        let lit = self.hand.lit();
        let shown = lit.map_or(&[][..], |lit| lit.items);
        let items = shown.iter().map(|item| self.word_of(*item)).collect();
        let lit = lit.map_or(0, |lit| lit.at);
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
            Some(shafts) => {
                let at = self.given.len().min(shafts.len().saturating_sub(1));
                let shaft = shafts.get(at).copied().unwrap_or(Shaft(1));
                let given = shafts.into_iter().zip(self.given.iter().copied());
                let given: Vec<(Shaft, i64)> = given.collect();
                let near = list_words::heddles_near(shaft, &given);
                let lines = near.into_iter().map(|line| (Tone::Do, line)).collect();
                (list_words::heddles_far(shaft), lines)
            }
            None if self.handful_read().is_some() => {
                let mut lines = sentences(&self.page);
                lines.push((Tone::Know, list_words::reading_near(&self.given)));
                (self.page.far.clone(), lines)
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
            items: ways_of(view, self.dressing().plan()),
            lit: self.hand.lit().map(|lit| lit.at),
        };
        let far = FarLine {
            text: self.page.far.clone(),
            role: Role::Alarm,
        };
        self.stacked(
            scene,
            width,
            vec![Band::Far(far), Band::Lines(lines), Band::Choices(choices)],
        )
    }

    /// What the practice warp tells beside the work; empty in earnest.
    fn story(&self) -> Vec<String> {
        if self.practice {
            let button = match self.hand.settings().opens {
                Opens::Hold => coach::Button::Hold,
                Opens::Triple => coach::Button::Triple,
            };
            coach::hint(self.keep.dressing(), button)
        } else {
            Vec::new()
        }
    }

    fn lit_choice(&self) -> Option<usize> {
        match self.hand.context() {
            Context::Choice { .. } | Context::Ways { .. } => self.hand.lit().map(|lit| lit.at),
            _ => None,
        }
    }

    /// The bottom line out of the key table: the button with what it does now, back one, what
    /// else matters here, help last.
    fn hints(&self) -> Vec<(String, String)> {
        if self.hand.is_leaving() {
            let (key, does) = screen_words::STAY;
            let stay = (key.to_owned(), does.to_owned());
            return vec![("y".to_owned(), self.hint(Meaning::Leave, None).1), stay];
        }
        if self.over == Over::PracticeDone {
            return vec![self.hint(Meaning::Next, row_of(Meaning::Leave).map(|row| row.footer))];
        }
        if let Over::Cloth(shown) = self.over {
            return shown.hints();
        }
        if let Over::Help(page) = self.over {
            return self.help_hints(page);
        }
        if self.note.is_some() {
            let named = |(key, does): (&str, &str)| (key.to_owned(), does.to_owned());
            return screen_words::NOTE_HINTS.map(named).to_vec();
        }
        if self.hand.menu_is_open() {
            return vec![
                self.hint(Meaning::Next, Some(screen_words::TAKE_LIT)),
                self.hint(Meaning::Menu, Some(screen_words::LIGHT_NEXT)),
            ];
        }
        let mut hints = vec![self.hint(Meaning::Next, Some(&self.press_words()))];
        if self.about.takes_back.is_some() || self.report.open().is_some() {
            hints.push(self.hint(Meaning::BackOne, None));
        }
        if self.report.open().is_some() {
            hints.push(self.hint(Meaning::Report, Some(screen_words::HELP_SHUT)));
        } else if self.is_look() {
            hints.push(self.hint(Meaning::CannotTell, None));
            hints.push(self.hint(Meaning::Skip, None));
        } else if self.is_measure() {
            hints.push(self.hint(Meaning::CannotTell, Some(screen_words::NOT_MEASURED)));
        } else if let View::Pick(_) = self.view {
            hints.push(self.hint(Meaning::Skip, Some(screen_words::PICKS_ENOUGH)));
        }
        let more = [Meaning::Menu, Meaning::Pause, Meaning::Leave, Meaning::Help];
        hints.extend(more.map(|meaning| self.hint(meaning, None)));
        hints
    }

    /// Whether a measure is asked, which may stay unmeasured.
    fn is_measure(&self) -> bool {
        matches!(&self.view, View::Asking(asking) if matches!(asking.asked, Asked::Measure { .. }))
    }

    /// Whether a look is being answered: one that may be left out, or that cannot be told.
    fn is_look(&self) -> bool {
        match &self.view {
            View::Asking(asking) => {
                matches!(asking.asked, Asked::Look { .. } | Asked::ReadBack { .. })
            }
            _ => self.looking,
        }
    }

    /// The first key of a meaning here and what it does: `does`, else what the table says.
    pub(super) fn hint(&self, meaning: Meaning, does: Option<&str>) -> (String, String) {
        row_of(meaning).map_or_else(Default::default, |row| {
            let here = row
                .keys
                .iter()
                .find(|key| !self.hand.key_moves_light(**key));
            let key = here.map_or_else(String::new, |key| key.name());
            (key, does.unwrap_or(row.footer).to_owned())
        })
    }
}
