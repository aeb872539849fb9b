//! A distance line as large as its room allows, broken at spaces where that lets it be larger.
//! Owns the choice of size; never the words.

use super::{Manner, wrapped};
use crate::terminal::canvas::Canvas;
use crate::terminal::letters::Letters;
use crate::terminal::theme::Role;
use ratatui::layout::Rect;

/// Words to be read from the loom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FarLine {
    /// The words, at most 20 columns.
    pub text: String,
    /// How they are shown.
    pub role: Role,
}

/// Letters of one size and the text's rows in it.
struct Fitting {
    size: Letters,
    rows: Vec<String>,
}

impl FarLine {
    /// A line in the role of the call.
    #[must_use]
    pub fn now(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            role: Role::Now,
        }
    }

    /// The fewest rows in which the words are large, at this width; 1 where they cannot be.
    #[must_use]
    pub fn least(&self, width: u16, manner: Manner) -> u16 {
        let sizes = Self::sizes(manner);
        let heights = sizes.iter().filter_map(|size| {
            let rows = self.rows_in(*size, width)?;
            u16::try_from(rows.len())
                .ok()
                .map(|n| n.saturating_mul(size.size().1))
        });
        heights.min().unwrap_or(1)
    }

    fn sizes(manner: Manner) -> &'static [Letters] {
        match manner.ink {
            crate::terminal::digits::Ink::Blocks => {
                &[Letters::Double, Letters::Whole, Letters::Quadrant]
            }
            crate::terminal::digits::Ink::Reversed => &[Letters::ReversedDouble, Letters::Reversed],
        }
    }

    /// The text's rows in letters of this size; `None` where a word is too wide.
    fn rows_in(&self, size: Letters, width: u16) -> Option<Vec<String>> {
        let characters = usize::from(width / size.size().0);
        let longest = self
            .text
            .split_whitespace()
            .map(|w| w.chars().count())
            .max()?;
        (longest <= characters).then(|| wrapped(&self.text, characters))
    }

    fn fitting(&self, area: Rect, manner: Manner) -> Option<Fitting> {
        Self::sizes(manner).iter().find_map(|size| {
            let rows = self.rows_in(*size, area.width)?;
            let height = u16::try_from(rows.len()).ok()?.checked_mul(size.size().1)?;
            (height <= area.height).then_some(Fitting { size: *size, rows })
        })
    }

    /// Draws the words in the middle of `area`; in plain letters where there is no room for
    /// large ones.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let area = area.intersection(canvas.area);
        let style = manner.theme.style(self.role);
        let Some(Fitting { size, rows }) = self.fitting(area, manner) else {
            for (y, row) in (area.y..area.bottom()).zip(wrapped(&self.text, area.width.into())) {
                canvas.set_stringn(area.x, y, row, area.width.into(), style);
            }
            return;
        };
        let tall = size.size().1;
        let used = tall * u16::try_from(rows.len()).unwrap_or(1);
        let top = area.y + (area.height - used) / 2;
        for (y, row) in (top..).step_by(usize::from(tall)).zip(&rows) {
            let line = Rect {
                y,
                height: tall,
                ..area
            };
            size.draw_centred(canvas, line, row, style);
        }
    }
}
