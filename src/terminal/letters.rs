//! Distance lines: words large enough to be read from the loom. Owns their sizes and drawing;
//! never chooses the words.

use super::digits::{Ink, set};
use super::face::{Bitmap, bitmap_of, is_set};
use crate::terminal::canvas::Canvas;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// How large the letters of a distance line are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Letters {
    /// 4 columns by 4 rows, drawn with quadrants: 20 characters in 80 columns.
    Quadrant,
    /// 8 columns by 8 rows, one cell a pixel: 10 characters in 80 columns.
    Whole,
    /// 16 columns by 16 rows, for large windows.
    Double,
    /// 8 columns by 6 rows of reversed spaces, the face in five rows: 10 characters in 80
    /// columns, for terminals without block elements.
    Reversed,
    /// 16 columns by 16 rows of reversed spaces.
    ReversedDouble,
}

/// The rows of the face that its form of five rows keeps.
const FIVE: [u16; 5] = [0, 2, 3, 4, 6];

/// Quadrants by their set pixels: bit 3 left top, bit 2 right top, bit 1 left bottom, bit 0 right
/// bottom.
const QUADRANTS: [&str; 16] = [
    " ", "▗", "▖", "▄", "▝", "▐", "▞", "▟", "▘", "▚", "▌", "▙", "▀", "▜", "▛", "█",
];

impl Letters {
    /// Columns and rows of one character, with the blank ones beside and below it.
    #[must_use]
    pub fn size(self) -> (u16, u16) {
        match self {
            Self::Quadrant => (4, 4),
            Self::Whole => (8, 8),
            Self::Double | Self::ReversedDouble => (16, 16),
            Self::Reversed => (8, 6),
        }
    }

    /// The largest letters at which `characters` fit into `columns` by `rows`; `None` where even
    /// the smallest do not.
    #[must_use]
    pub fn that_fit(characters: usize, columns: u16, rows: u16, ink: Ink) -> Option<Self> {
        let sizes: &[Self] = match ink {
            Ink::Blocks => &[Self::Double, Self::Whole, Self::Quadrant],
            Ink::Reversed => &[Self::ReversedDouble, Self::Reversed],
        };
        sizes
            .iter()
            .copied()
            .find(|size| size.width(characters) <= columns && size.size().1 <= rows)
    }

    /// Columns of so many characters, the blank column at the end counted.
    #[must_use]
    pub fn width(self, characters: usize) -> u16 {
        let characters = u16::try_from(characters).unwrap_or(u16::MAX);
        characters.saturating_mul(self.size().0)
    }

    /// The part of `area` that is `width` columns wide and in its middle.
    #[must_use]
    pub fn centred(area: Rect, width: u16) -> Rect {
        let width = width.min(area.width);
        Rect {
            x: area.x.saturating_add((area.width - width) / 2),
            width,
            ..area
        }
    }

    /// Draws the text from the left top corner of `area`, cut off at its edges.
    pub fn draw(self, canvas: &mut Canvas, area: Rect, text: &str, style: Style) {
        let area = area.intersection(canvas.area);
        let (wide, tall) = self.size();
        let shapes: Vec<Bitmap> = text.chars().map(bitmap_of).collect();
        for row in 0..area.height.min(tall) {
            for column in 0..area.width {
                if let Some(shape) = shapes.get(usize::from(column / wide)) {
                    let at = (area.x + column, area.y + row);
                    self.cell(canvas, at, shape, (column % wide, row), style);
                }
            }
        }
    }

    /// The same as [`Self::draw`], in the middle of `area` across.
    pub fn draw_centred(self, canvas: &mut Canvas, area: Rect, text: &str, style: Style) {
        let area = Self::centred(area, self.width(text.chars().count()));
        self.draw(canvas, area, text, style);
    }

    /// One cell of a character.
    fn cell(
        self,
        canvas: &mut Canvas,
        at: (u16, u16),
        shape: &Bitmap,
        (x, y): (u16, u16),
        style: Style,
    ) {
        let (filled, ink) = match self {
            Self::Quadrant => {
                quadrant(canvas, at, shape, (x, y), style);
                return;
            }
            Self::Whole => (is_set(shape, x, y), Ink::Blocks),
            Self::Double => (is_set(shape, x / 2, y / 2), Ink::Blocks),
            Self::ReversedDouble => (is_set(shape, x / 2, y / 2), Ink::Reversed),
            Self::Reversed => (
                FIVE.get(usize::from(y))
                    .is_some_and(|row| is_set(shape, x, *row)),
                Ink::Reversed,
            ),
        };
        if filled {
            set(canvas, at, style, ink);
        }
    }
}

fn quadrant(canvas: &mut Canvas, at: (u16, u16), shape: &Bitmap, (x, y): (u16, u16), style: Style) {
    let bit = |dx, dy, worth: usize| {
        if is_set(shape, 2 * x + dx, 2 * y + dy) {
            worth
        } else {
            0
        }
    };
    let index = bit(0, 0, 8) + bit(1, 0, 4) + bit(0, 1, 2) + bit(1, 1, 1);
    if index == 0 {
        return;
    }
    canvas.put(at, QUADRANTS[index], style);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(size: Letters, text: &str) -> Vec<String> {
        let width = size.width(text.chars().count());
        let area = Rect::new(0, 0, width, size.size().1);
        let mut canvas = Canvas::empty(area);
        size.draw(&mut canvas, area, text, Style::new());
        (0..area.height)
            .map(|y| {
                (0..width)
                    .map(|x| canvas.symbol_at((x, y)))
                    .collect::<String>()
            })
            .collect()
    }

    #[test]
    fn twenty_characters_stand_in_eighty_columns_and_ten_without_blocks() {
        assert_eq!(Letters::Quadrant.width(20), 80);
        assert_eq!(Letters::Quadrant.size().1, 4);
        assert_eq!(Letters::Reversed.width(10), 80);
        assert!(Letters::Reversed.size().1 >= 4);
    }

    #[test]
    fn a_letter_in_quadrants_keeps_its_pixels() {
        assert_eq!(
            rows(Letters::Quadrant, "H"),
            ["█ ▐▌", "█▄▟▌", "█ ▐▌", "▀ ▝▘"]
        );
    }

    #[test]
    fn the_largest_letters_that_fit_are_taken() {
        let fit = Letters::that_fit;
        assert_eq!(fit(20, 80, 4, Ink::Blocks), Some(Letters::Quadrant));
        assert_eq!(fit(10, 80, 8, Ink::Blocks), Some(Letters::Whole));
        assert_eq!(fit(21, 80, 4, Ink::Blocks), None);
        assert_eq!(fit(10, 80, 6, Ink::Reversed), Some(Letters::Reversed));
    }

    #[test]
    fn drawing_outside_the_screen_does_nothing() {
        let area = Rect::new(0, 0, 3, 3);
        for size in [
            Letters::Quadrant,
            Letters::Whole,
            Letters::Double,
            Letters::Reversed,
            Letters::ReversedDouble,
        ] {
            let mut canvas = Canvas::empty(area);
            size.draw(&mut canvas, Rect::new(9, 9, 90, 90), "AB", Style::new());
            assert_eq!(canvas, Canvas::empty(area));
            size.draw_centred(&mut canvas, Rect::new(1, 1, 900, 2), "AB", Style::new());
        }
    }
}
