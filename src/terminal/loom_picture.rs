//! The loom seen from in front, across its width: which groups lie in the raddle, hang in
//! heddles, stand in the reed and are tied on, where the hand is and which way it goes. Owns the
//! drawing; works out nothing and says no sentence. Made to be looked at, not read.
//!
//! Four rows stand for four places of the loom, back to front from the top. A quadrant of a cell
//! is filled where the ends of that half column have come so far: the lower half for the first
//! pass of a place, both halves for the second. So done is told by place and shape, not by colour.

mod cells;

use super::digits::Ink;
use super::theme::{Role, Theme};
use crate::terminal::canvas::Canvas;
use cells::{block, plain};
use ratatui::layout::Rect;
use ratatui::style::Style;

/// A side of the picture; the loom is seen facing the breast beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

/// How much of a group has come through one place of the loom, as shares 0..=1 of its ends.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Fill {
    /// First pass: laid into the raddle, threaded, tied with the first half of the knot.
    pub first: f64,
    /// Second pass: knotted behind the heddles, counted off, sleyed, finished.
    pub second: f64,
}

/// One group of the warp.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GroupMark {
    /// Its number in the order of threading, or its place in the order of tying, as the picture
    /// shall show it.
    pub number: u32,
    /// Its ends; the width of the group in the picture.
    pub ends: u32,
    /// Its fill at raddle, heddles, reed and rod.
    pub fills: [Fill; 4],
}

/// Where the hand is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandMark {
    /// Its place as a share 0..=1 of the warp's width from the left.
    pub at: f64,
    /// The side that it works towards; `None` where it does not move along (tying on).
    pub going: Option<Edge>,
}

/// Everything that the picture shows.
#[derive(Debug, Clone, PartialEq)]
pub struct LoomPicture {
    /// Groups in the order of threading.
    pub groups: Vec<GroupMark>,
    /// How many groups there are; more than `groups` where several are shown as one.
    pub count: u32,
    /// The side at which group 1 lies.
    pub first_at: Edge,
    /// The row that the work is at, 0..=3.
    pub place: usize,
    /// The names of the four places, for wide pictures.
    pub names: [&'static str; 4],
    /// The hand, if it is at the warp.
    pub hand: Option<HandMark>,
    /// The number to show in any case: the group or bundle at hand.
    pub number: Option<u32>,
    /// Floating selvedges left and right: `None` where there is none, else whether it is sleyed.
    pub floats: [Option<bool>; 2],
}

/// Columns for the names of places, in pictures that are wide enough.
const NAMES: u16 = 9;
/// From this width on the names are shown.
const WIDE: u16 = 60;
/// Columns on either side of the warp for a float and the gap beside it.
const MARGIN: u16 = 2;

/// What a picture's rows are used for, from the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Line {
    Numbers,
    Place(usize),
    Hand,
}

impl LoomPicture {
    /// Rows of the picture with everything in it.
    pub const ROWS: u16 = 6;

    /// Draws into `area`, whatever its size; with few rows the places that the work is not at
    /// are left out.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, theme: Theme, ink: Ink) {
        let area = area.intersection(canvas.area);
        if area.is_empty() {
            return;
        }
        let warp = self.warp(area);
        let placed = self.left_to_right();
        let mut named = None;
        let mut levels = Vec::new();
        for (y, line) in (area.y..area.bottom()).zip(self.lines(area.height)) {
            match line {
                Line::Numbers => self.draw_numbers(canvas, Rect { y, ..warp }, theme),
                Line::Hand => self.draw_hand(canvas, Rect { y, ..warp }, theme, ink),
                Line::Place(place) => {
                    if named.replace(place) != Some(place) {
                        levels = self.levels(&placed, place, usize::from(warp.width) * 2);
                        if area.width >= WIDE {
                            let style = theme.style(self.role(place));
                            let room = usize::from(NAMES - 1);
                            canvas.set_stringn(area.x, y, self.names[place.min(3)], room, style);
                        }
                    }
                    draw_place(canvas, Rect { y, ..warp }, &levels, (theme, ink));
                    self.draw_floats(canvas, Rect { y, ..warp }, place, (theme, ink));
                }
            }
        }
    }

    /// The part of a row that the warp lies in, one row high.
    fn warp(&self, area: Rect) -> Rect {
        let names = if area.width >= WIDE { NAMES } else { 0 };
        let margin = if area.width >= 8 { MARGIN } else { 0 };
        let room = area.width.saturating_sub(names + 2 * margin).max(1);
        Rect {
            x: area.x + (names + margin).min(area.width - 1),
            y: area.y,
            width: room,
            height: 1,
        }
    }

    /// Which lines a picture of so many rows has.
    fn lines(&self, rows: u16) -> Vec<Line> {
        let now = self.place.min(3);
        // Numbers above and hand below as soon as there are rows for them.
        let frame = match rows {
            0..=1 => 0,
            2 => 1,
            _ => 2,
        };
        let room = usize::from(rows - frame.min(rows));
        let shown = room.clamp(1, 4);
        let first = now.saturating_sub(shown / 2).min(4 - shown);
        let each = (room / 4).max(1);
        let places =
            (first..first + shown).flat_map(|place| std::iter::repeat_n(Line::Place(place), each));
        let mut lines = Vec::new();
        if frame == 2 {
            lines.push(Line::Numbers);
        }
        lines.extend(places);
        if frame >= 1 {
            lines.push(Line::Hand);
        }
        lines
    }

    fn role(&self, place: usize) -> Role {
        if place == self.place {
            Role::Now
        } else {
            Role::Quiet
        }
    }

    fn total(&self) -> f64 {
        self.groups.iter().map(|g| f64::from(g.ends)).sum()
    }

    /// The groups from left to right, with the ends that lie left of each.
    fn left_to_right(&self) -> Vec<(f64, &GroupMark)> {
        let mut groups: Vec<&GroupMark> = self.groups.iter().collect();
        if self.first_at == Edge::Right {
            groups.reverse();
        }
        let mut before = 0.0;
        let mut placed = Vec::with_capacity(groups.len());
        for group in groups {
            placed.push((before, group));
            before += f64::from(group.ends);
        }
        placed
    }

    /// Which halves of each half column are filled at a place: 0 none, 1 the lower, 2 both; the
    /// last half column of a group is left free where there is room, to set groups apart.
    fn levels(&self, placed: &[(f64, &GroupMark)], place: usize, halves: usize) -> Vec<u8> {
        let total = self.total();
        let per_half = total / halves.max(1) as f64;
        let mut levels = vec![0; halves];
        let mut at = 0;
        for (half, level) in levels.iter_mut().enumerate() {
            let middle = (half as f64 + 0.5) * per_half;
            while at + 1 < placed.len() && placed[at + 1].0 <= middle {
                at += 1;
            }
            let Some((before, group)) = placed.get(at) else {
                break;
            };
            let ends = f64::from(group.ends.max(1));
            let last = middle + per_half >= before + ends;
            if last && ends >= 3.0 * per_half {
                continue;
            }
            let share = (middle - before) / ends;
            *level = self.level(group, place, share);
        }
        levels
    }

    /// How far the ends at this share of the group, counted from its left, have come.
    fn level(&self, group: &GroupMark, place: usize, share: f64) -> u8 {
        let fill = group.fills.get(place).copied().unwrap_or_default();
        let from = match self.filled_from() {
            Edge::Left => share,
            Edge::Right => 1.0 - share,
        };
        if from < fill.second {
            2
        } else {
            u8::from(from < fill.first)
        }
    }

    /// The side from which a group fills: the hand comes from there.
    fn filled_from(&self) -> Edge {
        match self.hand.and_then(|hand| hand.going) {
            Some(Edge::Left) => Edge::Right,
            Some(Edge::Right) => Edge::Left,
            None => self.first_at,
        }
    }

    fn draw_floats(
        &self,
        canvas: &mut Canvas,
        row: Rect,
        place: usize,
        (theme, ink): (Theme, Ink),
    ) {
        if place < 2 || row.x < MARGIN {
            return;
        }
        let columns = [row.x - MARGIN, row.right() + MARGIN - 1];
        for (x, float) in columns.into_iter().zip(self.floats) {
            let Some(done) = float else { continue };
            let (symbol, role) = match (done, ink) {
                (true, Ink::Blocks) => ("▌", Role::Done),
                (true, Ink::Reversed) => ("#", Role::Done),
                (false, _) => (".", Role::Quiet),
            };
            canvas.put((x, row.y), symbol, theme.style(role));
        }
    }

    /// The column of the warp in which a share of its width lies.
    fn column(row: Rect, share: f64) -> u16 {
        let share = if share.is_finite() {
            share.clamp(0.0, 1.0)
        } else {
            0.0
        };
        let column = (share * f64::from(row.width)).floor() as u16;
        row.x + column.min(row.width.saturating_sub(1))
    }

    fn draw_hand(&self, canvas: &mut Canvas, row: Rect, theme: Theme, ink: Ink) {
        let Some(hand) = self.hand else { return };
        let at = Self::column(row, hand.at);
        let style = theme.style(Role::Now);
        let symbol = match ink {
            Ink::Blocks => "█",
            Ink::Reversed => "^",
        };
        let mut put = |x: Option<u16>, symbol: &str| {
            let inside = x.filter(|x| *x >= row.x && *x < row.right());
            if let Some(x) = inside {
                canvas.put((x, row.y), symbol, style);
            }
        };
        put(Some(at), symbol);
        match hand.going {
            Some(Edge::Left) => {
                put(at.checked_sub(1), "<");
                put(at.checked_sub(2), "<");
            }
            Some(Edge::Right) => {
                put(at.checked_add(1), ">");
                put(at.checked_add(2), ">");
            }
            None => {}
        }
    }

    /// The numbers of the group at hand, the first, the last and every fifth (tenth, hundredth),
    /// as far as they fit beside each other.
    fn draw_numbers(&self, canvas: &mut Canvas, row: Rect, theme: Theme) {
        let total = self.total();
        if total <= 0.0 {
            return;
        }
        let mut taken = vec![false; usize::from(row.width)];
        let placed = self.left_to_right();
        let mut wanted: Vec<(u8, f64, u32)> = placed
            .iter()
            .filter_map(|(before, group)| {
                let middle = (before + f64::from(group.ends) / 2.0) / total;
                Some((self.rank(group.number)?, middle, group.number))
            })
            .collect();
        wanted.sort_by_key(|(rank, _, number)| (*rank, *number));
        for (rank, middle, number) in wanted {
            let style = if rank == 0 {
                theme.style(Role::Lit)
            } else {
                theme.style(Role::Quiet)
            };
            put_number(canvas, row, &mut taken, (middle, number), style);
        }
    }

    /// How soon a number is put: `None` never.
    fn rank(&self, number: u32) -> Option<u8> {
        if self.number == Some(number) {
            return Some(0);
        }
        let step = match self.count {
            0..=60 => 5,
            61..=200 => 10,
            201..=2000 => 100,
            _ => 1000,
        };
        match number {
            1 => Some(1),
            n if n == self.count => Some(2),
            n if n % step == 0 => Some(3),
            _ => None,
        }
    }
}

/// Puts a number around its place where no other stands, and a free column on either side.
fn put_number(
    canvas: &mut Canvas,
    row: Rect,
    taken: &mut [bool],
    (share, number): (f64, u32),
    style: Style,
) {
    let text = number.to_string();
    let width = text.len() as u16;
    if width > row.width {
        return;
    }
    let middle = LoomPicture::column(row, share) - row.x;
    let start = middle
        .saturating_sub((width - 1) / 2)
        .min(row.width - width);
    let from = usize::from(start.saturating_sub(1));
    let to = usize::from(start + width + 1).min(taken.len());
    if taken[from..to].iter().any(|t| *t) {
        return;
    }
    taken[usize::from(start)..usize::from(start + width)].fill(true);
    canvas.set_stringn(row.x + start, row.y, &text, usize::from(width), style);
}

/// Draws a row of a place, two levels a column.
fn draw_place(canvas: &mut Canvas, row: Rect, levels: &[u8], (theme, ink): (Theme, Ink)) {
    for (x, pair) in (row.x..row.right()).zip(levels.chunks(2)) {
        let (left, right) = (pair[0], pair.get(1).copied().unwrap_or(0));
        let empty = left == 0 && right == 0;
        let role = if empty { Role::Quiet } else { Role::Done };
        let symbol = match ink {
            Ink::Blocks => block(left, right),
            Ink::Reversed => plain(left, right),
        };
        canvas.put((x, row.y), symbol, theme.style(role));
    }
}

#[cfg(test)]
mod tests;
