//! Two ways of drawing that give the same screen: the whole of it, or only some of its rows. Owns
//! the picture of what is shown; never decides what to show.
//!
//! A press changes few rows. Drawing the whole screen and comparing it cell by cell costs several
//! times what those rows cost, so a press goes through [`Painter::paint_rows`]; a new page, a
//! resize and a return to the screen go through [`Painter::paint_all`] and [`Painter::paint_anew`].
//! Either way only changed cells are sent, and the writer is flushed once.

use super::canvas::Canvas;
use super::dot::Dot;
use ratatui::backend::Backend;
use ratatui::layout::Rect;

/// A gap of so many unchanged cells costs no more to write again than to step over.
const GAP: usize = 3;

/// Changed cells side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// The row.
    pub y: u16,
    /// The first column.
    pub x: u16,
    /// How many cells.
    pub cells: u16,
}

impl Span {
    /// The cells themselves.
    #[must_use]
    pub fn of(self, canvas: &Canvas) -> &[Dot] {
        let from = usize::from(self.x.saturating_sub(canvas.area.x));
        let cells = canvas.row(self.y).get(from..from + usize::from(self.cells));
        cells.unwrap_or_default()
    }
}

/// What takes frames: a terminal, or a test's picture of one.
pub trait Surface {
    /// Why a frame could not be taken.
    type Error;

    /// Takes the changed cells of a frame, from left to right and from top to bottom.
    ///
    /// # Errors
    /// What the surface says.
    fn send(&mut self, canvas: &Canvas, changed: &[Span]) -> Result<(), Self::Error>;

    /// Makes everything blank.
    ///
    /// # Errors
    /// What the surface says.
    fn wipe(&mut self) -> Result<(), Self::Error>;

    /// Shows what was sent.
    ///
    /// # Errors
    /// What the surface says.
    fn flush(&mut self) -> Result<(), Self::Error>;
}

impl<B: Backend> Surface for B {
    type Error = B::Error;

    fn send(&mut self, canvas: &Canvas, changed: &[Span]) -> Result<(), B::Error> {
        let cells = changed.iter().flat_map(|span| {
            let dots = (span.x..).zip(span.of(canvas));
            dots.map(|(x, dot)| (x, span.y, canvas.cell_of(*dot)))
        });
        let cells: Vec<_> = cells.collect();
        self.draw(cells.iter().map(|(x, y, cell)| (*x, *y, cell)))
    }

    fn wipe(&mut self) -> Result<(), B::Error> {
        self.clear()
    }

    fn flush(&mut self) -> Result<(), B::Error> {
        Backend::flush(self)
    }
}

/// A surface with the picture of what it shows.
pub struct Painter<S: Surface> {
    surface: S,
    shown: Canvas,
    next: Canvas,
    /// The cells to be sent, kept between frames for their room.
    changed: Vec<Span>,
}

impl<S: Surface> Painter<S> {
    /// A painter of a screen that is blank.
    pub fn new(surface: S, area: Rect) -> Self {
        Self {
            surface,
            shown: Canvas::empty(area),
            next: Canvas::empty(area),
            changed: Vec::new(),
        }
    }

    /// What is shown, cell by cell.
    #[must_use]
    pub fn shown(&self) -> &Canvas {
        &self.shown
    }

    /// The size of the screen as last told.
    #[must_use]
    pub fn area(&self) -> Rect {
        self.shown.area
    }

    /// The surface, as for the bell.
    pub fn surface_mut(&mut self) -> &mut S {
        &mut self.surface
    }

    /// Draws every row; sends the cells that changed.
    ///
    /// # Errors
    /// What the surface says; the picture of what is shown stays as it was.
    pub fn paint_all(&mut self, draw: impl FnOnce(&mut Canvas)) -> Result<(), S::Error> {
        let rows: Vec<u16> = (self.next.area.top()..self.next.area.bottom()).collect();
        self.paint_rows(&rows, draw)
    }

    /// Draws some rows; sends their cells that changed. What `draw` puts into other rows is lost.
    ///
    /// # Errors
    /// What the surface says; the picture of what is shown stays as it was.
    pub fn paint_rows(
        &mut self,
        rows: &[u16],
        draw: impl FnOnce(&mut Canvas),
    ) -> Result<(), S::Error> {
        for row in rows {
            self.next.clear_row(*row);
        }
        draw(&mut self.next);
        self.changed.clear();
        for row in rows {
            changes(&self.shown, &self.next, *row, &mut self.changed);
        }
        if !self.changed.is_empty() {
            self.surface.send(&self.next, &self.changed)?;
            self.surface.flush()?;
        }
        for row in rows {
            self.shown.take_row(*row, &self.next);
        }
        Ok(())
    }

    /// Wipes the screen, takes its size to be `area`, and draws and sends everything, whatever
    /// the picture says: after a resize and after the screen was someone else's.
    ///
    /// # Errors
    /// What the surface says.
    pub fn paint_anew(
        &mut self,
        area: Rect,
        draw: impl FnOnce(&mut Canvas),
    ) -> Result<(), S::Error> {
        self.shown.clear(area);
        self.next.clear(area);
        self.surface.wipe()?;
        self.paint_all(draw)?;
        self.surface.flush()
    }
}

/// Adds the changed cells of one row.
fn changes(shown: &Canvas, next: &Canvas, y: u16, changed: &mut Vec<Span>) {
    let (old, new) = (shown.row(y), next.row(y));
    if old == new {
        return;
    }
    let mut row = Row {
        y,
        left: next.area.left(),
        dots: new,
        spans: changed,
        last: None,
    };
    if shown.may_be_wide(y) || next.may_be_wide(y) {
        standing(next, new).for_each(|i| row.add(i));
        return;
    }
    for (i, (old, new)) in old.iter().zip(new).enumerate() {
        if old != new && !old.looks_as(*new) {
            row.add(i);
        }
    }
}

/// The cells of a row that may have wide characters: such a row goes whole, since a terminal wipes
/// the other half of a wide character that is written over. Left out is what wide ones cover.
fn standing<'a>(canvas: &'a Canvas, row: &'a [Dot]) -> impl Iterator<Item = usize> + 'a {
    let mut covered = 0;
    row.iter().enumerate().filter_map(move |(i, dot)| {
        if covered > 0 {
            covered -= 1;
            return None;
        }
        covered = canvas.columns(*dot).saturating_sub(1);
        Some(i)
    })
}

/// The spans of one row as they are found.
struct Row<'a> {
    y: u16,
    left: u16,
    dots: &'a [Dot],
    spans: &'a mut Vec<Span>,
    /// The cell that was added last.
    last: Option<usize>,
}

impl Row<'_> {
    /// Adds a cell to the span before it, over a short gap of unchanged cells where writing those
    /// takes no more bytes than stepping over them; else begins a span.
    fn add(&mut self, i: usize) {
        // a row is no longer than the window is wide, so no cast loses anything
        let x = self.left.saturating_add(i as u16);
        match self.last.map(|last| i - last) {
            Some(step) if step == 1 || step <= GAP + 1 && self.goes_on_to(i) => {
                if let Some(span) = self.spans.last_mut() {
                    span.cells += step as u16;
                }
            }
            _ => self.spans.push(Span {
                y: self.y,
                x,
                cells: 1,
            }),
        }
        self.last = Some(i);
    }

    fn goes_on_to(&self, i: usize) -> bool {
        let Some(last) = self.last else { return false };
        let gap = self.dots.get(last + 1..i).unwrap_or_default();
        let before = self.dots.get(last);
        before.is_some_and(|before| gap.iter().all(|dot| goes_on(*before, *dot)))
    }
}

/// Whether a cell takes one byte after one that was just written.
fn goes_on(before: Dot, dot: Dot) -> bool {
    let pen = if dot.is_blank() {
        before.pen().for_blank_of(dot.pen())
    } else {
        dot.pen()
    };
    dot.is_ascii() && pen == before.pen() && (dot.is_blank() || !before.is_blank())
}

#[cfg(test)]
mod tests {
    use super::super::sender::Sender;
    use super::*;
    use crate::terminal::theme::{Role, Theme};
    use proptest::prelude::*;
    use ratatui::backend::{CrosstermBackend, TestBackend};
    use ratatui::style::Style;
    use std::io::{self, Write};

    const AREA: Rect = Rect {
        x: 0,
        y: 0,
        width: 24,
        height: 6,
    };

    /// A screen as its lines with their roles.
    type Lines = Vec<(String, Role)>;

    fn put(canvas: &mut Canvas, lines: &Lines) {
        for (y, (text, role)) in (0u16..).zip(lines) {
            if y < canvas.area.height {
                let style = Theme::Colour.style(*role);
                canvas.set_style(Rect::new(0, y, canvas.area.width, 1), style);
                canvas.set_stringn(0, y, text, usize::from(canvas.area.width), style);
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
            2 => "[█▌▙ ]{0,24}".prop_map(|s| s),
            2 => " {0,20}[a-c█]{0,3} {0,20}[a-c]".prop_map(|s| s),
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

    /// What an eye sees of each cell: of a blank only its ground.
    type Seen = (
        String,
        vt100::Color,
        Option<(vt100::Color, bool)>,
        [bool; 2],
    );

    fn screen_after(bytes: &[u8]) -> Vec<Seen> {
        let size = |n: u16| n.try_into().unwrap();
        let mut parser = vt100::Parser::new(size(AREA.height), size(AREA.width), 0);
        parser.process(bytes);
        let places = (0..AREA.height).flat_map(|y| (0..AREA.width).map(move |x| (y, x)));
        let seen = |(y, x)| {
            let cell = parser.screen().cell(y, x).unwrap();
            let text = cell.contents().trim().to_owned();
            let blank = text.is_empty() && !cell.inverse() && !cell.underline();
            let letter = (!blank).then_some((cell.fgcolor(), cell.bold()));
            (
                text,
                cell.bgcolor(),
                letter,
                [cell.inverse(), cell.underline()],
            )
        };
        places.map(seen).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(192))]

        #[test]
        fn rows_alone_and_the_whole_screen_show_the_same(
            pages in proptest::collection::vec(any_lines(), 1..6),
            erases in any::<bool>(),
        ) {
            let mut by_rows = Painter::new(TestBackend::new(24, 6), AREA);
            let mut whole = Painter::new(TestBackend::new(24, 6), AREA);
            let (mut rows_sent, mut whole_sent) = (Vec::new(), Vec::new());
            let mut sent_by_rows = Painter::new(Sender::new(&mut rows_sent, erases), AREA);
            let mut sent_whole = Painter::new(Sender::new(&mut whole_sent, erases), AREA);
            let mut before = Lines::new();
            for page in &pages {
                let rows = rows_that_differ(&before, page);
                by_rows.paint_rows(&rows, |b| put(b, page)).unwrap();
                sent_by_rows.paint_rows(&rows, |b| put(b, page)).unwrap();
                whole.paint_all(|b| put(b, page)).unwrap();
                sent_whole.paint_all(|b| put(b, page)).unwrap();
                before.clone_from(page);
            }
            prop_assert_eq!(by_rows.shown(), whole.shown());
            prop_assert_eq!(sent_by_rows.shown(), whole.shown());
            drop((sent_by_rows, sent_whole));
            // And both are what one drawing on an empty screen gives, through another encoder.
            let mut once = Vec::new();
            let mut fresh = Painter::new(CrosstermBackend::new(&mut once), AREA);
            fresh.paint_anew(AREA, |b| put(b, pages.last().unwrap())).unwrap();
            drop(fresh);
            prop_assert_eq!(screen_after(&rows_sent), screen_after(&once));
            prop_assert_eq!(screen_after(&whole_sent), screen_after(&once));
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
        let mut painter = Painter::new(Sender::new(&mut counting, true), area);
        let fill = |b: &mut Canvas| {
            for y in 0..40 {
                b.set_stringn(0, y, "x".repeat(120), 120, Style::new());
            }
        };
        painter.paint_anew(area, fill).unwrap();
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
        assert_eq!(painter.shown(), &Canvas::empty(AREA));
    }
}
