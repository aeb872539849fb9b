//! Help over the work: more about the step, then the keys that do something here. Owns which keys those
//! are and the pages; what each key does stands in the key table, why a step matters in the method.

use super::{Over, Sitting};
use crate::dressing::state::open_look;
use crate::dressing::{Ask, View, When, decide};
use crate::hand::{Context, Intent, Key, Meaning, ROWS, Row};
use crate::terminal::screens::{Band, Header, Scene, Stack, Tone, wrapped};
use crate::words::{lines, screen_words};
use ratatui::layout::Rect;

/// Rows of a page that are not help: the header and the hints.
const AROUND: u16 = 2;

impl Sitting<'_> {
    /// Help in pages, so that nothing of it is ever cut off.
    pub(super) fn help(&self, scene: &Scene, page: usize, area: Rect) -> Stack {
        let mut pages = self.help_in_pages(area);
        self.help_pages.set(pages.len());
        let page = page.min(pages.len().saturating_sub(1));
        let of = screen_words::page_of(page + 1, pages.len());
        let header = Header {
            left: scene.page.heading.clone(),
            right: of,
        };
        let hints = Band::Footer(self.help_hints(page));
        let mut stack = Stack::default();
        stack.push(Band::Header(header).wish(area.width, self.manner, 0));
        stack.push(Band::Lines(pages.swap_remove(page)).wish(area.width, self.manner, 0));
        stack.push(hints.wish(area.width, self.manner, 0));
        stack
    }

    /// The lines of help, as many a page as the window has rows for.
    fn help_in_pages(&self, area: Rect) -> Vec<Vec<(Tone, String)>> {
        let room = usize::from(area.height.saturating_sub(AROUND)).max(1);
        let width = usize::from(area.width).max(1);
        let mut pages = Vec::new();
        let (mut page, mut used) = (Vec::new(), 0);
        for line in self.help_lines() {
            let rows = wrapped(&line.1, width).len();
            if used > 0 && used + rows > room {
                pages.push(std::mem::take(&mut page));
                used = 0;
            }
            used += rows;
            page.push(line);
        }
        pages.push(page);
        pages
    }

    fn help_lines(&self) -> Vec<(Tone, String)> {
        let more = lines::more(self.keep.dressing(), self.method).into_iter();
        let mut text: Vec<_> = more.map(|line| (Tone::Know, line)).collect();
        let keys = ROWS.iter().filter(|row| self.does_something(row));
        text.extend(keys.map(|row| {
            let keys = row.keys.iter();
            let keys = keys.filter(|key| !self.hand.key_moves_light(**key));
            let keys: Vec<String> = keys.map(|key| key.name()).collect();
            (Tone::Do, format!("{}: {}", keys.join(" "), row.help))
        }));
        if self.hand.key_moves_light(Key::Down) {
            text.push((Tone::Do, screen_words::ARROWS.to_owned()));
        }
        let numbers = match self.hand.context() {
            Context::Number { minus, .. } => Some(screen_words::number_keys(minus)),
            Context::Choice { count, .. }
            | Context::Ways { count }
            | Context::Work { choices: count } => screen_words::choice_keys(count),
            Context::Text => None,
        };
        text.extend(numbers.map(|line| (Tone::Do, line)));
        text
    }

    /// Whether the key does something here.
    fn does_something(&self, row: &Row) -> bool {
        let said = self.report.open().is_some();
        let given = !self.given.is_empty() || self.looking || !self.hand.typed().is_empty();
        match row.meaning {
            Meaning::BackOne => said || given || self.would_do(&Ask::BackOne),
            Meaning::Redo => self.would_do(&Ask::Redo),
            Meaning::Skip => said || self.looking || self.would_do(&Ask::Skip),
            Meaning::CannotTell => {
                said || self.looking || self.would_do(&Ask::Answer(self.cannot_tell()))
            }
            Meaning::Pause => {
                said || matches!(self.view, View::Resting(_)) || self.would_do(&Ask::Pause)
            }
            Meaning::Sheds => lines::why_no_sheds(self.keep.dressing()).is_none(),
            Meaning::Cloth => {
                let dressing = self.keep.dressing();
                open_look(dressing.mood()).is_none() && !dressing.plan().lifts_wanted().is_empty()
            }
            Meaning::Next
            | Meaning::SayAgain
            | Meaning::Menu
            | Meaning::Note
            | Meaning::Report
            | Meaning::Help
            | Meaning::Leave
            | Meaning::LeaveAtOnce
            | Meaning::Suspend
            | Meaning::Repaint => true,
        }
    }

    /// Whether the dressing would take the ask as it stands; nothing is done.
    fn would_do(&self, ask: &Ask) -> bool {
        let dressing = self.keep.dressing();
        let when = dressing.last().unwrap_or(When {
            wall: chrono::DateTime::UNIX_EPOCH.fixed_offset(),
            elapsed_ms: 0,
        });
        decide(dressing, ask, when).is_ok()
    }

    /// The next page, the one before, or the work again after the last.
    pub(super) fn turn_help(&self, page: usize, intent: Intent) -> Over {
        match intent {
            Intent::Lit | Intent::Typed => Over::Help(page),
            Intent::Next
            | Intent::Choose(_)
            | Intent::NotLooked
            | Intent::NotLookedYet
            | Intent::Number(_)
                if page + 1 < self.help_pages.get() =>
            {
                Over::Help(page + 1)
            }
            Intent::BackOne if page > 0 => Over::Help(page - 1),
            _ => Over::Nothing,
        }
    }

    /// What the keys do while help is shown.
    pub(super) fn help_hints(&self, page: usize) -> Vec<(String, String)> {
        let shut = self.hint(Meaning::Help, Some(screen_words::HELP_SHUT));
        if page + 1 < self.help_pages.get() {
            return vec![self.hint(Meaning::Next, Some(screen_words::HELP_ON)), shut];
        }
        vec![shut]
    }
}
