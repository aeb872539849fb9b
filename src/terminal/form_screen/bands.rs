//! The form's own bands: the list of fields and the answer being typed. Owns their drawing; each is a
//! plain value.

use super::typed::Window;
use crate::terminal::canvas::Canvas;
use crate::terminal::screens::Manner;
use crate::terminal::theme::Role;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr;

/// One field in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldRow {
    /// `!` needed, `+` answered, blank as usual.
    pub mark: char,
    /// What is asked.
    pub asks: &'static str,
    /// How it stands, in words.
    pub value: String,
}

/// The fields with their answers, one in hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldList {
    /// All of them.
    pub rows: Vec<FieldRow>,
    /// The one in hand, counted from 0.
    pub at: usize,
}

/// The answer being typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerLine {
    /// The part around the cursor.
    pub window: Window,
    /// What stands without an answer; shown while nothing is typed.
    pub hint: String,
}

/// Columns before the values: the marks, the longest name and a gap.
const NAMES: usize = 34;

impl FieldList {
    /// Draws the part of the list around the field in hand.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let height = usize::from(area.height);
        let most = self.rows.len().saturating_sub(height);
        let skip = self.at.saturating_sub(height / 2).min(most);
        let shown = self.rows.iter().enumerate().skip(skip);
        for (y, (i, row)) in (area.y..area.bottom()).zip(shown) {
            let lit = i == self.at;
            let role = match row.mark {
                _ if lit => Role::Lit,
                '!' => Role::Now,
                '+' => Role::Ground,
                _ => Role::Quiet,
            };
            let room = usize::from(area.width);
            let pointer = if lit { '>' } else { ' ' };
            let name = format!("{pointer}{} {}", row.mark, row.asks);
            let text = cut(&format!("{name:<NAMES$}{}", row.value), room);
            let style = manner.theme.style(role);
            canvas.set_stringn(area.x, y, text, room, style);
        }
    }
}

/// The text, with dots at its end where it is longer than the row.
fn cut(text: &str, columns: usize) -> String {
    if text.width() <= columns {
        return text.to_owned();
    }
    let mut kept = String::new();
    let mut width = 0;
    for c in text.chars() {
        width += unicode_width::UnicodeWidthChar::width(c).unwrap_or(0);
        if width + 2 > columns {
            break;
        }
        kept.push(c);
    }
    kept + ".."
}

impl AnswerLine {
    /// Columns that stand before the text.
    pub const PROMPT: usize = 2;

    /// Draws the prompt, the text and the cursor.
    pub fn draw(&self, canvas: &mut Canvas, area: Rect, manner: Manner) {
        let style = |role| manner.theme.style(role);
        let mut x = area.x;
        let mut put = |text: &str, role| {
            let room = usize::from(area.right().saturating_sub(x));
            (x, _) = canvas.set_stringn(x, area.y, text, room, style(role));
        };
        put("> ", Role::Now);
        put(&self.window.before, Role::Now);
        put(&self.window.under, Role::Lit);
        put(&self.window.after, Role::Now);
        if self.window.before.is_empty() && self.window.after.is_empty() {
            put(" ", Role::Quiet);
            put(&self.hint, Role::Quiet);
        }
    }
}
