//! A document as plain text: 80 columns, pages of 60 lines, a form feed between pages. Owns the
//! layout of text; a strip, a row or a step is never cut by a page's end where it fits on one.

use super::document::{Block, Document, Part, StepLine, Strip, Table};
use unicode_width::UnicodeWidthStr;

/// Columns of a page.
const COLUMNS: usize = 80;
/// Lines of a page, its head among them: 60 suit A4 and Letter at six lines an inch.
const PAGE: usize = 60;
/// A box to tick.
const BOX: &str = "[ ]";

/// Lines that stay together on a page.
#[derive(Default)]
struct Chunk {
    lines: Vec<String>,
    /// Lines to say again where the chunk begins a page.
    again: Vec<String>,
    /// Whether the next chunk must stand on the same page.
    holds_next: bool,
}

/// The whole document; every line ends in a line break.
#[must_use]
pub fn text(document: &Document) -> String {
    let mut pages: Vec<(&str, Vec<String>)> = Vec::new();
    for part in &document.parts {
        let body = in_pages(chunks(part));
        pages.extend(body.into_iter().map(|page| (part.heading.as_str(), page)));
    }
    let of = pages.len();
    let mut out = String::new();
    for (at, (heading, lines)) in pages.iter().enumerate() {
        if at > 0 {
            out.push('\u{c}');
        }
        let right = format!("page {} of {of}", at + 1);
        let left = format!("{}: {heading}", document.title);
        out.push_str(&spread(&cut(&left, COLUMNS - right.len() - 2), &right));
        out.push_str(&format!("\n{}\n", "=".repeat(COLUMNS)));
        for line in lines {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    out
}

fn in_pages(chunks: Vec<Chunk>) -> Vec<Vec<String>> {
    let room = PAGE - 2;
    let mut pages: Vec<Vec<String>> = vec![Vec::new()];
    let mut chunks = chunks.into_iter().peekable();
    while let Some(chunk) = chunks.next() {
        let after = chunk
            .holds_next
            .then(|| chunks.peek().map_or(0, |next| next.lines.len()));
        let needs = chunk.lines.len() + after.unwrap_or(0);
        let here = pages.last().map_or(0, Vec::len);
        let mut lines = chunk.lines;
        if here > 0 && here + needs > room {
            pages.push(chunk.again);
            if lines.first().is_some_and(String::is_empty) {
                lines.remove(0);
            }
        }
        for line in lines {
            if pages.last().is_some_and(|page| page.len() >= room) {
                pages.push(Vec::new());
            }
            if let Some(page) = pages.last_mut() {
                page.push(line);
            }
        }
    }
    pages
}

fn chunks(part: &Part) -> Vec<Chunk> {
    part.blocks.iter().flat_map(block).collect()
}

fn block(block: &Block) -> Vec<Chunk> {
    match block {
        Block::Heading(text) => vec![Chunk {
            lines: vec![
                String::new(),
                text.clone(),
                "-".repeat(text.width().min(COLUMNS)),
            ],
            holds_next: true,
            ..Chunk::default()
        }],
        Block::Note(text) => vec![whole(wrapped(text, COLUMNS))],
        Block::Caution(text) => vec![whole(hanging("! CAUTION: ", text))],
        Block::Facts(facts) => facts_lines(facts),
        Block::Table(table) => table_lines(table),
        Block::Strip(strip) => vec![whole(strip_lines(strip))],
        Block::Steps(steps) => steps.iter().map(|s| whole(step_lines(s))).collect(),
        Block::Picture(picture) => {
            let mut lines = vec![String::new()];
            lines.extend(picture.text.iter().cloned());
            vec![whole(lines)]
        }
        Block::Lines(n) => (0..*n)
            .map(|_| whole(vec![String::new(), "_".repeat(COLUMNS)]))
            .collect(),
    }
}

fn whole(lines: Vec<String>) -> Chunk {
    Chunk {
        lines,
        ..Chunk::default()
    }
}

fn facts_lines(facts: &[(String, String)]) -> Vec<Chunk> {
    let widest = facts
        .iter()
        .map(|(name, _)| name.width())
        .max()
        .unwrap_or(0);
    let lead = |name: &str| format!("{}  ", pad(name, widest.min(30), false));
    facts
        .iter()
        .map(|(name, value)| whole(hanging(&lead(name), value)))
        .collect()
}

fn strip_lines(strip: &Strip) -> Vec<String> {
    let mut lines = vec![String::new()];
    lines.extend(wrapped(&strip.head, COLUMNS));
    if let Some(note) = &strip.note {
        lines.extend(hanging("  ", note));
    }
    let widest = strip.rows.iter().map(|(n, _)| n.width()).max().unwrap_or(0);
    for (name, things) in &strip.rows {
        let lead = format!("  {}  ", pad(name, widest, false));
        let mut line = lead.clone();
        for thing in things {
            let thing = format!("{BOX} {thing}   ");
            if line.width() > lead.width() && line.width() + thing.trim_end().width() > COLUMNS {
                lines.push(std::mem::replace(&mut line, " ".repeat(lead.width())));
            }
            line.push_str(&thing);
        }
        lines.push(line);
    }
    lines
}

fn step_lines(step: &StepLine) -> Vec<String> {
    let mut lines = hanging(
        &format!("{BOX} "),
        &format!("{}. {}", step.title, step.text),
    );
    if let Some(caution) = &step.caution {
        lines.extend(hanging("    ! ", caution));
    }
    lines
}

fn table_lines(table: &Table) -> Vec<Chunk> {
    let tick = if table.ticks { BOX.len() + 2 } else { 0 };
    let widths = widths(table, COLUMNS - tick);
    let heads: Vec<String> = table.heads.iter().map(|(head, _)| head.clone()).collect();
    let mut top = row_lines(table, &heads, &widths, &" ".repeat(tick));
    let rule: usize = widths.iter().sum::<usize>() + 2 * (widths.len().max(1) - 1) + tick;
    top.push("-".repeat(rule.min(COLUMNS)));
    let mut chunks = vec![Chunk {
        lines: [vec![String::new()], top.clone()].concat(),
        holds_next: true,
        ..Chunk::default()
    }];
    let lead = if table.ticks {
        format!("{BOX}  ")
    } else {
        String::new()
    };
    chunks.extend(table.rows.iter().map(|row| Chunk {
        lines: row_lines(table, row, &widths, &lead),
        again: top.clone(),
        holds_next: false,
    }));
    chunks
}

/// Each column as wide as its widest cell; where that is too much, the widest ones give way.
fn widths(table: &Table, room: usize) -> Vec<usize> {
    let mut widths: Vec<usize> = table.heads.iter().map(|(head, _)| head.width()).collect();
    for row in &table.rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.width());
        }
    }
    let room = room.saturating_sub(2 * widths.len().saturating_sub(1));
    while widths.iter().sum::<usize>() > room {
        let Some(widest) = widths.iter_mut().max().filter(|w| **w > 4) else {
            break;
        };
        *widest -= 1;
    }
    widths
}

fn row_lines(table: &Table, row: &[String], widths: &[usize], lead: &str) -> Vec<String> {
    let cells: Vec<Vec<String>> = row
        .iter()
        .zip(widths)
        .map(|(cell, width)| wrapped(cell, *width))
        .collect();
    let tall = cells.iter().map(Vec::len).max().unwrap_or(0);
    let line = |at: usize| {
        let parts = cells.iter().zip(widths).zip(&table.heads);
        let parts = parts.map(|((cell, width), (_, right))| {
            pad(cell.get(at).map_or("", String::as_str), *width, *right)
        });
        let lead = if at == 0 {
            lead.to_owned()
        } else {
            " ".repeat(lead.len())
        };
        format!("{lead}{}", parts.collect::<Vec<_>>().join("  "))
    };
    (0..tall).map(line).collect()
}

fn pad(text: &str, width: usize, right: bool) -> String {
    let blanks = " ".repeat(width.saturating_sub(text.width()));
    if right {
        format!("{blanks}{text}")
    } else {
        format!("{text}{blanks}")
    }
}

/// Left and right on one line.
fn spread(left: &str, right: &str) -> String {
    let blanks = COLUMNS.saturating_sub(left.width() + right.width());
    format!("{left}{}{right}", " ".repeat(blanks))
}

fn cut(text: &str, columns: usize) -> String {
    crate::quantity::harmless_within(text, columns)
}

/// A sentence after a lead, its later lines under its beginning.
fn hanging(lead: &str, text: &str) -> Vec<String> {
    let indent = lead.width();
    let lines = wrapped(text, COLUMNS.saturating_sub(indent).max(10));
    let mut lines = lines.into_iter();
    let first = format!("{lead}{}", lines.next().unwrap_or_default());
    let later = lines.map(|line| format!("{}{line}", " ".repeat(indent)));
    std::iter::once(first).chain(later).collect()
}

/// A text in lines of at most so many columns; one line for an empty text, so that its cell is there.
fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let mut lines = crate::words::wrap::wrapped(text, columns);
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}
