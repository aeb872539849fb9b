//! Items that are lit: the one-button menu, a number being given, a list of choices. Owns their
//! drawing; whose turn it is comes from the hand.

use super::{FarLine, Manner, wrapped};
use crate::terminal::canvas::Canvas;
use crate::terminal::digits::{Scale, draw_centred};
use crate::terminal::theme::Role;
use crate::words::list_words::part_of_list;
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
        let rows: usize = self.broken(width).iter().map(Vec::len).sum();
        u16::try_from(rows).unwrap_or(u16::MAX)
    }

    /// The rows of each item at this width.
    fn broken(&self, width: u16) -> Vec<Vec<String>> {
        let width = usize::from(width.saturating_sub(2)).max(1);
        let items = self.items.iter().enumerate();
        let broken = items.map(|(i, item)| wrapped(&Self::row(i, item), width));
        broken.collect()
    }

    /// The items shown in so many rows: all, or those of the page that the lit one is on; a page takes
    /// whole items, at least one, and leaves a row for what it is a part of.
    fn page(&self, rows: &[Vec<String>], height: usize) -> std::ops::Range<usize> {
        let all: usize = rows.iter().map(Vec::len).sum();
        if all <= height {
            return 0..rows.len();
        }
        let lit = self.lit.unwrap_or(0);
        let (mut first, mut used) = (0, 0);
        for (i, item) in rows.iter().enumerate() {
            if i > first && used + item.len() > height.saturating_sub(1) {
                if i > lit {
                    return first..i;
                }
                (first, used) = (i, 0);
            }
            used += item.len();
        }
        first..rows.len()
    }

    pub(super) fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let broken = self.broken(area.width);
        let page = self.page(&broken, usize::from(area.height));
        let room = usize::from(area.width);
        let mut y = area.y;
        for i in page.clone() {
            let lit = self.lit == Some(i);
            let role = if lit { Role::Lit } else { Role::Ground };
            let mark = if lit { ">" } else { " " };
            let style = manner.theme.style(role);
            for row in broken[i].iter().take(usize::from(area.bottom() - y)) {
                canvas.set_stringn(area.x, y, format!("{mark}{row} "), room, style);
                y += 1;
            }
        }
        if page.len() < broken.len() && y < area.bottom() {
            let part = part_of_list(page.start + 1, page.end, broken.len());
            let style = manner.theme.style(Role::Quiet);
            canvas.set_stringn(area.x, area.bottom() - 1, format!(" {part}"), room, style);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::digits::Ink;
    use crate::terminal::theme::Theme;

    /// A list that is longer than its room shows whole items, says which, and follows the light.
    #[test]
    fn a_long_list_is_shown_page_by_page_with_the_light() {
        let manner = Manner {
            theme: Theme::Mono,
            ink: Ink::Reversed,
        };
        let items =
            (1..=9).map(|n| format!("way {n} with a text that is broken over two rows here"));
        let mut list = ChoiceList {
            items: items.collect(),
            lit: None,
        };
        let area = Rect::new(0, 0, 40, 6);
        let mut seen = std::collections::BTreeSet::new();
        for lit in [None].into_iter().chain((0..9).map(Some)) {
            list.lit = lit;
            let mut canvas = Canvas::empty(area);
            list.draw(&mut canvas, area, manner);
            let buffer = canvas.to_buffer();
            let row = |y| -> String { (0..40).map(|x| buffer[(x, y)].symbol()).collect() };
            let rows: Vec<String> = (0..6).map(row).collect();
            assert!(rows[5].contains("of 9"), "{rows:?}");
            let shown = lit.map_or(1, |lit| lit + 1);
            let item = format!("{shown} way {shown}");
            assert!(
                rows.iter().any(|row| row.contains(&item)),
                "{item}: {rows:?}"
            );
            seen.insert(rows[5].clone());
        }
        assert_eq!(seen.len(), 5, "two whole items a page: {seen:?}");
    }
}
