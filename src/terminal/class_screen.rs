//! The class board in large type: one row each, who needs help most first. Owns the drawing; rows,
//! order and words come in.

use super::digits::Ink;
use super::letters::Letters;
use crate::dressing::class::Row;
use crate::method::Method;
use crate::terminal::canvas::{Canvas, Dot};
use crate::words::board_words::{far, row};
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};

/// Characters of a name in large type beside the need.
const NAME: usize = 12;

/// Rows of the terminal that one dressing takes.
fn tall(ink: Ink) -> u16 {
    size(ink).size().1 + 1
}

fn size(ink: Ink) -> Letters {
    match ink {
        Ink::Blocks => Letters::Quadrant,
        Ink::Reversed => Letters::Reversed,
    }
}

/// Draws as many rows as fit, the most pressing at the top; says how many did not fit.
pub fn draw(
    canvas: &mut Canvas,
    area: Rect,
    rows: &[Row],
    method: &Method,
    ink: Ink,
    style: Style,
) {
    let area = area.intersection(canvas.area);
    let fit = usize::from(area.height / tall(ink));
    for (nth, one) in (0u16..).zip(rows.iter().take(fit)) {
        let top = area.y + nth * tall(ink);
        let strip = Rect {
            y: top,
            height: tall(ink),
            ..area
        };
        one_row(canvas, strip, one, method, ink, style);
    }
    let more = rows.len().saturating_sub(fit);
    if more > 0 && area.height > 0 {
        let line = area.bottom() - 1;
        let says = format!("and {more} more");
        let wide = usize::from(area.width);
        canvas.set_stringn(
            area.x,
            line,
            &says,
            wide,
            style.add_modifier(Modifier::BOLD),
        );
    }
}

fn one_row(canvas: &mut Canvas, area: Rect, one: &Row, method: &Method, ink: Ink, style: Style) {
    let letters = size(ink);
    let room = usize::from(area.width / letters.size().0);
    let need = far(one.need);
    let pressing = one.need.is_pressing();
    let left = room.saturating_sub(need.chars().count() + 1).min(NAME);
    let name: String = one.name.to_uppercase().chars().take(left).collect();
    let strong = if pressing {
        style.add_modifier(Modifier::BOLD)
    } else {
        style
    };
    letters.draw(canvas, area, &name, strong);
    let wide = letters.width(need.chars().count()).min(area.width);
    let right = Rect {
        x: area.right() - wide,
        width: wide,
        ..area
    };
    letters.draw(canvas, right, need, strong);
    let below = area.y + letters.size().1;
    if below < area.bottom() {
        let says = format!("{} - {}", one.name, row(one, method));
        canvas.set_stringn(area.x, below, &says, usize::from(area.width), style);
    }
}

/// The same as lines of text, all rows one after the other: for a plain terminal or a pipe.
#[must_use]
pub fn lines(rows: &[Row], method: &Method, columns: u16, ink: Ink) -> Vec<String> {
    let mut out = Vec::new();
    for one in rows {
        let area = Rect::new(0, 0, columns, tall(ink));
        let mut canvas = Canvas::empty(area);
        one_row(&mut canvas, area, one, method, ink, Style::default());
        for y in 0..area.height {
            let reversed = |dot: Dot| dot.pen().modifiers().contains(Modifier::REVERSED);
            let seen = canvas.row(y).iter().map(|dot| match reversed(*dot) {
                true => "#".to_owned(),
                false => canvas.symbol(*dot),
            });
            out.push(seen.collect::<String>().trim_end().to_owned());
        }
    }
    out
}
