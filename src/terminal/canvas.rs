//! A picture of a window, cell by cell. Owns how text, marks and ground get into its cells, and the
//! symbols that are too long for one; never sends anything.

use super::dot::{Dot, Patch};
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::{Position, Rect};
use ratatui::style::{Color, Style};
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// The first byte of a symbol that stands in the table of long ones; no text has such a byte.
const LONG: u32 = 0xff;
/// The most long symbols; what comes after them is shown as a question mark.
const MOST_LONG: usize = 4096;

/// The cells of a window.
#[derive(Debug, Clone, Default)]
pub struct Canvas {
    /// The window.
    pub area: Rect,
    dots: Vec<Dot>,
    /// For each row whether something was put into it that terminals may take to be wide.
    wide: Vec<bool>,
    /// Symbols of more than four bytes, named by their number here.
    long: Vec<Box<str>>,
}

impl Canvas {
    /// A blank one.
    #[must_use]
    pub fn empty(area: Rect) -> Self {
        let mut canvas = Self::default();
        canvas.clear(area);
        canvas
    }

    /// Makes everything blank in a window of this size.
    pub fn clear(&mut self, area: Rect) {
        let cells = usize::from(area.width) * usize::from(area.height);
        self.area = area;
        self.dots.clear();
        self.dots.resize(cells, Dot::BLANK);
        self.wide.clear();
        self.wide.resize(usize::from(area.height), false);
        self.long.clear();
    }

    /// Where the cells of a row are; nowhere where there is no such row.
    fn span(&self, y: u16) -> std::ops::Range<usize> {
        if y < self.area.top() || y >= self.area.bottom() {
            return 0..0;
        }
        let width = usize::from(self.area.width);
        let start = usize::from(y - self.area.top()) * width;
        start..start + width
    }

    /// The cells of a row; none where there is no such row.
    #[must_use]
    pub fn row(&self, y: u16) -> &[Dot] {
        self.dots.get(self.span(y)).unwrap_or_default()
    }

    fn row_mut(&mut self, y: u16) -> &mut [Dot] {
        let span = self.span(y);
        self.dots.get_mut(span).unwrap_or_default()
    }

    /// Makes a row blank.
    pub fn clear_row(&mut self, y: u16) {
        self.row_mut(y).fill(Dot::BLANK);
        self.set_wide(y, false);
    }

    /// Whether something was put into a row that terminals may take to be wide.
    #[must_use]
    pub fn may_be_wide(&self, y: u16) -> bool {
        let row = y.checked_sub(self.area.y).map(usize::from);
        row.and_then(|row| self.wide.get(row))
            .is_some_and(|wide| *wide)
    }

    fn set_wide(&mut self, y: u16, is: bool) {
        let row = y.checked_sub(self.area.y).map(usize::from);
        if let Some(wide) = row.and_then(|row| self.wide.get_mut(row)) {
            *wide = is;
        }
    }

    /// One cell; `None` outside the window.
    #[must_use]
    pub fn dot(&self, at: Position) -> Option<Dot> {
        let x = usize::from(at.x.checked_sub(self.area.x)?);
        self.row(at.y).get(x).copied()
    }

    fn dot_mut(&mut self, (x, y): (u16, u16)) -> Option<&mut Dot> {
        let x = usize::from(x.checked_sub(self.area.x)?);
        self.row_mut(y).get_mut(x)
    }

    /// Puts one symbol, one column wide, into a cell; outside the window nothing happens.
    pub fn put(&mut self, at: (u16, u16), symbol: &str, style: Style) {
        let symbol = self.symbol_of(symbol);
        let Some(dot) = self.dot_mut(at) else { return };
        *dot = dot.drawn_over(symbol, Patch::of(style));
        if !dot.is_surely_narrow() {
            self.set_wide(at.1, true);
        }
    }

    /// Gives the cells of an area a style, whatever they hold.
    pub fn set_style(&mut self, area: Rect, style: Style) {
        let area = area.intersection(self.area);
        let left = usize::from(area.x.saturating_sub(self.area.x));
        let right = left + usize::from(area.width);
        let patch = Patch::of(style);
        for y in area.top()..area.bottom() {
            let cells = self.row_mut(y).get_mut(left..right);
            for dot in cells.unwrap_or_default() {
                *dot = dot.drawn_over(dot.symbol(), patch);
            }
        }
    }

    /// Writes a text from a place on, at most so many columns and not beyond the window. Control
    /// characters and what has no width are left out; a symbol that does not fit ends it. Returns
    /// where it ended.
    pub fn set_stringn(
        &mut self,
        x: u16,
        y: u16,
        text: impl AsRef<str>,
        most: usize,
        style: Style,
    ) -> (u16, u16) {
        let text = text.as_ref();
        let room = self.area.right().saturating_sub(x);
        let room = room.min(u16::try_from(most).unwrap_or(u16::MAX));
        let plain = text.bytes().all(|byte| (b' '..0x7f).contains(&byte));
        if plain && x >= self.area.x {
            return (self.set_ascii((x, y), text, room, style), y);
        }
        self.set_graphemes((x, y), text, room, style)
    }

    fn set_ascii(&mut self, (x, y): (u16, u16), text: &str, room: u16, style: Style) -> u16 {
        let left = usize::from(x - self.area.x);
        let cells = self.row_mut(y).get_mut(left..).unwrap_or_default();
        let cells = cells.iter_mut().take(usize::from(room));
        let patch = Patch::of(style);
        for (dot, byte) in cells.zip(text.bytes()) {
            *dot = dot.drawn_over(u32::from(byte), patch);
        }
        // no more than the room, so the cast loses nothing
        x.saturating_add(text.len().min(usize::from(room)) as u16)
    }

    fn set_graphemes(
        &mut self,
        (mut x, y): (u16, u16),
        text: &str,
        mut room: u16,
        style: Style,
    ) -> (u16, u16) {
        for symbol in text.graphemes(true) {
            let width = u16::try_from(symbol.width()).unwrap_or(u16::MAX);
            if width == 0 || symbol.contains(char::is_control) {
                continue;
            }
            let Some(left) = room.checked_sub(width) else {
                break;
            };
            room = left;
            self.put((x, y), symbol, style);
            for covered in 1..width {
                if let Some(dot) = self.dot_mut((x.saturating_add(covered), y)) {
                    *dot = Dot::COVERED;
                }
            }
            x = x.saturating_add(width);
        }
        (x, y)
    }

    /// A symbol as a number: its bytes, or its place among the long ones.
    fn symbol_of(&mut self, symbol: &str) -> u32 {
        let bytes = symbol.as_bytes();
        if bytes.is_empty() {
            return u32::from(b' ');
        }
        if bytes.len() <= 4 {
            let mut four = [0; 4];
            four.iter_mut()
                .zip(bytes)
                .for_each(|(to, from)| *to = *from);
            return u32::from_le_bytes(four);
        }
        let known = self.long.iter().position(|long| **long == *symbol);
        let at = known.unwrap_or(self.long.len());
        if at >= MOST_LONG {
            return u32::from(b'?');
        }
        if known.is_none() {
            self.long.push(symbol.into());
        }
        LONG | (at as u32) << 8
    }

    /// Adds a cell's text to bytes that go to a terminal.
    pub fn write_symbol(&self, dot: Dot, bytes: &mut Vec<u8>) {
        let four = dot.symbol().to_le_bytes();
        match four {
            [0, ..] => {}
            [0xff, ..] => bytes.extend_from_slice(self.long_symbol(dot).as_bytes()),
            [byte, 0, ..] => bytes.push(byte),
            _ => {
                let end = four.iter().position(|byte| *byte == 0).unwrap_or(4);
                bytes.extend_from_slice(four.get(..end).unwrap_or_default());
            }
        }
    }

    fn long_symbol(&self, dot: Dot) -> &str {
        let at = (dot.symbol() >> 8) as usize;
        self.long.get(at).map_or("?", |long| long)
    }

    /// A cell's text; a covered one has none.
    #[must_use]
    pub fn symbol(&self, dot: Dot) -> String {
        let mut bytes = Vec::new();
        self.write_symbol(dot, &mut bytes);
        String::from_utf8(bytes).unwrap_or_default()
    }

    /// The text of a cell; none outside the window.
    #[must_use]
    pub fn symbol_at(&self, at: (u16, u16)) -> String {
        self.dot(at.into())
            .map_or_else(String::new, |dot| self.symbol(dot))
    }

    /// How many columns a cell's text takes.
    #[must_use]
    pub fn columns(&self, dot: Dot) -> usize {
        if dot.is_surely_narrow() {
            1
        } else {
            self.symbol(dot).width()
        }
    }

    /// The picture in the form that the library's tools take.
    #[must_use]
    pub fn to_buffer(&self) -> Buffer {
        let mut buffer = Buffer::empty(self.area);
        for (cell, dot) in buffer.content.iter_mut().zip(&self.dots) {
            *cell = self.cell_of(*dot);
        }
        buffer
    }

    /// One cell in the form that the library's tools take.
    #[must_use]
    pub fn cell_of(&self, dot: Dot) -> Cell {
        let mut cell = Cell::EMPTY;
        if dot.is_covered() {
            return cell;
        }
        let colour = |index: Option<u8>| index.map_or(Color::Reset, Color::Indexed);
        cell.set_symbol(&self.symbol(dot));
        cell.fg = colour(dot.pen().letters());
        cell.bg = colour(dot.pen().ground());
        cell.modifier = dot.pen().modifiers();
        cell
    }

    /// Takes over the cells of a row of another picture of the same window, long symbols with it.
    pub fn take_row(&mut self, y: u16, from: &Self) {
        if self.long.len() < from.long.len() {
            let new = from.long.get(self.long.len()..).unwrap_or_default();
            self.long.extend_from_slice(new);
        }
        let row = from.row(y);
        let own = self.row_mut(y);
        if own.len() == row.len() {
            own.copy_from_slice(row);
            self.set_wide(y, from.may_be_wide(y));
        }
    }
}

/// The same window with the same cells; long symbols may have other numbers.
impl PartialEq for Canvas {
    fn eq(&self, other: &Self) -> bool {
        let same = |(a, b): (&Dot, &Dot)| a.pen() == b.pen() && self.symbol(*a) == other.symbol(*b);
        self.area == other.area && self.dots.iter().zip(&other.dots).all(same)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::theme::{Role, Theme};
    use proptest::prelude::*;

    const AREA: Rect = Rect {
        x: 0,
        y: 0,
        width: 20,
        height: 3,
    };

    fn any_style() -> impl Strategy<Value = Style> {
        let role = prop_oneof![Just(Role::Ground), Just(Role::Now), Just(Role::Lit)];
        let theme = prop_oneof![Just(Theme::Colour), Just(Theme::Mono)];
        (role, theme).prop_map(|(role, theme)| theme.style(role))
    }

    proptest! {
        #[test]
        fn it_holds_what_the_librarys_own_buffer_holds(
            texts in proptest::collection::vec(
                (0u16..20, 0u16..3, "[ -~█漢é🙂\u{301}\u{200d}👩🏽\t]{0,24}", 0usize..24, any_style()),
                1..8,
            ),
            ground in any_style(),
        ) {
            let (mut canvas, mut buffer) = (Canvas::empty(AREA), Buffer::empty(AREA));
            canvas.set_style(AREA, ground);
            buffer.set_style(AREA, ground);
            for (x, y, text, most, style) in texts {
                let end = canvas.set_stringn(x, y, &text, most, style);
                prop_assert_eq!(end, buffer.set_stringn(x, y, &text, most, style));
            }
            prop_assert_eq!(canvas.to_buffer(), buffer);
        }
    }

    #[test]
    fn what_lies_outside_is_passed_over() {
        let mut canvas = Canvas::empty(AREA);
        canvas.put((20, 0), "x", Style::new());
        canvas.put((0, 3), "x", Style::new());
        canvas.set_stringn(300, 300, "text", 10, Style::new());
        canvas.set_style(Rect::new(500, 500, 9, 9), Theme::Colour.style(Role::Now));
        assert_eq!(canvas, Canvas::empty(AREA));
        assert_eq!(canvas.dot(Position::new(20, 0)), None);
        assert!(canvas.row(3).is_empty());
    }

    #[test]
    fn blanks_look_the_same_on_the_same_ground() {
        let dot = |symbol: &str, style: Style| {
            let mut canvas = Canvas::empty(AREA);
            canvas.put((0, 0), symbol, style);
            canvas.row(0)[0]
        };
        let (quiet, now) = (
            Theme::Colour.style(Role::Quiet),
            Theme::Colour.style(Role::Now),
        );
        assert!(dot(" ", quiet).looks_as(dot(" ", now)));
        assert!(!dot("x", quiet).looks_as(dot("x", now)));
        assert!(!dot(" ", quiet).looks_as(dot(" ", Theme::Colour.style(Role::Lit))));
        let reversed = Theme::Mono.style(Role::Lit);
        assert!(!dot(" ", reversed).is_blank() && !dot(" ", reversed).looks_as(dot(" ", quiet)));
    }

    #[test]
    fn the_room_for_long_symbols_ends_in_question_marks() {
        let mut canvas = Canvas::empty(AREA);
        for n in 0..=MOST_LONG as u32 {
            let first = char::from_u32(0x4e00 + n).unwrap();
            canvas.put((0, 0), &format!("{first}\u{301}"), Style::new());
        }
        assert_eq!(canvas.symbol_at((0, 0)), "?");
        canvas.put((1, 0), "\u{4e00}\u{301}", Style::new());
        assert_eq!(canvas.symbol_at((1, 0)), "\u{4e00}\u{301}");
    }

    #[test]
    fn a_row_is_taken_over_with_its_long_symbols() {
        let (mut a, mut b) = (Canvas::empty(AREA), Canvas::empty(AREA));
        b.set_stringn(0, 1, "e\u{301}\u{302}x", 10, Style::new());
        a.take_row(1, &b);
        a.take_row(7, &b);
        assert_eq!(a, b);
    }
}
