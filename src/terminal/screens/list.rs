//! Items that are lit: the one-button menu, a number being given, a list of choices. Owns their
//! drawing; whose turn it is comes from the hand.

use super::{FarLine, Manner, wrapped};
use crate::terminal::canvas::Canvas;
use crate::terminal::digits::{Scale, draw_centred};
use crate::terminal::theme::Role;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// The one-button menu.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MenuBand {
    /// The items' words in their order.
    pub items: Vec<String>,
    /// The lit one, counted from 0.
    pub lit: usize,
}

/// A number being given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberBand {
    /// As given so far; empty where nothing is.
    pub typed: String,
    /// The items lit in turn, and the lit one; none where number keys are used.
    pub lit: Option<MenuBand>,
}

/// Choices under one another, the number key of each before it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChoiceList {
    /// The words of each.
    pub items: Vec<String>,
    /// The lit one, counted from 0; `None` where none is.
    pub lit: Option<usize>,
}

impl MenuBand {
    pub(super) fn rows(&self) -> u16 {
        u16::try_from(self.items.len()).unwrap_or(u16::MAX).min(20)
    }

    /// The lit item in large letters, and all of them under one another where there is room.
    pub(super) fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let Some(lit) = self.items.get(self.lit) else {
            return;
        };
        let listed = area.height.saturating_sub(self.rows());
        let large = if listed >= 4 { listed } else { area.height };
        let top = Rect {
            height: large,
            ..area
        };
        FarLine::now(lit.clone()).draw(canvas, top, manner);
        if large == area.height {
            return;
        }
        let list = Rect {
            y: area.y + large,
            height: area.height - large,
            ..area
        };
        ChoiceList {
            items: self.items.clone(),
            lit: Some(self.lit),
        }
        .draw(canvas, list, manner);
    }
}

impl NumberBand {
    pub(super) fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let below = if self.lit.is_some() && area.height > 9 {
            5
        } else {
            0
        };
        let top = Rect {
            height: area.height - below,
            ..area
        };
        let text = if self.typed.is_empty() {
            "?"
        } else {
            &self.typed
        };
        let scale = Scale::ALL.into_iter().find(|scale| {
            scale.width(text.chars().count()) <= top.width && scale.height() <= top.height + 1
        });
        match scale {
            Some(scale) => {
                let style = manner.theme.style(Role::Now);
                draw_centred(canvas, top, text, scale, (style, manner.ink));
            }
            None => FarLine::now(text).draw(canvas, top, manner),
        }
        if let Some(lit) = self.lit.as_ref().filter(|_| below > 0) {
            let bottom = Rect {
                y: area.bottom() - below,
                height: below,
                ..area
            };
            lit.draw_in_a_row(canvas, bottom, manner);
        }
    }
}

impl MenuBand {
    /// The lit item large, and all of them beside one another in the last row.
    fn draw_in_a_row(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let Some(lit) = self.items.get(self.lit) else {
            return;
        };
        let top = Rect {
            height: area.height.saturating_sub(1),
            ..area
        };
        FarLine::now(lit.clone()).draw(canvas, top, manner);
        let width: usize = self.items.iter().map(|item| item.width() + 2).sum();
        let start = usize::from(area.width).saturating_sub(width) / 2;
        let mut x = area.x + u16::try_from(start).unwrap_or(0);
        for (i, item) in self.items.iter().enumerate() {
            let role = if i == self.lit {
                Role::Lit
            } else {
                Role::Quiet
            };
            let room = usize::from(area.right().saturating_sub(x));
            let style = manner.theme.style(role);
            let (next, _) =
                canvas.set_stringn(x, area.bottom() - 1, format!(" {item} "), room, style);
            x = next;
        }
    }
}

impl ChoiceList {
    fn row(number: usize, item: &str) -> String {
        // the tenth has the key 0
        let key = if number == 9 { 0 } else { number + 1 };
        format!("{key} {item}")
    }

    pub(super) fn rows(&self, width: u16) -> u16 {
        let rows: usize = self
            .items
            .iter()
            .enumerate()
            .map(|(i, item)| wrapped(&Self::row(i, item), usize::from(width)).len())
            .sum();
        u16::try_from(rows).unwrap_or(u16::MAX)
    }

    pub(super) fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let width = usize::from(area.width.saturating_sub(2)).max(1);
        let mut rows: Vec<(bool, String)> = Vec::new();
        let mut first_lit = 0;
        for (i, item) in self.items.iter().enumerate() {
            let lit = self.lit == Some(i);
            if lit {
                first_lit = rows.len();
            }
            let broken = wrapped(&Self::row(i, item), width);
            rows.extend(broken.into_iter().map(|row| (lit, row)));
        }
        // A long list shows the part around the lit item.
        let height = usize::from(area.height);
        let skip = first_lit
            .saturating_sub(height / 2)
            .min(rows.len().saturating_sub(height));
        for (y, (lit, row)) in (area.y..area.bottom()).zip(rows.into_iter().skip(skip)) {
            let role = if lit { Role::Lit } else { Role::Ground };
            let mark = if lit { ">" } else { " " };
            let style = manner.theme.style(role);
            let room = usize::from(area.width);
            canvas.set_stringn(area.x, y, format!("{mark}{row} "), room, style);
        }
    }
}
