//! A strip of dents or raddle spaces with the ends that go into each: teeth and threads as one
//! sees them from in front. Owns the drawing; works out nothing.

use super::digits::Ink;
use super::loom_picture::Edge;
use super::theme::{Role, Theme};
use crate::terminal::canvas::Canvas;
use ratatui::layout::Rect;

/// One gap between two teeth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// Its number as the weaver counts it.
    pub number: u32,
    /// Ends that go into it now; 0 leaves it empty.
    pub ends: u32,
    /// Ends that are in it already, from the group before.
    pub there: u32,
}

/// The gaps of one group, in the order of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strip {
    /// The gaps, the first to be filled first.
    pub gaps: Vec<Gap>,
    /// The side at which the work starts.
    pub from: Edge,
    /// The word beside the mark under the last gap, as a place on a tape; empty for no mark.
    pub mark: String,
}

/// The most ends that a gap shows one by one; more are shown as their number.
const ENDS_SHOWN: u32 = 6;

impl Strip {
    /// Rows of a strip with everything in it: numbers, two rows of teeth, the mark.
    pub const ROWS: u16 = 4;

    /// Draws into `area`, whatever its size; gaps that do not fit are left out at the far end.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, theme: Theme, ink: Ink) {
        let area = area.intersection(canvas.area);
        if area.is_empty() || self.gaps.is_empty() {
            return;
        }
        let pitch = self.pitch();
        let room = area.width.saturating_sub(1) / pitch;
        let shown = self.gaps.len().min(usize::from(room));
        let width = u16::try_from(shown).unwrap_or(0) * pitch + 1;
        let left = area.x + (area.width - width.min(area.width)) / 2;
        for (i, gap) in self.gaps.iter().take(shown).enumerate() {
            let i = u16::try_from(i).unwrap_or(0);
            let x = match self.from {
                Edge::Left => left + i * pitch,
                Edge::Right => left + width - 1 - (i + 1) * pitch,
            };
            let cell = Rect::new(x, area.y, pitch, area.height);
            self.draw_gap(canvas, cell, gap, (theme, ink));
            let last = usize::from(i) + 1 == self.gaps.len();
            self.draw_number(canvas, cell, gap.number, (i == 0 || last, theme));
            if last && !self.mark.is_empty() && area.height > 3 {
                self.draw_mark(canvas, area, cell, theme);
            }
        }
        self.draw_tooth(canvas, area, left + width - 1, (theme, ink));
    }

    /// Columns from one tooth to the next.
    fn pitch(&self) -> u16 {
        let most = self.gaps.iter().map(|g| g.ends + g.there).max();
        let ends = most.unwrap_or(0).clamp(1, ENDS_SHOWN) as u16;
        (ends + 2).max(3)
    }

    fn teeth(area: Rect) -> std::ops::Range<u16> {
        match area.height {
            1 => area.y..area.y + 1,
            2 => area.y + 1..area.y + 2,
            _ => area.y + 1..area.y + 3,
        }
    }

    fn draw_tooth(&self, canvas: &mut Canvas, area: Rect, x: u16, (theme, _): (Theme, Ink)) {
        for y in Self::teeth(area) {
            canvas.put((x, y), "|", theme.style(Role::Quiet));
        }
    }

    fn draw_gap(&self, canvas: &mut Canvas, area: Rect, gap: &Gap, look: (Theme, Ink)) {
        let (theme, ink) = look;
        self.draw_tooth(canvas, area, area.x, look);
        let total = gap.ends.saturating_add(gap.there);
        for y in Self::teeth(area) {
            if total > ENDS_SHOWN {
                if y == Self::teeth(area).start {
                    let text = format!("{total:^width$}", width = usize::from(area.width - 1));
                    let room = usize::from(area.width - 1);
                    canvas.set_stringn(area.x + 1, y, text, room, theme.style(Role::Now));
                }
                continue;
            }
            for end in 0..total {
                let there = end < gap.there;
                let role = if there { Role::Done } else { Role::Now };
                let x = self.end_column(area, end, total);
                let symbol = match (ink, there) {
                    (Ink::Blocks, true) => "▌",
                    (Ink::Blocks, false) => "█",
                    (Ink::Reversed, true) => ":",
                    (Ink::Reversed, false) => "#",
                };
                canvas.put((x, y), symbol, theme.style(role));
            }
        }
    }

    /// The column of an end in its gap; the first one lies at the side where the work starts.
    fn end_column(&self, gap: Rect, end: u32, total: u32) -> u16 {
        let inner = gap.width - 1;
        let spare = inner.saturating_sub(total as u16) / 2;
        match self.from {
            Edge::Left => gap.x + 1 + spare + end as u16,
            Edge::Right => gap.x + inner - spare - end as u16,
        }
    }

    fn draw_number(
        &self,
        canvas: &mut Canvas,
        gap: Rect,
        number: u32,
        (always, theme): (bool, Theme),
    ) {
        let text = number.to_string();
        let fits = text.len() < usize::from(gap.width);
        if gap.height < 2 || !(always || number.is_multiple_of(5)) || !fits {
            return;
        }
        let role = if always { Role::Ground } else { Role::Quiet };
        let room = usize::from(gap.width - 1);
        canvas.set_stringn(gap.x + 1, gap.y, text, room, theme.style(role));
    }

    /// The mark stands under the last gap, its word on the side where there is room.
    fn draw_mark(&self, canvas: &mut Canvas, area: Rect, gap: Rect, theme: Theme) {
        let y = area.y + 3;
        let style = theme.style(Role::Now);
        let at = gap.x + gap.width / 2;
        canvas.set_stringn(at, y, "^", 1, style);
        let long = u16::try_from(self.mark.chars().count()).unwrap_or(u16::MAX);
        let room = area.right().saturating_sub(at + 2);
        if long <= room {
            canvas.set_stringn(at + 2, y, &self.mark, usize::from(room), style);
        } else if at > area.x {
            let start = at.saturating_sub(long + 1).max(area.x);
            let room = usize::from(at.saturating_sub(start + 1));
            canvas.set_stringn(start, y, &self.mark, room, style);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rows(strip: &Strip, width: u16, ink: Ink) -> Vec<String> {
        let area = Rect::new(0, 0, width, 4);
        let mut canvas = Canvas::empty(area);
        strip.draw(&mut canvas, area, Theme::Colour, ink);
        (0..4)
            .map(|y| {
                (0..width)
                    .map(|x| canvas.symbol_at((x, y)))
                    .collect::<String>()
                    .trim_end()
                    .to_owned()
            })
            .collect()
    }

    fn strip(from: Edge) -> Strip {
        let gap = |number, ends, there| Gap {
            number,
            ends,
            there,
        };
        Strip {
            gaps: vec![gap(8, 1, 1), gap(9, 2, 0), gap(10, 0, 0), gap(11, 2, 0)],
            from,
            mark: "7 1/8".to_owned(),
        }
    }

    #[test]
    fn dents_run_from_the_side_where_sleying_starts() {
        assert_eq!(
            rows(&strip(Edge::Left), 25, Ink::Reversed),
            [
                "     8       10  11",
                "    |:# |## |   |## |",
                "    |:# |## |   |## |",
                "                  ^ 7 1/8"
            ]
        );
        assert_eq!(
            rows(&strip(Edge::Right), 25, Ink::Blocks),
            [
                "     11  10      8",
                "    | ██|   | ██| █▌|",
                "    | ██|   | ██| █▌|",
                "      ^ 7 1/8"
            ]
        );
    }

    proptest! {
        #[test]
        fn any_strip_at_any_size_is_safe(
            width in 1u16..=300, height in 1u16..=100,
            gaps in proptest::collection::vec((any::<u32>(), 0u32..40, 0u32..40), 0..80),
            left in any::<bool>(), mark in "[ -~]{0,400}", (dx, dy) in (0u16..5, 0u16..5),
        ) {
            let strip = Strip {
                gaps: gaps.into_iter().map(|(number, ends, there)| Gap { number, ends, there }).collect(),
                from: if left { Edge::Left } else { Edge::Right },
                mark,
            };
            let mut canvas = Canvas::empty(Rect::new(0, 0, width, height));
            for ink in [Ink::Blocks, Ink::Reversed] {
                strip.draw(&mut canvas, Rect::new(dx, dy, width, height), Theme::Colour, ink);
            }
        }
    }
}
