//! The kinds of content that fill rows of the window. Owns their drawing; each is a plain value,
//! so two of them can be compared to see whether anything has to be drawn.

use super::{CallBand, ChoiceList, FarLine, Manner, MenuBand, NumberBand, Wish, wrapped};
use crate::terminal::canvas::Canvas;
use crate::terminal::class_row::ClassRow;
use crate::terminal::cloth_band::ClothBand;
use crate::terminal::digits::{Ink, Scale, draw_centred};
use crate::terminal::form_screen::{AnswerLine, FieldList};
use crate::terminal::letters::Letters;
use crate::terminal::loom_picture::LoomPicture;
use crate::terminal::strip::Strip;
use crate::terminal::theme::Role;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// One kind of content.
#[derive(Debug, Clone, PartialEq)]
pub enum Band {
    /// Nothing.
    Blank,
    /// Where this is, at the top of the window.
    Header(Header),
    /// The call.
    Call(CallBand),
    /// A distance line.
    Far(FarLine),
    /// The handfuls of a batch.
    Handfuls(Handfuls),
    /// Numbers to be read from the loom, each under its name.
    Counts(Counts),
    /// The picture of the loom.
    Loom(LoomPicture),
    /// The picture of the cloth.
    Cloth(ClothBand),
    /// Rows of letters as they are, never broken: a draft.
    Rows(Vec<String>),
    /// Dents or spaces of a group.
    Strip(Strip),
    /// Sentences to be read near by, each with how it is shown.
    Lines(Vec<(Tone, String)>),
    /// The hints at the bottom: keys and what they do now.
    Footer(Vec<(String, String)>),
    /// The one-button menu.
    Menu(MenuBand),
    /// A number being given.
    Number(NumberBand),
    /// One dressing of the class board.
    Class(ClassRow),
    /// Choices, one of them lit.
    Choices(ChoiceList),
    /// The fields of the form, one in hand.
    Fields(FieldList),
    /// The answer being typed into the form.
    Answer(AnswerLine),
}

/// How a sentence is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// What to do.
    Do,
    /// What to know.
    Know,
    /// What can hurt, what was refused, what does not come out.
    Alarm,
    /// What was just done, taken back or saved.
    Done,
}

/// Rows of a list that are enough to go through it in parts.
const LIST: u16 = 6;

/// Where this is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Header {
    /// Stage and step.
    pub left: String,
    /// How far, and what is open.
    pub right: String,
}

/// The handfuls of a batch, counted down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Handfuls {
    /// Calls in each.
    pub lengths: Vec<u32>,
    /// The handful at hand, counted from 0.
    pub at: usize,
    /// What stands before them.
    pub left: String,
    /// What stands behind them.
    pub right: String,
}

/// Numbers under their names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counts {
    /// The name of the first number's row.
    pub name: String,
    /// Name and number of each.
    pub each: Vec<(String, u32)>,
}

impl Tone {
    fn role(self) -> Role {
        match self {
            Self::Do => Role::Ground,
            Self::Know => Role::Quiet,
            Self::Alarm => Role::Alarm,
            Self::Done => Role::Done,
        }
    }
}

impl Band {
    /// Draws into `area`, whatever its size.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let area = area.intersection(canvas.area);
        if area.is_empty() {
            return;
        }
        match self {
            Self::Blank => {}
            Self::Header(header) => header.draw(canvas, area, manner),
            Self::Call(call) => call.draw(canvas, area, manner),
            Self::Far(line) => line.draw(canvas, area, manner),
            Self::Handfuls(handfuls) => handfuls.draw(canvas, area, manner),
            Self::Counts(counts) => counts.draw(canvas, area, manner),
            Self::Loom(picture) => picture.draw(canvas, area, manner.theme, manner.ink),
            Self::Cloth(cloth) => cloth.draw(canvas, area, manner),
            Self::Rows(rows) => draw_rows(canvas, area, rows, manner),
            Self::Strip(strip) => strip.draw(canvas, area, manner.theme, manner.ink),
            Self::Lines(lines) => draw_lines(canvas, area, lines, manner),
            Self::Footer(hints) => draw_footer(canvas, area, hints, manner),
            Self::Menu(menu) => menu.draw(canvas, area, manner),
            Self::Number(number) => number.draw(canvas, area, manner),
            Self::Class(row) => row.draw(canvas, area, manner),
            Self::Choices(choices) => choices.draw(canvas, area, manner),
            Self::Fields(fields) => fields.draw(canvas, area, manner),
            Self::Answer(answer) => answer.draw(canvas, area, manner),
        }
    }

    /// The band with the rows that it wishes for in a window of this width.
    #[must_use]
    pub fn wish(self, width: u16, manner: Manner, rank: u8) -> Wish {
        let (least, best, most) = match &self {
            Self::Blank => (0, 0, 0),
            Self::Header(_) | Self::Footer(_) | Self::Handfuls(_) => (1, 1, 1),
            Self::Call(call) => (CallBand::LEAST, call.best(), 4 * CallBand::LEAST),
            Self::Far(line) => {
                let least = line.least(width, manner);
                (least, least, 16.max(least))
            }
            Self::Counts(_) => (5, 9, 18),
            Self::Loom(_) => (3, LoomPicture::ROWS, 2 * LoomPicture::ROWS - 2),
            Self::Cloth(_) => (4, 13, 120),
            Self::Rows(rows) => {
                let all = u16::try_from(rows.len()).unwrap_or(u16::MAX);
                (all.min(4), all, all)
            }
            Self::Strip(_) => (3, Strip::ROWS, Strip::ROWS),
            Self::Lines(lines) => {
                let rows = rows_of(lines, width).len();
                let rows = u16::try_from(rows).unwrap_or(u16::MAX).max(1);
                (rows, rows, rows.saturating_add(1))
            }
            Self::Menu(menu) => (menu.rows(), menu.rows() + 8, menu.rows() + 18),
            Self::Number(number) => {
                let lit = if number.lit.is_some() { 5 } else { 0 };
                (8 + lit, 8 + lit, 16 + lit)
            }
            Self::Class(row) => {
                let rows = ClassRow::rows(row.letters);
                (rows, rows, rows)
            }
            Self::Choices(choices) => {
                let rows = choices.rows(width);
                // a list can show a part of itself; the words above it cannot
                (rows.min(LIST), rows, rows)
            }
            Self::Fields(fields) => {
                let rows = u16::try_from(fields.rows.len()).unwrap_or(u16::MAX);
                (rows.min(8), rows, rows)
            }
            Self::Answer(_) => (1, 1, 1),
        };
        let bare = match &self {
            Self::Far(_) => 1,
            Self::Number(_) | Self::Counts(_) => 5,
            _ => least,
        };
        Wish {
            band: self,
            bare,
            least,
            best,
            most,
            rank,
        }
    }
}

/// Rows of letters, each cut where the window ends.
fn draw_rows(canvas: &mut Canvas, area: Rect, rows: &[String], manner: Manner) {
    let style = manner.theme.style(Role::Ground);
    for (y, row) in (area.y..area.bottom()).zip(rows) {
        canvas.set_stringn(area.x, y, row, usize::from(area.width), style);
    }
}

impl Header {
    fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let style = manner.theme.style(Role::Quiet);
        let width = usize::from(area.width);
        canvas.set_stringn(area.x, area.y, &self.left, width, style);
        let right = self.right.width();
        if self.left.width() + 2 + right <= width {
            let x = area.right() - u16::try_from(right).unwrap_or(0);
            canvas.set_stringn(x, area.y, &self.right, right, style);
        }
    }
}

impl Handfuls {
    fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let quiet = manner.theme.style(Role::Ground);
        let width = usize::from(area.width);
        canvas.set_stringn(area.x, area.y, &self.left, width, quiet);
        let mut x = area.x + u16::try_from(self.left.width() + 2).unwrap_or(u16::MAX / 2);
        for (i, length) in self.lengths.iter().enumerate() {
            let (symbol, role) = match (i.cmp(&self.at), manner.ink) {
                (std::cmp::Ordering::Less, Ink::Blocks) => ("█", Role::Done),
                (std::cmp::Ordering::Less, Ink::Reversed) => ("#", Role::Done),
                (std::cmp::Ordering::Equal, Ink::Blocks) => ("▄", Role::Now),
                (std::cmp::Ordering::Equal, Ink::Reversed) => ("=", Role::Now),
                (std::cmp::Ordering::Greater, _) => (".", Role::Quiet),
            };
            for _ in 0..*length {
                if x >= area.right() {
                    return;
                }
                canvas.set_stringn(x, area.y, symbol, 1, manner.theme.style(role));
                x += 1;
            }
            x = x.saturating_add(1);
        }
        let right = self.right.width();
        let start = usize::from(area.right()).saturating_sub(right);
        if start > usize::from(x) {
            let start = u16::try_from(start).unwrap_or(area.x);
            canvas.set_stringn(start, area.y, &self.right, right, quiet);
        }
    }
}

impl Counts {
    /// Every number in its column of the same width, its name above it.
    fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let count = u16::try_from(self.each.len()).unwrap_or(u16::MAX).max(1);
        let column = (area.width / count).max(1);
        let longest = self.each.iter().map(|(_, n)| n.to_string().len()).max();
        let characters = longest.unwrap_or(1);
        let rows = area.height.saturating_sub(1);
        let scale = Scale::ALL.into_iter().find(|scale| {
            scale.width(characters) < column && scale.height().saturating_sub(1) <= rows
        });
        let below = Rect {
            y: area.y + 1,
            height: rows,
            ..area
        };
        for (i, (name, number)) in self.each.iter().enumerate() {
            let x = area.x + column.saturating_mul(u16::try_from(i).unwrap_or(u16::MAX));
            if x >= area.right() {
                break;
            }
            let width = column.min(area.right() - x);
            let room = Rect { x, width, ..below };
            let role = if *number == 0 { Role::Quiet } else { Role::Now };
            let style = manner.theme.style(role);
            centred(
                canvas,
                Rect {
                    y: area.y,
                    height: 1,
                    ..room
                },
                &format!("{}{name}", self.name),
                manner.theme.style(Role::Ground),
            );
            let text = number.to_string();
            match scale {
                Some(scale) => draw_centred(canvas, room, &text, scale, (style, manner.ink)),
                None => FarLine { text, role }.draw(canvas, room, manner),
            }
        }
    }
}

/// Puts a text in the middle of a row.
fn centred(canvas: &mut Canvas, row: Rect, text: &str, style: ratatui::style::Style) {
    let width = u16::try_from(text.width()).unwrap_or(u16::MAX);
    let place = Letters::centred(row, width);
    canvas.set_stringn(place.x, row.y, text, usize::from(place.width), style);
}

/// The lines broken into rows.
fn rows_of(lines: &[(Tone, String)], width: u16) -> Vec<(Tone, String)> {
    lines
        .iter()
        .flat_map(|(tone, line)| {
            wrapped(line, usize::from(width))
                .into_iter()
                .map(|row| (*tone, row))
        })
        .collect()
}

fn draw_lines(canvas: &mut Canvas, area: Rect, lines: &[(Tone, String)], manner: Manner) {
    let rows = rows_of(lines, area.width);
    for (y, (tone, row)) in (area.y..area.bottom()).zip(rows) {
        let style = manner.theme.style(tone.role());
        canvas.set_stringn(area.x, y, row, usize::from(area.width), style);
    }
}

/// Hints side by side; those that do not fit are left out from the second-last on, so that the
/// last one, help, always stays.
fn draw_footer(canvas: &mut Canvas, area: Rect, hints: &[(String, String)], manner: Manner) {
    let width = usize::from(area.width);
    let long = |(key, does): &(String, String)| key.width() + 1 + does.width();
    let mut shown: Vec<&(String, String)> = hints.iter().collect();
    while shown.len() > 1 && shown.iter().map(|h| long(h) + 3).sum::<usize>() > width + 3 {
        shown.remove(shown.len() - 2);
    }
    let mut x = area.x;
    for (key, does) in shown {
        let room = usize::from(area.right().saturating_sub(x));
        let (next, _) = canvas.set_stringn(x, area.y, key, room, manner.theme.style(Role::Now));
        let room = usize::from(area.right().saturating_sub(next));
        let style = manner.theme.style(Role::Quiet);
        let (next, _) = canvas.set_stringn(next, area.y, format!(" {does}"), room, style);
        x = next.saturating_add(3).min(area.right());
    }
}
