//! Two ways of drawing that give the same screen: the whole of it, or only some of its rows. Owns
//! the picture of what is shown; never decides what to show.
//!
//! A press changes few rows. Drawing the whole screen and comparing it cell by cell costs several
//! times what those rows cost, so a press goes through [`Painter::paint_rows`]; a new page, a
//! resize and a return to the screen go through [`Painter::paint_all`] and [`Painter::paint_anew`].
//! Either way only changed cells are sent, and the writer is flushed once.

use ratatui::backend::Backend;
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// The writer's size: a whole frame of a large window goes out in one write.
pub const FRAME_BYTES: usize = 64 * 1024;

/// A backend with the picture of what it shows.
pub struct Painter<B: Backend> {
    backend: B,
    shown: Buffer,
    next: Buffer,
}

impl<B: Backend> Painter<B> {
    /// A painter of a screen that is blank.
    pub fn new(backend: B, area: Rect) -> Self {
        Self {
            backend,
            shown: Buffer::empty(area),
            next: Buffer::empty(area),
        }
    }

    /// What is shown, cell by cell.
    #[must_use]
    pub fn shown(&self) -> &Buffer {
        &self.shown
    }

    /// The size of the screen as last told.
    #[must_use]
    pub fn area(&self) -> Rect {
        self.shown.area
    }

    /// The backend, as for the cursor.
    pub fn backend_mut(&mut self) -> &mut B {
        &mut self.backend
    }

    /// Draws every row; sends the cells that changed.
    ///
    /// # Errors
    /// What the backend says; the picture of what is shown stays as it was.
    pub fn paint_all(&mut self, draw: impl FnOnce(&mut Buffer)) -> Result<(), B::Error> {
        let rows: Vec<u16> = (self.next.area.top()..self.next.area.bottom()).collect();
        self.paint_rows(&rows, draw)
    }

    /// Draws some rows; sends their cells that changed. What `draw` puts into other rows is lost.
    ///
    /// # Errors
    /// What the backend says; the picture of what is shown stays as it was.
    pub fn paint_rows(
        &mut self,
        rows: &[u16],
        draw: impl FnOnce(&mut Buffer),
    ) -> Result<(), B::Error> {
        for row in rows {
            for cell in row_mut(&mut self.next, *row) {
                cell.reset();
            }
        }
        draw(&mut self.next);
        let mut changed = Vec::new();
        for y in rows {
            changes(&self.shown, &self.next, *y, &mut changed);
        }
        if !changed.is_empty() {
            self.backend.draw(changed.into_iter())?;
            self.backend.flush()?;
        }
        for y in rows {
            let new = row_of(&self.next, *y);
            row_mut(&mut self.shown, *y).clone_from_slice(new);
        }
        Ok(())
    }

    /// Wipes the screen, takes its size to be `area`, and draws and sends everything, whatever
    /// the picture says: after a resize and after the screen was someone else's.
    ///
    /// # Errors
    /// What the backend says.
    pub fn paint_anew(
        &mut self,
        area: Rect,
        draw: impl FnOnce(&mut Buffer),
    ) -> Result<(), B::Error> {
        self.shown = Buffer::empty(area);
        self.next = Buffer::empty(area);
        self.backend.clear()?;
        self.paint_all(draw)?;
        self.backend.flush()
    }
}

/// The cells of a row; none where the buffer has no such row.
fn row_of(buffer: &Buffer, y: u16) -> &[Cell] {
    let span = span_of(buffer.area, y);
    buffer.content.get(span).unwrap_or_default()
}

fn row_mut(buffer: &mut Buffer, y: u16) -> &mut [Cell] {
    let span = span_of(buffer.area, y);
    buffer.content.get_mut(span).unwrap_or_default()
}

fn span_of(area: Rect, y: u16) -> std::ops::Range<usize> {
    if y < area.top() || y >= area.bottom() {
        return 0..0;
    }
    let start = usize::from(y - area.top()) * usize::from(area.width);
    start..start + usize::from(area.width)
}

/// Adds the changed cells of one row. A row with wide characters goes whole, since a terminal
/// wipes the other half of a wide character that is written over.
fn changes<'a>(shown: &Buffer, next: &'a Buffer, y: u16, changed: &mut Vec<(u16, u16, &'a Cell)>) {
    let (old, new) = (row_of(shown, y), row_of(next, y));
    if old == new {
        return;
    }
    let wide = old.iter().chain(new).any(|cell| columns(cell) != 1);
    let mut covered = 0;
    for ((x, old), new) in (next.area.left()..).zip(old).zip(new) {
        if covered > 0 {
            covered -= 1;
        } else if wide || old != new {
            covered = columns(new).saturating_sub(1);
            changed.push((x, y, new));
        }
    }
}

fn columns(cell: &Cell) -> usize {
    let symbol = cell.symbol();
    if symbol.len() == 1 { 1 } else { symbol.width() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::theme::{Role, Theme};
    use proptest::prelude::*;
    use ratatui::backend::{CrosstermBackend, TestBackend};
    use ratatui::style::Style;
    use std::io::{self, BufWriter, Write};

    const AREA: Rect = Rect {
        x: 0,
        y: 0,
        width: 24,
        height: 6,
    };

    /// A screen as its lines with their roles.
    type Lines = Vec<(String, Role)>;

    fn put(buffer: &mut Buffer, lines: &Lines) {
        for (y, (text, role)) in (0u16..).zip(lines) {
            if y < buffer.area.height {
                let style = Theme::Colour.style(*role);
                buffer.set_style(Rect::new(0, y, buffer.area.width, 1), style);
                buffer.set_stringn(0, y, text, usize::from(buffer.area.width), style);
            }
        }
    }

    fn rows_that_differ(a: &Lines, b: &Lines) -> Vec<u16> {
        (0..AREA.height)
            .filter(|y| a.get(usize::from(*y)) != b.get(usize::from(*y)))
            .collect()
    }

    fn any_lines() -> impl Strategy<Value = Lines> {
        let text = prop_oneof![
            4 => "[ -~]{0,24}".prop_map(|s| s),
            1 => "[a█▌▙漢字é ]{0,14}".prop_map(|s| s),
        ];
        let role = prop_oneof![
            Just(Role::Ground),
            Just(Role::Now),
            Just(Role::Lit),
            Just(Role::Quiet)
        ];
        proptest::collection::vec((text, role), 6)
    }

    fn screen_after(bytes: &[u8]) -> vt100::Parser {
        let size = |n: u16| n.try_into().unwrap();
        let mut parser = vt100::Parser::new(size(AREA.height), size(AREA.width), 0);
        parser.process(bytes);
        parser
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(128))]

        #[test]
        fn rows_alone_and_the_whole_screen_show_the_same(
            pages in proptest::collection::vec(any_lines(), 1..6),
        ) {
            let mut by_rows = Painter::new(TestBackend::new(24, 6), AREA);
            let mut whole = Painter::new(TestBackend::new(24, 6), AREA);
            let (mut rows_sent, mut whole_sent) = (Vec::new(), Vec::new());
            let mut crossterm_rows = Painter::new(CrosstermBackend::new(&mut rows_sent), AREA);
            let mut crossterm_whole = Painter::new(CrosstermBackend::new(&mut whole_sent), AREA);
            let mut before = Lines::new();
            for page in &pages {
                let rows = rows_that_differ(&before, page);
                by_rows.paint_rows(&rows, |b| put(b, page)).unwrap();
                crossterm_rows.paint_rows(&rows, |b| put(b, page)).unwrap();
                whole.paint_all(|b| put(b, page)).unwrap();
                crossterm_whole.paint_all(|b| put(b, page)).unwrap();
                before.clone_from(page);
            }
            prop_assert_eq!(by_rows.shown(), whole.shown());
            prop_assert_eq!(
                by_rows.backend_mut().buffer().clone(),
                whole.backend_mut().buffer().clone()
            );
            let (a, b) = (screen_after(&rows_sent), screen_after(&whole_sent));
            prop_assert_eq!(a.screen().contents_formatted(), b.screen().contents_formatted());
            // And both are what one drawing on an empty screen gives.
            let mut once = Vec::new();
            let mut fresh = Painter::new(CrosstermBackend::new(&mut once), AREA);
            fresh.paint_anew(AREA, |b| put(b, pages.last().unwrap())).unwrap();
            let c = screen_after(&once);
            prop_assert_eq!(a.screen().contents(), c.screen().contents());
        }
    }

    /// A writer that counts its calls.
    #[derive(Default)]
    struct Counting {
        writes: usize,
        bytes: usize,
    }

    impl Write for &mut Counting {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.writes += 1;
            self.bytes += bytes.len();
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_frame_is_one_write_and_an_unchanged_one_is_none() {
        let area = Rect::new(0, 0, 120, 40);
        let mut counting = Counting::default();
        let writer = BufWriter::with_capacity(FRAME_BYTES, &mut counting);
        let mut painter = Painter::new(CrosstermBackend::new(writer), area);
        let fill = |b: &mut Buffer| {
            for y in 0..40 {
                b.set_string(0, y, "x".repeat(120), Style::new());
            }
        };
        painter.paint_all(fill).unwrap();
        painter.paint_all(fill).unwrap();
        drop(painter);
        assert_eq!(counting.writes, 1);
        assert!(counting.bytes > 120 * 40);
    }

    #[test]
    fn rows_outside_the_screen_are_passed_over() {
        let mut painter = Painter::new(TestBackend::new(24, 6), AREA);
        painter
            .paint_rows(&[5, 6, 400], |b| put(b, &Lines::new()))
            .unwrap();
        assert_eq!(painter.shown(), &Buffer::empty(AREA));
    }
}
