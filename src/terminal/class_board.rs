//! The class board on the full screen: every dressing of a folder in large type, who needs help most
//! first; what went wrong in the class; one dressing's log. Looks into the folder again and again and
//! writes nothing. Owns what is open and which row is marked; rows and order are the dressings'.

use super::class_row::{ClassRow, letters_for};
use super::screens::{After, Band, Header, LEAST, Manner, Placed, Screen, Tone, wrapped};
use crate::dressing::When;
use crate::dressing::class::Row;
use crate::hand::{Key, Press, PressKind};
use crate::journal::board::{Board, Found};
use crate::method::Method;
use crate::words::board_words::{self, Lesson};
use crate::words::screen_words;
use crate::words::spoken::Said;
use chrono::{DateTime, FixedOffset};
use ratatui::layout::Rect;
use std::time::Duration;

/// How often the board looks into its folder.
pub const EVERY: Duration = Duration::from_secs(2);

/// What is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Open {
    /// The rows.
    Rows,
    /// What went wrong in the class.
    Wrong,
    /// One dressing's log, so many rows of it above the window.
    Log {
        /// Whose, and of what.
        title: String,
        /// Its lines.
        lines: Vec<String>,
        /// Lines above the window.
        above: usize,
    },
}

/// How a dressing's log is put into lines.
pub type LogLines<'a> = dyn Fn(&Found) -> Vec<String> + 'a;

/// The board on the screen.
pub struct ClassBoard<'a> {
    board: Board,
    method: &'a Method,
    manner: Manner,
    log: &'a LogLines<'a>,
    rows: Vec<Row>,
    lesson: Lesson,
    open: Open,
    /// The file of the marked row; the first row where it has gone.
    marked: Option<String>,
    /// What went wrong at the last look.
    trouble: Option<String>,
    looks_at: Duration,
}

impl<'a> ClassBoard<'a> {
    /// A board that has looked into its folder already.
    #[must_use]
    pub fn new(
        board: Board,
        method: &'a Method,
        manner: Manner,
        log: &'a LogLines<'a>,
        now: DateTime<FixedOffset>,
    ) -> Self {
        let mut shown = Self {
            board,
            method,
            manner,
            log,
            rows: Vec::new(),
            lesson: Lesson::default(),
            open: Open::Rows,
            marked: None,
            trouble: None,
            looks_at: EVERY,
        };
        shown.renew(now);
        shown
    }

    fn renew(&mut self, now: DateTime<FixedOffset>) {
        self.rows = self.board.rows(now);
        self.lesson = board_words::lesson(self.board.wrong());
    }

    fn at(&self) -> usize {
        let marked = |row: &Row| Some(&row.file) == self.marked.as_ref();
        self.rows.iter().position(marked).unwrap_or(0)
    }

    /// Marks the row so many further on, or moves the log.
    fn step(&mut self, by: isize) {
        match &mut self.open {
            Open::Rows => {
                let last = self.rows.len().saturating_sub(1);
                let at = self.at().saturating_add_signed(by).min(last);
                self.marked = self.rows.get(at).map(|row| row.file.clone());
            }
            Open::Wrong => {}
            Open::Log { lines, above, .. } => {
                let last = lines.len().saturating_sub(1);
                *above = above.saturating_add_signed(by).min(last);
            }
        }
    }

    /// Opens the log of the marked row.
    fn open_log(&mut self) {
        let Some(row) = self.rows.get(self.at()) else {
            return;
        };
        let found = self.board.found().find(|found| found.stem == row.file);
        let lines = found.map_or_else(Vec::new, |found| (self.log)(found));
        self.open = Open::Log {
            title: board_words::log_of(row),
            lines,
            above: 0,
        };
    }

    fn key(&mut self, key: Key) -> After {
        match (key, &self.open) {
            (Key::Ctrl('c') | Key::Char('q' | 'Q'), _) => return After::Leave,
            (Key::Ctrl('z'), _) => return After::Suspend,
            (Key::Ctrl('l'), _) => return After::Repaint,
            (Key::Down, _) => self.step(1),
            (Key::Up, _) => self.step(-1),
            (Key::PageDown, _) => self.step(10),
            (Key::PageUp, _) => self.step(-10),
            (Key::Char('w' | 'W'), Open::Rows) => self.open = Open::Wrong,
            (Key::Enter | Key::Space | Key::Right, Open::Rows) => self.open_log(),
            (Key::Enter | Key::Space | Key::Left | Key::Esc | Key::Backspace, _)
            | (Key::Char('w' | 'W'), _) => self.open = Open::Rows,
            _ => {}
        }
        After::Show
    }

    fn header(&self) -> Header {
        let (left, right) = match &self.open {
            Open::Rows => (
                board_words::heading(self.rows.len()),
                board_words::wanting(&self.rows),
            ),
            Open::Wrong => (board_words::WENT_WRONG.to_owned(), String::new()),
            Open::Log { title, .. } => (title.clone(), String::new()),
        };
        Header { left, right }
    }

    fn hints(&self) -> Vec<(String, String)> {
        let hint = |(key, does): &(&str, &str)| ((*key).to_owned(), (*does).to_owned());
        let hints: &[(&str, &str)] = match self.open {
            Open::Rows => &board_words::HINTS,
            Open::Wrong | Open::Log { .. } => &board_words::HINTS_BACK,
        };
        hints.iter().map(hint).collect()
    }

    /// The rows that fit, the marked one among them; then who is above and below.
    fn row_bands(&self, area: Rect) -> Vec<Placed> {
        if self.rows.is_empty() {
            return text_bands(area, &[board_words::NOBODY.to_owned()], 0);
        }
        let whole = letters_for(&self.rows, area, self.manner.ink);
        let tall = ClassRow::rows(whole);
        let fits_all = usize::from(area.height / tall) >= self.rows.len();
        let room = area.height - u16::from(!fits_all && area.height > 0);
        let fit = usize::from(room / tall).max(1);
        let first = (self.at() / fit) * fit;
        let mut placed = Vec::new();
        for (nth, row) in (0u16..).zip(self.rows.iter().skip(first).take(fit)) {
            let y = area.y + nth * tall;
            let height = tall.min(area.bottom().saturating_sub(y));
            let marked = Some(row.file == self.rows[self.at()].file);
            let band = Band::Class(ClassRow::of(row, self.method, whole, marked));
            let area = Rect { y, height, ..area };
            placed.push(Placed { area, band });
        }
        if !fits_all {
            let last = Rect {
                y: area.bottom().saturating_sub(1),
                height: 1,
                ..area
            };
            let says = board_words::others(&self.rows, first, fit);
            let band = Band::Lines(vec![(Tone::Know, says)]);
            placed.push(Placed { area: last, band });
        }
        placed
    }
}

/// Lines broken into rows, those that fit below so many.
fn text_bands(area: Rect, lines: &[String], above: usize) -> Vec<Placed> {
    let wide = usize::from(area.width);
    let rows = lines
        .iter()
        .skip(above)
        .flat_map(|line| wrapped(line, wide));
    let rows = rows.take(usize::from(area.height));
    let band = Band::Lines(rows.map(|row| (Tone::Do, row)).collect());
    vec![Placed { area, band }]
}

impl Screen for ClassBoard<'_> {
    fn press(&mut self, press: Press, _: When) -> After {
        match press.kind {
            PressKind::Press | PressKind::Repeat => self.key(press.key),
            PressKind::Release => After::Show,
        }
    }

    fn tick(&mut self, now: Duration, when: When) -> After {
        self.looks_at = now + EVERY;
        self.trouble = self
            .board
            .look()
            .err()
            .map(|error| board_words::cannot_look(&error.to_string()));
        self.renew(when.wall);
        After::Show
    }

    fn wakes_at(&self) -> Option<Duration> {
        Some(self.looks_at)
    }

    fn focus(&mut self, _: bool, _: When) {}

    fn bands(&self, area: Rect) -> Vec<Placed> {
        if area.width < LEAST.0 || area.height < LEAST.1 {
            let text = screen_words::too_small(LEAST, (area.width, area.height));
            let band = Band::Lines(vec![(Tone::Do, text)]);
            return vec![Placed { area, band }];
        }
        let row = |y: u16| Rect {
            y,
            height: 1,
            ..area
        };
        let middle = Rect {
            y: area.y + 1,
            height: area.height - 3,
            ..area
        };
        let mut placed = vec![Placed {
            area: row(area.y),
            band: Band::Header(self.header()),
        }];
        placed.extend(match &self.open {
            Open::Rows => self.row_bands(middle),
            Open::Wrong => text_bands(
                middle,
                &board_words::lesson_lines(&self.lesson, self.method),
                0,
            ),
            Open::Log { lines, above, .. } => text_bands(middle, lines, *above),
        });
        let trouble = self.trouble.clone().unwrap_or_default();
        placed.push(Placed {
            area: row(area.bottom() - 2),
            band: Band::Lines(vec![(Tone::Alarm, trouble)]),
        });
        placed.push(Placed {
            area: row(area.bottom() - 1),
            band: Band::Footer(self.hints()),
        });
        placed
    }

    fn manner(&self) -> Manner {
        self.manner
    }

    fn title(&self) -> String {
        board_words::TITLE.to_owned()
    }

    fn take_say(&mut self) -> Vec<Said> {
        Vec::new()
    }

    fn tell(&mut self, _: &str) {}

    fn take_bell(&mut self) -> bool {
        false
    }
}
