//! The picture of the cloth: the first picks as they will look, the first at the bottom, in the colours
//! of the yarns. Owns the drawing; which end is up in which pick comes from the plan.
//!
//! With colours and block elements a cell is two picks, one above the other, as the yarns look. Without
//! colour, and where long floats are marked, a cell is one pick: an upright where the end is up, a level
//! where the weft is, heavy where the float is long; so nothing hangs on colour.

use super::canvas::Canvas;
use super::digits::Ink;
use super::screens::Manner;
use super::theme::{Role, Theme, rgb};
use crate::plan::colour::Rgb;
use crate::plan::{Cloth, Face, Marks, Plan, Side};
use crate::quantity::{Call, Calls};
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};

/// The most picks that a picture on the screen holds; more rows than this no window of use has.
const MOST_PICKS: u32 = 120;
/// What an end is drawn in whose yarn has no colour.
const PLAIN_WARP: Rgb = [238, 238, 238];
/// The same for the weft.
const PLAIN_WEFT: Rgb = [98, 98, 98];

/// One end of the picture, from its first pick on.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Column {
    colour: Rgb,
    up: Vec<bool>,
    long: Vec<bool>,
}

/// A part of the cloth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothBand {
    /// From left to right.
    columns: Vec<Column>,
    weft: Rgb,
    marked: bool,
    /// The column at which the hand is.
    hand: Option<usize>,
    caption: String,
}

/// What of the cloth is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// The first end, from 1.
    pub first: u32,
    /// The pick at the bottom, from 1.
    pub pick: u32,
    /// The face.
    pub face: Face,
    /// Floats of more threads than this are marked; `None`: as the yarns look.
    pub over: Option<u32>,
    /// The end at which the hand is, if it is at one.
    pub hand: Option<Call>,
}

impl ClothBand {
    /// The part of the plan's cloth that fits into so many columns; `None` where the plan says no picks.
    #[must_use]
    pub fn of(plan: &Plan, part: Part, columns: u16) -> Option<Self> {
        Self::with_picks(plan, part, columns, MOST_PICKS)
    }

    /// The same with so many picks.
    #[must_use]
    pub fn with_picks(plan: &Plan, part: Part, columns: u16, picks: u32) -> Option<Self> {
        let cloth = Cloth::of(plan, picks)?;
        let calls = calls_of(plan, part.first, columns)?;
        let marks = part.over.map(|over| cloth.marks(over));
        let picks = part.pick.max(1)..part.pick.max(1).saturating_add(picks);
        let column = |call: Call| {
            column(
                plan,
                &cloth,
                (marks.as_ref(), part.face, picks.clone()),
                call,
            )
        };
        let run = calls.first.0..=calls.last.0;
        let across: Vec<Call> = match plan.thread_from {
            Side::Left => run.map(Call).collect(),
            Side::Right => run.rev().map(Call).collect(),
        };
        let hand = part.hand;
        Some(Self {
            hand: hand.and_then(|hand| across.iter().position(|call| *call == hand)),
            columns: across.into_iter().map(column).collect(),
            weft: plan.colour_of_weft().unwrap_or(PLAIN_WEFT),
            marked: marks.is_some(),
            caption: crate::words::screen_words::cloth(
                calls,
                part.pick.max(1),
                part.face,
                part.over,
            ),
        })
    }

    /// What the picture shows, in words.
    #[must_use]
    pub fn caption(&self) -> &str {
        &self.caption
    }

    /// Draws into `area`, whatever its size: the caption, the picks, the hand's mark below them.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let quiet = manner.theme.style(Role::Quiet);
        let width = usize::from(area.width);
        canvas.set_stringn(area.x, area.y, &self.caption, width, quiet);
        let below = u16::from(self.hand.is_some());
        let rows = area.height.saturating_sub(1 + below);
        let blocks = !self.marked && manner.theme == Theme::Colour && manner.ink == Ink::Blocks;
        let left = area.x + area.width.saturating_sub(self.shown(area.width)) / 2;
        for (x, column) in (left..area.right()).zip(&self.columns) {
            for row in 0..rows {
                // the first pick lies at the bottom
                let up_from_bottom = usize::from(rows - 1 - row);
                let y = area.y + 1 + row;
                let (symbol, style) = if blocks {
                    self.two_picks(column, 2 * up_from_bottom)
                } else {
                    self.one_pick(column, up_from_bottom, manner)
                };
                canvas.set_stringn(x, y, symbol, 1, style);
            }
        }
        if let Some(hand) = self.hand.and_then(|hand| u16::try_from(hand).ok()) {
            let (x, y) = (left.saturating_add(hand), area.bottom().saturating_sub(1));
            if x < area.right() && y > area.y {
                canvas.set_stringn(x, y, "^", 1, manner.theme.style(Role::Now));
            }
        }
    }

    /// The picks from the bottom up to this one in colour, two in a row, as letters with the sequences of
    /// a terminal of 256 colours, each row ended by the usual colours; the last row first.
    #[must_use]
    pub fn coloured_rows(&self, picks: usize) -> Vec<String> {
        let rows = (0..picks.div_ceil(2)).rev();
        rows.map(|row| self.coloured_row(2 * row, picks)).collect()
    }

    fn coloured_row(&self, pick: usize, picks: usize) -> String {
        let mut text = String::new();
        let mut before = None;
        let number = |colour: Color| match colour {
            Color::Indexed(number) => number,
            _ => 16,
        };
        for column in &self.columns {
            let lower = number(self.colour(column, pick));
            // the last row of an odd number of picks is half a row
            let upper = (pick + 1 < picks).then(|| number(self.colour(column, pick + 1)));
            let (fore, back, block) = match upper {
                Some(upper) => (upper, format!(";48;5;{lower}"), '\u{2580}'),
                None => (lower, String::new(), '\u{2584}'),
            };
            if before != Some((upper, lower)) {
                text.push_str(&format!("\x1b[0;38;5;{fore}{back}m"));
                before = Some((upper, lower));
            }
            text.push(block);
        }
        text.push_str("\x1b[0m");
        text
    }

    fn shown(&self, width: u16) -> u16 {
        u16::try_from(self.columns.len()).map_or(width, |columns| columns.min(width))
    }

    fn colour(&self, column: &Column, pick: usize) -> Color {
        let up = column.up.get(pick).copied().unwrap_or(false);
        Color::Indexed(nearest(if up { column.colour } else { self.weft }))
    }

    fn two_picks(&self, column: &Column, pick: usize) -> (&'static str, Style) {
        let (lower, upper) = (self.colour(column, pick), self.colour(column, pick + 1));
        ("\u{2580}", Style::new().fg(upper).bg(lower))
    }

    fn one_pick(&self, column: &Column, pick: usize, manner: Manner) -> (&'static str, Style) {
        let of = |list: &[bool]| list.get(pick).copied().unwrap_or(false);
        let (up, long) = (of(&column.up), of(&column.long));
        let symbol = match (manner.ink, up, long) {
            (Ink::Blocks, true, false) => "\u{2502}",
            (Ink::Blocks, true, true) => "\u{2503}",
            (Ink::Blocks, false, false) => "\u{2500}",
            (Ink::Blocks, false, true) => "\u{2501}",
            (Ink::Reversed, true, false) => "|",
            (Ink::Reversed, true, true) => "I",
            (Ink::Reversed, false, false) => "-",
            (Ink::Reversed, false, true) => "=",
        };
        let role = if long { Role::Alarm } else { Role::Ground };
        (symbol, manner.theme.style(role))
    }
}

/// The ends that fit, from a first one on, so that the last part is full too.
fn calls_of(plan: &Plan, first: u32, columns: u16) -> Option<Calls> {
    let all = plan.heddled_ends();
    let columns = u32::from(columns).max(1);
    let first = first.min(all.saturating_sub(columns) + 1).max(1);
    Calls::new(first, all.min(first + columns - 1))
}

/// What is drawn of an end: its long floats, the face, the picks.
type Drawn<'a> = (Option<&'a Marks>, Face, std::ops::Range<u32>);

fn column(plan: &Plan, cloth: &Cloth, (marks, face, picks): Drawn, call: Call) -> Column {
    let back = face == Face::Back;
    Column {
        colour: plan.colour_of(call).unwrap_or(PLAIN_WARP),
        up: picks
            .clone()
            .map(|pick| cloth.warp_up(pick, call) != back)
            .collect(),
        long: picks
            .map(|pick| marks.is_some_and(|marks| cloth.is_marked(marks, pick, call, face)))
            .collect(),
    }
}

/// The nearest of the colours 16..=255, by the sum of squares.
fn nearest(wanted: Rgb) -> u8 {
    let off = |index: &u8| -> u32 {
        let parts = rgb(*index).into_iter().zip(wanted);
        parts.map(|(a, b)| u32::from(a.abs_diff(b)).pow(2)).sum()
    };
    (16..=255).min_by_key(off).unwrap_or(16)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_colour_of_the_screen_is_nearest_to_itself() {
        for index in 16..=255u8 {
            assert_eq!(rgb(nearest(rgb(index))), rgb(index));
        }
    }
}
