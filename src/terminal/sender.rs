//! Changed cells as the fewest bytes for a terminal. Owns what the terminal's pen and cursor are
//! within one frame; never decides which cells go, and never holds a colour back: whoever wants
//! none draws with a theme that has none.
//!
//! What makes a frame small: a change of style names only what changes; a blank cell takes whatever
//! pen is in hand, as long as the ground is the same; the cursor goes on by the shortest command; a
//! run of blanks is erased. A frame begins with a pen and a cursor that are taken to be unknown, so
//! that nothing another program left behind shows.

use super::canvas::Canvas;
use super::dot::{Dot, Pen};
use super::paint::{Span, Surface};
use ratatui::layout::Position;
use ratatui::style::Modifier;
use std::io::{self, Write};

/// Room for a frame of a usual window, so that the bytes are moved once.
const USUAL_FRAME: usize = 8 * 1024;
/// Modifiers that are put on and taken off by a number of their own (ECMA-48, SGR).
const OWN: [(Modifier, u8, u8); 3] = [
    (Modifier::BOLD, 1, 22),
    (Modifier::UNDERLINED, 4, 24),
    (Modifier::REVERSED, 7, 27),
];
/// Modifiers that no theme here uses; they are put on by number and taken off by a reset.
const RARE: [(Modifier, u8); 6] = [
    (Modifier::DIM, 2),
    (Modifier::ITALIC, 3),
    (Modifier::SLOW_BLINK, 5),
    (Modifier::RAPID_BLINK, 6),
    (Modifier::HIDDEN, 8),
    (Modifier::CROSSED_OUT, 9),
];

/// A terminal that takes frames. Bytes gather until they are flushed: one frame is one write.
#[derive(Debug)]
pub struct Sender<W: Write> {
    writer: W,
    bytes: Vec<u8>,
    /// Whether erased cells take the ground of the pen.
    erases: bool,
    /// What the terminal writes with; `None` where only the terminal knows.
    pen: Option<Pen>,
    /// Where the cursor is; `None` where only the terminal knows.
    at: Option<Position>,
}

/// Whether a terminal of this kind gives erased cells the ground of the pen. All do but one family
/// (its own manual, `defbce`), in which they would show the user's own ground.
#[must_use]
pub fn erases_with_ground(term: Option<&str>) -> bool {
    !term.is_some_and(|term| term.starts_with("screen"))
}

impl<W: Write> Sender<W> {
    /// A terminal behind a writer; `erases` as [`erases_with_ground`] says.
    pub fn new(writer: W, erases: bool) -> Self {
        Self {
            writer,
            bytes: Vec::with_capacity(USUAL_FRAME),
            erases,
            pen: None,
            at: None,
        }
    }

    fn command(&mut self, numbers: &[u16], last: u8) {
        self.bytes.extend_from_slice(b"\x1b[");
        for (i, number) in numbers.iter().enumerate() {
            if i > 0 {
                self.bytes.push(b';');
            }
            digits(&mut self.bytes, *number);
        }
        self.bytes.push(last);
    }

    /// Moves the cursor; forward in its row by the distance where that is shorter.
    fn go_to(&mut self, to: Position) {
        match self.at {
            Some(at) if at == to => return,
            Some(at) if at.y == to.y && at.x < to.x => match to.x - at.x {
                1 => self.command(&[], b'C'),
                n => self.command(&[n], b'C'),
            },
            _ if to.x == 0 => self.command(&[to.y.saturating_add(1)], b'H'),
            _ => self.command(&[to.y.saturating_add(1), to.x.saturating_add(1)], b'H'),
        }
        self.at = Some(to);
    }

    /// Changes the pen, naming only what changes.
    fn take_up(&mut self, pen: Pen) {
        if self.pen == Some(pen) {
            return;
        }
        let new = pen.modifiers();
        // what is taken off only by a reset makes the pen as good as unknown
        let from = self.pen.filter(|old| new.contains(rare(*old)));
        let start = self.bytes.len();
        self.bytes.extend_from_slice(b"\x1b[");
        if from.is_none() {
            self.bytes.extend_from_slice(b"0;");
        }
        let old = from.unwrap_or_default();
        self.modify(old.modifiers(), new);
        if old.letters() != pen.letters() {
            colour(&mut self.bytes, pen.letters(), 3);
        }
        if old.ground() != pen.ground() {
            colour(&mut self.bytes, pen.ground(), 4);
        }
        // every number ends in a semicolon; the last one makes way for the command
        if self.bytes.len() > start + 2 {
            self.bytes.pop();
        }
        self.bytes.push(b'm');
        self.pen = Some(pen);
    }

    fn modify(&mut self, old: Modifier, new: Modifier) {
        if old == new {
            return;
        }
        for (modifier, on, off) in OWN {
            match (old.contains(modifier), new.contains(modifier)) {
                (false, true) => number(&mut self.bytes, on),
                (true, false) => number(&mut self.bytes, off),
                (true, true) | (false, false) => {}
            }
        }
        for (modifier, on) in RARE {
            if new.contains(modifier) && !old.contains(modifier) {
                number(&mut self.bytes, on);
            }
        }
    }

    /// The pen for a blank cell: the one in hand, with the cell's ground and nothing that would
    /// show in a blank.
    fn blank_pen(&self, blank: Dot) -> Pen {
        let pen = self.pen.unwrap_or(blank.pen());
        pen.for_blank_of(blank.pen())
    }

    /// Writes cells side by side.
    fn span(&mut self, canvas: &Canvas, span: Span) {
        let edge = canvas.area.right();
        let (mut rest, mut x) = (span.of(canvas), span.x);
        while let Some((dot, others)) = rest.split_first() {
            let at = Position::new(x, span.y);
            self.go_to(at);
            let left = edge.saturating_sub(x);
            let run = self.erases.then(|| blank_run(rest, left)).flatten();
            match run {
                Some(run) if self.erased(run, *dot) => {
                    x = x.saturating_add(run.cells());
                    rest = rest.get(usize::from(run.cells())..).unwrap_or_default();
                }
                _ => {
                    self.cell(canvas, *dot, at);
                    x = x.saturating_add(1);
                    rest = others;
                }
            }
        }
    }

    /// Writes one cell where the cursor is.
    fn cell(&mut self, canvas: &Canvas, dot: Dot, at: Position) {
        let pen = if dot.is_blank() {
            self.blank_pen(dot)
        } else {
            dot.pen()
        };
        self.take_up(pen);
        canvas.write_symbol(dot, &mut self.bytes);
        // unknown at the edge, and after what terminals may take to be wide or narrow
        let x = at.x.saturating_add(1);
        let known = dot.is_surely_narrow() && x < canvas.area.right();
        self.at = known.then_some(Position { x, ..at });
    }

    /// Erases a run of blanks where that is shorter than writing them; whether it did.
    fn erased(&mut self, run: Run, blank: Dot) -> bool {
        let cost = match run {
            Run::ToEdge(_) => 3,
            Run::Cells(n) if n < 10 => 4,
            Run::Cells(_) => 5,
        };
        if run.cells() <= cost {
            return false;
        }
        self.take_up(self.blank_pen(blank));
        match run {
            Run::ToEdge(_) => self.command(&[], b'K'),
            Run::Cells(n) => self.command(&[n], b'X'),
        }
        true
    }
}

/// Blank cells side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Run {
    /// So many, the last one in the last column.
    ToEdge(u16),
    /// So many.
    Cells(u16),
}

impl Run {
    fn cells(self) -> u16 {
        match self {
            Self::ToEdge(n) | Self::Cells(n) => n,
        }
    }
}

/// How many cells, from the first on, are blanks of one ground; `left` is how many columns there
/// are from the first to the edge. `None` where the first is no blank.
fn blank_run(dots: &[Dot], left: u16) -> Option<Run> {
    let first = dots.first().filter(|dot| dot.is_blank())?;
    let same = |dot: &&Dot| dot.is_blank() && dot.looks_as(*first);
    // no more than a row has, so the cast loses nothing
    let cells = dots.iter().take_while(same).count() as u16;
    Some(if cells == left {
        Run::ToEdge(cells)
    } else {
        Run::Cells(cells)
    })
}

/// What only a reset takes off.
fn rare(pen: Pen) -> Modifier {
    let own = OWN.iter().fold(Modifier::empty(), |all, own| all | own.0);
    pen.modifiers().difference(own)
}

fn number(bytes: &mut Vec<u8>, number: u8) {
    digits(bytes, u16::from(number));
    bytes.push(b';');
}

fn digits(bytes: &mut Vec<u8>, number: u16) {
    let mut place = 10_000;
    while place > 1 && number < place {
        place /= 10;
    }
    while place > 0 {
        // a digit, so the cast loses nothing
        bytes.push(b'0' + (number / place % 10) as u8);
        place /= 10;
    }
}

/// A colour in SGR numbers: `layer` is 3 for letters and 4 for the ground.
fn colour(bytes: &mut Vec<u8>, colour: Option<u8>, layer: u8) {
    let Some(index) = colour else {
        return number(bytes, layer * 10 + 9);
    };
    for part in [layer * 10 + 8, 5, index] {
        number(bytes, part);
    }
}

impl<W: Write> Surface for Sender<W> {
    type Error = io::Error;

    fn send(&mut self, canvas: &Canvas, changed: &[Span]) -> io::Result<()> {
        (self.pen, self.at) = (None, None);
        for span in changed {
            self.span(canvas, *span);
        }
        Ok(())
    }

    fn wipe(&mut self) -> io::Result<()> {
        self.bytes.extend_from_slice(b"\x1b[m\x1b[2J");
        Ok(())
    }

    fn flush(&mut self) -> io::Result<()> {
        Write::flush(self)
    }
}

/// Bytes beside the frame, as for the bell and the window's title: they gather with it.
impl<W: Write> Write for Sender<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.bytes.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.bytes.is_empty() {
            return Ok(());
        }
        // what could not be written is not written later either: the caller ends
        let written = self.writer.write_all(&self.bytes);
        self.bytes.clear();
        written?;
        self.writer.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::layout::Rect;
    use ratatui::style::{Color, Style};

    /// What goes out for the cells of a row that are not `.`, each in a style of its letter.
    fn sent(row: &str, erases: bool) -> String {
        let area = Rect::new(0, 0, row.chars().count() as u16, 2);
        let mut canvas = Canvas::empty(area);
        let black = Style::new().bg(Color::Indexed(16));
        let mut changed: Vec<Span> = Vec::new();
        for (x, c) in (0u16..).zip(row.chars()) {
            let style = match c {
                'A'..='Z' => black.fg(Color::Indexed(214)).add_modifier(Modifier::BOLD),
                _ => black.fg(Color::Indexed(231)),
            };
            canvas.put((x, 1), c.encode_utf8(&mut [0; 4]), style);
            match changed.last_mut() {
                _ if c == '.' => {}
                Some(Span { x: from, cells, .. }) if *from + *cells == x => *cells += 1,
                _ => changed.push(Span { y: 1, x, cells: 1 }),
            }
        }
        let mut bytes = Vec::new();
        let mut sender = Sender::new(&mut bytes, erases);
        sender.send(&canvas, &changed).unwrap();
        Surface::flush(&mut sender).unwrap();
        drop(sender);
        String::from_utf8(bytes).unwrap().replace('\x1b', "^")
    }

    #[test]
    fn a_change_of_style_names_only_what_changes() {
        assert_eq!(
            sent("aA a", false),
            "^[2H^[0;38;5;231;48;5;16ma^[1;38;5;214mA ^[22;38;5;231ma"
        );
    }

    #[test]
    fn the_cursor_goes_forward_by_the_distance_and_otherwise_to_the_place() {
        assert_eq!(sent(".a.a", false), "^[2;2H^[0;38;5;231;48;5;16ma^[Ca");
        assert_eq!(
            sent("█............█", false),
            "^[2H^[0;38;5;231;48;5;16m█^[12C█"
        );
        // terminals differ in how wide they take this letter to be
        assert_eq!(sent("é..a", false), "^[2H^[0;38;5;231;48;5;16mé^[2;4Ha");
    }

    #[test]
    fn a_run_of_blanks_is_erased_where_that_is_shorter() {
        let pen = "^[2H^[0;38;5;231;48;5;16m";
        assert_eq!(sent("a    ", true), format!("{pen}a^[K"));
        assert_eq!(sent("a   ", true), format!("{pen}a   "));
        assert_eq!(sent("a    ", false), format!("{pen}a    "));
        assert_eq!(sent("a            b", true), format!("{pen}a^[12X^[12Cb"));
    }

    #[test]
    fn only_one_family_of_terminals_erases_with_the_users_ground() {
        assert!(erases_with_ground(Some("xterm-256color")));
        assert!(erases_with_ground(Some("tmux-256color")) && erases_with_ground(None));
        assert!(!erases_with_ground(Some("screen-256color")));
    }

    #[test]
    fn numbers_are_written_without_leading_noughts() {
        for n in [0u16, 7, 10, 99, 100, 231, 9_999, 10_000, u16::MAX] {
            let mut bytes = Vec::new();
            digits(&mut bytes, n);
            assert_eq!(String::from_utf8(bytes).unwrap(), n.to_string());
        }
    }

    #[test]
    fn every_colour_and_modifier_reaches_the_terminal() {
        let area = Rect::new(0, 0, 4, 1);
        let mut canvas = Canvas::empty(area);
        let styles = [
            Style::new().fg(Color::Indexed(123)).bg(Color::Reset),
            Style::new().fg(Color::LightRed).bg(Color::White),
            Style::new().add_modifier(Modifier::ITALIC | Modifier::UNDERLINED),
            Style::new().add_modifier(Modifier::REVERSED),
        ];
        for (x, style) in (0u16..).zip(styles) {
            canvas.put((x, 0), "x", style);
        }
        let mut bytes = Vec::new();
        let mut sender = Sender::new(&mut bytes, true);
        let (y, x) = (0, 0);
        sender.send(&canvas, &[Span { y, x, cells: 4 }]).unwrap();
        Surface::flush(&mut sender).unwrap();
        drop(sender);
        let mut screen = vt100::Parser::new(1.try_into().unwrap(), 4.try_into().unwrap(), 0);
        screen.process(&bytes);
        let at = |x| screen.screen().cell(0, x).unwrap();
        assert_eq!(at(0).fgcolor(), vt100::Color::Idx(123));
        assert_eq!(at(1).fgcolor(), vt100::Color::Idx(9));
        assert_eq!(at(1).bgcolor(), vt100::Color::Idx(15));
        assert!(at(2).italic() && at(2).underline() && !at(2).inverse());
        assert!(at(3).inverse() && !at(3).italic() && !at(3).underline());
        assert_eq!(at(3).bgcolor(), vt100::Color::Default);
    }
}
