//! A screen as a picture for paper and web pages, made from the program's own buffer. Owns the
//! drawing of cells as rectangles and text; never reads a file, never uses a font's own blocks.

use super::theme::rgb;
use crate::words::wrap::escaped;
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};
use std::fmt::Write as _;

/// Width and height of a cell, in the picture's units.
const CELL: (u16, u16) = (10, 20);
/// Blank edge around the screen.
const EDGE: u16 = 8;

/// The buffer as a self-contained SVG 1.1 picture; `title` is what is read out for it.
#[must_use]
pub fn svg_of(buffer: &Buffer, title: &str) -> String {
    let area = buffer.area;
    let width = u32::from(area.width) * u32::from(CELL.0) + 2 * u32::from(EDGE);
    let height = u32::from(area.height) * u32::from(CELL.1) + 2 * u32::from(EDGE);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\">\n<title>{}</title>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#000000\"/>\n\
         <g font-family=\"monospace\" font-size=\"16\" xml:space=\"preserve\" \
         shape-rendering=\"crispEdges\">\n",
        escaped(title)
    );
    for y in 0..area.height {
        row(&mut out, buffer, y);
    }
    out.push_str("</g>\n</svg>\n");
    out
}

/// Colours of a cell as they are seen.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Seen {
    ink: [u8; 3],
    ground: [u8; 3],
    bold: bool,
    underlined: bool,
}

fn seen(cell: &Cell) -> Seen {
    let ink = colour(cell.fg, [255; 3]);
    let ground = colour(cell.bg, [0; 3]);
    let reversed = cell.modifier.contains(Modifier::REVERSED);
    Seen {
        ink: if reversed { ground } else { ink },
        ground: if reversed { ink } else { ground },
        bold: cell.modifier.contains(Modifier::BOLD),
        underlined: cell.modifier.contains(Modifier::UNDERLINED),
    }
}

fn colour(colour: Color, otherwise: [u8; 3]) -> [u8; 3] {
    match colour {
        Color::Indexed(index) if index >= 16 => rgb(index),
        Color::Rgb(r, g, b) => [r, g, b],
        _ => otherwise,
    }
}

/// One row, cut into runs of cells that are drawn alike.
fn row(out: &mut String, buffer: &Buffer, y: u16) {
    let cells: Vec<&Cell> = (0..buffer.area.width)
        .filter_map(|x| buffer.cell((buffer.area.x + x, buffer.area.y + y)))
        .collect();
    let mut start = 0;
    while start < cells.len() {
        let look = seen(cells[start]);
        let block = blocks(cells[start].symbol()).is_some();
        let mut end = start + 1;
        while end < cells.len()
            && seen(cells[end]) == look
            && blocks(cells[end].symbol()).is_some() == block
            && (!block || cells[end].symbol() == cells[start].symbol())
        {
            end += 1;
        }
        run(out, &cells[start..end], (start, y), look, block);
        start = end;
    }
}

fn run(out: &mut String, cells: &[&Cell], (x, y): (usize, u16), look: Seen, block: bool) {
    let left = x * usize::from(CELL.0) + usize::from(EDGE);
    let top = usize::from(y) * usize::from(CELL.1) + usize::from(EDGE);
    let width = cells.len() * usize::from(CELL.0);
    let text: String = cells.iter().map(|c| c.symbol()).collect();
    if look.ground != [0; 3] {
        rect(out, [left, top, width, usize::from(CELL.1)], look.ground);
    }
    if block {
        draw_blocks(out, &text, (left, top), look);
    } else if !text.trim().is_empty() {
        let weight = if look.bold {
            " font-weight=\"bold\""
        } else {
            ""
        };
        let line = if look.underlined {
            " text-decoration=\"underline\""
        } else {
            ""
        };
        let _ = writeln!(
            out,
            "<text x=\"{left}\" y=\"{}\" textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\" \
             fill=\"{}\"{weight}{line}>{}</text>",
            top + 15,
            hex(look.ink),
            escaped(&text)
        );
    }
}

/// The quarters of a cell that a block element fills (left top, right top, left bottom, right
/// bottom); `None` for what is no block element.
fn blocks(symbol: &str) -> Option<[bool; 4]> {
    const KNOWN: [(&str, u8); 15] = [
        ("█", 0b1111),
        ("▀", 0b1100),
        ("▄", 0b0011),
        ("▌", 0b1010),
        ("▐", 0b0101),
        ("▘", 0b1000),
        ("▝", 0b0100),
        ("▖", 0b0010),
        ("▗", 0b0001),
        ("▚", 0b1001),
        ("▞", 0b0110),
        ("▙", 0b1011),
        ("▟", 0b0111),
        ("▛", 0b1110),
        ("▜", 0b1101),
    ];
    let (_, bits) = KNOWN.iter().find(|(known, _)| *known == symbol)?;
    Some([8, 4, 2, 1].map(|bit| bits & bit != 0))
}

/// A run of one block element; whole rows of it become one rectangle.
fn draw_blocks(out: &mut String, text: &str, (left, top): (usize, usize), look: Seen) {
    let (half_w, half_h) = (usize::from(CELL.0) / 2, usize::from(CELL.1) / 2);
    let count = text.chars().count();
    let Some(quarters) = text.chars().next().and_then(|c| blocks(&c.to_string())) else {
        return;
    };
    for (row, pair) in quarters.chunks(2).enumerate() {
        let y = top + row * half_h;
        match pair {
            [true, true] => {
                rect(out, [left, y, count * 2 * half_w, half_h], look.ink);
            }
            [one, other] if *one || *other => {
                let offset = if *one { 0 } else { half_w };
                for i in 0..count {
                    let x = left + i * 2 * half_w + offset;
                    rect(out, [x, y, half_w, half_h], look.ink);
                }
            }
            _ => {}
        }
    }
}

fn rect(out: &mut String, [x, y, width, height]: [usize; 4], fill: [u8; 3]) {
    let _ = writeln!(
        out,
        "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{}\"/>",
        hex(fill)
    );
}

fn hex([r, g, b]: [u8; 3]) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::theme::{Role, Theme};
    use ratatui::layout::Rect;

    #[test]
    fn text_and_blocks_become_text_and_rectangles() {
        let mut buffer = Buffer::empty(Rect::new(0, 0, 8, 2));
        buffer.set_string(0, 0, "a<b", Theme::Colour.style(Role::Now));
        buffer.set_string(0, 1, "██▗", Theme::Colour.style(Role::Done));
        let picture = svg_of(&buffer, "A & B");
        assert!(picture.contains("<title>A &amp; B</title>"));
        assert!(picture.contains(
            "<text x=\"8\" y=\"23\" textLength=\"30\" lengthAdjust=\"spacingAndGlyphs\" \
             fill=\"#ffaf00\" font-weight=\"bold\">a&lt;b</text>"
        ));
        let blue = "fill=\"#5fafff\"/>";
        assert!(picture.contains(&format!(
            "<rect x=\"8\" y=\"28\" width=\"20\" height=\"10\" {blue}"
        )));
        assert!(picture.contains(&format!(
            "<rect x=\"33\" y=\"38\" width=\"5\" height=\"10\" {blue}"
        )));
        assert_eq!(picture.matches(blue).count(), 3);
    }

    #[test]
    fn a_reversed_cell_is_a_light_ground() {
        let mut buffer = Buffer::empty(Rect::new(0, 0, 2, 1));
        buffer.set_string(0, 0, "x", Theme::Mono.style(Role::Lit));
        let picture = svg_of(&buffer, "x");
        assert!(picture.contains("height=\"20\" fill=\"#ffffff\"/>"));
        assert!(picture.contains("fill=\"#000000\" font-weight=\"bold\">x</text>"));
    }

    #[test]
    fn an_empty_screen_is_an_empty_picture() {
        let picture = svg_of(&Buffer::empty(Rect::new(0, 0, 0, 0)), "");
        assert!(picture.starts_with("<svg") && picture.ends_with("</svg>\n"));
        assert!(!picture.contains("<text"));
    }
}
