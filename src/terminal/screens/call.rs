//! The call: the shafts of a handful in digits that can be read from the loom, each at the height
//! of its shaft's lane, as on ruled paper with shaft 1 lowest. So a digit is said twice, by shape
//! and by place. Owns the drawing; never which call it is.

use super::{FarLine, Manner};
use crate::terminal::canvas::Canvas;
use crate::terminal::digits::{Ink, Scale, set};
use crate::terminal::face::{SIDE, bitmap_of, is_set};
use crate::terminal::theme::Role;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// The shafts of one handful.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CallBand {
    /// Shafts in the order of the call, 1..=64.
    pub shafts: Vec<u8>,
    /// Shafts of the loom; lanes are drawn for 2 to 10 of them.
    pub lanes: u8,
}

/// Columns between two shafts beside the blank one of each digit.
const GAP: u16 = 4;
/// Columns left of the digits for the names of the lanes.
const LANE_NAMES: u16 = 6;
/// With more shafts than this a loom has no lanes.
const MOST_LANES: u8 = 10;

/// Where the digits stand: their scale, the first column, and half rows from lane to lane.
struct Spot {
    scale: Scale,
    left: u16,
    half_rows: u16,
}

impl CallBand {
    /// The fewest rows in which the call is large.
    pub const LEAST: u16 = 8;

    /// The rows that the digits take with a row from lane to lane.
    #[must_use]
    pub fn best(&self) -> u16 {
        Self::LEAST + self.steps().min(4)
    }

    /// Lanes above the lowest one.
    fn steps(&self) -> u16 {
        if (2..=MOST_LANES).contains(&self.lanes) {
            u16::from(self.lanes) - 1
        } else {
            0
        }
    }

    fn characters(&self) -> usize {
        self.shafts
            .iter()
            .map(|s| if *s >= 10 { 2 } else { 1 })
            .sum()
    }

    fn width(&self, scale: Scale) -> u16 {
        let gaps = u16::try_from(self.shafts.len().saturating_sub(1)).unwrap_or(u16::MAX);
        let characters = u16::try_from(self.characters()).unwrap_or(u16::MAX);
        characters
            .saturating_mul((SIDE + 1) * scale.wide)
            .saturating_add(gaps.saturating_mul(GAP))
    }

    /// The largest scale at which lanes still are apart; without room for lanes the smallest.
    fn spot(&self, area: Rect) -> Option<Spot> {
        let half_rows = |scale: Scale| {
            let spare = (area.height + 1).saturating_sub(scale.height()) * 2;
            match self.steps() {
                0 => 0,
                steps => (spare / steps).min(2 * scale.tall),
            }
        };
        let fits = |scale: &Scale| {
            self.width(*scale) <= area.width && scale.height().saturating_sub(1) <= area.height
        };
        let apart =
            |scale: &Scale| scale.tall == 1 || self.steps() == 0 || half_rows(*scale) >= scale.tall;
        let scale = Scale::ALL.into_iter().find(|s| fits(s) && apart(s))?;
        Some(Spot {
            scale,
            left: area.x + (area.width - self.width(scale)) / 2,
            half_rows: half_rows(scale),
        })
    }

    /// Draws the call into `area`; where there is no room for digits of the call's size it
    /// becomes a distance line.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let area = area.intersection(canvas.area);
        if area.is_empty() {
            return;
        }
        let Some(spot) = self.spot(area) else {
            self.draw_small(canvas, area, manner);
            return;
        };
        let style = manner.theme.style(Role::Now);
        self.draw_lane_names(canvas, area, &spot, manner);
        let mut x = spot.left;
        for shaft in &self.shafts {
            let up = self.half_rows_from_top(*shaft, &spot);
            for c in shaft.to_string().chars() {
                draw_digit(canvas, area, (x, up), (c, spot.scale), (style, manner.ink));
                x += (SIDE + 1) * spot.scale.wide;
            }
            x += GAP;
        }
    }

    /// Half rows between the top and a shaft's digits; whole rows where there are no half blocks.
    fn half_rows_from_top(&self, shaft: u8, spot: &Spot) -> u16 {
        let lane = u16::from(shaft.saturating_sub(1)).min(self.steps());
        (self.steps() - lane) * spot.half_rows
    }

    fn draw_lane_names(&self, canvas: &mut Canvas, area: Rect, spot: &Spot, manner: Manner) {
        if spot.half_rows < 2 || spot.left < area.x + LANE_NAMES {
            return;
        }
        for shaft in 1..=self.lanes {
            let top = self.half_rows_from_top(shaft, spot) / 2;
            let y = area.y + top + SIDE * spot.scale.tall - 1;
            let style = if self.shafts.contains(&shaft) {
                manner.theme.style(Role::Ground)
            } else {
                manner.theme.style(Role::Quiet)
            };
            if y < area.bottom() {
                let x = spot.left - LANE_NAMES;
                canvas.set_stringn(x, y, shaft.to_string(), 2, style);
            }
        }
    }

    fn draw_small(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let shafts: Vec<String> = self.shafts.iter().map(ToString::to_string).collect();
        FarLine::now(shafts.join(" ")).draw(canvas, area, manner);
    }
}

/// Draws one digit with its left top corner so many half rows below the top of `area`.
fn draw_digit(
    canvas: &mut Canvas,
    area: Rect,
    (left, up): (u16, u16),
    (c, scale): (char, Scale),
    (style, ink): (Style, Ink),
) {
    let shape = bitmap_of(c);
    let up = match ink {
        Ink::Blocks => up,
        Ink::Reversed => up / 2 * 2,
    };
    for row in up / 2..area.height.min(up / 2 + (SIDE + 1) * scale.tall) {
        for column in 0..SIDE * scale.wide {
            let x = column / scale.wide;
            let half = |half: u16| {
                let from_top = (2 * row + half).checked_sub(up);
                from_top.is_some_and(|y| is_set(&shape, x, y / (2 * scale.tall)))
            };
            let at = (left + column, area.y + row);
            if at.0 >= area.right() {
                continue;
            }
            match (half(0), half(1)) {
                (true, true) => set(canvas, at, style, ink),
                (true, false) => put(canvas, at, "▀", style),
                (false, true) => put(canvas, at, "▄", style),
                (false, false) => {}
            }
        }
    }
}

fn put(canvas: &mut Canvas, at: (u16, u16), symbol: &str, style: Style) {
    canvas.put(at, symbol, style);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::theme::Theme;

    const BLOCKS: Manner = Manner {
        theme: Theme::Colour,
        ink: Ink::Blocks,
    };

    fn rows(call: &CallBand, (width, height): (u16, u16)) -> Vec<String> {
        let area = Rect::new(0, 0, width, height);
        let mut canvas = Canvas::empty(area);
        call.draw(&mut canvas, area, BLOCKS);
        (0..height)
            .map(|y| {
                let row = (0..width).map(|x| canvas.symbol_at((x, y)));
                row.collect::<String>().trim_end().to_owned()
            })
            .collect()
    }

    /// The row in which the first block of each of so many calls stands, in half rows.
    fn tops(call: &CallBand, size: (u16, u16)) -> Vec<usize> {
        let rows = rows(call, size);
        let spot = call.spot(Rect::new(0, 0, size.0, size.1)).unwrap();
        let pitch = usize::from((SIDE + 1) * spot.scale.wide + GAP);
        let start = usize::from(spot.left);
        (0..call.shafts.len())
            .map(|i| {
                let columns = start + i * pitch..start + (i + 1) * pitch - usize::from(GAP);
                let filled = |row: &String, what: &[char]| {
                    row.chars()
                        .enumerate()
                        .any(|(x, c)| columns.contains(&x) && what.contains(&c))
                };
                let y = rows
                    .iter()
                    .position(|row| filled(row, &['█', '▀', '▄']))
                    .unwrap();
                let upper = filled(&rows[y], &['█', '▀']);
                2 * y + usize::from(!upper)
            })
            .collect()
    }

    #[test]
    fn each_shaft_has_its_lane_the_first_one_lowest() {
        for (lanes, size) in [(4, (80, 11)), (8, (80, 12)), (10, (80, 13)), (4, (120, 26))] {
            let shafts: Vec<u8> = vec![1, 2, lanes - 1, lanes];
            let call = CallBand { shafts, lanes };
            let tops = tops(&call, size);
            assert!(
                tops.windows(2).all(|pair| pair[0] > pair[1]),
                "{lanes} lanes at {size:?}: {tops:?}"
            );
        }
    }

    #[test]
    fn a_loom_of_many_shafts_has_no_lanes_but_the_same_digits() {
        let call = CallBand {
            shafts: vec![9, 10, 11, 12],
            lanes: 12,
        };
        let rows = rows(&call, (80, 8));
        assert!(rows[0].contains('█') && rows[6].contains('█'));
        assert_eq!(rows[7], "");
    }

    #[test]
    fn a_whole_batch_in_one_call_becomes_a_distance_line() {
        let call = CallBand {
            shafts: vec![1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2],
            lanes: 4,
        };
        let rows = rows(&call, (80, 11));
        assert!(
            rows.iter()
                .any(|row| row.contains('▙') || row.contains('▟'))
        );
    }
}
