//! One dressing of the class board in large type: its name on the left, its need on the right, a line
//! near by below. Owns the drawing and the sizes; rows, order and words come in.

use super::canvas::Canvas;
use super::digits::Ink;
use super::dot::Dot;
use super::letters::Letters;
use super::screens::Manner;
use super::theme::Role;
use crate::dressing::class::{Need, Row};
use crate::method::Method;
use crate::words::board_words::{FAR, far_of, row};
use ratatui::layout::Rect;
use ratatui::style::Modifier;

/// Characters of a name in large type beside the need.
pub const NAME: usize = 12;

/// What is shown of one dressing; two of them can be compared to see whether anything changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassRow {
    /// Whose it is, as it is drawn: capitals, cut.
    pub name: String,
    /// What she needs.
    pub need: Need,
    /// The same in few letters; the stage where she is at work.
    pub far: String,
    /// The line below, for near by.
    pub near: String,
    /// How large the letters are.
    pub letters: Letters,
    /// Whether it is the one that is marked; `None` where nothing can be marked.
    pub marked: Option<bool>,
}

impl ClassRow {
    /// The row of a dressing in letters of this size.
    #[must_use]
    pub fn of(one: &Row, method: &Method, letters: Letters, marked: Option<bool>) -> Self {
        Self {
            name: one.name.to_uppercase().chars().take(NAME).collect(),
            need: one.need,
            far: far_of(one, method),
            near: format!("{} - {}", one.name, row(one, method)),
            letters,
            marked,
        }
    }

    /// Rows of the terminal that it takes.
    #[must_use]
    pub fn rows(letters: Letters) -> u16 {
        letters.size().1 + 1
    }

    /// Columns that its large letters take, a blank between name and need.
    #[must_use]
    pub fn columns(one: &Row, letters: Letters) -> u16 {
        let name = one.name.chars().count().min(NAME);
        letters.width(name + 1 + FAR)
    }

    /// Draws it into `area`, whatever its size.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let area = area.intersection(canvas.area);
        if area.is_empty() {
            return;
        }
        let style = manner.theme.style(self.role());
        let room = usize::from(area.width / self.letters.size().0);
        let need = self.far.chars().count();
        let left = room.saturating_sub(need + 1);
        let name: String = self.name.chars().take(left).collect();
        self.letters.draw(canvas, area, &name, style);
        let wide = self.letters.width(need).min(area.width);
        let right = Rect {
            x: area.right() - wide,
            width: wide,
            ..area
        };
        self.letters.draw(canvas, right, &self.far, style);
        let below = area.y + self.letters.size().1;
        if below < area.bottom() {
            let mark = match self.marked {
                None => "",
                Some(true) => "> ",
                Some(false) => "  ",
            };
            let mut style = manner.theme.style(Role::Ground);
            if self.marked == Some(true) {
                style = style.add_modifier(Modifier::BOLD);
            }
            let says = format!("{mark}{}", self.near);
            canvas.set_stringn(area.x, below, &says, usize::from(area.width), style);
        }
    }

    fn role(&self) -> Role {
        match self.need {
            Need::Help | Need::Hands | Need::Mismatch => Role::Alarm,
            Need::PassedOver | Need::Silent | Need::Unreadable => Role::Now,
            Need::Mending | Need::Working => Role::Ground,
            Need::Resting => Role::Quiet,
            Need::Ready => Role::Done,
        }
    }
}

/// The largest letters at which all of the rows fit whole into the window; the smallest where none
/// do.
#[must_use]
pub fn letters_for(rows: &[Row], area: Rect, ink: Ink) -> Letters {
    let (sizes, smallest): (&[Letters], Letters) = match ink {
        Ink::Blocks => (&[Letters::Double, Letters::Whole], Letters::Quadrant),
        Ink::Reversed => (&[Letters::ReversedDouble], Letters::Reversed),
    };
    let many = u32::try_from(rows.len()).unwrap_or(u32::MAX);
    let fits = |letters: &Letters| {
        let tall = u32::from(ClassRow::rows(*letters)).saturating_mul(many);
        let wide = |one: &Row| ClassRow::columns(one, *letters) <= area.width;
        tall <= u32::from(area.height) && rows.iter().all(wide)
    };
    sizes.iter().copied().find(fits).unwrap_or(smallest)
}

/// The rows as lines of text, one after the other: for a plain terminal or a pipe.
#[must_use]
pub fn lines(rows: &[Row], method: &Method, columns: u16, ink: Ink) -> Vec<String> {
    let letters = match ink {
        Ink::Blocks => Letters::Quadrant,
        Ink::Reversed => Letters::Reversed,
    };
    let manner = Manner {
        theme: super::theme::Theme::Mono,
        ink,
    };
    let mut out = Vec::new();
    for one in rows {
        let area = Rect::new(0, 0, columns, ClassRow::rows(letters));
        let mut canvas = Canvas::empty(area);
        ClassRow::of(one, method, letters, None).draw(&mut canvas, area, manner);
        for y in 0..area.height {
            let large = y + 1 < area.height;
            let reversed = |dot: Dot| dot.pen().modifiers().contains(Modifier::REVERSED);
            let seen = canvas.row(y).iter().map(|dot| {
                if large && reversed(*dot) {
                    "#".to_owned()
                } else {
                    canvas.symbol(*dot)
                }
            });
            out.push(seen.collect::<String>().trim_end().to_owned());
        }
    }
    out
}
