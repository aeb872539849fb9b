//! The call: digits and letters of the program's own face, so large that they can be read from
//! the loom. Owns their drawing; never chooses what to show.

use super::face::{SIDE, bitmap_of, is_set};
use super::letters::Letters;
use crate::terminal::canvas::Canvas;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};

/// Cells across and down for one pixel of the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    /// Columns a pixel, 1..=8.
    pub wide: u16,
    /// Rows a pixel, 1..=4.
    pub tall: u16,
}

/// How set pixels are put on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Block elements.
    Blocks,
    /// Spaces in reverse video, for terminals without them.
    Reversed,
}

/// Rows of a pixel are followed by one blank row, columns by one blank column, both scaled.
const PITCH: u16 = SIDE + 1;

impl Scale {
    /// The smallest: 8 columns and 8 rows a character, 10 characters in 80 columns.
    pub const ONE: Self = Self { wide: 1, tall: 1 };
    /// Twice as wide, the same height: where few characters are shown.
    pub const BROAD: Self = Self { wide: 2, tall: 1 };
    /// Twice the smallest both ways.
    pub const TWO: Self = Self { wide: 2, tall: 2 };
    /// Three times the smallest both ways.
    pub const THREE: Self = Self { wide: 3, tall: 3 };

    /// Every scale that is used, the largest first.
    pub const ALL: [Self; 6] = [
        Self::THREE,
        Self { wide: 4, tall: 2 },
        Self { wide: 3, tall: 2 },
        Self::TWO,
        Self::BROAD,
        Self::ONE,
    ];

    /// The largest scale at which `characters` fit into `columns` by `rows`; [`Self::ONE`] where
    /// none does, and then the drawing is cut off.
    #[must_use]
    pub fn that_fits(characters: usize, columns: u16, rows: u16) -> Self {
        Self::ALL
            .into_iter()
            .find(|scale| scale.width(characters) <= columns && scale.height() <= rows)
            .unwrap_or(Self::ONE)
    }

    /// Columns of so many characters, the blank one at the end left out.
    #[must_use]
    pub fn width(self, characters: usize) -> u16 {
        let characters = u16::try_from(characters).unwrap_or(u16::MAX);
        let pixels = characters.saturating_mul(PITCH).saturating_sub(1);
        pixels.saturating_mul(self.wide)
    }

    /// Rows of a line of characters, with the blank row below it.
    #[must_use]
    pub fn height(self) -> u16 {
        PITCH.saturating_mul(self.tall)
    }
}

/// Draws a line of characters from the left top corner of `area`, cut off at its edges.
pub fn draw(canvas: &mut Canvas, area: Rect, text: &str, scale: Scale, (style, ink): (Style, Ink)) {
    let area = area.intersection(canvas.area);
    let shapes: Vec<_> = text.chars().map(bitmap_of).collect();
    for row in 0..area.height {
        for column in 0..area.width {
            let x = column / scale.wide.max(1);
            let y = row / scale.tall.max(1);
            let shape = shapes.get(usize::from(x / PITCH));
            if shape.is_some_and(|s| is_set(s, x % PITCH, y)) {
                set(canvas, (area.x + column, area.y + row), style, ink);
            }
        }
    }
}

/// Fills one cell as a set pixel.
pub(super) fn set(canvas: &mut Canvas, at: (u16, u16), style: Style, ink: Ink) {
    match ink {
        Ink::Blocks => canvas.put(at, "█", style),
        Ink::Reversed => canvas.put(at, " ", style.add_modifier(Modifier::REVERSED)),
    }
}

/// The same as [`draw`], placed in the middle of `area` across.
pub fn draw_centred(canvas: &mut Canvas, area: Rect, text: &str, scale: Scale, look: (Style, Ink)) {
    let width = scale.width(text.chars().count());
    draw(canvas, Letters::centred(area, width), text, scale, look);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(text: &str, scale: Scale, ink: Ink, (w, h): (u16, u16)) -> Vec<String> {
        let area = Rect::new(0, 0, w, h);
        let mut canvas = Canvas::empty(area);
        draw(&mut canvas, area, text, scale, (Style::new(), ink));
        (0..h)
            .map(|y| {
                (0..w)
                    .map(|x| {
                        let dot = canvas.dot((x, y).into()).unwrap();
                        let reversed = dot.pen().modifiers().contains(Modifier::REVERSED);
                        let set = canvas.symbol(dot) == "█" || reversed;
                        if set { '#' } else { '.' }
                    })
                    .collect()
            })
            .collect()
    }

    #[test]
    fn ten_characters_stand_in_eighty_columns_and_eight_rows() {
        assert!(Scale::ONE.width(10) <= 80);
        assert!(Scale::ONE.width(11) > 80);
        assert_eq!(Scale::ONE.height(), 8);
    }

    #[test]
    fn a_digit_is_drawn_pixel_by_pixel_in_either_ink() {
        let expected = [
            "#######.", "....##..", "...##...", "..####..", ".....##.", "##...##.", ".#####..",
            "........",
        ];
        assert_eq!(picture("3", Scale::ONE, Ink::Blocks, (8, 8)), expected);
        assert_eq!(picture("3", Scale::ONE, Ink::Reversed, (8, 8)), expected);
    }

    #[test]
    fn a_larger_scale_doubles_every_pixel() {
        let small = picture("4", Scale::ONE, Ink::Blocks, (8, 8));
        let large = picture("4", Scale::TWO, Ink::Blocks, (16, 16));
        for (y, row) in large.iter().enumerate() {
            let doubled: String = small[y / 2].chars().flat_map(|c| [c, c]).collect();
            assert_eq!(*row, doubled);
        }
    }

    #[test]
    fn what_does_not_fit_is_cut_off() {
        assert_eq!(
            picture("88", Scale::THREE, Ink::Blocks, (3, 2)),
            ["...", "..."]
        );
        let area = Rect::new(0, 0, 4, 4);
        let mut canvas = Canvas::empty(area);
        let outside = Rect::new(2, 2, 500, 500);
        draw(
            &mut canvas,
            outside,
            "80",
            Scale::TWO,
            (Style::new(), Ink::Blocks),
        );
        let far = Rect::new(900, 900, 10, 10);
        draw(
            &mut canvas,
            far,
            "80",
            Scale::ONE,
            (Style::new(), Ink::Blocks),
        );
        assert_eq!(canvas.area, area);
    }

    #[test]
    fn the_largest_scale_that_fits_is_taken() {
        assert_eq!(Scale::that_fits(4, 80, 8), Scale::BROAD);
        assert_eq!(Scale::that_fits(10, 80, 8), Scale::ONE);
        assert_eq!(Scale::that_fits(4, 120, 24), Scale::THREE);
        assert_eq!(Scale::that_fits(4, 1, 1), Scale::ONE);
    }
}
