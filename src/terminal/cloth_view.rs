//! The cloth, the draft and the list of sheds as they lie over the work or over the form: which part is shown, and what each
//! key does there. Owns the place; draws nothing and decides nothing about the dressing.

use super::cloth_band::{ClothBand, Part};
use super::screens::{Band, Tone, wrapped};
use crate::hand::Key;
use crate::plan::{Face, Plan};
use crate::quantity::Call;
use crate::words::{cloth_picture, cloth_words, screen_words, try_words};

/// Floats over more threads than this are marked until a digit says another length (a judgement:
/// longer ones catch, no source).
const LONG_FLOAT: u32 = 3;
/// Ends by which a press moves the cloth along.
const ALONG: u32 = 20;
/// Picks by which a press moves it up or down.
const UP: u32 = 8;
/// Lines of the list that a page's key goes at once.
const PAGE: u16 = 8;
/// The last pick that can be scrolled to.
const LAST_PICK: u32 = 10_000;

/// What is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Looked {
    /// The cloth from one face.
    Cloth(Face),
    /// The draft, in the trade's usual arrangement.
    Draft,
    /// Every shed and pick in a list, from this line on.
    Sheds(u16),
}

/// The part of the cloth or draft that is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClothView {
    looked: Looked,
    /// The first end, from 1.
    first: u32,
    /// The first pick, from 1.
    pick: u32,
    /// Floats over more threads than this are marked, where any are.
    over: Option<u32>,
}

impl ClothView {
    /// The cloth's front near this end, from the first pick on.
    #[must_use]
    pub fn at(hand: Option<Call>) -> Self {
        Self {
            looked: Looked::Cloth(Face::Front),
            first: hand.map_or(1, |call| call.0.saturating_sub(ALONG).max(1)),
            pick: 1,
            over: None,
        }
    }

    /// Every shed and pick with what rises.
    #[must_use]
    pub fn sheds() -> Self {
        Self {
            looked: Looked::Sheds(0),
            ..Self::at(None)
        }
    }

    /// What is shown after this key; `None` where it shuts the cloth.
    #[must_use]
    pub fn after(self, key: Key, plan: &Plan) -> Option<Self> {
        if let Looked::Sheds(line) = self.looked {
            return self.in_sheds(line, key, plan);
        }
        let last = plan.heddled_ends();
        let (first, pick) = (self.first, self.pick);
        Some(match key {
            Key::Right | Key::Space | Key::Enter | Key::PageDown => Self {
                first: (first + ALONG).min(last),
                ..self
            },
            Key::Left | Key::Backspace | Key::PageUp => Self {
                first: first.saturating_sub(ALONG).max(1),
                ..self
            },
            Key::Up => Self {
                pick: (pick + UP).min(LAST_PICK),
                ..self
            },
            Key::Down => Self {
                pick: pick.saturating_sub(UP).max(1),
                ..self
            },
            Key::Char(c) if c.is_ascii_digit() => Self {
                over: c.to_digit(10).filter(|over| *over > 0),
                looked: match self.looked {
                    Looked::Cloth(face) => Looked::Cloth(face),
                    Looked::Draft | Looked::Sheds(_) => Looked::Cloth(Face::Front),
                },
                ..self
            },
            Key::F(6) => return self.next(),
            _ => return None,
        })
    }

    /// Front, its long floats, the back, the draft, and shut.
    fn next(self) -> Option<Self> {
        let back = Looked::Cloth(Face::Back);
        Some(match (self.looked, self.over) {
            (Looked::Cloth(Face::Front), None) => Self {
                over: Some(LONG_FLOAT),
                ..self
            },
            (Looked::Cloth(Face::Front), Some(_)) => Self {
                looked: back,
                ..self
            },
            (Looked::Cloth(Face::Back), _) => Self {
                looked: Looked::Draft,
                ..self
            },
            (Looked::Draft | Looked::Sheds(_), _) => return None,
        })
    }

    /// Up and down the list; any other key shuts it.
    fn in_sheds(self, line: u16, key: Key, plan: &Plan) -> Option<Self> {
        let lines = u16::try_from(try_words::list_of_sheds(plan).len()).unwrap_or(u16::MAX);
        let line = match key {
            Key::Down | Key::Right | Key::Space | Key::Enter => line.saturating_add(1),
            Key::Up | Key::Left | Key::Backspace => line.saturating_sub(1),
            Key::PageDown => line.saturating_add(PAGE),
            Key::PageUp => line.saturating_sub(PAGE),
            _ => return None,
        };
        Some(Self {
            looked: Looked::Sheds(line.min(lines.saturating_sub(1))),
            ..self
        })
    }

    /// What fills a window of this size, its first and last row left out; `None` where the plan says
    /// no picks.
    #[must_use]
    pub fn bands(
        &self,
        plan: &Plan,
        hand: Option<Call>,
        (width, height): (u16, u16),
    ) -> Option<Vec<Band>> {
        if let Looked::Sheds(line) = self.looked {
            let lines = try_words::list_of_sheds(plan).into_iter();
            let lines = lines.skip(usize::from(line)).map(|line| (Tone::Know, line));
            // a list that is longer than the window is cut at its end
            let rows = usize::from(height.saturating_sub(2));
            let mut room = rows;
            let lines = lines.take_while(|(_, line)| {
                let rows = wrapped(line, usize::from(width)).len();
                let fits = rows <= room;
                room = room.saturating_sub(rows);
                fits
            });
            return Some(vec![Band::Lines(lines.collect())]);
        }
        let Looked::Cloth(face) = self.looked else {
            let rows = u32::from(height.saturating_sub(u16::from(plan.shafts) + 4)).max(1);
            let part = (self.first, self.pick);
            let columns = usize::from(width.saturating_sub(1));
            let rows = cloth_picture::draft_from(plan, columns, rows, part)?;
            return Some(vec![Band::Rows(rows)]);
        };
        let part = Part {
            first: self.first,
            pick: self.pick,
            face,
            over: self.over,
            hand,
        };
        let cloth = ClothBand::of(plan, part, width)?;
        let said = cloth_words::cloth(plan).into_iter();
        let said = said.map(|line| (Tone::Know, line)).collect();
        Some(vec![Band::Cloth(cloth), Band::Lines(said)])
    }

    /// The keys that work here, and what they do.
    #[must_use]
    pub fn hints(self) -> Vec<(String, String)> {
        let hint = |(key, does): &(&str, &str)| ((*key).to_owned(), (*does).to_owned());
        match self.looked {
            Looked::Sheds(_) => screen_words::SHEDS_HINTS.iter().map(hint).collect(),
            Looked::Cloth(_) | Looked::Draft => {
                screen_words::CLOTH_HINTS.iter().map(hint).collect()
            }
        }
    }
}
