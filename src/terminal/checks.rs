//! Two checks at the loom: what the pedal sends, and which size of letters can be read. Each is a
//! screen of its own. Owns what it finds out; saves nothing.

use super::screens::{After, Band, FarLine, Header, LEAST, Manner, Placed, Screen, Stack, Tone};
use crate::dressing::When;
use crate::hand::{Key, PedalTest, PedalVerdict, Press, PressKind};
use crate::words::checks as words;
use crate::words::spoken::{Purpose, Said};
use ratatui::layout::Rect;
use std::time::Duration;

/// The test is over when so long nothing came: longer than a first repeat takes.
const STILL: Duration = Duration::from_millis(2500);

/// Whether a press ends a check at once.
fn leaves(press: Press) -> bool {
    matches!(press.key, Key::Ctrl('c') | Key::Char('q' | 'Q') | Key::Esc)
}

/// A screen of a heading, a distance line and sentences.
fn stacked(heading: &str, far: FarLine, lines: Vec<String>, width: u16, manner: Manner) -> Stack {
    let mut stack = Stack::default();
    let header = Header {
        left: heading.to_owned(),
        right: String::new(),
    };
    let lines = lines.into_iter().map(|line| (Tone::Do, line)).collect();
    for band in [Band::Header(header), Band::Far(far), Band::Lines(lines)] {
        stack.push(band.wish(width, manner, 0));
    }
    stack
}

/// "Press your pedal now".
pub struct PedalScreen {
    test: PedalTest,
    last: Option<Duration>,
    verdict: Option<PedalVerdict>,
    kept: bool,
    told_focus: bool,
    manner: Manner,
    say: Vec<Said>,
}

impl PedalScreen {
    /// A test that has heard nothing yet.
    #[must_use]
    pub fn new(manner: Manner) -> Self {
        Self {
            test: PedalTest::default(),
            last: None,
            verdict: None,
            kept: false,
            told_focus: false,
            manner,
            say: vec![Said::new(Purpose::Call, words::PEDAL_DO)],
        }
    }

    /// What the pedal sends, where she wants it kept.
    #[must_use]
    pub fn kept(&self) -> Option<PedalVerdict> {
        self.verdict.filter(|_| self.kept)
    }

    fn lines(&self) -> Vec<String> {
        let told = words::focus(self.told_focus).to_owned();
        match &self.verdict {
            Some(verdict) => {
                let every = verdict.repeat_every.map(|every| every.as_millis());
                let mut lines = words::verdict(&verdict.key.name(), every, verdict.many_keys);
                lines.push(told);
                lines
            }
            None => vec![
                words::PEDAL_DO.to_owned(),
                words::PEDAL_FOCUS.to_owned(),
                told,
                words::PEDAL_LEAVE.to_owned(),
            ],
        }
    }
}

impl Screen for PedalScreen {
    fn press(&mut self, press: Press, _: When) -> After {
        let Some(verdict) = self.verdict else {
            if press.key == Key::Ctrl('c') {
                return After::Leave;
            }
            self.test.hears(press);
            self.last = Some(press.at);
            return After::Show;
        };
        let taken = [verdict.key, Key::Space, Key::Enter].contains(&press.key);
        match press.kind {
            PressKind::Press if taken => {
                self.kept = true;
                After::Leave
            }
            PressKind::Press if leaves(press) => After::Leave,
            PressKind::Press | PressKind::Repeat | PressKind::Release => After::Show,
        }
    }

    fn tick(&mut self, now: Duration, _: When) -> After {
        if self.last.is_some_and(|last| now >= last + STILL) {
            self.last = None;
            self.verdict = self.test.verdict();
            let said = self.lines().join(" ");
            self.say = vec![Said::new(Purpose::Call, &said)];
        }
        After::Show
    }

    fn wakes_at(&self) -> Option<Duration> {
        self.last.map(|last| last + STILL)
    }

    fn focus(&mut self, has: bool, _: When) {
        self.told_focus |= !has;
    }

    fn bands(&self, area: Rect) -> Vec<Placed> {
        let far = match self.verdict {
            Some(_) => words::PEDAL_HEARD,
            None => words::PEDAL_FAR,
        };
        let far = FarLine::now(far);
        stacked(words::PEDAL, far, self.lines(), area.width, self.manner).place(area)
    }

    fn manner(&self) -> Manner {
        self.manner
    }

    fn title(&self) -> String {
        words::PEDAL.to_owned()
    }

    fn take_say(&mut self) -> Vec<Said> {
        std::mem::take(&mut self.say)
    }

    fn tell(&mut self, _: &str) {}

    fn take_bell(&mut self) -> bool {
        false
    }
}

/// Letters of each size, to be looked at from the loom.
pub struct ChartScreen {
    size: u8,
    read: Option<u8>,
    manner: Manner,
    say: Vec<Said>,
}

impl ChartScreen {
    /// A chart at its smallest size.
    #[must_use]
    pub fn new(manner: Manner) -> Self {
        Self {
            size: 1,
            read: None,
            manner,
            say: vec![Said::new(Purpose::Call, words::CHART_DO)],
        }
    }

    /// The smallest size that she can read; `None` where she left before.
    #[must_use]
    pub fn read(&self) -> Option<u8> {
        self.read
    }

    /// Rows of the letters of a size.
    #[must_use]
    pub fn rows(size: u8) -> u16 {
        4 << size.saturating_sub(1).min(2)
    }
}

/// The smallest window that shows everything at a size.
#[must_use]
pub fn window_for(size: u8) -> (u16, u16) {
    let times = u16::from(size.clamp(1, 3));
    (LEAST.0 * times, LEAST.1 * times)
}

impl Screen for ChartScreen {
    fn press(&mut self, press: Press, _: When) -> After {
        match press.key {
            _ if press.kind != PressKind::Press => After::Show,
            Key::Space | Key::Enter | Key::Right | Key::PageDown => {
                self.read = Some(self.size);
                After::Leave
            }
            Key::Left | Key::PageUp | Key::Backspace if self.size < 3 => {
                self.size += 1;
                After::Repaint
            }
            _ if leaves(press) => After::Leave,
            _ => After::Show,
        }
    }

    fn tick(&mut self, _: Duration, _: When) -> After {
        After::Show
    }

    fn wakes_at(&self) -> Option<Duration> {
        None
    }

    fn focus(&mut self, _: bool, _: When) {}

    /// One line of letters of exactly this size, broken where it is too wide, and near text below.
    fn bands(&self, area: Rect) -> Vec<Placed> {
        let rows = Self::rows(self.size);
        let lines = vec![
            (Tone::Know, words::chart_size(self.size, rows)),
            (Tone::Do, words::CHART_DO.to_owned()),
        ];
        let far = Rect {
            height: rows.min(area.height),
            ..area
        };
        // a word at a time where the whole line would not fit at this size
        let fits = rows.saturating_mul(12) <= area.width;
        let text = if fits { words::CHART_FAR } else { "3856" };
        let near = Rect {
            y: area.y + far.height,
            height: (area.height - far.height).min(4),
            ..area
        };
        vec![
            Placed {
                area: far,
                band: Band::Far(FarLine::now(text)),
            },
            Placed {
                area: near,
                band: Band::Lines(lines),
            },
        ]
    }

    fn manner(&self) -> Manner {
        self.manner
    }

    fn title(&self) -> String {
        words::CHART.to_owned()
    }

    fn take_say(&mut self) -> Vec<Said> {
        std::mem::take(&mut self.say)
    }

    fn tell(&mut self, _: &str) {}

    fn take_bell(&mut self) -> bool {
        false
    }
}

/// What to say where the window is too small for the size that she reads.
#[must_use]
pub fn too_small_to_read(size: u8, window: (u16, u16)) -> Option<String> {
    let least = window_for(size);
    let small = window.0 < least.0 || window.1 < least.1;
    (small && size > 1).then(|| words::too_small_to_read(size, least, window))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Opens;
    use crate::terminal::digits::Ink;
    use crate::terminal::theme::Theme;

    const MANNER: Manner = Manner {
        theme: Theme::Mono,
        ink: Ink::Blocks,
    };

    fn when() -> When {
        When {
            wall: chrono::DateTime::default(),
            elapsed_ms: 0,
        }
    }

    fn down(screen: &mut dyn Screen, key: Key, ms: u64) -> After {
        screen.press(Press::down(key, Duration::from_millis(ms)), when())
    }

    #[test]
    fn a_held_pedal_is_heard_and_kept_by_its_own_press() {
        let mut screen = PedalScreen::new(MANNER);
        assert_eq!(screen.wakes_at(), None);
        down(&mut screen, Key::F(13), 1000);
        for n in 0..50 {
            down(&mut screen, Key::F(13), 1250 + 33 * n);
        }
        let end = screen.wakes_at().unwrap();
        screen.tick(end, when());
        let lines = screen.lines();
        assert!(lines[0].contains("sends F13 and repeats it, at most 33 ms apart"));
        assert_eq!(down(&mut screen, Key::F(13), 9000), After::Leave);
        let settings = screen.kept().unwrap().settings(Default::default());
        assert_eq!(
            (settings.pedal, settings.opens),
            (Some(Key::F(13)), Opens::Hold)
        );
    }

    #[test]
    fn a_pedal_without_repeats_opens_the_menu_by_three_presses() {
        let mut screen = PedalScreen::new(MANNER);
        down(&mut screen, Key::Char('b'), 1000);
        screen.tick(screen.wakes_at().unwrap(), when());
        assert!(screen.lines()[0].contains("sends b once"));
        assert_eq!(down(&mut screen, Key::Char('q'), 9000), After::Leave);
        assert_eq!(screen.kept(), None, "left as it was");
    }

    #[test]
    fn a_lost_focus_is_told() {
        let mut screen = PedalScreen::new(MANNER);
        assert!(screen.lines()[2].contains("not told"));
        screen.focus(false, when());
        screen.focus(true, when());
        assert!(screen.lines()[2].contains("This terminal tells"));
    }

    #[test]
    fn the_chart_grows_until_it_can_be_read() {
        let mut chart = ChartScreen::new(MANNER);
        down(&mut chart, Key::Left, 1000);
        assert_eq!(ChartScreen::rows(chart.size), 8);
        assert_eq!(down(&mut chart, Key::Space, 2000), After::Leave);
        assert_eq!(chart.read(), Some(2));
        for size in 1..=3 {
            let mut chart = ChartScreen::new(MANNER);
            chart.size = size;
            for (w, h) in [(80, 24), (1, 1), (240, 72)] {
                let bands = chart.bands(Rect::new(0, 0, w, h));
                assert!(
                    bands
                        .iter()
                        .all(|b| b.area.bottom() <= h && b.area.right() <= w)
                );
            }
        }
    }

    #[test]
    fn a_window_too_small_for_her_eyes_is_told() {
        let area = (80, 24);
        assert_eq!(too_small_to_read(1, area), None);
        let said = too_small_to_read(2, area).unwrap();
        assert!(
            said.contains("Make the window 160x48 (now 80x24)"),
            "{said}"
        );
        assert_eq!(too_small_to_read(2, (160, 48)), None);
    }
}
