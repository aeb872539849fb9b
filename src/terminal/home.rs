//! The home screen: go on, the other dressings with how far each is, the practice warp, and which
//! folder they are in. Owns the list and the choice; opens nothing.

use super::screens::{
    After, Band, ChoiceList, FarLine, Header, LEAST, Manner, Placed, Screen, Stack, Tone,
};
use crate::dressing::When;
use crate::hand::{Context, Hand, Intent, LitItem, Meaning, Press, Settings, row_of};
use crate::words::screen_words;
use crate::words::spoken::{Purpose, Said};
use ratatui::layout::Rect;
use std::time::Duration;

/// One line of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HomeItem {
    /// What it is: a dressing's name, or what it does.
    pub name: String,
    /// How far it is and when it was last worked on; empty where there is nothing to say.
    pub standing: String,
}

/// The home screen.
pub struct Home {
    items: Vec<HomeItem>,
    places: Vec<String>,
    hand: Hand,
    manner: Manner,
    notice: Option<String>,
    chosen: Option<usize>,
    away: bool,
    say: Vec<Said>,
    bell: bool,
    heading: &'static str,
    far: &'static str,
}

/// An item as a voice says it.
fn said(item: Option<&HomeItem>) -> Vec<Said> {
    let said = item.map(|item| Said::new(Purpose::Lit, &item.name));
    said.into_iter().collect()
}

impl Home {
    /// A home screen of these items, the first one lit; `places` says which folder they are in
    /// and where else was looked.
    #[must_use]
    pub fn new(
        items: Vec<HomeItem>,
        places: Vec<String>,
        settings: Settings,
        manner: Manner,
    ) -> Self {
        let mut home = Self {
            say: said(items.first()),
            items,
            places,
            hand: Hand::new(settings),
            manner,
            notice: None,
            chosen: None,
            away: false,
            bell: false,
            heading: screen_words::HOME,
            far: screen_words::HOME_FAR,
        };
        home.attend(0, Duration::ZERO);
        home
    }

    /// The same list under another heading and distance line.
    #[must_use]
    pub fn named(mut self, heading: &'static str, far: &'static str) -> Self {
        (self.heading, self.far) = (heading, far);
        self
    }

    /// Lights the list from an item on.
    fn attend(&mut self, start: u8, now: Duration) {
        let count = u8::try_from(self.items.len()).unwrap_or(u8::MAX);
        self.hand.attend(Context::Choice { count, start }, now);
    }

    /// The item that was taken, counted from 0; `None` where she left.
    #[must_use]
    pub fn chosen(&self) -> Option<usize> {
        self.chosen
    }

    fn lit(&self) -> Option<usize> {
        self.hand.lit().and_then(|lit| match lit.item()? {
            LitItem::Choice(n) => Some(usize::from(n)),
            _ => None,
        })
    }

    fn do_intent(&mut self, intent: Intent, now: Duration) -> After {
        self.notice = None;
        match intent {
            // There is no menu over a list: its lines are all that can be done.
            Intent::MenuOpened { .. } => {
                let start = u8::try_from(self.lit().unwrap_or(0)).unwrap_or(0);
                self.attend(start, now);
                self.notice = Some(screen_words::HOME_HELP.to_owned());
                After::Show
            }
            Intent::Choose(n) if usize::from(n) < self.items.len() => {
                self.chosen = Some(usize::from(n));
                After::Leave
            }
            Intent::Leave | Intent::LeaveAtOnce => After::Leave,
            Intent::Suspend => After::Suspend,
            Intent::Repaint => After::Repaint,
            Intent::Lit => {
                let lit = self.lit().and_then(|n| self.items.get(n));
                self.say = said(lit);
                After::Show
            }
            Intent::LeaveAsked | Intent::Stay => After::Show,
            Intent::Wrong(key) => {
                self.notice = Some(screen_words::home_wrong_key(&key.name()));
                After::Show
            }
            _ => {
                self.notice = Some(screen_words::HOME_HELP.to_owned());
                After::Show
            }
        }
    }

    fn stack(&self, width: u16) -> Stack {
        let mut stack = Stack::default();
        let mut add = |band: Band, rank| stack.push(band.wish(width, self.manner, rank));
        add(
            Band::Header(Header {
                left: self.heading.to_owned(),
                right: String::new(),
            }),
            0,
        );
        if self.away || self.hand.is_leaving() {
            let (far, line, tone) = if self.away {
                let line = screen_words::NOT_LISTENING_LINE;
                (screen_words::NOT_LISTENING, line, Tone::Alarm)
            } else {
                let line = screen_words::HOME_LEAVE_LINE;
                (screen_words::LEAVE, line, Tone::Do)
            };
            add(Band::Far(FarLine::now(far)), 0);
            add(Band::Lines(vec![(tone, line.to_owned())]), 0);
        } else {
            add(Band::Far(FarLine::now(self.far)), 2);
            add(Band::Choices(self.choices()), 0);
            let places = self.places.iter().map(|p| (Tone::Know, p.clone()));
            add(Band::Lines(places.collect()), 1);
        }
        let notice = self.notice.clone().unwrap_or(" ".to_owned());
        add(Band::Lines(vec![(Tone::Know, notice)]), 0);
        add(Band::Footer(self.hints()), 0);
        stack
    }

    fn choices(&self) -> ChoiceList {
        let items = self.items.iter().map(|item| {
            if item.standing.is_empty() {
                item.name.clone()
            } else {
                format!("{}: {}", item.name, item.standing)
            }
        });
        ChoiceList {
            items: items.collect(),
            lit: self.lit(),
        }
    }

    fn hints(&self) -> Vec<(String, String)> {
        let key = |meaning: Meaning| {
            row_of(meaning)
                .and_then(|row| row.keys.first())
                .map_or_else(String::new, |key| key.name())
        };
        let named = |key: String, does: &str| (key, does.to_owned());
        let mut hints = vec![
            named(key(Meaning::Next), screen_words::TAKE_LIT),
            named(key(Meaning::Leave), "leave"),
            named(key(Meaning::Help), "help"),
        ];
        // for one button the light moves by itself, and an arrow is the button
        if !self.hand.settings().one_button {
            hints.insert(1, named("Down, Up".to_owned(), screen_words::LIGHT_NEXT));
        }
        hints
    }
}

impl Screen for Home {
    fn press(&mut self, press: Press, _when: When) -> After {
        match self.hand.press(press) {
            Some(intent) => self.do_intent(intent, press.at),
            None => After::Show,
        }
    }

    fn tick(&mut self, now: Duration, _when: When) -> After {
        match self.hand.tick(now) {
            Some(intent) => self.do_intent(intent, now),
            None => After::Show,
        }
    }

    fn wakes_at(&self) -> Option<Duration> {
        self.hand.wakes_at()
    }

    fn focus(&mut self, has: bool, _: When) {
        self.away = !has;
        self.bell |= !has;
    }

    fn bands(&self, area: Rect) -> Vec<Placed> {
        if area.width < LEAST.0 || area.height < LEAST.1 {
            let text = screen_words::too_small(LEAST, (area.width, area.height));
            let band = Band::Lines(vec![(Tone::Do, text)]);
            return vec![Placed { area, band }];
        }
        self.stack(area.width).place(area)
    }

    fn manner(&self) -> Manner {
        self.manner
    }

    fn title(&self) -> String {
        self.heading.to_owned()
    }

    fn take_say(&mut self) -> Vec<Said> {
        std::mem::take(&mut self.say)
    }

    fn tell(&mut self, _sentence: &str) {}

    fn take_bell(&mut self) -> bool {
        std::mem::take(&mut self.bell)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Key;
    use crate::terminal::canvas::Canvas;
    use crate::terminal::digits::Ink;
    use crate::terminal::theme::Theme;

    fn home(items: usize) -> Home {
        let items = (1..=items).map(|n| HomeItem {
            name: format!("warp-{n}"),
            standing: "Thread: batch 7 of 24. The last press was on Tuesday.".to_owned(),
        });
        let manner = Manner {
            theme: Theme::Colour,
            ink: Ink::Blocks,
        };
        let places = vec!["Dressings in ./sessions".to_owned()];
        Home::new(items.collect(), places, Settings::default(), manner)
    }

    fn when() -> When {
        When {
            wall: chrono::DateTime::default(),
            elapsed_ms: 0,
        }
    }

    fn press(home: &mut Home, key: Key, ms: u64) -> After {
        home.press(Press::down(key, Duration::from_millis(ms)), when())
    }

    fn text(home: &Home, area: Rect) -> String {
        let mut canvas = Canvas::empty(area);
        for placed in home.bands(area) {
            placed.draw(&mut canvas, home.manner());
        }
        let row = |y| (0..area.width).map(move |x| (x, y));
        (0..area.height)
            .map(|y| {
                row(y)
                    .map(|at| canvas.symbol_at(at))
                    .collect::<String>()
                    .trim_end()
                    .to_owned()
            })
            .collect::<Vec<_>>()
            .join("\n")
    }

    #[test]
    fn the_first_is_taken_by_the_button_and_others_by_arrow_or_number() {
        let mut first = home(3);
        assert_eq!(press(&mut first, Key::Space, 10), After::Leave);
        assert_eq!(first.chosen(), Some(0));
        let mut second = home(3);
        press(&mut second, Key::Down, 10);
        assert_eq!(press(&mut second, Key::Enter, 900), After::Leave);
        assert_eq!(second.chosen(), Some(1));
        let mut third = home(3);
        assert_eq!(press(&mut third, Key::Char('3'), 10), After::Leave);
        assert_eq!(third.chosen(), Some(2));
    }

    #[test]
    fn no_menu_opens_over_the_list() {
        let mut home = home(2);
        press(&mut home, Key::Tab, 10);
        assert!(!home.hand.menu_is_open());
        assert_eq!(press(&mut home, Key::Space, 900), After::Leave);
        assert_eq!(home.chosen(), Some(0));
    }

    #[test]
    fn leaving_takes_nothing() {
        let mut home = home(2);
        press(&mut home, Key::Char('q'), 10);
        assert_eq!(press(&mut home, Key::Char('y'), 20), After::Leave);
        assert_eq!(home.chosen(), None);
    }

    #[test]
    fn the_screen_says_which_folder_and_how_far_each_is() {
        let shown = text(&home(3), Rect::new(0, 0, 80, 24));
        assert!(
            shown.contains(">1 warp-1: Thread: batch 7 of 24."),
            "{shown}"
        );
        assert!(shown.contains("Dressings in ./sessions"), "{shown}");
        assert!(shown.contains("? help"), "{shown}");
    }

    #[test]
    fn a_long_list_keeps_the_lit_line_on_the_screen_at_any_size() {
        let mut home = home(60);
        for n in 0..45 {
            press(&mut home, Key::Down, 10 + n);
        }
        let shown = text(&home, Rect::new(0, 0, 80, 24));
        assert!(shown.contains(">46 warp-46"), "{shown}");
        assert!(shown.contains("? help"), "{shown}");
        for size in [(1, 1), (79, 24), (80, 23), (300, 100)] {
            text(&home, Rect::new(0, 0, size.0, size.1));
        }
    }
}
